"""Loads made by a seeded hand, with any fact missing, and hypothesis strategies over the same hand."""

import random
from collections.abc import Iterable

from hypothesis import strategies as st

from assistant.load.model import (
    Article,
    Coil,
    Eye,
    Gear,
    GearList,
    Kind,
    Load,
    Path,
    Place,
    Pull,
    Row,
    Support,
    Through,
    Tiedown,
)
from tests.oracle.limits import limit_of

SIZES = {
    Kind.CHAIN: (1 / 4, 5 / 16, 3 / 8, 7 / 16, 1 / 2, 5 / 8, 0.3, 1.0),
    Kind.STRAP: (1.75, 2.0, 3.0, 4.0, 2.5, 6.0),
    Kind.WIRE_ROPE: (1 / 4, 3 / 8, 1 / 2, 5 / 8, 7 / 8, 1.0, 1.5),
    Kind.ROPE: (3 / 8, 1 / 2, 5 / 8, 3 / 4, 1.0, 0.3),
    Kind.STEEL_STRAP: (1.25, 2.0, 0.75),
}
WEIGHTS = (400, 1100, 1101, 2400, 2500, 4999, 5000, 8000, 12000, 26400, 39600, 42500, 46000, 52800)
LENGTHS = (3.0, 5.0, 5.01, 8.0, 10.0, 10.01, 12.0, 20.0, 20.01, 40.0)
SEEN = (
    "lip", "damaged chain", "damaged strap", "knot", "no edge protection", "binder bottomed out", "damaged hook",
    "loose tiedown", "slick surface", "shifted cargo", "gap at the support", "damaged binder", "missing binder",
    "damaged anchor", "damaged support", "damaged deck", "damaged cargo", "tiedown on an edge",
)  # fmt: skip

GEARS = (
    GearList(
        items=(
            Gear(kind=Kind.CHAIN, size_in=3 / 8, grade="70", binder_lb=6600),
            Gear(kind=Kind.STRAP, size_in=4.0, marked_lb=5400),
        ),
        sample=True,
    ),
    GearList(items=(Gear(kind=Kind.CHAIN, size_in=1 / 2, grade="70", binder_lb=9200),)),
    GearList(items=(Gear(kind=Kind.CHAIN, size_in=5 / 16, unmarked=True), Gear(kind=Kind.STRAP, size_in=4.0))),
    GearList(),
)


def told(rng: random.Random, chance: float, options: Iterable[object]) -> object:
    """Return one of the options, or None for a fact that was not told."""
    return rng.choice(tuple(options)) if rng.random() < chance else None


def tiedown(rng: random.Random, knows: float) -> Tiedown:
    """Make one group of tiedowns; `knows` is the chance that a fact is told."""
    kind = rng.choices(list(Kind), (10, 5, 1, 1, 1))[0]
    facts: dict[str, object] = {"kind": kind, "count": rng.choice((1, 1, 2, 2, 3, 4))}
    if rng.random() < 0.5:
        facts["size_in"] = rng.choice(SIZES[kind][:-1] if rng.random() < 0.8 else SIZES[kind])
    if kind is Kind.CHAIN:
        facts["grade"] = told(rng, 0.4, ("30", "43", "70", "70", "80", "100"))
    if kind is Kind.ROPE:
        facts["material"] = told(rng, 0.5, ("manila", "polypropylene", "nylon", "double braided nylon", "polyester"))
    if kind is Kind.STEEL_STRAP:
        facts["thickness_in"] = told(rng, 0.8, (0.029, 0.044, 0.05, 0.057, 0.1))
    facts["marked_lb"] = told(rng, 0.2, (1000, 3000, 5400, 6600, 11300))
    facts["unmarked"] = rng.random() < 0.1 and facts["marked_lb"] is None
    for part in ("binder_lb", "hook_lb", "winch_lb", "anchor_lb"):
        facts[part] = told(rng, 0.06, (2600, 5400, 9200))
    facts["path"] = told(rng, knows * 0.7, (Path.ACROSS, Path.ACROSS, Path.ACROSS, Path.SAME_SIDE, Path.DIRECT))
    facts["pulls"] = told(rng, knows, (Pull.FORWARD, Pull.REARWARD, Pull.FORWARD, Pull.REARWARD, Pull.OVER, Pull.LEFT))
    facts["through"] = told(rng, knows, (Through.EYE, Through.EYE, Through.TOP))
    if facts["through"] is not Through.EYE:
        facts["place"] = told(rng, knows * 0.5, Place)
    facts["crossed"] = rng.random() < 0.15
    facts["doubled"] = rng.random() < 0.06
    return Tiedown.model_validate(facts)


