"""The statics of a coil: a cradle by itself, symmetry, what more gear does, and what is said."""

import datetime as dt
import math

import pytest

from assistant.load.model import Coil, Eye, Kind, Load, Path, Place, Pull, Support, Through, Tiedown
from assistant.securement.coil_shape import coil_size
from assistant.securement.rating import rate
from assistant.securement.statics import Statics, can_look, look_at_movement
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
CROSSWISE = Coil(weight_lb=42_500, eye=Eye.CROSSWISE, outside_in=66, bore_in=24, width_in=48)
CRADLE = Support(timbers=2, bunks=3, gap_in=24, edge_height_in=4)


def looked(load: Load) -> Statics:
    rated = [rate(tiedown, tables=TABLES, gear=GEAR, on=ON) for tiedown in load.tiedowns]
    return look_at_movement(load, rated, tables=TABLES, on=ON)


def ways(load: Load) -> dict[str, float]:
    return {way.name: way.at_limit for way in looked(load).ways}


def chains(count: int, pulls: Pull, **told: object) -> Tiedown:
    return Tiedown(kind=Kind.CHAIN, count=count, size_in=0.375, grade="70", pulls=pulls, path=Path.ACROSS, **told)


@pytest.mark.parametrize("gap", [12.0, 18.0, 24.0, 30.0])
def test_a_cradle_by_itself_holds_tan_theta(gap: float) -> None:
    # Statics textbooks: a cylinder of radius R resting on two edges a gap s apart rolls out at g = tan(theta) with
    # sin(theta) = s / (2 R).
    support = CRADLE.model_copy(update={"gap_in": gap})
    alone = ways(Load(coils=(CROSSWISE,), support=support))
    assert alone["forward"] == pytest.approx(math.tan(math.asin(gap / 66)), rel=1e-6)
    assert alone["rearward"] == pytest.approx(alone["forward"])


@pytest.mark.parametrize(
    ("outside", "bore", "width", "metal", "weight"),
    [
        # Exact geometry at handbook densities (memory): steel 0.2836, aluminum 0.0975, copper 0.323, 304 stainless 0.29
        # lb/in3. Densities in print differ by 0.1 to 0.4 %, so the diameter is compared within 0.25 %.
        (72, 24, 48, None, 49_266),
        (72, 20, 48, "steel", 51_148),
        (60, 20, 48, "steel", 34_213),
        (60, 24, 60, "steel", 40_414),
        (48, 20, 40, "steel", 16_964),
        (72, 20, 60, "aluminum", 21_981),
        (50, 20, 24, "copper", 12_786),
        (60, 24, 48, "stainless", 33_061),
    ],
)
def test_a_coils_weight_gives_its_size(
    outside: float, bore: float, width: float, metal: str | None, weight: float
) -> None:
    coil = Coil(weight_lb=weight, bore_in=bore, width_in=width, metal=metal)
    assert 2 * coil_size(coil, tables=TABLES, on=ON).radius == pytest.approx(outside, rel=2.5e-3)


def test_chains_against_one_movement_do_nothing_against_the_other() -> None:
    found = looked(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(4, Pull.REARWARD),)))
    forward = next(way for way in found.ways if way.name == "forward")
    assert forward.idle == ("four chains against rearward movement",)
    assert forward.at_limit == pytest.approx(math.tan(math.asin(24 / 66)), rel=1e-6)


def test_each_chain_more_holds_more() -> None:
    held = [
        ways(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(count, Pull.FORWARD),)))["forward"]
        for count in (1, 2, 3)
    ]
    assert held == sorted(held)
    assert held[0] < held[2]


def test_left_and_right_are_mirror_images() -> None:
    load = Load(
        coils=(CROSSWISE,),
        support=CRADLE,
        tiedowns=(chains(2, Pull.FORWARD), Tiedown(kind=Kind.STRAP, through=Through.TOP, place=Place.FRONT)),
    )
    found = ways(load)
    assert found["left"] == pytest.approx(found["right"], rel=1e-6)


def test_forward_and_rearward_change_places_with_the_tiedowns() -> None:
    one = ways(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(3, Pull.FORWARD), chains(1, Pull.REARWARD))))
    other = ways(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(1, Pull.FORWARD), chains(3, Pull.REARWARD))))
    assert one["forward"] == pytest.approx(other["rearward"], rel=1e-6)
    assert one["rearward"] == pytest.approx(other["forward"], rel=1e-6)


