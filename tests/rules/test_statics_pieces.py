"""The statics of several pieces: how tiedowns are shared out, which piece governs, and where that is not plain."""

import datetime as dt
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.load.model import Article, Coil, Eye, Kind, Load, Path, Place, Pull, Row, Support, Through, Tiedown
from assistant.securement.rating import rate
from assistant.securement.statics import Statics, can_look, look_at_movement
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
CROSSWISE = Coil(weight_lb=20_000, eye=Eye.CROSSWISE, outside_in=50, bore_in=20, width_in=48)
UPRIGHT = Coil(weight_lb=20_000, eye=Eye.VERTICAL, outside_in=60, bore_in=20, width_in=36)
CRADLE = Support(timbers=2, bunks=3, gap_in=24, edge_height_in=4)
CRATE = Article(name="crate", weight_lb=9000, length_ft=10)
NEAR = 1e-4
FEW = settings(max_examples=40, deadline=None)


def looked(load: Load) -> Statics:
    assert can_look(load, tables=TABLES, on=ON) == ""
    rated = [rate(tiedown, tables=TABLES, gear=GEAR, on=ON) for tiedown in load.tiedowns]
    return look_at_movement(load, rated, tables=TABLES, on=ON)


def ways(load: Load) -> dict[str, float]:
    return {way.name: way.at_limit for way in looked(load).ways}


def chains(count: int, pulls: Pull | None = None, **told: object) -> Tiedown:
    return Tiedown.model_validate(
        {
            "kind": Kind.CHAIN,
            "count": count,
            "size_in": 0.375,
            "grade": "70",
            "pulls": pulls,
            "path": Path.ACROSS,
            **told,
        }
    )


def coils(count: int, *tiedowns: Tiedown, coil: Coil = CROSSWISE, **told: object) -> Load:
    many = coil.model_copy(update={"count": count})
    return Load.model_validate({"coils": (many,), "tiedowns": tiedowns, "support": CRADLE, **told})


def test_each_of_two_coils_is_reckoned_with_its_share() -> None:
    two = looked(coils(2, chains(4, Pull.FORWARD), chains(2, Pull.REARWARD)))
    assert {way.name: way.at_limit for way in two.ways} == pytest.approx(
        ways(coils(1, chains(2, Pull.FORWARD), chains(1, Pull.REARWARD)))
    )
    share = "two chains against forward movement, one chain against rearward movement"
    assert f"Each coil is reckoned with its share: {share}." in two.assumed
    assert "each coil would" in two.sentence
    assert two.shared


def test_of_three_chains_over_two_coils_the_one_with_fewer_governs() -> None:
    found = looked(coils(2, chains(3, Pull.FORWARD), chains(2, Pull.REARWARD)))
    assert {way.name: way.at_limit for way in found.ways} == pytest.approx(
        ways(coils(1, chains(1, Pull.FORWARD), chains(1, Pull.REARWARD)))
    )
    assert any("one of three chains against forward movement" in line for line in found.assumed)
    assert "the coil with fewest tiedowns would" in found.sentence


def test_one_chain_over_two_coils_leaves_one_without() -> None:
    alone = ways(coils(1))
    found = looked(coils(2, chains(1, Pull.FORWARD)))
    assert {way.name: way.at_limit for way in found.ways} == pytest.approx(alone)
    assert any("none of one chain" in line for line in found.assumed)


def test_tiedowns_told_one_by_one_are_those_told_at_once() -> None:
    at_once = looked(coils(2, chains(4, Pull.FORWARD), chains(2, Pull.REARWARD)))
    one_by_one = looked(coils(2, *[chains(1, Pull.FORWARD)] * 4, *[chains(1, Pull.REARWARD)] * 2))
    assert one_by_one.sentence == at_once.sentence
    assert one_by_one.assumed == at_once.assumed


def test_a_damaged_chain_is_shared_with_nobody() -> None:
    sound = coils(2, chains(2, Pull.FORWARD))
    cut = coils(2, chains(2, Pull.FORWARD), chains(2, Pull.FORWARD, damaged=True))
    assert ways(cut) == pytest.approx(ways(sound))


def test_straps_over_a_transverse_row_hold_each_coil_of_it() -> None:
    strap = Tiedown(kind=Kind.STRAP, marked_lb=5400, through=Through.TOP, place=Place.FRONT, path=Path.ACROSS)
    lying = CROSSWISE.model_copy(update={"eye": Eye.LENGTHWISE})
    row = looked(coils(3, strap, coil=lying, row=Row.TRANSVERSE))
    third = looked(coils(1, strap.model_copy(update={"marked_lb": 1800.0}), coil=lying))
    assert {way.name: way.at_limit for way in row.ways} == pytest.approx({way.name: way.at_limit for way in third.ways})
    assert any("its share of one strap over the top" in line for line in row.assumed)
    assert any("stands lower" in line for line in row.assumed)
    # Through the eye it holds its own coil, row or not.
    alone = ways(coils(3, chains(2, through=Through.EYE, crossed=True), coil=lying, row=Row.TRANSVERSE))
    assert alone == pytest.approx(ways(coils(1, coil=lying)))


