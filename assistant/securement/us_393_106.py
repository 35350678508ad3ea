"""49 CFR 393.106: the aggregate working load limit, and articles that may roll."""

import datetime as dt
import math
from collections.abc import Sequence

from assistant.load.model import Load, Path, Row, Through
from assistant.securement.clause import Useful, articles_on, cargo, found, number_of, told, usual_kind, weight_of
from assistant.securement.finding import Finding, Status, Step
from assistant.securement.rating import Rating
from assistant.securement.table_reader import Tables
from assistant.securement.wording import counted, described, many, pounds

_TOPIC = "aggregate"


def needed_aggregate_lb(*, load: Load, tables: Tables, on: dt.date) -> float | None:
    """Return the aggregate working load limit that the load needs [lb], None when a weight was not told.

    References
    ----------
    49 CFR 393.106(d).
    """
    weight_lb = weight_of(load)
    if not weight_lb:
        return None
    return tables.value("aggregate_share", on=on).number * weight_lb


def counted_aggregate_lb(*, ratings: Sequence[Rating]) -> float | None:
    """Return what all tiedowns count [lb], None while there is none or one of them has no limit.

    References
    ----------
    49 CFR 393.106(d)(1) to (3).
    """
    if not ratings or any(rating.missing for rating in ratings):
        return None
    return sum(rating.rated.counts_lb for rating in ratings)


def check_aggregate(
    *, load: Load, ratings: Sequence[Rating], clear: Sequence[bool], tables: Tables, on: dt.date
) -> list[Finding]:
    """Judge whether the tiedowns count for half the weight of everything on deck.

    Parameters
    ----------
    load, ratings
        The load and its rated tiedowns, group by group.
    clear
        For each group, whether what was told of it leaves no doubt that it goes across.
    tables, on
        The tables and the day.

    Notes
    -----
    Exactly half is enough ("at least"). Tiedowns without a known limit count nothing; if the others suffice the line
    is met, otherwise their limit is asked for. Where a path not told was counted half and the full count would do, the
    path is asked for.

    References
    ----------
    49 CFR 393.106(d).
    """
    rule = tables.value("aggregate_share", on=on)
    if not articles_on(load):
        return [_ask(rule_of=tables, on=on, text="Nothing on the deck was told.", question="What is on the deck?")]
    needed_lb = needed_aggregate_lb(load=load, tables=tables, on=on)
    have_lb = sum(rating.rated.counts_lb for rating in ratings)
    findings: list[Finding] = []
    if needed_lb is None:
        findings.append(_ask_weight(load=load, ratings=ratings, tables=tables, on=on))
    if not ratings:
        half = f"Half the weight is {pounds(needed_lb)}; no tiedown was told." if needed_lb else "No tiedown was told."
        findings.append(
            _ask(rule_of=tables, on=on, text=half, question="What holds it?", need=needed_lb, weight=Useful.TIEDOWNS)
        )
    if findings or needed_lb is None:
        return findings
    status, remedy = _sum_status(needed_lb, ratings, tables, on)
    text = f"Half the weight is {pounds(needed_lb)}; these tiedowns count {pounds(have_lb)}."
    if any(rating.missing for rating in ratings):
        text = f"Half the weight is {pounds(needed_lb)}; the tiedowns of known limit count {pounds(have_lb)}."
    worst_lb = have_lb - sum(_loss(rating, tables, on) for rating in _doubtful(ratings, clear))
    if status is Status.MEETS and worst_lb < needed_lb:
        text += f" Only {pounds(worst_lb)} count if those whose path was not told do not reach the other side."
    return [
        found(
            rule,
            status,
            text,
            topic=_TOPIC,
            remedy=remedy,
            need=needed_lb,
            have=have_lb,
            unit="lb",
            steps=(*_weights(load), *_sum_steps(ratings, needed_lb, have_lb)),
            weight=Useful.TIEDOWNS,
        )
    ]


