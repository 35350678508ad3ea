"""49 CFR 393.120(c)(1)(i), (d)(1)(i), (d)(4)(i) and the clauses on movement along the vehicle: what coils rest on."""

import datetime as dt
from collections.abc import Mapping, Sequence

from assistant.load.model import Support
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables, Value
from assistant.securement.wording import counted

_TOPIC = "rolling"
_AWAY = {"forward": "moving forward", "rearward": "moving back"}


def check_rolling_support(
    *, clause: Value, support: Support, number: int, tables: Tables, on: dt.date
) -> list[Finding]:
    """Judge the means that keeps coils from rolling and off the deck.

    Parameters
    ----------
    clause
        The row of the clause that asks for it.
    support
        What was told of it, for all the coils together.
    number
        How many coils rest on it.

    Notes
    -----
    Timbers, chocks and wedges must be held by bunks or the like; nails as the only means, and a cradle that only nails
    hold, are prohibited. The text sets no number of bunks: fewer than two cannot hold two timbers, fewer than three
    are short by common practice. READING: a cradle that more than nails hold is a means by itself; too few bunks under
    timbers stay too few beside it. The text sets no number of timbers or wedges either: one alone leaves the coil
    free to roll the other way.

    References
    ----------
    49 CFR 393.120(c)(1)(i), (d)(1)(i), (d)(4)(i).
    """
    stops = _stops(clause, support)
    if stops:
        return stops
    rests = (support.timbers or 0) + (support.wedges or 0)
    unheld = support.bunks is not None and support.bunks < tables.value("bunks_least", on=on).number * number
    if not (rests and unheld):
        fewest = tables.value("rests_least", on=on)
        if support.cradle:
            return [_meets(clause, "a cradle")]
        if 0 < rests < fewest.number:
            return [_one_sided(fewest, rests, support)]
    if rests:
        held = "timbers" if support.timbers else "wedges"
        return _check_bunks(clause=clause, held=held, bunks=support.bunks, number=number, tables=tables, on=on)
    means = (support.timbers, support.wedges, support.cradle)
    if None not in means:
        text = "Nothing keeps the coil from rolling: no timbers, wedges or cradle."
        return [_stop(clause, text, "Set the coil on timbers in bunks, or in a cradle.")]
    question = "Do timbers or wedges lie in the bunks?" if support.bunks else "What does it rest on?"
    text = f"What keeps the coil from rolling was not told; it needs {clause.words}."
    return [found(clause, Status.ASK, text, topic=_TOPIC, remedy=question, weight=Useful.SUPPORT)]


def check_movement_along(
    *,
    clause: Value,
    support: Support,
    directions: Sequence[str],
    number: int,
    held: Mapping[str, int] | None,
    untold: int,
) -> Finding:
    """Judge what keeps coils from moving forward and, where the clause says so, back.

    Parameters
    ----------
    clause
        The row of the clause.
    support
        Blocking and mats, as told.
    directions
        "forward", "rearward" or both.
    number
        How many coils.
    held
        Tiedowns that resist each direction, where the clause lets them count; None where it does not.
    untold
        Tiedowns of which it was not told what they do.

    Notes
    -----
    READING: "longitudinal" is both ways; only the clauses that name the forward direction ask for that alone. Mats
    hold both ways.

    References
    ----------
    49 CFR 393.120(b)(1)(iv), (d)(1)(v), (d)(2)(v), (d)(3)(iv), (d)(4)(iv).
    """
    blocked = {"forward": support.blocked_forward, "rearward": support.blocked_rearward}
    tied = held or {}
    open_ways = [way for way in directions if not (support.mats or blocked[way] or tied.get(way, 0) >= number > 0)]
    ways = "blocking, mats or tiedowns" if held is not None else "blocking or mats"
    steps = (
        told("mats", _yes_no(support.mats)),
        *(told(f"blocked {way}", _yes_no(blocked[way])) for way in directions),
    )
    moving = " and ".join(_AWAY[way] for way in open_ways or directions).replace(" and moving", " and")
    if not open_ways:
        text = f"Kept from {moving}: {_means(support, blocked, directions)}."
        return found(clause, Status.MEETS, text, topic="movement", steps=steps)
    text = f"Nothing was told that keeps the coil from {moving}."
    # One way that is open for certain is short, whatever was not told of the other.
    sure = [way for way in open_ways if blocked[way] is False]
    if support.mats is None or not sure or (held is not None and untold):
        question = f"What keeps it from {moving}: {ways}?"
        return found(clause, Status.ASK, text, topic="movement", remedy=question, steps=steps, weight=Useful.BLOCKING)
    moving = " and ".join(_AWAY[way] for way in sure).replace(" and moving", " and")
    text = f"Nothing keeps the coil from {moving}."
    remedy = f"Block the coil, or lay mats under it, to keep it from {moving}."
    return found(clause, Status.SHORT, text, topic="movement", remedy=remedy, steps=steps, weight=Useful.BLOCKING)


