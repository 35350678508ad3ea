"""The bench's noise is at the ratio asked for, and the same each time."""

import numpy as np
import pytest

from tests.speech import noise

SECOND = noise.RATE
TONE = np.sin(2 * np.pi * 440 * np.arange(SECOND) / SECOND) * 8_000
SPEECH = np.concatenate([np.zeros(SECOND), TONE, np.zeros(SECOND)]).astype(np.int16)


@pytest.mark.parametrize("kind", [noise.pink, noise.diesel, *noise.KINDS.values()])
@pytest.mark.parametrize("snr_db", [5, 10, 20])
def test_ratio_is_taken_over_the_active_part(kind: noise.Kind, snr_db: int) -> None:
    # A full-scale sine of amplitude A has an RMS of A/sqrt(2), whatever silence surrounds it.
    heard = np.frombuffer(noise.mixed(SPEECH.tobytes(), kind(len(SPEECH), seed=1), snr_db=snr_db), np.int16)
    added = heard.astype(float) - SPEECH
    ratio = 20 * np.log10(8_000 / np.sqrt(2) / np.sqrt(np.mean(added**2)))
    assert ratio == pytest.approx(snr_db, abs=0.1)


@pytest.mark.parametrize("kind", [noise.pink, noise.diesel, *noise.KINDS.values()])
def test_a_seed_fixes_the_noise(kind: noise.Kind) -> None:
    assert np.array_equal(kind(SECOND, seed=1), kind(SECOND, seed=1))
    assert not np.array_equal(kind(SECOND, seed=1), kind(SECOND, seed=2))


@pytest.mark.parametrize("name", noise.KINDS)
def test_a_piece_is_drawn_by_its_seed(name: str) -> None:
    assert np.array_equal(noise.piece(name, SECOND, seed=3), noise.piece(name, SECOND, seed=3))
    assert not np.array_equal(noise.piece(name, SECOND, seed=3), noise.piece(name, SECOND, seed=4))


def share_between(samples: noise.Samples, low_hz: float, high_hz: float) -> float:
    """Return how much of the power lies in a band."""
    power = np.abs(np.fft.rfft(samples)) ** 2
    hertz = np.fft.rfftfreq(len(samples), 1 / noise.RATE)
    return float(power[(hertz >= low_hz) & (hertz < high_hz)].sum() / power.sum())


@pytest.mark.parametrize("seed", range(3))
def test_an_idling_six_fires_thirty_to_thirty_seven_times_a_second(seed: int) -> None:
    # Three firings a turn at 600 to 750 rpm. Knock comes in bursts: its envelope beats at the firing frequency.
    knock = noise.diesel_beside(8 * SECOND, seed=seed)
    spectrum = np.fft.rfft(knock)
    hertz = np.fft.rfftfreq(len(knock), 1 / noise.RATE)
    spectrum[(hertz < 1_500) | (hertz > 4_000)] = 0
    beat = np.abs(np.fft.rfft(np.fft.irfft(spectrum) ** 2))
    inside = (hertz > 15) & (hertz < 60)
    assert 29 < hertz[inside][beat[inside].argmax()] < 38.5


def test_each_place_is_loud_where_it_should_be() -> None:
    made = {name: kind(12 * SECOND, seed=1) for name, kind in noise.KINDS.items()}
    assert share_between(made["diesel from the cab"], 0, 500) > 0.9
    assert share_between(made["beside the engine"], 1_000, 8_000) > 0.3
    assert share_between(made["wind"], 0, 250) > 0.7
    tyres = [share_between(made["road in the cab"], low, low * 2**0.5) for low in (350, 700, 990, 2_000)]
    assert max(tyres) in tyres[1:3]
    assert share_between(made["yard"], 990, 1_260) > 0.05


def test_pink_noise_falls_three_decibels_an_octave() -> None:
    # Power per hertz as 1/f: equal power in each octave.
    power = np.abs(np.fft.rfft(noise.pink(10 * SECOND, seed=1))) ** 2
    octaves = [power[low * 10 : low * 20].sum() for low in (100, 200, 400, 800, 1600)]
    assert max(octaves) / min(octaves) < 1.3


def test_loud_noise_does_not_clip() -> None:
    heard = np.frombuffer(noise.mixed(SPEECH.tobytes(), noise.pink(len(SPEECH), seed=1), snr_db=-20), np.int16)
    assert np.abs(heard.astype(int)).max() <= 32_000
