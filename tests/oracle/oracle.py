"""A second opinion on a whole load, written from the rule texts alone: slow, plain, and strict about what was told.

A clause is met only when it is met however the facts that were not told turn out, and short only when it is short
however they turn out; in between it is untold. Nothing is shared with the engine but the load's own nouns; the tables
are typed again here.

Sources: 49 CFR 393.106(d) (read), 393.108 and its tables (read; ropes but manila, wire rope of 7/8 in and more, and
steel strapping but its first row from memory), 393.110 (memory, in other words), 393.120(a) (read), (b) to (d) (memory,
in other words). How many coil bunks hold a pair of timbers is common practice, no source.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from assistant.load.model import Article, Eye, GearList, Load, Path, Pull, Row, Through, Tiedown
from tests.oracle.limits import limit_of
from tests.oracle.roles import Role, covered, through_is, tri_all


class Outcome(StrEnum):
    """What the texts say of one clause."""

    MET = "met"
    SHORT = "short"
    UNTOLD = "untold"
    PROHIBITED = "prohibited"
    UNCOVERED = "uncovered"


# ---- 393.106(d) ------------------------------------------------------------------------------------------------------


def plainly_across(tiedown: Tiedown, load: Load) -> bool:
    """Tell whether what was told leaves no doubt that a tiedown of untold path ends on the other side."""
    if through_is(tiedown, Through.TOP) or tiedown.crossed:
        return True
    # A chain through a crosswise eye runs from side to side: the eye itself does (derived).
    all_crosswise = bool(load.coils) and all(coil.eye is Eye.CROSSWISE for coil in load.coils)
    ahead_or_back = not load.articles and tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}
    return all_crosswise and (tiedown.through is Through.EYE or ahead_or_back)


def shares(tiedown: Tiedown, load: Load) -> tuple[float, float]:
    """Return the least and most of its limit that a tiedown may add: half direct or same side, all across."""
    if tiedown.path is Path.ACROSS:
        return 1.0, 1.0
    if tiedown.path is not None:
        return 0.5, 0.5
    return (1.0, 1.0) if plainly_across(tiedown, load) else (0.5, 1.0)


def need_lb(load: Load) -> float | None:
    """Half of all weight, or None where some is untold."""
    items = [*load.coils, *load.articles]
    if not items or any(item.weight_lb is None for item in items):
        return None
    return sum(item.count * (item.weight_lb or 0.0) for item in items) / 2


def aggregate(load: Load, gear: GearList) -> tuple[Outcome, float | None, float, float]:
    """393.106(d): outcome, need, least and most that the tiedowns add up to (lb)."""
    need = need_lb(load)
    low = high = beside = 0.0
    beside_high = 0.0
    for tiedown in load.tiedowns:
        limit, (least, most), few = limit_of(tiedown, gear), shares(tiedown, load), tiedown.count
        low += limit.low * least * few
        high += limit.high * most * few
        if tiedown.through is not Through.EYE:
            beside += limit.low * least * few
            beside_high += limit.high * most * few
    # What goes through a coil's eye holds that coil, not what stands beside it.
    apart = need_lb(load.model_copy(update={"coils": ()})) if load.coils else None
    if need is not None and apart is not None and beside < apart:
        low_outcome = Outcome.SHORT if beside_high < apart or high < need else Outcome.UNTOLD
        return low_outcome, need, low, high
    if need is None:
        return Outcome.UNTOLD, need, low, high
    if low >= need:
        return Outcome.MET, need, low, high
    return (Outcome.SHORT if high < need else Outcome.UNTOLD), need, low, high


# ---- what coils rest on and what blocks them -------------------------------------------------------------------------

RESTS_ENOUGH = 2
BUNKS_ENOUGH = 3
BUNKS_FEW = 2


def lying_coils(load: Load) -> int:
    """Return how many coils lie, and so rest on the timbers, bunks or cradles told of."""
    return sum(coil.count for coil in load.coils if coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE})


def rolling(load: Load) -> Outcome:
    """393.120(c)(1)(i), (d)(1)(i): a means against rolling, off the deck, held by bunks, not by nails alone.

    Timbers and wedges are taken, aloud, to be told for each coil, bunks for all coils together; a cradle not said to be
    nailed is taken, aloud, to be held by more than nails.
    """
    support, coils = load.support, lying_coils(load)
    if support.nailed_only:
        return Outcome.PROHIBITED
    if support.on_deck:
        return Outcome.SHORT
    rests = (support.timbers or 0) + (support.wedges or 0)
    if rests and support.bunks is not None and support.bunks < BUNKS_FEW * coils:
        return Outcome.PROHIBITED
    if support.cradle:
        return Outcome.MET
    if rests and support.bunks is not None and support.bunks < BUNKS_ENOUGH * coils:
        return Outcome.SHORT
    untold = None in {support.timbers, support.wedges, support.cradle}
    if rests < RESTS_ENOUGH:
        # Where one rest was told, another that was not is not there.
        return Outcome.UNTOLD if untold and not rests else Outcome.SHORT
    return Outcome.UNTOLD if support.bunks is None else Outcome.MET


def blocked(load: Load, *, rearward: bool) -> bool | None:
    """Tell whether blocking or mats stop movement forward (and rearward)."""
    support = load.support
    if support.mats:
        return True
    ways = [support.blocked_forward, *([support.blocked_rearward] if rearward else [])]
    if all(way is True for way in ways):
        return True
    return False if support.mats is False and False in ways else None


# ---- 393.120 ---------------------------------------------------------------------------------------------------------

SCOPE_LB = 5000


def in_scope(load: Load) -> bool:
    """393.120(a): coils that, individually or grouped together, weigh 5,000 lb or more; an untold weight may be."""
    if any(coil.weight_lb is None for coil in load.coils):
        return True
    return sum(coil.count * (coil.weight_lb or 0.0) for coil in load.coils) >= SCOPE_LB


Scheme = tuple[dict[Role, int], bool | None]
"""Tiedowns wanted, and whether the blocking that goes with them is there."""


def times(roles: dict[Role, int], number: int) -> dict[Role, int]:
    """Want roles for each of a number of coils."""
    return {role: each * number for role, each in roles.items()}


def vertical(load: Load, number: int) -> list[Scheme]:
    """393.120(b): one coil, or rows."""
    row_roles = {Role.HOLD_FORWARD: 1, Role.HOLD_REARWARD: 1}
    if load.row is Row.TRANSVERSE and number > 1:
        return [({**row_roles, Role.OVER_EYE: 1}, True)]
    if load.row is Row.LENGTHWISE and number > 1:
        return [({**row_roles, Role.OVER_EYE: number}, True)]
    # Each direction by blocking, mats or tiedowns: the text lets them be mixed.
    base = {Role.DIAGONAL: 2, Role.OVER_EYE: 1}
    support = load.support
    ahead, back = (True if support.mats else way for way in (support.blocked_forward, support.blocked_rearward))
    return [
        (times(base, number), blocked(load, rearward=True)),
        (times({**base, Role.HOLD_REARWARD: 1}, number), ahead),
        (times({**base, Role.HOLD_FORWARD: 1}, number), back),
        (times({**base, Role.HOLD_FORWARD: 1, Role.HOLD_REARWARD: 1}, number), True),
    ]


def lengthwise(load: Load, number: int) -> list[Scheme]:
    """393.120(d): three options for one coil, one for a transverse row."""
    both, ahead = blocked(load, rearward=True), blocked(load, rearward=False)
    if load.row is Row.TRANSVERSE and number > 1:
        return [({Role.OVER_FRONT: 1, Role.OVER_REAR: 1}, both)]
    return [
        (times({Role.EYE_DIAGONAL: 2, Role.OVER_LENGTHWISE: 1}, number), both),
        (times({Role.EYE_STRAIGHT: 2, Role.OVER_LENGTHWISE: 1}, number), both),
        (times({Role.OVER_FRONT: 1, Role.OVER_REAR: 1}, number), ahead),
    ]


def crosswise(number: int) -> list[Scheme]:
    """393.120(c): each coil by itself; there is no row."""
    return [(times({Role.EYE_FORWARD: 1, Role.EYE_REARWARD: 1}, number), True)]


def schemes(load: Load) -> list[Scheme]:
    """Return all the ways to hold all coils whose eye was told."""
    found: list[Scheme] = [({}, True)]
    for eye, options in ((Eye.VERTICAL, vertical), (Eye.LENGTHWISE, lengthwise), (Eye.CROSSWISE, None)):
        number = sum(coil.count for coil in load.coils if coil.eye is eye)
        if number:
            ways = options(load, number) if options else crosswise(number)
            found = [({**have, **more}, tri_all(okay, blocks)) for have, okay in found for more, blocks in ways]
    return found


def x_pattern(load: Load) -> Outcome:
    """393.120(c)(2): no crossing through a crosswise eye."""
    crossed = [t for t in load.tiedowns if t.crossed and not through_is(t, Through.TOP)]
    eyes = {coil.eye for coil in load.coils}
    if not crossed or Eye.CROSSWISE not in eyes | ({Eye.CROSSWISE} if None in eyes else set()):
        return Outcome.MET
    if eyes == {Eye.CROSSWISE} and not load.articles and any(t.through is Through.EYE for t in crossed):
        return Outcome.PROHIBITED
    return Outcome.UNTOLD


# ---- 393.110 ---------------------------------------------------------------------------------------------------------


def count_for(article: Article) -> tuple[int, int | None]:
    """Return the least and the most tiedowns one article may need by 393.110; None where its length is untold."""
    blocked_ways = [True, False] if article.blocked_forward is None else [article.blocked_forward]
    needs = []
    for way in blocked_ways:
        if article.length_ft is None:
            return 1, None
        if way:
            needs.append(max(1, math.ceil(article.length_ft / 10)))
        elif article.length_ft > 10:
            needs.append(2 + math.ceil((article.length_ft - 10) / 10))
        elif article.length_ft > 5:
            needs.append(2)
        else:
            weights = [1.0, 1e9] if article.weight_lb is None else [article.weight_lb]
            needs += [1 if weight <= 1100 else 2 for weight in weights]
    return min(needs), max(needs)


def need_of(articles: Sequence[Article]) -> tuple[int, int | None]:
    """Return the least and the most tiedowns that articles may need together."""
    each = [(article.count, *count_for(article)) for article in articles]
    most = sum(count * (many or 0) for count, _, many in each)
    return sum(count * few for count, few, _ in each), None if any(many is None for _, _, many in each) else most


def light_coils(load: Load) -> list[Article]:
    """Return the coils below 393.120's scope as articles; none is longer than 10 ft."""
    return [
        Article(
            name="coil",
            count=coil.count,
            weight_lb=coil.weight_lb,
            length_ft=10.0,
            blocked_forward=load.support.blocked_forward,
        )
        for coil in ([] if in_scope(load) else load.coils)
    ]


