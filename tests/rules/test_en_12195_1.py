"""EN 12195-1 friction method: formulas against worked vectors, and what is asked before it counts."""

import datetime as dt
import math

import pytest

from assistant.load.model import Article, Kind, Load, Path, Support, Through, Tiedown
from assistant.securement.en_12195_1 import direct_pair_holds_kg, judge_en, top_over_number
from assistant.securement.finding import Status
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
G = 9.81


def number(mass: float, friction: float, angle: float, tension: float, c: float, safety: float) -> float:
    return top_over_number(
        mass_kg=mass, friction=friction, angle_deg=angle, pretension_dan=tension, acceleration_g=c, safety=safety,
        down_g=1.0, gravity=G,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        # EN 12195-1:2010, top-over lashing (memory); the figures worked out by hand from the formula.
        ((10_000, 0.3, 90, 400, 0.5, 1.1), 8.99),
        ((10_000, 0.3, 90, 400, 0.8, 1.25), 25.5),
        ((12_000, 0.45, 60, 500, 0.5, 1.1), 1.66),
        ((12_000, 0.45, 60, 500, 0.8, 1.25), 13.2),
    ],
)
def test_top_over_lashings(told: tuple[float, ...], expected: float) -> None:
    assert number(*told) == pytest.approx(expected, rel=5e-3)


@pytest.mark.parametrize(
    ("friction", "tonnes"),
    [
        (0.05, 0.08),
        (0.10, 0.18),
        (0.15, 0.31),
        (0.20, 0.48),
        (0.25, 0.72),
        (0.30, 1.1),
        (0.35, 1.7),
        (0.40, 2.9),
        (0.45, 6.4),
    ],
)
def test_the_quick_guides_tonnes_for_one_web_sideways(friction: float, tonnes: float) -> None:
    # CTU quick lashing guide A, one web of 400 daN at 75 degrees, sideways (memory): printed to two figures.
    one = 1 / number(1000, friction, 75, 400, 0.5, 1.1)
    assert float(f"{one:.2g}") == pytest.approx(tonnes)


def test_enough_friction_needs_no_lashing() -> None:
    assert number(10_000, 0.5, 90, 400, 0.5, 1.1) == 0


def test_no_friction_is_held_by_no_number() -> None:
    assert math.isinf(number(10_000, 0.0, 90, 400, 0.5, 1.1))


def test_friction_and_direct_lashing_of_one_belt() -> None:
    # Insurers' handbook (read): a belt of 2,500 daN direct holds 2,500; over the top, STF 400 and mu 0.3, 240 daN.
    assert 2 * 0.3 * 400 == 240
    held = direct_pair_holds_kg(
        capacity_dan=2500, angle_deg=0, turn_deg=0, friction=0.0, acceleration_g=1.0, down_g=1.0, friction_share=0.75,
        gravity=G,
    )  # fmt: skip
    assert held * G / 10 / 2 == pytest.approx(2500)


def test_direct_lashing_by_hand() -> None:
    # EN 12195-1:2010, direct lashing (memory): 2 x 20,000 N (cos 30 cos 20 + 0.225 sin 30) / (9.81 (0.8 - 0.225)).
    expected = 40_000 * (math.cos(math.radians(30)) * math.cos(math.radians(20)) + 0.225 * 0.5) / (9.81 * 0.575)
    held = direct_pair_holds_kg(
        capacity_dan=2000, angle_deg=30, turn_deg=20, friction=0.3, acceleration_g=0.8, down_g=1.0, friction_share=0.75,
        gravity=G,
    )  # fmt: skip
    assert held == pytest.approx(expected)


def over(**told: object) -> Tiedown:
    return Tiedown.model_validate(
        {"kind": Kind.STRAP, "count": 10, "through": Through.TOP, "path": Path.ACROSS, **told}
    )


@pytest.mark.parametrize(
    ("load", "asked"),
    [
        (Load(articles=(Article(),), tiedowns=(over(),)), "weigh"),
        (Load(articles=(Article(weight_lb=10_000),), tiedowns=(over(),)), "rest on"),
        (Load(articles=(Article(weight_lb=10_000),), support=Support(mats=True)), "over the top"),
        (Load(articles=(Article(weight_lb=10_000),), support=Support(mats=True), tiedowns=(over(),)), "tight"),
        (
            Load(
                articles=(Article(weight_lb=10_000),), support=Support(mats=True), tiedowns=(over(pretension_lb=900),)
            ),
            "steep",
        ),
    ],
)
def test_what_the_method_needs_is_asked(load: Load, asked: str) -> None:
    found = judge_en(load, tables=TABLES, gear=GEAR, on=ON)
    assert found.verdict is Status.ASK
    assert asked in found.asks[0]


@pytest.mark.parametrize(("straps", "status"), [(2, Status.SHORT), (20, Status.MEETS)])
def test_told_in_full_it_is_worked_out(straps: int, status: Status) -> None:
    load = Load(
        articles=(Article(weight_lb=22_046),),
        support=Support(timbers=2),
        tiedowns=(over(count=straps, pretension_lb=900, angle_deg=90),),
    )
    found = judge_en(load, tables=TABLES, gear=GEAR, on=ON)
    forward = next(one for one in found.findings if one.topic == "sliding forward")
    assert forward.status is status
    assert found.verdict is (Status.SHORT if status is Status.SHORT else Status.OUTSIDE)


@pytest.mark.parametrize("support", [Support(mats=False), Support(timbers=0)])
def test_what_it_does_not_rest_on_gives_no_friction(support: Support) -> None:
    load = Load(
        articles=(Article(weight_lb=10_000),), support=support, tiedowns=(over(pretension_lb=900, angle_deg=90),)
    )
    assert "rest on" in judge_en(load, tables=TABLES, gear=GEAR, on=ON).asks[0]


def held_dan(support: Support, **told: object) -> float:
    tiedown = over(**{"pretension_lb": 900, "angle_deg": 90, **told})
    load = Load(articles=(Article(weight_lb=22_046),), support=support, tiedowns=(tiedown,))
    found = judge_en(load, tables=TABLES, gear=GEAR, on=ON)
    return next((one.have or 0.0 for one in found.findings if one.topic == "sliding forward"), 0.0)


def test_no_tiedown_holds_by_more_than_its_limit() -> None:
    # A strap marked 5,400 lb (the sample's mark) told as pulled to 9,000 lb.
    assert held_dan(Support(timbers=2), pretension_lb=9000) == held_dan(Support(timbers=2), pretension_lb=5400)


def test_back_to_the_same_side_is_no_top_over_lashing() -> None:
    assert held_dan(Support(timbers=2), path=Path.SAME_SIDE) == 0


def test_under_mats_and_timbers_the_lower_friction_governs() -> None:
    def need(support: Support) -> float | None:
        load = Load(
            articles=(Article(weight_lb=22_046),), support=support, tiedowns=(over(pretension_lb=900, angle_deg=90),)
        )
        found = judge_en(load, tables=TABLES, gear=GEAR, on=ON)
        return next(one.need for one in found.findings if one.topic == "sliding forward")

    assert need(Support(mats=True, timbers=2)) == need(Support(timbers=2))


def test_dry_and_clean_surfaces_are_assumed_aloud() -> None:
    found = judge_en(Load(articles=(Article(weight_lb=1000),)), tables=TABLES, gear=GEAR, on=ON)
    assert any("swept clean" in line for line in found.assumed)
