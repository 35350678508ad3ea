"""The rigid-body bound against textbook results. Expected values come from the formulas named, not from the program."""

import math

import pytest

from assistant.securement.rigid_body import Body, Contact, NotSolvedError, Pull, greatest_g

FORWARD, LEFT, UP = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def block(
    *, length: float = 40, width: float = 20, centre: float = 40, friction: float = 0.4, pulls: tuple[Pull, ...] = ()
) -> Body:
    corners = [(x, y, 0.0) for x in (-length / 2, length / 2) for y in (-width / 2, width / 2)]
    return Body(1000, (0, 0, centre), tuple(Contact(at, UP, friction) for at in corners), pulls)


@pytest.mark.parametrize("step", [1, 2, 4, 8, 15])
def test_a_wheel_against_a_step_rolls_over_it_at_the_textbook_force(step: float) -> None:
    # Statics textbooks: F = W sqrt(2 R h - h^2) / (R - h), pulled at the axle.
    radius = 30.0
    reach = math.sqrt(2 * radius * step - step**2)
    edge = Contact((reach, 0, step), (-reach / radius, 0, (radius - step) / radius), 0.3)
    wheel = Body(1000, (0, 0, radius), (Contact((0, 0, 0), UP, 0), edge))
    bound = greatest_g(wheel, FORWARD)
    assert bound.g == pytest.approx(reach / (radius - step))
    assert bound.turns


def test_a_block_slides_at_the_coefficient_of_friction() -> None:
    bound = greatest_g(block(centre=10, friction=0.3), FORWARD)
    assert bound.g == pytest.approx(0.3)
    assert not bound.turns


def test_a_block_tips_at_half_its_base_over_the_height_of_its_centre() -> None:
    # Statics textbooks: g = b / (2 h). Here 20 / 40 lengthwise, 10 / 40 across.
    assert greatest_g(block(), FORWARD, sliding=False).g == pytest.approx(0.5)
    assert greatest_g(block(), LEFT).g == pytest.approx(0.25)
    assert greatest_g(block(), LEFT).turns


@pytest.mark.parametrize("degrees", [0, 10, 30, 40, 60])
def test_a_direct_lashing_helps_by_its_pull_and_by_the_friction_it_presses(degrees: float) -> None:
    # CSS Code, annex 13, and EN 12195-1: f = mu sin(a) + cos(a) for a lashing at angle a to the deck (read).
    slope = math.radians(degrees)
    point = (0.0, 0.0, 20.0)
    anchor = (-100 * math.cos(slope), 0.0, 20 - 100 * math.sin(slope))
    held = block(centre=20, length=200, friction=0.3, pulls=(Pull("lashing", ((point, anchor),), 200),))
    bound = greatest_g(held, FORWARD)
    assert bound.g == pytest.approx(0.3 + 0.2 * (0.3 * math.sin(slope) + math.cos(slope)))
    assert bound.first == "lashing"


def test_cargo_securing_code_example_1_to_starboard() -> None:
    # CSS Code, annex 13, appendix 1, example 1 (read; text before 2020): 62 t, mu 0.3, four lashings of 60 kN at
    # 40 degrees: 0.3 x 62 x 9.81 + 4 x 60 x 0.96 = 412 kN, exactly 412.9.
    weight = 62 * 9.81
    slope = math.radians(40)
    pulls = tuple(
        Pull(f"lashing {place}", (((place, 0, 2), (place, -10 * math.cos(slope), 2 - 10 * math.sin(slope))),), 60)
        for place in (-2.0, -1.0, 1.0, 2.0)
    )
    corners = [(x, y, 0.0) for x in (-3.0, 3.0) for y in (-2.0, 2.0)]
    # The centre stands low enough that sliding governs, as the example's tipping check shows.
    load = Body(weight, (0, 0, 1.8), tuple(Contact(at, UP, 0.3) for at in corners), pulls)
    assert greatest_g(load, LEFT).g * weight == pytest.approx(412.9, abs=0.5)


@pytest.mark.parametrize(("friction", "best"), [(0.3, 16.7), (0.45, 24.2)])
def test_the_best_angle_of_a_direct_lashing_is_where_its_tangent_is_the_friction(friction: float, best: float) -> None:
    # A lashing handbook (read) gives about 25 degrees; f = mu sin(a) + cos(a) is greatest at atan(mu) (derived).
    def holds(degrees: float) -> float:
        slope = math.radians(degrees)
        ends = (((0.0, 0.0, 20.0), (-100 * math.cos(slope), 0.0, 20 - 100 * math.sin(slope))),)
        return greatest_g(
            block(centre=20, length=400, friction=friction, pulls=(Pull("lashing", ends, 200),)), FORWARD
        ).g

    angles = [step / 10 for step in range(50, 400)]
    assert max(angles, key=holds) == pytest.approx(best, abs=0.1)


