"""Cradles no coil can lie in, what is left to the tiedowns, and ratings of bunks and timbers without their number."""

import datetime as dt

import pytest

from assistant.load.model import Coil, Eye, Load, Support
from assistant.securement.cradle import check_support_ratings, clears_deck_by_in, look_at_cradle, rolls_out_at_g
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import read_tables

TABLES, ON = read_tables(), dt.date(2026, 11, 25)
COIL = Coil(weight_lb=40_000, eye=Eye.CROSSWISE, outside_in=66, bore_in=24, width_in=48)


def looked(coil: Coil = COIL, **support: float) -> list[Finding]:
    load = Load(coils=(coil,), support=Support.model_validate({"timbers": 2, "bunks": 3, **support}))
    return look_at_cradle(load=load, tables=TABLES, on=ON)


@pytest.mark.parametrize(
    ("gap", "status"), [(65.9, Status.LOOK), (66, Status.STOP), (70, Status.STOP), (120, Status.STOP)]
)
@pytest.mark.parametrize("eye", [Eye.CROSSWISE, Eye.LENGTHWISE])
def test_a_gap_as_wide_as_the_coil_is_stopped_however_high_its_edges(gap: float, status: Status, eye: Eye) -> None:
    # Geometry: a circle of 66 in passes a gap of 66 in. 49 CFR 393.120(c)(1)(i), (d)(1)(i): memory.
    coil = COIL.model_copy(update={"eye": eye})
    assert looked(coil, gap_in=gap)[0].status is status
    assert looked(coil, gap_in=gap, edge_height_in=40)[0].status is status


def test_no_acceleration_is_given_for_a_gap_that_holds_no_coil() -> None:
    with pytest.raises(ValueError, match="a gap of 66 in holds no coil of 66 in: give a gap below its diameter"):
        rolls_out_at_g(gap_in=66, radius_in=33)


def test_what_is_left_to_the_tiedowns_is_said() -> None:
    # Statics textbooks: tan(asin(24 / 66)) = 0.390 g; 0.8 g forward and 0.5 g rearward, 49 CFR 393.102(a)(1) (read).
    text = looked(gap_in=24)[0].text
    assert "0.41 g of 0.8 g and 0.11 g of 0.5 g" in text


@pytest.mark.parametrize(("gap", "left"), [(41, True), (42, False)])
def test_nothing_is_left_where_the_cradle_holds_all(gap: float, left: bool) -> None:  # noqa: FBT001 - a table's truth
    # 0.8 g is reached at s = 2 R sin(atan 0.8) = 41.2 in for R = 33 in.
    assert ("must hold 0." in looked(gap_in=gap)[0].text) is left


def test_a_size_worked_out_from_the_weight_is_said_as_assumed() -> None:
    text = looked(Coil(weight_lb=40_000, eye=Eye.CROSSWISE), gap_in=24)[0].text
    assert "Outside diameter" in text
    assert "taken as" in text


@pytest.mark.parametrize(("edge", "status"), [(2.2, Status.STOP), (2.3, Status.LOOK)])
def test_a_coil_clears_the_deck_from_the_sagitta_on(edge: float, status: Status) -> None:
    # Geometry: sagitta of 24 in on a circle of 33 in radius, 33 - sqrt(33^2 - 12^2) = 2.259 in.
    assert looked(gap_in=24, edge_height_in=edge)[-1].status is status


def test_a_gap_that_was_not_told_is_assumed_and_said() -> None:
    # By hand: D = sqrt(4 x 40,000 / (pi x 0.2836 x 48) + 20^2) = 64.35 in (handbook density, memory); sin = 24 / 64.35;
    # tan(asin(0.373)) = 0.402 g; it hangs 4 - (32.18 - sqrt(32.18^2 - 12^2)) = 1.67 in clear.
    (finding,) = looked(Coil(weight_lb=40_000, eye=Eye.CROSSWISE))
    assert finding.status is Status.LOOK
    assert "holds 0.40 g: 50% of 0.8 g and 80% of 0.5 g" in finding.text
    assert "1.7 in clear of the deck" in finding.text
    assert "Gap between edges taken as 24 in. Edge height taken as 4 in." in finding.text


def test_an_assumed_gap_stops_no_small_coil() -> None:
    assert looked(COIL.model_copy(update={"outside_in": 24})) == []
    # 4 in of assumed height under R = 13, s = 24: the sagitta is 13 - 5 = 8 in, so only eyes can tell.
    (finding,) = looked(COIL.model_copy(update={"outside_in": 26}))
    assert finding.status is Status.LOOK
    assert finding.remedy == "Check that the coil hangs clear of the deck."


def test_each_lying_coil_has_its_own_line() -> None:
    other = COIL.model_copy(update={"weight_lb": 20_000, "eye": Eye.LENGTHWISE})
    upright = COIL.model_copy(update={"weight_lb": 10_000, "eye": Eye.VERTICAL})
    load = Load(coils=(COIL, other, upright), support=Support(timbers=2, bunks=9))
    texts = [one.text for one in look_at_cradle(load=load, tables=TABLES, on=ON)]
    assert [text.partition(":")[0] for text in texts] == [
        "Under the coil of 40,000 lb",
        "Under the coil of 20,000 lb",
    ]


@pytest.mark.parametrize("support", [Support(), Support(mats=True), Support(timbers=0, wedges=0, cradle=False)])
def test_without_a_cradle_none_is_made_up(support: Support) -> None:
    assert look_at_cradle(load=Load(coils=(COIL,), support=support), tables=TABLES, on=ON) == []


def test_a_coil_that_just_touches_is_stopped() -> None:
    # 3-4-5: R = 5, s = 8: sagitta 5 - 3 = 2.
    assert clears_deck_by_in(gap_in=8, radius_in=5, edge_height_in=2) == pytest.approx(0, abs=1e-12)
    small = COIL.model_copy(update={"outside_in": 10, "bore_in": 2})
    assert looked(small, gap_in=8, edge_height_in=2)[1].status is Status.STOP


@pytest.mark.parametrize("name", ["bunk", "timber"])
def test_a_rating_told_without_the_number_that_carries_is_asked(name: str) -> None:
    load = Load(coils=(COIL,), support=Support.model_validate({f"{name}_rated_lb": 5_000}))
    (finding,) = check_support_ratings(load=load, tables=TABLES, on=ON)
    assert finding.status is Status.ASK
    assert finding.remedy == f"How many {name}s does it rest on?"
