"""The gear list as a file that the driver can edit by hand."""

import os
import re
import tempfile
import tomllib
from fractions import Fraction
from itertools import zip_longest
from pathlib import Path
from typing import Any

import tomli_w
from pydantic import ValidationError

from assistant.edges.places import config_dir
from assistant.edges.problem import Problem
from assistant.load.model import Gear, GearList, Kind

_HEADER = """\
# My gear: what my chains, straps and ropes are when I only say how many.
# One [[gear]] block for each kind: {kinds}.
# In a block: size_in = "3/8" (inches; a width for straps), grade = "70" (chain), material = "manila" (rope),
# thickness_in (steel strap), marked_lb = 6600 (the maker's working load limit, if it is marked),
# unmarked = true (no mark to be read), binder_lb = 6600 (the binder's own limit).
# "sample = true" means that this list is an example, not yet mine. Delete that line when it is.
"""
_MEND = "Mend it there, or delete the file to begin again with the sample list."
_ACCESS = "Look whether the file and its folder are yours and the disk has room."
_LENGTHS = ("size_in", "thickness_in")
_FINEST = 64
"""Sizes are written as fractions down to the sixty-fourth, the finest of an inch rule."""
_BLOCK = re.compile(r"^\s*\[\[\s*gear\s*\]\]")


class GearProblem(Problem):
    """The gear file cannot be read or written; `line` is where, when that is known."""

    def __init__(self, path: Path, why: str, remedy: str, line: int | None = None) -> None:
        place = f"{path}, line {line}" if line else str(path)
        super().__init__(f"Gear list {place}: {why}", remedy)
        self.path = path
        self.line = line


def gear_path() -> Path:
    """Return where the gear file is kept."""
    return config_dir() / "gear.toml"


def read_gear(path: Path, sample: GearList) -> GearList:
    """Return the driver's gear list, or the sample when there is no file yet.

    Raises
    ------
    GearProblem
        The file cannot be read, is no TOML, or says something that gear does not have.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return sample
    except OSError as error:
        raise GearProblem(path, f"it cannot be read ({error.strerror}).", _ACCESS) from error
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise GearProblem(path, "it is not plain UTF-8 text.", "Save it again as UTF-8.", line) from error
    return _parsed(path, text)


def write_gear(path: Path, gear: GearList) -> None:
    """Write the gear list, whole or not at all, readable by its owner alone.

    Raises
    ------
    GearProblem
        The file cannot be written.
    """
    # The writer would put short blocks on one line; a block of its own is easier to edit with gloves half off.
    blocks = "".join(f"\n[[gear]]\n{tomli_w.dumps(_block(item))}" for item in gear.items)
    head = _HEADER.format(kinds=", ".join(kind.value for kind in Kind))
    text = f"{head}{'sample = true' if gear.sample else ''}\n{blocks}"
    try:
        # A temporary file beside it, then renamed: a full disk or a lost battery never leaves half a list.
        handle, name = tempfile.mkstemp(prefix=".gear-", suffix=".toml", dir=path.parent)  # mkstemp makes it 0600
        temporary = Path(name)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            temporary.replace(path)
        finally:
            temporary.unlink(missing_ok=True)
    except OSError as error:
        raise GearProblem(path, f"it cannot be written ({error.strerror}).", _ACCESS) from error


def _parsed(path: Path, text: str) -> GearList:
    try:
        told = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"at line (\d+)", str(error))
        line = int(found[1]) if found else text.count("\n") + 1
        raise GearProblem(path, f"it is not written as TOML wants it: {error}.", _MEND, line) from error
    if strange := set(told) - {"gear", "sample"}:
        why, remedy = f"{_names(strange)} is not known here.", "Begin each block with [[gear]]."
        raise GearProblem(path, why, remedy, _line(text, min(strange)))
    blocks, sample = told.get("gear", []), told.get("sample", False)
    if not isinstance(blocks, list) or not all(isinstance(block, dict) for block in blocks):
        raise GearProblem(path, "gear is not in blocks.", "Begin each block with [[gear]].", _line(text, "gear"))
    if not isinstance(sample, bool):
        why, remedy = "sample is neither true nor false.", "Write sample = true, or delete the line."
        raise GearProblem(path, why, remedy, _line(text, "sample"))
    starts = [number for number, line in enumerate(text.splitlines(), 1) if _BLOCK.match(line)]
    items: list[Gear] = []
    for block, start in zip_longest(blocks, starts[: len(blocks)]):
        item = _item(path, block, start)
        if any(other.kind is item.kind for other in items):
            raise GearProblem(path, f"a second block for {item.kind.value}.", "Keep one for each kind.", start)
        items.append(item)
    return GearList(items=tuple(items), sample=sample)


def _item(path: Path, block: dict[str, Any], line: int | None) -> Gear:
    told = dict(block)
    if isinstance(told.get("grade"), int) and not isinstance(told["grade"], bool):
        told["grade"] = str(told["grade"])
    for name in _LENGTHS:
        if isinstance(told.get(name), str):
            told[name] = _inches(path, name, told[name], line)
    try:
        return Gear.model_validate(told)
    except ValidationError as error:
        why = "; ".join(_complaint(fault["loc"], fault["type"], fault["msg"]) for fault in error.errors())
        raise GearProblem(path, f"in this block, {why}.", _MEND, line) from error


def _complaint(loc: tuple[int | str, ...], sort: str, message: str) -> str:
    name = ".".join(map(str, loc))
    if sort == "extra_forbidden":
        return f"{name} is not known; known are {_names(set(Gear.model_fields))}"
    if sort == "missing":
        return f"{name} is missing"
    return f"{name}: {message[0].lower()}{message[1:]}"


def _inches(path: Path, name: str, text: str, line: int | None) -> float:
    """Read "3/8", "1-1/4", "1 3/4" or "4" as inches."""
    try:
        return float(sum(Fraction(part) for part in re.split(r"[\s-]+", text.strip())))
    except (ValueError, ZeroDivisionError, OverflowError) as error:
        why = f'{name} = "{text}" is no size in inches.'
        raise GearProblem(path, why, 'Write it like "3/8" or "1-3/4".', line) from error


def _block(item: Gear) -> dict[str, Any]:
    told = item.model_dump(mode="json", exclude_defaults=True)
    for name in _LENGTHS:
        if name in told:
            told[name] = _fraction(told[name])
    return {
        name: int(value) if isinstance(value, float) and value.is_integer() else value for name, value in told.items()
    }


def _fraction(size_in: float) -> str | float:
    size = Fraction(size_in)
    if _FINEST % size.denominator:
        return size_in
    whole, part = divmod(size, 1)
    return f"{whole}-{part}" if whole and part else str(part or whole)


def _names(names: set[str]) -> str:
    return ", ".join(sorted(names))


def _line(text: str, key: str) -> int | None:
    pattern = re.compile(rf'^\s*\[*\s*"?{re.escape(key)}\b')
    return next((number for number, line in enumerate(text.splitlines(), 1) if pattern.match(line)), None)
