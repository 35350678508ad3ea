"""The notebook: append-only, its owner's alone, and the place where a conversation goes on."""

import contextlib
import csv
import io
import json
import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.conversation import Conversation, Pending
from assistant.edges.notebook import Notebook, NotebookProblem, notebook_path
from assistant.load.change import AddCoils, AddTiedowns, SetFields, fold
from assistant.load.model import Coil, Eye, Gear, GearList, Kind, Load, Pull, Support, Through, Tiedown
from assistant.load.model import Path as Course
from assistant.quiz.state import Question, Quiz
from assistant.say.answer import Answer, KeepNote
from assistant.securement.finding import Finding, Judgement, Mark, Status, Step

AT = datetime(2026, 3, 2, 14, 5, tzinfo=UTC)
LOAD = Load(coils=(Coil(weight_lb=37_600, eye=Eye.CROSSWISE),), tiedowns=(Tiedown(kind=Kind.CHAIN, count=4),))
FINDING = Finding(
    rule="49 CFR 393.106(d)",
    status=Status.SHORT,
    text="The tiedowns count 13,200 lb; 18,800 lb is needed.",
    need=18_800,
    have=13_200,
    unit="lb",
    mark=Mark.READ,
    trace=(Step(what="half of the weight", value=18_800.0, unit="lb", ref="49 CFR 393.106(d)", mark=Mark.READ),),
    topic="aggregate",
)
ANSWER = Answer(
    heard="four chains",
    intent="told",
    understood=True,
    load=LOAD,
    judgement=Judgement(findings=(FINDING,), needed_lb=18_800, counted_lb=13_200),
    say="Short by five thousand six hundred pounds.",
    show="SHORT\n",
    effects=(KeepNote(text="x"),),
)

WEIGHTS = st.none() | st.floats(1, 100_000)
LOADS = st.builds(
    Load,
    coils=st.lists(
        st.builds(Coil, count=st.integers(1, 9), weight_lb=WEIGHTS, eye=st.none() | st.sampled_from(Eye)), max_size=3
    ).map(tuple),
    tiedowns=st.lists(
        st.builds(
            Tiedown,
            kind=st.sampled_from(Kind),
            size_in=WEIGHTS,
            path=st.none() | st.sampled_from(Course),
            pulls=st.none() | st.sampled_from(Pull),
            through=st.none() | st.sampled_from(Through),
            unmarked=st.booleans(),
        ),
        max_size=3,
    ).map(tuple),
    support=st.builds(Support, bunks=st.none() | st.integers(0, 9), mats=st.none() | st.booleans()),
    seen=st.lists(st.sampled_from(["lip", "broken band"]), unique=True).map(tuple),
)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)


@contextlib.contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    """Open the file as any other program would; committed and closed at the end."""
    with contextlib.closing(sqlite3.connect(path)) as other, other:
        yield other


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    with Notebook(tmp_path / "notebook.sqlite3") as notebook:
        yield notebook


def test_answer__comes_back_as_it_was_kept(book: Notebook) -> None:
    number = book.keep_answer(ANSWER, AT, "tables of 2026-01")
    (entry,) = book.entries()
    assert (entry.id, entry.at, entry.kind, entry.verdict) == (number, AT, "answer", "short")
    assert (entry.heard, entry.text, entry.edition) == (ANSWER.heard, ANSWER.say, "tables of 2026-01")
    assert entry.program
    assert entry.answer is not None
    assert Answer.model_validate_json(entry.answer) == ANSWER


@given(load=LOADS, text=TEXTS)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])  # entries only add up; the last is looked at
def test_note__comes_back_with_its_load(book: Notebook, load: Load, text: str) -> None:
    book.keep_note(text, load, AT)
    note = book.last_note()
    assert note is not None
    assert note.text == text
    assert note.load is not None
    assert Load.model_validate_json(note.load) == load


