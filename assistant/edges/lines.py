"""Utterances from the command line."""

import sys
from collections.abc import Iterator, Sequence


def lines_from(arguments: Sequence[str]) -> Iterator[str]:
    """Yield utterances from arguments; "-" stands for the lines of standard input."""
    for argument in arguments:
        if argument == "-":
            yield from (line.rstrip("\n") for line in sys.stdin)
        else:
            yield argument
