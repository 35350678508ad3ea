"""NSC Standard 10, number of tiedowns: from memory, and borne out by one manual's example."""

import datetime as dt
import math
from collections.abc import Sequence

from assistant.load.model import Article, Load, Through
from assistant.securement.clause import Useful, found, number_of, told, usual_kind
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables, Value
from assistant.securement.wording import counted

_FINE = 4  # decimals of a foot: metres told come here as feet, and the spans stand in the table to four places


def least_tiedowns(
    *, length_ft: float, weight_lb: float, blocked_forward: bool, tables: Tables, on: dt.date
) -> tuple[int, Value]:
    """Return the least number of tiedowns for one article, and the row that sets it.

    Parameters
    ----------
    length_ft
        Length of the article [ft].
    weight_lb
        Weight of the article [lb].
    blocked_forward
        Whether something keeps it from moving forward.
    tables, on
        The tables and the day.

    Notes
    -----
    "Or less" and "or part thereof": 1.52 m and 500 kg still need one, 3.04 m two, anything beyond it three. READING:
    the same scheme as 49 CFR 393.110 in metric figures.

    References
    ----------
    NSC Standard 10, number of tiedowns (memory); ICBC manual, 3.65 m not kept from moving forward: three (read).
    """
    length_ft = round(length_ft, _FINE)
    span = tables.value("nsc_article_span", on=on)
    if blocked_forward:
        return math.ceil(length_ft / span.number), span
    if length_ft <= tables.value("nsc_short_article", on=on).number:
        # Kilograms told come here as pounds: a last binary digit must not make 500 kg heavier than 500 kg.
        weight_kg = round(weight_lb * tables.value("kilograms_in_a_pound", on=on).number, _FINE)
        light = weight_kg <= tables.value("nsc_light_article", on=on).number
        row = tables.value("nsc_article_tiedowns", on=on, case="short and light" if light else "short and heavy")
        return int(row.number), row
    row = tables.value("nsc_article_tiedowns", on=on, case="longer")
    if length_ft <= span.number:
        return int(row.number), row
    return int(row.number) + math.ceil((length_ft - span.number) / span.number), span


def check_number(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge whether there are enough tiedowns for the articles beside the coils.

    Notes
    -----
    What was not told is tried both ways. Too few for the milder way is short, between the two the fact is asked for.
    Enough for the stricter way is `outside`, never `meets`: the text was not seen, and with coils on deck neither was
    how many of the tiedowns those take up.

    References
    ----------
    As `least_tiedowns`.
    """
    sound = [one for one in load.tiedowns if not one.damaged]
    if not load.articles or not sound:
        return []
    have = number_of([one for one in sound if not (load.coils and one.through is Through.EYE)])
    every = [_cases(article, tables, on) for article in load.articles]
    pairs = list(zip(load.articles, every, strict=True))
    low = sum(article.count * min(number for number, _ in cases) for article, cases in pairs)
    high = sum(article.count * max(number for number, _ in cases) for article, cases in pairs)
    row = max((case for cases in every for case in cases), key=lambda case: case[0])[1]
    long = next((article.name for article in load.articles if article.length_ft is None), None)
    status, remedy, need = Status.OUTSIDE, "Look it up in the printed standard.", high
    if have < low:
        more = "" if low == high and long is None else "at least "
        status, need = Status.SHORT, low
        remedy = f"Add {more}{counted(low - have, str(usual_kind(sound)))}."
    elif long is not None:
        status, remedy, need = Status.ASK, f"How long is the {long}?", low
    elif have < high:
        status, remedy, need = Status.ASK, _question(load.articles, every), low
    text = f"By length and weight, from memory, at least {counted(need, 'tiedown')}; {have} told."
    if load.coils:
        text += " How many of those the coils take up was not checked."
    lengths = ", ".join("not told" if one.length_ft is None else f"{one.length_ft:g} ft" for one in load.articles)
    steps = (told("length", lengths), told("tiedowns", have))
    return [
        found(
            row,
            status,
            text,
            topic="count",
            remedy=remedy,
            need=need,
            have=have,
            unit="tiedowns",
            steps=steps,
            weight=Useful.DIRECTION,
        )
    ]


def _cases(article: Article, tables: Tables, on: dt.date) -> list[tuple[int, Value]]:
    """Return the least numbers over all that the untold facts may turn out to be."""
    if article.length_ft is None:
        row = tables.value("nsc_article_tiedowns", on=on, case="short and light")
        return [(int(row.number), row)]
    weights = (0.0, math.inf) if article.weight_lb is None else (article.weight_lb,)
    ways = (True, False) if article.blocked_forward is None else (article.blocked_forward,)
    return [
        least_tiedowns(length_ft=article.length_ft, weight_lb=weight_lb, blocked_forward=blocked, tables=tables, on=on)
        for blocked in ways
        for weight_lb in weights
    ]


def _question(articles: Sequence[Article], every: Sequence[Sequence[tuple[int, Value]]]) -> str:
    """Ask for the first fact that decides."""
    open_ones = [
        article for article, cases in zip(articles, every, strict=True) if len({number for number, _ in cases}) > 1
    ]
    article = open_ones[0]
    if article.blocked_forward is None:
        return f"Is the {article.name} blocked against moving forward?"
    return f"What does the {article.name} weigh?"
