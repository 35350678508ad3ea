"""Number words, both ways: what people say for 42,500, and what "forty two five" means.

The readers take tokens and a position and return every reading that starts there, as (end, value) pairs, longest
first. A reading never crosses punctuation. Numbers are never matched fuzzily.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.phrase.tokens import Token

Reading = tuple[int, float]

_SOUNDS_LIKE_TO = (2, 4)
"""Two and four: heard for "to" and "for"."""
_BEHIND_TO = frozenset({"the", "a", "it", "my", "hold"})
_QUARTERS = frozenset({0.25, 0.5, 0.75})
_HUNDRED = 100
_THOUSAND = 1000
_DIGITS_OF_A_WEIGHT = range(4, 7)


_LARGE = frozenset({"hundred", "thousand"})


@dataclass(frozen=True)
class NumberWords:
    """The number words of grammar/numbers.toml."""

    units: Mapping[str, int]
    teens: Mapping[str, int]
    tens: Mapping[str, int]
    zeros: Mapping[str, int]
    counts: Mapping[str, int]
    parts: Mapping[str, int]

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> "NumberWords":
        """Build from the parsed file."""
        return cls(**{name: dict(data[name]) for name in cls.__dataclass_fields__})

    @property
    def begins(self) -> frozenset[str]:
        """Every word that a number, a count or a size can begin with; "" is a figure."""
        return self.all | self.counts.keys() | self.parts.keys() | {"a", "an", "the", ""}

    @property
    def all(self) -> frozenset[str]:
        """Every word that can be part of a number (not the counts "a", "couple", ...)."""
        return frozenset({*self.units, *self.teens, *self.tens, *self.zeros, "hundred", "thousand", "point"})


def without_and(said: Sequence[str], numbers: NumberWords) -> list[str]:
    """Return words without an "and" inside a number: "six hundred and fifty", not "two thousand and four chains"."""
    lower = numbers.tens.keys() | numbers.teens.keys()
    around = zip(("", *said), said, (*said[1:], ""), strict=False)
    return [word for before, word, behind in around if word != "and" or before not in _LARGE or behind not in lower]


class Reader:
    """Reads one token sequence; keeps what it found, since several slots ask at the same place."""

    def __init__(self, words: NumberWords, tokens: Sequence[Token]) -> None:
        self._words = words
        self._tokens = tokens

    def _word(self, at: int, begun: int) -> str:
        """Return the word at a place, or "" at the end, at a figure, and past punctuation."""
        if at >= len(self._tokens) or (at > begun and self._tokens[at].breaks):
            return ""
        return self._tokens[at].word

    def figure(self, at: int) -> float | None:
        """Return the typed number at a place."""
        return self._tokens[at].value if at < len(self._tokens) else None

    def below_hundred(self, at: int, begun: int) -> Reading | None:
        """Read 1 to 99: "seven", "fifteen", "forty", "forty two"."""
        word = self._word(at, begun)
        if word in self._words.units:
            return at + 1, self._words.units[word]
        if word in self._words.teens:
            return at + 1, self._words.teens[word]
        if word in self._words.tens:
            unit = self._words.units.get(self._word(at + 1, begun))
            return (at + 1, self._words.tens[word]) if unit is None else (at + 2, self._words.tens[word] + unit)
        return None

    def _after_hundred(self, at: int, begun: int, value: float) -> list[Reading]:
        """Read what may follow "hundred": nothing, "fifty", "and fifty"; "five hundred four chains" needs both."""
        rest = self.below_hundred(at + (self._word(at, begun) == "and"), begun)
        return [(rest[0], value + rest[1]), (at, value)] if rest else [(at, value)]

    def below_thousand(self, at: int, begun: int) -> list[Reading]:
        """Read 1 to 9,999 as people do below a thousand: "four hundred", "fifty four hundred", "a hundred ten"."""
        article = self._word(at, begun) == "a"
        start = (at + 1, 1.0) if article else self.below_hundred(at, begun)
        if start is None:
            return []
        end, value = start
        if self._word(end, begun) == "hundred":
            return self._after_hundred(end + 1, begun, value * _HUNDRED)
        return [] if article else [start]

    def plain(self, at: int) -> list[Reading]:
        """Read a number said in full: 1 to 999,999, with "point five" or "and a quarter" before "thousand" or last."""
        figure = self.figure(at)
        if figure is not None:
            thousand = self._word(at + 1, at) == "thousand"
            return [(at + 2, figure * _THOUSAND), (at + 1, figure)] if thousand else [(at + 1, figure)]
        a_thousand = self._word(at, at) == "a" and self._word(at + 1, at) == "thousand"
        starts = [(at + 1, 1.0)] if a_thousand else self.below_thousand(at, at)
        readings = [] if a_thousand else list(starts)
        for start in starts:
            part = self._fraction_after(*start, begun=at)
            readings += [part] if part else []
            end, value = part or start
            if self._word(end, at) == "thousand":
                end += 1
                readings.append((end, value * _THOUSAND))
                rests = [] if part else self.below_thousand(end + (self._word(end, at) == "and"), at)
                rests += [] if part else self._hundreds_unsaid(end, at)
                readings += [(after, value * _THOUSAND + rest) for after, rest in rests if rest < _THOUSAND]
        readings += [self._without_last(*reading, begun=at) for reading in readings]
        return sorted(set(readings), reverse=True)

    def _hundreds_unsaid(self, at: int, begun: int) -> list[Reading]:
        """Read "seven fifty", 750, behind "thousand"."""
        hundreds = self._words.units.get(self._word(at, begun))
        tail = self.below_hundred(at + 1, begun) if hundreds else None
        if not hundreds or not tail or tail[1] < 10:  # noqa: PLR2004 - hundreds, then tens
            return []
        return [(tail[0], hundreds * _HUNDRED + tail[1])]

    def _without_last(self, end: int, value: float, *, begun: int) -> Reading:
        """Return "twenty" of "thousand twenty seven sixteenths", and "fifty" of "hundred fifty two the far side".

        In the second the ear wrote "to" as a number. "Three seventy one behind the other" tells of 370 as well.
        """
        last = self._words.units.get(self._word(end - 1, begun), 0)
        long = end - begun > 2  # noqa: PLR2004 - more than "forty two"
        sounds = last in _SOUNDS_LIKE_TO and self._word(end, begun) in _BEHIND_TO
        sized = self._word(end, begun) in {*self._words.parts, "inch"}
        behind = last == 1 and (self._word(end, begun), self._word(end + 1, begun)) == ("behind", "the")
        shorter = last and long and (sounds or sized or behind)
        return (end - 1, value - last) if shorter else (end, value)

    def _fraction_after(self, end: int, value: float, *, begun: int) -> Reading | None:
        """Read "point five", "and a half", "and a quarter" or "and three quarters" behind a number."""
        if self._word(end, begun) == "point":
            place, scale = end + 1, 0.1
            while (digit := self._digit(place, begun)) is not None:
                value, place, scale = value + digit * scale, place + 1, scale / 10
            return (place, round(value, 6)) if place > end + 1 else None
        part = self._part(end + 1, begun) if self._word(end, begun) == "and" else None
        if part is None or part[1] not in _QUARTERS or self._word(end + 1, begun) in self._words.parts:
            return None
        sized = self._word(part[0], begun) in {"inch", "inches"}  # "forty and three quarter inch chains"
        return None if sized else (part[0], value + part[1])

    def decimal(self, at: int) -> Reading | None:
        """Read a number below one: "point oh two nine", "oh point five", "0.029"."""
        figure = self.figure(at)
        if figure is not None:
            return (at + 1, figure) if figure < 1 else None
        return self._fraction_after(at + (self._word(at, at) in self._words.zeros), 0.0, begun=at)

    def _digit(self, at: int, begun: int) -> int | None:
        word = self._word(at, begun)
        return self._words.units.get(word, self._words.zeros.get(word))

    def shorthand(self, at: int) -> list[Reading]:
        """Read the trade's short weights: "forty two five" 42,500; "forty two two fifty" 42,250; digits one by one."""
        start = self.below_hundred(at, at)
        if start is None:
            return self._digits(at)
        end, thousands = start
        readings = self._digits(at)
        unit = self._words.units.get(self._word(end, at))
        # Two digits of thousands: "twenty one five" is 21,500. Nobody says "five two" for 5,200.
        if unit is not None and thousands >= 10:  # noqa: PLR2004 - two digits of thousands
            value = thousands * _THOUSAND + unit * _HUNDRED
            tail = self.below_hundred(end + 1, at)
            if self._word(end + 1, at) == "hundred":
                readings += self._after_hundred(end + 2, at, value)
            elif tail and tail[1] >= 10:  # noqa: PLR2004 - "two fifty": hundreds, then tens
                readings.append((tail[0], value + tail[1]))
            readings.append((end + 1, value))
        readings += [self._without_last(*reading, begun=at) for reading in readings]
        return sorted(set(readings), reverse=True)

    def _digits(self, at: int) -> list[Reading]:
        """Read four to six digits said one by one: "four two five zero zero"."""
        figures: list[int] = []
        while (digit := self._digit(at + len(figures), at)) is not None:
            figures.append(digit)
        if len(figures) not in _DIGITS_OF_A_WEIGHT or not figures[0]:
            return []
        return [(at + len(figures), float("".join(map(str, figures))))]

    def count(self, at: int) -> list[Reading]:
        """Read a count: "four", "a", "a couple of", "4"."""
        figure = self.figure(at)
        if figure is not None:
            return [(at + 1, figure)]
        word = self._word(at, at)
        if half := self._half_a_dozen(at):
            return [half]
        skip = (
            at + 1 if word in {"a", "the"} and self._word(at + 1, at) in {"couple", "pair", "dozen", "single"} else at
        )
        told = self._words.counts.get(self._word(skip, at))
        if told is not None:
            end = skip + 1
            return [(end + (self._word(end, at) == "of"), float(told))]
        found = self.below_hundred(at, at)
        if not found:
            return []
        return [found]

    def _half_a_dozen(self, at: int) -> Reading | None:
        """Read "half a dozen" and "a half dozen": six, neither a half nor twelve."""
        said = [self._word(at + step, at) for step in range(3)]
        if said in (["half", "a", "dozen"], ["a", "half", "dozen"]):
            return at + 3, 6.0
        return (at + 2, 6.0) if said[:2] == ["half", "dozen"] else None

    def fraction(self, at: int) -> list[Reading]:
        """Read a size: "three eighths", "half", "a quarter", "one and a quarter", "four", "3/8"."""
        figure = self.figure(at)
        if figure is not None:
            return [(at + 1, figure)]
        if self._half_a_dozen(at):
            return []
        whole = self.below_hundred(at, at)
        part = self._part(at, at)
        readings = [part] if part else []
        if whole:
            end, value = whole
            if self._word(end, at) == "and":
                behind = self._part(end + 1, at)
                if behind:
                    readings.append((behind[0], value + behind[1]))
            readings.append(whole)
        return sorted(readings, reverse=True)

    def _part(self, at: int, begun: int) -> Reading | None:
        """Read a fraction below one: "three eighths", "a half", "half a", "quarter"."""
        word = self._word(at, begun)
        lower = self._words.parts.get(word)
        if lower in {2, 4}:
            end = at + 1
            return end + (self._word(end, begun) in {"a", "an"}), 1 / lower
        upper: Reading | None = (at + 1, 1.0) if word in {"a", "an", "one"} else self.below_hundred(at, begun)
        if upper is None:
            return None
        end, value = upper
        lower = self._words.parts.get(self._word(end, begun))
        if lower is None or value >= lower:
            return None
        return end + 1, value / lower


