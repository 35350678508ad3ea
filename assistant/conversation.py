"""A conversation: what was told so far, as changes one utterance after another."""

from typing import Any

from pydantic import Field

from assistant.load.change import Change
from assistant.load.model import GearList, Load, Noun
from assistant.quiz.state import Quiz
from assistant.say.answer import Answer


class Pending(Noun):
    """What was asked last and waits for an answer.

    `expects` names the sort of value ("weight", "count", "yes or no", "eye", "in all or more", ...); `data` is what
    the question needs to be settled when the answer comes.
    """

    expects: str
    question: str
    data: dict[str, Any] = Field(default_factory=dict)


class Conversation(Noun):
    """The state that `reply` takes and gives back. Nothing else carries over from one utterance to the next."""

    turns: tuple[tuple[Change, ...], ...] = ()
    """The changes of each utterance that changed something: undo drops the last."""
    load: Load = Load()
    """The fold of all turns."""
    gear: GearList = GearList()
    pending: Pending | None = None
    focus: tuple[str, int] | None = None
    """The group last spoken of: ("tiedowns", 0)."""
    last: Answer | None = None
    quiz: Quiz | None = None
    seed: int = 0
    """Makes quiz scenes differ from one conversation to the next; chosen by the edge."""