def test_of_two_coils_that_are_not_alike_the_sentence_names_the_one_that_moves_first() -> None:
    heavy = UPRIGHT.model_copy(update={"weight_lb": 30_000.0})
    tiedowns = (chains(2, Pull.FORWARD), chains(2, Pull.REARWARD))
    found = looked(Load(coils=(UPRIGHT, heavy), tiedowns=tiedowns))
    forward = next(way for way in found.ways if way.name == "forward")
    assert forward.piece == "the second coil"
    one = ways(Load(coils=(heavy,), tiedowns=(chains(1, Pull.FORWARD), chains(1, Pull.REARWARD))))
    assert forward.at_limit == pytest.approx(one["forward"])


def test_no_way_is_better_than_that_of_any_piece() -> None:
    heavy = CROSSWISE.model_copy(update={"weight_lb": 30_000.0, "outside_in": 60.0})
    found = {
        way.name: way for way in looked(Load(coils=(CROSSWISE, heavy), support=CRADLE, tiedowns=(chains(2),))).ways
    }
    for coil in (CROSSWISE, heavy):
        for way in looked(Load(coils=(coil,), support=CRADLE, tiedowns=(chains(1),))).ways:
            if way.name in found:
                assert found[way.name].share <= way.share + NEAR


def test_beside_a_crosswise_coil_what_goes_through_its_eye_is_its_own() -> None:
    eye = (chains(2, Pull.FORWARD, through=Through.EYE), chains(2, Pull.REARWARD, through=Through.EYE))
    strap = Tiedown(kind=Kind.STRAP, count=2, marked_lb=5400, through=Through.TOP)
    found = looked(Load(coils=(CROSSWISE,), articles=(CRATE,), tiedowns=(*eye, strap), support=CRADLE))
    held = {way.name: way for way in found.ways}
    alone = {way.name: way for way in looked(Load(articles=(CRATE,), tiedowns=(strap,))).ways}
    assert held["forward"].piece == "the crate"
    assert held["forward"].at_limit == pytest.approx(alone["forward"].at_limit)
    assert held["rolling rearward" if "rolling rearward" in held else "rolling forward"].piece == "the coil"
    assert any("taken to hold the crate" in line for line in found.assumed)


@pytest.mark.parametrize(
    ("load", "said"),
    [
        (
            Load(coils=(CROSSWISE,), articles=(CRATE,), tiedowns=(chains(2, Pull.FORWARD),)),
            ("this holds: two chains against forward movement", "Say which go through the coil's eye"),
        ),
        (Load(coils=(UPRIGHT,), articles=(CRATE,), tiedowns=(chains(3, Pull.OVER),)), ("three chains over the top",)),
        (
            Load(coils=(CROSSWISE, CROSSWISE.model_copy(update={"eye": Eye.LENGTHWISE})), tiedowns=(chains(2),)),
            ("this holds: two chains across", "one piece alone"),
        ),
        (
            Load(articles=tuple(CRATE.model_copy(update={"weight_lb": 1000.0 + place}) for place in range(7))),
            ("at most 6 different pieces", "heaviest alone"),
        ),
    ],
)
def test_where_the_sharing_is_not_plain_it_says_why_and_what_to_say(load: Load, said: tuple[str, ...]) -> None:
    refused = can_look(load, tables=TABLES, on=ON)
    for words in said:
        assert words in refused
    assert not refused.endswith("?")


def test_a_front_end_structure_bears_all_that_press_on_it() -> None:
    blocked = CRATE.model_copy(update={"blocked_forward": True, "count": 2})
    load = Load.model_validate({"articles": (blocked,), "front": {"rated_lb": 9000, "height_ft": 5}})
    # Half of 9,000 lb on each crate of 9,000 lb, and friction of 0.2 (CTU Code, read): 0.5 + 0.2.
    assert ways(load)["forward"] == pytest.approx(0.7)


# Properties.

_articles = st.builds(
    Article,
    name=st.just("machine"),
    weight_lb=st.floats(2000, 40_000),
    length_ft=st.floats(2, 40),
    blocked_forward=st.sampled_from([None, True]),
)
_coils = st.builds(
    Coil,
    weight_lb=st.floats(5000, 45_000),
    eye=st.sampled_from(list(Eye)),
    outside_in=st.floats(40, 72),
    bore_in=st.just(20.0),
    width_in=st.floats(20, 60),
)
_tiedowns = st.builds(
    Tiedown,
    kind=st.just(Kind.CHAIN),
    count=st.integers(1, 4),
    marked_lb=st.floats(1000, 11_000),
    path=st.sampled_from([None, *Path]),
    pulls=st.sampled_from([None, *Pull]),
    through=st.sampled_from([None, *Through]),
    place=st.sampled_from([None, *Place]),
    crossed=st.booleans(),
    pretension_lb=st.sampled_from([None, 300.0]),
)
_lists = st.lists(_tiedowns, max_size=3).map(tuple)


