"""The table reader: the only place in this room that opens files.

Each TOML file in `tables/` has a `[regulation]` head and parameters. A parameter's rows are dated and each carries
its own reference and mark. A file that breaks the format does not load.
"""

import datetime as dt
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from assistant.load.model import Gear, GearList
from assistant.securement.finding import Mark, Step
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

_FOLDER = Path(__file__).parent / "tables"
_SAMPLE_GEAR = "sample_gear.toml"
_HEAD = "regulation"
_HEAD_KEYS = {"title", "edition", "source", "checked"}
_PARAMETER_KEYS = {"what", "unit", "values"}
_OPTIONAL_KEYS = {"also", "keys", "notes"}
_ROW_KEYS = {"from", "value", "mark"}
_NUMBER_UNITS = {
    *("lb", "kg", "daN", "lb/in3"),
    *("in", "ft", "mi", "km", "h", "g", "m/s2", "degrees", "share"),
    *("tiedowns", "bunks", "timbers", "threads"),
}
_WORD_UNITS = {"text", "status"}
_DIGITS = 4  # decimals that tell two printed sizes apart

Cell = tuple[str | float, ...]


@dataclass(frozen=True, slots=True)
class Value:
    """One dated value with its source. `also` is the same cell in the other unit that the text prints."""

    what: str
    value: float | str
    unit: str
    since: dt.date
    ref: str
    mark: Mark
    also: float | None = None
    also_unit: str = ""
    notes: Mapping[str, str] = field(default_factory=dict)

    @property
    def number(self) -> float:
        """The value as a number, in `unit`.

        Raises
        ------
        TypeError
            The value is words.
        """
        if isinstance(self.value, str):
            message = f"{self.what}: {self.value!r} is no number"
            raise TypeError(message)
        return self.value

    @property
    def words(self) -> str:
        """The value as words."""
        return str(self.value)

    @property
    def clause(self) -> str:
        """The clause alone, without table, column or remark."""
        return self.ref.partition(",")[0].partition(";")[0]

    def step(self, formula: str = "") -> Step:
        """Return the value as one step of a trace."""
        unit = "" if self.unit in _WORD_UNITS else self.unit
        return Step(what=self.what, value=self.value, unit=unit, ref=self.ref, mark=self.mark, formula=formula)


@dataclass(frozen=True, slots=True)
class _Parameter:
    file: str
    name: str
    keys: tuple[str, ...]
    cells: dict[Cell, list[Value]]


class Tables:
    """All parameters of all files."""

    def __init__(self, parameters: Mapping[str, _Parameter]) -> None:
        self._parameters = dict(parameters)

    def value(self, name: str, /, *, on: dt.date, **keys: str | float) -> Value:
        """Return the value of one cell in force on a day.

        Parameters
        ----------
        name
            The parameter.
        on
            The day.
        keys
            The key columns of the cell, by name; sizes in inches.

        Raises
        ------
        UnknownParameterError
            No such parameter.
        UnknownKeyError
            Key columns that the parameter does not have.
        NotInTableError
            The cell is not printed: nothing is interpolated and no neighbour is taken.
        BeforeFirstRowError
            The day is before the first row.
        """
        parameter = self._parameter(name)
        rows = parameter.cells.get(self._cell(parameter, keys))
        if rows is None:
            raise NotInTableError(
                file=parameter.file,
                key=name,
                asked=tuple(keys.values()),
                allowed=tuple(parameter.cells),
            )
        for row in reversed(rows):
            if row.since <= on:
                return row
        raise BeforeFirstRowError(file=parameter.file, key=name, day=on, first=rows[0].since)

    def lookup(self, name: str, /, *, on: dt.date, **keys: str | float) -> Value | None:
        """Return the value of one cell, or None where the table prints none. Otherwise as `value`."""
        parameter = self._parameter(name)
        if self._cell(parameter, keys) not in parameter.cells:
            return None
        return self.value(name, on=on, **keys)

    def cells(self, name: str) -> tuple[Cell, ...]:
        """Return the printed cells of a parameter, in printed order."""
        return tuple(self._parameter(name).cells)

    def _parameter(self, name: str) -> _Parameter:
        if name not in self._parameters:
            raise UnknownParameterError(
                file="tables", key=name, problem="no file has it", remedy="Add it to a file, or correct the name"
            )
        return self._parameters[name]

    @staticmethod
    def _cell(parameter: _Parameter, keys: Mapping[str, str | float]) -> Cell:
        if set(keys) != set(parameter.keys):
            raise UnknownKeyError(
                file=parameter.file,
                key=parameter.name,
                problem=f"asked by {sorted(keys)}",
                remedy=f"Ask by {list(parameter.keys)}",
            )
        return tuple(_plain(keys[key]) for key in parameter.keys)


def read_tables(folder: Path = _FOLDER) -> Tables:
    """Read and check every table in a folder.

    Raises
    ------
    TableError
        A file that breaks the format; the message gives file, key and remedy.
    """
    parameters: dict[str, _Parameter] = {}
    for path in sorted(folder.glob("*.toml")):
        if path.name == _SAMPLE_GEAR:
            continue
        for parameter in _parameters(path):
            if parameter.name in parameters:
                raise DuplicateCellError(
                    file=path.name,
                    key=parameter.name,
                    problem=f"{parameters[parameter.name].file} has it already",
                    remedy="Rename one of them",
                )
            parameters[parameter.name] = parameter
    return Tables(parameters)


