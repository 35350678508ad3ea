"""49 CFR 393.114 and 393.104(c): a damaged front end structure, and one whose height was not told."""

import datetime as dt

import pytest

from assistant.load.model import Coil, Eye, FrontStructure, Load
from assistant.securement.finding import Finding, Mark, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables
from assistant.securement.us_393_114 import check_front_structure

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
COIL = Coil(weight_lb=40_000, eye=Eye.CROSSWISE)


def fronted(**told: object) -> list[Finding]:
    load = Load(coils=(COIL,), front=FrontStructure.model_validate(told))
    return check_front_structure(load=load, tables=TABLES, on=ON)


def strength(**told: object) -> Finding:
    return next(one for one in fronted(**told) if one.topic == "front strength")


@pytest.mark.parametrize("told", [{}, {"height_ft": 4, "rated_lb": 20_000}, {"height_ft": 8, "rated_lb": 80_000}])
def test_s104_c__a_damaged_bulkhead_is_stopped_whatever_it_is_rated_for(told: dict[str, float]) -> None:
    # 49 CFR 393.104(c) (read): no damaged or weakened components.
    found = fronted(damaged=True, **told)
    stop = next(one for one in found if one.topic == "front condition")
    assert (stop.rule, stop.status, stop.mark) == ("49 CFR 393.104(c)", Status.STOP, Mark.READ)
    assert not any(one.topic == "front strength" for one in found)


def test_s104_c__a_damaged_bulkhead_reaches_the_judgement() -> None:
    load = Load(coils=(COIL,), front=FrontStructure(height_ft=4, rated_lb=20_000, damaged=True))
    assert judge(load, tables=TABLES, gear=GEAR, on=ON).verdict is Status.STOP


@pytest.mark.parametrize("damaged", [None, False])
def test_s104_c__no_damage_told_stops_nothing(damaged: bool | None) -> None:  # noqa: FBT001 - a table's truth
    assert Status.STOP not in {one.status for one in fronted(height_ft=4, rated_lb=20_000, damaged=damaged)}


@pytest.mark.parametrize(
    ("rated", "status", "need"),
    [
        (15_999, Status.SHORT, 16_000),
        (16_000, Status.ASK, None),
        (19_999, Status.ASK, None),
        (20_000, Status.MEETS, 20_000),
    ],
)
def test_s114_c__height_not_told_is_asked_only_where_it_decides(
    rated: float, status: Status, need: float | None
) -> None:
    # 49 CFR 393.114(c)(1)-(2) (memory): 0.5 of 40,000 lb below 6 ft, 0.4 from there.
    finding = strength(rated_lb=rated)
    assert (finding.status, finding.need) == (status, need)
    assert (finding.remedy == "How high is the bulkhead?") is (status is Status.ASK)


@pytest.mark.parametrize(("height", "status"), [(3.9, Status.LOOK), (4, Status.MEETS), (4.1, Status.MEETS)])
def test_s114_b1__four_feet_are_enough_and_less_is_for_the_eyes(height: float, status: Status) -> None:
    # 49 CFR 393.114(b)(1) (read): 4 ft, or the height at which it blocks the cargo, whichever is lower.
    assert next(one for one in fronted(height_ft=height) if one.topic == "front height").status is status


@pytest.mark.parametrize(
    ("topic", "rule"),
    [
        ("front openings", "49 CFR 393.114(d)"),
        ("front width", "49 CFR 393.114(b)(2)"),
        ("front substitute", "49 CFR 393.114(e)"),
    ],
)
def test_s114__what_only_eyes_can_check_is_named_with_its_clause(topic: str, rule: str) -> None:
    # 49 CFR 393.114(b)(2), (d), (e): memory.
    finding = next(one for one in fronted(height_ft=5, rated_lb=30_000) if one.topic == topic)
    assert (finding.rule, finding.status, finding.mark) == (rule, Status.LOOK, Mark.MEMORY)
    assert finding.remedy
