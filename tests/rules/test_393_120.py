"""49 CFR 393.120: metal coils.

(a) and (b)(1)(i)-(ii) are read; the rest is from memory, said in other words by agency pages; (c)(2) is from memory
alone. Where a test gives no other source, its expected status follows from the clause in its name.
"""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Row, Support, Tiedown
from assistant.securement.finding import Judgement, Mark, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables

MEETS, SHORT, ASK, LOOK, STOP, OUTSIDE = (
    Status.MEETS,
    Status.SHORT,
    Status.ASK,
    Status.LOOK,
    Status.STOP,
    Status.OUTSIDE,
)
HELD = Support(bunks=4, timbers=2)
MATS = Support(bunks=4, timbers=2, mats=True)
Group = tuple[int, dict[str, object]]

FORWARD = {"pulls": "forward", "through": "eye"}
REARWARD = {"pulls": "rearward", "through": "eye"}
OVER = {"pulls": "over"}
CROSSED = {"crossed": True, "through": "eye"}
STRAIGHT = {"through": "eye", "path": "same side"}
FRONT = {"through": "top", "place": "front"}
REAR = {"through": "top", "place": "rear"}


class Case:
    """Judges coils of 20,000 lb with chains of 6,600 lb, and looks findings up by topic."""

    def __init__(self, tables: Tables, gear: GearList, on: dt.date) -> None:
        self.tables, self.gear, self.on = tables, gear, on

    def __call__(self, eye: str | None, *groups: Group, support: Support = HELD, **facts: object) -> Judgement:
        """Return the judgement of coils with groups of (count, facts) of chains."""
        coil = Coil(weight_lb=20000, eye=eye and Eye(eye), count=facts.pop("count", 1))
        tiedowns = tuple(
            Tiedown.model_validate({"kind": "chain", "count": count, **told}) for count, told in groups if count
        )
        load = Load.model_validate({"coils": (coil,), "tiedowns": tiedowns, "support": support, **facts})
        return judge(load, tables=self.tables, gear=self.gear, on=self.on)


@pytest.fixture
def case(tables: Tables, sample: GearList, on: dt.date) -> Case:
    return Case(tables, sample, on)


def status(found: Judgement, topic: str) -> Status:
    return next(one.status for one in found.findings if one.topic == topic)


def remedy(found: Judgement, topic: str) -> str:
    return next(one.remedy for one in found.findings if one.topic == topic)


def rules(found: Judgement) -> set[str]:
    return {one.rule for one in found.findings}


# (a) Scope.


@pytest.mark.parametrize(
    ("coils", "inside"),
    [
        ((Coil(weight_lb=4999),), False),
        ((Coil(weight_lb=5000),), True),
        ((Coil(weight_lb=5001),), True),
        ((Coil(weight_lb=2499, count=2),), False),
        ((Coil(weight_lb=2500, count=2),), True),
        ((Coil(weight_lb=1000), Coil(weight_lb=4000)), True),
        ((Coil(),), True),
    ],
)
def test_s120_a_scope_is_5000_lb_or_more_singly_or_together(
    tables: Tables, sample: GearList, on: dt.date, coils: tuple[Coil, ...], *, inside: bool
) -> None:
    found = judge(Load(coils=coils), tables=tables, gear=sample, on=on)
    assert any(one.topic == "eye" for one in found.findings) is inside


def test_s120_an_eye_that_was_not_told_is_asked(case: Case) -> None:
    found = case(None, (4, {}))
    assert status(found, "eye") is ASK
    assert found.asks[0] == "Which way does the eye point: up, to the side, or lengthwise?"
    assert found.verdict is ASK


# (c) Eyes crosswise.


