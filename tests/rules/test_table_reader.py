"""The table reader: what it refuses, and how it says so."""

import datetime as dt
from pathlib import Path

import pytest

from assistant.securement.finding import Mark
from assistant.securement.table_errors import (
    BadFileError,
    BeforeFirstRowError,
    DatesOutOfOrderError,
    DuplicateCellError,
    MissingKeyError,
    MissingReferenceError,
    NotInTableError,
    TableError,
    UnknownKeyError,
    UnknownParameterError,
    WrongUnitError,
    WrongValueError,
)
from assistant.securement.table_reader import Tables, read_sample_gear, read_tables

HEAD = """
[regulation]
title = "Example Act"
edition = "2020"
source = "https://law.example/act"
checked = 2026-01-31
"""
ROW = '{ from = 2011-01-01, value = 900, ref = "s. 12(1), table 3", mark = "read" }'


def parameter(rows: str, *, unit: str = "lb", extra: str = "") -> str:
    return f'{HEAD}\n[rail]\nwhat = "limit of a rail"\nunit = "{unit}"\n{extra}\nvalues = [{rows}]\n'


def read(folder: Path, text: str) -> Tables:
    (folder / "act.toml").write_text(text, encoding="utf-8")
    return read_tables(folder)


def test_a_well_formed_file_gives_value_reference_and_mark(tmp_path: Path) -> None:
    value = read(tmp_path, parameter(ROW)).value("rail", on=dt.date(2020, 1, 1))
    assert (value.number, value.unit, value.ref, value.mark) == (900, "lb", "s. 12(1), table 3", Mark.READ)
    assert value.clause == "s. 12(1)"


def test_two_dated_rows_live_side_by_side(tmp_path: Path) -> None:
    later = '{ from = 2020-07-01, value = 1000, ref = "2020/55, art. 2", mark = "memory" }'
    tables = read(tmp_path, parameter(f"{ROW}, {later}"))
    assert tables.value("rail", on=dt.date(2020, 6, 30)).number == 900
    assert tables.value("rail", on=dt.date(2020, 7, 1)).number == 1000


def test_a_day_before_the_first_row_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BeforeFirstRowError, match=r"act\.toml, rail: 2010-12-31 is before the first row, 2011-01-01"):
        read(tmp_path, parameter(ROW)).value("rail", on=dt.date(2010, 12, 31))


BAD = {
    "no reference": (
        parameter('{ from = 2011-01-01, value = 900, mark = "read" }'),
        MissingReferenceError,
        r"^act\.toml, rail, row 1: ref is missing\. Name clause and table in the same row\.$",
    ),
    "empty reference": (
        parameter('{ from = 2011-01-01, value = 900, ref = " ", mark = "read" }'),
        MissingReferenceError,
        "ref is missing",
    ),
    "no mark": (
        parameter('{ from = 2011-01-01, value = 900, ref = "s. 1" }'),
        MissingKeyError,
        r"row 1: mark is missing\. Add it\.$",
    ),
    "unknown mark": (
        parameter('{ from = 2011-01-01, value = 900, ref = "s. 1", mark = "sure" }'),
        WrongValueError,
        r"mark 'sure' is unknown\. Use one of: read, in other words, memory, derived, common practice, no source\.$",
    ),
    "unknown key in a row": (
        parameter('{ from = 2011-01-01, value = 900, ref = "s. 1", mark = "read", colour = "red" }'),
        UnknownKeyError,
        r"row 1: colour is unknown\. Use only: from, mark, ref, value\.$",
    ),
    "unknown key in a parameter": (
        parameter(ROW, extra='shape = "round"'),
        UnknownKeyError,
        r"rail: shape is unknown",
    ),
    "unknown unit": (
        parameter(ROW, unit="stone"),
        WrongUnitError,
        r"unit 'stone' is unknown\. Use one of: .*lb",
    ),
    "words where a number belongs": (
        parameter('{ from = 2011-01-01, value = "heavy", ref = "s. 1", mark = "read" }'),
        WrongUnitError,
        r"'heavy' is no value in lb\. Give a number above zero\.$",
    ),
    "zero": (
        parameter('{ from = 2011-01-01, value = 0, ref = "s. 1", mark = "read" }'),
        WrongUnitError,
        "0 is no value in lb",
    ),
    "a number where words belong": (
        parameter(ROW, unit="text"),
        WrongUnitError,
        r"900 is no text\. Give words in quotes\.$",
    ),
    "a date that is none": (
        parameter('{ from = "2011", value = 900, ref = "s. 1", mark = "read" }'),
        WrongValueError,
        r"from is no date\. Give the day as YYYY-MM-DD\.$",
    ),
    "dates out of order": (
        parameter(f'{ROW}, {{ from = 2010-01-01, value = 800, ref = "s. 1", mark = "read" }}'),
        DatesOutOfOrderError,
        r"row 2: 2010-01-01 stands after 2011-01-01\. Put the older row first\.$",
    ),
    "the same cell twice": (
        parameter(f"{ROW}, {ROW}"),
        DuplicateCellError,
        r"row 2: the cell has a row of that day already\. Keep one of the two\.$",
    ),
    "no rows": (parameter(""), MissingKeyError, r"rail: no rows\. Add a dated row with its reference\.$"),
    "a missing key column": (
        parameter(ROW, extra='keys = ["size_in"]'),
        MissingKeyError,
        r"size_in is missing",
    ),
    "no head": ('[rail]\nwhat = "x"\n', MissingKeyError, r"act\.toml, regulation: checked, edition, source, title is"),
    "no toml": ("[rail", BadFileError, r"act\.toml, whole file: .*Correct the file or install Deckside again\.$"),
}


