"""Rating: what one group of tiedowns is worth, from what was told and from the gear list."""

import datetime as dt
from dataclasses import dataclass

from assistant.load.model import Gear, GearList, Kind, Path, Tiedown
from assistant.securement.finding import Basis, Rated, Step
from assistant.securement.table_reader import Tables
from assistant.securement.us_393_108 import (
    Component,
    Limit,
    Missing,
    default_limit,
    limit_by_mark,
    lowest_component,
)
from assistant.securement.wording import described, many, pounds

_TAKEN = ("size_in", "thickness_in", "grade", "material")


@dataclass(frozen=True, slots=True)
class Rating:
    """A rated group, with what had to be assumed and, where it has no limit, what to ask."""

    rated: Rated
    assumed: tuple[str, ...]
    missing: Missing | None = None
    path_told: bool = True


def rate(tiedown: Tiedown, *, tables: Tables, gear: GearList, on: dt.date) -> Rated:
    """Return a group of like tiedowns with its working load limit and its share of the aggregate settled.

    Parameters
    ----------
    tiedown
        What was told. It beats the gear list's entry of that kind, fact by fact.
    tables
        The regulation tables.
    gear
        The driver's gear list, for what was not told.
    on
        The day whose values count.

    Returns
    -------
    Rated
        `wll_lb` of each one [lb], None where it cannot be known; `counts_lb` of the group [lb].

    Notes
    -----
    A tiedown whose path was not told counts as going across; `judge` says so.

    References
    ----------
    49 CFR 393.106(d), 393.108.
    """
    return rating(tiedown, tables=tables, gear=gear, on=on).rated


def rating(tiedown: Tiedown, *, tables: Tables, gear: GearList, on: dt.date, path: Path = Path.ACROSS) -> Rating:
    """Return a rated group with its assumptions; `path` is what a path not told is taken to be."""
    entry = gear.of(tiedown.kind)
    source = "Sample gear list" if gear.sample else "Gear list"
    listed = Basis.SAMPLE_GEAR if gear.sample else Basis.GEAR_LIST
    whole = _completed(tiedown, entry)
    taken = [name for name in _TAKEN if getattr(whole, name) is not None and getattr(tiedown, name) is None]
    limit, basis = _own_limit(tiedown, entry, whole, listed if taken else Basis.TABLE, listed, tables, on)
    chosen = tiedown.path or path
    if isinstance(limit, Missing):
        rated = Rated(tiedown=tiedown, wll_lb=None, basis=basis, path=chosen, counts_lb=0, governs=str(tiedown.kind))
        return Rating(rated=rated, assumed=(), missing=limit, path_told=tiedown.path is not None)
    components = [Component(str(tiedown.kind), limit.lb), *_told_parts(tiedown)]
    assumed = list(limit.assumed)
    if basis is listed:
        assumed.append(f"{source}: {described(whole, mark=False)}, WLL {pounds(limit.lb)}.")
    if tiedown.kind is Kind.CHAIN and tiedown.binder_lb is None:
        binder_lb = _listed_binder(tiedown, entry, sample=gear.sample)
        if binder_lb is None:
            assumed.append("Binders that were not described are taken as no weaker than their chain.")
        else:
            components.append(
                Component("binder", binder_lb, Step(what="binder", value=binder_lb, unit="lb", formula=source))
            )
            assumed.append(f"{source}: binder marked {pounds(binder_lb)}.")
    lowest = lowest_component(components=components)
    if lowest.name != tiedown.kind:
        basis = Basis.MARKED if lowest.step is None else listed
    share = tables.value("counts_as", on=on, path=str(chosen))
    counts_lb = 0.0 if tiedown.damaged else tiedown.count * share.number * lowest.lb
    trace = (
        *limit.steps,
        *(_part_step(component) for component in components[1:]),
        Step(
            what=f"limit of one {tiedown.kind}",
            value=lowest.lb,
            unit="lb",
            ref=tables.value("lowest_component", on=on).ref,
            mark=tables.value("lowest_component", on=on).mark,
            formula=f"lowest part: {lowest.name}",
        ),
        share.step(
            "damaged: counts nothing"
            if tiedown.damaged
            else f"{tiedown.count} x {share.number:g} x {lowest.lb:,.0f} = {counts_lb:,.0f} lb"
        ),
    )
    rated = Rated(
        tiedown=tiedown,
        whole=whole if basis is listed else None,
        wll_lb=lowest.lb,
        basis=basis,
        path=chosen,
        counts_lb=counts_lb,
        governs=lowest.name,
        trace=trace,
    )
    return Rating(rated=rated, assumed=tuple(assumed), path_told=tiedown.path is not None)


