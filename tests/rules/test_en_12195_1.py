"""EN 12195-1 friction method: formulas against worked vectors, and what is asked before it counts."""

import datetime as dt
import math

import pytest

from assistant.load.model import Article, Coil, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.securement.en_12195_1 import friction_under, judge_en, top_over_number
from assistant.securement.en_direct import direct_pair_holds_kg
from assistant.securement.finding import Mark, Status
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


@pytest.mark.parametrize(("straps", "status"), [(2, Status.SHORT), (25, Status.SHORT), (26, Status.MEETS)])
def test_told_in_full_it_is_worked_out(straps: int, status: Status) -> None:
    # 10 t, friction 0.30, 400 daN (900 lb) straight down: 25.5 forward by hand, so 26 (formula from memory).
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


@pytest.mark.parametrize(
    ("friction", "tonnes"),
    [
        *((0.05, 0.04), (0.10, 0.09), (0.15, 0.15), (0.20, 0.21), (0.25, 0.29), (0.30, 0.38), (0.35, 0.49)),
        *((0.40, 0.63), (0.45, 0.81), (0.50, 1.05), (0.55, 1.39), (0.60, 1.89), (0.65, 2.73), (0.70, 4.41)),
    ],
)
def test_tonnes_for_one_web_forward(friction: float, tonnes: float) -> None:
    # One web of 400 daN at 75 degrees, forward (derived by hand from the formula; no printed table was seen): fs 1.25.
    one = 1 / number(1000, friction, 75, 400, 0.8, 1.25)
    assert one == pytest.approx(tonnes, abs=6e-3)


@pytest.mark.parametrize(
    ("pair", "against", "dry", "wet"),
    [
        ("sawn timber", "plywood", 0.45, 0.45),
        ("sawn timber", "grooved aluminium", 0.40, 0.40),
        ("sawn timber", "stainless steel sheet", 0.30, 0.30),
        ("planed wood", "stainless steel sheet", 0.20, 0.20),
        ("plastic pallet", "plywood", 0.20, 0.20),
        ("steel crate", "grooved aluminium", 0.30, 0.30),
        ("smooth metal", "smooth metal", 0.20, None),
        ("rough concrete", "sawn timber", 0.70, 0.70),
    ],
)
def test_friction_as_printed(pair: str, against: str, dry: float, wet: float | None) -> None:
    # CTU Code, annex 7, appendix 2 (read).
    for state, expected in (("dry", dry), ("wet", wet)):
        row = TABLES.lookup("en_friction", on=ON, pair=pair, against=against, state=state)
        assert (row and row.number) == expected
        assert row is None or row.mark is Mark.READ


def test_the_deck_that_was_not_told_is_taken_as_the_worst_and_that_is_said() -> None:
    # CTU Code, annex 7, appendix 2 (read): sawn timber 0.45 on plywood, 0.40 on aluminium, 0.30 on steel.
    row = friction_under(support=Support(timbers=2), tables=TABLES, on=ON)
    assert row is not None
    assert row.number == 0.30
    found = judge_en(
        Load(articles=(Article(weight_lb=1000),), support=Support(timbers=2)), tables=TABLES, gear=GEAR, on=ON
    )
    assert any("deck's material was not told" in line for line in found.assumed)


def test_mats_marked_with_less_count_by_their_mark() -> None:
    def need(marked: float | None) -> float:
        load = Load(
            articles=(Article(weight_lb=22_046),),
            support=Support(mats=True, mats_rated_g=marked),
            tiedowns=(over(pretension_lb=900, angle_deg=90),),
        )
        findings = judge_en(load, tables=TABLES, gear=GEAR, on=ON).findings
        return next(one.need or 0.0 for one in findings if one.topic == "sliding forward")

    assert need(None) == need(0.9) < need(0.5)


def test_through_the_eye_is_no_top_over_lashing() -> None:
    assert held_dan(Support(timbers=2), through=Through.EYE, pulls=Pull.OVER) == 0


def test_a_yard_move_is_no_road() -> None:
    load = Load(coils=(Coil(weight_lb=10_000),), tiedowns=(over(),), yard=True)
    found = judge_en(load, tables=TABLES, gear=GEAR, on=ON)
    assert found.verdict is Status.OUTSIDE
    assert not any(one.topic.startswith("sliding") for one in found.findings)


@pytest.mark.parametrize(("friction", "best_deg"), [(0.3, 16.7), (0.45, 24.2)])
def test_the_best_angle_against_sliding(friction: float, best_deg: float) -> None:
    # An insurers' handbook (read): about 25 degrees. The slope with the most hold is the arc tangent of the friction
    # (derived): 16.7 degrees for 0.3, 24.2 for 0.45.
    def holds(angle: float) -> float:
        return direct_pair_holds_kg(
            capacity_dan=2000, angle_deg=angle, turn_deg=0, friction=friction, acceleration_g=0.8, down_g=1.0,
            friction_share=1.0, gravity=G,
        )  # fmt: skip

    assert max((tenth / 10 for tenth in range(900)), key=holds) == pytest.approx(best_deg, abs=0.06)


def test_direct_lashings_count_three_quarters_of_the_friction() -> None:
    # EN 12195-1 and the CTU Code: 25 % less friction beside a direct lashing (read).
    assert TABLES.value("en_direct_friction", on=ON).number == 0.75


def directly(load: Load) -> dict[str, str]:
    judgement = judge_en(load, tables=TABLES, gear=read_sample_gear(), on=ON)
    found = [one for one in judgement.findings if one.topic.startswith("direct ")]
    assert {one.status for one in found} <= {Status.LOOK}
    return {one.topic: one.text for one in found}


@pytest.mark.parametrize(("path", "count", "pairs"), [(Path.ACROSS, 2, 2), (Path.DIRECT, 4, 2), (Path.DIRECT, 5, 2)])
def test_direct_lashings_are_shown_by_assumed_angles_and_judge_nothing(path: Path, count: int, pairs: int) -> None:
    # EN 12195-1 (memory), by hand: WLL 6,600 lb = 29,368 N; a = b = 45 degrees; mu 0.3 x 0.75 = 0.225; 0.8 g forward:
    # one pair 2 x 29,368 (0.5 + 0.225 x 0.7071) / (9.81 (0.8 - 0.225)) kg.
    one_pair = 2 * 6600 * 0.45359237 * 9.81 * (0.5 + 0.225 * math.sqrt(0.5)) / (9.81 * 0.575)
    chain = Tiedown(kind=Kind.CHAIN, count=count, path=path, pulls=Pull.FORWARD)
    load = Load(coils=(Coil(weight_lb=40_000),), support=Support(timbers=2), tiedowns=(chain,))
    assert f"would hold {pairs * one_pair:,.0f} kg of 18,144 kg" in directly(load)["direct forward"]
    assert "45 degrees to the deck. Not judged" in directly(load)["direct forward"]
    assert "direct rearward" not in directly(load)


def test_what_goes_over_the_top_or_is_damaged_is_no_direct_lashing() -> None:
    chain = Tiedown(kind=Kind.CHAIN, count=4, pulls=Pull.FORWARD, damaged=True)
    top = Tiedown(kind=Kind.CHAIN, count=4, pulls=Pull.FORWARD, through=Through.TOP)
    load = Load(coils=(Coil(weight_lb=40_000),), support=Support(mats=True), tiedowns=(chain, top))
    assert directly(load) == {}
