"""49 CFR 393.110: the least number of tiedowns by length and weight.

(b)(1) and the counts for 12 ft and 22 ft are read; the other values follow from the rule (derived).
"""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Path, Support, Tiedown
from assistant.securement.finding import Finding, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables
from assistant.securement.us_393_110 import least_blocked, least_unblocked

# length ft, weight lb, not blocked forward, blocked forward.
VECTORS = [
    (5, 1100, 1, 1),
    (5, 1101, 2, 1),
    (4, 2000, 2, 1),
    (5.01, 500, 2, 1),
    (10, 500, 2, 1),
    (10, 40000, 2, 1),
    (10.01, 500, 3, 2),
    (12, 500, 3, 2),
    (18, 500, 3, 2),
    (20, 500, 3, 2),
    (20.01, 500, 4, 3),
    (22, 500, 4, 3),
    (25, 500, 4, 3),
    (40, 500, 5, 4),
    (48, 500, 6, 5),
    (53, 500, 7, 6),
]


@pytest.mark.parametrize(("length", "weight", "unblocked", "blocked"), VECTORS)
def test_s393_110_b_and_c_counts(
    tables: Tables, on: dt.date, length: float, weight: float, unblocked: int, blocked: int
) -> None:
    assert least_unblocked(length_ft=length, weight_lb=weight, tables=tables, on=on).number == unblocked
    assert least_blocked(length_ft=length, tables=tables, on=on).number == blocked


def test_s393_110_an_answer_of_four_for_20_ft_is_not_the_rule(tables: Tables, on: dt.date) -> None:
    # Printed in drivers' pages, wrong: 20 ft needs three, two when blocked.
    assert least_unblocked(length_ft=20, weight_lb=9000, tables=tables, on=on).number != 4


def count_of(load: Load, tables: Tables, gear: GearList, on: dt.date) -> Finding:
    return next(one for one in judge(load, tables=tables, gear=gear, on=on).findings if one.topic == "count")


def article(**facts: object) -> Article:
    return Article.model_validate({"name": "machine", "weight_lb": 8000, "length_ft": 22, **facts})


@pytest.mark.parametrize(
    ("count", "blocked", "status"),
    # 22 ft: four when not blocked, three when blocked.
    [
        (2, None, Status.SHORT),
        (3, None, Status.ASK),
        (4, None, Status.MEETS),
        (2, True, Status.SHORT),
        (3, True, Status.MEETS),
        (3, False, Status.SHORT),
        (4, False, Status.MEETS),
    ],
)
def test_s393_110_blocking_is_asked_only_when_it_decides(
    tables: Tables, sample: GearList, on: dt.date, count: int, status: Status, *, blocked: bool | None
) -> None:
    load = Load(
        articles=(article(blocked_forward=blocked),),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=count, path=Path.ACROSS),),
    )
    found = count_of(load, tables, sample, on)
    assert found.status is status
    if status is Status.ASK:
        assert found.remedy == "Is the machine blocked against moving forward?"
    if status is Status.SHORT:
        assert found.remedy.startswith("Add ")


def test_s393_110_a_length_that_was_not_told_is_asked(tables: Tables, sample: GearList, on: dt.date) -> None:
    load = Load(articles=(article(length_ft=None),), tiedowns=(Tiedown(kind=Kind.CHAIN, count=9),))
    found = count_of(load, tables, sample, on)
    assert (found.status, found.remedy) == (Status.ASK, "How long is the machine?")


def test_s393_110_b1_a_weight_that_was_not_told_is_asked_when_it_decides(
    tables: Tables, sample: GearList, on: dt.date
) -> None:
    short_one = article(length_ft=5, weight_lb=None, blocked_forward=False)
    load = Load(articles=(short_one,), tiedowns=(Tiedown(kind=Kind.CHAIN),))
    found = count_of(load, tables, sample, on)
    assert (found.status, found.remedy) == (Status.ASK, "What does the machine weigh?")
    enough = load.model_copy(update={"tiedowns": (Tiedown(kind=Kind.CHAIN, count=2),)})
    assert count_of(enough, tables, sample, on).status is Status.MEETS


def test_s393_110_counts_add_up_over_articles(tables: Tables, sample: GearList, on: dt.date) -> None:
    # Two of 12 ft, not blocked: three each.
    two = article(count=2, length_ft=12, blocked_forward=False)
    for count, status in ((5, Status.SHORT), (6, Status.MEETS)):
        load = Load(articles=(two,), tiedowns=(Tiedown(kind=Kind.CHAIN, count=count),))
        assert count_of(load, tables, sample, on).status is status


