"""393.120(b)(1)(iv): a way that is open for certain is short, whatever was not told of the other."""

import datetime as dt

import pytest

from assistant.load.model import Coil, Eye, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.securement.finding import Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
OVER = (
    Tiedown(kind=Kind.CHAIN, count=2, through=Through.TOP, crossed=True, path=Path.ACROSS),
    Tiedown(kind=Kind.CHAIN, count=2, through=Through.TOP, pulls=Pull.OVER, path=Path.ACROSS),
)
REARWARD = Tiedown(kind=Kind.CHAIN, pulls=Pull.REARWARD, path=Path.ACROSS)


def movement(support: Support, *more: Tiedown) -> Status:
    load = Load(coils=(Coil(weight_lb=30_000, eye=Eye.VERTICAL),), support=support, tiedowns=(*OVER, *more))
    found = judge(load, tables=TABLES, gear=GEAR, on=ON)
    return next(one for one in found.findings if one.topic == "movement").status


@pytest.mark.parametrize("more", [(), (REARWARD,)])
def test_s120_b1iv__a_tiedown_more_never_turns_asked_into_short(more: tuple[Tiedown, ...]) -> None:
    # The words are from memory; an agency page says them in other words.
    assert movement(Support(mats=False, blocked_forward=False), *more) is Status.SHORT


def test_s120_b1iv__nothing_told_is_asked() -> None:
    assert movement(Support()) is Status.ASK


def test_s120_b1iv__mats_hold_both_ways() -> None:
    assert movement(Support(mats=True)) is Status.MEETS
