"""The microphone: hands-free, while a key is held, half-duplex, missing, lost and too slow; with a pretended device."""

import os
import subprocess
import sys
import threading
from collections.abc import Callable

import numpy as np
import pytest

from assistant.edges import devices, microphone
from assistant.edges.microphone import Microphone, hands_free, held
from assistant.edges.problem import MicrophoneLost, NoLoudspeaker, NoMicrophone
from tests.edges.fakes import FakeInput, FakeListening, FakeSound


@pytest.fixture
def sound(monkeypatch: pytest.MonkeyPatch) -> FakeSound:
    fake = FakeSound()
    monkeypatch.setattr(devices, "load", lambda _: fake)
    monkeypatch.setattr(microphone, "_LOOK_EVERY_S", 0.01)
    return fake


def device(sound: FakeSound) -> FakeInput:
    assert sound.input is not None
    return sound.input


def test_it_records_sixteen_thousand_mono_samples_a_second(sound: FakeSound) -> None:
    with Microphone() as ear:
        assert ear.name == "fake input"
        told = device(sound).told
    assert (told["samplerate"], told["channels"], told["dtype"]) == (16_000, 1, "int16")


def test_leaving_closes_the_device_and_ends_the_blocks(sound: FakeSound) -> None:
    with Microphone() as ear:
        device(sound).deliver(b"ab")
        blocks = ear.blocks()
        assert next(blocks) == b"ab"
    assert list(blocks) == []
    assert device(sound).closed


def test_a_device_without_that_rate_is_recorded_at_its_own_and_resampled(sound: FakeSound) -> None:
    sound.rates = (48_000,)
    tone = (8000 * np.sin(2 * np.pi * 440 * np.arange(48_000) / 48_000)).astype("<i2")
    with Microphone() as ear:
        assert device(sound).told["samplerate"] == 48_000
        for part in np.split(tone, 10):
            device(sound).deliver(part.tobytes())
        blocks = ear.blocks()
        got = np.frombuffer(b"".join(next(blocks) or b"" for _ in range(10)), "<i2")
    assert 15_000 < len(got) <= 16_000
    zero_crossings = np.count_nonzero(np.diff(np.signbit(got)))
    assert zero_crossings / 2 == pytest.approx(440 * len(got) / 16_000, abs=2)


# Hands-free.


def test_hands_free_gives_one_utterance_after_another(sound: FakeSound) -> None:
    with Microphone() as ear:
        for block in (b"four chains ", b".", b" ", b".", b"and a strap", b"."):
            device(sound).deliver(block)
        utterances = hands_free(ear, FakeListening)
        assert [next(utterances).text for _ in range(2)] == ["four chains", "and a strap"]


def test_each_utterance_has_a_listening_of_its_own_that_is_finished(sound: FakeSound) -> None:
    made: list[FakeListening] = []

    def listen() -> FakeListening:
        made.append(FakeListening())
        return made[-1]

    with Microphone() as ear:
        for block in (b"one", b".", b"two", b"."):
            device(sound).deliver(block)
        utterances = hands_free(ear, listen)
        next(utterances)
        next(utterances)
    assert list(utterances) == []
    assert len(made) == 3
    assert all(listening.finished for listening in made)


def test_the_words_so_far_are_told_when_they_change(sound: FakeSound) -> None:
    told: list[str] = []
    with Microphone() as ear:
        for block in (b"four ", b" ", b"chains", b"."):
            device(sound).deliver(block)
        next(hands_free(ear, FakeListening, partly=told.append))
    assert told == ["four", "four chains"]


def test_nothing_is_heard_while_the_voice_speaks(sound: FakeSound) -> None:
    with Microphone() as ear:
        utterances = hands_free(ear, FakeListening)
        device(sound).deliver(b"four chains")
        device(sound).deliver(b".")
        assert next(utterances).text == "four chains"
        ear.pause()
        assert ear.deaf
        device(sound).deliver(b"short by two chains")
        ear.resume()
        device(sound).deliver(b"thanks")
        device(sound).deliver(b".")
        assert next(utterances).text == "thanks"


def test_a_pause_throws_away_half_an_utterance(sound: FakeSound) -> None:
    with Microphone() as ear:
        device(sound).deliver(b"four")
        ear.pause()
        ear.pause()
        ear.resume()
        device(sound).deliver(b"six chains")
        device(sound).deliver(b".")
        assert next(hands_free(ear, FakeListening)).text == "six chains"


# While a key is held.


def test_a_held_key_hears_through_pauses_until_it_is_let_go(sound: FakeSound) -> None:
    told: list[str] = []
    with Microphone(deaf=True) as ear:
        device(sound).deliver(b"before the key")
        ear.resume()
        for block in (b"four chains", b".", b"and a strap"):
            device(sound).deliver(block)
        ear.pause()
        device(sound).deliver(b"after the key")
        assert held(ear, FakeListening(), partly=told.append).text == "four chains and a strap"
    assert told[-1] == "and a strap"


# Trouble.


def test_without_a_microphone_it_says_so_and_what_still_works(sound: FakeSound) -> None:
    sound.present = False
    with pytest.raises(NoMicrophone, match="No microphone was found") as problem, Microphone():
        pass
    assert "typing work without" in problem.value.remedy


