"""Free dictation as it is written: spoken numbers become figures, all other words stay; and how it is mended."""

import re
from collections.abc import Sequence

from assistant.phrase.numbers import NumberWords, Reader
from assistant.phrase.tokens import tokens

_ONE = "one"
_THOUSANDS_SAID = range(10, 100)
_HUNDREDS_SAID = range(100, 1000, 100)
"""Weights on tickets are said so: "seventy eight four hundred" is 78,400."""
_WITH_COMMAS = 10_000
"""From here on thousands are set apart: years and gate numbers are not."""


def with_figures(text: str, numbers: NumberWords) -> str:
    """Return a dictated text with its numbers in figures: "tore at forty two thousand five hundred" -> "42,500".

    Notes
    -----
    Numbers said in full only; two side by side stay two ("three fifteen" -> "3 15"). "One" stays a word but
    behind another number, for it is mostly no number ("the left one"). What was typed in figures stays as it is.
    """
    said = text.split()
    found = tuple(tokens(word)[0] if len(tokens(word)) == 1 else None for word in said)
    written: list[str] = []
    at = 0
    while at < len(said):
        end = _end_of_plain_words(found, at)
        reader = Reader(numbers, [token for token in found[at:end] if token])
        reading = next(iter(reader.plain(0)), None) if end > at else None
        lone_one = reading is not None and said[at : at + reading[0]] == [_ONE]
        if reading is None or (lone_one and not (written and _NUMBER.fullmatch(written[-1]))):
            written.append(said[at])
            at += 1
            continue
        length, value = reading
        hundreds = next(iter(Reader(numbers, [token for token in found[at + length : end] if token]).plain(0)), None)
        if hundreds and value in _THOUSANDS_SAID and hundreds[1] in _HUNDREDS_SAID:
            length, value = length + hundreds[0], value * 1000 + hundreds[1]
        tail = "".join(sign for sign in said[at + length - 1] if sign in ",.;:!?")
        written.append((f"{value:,g}" if _WITH_COMMAS <= value < _PLAIN else f"{value:g}") + tail)
        at += length
    return " ".join(written)


_PLAIN = 1_000_000
"""Six figures are written in full."""


def _end_of_plain_words(found: tuple[object, ...], at: int) -> int:
    """Return the end of the words from here that are one token and no figure each."""
    end = at
    while end < len(found) and found[end] is not None and getattr(found[end], "value", None) is None:
        end += 1
    return end


_NUMBER = re.compile(r"\d[\d,.:/-]*")
_SIGNS = ",.;:!?"
_SMALL_WORDS = frozenset(
    {"the", "a", "an", "it", "its", "was", "is", "at", "on", "in", "of", "one", "not", "that", "side"}
)


def corrected(text: str, other: str, alike: Sequence[frozenset[str]]) -> str | None:
    """Return a dictated text with a number, or a word of a kind, put in place of the one that it corrects.

    Parameters
    ----------
    text
        The text as it is written.
    other
        What is said instead, numbers in figures: "79,400", "grade 70", "the right one".
    alike
        Kinds of words: "left" corrects "right".

    Returns
    -------
    str or None
        None where nothing of the kind is in the text, or where more is said than that: then it is no such correction.
    """
    said, instead = text.split(), other.split()
    bare = [word.strip(_SIGNS).lower() for word in said]
    new = [word.strip(_SIGNS).lower() for word in instead]
    runs = _runs(new)
    if len(runs) > 1 or (not runs and len(new) > _SHORT):
        return None
    if runs:
        (start, end), kept = runs[0], (word for place, word in enumerate(new) if not runs[0][0] <= place < runs[0][1])
        if not all(word in bare or word in _SMALL_WORDS for word in kept) or not _runs(bare):
            return None
        first, last = max(_runs(bare), key=lambda run: _likeness(bare, run, new, (start, end)))
        put = instead[start:end]
    else:
        pairs = [
            (place, word)
            for word in new
            for kind in alike
            for place, was in enumerate(bare)
            if word in kind and was in kind and was != word
        ]
        kept = (word for word in new if word not in {paired for _, paired in pairs})
        if len(pairs) != 1 or not all(word in bare or word in _SMALL_WORDS for word in kept):
            return None
        first, put = pairs[0][0], [pairs[0][1]]
        last = first + 1
    tail = "".join(sign for sign in said[last - 1][-1:] if sign in _SIGNS)
    mended = [*put[:-1], put[-1].rstrip(_SIGNS) + tail]
    return " ".join([*said[:first], *mended, *said[last:]])


_SHORT = 4
"""Words of a correction that only names another word of its kind."""


def _runs(words: Sequence[str]) -> list[tuple[int, int]]:
    """Return where numbers stand, side by side ones as one."""
    runs: list[tuple[int, int]] = []
    for place, word in enumerate(words):
        if not _NUMBER.fullmatch(word):
            continue
        if runs and runs[-1][1] == place:
            runs[-1] = (runs[-1][0], place + 1)
        else:
            runs.append((place, place + 1))
    return runs


def _likeness(
    words: Sequence[str], run: tuple[int, int], others: Sequence[str], other: tuple[int, int]
) -> tuple[int, float]:
    """Return how much alike two numbers are: by the words beside them, then by how great they are."""
    beside = [
        (*("", *words)[run[0] : run[0] + 1], *("", *others)[other[0] : other[0] + 1]),
        (*(*words, "")[run[1] : run[1] + 1], *(*others, "")[other[1] : other[1] + 1]),
    ]
    same = sum(first == second != "" for first, second in beside)
    digits = [len(re.sub(r"\D", "", "".join(of[start:end]))) for of, (start, end) in ((words, run), (others, other))]
    return same, -abs(digits[0] - digits[1])
