"""Advice: how many tiedowns, by 49 CFR 393.106(d) (read), 393.110 and 393.120 (marks as in their own tests)."""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Path, Row, Tiedown
from assistant.securement.advice import how_many, wll_of
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables


@pytest.fixture
def advised(tables: Tables, sample: GearList, on: dt.date):  # noqa: ANN201 - a closure for the tests below
    def advise(load: Load, kind: Kind = Kind.CHAIN, spare: int = 0) -> Finding:
        return how_many(load, kind=kind, tables=tables, gear=sample, on=on, spare=spare)

    return advise


def test_40000_lb_needs_four_three_eighths_chains_over_or_seven_direct(advised) -> None:  # noqa: ANN001
    # 20,000 / 6,600 = 3.03, up to 4; 20,000 / 3,300 = 6.06, up to 7 (derived).
    load = Load(coils=(Coil(weight_lb=40000),))
    assert advised(load).need == 4
    direct = load.model_copy(update={"tiedowns": (Tiedown(kind=Kind.CHAIN, path=Path.DIRECT),)})
    assert advised(direct).need == 7


def test_spare_ones_are_put_on_top(advised) -> None:  # noqa: ANN001
    found = advised(Load(coils=(Coil(weight_lb=40000),)), spare=1)
    assert (found.need, found.have, found.remedy) == (4, 5, "Put on five chains.")


@pytest.mark.parametrize(
    ("load", "least"),
    [
        (Load(coils=(Coil(weight_lb=6000, eye=Eye.CROSSWISE),)), 2),
        (Load(coils=(Coil(weight_lb=6000, eye=Eye.VERTICAL),)), 3),
        (Load(coils=(Coil(weight_lb=6000, eye=Eye.LENGTHWISE),)), 2),
        (Load(coils=(Coil(weight_lb=3000, eye=Eye.CROSSWISE, count=3),)), 6),
        (Load(coils=(Coil(weight_lb=3000, eye=Eye.VERTICAL, count=3),), row=Row.TRANSVERSE), 3),
        (Load(coils=(Coil(weight_lb=3000, eye=Eye.VERTICAL, count=3),), row=Row.LENGTHWISE), 5),
        (Load(coils=(Coil(weight_lb=3000, eye=Eye.LENGTHWISE, count=3),), row=Row.TRANSVERSE), 2),
        (Load(coils=(Coil(weight_lb=4999),)), 2),
        (Load(articles=(Article(weight_lb=500, length_ft=22),)), 4),
        (Load(articles=(Article(weight_lb=500, length_ft=22, blocked_forward=True),)), 3),
    ],
)
def test_the_least_count_of_the_clauses_binds_a_light_load(advised, load: Load, least: int) -> None:  # noqa: ANN001
    assert advised(load).need == least


def test_what_could_not_be_counted_is_said(advised) -> None:  # noqa: ANN001
    assert "eye's direction was not told" in advised(Load(coils=(Coil(weight_lb=40000),))).text
    assert "length was not told" in advised(Load(articles=(Article(weight_lb=4000),))).text


def test_through_a_lengthwise_eye_with_no_course_told_each_counts_half(advised) -> None:  # noqa: ANN001
    load = Load(coils=(Coil(weight_lb=40000, eye=Eye.LENGTHWISE),), tiedowns=(Tiedown(kind=Kind.CHAIN, through="eye"),))
    assert advised(load).need == 7


def test_without_a_weight_or_a_limit_the_fact_is_asked(advised) -> None:  # noqa: ANN001
    no_weight = advised(Load(coils=(Coil(),)))
    assert (no_weight.status, no_weight.remedy) == (Status.ASK, "What does the coil weigh?")
    no_limit = advised(Load(coils=(Coil(weight_lb=40000),)), Kind.STEEL_STRAP)
    assert (no_limit.status, no_limit.remedy) == (Status.ASK, "How wide and how thick is the steel strapping?")


def test_what_one_is_good_for_leaves_the_gear_list_out(tables: Tables, on: dt.date) -> None:
    # 49 CFR 393.108, chain table, read.
    assert wll_of(Tiedown(kind=Kind.CHAIN, size_in=0.5, grade="70"), tables=tables, on=on).wll_lb == 11300
    assert wll_of(Tiedown(kind=Kind.CHAIN, size_in=0.5), tables=tables, on=on).wll_lb is None