@given(load=LOADS, text=TEXTS, told=st.booleans(), pending=st.none() | st.builds(Pending))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])  # entries only add up; the last is looked at
def test_conversation__comes_back_as_it_stopped(
    *, book: Notebook, load: Load, text: str, told: bool, pending: Pending | None
) -> None:
    answer = ANSWER.model_copy(update={"load": load, "heard": text})
    if told:
        book.keep_answer(answer, AT, "")
    turns = (
        (AddCoils(coil=Coil()),),
        (SetFields(noun="coils", index=0, fields={"eye": Eye.VERTICAL, "weight_lb": 9}),),
    )
    question = Question(say="a", show="b", answer=True, why="c", why_say="d", rule="e")
    conversation = Conversation(
        turns=turns,
        load=load,
        gear=GearList(items=(Gear(kind=Kind.STRAP, size_in=4),), sample=True),
        pending=pending,
        focus=("coils", 0),
        last=answer,
        quiz=Quiz(questions=(question,), right=(True,)),
        seed=7,
    )
    book.keep_conversation(conversation, AT)
    found = book.last_conversation()
    assert found == conversation
    assert found is not None
    assert fold(found.turns) == fold(turns)


def test_conversation__goes_on_after_closing_and_opening_again(tmp_path: Path) -> None:
    turns = ((AddTiedowns(tiedown=Tiedown(kind=Kind.CHAIN, count=4)),),)
    conversation = Conversation(turns=turns, load=fold(turns[0]))
    with Notebook(tmp_path / "n") as first:
        assert first.last_conversation() is None
        first.keep_conversation(Conversation(), AT)
        first.keep_conversation(conversation, AT)
    with Notebook(tmp_path / "n") as second:
        assert second.last_conversation() == conversation
        assert second.notice == ""


def test_conversation_of_another_form__is_left_out_with_a_notice(book: Notebook) -> None:
    with opened(book.path) as other:
        other.execute("INSERT INTO entries (at, kind, state, program) VALUES ('', 'turn', '{\"mood\": 1}', '0.0.7')")
    assert book.last_conversation() is None
    assert "0.0.7" in book.notice
    assert "empty deck" in book.notice


@pytest.mark.parametrize("change", ["UPDATE entries SET text = 'no'", "DELETE FROM entries"])
def test_entries__can_be_neither_changed_nor_deleted(book: Notebook, change: str) -> None:
    book.keep_note("two of the chains are new", LOAD, AT)
    with opened(book.path) as other, pytest.raises(sqlite3.IntegrityError, match="append-only"):
        other.execute(change)
    assert [note.text for note in book.notes()] == ["two of the chains are new"]


def test_dropped_note__is_no_longer_read_but_stays_in_the_log(book: Notebook) -> None:
    book.keep_note("first", LOAD, AT)
    number = book.keep_note("second", LOAD, AT)
    book.drop_note(number, AT)
    assert [note.text for note in book.notes()] == ["first"]
    assert [entry.kind for entry in book.entries()] == ["note", "note", "dropped"]
    with pytest.raises(NotebookProblem, match=f"no note {number}"):
        book.drop_note(number, AT)


def test_notes__are_those_of_the_day_asked_for(book: Notebook) -> None:
    for hours, text in ((-24, "yesterday"), (0, "today"), (24, "tomorrow")):
        book.keep_note(text, LOAD, AT + timedelta(hours=hours))
    assert [note.text for note in book.notes(AT.astimezone().date())] == ["today"]
    assert [note.text for note in book.notes()] == ["yesterday", "today", "tomorrow"]


def test_entries__since_a_time_or_the_latest_few_leave_out_turns(book: Notebook) -> None:
    book.keep_note("a", LOAD, AT)
    book.keep_note("b", LOAD, AT + timedelta(hours=1))
    book.keep_conversation(Conversation(), AT + timedelta(hours=2))
    assert [entry.text for entry in book.entries(AT + timedelta(minutes=1))] == ["b"]
    assert [entry.text for entry in book.entries(latest=1)] == ["b"]
    assert book.entries(latest=0) == []
    assert book.last_note() is not None


def test_time_without_its_zone__is_refused(book: Notebook) -> None:
    with pytest.raises(ValueError, match="without its zone"):
        book.keep_note("a", LOAD, AT.replace(tzinfo=None))