def check_paths(
    *, load: Load, ratings: Sequence[Rating], clear: Sequence[bool], tables: Tables, on: dt.date
) -> list[Finding]:
    """Ask for the paths not told, where counting those half would leave the load short.

    Parameters
    ----------
    load, ratings
        The load and its rated tiedowns, group by group.
    clear
        For each group, whether what was told of it leaves no doubt that it goes across.
    tables, on
        The tables and the day.

    References
    ----------
    49 CFR 393.106(d)(1), (2).
    """
    doubtful = _doubtful(ratings, clear)
    needed_lb = needed_aggregate_lb(load=load, tables=tables, on=on)
    have_lb = sum(rating.rated.counts_lb for rating in ratings)
    if not doubtful or needed_lb is None or have_lb < needed_lb:
        return []
    lost_lb = sum(_loss(rating, tables, on) for rating in doubtful)
    if have_lb - lost_lb >= needed_lb:
        return []
    row = tables.value("counts_as", on=on, path=str(Path.SAME_SIDE))
    kinds = {rating.rated.tiedown.kind for rating in doubtful}
    them = many(kinds.pop()) if len(kinds) == 1 else "tiedowns"
    direct = ", or do some hook to the article or come back to the same side" if load.articles else ""
    return [
        found(
            row,
            Status.ASK,
            f"If the {them} come back to the same side or hook to the article, they count half: "
            f"{pounds(have_lb - lost_lb)} of {pounds(needed_lb)}.",
            topic="path",
            remedy=f"Do all the {them} reach the other side{direct}?",
            need=needed_lb,
            have=have_lb - lost_lb,
            unit="lb",
            weight=Useful.PATH,
        )
    ]


def check_each_article(
    *, load: Load, ratings: Sequence[Rating], clear: Sequence[bool], tables: Tables, on: dt.date
) -> list[Finding]:
    """Point out that a sum over the whole load does not show that each article has its half.

    Notes
    -----
    What goes through a coil's eye holds that coil. Where the rest is less than half the weight of the other articles,
    those are short whatever the sum over the whole load.

    References
    ----------
    49 CFR 393.106(d), "an article or group of articles".
    """
    if articles_on(load) < 2:  # noqa: PLR2004 - more than one
        return []
    return [
        *_check_beside_coils(load, ratings, clear, tables, on),
        found(
            tables.value("aggregate_share", on=on),
            Status.LOOK,
            f"The sum is over all {articles_on(load)} articles; each one alone needs half its own weight.",
            topic="each article",
            remedy="Check that each article alone has half its weight.",
            weight=Useful.DETAIL,
        ),
    ]


def _check_beside_coils(
    load: Load, ratings: Sequence[Rating], clear: Sequence[bool], tables: Tables, on: dt.date
) -> list[Finding]:
    """Judge the articles beside coils by the tiedowns that do not go through a coil's eye."""
    beside = load.model_copy(update={"coils": ()})
    needed_lb = needed_aggregate_lb(load=beside, tables=tables, on=on)
    kept = [place for place, one in enumerate(ratings) if one.rated.tiedown.through is not Through.EYE]
    others = [ratings[place] for place in kept]
    if not load.coils or needed_lb is None or len(others) == len(ratings) or any(one.missing for one in others):
        return []
    have_lb = sum(rating.rated.counts_lb for rating in others)
    if have_lb >= needed_lb:
        return check_paths(load=beside, ratings=others, clear=[clear[place] for place in kept], tables=tables, on=on)
    return [
        found(
            tables.value("aggregate_share", on=on),
            Status.SHORT,
            f"Half the weight beside the coils is {pounds(needed_lb)}; what does not go through a coil's eye counts "
            f"{pounds(have_lb)}.",
            topic="beside coils",
            remedy=f"Add tiedowns over the {load.articles[0].name}.",
            need=needed_lb,
            have=have_lb,
            unit="lb",
            steps=(*_weights(beside), *_sum_steps(others, needed_lb, have_lb)),
            weight=Useful.TIEDOWNS,
        )
    ]


