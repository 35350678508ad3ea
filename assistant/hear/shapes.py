"""Reads the shapes of grammar/talk.toml: how people put words together, and how often."""

import re
from collections.abc import Iterator, Mapping
from itertools import accumulate
from typing import Any, NamedTuple

from assistant.phrase.grammar import GrammarProblem

_PART = re.compile(r"(?:\{([^{}]+?)([+-]?)\}|\(([^()]*)\)|([a-z']+))(?:\?(\d+))?(?=\s|$)")
_ALWAYS = 100


class Part(NamedTuple):
    """One place of a line: words to choose from, or the name of what is said there, and how often it is said at all."""

    name: str
    number: str
    """"+" for words in s, "-" for the others, "" for any."""
    words: tuple[str, ...]
    share: float
    own: bool
    """Whether it has its shape's own name: then it is the lexicon's sort of that name."""


class Shape(NamedTuple):
    """The lines of a shape, and how often each is said, added up."""

    lines: tuple[tuple[Part, ...], ...]
    reach: tuple[float, ...]


def read_shape(name: str, lines: Mapping[str, float]) -> Shape:
    """Read the lines of one shape with their weights.

    Raises
    ------
    GrammarProblem
        A line that cannot be read.
    """
    return Shape(tuple(tuple(read_line(name, line)) for line in lines), tuple(accumulate(lines.values())))


def read_line(name: str, line: str) -> Iterator[Part]:
    """Yield the parts of one line; `name` is the shape's.

    Raises
    ------
    GrammarProblem
        A line that cannot be read.
    """
    at = 0
    while at < len(line):
        found = _PART.match(line, at)
        if not found:
            raise GrammarProblem("talk.toml", f"{name}: {line!r}", f"there is nothing to read in {line[at:]!r}")
        drawn, number, choice, word, share = found.groups()
        words = tuple(choice.split("|")) if choice is not None else (word,) if word else ()
        yield Part(drawn or "", number or "", words, int(share or _ALWAYS) / _ALWAYS, drawn == name)
        at = found.end() + 1


def read_shapes(talk: Mapping[str, Any]) -> dict[str, Shape]:
    """Read all shapes, by name."""
    return {name: read_shape(name, lines) for name, lines in talk["shape"].items()}
