"""The engine against the texts: no load may meet that the texts do not let meet.

The second opinion is written from the regulation alone and shares only the load's nouns with the engine; each of its
own limits and sums is held to the published figure first.
"""

import datetime as dt
import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.load.model import Coil, GearList, Kind, Load, Path, Pull, Through, Tiedown
from assistant.securement.finding import Finding, Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_tables
from tests.oracle.compare import differences
from tests.oracle.limits import limit_of
from tests.oracle.loads import judged_loads, make
from tests.oracle.oracle import Outcome, aggregate, opinion

TABLES = read_tables()
ON = dt.date(2026, 3, 1)
MANY = 1500
FAULTS = ("WRONG", "SUM", "SILENT")
# No time limit: the machine may be busy.
FEW = settings(max_examples=150, deadline=None)
BADNESS = {Status.MEETS: 0, Status.OUTSIDE: 1, Status.ASK: 2, Status.SHORT: 3, Status.STOP: 4}


def judged(load: Load, gear: GearList) -> Judgement:
    return judge(load, tables=TABLES, gear=gear, on=ON)


def sum_of(judgement: Judgement) -> Finding | None:
    return next((one for one in judgement.findings if one.topic == "aggregate"), None)


# The second opinion itself, held to published figures.


@pytest.mark.parametrize(
    ("weight_lb", "count", "path", "outcome"),
    [
        # 40,000 lb, 3/8 in grade 70 of 6,600 lb: four across, seven direct (393.106(d) read, sums derived).
        (40000, 3, Path.ACROSS, Outcome.SHORT),
        (40000, 4, Path.ACROSS, Outcome.MET),
        (40000, 6, Path.DIRECT, Outcome.SHORT),
        (40000, 7, Path.DIRECT, Outcome.MET),
        (40000, 4, None, Outcome.UNTOLD),
    ],
)
def test_s106_d_the_second_opinion_counts_as_published(
    weight_lb: float, count: int, path: Path | None, outcome: Outcome
) -> None:
    chains = Tiedown(kind=Kind.CHAIN, count=count, size_in=0.375, grade="70", path=path)
    load = Load(coils=(Coil(weight_lb=weight_lb),), tiedowns=(chains,))
    assert aggregate(load, GearList())[0] is outcome


def test_s108_a_the_second_opinion_takes_the_lowest_part() -> None:
    # Grade 70 3/8 in 6,600 lb (read), binder 5,400, anchor 5,000: 5,000 lb (derived).
    chain = Tiedown(kind=Kind.CHAIN, size_in=0.375, grade="70", binder_lb=5400, anchor_lb=5000)
    assert limit_of(chain, GearList()).high == 5000


def test_every_verdict_and_every_outcome_occurs_among_the_loads() -> None:
    made = [make(seed) for seed in range(MANY)]
    verdicts = {judged(load, gear).verdict for load, gear in made}
    assert verdicts >= {Status.MEETS, Status.SHORT, Status.ASK, Status.STOP, Status.OUTSIDE}
    outcomes = {outcome for load, gear in made for outcome in opinion(load, gear).clauses.values()}
    assert outcomes == set(Outcome)


# Engine against texts.


def test_no_load_meets_that_the_texts_do_not_let_meet() -> None:
    parted = [(seed, one) for seed in range(MANY) for one in differences(*make(seed), tables=TABLES, on=ON)]
    assert not [one for one in parted if one[1].startswith(FAULTS)]


@FEW
@given(judged_loads())
def test_verdict_and_sums_agree_with_the_texts_on_any_load(made: tuple[Load, GearList]) -> None:
    assert not [one for one in differences(*made, tables=TABLES, on=ON) if one.startswith(FAULTS)]


# More of the safe thing, and less told.


@FEW
@given(judged_loads(), st.sampled_from(list(Path)), st.sampled_from([Pull.FORWARD, Pull.REARWARD, Pull.OVER]))
def test_one_more_tiedown_told_in_full_never_worsens_the_sum(
    made: tuple[Load, GearList], path: Path, pulls: Pull
) -> None:
    load, gear = made
    assume(load.tiedowns)
    through = Through.TOP if pulls is Pull.OVER else Through.EYE
    extra = Tiedown(kind=Kind.CHAIN, size_in=0.5, grade="70", path=path, pulls=pulls, through=through)
    more = judged(load.model_copy(update={"tiedowns": (*load.tiedowns, extra)}), gear)
    before, after = sum_of(judged(load, gear)), sum_of(more)
    assert before is not None
    assert after is not None
    assert BADNESS[after.status] <= BADNESS[before.status]


@FEW
@given(judged_loads(), st.floats(0.05, 0.99))
def test_a_lighter_coil_never_worsens_the_verdict_inside_the_coil_rule(
    made: tuple[Load, GearList], share: float
) -> None:
    # Below 5,000 lb in all 393.110 takes over from 393.120 (393.120(a), read): it can ask for more than was told.
    load, gear = made
    assume(load.coils and all(coil.weight_lb is not None for coil in load.coils))
    lighter = tuple(coil.model_copy(update={"weight_lb": (coil.weight_lb or 0) * share}) for coil in load.coils)
    assume(sum(coil.count * (coil.weight_lb or 0) for coil in lighter) >= 5000)
    after = judged(load.model_copy(update={"coils": lighter}), gear).verdict
    before = judged(load, gear).verdict
    assert after is not None
    assert before is not None
    assert BADNESS[after] <= BADNESS[before]


