"""The answer that `reply` gives and every edge shows."""

from typing import Literal

from assistant.load.model import GearList, Load, Noun
from assistant.load.open_item import OpenItem
from assistant.say.changed import Changed
from assistant.securement.finding import Judgement


class KeepNote(Noun):
    """Ask the edge to keep a dictated note with the load."""

    effect: Literal["keep note"] = "keep note"
    text: str
    heard: str = ""
    """The words as they were heard, where numbers among them were written as figures."""


class CorrectNote(Noun):
    """Ask the edge to put another text in place of a note's; the old one stays in the notebook."""

    effect: Literal["correct note"] = "correct note"
    text: str
    heard: str = ""
    place: int | None = None
    """Which of the notes that count, oldest first; None is the last."""
    goes_on: bool = False
    """Whether the text goes on with what the note said: then its sound does too."""


class DropNote(Noun):
    """Ask the edge to drop notes; they stay in the notebook, crossed out, and count no more."""

    effect: Literal["drop note"] = "drop note"
    places: tuple[int, ...] = ()
    """Which of the notes that count, oldest first; none named is the last."""


class KeepGear(Noun):
    """Ask the edge to keep the driver's gear list."""

    effect: Literal["keep gear"] = "keep gear"
    gear: GearList


class ShowLog(Noun):
    """Ask the edge for the notes of its notebook, to list the latest."""

    effect: Literal["show log"] = "show log"
    latest: int


class Hush(Noun):
    """Ask the edge to stop speaking."""

    effect: Literal["hush"] = "hush"


class Pace(Noun):
    """Ask the edge to speak slower (-1), faster (1) or at the usual pace (0) from now on."""

    effect: Literal["pace"] = "pace"
    step: int


class Sleep(Noun):
    """Ask the edge to listen for nothing but the wake phrase."""

    effect: Literal["sleep"] = "sleep"


class Quit(Noun):
    """Ask the edge to end the conversation."""

    effect: Literal["quit"] = "quit"


class ReadNote(Noun):
    """Ask the edge for the notes of its notebook: what is said of notes rests on them."""

    effect: Literal["read note"] = "read note"


Effect = KeepNote | CorrectNote | DropNote | KeepGear | ShowLog | Hush | Quit | ReadNote | Pace | Sleep


class Answer(Noun):
    """One reply: what was heard, judged, said and shown.

    `say` is what the voice speaks: at most two short sentences, numbers spelled out. `show` is the screen's text,
    lines ended by newlines, no colour codes. `judgement` is None when nothing was judged. `confirm` lists what was
    heard without being sure and is read back.
    """

    heard: str
    intent: str
    understood: bool
    load: Load
    judgement: Judgement | None = None
    as_it_is: Judgement | None = None
    """The judgement on `load`, where `judgement` is on what might be instead: after what-if."""
    changed: tuple[Changed, ...] = ()
    """What differs between the two."""
    asks: tuple[str, ...] = ()
    open: tuple[OpenItem, ...] = ()
    """What was said, now or before, and could not be taken or placed."""
    say: str
    show: str
    confidence: float | None = None
    confirm: tuple[str, ...] = ()
    effects: tuple[Effect, ...] = ()

    @property
    def came_to_something(self) -> bool:
        """Whether it was understood, and is no talk that tells nothing of a load."""
        return self.understood and self.intent != "talk"
