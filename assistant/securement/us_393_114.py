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
    A structure lower than 4 ft is enough where it blocks the cargo at that height, which only eyes can tell. A damaged
    structure stops the load, and what it is rated for is not relied upon. Where the height was not told, a rating
    that is enough for either share meets, one too low for both is short, and one between the two is asked.

    References
    ----------
    49 CFR 393.114(b)(1)-(2), (c)(1)-(2), (d), (e); 393.104(c) for damage.
    """
    front = load.front
    if front is None:
        return []
    judged = _refuse_damaged(tables, on) if front.damaged else _strength(load, tables, on)
    findings = [*_height(load, tables, on), *judged]
    return [*findings, *_look_at_front(tables, on)]


def _look_at_front(tables: Tables, on: dt.date) -> list[Finding]:
    """Point out what only eyes can check: openings, width, and what stands in for the structure."""
    openings, width, other = (tables.value(f"front_{name}", on=on) for name in ("openings", "width", "substitute"))
    return [
        found(
            openings,
            Status.LOOK,
            f"The front end structure must have {openings.words}.",
            topic="front openings",
            remedy="Look for gaps in the bulkhead.",
        ),
        found(
            width,
            Status.LOOK,
            f"The front end structure must be {width.words}.",
            topic="front width",
            remedy="Check that no cargo stands out past the sides of the bulkhead.",
        ),
        found(
            other,
            Status.LOOK,
            f"What stands in for a front end structure must be {other.words}.",
            topic="front substitute",
            remedy="Where it is no bulkhead, check that it is as strong as one.",
        ),
    ]


def _refuse_damaged(tables: Tables, on: dt.date) -> list[Finding]:
    row = tables.value("front_condition", on=on)
    text = f"The front end structure was told as damaged; it must be {row.words}."
    remedy = "Keep the load off the bulkhead, or have it mended first."
    steps = (told("front end structure", "damaged"),)
    return [found(row, Status.STOP, text, topic="front condition", remedy=remedy, steps=steps, weight=Useful.DANGER)]


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
    if front is None or weight is None:
        return []
    low, tall = (tables.value("front_share", on=on, height=height) for height in ("low", "tall"))
    row = tall if front.height_ft and front.height_ft >= tables.value("front_tall", on=on).number else low
    need = row.number * weight
    least = tall.number * weight
    if front.height_ft is None and front.rated_lb is not None and least <= front.rated_lb < need:
        text = (
            f"The front end structure is rated {pounds(front.rated_lb)}; by its height, which was not told, it must "
            f"bear {pounds(least)} or {pounds(need)}."
        )
        question = "How high is the bulkhead?"
        return [found(row, Status.ASK, text, topic="front strength", remedy=question, weight=Useful.DETAIL)]
    if front.height_ft is None and front.rated_lb is not None and front.rated_lb < least:
        row, need = tall, least
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
