"""What one utterance tells, sorted by noun, before it is laid beside the load."""

from dataclasses import dataclass, field
from typing import Any

from assistant.load.model import Kind
from assistant.phrase.slots import Weight


@dataclass
class Draft:
    """A noun spoken of, with what was told of it.

    `verb` is "state", "add", "fix" or "remove"; `count` is None where the words point at what is there already ("the
    chains"). `some` holds parts told apart: (how many, their facts). `plural` tells "the straps" from "the strap".
    """

    noun: str
    verb: str
    count: int | None = None
    kind: Kind | None = None
    facts: dict[str, Any] = field(default_factory=dict)
    some: list[tuple[int, dict[str, Any]]] = field(default_factory=list)
    weights: list[Weight] = field(default_factory=list)
    plural: bool = True
    only: dict[str, Any] = field(default_factory=dict)
    """Which of those that are there are meant: "the forward chains"."""
    made: dict[str, Any] = field(default_factory=dict)
    """What stood before the noun: "the half inch chains" are those, or, where none are, all are told so."""
    first: bool = True
    """Whether it is what a correction is about, and not what was told behind that."""
    apart: bool = False
    """Whether a weight was told of one of several ("one's forty thousand"), not of each."""
    nth: int = 0
    """Which coil is meant, counted from 1; -1 is the last, 0 none."""
    each: bool = False
    """Whether the number is for each piece on the deck: "two straps over each"."""
    there: bool = False
    """Whether the words point at what is there ("the crate is ten foot long")."""
    unnamed: bool = False
    """Whether nothing says that they are coils ("three of them at fourteen thousand")."""
    another: bool = False
    """Whether the words bring in one more ("a ... coil and a ... coil")."""


@dataclass
class Drafts:
    """All that one utterance tells."""

    nouns: list[Draft] = field(default_factory=list)
    support: dict[str, Any] = field(default_factory=dict)
    row: str | None = None
    slack: dict[str, Any] = field(default_factory=dict)
    front: dict[str, Any] = field(default_factory=dict)
    yard: bool | None = None
    seen: list[str] = field(default_factory=list)
    mended: list[str] = field(default_factory=list)
    mended_it: bool = False
    """Whether what is wrong was mended, without saying which."""
    coil_facts: dict[str, Any] = field(default_factory=dict)
    """Told of the coil without naming it."""
    tiedown_facts: dict[str, Any] = field(default_factory=dict)
    """Told of the tiedowns without naming them."""
    every_tiedown: dict[str, Any] = field(default_factory=dict)
    """Told of all tiedowns there are."""
    tiedown_some: list[tuple[int, dict[str, Any]]] = field(default_factory=list)
    article_facts: dict[str, Any] = field(default_factory=dict)
    parts: dict[str, float] = field(default_factory=dict)
    """Working load limits of binders, hooks, ... without a tiedown named, lb."""
    tagged: list[tuple[Draft, Weight]] = field(default_factory=list)
    """Weights that a tag says, right behind a tiedown: its mark, or the coil's weight."""
    weights: list[Weight] = field(default_factory=list)
    """Weights without a noun."""
    apart: bool = False
    """Whether those are each told of one of several coils."""
    together: Weight | None = None
    """What several coils weigh in all, told without naming them."""
    numbers: list[int] = field(default_factory=list)
    """Numbers without a noun."""
    same_again: bool = False
    """Whether one more like the last was brought in."""
    fix: bool = False
    assumed: list[str] = field(default_factory=list)
    counted: str = ""
    """Which support was counted last, for "no, four"."""
    taken: dict[str, Any] = field(default_factory=dict)
    """Support that was named without its number, as it is taken where none is known."""
    taken_assumed: dict[str, str] = field(default_factory=dict)
    """How that is owned up to, by what is taken."""
    fewer: list[int] = field(default_factory=list)
    """How many to take off, without a noun."""
    denied: list[Any] = field(default_factory=list)
    """Numbers and ways of lying that were said not to be so: "four not five"."""
    more: dict[str, int] = field(default_factory=dict)
    """How many bunks, timbers or wedges were put in (taken out below nought), by what was counted."""
    adds: set[str] = field(default_factory=set)
    """Which of these may be the first ("add two bunks"); "two more bunks" are more than some."""
    uncounted: bool = False
    """Whether bunks were named without a number."""
    all_of: int = 0
    """How many "all four" are, 0 where no number was told."""
    clash: str = ""
    """Two things told at once of which one excludes the other, as a sentence."""
