"""Canada, National Safety Code Standard 10: what was read of it. What was not is named, never guessed."""

import datetime as dt
from collections.abc import Sequence

from assistant.load.model import GearList, Load, Path, Tiedown
from assistant.securement.clause import Useful, found, once, told, weight_of
from assistant.securement.finding import Basis, Finding, Judgement, Rated, Status
from assistant.securement.ordering import in_order
from assistant.securement.table_reader import Tables
from assistant.securement.us_393_104 import check_seen, refuse_damaged
from assistant.securement.wording import counted, many

_PARTS = ("binder_lb", "hook_lb", "winch_lb", "anchor_lb")


def judge_canada(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Judgement:
    """Judge a load by what was read of NSC Standard 10.

    Notes
    -----
    Findings are in kilograms; the judgement's sums stay in pounds, as every answer's do. A tiedown counts by its
    maker's mark alone: told, or standing in the gear list. READING: a direct tiedown counts half (the excerpt does not
    settle its cargo end).

    References
    ----------
    NSC Standard 10, June 2013: minimum strength, s. 11(4), friction mats, inspection. Division 3 was not seen.
    """
    if not (load.coils or load.articles or load.tiedowns or load.seen):
        return Judgement()
    rated = tuple(_rate(tiedown, gear, tables, on) for tiedown in load.tiedowns)
    weight = weight_of(load)
    needed = None if weight is None else weight * tables.value("nsc_aggregate_share", on=on).number
    unknown = any(one.wll_lb is None for one in rated)
    have = None if unknown or not rated else sum(one.counts_lb for one in rated)
    findings = [*check_seen(load=load, tables=tables, on=on), *refuse_damaged(load=load, tables=tables, on=on)]
    findings += _check_marks(rated, tables, on)
    findings.append(_check_aggregate(needed, have, unknown=unknown, any_told=bool(rated), tables=tables, on=on))
    findings += _named(load, tables, on)
    ordered = in_order(findings)
    assumed = [
        f"The {many(one.tiedown.kind)} are taken to reach the other side of the vehicle."
        for one in rated
        if one.tiedown.path is None
    ]
    assumed += [f"Gear list: {many(one.tiedown.kind)} marked." for one in rated if one.basis is not Basis.MARKED]
    return Judgement(
        findings=ordered,
        rated=rated,
        needed_lb=needed,
        counted_lb=have,
        assumed=once(["Rules of Canada: NSC Standard 10, June 2013, as far as it was read.", *assumed]),
        asks=once([finding.remedy for finding in ordered if finding.status is Status.ASK]),
    )


def marked_lb(tiedown: Tiedown, gear: GearList) -> tuple[float | None, Basis]:
    """Return the working load limit by the maker's mark [lb], the lowest of the parts told; None where none was told.

    References
    ----------
    NSC Standard 10, s. 11(4) (read).
    """
    entry = gear.of(tiedown.kind)
    listed = Basis.SAMPLE_GEAR if gear.sample else Basis.GEAR_LIST
    mark, basis = tiedown.marked_lb, Basis.MARKED
    if mark is None and entry and not tiedown.unmarked and tiedown.size_in in {None, entry.size_in}:
        mark, basis = entry.marked_lb, listed
    parts = [value for value in (mark, *(getattr(tiedown, part) for part in _PARTS)) if value is not None]
    return (min(parts) if mark is not None else None), basis


def _rate(tiedown: Tiedown, gear: GearList, tables: Tables, on: dt.date) -> Rated:
    limit, basis = marked_lb(tiedown, gear)
    path = tiedown.path or Path.ACROSS
    share = tables.value("nsc_counts_as", on=on, path=str(path))
    usable = 0.0 if tiedown.unmarked or tiedown.damaged else limit
    counts = tiedown.count * share.number * (usable or 0.0)
    wll = 0.0 if tiedown.unmarked else limit
    trace = (share.step(f"{tiedown.count} x {share.number:g} x {wll or 0:,.0f} = {counts:,.0f} lb"),)
    governs = str(tiedown.kind)
    return Rated(tiedown=tiedown, wll_lb=wll, basis=basis, path=path, counts_lb=counts, governs=governs, trace=trace)


def _check_marks(rated: Sequence[Rated], tables: Tables, on: dt.date) -> list[Finding]:
    row = tables.value("nsc_marked", on=on)
    findings = []
    for one in rated:
        kinds = many(one.tiedown.kind)
        steps = (told("tiedowns", counted(one.tiedown.count, str(one.tiedown.kind))),)
        if one.tiedown.unmarked:
            text = f"The {kinds} bear no marks: in Canada {row.words}."
            remedy = f"Use {kinds} that are marked."
            findings.append(
                found(row, Status.STOP, text, topic="marks", remedy=remedy, steps=steps, weight=Useful.DANGER)
            )
        elif one.wll_lb is None:
            text = f"The mark on the {kinds} was not told; {row.words}."
            question = f"What working load limit is marked on the {kinds}?"
            findings.append(
                found(row, Status.ASK, text, topic="marks", remedy=question, steps=steps, weight=Useful.MARK)
            )
    return findings


def _check_aggregate(
    needed_lb: float | None, have_lb: float | None, *, unknown: bool, any_told: bool, tables: Tables, on: dt.date
) -> Finding:
    row = tables.value("nsc_aggregate_share", on=on)
    each = tables.value("kilograms_in_a_pound", on=on).number
    need = None if needed_lb is None else needed_lb * each
    have = None if have_lb is None else have_lb * each
    if need is None or have is None:
        question = "What does the load weigh?" if need is None else "" if unknown else "What holds it?"
        if unknown and need is not None:
            question = "What is marked on the tiedowns?"
        text = "The aggregate working load limit must reach half the weight; what was told does not settle it."
        weight = Useful.WEIGHT if need is None else Useful.TIEDOWNS if not any_told else Useful.DETAIL
        return found(row, Status.ASK, text, topic="aggregate", remedy=question, need=need, unit="kg", weight=weight)
    enough = have >= need
    return found(
        row,
        Status.MEETS if enough else Status.SHORT,
        f"Half the weight is {need:,.0f} kg; the tiedowns count {have:,.0f} kg.",
        topic="aggregate",
        remedy="" if enough else f"Add tiedowns that count {need - have:,.0f} kilograms more.",
        need=round(need, 3),
        have=round(have, 3),
        unit="kg",
        steps=(told("half the weight", round(need, 1), "kg"), told("counted", round(have, 1), "kg")),
        weight=Useful.TIEDOWNS,
    )


def _named(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Name what was not seen, and what only eyes can check."""
    findings = []
    number = tables.value("nsc_number", on=on)
    if load.articles:
        text = f"The number of tiedowns by length was not checked: {number.words}."
        findings.append(found(number, Status.OUTSIDE, text, topic="count"))
    if load.coils:
        row = tables.value("nsc_coils", on=on)
        text = f"Coils were not checked by their own division: {row.words}."
        findings.append(found(row, Status.OUTSIDE, text, topic="coils", remedy="Go by the printed standard for coils."))
    if load.support.mats and load.support.mats_rated_g is None:
        row = tables.value("nsc_mats", on=on)
        text = f"The mats count for nothing unless they are marked: {row.words}."
        findings.append(found(row, Status.LOOK, text, topic="mats", remedy="Read the mark on the mats."))
    first, later = tables.value("nsc_first_look", on=on), tables.value("nsc_later_look", on=on)
    hours = tables.value("nsc_later_hours", on=on)
    text = (
        f"Next stop within {first.number:g} km of where it was loaded, then at each change of duty status, after "
        f"{hours.number:g} hours or after {later.number:g} km, whichever comes first."
    )
    findings.append(
        found(first, Status.LOOK, text, topic="next look", steps=(later.step(), hours.step()),
              remedy=f"Stop and look within {first.number:g} km.")
    )  # fmt: skip
    force = tables.value("nsc_force", on=on, direction="forward")
    text = f"No component may exceed its working load limit at {force.number:g} g forward, 0.5 g rearward and sideways."
    return [*findings, found(force, Status.LOOK, text, topic="forces")]
