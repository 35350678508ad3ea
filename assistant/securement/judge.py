"""The judgement of a whole load: every rule that applies, worst and most useful first."""

import datetime as dt
from collections.abc import Sequence

from assistant.load.model import Article, Eye, GearList, Load, Through
from assistant.securement.binders import check_adjustable, check_binders, check_slack
from assistant.securement.clause import (
    Useful,
    articles_on,
    found,
    number_of,
    once,
    usual_kind,
)
from assistant.securement.commodities import name_other_rules
from assistant.securement.cradle import check_support_ratings, look_at_cradle, look_at_cradle_sliding
from assistant.securement.finding import Finding, Judgement, Status
from assistant.securement.ordering import in_order
from assistant.securement.rating import Rating
from assistant.securement.ratings import (
    ask_limits,
    clear_paths,
    look_at_doubled,
    look_at_marks,
    rate_all,
    rating_assumptions,
)
from assistant.securement.table_reader import Tables
from assistant.securement.us_392_9 import next_look
from assistant.securement.us_393_104 import check_seen, look_at_devices, look_at_edges, refuse_damaged
from assistant.securement.us_393_106 import (
    check_aggregate,
    check_each_article,
    check_paths,
    check_rolling,
    counted_aggregate_lb,
    look_beside,
    needed_aggregate_lb,
)
from assistant.securement.us_393_110 import as_articles, check_articles
from assistant.securement.us_393_114 import check_front_structure
from assistant.securement.us_393_120 import check_coils, in_scope
from assistant.securement.yard import look_at_yard_move

_SUMMED = "The tiedowns are summed over the whole load."