@pytest.mark.parametrize(
    ("friction", "needed", "clamp"), [(0.4, 0.8, 1.0), (0.4, 0.5, 0.25), (0.6, 0.8, 1 / 3), (0.2, 0.5, 1.5)]
)
def test_clamping_force_by_tie_down(friction: float, needed: float, clamp: float) -> None:
    # Australian performance standard, 0.8 g forward and 0.5 g sideways (read); F/W = c/mu - 1 (derived).
    ends = (((0, 10, 80), (0, 10, 0)), ((0, -10, 80), (0, -10, 0)))
    half = 1000 * clamp / 2
    held = block(centre=10, length=400, width=400, friction=friction, pulls=(Pull("strap", ends, 5400, half),))
    assert greatest_g(held, FORWARD).g == pytest.approx(needed)


def test_cargo_securing_code_example_2_parts_of_a_lashing() -> None:
    # CSS Code, annex 13, example 2 (read up to this row), lashing at 40 degrees to the deck, 30 across: f_y = .856 and
    # f_x = .576 (derived from cos a cos b + mu sin a, cos a sin b + mu sin a).
    slope, turn = math.radians(40), math.radians(30)
    towards = (-math.cos(slope) * math.sin(turn), -math.cos(slope) * math.cos(turn), -math.sin(slope))
    at = (0.0, 0.0, 20.0)
    ends = ((at, tuple(place + 10 * part for place, part in zip(at, towards, strict=True))),)
    for way, share in ((LEFT, 0.856), (FORWARD, 0.576)):
        mirrored = (
            *ends,
            (
                at,
                (
                    ends[0][1][0] * (1 if way == FORWARD else -1),
                    ends[0][1][1] * (-1 if way == FORWARD else 1),
                    ends[0][1][2],
                ),
            ),
        )
        pulls = tuple(Pull(f"lashing {place}", (one,), 100) for place, one in enumerate(mirrored))
        held = Body(1000, (0, 0, 20), block(length=400, width=400, friction=0.3).contacts, pulls)
        assert greatest_g(held, way).g == pytest.approx(0.3 + 0.2 * share, abs=2e-4)


def test_a_strap_straight_over_the_top_does_not_hold_a_slide_without_pretension() -> None:
    ends = (((0, 10, 80), (0, 48, 0)), ((0, -10, 80), (0, -48, 0)))
    loose = block(centre=10, friction=0.3, pulls=(Pull("strap", ends, 5400),))
    assert greatest_g(loose, FORWARD).g == pytest.approx(0.3)
    assert greatest_g(loose, FORWARD).idle == ("strap",)


def test_friction_lashing_holds_by_its_pretension_and_friction() -> None:
    # EN 12195-1, top-over lashing without safety factors: mu (W + 2 F sin a) = c W (memory).
    down = 80 / math.hypot(80, 38)
    ends = (((0, 10, 80), (0, 48, 0)), ((0, -10, 80), (0, -48, 0)))
    tight = block(centre=10, friction=0.3, pulls=(Pull("strap", ends, 5400, pretension_lb=400),))
    assert greatest_g(tight, FORWARD).g == pytest.approx(0.3 * (1000 + 2 * 400 * down) / 1000)


def test_lifting_takes_the_weight_and_what_holds_down() -> None:
    ends = (((0, 10, 80), (0, 10, 0)), ((0, -10, 80), (0, -10, 0)))
    assert greatest_g(block(), UP).g == pytest.approx(1.0)
    assert greatest_g(block(pulls=(Pull("strap", ends, 300),)), UP).g == pytest.approx(1.6)


def test_twice_the_weight_with_twice_the_limits_is_the_same() -> None:
    pull = Pull("chain", (((0, 0, 20), (-60, 0, 0)),), 300)
    double = Pull("chain", (((0, 0, 20), (-60, 0, 0)),), 600)
    one = block(pulls=(pull,))
    two = Body(2000, one.centre, one.contacts, (double,))
    assert greatest_g(one, FORWARD).g == pytest.approx(greatest_g(two, FORWARD).g)


def test_a_body_that_does_not_stand_is_told() -> None:
    toppled = Body(1000, (50, 0, 10), block().contacts)
    with pytest.raises(NotSolvedError, match="does not stand"):
        greatest_g(toppled, FORWARD)