# Taken for granted and said until told otherwise; of the rest no untold fact may help.
SAID_UNTIL_TOLD = {"path", "through", "nailed_only", "on_deck", "row", "timbers", "wedges", "bunks"}
FACTS = {
    "coils": ("weight_lb", "eye"),
    "articles": ("weight_lb", "length_ft", "blocked_forward"),
    "tiedowns": ("path", "pulls", "through", "place"),
}
# What a gear list holds may be better than what was told in its place.
OF_GEAR = ("size_in", "grade", "material", "thickness_in")


def untold(load: Load, gear: GearList) -> Iterator[tuple[str, Load]]:
    """Give the load once for each told fact, without that fact, and the fact's name."""
    for group, facts in FACTS.items():
        items = getattr(load, group)
        for index, item in enumerate(items):
            for name in (*facts, *(OF_GEAR if group == "tiedowns" and not gear.items else ())):
                if getattr(item, name) is not None:
                    less = item.model_copy(update={name: None})
                    yield name, load.model_copy(update={group: (*items[:index], less, *items[index + 1 :])})
    for name, value in load.support:
        if value is not None:
            yield name, load.model_copy(update={"support": load.support.model_copy(update={name: None})})
    yield "row", load.model_copy(update={"row": None})


@settings(max_examples=60, deadline=None)
@given(judged_loads())
def test_a_fact_taken_away_never_turns_another_verdict_into_meets(made: tuple[Load, GearList]) -> None:
    load, gear = made
    if judged(load, gear).verdict is Status.MEETS:
        return
    for name, less in untold(load, gear):
        found = judged(less, gear)
        if found.verdict is Status.MEETS:
            assert name in SAID_UNTIL_TOLD
            assert opinion(less, gear).may_meet
            assert found.assumed


@FEW
@given(judged_loads())
def test_mirrored_and_told_in_another_order_it_is_judged_the_same(made: tuple[Load, GearList]) -> None:
    load, gear = made
    swap = {Pull.LEFT: Pull.RIGHT, Pull.RIGHT: Pull.LEFT}
    other: dict[str, Any] = {
        "tiedowns": tuple(
            one.model_copy(update={"pulls": swap.get(one.pulls, one.pulls)}) for one in reversed(load.tiedowns)
        ),
        "coils": tuple(reversed(load.coils)),
        "articles": tuple(reversed(load.articles)),
    }
    one, two = judged(load, gear), judged(load.model_copy(update=other), gear)
    assert (one.verdict, one.needed_lb) == (two.verdict, two.needed_lb)
    assert two.counted_lb == (None if one.counted_lb is None else pytest.approx(one.counted_lb))


# Each finding's trace works out to what it says.


def numbers(text: str) -> list[float]:
    return [float(figure.replace(",", "")) for figure in re.findall(r"\d[\d,]*(?:\.\d+)?", text)]


@FEW
@given(judged_loads())
def test_the_trace_of_the_sum_adds_up_to_need_and_have(made: tuple[Load, GearList]) -> None:
    load, gear = made
    found = judged(load, gear)
    one = sum_of(found)
    if one is None or one.need is None or one.have is None or not load.tiedowns:
        return
    weights = [step for step in one.trace if step.what.startswith("weight of ")]
    weight_lb = sum(numbers(step.what)[0] * float(step.value) for step in weights)
    share = float(one.trace[0].value)
    assert share * weight_lb == pytest.approx(one.need)
    groups = [step for step in one.trace if re.match(r"\d+ x, ", step.formula)]
    assert sum(float(step.value) for step in groups) == pytest.approx(one.have)
    total = next(step for step in one.trace if step.what == "aggregate working load limit")
    assert float(total.value) == pytest.approx(one.have)
    assert sum(numbers(total.formula)) == pytest.approx(one.have, abs=len(groups))


@FEW
@given(judged_loads())
def test_the_trace_of_each_rating_works_out_to_what_it_counts(made: tuple[Load, GearList]) -> None:
    load, gear = made
    for rated in judged(load, gear).rated:
        if rated.wll_lb is None:
            assert rated.counts_lb == 0
            continue
        count, share, limit, counts = numbers(rated.trace[-1].formula)
        assert share == (1.0 if rated.path is Path.ACROSS else 0.5)
        assert count * share * limit == pytest.approx(rated.counts_lb, abs=count)
        assert counts == pytest.approx(rated.counts_lb, abs=1)


@FEW
@given(judged_loads())
def test_need_and_have_of_a_finding_agree_with_its_status(made: tuple[Load, GearList]) -> None:
    load, gear = made
    for one in judged(load, gear).findings:
        if one.margin is None or one.topic == "crossing":
            continue
        if one.status is Status.MEETS:
            assert one.margin >= 0
        if one.status is Status.SHORT:
            assert one.margin < 0