def support_assumed(*, support: Support, number: int) -> tuple[str, ...]:
    """Return the sentences about what was taken for granted of the support under `number` coils."""
    sentences = []
    if number > 1 and support.bunks:
        sentences.append(f"The {counted(support.bunks, 'bunk')} are counted for the whole load.")
    if number > 1 and (support.timbers or support.wedges):
        sentences.append("Each coil is taken to lie on timbers or wedges of its own.")
    if number > 1 and support.cradle:
        sentences.append("Each coil is taken to lie in a cradle of its own.")
    if support.cradle and support.nailed_only is None:
        sentences.append("The cradle is taken to be held by more than nails.")
    return tuple(sentences)


def _one_sided(fewest: Value, rests: int, support: Support) -> Finding:
    held = "timber" if support.timbers else "wedge"
    return found(
        fewest,
        Status.SHORT,
        f"One {held} keeps a coil from rolling one way only.",
        topic=_TOPIC,
        remedy=f"Put a {held} on the other side of the coil too.",
        need=fewest.number,
        have=rests,
        unit=f"{held}s",
        weight=Useful.SUPPORT,
    )


def _stops(clause: Value, support: Support) -> list[Finding]:
    findings = []
    if support.nailed_only:
        text = "Nails or cleats must not be the only thing that holds timbers, chocks, wedges or the cradle."
        findings.append(_stop(clause, text, "Hold the timbers with bunks, not with nails alone."))
    if support.on_deck:
        text = "The coil touches the deck; it must be held off the deck."
        findings.append(_stop(clause, text, "Raise the coil off the deck."))
    return findings


def _check_bunks(
    *, clause: Value, held: str, bunks: int | None, number: int, tables: Tables, on: dt.date
) -> list[Finding]:
    least = tables.value("bunks_least", on=on)
    usual = tables.value("bunks_usual", on=on)
    if bunks is None:
        text = f"Bunks or the like must hold the {held}; none was told."
        question = f"How many bunks hold the {held}?"
        return [found(clause, Status.ASK, text, topic=_TOPIC, remedy=question, weight=Useful.SUPPORT)]
    if bunks < least.number * number:
        rule = least if bunks else clause
        text = f"{counted(bunks, 'bunk').capitalize()} cannot hold the {held} of {counted(number, 'coil')}."
        lacking = int(usual.number) * number - bunks
        return [_stop(rule, text, f"Put {counted(lacking, 'bunk')} more under the {held}.")]
    findings = [_meets(clause, f"{held} in {counted(bunks, 'bunk')}")]
    if bunks < usual.number * number:
        need = int(usual.number) * number
        text = f"Common practice is {counted(need, 'bunk')} or more; {bunks} told. The text sets no number."
        findings.append(
            found(
                usual,
                Status.SHORT,
                text,
                topic="bunks",
                remedy=f"Put {counted(need - bunks, 'bunk')} more under the {held}.",
                need=need,
                have=bunks,
                unit="bunks",
                weight=Useful.SUPPORT,
            )
        )
    return findings


def _meets(clause: Value, means: str) -> Finding:
    return found(clause, Status.MEETS, f"Kept from rolling by {means}.", topic=_TOPIC, steps=(told("support", means),))


def _stop(rule: Value, text: str, remedy: str) -> Finding:
    return found(rule, Status.STOP, text, topic=_TOPIC, remedy=remedy, weight=Useful.DANGER)


def _means(support: Support, blocked: Mapping[str, bool | None], directions: Sequence[str]) -> str:
    if support.mats:
        return "friction mats"
    return "blocking" if all(blocked[way] for way in directions) else "blocking or tiedowns"


def _yes_no(fact: bool | None) -> str:  # noqa: FBT001 - one fact, named by the caller
    return "not told" if fact is None else "yes" if fact else "no"
