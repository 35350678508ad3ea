"""What can be said, by example: one saying a fragment, made from the grammar itself."""

from collections.abc import Mapping

from assistant.phrase.grammar import Grammar, Phrase

_TITLES = {"fact": "The load", "marker": "Changing it", "ask": "Questions", "command": "Commands", "reply": "Answering"}
_NUMBERS = {"count": "four", "weight": "forty two five", "size": "three eighths", "limit": "fifty four hundred",
            "length": "six feet", "inches": "two inches"}  # fmt: skip


def sayings(grammar: Grammar) -> Mapping[str, list[str]]:
    """Return example sayings by sort: each fragment's first spoken template with the first names filled in."""
    first: dict[str, Phrase] = {}
    for phrase in grammar.phrases:
        if phrase.spoken:
            first.setdefault(phrase.fragment, phrase)
    found: dict[str, list[str]] = {}
    for fragment, phrase in first.items():
        found.setdefault(_TITLES[grammar.sorts[fragment]], []).append(_filled(grammar, phrase))
    return found


def _filled(grammar: Grammar, phrase: Phrase) -> str:
    return " ".join(_value(grammar, piece[1:-1]) if piece.startswith("{") else piece for piece in phrase.pieces)


def _value(grammar: Grammar, slot: str) -> str:
    return _NUMBERS.get(slot) or " ".join(grammar.lists[slot][0].spoken[0])
