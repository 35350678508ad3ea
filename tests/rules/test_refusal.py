"""Accept or refuse: each observation that can be said has what goes wrong, what mends it and when to refuse."""

import datetime as dt
import tomllib
from pathlib import Path as File

import pytest

from assistant.load.model import Coil, Eye, Kind, Load, Path, Tiedown
from assistant.securement.finding import Mark, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables
from assistant.securement.us_393_104 import check_seen

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
ROWS = File(__file__).parents[2] / "assistant" / "securement" / "tables" / "observations.toml"
NAMES = sorted({row["name"] for row in tomllib.loads(ROWS.read_text(encoding="utf-8"))["observation"]["values"]})


def test_there_is_something_to_see() -> None:
    assert len(NAMES) >= 15


@pytest.mark.parametrize("name", NAMES)
def test_all_that_can_be_said_as_seen_has_its_three_parts(name: str) -> None:
    row = TABLES.lookup("observation", on=ON, name=name)
    assert row is not None, f"no row for {name}: add one to tables/observations.toml"
    (finding,) = check_seen(load=Load(seen=(name,)), tables=TABLES, on=ON)
    assert finding.status in {Status.STOP, Status.ASK, Status.LOOK, Status.OUTSIDE}
    for part in (row.notes["why"], row.notes["refuse"]):
        assert part
        assert part in finding.text
    assert finding.remedy


# 49 CFR 393.104(b), (d), (f)(4), 393.112 (read); (f)(1) in other words; the rest common practice, no source.
@pytest.mark.parametrize(
    ("name", "mark"),
    [
        ("damaged chain", Mark.READ),
        ("damaged strap", Mark.READ),
        ("damaged hook", Mark.READ),
        ("broken pallet", Mark.READ),
        ("no edge protection", Mark.READ),
        ("binder bottomed out", Mark.READ),
        ("knot", Mark.OTHER_WORDS),
        ("lip", Mark.PRACTICE),
        ("inner lip", Mark.PRACTICE),
        ("broken band", Mark.PRACTICE),
        ("telescoped", Mark.PRACTICE),
        ("egged", Mark.PRACTICE),
        ("wet eye", Mark.PRACTICE),
        ("damaged coil", Mark.PRACTICE),
        ("paper and tag differ", Mark.PRACTICE),
        ("sided vehicle without anchor points", Mark.MEMORY),
    ],
)
def test_each_observation_bears_the_mark_of_its_source(name: str, mark: Mark) -> None:
    (finding,) = check_seen(load=Load(seen=(name,)), tables=TABLES, on=ON)
    assert finding.mark is mark


def test_paper_and_tag_that_differ_stop_a_load_whose_weight_was_told() -> None:
    # Common practice, no source: the weight is not settled until they agree.
    load = Load(coils=(Coil(weight_lb=40_000, eye=Eye.CROSSWISE),), seen=("paper and tag differ",))
    found = judge(load, tables=TABLES, gear=GEAR, on=ON)
    assert found.verdict is Status.STOP
    assert "shipper" in found.findings[0].remedy


def test_each_of_several_observations_is_judged() -> None:
    found = check_seen(load=Load(seen=("lip", "wet eye", "knot")), tables=TABLES, on=ON)
    assert [finding.topic for finding in found] == ["lip", "wet eye", "knot"]


def test_s120_e__without_anchor_points_the_clauses_for_anchor_points_are_not_applied() -> None:
    # 49 CFR 393.120(e) (memory): loaded to prevent shifting and tipping; (b) to (d) name vehicles with anchor points.
    coil = Coil(weight_lb=40_000, eye=Eye.CROSSWISE)
    chain = Tiedown(kind=Kind.CHAIN, count=4, path=Path.ACROSS)
    load = Load(coils=(coil,), tiedowns=(chain,), seen=("sided vehicle without anchor points",))
    judgement = judge(load, tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict is Status.OUTSIDE
    rules = [one.rule for one in judgement.findings if one.rule.startswith("49 CFR 393.120")]
    assert rules == ["49 CFR 393.120(e)"]
