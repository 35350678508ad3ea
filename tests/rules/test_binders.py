"""Binders told two ways at once, and slack by how a tiedown bears on what gives way."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.load.model import Load, Slack, Tiedown
from assistant.securement.binders import check_binders, check_slack
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import read_tables

TABLES, ON = read_tables(), dt.date(2026, 11, 25)


def chain(**told: object) -> Tiedown:
    return Tiedown.model_validate({"kind": "chain", "size_in": 0.375, "grade": "70", **told})


def bound(**told: object) -> Finding:
    (finding,) = check_binders(load=Load(tiedowns=(chain(**told),)), tables=TABLES, on=ON)
    return finding


def slack(gives: Slack, **told: object) -> Finding:
    (finding,) = check_slack(load=Load(tiedowns=(chain(**told),), slack=gives), tables=TABLES, on=ON)
    return finding


@pytest.mark.parametrize(("threads", "inches"), [(0, 0), (0, 0.5), (3, 0), (8, 0), (0, 4)])
def test_s112__a_binder_told_without_take_up_either_way_is_stopped(threads: float, inches: float) -> None:
    # 49 CFR 393.112 (read): it must be possible to tighten it on the road. Of two tellings the worse counts.
    assert bound(threads_left=threads, take_up_in=inches).status is Status.STOP


@pytest.mark.parametrize(
    ("threads", "inches", "need", "status"),
    [
        (3, 0.1, 3, Status.MEETS),
        (2, 0.25, 0.25, Status.MEETS),
        (2, 0.24, 3, Status.SHORT),
        (4, 0.5, 3, Status.MEETS),
    ],
)
def test_the_figure_shown_is_the_one_that_decides(threads: float, inches: float, need: float, status: Status) -> None:
    # Common practice, no source: three threads or a quarter inch.
    finding = bound(threads_left=threads, take_up_in=inches)
    assert (finding.status, finding.need) == (status, need)
    assert finding.margin is not None
    assert (finding.margin >= 0) is (status is Status.MEETS)


@pytest.mark.parametrize(("take_up", "status"), [(3.1, Status.SHORT), (3.15, Status.MEETS), (3.2, Status.MEETS)])
@pytest.mark.parametrize("told", [{"through": "top"}, {}])
def test_a_wrap_that_settles_under_an_arc_costs_pi_times_its_inches(
    told: dict[str, str], take_up: float, status: Status
) -> None:
    # Derived: dL/dR of a tight string over a circle is its angle of contact, at most pi for legs down or outward.
    assert slack(Slack(wrap_in=1), take_up_in=take_up, **told).status is status


@pytest.mark.parametrize(("take_up", "status"), [(1.9, Status.SHORT), (2, Status.MEETS), (2.1, Status.MEETS)])
@pytest.mark.parametrize(
    ("gives", "told"),
    [(Slack(timber_in=1), {"through": "top"}), (Slack(lip_in=1), {"through": "eye"}), (Slack(timber_in=1), {})],
)
def test_a_coil_that_drops_costs_each_of_two_legs_its_inches(
    gives: Slack, told: dict[str, str], take_up: float, status: Status
) -> None:
    # Derived: a leg's length changes by no more than its end moves.
    assert slack(gives, take_up_in=take_up, **told).status is status


def course(radius: float, height: float, rail: float) -> float:
    """Return the length of a string from rail to rail, tight over a circle of a radius whose centre is at a height."""
    distance = math.hypot(rail, height)
    contact = 2 * (math.pi - math.atan2(rail, height) - math.acos(radius / distance))
    return 2 * math.sqrt(distance**2 - radius**2) + radius * contact


@given(
    radius=st.floats(15, 40),
    above=st.floats(0, 6),
    out=st.floats(0, 40),
    gives=st.floats(0.01, 3),
)
def test_no_course_over_the_top_goes_slack_by_more_than_is_said(
    radius: float, above: float, out: float, gives: float
) -> None:
    # Plane geometry, worked out here: anchors at or outboard of the coil's sides, the circle shrinking about its centre
    # (a wrap settles) or sinking whole (a timber crushes).
    height, rail = radius + above, radius + out
    before = course(radius, height, rail)
    assert before - course(radius - gives, height, rail) <= math.pi * gives + 1e-9
    sunk = before - course(radius, height - gives, rail)
    assert sunk <= 2 * gives + 1e-9


def test_two_inches_an_inch_would_be_too_few_under_an_arc() -> None:
    # Plane geometry: 66 in coil, its centre 33 in above the anchors, which lie below its sides: a wrap of 1 in.
    assert course(33, 33, 33) - course(32, 33, 33) > 2.9


@pytest.mark.parametrize(
    ("told", "status"),
    [
        ({"threads_left": 8, "lead_in": 0.25, "take_up_in": 5}, Status.MEETS),
        ({"threads_left": 8, "lead_in": 0.25, "take_up_in": 1}, Status.SHORT),
        ({"threads_left": 4, "lead_in": 0.25, "take_up_in": 5}, Status.SHORT),
        ({"threads_left": 0}, Status.SHORT),
    ],
)
def test_of_two_tellings_of_take_up_the_less_counts(told: dict[str, float], status: Status) -> None:
    # 8 turns of a quarter inch are 2 in: what a timber that crushes an inch takes. No thread left takes up nothing.
    assert slack(Slack(timber_in=1), **told).status is status


def test_slack_is_shown_rounded_up() -> None:
    assert "3.2 in" in slack(Slack(wrap_in=1), take_up_in=3.1).text
