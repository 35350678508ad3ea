"""The voices: which one speaks, how it is stopped, and what happens without a loudspeaker or a voice."""

import shutil
import stat
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.edges import devices, loudspeaker, voice
from assistant.edges.loudspeaker import play
from assistant.edges.problem import NoLoudspeaker, VoiceProblem
from assistant.edges.voice import Hibari, Samples, Silent, choose_voice, voices_present
from tests.edges.fakes import FakeSound, FakeVoice

SAID = "Short by two thousand pounds. Add two chains."


@pytest.fixture
def sound(monkeypatch: pytest.MonkeyPatch) -> FakeSound:
    fake = FakeSound()
    monkeypatch.setattr(devices, "load", lambda _: fake)
    return fake


@pytest.fixture
def nothing_installed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setattr(voice, "find_spec", lambda _: None)
    monkeypatch.setenv("PATH", str(tmp_path))
    return tmp_path


def install(folder: Path, name: str, script: str = "") -> None:
    (folder / name).write_text(f"#!{sys.executable}\n{script}")
    (folder / name).chmod(0o755)


# Which voice.


def test_the_neural_voice_is_the_default() -> None:
    assert isinstance(choose_voice(), Hibari)


def test_flite_then_espeak_then_silence_stand_in(nothing_installed: Path) -> None:
    silent = choose_voice()
    assert isinstance(silent, Silent)
    assert "answers are shown, not spoken" in silent.notice
    install(nothing_installed, "espeak-ng")
    assert choose_voice().name == "espeak-ng"
    install(nothing_installed, "flite")
    assert choose_voice().name == "flite rms"
    assert voices_present() == ["flite", "espeak-ng"]


def test_a_voice_that_was_asked_for_is_never_replaced_in_silence(nothing_installed: Path) -> None:
    install(nothing_installed, "flite")
    assert choose_voice("flite").name == "flite rms"
    with pytest.raises(VoiceProblem, match="no voice 'espeak-ng' on this machine") as problem:
        choose_voice("espeak-ng")
    assert problem.value.remedy == "Choose one of: flite, silent."


@pytest.mark.parametrize("speed", [0.0, 0.49, 2.01, -1.0, float("nan"), float("inf")])
def test_an_impossible_speed_is_told(speed: float) -> None:
    with pytest.raises(VoiceProblem, match=r"0\.5 to 2\.0 is possible"):
        Silent(speed)


# Speech.


def installed(name: str) -> str:
    if name != "hibari" and shutil.which(name) is None:
        pytest.skip(f"{name} is not installed")
    return name


@pytest.mark.parametrize("name", ["hibari", "flite", "espeak-ng"])
def test_each_voice_makes_sound_that_starts_at_once(name: str) -> None:
    speaker = choose_voice(installed(name))
    pieces = list(speaker.samples(SAID))
    assert sum(len(piece) for piece in pieces) / speaker.rate > 1
    assert all(piece.dtype == np.float32 for piece in pieces)
    assert all(0.05 < np.abs(piece).max() <= 1 for piece in pieces)
    assert all(np.flatnonzero(np.abs(piece) > 0.004)[0] <= 0.03 * speaker.rate for piece in pieces)


@pytest.mark.parametrize("name", ["hibari", "flite", "espeak-ng"])
def test_each_voice_speaks_faster_when_told_to(name: str) -> None:
    lengths = [
        sum(len(piece) for piece in choose_voice(installed(name), speed=speed).samples(SAID)) for speed in (1.0, 1.6)
    ]
    assert lengths[1] < 0.8 * lengths[0]


@pytest.mark.parametrize("name", ["hibari", "flite", "espeak-ng", "silent"])
@pytest.mark.parametrize("text", ["", "  \n", "...", "-h", "--help", "\x00\x1b[31m", "é 荷 💥"])
def test_no_text_brings_a_voice_down(name: str, text: str) -> None:
    speaker = choose_voice("silent" if name == "silent" else installed(name))
    assert all(np.isfinite(piece).all() for piece in speaker.samples(text))


