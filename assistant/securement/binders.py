"""Binders: whether there is thread left to take up slack, and whether it is enough for what could give way."""

import datetime as dt
import math

from assistant.load.model import Kind, Load, Path, Through, Tiedown
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables
from assistant.securement.wording import many

_SHOWN_PARTS = 10
"""Slack is shown in tenths of an inch, rounded up: never less than it may be."""
_AGAIN = "Back it off, mend the cause, and bind it again."


def check_binders(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge the take-up left on each binder of which something was told.

    Notes
    -----
    Threads or inches: either is enough. A binder without any take-up cannot be tightened on the road (393.112). Where
    both were told and one of them is none, the binder is taken as bottomed out: the worse of two tellings counts.

    References
    ----------
    Common practice, no source: three threads, or a quarter inch. 49 CFR 393.112.
    """
    findings = []
    for tiedown in load.tiedowns:
        if tiedown.threads_left is None and tiedown.take_up_in is None:
            continue
        findings.append(_check_take_up(tiedown, tables, on))
    return findings


def check_slack(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Weigh the slack that would appear against what each binder can still take up.

    Notes
    -----
    Where the whole coil drops by d, as on a timber that crushes, each leg shortens by at most d (by d sin a for a leg
    at an angle a with the deck): at most 2 d for two legs and d for one (direct). The same holds for a lip or wrap
    that gives way at the edge of the eye, where the tiedown bears on points. Where it bears on an arc, over the top,
    and that arc settles by d all along, the tight course shortens by d times the angle it turns through: dL/dR of a
    string round a circle is its angle of contact, at most half a turn for legs that run straight down or outward, so
    at most pi d. Angles are not known, so the most is taken, and the most too where the course was not told. Not
    covered: a course that turns through more than half a turn.

    The take-up is what was measured, or threads left times the take-up of one turn as the driver measured it, the
    less where both are known: no published lead of a binder's thread was found.

    References
    ----------
    Derived, as above; common practice for what to do.
    """
    slack = load.slack
    parts = {"lip": slack.lip_in, "wrap": slack.wrap_in, "timber": slack.timber_in}
    told_parts = {name: inches for name, inches in parts.items() if inches}
    if not told_parts:
        return []
    return [
        _budget(tiedown, told_parts, tables, on)
        for tiedown in load.tiedowns
        if tiedown.kind is not Kind.STEEL_STRAP and not tiedown.damaged
    ]


def check_adjustable(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge tiedowns told not to be tightenable on the road; steel strapping need not be.

    References
    ----------
    49 CFR 393.112.
    """
    row = tables.value("adjustable", on=on)
    return [
        found(
            row,
            Status.SHORT,
            f"The {many(tiedown.kind)} told as not adjustable must be {row.words}.",
            topic="adjustable",
            remedy=f"Use {many(tiedown.kind)} that you can tighten on the road.",
            steps=(told("adjustable", "no"),),
            weight=Useful.TIEDOWNS,
        )
        for tiedown in load.tiedowns
        if tiedown.adjustable is False and tiedown.kind is not Kind.STEEL_STRAP
    ]


def _check_take_up(tiedown: Tiedown, tables: Tables, on: dt.date) -> Finding:
    threads, inches = tables.value("binder_threads", on=on), tables.value("binder_take_up", on=on)
    by_threads = tiedown.threads_left is not None and tiedown.threads_left >= threads.number
    by_inches = tiedown.take_up_in is not None and tiedown.take_up_in >= inches.number
    in_threads = tiedown.threads_left is not None and (by_threads or not by_inches)
    row, have = (threads, tiedown.threads_left) if in_threads else (inches, tiedown.take_up_in)
    unit = "threads" if in_threads else "in"
    measures = ((tiedown.threads_left, "threads"), (tiedown.take_up_in, "in"))
    steps = tuple(told("left on the binder", left, of) for left, of in measures if left is not None)
    if 0 in {tiedown.threads_left, tiedown.take_up_in}:
        clause = tables.value("adjustable", on=on)
        text = f"The binders of the {many(tiedown.kind)} have no take-up left: they cannot be tightened on the road."
        return found(clause, Status.STOP, text, topic="binder", remedy=_AGAIN, steps=steps, weight=Useful.DANGER)
    text = (
        f"Left on the binders of the {many(tiedown.kind)}: {have:g} {unit}; {row.number:g} or more is common practice."
    )
    enough = by_threads or by_inches
    return found(
        row,
        Status.MEETS if enough else Status.SHORT,
        text,
        topic="binder",
        remedy="" if enough else _AGAIN,
        need=row.number,
        have=have,
        unit=unit,
        steps=steps,
        weight=Useful.TIEDOWNS,
    )


def _budget(tiedown: Tiedown, parts: dict[str, float], tables: Tables, on: dt.date) -> Finding:
    bears = {name: _bears(tiedown, name) for name in parts}
    rates = {how: tables.value("slack_per_inch", on=on, bears=how) for how in dict.fromkeys(bears.values())}
    row = max(rates.values(), key=lambda rate: rate.number)
    slack = sum(rates[bears[name]].number * inches for name, inches in parts.items())
    sums = " + ".join(f"{rates[bears[name]].number:g} x {inches:g}" for name, inches in parts.items())
    shown = math.ceil(slack * _SHOWN_PARTS) / _SHOWN_PARTS
    take_up = _take_up(tiedown)
    names = " and ".join(f"the {name} ({inches:g} in)" for name, inches in parts.items())
    give = "give" if len(parts) > 1 else "gives"
    kinds = many(tiedown.kind)
    steps = (
        *(rate.step() for rate in rates.values() if rate is not row),
        told("gives way", sum(parts.values()), "in", names),
        told("slack at most", slack, "in", sums),
        told("take-up left", take_up if take_up is not None else "not known", "in"),
    )
    if take_up is None:
        told_threads = tiedown.threads_left is not None
        question = (
            f"How much {'does one turn of the binder take up' if told_threads else 'take-up is left on the binder'}?"
        )
        text = f"If {names} {give} way the {kinds} go slack by up to {shown:g} in; the binders' take-up is not known."
        return found(row, Status.ASK, text, topic="slack", remedy=question, steps=steps, weight=Useful.TIEDOWNS)
    enough = take_up >= slack
    text = f"If {names} {give} way the {kinds} go slack by up to {shown:g} in; the binders can take up {take_up:g} in."
    return found(
        row,
        Status.MEETS if enough else Status.SHORT,
        text,
        topic="slack",
        remedy="" if enough else _AGAIN,
        need=slack,
        have=take_up,
        unit="in",
        steps=steps,
        weight=Useful.TIEDOWNS,
    )


def _take_up(tiedown: Tiedown) -> float | None:
    """Return the inches a binder can still take up; None where neither they nor the turn's take-up were told."""
    known = [] if tiedown.take_up_in is None else [tiedown.take_up_in]
    if tiedown.threads_left == 0:
        known.append(0.0)
    elif tiedown.threads_left is not None and tiedown.lead_in is not None:
        known.append(tiedown.threads_left * tiedown.lead_in)
    return min(known, default=None)


def _bears(tiedown: Tiedown, part: str) -> str:
    """Return how a tiedown bears on what gives way, as the table of slack is keyed."""
    if tiedown.path is Path.DIRECT:
        return "one leg"
    return "two legs" if part == "timber" or tiedown.through is Through.EYE else "an arc"
