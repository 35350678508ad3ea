"""The session: what it keeps, what it goes on with, and trouble with its files in words."""

import datetime as dt
import wave
from pathlib import Path

import pytest

from assistant.edges.gear_file import gear_path
from assistant.edges.notebook import Notebook, notebook_path
from assistant.edges.session import Session, tables_edition
from assistant.hear.doubt import Utterance
from assistant.kit import Kit, read_kit


@pytest.fixture(scope="module")
def kit() -> Kit:
    return read_kit(dt.date(2026, 11, 25))


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))


def test_a_lasting_session_keeps_each_answer_with_the_edition_it_rests_on(kit: Kit) -> None:
    Session(kit, lasting=True).take("forty two five coil")
    with Notebook() as book:
        (entry,) = book.entries()
    assert entry.kind == "answer"
    assert entry.edition == tables_edition()
    assert "42500" in (entry.load or "")


def test_a_passing_session_keeps_no_answers_but_notes(kit: Kit) -> None:
    session = Session(kit)
    session.take("forty two five coil")
    session.take("note tag and paper differ")
    with Notebook() as book:
        assert [entry.kind for entry in book.entries()] == ["note"]


def test_the_conversation_picks_up_where_it_stopped(kit: Kit) -> None:
    Session(kit, lasting=True).take("forty two five coil eyes crosswise")
    again = Session(kit, lasting=True)
    assert again.resumed
    assert again.conversation.load.coils[0].weight_lb == 42_500
    again.take("undo")
    assert again.conversation.load.coils == ()


def test_a_what_if_is_kept_with_the_verdict_on_the_real_load(kit: Kit) -> None:
    """Half of 40,000 lb is 20,000 lb (49 CFR 393.106(d), read); one chain of the sample list counts 6,600 lb."""
    session = Session(kit, lasting=True)
    session.take("forty thousand pound coil eye crosswise in a cradle with mats, one chain forward and one rearward")
    supposed = session.take("what if I had half inch grade one hundred chains")
    assert supposed.intent == "what if"
    with Notebook() as book:
        first, second = book.entries()
    assert first.verdict == second.verdict == "short"


def test_a_half_is_not_gone_on_with(kit: Kit) -> None:
    session = Session(kit, lasting=True)
    session.take("forty two five coil")
    session.take("four three eighths")
    again = Session(kit, lasting=True)
    assert again.conversation.held is None


def test_a_quiz_is_not_gone_on_with_and_leaves_the_load(kit: Kit) -> None:
    session = Session(kit, lasting=True)
    session.take("forty two five coil")
    session.take("quiz me")
    again = Session(kit, lasting=True)
    assert again.conversation.quiz is None
    assert again.conversation.load.coils[0].weight_lb == 42_500


def test_a_notebook_that_cannot_be_used_is_told_and_checking_goes_on(kit: Kit) -> None:
    notebook_path().write_bytes(b"not a database at all, but long enough to be looked at as one" * 20)
    session = Session(kit, lasting=True)
    answer = session.take("forty two five coil")
    assert answer.understood
    assert session.notices
    assert str(notebook_path()) in session.notices[0]


def test_a_note_that_cannot_be_kept_is_not_said_to_be_kept(kit: Kit) -> None:
    notebook_path().write_bytes(b"not a database at all, but long enough to be looked at as one" * 20)
    answer = Session(kit).take("note tag and paper differ")
    assert not answer.understood
    assert "Noted" not in answer.say


def test_a_broken_gear_list_is_told_and_left_as_it_is(kit: Kit) -> None:
    gear_path().write_text("[[gear]\nkind = chain", encoding="utf-8")
    session = Session(kit)
    assert "sample gear list is used" in session.notices[0]
    assert session.conversation.gear.sample
    assert gear_path().read_text(encoding="utf-8") == "[[gear]\nkind = chain"


def test_a_doubtful_number_waits_for_a_yes(kit: Kit) -> None:
    session = Session(kit)
    asked = session.take(Utterance("fourteen thousand pound coil", 0.4, (0,)))
    assert session.conversation.load.coils == ()
    assert asked.confirm == ("fourteen thousand pound coil",)
    assert asked.confidence == 0.4
    session.take("yes")
    assert session.conversation.load.coils[0].weight_lb == 14_000


def test_a_doubtful_number_corrected_is_the_corrected_one(kit: Kit) -> None:
    session = Session(kit)
    session.take(Utterance("fourteen thousand pound coil", 0.4, (0,)))
    session.take("no forty thousand")
    assert session.conversation.load.coils[0].weight_lb == 40_000
    assert len(session.conversation.load.coils) == 1


def test_a_number_in_too_much_noise_is_not_taken_and_says_what_to_do(kit: Kit) -> None:
    session = Session(kit)
    answer = session.take(Utterance("forty thousand pound coil", 1.0, (), too_loud=True))
    assert not answer.understood
    assert "Step away from the engine" in answer.say
    assert session.conversation.load.coils == ()


