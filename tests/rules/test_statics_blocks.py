"""The statics of one article of general freight: what slides, what tips, what blocks it, and what is said."""

import datetime as dt
import math

import pytest

from assistant.load.model import Article, FrontStructure, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.securement.rating import rate
from assistant.securement.statics import Statics, can_look, look_at_movement
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
MACHINE = Article(name="machine", weight_lb=20_000, length_ft=12)
WLL = 6600.0  # grade 70 chain of 3/8 in: 49 CFR 393.108 (read)


def looked(*tiedowns: Tiedown, article: Article = MACHINE, **told: object) -> Statics:
    load = Load.model_validate({"articles": (article,), "tiedowns": tiedowns, **told})
    assert can_look(load, tables=TABLES, on=ON) == ""
    rated = [rate(tiedown, tables=TABLES, gear=GEAR, on=ON) for tiedown in tiedowns]
    return look_at_movement(load, rated, tables=TABLES, on=ON)


def ways(*tiedowns: Tiedown, **told: object) -> dict[str, float]:
    return {way.name: way.at_limit for way in looked(*tiedowns, **told).ways}  # type: ignore[arg-type]


def chains(count: int, **told: object) -> Tiedown:
    return Tiedown.model_validate({"kind": Kind.CHAIN, "count": count, "size_in": 0.375, "grade": "70", **told})


def straps(count: int, **told: object) -> Tiedown:
    return Tiedown.model_validate(
        {"kind": Kind.STRAP, "count": count, "marked_lb": 5400, "through": Through.TOP, **told}
    )


def test_a_block_tips_at_half_its_base_over_the_height_of_its_centre() -> None:
    # Statics textbooks: g = b / (2 h). 12 ft long, and 48 in wide and high as assumed: 72 / 24 along, 24 / 24 across.
    held = ways()
    assert (held["tipping forward"], held["tipping rearward"]) == pytest.approx((3, 3), rel=1e-3)
    assert (held["tipping left"], held["tipping right"]) == pytest.approx((1, 1), rel=1e-3)


@pytest.mark.parametrize(
    ("support", "friction"),
    [(Support(), 0.2), (Support(timbers=2), 0.3), (Support(mats=True), 0.6), (Support(mats=True, timbers=2), 0.3)],
)
def test_a_block_slides_at_the_friction_of_what_it_rests_on(support: Support, friction: float) -> None:
    # CTU Code, annex 7, appendix 2: lowest rows (read), anti-slip rubber (memory). Textbooks: it slides at mu.
    held = ways(support=support)
    assert [held[way] for way in ("forward", "rearward", "left", "right")] == pytest.approx([friction] * 4)
    assert held["up"] == 0


def test_straps_over_the_top_hold_a_slide_by_their_pretension_alone() -> None:
    # EN 12195-1, top-over lashing without safety factors: mu (W + 2 n F sin a) = c W (memory). From 24 to 48 in out,
    # 48 in down: sin a = 48 / hypot(48, 24).
    slack, tight = ways(straps(2)), ways(straps(2, pretension_lb=400))
    assert slack["forward"] == slack["left"] == pytest.approx(0.2)
    down = 2 * 2 * 400 * 48 / math.hypot(48, 24)
    assert tight["forward"] == pytest.approx(0.2 * (20_000 + down) / 20_000)
    # Their whole limit holds against tipping and against lifting.
    assert slack["up"] == pytest.approx(2 * 2 * 5400 * 48 / math.hypot(48, 24) / 20_000)
    assert slack["tipping left"] > 1.5


def test_direct_chains_hold_by_their_pull_and_by_the_friction_they_press() -> None:
    # CSS Code, annex 13 (read): pull along + mu x pull down. One leg each, 24 in back, out and down: 1 / sqrt 3 each.
    held = looked(chains(2, pulls=Pull.FORWARD, path=Path.DIRECT))
    part = 2 * WLL / math.sqrt(3)
    forward = next(way for way in held.ways if way.name == "forward")
    assert forward.at_limit == pytest.approx((part + 0.2 * (20_000 + part)) / 20_000)
    assert forward.first == "two chains against forward movement"
    assert next(way for way in held.ways if way.name == "rearward").at_limit == pytest.approx(0.2)


def test_a_course_not_told_is_taken_as_the_one_that_holds_less() -> None:
    untold = looked(chains(2, pulls=Pull.FORWARD))
    direct, across = (ways(chains(2, pulls=Pull.FORWARD, path=path)) for path in (Path.DIRECT, Path.ACROSS))
    assert {way.name: way.at_limit for way in untold.ways} == pytest.approx(direct)
    assert direct["forward"] < across["forward"]
    assert any("course not told" in line for line in untold.assumed)


