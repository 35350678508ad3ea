"""49 CFR 393.114: the front end structure, where cargo rests against it."""

import datetime as dt

from assistant.load.model import Load
from assistant.securement.clause import Useful, found, told, weight_of
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables
from assistant.securement.wording import pounds


def check_front_structure(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge a headerboard or bulkhead of which something was told, against cargo in contact with it.

    Notes
    -----
    A structure lower than 4 ft is enough where it blocks the cargo at that height, which only eyes can tell.

    References
    ----------
    49 CFR 393.114(b)(1), (c)(1)-(2), (d); 393.104(c) for damage.
    """
    front = load.front
    if front is None:
        return []
    findings = [*_height(load, tables, on), *_strength(load, tables, on)]
    row = tables.value("front_openings", on=on)
    text = f"The front end structure must have {row.words}."
    return [*findings, found(row, Status.LOOK, text, topic="front openings", remedy="Look for gaps in the bulkhead.")]


def _height(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    row = tables.value("front_height", on=on)
    height = load.front.height_ft if load.front else None
    if height is None:
        question = "How high is the bulkhead?"
        text = f"The front end structure must reach {row.number:g} ft, or block the cargo lower."
        return [found(row, Status.ASK, text, topic="front height", remedy=question, weight=Useful.DETAIL)]
    steps = (told("height", height, "ft"),)
    if height >= row.number:
        text = f"The front end structure is {height:g} ft high; {row.number:g} ft is asked."
        return [
            found(row, Status.MEETS, text, topic="front height", need=row.number, have=height, unit="ft", steps=steps)
        ]
    text = f"The front end structure is {height:g} ft high: enough only if it blocks the cargo at that height."
    remedy = "Check that the bulkhead stands higher than where the load would strike it."
    return [found(row, Status.LOOK, text, topic="front height", remedy=remedy, steps=steps)]


def _strength(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    front, weight = load.front, weight_of(load)
    height = (front.height_ft if front else None) or 0.0
    tall = height >= tables.value("front_tall", on=on).number
    row = tables.value("front_share", on=on, height="tall" if tall else "low")
    if front is None or weight is None:
        return []
    need = row.number * weight
    if front.rated_lb is None:
        text = f"The front end structure must bear {pounds(need)} forward; its rating was not told."
        question = "What is the bulkhead rated for?"
        return [found(row, Status.ASK, text, topic="front strength", remedy=question, weight=Useful.DETAIL)]
    enough = front.rated_lb >= need
    return [
        found(
            row,
            Status.MEETS if enough else Status.SHORT,
            f"The front end structure is rated {pounds(front.rated_lb)}; it must bear {pounds(need)}.",
            topic="front strength",
            remedy="" if enough else "Keep the load off the bulkhead, and hold it with tiedowns.",
            need=need,
            have=front.rated_lb,
            unit="lb",
            steps=(told("weight", weight, "lb"), told("rated", front.rated_lb, "lb")),
            weight=Useful.BLOCKING,
        )
    ]