def read_sample_gear(folder: Path = _FOLDER) -> GearList:
    """Read the invented gear list of a fresh install.

    Raises
    ------
    TableError
        The file breaks the format.
    """
    path = folder / _SAMPLE_GEAR
    sample = _toml(path).get("sample", {})
    if "items" not in sample:
        raise MissingKeyError(file=path.name, key="sample", problem="items is missing", remedy="List the gear")
    try:
        items = tuple(Gear.model_validate(item) for item in sample["items"])
    except ValueError as error:
        raise WrongValueError(
            file=path.name, key="items", problem=str(error), remedy="Give each item the fields of Gear"
        ) from error
    return GearList(items=items, sample=True)


def _toml(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise BadFileError(
            file=path.name, key="whole file", problem=str(error), remedy="Correct the file or install Deckside again"
        ) from error


def _parameters(path: Path) -> Iterator[_Parameter]:
    content = _toml(path)
    head = content.pop(_HEAD, {})
    _expect(path.name, _HEAD, head, required=_HEAD_KEYS, optional=set())
    if not isinstance(head["checked"], dt.date):
        raise WrongValueError(
            file=path.name, key=_HEAD, problem="checked is no date", remedy="Give the day as YYYY-MM-DD"
        )
    for name, body in content.items():
        yield _parameter(path.name, name, body)


def _parameter(file: str, name: str, body: Mapping[str, Any]) -> _Parameter:
    _expect(file, name, body, required=_PARAMETER_KEYS, optional=_OPTIONAL_KEYS)
    for unit in (body["unit"], body.get("also", "kg")):
        if unit not in _NUMBER_UNITS | _WORD_UNITS:
            known = ", ".join(sorted(_NUMBER_UNITS | _WORD_UNITS))
            raise WrongUnitError(
                file=file, key=name, problem=f"unit {unit!r} is unknown", remedy=f"Use one of: {known}"
            )
    keys = tuple(body.get("keys", ()))
    cells: dict[Cell, list[Value]] = {}
    for number, row in enumerate(body["values"], start=1):
        key = f"{name}, row {number}"
        value = _value(file, key, body, row)
        rows = cells.setdefault(tuple(_plain(row[column]) for column in keys), [])
        _expect_later(file, key, rows, value)
        rows.append(value)
    if not cells:
        raise MissingKeyError(file=file, key=name, problem="no rows", remedy="Add a dated row with its reference")
    return _Parameter(file=file, name=name, keys=keys, cells=cells)


def _value(file: str, key: str, body: Mapping[str, Any], row: Mapping[str, Any]) -> Value:
    if not str(row.get("ref", "")).strip():
        raise MissingReferenceError(
            file=file, key=key, problem="ref is missing", remedy="Name clause and table in the same row"
        )
    notes = tuple(body.get("notes", ()))
    required = {*_ROW_KEYS, "ref", *body.get("keys", ()), *notes, *({"also"} if "also" in body else ())}
    _expect(file, key, row, required=required, optional=set())
    _expect_fit(file, key, body["unit"], row["value"])
    if "also" in body:
        _expect_fit(file, key, body["also"], row["also"])
    if not isinstance(row["from"], dt.date):
        raise WrongValueError(file=file, key=key, problem="from is no date", remedy="Give the day as YYYY-MM-DD")
    try:
        mark = Mark(row["mark"])
    except ValueError as error:
        marks = ", ".join(Mark)
        raise WrongValueError(
            file=file, key=key, problem=f"mark {row['mark']!r} is unknown", remedy=f"Use one of: {marks}"
        ) from error
    return Value(
        what=body["what"],
        value=row["value"],
        unit=body["unit"],
        since=row["from"],
        ref=row["ref"],
        mark=mark,
        also=row.get("also"),
        also_unit=body.get("also", ""),
        notes={note: str(row[note]) for note in notes},
    )


def _expect(file: str, key: str, body: Mapping[str, Any], *, required: set[str], optional: set[str]) -> None:
    if missing := sorted(required - set(body)):
        raise MissingKeyError(file=file, key=key, problem=f"{', '.join(missing)} is missing", remedy="Add it")
    if unknown := sorted(set(body) - required - optional):
        raise UnknownKeyError(
            file=file,
            key=key,
            problem=f"{', '.join(unknown)} is unknown",
            remedy=f"Use only: {', '.join(sorted(required | optional))}",
        )


def _expect_fit(file: str, key: str, unit: str, value: object) -> None:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if unit in _NUMBER_UNITS and not (number and float(str(value)) > 0):
        raise WrongUnitError(
            file=file, key=key, problem=f"{value!r} is no value in {unit}", remedy="Give a number above zero"
        )
    if unit in _WORD_UNITS and not isinstance(value, str):
        raise WrongUnitError(file=file, key=key, problem=f"{value!r} is no {unit}", remedy="Give words in quotes")


def _expect_later(file: str, key: str, rows: list[Value], value: Value) -> None:
    if not rows or rows[-1].since < value.since:
        return
    if rows[-1].since == value.since:
        raise DuplicateCellError(
            file=file, key=key, problem="the cell has a row of that day already", remedy="Keep one of the two"
        )
    raise DatesOutOfOrderError(
        file=file,
        key=key,
        problem=f"{value.since} stands after {rows[-1].since}",
        remedy="Put the older row first",
    )


def _plain(key: str | float) -> str | float:
    return key if isinstance(key, str) else round(float(key), _DIGITS)


__all__ = ["TableError", "Tables", "Value", "read_sample_gear", "read_tables"]
