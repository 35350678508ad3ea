"""The recognizer's phrases: whole sentences with numbers in them, sampled from the grammar with a fixed seed.

The recognizer makes a bigram of what it is given, so sentences must hold the word pairs of real talk about as often
as talk does. Each is checked by the tests: the parser takes it, or refuses it for a word that it knows. So the
recognizer's phrases are a subset of the parser's.
"""

import random
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import cache, cached_property
from itertools import accumulate
from typing import TypeVar

from assistant.phrase.grammar import Grammar, Name, Phrase
from assistant.phrase.numbers import in_words, trade_words
from assistant.phrase.parser import Parser
from assistant.phrase.tokens import tokens

_SEED = 393_120
_COUNTS = {1: 3, 2: 10, 3: 8, 4: 10, 5: 4, 6: 5, 7: 2, 8: 3, 9: 1, 10: 1, 11: 1, 12: 1}
"""How often each count is said; common practice, no source."""
_SIZES = {
    "chain": ("1/4", "5/16", "3/8", "3/8", "3/8", "7/16", "1/2", "1/2", "5/8"),
    "strap": ("2", "3", "4", "4", "4"),
    "wire rope": ("1/4", "3/8", "1/2", "5/8"),
    "rope": ("3/8", "1/2", "3/4"),
    "steel strap": ("2",),
    "": ("3/8", "1/2", "4"),
}
_LIMITS = (
    *(1300, 1900, 2000, 2600, 2650, 3000, 3150, 3300, 3500, 3700, 3900, 4000, 4300, 4500, 4700, 5000, 5400, 5700),
    *(6000, 6600, 6900, 7100, 7200, 8100, 8750, 8800, 9200, 10_000, 11_300, 12_000, 13_000, 15_000, 15_800, 18_100),
    *(20_000, 22_600),
)
"""Marks that gear bears: the values of the tables of 49 CFR 393.108 and round numbers between."""
_THICKNESSES = ("point oh two nine", "point oh three five", "point oh four four", "point oh five oh")
_LENGTHS = tuple(range(2, 49))
_ANGLES = (30, 35, 40, 45, 50, 60)
_MEASURES = (1, 2, 3, 4, 6, 8, 12, 16, 20, 24, 30, 36, 40, 42, 48, 50, 54, 60, 66, 72, 74)
_DIMENSIONS = (
    "thirty six",
    "forty two",
    "forty four",
    "forty eight",
    "fifty",
    "fifty four",
    "sixty",
    "sixty six",
    "seventy two",
)
_SMALL = ("half", "a half", "a quarter", "an eighth", "one eighth", "three eighths", "one and a half", "three quarter")
_SHARE_OF_FRACTIONS = 0.3
_METRIC = ("metric ton", "kilo", "kilogram", "ton", "ton", "ton", "kip")
_NOUNS = frozenset({"coil", "coils", "{metal}", "{article}", "{articles}", "{length}", "{weight}"})
_ALONE = frozenset({"some_of_them", "each_way", "number", "more_tiedowns"})
"""Fragments in which a count of one is said; elsewhere it is "a" or a template with "one"."""
_CLOSED = frozenset({"coil", "coils", "tiedown", "more_tiedowns", "article", "articles"})
"""Fragments behind which a closer may stand."""
_PAIRS = ("a couple of", "a couple", "a pair of", "couple of", "couple", "pair of")
"""How two is said without the word."""
_PAIRED = frozenset({"tiedown", "coils", "counted", "articles", "each_way"})
_SHARE_OF_PAIRS = 0.2
_TEN_THOUSAND = 10_000
_SHARE_OF_UNITS = 0.12
_SHARE_OF_POUNDS = 0.5
_CHANCE_OF_JOIN = 0.25
_SHARE_OF_ANY_ORDER = 0.5
_SHARE_OF_ANY_FORM = 0.7
_SHARE_OF_FILLERS = 0.5
_SO_MANY_PARTS = (1, 2, 3)
"""Of rare sentences. Measured on the corpus: of the word pairs that no phrase had, these have one in six."""
_NOT_SO_OFTEN = 10
"""So many times as often as any other of its kind "not" is said; common practice, no source."""
_DENIED = {"isn't": "is", "aren't": "are", "wasn't": "is", "weren't": "are"}
"""Words that deny, and what they take the place of."""
_EVEN = 6
"""Of the ways to say something the first is this many places from being said without end: more is more even."""
_Way = TypeVar("_Way")


@cache
def _falling(count: int) -> tuple[float, ...]:
    """Return how often each of so many ways is said, the first most often."""
    return tuple(1 / (place + _EVEN) for place in range(count))


