"""What can be said, made from the grammar itself: every fragment with its theme, its forms and an example."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.phrase.grammar import Grammar, Phrase

_NUMBERS = {
    "count": ("four", "a number"),
    "weight": ("forty two five", "a weight: forty two five, twenty tons, eighteen metric tons"),
    "size": ("three eighths", "a size: three eighths, half inch, four inch"),
    "limit": ("fifty four hundred", "a limit in pounds: fifty four hundred"),
    "length": ("six feet", "a length: six feet, six foot six"),
    "inches": ("two inches", "inches: two inches, half an inch"),
    "dimension": ("forty four", "inches left unsaid: forty four"),
    "wrong": ("fifty thousand", "a number: fifty thousand"),
    "thickness": ("point oh two nine", "a thickness: point oh two nine"),
}


@dataclass(frozen=True)
class Saying:
    """One fragment as a person reads about it; `forms` are its templates, spoken ones first."""

    fragment: str
    about: str
    example: str
    forms: tuple[str, ...]


@dataclass(frozen=True)
class Slot:
    """What may stand at a place in braces."""

    name: str
    words: tuple[str, ...]


def sayings(grammar: Grammar) -> Mapping[str, list[Saying]]:
    """Return every fragment by theme, in the contract's order."""
    first: dict[str, Phrase] = {}
    for phrase in grammar.phrases:
        # the first spoken form stands for the fragment: the shortest one may be typed, or a bare word
        if phrase.spoken:
            first.setdefault(phrase.fragment, phrase)
    found: dict[str, list[Saying]] = {}
    for fragment, row in grammar.contract.items():
        saying = Saying(fragment, row.about, _filled(grammar, first[fragment]), grammar.forms[fragment])
        found.setdefault(row.theme, []).append(saying)
    return found


def slots(grammar: Grammar) -> Iterator[Slot]:
    """Yield what may stand in braces: the kinds of number, and every closed list with all its spoken words."""
    for name, (_, about) in _NUMBERS.items():
        yield Slot(name, (about,))
    for name, entries in grammar.lists.items():
        yield Slot(name, tuple(" ".join(words) for entry in entries for words in entry.spoken))


def _filled(grammar: Grammar, phrase: Phrase) -> str:
    return " ".join(_value(grammar, piece[1:-1]) if piece.startswith("{") else piece for piece in phrase.pieces)


def _value(grammar: Grammar, slot: str) -> str:
    return _NUMBERS[slot][0] if slot in _NUMBERS else " ".join(grammar.lists[slot][0].spoken[0])