def test_the_neural_voice_gives_its_first_sentence_before_the_second_is_made() -> None:
    assert len(list(choose_voice("hibari").samples(SAID))) == 2


def test_a_neural_voice_that_cannot_be_loaded_is_told_when_it_should_speak(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: str) -> None:
        message = "no such library"
        raise OSError(message)

    monkeypatch.setattr(voice, "import_module", broken)
    speaker = Hibari()
    with pytest.raises(VoiceProblem, match="cannot be loaded: no such library"):
        list(speaker.samples("Ready."))


@pytest.mark.parametrize("wait_s", [0.0, 0.03, 0.06, 0.1])
def test_a_process_may_end_while_its_voice_still_loads(wait_s: float) -> None:
    program = f"import time; from assistant.edges.voice import choose_voice; choose_voice(); time.sleep({wait_s})"
    done = subprocess.run([sys.executable, "-c", program], check=False, capture_output=True, text=True)  # noqa: S603 - this Python, a text of our own
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


@pytest.mark.parametrize(
    "script", ["raise SystemExit(3)", "", "open(__import__('sys').argv[-1], 'w').write('no sound')"]
)
def test_a_program_that_fails_is_told(nothing_installed: Path, script: str) -> None:
    install(nothing_installed, "flite", script)
    with pytest.raises(VoiceProblem, match="The voice flite rms failed"):
        list(choose_voice("flite").samples("Ready."))


def test_speech_is_kept_as_a_file_that_only_its_owner_can_read(tmp_path: Path) -> None:
    FakeVoice().to_file("two chains more", tmp_path / "a.wav")
    samples, rate = soundfile.read(tmp_path / "a.wav")
    assert (len(samples), rate) == (7_200, 24_000)
    assert stat.S_IMODE((tmp_path / "a.wav").stat().st_mode) == 0o600


def test_silence_is_kept_as_an_empty_file(tmp_path: Path) -> None:
    Silent().to_file("anything", tmp_path / "a.wav")
    assert len(soundfile.read(tmp_path / "a.wav")[0]) == 0


# Playing.


def test_all_of_a_speech_is_played_in_order(sound: FakeSound) -> None:
    pieces = [np.full(length, level, np.float32) for length, level in ((700, 0.1), (1, 0.2), (1500, 0.3))]
    assert play(iter(pieces), 24_000)
    played = np.concatenate(sound.played)
    assert np.array_equal(played[played != 0], np.concatenate(pieces))


def test_a_speech_is_cut_off_at_the_next_block(sound: FakeSound) -> None:
    stop = threading.Event()
    blocks: list[int] = []

    def count() -> None:
        blocks.append(1)
        if len(blocks) == 5:
            stop.set()

    sound.after_block = count
    assert not FakeVoice().speak("word " * 1000, stop)
    assert len(sound.played) == 5


def test_a_speech_stopped_before_it_begins_makes_no_sound(sound: FakeSound) -> None:
    stop = threading.Event()
    stop.set()
    assert not FakeVoice().speak("two chains", stop)
    assert not any(block.any() for block in sound.played)


def test_an_empty_speech_ends(sound: FakeSound) -> None:
    assert FakeVoice().speak("")
    assert not any(block.any() for block in sound.played)


def test_a_loudspeaker_that_goes_away_is_told(sound: FakeSound, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loudspeaker, "_LOST_AFTER_S", 0.05)
    monkeypatch.setattr(loudspeaker, "_LOOK_EVERY_S", 0.01)
    sound.alive = False
    with pytest.raises(NoLoudspeaker, match="stopped taking sound"):
        FakeVoice().speak("two chains")


def test_a_voice_that_fails_midway_is_told_and_not_taken_for_a_missing_device(sound: FakeSound) -> None:
    class Breaking(FakeVoice):
        def samples(self, text: str) -> Iterator[Samples]:
            yield from super().samples(text)
            message = "The voice failed."
            raise VoiceProblem(message)

    with pytest.raises(VoiceProblem, match="The voice failed"):
        Breaking().speak("two chains")
    assert sound
