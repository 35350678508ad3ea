"""Tokens into pieces: words and expressions with all that they may be, and numbers by what they stand beside.

The cheapest way to cover the tokens wins: one long expression beats two short ones, a known word an unknown one, and a
number is read as what its neighbours make of it. Any text gives a result.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Any, NamedTuple

from assistant.phrase.grammar import Grammar
from assistant.phrase.slots import Slots, SlotsOn, Weight
from assistant.phrase.tokens import Token
from assistant.understand.lexicon import Lexicon, Rule, Sense, Step

MOST_COUNTED = 40
"""More of one thing is no count (common practice, no source): see numbers.toml."""
JOINS = frozenset(
    {"'so'", "'because'", "'cause'", "'cuz'", "'then'", "'now'", "'although'", "'though'", "'while'", "'which'"}
)
"""Words that begin a clause wherever they stand behind something told."""
_STAMPS = {30: "30", 43: "43", 70: "70", 80: "80", 100: "100"}

_LEAST_UNSAID = 1000
"""So many pounds may be told without their unit; fewer are more likely a count."""
_WORD = 1.0
_LONGER = 0.05
"""What each further word of one expression costs."""
_UNKNOWN = 3.0
_TIE = 0.6
"""A word that only ties others together."""
_GLUE = frozenset({"det", "prep", "cop", "verb", "filler", "who", "of", "hedge", "and", "have"})
_GEAR = frozenset({"kind", "anytie", "grade", "material"})
_HEADS = frozenset({"kind", "counted", "coil", "article", "anytie", "part", "pallet", "cradle", "mats"})
_BESIDE = frozenset(
    {
        "metal",
        "grade",
        "material",
        "unmarked",
        "eye",
        "more",
        "crossed",
        "direct",
        "filler",
        "fewer",
        "det",
        "doubled",
        "fault",
        "forward",
        "rearward",
        "front",
        "rear",
        "over",
        "through",
        "mats",
        "marked",
    }
)


class Piece(NamedTuple):
    """Something said, with its place among the tokens.

    `names` are all the sorts, and sort.key, that it may be; `value` is a number, a weight, a size or a length.
    """

    sense: Sense
    start: int
    end: int
    names: frozenset[str]
    value: Any = None
    breaks: bool = False
    """Whether punctuation stood before it."""
    parts: tuple["Piece", ...] = ()
    """What a rule made it of."""

    @property
    def sort(self) -> str:
        """What sort of piece it is, by the first of its senses."""
        return self.sense.sort

    @property
    def key(self) -> str:
        """Which of its sort it is."""
        return self.sense.key

    def key_of(self, sort: str) -> str:
        """Return which of a sort it is, "" where it is none."""
        return next((name[len(sort) + 1 :] for name in self.names if name.startswith(f"{sort}.")), "")


class Scanner:
    """Takes tokens apart by one lexicon."""

    def __init__(self, lexicon: Lexicon, grammar: Grammar) -> None:
        self._lexicon = lexicon
        gear = frozenset(
            words[0] for words, senses in lexicon.entries.items() if any(sense.sort in _GEAR for sense in senses)
        )
        self._slots = Slots(grammar, gear | grammar.numbers.tens.keys())
        self._numeric = grammar.numbers.begins - {"the", "a", "an"}
        self._counts = frozenset({"a", "an"})
        self._named: dict[tuple[Sense, ...], frozenset[str]] = {}

    def pieces(self, tokens: Sequence[Token], barred: frozenset[tuple[int, int]] = frozenset()) -> tuple[Piece, ...]:
        """Return the pieces of an utterance, in order; at the places that are barred no expression stands."""
        words = self._words(tokens, barred)
        return tuple(self._composed(words))

    # ---- words and numbers

    def _words(self, tokens: Sequence[Token], barred: frozenset[tuple[int, int]]) -> list[Piece]:
        slots, count = self._slots.on(tokens), len(tokens)
        best: list[tuple[float, Piece | None]] = [(0.0, None)] * (count + 1)
        for at in range(count - 1, -1, -1):
            cheapest = (_UNKNOWN + best[at + 1][0], self._unknown(tokens, at))
            for cost, known in self._starting(tokens, at, slots):
                total = cost + best[known.end][0]
                if (at, known.end) in barred:
                    continue
                if total < cheapest[0]:
                    cheapest = (total, known)
            best[at] = cheapest
        found: list[Piece] = []
        at = 0
        while at < count:
            piece = best[at][1]
            if piece is None:  # pragma: no cover - every place has a piece
                break
            found.append(_stamped(piece, found))
            at = piece.end
        return found

    def _unknown(self, tokens: Sequence[Token], at: int) -> Piece:
        token = tokens[at]
        sense = Sense("number" if token.value is not None else "unknown", token.word)
        return Piece(sense, at, at + 1, frozenset({sense.sort, f"'{token.word}'"}), token.value, token.breaks)

    def _starting(self, tokens: Sequence[Token], at: int, slots: SlotsOn) -> Iterator[tuple[float, Piece]]:
        for end, senses in self._expressions(tokens, at):
            yield self._cost(senses, end - at), self._piece(senses, tokens, at, end)
        if tokens[at].word in self._numeric:
            yield from self._numbers(tokens, at, slots)
        elif tokens[at].word in self._counts:
            yield from self._few(tokens, at, slots)

    def _cost(self, senses: Sequence[Sense], length: int) -> float:
        cost = _TIE if all(sense.sort in _GLUE for sense in senses) else _WORD
        return cost + _LONGER * (length - 1)

    def _expressions(self, tokens: Sequence[Token], at: int) -> Iterator[tuple[int, tuple[Sense, ...]]]:
        node: dict[str, Any] | None = self._lexicon.root
        for end in range(at, len(tokens)):
            token = tokens[end]
            if end > at and token.breaks:
                return
            node = node.get(token.word or f"{token.value:g}") if node else None
            if node is None:
                return
            if "" in node:
                yield end + 1, node[""]

    def _piece(self, senses: tuple[Sense, ...], tokens: Sequence[Token], at: int, end: int) -> Piece:
        names = self._named.get(senses)
        if names is None:
            names = frozenset(name for sense in senses for name in (sense.sort, f"{sense.sort}.{sense.key}"))
            self._named[senses] = names
        if end == at + 1:
            names |= {f"'{tokens[at].word}'"}
        return Piece(senses[0], at, end, names, None, tokens[at].breaks)

    def _few(self, tokens: Sequence[Token], at: int, slots: SlotsOn) -> Iterator[tuple[float, Piece]]:
        """Read "a couple of", "a pair of", "a half inch", "a hundred"."""
        following = tokens[at + 1].word if at + 1 < len(tokens) else ""
        if following in {"couple", "pair", "dozen", "half", "single"}:
            for end, value in slots.read("count", at):
                if end > at + 1:
                    yield _WORD, self._number("num", value, tokens, at, end)
        for sort, slot in (("size", "size"), ("weight", "weight"), ("length", "length")):
            for end, value in slots.read(slot, at):
                if end > at + 2 or (slot == "weight" and end > at + 1 and value.unit):
                    yield _WORD, self._number(sort, value, tokens, at, end)

    def _numbers(self, tokens: Sequence[Token], at: int, slots: SlotsOn) -> Iterator[tuple[float, Piece]]:
        for end, weight in slots.read("weight", at):
            if weight.thousands_unsaid or (weight.maybe and any(token.word == "and" for token in tokens[at:end])):
                continue
            yield self._weight_cost(weight, tokens, at, end), self._number("weight", weight, tokens, at, end)
        for end, inches in slots.read("size", at):
            yield 0.9 + _LONGER * (end - at), self._number("size", inches, tokens, at, end)
        for end, length in slots.read("length", at):
            inches_only = all(unit == "inch" for _, unit in length.parts)
            yield (
                0.95 if not inches_only else 1.05,
                self._number("inches" if inches_only else "length", length, tokens, at, end),
            )
        for end, thickness in slots.read("thickness", at):
            yield 1.0, self._number("thickness", thickness, tokens, at, end)
        for end, value in slots.read("count", at):
            yield self._count_cost(value, tokens, end), self._number("num", value, tokens, at, end)

    def _weight_cost(self, weight: Weight, tokens: Sequence[Token], at: int, end: int) -> float:
        if weight.unit:
            return 0.9
        head = self._head(tokens, end)
        counted = head in {"kind", "counted", "anytie"} or (head == "grade")
        # "thirty five thousand one coil"
        cut = 1.5 if weight.maybe and head in {"coil", "kind", "counted", "article"} else 0.0
        return (
            1.0
            + cut
            + (2.0 if counted and not self._tag_before(tokens, at) else 0.0)
            + (0.0 if weight.pounds >= _LEAST_UNSAID else 0.5)
        )

    def _tag_before(self, tokens: Sequence[Token], at: int) -> bool:
        return any(
            token.word in {"tag", "tags", "says", "say", "marked", "rated", "wll", "tagged", "coil", "weighs", "is"}
            for token in tokens[max(0, at - 2) : at]
        )

    def _count_cost(self, value: float, tokens: Sequence[Token], end: int) -> float:
        if value > MOST_COUNTED:
            return 1.1 if value in _STAMPS else 1.3
        return 0.7 if self._head(tokens, end) else 1.0

    def _head(self, tokens: Sequence[Token], at: int) -> str:
        """Return the sort of noun that stands behind a place, whatever is told of it in between."""
        for _ in range(4):
            if at >= len(tokens) or tokens[at].breaks:
                return ""
            longest = list(self._expressions(tokens, at))[-1:]
            if not longest:
                return ""
            end, senses = longest[0]
            sorts = {sense.sort for sense in senses}
            if sorts & _HEADS:
                return next(sense.sort for sense in senses if sense.sort in _HEADS)
            if "grade" in sorts:
                return "grade"
            if not sorts & _BESIDE:
                return ""
            at = end
        return ""

    def _number(self, sort: str, value: object, tokens: Sequence[Token], at: int, end: int) -> Piece:
        names = {sort}
        if sort == "num":
            names |= {f"num.{value:g}"} | ({"one"} if value == 1 else set())
        return Piece(Sense(sort, ""), at, end, frozenset(names), value, tokens[at].breaks)

    # ---- rules

    def _composed(self, words: list[Piece]) -> Iterator[Piece]:
        at = 0
        while at < len(words):
            end, rule = self._longest(words, at)
            if rule is None:
                yield words[at]
                at += 1
                continue
            parts = tuple(words[at:end])
            names = frozenset({rule.makes.sort, f"{rule.makes.sort}.{rule.makes.key}"})
            if len(parts) == 1:
                names |= parts[0].names
            yield Piece(rule.makes, parts[0].start, parts[-1].end, names, None, parts[0].breaks, parts)
            at = end

    def _longest(self, words: Sequence[Piece], at: int) -> tuple[int, Rule | None]:
        best, chosen = at, None
        tried: set[int] = set()
        for name in words[at].names:
            for rule in self._lexicon.by_first.get(name, ()):
                if id(rule) in tried:
                    continue
                tried.add(id(rule))
                end = _match(rule.steps, words, at, at)
                if end > best or (end == best and chosen is not None and self._before(rule, chosen)):
                    best, chosen = end, rule
        return best, chosen

    def _before(self, rule: Rule, other: Rule) -> bool:
        return self._order[id(rule)] < self._order[id(other)]

    @cached_property
    def _order(self) -> dict[int, int]:
        return {id(rule): place for place, rule in enumerate(self._lexicon.rules)}


_LEAST_TENSION = 100
"""Pounds from which a number behind "pretension" is one, as a number of tiedowns it is none (common practice)."""


def _stamped(piece: Piece, before: Sequence[Piece]) -> Piece:
    """Return a number right behind a size as the grade that is stamped there: "three eighths seventy"."""
    if piece.sort == "num" and before and before[-1].sort == "pretension" and piece.value >= _LEAST_TENSION:
        pounds = Weight(float(piece.value), thousands_unsaid=False, unit="", assumed="")
        return Piece(Sense("weight", ""), piece.start, piece.end, frozenset({"weight"}), pounds, piece.breaks)
    grade = _STAMPS.get(int(piece.value)) if piece.sort == "num" else None
    if grade is None or not before or before[-1].sort not in {"size", "marked"} or piece.breaks:
        return piece
    return Piece(
        Sense("grade", grade), piece.start, piece.end, frozenset({"grade", f"grade.{grade}"}), None, piece.breaks
    )


def _match(steps: Sequence[Step], words: Sequence[Piece], at: int, begun: int) -> int:
    """Return where the longest match of a rule's places ends, -1 where there is none; none crosses punctuation."""
    if not steps:
        return at
    step, rest = steps[0], steps[1:]
    if (
        begun < at < len(words)
        and words[at].sort == "filler"
        and not words[at].breaks
        and step.names.isdisjoint(words[at].names)
        and words[at].names.isdisjoint(JOINS)
    ):
        return _match(steps, words, at + 1, begun) if any(one.often in {"1", "+"} for one in steps) else at
    fits = at < len(words) and not (at > begun and words[at].breaks) and not step.names.isdisjoint(words[at].names)
    if step.often == "1":
        return _match(rest, words, at + 1, begun) if fits else -1
    if step.often == "?":
        taken = _match(rest, words, at + 1, begun) if fits else -1
        return max(taken, _match(rest, words, at, begun))
    once = Step(step.names, "*")
    if step.often == "+":
        return _match((once, *rest), words, at + 1, begun) if fits else -1
    taken = _match(steps, words, at + 1, begun) if fits else -1
    return max(taken, _match(rest, words, at, begun))
