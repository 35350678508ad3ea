"""Coils of one eye direction with what supports and holds them, and what a clause makes of them."""

from collections import Counter
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from assistant.load.model import Eye, Path, Pull, Row, Support, Through, Tiedown
from assistant.securement.finding import Finding

RoleOf = Callable[[Tiedown], str]

UNTOLD = "untold"
"""Role of a tiedown of which nothing was told that shows what it does."""


@dataclass(frozen=True, slots=True)
class CoilGroup:
    """Coils of one eye direction, and the tiedowns that may be theirs."""

    eye: Eye
    number: int
    row: Row | None
    support: Support
    tiedowns: tuple[Tiedown, ...]
    every: tuple[Tiedown, ...] = ()
    """All tiedowns of the load, whosever they are."""
    mixed: bool = False
    """Coils with another eye direction are on deck too, so a tiedown may be theirs."""
    lying: int = 0
    """Coils of either lying direction: what was told of bunks and timbers is for all of these."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What the clauses say of one group; `takes` is how many tiedowns of each role they use up."""

    findings: tuple[Finding, ...]
    assumed: tuple[str, ...] = ()
    takes: Mapping[str, int] = field(default_factory=dict)


def roles(tiedowns: Sequence[Tiedown], role_of: RoleOf) -> Counter[str]:
    """Return how many tiedowns play each role."""
    count: Counter[str] = Counter()
    for tiedown in tiedowns:
        count[role_of(tiedown)] += tiedown.count
    return count


Sort = TypeVar("Sort", bound=Hashable)


def left_over(
    tiedowns: Sequence[Tiedown], sort_of: Callable[[Tiedown], Sort], takes: Mapping[Sort, int]
) -> tuple[Tiedown, ...]:
    """Return the tiedowns that are left once so many of each sort are taken: none may serve two groups.

    Those through an eye are taken first, whatever the order they were told in: they can hold nothing but that coil.
    """
    wanted = Counter(takes)
    left = [tiedown.count for tiedown in tiedowns]
    for place in sorted(range(len(tiedowns)), key=lambda place: tiedowns[place].through is not Through.EYE):
        sort = sort_of(tiedowns[place])
        used = min(wanted[sort], left[place])
        wanted[sort] -= used
        left[place] -= used
    return tuple(
        tiedown.model_copy(update={"count": count}) for tiedown, count in zip(tiedowns, left, strict=True) if count
    )


def is_over(tiedown: Tiedown) -> bool:
    """Tell whether a tiedown goes over the top and presses down; one told to go through the eye does not."""
    return tiedown.through is Through.TOP or (tiedown.through is None and tiedown.pulls is Pull.OVER)


def is_transverse(tiedown: Tiedown) -> bool:
    """Tell whether nothing told keeps a tiedown over the top from running straight from side to side."""
    return tiedown.path in {None, Path.ACROSS} and not tiedown.crossed
