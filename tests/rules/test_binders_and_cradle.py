"""Binders, slack, cradles, support ratings, front end structures, observations and the yard move."""

import datetime as dt
import math

import pytest

from assistant.load.model import (
    Article,
    Coil,
    Eye,
    FrontStructure,
    Kind,
    Load,
    Path,
    Pull,
    Slack,
    Support,
    Through,
    Tiedown,
)
from assistant.securement.binders import check_adjustable, check_binders, check_slack
from assistant.securement.cradle import check_support_ratings, clears_deck_by_in, look_at_cradle, rolls_out_at_g
from assistant.securement.finding import Finding, Judgement, Mark, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables
from assistant.securement.us_393_114 import check_front_structure

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
COIL = Coil(weight_lb=40_000, eye=Eye.CROSSWISE, outside_in=66, bore_in=24, width_in=48)


def chains(**told: object) -> Tiedown:
    return Tiedown.model_validate({"kind": "chain", "count": 2, "size_in": 0.375, "grade": "70", **told})


def only(findings: list[Finding]) -> Finding:
    (finding,) = findings
    return finding


def judged(load: Load) -> Judgement:
    return judge(load, tables=TABLES, gear=GEAR, on=ON)


# Binders: common practice, no source: three threads, or a quarter inch.


@pytest.mark.parametrize(
    ("told", "status"),
    [
        ({"threads_left": 2}, Status.SHORT),
        ({"threads_left": 3}, Status.MEETS),
        ({"threads_left": 4}, Status.MEETS),
        ({"take_up_in": 0.2}, Status.SHORT),
        ({"take_up_in": 0.25}, Status.MEETS),
        ({"threads_left": 2, "take_up_in": 0.5}, Status.MEETS),
        ({"threads_left": 0}, Status.STOP),
        ({"take_up_in": 0}, Status.STOP),
    ],
)
def test_threads_or_inches_left_on_a_binder(told: dict[str, float], status: Status) -> None:
    finding = only(check_binders(load=Load(coils=(COIL,), tiedowns=(chains(**told),)), tables=TABLES, on=ON))
    assert finding.status is status
    assert finding.mark is (Mark.READ if status is Status.STOP else Mark.PRACTICE)


def test_nothing_told_of_binders_says_nothing() -> None:
    assert check_binders(load=Load(tiedowns=(chains(),)), tables=TABLES, on=ON) == []


@pytest.mark.parametrize(
    ("take_up", "status"), [(3.9, Status.SHORT), (4.0, Status.MEETS), (4.1, Status.MEETS), (None, Status.ASK)]
)
def test_slack_of_two_legs_is_twice_what_gives_way(take_up: float | None, status: Status) -> None:
    # Derived: two legs each shorten by at most the inch. A lip of 1.5 in and a timber that crushes 0.5 in: 4 in.
    tiedown = chains(take_up_in=take_up, through="eye")
    load = Load(coils=(COIL,), tiedowns=(tiedown,), slack=Slack(lip_in=1.5, timber_in=0.5))
    finding = only(check_slack(load=load, tables=TABLES, on=ON))
    assert finding.status is status
    assert "4 in" in finding.text


def test_slack_of_a_direct_tiedown_is_what_gives_way() -> None:
    load = Load(coils=(COIL,), tiedowns=(chains(take_up_in=2, path="direct"),), slack=Slack(lip_in=2))
    assert only(check_slack(load=load, tables=TABLES, on=ON)).status is Status.MEETS


def test_threads_are_inches_only_by_the_drivers_own_measure() -> None:
    # 8 threads at a quarter inch a turn: 2 in, for a lip of 1 in under two legs. No published lead was found.
    slack = Slack(lip_in=1)
    asked = only(check_slack(load=Load(tiedowns=(chains(threads_left=8),), slack=slack), tables=TABLES, on=ON))
    assert asked.status is Status.ASK
    assert "one turn" in asked.remedy
    told = only(
        check_slack(
            load=Load(tiedowns=(chains(threads_left=8, lead_in=0.25, through="eye"),), slack=slack),
            tables=TABLES,
            on=ON,
        )
    )
    assert told.status is Status.MEETS


