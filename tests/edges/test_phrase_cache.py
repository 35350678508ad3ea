"""The recognizer's phrases are generated once, and kept."""

from pathlib import Path

import pytest

from assistant.edges import phrase_cache as module
from assistant.edges.phrase_cache import phrases_of
from tests.hear.generated import UNDERSTANDER


class FakeGenerator:
    """Generates two phrases, and counts how often."""

    times = 0

    def __init__(self, _: object) -> None:
        FakeGenerator.times += 1

    def whole(self) -> list[str]:
        """Return phrases of the whole grammar."""
        return ["two chains", "a coil"]

    def answers(self, topic: str) -> list[str]:
        """Return a phrase of a narrow grammar."""
        return [topic]


@pytest.fixture(autouse=True)
def _generated(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))
    monkeypatch.setattr(module, "Generator", FakeGenerator)
    FakeGenerator.times = 0


def test_phrases_are_kept_for_next_time_and_readable_by_their_owner_alone(tmp_path: Path) -> None:
    first = phrases_of(UNDERSTANDER)
    (kept,) = (tmp_path / "cache" / "phrases").glob("whole-*.json")
    assert kept.stat().st_mode & 0o777 == 0o600
    assert phrases_of(UNDERSTANDER) == first == ["two chains", "a coil"]
    assert FakeGenerator.times == 1


def test_narrow_grammars_are_kept_apart() -> None:
    phrases_of(UNDERSTANDER)
    assert phrases_of(UNDERSTANDER, "weight") == ["weight"]
    assert phrases_of(UNDERSTANDER, "bunks") == ["bunks"]


@pytest.mark.parametrize("damage", ['["half a', "[]", '{"a": 1}', "[1, 2]"])
def test_a_damaged_cache_is_generated_again(tmp_path: Path, damage: str) -> None:
    first = phrases_of(UNDERSTANDER)
    (kept,) = (tmp_path / "cache" / "phrases").glob("whole-*.json")
    kept.write_text(damage, encoding="utf-8")
    assert phrases_of(UNDERSTANDER) == first
    assert FakeGenerator.times == 2


def test_without_a_place_for_a_cache_phrases_are_generated_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_kept_in", lambda _: None)
    assert phrases_of(UNDERSTANDER) == phrases_of(UNDERSTANDER)
    assert FakeGenerator.times == 2
