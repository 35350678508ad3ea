"""Free dictation as it is written: numbers that were spoken become figures, all other words stay."""

from assistant.phrase.numbers import NumberWords, Reader
from assistant.phrase.tokens import tokens

_ONE = "one"
_WITH_COMMAS = 10_000
"""From here on thousands are set apart: years and gate numbers are not."""


def with_figures(text: str, numbers: NumberWords) -> str:
    """Return a dictated text with its numbers in figures: "tore at forty two thousand five hundred" -> "42,500".

    Notes
    -----
    Numbers said in full only; two side by side stay two ("three fifteen" -> "3 15"). "One" by itself stays a word, for
    it is mostly no number ("the left one"). What was typed in figures stays as it is.
    """
    said = text.split()
    found = tuple(tokens(word)[0] if len(tokens(word)) == 1 else None for word in said)
    written: list[str] = []
    at = 0
    while at < len(said):
        end = _end_of_plain_words(found, at)
        reader = Reader(numbers, [token for token in found[at:end] if token])
        reading = next(iter(reader.plain(0)), None) if end > at else None
        if reading is None or said[at : at + reading[0]] == [_ONE]:
            written.append(said[at])
            at += 1
            continue
        length, value = reading
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
