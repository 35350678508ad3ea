"""EN 12195-1: what direct lashings hold against sliding, shown by assumed angles. Metric, from memory."""

import datetime as dt
import math
from collections.abc import Sequence

from assistant.load.model import Load, Path, Pull
from assistant.securement.clause import found, told, weight_of
from assistant.securement.coil_group import is_over
from assistant.securement.finding import Finding, Rated, Status
from assistant.securement.table_reader import Tables

NEWTONS = 10
"""In a dekanewton."""
_PAIR = 2


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
    holds = 2 * capacity_dan * NEWTONS * (math.cos(slope) * math.cos(turn) + share * math.sin(slope))
    return holds / (gravity * lacking)


def look_at_direct(
    *, load: Load, rated: Sequence[Rated], friction: float, tables: Tables, on: dt.date
) -> list[Finding]:
    """Show what the direct lashings against forward and rearward movement hold, of what mass.

    Notes
    -----
    The angle with the direction of movement is not told, and the angle with the deck may not be: both are taken as
    assumed and said, so this is something to look at and never `meets`. A chain across through an eye is a pair of two
    legs; others make a pair by two. The working load limit stands for the lashing capacity, which is no smaller.

    References
    ----------
    EN 12195-1:2010, direct lashing (memory).
    """
    weight_lb = weight_of(load)
    if not weight_lb:
        return []
    mass_kg = weight_lb * tables.value("kilograms_in_a_pound", on=on).number
    findings = []
    for pull in (Pull.FORWARD, Pull.REARWARD):
        row = tables.value("en_acceleration", on=on, direction=str(pull))
        groups = [one for one in rated if one.tiedown.pulls is pull and one.wll_lb and not is_over(one.tiedown)]
        groups = [one for one in groups if not one.tiedown.damaged]
        if not groups:
            continue
        held = sum(_pairs(one) * _pair_holds_kg(one, friction, row.number, tables, on) for one in groups)
        turn = tables.value("assumed_turn", on=on).number
        of = (
            f"{held:,.0f} kg of {mass_kg:,.0f} kg" if held < math.inf else f"all of {mass_kg:,.0f} kg, as friction does"
        )
        text = (
            f"Direct lashings against {pull} movement would hold {of}, if they lie at {turn:g} degrees to it and "
            f"{_slope(groups, tables, on)}. Not judged: those angles are assumed."
        )
        steps = (
            told("mass", round(mass_kg), "kg"),
            told("friction taken", friction),
            told(
                "would hold",
                round(held, 1) if held < math.inf else "all",
                "kg",
                "2 LC (cos a cos b + f_mu mu sin a) / (g (c - f_mu mu c_z))",
            ),
        )
        remedy = "Measure both angles and go by the printed standard."
        findings.append(found(row, Status.LOOK, text, topic=f"direct {pull}", remedy=remedy, steps=steps))
    return findings


def dekanewtons(force_lb: float, tables: Tables, on: dt.date) -> float:
    """Return pounds of force in dekanewtons."""
    kilograms = force_lb * tables.value("kilograms_in_a_pound", on=on).number
    return kilograms * tables.value("standard_gravity", on=on).number / NEWTONS


def _pairs(one: Rated) -> float:
    return one.tiedown.count if one.path is Path.ACROSS else one.tiedown.count // _PAIR


def _pair_holds_kg(one: Rated, friction: float, acceleration_g: float, tables: Tables, on: dt.date) -> float:
    assumed = tables.value("assumed_angle", on=on).number
    return direct_pair_holds_kg(
        capacity_dan=dekanewtons(one.wll_lb or 0.0, tables, on),
        angle_deg=assumed if one.tiedown.angle_deg is None else one.tiedown.angle_deg,
        turn_deg=tables.value("assumed_turn", on=on).number,
        friction=friction,
        acceleration_g=acceleration_g,
        down_g=tables.value("en_acceleration", on=on, direction="down").number,
        friction_share=tables.value("en_direct_friction", on=on).number,
        gravity=tables.value("standard_gravity", on=on).number,
    )


def _slope(groups: Sequence[Rated], tables: Tables, on: dt.date) -> str:
    if all(one.tiedown.angle_deg is not None for one in groups):
        return "as steep as told"
    return f"{tables.value('assumed_angle', on=on).number:g} degrees to the deck"
