"""Binders: whether there is thread left to take up slack, and whether it is enough for what could give way."""

import datetime as dt

from assistant.load.model import Kind, Load, Path, Tiedown
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables
from assistant.securement.wording import many

_AGAIN = "Back it off, mend the cause, and bind it again."


def check_binders(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge the take-up left on each binder of which something was told.

    Notes
    -----
    Threads or inches: either is enough. A binder without any take-up cannot be tightened on the road (393.112).

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
    Over a surface that gives way by d, a tiedown with two legs at an angle a to that movement goes slack by
    2 d sin a, at most 2 d; one with a single leg (direct) by at most d. The angle of a folding lip is not known, so
    the most is taken. The take-up is what was measured, or threads left times the take-up of one turn as the driver
    measured it: no published lead of a binder's thread was found.

    References
    ----------
    Derived, as above; common practice for what to do.
    """
    slack = load.slack
    parts = {"lip": slack.lip_in, "wrap": slack.wrap_in, "timber": slack.timber_in}
    told_parts = {name: inches for name, inches in parts.items() if inches}
    if not told_parts:
        return []
    gives = sum(told_parts.values())
    return [
        _budget(tiedown, gives, told_parts, tables, on)
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
    row, have = (threads, tiedown.threads_left) if tiedown.threads_left is not None else (inches, tiedown.take_up_in)
    unit = "threads" if row is threads else "in"
    steps = (told("left on the binder", have or 0, unit),)
    if not (tiedown.threads_left or tiedown.take_up_in):
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


def _budget(tiedown: Tiedown, gives: float, parts: dict[str, float], tables: Tables, on: dt.date) -> Finding:
    legs = "one" if tiedown.path is Path.DIRECT else "two"
    row = tables.value("slack_per_inch", on=on, legs=legs)
    slack = gives * row.number
    take_up = _take_up(tiedown)
    names = " and ".join(f"the {name} ({inches:g} in)" for name, inches in parts.items())
    give = "give" if len(parts) > 1 else "gives"
    kinds = many(tiedown.kind)
    steps = (
        told("gives way", gives, "in", names),
        told("slack at most", slack, "in", f"{row.number:g} x {gives:g}"),
        told("take-up left", take_up if take_up is not None else "not known", "in"),
    )
    if take_up is None:
        told_threads = tiedown.threads_left is not None
        question = (
            f"How much {'does one turn of the binder take up' if told_threads else 'take-up is left on the binder'}?"
        )
        text = f"If {names} {give} way the {kinds} go slack by up to {slack:g} in; the binders' take-up is not known."
        return found(row, Status.ASK, text, topic="slack", remedy=question, steps=steps, weight=Useful.TIEDOWNS)
    enough = take_up >= slack
    text = f"If {names} {give} way the {kinds} go slack by up to {slack:g} in; the binders can take up {take_up:g} in."
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
    if tiedown.take_up_in is not None:
        return tiedown.take_up_in
    if tiedown.threads_left is None or tiedown.lead_in is None:
        return None
    return tiedown.threads_left * tiedown.lead_in
