"""49 CFR 393.120: which course of a tiedown fills which need, and what a coil must rest on.

The clauses of (c) and (d) are from memory, said in other words by agency pages; numbers of timbers and bunks are common
practice, no source. Where a test gives no other source, its expected status follows from the clause in its name.
"""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Support, Tiedown
from assistant.securement.finding import Judgement, Mark, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables

MEETS, SHORT, ASK, STOP = Status.MEETS, Status.SHORT, Status.ASK, Status.STOP
HELD = {"bunks": 4, "timbers": 2, "mats": True}
Told = dict[str, object]
OVER: Told = {"pulls": "over"}
CROSSED: Told = {"crossed": True, "through": "eye"}
STRAIGHT: Told = {"through": "eye", "path": "same side"}
FORWARD: Told = {"pulls": "forward", "through": "eye"}
REARWARD: Told = {"pulls": "rearward", "through": "eye"}


class Judged:
    """Judges loads of 6,000 lb coils held by chains of 6,600 lb."""

    def __init__(self, tables: Tables, gear: GearList, on: dt.date) -> None:
        self.tables, self.gear, self.on = tables, gear, on

    def __call__(
        self, eyes: tuple[str, ...], *groups: tuple[int, Told], weight_lb: float = 6000, **facts: object
    ) -> Judgement:
        """Return the judgement of coils with these eyes and groups of (count, facts) of chains."""
        coils = tuple(Coil(weight_lb=weight_lb, eye=Eye(eye)) for eye in eyes)
        tiedowns = tuple(Tiedown.model_validate({"kind": "chain", "count": count, **told}) for count, told in groups)
        load = Load.model_validate({"coils": coils, "tiedowns": tiedowns, "support": HELD, **facts})
        return judge(load, tables=self.tables, gear=self.gear, on=self.on)


@pytest.fixture
def judged(tables: Tables, sample: GearList, on: dt.date) -> Judged:
    return Judged(tables, sample, on)


def statuses(found: Judgement, topic: str) -> set[Status]:
    return {one.status for one in found.findings if one.topic == topic}


# (d)(1): "diagonally through its eye from the left side ... to the right side", one each way.


@pytest.mark.parametrize(
    ("told", "verdict"),
    [
        (CROSSED, MEETS),
        ({**CROSSED, "path": "across"}, MEETS),
        # Back to the side it came from is no diagonal.
        ({**CROSSED, "path": "same side"}, SHORT),
        # A handbook calls every tiedown through the eye direct (in other words).
        ({**CROSSED, "path": "direct"}, MEETS),
        # Crossed over the top is not through the eye; which of the two was not told.
        ({"crossed": True}, ASK),
        ({"crossed": True, "through": "top"}, SHORT),
        # Two to the other side may both run on the same diagonal.
        ({"through": "eye", "path": "across"}, ASK),
        ({"through": "eye", "path": "direct"}, ASK),
        # What pulls forward may pass the eye.
        ({"pulls": "forward"}, ASK),
    ],
)
def test_s120_d1_ii_iii_only_both_diagonals_through_the_eye_meet(judged: Judged, told: Told, verdict: Status) -> None:
    assert judged(("lengthwise",), (2, told), (1, OVER)).verdict is verdict


def test_s120_d1_across_through_the_eye_is_asked_for_its_diagonals(judged: Judged) -> None:
    found = judged(("lengthwise",), (2, {"through": "eye", "path": "across"}), (1, OVER))
    assert found.asks == ("Do those through the eye run on the diagonal, one each way?",)


@pytest.mark.parametrize(
    ("told", "verdict"),
    [
        ({"pulls": "over"}, MEETS),
        ({"through": "top"}, MEETS),
        ({"through": "top", "path": "across"}, MEETS),
        ({"through": "top", "path": "same side"}, SHORT),
        ({"through": "top", "path": "direct"}, SHORT),
        ({"through": "top", "crossed": True}, SHORT),
        ({"through": "eye", "pulls": "over"}, SHORT),
    ],
)
@pytest.mark.parametrize("eye", ["lengthwise", "vertical"])
def test_s120_b1_iii_d1_iv_over_the_top_is_from_side_to_side(
    judged: Judged, eye: str, told: Told, verdict: Status
) -> None:
    assert judged((eye,), (2, CROSSED), (1, told)).verdict is verdict


def test_s120_b1_i_ii_back_to_the_same_side_is_no_diagonal(judged: Judged) -> None:
    found = judged(("vertical",), (2, {"crossed": True, "path": "same side"}), (1, OVER))
    assert statuses(found, "diagonal") == {SHORT}


