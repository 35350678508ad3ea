"""Canada, NSC Standard 10: what was read of it, and that what was not is named and never called met."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.load.model import Article, Coil, Eye, Gear, GearList, Kind, Load, Path, Support, Through, Tiedown
from assistant.securement.canada_nsc10 import judge_canada
from assistant.securement.canada_number import least_tiedowns
from assistant.securement.finding import Finding, Judgement, Mark, Status
from assistant.securement.rule_sets import RuleSet, judge_by
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, SAMPLE, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
KG = 1 / 0.45359237
"""Pounds in a kilogram: International Yard and Pound Agreement, 1959, exact (memory)."""


def judged(load: Load, gear: GearList = SAMPLE) -> Judgement:
    return judge_canada(load, tables=TABLES, gear=gear, on=ON)


def finding(judgement: Judgement, topic: str) -> Finding:
    return next(one for one in judgement.findings if one.topic == topic)


def strap(count: int, kilograms: float | None, path: Path = Path.ACROSS, **told: object) -> Tiedown:
    marked = None if kilograms is None else kilograms * KG
    return Tiedown.model_validate({"kind": "strap", "count": count, "marked_lb": marked, "path": path, **told})


@pytest.mark.parametrize(
    ("count", "kilograms", "status"),
    [
        (3, 100, Status.MEETS),
        (3, 99.9, Status.SHORT),
        (5, 50, Status.SHORT),
        (6, 50, Status.MEETS),
        (3, 200, Status.MEETS),
    ],
)
def test_the_manuals_example_of_600_kg(count: int, kilograms: float, status: Status) -> None:
    # ICBC manual, British Columbia (read): 3.65 m, 600 kg: at least 300 kg; three of 100 kg, six of 50, three of 200.
    article = Article(weight_lb=600 * KG, length_ft=3.65 / 0.3048)
    found = finding(judged(Load(articles=(article,), tiedowns=(strap(count, kilograms),))), "aggregate")
    assert found.status is status
    assert found.need == pytest.approx(300)
    assert found.unit == "kg"


@pytest.mark.parametrize(("path", "share"), [(Path.ACROSS, 1.0), (Path.SAME_SIDE, 1.0), (Path.DIRECT, 0.5)])
def test_one_half_for_each_end_section_at_the_vehicle(path: Path, share: float) -> None:
    # NSC Standard 10, aggregate working load limit (read); same side and direct derived from it.
    load = Load(articles=(Article(weight_lb=1000 * KG),), tiedowns=(strap(1, 400, path),))
    assert finding(judged(load), "aggregate").have == pytest.approx(400 * share)


def test_s11_4__gear_without_marks_may_not_be_used() -> None:
    load = Load(articles=(Article(weight_lb=100 * KG),), tiedowns=(strap(4, None, unmarked=True),))
    found = judged(load)
    assert found.verdict is Status.STOP
    assert finding(found, "marks").rule.startswith("NSC Standard 10")
    assert found.counted_lb == 0


def test_s11_4__a_mark_that_was_not_told_is_asked_and_no_table_stands_in() -> None:
    gear = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70"),))
    chain = Tiedown(kind=Kind.CHAIN, count=4, path=Path.ACROSS)
    found = judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(chain,)), gear)
    assert finding(found, "marks").status is Status.ASK
    assert found.counted_lb is None


def test_a_mark_in_the_gear_list_counts() -> None:
    found = judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(Tiedown(kind=Kind.STRAP, path=Path.ACROSS),)))
    assert found.counted_lb == 5_400  # the sample strap's mark


def test_the_lowest_part_told_governs() -> None:
    load = Load(articles=(Article(weight_lb=1000),), tiedowns=(strap(1, 2000, winch_lb=3000),))
    assert judged(load).counted_lb == 3000


def test_the_gear_lists_binder_bounds_a_chain() -> None:
    # NSC Standard 10: no component above its limit. A chain marked 6,600 lb with a binder of 5,400 lb counts 5,400.
    gear = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70", marked_lb=6600, binder_lb=5400),))
    chain = Tiedown(kind=Kind.CHAIN, path=Path.ACROSS)
    assert judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(chain,)), gear).counted_lb == 5400


def test_the_gear_lists_mark_is_not_taken_for_a_chain_of_another_grade() -> None:
    gear = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70", marked_lb=6600),))
    chain = Tiedown(kind=Kind.CHAIN, grade="80", path=Path.ACROSS)
    assert (
        finding(judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(chain,)), gear), "marks").status
        is Status.ASK
    )


@pytest.mark.parametrize(("count", "status"), [(2, Status.SHORT), (3, Status.OUTSIDE)])
def test_the_number_by_length_is_short_or_outside_and_never_met(count: int, status: Status) -> None:
    # ICBC manual (read): 3.65 m not kept from moving forward takes three; the text itself was not seen.
    article = Article(weight_lb=600 * KG, length_ft=3.65 / 0.3048, blocked_forward=False)
    assert finding(judged(Load(articles=(article,), tiedowns=(strap(count, 500),))), "count").status is status


def test_what_was_told_of_binders_is_judged_in_canada_too() -> None:
    load = Load(articles=(Article(weight_lb=1000),), tiedowns=(strap(2, 500, threads_left=0),))
    assert judged(load).verdict is Status.STOP


@pytest.mark.parametrize(
    ("count", "kilograms", "status"),
    [(3, 100, Status.OUTSIDE), (6, 50, Status.OUTSIDE), (3, 200, Status.OUTSIDE), (2, 200, Status.SHORT)],
)
def test_the_manuals_example_asks_three_for_3_65_m(count: int, kilograms: float, status: Status) -> None:
    # ICBC manual, British Columbia (read): not prevented from moving forward: three, however strong each is. The text
    # of the standard itself was not seen, so enough is outside and never met.
    article = Article(weight_lb=600 * KG, length_ft=3.65 / 0.3048, blocked_forward=False)
    judgement = judged(Load(articles=(article,), tiedowns=(strap(count, kilograms),)))
    assert finding(judgement, "count").status is status
    assert finding(judgement, "count").need == 3
    assert finding(judgement, "aggregate").status is Status.MEETS
    assert judgement.verdict is status


@pytest.mark.parametrize(
    ("metres", "kilograms", "blocked", "least"),
    [
        (1.52, 500, False, 1),
        (1.52, 500.1, False, 2),
        (1.53, 100, False, 2),
        (3.04, 100, False, 2),
        (3.05, 100, False, 3),
        (3.65, 600, False, 3),
        (6.08, 600, False, 3),
        (6.09, 600, False, 4),
        (3.04, 600, True, 1),
        (3.05, 600, True, 2),
        (12.16, 600, True, 4),
    ],
)
def test_the_number_by_length__below_at_and_above(
    metres: float, kilograms: float, *, blocked: bool, least: int
) -> None:
    # NSC Standard 10, number of tiedowns (memory): 1.52 m and 500 kg, 3.04 m; the 3.65 m row by the manual (read).
    number, row = least_tiedowns(
        length_ft=metres / 0.3048, weight_lb=kilograms * KG, blocked_forward=blocked, tables=TABLES, on=ON
    )
    assert number == least
    assert row.mark is Mark.MEMORY


def test_a_length_or_blocking_that_decides_is_asked() -> None:
    tiedowns = (strap(2, 2000),)
    no_length = judged(Load(articles=(Article(weight_lb=1000),), tiedowns=tiedowns))
    open_end = judged(Load(articles=(Article(weight_lb=1000, length_ft=12),), tiedowns=tiedowns))
    assert finding(no_length, "count").remedy == "How long is the article?"
    assert finding(open_end, "count").remedy == "Is the article blocked against moving forward?"


def test_enough_beside_coils_is_outside_and_too_few_is_short() -> None:
    # How many tiedowns coils take up stands in a division that was not seen.
    coil = Coil(weight_lb=1000, eye=Eye.CROSSWISE)
    article = Article(weight_lb=1000, length_ft=12, blocked_forward=False)
    through = Tiedown(kind=Kind.STRAP, count=2, marked_lb=5000, through=Through.EYE)
    few = judged(Load(coils=(coil,), articles=(article,), tiedowns=(through, strap(2, 2000))))
    enough = judged(Load(coils=(coil,), articles=(article,), tiedowns=(through, strap(3, 2000))))
    assert finding(few, "count").status is Status.SHORT
    assert finding(enough, "count").status is Status.OUTSIDE


def test_a_path_not_told_is_asked_where_direct_tiedowns_would_be_short() -> None:
    # Half for one end section at the vehicle (derived): 600 of 1,000 kg would be 300, and 500 are needed.
    article = Article(weight_lb=1000 * KG, length_ft=4, blocked_forward=True)
    open_path = Tiedown(kind=Kind.STRAP, count=2, marked_lb=300 * KG)
    load = Load(articles=(article,), tiedowns=(open_path,))
    found = judged(load)
    assert found.verdict is Status.ASK
    assert finding(found, "path").have == pytest.approx(300)
    over = open_path.model_copy(update={"through": Through.TOP})
    assert judged(load.model_copy(update={"tiedowns": (over,)})).verdict is Status.OUTSIDE


def test_half_for_a_direct_tiedown_is_owned_up_to() -> None:
    found = judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(strap(1, 400, Path.DIRECT),)))
    assert any("does not settle" in sentence for sentence in found.assumed)


def test_s11_4__a_listed_mark_is_not_lent_to_other_gear() -> None:
    # A 3/8 chain of grade 70 is listed with its mark; one told as grade 43 is another chain.
    gear = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70", marked_lb=6600),))
    chain = Tiedown(kind=Kind.CHAIN, count=4, grade="43", path=Path.ACROSS)
    load = Load(articles=(Article(weight_lb=1000),), tiedowns=(chain,))
    assert finding(judged(load, gear), "marks").status is Status.ASK
    same = load.model_copy(update={"tiedowns": (chain.model_copy(update={"grade": "70"}),)})
    assert judged(same, gear).counted_lb == 4 * 6600


def test_s11_4__gear_listed_without_marks_is_stopped() -> None:
    gear = GearList(items=(Gear(kind=Kind.CHAIN, unmarked=True),))
    load = Load(articles=(Article(weight_lb=1000),), tiedowns=(Tiedown(kind=Kind.CHAIN, count=4),))
    assert finding(judged(load, gear), "marks").status is Status.STOP


def test_a_listed_binder_bounds_a_chain() -> None:
    gear = GearList(items=(Gear(kind=Kind.CHAIN, marked_lb=6600, binder_lb=5400),))
    chain = Tiedown(kind=Kind.CHAIN, count=2, path=Path.ACROSS)
    assert judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(chain,)), gear).counted_lb == 2 * 5400


def test_a_damaged_strap_stops_and_counts_nothing_and_its_mark_is_not_asked() -> None:
    damaged = strap(2, None, damaged=True)
    found = judged(Load(articles=(Article(weight_lb=1000),), tiedowns=(damaged, strap(1, 500))), GearList())
    assert found.verdict is Status.STOP
    assert found.counted_lb == pytest.approx(500 * KG)
    assert not any(one.topic == "marks" for one in found.findings)


def test_what_was_told_of_binders_is_not_dropped_and_whose_text_judges_it_is_said() -> None:
    load = Load(articles=(Article(weight_lb=1000),), tiedowns=(strap(1, 2000, threads_left=1),))
    found = judged(load)
    assert found.verdict in {Status.SHORT, Status.STOP}
    assert any("49 CFR 393" in sentence for sentence in found.assumed)


def test_marked_mats_count_for_nothing_either_and_that_is_said() -> None:
    support = Support(mats=True, mats_rated_g=0.5)
    assert "counts for nothing" in finding(judged(Load(coils=(Coil(weight_lb=1000),), support=support)), "mats").text


def test_a_yard_move_is_no_road() -> None:
    found = judged(Load(coils=(Coil(weight_lb=10_000),), tiedowns=(strap(1, None),), yard=True), GearList())
    assert finding(found, "yard move").status is Status.OUTSIDE
    assert not any(one.topic in {"marks", "aggregate"} for one in found.findings)


def test_forces_are_0_8_and_0_5_g_and_20_percent_down() -> None:
    # NSC Standard 10 as adopted in Quebec (read).
    text = finding(judged(Load(articles=(Article(weight_lb=1000),))), "forces").text
    assert "0.8 g forward, 0.5 g rearward, 0.5 g lateral, and 20% of the weight" in text


@given(
    count=st.integers(1, 20),
    mark=st.floats(50, 5000),
    weight=st.floats(100, 50_000),
    path=st.sampled_from([Path.ACROSS, Path.SAME_SIDE, Path.DIRECT]),
)
def test_one_more_tiedown_never_makes_the_sum_worse(count: int, mark: float, weight: float, path: Path) -> None:
    fewer, more = (
        finding(judged(Load(articles=(Article(weight_lb=weight),), tiedowns=(strap(number, mark, path),))), "aggregate")
        for number in (count, count + 1)
    )
    assert not (fewer.status is Status.MEETS and more.status is not Status.MEETS)


def test_coils_are_named_as_outside_and_nothing_is_called_met() -> None:
    load = Load(
        coils=(Coil(weight_lb=10_000, eye=Eye.CROSSWISE),), tiedowns=(strap(4, 2000),), support=Support(mats=True)
    )
    found = judged(load)
    assert found.verdict is Status.OUTSIDE
    assert "not seen" in finding(found, "coils").text
    assert finding(found, "mats").status is Status.LOOK


def test_the_stops_are_80_and_240_km() -> None:
    # NSC Standard 10, inspection (read).
    text = finding(judged(Load(articles=(Article(weight_lb=1000),))), "next look").text
    assert "80 km" in text
    assert "240 km" in text
    assert "3 hours" in text


def test_a_weight_that_was_not_told_is_asked() -> None:
    assert judged(Load(articles=(Article(),), tiedowns=(strap(1, 500),))).verdict is Status.ASK


def test_the_rule_set_chooses_the_judge() -> None:
    load = Load(articles=(Article(weight_lb=1000, length_ft=4),), tiedowns=(strap(2, 500),))
    rules = {
        rule: {one.rule.partition(" ")[0] for one in judge_by(rule, load, tables=TABLES, gear=SAMPLE, on=ON).findings}
        for rule in RuleSet
    }
    assert "49" in rules[RuleSet.US]
    assert rules[RuleSet.CANADA] == {"NSC"}
    assert rules[RuleSet.EN_12195_1] == {"EN"}
