"""EN 12195-1: the friction method of road lashing, for top-over and direct lashings. Metric, from memory."""

import datetime as dt
import math
from collections.abc import Sequence

from assistant.load.model import GearList, Load, Path, Pull, Through
from assistant.securement.any_rules import check_condition
from assistant.securement.clause import Useful, found, once, told, weight_of
from assistant.securement.finding import Finding, Judgement, Rated, Status
from assistant.securement.ordering import in_order
from assistant.securement.rating import rate
from assistant.securement.table_reader import Tables

_WAYS = ("forward", "rearward", "sideways")
_EDITION = "The method of EN 12195-1, from memory; the printed standard was not seen."
_SURFACES = "Surfaces are taken as dry, swept clean and free of grease, frost and ice."


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
    holds = 2 * friction * math.sin(math.radians(angle_deg)) * pretension_dan * 10
    return newtons / holds if holds > 0 else math.inf


def direct_pair_holds_kg(  # noqa: PLR0913 - the formula has as many terms
    *, capacity_dan: float, angle_deg: float, turn_deg: float, friction: float, acceleration_g: float, down_g: float,
    friction_share: float, gravity: float,
) -> float:  # fmt: skip
    """Return the mass that one pair of direct lashings keeps from sliding [kg]; infinite where friction alone does.

    Notes
    -----
    2 LC (cos a cos b + f_mu mu sin a) >= m g (c - f_mu mu c_z), a with the deck, b with the direction of movement.

    References
    ----------
    EN 12195-1:2010, direct lashing (memory).
    """
    share = friction_share * friction
    lacking = acceleration_g - share * down_g
    if lacking <= 0:
        return math.inf
    slope, turn = math.radians(angle_deg), math.radians(turn_deg)
    holds = 2 * capacity_dan * 10 * (math.cos(slope) * math.cos(turn) + share * math.sin(slope))
    return holds / (gravity * lacking)


def judge_en(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Judgement:
    """Judge a load against sliding by the friction method, as far as it is told.

    Notes
    -----
    Only tiedowns over the top to the other side count, by their pretension up to their working load limit: it must be
    told, and so must the angle with the deck. Under mats and timbers together the lower friction governs.
    Tipping, rolling and direct lashing are for the eyes, and for whoever has the printed standard.

    References
    ----------
    EN 12195-1:2010 (memory); friction from the CTU Code, annex 7, appendix 2.
    """
    if not (load.coils or load.articles or load.tiedowns or load.seen):
        return Judgement()
    rated = tuple(rate(one, tables=tables, gear=gear, on=on) for one in load.tiedowns)
    findings, assumed = check_condition(load=load, tables=tables, on=on)
    findings += _check_sliding(load, rated, tables, on)
    row = tables.value("en_acceleration", on=on, direction="forward")
    text = "Tipping, rolling and direct lashings were not checked by EN 12195-1 here."
    findings.append(found(row, Status.OUTSIDE, text, topic="tipping", remedy="Go by the printed standard for those."))
    ordered = in_order(findings)
    return Judgement(
        findings=ordered,
        rated=rated,
        assumed=once([_EDITION, _SURFACES, *assumed]),
        asks=once([finding.remedy for finding in ordered if finding.status is Status.ASK]),
    )


def _check_sliding(load: Load, rated: Sequence[Rated], tables: Tables, on: dt.date) -> list[Finding]:
    weight = weight_of(load)
    row = tables.value("en_acceleration", on=on, direction="forward")
    over = [one.tiedown for one in rated if one.tiedown.through is Through.TOP or one.tiedown.pulls is Pull.OVER]
    over = [one for one in over if one.path not in {Path.DIRECT, Path.SAME_SIDE} and not one.damaged]
    limits = {id(one.tiedown): one.wll_lb for one in rated}
    untold = next((one for one in over if one.pretension_lb is None or one.angle_deg is None), None)
    on_wood = bool(load.support.timbers or load.support.pallet)
    rests = on_wood or bool(load.support.mats)
    question = ""
    if weight is None:
        question = "What does the load weigh?"
    elif not rests:
        question = "What does it rest on: mats, or timbers?"
    elif not over:
        question = "Which tiedowns go over the top, and how tight are they?"
    elif untold:
        lacks = "tight, in pounds of pretension," if untold.pretension_lb is None else "steep, in degrees to the deck,"
        question = f"How {lacks} are those over the top?"
    if question or weight is None:
        text = "Sliding was not worked out: the method needs weight, friction, pretension and angle."
        return [found(row, Status.ASK, text, topic="sliding", remedy=question, weight=Useful.TIEDOWNS)]
    kilograms = weight * tables.value("kilograms_in_a_pound", on=on).number
    friction = tables.value("en_friction", on=on, pair="timber" if on_wood else "mats")
    gravity = tables.value("standard_gravity", on=on).number
    holding_dan = sum(
        one.count
        * math.sin(math.radians(one.angle_deg or 0.0))
        * _dekanewtons(_borne_lb(one.pretension_lb, limits[id(one)]), tables, on)
        for one in over
    )
    down = tables.value("en_acceleration", on=on, direction="down").number
    findings = []
    for way in _WAYS:
        c, safety = (tables.value(name, on=on, direction=way) for name in ("en_acceleration", "en_safety"))
        lacking = max(0.0, c.number - friction.number * down)
        need = lacking * kilograms * gravity * safety.number / (2 * friction.number) / 10
        enough = holding_dan >= need
        steps = (
            friction.step(),
            safety.step(),
            told("mass", round(kilograms), "kg"),
            told("pretension x sine, all", round(holding_dan), "daN"),
            told("needed", round(need), "daN", "(c - mu c_z) m g f_s / (2 mu)"),
        )
        findings.append(
            found(
                c,
                Status.MEETS if enough else Status.SHORT,
                f"Sliding {way}: {need:,.0f} daN of pretension straight down are asked, {holding_dan:,.0f} told.",
                topic=f"sliding {way}",
                remedy="" if enough else f"Add or tighten tiedowns over the top against sliding {way}.",
                need=round(need, 1),
                have=round(holding_dan, 1),
                unit="daN",
                steps=steps,
                weight=Useful.TIEDOWNS,
            )
        )
    return findings


def _borne_lb(pretension_lb: float | None, limit_lb: float | None) -> float:
    """Return the pretension that counts: no more than the tiedown may bear, and nothing where that is not known."""
    return min(pretension_lb or 0.0, limit_lb or 0.0)


def _dekanewtons(force_lb: float, tables: Tables, on: dt.date) -> float:
    """Return pounds of force in dekanewtons."""
    kilograms = force_lb * tables.value("kilograms_in_a_pound", on=on).number
    return kilograms * tables.value("standard_gravity", on=on).number / 10
