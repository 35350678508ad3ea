"""The page of what was measured says what the file says, and a bench replaces only what is its own."""

import datetime as dt
import json
import re
from functools import partial
from pathlib import Path

import pytest

from tests import bench
from tests.bench import Row, shown
from tests.measured import FILE, PAGE, Measured, page, read, record

ROOT = Path(__file__).parents[1]
DAY = dt.date(2026, 11, 28)


def test_page__is_what_the_file_generates() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(read())


def test_file__is_as_a_bench_writes_it() -> None:
    kept = json.dumps(read(), indent=1, sort_keys=True, ensure_ascii=False)
    assert FILE.read_text(encoding="utf-8") == f"{kept}\n"


@pytest.mark.parametrize(("name", "section"), read().items(), ids=lambda one: one if isinstance(one, str) else "")
def test_section__says_what_measured_it_and_when(name: str, section: dict[str, object]) -> None:
    command = re.fullmatch(r"python -m ([a-z_.]+)", str(section["by"]))
    assert command, name
    assert (ROOT / f"{command[1].replace('.', '/')}.py").is_file()
    assert re.fullmatch(r"\d{4}-\d{2}(-\d{2})?", str(section["date"]))
    assert isinstance(section["cores"], int)


def test_record__replaces_its_own_sections_and_leaves_the_others(tmp_path: Path) -> None:
    file = tmp_path / "measured.json"
    record({"one": [Measured("a", {"right": 1})], "two": [Measured("b", {"right": 2})]}, by="first", day=DAY, file=file)
    record({"two": [Measured("c", {"right": 3})]}, by="second", day=DAY, file=file)
    kept = read(file)
    assert {name: [row["what"] for row in section["rows"]] for name, section in kept.items()} == {
        "one": ["a"],
        "two": ["c"],
    }
    assert {name: section["by"] for name, section in kept.items()} == {"one": "first", "two": "second"}
    assert (tmp_path / "MEASURED.md").read_text(encoding="utf-8") == page(kept)


def test_page__shows_targets_and_what_misses_them(tmp_path: Path) -> None:
    file = tmp_path / "measured.json"
    rows = [
        Measured("clean", {"heard": 40, "right": 96.5}, {"right": "≥ 97"}, ["right"]),
        Measured("at 10 dB", {"heard": 39, "right": 88.0, "wrong": 0.0}, {"right": "≥ 88"}),
    ]
    record({"the ear": rows}, by="somebody", note="All voices.", day=DAY, file=file)
    shown_page = page(read(file))
    assert re.search(r"^## The ear\n\n`somebody`, 2026-11-28, \d+ cores\. All voices\.$", shown_page, re.MULTILINE)
    assert "| what | heard | right | wrong |" in shown_page
    assert "| clean | 40 | **96.5** (≥ 97) |  |" in shown_page
    assert "| at 10 dB | 39 | 88.0 (≥ 88) | 0.0 |" in shown_page


@pytest.mark.parametrize("write", [True, False])
def test_bench__keeps_its_figures_only_when_told(
    *, write: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "measured.json"
    monkeypatch.setattr(bench, "record", partial(record, file=file))
    slow = Row("one check", "2.00 ms", "≤ 1 ms", reached=False)
    assert shown([slow], section="engine", by="somebody", write=write) == 1
    assert "NO" in capsys.readouterr().out
    assert file.exists() is write
    if write:
        assert "| one check | **2.00 ms** (≤ 1 ms) |" in page(read(file))
