"""EN 12195-1: the friction method of road lashing. Metric, from memory."""

import datetime as dt
import math
from collections.abc import Sequence

from assistant.load.model import GearList, Load, Path, Support
from assistant.securement.any_rules import check_condition
from assistant.securement.clause import Useful, found, once, told, weight_of
from assistant.securement.coil_group import is_over
from assistant.securement.en_direct import NEWTONS, dekanewtons, look_at_direct
from assistant.securement.finding import Finding, Judgement, Rated, Status
from assistant.securement.ordering import in_order
from assistant.securement.ratings import rate_all
from assistant.securement.table_reader import Tables, Value
from assistant.securement.yard import look_at_yard_move

_WAYS = ("forward", "rearward", "sideways")
_EDITION = "The method of EN 12195-1, from memory; the printed standard was not seen."
_SURFACES = "Surfaces are taken as dry, swept clean and free of grease, frost and ice."
_COIL = "The cargo is taken to grip what it lies on no less than that grips the deck."


def top_over_number(  # noqa: PLR0913 - the formula has as many terms
    *, mass_kg: float, friction: float, angle_deg: float, pretension_dan: float, acceleration_g: float, safety: float,
    down_g: float, gravity: float,
) -> float:  # fmt: skip
    """Return how many top-over lashings keep a load from sliding; round up.

    Parameters
    ----------
    mass_kg
        Mass of the load [kg].
    friction
        Coefficient of friction.
    angle_deg
        Angle of the lashing with the deck [degrees], above 0.
    pretension_dan
        Tension of one lashing on the tensioner's side (STF) [daN].
    acceleration_g, down_g
        Coefficients c_x or c_y, and c_z.
    safety
        Safety factor f_s.
    gravity
        [m/s2].

    Returns
    -------
    float
        0 where friction alone holds; infinite without friction.

    Notes
    -----
    n >= (c - mu c_z) m g f_s / (2 mu sin(a) F_T).

    References
    ----------
    EN 12195-1:2010, top-over lashing (memory); an older form with 1.5 in place of 2 was read.
    """
    lacking = acceleration_g - friction * down_g
    if lacking <= 0:
        return 0.0
    newtons = lacking * mass_kg * gravity * safety
    holds = 2 * friction * math.sin(math.radians(angle_deg)) * pretension_dan * NEWTONS
    return newtons / holds if holds > 0 else math.inf


def friction_under(*, support: Support, tables: Tables, on: dt.date) -> Value | None:
    """Return the friction that governs between deck and load; None where nothing told settles it.

    Notes
    -----
    READING: what the deck is made of is not told, so the lowest row of the material on any deck counts; and under mats
    and timbers together the lower of the two.

    References
    ----------
    CTU Code, annex 7, appendix 2: sawn timber and wooden pallets (read), anti-slip rubber (memory).
    """
    materials = {"sawn timber"} if support.timbers or support.pallet else set()
    materials |= {"anti-slip rubber"} if support.mats else set()
    rows = [
        tables.value("en_friction", on=on, pair=pair, against=against, state=state)
        for pair, against, state in tables.cells("en_friction")
        if pair in materials and state == "dry"
    ]
    return min(rows, key=lambda row: row.number, default=None)