def test_s120_d_a_tiedown_over_the_top_is_used_once(tables: Tables, sample: GearList, on: dt.date) -> None:
    # The coil takes two on the diagonals and one over its front; the crate is left with one and needs two (393.110).
    tiedowns = (
        Tiedown(kind=Kind.CHAIN, count=2, crossed=True, through="eye"),
        Tiedown(kind=Kind.CHAIN, count=2, pulls="over", place="front"),
    )
    load = Load(
        coils=(Coil(weight_lb=6000, eye=Eye.LENGTHWISE),),
        articles=(Article(name="crate", weight_lb=2000, length_ft=8, blocked_forward=False),),
        tiedowns=tiedowns,
        support=Support.model_validate(HELD),
    )
    found = judge(load, tables=tables, gear=sample, on=on)
    assert (found.verdict, statuses(found, "count")) == (SHORT, {SHORT})


# (c)(1)(i), (d)(1)(i): what the coils rest on.


@pytest.mark.parametrize(
    ("support", "expected"),
    [
        ({"bunks": 4, "timbers": 1}, SHORT),
        ({"bunks": 4, "wedges": 1}, SHORT),
        ({"bunks": 4, "timbers": 2}, MEETS),
        ({"bunks": 4, "timbers": 1, "wedges": 1}, MEETS),
        ({"cradle": True, "timbers": 2, "bunks": 1}, STOP),
        ({"cradle": True, "timbers": 2, "bunks": 2}, MEETS),
        ({"cradle": True, "timbers": 2}, MEETS),
        ({"cradle": True, "timbers": 1}, MEETS),
    ],
)
def test_s120_c1_i_one_timber_or_too_few_bunks_do_not_keep_a_coil_from_rolling(
    judged: Judged, support: Told, expected: Status
) -> None:
    found = judged(("crosswise",), (1, FORWARD), (1, REARWARD), support=support)
    assert (statuses(found, "rolling"), found.verdict) == ({expected}, expected)
    if expected is SHORT:
        assert next(one for one in found.findings if one.topic == "rolling").mark is Mark.PRACTICE


def test_s106_c1_one_wedge_does_not_keep_a_light_coil_from_rolling(judged: Judged) -> None:
    # 49 CFR 393.106(c)(1), read: "by chocks, wedges, a cradle or other equivalent means".
    one = judged(("crosswise",), (2, FORWARD), weight_lb=2000, support={"wedges": 1})
    two = judged(("crosswise",), (2, FORWARD), weight_lb=2000, support={"wedges": 2})
    assert (statuses(one, "rolling"), statuses(two, "rolling")) == ({SHORT}, {MEETS})


def test_s120_bunks_are_not_counted_twice_for_coils_that_lie_both_ways(judged: Judged) -> None:
    groups = (
        (1, FORWARD),
        (1, REARWARD),
        (1, {"through": "top", "place": "front"}),
        (1, {"through": "top", "place": "rear"}),
    )
    few = judged(("crosswise", "lengthwise"), *groups, support={"bunks": 3, "timbers": 4, "mats": True})
    enough = judged(("crosswise", "lengthwise"), *groups, support={"bunks": 6, "timbers": 4, "mats": True})
    assert (few.verdict, enough.verdict) == (STOP, MEETS)


def test_s120_c1_i_what_is_taken_for_granted_of_the_support_is_said(judged: Judged) -> None:
    cradle = judged(("crosswise",), (1, FORWARD), (1, REARWARD), support={"cradle": True})
    told = judged(("crosswise",), (1, FORWARD), (1, REARWARD), support={"cradle": True, "nailed_only": False})
    sentence = "The cradle is taken to be held by more than nails."
    assert sentence in cradle.assumed
    assert sentence not in told.assumed
    two = ("crosswise", "crosswise")
    timbers = judged(two, (2, FORWARD), (2, REARWARD), support={"timbers": 2, "bunks": 6})
    assert "Each coil is taken to lie on timbers or wedges of its own." in timbers.assumed
    cradles = judged(two, (2, FORWARD), (2, REARWARD), support={"cradle": True})
    assert "Each coil is taken to lie in a cradle of its own." in cradles.assumed


# Coils beside other goods, and coils whose eyes point different ways.


def beside(tables: Tables, gear: GearList, on: dt.date, weight_lb: float, *groups: tuple[int, Told]) -> Judgement:
    """Judge a crosswise coil of 6,000 lb beside a crate, blocked forward and 8 ft long."""
    tiedowns = tuple(Tiedown.model_validate({"kind": "chain", "count": count, **told}) for count, told in groups)
    load = Load(
        coils=(Coil(weight_lb=6000, eye=Eye.CROSSWISE),),
        articles=(Article(name="crate", weight_lb=weight_lb, length_ft=8, blocked_forward=True),),
        tiedowns=tiedowns,
        support=Support.model_validate(HELD),
    )
    return judge(load, tables=tables, gear=gear, on=on)