# ---- what was seen ---------------------------------------------------------------------------------------------------

NOT_TO_BE_USED = {
    "damaged chain",
    "damaged strap",
    "damaged hook",
    "knot",
    "broken pallet",
    "no edge protection",
    "binder bottomed out",
    "lip",
    "loose tiedown",
    "slick surface",
    "shifted cargo",
    "gap at the support",
    "damaged binder",
    "missing binder",
    "damaged anchor",
    "damaged support",
    "damaged deck",
    "damaged cargo",
    "tiedown on an edge",
}
"""393.104(b), (c), (d), (f)(1), (f)(3), (f)(4), 392.9(b)(2), and 393.112: the driver must be able to tighten each
tiedown. A lip, a slick surface, a gap and damaged cargo by common practice, no source."""


@dataclass
class Opinion:
    """What the texts say of a load, clause by clause."""

    clauses: dict[str, Outcome] = field(default_factory=dict)
    need_lb: float | None = None
    low_lb: float = 0.0
    high_lb: float = 0.0

    @property
    def may_meet(self) -> bool:
        """Tell whether every clause is met by what was told."""
        return bool(self.clauses) and all(outcome is Outcome.MET for outcome in self.clauses.values())

    @property
    def surely_bad(self) -> bool:
        """Tell whether some clause is broken however the untold facts turn out."""
        return any(o in {Outcome.SHORT, Outcome.PROHIBITED} for o in self.clauses.values())