def support(rng: random.Random, knows: float) -> Support:
    """Make what the coils rest on."""
    return Support.model_validate(
        {
            "bunks": told(rng, knows, (0, 1, 2, 3, 4, 4, 4, 6, 8)),
            "timbers": told(rng, knows, (0, 1, 2, 2, 2, 2, 4, 4)),
            "wedges": told(rng, knows * 0.3, (0, 2, 4)),
            "cradle": told(rng, knows * 0.3, (True, False)),
            "mats": told(rng, knows, (True, True, False)),
            "pallet": told(rng, knows * 0.2, (True, False)),
            "nailed_only": told(rng, knows * 0.4, (True, False, False, False)),
            "blocked_forward": told(rng, knows * 0.6, (True, True, False)),
            "blocked_rearward": told(rng, knows * 0.6, (True, True, False)),
            "on_deck": told(rng, knows * 0.3, (True, False, False, False)),
        }
    )


def typical_tiedowns(rng: random.Random, eye: Eye | None) -> list[Tiedown]:
    """Make the tiedowns a careful driver would lay, so that a fair share of loads meets everything."""
    kind = rng.choice((Kind.CHAIN, Kind.CHAIN, Kind.STRAP))
    each = rng.choice((1, 1, 2, 2, 4))

    def one(**facts: object) -> Tiedown:
        base: dict[str, object] = {"kind": kind, "count": each, "path": told(rng, 0.5, (Path.ACROSS,)), **facts}
        return Tiedown.model_validate(base)

    ends = [one(pulls=Pull.FORWARD, through=Through.EYE), one(pulls=Pull.REARWARD, through=Through.EYE)]
    over = [one(pulls=Pull.OVER, through=Through.TOP, place=p) for p in (Place.FRONT, Place.REAR)]
    match eye:
        case Eye.VERTICAL:
            made = [one(count=2 * each, crossed=True), one(pulls=Pull.OVER, through=Through.TOP)]
            made += rng.choice(([], [one(pulls=Pull.FORWARD), one(pulls=Pull.REARWARD)]))
        case Eye.LENGTHWISE:
            option = rng.randrange(3)
            crossed = one(count=2 * each, crossed=True, through=Through.EYE)
            straight = one(count=2 * each, through=Through.EYE, path=Path.SAME_SIDE)
            made = over if option == 0 else [crossed if option == 1 else straight, over[0]]
        case _:
            made = ends
    return made


def spoil(rng: random.Random, load: Load) -> Load:
    """Untell or change one fact of a load."""
    if load.tiedowns and rng.random() < 0.6:
        index = rng.randrange(len(load.tiedowns))
        change = rng.choice(
            (
                {"path": None},
                {"path": Path.DIRECT},
                {"path": Path.SAME_SIDE},
                {"pulls": None},
                {"pulls": Pull.FORWARD},
                {"pulls": Pull.REARWARD},
                {"through": None},
                {"through": Through.TOP},
                {"through": Through.EYE},
                {"place": None},
                {"crossed": True},
                {"crossed": False},
                {"doubled": True},
                {"count": 1},
                {"count": 2},
                {"marked_lb": 3000},
                {"unmarked": True},
                {"size_in": 0.3},
                {"anchor_lb": 2600},
            )
        )
        groups = list(load.tiedowns)
        groups[index] = groups[index].model_copy(update=change)
        return load.model_copy(update={"tiedowns": tuple(groups)})
    change = rng.choice(
        (
            {"bunks": None},
            {"bunks": 2},
            {"timbers": None},
            {"mats": None},
            {"mats": False},
            {"blocked_forward": False},
            {"blocked_rearward": None},
            {"nailed_only": True},
            {"nailed_only": None},
            {"on_deck": True},
            {"cradle": True},
        )
    )
    return load.model_copy(update={"support": load.support.model_copy(update=change)})


