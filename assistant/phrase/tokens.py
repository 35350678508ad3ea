"""Text into tokens: words as spoken, and numbers where figures were typed."""

import re
import unicodedata
from typing import NamedTuple

LONGEST = 2_000
"""Characters in one utterance; a longer text is no utterance and is refused, not cut."""


class Token(NamedTuple):
    """One word, or one typed number.

    `word` is lower case; for a number it is "" and `value` holds it. `breaks` is true when punctuation stood before
    it, so that "18,200, 19,500" stays two numbers.
    """

    word: str
    value: float | None = None
    breaks: bool = False


class TooLong(ValueError):  # noqa: N818 - a value for the caller to put into words, not a bug
    """The text is longer than an utterance can be."""

    def __init__(self, length: int) -> None:
        super().__init__(f"{length} characters")
        self.length = length


_HUGE = 1e12
"""Figures beyond this are all alike: absurd. Keeps a thousand typed nines from becoming infinity."""

_PIECE = re.compile(
    r"""
      (?P<mixed>\d+-\d+/\d+|(?<!\d)1\s\d+/\d+) # 1-1/4, 1 1/4; "4 3/8 chains" are four
    | (?P<fraction>(?<![\d.])\d+/\d+)           # 3/8
    | (?P<number>(?:(?<![\w.])-)?(?:(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?|(?<!\d)\.\d+))  # .029 42,500  42500  42.5  -5
    | (?P<word>[a-z]+(?:'[a-z]+)?)
    | (?P<mark>[#'"])
    | (?P<break>[,;:.!?()&+]|\s-+\s|[\n\r])
    """,
    re.VERBOSE,
)
_THOUSANDS = re.compile(r"(?<![a-z\d])(\d+(?:\.\d+)?)k(?![a-z])")
_GLUED = re.compile(r"(?<=\d)(?=[a-z])|(?<=[a-z])(?=\d)")
_SIGNS = str.maketrans(
    {
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{PRIME}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{EN DASH}": "-",
        "\N{EM DASH}": " - ",
    }
)
_VULGAR = re.compile("(?<=[0-9])(?=[\N{VULGAR FRACTION ONE QUARTER}-\N{VULGAR FRACTION THREE QUARTERS}])")


def tokens(text: str) -> tuple[Token, ...]:
    """Split a text into tokens.

    Parameters
    ----------
    text
        Anything a recognizer or a keyboard gives. Control characters and signs that mean nothing here are dropped.

    Raises
    ------
    TooLong
        More than `LONGEST` characters.
    """
    if len(text) > LONGEST:
        raise TooLong(len(text))
    plain = unicodedata.normalize("NFKC", _VULGAR.sub(" ", text.translate(_SIGNS))).lower()
    plain = "".join(sign if sign.isprintable() or sign.isspace() else " " for sign in plain)
    plain = _THOUSANDS.sub(lambda found: f"{float(found[1]) * 1000:.0f}", plain)
    plain = _GLUED.sub(" ", plain).replace("\N{FRACTION SLASH}", "/")
    return tuple(_read(plain))


def _read(plain: str) -> list[Token]:
    found: list[Token] = []
    breaks = False
    for piece in _PIECE.finditer(plain):
        kind, text = piece.lastgroup, piece[0]
        if kind == "break":
            breaks = True
            continue
        value = _value(kind, text)
        found.append(Token("" if value is not None else text, value, breaks))
        breaks = False
    return found


def _value(kind: str | None, text: str) -> float | None:
    if kind == "number":
        return max(-_HUGE, min(_HUGE, float(text.replace(",", ""))))
    if kind not in {"mixed", "fraction"}:
        return None
    whole, _, part = re.sub(r"[-\s]", " ", text).rpartition(" ")
    upper, lower = part.split("/")
    if float(lower) == 0:
        return None
    return float(whole or 0) + float(upper) / float(lower)


def words(found: tuple[Token, ...]) -> str:
    """Return tokens as text again, for reading back what was not understood."""
    return " ".join(token.word or f"{token.value:,g}" for token in found)
