"""Noise for the bench: mixing at a set ratio, pink noise, and a diesel engine. All from a seed.

The ratio takes the level of the speech over its active frames only, so that pauses do not flatter it.
"""

from typing import Protocol

import numpy as np

RATE = 16_000
FRAME = RATE // 50  # 20 ms
ACTIVE_DB = -30.0
"""A frame within this of the loudest frame counts as speech."""

Samples = np.ndarray[tuple[int], np.dtype[np.float64]]


class Kind(Protocol):
    """A kind of noise."""

    def __call__(self, count: int, *, seed: int) -> Samples:
        """Return `count` samples at RMS 1."""
        ...


def active_rms(speech: Samples) -> float:
    """Return the level of the speech over its active 20 ms frames."""
    frames = speech[: len(speech) // FRAME * FRAME].reshape(-1, FRAME)
    level = np.sqrt(np.mean(frames**2, axis=1))
    active = frames[level >= level.max() * 10 ** (ACTIVE_DB / 20)]
    return float(np.sqrt(np.mean(active**2)))


def mixed(pcm: bytes, noise: Samples, *, snr_db: float) -> bytes:
    """Return 16-bit speech with noise `snr_db` below it; the whole is turned down where it would clip."""
    speech = np.frombuffer(pcm, np.int16).astype(np.float64)
    level = float(np.sqrt(np.mean(noise[: len(speech)] ** 2)))
    total = speech + noise[: len(speech)] * (active_rms(speech) / level * 10 ** (-snr_db / 20))
    peak = float(np.abs(total).max())
    return np.round(total * min(1.0, 32_000 / peak)).astype(np.int16).tobytes()


def pink(count: int, *, seed: int) -> Samples:
    """Return pink noise (power falls with frequency) from 50 Hz up, RMS 1."""
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(count))
    frequency = np.fft.rfftfreq(count, 1 / RATE)
    shape = np.where(frequency >= 50, 1 / np.sqrt(np.maximum(frequency, 1)), 0)
    return unit(np.fft.irfft(spectrum * shape, count))


def diesel(count: int, *, seed: int, rpm: float = 900) -> Samples:
    """Return an idling six-cylinder four-stroke diesel: wandering harmonics and a clatter at each firing, RMS 1."""
    rng = np.random.default_rng(seed)
    wander = np.cumsum(rng.standard_normal(count)) / RATE
    turns = np.cumsum(rpm / 60 * (1 + 0.02 * np.sin(2 * np.pi * wander))) / RATE
    orders = np.arange(0.5, 40, 0.5)
    # Firing three times a turn makes every sixth half order loud; the rest is what differs between cylinders.
    loud = np.where(orders % 3 == 0, 1.0, 0.25) / orders**0.7
    phase = rng.uniform(0, 2 * np.pi, len(orders))
    hum = sum(
        gain * np.sin(2 * np.pi * order * turns + start) for order, gain, start in zip(orders, loud, phase, strict=True)
    )
    clatter = pink(count, seed=seed + 1) * (0.3 + np.exp(-8 * (3 * turns % 1)))
    return unit(unit(np.asarray(hum)) + 0.8 * unit(clatter))


def unit(samples: Samples) -> Samples:
    """Return the samples at RMS 1."""
    return samples / np.sqrt(np.mean(samples**2))
