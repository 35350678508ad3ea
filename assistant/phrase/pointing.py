"""Words that point at a tiedown which is there, where unknown ones stand between: "the yellow strap"."""

from collections.abc import Sequence

from assistant.understand.heard import Fragment
from assistant.phrase.tokens import Token

POINTING = frozenset({"the", "that", "this", "my"})
_WHICH = frozenset({"last", "other", "left", "right"})
"""Right before a tiedown these point at one too."""
_A = frozenset({"a", "an", "one", "single"})
_MOST_BETWEEN = 2


def told_as(fragment: Fragment, tokens: Sequence[Token], filler: frozenset[str]) -> str:
    """Return the name of a fragment; that of one that is there where "the yellow strap" or "the last strap" is told.

    Parameters
    ----------
    fragment
        Any.
    tokens
        From the end of what was understood before it to its own end.
    filler
        Words that mean nothing; between the pointing word and the tiedown stands none.
    """
    bare = fragment.name == "tiedown" and fragment.values.keys() == {"kind"}
    before = tokens[: fragment.start - fragment.end]
    if bare and tokens[len(before)].word not in _A and _point(before, filler):
        return "those_tiedowns"
    return fragment.name


def _point(before: Sequence[Token], filler: frozenset[str]) -> bool:
    for place, token in enumerate(reversed(before)):
        if token.word in POINTING or token.word in _WHICH:
            return place > 0 or token.word in _WHICH
        if place == _MOST_BETWEEN or token.value is not None or token.word in filler:
            return False
    return False
