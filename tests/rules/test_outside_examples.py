"""Lashing examples printed elsewhere, against the rigid-body bound and the half-weight rule. Each names its source."""

import datetime as dt
import math

import pytest

from assistant.load.model import Article, Kind, Load, Path, Tiedown
from assistant.securement.finding import Status
from assistant.securement.judge import judge
from assistant.securement.rigid_body import Body, Contact, Pull, greatest_g
from assistant.securement.table_reader import read_sample_gear, read_tables

FORWARD, LEFT, RIGHT, UP = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)
G = 9.81
Ends = tuple[tuple[tuple[float, float, float], tuple[float, float, float]], ...]


def block(
    weight: float, *, friction: float, size: tuple[float, float] = (40.0, 40.0), centre: float = 1.0, pulls: object = ()
) -> Body:
    length, width = size
    corners = [(x, y, 0.0) for x in (-length / 2, length / 2) for y in (-width / 2, width / 2)]
    return Body(weight, (0, 0, centre), tuple(Contact(at, UP, friction) for at in corners), tuple(pulls))  # type: ignore[arg-type]


def over(degrees: float) -> Ends:
    """Return a lashing over the top whose legs lie at an angle to the deck."""
    out = 2 / math.tan(math.radians(degrees))
    return tuple(((0.0, side, 2.0), (0.0, side * (1 + out), 0.0)) for side in (1.0, -1.0))


def test_cargo_securing_code_example_1_to_port() -> None:
    """CSS Code, annex 13, appendix 1, example 1 (read; text before 2020): 0.3 x 62 x 9.81 + 60 (2 x .96 + 2 x 1.04).

    Printed 422 kN, cut off from 422.5: its .96 and 1.04 are rounded, which makes 0.5 kN of the four lashings.
    """
    pulls = []
    for place, degrees in ((-2.0, 40), (-1.0, 10), (1.0, 10), (2.0, 40)):
        slope = math.radians(degrees)
        anchor = (place, 10 * math.cos(slope), 1 - 10 * math.sin(slope))
        pulls.append(Pull(f"lashing {place}", (((place, 0.0, 1.0), anchor),), 60))
    held = block(62 * G, friction=0.3, pulls=pulls)
    assert greatest_g(held, RIGHT).g * 62 * G == pytest.approx(422.5, abs=0.6)


def test_cargo_securing_code_example_1_tipping() -> None:
    """CSS Code, annex 13, appendix 1, example 1 (read): Fy x 1.8 m against 2 m x 62 t x 9.81 = 1216 kNm."""
    stood = block(62 * G, friction=0.3, size=(6, 4), centre=1.8)
    assert greatest_g(stood, LEFT, sliding=False).g * 62 * G * 1.8 == pytest.approx(1216, abs=1)


def test_cargo_securing_code_example_2_friction() -> None:
    """CSS Code, annex 13, example 2 (inputs read, result derived): .3 x 68 x 9.81 = 200; less lift of 276.8 kN, 117."""
    weight = 68 * G
    assert greatest_g(block(weight, friction=0.3), LEFT).g * weight == pytest.approx(200, abs=0.5)
    pressed = weight - 276.8
    assert greatest_g(block(pressed, friction=0.3), FORWARD).g * pressed == pytest.approx(117, abs=0.5)


def test_one_belt_direct_and_over_the_top() -> None:
    """Insurers' handbook (read): a belt of 2,500 daN holds that directly, and 240 over the top, 400 daN at mu .3."""
    direct = Pull("belt", (((0.0, 0.0, 1.0), (-10.0, 0.0, 1.0)),), 2500)
    assert greatest_g(block(10_000, friction=0, pulls=[direct]), FORWARD).g * 10_000 == pytest.approx(2500)
    tied = Pull("belt", over(90), 2500, pretension_lb=400)
    alone = greatest_g(block(10_000, friction=0.3), FORWARD).g
    assert (greatest_g(block(10_000, friction=0.3, pulls=[tied]), FORWARD).g - alone) * 10_000 == pytest.approx(240)


