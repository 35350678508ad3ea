"""The estimate of how far speech stands out of the noise, against speech mixed at a known ratio."""

from pathlib import Path

import numpy as np
import pytest

from assistant.edges.loudness import is_clipped, signal_to_noise_db
from assistant.edges.sound_files import read_sound
from tests.speech import bad_input
from tests.speech.noise import diesel, mixed

CLIPS = Path(__file__).parents[2] / "audio_fixtures"
SPEECH = read_sound(CLIPS / "demo.wav")
NOISE = diesel(len(SPEECH) // 2, seed=1)


@pytest.mark.parametrize("ratio", [5, 10, 20])
def test_speech_in_steady_noise_is_estimated_within_four_decibels(ratio: float) -> None:
    estimate = signal_to_noise_db(mixed(SPEECH, NOISE, snr_db=ratio))
    assert ratio - 1 < estimate < ratio + 4


def test_more_noise_is_a_lower_ratio() -> None:
    estimates = [signal_to_noise_db(mixed(SPEECH, NOISE, snr_db=ratio)) for ratio in (30, 20, 10, 5, 0)]
    assert estimates == sorted(estimates, reverse=True)


def test_clean_speech_is_quiet_and_short_or_empty_sound_too() -> None:
    assert signal_to_noise_db(SPEECH) > 30
    assert signal_to_noise_db(b"") == float("inf")
    assert signal_to_noise_db(bytes(100)) == float("inf")


def test_any_sound_has_a_number() -> None:
    for sound in (bytes(32_000), np.full(16_000, 32_767, np.int16).tobytes(), SPEECH[:32_001]):
        assert not np.isnan(signal_to_noise_db(sound))


@pytest.mark.parametrize("gain_db", [12, 20])
def test_sound_recorded_too_loud_is_clipped(gain_db: float) -> None:
    assert is_clipped(bad_input.clipped(SPEECH, gain_db))


def test_speech_and_noise_recorded_well_are_not_clipped() -> None:
    assert not any(is_clipped(sound) for sound in (SPEECH, mixed(SPEECH, NOISE, snr_db=5), bytes(32_000), b""))
