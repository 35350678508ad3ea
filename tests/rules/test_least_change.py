"""The least change: what it adds, that nothing smaller mends the load, the spare, and what gear cannot mend."""

import datetime as dt
from itertools import combinations_with_replacement

import pytest

from assistant.load.model import Article, Coil, Eye, Gear, GearList, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.securement.additions import Addition, kinds_owned, supports_to_add, tiedowns_to_add
from assistant.securement.additions import added as with_added
from assistant.securement.finding import Finding, Status
from assistant.securement.judge import judge
from assistant.securement.least_change import Advice, least_change, words_of
from assistant.securement.table_reader import read_sample_gear, read_tables
from tests.oracle.loads import make

TABLES, SAMPLE, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
CROSSWISE = Coil(weight_lb=42_500, eye=Eye.CROSSWISE)
MADE = {"size_in": 0.375, "grade": "70"}
CRADLE = Support(timbers=2, bunks=3, mats=True)


def advised(load: Load, gear: GearList = SAMPLE) -> Advice:
    return least_change(load, tables=TABLES, gear=gear, on=ON)


def added(load: Load, advice: Advice) -> Load:
    tiedowns = tuple(one.tiedown for one in advice.additions if one.tiedown)
    return load.model_copy(update={"tiedowns": (*load.tiedowns, *tiedowns)})


def shorts(load: Load) -> list[str]:
    judgement = judge(load, tables=TABLES, gear=SAMPLE, on=ON)
    return [finding.topic for finding in judgement.findings if finding.status in {Status.SHORT, Status.STOP}]


def chains(count: int, pulls: Pull) -> Tiedown:
    return Tiedown(kind=Kind.CHAIN, count=count, pulls=pulls, path=Path.ACROSS, through=Through.EYE)


def test_one_direction_lacking_takes_one_that_holds_it() -> None:
    # 49 CFR 393.106(d) (read): half of 42,500 lb is 21,250; three chains of 6,600 lb count 19,800, so one more is
    # needed, and (c)(1)(iii) (memory) wants one against rearward movement: the same chain does both.
    advice = advised(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(3, Pull.FORWARD),)))
    assert words_of(advice.additions) == "one chain through the eye against rearward movement"
    assert "With a spare: two chains" in advice.finding.text


def test_the_aggregate_alone_takes_as_many_as_it_lacks() -> None:
    # 60,000 lb: 30,000 lb to reach; two chains count 13,200; (30,000 - 13,200) / 6,600 = 2.5, so three.
    load = Load(
        coils=(Coil(weight_lb=60_000, eye=Eye.CROSSWISE),),
        support=CRADLE,
        tiedowns=(chains(1, Pull.FORWARD), chains(1, Pull.REARWARD)),
    )
    advice = advised(load)
    assert sum(one.pieces for one in advice.additions) == 3
    assert shorts(added(load, advice)) == []


def test_a_bunk_short_is_mended_by_a_bunk() -> None:
    support = CRADLE.model_copy(update={"bunks": 2})
    load = Load(coils=(CROSSWISE,), support=support, tiedowns=(chains(2, Pull.FORWARD), chains(2, Pull.REARWARD)))
    assert advised(load).finding.remedy == "Add one bunk."


def test_an_article_takes_tiedowns_over_it() -> None:
    # 49 CFR 393.110(b)(3) (in other words): 25 ft, not blocked: four; one is on.
    article = Article(name="machine", weight_lb=10_000, length_ft=25, blocked_forward=False)
    over = Tiedown(kind=Kind.STRAP, path=Path.ACROSS, through=Through.TOP)
    advice = advised(Load(articles=(article,), tiedowns=(over,)))
    assert sum(one.pieces for one in advice.additions) == 3


def test_nothing_short_says_so_and_asks_what_is_open() -> None:
    held = (chains(2, Pull.FORWARD), chains(2, Pull.REARWARD))
    advice = advised(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=held))
    assert advice.finding.text == "Nothing is short."
    asked = advised(Load(coils=(Coil(weight_lb=10_000),), tiedowns=(chains(2, Pull.FORWARD),)))
    assert asked.additions == ()
    assert asked.finding.remedy.endswith("?")


def test_a_prohibition_is_not_mended_by_gear() -> None:
    support = CRADLE.model_copy(update={"nailed_only": True})
    advice = advised(Load(coils=(CROSSWISE,), support=support, tiedowns=(chains(1, Pull.FORWARD),)))
    assert advice.additions == ()
    assert advice.finding.text.startswith("Gear does not mend this")