def test_a_device_that_opens_at_no_rate_is_told(sound: FakeSound) -> None:
    sound.rates = ()
    with pytest.raises(NoMicrophone, match=r"cannot be opened \(16000 Hz: Invalid sample rate; 48000 Hz"), Microphone():
        pass


def test_a_microphone_unplugged_midway_is_told_after_what_was_said_before(sound: FakeSound) -> None:
    with Microphone() as ear:
        device(sound).deliver(b"four chains")
        blocks = ear.blocks()
        assert next(blocks) == b"four chains"
        device(sound).active = False
        with pytest.raises(MicrophoneLost, match="was unplugged or switched off"):
            next(blocks)


def test_a_microphone_that_goes_quiet_without_a_word_is_told(sound: FakeSound, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(microphone, "_LOST_AFTER_S", 0.03)
    with Microphone() as ear, pytest.raises(MicrophoneLost, match="no sound has come from it for"):
        next(ear.blocks())
    assert not device(sound).active


def test_a_paused_microphone_that_still_delivers_is_not_lost(sound: FakeSound, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(microphone, "_LOST_AFTER_S", 0.2)
    with Microphone(deaf=True) as ear:
        done = threading.Event()

        def deliver() -> None:
            for _ in range(20):
                device(sound).deliver(b"dropped")
                done.wait(0.02)
            ear.resume()
            device(sound).deliver(b"heard")

        thread = threading.Thread(target=deliver)
        thread.start()
        assert next(ear.blocks()) == b"heard"
        thread.join()


def test_falling_a_minute_behind_is_told(sound: FakeSound) -> None:
    with Microphone() as ear:
        for _ in range(601):
            device(sound).deliver(b"xx")
        with pytest.raises(MicrophoneLost, match="too busy to keep up"):
            list(ear.blocks())


# Without the sound library.


@pytest.mark.parametrize("kind", [NoMicrophone, NoLoudspeaker])
def test_a_missing_sound_library_names_the_package_to_install(
    monkeypatch: pytest.MonkeyPatch, kind: Callable[..., Exception]
) -> None:
    def broken(_: str) -> None:
        message = "PortAudio library not found"
        raise OSError(message)

    monkeypatch.setattr(devices, "import_module", broken)
    with pytest.raises(kind, match="PortAudio library not found") as problem:  # type: ignore[call-overload]
        devices.load(kind)
    for name in ("apt install libportaudio2", "dnf install portaudio", "pacman -S portaudio"):
        assert name in str(problem.value)


def test_a_missing_python_package_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: str) -> None:
        message = "No module named 'sounddevice'"
        raise ImportError(message)

    monkeypatch.setattr(devices, "import_module", broken)
    with pytest.raises(NoMicrophone, match="pip install sounddevice"):
        devices.load(NoMicrophone)


def test_the_libraries_own_diagnostics_stay_off_the_screen(capfd: pytest.CaptureFixture[str]) -> None:
    with devices.quiet():
        os.write(2, b"Expression 'r' failed")
    os.write(2, b"ours")
    assert capfd.readouterr().err == "ours"


def test_a_closed_standard_error_is_no_trouble() -> None:
    program = "import os; os.close(2); from assistant.edges import devices\nwith devices.quiet(): print('fine')"
    done = subprocess.run([sys.executable, "-c", program], check=True, capture_output=True, text=True)  # noqa: S603 - this Python, a text of our own
    assert done.stdout == "fine\n"


# While the voice speaks.


def speech(level: float, seconds: float) -> list[bytes]:
    rng = np.random.default_rng(5)
    pcm = (rng.standard_normal(int(16_000 * seconds)) * 32767 * 10 ** (level / 20)).clip(-32768, 32767).astype("<i2")
    return [pcm[start : start + 1600].tobytes() for start in range(0, len(pcm), 1600)]


def test_somebody_who_barges_in_is_listened_to_from_the_rise_on(sound: FakeSound) -> None:
    told: list[str] = []
    with Microphone() as ear:
        blocks = ear.blocks()
        ear.watch(lambda: told.append("barged in"))
        ear.sounds()
        for block in (*speech(-40, 2), *speech(-20, 0.5)):
            device(sound).deliver(block)
        assert next(blocks) is None
        since = next(blocks)
        assert since
        assert len(since) > 0.25 * 32_000
        assert told == ["barged in"]
        assert not ear.deaf
        device(sound).deliver(b"and on")
        assert any(block == b"and on" for block in blocks)
        assert told == ["barged in"]


def test_without_a_rise_what_came_while_it_spoke_is_dropped(sound: FakeSound) -> None:
    with Microphone() as ear:
        blocks = ear.blocks()
        ear.watch(lambda: pytest.fail("nobody barged in"))
        ear.sounds()
        for block in speech(-40, 3):
            device(sound).deliver(block)
        ear.resume()
        device(sound).deliver(b"heard")
        assert next(blocks) is None
        assert next(blocks) == b"heard"


def test_a_pause_is_no_watch(sound: FakeSound) -> None:
    with Microphone() as ear:
        blocks = ear.blocks()
        ear.pause()
        ear.sounds()
        for block in (*speech(-40, 2), *speech(-20, 1)):
            device(sound).deliver(block)
        ear.resume()
        device(sound).deliver(b"heard")
        assert next(blocks) is None
        assert next(blocks) == b"heard"