@pytest.mark.parametrize(
    ("forward", "rearward", "verdict"),
    [(2, 0, SHORT), (0, 2, SHORT), (1, 1, MEETS), (2, 2, MEETS)],
)
def test_s120_c1_ii_iii_one_forward_and_one_rearward(case: Case, forward: int, rearward: int, verdict: Status) -> None:
    found = case("crosswise", (forward, FORWARD), (rearward, REARWARD))
    assert found.verdict is verdict
    assert status(found, "forward") is (MEETS if forward else SHORT)
    assert status(found, "rearward") is (MEETS if rearward else SHORT)


def test_s120_c1_iii_the_remedy_says_which_movement_is_resisted(case: Case) -> None:
    found = case("crosswise", (4, FORWARD))
    assert remedy(found, "rearward") == "Add one chain through the eye, to keep the coil from moving back."
    assert remedy(case("crosswise", (4, REARWARD)), "forward") == (
        "Add one chain through the eye, to keep the coil from moving forward."
    )


def test_s120_c1_a_tiedown_over_the_top_does_not_hold_forward(case: Case) -> None:
    found = case("crosswise", (2, {"pulls": "forward", "through": "top"}), (2, REARWARD))
    assert status(found, "forward") is SHORT


def test_s120_c1_through_the_eye_is_assumed_aloud(case: Case) -> None:
    sentence = "The tiedowns that keep the coil from moving forward or back are taken to go through its eye."
    assert sentence in case("crosswise", (1, {"pulls": "forward"}), (1, REARWARD)).assumed
    assert sentence not in case("crosswise", (1, FORWARD), (1, REARWARD)).assumed


@pytest.mark.parametrize("told", [{}, {"through": "eye"}])
def test_s120_c1_a_pull_that_was_not_told_is_asked_and_never_meets(case: Case, told: dict[str, object]) -> None:
    found = case("crosswise", (4, told))
    assert (status(found, "forward"), status(found, "rearward"), found.verdict) == (ASK, ASK, ASK)
    assert "How many keep it from moving forward, how many from moving back?" in found.asks


def test_s120_c1_too_few_even_with_the_untold_are_short(case: Case) -> None:
    assert case("crosswise", (1, {"through": "eye"}), (3, OVER)).verdict is SHORT


def test_s120_c2_an_x_through_the_eye_stops(case: Case) -> None:
    for told in (CROSSED, {"crossed": True}, {"crossed": True, "pulls": "forward"}):
        found = case("crosswise", (1, FORWARD), (1, REARWARD), (2, told))
        assert (found.verdict, status(found, "crossing")) == (STOP, STOP)
        crossing = next(one for one in found.findings if one.topic == "crossing")
        assert (crossing.rule, crossing.mark) == ("49 CFR 393.120(c)(2)", Mark.MEMORY)


def test_s120_c2_straps_that_cross_over_the_top_do_not_stop(case: Case) -> None:
    found = case("crosswise", (2, FORWARD), (2, REARWARD), (2, {"crossed": True, "through": "top"}))
    assert found.verdict is MEETS


@pytest.mark.parametrize(
    ("support", "expected"),
    [
        (Support(), ASK),
        (Support(bunks=4), ASK),
        (Support(timbers=2), ASK),
        (Support(timbers=2, bunks=4), MEETS),
        (Support(wedges=4, bunks=3), MEETS),
        (Support(cradle=True), MEETS),
        (Support(cradle=True, nailed_only=True), STOP),
        (Support(timbers=2, bunks=4, nailed_only=True), STOP),
        (Support(timbers=2, bunks=4, on_deck=True), STOP),
        (Support(timbers=0, wedges=0, cradle=False), STOP),
        (Support(timbers=2, bunks=0), STOP),
        (Support(timbers=2, bunks=1), STOP),
        (Support(mats=True), ASK),
    ],
)
def test_s120_c1_i_rolling(case: Case, support: Support, expected: Status) -> None:
    found = case("crosswise", (2, FORWARD), (2, REARWARD), support=support)
    assert (status(found, "rolling"), found.verdict) == (expected, expected)


