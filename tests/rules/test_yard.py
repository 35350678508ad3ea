"""A yard move of a coil that nothing keeps from rolling, or of which nobody said what does."""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, Kind, Load, Path, Support, Through, Tiedown
from assistant.securement.finding import Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
STRAP = Tiedown(kind=Kind.STRAP, through=Through.TOP, path=Path.ACROSS)


def moved(support: Support, eye: Eye = Eye.CROSSWISE, *, tiedowns: tuple[Tiedown, ...] = (STRAP,)) -> Judgement:
    coil = Coil(weight_lb=40_000, eye=eye, outside_in=66, bore_in=24, width_in=48)
    load = Load(coils=(coil,), support=support, tiedowns=tiedowns, yard=True)
    return judge(load, tables=TABLES, gear=GEAR, on=ON)


def held(found: Judgement, way: str) -> float:
    step = next(step for step in found.findings[0].trace if step.what == way)
    return float(step.value)


@pytest.mark.parametrize(
    ("eye", "ways"), [(Eye.CROSSWISE, ("forward", "rearward")), (Eye.LENGTHWISE, ("left", "right"))]
)
@pytest.mark.parametrize("told", [{"timbers": 0}, {"timbers": 0, "wedges": 0, "cradle": False}, {"cradle": False}])
def test_a_coil_on_the_bare_deck_holds_nothing_against_rolling(
    told: dict[str, object], eye: Eye, ways: tuple[str, str]
) -> None:
    # Statics textbooks: a cylinder on a level plane is in neutral equilibrium; no cradle is to be assumed for it.
    found = moved(Support.model_validate(told), eye, tiedowns=())
    assert [held(found, way) for way in ways] == pytest.approx([0, 0], abs=1e-6)
    assert any("bare deck" in line for line in found.assumed)
    assert "-0.00" not in found.findings[0].text


def test_a_cradle_that_nobody_told_is_said_as_assumed() -> None:
    assert any("was not told: taken as two edges" in line for line in moved(Support()).assumed)
    assert not any("taken as two edges" in line for line in moved(Support(timbers=2, bunks=3)).assumed)


def test_wedges_alone_are_edges_too() -> None:
    assert held(moved(Support(timbers=0, wedges=4)), "forward") > 0.3


def test_a_gap_too_wide_for_the_coil_is_never_taken_in_silence() -> None:
    assert any("too wide" in line for line in moved(Support(timbers=2, bunks=3, gap_in=70)).assumed)
    assert not any("too wide" in line for line in moved(Support(timbers=2, bunks=3, gap_in=24)).assumed)


@pytest.mark.parametrize("tiedowns", [(), (STRAP,), (STRAP, STRAP)])
def test_a_yard_move_is_never_met(tiedowns: tuple[Tiedown, ...]) -> None:
    # 49 CFR 393.100(b) (read) governs public roads; a yard move is common practice, no source.
    found = moved(Support(timbers=2, bunks=3, cradle=True), tiedowns=tiedowns)
    assert found.verdict is Status.OUTSIDE
    assert "never the road" in found.findings[0].text


def test_a_yard_move_of_a_machine_says_what_it_holds_and_asks_what_it_needs() -> None:
    def said(load: Load) -> str:
        return judge(load, tables=TABLES, gear=GEAR, on=ON).findings[0].text

    machine = Article(name="machine", weight_lb=20_000, length_ft=12)
    # Statics textbooks: it slides at mu; smooth metal on smooth metal 0.2 (CTU Code, read).
    assert "forward 0.20 g" in said(Load(articles=(machine,), yard=True))
    unmeasured = machine.model_copy(update={"length_ft": None})
    assert "how long is the machine?" in said(Load(articles=(unmeasured,), yard=True))
