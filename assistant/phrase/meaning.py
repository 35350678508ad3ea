"""What an utterance means, given the load so far: changes to make, a question to ask, or why nothing was taken."""

from typing import Any, Literal

from pydantic import Field

from assistant.load.change import Change
from assistant.load.model import Noun

Focus = tuple[str, int]
"""The group last spoken of: ("tiedowns", 0)."""


class Question(Noun):
    """Something that must be settled before a change is made.

    `expects` is "yes or no" or "in all or more"; `on` maps each possible reply to the changes it stands for.
    """

    text: str
    expects: Literal["yes or no", "in all or more"]
    on: dict[str, tuple[Change, ...]] = Field(default_factory=dict)
    count: int | None = None
    """The number that is asked about, so that "five in all" answers only for five."""
    part: str = ""
    """The words of it that hold the doubted number, where it is one: another number may be told in its place."""
    doubted: str = ""
    """What was heard with doubt: a yes takes all of it, as if it had been heard well."""
    other: str = ""
    """What may have been said instead, where that is offered."""
    offers: str = ""
    """The words by which it is offered: whoever says them takes all of the other."""


class Meaning(Noun):
    """Changes that are sure, at most one question, what was assumed, and what was refused and why.

    When `refused` is not empty, `changes` is: an utterance of which a part makes no sense is not half taken.
    """

    changes: tuple[Change, ...] = ()
    question: Question | None = None
    assumed: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    """Plain sentences worth showing: nothing new, nothing to take off."""
    lead: str = ""
    """What was taken and must be said before the verdict, as the beginning of a sentence."""
    open: str = ""
    """What is asked because only half of it was told: "on bunks"."""
    focus: Focus | None = None


Facts = dict[str, Any]