def test_s120_c1_i_questions_go_by_what_was_told(case: Case) -> None:
    assert remedy(case("crosswise", support=Support()), "rolling") == "What does it rest on?"
    assert remedy(case("crosswise", support=Support(timbers=2)), "rolling") == "How many bunks hold the timbers?"
    assert remedy(case("crosswise", support=Support(bunks=4)), "rolling") == "Do timbers or wedges lie in the bunks?"


@pytest.mark.parametrize(("bunks", "expected"), [(2, SHORT), (3, MEETS), (4, MEETS)])
def test_common_practice_three_bunks_or_more(case: Case, bunks: int, expected: Status) -> None:
    # Common practice, no source; the text sets no number.
    found = case("crosswise", (2, FORWARD), (2, REARWARD), support=Support(timbers=2, bunks=bunks))
    assert found.verdict is expected
    if expected is SHORT:
        practice = next(one for one in found.findings if one.topic == "bunks")
        assert (practice.mark, practice.remedy) == (Mark.PRACTICE, "Put one bunk more under the timbers.")


def test_s120_c_each_of_several_coils_needs_its_own(case: Case) -> None:
    support = Support(timbers=4, bunks=8)
    assert case("crosswise", (2, FORWARD), (1, REARWARD), (4, OVER), support=support, count=2).verdict is SHORT
    enough = case("crosswise", (2, FORWARD), (2, REARWARD), (4, OVER), support=support, count=2)
    assert enough.verdict is MEETS
    assert "No row was told: each coil is taken to be secured by itself." in enough.assumed


@pytest.mark.parametrize("row", list(Row))
def test_s120_c_rows_are_not_covered_and_the_exemption_is_named(case: Case, row: Row) -> None:
    # FMCSA notices, read: no paragraph covers it; docket FMCSA-2010-0177 and its conditions.
    found = case(
        "crosswise", (2, FORWARD), (2, REARWARD), (4, OVER), support=Support(timbers=4, bunks=8), count=2, row=row
    )
    assert (found.verdict, status(found, "row")) == (OUTSIDE, OUTSIDE)
    text = next(one.text for one in found.findings if one.topic == "row")
    for words in ("393.120 has no rule for rows", "FMCSA-2010-0177", "4 x 4 in", "75 %", "was not seen"):
        assert words in text


# (b) Eyes vertical.

STANDING = ((2, {"crossed": True}), (1, OVER))


@pytest.mark.parametrize(("diagonal", "over", "verdict"), [(1, 2, SHORT), (2, 0, SHORT), (2, 1, MEETS), (3, 2, MEETS)])
def test_s120_b1_two_diagonals_and_one_over(case: Case, diagonal: int, over: int, verdict: Status) -> None:
    found = case("vertical", (diagonal, {"crossed": True}), (over, OVER), support=Support(mats=True))
    assert found.verdict is verdict


@pytest.mark.parametrize(
    ("support", "groups", "expected"),
    [
        (Support(), (), ASK),
        (Support(mats=True), (), MEETS),
        (Support(blocked_forward=True, blocked_rearward=True), (), MEETS),
        (Support(blocked_forward=True), (), ASK),
        (Support(mats=False, blocked_forward=False, blocked_rearward=False), (), SHORT),
        (Support(mats=False, blocked_forward=True, blocked_rearward=False), (), SHORT),
        (Support(mats=False, blocked_forward=True, blocked_rearward=False), ((1, REARWARD),), MEETS),
        (Support(), ((1, FORWARD), (1, REARWARD)), MEETS),
        (Support(mats=False, blocked_forward=False, blocked_rearward=False), ((1, FORWARD),), SHORT),
    ],
)
def test_s120_b1_iv_movement_along_the_vehicle(
    case: Case, support: Support, groups: tuple[Group, ...], expected: Status
) -> None:
    found = case("vertical", *STANDING, *groups, support=support)
    assert (status(found, "movement"), found.verdict) == (expected, expected)