def judge(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Judgement:
    """Judge a load by the US rule.

    Parameters
    ----------
    load
        What was told.
    tables
        The regulation tables.
    gear
        The driver's gear list, for what was not told of the tiedowns.
    on
        The day whose values count.

    Returns
    -------
    Judgement
        All findings, worst and most useful first; the sums of 393.106(d) [lb]; what was assumed and what to ask. An
        empty load has no findings.

    Raises
    ------
    BeforeFirstRowError
        The day is before the first row of a table.

    References
    ----------
    49 CFR 392.9, 393.104, 393.106, 393.108, 393.110, 393.120.
    """
    if load.untold:
        return Judgement()
    every = rate_all(load=load, tables=tables, gear=gear, on=on)
    findings = [*check_seen(load=load, tables=tables, on=on), *refuse_damaged(load=load, tables=tables, on=on)]
    # A damaged tiedown is shown with the others and counts for nothing: the clauses see the sound ones alone.
    load = load.model_copy(update={"tiedowns": tuple(one for one in load.tiedowns if not one.damaged)})
    ratings = tuple(one for one in every if not one.rated.tiedown.damaged)
    if load.yard:
        rated = tuple(one.rated for one in ratings)
        more, assumed = look_at_yard_move(load=load, rated=rated, tables=tables, on=on)
    else:
        more, assumed = _check_for_road(load, ratings, tables, on)
    findings += more
    ordered = in_order(findings)
    return Judgement(
        findings=ordered,
        rated=tuple(rating.rated for rating in every),
        needed_lb=needed_aggregate_lb(load=load, tables=tables, on=on),
        counted_lb=counted_aggregate_lb(ratings=ratings),
        assumed=once(assumed),
        asks=once([finding.remedy for finding in ordered if finding.status is Status.ASK]),
    )


def _check_for_road(
    load: Load, ratings: Sequence[Rating], tables: Tables, on: dt.date
) -> tuple[list[Finding], list[str]]:
    """Judge by every clause that applies on a public road."""
    assumed = rating_assumptions(ratings=ratings)
    clear = clear_paths(load=load)
    findings: list[Finding] = []
    if load.coils or load.articles or load.tiedowns:
        findings += check_aggregate(load=load, ratings=ratings, clear=clear, tables=tables, on=on)
    findings += ask_limits(ratings=ratings, tables=tables, on=on)
    findings += check_paths(load=load, ratings=ratings, clear=clear, tables=tables, on=on)
    if articles_on(load):
        cargo_findings, cargo_assumed = _check_cargo(load, ratings, clear, tables, on)
        findings += cargo_findings
        assumed += cargo_assumed
    if load.tiedowns:
        findings += look_at_doubled(load=load, tables=tables, on=on)
        findings += [
            look_at_marks(tables=tables, on=on),
            look_at_devices(tables=tables, on=on),
            look_at_edges(tiedowns=load.tiedowns, tables=tables, on=on),
        ]
    return findings + check_gear_and_support(load=load, tables=tables, on=on), assumed


def check_gear_and_support(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge what was told of binders, slack, cradle, ratings and front end structure; nothing told, nothing said."""
    return [
        *check_adjustable(load=load, tables=tables, on=on),
        *check_binders(load=load, tables=tables, on=on),
        *check_slack(load=load, tables=tables, on=on),
        *check_support_ratings(load=load, tables=tables, on=on),
        *look_at_cradle(load=load, tables=tables, on=on),
        *look_at_cradle_sliding(load=load, tables=tables, on=on),
        *check_front_structure(load=load, tables=tables, on=on),
    ]


def _check_cargo(
    load: Load, ratings: Sequence[Rating], clear: Sequence[bool], tables: Tables, on: dt.date
) -> tuple[list[Finding], list[str]]:
    """Judge coils and other articles by their own clauses."""
    findings = check_each_article(load=load, ratings=ratings, clear=clear, tables=tables, on=on)
    findings += name_other_rules(load=load, tables=tables, on=on)
    findings.append(next_look(tables=tables, on=on))
    assumed = [_SUMMED] if articles_on(load) > 1 and load.tiedowns else []
    articles: tuple[Article, ...] = load.articles
    left = load.tiedowns
    if in_scope(coils=load.coils, tables=tables, on=on):
        coils = check_coils(load=load, tables=tables, on=on)
        findings += coils.findings
        assumed += coils.assumed
        # A tiedown through a coil's eye holds that coil and nothing beside it.
        left = tuple(tiedown for tiedown in coils.left if tiedown.through is not Through.EYE)
    elif load.coils:
        small, sentence = as_articles(coils=load.coils, support=load.support, tables=tables, on=on)
        articles = (*small, *articles)
        assumed.append(sentence)
        findings += _check_small_coils(load, tables, on)
    if load.articles:
        findings.append(check_rolling(tables=tables, on=on))
    findings += look_beside(load=load, tables=tables, on=on)
    if load.tiedowns:
        kind = usual_kind(load.tiedowns)
        whose = "told" if left == load.tiedowns else "not taken up by coils"
        counts = check_articles(articles=articles, have=number_of(left), kind=kind, tables=tables, on=on, whose=whose)
        # Enough for coils and goods together may be too few beside those that a coil's eye takes up.
        free = tuple(tiedown for tiedown in left if tiedown.through is not Through.EYE)
        if load.coils and len(free) < len(left):
            whose = "not through a coil's eye"
            beside = check_articles(
                articles=load.articles, have=number_of(free), kind=kind, tables=tables, on=on, whose=whose
            )
            counts += [one for one in beside if one.status not in {Status.MEETS, *(count.status for count in counts)}]
        findings += counts
    return findings, assumed


def _check_small_coils(load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge what keeps coils below the coil rule from rolling; upright ones do not roll."""
    row = tables.value("rolling_restraint", on=on)
    support = load.support
    if all(coil.eye is Eye.VERTICAL for coil in load.coils):
        return []
    rests = (support.timbers or 0) + (support.wedges or 0)
    if rests >= tables.value("rests_least", on=on).number or support.cradle:
        return [found(row, Status.MEETS, "Timbers, wedges or a cradle keep the coil from rolling.", topic="rolling")]
    none = None not in {support.timbers, support.wedges, support.cradle} or rests > 0
    if none and not any(coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE} for coil in load.coils):
        text = f"Which way the eye points was not told; a coil that can roll needs {row.words}."
        question = "Which way does the eye point: up, to the side, or lengthwise?"
        return [found(row, Status.ASK, text, topic="rolling", remedy=question, weight=Useful.EYE)]
    return [
        found(
            row,
            Status.SHORT if none else Status.ASK,
            f"A coil that can roll needs {row.words}.",
            topic="rolling",
            remedy="Set wedges or timbers against the coil." if none else "What keeps the coil from rolling?",
            weight=Useful.SUPPORT,
        )
    ]
