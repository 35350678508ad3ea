"""The record of the one speech model that Deckside listens with, and the comparison of a folder with it."""

import hashlib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path

_BLOCK = 1 << 20


@dataclass(frozen=True)
class RecordedFile:
    """Size [bytes] and SHA-256 of one file of the model."""

    size: int
    sha256: str


@dataclass(frozen=True)
class Record:
    """What the model is called, where it comes from and what each of its files must be."""

    name: str
    maven: str
    maven_folder: str
    download_size: int
    files: Mapping[str, RecordedFile]


@cache
def recorded() -> Record:
    """Return the record that ships with the program."""
    table = tomllib.loads(files("assistant.edges").joinpath("model.toml").read_text(encoding="utf-8"))
    return Record(
        name=table["model"]["name"],
        maven=table["maven"]["artifact"],
        maven_folder=table["maven"]["folder"],
        download_size=table["maven"]["bytes"],
        files={name: RecordedFile(size=row["bytes"], sha256=row["sha256"]) for name, row in table["files"].items()},
    )


def size_faults(folder: Path, record: Record) -> list[str]:
    """Return what a look at names and sizes finds wrong: quick enough for every start."""
    faults = []
    for name, expected in record.files.items():
        path = folder / name
        if not path.is_file():
            faults.append(f"{name} is missing")
        elif (size := path.stat().st_size) != expected.size:
            faults.append(f"{name} has {size:,} bytes instead of {expected.size:,}")
    return faults


def content_faults(folder: Path, record: Record) -> list[str]:
    """Return what a reading of every byte finds wrong: a tenth of a second or so for the whole model."""
    faults = size_faults(folder, record)
    if faults:
        return faults
    return [
        f"{name} differs from the recorded SHA-256"
        for name, expected in record.files.items()
        if _sha256(folder / name) != expected.sha256
    ]


def _sha256(path: Path) -> str:
    digest = hashlib.sha256()
    with path.open("rb") as stream:
        while block := stream.read(_BLOCK):
            digest.update(block)
    return digest.hexdigest()