def test_s120_b1_nothing_told_of_the_tiedowns_is_asked(case: Case) -> None:
    found = case("vertical", (3, {}), support=Support(mats=True))
    assert (status(found, "diagonal"), status(found, "over"), found.verdict) == (ASK, ASK, ASK)


def test_s120_b1_a_pallet_is_something_to_look_at(case: Case) -> None:
    assert status(case("vertical", *STANDING, support=Support(mats=True, pallet=True)), "pallet") is LOOK


@pytest.mark.parametrize(
    ("row", "over", "verdict"),
    # Over each coil or over the transverse row: one for three coils abreast, three for three in line.
    [("transverse", 0, SHORT), ("transverse", 1, MEETS), ("lengthwise", 2, SHORT), ("lengthwise", 3, MEETS)],
)
def test_s120_b2_rows(case: Case, row: str, over: int, verdict: Status) -> None:
    ends = ((4, {"pulls": "forward", "path": "across"}), (3, {"pulls": "rearward", "path": "across"}))
    found = case("vertical", *ends, (over, OVER), count=3, row=row)
    assert found.verdict is verdict
    assert "49 CFR 393.120(b)(2)(iii)" in rules(found)


@pytest.mark.parametrize("end", ["forward", "rearward"])
def test_s120_b2_i_ii_each_end_of_the_row_is_held(case: Case, end: str) -> None:
    found = case("vertical", (6, {"pulls": end}), (1, OVER), count=3, row="transverse")
    other = {"forward": "rearward", "rearward": "forward"}[end]
    assert (status(found, end), status(found, other)) == (MEETS, SHORT)


# (d) Eyes lengthwise.


@pytest.mark.parametrize(
    ("groups", "rule", "verdict"),
    [
        (((2, CROSSED), (1, OVER)), "49 CFR 393.120(d)(1)(ii)-(iii)", MEETS),
        (((1, CROSSED), (1, OVER)), "49 CFR 393.120(d)(1)(ii)-(iii)", SHORT),
        (((2, CROSSED),), "49 CFR 393.120(d)(1)(iv)", SHORT),
        (((2, STRAIGHT), (1, OVER)), "49 CFR 393.120(d)(2)(ii)-(iii)", MEETS),
        (((1, STRAIGHT), (1, OVER)), "49 CFR 393.120(d)(2)(ii)-(iii)", SHORT),
        (((2, STRAIGHT),), "49 CFR 393.120(d)(2)(iv)", SHORT),
        (((1, FRONT), (1, REAR)), "49 CFR 393.120(d)(3)(ii)", MEETS),
        (((2, FRONT),), "49 CFR 393.120(d)(3)(iii)", SHORT),
        (((2, {"through": "top"}),), "49 CFR 393.120(d)(3)(ii)", ASK),
    ],
)
def test_s120_d1_d2_d3_options(
    tables: Tables, sample: GearList, on: dt.date, groups: tuple[Group, ...], rule: str, verdict: Status
) -> None:
    tiedowns = tuple(Tiedown.model_validate({"kind": "chain", "count": count, **told}) for count, told in groups)
    light = Load(coils=(Coil(weight_lb=6000, eye=Eye.LENGTHWISE),), tiedowns=tiedowns, support=MATS)
    found = judge(light, tables=tables, gear=sample, on=on)
    assert found.verdict is verdict
    assert rule in rules(found)


@pytest.mark.parametrize(
    ("facts", "option_1", "option_3"),
    [
        ({"mats": True}, MEETS, MEETS),
        ({"blocked_forward": True, "blocked_rearward": True}, MEETS, MEETS),
        ({"mats": False, "blocked_forward": True, "blocked_rearward": False}, SHORT, MEETS),
        ({"mats": False, "blocked_forward": False, "blocked_rearward": True}, SHORT, SHORT),
        ({}, ASK, ASK),
    ],
)
def test_s120_d_movement_along_the_vehicle(
    case: Case, facts: dict[str, object], option_1: Status, option_3: Status
) -> None:
    support = Support.model_validate({"bunks": 4, "timbers": 2, **facts})
    assert case("lengthwise", (2, CROSSED), (1, OVER), support=support).verdict is option_1
    assert case("lengthwise", (1, FRONT), (1, REAR), support=support).verdict is option_3


