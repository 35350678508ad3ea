"""Turning steady noise down: how much of it goes, and that speech stays."""

import numpy as np
import pytest

from assistant.edges.clearing import cleared, slowed
from tests.speech import noise
from tests.speech.noise import RATE, active_rms, pink

SLOWER = 1.08


def tone(seconds: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return bursts of a 500 Hz tone, half a second each, with as long between them: words of a kind."""
    time = np.arange(int(seconds * RATE)) / RATE
    return 3000 * np.sin(2 * np.pi * 500 * time) * (time % 1 < 0.5)


def samples(pcm: bytes) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.frombuffer(pcm, np.int16).astype(np.float64)


def test_it_stays_as_long_and_slowed_it_is_longer_and_lower() -> None:
    pcm = tone(3).astype(np.int16).tobytes()
    assert len(cleared(pcm)) == len(pcm)
    assert len(slowed(pcm)) == pytest.approx(len(pcm) * SLOWER, rel=0.001)
    spectrum = np.abs(np.fft.rfft(samples(slowed(pcm))))
    assert np.argmax(spectrum) * RATE / len(samples(slowed(pcm))) == pytest.approx(500 / SLOWER, rel=0.01)


@pytest.mark.parametrize("snr_db", [20, 10, 5])
def test_noise_between_words_falls_and_the_words_stay(snr_db: int) -> None:
    speech = tone(4)
    mixed = noise.mixed(speech.astype(np.int16).tobytes(), pink(len(speech), seed=1), snr_db=snr_db)
    before, after = samples(mixed), samples(cleared(mixed))
    between = slice(int(1.6 * RATE), int(1.9 * RATE))
    # No more than 14 dB is taken away, and some of it comes back with what is made brighter.
    fell_db = 20 * np.log10(np.std(before[between]) / np.std(after[between]))
    assert 6 < fell_db <= 10.5
    assert active_rms(after) == pytest.approx(active_rms(before), rel=0.25)


def test_clean_sound_stays_as_it_is() -> None:
    pcm = tone(2).astype(np.int16).tobytes()
    assert active_rms(samples(cleared(pcm))) == pytest.approx(active_rms(samples(pcm)), rel=0.02)


@pytest.mark.parametrize("pcm", [b"", bytes(2), bytes(3_000), b"\x01" * 3_199])
def test_too_short_a_sound_is_left_alone(pcm: bytes) -> None:
    assert cleared(pcm) == pcm


def test_silence_and_the_loudest_sound_are_survived() -> None:
    assert not np.any(samples(cleared(bytes(2 * RATE))))
    loud = (np.sign(tone(1)) * 32_767).astype(np.int16).tobytes()
    assert np.abs(samples(cleared(loud))).max() <= 32_768
