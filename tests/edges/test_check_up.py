"""The check-up: what is there, what is not, and what to do about it."""

from pathlib import Path

import pytest

from assistant.edges import check_up as module
from assistant.edges import devices
from assistant.edges.check_up import check_up
from assistant.edges.problem import ModelMissing
from assistant.edges.voice import Silent
from tests.edges.fakes import FakeSound, FakeVoice


@pytest.fixture
def all_well(monkeypatch: pytest.MonkeyPatch) -> FakeSound:
    sound = FakeSound()
    monkeypatch.setattr(devices, "load", lambda _: sound)
    monkeypatch.setattr(module, "choose_voice", FakeVoice)
    monkeypatch.setattr(module, "_model", lambda _: "whole, in a folder")
    return sound


def found(lines: list[str], what: str) -> str:
    return next(line for line in lines if line[8:].startswith(f"{what}:"))


def test_everything_present_is_ready(all_well: FakeSound) -> None:
    lines, ok = check_up()
    assert ok
    assert all_well
    assert lines[-1] == "Ready to listen."
    assert not [line for line in lines if line.startswith(("MISSING", "note"))]
    for what in ("Deckside", "vosk", "speech model", "voice", "sound library", "microphone", "notebook", "gear list"):
        assert found(lines, what).startswith("ok")


def test_no_device_is_a_note_and_no_failure(all_well: FakeSound) -> None:
    all_well.present = False
    lines, ok = check_up()
    assert ok
    assert "typing work without" in found(lines, "microphone")
    assert found(lines, "loudspeaker").startswith("note")


def test_no_voice_is_a_note_with_a_remedy(all_well: FakeSound, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "choose_voice", Silent)
    lines, ok = check_up()
    assert ok
    assert all_well
    assert "pip install hibari-tts" in found(lines, "voice")


def test_a_package_that_is_missing_is_a_note(all_well: FakeSound, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_PACKAGES", ("no-such-package-of-ours",))
    lines, _ = check_up()
    assert all_well
    assert "Install it with `pip install no-such-package-of-ours`" in found(lines, "no-such-package-of-ours")


def test_no_model_is_a_failure_with_a_remedy(all_well: FakeSound, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(_: Path | None) -> str:
        trouble = "The speech model is not on this machine."
        raise ModelMissing(trouble, "Run `deckside fetch-model`.")

    monkeypatch.setattr(module, "_model", missing)
    lines, ok = check_up()
    assert not ok
    assert all_well
    assert found(lines, "speech model").startswith("MISSING")
    assert "deckside fetch-model" in found(lines, "speech model")
    assert lines[-1].startswith("Not ready to listen")


@pytest.mark.model
def test_the_real_model_is_read_byte_by_byte_and_loaded(model_path: Path) -> None:
    lines, ok = check_up(model_path)
    assert ok
    assert "every file as recorded" in found(lines, "speech model")


def test_a_model_the_user_names_in_vain_is_a_failure(tmp_path: Path) -> None:
    lines, ok = check_up(tmp_path / "none")
    assert not ok
    assert "is not a folder" in found(lines, "speech model")
