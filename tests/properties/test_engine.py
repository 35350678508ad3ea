"""Properties of the engine that hold for any load."""

import datetime as dt
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.load.model import (
    Article,
    Coil,
    Eye,
    Kind,
    Load,
    Path,
    Place,
    Pull,
    Row,
    Support,
    Through,
    Tiedown,
)
from assistant.securement.finding import Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES = read_tables()
GEAR = read_sample_gear()
ON = dt.date(2026, 3, 1)
# No time limit: the machine may be busy.
FEW = settings(max_examples=60, deadline=None)
BADNESS = {Status.MEETS: 0, Status.OUTSIDE: 1, Status.ASK: 2, Status.SHORT: 3, Status.STOP: 4}

weights = st.one_of(st.none(), st.integers(100, 60000).map(float))
maybe = st.sampled_from([None, True, False])
coils = st.builds(Coil, count=st.integers(1, 4), weight_lb=weights, eye=st.sampled_from([None, *Eye]))
articles = st.builds(
    Article,
    name=st.sampled_from(["machine", "beam", "logs"]),
    count=st.integers(1, 3),
    weight_lb=weights,
    length_ft=st.one_of(st.none(), st.integers(1, 60).map(float)),
    blocked_forward=maybe,
)
tiedowns = st.builds(
    Tiedown,
    kind=st.sampled_from([Kind.CHAIN, Kind.STRAP]),
    count=st.integers(1, 6),
    binder_lb=st.sampled_from([None, 3000.0, 9000.0]),
    unmarked=st.booleans(),
    path=st.sampled_from([None, *Path]),
    pulls=st.sampled_from([None, *Pull]),
    through=st.sampled_from([None, *Through]),
    place=st.sampled_from([None, *Place]),
    crossed=st.booleans(),
    doubled=st.booleans(),
)
counts = st.sampled_from([None, 0, 1, 2, 3, 4, 8])
supports = st.builds(
    Support,
    bunks=counts,
    timbers=counts,
    wedges=counts,
    cradle=maybe,
    mats=maybe,
    pallet=maybe,
    nailed_only=maybe,
    blocked_forward=maybe,
    blocked_rearward=maybe,
    on_deck=maybe,
)
loads = st.builds(
    Load,
    coils=st.lists(coils, max_size=3).map(tuple),
    articles=st.lists(articles, max_size=2).map(tuple),
    tiedowns=st.lists(tiedowns, max_size=4).map(tuple),
    support=supports,
    row=st.sampled_from([None, *Row]),
    seen=st.lists(st.sampled_from(["lip", "knot", "wet eye", "a dog"]), max_size=2, unique=True).map(tuple),
)


def judged(load: Load) -> Judgement:
    return judge(load, tables=TABLES, gear=GEAR, on=ON)


def badness(load: Load) -> int:
    verdict = judged(load).verdict
    return -1 if verdict is None else BADNESS[verdict]


@FEW
@given(loads)
def test_any_load_is_judged_and_each_finding_shows_its_source(load: Load) -> None:
    found = judged(load)
    for one in found.findings:
        assert one.text
        assert one.trace[0].ref.startswith(one.rule)
        assert (one.remedy != "") or one.status is Status.MEETS
    assert set(found.asks) <= {one.remedy for one in found.findings}
    assert (found.verdict is Status.ASK) <= bool(found.asks)


@FEW
@given(loads, tiedowns)
def test_more_tiedowns_never_make_the_verdict_worse(load: Load, extra: Tiedown) -> None:
    # With none told at all the answer is a question, whatever the first one turns out to be. An X is no safe thing.
    assume(load.tiedowns and not extra.crossed)
    more = load.model_copy(update={"tiedowns": (*load.tiedowns, extra.model_copy(update={"path": Path.ACROSS}))})
    assert badness(more) <= badness(load)


@FEW
@given(loads, st.sampled_from(["bunks", "blocked_forward", "blocked_rearward", "mats", "cradle"]))
def test_better_support_never_makes_the_verdict_worse(load: Load, fact: str) -> None:
    told = getattr(load.support, fact)
    assume(told is not None and load.coils)
    better = told + 1 if fact == "bunks" else True
    more = load.model_copy(update={"support": load.support.model_copy(update={fact: better})})
    assert badness(more) <= badness(load)


