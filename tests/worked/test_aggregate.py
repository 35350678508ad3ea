"""Examples worked outside the program: loads, sums and verdicts of the half-weight line."""

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
import yaml

from assistant.load.model import GearList, Load
from assistant.securement.finding import Mark
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_tables

EXAMPLES = yaml.safe_load((Path(__file__).parent / "aggregate.yaml").read_text(encoding="utf-8"))
TABLES = read_tables()
ON = dt.date(2026, 3, 1)


@pytest.mark.parametrize("example", EXAMPLES, ids=[example["name"] for example in EXAMPLES])
def test_a_worked_example_comes_out_as_published(example: dict[str, Any]) -> None:
    assert example["document"]
    assert example["clause"]
    assert example["why"]
    assert Mark(example["mark"])
    load = Load.model_validate({key: example.get(key, ()) for key in ("coils", "articles", "tiedowns")})
    found = judge(load, tables=TABLES, gear=GearList(), on=ON)
    expected = example["expect"]
    for name in {"needed_lb", "counted_lb"} & set(expected):
        assert getattr(found, name) == pytest.approx(expected[name], abs=example["tolerance"])
    if "aggregate" in expected:
        assert next(one.status for one in found.findings if one.topic == "aggregate") == expected["aggregate"]