def judge_en(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Judgement:
    """Judge a load against sliding by the friction method, as far as it is told.

    Parameters
    ----------
    load
        What was told.
    tables
        The regulation tables.
    gear
        The driver's gear list, for the limits that bound a pretension.
    on
        The day whose values count.

    Returns
    -------
    Judgement
        Findings worst first, in dekanewtons; no sums, since the method has none.

    Raises
    ------
    BeforeFirstRowError
        The day is before the first row of a table.

    Notes
    -----
    Only tiedowns over the top to the other side count, by their pretension up to their working load limit: it must be
    told, and so must the angle with the deck. What direct lashings hold is shown by assumed angles and judges nothing.
    Tipping and rolling are for the eyes, and for whoever has the printed standard.

    References
    ----------
    EN 12195-1:2010 (memory); friction from the CTU Code, annex 7, appendix 2.
    """
    if load.untold:
        return Judgement()
    rated = tuple(one.rated for one in rate_all(load=load, tables=tables, gear=gear, on=on))
    findings, assumed = check_condition(load=load, tables=tables, on=on)
    if load.yard:
        more, taken = look_at_yard_move(load=load, rated=rated, tables=tables, on=on)
        findings, assumed = [*findings, *more], [_EDITION, *assumed, *taken]
    else:
        friction = friction_under(support=load.support, tables=tables, on=on)
        findings += _check_sliding(load, rated, friction, tables, on)
        if friction:
            mu = _friction_number(friction, load.support)
            findings += look_at_direct(load=load, rated=rated, friction=mu, tables=tables, on=on)
        row = tables.value("en_acceleration", on=on, direction="forward")
        text = "Tipping, rolling and what direct lashings add were not judged by EN 12195-1 here."
        remedy = "Go by the printed standard for those."
        findings.append(found(row, Status.OUTSIDE, text, topic="tipping", remedy=remedy))
        assumed = [_EDITION, _SURFACES, *_friction_assumed(friction, load.support), *assumed]
    ordered = in_order(findings)
    return Judgement(
        findings=ordered,
        rated=rated,
        assumed=once(assumed),
        asks=once([finding.remedy for finding in ordered if finding.status is Status.ASK]),
    )


def _friction_assumed(friction: Value | None, support: Support) -> list[str]:
    if friction is None:
        return []
    if not (support.timbers or support.pallet):
        return [f"Friction {friction.number:g}, the table's value for anti-slip mats.", _COIL]
    return [f"Friction {friction.number:g}, the lowest of the table for wood: the deck's material was not told.", _COIL]


def _friction_number(friction: Value, support: Support) -> float:
    """Return the friction to compute with: mats that are marked with less than the table has count by their mark."""
    return min(friction.number, support.mats_rated_g or friction.number) if support.mats else friction.number


def _check_sliding(
    load: Load, rated: Sequence[Rated], friction: Value | None, tables: Tables, on: dt.date
) -> list[Finding]:
    """Ask for what the method still lacks, or judge sliding each way."""
    weight_lb = weight_of(load)
    over = [
        one
        for one in rated
        if is_over(one.tiedown) and one.tiedown.path in {None, Path.ACROSS} and not one.tiedown.damaged
    ]
    question = _question(weight_lb, over, friction)
    if question or not weight_lb or friction is None:
        row = tables.value("en_acceleration", on=on, direction="forward")
        text = "Sliding was not worked out: the method needs weight, friction, pretension and angle."
        return [found(row, Status.ASK, text, topic="sliding", remedy=question, weight=Useful.TIEDOWNS)]
    mass_kg = weight_lb * tables.value("kilograms_in_a_pound", on=on).number
    have = sum(
        one.tiedown.count
        * math.sin(math.radians(one.tiedown.angle_deg or 0.0))
        * dekanewtons(_borne_lb(one.tiedown.pretension_lb, one.wll_lb), tables, on)
        for one in over
    )
    mu = _friction_number(friction, load.support)
    return [_slides(way, mass_kg, have, mu, friction, tables, on) for way in _WAYS]


def _question(weight_lb: float | None, over: Sequence[Rated], friction: Value | None) -> str:
    """Return what to ask first; empty when the method can be worked out."""
    if not weight_lb:
        return "What does the load weigh?"
    if friction is None:
        return "What does it rest on: mats, or timbers?"
    if not over:
        return "Which tiedowns go over the top, and how tight are they?"
    if any(one.tiedown.pretension_lb is None for one in over):
        return "How tight, in pounds of pretension, are those over the top?"
    if any(one.tiedown.angle_deg is None for one in over):
        return "How steep, in degrees to the deck, are those over the top?"
    return ""


def _slides(  # noqa: PLR0913, PLR0917 - one direction with all that the formula takes
    way: str, mass_kg: float, have: float, mu: float, friction: Value, tables: Tables, on: dt.date
) -> Finding:
    c, safety = (tables.value(name, on=on, direction=way) for name in ("en_acceleration", "en_safety"))
    # So many lashings of one dekanewton, straight down, are so many dekanewtons of vertical pretension.
    need = top_over_number(
        mass_kg=mass_kg,
        friction=mu,
        angle_deg=90,
        pretension_dan=1,
        acceleration_g=c.number,
        safety=safety.number,
        down_g=tables.value("en_acceleration", on=on, direction="down").number,
        gravity=tables.value("standard_gravity", on=on).number,
    )
    enough = have >= need
    return found(
        c,
        Status.MEETS if enough else Status.SHORT,
        f"Sliding {way}: {need:,.0f} daN of pretension straight down are asked, {have:,.0f} told.",
        topic=f"sliding {way}",
        remedy="" if enough else f"Add or tighten tiedowns over the top against sliding {way}.",
        need=round(need, 1),
        have=round(have, 1),
        unit="daN",
        steps=(
            friction.step(),
            safety.step(),
            told("mass", round(mass_kg), "kg"),
            told("friction taken", mu, "", "the table's, or a lower mark on the mats"),
            told("pretension x sine, all", round(have), "daN"),
            told("needed", round(need), "daN", "(c - mu c_z) m g f_s / (2 mu)"),
        ),
        weight=Useful.TIEDOWNS,
    )


def _borne_lb(pretension_lb: float | None, limit_lb: float | None) -> float:
    """Return the pretension that counts: no more than the tiedown may bear, and nothing where that is not known."""
    return min(pretension_lb or 0.0, limit_lb or 0.0)
