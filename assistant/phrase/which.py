"""Which groups of tiedowns are meant: those of a kind, those that run one way, all four; and what they are called."""

from assistant.load.model import Kind, Load, Tiedown
from assistant.phrase.meaning import Facts
from assistant.phrase.plausible import Refused

_END_OF = {"forward": "front", "rearward": "rear"}


def name_of(kind: Kind, count: int) -> str:
    """Return what so many of a kind are called."""
    return kind.value if count == 1 else f"{kind.value}s"


def is_so(group: Tiedown, facts: Facts) -> bool:
    """Return whether facts are known of a group."""
    return all(getattr(group, key) == value for key, value in facts.items())


def of_kind(load: Load, kind: Kind | None) -> list[int]:
    """Return the places of all groups of a kind, or of every kind where none was named."""
    return [index for index, group in enumerate(load.tiedowns) if kind in {None, group.kind}]


def those(load: Load, kind: Kind | None, only: Facts) -> list[int]:
    """Return the places of those that run one way; "the front strap" may also be the one that goes over the front."""
    so = [index for index in of_kind(load, kind) if is_so(load.tiedowns[index], only)]
    end = _END_OF.get(only["pulls"]) if only.keys() == {"pulls"} else None
    return so if so or not end else [index for index in of_kind(load, kind) if load.tiedowns[index].place == end]


def all_of(load: Load, count: int) -> list[int]:
    """Return the places of all that are on; of "all four" only where there are four, or four of one kind.

    Raises
    ------
    Refused
        There is another number, or there are four of each of two kinds.
    """
    kinds = [None, *dict.fromkeys(group.kind for group in load.tiedowns)]
    fitting = [kind for kind in kinds if sum(load.tiedowns[index].count for index in of_kind(load, kind)) == count]
    if count and not fitting:
        on = sum(group.count for group in load.tiedowns)
        sentence = f"I heard all {count}, but there are {on} on. Say how many there are."
        raise Refused(sentence)
    if count and len(fitting) > 1 and fitting[0] is not None:
        sentence = f"I heard all {count}, but not of what. Say it with their name."
        raise Refused(sentence)
    return of_kind(load, fitting[0] if count else None)
