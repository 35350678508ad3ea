"""The folder that searches the same model more widely: links, settings of its own, and what if none is made."""

from pathlib import Path

import pytest

from assistant.edges import model_search
from assistant.edges.model_search import searching_widely
from assistant.edges.places import PlaceProblem

CONF = "--min-active=200\n--max-active=3000\n--beam=10.0\n--lattice-beam=2.0\n--acoustic-scale=1.0\n"


@pytest.fixture
def model(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path / "home"))
    folder = tmp_path / "model"
    for part in ("am", "conf"):
        (folder / part).mkdir(parents=True)
    (folder / "am" / "final.mdl").write_bytes(b"model")
    (folder / "conf" / "model.conf").write_text(CONF, encoding="utf-8")
    (folder / "conf" / "mfcc.conf").write_text("--num-ceps=40\n", encoding="utf-8")
    return folder


def test_it_has_the_same_files_and_searches_more_widely(model: Path) -> None:
    wide = searching_widely(model)
    assert (wide / "am" / "final.mdl").read_bytes() == b"model"
    assert (wide / "conf" / "mfcc.conf").read_text(encoding="utf-8") == "--num-ceps=40\n"
    settings = (wide / "conf" / "model.conf").read_text(encoding="utf-8").split()
    assert {"--beam=13.0", "--lattice-beam=6.0", "--max-active=7000", "--acoustic-scale=1.0"} <= set(settings)
    assert (model / "conf" / "model.conf").read_text(encoding="utf-8") == CONF


def test_it_is_made_once(model: Path) -> None:
    assert searching_widely(model) == searching_widely(model)


def test_a_model_without_such_settings_is_taken_as_it_is(model: Path) -> None:
    (model / "conf" / "model.conf").write_text("--acoustic-scale=1.0\n", encoding="utf-8")
    assert searching_widely(model) == model
    (model / "conf" / "model.conf").unlink()
    assert searching_widely(model) == model


def test_without_a_place_for_it_the_model_is_taken_as_it_is(model: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def nowhere() -> Path:
        trouble = "no folder"
        raise PlaceProblem(trouble, "make one")

    monkeypatch.setattr(model_search, "cache_dir", nowhere)
    assert searching_widely(model) == model