@pytest.mark.parametrize(
    ("tonnes", "friction", "degrees", "tension", "asked", "safety", "number"),
    [
        (10, 0.3, 90, 400, 0.5, 1.1, 8.99),
        (10, 0.3, 90, 400, 0.8, 1.25, 25.5),
        (12, 0.45, 60, 500, 0.5, 1.1, 1.66),
        (12, 0.45, 60, 500, 0.8, 1.25, 13.2),
    ],
)
def test_so_many_top_over_lashings_hold_what_they_are_worked_out_for(  # noqa: PLR0913, PLR0917 - a row of the source
    tonnes: float, friction: float, degrees: float, tension: float, asked: float, safety: float, number: float
) -> None:
    """EN 12195-1:2010, top-over lashing (formula from memory, figures derived): n lashings of F_T / f_s hold c.

    n is printed to three figures, which leaves 0.5 % of what the lashings add.
    """
    weight = tonnes * 100 * G
    pull = Pull("lashings", over(degrees), 1e6, pretension_lb=number * tension / safety)
    assert greatest_g(block(weight, friction=friction, pulls=[pull]), FORWARD).g == pytest.approx(asked, rel=5e-3)


@pytest.mark.parametrize(
    ("towards", "asked", "effect", "capacity"),
    [
        (FORWARD, 0.8, 0.75, 4.27),
        (FORWARD, 0.8, 0.70, 4.57),
        (LEFT, 0.5, 0.75, 2.67),
        (LEFT, 0.5, 0.70, 2.86),
    ],
)
def test_two_direct_chains_each_way_on_a_deck_without_friction(
    towards: tuple[float, float, float], asked: float, effect: float, capacity: float
) -> None:
    """Australian load restraint guide, direct restraint of an 8 t roller (inputs read, capacities derived).

    Two chains a direction, no friction, angle effect 1.5 / 2 = .75, by its table .70.
    """
    down = math.sqrt(1 - effect**2)
    ahead, across = towards[0], towards[1]
    pulls = []
    for side in (3.0, -3.0):
        at = (side * across, side * ahead, 1.0)
        anchor = (at[0] - 10 * effect * ahead, at[1] - 10 * effect * across, 1.0 - 10 * down)
        pulls.append(Pull(f"chain {side}", ((at, anchor),), capacity))
    bound = greatest_g(block(8, friction=0, pulls=pulls), towards)
    assert bound.g == pytest.approx(asked, rel=2e-3)
    assert bound.first.startswith("chain")


@pytest.mark.parametrize(("base", "height", "most"), [(1.2, 2.0, 0.6), (1.0, 2.0, 0.5), (2.0, 2.0, 1.0)])
def test_what_stands_unlashed_up_to_its_base_over_its_height(base: float, height: float, most: float) -> None:
    """EN 12195-1 (memory): stable while b/d > c_y/c_z, with the centre at half the height."""
    stood = block(1000, friction=0.9, size=(4, base), centre=height / 2)
    assert greatest_g(stood, LEFT).g == pytest.approx(min(most, 0.9))


@pytest.mark.parametrize(("times_weight", "status"), [(2.0, Status.MEETS), (1.5, Status.SHORT), (1.0, Status.SHORT)])
def test_rated_by_breaking_strength_twice_the_weight_is_half_of_it_by_limit(
    times_weight: float, status: Status
) -> None:
    """New Zealand (read): two chains that break at 2 x the weight together; 1.5 x and 1 x behind a headboard.

    Chain of design factor 4 (makers' tables, read) has a quarter of that as its limit: 2 x is just the half of
    49 CFR 393.106(d) (read), which makes no allowance for a headboard, so the other two are below it.
    """
    weight = 20_000.0
    breaks = times_weight * weight / 2
    chains = Tiedown(kind=Kind.CHAIN, count=2, marked_lb=breaks / 4, breaking_lb=breaks, path=Path.ACROSS)
    load = Load(articles=(Article(name="machine", weight_lb=weight, length_ft=10),), tiedowns=(chains,))
    found = judge(load, tables=read_tables(), gear=read_sample_gear(), on=dt.date(2026, 11, 25))
    assert next(one for one in found.findings if one.topic == "aggregate").status is status
