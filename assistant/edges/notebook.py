"""The notebook: what was noted and answered, and where the conversation stopped, in one append-only file."""

import contextlib
import sqlite3
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Literal, Self

from pydantic import BaseModel, ConfigDict, ValidationError

from assistant.conversation import Conversation
from assistant.edges.notebook_export import Format, exported
from assistant.edges.notebook_steps import APPLICATION, RECORD, STEPS
from assistant.edges.places import data_dir
from assistant.edges.problem import Problem
from assistant.load.model import Load
from assistant.say.answer import Answer

_OWNER_ONLY = 0o600
_PATIENCE_S = 2.0
"""How long to wait for another Deckside that is writing just now."""
_LISTED = ("note", "answer", "dropped")
_COLUMNS = "id, at, kind, heard, text, load, verdict, answer, refers, program, edition"

Kind = Literal["note", "answer", "turn", "dropped"]


class NotebookProblem(Problem):
    """The notebook cannot be opened, read or written: `why` goes on from "The notebook FILE"."""

    def __init__(self, path: Path, why: str, remedy: str) -> None:
        super().__init__(f"The notebook {path} {why}.", remedy)
        self.path = path


class Entry(BaseModel):
    """One entry as it was written. `load` and `answer` are JSON, as the program version of that day knew them."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: int
    at: datetime
    kind: Kind
    heard: str
    text: str
    load: str | None
    verdict: str | None
    answer: str | None
    refers: int | None
    program: str
    edition: str


def program_version() -> str:
    """Return the installed version, or "source" when run from a folder that was never installed."""
    try:
        return version("deckside")
    except PackageNotFoundError:
        return "source"


def notebook_path() -> Path:
    """Return where the notebook is kept."""
    return data_dir() / "notebook.sqlite3"


class Notebook:
    """An open notebook. Every trouble with its file is a `NotebookProblem`.

    Parameters
    ----------
    path : Path, optional
        The file; the user's own notebook when not given. It is made when it is not there.
    patience_s : float
        How long to wait for another program that is writing [s].
    """

    def __init__(self, path: Path | None = None, *, patience_s: float = _PATIENCE_S) -> None:
        self.path = path or notebook_path()
        self.notice = ""
        """What the last reading left out, in words; empty when nothing."""
        with self._in_words():
            # SQLite would make the file with the process's mask; its journal takes over the file's own mode.
            self.path.touch(mode=_OWNER_ONLY)
            if self.path.stat().st_mode & 0o777 & ~_OWNER_ONLY:
                self.path.chmod(_OWNER_ONLY)
            self._db = sqlite3.connect(self.path, timeout=patience_s, isolation_level=None)
            self._db.row_factory = sqlite3.Row
        try:
            with self._in_words():
                self._db.execute("PRAGMA foreign_keys = ON")
                self._bring_up_to_date()
        except BaseException:
            self._db.close()
            raise

    def __enter__(self) -> Self:
        """Return the open notebook."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self.close()

    def close(self) -> None:
        """Close the file; what was kept is on the disk already."""
        self._db.close()

    def keep_note(self, text: str, load: Load, at: datetime, *, heard: str = "") -> int:
        """Keep a note with the load it was made about; return its number. `heard` are its words before figures."""
        return self._keep("note", at, heard=heard or text, text=text, load=load.model_dump_json())

    def correct_note(self, number: int, text: str, load: Load, at: datetime, *, heard: str = "") -> int:
        """Put another text in place of a note's; return its number. The old note stays in the file, as dropped."""
        with self._in_words(), self._transaction():
            self.drop_note(number, at, why="corrected")
            return self._keep("note", at, heard=heard or text, text=text, load=load.model_dump_json(), refers=number)

    def keep_answer(self, answer: Answer, at: datetime, edition: str) -> int:
        """Keep an answer with its load and findings, and the edition of the tables it rests on; return its number."""
        return self._keep(
            "answer",
            at,
            heard=answer.heard,
            text=answer.say,
            load=answer.load.model_dump_json(),
            verdict=_verdict(answer),
            answer=answer.model_dump_json(),
            edition=edition,
        )

    def drop_note(self, number: int, at: datetime, *, why: str = "dropped") -> int:
        """Drop a note: it stays in the file, and a later entry says that it no longer counts."""
        if all(note.id != number for note in self.notes()):
            missing = f"holds no note {number} to drop"
            raise NotebookProblem(self.path, missing, "List the notes to see their numbers.")
        return self._keep("dropped", at, text=f"note {number} {why}", refers=number)

    def keep_conversation(self, conversation: Conversation, at: datetime) -> int:
        """Keep where the conversation stands, so that it can go on from here."""
        last = conversation.last.model_dump_json() if conversation.last else None
        with self._in_words():
            row = self._db.execute(
                "SELECT id, answer FROM entries WHERE kind = 'answer' ORDER BY id DESC LIMIT 1"
            ).fetchone()
        # The answer mostly stands in the notebook already: point at it rather than write it twice.
        known = row["id"] if row and last and row["answer"] == last else None
        # the notes stand in the notebook by themselves
        state = conversation.model_dump_json(exclude={"last", "notes"} if known else {"notes"})
        return self._keep("turn", at, load=conversation.load.model_dump_json(), state=state, refers=known)

    def last_conversation(self) -> Conversation | None:
        """Return where the conversation stopped; None when there is none, or none that this version can read.

        `notice` then says why.
        """
        self.notice = ""
        with self._in_words():
            row = self._db.execute(
                "SELECT turn.state, turn.program, said.answer FROM entries AS turn"
                " LEFT JOIN entries AS said ON said.id = turn.refers"
                " WHERE turn.kind = 'turn' ORDER BY turn.id DESC LIMIT 1"
            ).fetchone()
        if row is None:
            return None
        try:
            conversation = Conversation.model_validate_json(row["state"])
            if row["answer"] is None:
                return conversation
            return conversation.model_copy(update={"last": Answer.model_validate_json(row["answer"])})
        except ValidationError:
            self.notice = (
                f"The last conversation was kept by Deckside {row['program']} in a form that this version cannot go on"
                " from. It begins with an empty deck; the old answers are still in the log."
            )
            return None

    def notes(self, day: date | None = None) -> list[Entry]:
        """Return the notes that were not dropped, oldest first; of one day by this machine's clock, if given.

        A corrected note stands where the note stood that it corrects.
        """
        since, until = _bounds(day)
        found = self._read(
            "kind = 'note' AND at >= ? AND at < ?"
            " AND id NOT IN (SELECT refers FROM entries WHERE kind = 'dropped' AND refers IS NOT NULL)",
            (since, until),
        )
        with self._in_words():
            rows = self._db.execute("SELECT id, refers FROM entries WHERE kind = 'note' AND refers IS NOT NULL")
            corrects = {row["id"]: row["refers"] for row in rows}
        return sorted(found, key=lambda note: _first_of(note.id, corrects))

    def last_note(self) -> Entry | None:
        """Return the latest note that was not dropped, or None."""
        notes = self.notes()
        return notes[-1] if notes else None

    def entries(self, since: datetime | None = None, *, latest: int | None = None) -> list[Entry]:
        """Return notes, answers and droppings, oldest first: all, those since a time, or the latest few."""
        start = _stamp(since) if since else ""
        listed = self._read(f"kind IN ({', '.join('?' * len(_LISTED))}) AND at >= ?", (*_LISTED, start))
        return listed if latest is None else listed[max(0, len(listed) - latest) :]

    def export(self, format: Format = "text", since: datetime | None = None) -> str:  # noqa: A002 - the word users type
        """Return the notebook as plain lines, JSON or CSV."""
        return exported([entry.model_dump() for entry in self.entries(since)], format)

    def _keep(self, kind: Kind, at: datetime, **told: str | int | None) -> int:
        row = {**told, "at": _stamp(at), "kind": kind, "program": program_version()}
        names, places = ", ".join(row), ", ".join(f":{name}" for name in row)
        with self._in_words():
            cursor = self._db.execute(f"INSERT INTO entries ({names}) VALUES ({places})", row)  # noqa: S608 - our own names
        return int(cursor.lastrowid or 0)

    def _read(self, where: str, values: tuple[str, ...]) -> list[Entry]:
        with self._in_words():
            rows = self._db.execute(
                f"SELECT {_COLUMNS} FROM entries WHERE {where} ORDER BY id",  # noqa: S608 - our own conditions
                values,
            ).fetchall()
            return [Entry.model_validate(dict(row)) for row in rows]

    def _bring_up_to_date(self) -> None:
        mark = self._db.execute("PRAGMA application_id").fetchone()[0]
        tables = self._db.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
        if mark != APPLICATION and tables:
            raise NotebookProblem(self.path, "is a database of another program", _ELSEWHERE)
        done = self._steps_done() if tables else 0
        if done > len(STEPS):
            why = f"was written by a newer Deckside (layout {done}; this one knows {len(STEPS)})"
            raise NotebookProblem(self.path, why, f"Update Deckside. {_ELSEWHERE}")
        for number, step in enumerate(STEPS[done:], done + 1):
            with self._transaction():
                self._db.execute(RECORD)
                if self._steps_done() >= number:  # another Deckside took the step while we waited
                    continue
                for statement in step.statements:
                    self._db.execute(statement)
                row = (number, step.name, _stamp(datetime.now(UTC)), program_version())
                self._db.execute("INSERT INTO steps VALUES (?, ?, ?, ?)", row)

    def _steps_done(self) -> int:
        return int(self._db.execute("SELECT coalesce(max(number), 0) FROM steps").fetchone()[0])

    @contextlib.contextmanager
    def _transaction(self) -> Iterator[None]:
        self._db.execute("BEGIN IMMEDIATE")
        try:
            yield
        except BaseException:
            self._db.execute("ROLLBACK")
            raise
        self._db.execute("COMMIT")

    @contextlib.contextmanager
    def _in_words(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            why = f"cannot be made or used ({error.strerror})"
            raise NotebookProblem(self.path, why, _ELSEWHERE) from error
        except ValidationError as error:
            raise NotebookProblem(self.path, "holds an entry that cannot be read", _DAMAGED) from error
        except sqlite3.Error as error:
            name = getattr(error, "sqlite_errorname", "")
            other = (f"cannot be used ({error})", _ELSEWHERE)
            why, remedy = next((words for start, words in _TROUBLES.items() if name.startswith(start)), other)
            raise NotebookProblem(self.path, why, remedy) from error


_ELSEWHERE = "Set DECKSIDE_HOME to another folder to keep a notebook there; checking loads works without one."
_DAMAGED = "Move the file away and keep it: a new notebook is begun, and the old one can be looked at with sqlite3."
_TROUBLES = {
    "SQLITE_BUSY": ("is locked by another program", "Close the other Deckside, or try again in a moment."),
    "SQLITE_LOCKED": ("is locked by another program", "Close the other Deckside, or try again in a moment."),
    "SQLITE_READONLY": ("can be read but not written", f"Make the file writable for you. {_ELSEWHERE}"),
    "SQLITE_CANTOPEN": ("cannot be opened", f"Look whether the file and its folder are yours. {_ELSEWHERE}"),
    "SQLITE_FULL": ("cannot be written: the disk is full", "Make room on the disk."),
    "SQLITE_NOTADB": ("is damaged: it is no database", _DAMAGED),
    "SQLITE_CORRUPT": ("is damaged", _DAMAGED),
}


def _stamp(at: datetime) -> str:
    """Write a time in UTC, of one width, so that the order of texts is the order of times."""
    if at.tzinfo is None:
        message = f"a time without its zone: {at}"
        raise ValueError(message)
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def _first_of(number: int, corrects: Mapping[int, int]) -> int:
    """Return the number of the note that a note corrects, or that which it corrects, up to the first."""
    while number in corrects:
        number = corrects[number]
    return number


def _bounds(day: date | None) -> tuple[str, str]:
    if day is None:
        return "", "~"  # below and above every written time
    start = datetime.combine(day, time.min).astimezone()
    end = datetime.combine(day + timedelta(days=1), time.min).astimezone()
    return _stamp(start), _stamp(end)


def _verdict(answer: Answer) -> str | None:
    judgement = answer.as_it_is or answer.judgement
    verdict = judgement.verdict if judgement else None
    return verdict.value if verdict else None