def test_over_the_budget_it_is_backed_off_and_begun_again() -> None:
    load = Load(tiedowns=(chains(take_up_in=1),), slack=Slack(lip_in=2))
    assert only(check_slack(load=load, tables=TABLES, on=ON)).remedy.startswith("Back it off, mend the cause")


def test_s112__a_tiedown_that_cannot_be_tightened_is_short_and_steel_strapping_exempt() -> None:
    # 49 CFR 393.112 (read).
    load = Load(tiedowns=(chains(adjustable=False), Tiedown(kind=Kind.STEEL_STRAP, adjustable=False)))
    finding = only(check_adjustable(load=load, tables=TABLES, on=ON))
    assert (finding.rule, finding.status) == ("49 CFR 393.112", Status.SHORT)


# Cradle: textbook statics.


@pytest.mark.parametrize(("gap", "radius"), [(12, 30), (24, 33), (30, 36)])
def test_a_cradle_rolls_out_at_the_tangent_of_its_angle(gap: float, radius: float) -> None:
    # sin(theta) = s / (2 R), g = tan(theta) = s / (2 sqrt(R^2 - s^2/4)).
    by_hand = gap / (2 * math.sqrt(radius**2 - gap**2 / 4))
    assert rolls_out_at_g(gap_in=gap, radius_in=radius) == pytest.approx(by_hand)


def test_a_coil_sinks_between_its_edges_by_the_sagitta() -> None:
    # R = 33, s = 24: sagitta 33 - sqrt(33^2 - 12^2) = 2.259 in.
    assert clears_deck_by_in(gap_in=24, radius_in=33, edge_height_in=4) == pytest.approx(4 - 2.259, abs=1e-3)


def test_the_cradle_of_a_crosswise_coil_is_held_against_both_ways() -> None:
    load = Load(coils=(COIL,), support=Support(timbers=2, bunks=3, gap_in=24))
    finding = look_at_cradle(load=load, tables=TABLES, on=ON)[0]
    # tan(asin(24/66)) = 0.390: 49 % of 0.8 g, 78 % of 0.5 g.
    assert finding.status is Status.LOOK
    assert "49%" in finding.text
    assert "78%" in finding.text


def test_a_coil_that_touches_the_deck_by_its_measures_is_stopped() -> None:
    low = Load(coils=(COIL,), support=Support(timbers=2, bunks=3, gap_in=24, edge_height_in=2))
    assert Status.STOP in {finding.status for finding in look_at_cradle(load=low, tables=TABLES, on=ON)}
    high = low.model_copy(update={"support": Support(timbers=2, bunks=3, gap_in=24, edge_height_in=4)})
    assert Status.STOP not in {finding.status for finding in look_at_cradle(load=high, tables=TABLES, on=ON)}


@pytest.mark.parametrize(("rated", "status"), [(9_999, Status.SHORT), (10_000, Status.MEETS), (10_001, Status.MEETS)])
def test_each_bunk_carries_its_even_share(rated: float, status: Status) -> None:
    load = Load(coils=(COIL,), support=Support(bunks=4, bunk_rated_lb=rated))
    assert only(check_support_ratings(load=load, tables=TABLES, on=ON)).status is status


# 49 CFR 393.114: (b)(1) read, (c) from memory.


@pytest.mark.parametrize(
    ("height", "rated", "status"),
    [
        (4, 20_000, Status.MEETS),
        (4, 19_999, Status.SHORT),
        (5.9, 19_999, Status.SHORT),
        (6, 16_000, Status.MEETS),
        (6, 15_999, Status.SHORT),
    ],
)
def test_s114_c__half_the_weight_below_six_feet_and_four_tenths_from_there(
    height: float, rated: float, status: Status
) -> None:
    load = Load(coils=(COIL,), front=FrontStructure(height_ft=height, rated_lb=rated))
    found = check_front_structure(load=load, tables=TABLES, on=ON)
    assert next(one for one in found if one.topic == "front strength").status is status


def test_s114_b1__lower_than_four_feet_is_for_the_eyes_and_untold_is_asked() -> None:
    low = check_front_structure(load=Load(coils=(COIL,), front=FrontStructure(height_ft=3.9)), tables=TABLES, on=ON)
    assert next(one for one in low if one.topic == "front height").status is Status.LOOK
    untold = check_front_structure(load=Load(coils=(COIL,), front=FrontStructure()), tables=TABLES, on=ON)
    assert {one.status for one in untold} == {Status.ASK, Status.LOOK}