def test_s110_a_tiedown_through_a_coils_eye_holds_nothing_beside_it(
    tables: Tables, sample: GearList, on: dt.date
) -> None:
    found = beside(tables, sample, on, 1000, (3, FORWARD), (3, REARWARD))
    assert (found.verdict, statuses(found, "count")) == (SHORT, {SHORT})
    assert beside(tables, sample, on, 1000, (1, FORWARD), (1, REARWARD), (1, OVER)).verdict is MEETS


def test_s106_d_what_stands_beside_a_coil_has_its_half_without_the_chains_through_the_eye(
    tables: Tables, sample: GearList, on: dt.date
) -> None:
    # 49 CFR 393.106(d), read. Half of 20,000 lb is 10,000: one chain of 6,600 over the crate is short, two are enough.
    short = beside(tables, sample, on, 20000, (2, FORWARD), (2, REARWARD), (1, OVER))
    enough = beside(tables, sample, on, 20000, (2, FORWARD), (2, REARWARD), (2, OVER))
    untold = beside(tables, sample, on, 20000, (2, FORWARD), (2, REARWARD), (2, {"pulls": "left"}))
    assert (short.verdict, statuses(short, "beside coils")) == (SHORT, {SHORT})
    assert (enough.verdict, untold.verdict) == (MEETS, ASK)


def test_s120_b_through_an_eye_beside_a_lying_coil_holds_no_upright_one(judged: Judged) -> None:
    loose = {"bunks": 4, "timbers": 2, "mats": False, "blocked_forward": False, "blocked_rearward": False}
    standing = ((2, {"crossed": True, "through": "top"}), (1, OVER))
    eyes = ("crosswise", "vertical")
    by_eye = judged(eyes, (2, FORWARD), (2, REARWARD), *standing, support=loose)
    round_it = ((1, {"pulls": "forward"}), (1, {"pulls": "rearward"}))
    held = judged(eyes, (1, FORWARD), (1, REARWARD), *round_it, *standing, support=loose)
    assert (by_eye.verdict, held.verdict) == (SHORT, MEETS)


def test_s120_tiedowns_are_shared_out_so_that_told_places_and_eyes_are_kept_for_those_who_need_them(
    judged: Judged,
) -> None:
    groups = (
        (1, {"through": "top", "place": "front"}),
        (1, {"through": "top", "place": "rear"}),
        (1, {"through": "top"}),
        (2, {"crossed": True}),
    )
    assert judged(("vertical", "lengthwise"), *groups).verdict is MEETS


def test_s106_c1_a_light_coil_whose_eye_was_not_told_is_asked(tables: Tables, sample: GearList, on: dt.date) -> None:
    load = Load(
        coils=(Coil(weight_lb=2000),),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=2, pulls="over"),),
        support=Support(timbers=0, wedges=0, cradle=False),
    )
    found = judge(load, tables=tables, gear=sample, on=on)
    assert (found.verdict, found.asks) == (ASK, ("Which way does the eye point: up, to the side, or lengthwise?",))


def test_s110_a_light_coils_own_tiedowns_do_not_make_up_for_goods_beside_it(
    tables: Tables, sample: GearList, on: dt.date
) -> None:
    # A plate of 20.01 ft that nothing blocks needs four (in other words), the coil two: six in all, two of them free.
    def count(free: int) -> set[Status]:
        load = Load(
            coils=(Coil(weight_lb=2000, eye=Eye.CROSSWISE),),
            articles=(Article(name="plate", weight_lb=2000, length_ft=20.01, blocked_forward=False),),
            tiedowns=(
                Tiedown(kind=Kind.CHAIN, count=4, through="eye"),
                Tiedown(kind=Kind.CHAIN, count=free, pulls="over"),
            ),
            support=Support(timbers=2),
        )
        return statuses(judge(load, tables=tables, gear=sample, on=on), "count")

    assert SHORT in count(2)
    assert count(4) == {MEETS}


def test_s120_c2_crossed_with_no_course_told_is_assumed_aloud_to_pass_the_eye(judged: Judged) -> None:
    sentence = "The crossed tiedowns are taken to go through the eye."
    assert sentence in judged(("crosswise",), (2, {"crossed": True})).assumed
    assert sentence not in judged(("crosswise",), (2, CROSSED)).assumed