@st.composite
def _loads(draw: st.DrawFn) -> Load:
    if draw(st.booleans()):
        return Load(articles=(draw(_articles),), tiedowns=draw(_lists))
    return Load(coils=(draw(_coils),), tiedowns=draw(_lists), support=draw(st.sampled_from([CRADLE, Support()])))


def _kinds(load: Load) -> dict[str, float]:
    """Return the share reached at working load limits of each kind of movement, of its weaker side."""
    found: dict[str, float] = {}
    for way in looked(load).ways:
        kind = way.name.split()[0]
        found[kind] = min(found.get(kind, 1e9), way.at_limit / (way.need_limit or 1))
    return found


def _mirrored(tiedown: Tiedown) -> Tiedown:
    other = {Pull.LEFT: Pull.RIGHT, Pull.RIGHT: Pull.LEFT}
    return tiedown.model_copy(update={"pulls": other.get(tiedown.pulls, tiedown.pulls) if tiedown.pulls else None})


@FEW
@given(load=_loads())
def test_left_and_right_change_places_in_a_mirror(load: Load) -> None:
    one = ways(load)
    other = ways(load.model_copy(update={"tiedowns": tuple(map(_mirrored, load.tiedowns))}))
    assert one["left"] == pytest.approx(other["right"], rel=NEAR, abs=NEAR)
    assert one["right"] == pytest.approx(other["left"], rel=NEAR, abs=NEAR)


def _one_more(tiedown: Tiedown) -> Tiedown:
    return tiedown.model_copy(update={"count": tiedown.count + 1})


def _stronger(tiedown: Tiedown) -> Tiedown:
    return tiedown.model_copy(update={"marked_lb": 1.5 * (tiedown.marked_lb or 0)})


@pytest.mark.parametrize("path", [Path.SAME_SIDE, Path.DIRECT])
def test_two_odd_ones_of_different_makes_hold_as_two_of_the_weaker(path: Path) -> None:
    weak = Tiedown(kind=Kind.CHAIN, marked_lb=1000, path=path, pretension_lb=300)
    strong = weak.model_copy(update={"marked_lb": 1500.0})
    crate = Article(name="machine", weight_lb=2000, length_ft=2)
    two = _kinds(Load(articles=(crate,), tiedowns=(weak.model_copy(update={"count": 2}),)))
    assert min(two.values()) > 0
    assert _kinds(Load(articles=(crate,), tiedowns=(weak, strong))) == pytest.approx(two)


@FEW
@given(load=_loads(), extra=_tiedowns, mend=st.sampled_from([_one_more, _stronger]))
def test_an_extra_or_a_stronger_tiedown_never_holds_less(
    load: Load, extra: Tiedown, mend: Callable[[Tiedown], Tiedown]
) -> None:
    before = _kinds(load)
    more = (*load.tiedowns, extra)
    after = _kinds(load.model_copy(update={"tiedowns": more}))
    better = _kinds(load.model_copy(update={"tiedowns": (*load.tiedowns, mend(extra))}))
    for kind, share in before.items():
        assert after[kind] >= share * (1 - NEAR) - NEAR
        assert better[kind] >= after[kind] * (1 - NEAR) - NEAR


@FEW
@given(load=_loads())
def test_twice_the_weight_with_twice_the_limits_is_the_same(load: Load) -> None:
    def doubled(tiedown: Tiedown) -> Tiedown:
        update = {"marked_lb": 2 * (tiedown.marked_lb or 0)}
        if tiedown.pretension_lb:
            update["pretension_lb"] = 2 * tiedown.pretension_lb
        return tiedown.model_copy(update=update)

    two = Load(
        coils=tuple(coil.model_copy(update={"weight_lb": 2 * (coil.weight_lb or 0)}) for coil in load.coils),
        articles=tuple(one.model_copy(update={"weight_lb": 2 * (one.weight_lb or 0)}) for one in load.articles),
        tiedowns=tuple(map(doubled, load.tiedowns)),
        support=load.support,
    )
    assert _kinds(two) == pytest.approx(_kinds(load), rel=NEAR, abs=NEAR)


@FEW
@given(load=_loads(), number=st.integers(2, 4))
def test_like_pieces_with_so_many_times_the_tiedowns_are_as_one(load: Load, number: int) -> None:
    many = Load(
        coils=tuple(coil.model_copy(update={"count": number}) for coil in load.coils),
        articles=tuple(article.model_copy(update={"count": number}) for article in load.articles),
        tiedowns=tuple(one.model_copy(update={"count": number * one.count}) for one in load.tiedowns),
        support=load.support,
    )
    assert _kinds(many) == pytest.approx(_kinds(load), rel=NEAR, abs=NEAR)
