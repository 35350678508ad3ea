"""Numbers as people say them, drawn by how often they do: counts, weights, limits, sizes, lengths."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol, TypeVar

from assistant.phrase.numbers import NumberWords, in_words, trade_words

_TEN_THOUSAND = 10_000
_WEIGHTS = ((5, 61, 1000), (5, 61, 1000), (10, 120, 500), (100, 600, 100), (100, 600, 100), (1000, 6000, 10))
"""First, last and step of the weights that are said, each as often as the others: most are round."""
_KILOGRAMS = (2000, 25_000, 500)
_TONS = (2, 40)
_FEET = (2, 49)
_PART_OF_TON = ("", "", "", " and a half", " point five")
_FIRST = 3
"""How often "one" is said where a count may be one."""


_Way = TypeVar("_Way")


class Chance(Protocol):
    """What draws: the generator's own, with its seed."""

    def random(self) -> float:
        """Return a number from 0 to 1."""

    def randrange(self, start: int, stop: int, step: int = 1) -> int:
        """Return a whole number."""

    def choice(self, ways: Sequence[_Way], /) -> _Way:
        """Return one of several that are as likely."""

    def choices(self, ways: Sequence[_Way], weights: Sequence[float], /) -> list[_Way]:
        """Return one of several by how likely they are."""


class Amounts:
    """Draws numbers of one grammar's words.

    Parameters
    ----------
    told
        [numbers] of talk.toml.
    words
        The number words.
    chance
        Seeded.
    """

    def __init__(self, told: Mapping[str, Any], words: NumberWords, chance: Chance) -> None:
        self._told = told
        self._words = words
        self._chance = chance
        counts = {int(count): often for count, often in told["counts"].items()}
        self._counts = [in_words(count, words) for count in counts], [*counts.values()]
        self._few = ["one", *self._counts[0]], [_FIRST, *counts.values()]
        self.named: Mapping[str, Callable[[], str]] = {
            "count": self._count,
            "many": lambda: self._chance.choices(*self._counts)[0],
            "few": lambda: self._chance.choices(*self._few)[0],
            "weight": lambda: self._weight(""),
            "weights": lambda: self._weight("s"),
            "limit": self._limit,
            "length": lambda: f"{self._upto(_FEET)} feet",
            "lengthof": lambda: f"{self._upto(_FEET)} foot",
            "inches": self._inches,
            "angle": lambda: self._in_words(self._chance.choice(told["angle"])),
            **{
                name: self._of(name)
                for name in ("chain_size", "strap_size", "rope_size", "thickness", "dimension", "small")
            },
        }

    def _of(self, name: str) -> Callable[[], str]:
        ways = self._told[name]
        return lambda: str(self._chance.choice(ways))

    def _in_words(self, number: int) -> str:
        return in_words(number, self._words)

    def _upto(self, limits: tuple[int, int]) -> str:
        return self._in_words(self._chance.randrange(*limits))

    def _count(self) -> str:
        if self._chance.random() < self._told["share_of_pairs"]:
            return str(self._chance.choice(self._told["pairs"]))
        return self._chance.choices(*self._counts)[0]

    def _inches(self) -> str:
        inches = self._chance.choice(self._told["inches"])
        return f"{self._in_words(inches)} {'inch' if inches == 1 else 'inches'}"

    def _weight(self, ending: str) -> str:
        if self._chance.random() < self._told["share_of_units"]:
            unit = self._chance.choice(self._told["units"])
            if unit.startswith("kilo"):
                return f"{self._in_words(self._chance.randrange(*_KILOGRAMS))} {unit}{ending}"
            return f"{self._upto(_TONS)}{self._chance.choice(_PART_OF_TON)} {unit}{ending}"
        first, last, step = self._chance.choice(_WEIGHTS)
        said = self._chance.choice(trade_words(self._chance.randrange(first, last) * step, self._words))
        full = said.endswith("hundred") or "thousand" in said
        return f"{said} pound{ending}" if full and self._chance.random() < self._told["share_of_pounds"] else said

    def _limit(self) -> str:
        pounds = self._chance.choice(self._told["limits"])
        forms = [said for said in trade_words(pounds, self._words) if pounds < _TEN_THOUSAND or "thousand" in said]
        said = self._chance.choice(forms)
        return f"{said} pounds" if self._chance.random() < self._told["share_of_pounds"] else said