def test_s120_d_through_the_eye_with_no_course_told_is_asked_and_counted_half(case: Case) -> None:
    # Diagonal 2 x 6,600 + 6,600 = 19,800, straight 2 x 3,300 + 6,600 = 13,200: both reach 10,000.
    found = case("lengthwise", (2, {"through": "eye"}), (1, OVER), support=MATS)
    assert (found.counted_lb, found.verdict) == (13200, ASK)
    assert "Do those through the eye run on the diagonal, or straight back to the same side?" in found.asks


def test_s120_d_a_count_that_only_the_course_decides_is_asked_not_short(
    tables: Tables, sample: GearList, on: dt.date
) -> None:
    # Half of 36,000 lb is 18,000: 19,800 on the diagonal would do, 13,200 straight would not.
    tiedowns = (Tiedown(kind=Kind.CHAIN, count=2, through="eye"), Tiedown(kind=Kind.CHAIN, pulls="over"))
    load = Load(coils=(Coil(weight_lb=36000, eye=Eye.LENGTHWISE),), tiedowns=tiedowns, support=MATS)
    assert judge(load, tables=tables, gear=sample, on=on).verdict is ASK


def test_s120_d1_i_rolling_is_checked_as_for_crosswise(case: Case) -> None:
    found = case("lengthwise", (1, FRONT), (1, REAR), support=Support(mats=True, timbers=2, bunks=4, nailed_only=True))
    assert (found.verdict, "49 CFR 393.120(d)(1)(i)" in rules(found)) == (STOP, True)


@pytest.mark.parametrize(("front", "rear", "verdict"), [(6, 0, SHORT), (0, 6, SHORT), (3, 3, MEETS)])
def test_s120_d4_a_transverse_row_needs_front_and_rear(case: Case, front: int, rear: int, verdict: Status) -> None:
    support = Support(timbers=6, bunks=9, mats=True)
    found = case("lengthwise", (front, FRONT), (rear, REAR), support=support, count=3, row="transverse")
    assert found.verdict is verdict
    assert "49 CFR 393.120(d)(4)(ii)" in rules(found)


def test_s120_d_coils_in_line_are_secured_each_by_itself(case: Case) -> None:
    support = Support(timbers=4, bunks=8, mats=True)
    short = case("lengthwise", (1, FRONT), (3, REAR), support=support, count=2, row="lengthwise")
    enough = case("lengthwise", (2, FRONT), (2, REAR), support=support, count=2, row="lengthwise")
    assert (short.verdict, enough.verdict) == (SHORT, MEETS)


# Mixed loads and things only eyes can check.


def test_no_tiedown_serves_two_coils_of_different_eyes(tables: Tables, sample: GearList, on: dt.date) -> None:
    coils = (Coil(weight_lb=6000, eye=Eye.CROSSWISE), Coil(weight_lb=6000, eye=Eye.VERTICAL))
    base = (
        Tiedown(kind=Kind.CHAIN, pulls="forward"),
        Tiedown(kind=Kind.CHAIN, pulls="rearward"),
        Tiedown(kind=Kind.CHAIN, count=2, crossed=True, through="top"),
        Tiedown(kind=Kind.STRAP, pulls="over"),
    )
    support = Support(timbers=2, bunks=4, mats=False, blocked_forward=False, blocked_rearward=False)
    short = judge(Load(coils=coils, tiedowns=base, support=support), tables=tables, gear=sample, on=on)
    assert (short.verdict, status(short, "movement")) == (SHORT, SHORT)
    more = (*base, Tiedown(kind=Kind.CHAIN, pulls="forward"), Tiedown(kind=Kind.CHAIN, pulls="rearward"))
    enough = judge(Load(coils=coils, tiedowns=more, support=support), tables=tables, gear=sample, on=on)
    assert enough.verdict is MEETS


