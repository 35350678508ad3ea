"""The recognizer's phrases, generated from the lexicon, its rules and grammar/talk.toml with a fixed seed.

The recognizer makes a bigram of what it is given, so sentences must hold the word pairs of real talk about as often
as talk does. What is generated is understood with nothing lost, apart from sentences with a word in their middle that
turns their sense round: who does not listen for "not" hears "nine".
"""

import random
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import accumulate, pairwise
from typing import Any

from assistant.hear.amounts import Amounts
from assistant.hear.shapes import Part, Shape, read_line, read_shapes
from assistant.load.model import Coil, Kind, Load, Tiedown
from assistant.phrase.grammar import GrammarProblem
from assistant.phrase.numbers import in_words, trade_words
from assistant.understand.understander import Understander

_SEED = 393_120
_EVEN = 6
"""Of the ways to say something fixed the first is this many places from being said without end: more is more even."""
_ALWAYS_SAME = frozenset({"ask", "command", "reply"})
"""Sorts of phrases that have words of their own."""
_OPENED = 0.2
_CLOSED = 0.06
_SO_MANY_PARTS = (1, 2, 3)
"""Of talk in any order."""
_AS_OFTEN = 5
"""How often each answer of a narrow grammar is listed: as many different ones would take long to look at."""
_MANY = 12
_DECKS = (
    Load(),
    *(
        Load(coils=(Coil(),), tiedowns=(Tiedown(kind=kind, count=_MANY),))
        for kind in (Kind.CHAIN, Kind.STRAP, Kind.ROPE)
    ),
)
"""What lies on the deck when something is said: "two forward" is of what is there."""
_Drawn = tuple[Sequence[str], Sequence[float]]