def test_a_doubtful_answer_to_a_question_waits_for_a_yes_and_names_the_twin(kit: Kit) -> None:
    session = Session(kit)
    session.take("steel coil")
    asked = session.take(Utterance("fifteen thousand", 1.0, (0,)))
    assert "fifty" in asked.say
    assert session.conversation.load.coils[0].weight_lb is None
    session.take("no fifty thousand")
    assert session.conversation.load.coils[0].weight_lb == 50_000


def test_show_my_notes_lists_the_latest(kit: Kit) -> None:
    session = Session(kit)
    assert "no note yet" in session.take("show my notes").show
    session.take("note first thing")
    session.take("note second thing")
    shown = session.take("show my notes").show
    assert shown.index("first thing") < shown.index("second thing")


def test_a_note_is_read_back_corrected_and_dropped(kit: Kit) -> None:
    session = Session(kit)
    session.take("note tarp tore at gate seven")
    assert "tarp tore at gate 7" in session.take("read my note").show
    corrected = session.take("change the note to strap tore at gate nine")
    assert "strap tore at gate 9" in corrected.show
    assert "Before it was: tarp tore at gate 7" in corrected.show
    assert "strap tore at gate 9" in session.take("read my note").show
    assert "Dropped the note: strap tore at gate 9." in session.take("drop that note").show
    assert "no note yet" in session.take("read my note").show.lower()
    with Notebook() as book:
        # nothing is ever taken out of the notebook
        texts = [entry.text for entry in book.entries()]
        kept = [entry.heard for entry in book.entries() if entry.kind == "note"]
    assert texts == ["tarp tore at gate 7", "note 1 corrected", "strap tore at gate 9", "note 3 dropped"]
    assert kept == ["tarp tore at gate seven", "strap tore at gate nine"]


@pytest.mark.parametrize("said", ["drop that note", "change the note to nothing new"])
def test_without_a_note_there_is_none_to_change(kit: Kit, said: str) -> None:
    session = Session(kit)
    assert session.take(said).show == "There is no note yet.\n"
    with Notebook() as book:
        assert book.entries() == []


SOUND = bytes(range(250)) * 128


def test_a_spoken_notes_sound_is_kept_where_that_is_wanted_and_goes_with_the_note(kit: Kit) -> None:
    session = Session(kit, keep_sound=True)
    first = session.take(Utterance("note tarp torn", None, (), audio=SOUND))
    (kept,) = (notebook_path().parent / "notes").iterdir()
    assert str(kept) in first.show
    assert (kept.stat().st_mode & 0o777, kept.parent.stat().st_mode & 0o777) == (0o600, 0o700)
    with wave.open(str(kept), "rb") as file:
        assert (file.getframerate(), file.getnchannels(), file.getsampwidth()) == (16_000, 1, 2)
        assert file.readframes(file.getnframes()) == SOUND
    session.take(Utterance("change the note to tarp torn left", None, (), audio=SOUND[:3200]))
    (corrected,) = kept.parent.iterdir()
    assert corrected != kept
    session.take("drop that note")
    assert not [*kept.parent.iterdir()]


def test_no_sound_is_kept_unasked_nor_of_what_is_no_note(kit: Kit) -> None:
    Session(kit).take(Utterance("note tarp torn", None, (), audio=SOUND))
    session = Session(kit, keep_sound=True)
    session.take(Utterance("forty thousand pound coil", None, (), audio=SOUND))
    session.take("note typed")
    assert not (notebook_path().parent / "notes").exists()


def test_a_sound_that_cannot_be_written_is_told_and_the_note_stays(kit: Kit) -> None:
    (notebook_path().parent / "notes").write_text("in the way", encoding="utf-8")
    answer = Session(kit, keep_sound=True).take(Utterance("note tarp torn", None, (), audio=SOUND))
    assert "its sound cannot be written" in answer.show
    with Notebook() as book:
        assert [note.text for note in book.notes()] == ["tarp torn"]


@pytest.mark.parametrize(
    ("utterance", "unsettled"),
    [
        (Utterance("forty two five coil", 0.9, ()), False),
        (Utterance("forty two five coil", 0.4, (0,)), True),
        (Utterance("forty two five coil", 0.9, (), hazy=True), True),
        (Utterance("forty two five coil", 0.9, (), too_loud=True), True),
        (Utterance("banana hush", None, ()), True),
    ],
)
def test_an_utterance_that_came_to_nothing_is_kept_for_the_next(
    utterance: Utterance, kit: Kit, *, unsettled: bool
) -> None:
    session = Session(kit)
    session.take(utterance)
    assert session.unsettled is (utterance if unsettled else None)


def test_sound_too_loud_for_the_microphone_is_shown_with_what_to_do(kit: Kit) -> None:
    answer = Session(kit).take(Utterance("forty two five coil", 0.9, (0, 1, 2), clipped=True))
    assert answer.confirm
    assert "farther away" in answer.show