def test_export__gives_lines_json_and_csv(book: Notebook) -> None:
    book.keep_note('said "wait",\nthen\x1b[2J left', LOAD, AT)
    book.keep_answer(ANSWER, AT, "tables of 2026-01")
    note, answer = book.export("text").splitlines()
    assert "\x1b" not in note
    assert "four chains -> [short] Short by five thousand" in answer
    first, second = json.loads(book.export("json"))
    assert first["load"]["coils"][0]["weight_lb"] == 37_600
    assert second["answer"]["judgement"]["needed_lb"] == 18_800
    rows = list(csv.DictReader(io.StringIO(book.export("csv"))))
    assert rows[0]["text"] == 'said "wait",\nthen\x1b[2J left'
    assert [row["verdict"] for row in rows] == ["", "short"]


def test_empty_notebook__exports_nothing_and_has_no_last_note(book: Notebook) -> None:
    assert book.export("text") == ""
    assert json.loads(book.export("json")) == []
    assert book.last_note() is None


def test_file__is_its_owners_alone_even_when_it_was_wider(tmp_path: Path) -> None:
    path = tmp_path / "n"
    Notebook(path).close()
    assert path.stat().st_mode & 0o777 == 0o600
    path.chmod(0o644)
    Notebook(path).close()
    assert path.stat().st_mode & 0o777 == 0o600


def test_place__follows_the_users_choice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))
    assert notebook_path() == tmp_path / "data" / "notebook.sqlite3"


def test_locked_notebook__is_told_in_words(tmp_path: Path) -> None:
    path = tmp_path / "n"
    Notebook(path).close()
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(NotebookProblem, match="locked by another program"):
        Notebook(path, patience_s=0)
    other.close()


def test_notebook_that_only_can_be_read__is_told_in_words_and_still_read(
    book: Notebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    book.keep_note("kept before", LOAD, AT)
    reader = sqlite3.connect(f"file:{book.path}?mode=ro", uri=True)
    reader.row_factory = sqlite3.Row
    monkeypatch.setattr(sqlite3, "connect", lambda *_, **__: reader)
    with Notebook(book.path) as locked_away:
        assert [note.text for note in locked_away.notes()] == ["kept before"]
        with pytest.raises(NotebookProblem, match="can be read but not written"):
            locked_away.keep_note("a", LOAD, AT)


def test_file_that_is_no_database__is_told_in_words_and_kept(tmp_path: Path) -> None:
    path = tmp_path / "n"
    path.write_bytes(b"these are no pages of ours" * 100)
    with pytest.raises(NotebookProblem, match=r"damaged.*Move the file away"):
        Notebook(path)
    assert path.read_bytes().startswith(b"these are")


def test_torn_database__is_told_in_words(tmp_path: Path) -> None:
    path = tmp_path / "n"
    with Notebook(path) as book:
        for _ in range(50):
            book.keep_answer(ANSWER, AT, "")
    path.write_bytes(path.read_bytes()[:4096] + b"\xff" * 40_960)
    with pytest.raises(NotebookProblem, match="damaged"):
        Notebook(path).entries()


def test_database_of_another_program__is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "n"
    with opened(path) as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
    with pytest.raises(NotebookProblem, match="database of another program"):
        Notebook(path)
    with opened(path) as other:
        assert other.execute("SELECT count(*) FROM sqlite_schema").fetchone() == (1,)


def test_notebook_of_a_newer_version__is_told_in_words(book: Notebook) -> None:
    with opened(book.path) as other:
        other.execute("INSERT INTO steps VALUES (99, 'from the future', '', '9')")
    with pytest.raises(NotebookProblem, match="newer Deckside"):
        Notebook(book.path)


def test_folder_that_is_not_there__is_told_in_words(tmp_path: Path) -> None:
    with pytest.raises(NotebookProblem, match="cannot be made or used"):
        Notebook(tmp_path / "gone" / "n")


def test_step_that_fails__leaves_nothing_half_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from assistant.edges import notebook, notebook_steps  # noqa: PLC0415 - only this test reaches into the module

    broken = notebook_steps.Step("broken", ("CREATE TABLE half (a TEXT) STRICT", "CREATE NONSENSE"))
    path = tmp_path / "n"
    with monkeypatch.context() as patched:
        patched.setattr(notebook, "STEPS", (*notebook_steps.STEPS, broken))
        with pytest.raises(NotebookProblem, match="cannot be used"):
            Notebook(path)
    with Notebook(path) as book:
        book.keep_note("still works", LOAD, AT)
    with opened(path) as other:
        names = {row[0] for row in other.execute("SELECT name FROM sqlite_schema")}
    assert "half" not in names
