"""A noun phrase as a bag: a head, its number, and what is told of it, before or behind, in any order."""

from dataclasses import dataclass, field

from assistant.load.model import Kind
from assistant.phrase.slots import Weight
from assistant.understand.lexicon import Sense
from assistant.understand.scan import Piece

HEADS = ("kind", "anytie", "coil", "article", "counted", "mats", "cradle", "pallet", "part")
"""Nouns that can bear a number or a fact."""
OF_TIEDOWN = frozenset(
    {
        "size",
        "grade",
        "material",
        "thickness",
        "pull",
        "path",
        "through",
        "over",
        "crossed",
        "doubled",
        "unmarked",
        "protect",
        "each_way",
        "adjustable",
        "inches",
    }
)


@dataclass
class Phrase:
    """One noun phrase, or facts that belong to a noun spoken of before."""

    number: int | None = None
    head: Piece | None = None
    facts: list[Piece] = field(default_factory=list)
    weights: list[Piece] = field(default_factory=list)
    ref: str = ""
    """How it points at what is there: "them", "all", "both", "rest", "half", "other", "part" (some of a kind)."""
    marks: list[Piece] = field(default_factory=list)
    """Words that say that a number is a mark or a rating."""
    more: bool = False
    fewer: bool = False
    each: bool = False
    each_side: bool = False
    holds: bool = False
    """Whether it is a pallet of something."""
    cued: bool = False
    """Whether what its verb is was said right before it."""
    total: bool = False
    only: bool = False
    definite: bool = False
    indefinite: bool = False
    one: bool = False
    """Whether its number was the word one, which may be a pronoun."""
    verb: str = ""
    denied: bool = False
    pron: str = ""
    vague: bool = False
    unknown: list[Piece] = field(default_factory=list)
    start: int = -1
    end: int = -1

    @property
    def sort(self) -> str:
        """What its head is."""
        if self.head is None:
            return ""
        return next((sort for sort in HEADS if sort in self.head.names), self.head.sort)

    @property
    def empty(self) -> bool:
        """Whether nothing was told by it."""
        rated = any(mark.sort == "weight" for mark in self.marks)
        return self.number is None and self.head is None and not (self.facts or self.weights or self.ref or rated)

    @property
    def kind(self) -> Kind | None:
        """Which kind of tiedown its head is, None where it is none or does not say."""
        word = self.head.key_of("kind") if self.head else ""
        return Kind(word) if word else None

    @property
    def before_head(self) -> list[Piece]:
        """What is told of it before its head."""
        return [piece for piece in self.facts if self.head is not None and piece.start < self.head.start]

    def first(self, *sorts: str) -> Piece | None:
        """Return the first of its facts that is of one of these sorts."""
        return next((piece for piece in self.facts if piece.sort in sorts), None)

    def covers(self, piece: Piece) -> None:
        """Let a piece be part of it."""
        self.start = piece.start if self.start < 0 else self.start
        self.end = piece.end


TRADE_COIL = range(10, 81)
"""A bare number in this range, told of a coil, is its thousands of pounds; common practice, no source."""


def thousands(number: float, start: int, end: int) -> Piece:
    """Return a bare number as the thousands of pounds that it is of a coil."""
    weight = Weight(number * 1000.0, thousands_unsaid=True, unit="", assumed="")
    return Piece(Sense("weight", ""), start, end, frozenset({"weight"}), weight)


def is_head(piece: Piece) -> bool:
    """Return whether a piece is a noun that can bear facts."""
    return piece.sort in HEADS
