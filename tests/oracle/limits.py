"""49 CFR 393.108 once more: what a tiedown is good for, with the default tables typed from the published text.

Sources: the rules and the chain, webbing, manila and wire rope tables are read (wire rope of 7/8 in and more from
memory); the other ropes are from memory, and so is steel strapping but for its first row.
"""

import math
from dataclasses import dataclass

from assistant.load.model import Gear, GearList, Kind, Tiedown

GRADES = ("30", "43", "70", "80", "100")
CHAIN: dict[float | None, tuple[int | None, ...]] = {
    1 / 4: (1300, 2600, 3150, 3500, 4300),
    5 / 16: (1900, 3900, 4700, 4500, 5700),
    3 / 8: (2650, 5400, 6600, 7100, 8800),
    7 / 16: (3700, 7200, 8750, None, None),
    1 / 2: (4500, 9200, 11300, 12000, 15000),
    5 / 8: (6900, 13000, 15800, 18100, 22600),
}
WEBBING: dict[float | None, int] = {1.75: 1750, 2.0: 2000, 3.0: 3000, 4.0: 4000}
WIRE_ROPE: dict[float | None, int] = {
    1 / 4: 1400,
    5 / 16: 2100,
    3 / 8: 3000,
    7 / 16: 4100,
    1 / 2: 5300,
    5 / 8: 8300,
    3 / 4: 10900,
    7 / 8: 16100,
    1.0: 20900,
}
FIBRES = ("manila", "polypropylene", "polyester", "nylon", "double braided nylon")
ROPE: dict[float | None, tuple[int, ...]] = {
    3 / 8: (205, 400, 555, 278, 336),
    7 / 16: (265, 525, 750, 410, 502),
    1 / 2: (315, 625, 960, 525, 655),
    5 / 8: (465, 925, 1500, 935, 1130),
    3 / 4: (640, 1275, 1880, 1420, 1840),
    1.0: (1050, 2100, 3300, 2520, 3250),
}
STEEL_STRAP: dict[tuple[float | None, float | None], int] = {
    (1.25, 0.029): 1190,
    (1.25, 0.031): 1190,
    (1.25, 0.035): 1190,
    (1.25, 0.044): 1690,
    (1.25, 0.050): 1690,
    (1.25, 0.057): 1925,
    (2.0, 0.044): 2650,
    (2.0, 0.050): 2650,
}


@dataclass(frozen=True)
class Limit:
    """A working load limit (lb) between two bounds; `high` is infinite where nothing told bounds it."""

    low: float
    high: float


UNKNOWN = Limit(0.0, math.inf)


def known(value: float | None) -> Limit:
    """Return a limit that is settled, or the unknown one."""
    return UNKNOWN if value is None else Limit(float(value), float(value))


def like(tiedown: Tiedown, entry: Gear) -> bool:
    """Tell whether nothing told differs from the gear list's entry, so that its marks may speak for the tiedown."""
    return all(
        getattr(tiedown, name) in {None, getattr(entry, name)}
        for name in ("size_in", "thickness_in", "grade", "material")
    )


def material_limit(tiedown: Tiedown, gear: GearList) -> Limit:
    """393.108(a)-(f): the chain, strap or rope itself, without what it hangs on."""
    if tiedown.marked_lb is not None:
        if not tiedown.unmarked:
            return known(tiedown.marked_lb)
        # Both a mark and none were told: the lower of the two.
        table = material_limit(tiedown.model_copy(update={"marked_lb": None}), gear)
        return Limit(min(table.low, tiedown.marked_lb), min(table.high, tiedown.marked_lb))
    # What was not told comes from the gear list, fact by fact; its marks only where nothing told differs.
    entry = gear.of(tiedown.kind) or Gear(kind=tiedown.kind)
    same = like(tiedown, entry)
    unmarked = tiedown.unmarked or (same and entry.unmarked)
    if same and entry.marked_lb is not None and not unmarked:
        return known(entry.marked_lb)
    size = tiedown.size_in or entry.size_in
    grade = tiedown.grade or (None if tiedown.unmarked else entry.grade)
    material = tiedown.material or (None if tiedown.unmarked else entry.material)
    thick = tiedown.thickness_in or entry.thickness_in
    by_kind = {
        Kind.CHAIN: lambda: chain_limit(size, grade, unmarked=unmarked),
        Kind.STRAP: lambda: known(WEBBING.get(size)),
        Kind.WIRE_ROPE: lambda: known(WIRE_ROPE.get(size)),
        Kind.ROPE: lambda: rope_limit(size, material, unmarked=unmarked),
        Kind.STEEL_STRAP: lambda: known(STEEL_STRAP.get((size, thick))),
    }
    return by_kind[tiedown.kind]()


def chain_limit(size: float | None, grade: str | None, *, unmarked: bool) -> Limit:
    """393.108(d): unmarked is grade 30; of a grade that was not told nothing is known but the lowest cell."""
    row = CHAIN.get(size)
    if row is None:
        return UNKNOWN
    if unmarked:
        return known(row[0])
    if grade is None:
        return Limit(min(cell for cell in row if cell is not None), math.inf)
    return known(row[GRADES.index(grade)]) if grade in GRADES else UNKNOWN


def rope_limit(size: float | None, material: str | None, *, unmarked: bool) -> Limit:
    """393.108(c), (f): cordage without a label is polypropylene, manila goes by its diameter."""
    fibres = ROPE.get(size)
    if fibres is None or material not in {None, *FIBRES}:
        return UNKNOWN
    if material is None:
        return known(fibres[1]) if unmarked else Limit(min(fibres), math.inf)
    cell = fibres[FIBRES.index(material)]
    return known(min(cell, fibres[1]) if unmarked and material != "manila" else cell)


def limit_of(tiedown: Tiedown, gear: GearList) -> Limit:
    """393.108(a): the lowest of all components and anchor points that were told of."""
    body = material_limit(tiedown, gear)
    entry = gear.of(tiedown.kind)
    binder = tiedown.binder_lb
    if binder is None and entry is not None and tiedown.kind is Kind.CHAIN:
        # Invented gear says nothing of another chain; one's own binders hold whatever chain there is.
        fits = like(tiedown, entry) and tiedown.marked_lb in {None, entry.marked_lb} and not tiedown.unmarked
        binder = entry.binder_lb if fits or not gear.sample else None
    parts = [part for part in (binder, tiedown.hook_lb, tiedown.winch_lb, tiedown.anchor_lb) if part is not None]
    return Limit(min([body.low, *parts]), min([body.high, *parts]))