@FEW
@given(loads)
def test_twice_the_weight_needs_twice_as_much(load: Load) -> None:
    def doubled(items: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(
            item.model_copy(update={"weight_lb": None if item.weight_lb is None else 2 * item.weight_lb})
            for item in items
        )

    once = judged(load).needed_lb
    heavy = judged(load.model_copy(update={"coils": doubled(load.coils), "articles": doubled(load.articles)}))
    assert heavy.needed_lb == (None if once is None else pytest.approx(2 * once))


@FEW
@given(loads, st.randoms(use_true_random=False))
def test_the_order_of_telling_does_not_matter(load: Load, chance: Any) -> None:  # noqa: ANN401 - a seeded shuffler
    mixed = {name: list(getattr(load, name)) for name in ("coils", "articles", "tiedowns", "seen")}
    for items in mixed.values():
        chance.shuffle(items)
    other = judged(load.model_copy(update={name: tuple(items) for name, items in mixed.items()}))
    one = judged(load)
    assert (other.verdict, other.needed_lb) == (one.verdict, one.needed_lb)
    assert other.counted_lb == (None if one.counted_lb is None else pytest.approx(one.counted_lb))
    assert sorted(found.rule for found in other.findings) == sorted(found.rule for found in one.findings)


@FEW
@given(loads)
def test_left_and_right_are_alike(load: Load) -> None:
    swap = {Pull.LEFT: Pull.RIGHT, Pull.RIGHT: Pull.LEFT}
    mirrored = tuple(one.model_copy(update={"pulls": swap.get(one.pulls, one.pulls)}) for one in load.tiedowns)
    assert judged(load.model_copy(update={"tiedowns": mirrored})).findings == judged(load).findings


@FEW
@given(loads)
def test_one_group_of_two_is_two_groups_of_one(load: Load) -> None:
    def split(items: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(item.model_copy(update={"count": 1}) for item in items for _ in range(item.count))

    parts = judged(load.model_copy(update={"coils": split(load.coils), "tiedowns": split(load.tiedowns)}))
    whole = judged(load)
    assert (parts.verdict, parts.needed_lb, parts.counted_lb) == (whole.verdict, whole.needed_lb, whole.counted_lb)


COMPLETE = {
    Eye.CROSSWISE: [{"pulls": "forward"}, {"pulls": "rearward"}],
    Eye.VERTICAL: [{"crossed": True}, {"pulls": "over"}],
    Eye.LENGTHWISE: [{"through": "top", "place": "front"}, {"through": "top", "place": "rear"}],
}
HELD = {"bunks": 4, "timbers": 2, "mats": True}


def complete(eye: Eye) -> Load:
    groups = tuple(Tiedown.model_validate({"kind": "chain", "count": 2, **facts}) for facts in COMPLETE[eye])
    return Load(coils=(Coil(weight_lb=20000, eye=eye),), tiedowns=groups, support=Support.model_validate(HELD))


@pytest.mark.parametrize("eye", list(Eye))
def test_a_load_told_in_full_meets(eye: Eye) -> None:
    assert judged(complete(eye)).verdict is Status.MEETS


FACTS = [
    *[(eye, "weight_lb") for eye in Eye],
    *[(eye, "eye") for eye in Eye],
    *[(eye, "tiedowns") for eye in Eye],
    *[(eye, index) for eye in Eye for index in (0, 1)],
    (Eye.CROSSWISE, "bunks"),
    (Eye.CROSSWISE, "timbers"),
    (Eye.VERTICAL, "mats"),
    (Eye.LENGTHWISE, "bunks"),
    (Eye.LENGTHWISE, "timbers"),
    (Eye.LENGTHWISE, "mats"),
]


@pytest.mark.parametrize(("eye", "fact"), FACTS)
def test_a_fact_that_was_not_told_never_meets(eye: Eye, fact: str | int) -> None:
    load = complete(eye)
    if isinstance(fact, int):
        groups = [{"kind": "chain", "count": 2, **facts} for facts in COMPLETE[eye]]
        groups[fact] = {"kind": "chain", "count": 2}
        load = load.model_copy(update={"tiedowns": tuple(Tiedown.model_validate(group) for group in groups)})
    elif fact == "tiedowns":
        load = load.model_copy(update={"tiedowns": ()})
    elif fact in HELD:
        load = load.model_copy(update={"support": load.support.model_copy(update={fact: None})})
    else:
        load = load.model_copy(update={"coils": (load.coils[0].model_copy(update={fact: None}),)})
    found = judged(load)
    assert found.verdict is Status.ASK
    assert found.asks


@FEW
@given(loads)
def test_a_load_that_meets_has_no_fact_left_to_ask(load: Load) -> None:
    found = judged(load)
    if found.verdict is Status.MEETS:
        assert not found.asks
        assert found.counted_lb is not None
        assert found.needed_lb is not None
        assert found.counted_lb >= found.needed_lb