def counts(load: Load) -> Outcome:
    """393.110 and 393.120 together: each thing held by tiedowns of its own."""
    scoped = in_scope(load)
    (few, many), (few_light, many_light) = need_of(load.articles), need_of(light_coils(load))
    met = possible = False
    for wanted, blocks in schemes(load) if scoped else [({}, True)]:
        least = {**wanted, Role.ANY: few, Role.LIGHT: few_light}
        possible = possible or (blocks is not False and covered(least, load, strict=False))
        if many is not None and many_light is not None:
            most = {**wanted, Role.ANY: many, Role.LIGHT: many_light}
            met = met or (blocks is True and covered(most, load, strict=True))
    if met and not (scoped and any(coil.eye is None for coil in load.coils)):
        return Outcome.MET
    return Outcome.UNTOLD if possible or met else Outcome.SHORT


def light_rolling(load: Load) -> Outcome:
    """393.106(c)(1): a coil that may roll needs chocks, wedges, a cradle or the like."""
    support = load.support
    if all(coil.eye is Eye.VERTICAL for coil in load.coils):
        return Outcome.MET
    if support.cradle or (support.timbers or 0) + (support.wedges or 0) >= RESTS_ENOUGH:
        return Outcome.MET
    told_none = None not in {support.cradle, support.timbers, support.wedges} or support.timbers or support.wedges
    all_lying = all(coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE} for coil in load.coils)
    return Outcome.SHORT if told_none and all_lying else Outcome.UNTOLD


def opinion(load: Load, gear: GearList) -> Opinion:
    """Return what the texts say of a load."""
    found = Opinion()
    if not load.coils and not load.articles:
        return found
    outcome, found.need_lb, found.low_lb, found.high_lb = aggregate(load, gear)
    found.clauses["393.106(d)"] = outcome
    found.clauses["counts"] = counts(load)
    scoped = in_scope(load) if load.coils else False
    eyes = {coil.eye for coil in load.coils}
    if scoped:
        if None in eyes:
            found.clauses["eye"] = Outcome.UNTOLD
        if eyes & {Eye.CROSSWISE, Eye.LENGTHWISE}:
            found.clauses["rolling"] = rolling(load)
        found.clauses["393.120(c)(2)"] = x_pattern(load)
        cross = sum(coil.count for coil in load.coils if coil.eye is Eye.CROSSWISE)
        if cross > 1 and load.row is not None:
            found.clauses["crosswise row"] = Outcome.UNCOVERED
    elif load.coils:
        found.clauses["393.106(c)(1)"] = light_rolling(load)
    if set(load.seen) & NOT_TO_BE_USED:
        found.clauses["393.104"] = Outcome.SHORT
    return found