class Generator:
    """Generates phrases by one understander's words. The same grammar gives the same phrases."""

    def __init__(self, understander: Understander) -> None:
        self._understander = understander
        self._grammar = understander.grammar
        self._talk: Mapping[str, Any] = understander.grammar.talk
        self._chance = random.Random(_SEED)  # noqa: S311 - a reproducible sample, nothing secret
        self._amounts = Amounts(self._talk["numbers"], self._grammar.numbers, self._chance).named
        self._shapes = read_shapes(self._talk)
        self._contracted = {full: short for full, short in self._talk["contracted"].items() if isinstance(short, str)}
        self._words: dict[tuple[str, str], _Drawn] = {}
        self._check()

    # ---- all that is generated

    def whole(self) -> list[str]:
        """Return phrases for the whole grammar, as they sound.

        Last stands what is said rarely: the recognizer knows all that is understood, but expects little of that; and
        what is refused.
        """
        said = [*self.told(), *self.any_order(), *self.turned()]
        said += self.rest(said)
        return self._sounding([*said, *self.unplaced(said)])

    def answers(self, topic: str) -> list[str]:
        """Return phrases for what may follow a question: a narrow grammar hears numbers better.

        What is said often is there often: to what was read back, most say yes or no.
        """
        lines = [[*read_line(f"answers.{topic}", line)] for line in self._talk["answers"][topic]]
        each = self._budget("answers") // (len(lines) * _AS_OFTEN)
        said = [line for parts in lines for line in self._answers(parts, each)]
        return self._sounding([*said * _AS_OFTEN, *dict.fromkeys([*self._fixed(1), *self._numbers()])])

    def _answers(self, parts: Sequence[Part], times: int) -> Iterator[str]:
        always = all(part.name.startswith("fixed.") for part in parts)
        said = (self._line(parts) for _ in range(times))
        return said if always else filter(self.understood, said)

    def told(self) -> list[str]:
        """Return what people say mostly: numbers, fixed questions and orders, and breaths of talk."""
        breaths = (self._breath() for _ in range(self._budget("sentences")))
        return [*self.told_always(), *filter(self.understood, breaths)]

    def told_always(self) -> list[str]:
        """Return numbers, and questions and orders that are always said in the same words."""
        return [*dict.fromkeys(self._numbers()), *self._fixed(self._budget("repeats"))]

    def any_order(self) -> list[str]:
        """Return what is mostly typed, and parts of talk in any order."""
        always = (phrase for phrase in self._grammar.phrases if self._grammar.sorts[phrase.fragment] in _ALWAYS_SAME)
        typed = (" ".join(phrase.pieces) for phrase in always if not phrase.spoken)
        mixed = (self._any_order() for _ in range(self._budget("any_order")))
        return [*filter(self._is_listened_for, typed), *filter(self.understood, mixed)]

    def turned(self) -> list[str]:
        """Return sentences with a word in their middle that turns their sense round, or tells of damage."""
        words = [said for sort in self._talk["heeded"]["sorts"] for said in self._of_sort(sort, "")[0]]
        words = [said for said in dict.fromkeys(words) for _ in range(self._budget("heeded"))]
        often = self._budget("denied")
        denials = ["not", *(short for short in self._contracted.values() if short.endswith("n't"))]
        words += [said for said in (*denials, "isn't", "aren't", "ain't", "wasn't", "weren't") for _ in range(often)]
        return [self._with_word_in_it(self._short(said)) for said in words]

    def rest(self, had: Iterable[str]) -> list[str]:
        """Return what is said rarely, and a phrase for each word that none of those that were generated has."""
        said = [*filter(self.understood, self._talk["rare"]["say"])]
        missing = self._missing([*had, *said])
        for words in sorted(self._expressions, key=len):
            if not missing.isdisjoint(words):
                carried = self._carried(" ".join(words))
                missing -= {word for one in carried for word in one.split()}
                said += carried
        return said

    def unplaced(self, had: Iterable[str]) -> list[str]:
        """Return a sentence with each word in it that is understood beside others alone, and not in any phrase yet."""
        return [self._with_word_in_it(word) for word in sorted(self._missing(had))]

    def _missing(self, had: Iterable[str]) -> set[str]:
        return {*self.listened_for} - {word for said in self._sounding(had) for word in said.split()}

    # ---- what is known

    @cached_property
    def listened_for(self) -> frozenset[str]:
        """Every word of the lexicon that is spoken and that the speech model knows, written as it sounds."""
        words = {word for words in self._expressions for word in words}
        return frozenset(self._grammar.same_sound.get(word, word) for word in words)

    @cached_property
    def _expressions(self) -> tuple[tuple[str, ...], ...]:
        entries = self._understander.lexicon.entries
        return tuple(words for words in entries if self._is_listened_for(" ".join(words)))

    @cached_property
    def _unheard(self) -> frozenset[str]:
        return frozenset(self._talk["typed"]["words"]) | frozenset(self._talk["typed"]["lacking"])

    def _is_listened_for(self, said: str) -> bool:
        words = said.split()
        return self._unheard.isdisjoint(words) and all(word.replace("'", "").isalpha() for word in words)

    def understood(self, said: str) -> bool:
        """Return whether something is understood with nothing lost, on an empty deck or on one that it can be about.

        The recognizer expects what it is given: of what is not understood it is given nothing.
        """
        return any(self._understood_on(load, said) for load in _DECKS)

    def _understood_on(self, load: Load, said: str) -> bool:
        heard = self._understander.hear(said, load)
        told = heard.fragments or heard.supposed is not None
        return bool(self._understander.whole(heard)) or (bool(told) and not heard.lost)

    def _budget(self, name: str) -> int:
        return int(self._talk["budget"][name])

    def _check(self) -> None:
        """Refuse shapes that name what is not there.

        Raises
        ------
        GrammarProblem
            A name that is no shape, no number, no sort of the lexicon and no fixed phrase, or one without words.
        """
        for name, shape in self._shapes.items():
            for part in (part for line in shape.lines for part in line if part.name):
                known = part.name in self._shapes or part.name in self._amounts or self._drawn(part)[0]
                if not known:
                    raise GrammarProblem("talk.toml", f"{name}: {{{part.name}}}", "there is nothing to say for it")

    # ---- fixed phrases and numbers

    def _fixed(self, repeats: int) -> Iterator[str]:
        for phrase in self._grammar.phrases:
            if phrase.spoken and self._grammar.sorts[phrase.fragment] in _ALWAYS_SAME:
                for _ in range(repeats * int(phrase.weight) if repeats > 1 else 1):
                    yield " ".join(phrase.pieces)

    def _numbers(self) -> Iterator[str]:
        """Yield every weight form at each 500 lb, and tons, so that no number word meets an unknown neighbor."""
        for pounds in (*range(1000, 80_000, 500), *range(10_250, 60_000, 1_250)):
            yield from trade_words(pounds, self._grammar.numbers)
        for tons in range(2, 41):
            said = in_words(tons, self._grammar.numbers)
            yield from (f"{said} ton coil", f"{said} ton coils", f"{said} tons")

    # ---- shapes

    def _breath(self) -> str:
        said = self._shape(self._shapes["breath"])
        if self._chance.random() < _OPENED and said.partition(" ")[0] in self._opened:
            said = f"{self._shape(self._shapes['opener'])} {said}"
        if self._chance.random() < _CLOSED and said.rpartition(" ")[2] in {
            "chain",
            "chains",
            "strap",
            "straps",
            "coil",
        }:
            said = f"{said} {self._shape(self._shapes['closer'])}"
        return said

    @cached_property
    def _opened(self) -> frozenset[str]:
        """Words that a breath begins with which people begin with something before it: "i've got a coil"."""
        return frozenset({"a", "one"}) | self._grammar.numbers.all

    def _any_order(self) -> str:
        shape = self._shapes["part_of_talk"]
        number = self._grammar.numbers.all
        said = ""
        for _ in range(self._chance.choice(_SO_MANY_PARTS)):
            part = self._shape(shape)
            meet = {said.rpartition(" ")[2], part.partition(" ")[0]} <= number
            said = f"{said} {'with ' if meet else ''}{part}".strip()  # nobody can tell where one number ends
        return said

    def _with_word_in_it(self, word: str) -> str:
        lines = self._shapes["breath"]
        parts = [
            said for part in self._chance.choices(lines.lines, cum_weights=lines.reach)[0] if (said := self._part(part))
        ]
        parts.insert(self._chance.randint(0, len(parts)), word)
        return " ".join(parts)

    def _carried(self, said: str) -> list[str]:
        """Return a phrase with something in it that is understood, the first of a few; nothing where none is."""
        said = self._short(said)
        ways = (said, f"two chains {said}", f"{said} two chains", f"the coil is {said}", f"coil {said} on two timbers")
        return [way for way in ways if self.understood(way)][:1]

    def _shape(self, shape: Shape) -> str:
        return self._line(self._chance.choices(shape.lines, cum_weights=shape.reach)[0])

    def _line(self, parts: Sequence[Part]) -> str:
        return " ".join(said for part in parts if (said := self._part(part)))

    def _part(self, part: Part) -> str:
        if part.share < 1 and self._chance.random() >= part.share:
            return ""
        if part.words:
            return part.words[0] if len(part.words) == 1 else self._chance.choice(part.words)
        shape = self._shapes.get(part.name)
        if shape and not part.own:
            return self._shape(shape)
        number = self._amounts.get(part.name)
        if number:
            return number()
        words, reach = self._drawn(part)
        return self._short(self._chance.choices(words, cum_weights=reach)[0])

    def _drawn(self, part: Part) -> _Drawn:
        key = part.name, part.number
        if key not in self._words:
            name = part.name.removeprefix("fixed.")
            self._words[key] = self._of_fixed(name) if name != part.name else self._of_sort(*key)
        return self._words[key]

    def _of_fixed(self, fragment: str) -> _Drawn:
        said = [" ".join(phrase.pieces) for phrase in self._grammar.phrases
                if phrase.fragment == fragment and phrase.spoken]  # fmt: skip
        return said, [*accumulate(1 / (place + _EVEN) for place in range(len(said)))]

    def _of_sort(self, name: str, number: str) -> _Drawn:
        """Return the expressions of a sort, or of one key of it, and how often each is said, added up."""
        often = self._talk["often"]
        found = {
            said: often.get(said, 1)
            for words, said in self._spoken.get(name, ())
            if not number or _is_plural(words[-1]) == (number == "+")
        }
        said = [words for words, weight in found.items() if weight]
        return said, [*accumulate(found[words] for words in said)]

    @cached_property
    def _spoken(self) -> Mapping[str, list[tuple[tuple[str, ...], str]]]:
        """The expressions that are listened for, by sort and by sort.key."""
        found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        for words, senses in self._understander.lexicon.entries.items():
            if self._is_listened_for(" ".join(words)):
                for name in {name for sense in senses for name in (sense.sort, f"{sense.sort}.{sense.key}")}:
                    found.setdefault(name, []).append((words, " ".join(words)))
        return found

    def _short(self, said: str) -> str:
        """Contract what people mostly contract."""
        words = said.split()
        for full in (f"{first} {second}" for first, second in pairwise(words)):
            short = self._contracted.get(full)
            if short and self._chance.random() < self._talk["contracted"]["share"]:
                said = said.replace(full, short, 1)
        return said

    def _sounding(self, said: Iterable[str]) -> list[str]:
        """Write words of one sound as one word."""
        return [self._grammar.as_it_sounds(phrase) for phrase in said if phrase]


def _is_plural(word: str) -> bool:
    return word.endswith("s") and not word.endswith("ss")