def test_what_no_gear_of_the_list_mends_is_said() -> None:
    weak = GearList(items=(Gear(kind=Kind.ROPE, size_in=0.375, material="manila"),))
    one = chains(1, Pull.FORWARD).model_copy(update=MADE)
    advice = advised(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(one,)), weak)
    assert not advice.possible
    assert "mend this" in advice.finding.text


@pytest.mark.parametrize(
    ("bunks", "timbers", "words"),
    [
        # 49 CFR 393.120(c)(1)(i) (memory) asks for timbers held by bunks or the like; three bunks and two timbers are
        # common practice without a source. None and one stop the load, and bunks are gear.
        (0, 2, "three bunks"),
        (1, 2, "two bunks"),
        (0, 0, "three bunks and two timbers"),
    ],
)
def test_a_stop_that_gear_mends_is_mended(bunks: int, timbers: int, words: str) -> None:
    support = Support(bunks=bunks, timbers=timbers, wedges=0, cradle=False)
    held = (chains(2, Pull.FORWARD), chains(2, Pull.REARWARD))
    advice = advised(Load(coils=(CROSSWISE,), support=support, tiedowns=held))
    assert words_of(advice.additions) == words


def test_bunks_that_were_not_told_are_asked_and_not_added() -> None:
    support = Support(timbers=1, mats=True)
    advice = advised(Load(coils=(CROSSWISE,), support=support, tiedowns=(chains(4, Pull.FORWARD),)))
    assert "bunk" not in words_of(advice.additions)
    assert "How many bunks" in advice.to_answer


def test_with_no_tiedown_told_it_is_reckoned_from_none() -> None:
    # 49 CFR 393.106(d) (read): 21,250 lb at 6,600 lb a chain: 3.2, so four.
    advice = advised(Load(coils=(CROSSWISE,), support=CRADLE))
    assert sum(one.pieces for one in advice.additions) == 4
    assert "Nothing was told that holds it" in advice.finding.text


def test_without_weight_or_eye_it_asks_instead() -> None:
    for coil in (Coil(eye=Eye.CROSSWISE), Coil(weight_lb=42_500)):
        advice = advised(Load(coils=(coil,), support=CRADLE))
        assert advice.additions == ()
        assert advice.to_answer.endswith("?")


def test_one_straight_through_a_lengthwise_eye_lacks_its_fellow_alone() -> None:
    # 49 CFR 393.120(d)(2)(iii), (iv) (memory): one straight through the eye on each side, one over the top.
    straight = Tiedown(kind=Kind.CHAIN, path=Path.SAME_SIDE, through=Through.EYE)
    over = Tiedown(kind=Kind.STRAP, path=Path.ACROSS, through=Through.TOP)
    coil = Coil(weight_lb=12_000, eye=Eye.LENGTHWISE)
    advice = advised(Load(coils=(coil,), support=CRADLE, tiedowns=(straight, over)))
    assert sum(one.pieces for one in advice.additions) == 1
    assert "straight through the eye" in words_of(advice.additions)
    assert advice.to_answer == ""


def test_four_coils_take_more_than_a_handful() -> None:
    # 49 CFR 393.120(c)(1)(ii), (iii) (memory): one forward and one rearward for each of four; one is on.
    coils = Coil(count=4, weight_lb=11_000, eye=Eye.CROSSWISE)
    support = CRADLE.model_copy(update={"bunks": 12})
    advice = advised(Load(coils=(coils,), support=support, tiedowns=(chains(1, Pull.FORWARD),)))
    assert sum(one.pieces for one in advice.additions) == 7


def test_coils_with_different_eyes_get_their_own_roles() -> None:
    coils = (Coil(weight_lb=20_000, eye=Eye.CROSSWISE), Coil(weight_lb=20_000, eye=Eye.LENGTHWISE))
    load = Load(coils=coils, support=CRADLE.model_copy(update={"bunks": 6}), tiedowns=(chains(1, Pull.FORWARD),))
    advice = advised(load)
    assert advice.possible
    assert shorts(added(load, advice)) == []


def test_what_is_short_does_not_turn_into_a_question() -> None:
    # 49 CFR 393.120(d)(3)(iii) (memory): one over the front and one over the rear of each of four. The strap that is on
    # may lie over either end, so seven more would leave that to be asked; eight need no answer.
    coils = Coil(count=4, weight_lb=11_000, eye=Eye.LENGTHWISE)
    over = Tiedown(kind=Kind.STRAP, path=Path.ACROSS, through=Through.TOP)
    support = CRADLE.model_copy(update={"bunks": 12})
    advice = advised(Load(coils=(coils,), support=support, tiedowns=(over,)))
    assert (
        words_of(advice.additions) == "four straps over the top at the front and four straps over the top at the rear"
    )
    assert advice.to_answer == ""