# What was seen: common practice unless the row names a clause.


@pytest.mark.parametrize("name", ["lip", "inner lip", "broken band", "telescoped", "paper and tag differ"])
def test_what_refuses_a_coil_stops_and_says_what_mends_it_and_when_to_refuse(name: str) -> None:
    finding = next(one for one in judged(Load(coils=(COIL,), seen=(name,))).findings if one.topic == name)
    assert finding.status is Status.STOP
    assert finding.mark is Mark.PRACTICE
    assert finding.remedy
    assert "Refuse" in finding.text


# The yard move: common practice, no source.


def test_a_yard_move_is_outside_the_clauses_and_says_what_still_holds() -> None:
    strap = Tiedown(kind=Kind.STRAP, through=Through.TOP, path=Path.ACROSS)
    found = judged(Load(coils=(COIL,), support=Support(timbers=2, bunks=3), tiedowns=(strap,), yard=True))
    assert found.verdict is Status.OUTSIDE
    finding = found.findings[0]
    assert "never the road" in finding.text
    assert "forward" in finding.text
    assert "back on before the road" in finding.remedy
    assert any("Gap between edges taken as" in line for line in found.assumed)


def test_on_the_road_the_same_load_is_short() -> None:
    strap = Tiedown(kind=Kind.STRAP, through=Through.TOP, path=Path.ACROSS)
    assert judged(Load(coils=(COIL,), support=Support(timbers=2, bunks=3), tiedowns=(strap,))).verdict is Status.SHORT


def test_a_broken_band_stops_a_yard_move_too() -> None:
    assert judged(Load(coils=(COIL,), yard=True, seen=("broken band",))).verdict is Status.STOP


def test_what_was_told_of_binders_reaches_the_judgement() -> None:
    load = Load(
        coils=(COIL,),
        support=Support(timbers=2, bunks=3, mats=True),
        tiedowns=(
            chains(pulls=Pull.FORWARD, path=Path.ACROSS, threads_left=1),
            chains(pulls=Pull.REARWARD, path=Path.ACROSS),
        ),
    )
    found = judged(load)
    assert found.verdict is Status.SHORT
    assert found.findings[0].topic == "binder"


# What was told of angles, edges and articles side by side.


def held(**told: object) -> Load:
    tiedowns = (
        chains(pulls=Pull.FORWARD, path=Path.ACROSS, **told),
        chains(pulls=Pull.REARWARD, path=Path.ACROSS, **told),
    )
    return Load(coils=(COIL,), support=Support(timbers=2, bunks=3, mats=True), tiedowns=tiedowns)


@pytest.mark.parametrize(("angle", "told"), [(44, False), (45, False), (46, True)])
def test_s120__an_angle_told_as_steeper_than_45_degrees_is_said_and_never_short(angle: float, told: bool) -> None:  # noqa: FBT001 - a table's truth
    # 49 CFR 393.120(c)(1)(ii)-(iii) (memory): no more than 45 degrees, whenever practicable.
    found = judged(held(angle_deg=angle))
    finding = next(one for one in found.findings if one.topic == "angle")
    assert finding.status is Status.LOOK
    assert ("Told:" in finding.text) is told
    assert found.verdict is Status.MEETS


def test_s104_f4__told_edge_protection_is_still_looked_at() -> None:
    edges = next(one for one in judged(held(edge_protected=True)).findings if one.topic == "edges")
    assert "not crushed" in edges.remedy
    bare = next(one for one in judged(held()).findings if one.topic == "edges")
    assert bare.remedy.startswith("Put edge protection")


def test_s106_c2__articles_beside_each_other_are_looked_at() -> None:
    two = judged(Load(articles=(Article(count=2, weight_lb=1000, length_ft=4),), tiedowns=(chains(path=Path.ACROSS),)))
    assert any(one.topic == "beside" for one in two.findings)
    one = judged(Load(articles=(Article(weight_lb=1000, length_ft=4),), tiedowns=(chains(path=Path.ACROSS),)))
    assert not any(finding.topic == "beside" for finding in one.findings)
