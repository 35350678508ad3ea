"""Lines of text that fit a terminal of eighty columns."""

import textwrap
from collections.abc import Iterable
from itertools import zip_longest

WIDTH = 78
"""Columns of everything shown."""
_GAP = 2


def wrapped(text: str, *, first: str = "", width: int = WIDTH) -> list[str]:
    """Return a text in lines, the first one led by `first` and the others set under it."""
    return textwrap.wrap(
        _printable(text), width, initial_indent=first, subsequent_indent=" " * len(first), break_on_hyphens=False
    )


def beside(left: str, right: Iterable[str], *, first: str, right_width: int) -> list[str]:
    """Return a text with another beside it, each line of `right` begun on a line of its own."""
    left_width = WIDTH - right_width - _GAP
    left_lines = wrapped(left, first=first, width=left_width)
    right_lines = [line for text in right for line in wrapped(text, width=right_width)]
    pairs = zip_longest(left_lines, right_lines, fillvalue="")
    return [f"{one:<{left_width + _GAP}}{other}".rstrip() for one, other in pairs]


def section(title: str, texts: Iterable[str], *, mark: str) -> list[str]:
    """Return a titled list, or nothing when there is nothing to list."""
    lines = [line for text in texts for line in wrapped(text, first=f"  {mark} ")]
    return ["", title, *lines] if lines else []


def _printable(text: str) -> str:
    # What a driver typed may hold control characters; on a terminal they would act.
    return "".join(character if character.isprintable() else " " for character in text)
