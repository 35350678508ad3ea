"""The recognizer's phrases, generated once for all tests: it takes some seconds."""

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from assistant.hear.generator import Generator
from assistant.phrase.grammar import read_grammar
from assistant.understand.understander import Understander

UNDERSTANDER = Understander(read_grammar())
GRAMMAR = UNDERSTANDER.grammar
TOPICS = tuple(GRAMMAR.talk["answers"])
"""The narrow grammars."""


@cache
def generator() -> Generator:
    """Return one whose shapes are read."""
    return Generator(UNDERSTANDER)


class Parts(NamedTuple):
    """What the phrases of the whole grammar are made of."""

    told: tuple[str, ...]
    any_order: tuple[str, ...]
    turned: tuple[str, ...]
    rest: tuple[str, ...]
    unplaced: tuple[str, ...]


@cache
def parts() -> Parts:
    """Return the phrases of the whole grammar by what they are there for, written as they are meant."""
    fresh = Generator(UNDERSTANDER)
    told, any_order, turned = fresh.told(), fresh.any_order(), fresh.turned()
    rest = fresh.rest([*told, *any_order, *turned])
    unplaced = fresh.unplaced([*told, *any_order, *turned, *rest])
    return Parts(tuple(told), tuple(any_order), tuple(turned), tuple(rest), tuple(unplaced))


@cache
def whole() -> tuple[str, ...]:
    """Return the phrases of the whole grammar, as they sound."""
    return tuple(GRAMMAR.as_it_sounds(said) for part in parts() for said in part)


@cache
def answers(topic: str) -> tuple[str, ...]:
    """Return the phrases of one narrow grammar."""
    return tuple(Generator(UNDERSTANDER).answers(topic))


def words(phrases: Iterable[str]) -> frozenset[str]:
    """Return every word that stands in phrases."""
    return frozenset(word for phrase in phrases for word in phrase.split())
