"""Advice: how many tiedowns of a kind a load needs, and what one of them is good for."""

import datetime as dt
import math

from assistant.load.model import Eye, GearList, Kind, Load, Path, Row, Tiedown
from assistant.securement.clause import Useful, found, told, weight_of
from assistant.securement.finding import Finding, Rated, Status
from assistant.securement.rating import rate, rating
from assistant.securement.ratings import path_if_untold
from assistant.securement.table_reader import Tables, Value
from assistant.securement.us_393_106 import needed_aggregate_lb
from assistant.securement.us_393_110 import as_articles, least_blocked, least_unblocked
from assistant.securement.us_393_120 import in_scope
from assistant.securement.wording import counted, described, many, pounds

_SINGLES = {
    Eye.CROSSWISE: ("crosswise forward", "crosswise rearward"),
    Eye.VERTICAL: ("vertical diagonal", "vertical over"),
    Eye.LENGTHWISE: ("lengthwise front", "lengthwise rear"),
}


def wll_of(tiedown: Tiedown, *, tables: Tables, on: dt.date) -> Rated:
    """Return what one tiedown is good for by its own marks and the tables, no gear list added.

    Parameters
    ----------
    tiedown
        What was told of it.
    tables
        The regulation tables.
    on
        The day whose values count.

    References
    ----------
    49 CFR 393.108.
    """
    return rate(tiedown, tables=tables, gear=GearList(), on=on)


def how_many(load: Load, *, kind: Kind, tables: Tables, gear: GearList, on: dt.date, spare: int = 0) -> Finding:
    """Return the least number of one kind of tiedown that meets half the weight and the least count, all alone.

    Parameters
    ----------
    load
        What was told. Tiedowns of that kind give size, grade, marks and path; other kinds are left out of the sum.
    kind
        The kind to count.
    tables, gear, on
        The tables, the gear list for what was not told, and the day.
    spare
        How many more to put on than the least.

    Returns
    -------
    Finding
        `need` is the least number, `have` that number with the spare ones; `ask` when a fact is missing.

    Notes
    -----
    A path that was not told counts as going across. A length or an eye direction that was not told leaves the count
    by weight alone, and the text says so.

    References
    ----------
    49 CFR 393.106(d), 393.110, 393.120.
    """
    rule = tables.value("aggregate_share", on=on)
    needed_lb = needed_aggregate_lb(load=load, tables=tables, on=on)
    if needed_lb is None:
        question = "What does the load weigh?" if len(load.coils) != 1 else "What does the coil weigh?"
        return found(
            rule,
            Status.ASK,
            "The count goes by half the weight, and a weight was not told.",
            topic="advice",
            remedy=question,
            weight=Useful.WEIGHT,
        )
    template = next((one for one in load.tiedowns if one.kind is kind), Tiedown(kind=kind))
    path = path_if_untold(template, load=load)
    one = rating(template.model_copy(update={"count": 1}), tables=tables, gear=gear, on=on, path=path)
    if one.missing or one.rated.wll_lb is None:
        text, question = (one.missing.text, one.missing.question) if one.missing else ("", "")
        return found(rule, Status.ASK, text, topic="advice", remedy=question, weight=Useful.MARK)
    by_weight = math.ceil(needed_lb / one.rated.counts_lb)
    by_count, row, unknown = least_count(load=load, tables=tables, on=on)
    least = max(by_weight, by_count)
    number = least + spare
    sum_lb = number * one.rated.counts_lb
    course = "across" if one.rated.path is Path.ACROSS else f"counted half, {one.rated.path}"
    text = (
        f"Half the weight is {pounds(needed_lb)}: {counted(number, str(kind))} of {pounds(one.rated.wll_lb)}, "
        f"{course}, count {pounds(sum_lb)}."
    )
    if by_count > by_weight and row is not None:
        text += f" {row.clause} wants at least {by_count}."
    text += unknown
    assumed = " ".join(one.assumed)
    return found(
        rule if by_weight >= by_count or row is None else row,
        Status.MEETS,
        text,
        topic="advice",
        remedy=f"Put on {counted(number, str(kind))}.",
        need=least,
        have=number,
        unit="tiedowns",
        steps=(
            told("weight of the load", weight_of(load) or 0, "lb"),
            told("half the weight", needed_lb, "lb", "share x weight"),
            *one.rated.trace,
            told(
                f"{many(kind)} by weight", by_weight, "tiedowns", f"{needed_lb:,.0f} / {one.rated.counts_lb:,.0f}, up"
            ),
            told(f"{many(kind)} by count", by_count, "tiedowns", "least count of the clauses"),
            told(f"gear: {described(template)}", one.rated.counts_lb, "lb", assumed or "told"),
        ),
    )


def least_count(*, load: Load, tables: Tables, on: dt.date) -> tuple[int, Value | None, str]:
    """Return the least number of tiedowns by the clauses, the row that asks for most, and what could not be counted.

    References
    ----------
    49 CFR 393.110, 393.120.
    """
    total = 0
    unknown = ""
    rows: list[Value] = []
    articles = load.articles
    if in_scope(coils=load.coils, tables=tables, on=on):
        for eye in Eye:
            number = sum(coil.count for coil in load.coils if coil.eye is eye)
            if number:
                least, row = _least_for_coils(eye, number, load.row, tables, on)
                total += least
                rows.append(row)
        if any(coil.eye is None for coil in load.coils):
            unknown = " The eye's direction was not told, so its own least count is not in this."
    else:
        small, _ = as_articles(coils=load.coils, support=load.support, tables=tables, on=on)
        articles = (*small, *articles)
    for article in articles:
        if article.length_ft is None or article.weight_lb is None:
            unknown += f" The {article.name}'s length was not told, so its least count is not in this."
            continue
        if article.blocked_forward:
            one = least_blocked(length_ft=article.length_ft, tables=tables, on=on)
        else:
            one = least_unblocked(length_ft=article.length_ft, weight_lb=article.weight_lb, tables=tables, on=on)
        total += article.count * one.number
        rows.append(one.row)
    return total, rows[0] if rows else None, unknown


def _least_for_coils(eye: Eye, number: int, row: Row | None, tables: Tables, on: dt.date) -> tuple[int, Value]:
    clauses, times = _SINGLES[eye], number
    if number > 1 and eye is Eye.VERTICAL and row is not None:
        ends = [tables.value("coil_tiedowns", on=on, clause=f"vertical row {end}") for end in ("front", "rear")]
        over = tables.value("coil_tiedowns", on=on, clause="vertical row over")
        each = 1 if row is Row.TRANSVERSE else number
        return int(sum(end.number for end in ends) + each * over.number), over
    if number > 1 and eye is Eye.LENGTHWISE and row is Row.TRANSVERSE:
        clauses, times = ("lengthwise row front", "lengthwise row rear"), 1
    rows = [tables.value("coil_tiedowns", on=on, clause=clause) for clause in clauses]
    return int(sum(one.number for one in rows)) * times, rows[0]