def path_assumption(kind: Kind) -> str:
    """Return the sentence that owns up to a path that was not told."""
    return f"The {many(kind)} are taken to go over, through or round to the other side of the vehicle."


def _completed(tiedown: Tiedown, entry: Gear | None) -> Tiedown:
    """Return the tiedown with what was not told filled in from the gear list's entry."""
    if entry is None or (tiedown.marked_lb is not None and not tiedown.unmarked):
        return tiedown
    unmarked = tiedown.unmarked or (entry.unmarked and _as_listed(tiedown, entry))
    update: dict[str, object] = {
        name: getattr(entry, name)
        for name in _TAKEN
        if getattr(tiedown, name) is None and not (name == "grade" and unmarked)
    }
    if _as_listed(tiedown, entry) and not unmarked:
        update["marked_lb"] = entry.marked_lb
    return tiedown.model_copy(update={**update, "unmarked": unmarked})


def _as_listed(tiedown: Tiedown, entry: Gear) -> bool:
    """Tell whether nothing that was told differs from the entry: only then do its marks belong to this tiedown."""
    return all(getattr(tiedown, name) in {None, getattr(entry, name)} for name in _TAKEN)


def _own_limit(  # noqa: PLR0913, PLR0917 - one decision with all its inputs, used once
    tiedown: Tiedown,
    entry: Gear | None,
    whole: Tiedown,
    by_table: Basis,
    listed: Basis,
    tables: Tables,
    on: dt.date,
) -> tuple[Limit | Missing, Basis]:
    """Return the limit of the chain, strap or rope itself, and where it comes from."""
    if tiedown.marked_lb is not None and not tiedown.unmarked:
        return limit_by_mark(marked_lb=tiedown.marked_lb, told=True, tables=tables, on=on), Basis.MARKED
    if entry is not None and whole.marked_lb is not None and not whole.unmarked:
        return limit_by_mark(marked_lb=whole.marked_lb, told=False, tables=tables, on=on), listed
    limit = default_limit(
        kind=tiedown.kind,
        size_in=whole.size_in,
        thickness_in=whole.thickness_in,
        grade=whole.grade,
        material=whole.material,
        unmarked=whole.unmarked,
        tables=tables,
        on=on,
    )
    if tiedown.marked_lb is not None and isinstance(limit, Limit) and tiedown.marked_lb < limit.lb:
        # A mark and no mark were both told: the lower one counts, whichever is true.
        return limit_by_mark(marked_lb=tiedown.marked_lb, told=True, tables=tables, on=on), Basis.MARKED
    return limit, by_table


def _listed_binder(tiedown: Tiedown, entry: Gear | None, *, sample: bool) -> float | None:
    """Return the binder's mark [lb] from the gear list.

    The driver's own binders are what they own, so they bound any chain. The invented ones match the invented chain
    and say nothing about another.
    """
    if entry is None or entry.binder_lb is None:
        return None
    same = _as_listed(tiedown, entry) and tiedown.marked_lb in {None, entry.marked_lb} and not tiedown.unmarked
    return entry.binder_lb if same or not sample else None


def _told_parts(tiedown: Tiedown) -> list[Component]:
    parts = {
        "binder": tiedown.binder_lb,
        "hook": tiedown.hook_lb,
        "winch": tiedown.winch_lb,
        "anchor": tiedown.anchor_lb,
    }
    return [Component(name, lb) for name, lb in parts.items() if lb is not None]


def _part_step(component: Component) -> Step:
    return component.step or Step(what=component.name, value=component.lb, unit="lb", formula="told")
