"""49 CFR 393.110: the least number of tiedowns by length and weight."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.load.model import Article, Coil, Kind, Support
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables, Value
from assistant.securement.wording import counted


@dataclass(frozen=True, slots=True)
class Least:
    """The least number of tiedowns for one article, and the row that sets it."""

    number: int
    row: Value


@dataclass(frozen=True, slots=True)
class _Range:
    """Least numbers over all that the untold facts may turn out to be; `open_end` when no length was told."""

    low: int
    high: int
    open_end: bool
    row: Value


def least_unblocked(*, length_ft: float, weight_lb: float, tables: Tables, on: dt.date) -> Least:
    """Return the least number for one article that nothing blocks forward.

    Parameters
    ----------
    length_ft
        Length of the article [ft].
    weight_lb
        Weight of the article [lb].

    Notes
    -----
    "Or less" and "or fraction thereof": 5 ft and 1,100 lb still need one, 10 ft two, anything beyond 10 ft three.

    References
    ----------
    49 CFR 393.110(b).
    """
    span = tables.value("article_span", on=on, blocked="no")
    if length_ft <= tables.value("short_article_length", on=on).number:
        light = weight_lb <= tables.value("light_article_weight", on=on).number
        row = tables.value("article_tiedowns", on=on, case="short and light" if light else "short and heavy")
        return Least(int(row.number), row)
    row = tables.value("article_tiedowns", on=on, case="longer")
    if length_ft <= span.number:
        return Least(int(row.number), row)
    return Least(int(row.number) + math.ceil((length_ft - span.number) / span.number), span)


def least_blocked(*, length_ft: float, tables: Tables, on: dt.date) -> Least:
    """Return the least number for one article that is blocked forward: one for each span or part of it.

    References
    ----------
    49 CFR 393.110(c).
    """
    span = tables.value("article_span", on=on, blocked="yes")
    return Least(math.ceil(length_ft / span.number), span)


def check_articles(
    *, articles: Sequence[Article], have: int, kind: Kind, tables: Tables, on: dt.date, whose: str = "told"
) -> list[Finding]:
    """Judge whether there are enough tiedowns for the articles that are no coils under the coil rule.

    Parameters
    ----------
    articles
        The articles, each with its own length, weight and blocking.
    have
        Tiedowns told for them.
    kind
        Kind that a remedy names.
    whose
        How the text calls the tiedowns: "told", or what is left of those told.

    Notes
    -----
    What was not told is tried both ways: enough for the stricter way meets, too few for the milder way is short,
    between the two the fact is asked for.

    References
    ----------
    49 CFR 393.110(b), (c).
    """
    if not articles:
        return []
    ranges = [_range(article, tables, on) for article in articles]
    low = sum(article.count * one.low for article, one in zip(articles, ranges, strict=True))
    high = sum(article.count * one.high for article, one in zip(articles, ranges, strict=True))
    strictest = max(ranges, key=lambda one: (one.high, one.row.ref))
    open_end = any(one.open_end for one in ranges)
    if have < low:
        more = "" if low == high and not open_end else "at least "
        status, remedy = Status.SHORT, f"Add {more}{counted(low - have, str(kind))}."
    elif open_end or have < high:
        status, remedy = Status.ASK, _question(articles, tables, on)
    else:
        status, remedy = Status.MEETS, ""
    need = high if status is Status.MEETS or low == high else low
    ranged = low != high and not open_end
    span = f"between {low} and {high}" if ranged else f"at least {need}"
    lengths = ", ".join(
        "not told" if article.length_ft is None else f"{article.length_ft:g} ft" for article in articles
    )
    return [
        found(
            strictest.row,
            status,
            f"By length and weight {span} {'tiedown' if need == 1 and not ranged else 'tiedowns'}; {have} {whose}.",
            topic="count",
            remedy=remedy,
            need=need,
            have=have,
            unit="tiedowns",
            steps=(told("length", lengths), told("tiedowns", have)),
            weight=Useful.DIRECTION,
        )
    ]


def as_articles(
    *, coils: Sequence[Coil], support: Support, tables: Tables, on: dt.date
) -> tuple[tuple[Article, ...], str]:
    """Return coils below the coil rule as plain articles, with the sentence about the length that was assumed."""
    row = tables.value("small_coil_length", on=on)
    articles = tuple(
        Article(
            name="coil",
            count=coil.count,
            weight_lb=coil.weight_lb,
            length_ft=row.number,
            blocked_forward=support.blocked_forward,
        )
        for coil in coils
    )
    return articles, f"The coil is taken as not longer than {row.number:g} ft."


def _range(article: Article, tables: Tables, on: dt.date) -> _Range:
    if article.length_ft is None:
        row = tables.value("article_tiedowns", on=on, case="short and light")
        return _Range(low=int(row.number), high=int(row.number), open_end=True, row=row)
    heavy_lb = math.inf
    weights = (0.0, heavy_lb) if article.weight_lb is None else (article.weight_lb,)
    cases = []
    if article.blocked_forward is not True:
        cases += [
            least_unblocked(length_ft=article.length_ft, weight_lb=weight_lb, tables=tables, on=on)
            for weight_lb in weights
        ]
    if article.blocked_forward is not False:
        cases.append(least_blocked(length_ft=article.length_ft, tables=tables, on=on))
    most = max(cases, key=lambda case: case.number)
    return _Range(low=min(case.number for case in cases), high=most.number, open_end=False, row=most.row)


def _question(articles: Sequence[Article], tables: Tables, on: dt.date) -> str:
    for article in articles:
        if article.length_ft is None:
            return f"How long is the {article.name}?"
    short_ft = tables.value("short_article_length", on=on).number
    for article in articles:
        if article.weight_lb is None and (article.length_ft or 0) <= short_ft and article.blocked_forward is False:
            return f"What does the {article.name} weigh?"
    name = next((article.name for article in articles if article.blocked_forward is None), articles[0].name)
    return f"Is the {name} blocked against moving forward?"