def in_words(number: int, words: NumberWords) -> str:
    """Return a whole number as it is said in full, without "and".

    Parameters
    ----------
    number
        0 to 999,999.
    """
    names = {value: word for table in (words.units, words.teens, words.tens) for word, value in table.items()}
    thousands, rest = divmod(number, _THOUSAND)
    said = [in_words(thousands, words), "thousand"] if thousands else []
    hundreds, rest = divmod(rest, _HUNDRED)
    said += [names[hundreds], "hundred"] if hundreds else []
    if rest in names:
        said.append(names[rest])
    elif rest:
        said += [names[rest - rest % 10], names[rest % 10]]
    return " ".join(said) or "zero"


def trade_words(pounds: int, words: NumberWords) -> list[str]:
    """Return every way drivers say a weight, the full one first.

    Parameters
    ----------
    pounds
        A weight in pounds, 1,000 to 99,999.
    """
    said = [in_words(pounds, words)]
    thousands, rest = divmod(pounds, _THOUSAND)
    hundreds, tens = divmod(rest, _HUNDRED)
    short = in_words(thousands, words)
    # Two digits of thousands, the second not nought: "twenty one" is 21,000, never 20,100.
    if thousands >= 10 and hundreds and (thousands < 20 or thousands % 10):  # noqa: PLR2004 - as said above
        hundred = in_words(hundreds, words)
        if tens == 0:
            said += [f"{short} {hundred}", f"{short} {hundred} hundred"]
        elif tens >= 10:  # noqa: PLR2004 - below ten nobody shortens
            said.append(f"{short} {hundred} {in_words(tens, words)}")
    if thousands < 10 and hundreds and tens == 0:  # noqa: PLR2004 - "fifty four hundred"
        said.append(f"{in_words(pounds // _HUNDRED, words)} hundred")
    return said
