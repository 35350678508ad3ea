"""The least change: what it adds, that nothing smaller mends the load, the spare, and what gear cannot mend."""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, Gear, GearList, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.securement.finding import Status
from assistant.securement.judge import judge
from assistant.securement.least_change import Advice, least_change, words_of
from assistant.securement.table_reader import read_sample_gear, read_tables
from tests.oracle.loads import make

TABLES, SAMPLE, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
CROSSWISE = Coil(weight_lb=42_500, eye=Eye.CROSSWISE)
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
    one = chains(1, Pull.FORWARD).model_copy(update={"size_in": 0.375, "grade": "70"})
    advice = advised(Load(coils=(CROSSWISE,), support=CRADLE, tiedowns=(one,)), weak)
    assert not advice.possible
    assert "mend this" in advice.finding.text


@pytest.mark.parametrize("seed", range(60))
def test_nothing_smaller_mends_a_made_load(seed: int) -> None:
    load, gear = make(seed)
    advice = advised(load, gear)
    pieces = sum(one.pieces for one in advice.additions)
    if pieces < 2 or any(one.tiedown is None for one in advice.additions):
        return
    # Take any one addition away: what is left must still be short.
    for place in range(len(advice.additions)):
        rest = advice.model_copy(update={"additions": advice.additions[:place] + advice.additions[place + 1 :]})
        judgement = judge(added(load, rest), tables=TABLES, gear=gear, on=ON)
        assert {finding.status for finding in judgement.findings} & {Status.SHORT, Status.STOP}
