"""One utterance, taken apart: what it tells, asks and orders, and what of it could not be placed."""

from collections.abc import Iterable
from typing import Any, NamedTuple

from assistant.phrase.draft import Drafts
from assistant.phrase.tokens import Token

ASKED = "asked"
"""Why of what was asked and is not known: it changes nothing, and so stays open for nothing."""


class Fragment(NamedTuple):
    """One thing told, asked or ordered: its name, the values it was told with, and the tokens it covers."""

    name: str
    values: dict[str, Any]
    start: int
    end: int


class Lost(NamedTuple):
    """Something said that was not taken: its tokens, why, and the word or the noun it is about."""

    start: int
    end: int
    why: str
    word: str = ""
    about: str = ""


class Heard(NamedTuple):
    """One utterance, taken apart.

    `lost` is all that was said and not taken. `replaced` are misspelled names: (as written, as taken). `note` is the
    dictated text where the utterance is a note.
    """

    tokens: tuple[Token, ...]
    fragments: tuple[Fragment, ...] = ()
    drafts: Drafts = Drafts()
    supposed: Drafts | None = None
    """What is supposed, where the utterance asks what would be."""
    lost: tuple[Lost, ...] = ()
    replaced: tuple[tuple[str, str], ...] = ()
    note: str | None = None
    corrects: bool = False
    """Whether the dictated text takes the place of the last note's."""
    asking: bool = False
    """Whether something was asked that is not known here."""
    cost: float = 0.0
    """How badly the words fit together: for choosing between what may have been said."""
    joined: tuple[int, ...] = ()
    """Which of its number words stand where a hesitation was dropped between two, counted from 0: it may be two."""
    phrases: int = 0
    """How many noun phrases tell something."""
    uncounted: str = ""
    """The tiedowns that were told of without their number, by their kind."""
    unfinished: bool = False
    """Whether it ends in something that cannot stand alone: "four three eighths"."""

    @property
    def names(self) -> frozenset[str]:
        """Names of the fragments found."""
        return frozenset(fragment.name for fragment in self.fragments)

    def said(self, start: int, end: int) -> str:
        """Return what was said between two places."""
        return " ".join(token.word or f"{token.value:,g}" for token in self.tokens[start:end])

    @property
    def left_over(self) -> str:
        """What was not taken, in its own words."""
        return ", ".join(dict.fromkeys(self.said(one.start, one.end) for one in self.lost))


def implies_a_number(told: Iterable[Fragment]) -> bool:
    """Return whether the number of anything goes without a word: "a chain", "same again"."""
    return any(
        part.name == "same_again"
        or (
            (part.name == "coil" or {"kind", "article"} & part.values.keys())
            and not {"count", "weight"} & part.values.keys()
        )
        for part in told
    )