def look_beside(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Point out what articles, or coils in a transverse row, need side by side under transverse tiedowns.

    References
    ----------
    49 CFR 393.106(c)(2).
    """
    coils = sum(coil.count for coil in load.coils) if load.row is Row.TRANSVERSE else 0
    if max(coils, sum(article.count for article in load.articles)) < 2:  # noqa: PLR2004 - beside each other takes two
        return []
    row = tables.value("beside_each_other", on=on)
    what = "Coils" if coils > 1 else "Articles"
    text = f"{what} beside each other under one tiedown must be {row.words}."
    return [found(row, Status.LOOK, text, topic="beside", remedy="Check that they touch, or cannot shift together.")]


def check_rolling(*, tables: Tables, on: dt.date) -> Finding:
    """Point out that whatever can roll needs chocks, wedges, a cradle or the like.

    References
    ----------
    49 CFR 393.106(c)(1).
    """
    row = tables.value("rolling_restraint", on=on)
    return found(
        row, Status.LOOK, f"If it can roll it needs {row.words}.", topic="rolling", remedy="Check that it cannot roll."
    )


def _ask_weight(*, load: Load, ratings: Sequence[Rating], tables: Tables, on: dt.date) -> Finding:
    lightless = next(item for item in cargo(load) if item.weight_lb is None)
    name = "coil" if lightless in load.coils else getattr(lightless, "name", "article")
    question = f"What does the {name} weigh?" if lightless.count == 1 else f"What does each {name} weigh?"
    have_lb = counted_aggregate_lb(ratings=ratings)
    count = "" if have_lb is None else f"; the tiedowns count {pounds(have_lb)}"
    return _ask(
        rule_of=tables,
        on=on,
        text=f"A weight was not told{count}.",
        question=question,
        have=have_lb,
        weight=Useful.WEIGHT,
    )


def _ask(  # noqa: PLR0913 - a question with its figures
    *,
    rule_of: Tables,
    on: dt.date,
    text: str,
    question: str,
    need: float | None = None,
    have: float | None = None,
    weight: Useful = Useful.WEIGHT,
) -> Finding:
    rule = rule_of.value("aggregate_share", on=on)
    return found(rule, Status.ASK, text, topic=_TOPIC, remedy=question, need=need, have=have, unit="lb", weight=weight)


def _loss(rating: Rating, tables: Tables, on: dt.date) -> float:
    """Return what a group counts less [lb] if it comes back to the side it started from."""
    rated = rating.rated
    half = tables.value("counts_as", on=on, path=str(Path.SAME_SIDE)).number
    return rated.counts_lb - rated.tiedown.count * half * (rated.wll_lb or 0)


def _doubtful(ratings: Sequence[Rating], clear: Sequence[bool]) -> list[Rating]:
    """Return the groups counted as going across of which it was neither told nor plain."""
    return [
        rating
        for rating, sure in zip(ratings, clear, strict=True)
        if not rating.path_told and not sure and rating.rated.path is Path.ACROSS
    ]


def _sum_status(needed_lb: float, ratings: Sequence[Rating], tables: Tables, on: dt.date) -> tuple[Status, str]:
    """Return the status of the sum, and what to do or to answer."""
    have_lb = sum(rating.rated.counts_lb for rating in ratings)
    if have_lb >= needed_lb:
        return Status.MEETS, ""
    missing = next((rating.missing for rating in ratings if rating.missing), None)
    if missing:
        return Status.ASK, missing.question
    # A group counted half for want of its path counts that much more if it goes across.
    full = tables.value("counts_as", on=on, path=str(Path.ACROSS)).number
    halved = [rating for rating in ratings if not rating.path_told and rating.rated.path is not Path.ACROSS]
    gain_lb = sum(full * one.rated.tiedown.count * (one.rated.wll_lb or 0) - one.rated.counts_lb for one in halved)
    if halved and have_lb + gain_lb >= needed_lb:
        return Status.ASK, "Do those through the eye run on the diagonal, or straight back to the same side?"
    return Status.SHORT, _more(needed_lb - have_lb, ratings, tables, on)


def _more(lacking_lb: float, ratings: Sequence[Rating], tables: Tables, on: dt.date) -> str:
    """Return the remedy for a sum that is short: more of what is there already."""
    usual = next((rating.rated for rating in ratings if rating.rated.wll_lb), None)
    if usual is None or usual.wll_lb is None:
        return f"Add {usual_kind([rating.rated.tiedown for rating in ratings])}s until they count the rest."
    full = tables.value("counts_as", on=on, path=str(Path.ACROSS)).number
    number = math.ceil(lacking_lb / (full * usual.wll_lb))
    like = "like it" if number_of([usual.tiedown]) == 1 else "like those"
    return f"Add {counted(number, f'{usual.tiedown.kind}')} {like}, across to the other side."


def _weights(load: Load) -> tuple[Step, ...]:
    items = [("coil", coil.count, coil.weight_lb) for coil in load.coils]
    items += [(article.name, article.count, article.weight_lb) for article in load.articles]
    return tuple(told(f"weight of {count} x {name}, each", weight_lb or 0, "lb") for name, count, weight_lb in items)


def _sum_steps(ratings: Sequence[Rating], needed_lb: float, have_lb: float) -> tuple[Step, ...]:
    sums = " + ".join(f"{rating.rated.counts_lb:,.0f}" for rating in ratings)
    return (
        told("half the weight", needed_lb, "lb", "share x weight"),
        *(
            told(
                described(rating.rated.tiedown),
                rating.rated.counts_lb,
                "lb",
                f"{rating.rated.tiedown.count} x, {rating.rated.path}",
            )
            for rating in ratings
        ),
        told("aggregate working load limit", have_lb, "lb", sums),
    )


__all__ = [
    "check_aggregate",
    "check_each_article",
    "check_paths",
    "check_rolling",
    "counted_aggregate_lb",
    "needed_aggregate_lb",
]