@pytest.mark.parametrize(("count", "status"), [(1, Status.ASK), (2, Status.MEETS)])
def test_s393_110_coils_below_the_coil_rule_count_as_articles(
    tables: Tables, sample: GearList, on: dt.date, count: int, status: Status
) -> None:
    # 4,999 lb is below 5,000 lb, 49 CFR 393.120(a), read; up to 10 ft two, one when blocked.
    load = Load(coils=(Coil(weight_lb=4999, eye=Eye.CROSSWISE),), tiedowns=(Tiedown(kind=Kind.STRAP, count=count),))
    found = judge(load, tables=tables, gear=sample, on=on)
    assert next(one for one in found.findings if one.topic == "count").status is status
    assert "The coil is taken as not longer than 10 ft." in found.assumed


@pytest.mark.parametrize(
    ("support", "status"),
    [
        (Support(), Status.ASK),
        (Support(wedges=2), Status.MEETS),
        (Support(wedges=0, timbers=0, cradle=False), Status.SHORT),
    ],
)
def test_s393_106_c1_small_coils_on_edge_must_not_roll(
    tables: Tables, sample: GearList, on: dt.date, support: Support, status: Status
) -> None:
    load = Load(coils=(Coil(weight_lb=4999, eye=Eye.CROSSWISE),), support=support)
    found = judge(load, tables=tables, gear=sample, on=on)
    assert next(one for one in found.findings if one.topic == "rolling").status is status
    upright = load.model_copy(update={"coils": (Coil(weight_lb=4999, eye=Eye.VERTICAL),)})
    assert not [one for one in judge(upright, tables=tables, gear=sample, on=on).findings if one.topic == "rolling"]


def test_tiedowns_that_coils_take_up_do_not_count_for_articles(tables: Tables, sample: GearList, on: dt.date) -> None:
    # The coil takes one forward and one rearward; a 10 ft article needs two more when not blocked.
    base = Load(
        coils=(Coil(weight_lb=10000, eye=Eye.CROSSWISE),), articles=(article(length_ft=10, blocked_forward=False),)
    )
    coil_chains = (Tiedown(kind=Kind.CHAIN, pulls="forward"), Tiedown(kind=Kind.CHAIN, pulls="rearward"))
    for extra, status in ((1, Status.SHORT), (2, Status.MEETS)):
        over = Tiedown(kind=Kind.STRAP, count=extra, pulls="over")
        load = base.model_copy(update={"tiedowns": (*coil_chains, over)})
        assert count_of(load, tables, sample, on).status is status


@pytest.mark.parametrize("straps_first", [False, True])
def test_s110_b_a_coil_takes_up_what_goes_through_its_eye_first_in_whatever_order_it_was_told(
    tables: Tables, sample: GearList, on: dt.date, *, straps_first: bool
) -> None:
    # Either a chain through the eye or a strap may hold the coil from going rearward; the article needs both straps.
    chains = tuple(Tiedown(kind=Kind.CHAIN, pulls=way, through="eye") for way in ("forward", "rearward"))
    straps = (Tiedown(kind=Kind.STRAP, count=2, pulls="rearward"),)
    load = Load(
        coils=(Coil(weight_lb=10000, eye=Eye.CROSSWISE),),
        articles=(article(length_ft=10, blocked_forward=False),),
        tiedowns=(*straps, *chains) if straps_first else (*chains, *straps),
    )
    assert count_of(load, tables, sample, on).status is Status.MEETS


# 49 CFR 393.116 to 393.136: section numbers and headings from memory.
OTHER_RULES = {
    "logs": "393.116",
    "lumber": "393.118",
    "paper rolls": "393.122",
    "concrete pipe": "393.124",
    "intermodal container": "393.126",
    "cars": "393.128",
    "heavy equipment": "393.130",
    "flattened vehicles": "393.132",
    "roll-off container": "393.134",
    "boulder": "393.136",
}


@pytest.mark.parametrize("name", OTHER_RULES)
def test_goods_with_a_rule_of_their_own_are_named_and_not_checked(
    tables: Tables, sample: GearList, on: dt.date, name: str
) -> None:
    found = judge(Load(articles=(article(name=name),)), tables=tables, gear=sample, on=on)
    outside = [one for one in found.findings if one.status is Status.OUTSIDE]
    assert [one.rule for one in outside] == [f"49 CFR {OTHER_RULES[name]}"]
    assert "not checked" in outside[0].text


def test_s392_9_names_the_next_stop(tables: Tables, sample: GearList, on: dt.date) -> None:
    # 50 miles, then change of duty status, 3 hours or 150 miles, whichever first: in other words.
    found = judge(Load(coils=(Coil(weight_lb=30000),)), tables=tables, gear=sample, on=on)
    look = next(one for one in found.findings if one.topic == "next look")
    assert look.status is Status.LOOK
    assert look.text == (
        "Next stop within 50 miles, then at each change of duty status, after 3 hours or after 150 miles, "
        "whichever comes first."
    )