def test_direct_chains_whose_end_was_not_told_are_half_at_each_end() -> None:
    held = looked(chains(5, path=Path.DIRECT))
    told = ways(chains(2, pulls=Pull.FORWARD, path=Path.DIRECT), chains(2, pulls=Pull.REARWARD, path=Path.DIRECT))
    assert {way.name: way.at_limit for way in held.ways} == pytest.approx(told)
    assert any("an odd one is not counted" in line for line in held.assumed)


def test_back_to_the_same_side_holds_sideways_and_an_odd_one_counts_nothing() -> None:
    one, two = looked(chains(1, path=Path.SAME_SIDE)), ways(chains(2, path=Path.SAME_SIDE))
    assert {way.name: way.at_limit for way in one.ways} == pytest.approx(ways())
    assert any("side of an odd one was not told" in line for line in one.assumed)
    assert two["left"] == pytest.approx(two["right"])
    assert two["left"] > 0.5
    assert two["forward"] == pytest.approx(0.2)


def test_a_chain_against_one_side_holds_nothing_against_the_other() -> None:
    held = ways(chains(2, pulls=Pull.LEFT))
    assert held["left"] > 0.5
    assert held["right"] == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("front", "share"),
    [
        # 49 CFR 393.114(c)(1)-(2) (memory): half the weight, 40 % from 6 ft up; the less where no height was told.
        (None, 0.4),
        (FrontStructure(height_ft=4), 0.5),
        (FrontStructure(height_ft=7), 0.4),
        (FrontStructure(height_ft=4, rated_lb=5000), 0.25),
        (FrontStructure(damaged=True, rated_lb=50_000), 0.0),
    ],
)
def test_what_blocks_it_forward_bears_what_was_told_or_the_least_it_must(
    front: FrontStructure | None, share: float
) -> None:
    blocked = MACHINE.model_copy(update={"blocked_forward": True})
    held = looked(article=blocked, front=front)
    forward = next(way for way in held.ways if way.name == "forward")
    assert forward.at_limit == pytest.approx(0.2 + share)
    assert bool(forward.first) == bool(share)
    assert next(way for way in held.ways if way.name == "rearward").at_limit == pytest.approx(0.2)


def test_through_an_eye_nothing_holds_an_article() -> None:
    held = looked(chains(4, through=Through.EYE, pulls=Pull.FORWARD))
    assert {way.name: way.at_limit for way in held.ways} == pytest.approx(ways())
    assert any("no eye" in line for line in held.assumed)


def test_the_sentence_names_what_moves() -> None:
    slides = looked(straps(2), article=MACHINE.model_copy(update={"name": "crate"}))
    assert "the crate would slide" in slides.sentence
    assert "Two straps over the top do nothing there." in slides.sentence
    held = looked(chains(2, pulls=Pull.FORWARD), chains(2, pulls=Pull.REARWARD))
    assert "would give first and the machine would slide" in held.sentence


def test_every_length_that_was_assumed_is_listed() -> None:
    lines = " ".join(looked(straps(3)).assumed)
    for words in ("Article width", "Article height", "evenly spaced", "solid block", "Friction, article on deck: 0.2"):
        assert words in lines


def test_what_it_needs_is_asked_and_what_has_a_rule_of_its_own_is_named() -> None:
    def why(article: Article) -> str:
        return can_look(Load(articles=(article,)), tables=TABLES, on=ON)

    assert why(Article(name="crate", weight_lb=900)) == "How long is the crate?"
    assert why(Article(name="crate", length_ft=9)) == "What does the crate weigh?"
    assert why(Article(name="crate", count=2, length_ft=9)) == "What does each crate weigh?"
    assert "393.116 governs logs" in why(Article(name="logs", weight_lb=900, length_ft=20))
    assert can_look(Load(), tables=TABLES, on=ON) == "What is on the deck?"


@pytest.mark.parametrize("times", [1, 2, 3, 5])
def test_a_short_heavy_block_tips_at_the_same_g_whatever_it_weighs(times: int) -> None:
    # Textbook: 24 / 24 to the left, where its chains against movement to the right do not help. In pounds the solver
    # gave up on twice this weight, and 0 g was told.
    short = Article(name="machine", weight_lb=7738.0 * times, length_ft=2)
    held = ways(Tiedown(kind=Kind.CHAIN, count=4, marked_lb=2709.0 * times, pulls=Pull.RIGHT), article=short)
    assert held["tipping left"] == pytest.approx(1.0, rel=1e-6)
    assert held["tipping forward"] == pytest.approx(held["tipping rearward"], rel=1e-6)
    assert held["tipping forward"] > 0.5