def test_grade_70_is_tested_at_breaking_strength_too() -> None:
    # Makers' tables (read): grade 70 chain breaks at four times its working load limit.
    found = looked(
        Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(2, Pull.FORWARD), chains(2, Pull.REARWARD)))
    )
    forward = next(way for way in found.ways if way.name == "forward")
    assert forward.need_limit == 0.435
    assert forward.need_break == 0.8
    assert forward.at_break is not None
    assert forward.at_break > forward.at_limit


def test_a_damaged_tiedown_holds_nothing() -> None:
    sound = ways(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(2, Pull.FORWARD),)))
    cut = ways(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(2, Pull.FORWARD, damaged=True),)))
    none = ways(Load(coils=(CROSSWISE,), support=CRADLE))
    assert cut["forward"] == pytest.approx(none["forward"])
    assert sound["forward"] > cut["forward"]


def test_every_assumption_is_listed_and_none_when_it_was_told() -> None:
    bare = looked(Load(coils=(Coil(weight_lb=42_500, eye=Eye.CROSSWISE),)))
    assert any("Coil width taken as 48 in" in line for line in bare.assumed)
    told = looked(Load(coils=(CROSSWISE,), support=CRADLE))
    assert not any("Coil width" in line or "Gap" in line for line in told.assumed)
    assert any("kept from sliding" in line for line in told.assumed)


def test_the_sentence_names_the_weak_way_and_what_does_nothing_there() -> None:
    weak = looked(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(2, Pull.REARWARD),)))
    assert "is the weak way" in weak.sentence
    assert "do nothing there" in weak.sentence
    assert "assumed geometry" in weak.finding.text


def test_a_way_that_fails_the_test_at_breaking_strength_is_weak() -> None:
    # 49 CFR 393.102(a)(1)(iii) (read): 0.5 g sideways. Steel on timber, 0.3 (CTU Code, read), holds some 0.32 g.
    found = looked(
        Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(2, Pull.FORWARD), chains(2, Pull.REARWARD)))
    )
    assert found.ways[0].name in {"left", "right"}
    assert found.ways[0].share < 1
    assert "0.5 asked at breaking strength" in found.sentence
    assert "Each way holds" not in found.sentence


def test_where_breaking_strength_is_not_known_only_the_other_test_is_claimed() -> None:
    strap = Tiedown(kind=Kind.STRAP, count=2, marked_lb=5400, path=Path.ACROSS, pulls=Pull.FORWARD)
    back = strap.model_copy(update={"pulls": Pull.REARWARD})
    light = CROSSWISE.model_copy(update={"weight_lb": 10_000.0})
    found = looked(Load(coils=(light,), support=CRADLE, tiedowns=(strap, back)))
    assert found.sentence.startswith("At working load limits each way holds what is asked")
    assert any("Breaking strengths not told" in line for line in found.assumed)


def test_what_the_statics_need_is_asked() -> None:
    def why(coil: Coil) -> str:
        return can_look(Load(coils=(coil,)), tables=TABLES, on=ON)

    assert why(Coil(eye=Eye.VERTICAL)) == "What does the coil weigh?"
    assert why(Coil(count=2, eye=Eye.VERTICAL)) == "What does each coil weigh?"
    assert "eye point" in why(Coil(weight_lb=40_000))
    assert why(CROSSWISE) == ""


def test_what_blocks_a_coil_bears_no_more_than_a_front_structure_is_rated_for() -> None:
    upright = Coil(weight_lb=30_000, eye=Eye.VERTICAL, outside_in=60, bore_in=24, width_in=40)
    blocked = Load(coils=(upright,), support=Support(blocked_forward=True))
    assert any("whatever comes" in line for line in looked(blocked).assumed)
    for front, held in (({"rated_lb": 9000}, 0.3), ({"damaged": True}, 0.0)):
        bounded = Load.model_validate({**dict(blocked), "front": front})
        # Friction of smooth metal on smooth metal, 0.2 (CTU Code, read), and what it is rated for over the weight.
        assert ways(bounded)["forward"] == pytest.approx(0.2 + held)


def test_an_upright_coil_with_mats_is_held_by_their_friction() -> None:
    upright = Coil(weight_lb=30_000, eye=Eye.VERTICAL, outside_in=60, bore_in=24, width_in=40)
    # CTU Code, annex 7 (memory): 0.6 for anti-slip rubber; the lowest 0.2 for smooth metal on metal (read).
    assert ways(Load(coils=(upright,), support=Support(mats=True)))["forward"] == pytest.approx(0.6, rel=1e-6)
    assert ways(Load(coils=(upright,)))["forward"] == pytest.approx(0.2, rel=1e-6)
