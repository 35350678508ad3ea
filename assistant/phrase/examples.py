"""What can be said, made from the grammar itself: what is composed by its words, what is fixed by its forms."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.phrase.grammar import Grammar
from assistant.phrase.template import expand


@dataclass(frozen=True)
class Saying:
    """One thing that can be said as a person reads about it; `forms` are ways to say it, spoken ones first."""

    fragment: str
    about: str
    example: str
    forms: tuple[str, ...]


@dataclass(frozen=True)
class Slot:
    """Words of one sort."""

    name: str
    words: tuple[str, ...]


def sayings(grammar: Grammar) -> Mapping[str, list[Saying]]:
    """Return everything that can be said by theme: what is composed first, then what is always said alike."""
    found: dict[str, list[Saying]] = {}
    for number, entry in enumerate(grammar.entries, 1):
        saying = Saying(f"told_{number}", entry.about, entry.say[0], entry.say)
        found.setdefault(entry.theme, []).append(saying)
    for name, row in grammar.rows.items():
        example = " ".join(expand(row.forms[0])[0])
        found.setdefault(row.theme, []).append(Saying(name, row.about, example, row.forms))
    return found


def slots(grammar: Grammar, words: Mapping[str, tuple[str, ...]]) -> Iterator[Slot]:
    """Yield the words of each sort that page.toml names; `words` are those of the lexicon."""
    for sort in dict.fromkeys(sort for entry in grammar.entries for sort in entry.sorts):
        yield Slot(sort, words[sort])
