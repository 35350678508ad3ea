"""Readers of numbers with what they measure: a count, a weight, a size, a length, the thickness of strapping."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from assistant.phrase.grammar import Grammar, Unit
from assistant.phrase.numbers import Reader
from assistant.phrase.tokens import Token
from assistant.phrase.units import factor

_TRADE_THOUSANDS = range(10, 100)
"""A bare number in this range, told as a weight, is thousands of pounds ("a coil of forty two"): trade usage."""
_LARGEST_SIZE_IN = 12
"""No tiedown is wider: what looks like a larger size is another number (common practice, no source)."""

_STAMPED = frozenset({30, 43, 70, 80, 100})
"""Grades as they are stamped, in figures."""
_THICKEST_IN = 0.5
"""No strapping is thicker (common practice, no source)."""


class Weight(NamedTuple):
    """A weight as heard: in pounds, whether thousands were left unsaid, and what its unit assumes.

    `maybe` is what was likelier meant, in pounds: 42,500 where "forty two thousand five" was heard; else 0.
    """

    pounds: float
    thousands_unsaid: bool
    unit: str
    assumed: str
    maybe: float = 0.0


class Length(NamedTuple):
    """A length as heard, in its units ("six foot six"): turned into feet only where it is used."""

    parts: tuple[tuple[float, str], ...]

    def feet(self, definitions: str) -> float:
        """Return the length in feet."""
        return round(sum(value * factor(definitions, unit, "foot") for value, unit in self.parts), 4)


SlotReading = tuple[int, Any]


class Trie:
    """Sequences of words, each leading to a key; words of one sound are one word."""

    def __init__(self, same_sound: Mapping[str, str]) -> None:
        self._root: dict[str, Any] = {}
        self._same = same_sound

    def add(self, words: Sequence[str], key: object) -> None:
        """Add one sequence; the first key given for it stays."""
        node = self._root
        for word in words:
            node = node.setdefault(self._same.get(word, word), {})
        node.setdefault("", key)

    def read(self, tokens: Sequence[Token], at: int) -> list[SlotReading]:
        """Return all (end, key) whose words stand at a place, longest first; figures match their digits."""
        found: list[SlotReading] = []
        node = self._root
        for end in range(at, len(tokens)):
            token = tokens[end]
            if end > at and token.breaks:
                break
            below = node.get(self._same.get(token.word, token.word) or f"{token.value:g}")
            if below is None:
                break
            node = below
            if "" in node:
                found.append((end + 1, node[""]))
        return found[::-1]


class Slots:
    """All slot readers of a grammar."""

    def __init__(self, grammar: Grammar, gear: frozenset[str]) -> None:
        """Take a grammar, and the words that gear is named by: a number before one of these counts or sizes it."""
        self._grammar = grammar
        self._gear = gear
        self._units = {sort: self._unit_trie(units) for sort, units in grammar.units.items()}
        self._begins = grammar.numbers.begins

    def _unit_trie(self, units: Sequence[Unit]) -> Trie:
        trie = Trie(self._grammar.same_sound)
        for unit in units:
            for words in unit.spoken + unit.typed:
                trie.add(words, unit)
        return trie

    def on(self, tokens: Sequence[Token]) -> "SlotsOn":
        """Return the readers over one token sequence."""
        return SlotsOn(self._grammar, self._gear, self._units, tokens, begins=self._begins)


class SlotsOn:
    """Slot readers over one token sequence; remembers what was read where."""

    def __init__(
        self,
        grammar: Grammar,
        gear: frozenset[str],
        units: Mapping[str, Trie],
        tokens: Sequence[Token],
        *,
        begins: frozenset[str],
    ) -> None:
        self._grammar = grammar
        self._begins = begins
        self._gear = gear
        self._units = units
        self._tokens = tokens
        self._numbers = Reader(grammar.numbers, tokens)
        self._known: dict[tuple[str, int], list[SlotReading]] = {}
        self._readers: Mapping[str, Callable[[int], list[SlotReading]]] = {
            "count": self._count,
            "weight": self._weight,
            "size": self._size,
            "length": self._length,
            "thickness": self._thickness,
        }

    def read(self, slot: str, at: int) -> list[SlotReading]:
        """Return all (end, value) that fill a slot at a place."""
        known = self._known.get((slot, at))
        if known is None:
            # most words begin no number, and are asked about by every slot
            begins = at < len(self._tokens) and self._tokens[at].word in self._begins
            known = self._readers[slot](at) if begins else []
            self._known[slot, at] = known
        return known

    def _unit(self, sort: str, at: int) -> tuple[int, Unit] | None:
        if at < len(self._tokens) and self._tokens[at].breaks:
            return None
        found = self._units[sort].read(self._tokens, at)
        return found[0] if found else None

    def _length_unit(self, at: int) -> tuple[int, Unit] | None:
        """Return a unit of length; "in" and "m" only behind a figure: "five in a row" is no five inches."""
        unit = self._unit("length", at)
        if unit and self._tokens[at].word not in unit[1].spoken_words and self._tokens[at - 1].value is None:
            return None
        return unit

    def _goes_on(self, at: int, end: int) -> bool:
        """Return whether figures stand side by side ("42 500"): the first is no weight by itself."""
        beside = end < len(self._tokens) and not self._tokens[end].breaks and self._tokens[end].value is not None
        return beside and self._tokens[at].value is not None

    def _measured(self, at: int) -> bool:
        """Return whether a unit of length stands at a place, as it is said: the number before is no weight."""
        unit = None if at >= len(self._tokens) else self._unit("length", at)
        return unit is not None and self._tokens[at].word in unit[1].spoken_words

    def _count(self, at: int) -> list[SlotReading]:
        return [(end, int(value)) for end, value in self._numbers.count(at) if value == int(value)]

    def _factor(self, unit: str, target: str) -> float:
        return factor(self._grammar.definitions, unit, target)

    def _weight(self, at: int) -> list[SlotReading]:
        found: list[SlotReading] = []
        plain, short = self._numbers.plain(at), self._numbers.shorthand(at)
        halves = [reading for reading in self._numbers.fraction(at) if reading[1] < 1]
        for end, value in [*plain, *short, *halves]:
            unit = self._unit("weight", end)
            if unit:
                pounds, after = value * self._factor(unit[1].name, "pound"), unit[0]
                if [token.word for token in self._tokens[after : after + 3]] == ["and", "a", "half"]:
                    # "twenty tons and a half"
                    half = (value + 0.5) * self._factor(unit[1].name, "pound")
                    found.append((after + 3, Weight(round(half, 3), thousands_unsaid=False, unit=unit[1].name,
                                                    assumed=unit[1].assumed)))  # fmt: skip
                maybe = round(self._cut_short(at, end, value) * self._factor(unit[1].name, "pound"), 3)
                found.append((after, Weight(round(pounds, 3), thousands_unsaid=False, unit=unit[1].name,
                                            assumed=unit[1].assumed, maybe=maybe)))  # fmt: skip
            if (end, value) in halves:
                continue
            if unit is None and (self._measured(end) or self._goes_on(at, end)):
                continue
            unsaid = (end, value) in plain and _TRADE_THOUSANDS.start <= value < _TRADE_THOUSANDS.stop
            if 0 < value < _TRADE_THOUSANDS.start:
                continue
            pounds = value * 1000 if unsaid else value
            found.append((end, Weight(pounds, thousands_unsaid=unsaid, unit="", assumed="",
                                      maybe=self._cut_short(at, end, value))))  # fmt: skip
        if self._tokens[at].word in {"a", "one"} and not plain:
            unit = self._unit("weight", at + 1)
            if unit and unit[1].name != "pound":
                pounds = self._factor(unit[1].name, "pound")
                found.append((unit[0], Weight(pounds, thousands_unsaid=False, unit=unit[1].name,
                                              assumed=unit[1].assumed)))  # fmt: skip
        return sorted(found, key=lambda reading: -reading[0])

    def _cut_short(self, at: int, end: int, value: float) -> float:
        """Return what "forty two thousand five" was cut short of, 42,500; 0 where nothing was."""
        rest = value % 1000
        before = self._tokens[end - 2].word if end - at > 2 else ""  # noqa: PLR2004 - a number, "thousand", a number
        return value + 99 * rest if before in {"thousand", "and"} and 0 < rest < 10 else 0.0  # noqa: PLR2004 - one digit

    def _size(self, at: int) -> list[SlotReading]:
        found: list[SlotReading] = []
        for end, value in self._numbers.fraction(at):
            if not 0 < value <= _LARGEST_SIZE_IN:
                continue
            unit = self._length_unit(end)
            if unit and unit[1].name in {"inch", "foot"}:
                if unit[1].name == "inch":
                    found.append((unit[0], value))
            elif value < 1 and (end > at + 1 or self._tokens[at].value is not None or self._names_gear(end)):
                found.append((end, value))
        return found

    def _names_gear(self, at: int) -> bool:
        """Return whether gear or nothing follows: "half chains" are half inch, "half go forward" are two of four."""
        if at == len(self._tokens) or self._tokens[at].breaks:
            return True
        return self._tokens[at].word in self._gear or self._tokens[at].value in _STAMPED

    def _thickness(self, at: int) -> list[SlotReading]:
        """Read the thickness of strapping: "point oh two nine", ".029"."""
        readings = [reading for reading in [self._numbers.decimal(at)] if reading]
        return [(end, value) for end, value in readings if 0 < value < _THICKEST_IN]

    def _length(self, at: int) -> list[SlotReading]:
        found: list[SlotReading] = []
        for end, value in [*self._numbers.plain(at), *self._numbers.fraction(at)]:
            unit = self._length_unit(end)
            if not unit or value <= 0:
                continue
            length = Length(((value, unit[1].name),))
            found.append((unit[0], length))
            if unit[1].name == "foot":
                found += self._inches_after(unit[0], length)
        return sorted(set(found), reverse=True)

    def _names_nothing(self, at: int) -> bool:
        """Return whether a number ends what is said of a length: "six foot six long", not "six foot four chains"."""
        return at == len(self._tokens) or self._tokens[at].breaks or self._tokens[at].word in {"long", "high"}

    def _inches_after(self, at: int, feet: Length) -> list[SlotReading]:
        """Read the inches of "six foot six" and "six feet six inches"."""
        found: list[SlotReading] = []
        if at >= len(self._tokens) or self._tokens[at].breaks:
            return found
        for end, value in [*self._numbers.fraction(at), *self._numbers.plain(at)]:
            unit = self._length_unit(end) if end < len(self._tokens) else None
            after = unit[0] if unit and unit[1].name == "inch" else end
            if 0 < value < 12 and (after > end or self._names_nothing(end)):  # noqa: PLR2004 - inches in a foot
                found.append((after, Length((*feet.parts, (value, "inch")))))
        return found