@pytest.mark.parametrize(("text", "error", "message"), BAD.values(), ids=BAD.keys())
def test_a_broken_file_does_not_load_and_says_file_key_and_remedy(
    tmp_path: Path, text: str, error: type[TableError], message: str
) -> None:
    with pytest.raises(error, match=message) as caught:
        read(tmp_path, text)
    assert caught.value.file == "act.toml"
    assert caught.value.key
    assert caught.value.problem
    assert caught.value.remedy


def test_two_files_may_not_share_a_name(tmp_path: Path) -> None:
    (tmp_path / "older.toml").write_text(parameter(ROW), encoding="utf-8")
    with pytest.raises(DuplicateCellError, match=r"older\.toml, rail: act\.toml has it already\. Rename one of them"):
        read(tmp_path, parameter(ROW))


def test_a_broken_sample_gear_list_is_refused(tmp_path: Path) -> None:
    (tmp_path / "sample_gear.toml").write_text('[sample]\nitems = [{ kind = "magnet" }]', encoding="utf-8")
    with pytest.raises(WrongValueError, match=r"sample_gear\.toml, items: (?s:.*)Give each item the fields of Gear"):
        read_sample_gear(tmp_path)
    (tmp_path / "sample_gear.toml").write_text("[sample]\n", encoding="utf-8")
    with pytest.raises(MissingKeyError, match=r"sample_gear\.toml, sample: items is missing"):
        read_sample_gear(tmp_path)


def test_a_cell_that_is_not_printed_is_refused_and_no_neighbour_is_taken(tables: Tables, on: dt.date) -> None:
    with pytest.raises(
        NotInTableError, match=r"chain_wll: 0\.75, 70 is not printed\. Use the maker's mark, or"
    ) as caught:
        tables.value("chain_wll", on=on, size_in=0.75, grade="70")
    assert caught.value.asked == (0.75, "70")
    assert (0.625, "70") in caught.value.allowed
    assert tables.lookup("chain_wll", on=on, size_in=0.75, grade="70") is None


def test_the_wrong_key_columns_are_refused(tables: Tables, on: dt.date) -> None:
    with pytest.raises(UnknownKeyError, match=r"chain_wll: asked by \['size_in'\]\. Ask by \['size_in', 'grade'\]"):
        tables.value("chain_wll", on=on, size_in=0.375)


def test_an_unknown_parameter_is_refused(tables: Tables, on: dt.date) -> None:
    with pytest.raises(UnknownParameterError, match=r"tables, moon_wll: no file has it"):
        tables.value("moon_wll", on=on)


def test_words_are_not_taken_for_a_number(tables: Tables, on: dt.date) -> None:
    with pytest.raises(TypeError, match="is no number"):
        _ = tables.value("maker_mark", on=on).number
