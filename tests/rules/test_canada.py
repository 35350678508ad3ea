"""Canada, NSC Standard 10: what was read of it, and that what was not is named and never called met."""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, Gear, GearList, Kind, Load, Path, Support, Tiedown
from assistant.securement.canada_nsc10 import judge_canada
from assistant.securement.finding import Finding, Judgement, Status
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