def test_a_crate_beside_a_lengthwise_coil_does_not_borrow_the_coils_tiedowns() -> None:
    # 49 CFR 393.110(b)(3) (in other words): 20.01 ft, not blocked: two for the first 10 ft and two for the rest; the
    # coil takes one over its front and one over its rear (393.120(d)(3), memory) beside these four.
    crate = Article(name="crate", weight_lb=4_999, length_ft=20.01, blocked_forward=False)
    coil = Coil(weight_lb=12_901, eye=Eye.LENGTHWISE)
    through = Tiedown(kind=Kind.WIRE_ROPE, size_in=1.0, pulls=Pull.REARWARD, through=Through.EYE)
    advice = advised(Load(coils=(coil,), articles=(crate,), support=CRADLE, tiedowns=(through,)))
    assert sum(one.pieces for one in advice.additions) == 6


@pytest.mark.parametrize("seed", range(120))
def test_the_additions_and_the_spare_leave_nothing_short(seed: int) -> None:
    load, gear = make(seed)
    advice = advised(load, gear)
    for more in (advice.additions, advice.with_spare):
        held = with_added(load, [(one, more.count(one)) for one in dict.fromkeys(more)])
        bad = {one.status for one in judge(held, tables=TABLES, gear=gear, on=ON).findings} & {
            Status.SHORT,
            Status.STOP,
        }
        assert not (more and bad)


def test_an_addition_says_what_stays_short_without_it() -> None:
    advice = advised(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(4, Pull.FORWARD),)))
    reason = next(step for step in advice.finding.trace if step.what.startswith("one chain"))
    assert "moving back" in str(reason.value)


def test_a_kind_without_a_known_limit_mends_nothing() -> None:
    gear = GearList(items=(Gear(kind=Kind.STRAP),))
    load = Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(chains(1, Pull.FORWARD).model_copy(update=MADE),))
    assert not advised(load, gear).possible


def asked(findings: tuple[Finding, ...]) -> set[str]:
    """Return what is asked; one course of a lengthwise eye's three is shown, and a path decides a sum."""
    alike = {"diagonal": "course", "straight": "course", "over": "course", "front": "course", "rear": "course"}
    alike["path"] = "aggregate"
    return {alike.get(one.topic, one.topic) for one in findings if one.status is Status.ASK}


def fewest(load: Load, gear: GearList, most: int) -> int | None:
    """Try every set of every kind in every role, one by one."""
    told = judge(load, tables=TABLES, gear=gear, on=ON).findings
    offered = list(supports_to_add(load.support, findings=told))
    for kind in kinds_owned(load, tables=TABLES, gear=gear, on=ON):
        offered += tiedowns_to_add(load, kind=kind, tables=TABLES, gear=gear, on=ON)
    everything = with_added(load, [(one, 12) for one in offered])
    may_ask = asked(judge(everything, tables=TABLES, gear=gear, on=ON).findings) | asked(told)
    for pieces in range(1, most + 1):
        for number in range(1, pieces + 1):
            for chosen in combinations_with_replacement(offered, number):
                if sum(one.pieces for one in chosen) != pieces:
                    continue
                more = with_added(load, [(one, 1) for one in chosen if one.tiedown] + bunched(chosen))
                judgement = judge(more, tables=TABLES, gear=gear, on=ON)
                short = {one.status for one in judgement.findings} & {Status.SHORT, Status.STOP}
                if more.tiedowns and not short and asked(judgement.findings) <= may_ask:
                    return pieces
    return None


def bunched(chosen: tuple[Addition, ...]) -> list[tuple[Addition, int]]:
    return [(one, chosen.count(one)) for one in dict.fromkeys(chosen) if one.tiedown is None]


@pytest.mark.parametrize("seed", range(80))
def test_no_smaller_set_of_any_kind_mends_a_made_load(seed: int) -> None:
    load, gear = make(seed)
    advice = advised(load, gear)
    if advice.tried:
        pieces = sum(one.pieces for one in advice.additions)
        assert fewest(load, gear, 2) == (pieces if advice.additions and pieces <= 2 else None)


@pytest.mark.parametrize(("seed", "pieces"), [(2585, 5), (333, 3), (560, 4), (758, 1)])
def test_the_least_of_a_made_load_is_found_where_the_eyes_differ_or_the_question_changes(
    seed: int, pieces: int
) -> None:
    # Counted by trying every set of that size and every smaller one: 2585 has coils of two eyes, and in the others a
    # lengthwise coil's option, and with it the question, changes with what is added.
    advice = advised(*make(seed))
    assert sum(one.pieces for one in advice.additions) == pieces
