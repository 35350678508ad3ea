"""Canada, National Safety Code Standard 10: what was read of it. What was not is named, never guessed."""

import datetime as dt
import math
from collections.abc import Sequence

from assistant.load.model import Gear, GearList, Load, Path, Tiedown
from assistant.securement.any_rules import check_condition
from assistant.securement.canada_named import name_unseen
from assistant.securement.canada_number import check_number
from assistant.securement.clause import Useful, articles_on, found, once, told, weight_of
from assistant.securement.coil_group import is_over
from assistant.securement.finding import Basis, Finding, Judgement, Rated, Status
from assistant.securement.ordering import in_order
from assistant.securement.rating import Rating
from assistant.securement.ratings import rate_all
from assistant.securement.table_reader import Tables
from assistant.securement.wording import counted, many, pounds
from assistant.securement.yard import look_at_yard_move

_DESCRIBED = ("size_in", "thickness_in", "grade", "material")
_EDITION = "Rules of Canada: NSC Standard 10, June 2013, as far as it was read."
_DIRECT = "A direct tiedown counts half: what was read of the Canadian text does not settle its end at the cargo."
_PARTS = "Hooks, binders, winches and anchor points that were not described are taken as marked, and no weaker."


def judge_canada(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Judgement:
    """Judge a load by what was read of NSC Standard 10.

    Parameters
    ----------
    load
        What was told.
    tables
        The regulation tables.
    gear
        The driver's gear list; a mark that stands in it counts as read.
    on
        The day whose values count.

    Returns
    -------
    Judgement
        Findings worst first, in kilograms; the two sums stay in pounds, as every answer's do.

    Raises
    ------
    BeforeFirstRowError
        The day is before the first row of a table.

    Notes
    -----
    A tiedown counts by its maker's mark alone: told, or standing in the gear list. READING: a direct tiedown counts
    half (the excerpt does not settle its cargo end).

    References
    ----------
    NSC Standard 10, June 2013: minimum strength, s. 11(4), friction mats, inspection (read); number of tiedowns (from
    memory, and one manual's example). The division on metal coils was not seen.
    """
    if load.untold:
        return Judgement()
    ratings = rate_all(load=load, tables=tables, gear=gear, on=on)
    rated = tuple(_rate(one, gear, tables, on) for one in ratings)
    sound = tuple(one for one in rated if not one.tiedown.damaged)
    weight_lb = weight_of(load)
    share = tables.value("nsc_aggregate_share", on=on).number
    needed_lb = share * weight_lb if weight_lb else None
    unknown = any(one.wll_lb is None for one in sound)
    counted_lb = None if unknown or not rated else sum(one.counts_lb for one in sound)
    findings, assumed = check_condition(load=load, tables=tables, on=on)
    if load.yard:
        more, taken = look_at_yard_move(load=load, rated=[one.rated for one in ratings], tables=tables, on=on)
        findings, assumed = [*findings, *more], [*assumed, *taken]
    else:
        findings += _check_marks(sound, tables, on)
        if articles_on(load) or load.tiedowns:
            findings.append(_check_aggregate(load, sound, needed_lb, tables, on))
        findings += _ask_direct(load, sound, needed_lb, counted_lb, tables, on)
        findings += check_number(load=load, tables=tables, on=on)
        findings += name_unseen(load=load, tables=tables, on=on)
        assumed = [*_assumptions(load, sound, gear), *assumed]
    ordered = in_order(findings)
    return Judgement(
        findings=ordered,
        rated=rated,
        needed_lb=needed_lb,
        counted_lb=counted_lb,
        assumed=once([_EDITION, *assumed]),
        asks=once([finding.remedy for finding in ordered if finding.status is Status.ASK]),
    )


def mark_from(tiedown: Tiedown, *, gear: GearList) -> Basis | None:
    """Return where a tiedown's mark comes from: told, or the gear list where nothing told differs from its entry.

    Notes
    -----
    None where no mark is known: no default table stands in.

    References
    ----------
    NSC Standard 10, s. 11(4) (read).
    """
    entry = gear.of(tiedown.kind)
    if without_mark(tiedown, gear=gear):
        return None
    if tiedown.marked_lb is not None:
        return Basis.MARKED
    if entry is None or entry.marked_lb is None or not _as_listed(tiedown, entry):
        return None
    return Basis.SAMPLE_GEAR if gear.sample else Basis.GEAR_LIST


def without_mark(tiedown: Tiedown, *, gear: GearList) -> bool:
    """Tell whether a tiedown bears no mark: told so, or listed so in the gear list.

    References
    ----------
    NSC Standard 10, s. 11(4) (read).
    """
    entry = gear.of(tiedown.kind)
    listed = entry is not None and entry.unmarked and _as_listed(tiedown, entry)
    return tiedown.unmarked or (listed and tiedown.marked_lb is None)


def _as_listed(tiedown: Tiedown, entry: Gear) -> bool:
    return all(getattr(tiedown, name) in {None, getattr(entry, name)} for name in _DESCRIBED)


def _rate(one: Rating, gear: GearList, tables: Tables, on: dt.date) -> Rated:
    """Return a group as Canada counts it: by its mark, and one half for each end section at the vehicle."""
    tiedown = one.rated.tiedown
    path = tiedown.path or Path.ACROSS
    share = tables.value("nsc_counts_as", on=on, path=str(path))
    basis = mark_from(tiedown, gear=gear)
    if basis is None:
        row = tables.value("nsc_marked", on=on)
        wll_lb = 0.0 if without_mark(tiedown, gear=gear) else None
        said = "no mark: limit zero" if wll_lb == 0 else "mark not told"
        return one.rated.model_copy(
            update={
                "wll_lb": wll_lb,
                "basis": Basis.MARKED,
                "path": path,
                "counts_lb": 0.0,
                "governs": str(tiedown.kind),
                "trace": (row.step(said),),
            }
        )
    limit_lb = one.rated.wll_lb or 0.0
    counts_lb = 0.0 if tiedown.damaged else tiedown.count * share.number * limit_lb
    steps = (
        told(f"limit of one {tiedown.kind} by its mark", limit_lb, "lb", f"lowest part: {one.rated.governs}"),
        share.step(f"{tiedown.count} x {share.number:g} x {limit_lb:,.0f} = {counts_lb:,.0f} lb"),
    )
    own = {"basis": basis} if one.rated.governs == tiedown.kind else {}
    return one.rated.model_copy(update={"path": path, "counts_lb": counts_lb, "trace": steps, **own})


def _assumptions(load: Load, rated: Sequence[Rated], gear: GearList) -> list[str]:
    source = "Sample gear list" if gear.sample else "Gear list"
    sentences = []
    for one in rated:
        kinds = many(one.tiedown.kind)
        if one.tiedown.path is None:
            sentences.append(f"The {kinds} are taken to have both ends at the vehicle.")
        if mark_from(one.tiedown, gear=gear) in {Basis.SAMPLE_GEAR, Basis.GEAR_LIST} and one.wll_lb is not None:
            sentences.append(f"{source}: {kinds} marked, {pounds(one.wll_lb)} each.")
        if one.path is Path.DIRECT:
            sentences.append(_DIRECT)
        if one.tiedown.doubled:
            sentences.append("A doubled tiedown is counted as one.")
    if rated:
        sentences.append(_PARTS)
        if articles_on(load) > 1:
            sentences.append("The tiedowns are summed over the whole load; each article alone needs half its weight.")
    return sentences


def _check_marks(rated: Sequence[Rated], tables: Tables, on: dt.date) -> list[Finding]:
    """Stop gear without marks, ask for marks not told, and point at those of the other parts."""
    row = tables.value("nsc_marked", on=on)
    findings = []
    for one in rated:
        kinds = many(one.tiedown.kind)
        steps = (told("tiedowns", counted(one.tiedown.count, str(one.tiedown.kind))),)
        if one.wll_lb is None:
            text = f"The mark on the {kinds} was not told; {row.words}."
            question = f"What working load limit is marked on the {kinds}?"
            findings.append(
                found(row, Status.ASK, text, topic="marks", remedy=question, steps=steps, weight=Useful.MARK)
            )
        elif one.wll_lb == 0:
            text = f"The {kinds} bear no marks: in Canada {row.words}."
            remedy = f"Use {kinds} that are marked."
            findings.append(
                found(row, Status.STOP, text, topic="marks", remedy=remedy, steps=steps, weight=Useful.DANGER)
            )
    if rated:
        text = f"Each part of a tiedown must be marked too: {row.words}."
        remedy = "Read the marks on binders, hooks, winches and anchor points."
        findings.append(found(row, Status.LOOK, text, topic="marks of parts", remedy=remedy))
    return findings


def _check_aggregate(
    load: Load, rated: Sequence[Rated], needed_lb: float | None, tables: Tables, on: dt.date
) -> Finding:
    """Judge half the weight against what the marked tiedowns count; exactly half is enough."""
    row = tables.value("nsc_aggregate_share", on=on)
    each_kg = tables.value("kilograms_in_a_pound", on=on).number
    have_lb = sum(one.counts_lb for one in rated)
    have = round(have_lb * each_kg, 3)
    need = None if needed_lb is None else round(needed_lb * each_kg, 3)
    if needed_lb is None or need is None:
        question = "What does the load weigh?" if articles_on(load) else "What is on the deck?"
        text = "The aggregate working load limit must reach half the weight; a weight was not told."
        return found(row, Status.ASK, text, topic="aggregate", remedy=question, unit="kg", weight=Useful.WEIGHT)
    if not rated:
        text = f"Half the weight is {need:,.0f} kg; no tiedown was told that may be used."
        return found(
            row, Status.ASK, text, topic="aggregate", remedy="What holds it?", need=need, unit="kg",
            weight=Useful.TIEDOWNS,
        )  # fmt: skip
    text = f"Half the weight is {need:,.0f} kg; the tiedowns count {have:,.0f} kg."
    remedy, status = "", Status.MEETS
    # Kilograms told come here as pounds: a last binary digit lost on the way must not turn "exactly half" into short.
    if have_lb < needed_lb and not math.isclose(have_lb, needed_lb, rel_tol=1e-9):
        status, remedy = Status.SHORT, f"Add tiedowns that count {math.ceil(need - have):,.0f} kilograms more."
        blank = next((one for one in rated if one.wll_lb is None), None)
        if blank is not None:
            status, remedy = Status.ASK, f"What working load limit is marked on the {many(blank.tiedown.kind)}?"
            text = f"Half the weight is {need:,.0f} kg; the tiedowns of known mark count {have:,.0f} kg."
    return found(
        row,
        status,
        text,
        topic="aggregate",
        remedy=remedy,
        need=need,
        have=have,
        unit="kg",
        steps=(
            told("half the weight", need, "kg", "share x weight"),
            *(told(f"{one.tiedown.count} x {one.tiedown.kind}", round(one.counts_lb * each_kg, 3), "kg", f"{one.path}")
              for one in rated),
            told("aggregate working load limit", have, "kg", "sum"),
        ),
        weight=Useful.TIEDOWNS,
    )  # fmt: skip


def _ask_direct(
    load: Load, rated: Sequence[Rated], needed_lb: float | None, counted_lb: float | None, tables: Tables, on: dt.date
) -> list[Finding]:
    """Ask whether tiedowns hook to the article, where counting those half would leave the load short."""
    row = tables.value("nsc_counts_as", on=on, path=str(Path.DIRECT))
    # Nothing hooks to a coil itself, and what goes over the top has both ends at the vehicle.
    open_ones = [one for one in rated if load.articles and one.tiedown.path is None and not is_over(one.tiedown)]
    if needed_lb is None or counted_lb is None or counted_lb < needed_lb:
        return []
    worst_lb = counted_lb - (1 - row.number) * sum(one.counts_lb for one in open_ones)
    if worst_lb >= needed_lb:
        return []
    each_kg = tables.value("kilograms_in_a_pound", on=on).number
    need, have = round(needed_lb * each_kg, 3), round(worst_lb * each_kg, 3)
    return [
        found(
            row,
            Status.ASK,
            f"If the tiedowns hook to the article itself they count half: {have:,.0f} of {need:,.0f} kg.",
            topic="path",
            remedy="Do any tiedowns hook to the article itself?",
            need=need,
            have=have,
            unit="kg",
            weight=Useful.PATH,
        )
    ]
