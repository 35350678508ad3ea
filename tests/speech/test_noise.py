"""The bench's noise is at the ratio asked for, and the same each time."""

import numpy as np
import pytest

from tests.speech import noise

SECOND = noise.RATE
TONE = np.sin(2 * np.pi * 440 * np.arange(SECOND) / SECOND) * 8_000
SPEECH = np.concatenate([np.zeros(SECOND), TONE, np.zeros(SECOND)]).astype(np.int16)


@pytest.mark.parametrize("kind", [noise.pink, noise.diesel])
@pytest.mark.parametrize("snr_db", [5, 10, 20])
def test_ratio_is_taken_over_the_active_part(kind: noise.Kind, snr_db: int) -> None:
    # A full-scale sine of amplitude A has an RMS of A/sqrt(2), whatever silence surrounds it.
    heard = np.frombuffer(noise.mixed(SPEECH.tobytes(), kind(len(SPEECH), seed=1), snr_db=snr_db), np.int16)
    added = heard.astype(float) - SPEECH
    ratio = 20 * np.log10(8_000 / np.sqrt(2) / np.sqrt(np.mean(added**2)))
    assert ratio == pytest.approx(snr_db, abs=0.1)


@pytest.mark.parametrize("kind", [noise.pink, noise.diesel])
def test_a_seed_fixes_the_noise(kind: noise.Kind) -> None:
    assert np.array_equal(kind(SECOND, seed=1), kind(SECOND, seed=1))
    assert not np.array_equal(kind(SECOND, seed=1), kind(SECOND, seed=2))


def test_pink_noise_falls_three_decibels_an_octave() -> None:
    # Power per hertz as 1/f: equal power in each octave.
    power = np.abs(np.fft.rfft(noise.pink(10 * SECOND, seed=1))) ** 2
    octaves = [power[low * 10 : low * 20].sum() for low in (100, 200, 400, 800, 1600)]
    assert max(octaves) / min(octaves) < 1.3


def test_loud_noise_does_not_clip() -> None:
    heard = np.frombuffer(noise.mixed(SPEECH.tobytes(), noise.pink(len(SPEECH), seed=1), snr_db=-20), np.int16)
    assert np.abs(heard.astype(int)).max() <= 32_000
