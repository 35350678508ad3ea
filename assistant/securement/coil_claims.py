"""Coils whose eyes point different ways: which tiedown is counted for which of them, so that none is counted twice."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

from assistant.load.model import Eye, Through, Tiedown
from assistant.securement.coil_group import left_over

Scheme = Mapping[tuple[str, ...], int]
"""How many tiedowns one way to meet a clause asks for, by the roles of which each of them may play any."""


@dataclass(frozen=True, slots=True)
class Claim:
    """What the coils of one eye direction ask for: schemes, of which one is enough.

    `plays` holds, for each tiedown group of the load, the role that it plays for these coils; None where it holds none.
    """

    eye: Eye
    schemes: tuple[Scheme, ...]
    plays: tuple[str | None, ...]


def sharings(tiedowns: Sequence[Tiedown], claims: Sequence[Claim]) -> Iterator[dict[Eye, tuple[Tiedown, ...]]]:
    """Yield, for each choice of schemes, the tiedowns that are counted for each eye direction.

    Parameters
    ----------
    tiedowns
        The load's tiedown groups.
    claims
        One for each eye direction on the load.

    Yields
    ------
    dict of Eye to tuple of Tiedown
        No more than the scheme asks for, and as many as can be had without counting one twice; the others are free.

    Notes
    -----
    A maximum flow by augmenting paths: all coils get what they ask for wherever that can be, whatever the order of
    telling. Tiedowns through an eye are handed out first, for those hold nothing beside the coils; where there are too
    few, the claims that come first have them.
    """
    alike: dict[_Sort, list[int]] = {}
    for place, tiedown in enumerate(tiedowns):
        sort = (tiedown.through is not Through.EYE, tuple(claim.plays[place] or "" for claim in claims))
        alike.setdefault(sort, []).append(place)
    number = {sort: sum(tiedowns[place].count for place in places) for sort, places in alike.items()}
    for chosen in product(*(claim.schemes for claim in claims)):
        wants = [
            _Want(at, roles, least) for at, scheme in enumerate(chosen) for roles, least in scheme.items() if least > 0
        ]
        for sort in sorted(number):
            for _ in range(number[sort]):
                if not _give(sort, wants, set()):
                    break
        given: Counter[tuple[int, _Sort]] = Counter()
        for want in wants:
            given.update({(want.claim, sort): held for sort, held in want.held.items()})
        yield _shares(tiedowns, claims, alike, given)


def without(tiedowns: Sequence[Tiedown], shares: Mapping[Eye, Sequence[Tiedown]]) -> tuple[Tiedown, ...]:
    """Return the tiedowns that are in no share."""
    taken: Counter[Tiedown] = Counter()
    for share in shares.values():
        for one in share:
            taken[_single(one)] += one.count
    return left_over(tiedowns, _single, taken)


def _single(tiedown: Tiedown) -> Tiedown:
    return tiedown.model_copy(update={"count": 1})


_Sort = tuple[bool, tuple[str, ...]]
"""Tiedowns that are alike to every claim: whether they pass no eye, and the role for each claim."""


@dataclass(slots=True)
class _Want:
    """So many of some roles, for the claim at this place; `held` is what it has, by sort."""

    claim: int
    roles: tuple[str, ...]
    open: int
    held: Counter[_Sort] = field(default_factory=Counter)


def _give(sort: _Sort, wants: Sequence[_Want], seen: set[int]) -> bool:
    """Give one tiedown of a sort to a want that is open, or to one whose present holder can go elsewhere."""
    for at, want in enumerate(wants):
        if at in seen or sort[1][want.claim] not in want.roles:
            continue
        seen.add(at)
        if want.open:
            want.open -= 1
            want.held[sort] += 1
            return True
        for holder in [holder for holder, number in want.held.items() if number and holder != sort]:
            if _give(holder, wants, seen):
                want.held[holder] -= 1
                want.held[sort] += 1
                return True
    return False


def _shares(
    tiedowns: Sequence[Tiedown],
    claims: Sequence[Claim],
    alike: Mapping[_Sort, Sequence[int]],
    given: Mapping[tuple[int, _Sort], int],
) -> dict[Eye, tuple[Tiedown, ...]]:
    """Return what each eye direction was given, group by group."""
    left = [tiedown.count for tiedown in tiedowns]
    shares: dict[Eye, tuple[Tiedown, ...]] = {}
    for at, claim in enumerate(claims):
        share = []
        for sort, places in alike.items():
            wanted = given.get((at, sort), 0)
            for place in places:
                take = min(wanted, left[place])
                if take:
                    share.append(tiedowns[place].model_copy(update={"count": take}))
                    left[place] -= take
                    wanted -= take
        shares[claim.eye] = tuple(share)
    return shares
