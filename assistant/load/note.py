"""Notes of a conversation, and what was talked of last."""

from enum import StrEnum

from assistant.load.model import Noun


class Topic(StrEnum):
    """What was talked of last: what "scratch that" and "read it back" act on."""

    LOAD = "load"
    NOTE = "note"
    QUIZ = "quiz"


class KeptNote(Noun):
    """One note. `at` is when it was made, as it is shown; empty where no notebook tells."""

    text: str
    heard: str = ""
    at: str = ""


class Notes(Noun):
    """The notes that count, oldest first, and what is going on with them."""

    kept: tuple[KeptNote, ...] = ()
    place: int | None = None
    """Which of them was talked of last; None where it was dropped, or none was."""
    dictating: bool = False
    """Whether what is said next is a note's text."""
    parts: tuple[KeptNote, ...] = ()
    """What was dictated so far, one breath after another: together they are the note at `place`."""
    clearing: bool = False
    """Whether it was asked if all are to be dropped."""
