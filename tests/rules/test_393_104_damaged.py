"""49 CFR 393.104(b): a damaged tiedown may not be used, and counts nothing (derived)."""

import datetime as dt

from assistant.load.model import Coil, Eye, Kind, Load, Path, Pull, Support, Tiedown
from assistant.securement.finding import Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)


def judged(*tiedowns: Tiedown) -> Judgement:
    coil = Coil(weight_lb=40_000, eye=Eye.CROSSWISE)
    support = Support(timbers=2, bunks=3, mats=True)
    return judge(Load(coils=(coil,), support=support, tiedowns=tiedowns), tables=TABLES, gear=GEAR, on=ON)


def chains(count: int, pulls: Pull, *, damaged: bool = False) -> Tiedown:
    return Tiedown(
        kind=Kind.CHAIN, count=count, size_in=0.375, grade="70", pulls=pulls, path=Path.ACROSS, damaged=damaged
    )


def test_s104_b__a_damaged_chain_is_refused_and_not_summed() -> None:
    found = judged(chains(2, Pull.FORWARD), chains(2, Pull.REARWARD), chains(1, Pull.FORWARD, damaged=True))
    # 3/8 in grade 70: 6,600 lb (49 CFR 393.108, read); four sound chains of five.
    assert found.counted_lb == 26_400
    assert found.verdict is Status.STOP
    assert found.findings[0].rule == "49 CFR 393.104(b)"
    assert "one chain" in found.findings[0].remedy


def test_s104_b__a_damaged_chain_fills_no_clause() -> None:
    found = judged(chains(4, Pull.FORWARD), chains(2, Pull.REARWARD, damaged=True))
    assert next(one for one in found.findings if one.topic == "rearward").status is Status.SHORT


def test_s104_b__damaged_tiedowns_are_still_listed_with_no_share() -> None:
    found = judged(chains(4, Pull.FORWARD), chains(2, Pull.REARWARD, damaged=True))
    assert [group.counts_lb for group in found.rated] == [26_400, 0]


def test_s104_b__nothing_damaged_nothing_refused() -> None:
    found = judged(chains(2, Pull.FORWARD), chains(2, Pull.REARWARD))
    assert found.verdict is Status.MEETS