def test_s120_c2_crossed_tiedowns_beside_another_eye_are_asked_about(
    tables: Tables, sample: GearList, on: dt.date
) -> None:
    # An upright coil wants crossed ones, a crosswise one forbids them: whose they are was not told.
    load = Load(
        coils=(Coil(weight_lb=6000, eye=Eye.CROSSWISE), Coil(weight_lb=6000, eye=Eye.VERTICAL)),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=2, crossed=True),),
    )
    assert status(judge(load, tables=tables, gear=sample, on=on), "crossing") is ASK


@pytest.mark.parametrize("topic", ["angle", "edges", "condition", "marks", "next look"])
def test_what_only_eyes_can_check_is_listed(case: Case, topic: str) -> None:
    assert status(case("crosswise", (2, FORWARD), (2, REARWARD)), topic) is LOOK


# 49 CFR 393.104(b), (d), (f)(4) read, (f)(1) in other words, 393.112 read; the rest common practice, no source.
SEEN = {
    "lip": (STOP, "common practice"),
    "inner lip": (STOP, "common practice"),
    "paper and tag differ": (STOP, "common practice"),
    "broken band": (STOP, "common practice"),
    "telescoped": (STOP, "common practice"),
    "egged": (ASK, "common practice"),
    "wet eye": (LOOK, "common practice"),
    "damaged chain": (STOP, "49 CFR 393.104(b)"),
    "damaged strap": (STOP, "49 CFR 393.104(b)"),
    "damaged hook": (STOP, "49 CFR 393.104(b)"),
    "knot": (STOP, "49 CFR 393.104(f)(1)"),
    "broken pallet": (STOP, "49 CFR 393.104(d)"),
    "binder bottomed out": (STOP, "49 CFR 393.112"),
    "damaged coil": (ASK, "common practice"),
    "no edge protection": (STOP, "49 CFR 393.104(f)(4)"),
}


@pytest.mark.parametrize("name", SEEN)
def test_an_observation_has_its_status_rule_and_remedy(case: Case, name: str) -> None:
    found = case("crosswise", (2, FORWARD), (2, REARWARD), seen=(name,))
    one = next(one for one in found.findings if one.topic == name)
    assert (one.status, one.rule) == SEEN[name]
    assert one.remedy.endswith("?" if one.status is ASK else ".")
    assert (one.mark is Mark.PRACTICE) is (one.rule == "common practice")
    assert found.verdict is (one.status if one.status in {STOP, ASK} else MEETS)


def test_an_observation_without_a_rule_is_not_dropped(case: Case) -> None:
    assert status(case("crosswise", (2, FORWARD), (2, REARWARD), seen=("green paint",)), "seen") is ASK


def test_an_observation_alone_is_judged(tables: Tables, sample: GearList, on: dt.date) -> None:
    assert judge(Load(seen=("knot",)), tables=tables, gear=sample, on=on).verdict is STOP


def test_the_worst_finding_comes_first(case: Case) -> None:
    found = case("crosswise", (1, FORWARD), support=Support(), seen=("knot", "lip"))
    order = [one.status for one in found.findings]
    assert order == sorted(order, key=[STOP, SHORT, ASK, OUTSIDE, MEETS, LOOK].index)


def test_an_article_beside_a_coil_is_judged_by_length(tables: Tables, sample: GearList, on: dt.date) -> None:
    load = Load(
        coils=(Coil(weight_lb=20000, eye=Eye.VERTICAL),),
        articles=(Article(weight_lb=500, length_ft=4),),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=2, crossed=True), Tiedown(kind=Kind.STRAP, pulls="over")),
        support=Support(mats=True),
    )
    found = judge(load, tables=tables, gear=sample, on=on)
    assert status(found, "count") is SHORT
