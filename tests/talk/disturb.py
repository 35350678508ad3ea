"""Disturbs talk: puts a word that changes what is said, or one that does not, at a random place."""

import random
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

ALONE = 0.15
"""How often what can be said alone is."""


class Sort(NamedTuple):
    """A class of words. See disturbing.toml."""

    name: str
    serious: bool
    may_change: bool
    alone: bool
    says: tuple[str, ...]


class Disturbed(NamedTuple):
    """Talk with one thing put into it."""

    utterances: tuple[str, ...]
    at: int
    """The utterance that it was put into: those before it are as they were."""
    word: str
    sort: Sort
    alone: bool


def read_sorts(path: Path) -> dict[str, Sort]:
    """Read the classes of words."""
    made = {}
    for name, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
        unknown = entry.keys() - {"must", "may_change", "alone", "says"}
        if unknown or entry["must"] not in {"harmless", "serious"}:
            message = f"{path}: {name} has {sorted(unknown) or entry['must']}"
            raise ValueError(message)
        says = tuple(" ".join(said.split()) for said in entry["says"].split(","))
        serious = entry["must"] == "serious"
        made[name] = Sort(name, serious, entry.get("may_change", False), entry.get("alone", False), says)
    return made


SORTS = read_sorts(Path(__file__).with_name("disturbing.toml"))


def disturb(draw: random.Random, utterances: Sequence[str], sort: Sort | None = None) -> Disturbed:
    """Return the talk with one word or phrase put in: of the class given, or of any, each class as often."""
    sort = sort or draw.choice(tuple(SORTS.values()))
    word = draw.choice(sort.says)
    if sort.alone and draw.random() < ALONE:
        at = draw.randint(1, len(utterances))
        return Disturbed((*utterances[:at], word, *utterances[at:]), at, word, sort, alone=True)
    at = draw.randrange(len(utterances))
    tokens = utterances[at].split()
    gap = draw.randint(0, len(tokens))
    said = " ".join((*tokens[:gap], word, *tokens[gap:]))
    return Disturbed((*utterances[:at], said, *utterances[at + 1 :]), at, word, sort, alone=False)
