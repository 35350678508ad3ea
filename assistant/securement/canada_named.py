"""NSC Standard 10: what was not seen of it is named, and what only eyes can check is pointed out."""

import datetime as dt

from assistant.load.model import Load
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables


def name_unseen(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Name the parts of the standard that were not seen and apply, and what is to be looked at.

    References
    ----------
    NSC Standard 10: division on metal coils (not seen), friction mats, rub rails, performance criteria, inspection.
    """
    return [
        *_name_divisions(load, tables, on),
        *_look_at_mats(load, tables, on),
        _look_at_forces(tables, on),
        *_look_at_rub_rails(load, tables, on),
        _next_look(tables, on),
    ]


def _name_divisions(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    findings = []
    if load.coils:
        row = tables.value("nsc_coils", on=on)
        text = f"Coils were not checked by their own division: {row.words}."
        remedy = "Go by the printed standard for coils."
        findings.append(found(row, Status.OUTSIDE, text, topic="coils", remedy=remedy, weight=Useful.SUPPORT))
    for name in dict.fromkeys(article.name for article in load.articles):
        # Goods with a section of their own in the United States are taken to have a division in Canada.
        if tables.lookup("commodity", on=on, name=name) is None:
            continue
        row = tables.value("nsc_goods", on=on)
        text = f"Whether a division of its own governs the {name} was not checked: {row.words}."
        remedy = f"Look up the {name} in the printed standard."
        findings.append(found(row, Status.OUTSIDE, text, topic="commodity", remedy=remedy, weight=Useful.DETAIL))
    return findings


def _look_at_mats(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    if not load.support.mats:
        return []
    row = tables.value("nsc_mats", on=on)
    marked_g = load.support.mats_rated_g
    if marked_g is None:
        text = f"The mats count for nothing unless they are marked: {row.words}."
        return [found(row, Status.LOOK, text, topic="mats", remedy="Read the mark on the mats.")]
    text = f"The mats are marked {marked_g:g} g; how far that counts was not read, so it counts for nothing here."
    return [found(row, Status.LOOK, text, topic="mats", steps=(told("mark", marked_g, "g"),))]


def _look_at_forces(tables: Tables, on: dt.date) -> Finding:
    ways = {way: tables.value("nsc_force", on=on, direction=way) for way in ("forward", "rearward", "lateral")}
    down = tables.value("nsc_downward", on=on)
    held = ", ".join(f"{row.number:g} g {way}" for way, row in ways.items())
    return found(
        ways["forward"],
        Status.LOOK,
        f"No component may exceed its limit at {held}, and {down.number:.0%} of the weight must press down.",
        topic="forces",
        steps=(ways["rearward"].step(), ways["lateral"].step(), down.step()),
    )


def _look_at_rub_rails(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    if not load.tiedowns:
        return []
    row = tables.value("nsc_rub_rails", on=on)
    return [found(row, Status.LOOK, f"Rub rails: {row.words}.", topic="rub rails")]


def _next_look(tables: Tables, on: dt.date) -> Finding:
    first, later = tables.value("nsc_first_look", on=on), tables.value("nsc_later_look", on=on)
    hours = tables.value("nsc_later_hours", on=on)
    return found(
        first,
        Status.LOOK,
        f"Next stop within {first.number:g} km of where it was loaded, then at each change of duty status, after "
        f"{hours.number:g} hours or after {later.number:g} km, whichever comes first.",
        topic="next look",
        remedy=f"Stop and look within {first.number:g} km.",
        steps=(later.step(), hours.step()),
        weight=Useful.DETAIL,
    )
