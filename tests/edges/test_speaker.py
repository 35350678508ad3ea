"""Speaking beside listening: deaf meanwhile, hushed at once, a file where there is no device, trouble told once."""

import threading
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import numpy as np
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


# The tone and the pace.


def test_an_answer_spoken_to_its_end_ends_in_the_tone_while_the_microphone_is_deaf(sound: FakeSound) -> None:
    told: list[str] = []
    speaker = Speaker(FakeVoice(), told.append, ended=lambda: told.append(f"hears after {len(sound.played)} blocks"))
    speaker.say("two chains", in_tone=lambda: True)
    speaker.wait()
    played = np.concatenate(sound.played)
    after = played[np.flatnonzero(played == 0.5)[-1] + 1 :]
    assert np.abs(after).max() == pytest.approx(0.1, abs=0.01)
    assert np.count_nonzero(after) > 3_000
    assert told == [f"hears after {len(sound.played)} blocks"]


def test_the_tone_alone_is_short_and_soft(sound: FakeSound) -> None:
    speaker = Speaker(FakeVoice(), print)
    speaker.sound_tone()
    speaker.wait()
    played = np.concatenate(sound.played)
    # A fifth of a second; a tenth of full scale.
    assert 0 < np.count_nonzero(played) < 4_800
    assert np.abs(played).max() <= 0.1


def test_a_speech_that_is_cut_has_no_tone_and_none_is_sounded_unasked(sound: FakeSound) -> None:
    speaker = Speaker(FakeVoice(), print)
    sound.after_block = speaker.cut
    speaker.say("word " * 100, in_tone=lambda: pytest.fail("asked after a cut"))
    speaker.wait()
    sound.played.clear()
    sound.after_block = lambda: None
    speaker.say("two")
    speaker.wait()
    assert np.count_nonzero(np.concatenate(sound.played)) == 2_400


def test_it_tells_when_the_first_sound_goes_out(sound: FakeSound) -> None:
    told: list[str] = []
    speaker = Speaker(
        FakeVoice(), print, started=lambda: told.append("deaf"), sounds=lambda: told.append("sounds"),
        ended=lambda: told.append("hears"),
    )  # fmt: skip
    speaker.say("two chains and a strap")
    speaker.wait()
    assert told == ["deaf", "sounds", "hears"]
    assert sound.played


def test_the_pace_changes_by_steps_within_what_a_voice_can_do_and_comes_back() -> None:
    voice = FakeVoice(1.1)
    speaker = Speaker(voice, print)
    assert speaker.change_pace(-1)
    assert voice.speed < 1.1
    while speaker.change_pace(-1):
        pass
    assert voice.speed >= 0.5
    assert speaker.change_pace(0)
    assert voice.speed == 1.1
    while speaker.change_pace(1):
        pass
    assert 1.1 < voice.speed <= 2.0
