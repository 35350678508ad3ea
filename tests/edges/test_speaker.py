"""Speaking beside listening: deaf meanwhile, hushed at once, a file where there is no device, trouble told once."""

import threading
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
import soundfile

from assistant.edges import devices
from assistant.edges.problem import VoiceProblem
from assistant.edges.speaker import Speaker
from assistant.edges.voice import Samples, Silent
from tests.edges.fakes import FakeSound, FakeVoice


@pytest.fixture
def sound(monkeypatch: pytest.MonkeyPatch) -> FakeSound:
    fake = FakeSound()
    monkeypatch.setattr(devices, "load", lambda _: fake)
    return fake


def test_it_tells_when_it_begins_and_ends_to_speak(sound: FakeSound) -> None:
    told: list[str] = []
    speaker = Speaker(FakeVoice(), told.append, started=lambda: told.append("deaf"), ended=lambda: told.append("hears"))
    speaker.say("two chains")
    speaker.wait()
    assert told == ["deaf", "hears"]
    assert sound.played


def test_hushing_ends_the_speech_and_the_deafness(sound: FakeSound) -> None:
    ended = threading.Event()
    speaker = Speaker(FakeVoice(), print, ended=ended.set)
    sound.after_block = speaker._stop.set  # noqa: SLF001 - hushed from the device's own thread, midway
    speaker.say("word " * 1000)
    speaker.hush()
    assert ended.is_set()
    assert not speaker.speaking


def test_without_a_loudspeaker_the_answer_lands_in_a_named_file(sound: FakeSound, tmp_path: Path) -> None:
    sound.present = False
    told: list[str] = []
    speaker = Speaker(FakeVoice(), told.append, instead=tmp_path / "answer.wav")
    speaker.say("two chains")
    speaker.wait()
    assert str(tmp_path / "answer.wav") in told[0]
    assert len(soundfile.read(tmp_path / "answer.wav")[0]) == 4_800


def test_without_a_loudspeaker_and_without_a_file_it_says_so_once(sound: FakeSound) -> None:
    sound.present = False
    told: list[str] = []
    speaker = Speaker(FakeVoice(), told.append)
    for _ in range(3):
        speaker.say("two chains")
        speaker.wait()
    assert len(told) == 1
    assert "No loudspeaker" in told[0]


def test_a_voice_that_fails_is_told_and_the_microphone_hears_again(sound: FakeSound) -> None:
    class Breaking(FakeVoice):
        def samples(self, text: str) -> Iterator[Samples]:
            """Fail after the first word."""
            yield from super().samples(text.split(maxsplit=1)[0])
            message = "The voice failed."
            raise VoiceProblem(message)

    told: list[str] = []
    speaker = Speaker(Breaking(), told.append, ended=lambda: told.append("hears"))
    speaker.say("two chains")
    speaker.wait()
    assert told == ["The voice failed.", "hears"]
    assert sound


def test_a_silent_voice_says_so_and_asks_for_no_device(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(devices, "load", SimpleNamespace)
    told: list[str] = []
    speaker = Speaker(Silent(), told.append)
    speaker.say("two chains")
    speaker.wait()
    assert len(told) == 1
    assert "shown, not spoken" in told[0]