def _by_fragment(phrases: Iterable[Phrase]) -> dict[str, list[Phrase]]:
    found: dict[str, list[Phrase]] = {}
    for phrase in phrases:
        found.setdefault(phrase.fragment, []).append(phrase)
    return found


class Sampler:
    """Samples phrases of one grammar. The same grammar gives the same phrases."""

    def __init__(self, grammar: Grammar) -> None:
        self._grammar = grammar
        self._random = random.Random(_SEED)  # noqa: S311 - a reproducible sample, nothing secret
        self._phrases = _by_fragment(phrase for phrase in grammar.phrases if phrase.spoken)
        self._heard = _by_fragment(phrase for phrase in grammar.phrases if grammar.unheard.isdisjoint(phrase.pieces))
        self._kind = ""
        self._sentence = grammar.sentences["sentence"]
        self._reach = list(accumulate(pattern["weight"] for pattern in self._sentence))

    @cached_property
    def _parser(self) -> Parser:
        return Parser(self._grammar)

    def whole(self) -> list[str]:
        """Return phrases for the whole grammar: each template at least once, then sentences up to the budget.

        Last stands what is said rarely: the recognizer knows all that the parser does, but expects little of that; and
        what is refused: who does not listen for "not" hears "nine".
        """
        alone = [self._fill(phrase) for phrases in self._phrases.values() for phrase in phrases]
        repeats = int(self._grammar.sentences["budget"]["repeats"])
        controls = [*self._controls()] * repeats
        said = [
            *dict.fromkeys([*alone, *self._names(), *self._numbers()]),
            *controls,
            *self._sentences(),
            *self._rare(),
            *self._turned(),
        ]
        return [self._grammar.as_it_sounds(phrase) for phrase in said]

    def answers(self, topic: str) -> list[str]:
        """Return phrases for what may follow a question: a narrow grammar hears numbers better.

        What is sampled often is there often: to what was read back, most say yes or no.
        """
        choices = self._grammar.sentences["answers"][topic]["parts"]
        each = int(self._grammar.sentences["budget"]["answers"]) // len(choices)
        said = [" ".join(self._parts(parts)) for parts in choices for _ in range(each)]
        found = [*said, *dict.fromkeys([*self._controls(), *self._numbers()])]
        return [self._grammar.as_it_sounds(phrase) for phrase in found]

    def _controls(self) -> Iterator[str]:
        for fragment, phrases in self._phrases.items():
            if self._grammar.sorts[fragment] in {"ask", "command", "reply"}:
                plain = [" ".join(phrase.pieces) for phrase in phrases if not phrase.slots]
                yield from plain * int(phrases[0].weight)

    def _names(self) -> Iterator[str]:
        for list_name in ("attribute", "seen"):
            for name in self._grammar.lists[list_name]:
                yield from (" ".join(words) for words in name.spoken)

    def _numbers(self) -> Iterator[str]:
        """Every weight form at each 500 lb, so that no number word meets an unknown neighbor."""
        for pounds in range(1000, 80_000, 500):
            yield from trade_words(pounds, self._grammar.numbers)
        for pounds in range(10_250, 60_000, 1_250):
            yield from trade_words(pounds, self._grammar.numbers)

    def _sentences(self) -> Iterator[str]:
        for parts in self._patterns("sentences"):
            begun = self._grammar.sorts.get(parts[0].partition(":")[0]) == "fact"
            said = [*self._now_and_then("openers", fact=begun), *self._parts(parts)]
            yield " ".join([*said, *self._now_and_then("closers", fact=parts[-1] in _CLOSED)])

    def _patterns(self, budget: str) -> Iterator[Sequence[str]]:
        """Yield the parts of as many sentences as the budget of that name has."""
        for _ in range(int(self._grammar.sentences["budget"][budget])):
            yield self._pattern()

    def _pattern(self) -> Sequence[str]:
        parts: Sequence[str] = self._random.choices(self._sentence, cum_weights=self._reach)[0]["parts"]
        return parts

    def _rare(self) -> Iterator[str]:
        """Yield every form that is mostly typed, and sentences of any forms, many with their parts in any order.

        Those that the parser does not cover whole are left out: parts that meet by chance may be another phrase.
        """
        for phrases in self._heard.values():
            yield from (self._fill(phrase) for phrase in phrases if not phrase.spoken)
        facts = [fragment for fragment in self._heard if self._grammar.sorts[fragment] == "fact"]
        for pattern in self._patterns("rare"):
            any_order = self._random.random() < _SHARE_OF_ANY_ORDER
            parts = self._random.choices(facts, k=self._random.choice(_SO_MANY_PARTS)) if any_order else pattern
            said = " ".join(filter(None, self._loose(parts)))
            if self._covered(said):
                yield said

    def _covered(self, said: str, *, besides: frozenset[str] = frozenset()) -> bool:
        """Return whether the parser covers a sentence, or leaves over none but these words."""
        words = tokens(said)
        found = self._parser.parse(words)
        return bool(found.fragments) and all(words[place].word in besides for place in found.left_over)

    def _turned(self) -> Iterator[str]:
        """Yield sentences of which nothing is taken: a word turns their sense round, or tells of unknown damage."""
        heeded = sorted(self._grammar.heeded - self._grammar.unheard - self._grammar.numbers.all)
        often = int(self._grammar.sentences["budget"]["turned"])
        words = [word for word in heeded for _ in range(often * (_NOT_SO_OFTEN if word == "not" else 1))]
        for word in words:
            said = [part for part in self._parts(self._pattern()) if part]
            said.insert(self._random.randint(0, len(said)), word)
            if self._covered(" ".join(said), besides=self._grammar.heeded):
                yield " ".join(said)
        told = [*self._names(), *(self._fill(phrase) for phrase in self._told())]
        for denial, verb in _DENIED.items():
            affirmed = [one for one in told if f" {verb} " in one]
            for one in self._random.choices(affirmed, k=often * _NOT_SO_OFTEN):
                denied = one.replace(f" {verb} ", f" {denial} ", 1)
                if self._covered(denied, besides=self._grammar.heeded):
                    yield denied

    def _told(self) -> Iterator[Phrase]:
        """Yield every spoken form of a fact."""
        for fragment, phrases in self._phrases.items():
            yield from phrases if self._grammar.sorts[fragment] == "fact" else ()

    def _loose(self, parts: Sequence[str]) -> Iterator[str]:
        """Yield the parts of a rare sentence: any form that can be heard, and words between them that carry nothing.

        Two numbers never meet: nobody can tell where one ends.
        """
        between = sorted(self._grammar.filler - self._grammar.unheard)
        number = self._grammar.numbers.all
        before = ""
        for part in parts:
            forms = self._heard.get(part, [])
            any_form = forms and self._random.random() < _SHARE_OF_ANY_FORM
            said = self._fill(self._random.choice(forms)) if any_form else " ".join(self._parts([part]))
            if any_form and self._random.random() < _SHARE_OF_FILLERS:
                said = f"{self._random.choice(between)} {said}"
            if before and {before.rsplit(maxsplit=1)[-1], *said.split()[:1]} <= number:
                said = f"with {said}"
            before = said or before
            yield said

    def _now_and_then(self, edge: str, *, fact: bool) -> list[str]:
        """Begin ("openers") or end ("closers") some breaths about a fact as people do: "okay so", "on there"."""
        ways = self._grammar.sentences[edge]
        return [self._random.choice(ways["say"])] if fact and self._random.random() < ways["share"] else []

    def _parts(self, parts: Sequence[str]) -> Iterator[str]:
        joins = self._grammar.sentences["joins"]
        for part in parts:
            fragment, _, on = part.partition(":")
            if fragment not in self._phrases:
                share = joins["share"] if fragment in {"and", "with", "on"} else _CHANCE_OF_JOIN
                if self._random.random() < share:
                    yield self._random.choice(joins[fragment])
                continue
            if on:
                names = [name for name in self._grammar.lists[fragment] if on in name.on]
                yield self._say(self._random.choices(names, [name.weight for name in names])[0])
                continue
            yield self._fill(self._one_of(self._phrases[fragment]))

    def _say(self, name: Name) -> str:
        return " ".join(self._one_of(name.spoken))

    def _one_of(self, ways: Sequence[_Way]) -> _Way:
        """Choose one way to say something: the grammar names the usual ones first."""
        return self._random.choices(ways, _falling(len(ways)))[0]

    def _fill(self, phrase: Phrase) -> str:
        slots = phrase.slots
        kinds = [slot for slot in ("kinds", "kind") if slot in slots]
        chosen: dict[str, str] = {}
        self._kind = ""
        if kinds:
            name = self._choose_kind(kinds[0], graded="grade" in slots, material="material" in slots)
            self._kind = name.key
            chosen[kinds[0]] = self._say(name)
        said = []
        for place, piece in enumerate(phrase.pieces):
            behind = phrase.pieces[place + 1] if place + 1 < len(phrase.pieces) else ""
            slot = piece[1:-1] if piece.startswith("{") else ""
            said.append(chosen.get(slot) or self._value(slot, phrase.fragment, behind) if slot else piece)
        return " ".join(said)

    def _choose_kind(self, slot: str, *, graded: bool, material: bool) -> Name:
        """Choose a kind: grades belong to chains, materials to ropes, and most tiedowns are chains and straps."""
        weights = {"chain": 8, "strap": 6, "wire rope": 1, "rope": 0.5, "steel strap": 0.5}
        names = self._grammar.lists[slot]
        if graded or material:
            wanted = "chain" if graded else "rope"
            return next(name for name in names if name.key == wanted)
        return self._random.choices(names, [weights[name.key] for name in names])[0]

    def _value(self, slot: str, fragment: str, behind: str) -> str:
        """Return words for a slot; `behind` is the next piece: "two ton coil", but "two tons each"."""
        noun = behind in _NOUNS
        match slot:
            case "count" if fragment == "angle":
                return in_words(self._random.choice(_ANGLES), self._grammar.numbers)
            case "inches":
                return self._inches()
            case "count":
                least = 1 if fragment in _ALONE else 2
                counts = {count: often for count, often in _COUNTS.items() if count >= least}
                count = self._random.choices(list(counts), list(counts.values()))[0]
                pair = count == 2 and fragment in _PAIRED and self._random.random() < _SHARE_OF_PAIRS  # noqa: PLR2004 - two
                return self._random.choice(_PAIRS) if pair else in_words(count, self._grammar.numbers)
            case "weight":
                return self._weight(noun=noun)
            case "size":
                return self._size()
            case "wrong":
                return self._random.choice(
                    (in_words(self._random.randrange(2, 9), self._grammar.numbers), self._limit())
                )
            case "limit":
                return self._limit()
            case "thickness" | "dimension":
                return self._random.choice(_THICKNESSES if slot == "thickness" else _DIMENSIONS)
            case "length":
                feet = in_words(self._random.choice(_LENGTHS), self._grammar.numbers)
                return f"{feet} {'foot' if noun else 'feet'}"
            case _:
                names = self._grammar.lists[slot]
                return self._say(self._random.choices(names, [name.weight for name in names])[0])

    def _inches(self) -> str:
        """Return a measure of a coil (whole inches), or of a slack or a thread (a fraction)."""
        if self._random.random() < _SHARE_OF_FRACTIONS:
            return f"{self._random.choice(_SMALL)} inch"
        inches = self._random.choice(_MEASURES)
        return f"{in_words(inches, self._grammar.numbers)} {'inch' if inches == 1 else 'inches'}"

    def _weight(self, *, noun: bool) -> str:
        numbers, ending = self._grammar.numbers, "" if noun else "s"
        if self._random.random() < _SHARE_OF_UNITS:
            unit = self._random.choice(_METRIC)
            if unit in {"kilo", "kilogram"}:
                return f"{in_words(self._random.randrange(2000, 25_000, 500), numbers)} {unit}{ending}"
            half = self._random.choice(("", "", " and a half", " point five"))
            return f"{in_words(self._random.randrange(2, 36), numbers)}{half} {unit}{ending}"
        spread = ((5, 61, 1000), (10, 120, 500), (100, 600, 100), (1000, 6000, 10))
        first, last, step = self._random.choice(spread)
        said = self._random.choice(trade_words(self._random.randrange(first, last) * step, numbers))
        full = said.endswith("hundred") or "thousand" in said
        return f"{said} pound{ending}" if full and self._random.random() < _SHARE_OF_POUNDS else said

    def _limit(self) -> str:
        pounds = self._random.choice(_LIMITS)
        forms = [
            said for said in trade_words(pounds, self._grammar.numbers) if pounds < _TEN_THOUSAND or "thousand" in said
        ]
        said = self._random.choice(forms)
        return f"{said} pounds" if self._random.random() < _SHARE_OF_POUNDS else said

    def _size(self) -> str:
        size = Fraction(self._random.choice(_SIZES[self._kind]))
        if size.denominator == 1:
            return f"{in_words(int(size), self._grammar.numbers)} inch"
        if size.denominator in {2, 4}:
            upper = "" if size.numerator == 1 else "three "
            return f"{upper}{'half' if size.denominator == 2 else 'quarter'} inch"  # noqa: PLR2004 - a half
        lower = {8: "eighth", 16: "sixteenth"}[size.denominator]
        ending = "" if size.numerator == 1 else "s"
        inch = self._random.choice(("", " inch"))
        return f"{in_words(size.numerator, self._grammar.numbers)} {lower}{ending}{inch}"