def coil(rng: random.Random) -> Coil:
    """Make one group of coils."""
    return Coil.model_validate(
        {
            "count": rng.choices((1, 2, 3), (8, 2, 1))[0],
            "weight_lb": told(rng, 0.95, WEIGHTS),
            "eye": told(rng, 0.93, Eye),
            "metal": told(rng, 0.2, ("steel", "aluminum")),
        }
    )


def article(rng: random.Random) -> Article:
    """Make one group of articles."""
    return Article.model_validate(
        {
            "name": rng.choice(("crate", "plate", "beam")),
            "count": rng.choice((1, 1, 1, 2)),
            "weight_lb": told(rng, 0.93, WEIGHTS),
            "length_ft": told(rng, 0.93, LENGTHS),
            "blocked_forward": told(rng, 0.6, (True, False)),
        }
    )


def careful(rng: random.Random, coils: list[Coil], articles: list[Article]) -> tuple[list[Tiedown], Support]:
    """Make the tiedowns and support of a careful driver."""
    ties = [tie for one in coils for tie in typical_tiedowns(rng, one.eye)]
    over = {"kind": Kind.STRAP, "pulls": Pull.OVER, "path": Path.ACROSS}
    ties += [Tiedown.model_validate({**over, "count": rng.choice((1, 2, 3, 4))}) for _ in articles]
    rest = {
        "bunks": rng.choice((4, 8)),
        "timbers": rng.choice((2, 4)),
        "mats": told(rng, 0.8, (True,)),
        "nailed_only": told(rng, 0.5, (False,)),
        "blocked_forward": told(rng, 0.3, (True,)),
    }
    return ties, Support.model_validate(rest)


def near_the_line(rng: random.Random, load: Load, gear: GearList) -> Load:
    """Weigh the first coil so that half the load is about what the tiedowns count, in full or half."""
    sums = [sum(limit_of(t, gear).low * t.count * share for t in load.tiedowns) for share in (1.0, 0.5)]
    others = sum(one.count * (one.weight_lb or 0.0) for one in (*load.coils[1:], *load.articles))
    first = load.coils[0]
    weight_lb = (2 * rng.choice(sums) - others) / first.count + rng.choice((-2.0, 0.0, 2.0, -3000.0))
    if weight_lb <= 0:
        return load
    return load.model_copy(update={"coils": (first.model_copy(update={"weight_lb": weight_lb}), *load.coils[1:])})


def make(seed: int) -> tuple[Load, GearList]:
    """Make the load and gear list of a seed."""
    rng = random.Random(seed)  # noqa: S311 - a reproducible hand, nothing secret
    gear = rng.choice(GEARS)
    knows = rng.choice((0.5, 0.8, 0.95, 1.0))
    coils = [coil(rng) for _ in range(rng.choices((0, 1, 2), (2, 8, 2))[0])]
    articles = [article(rng) for _ in range(rng.choices((0, 1, 2), (8, 2, 1))[0] if coils else 1)]
    is_careful = rng.random() < 0.6
    if is_careful:
        ties, rest = careful(rng, coils, articles)
    else:
        ties, rest = [tiedown(rng, knows) for _ in range(rng.choice((0, 1, 1, 2, 2, 3, 4)))], support(rng, knows)
    several = sum(one.count for one in coils) > 1
    load = Load(
        coils=tuple(coils),
        articles=tuple(articles),
        tiedowns=tuple(ties),
        support=rest,
        row=told(rng, 0.5 if several else 0.03, Row),
        seen=(rng.choice(SEEN),) if rng.random() < 0.08 else (),
    )
    for _ in range(rng.choice((0, 0, 1, 1, 2, 3)) if is_careful else 0):
        load = spoil(rng, load)
    return (near_the_line(rng, load, gear) if coils and rng.random() < 0.3 else load), gear


def judged_loads() -> st.SearchStrategy[tuple[Load, GearList]]:
    """Return a strategy over all seeds; a failing seed is its own repetition."""
    return st.integers(min_value=0, max_value=2**32 - 1).map(make)
