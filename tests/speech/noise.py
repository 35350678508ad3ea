"""Noise for the benches: mixing at a set ratio, and seven noises made from a seed.

The ratio takes the level of the speech over its active frames only, so that pauses do not flatter it.
`pink` and `diesel` are steady and simple; `KINDS` are the five places where a driver talks. Where no source is named
beside a figure it is common practice, no source: chosen by ear to be like the thing, and never fitted to a recording.
"""

from functools import cache
from typing import Protocol

import numpy as np

RATE = 16_000
FRAME = RATE // 50  # 20 ms
ACTIVE_DB = -30.0
"""A frame within this of the loudest frame counts as speech."""
BED_S = 30
BEDS = 8
"""Pieces are cut from so many beds of noise a kind, so that a bench need not make each anew."""

Samples = np.ndarray[tuple[int], np.dtype[np.float64]]


class Kind(Protocol):
    """A kind of noise."""

    def __call__(self, count: int, *, seed: int) -> Samples:
        """Return `count` samples at RMS 1."""
        ...


# ---- mixing ----------------------------------------------------------------------------------------------------------


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


def piece(name: str, count: int, *, seed: int) -> Samples:
    """Return `count` samples of one of `KINDS`, from a place that the seed draws."""
    rng = np.random.default_rng(seed)
    bed = _bed(name, int(rng.integers(BEDS)))
    if count >= len(bed):
        return KINDS[name](count, seed=seed)
    start = int(rng.integers(len(bed) - count))
    return bed[start : start + count]


@cache
def _bed(name: str, which: int) -> Samples:
    return KINDS[name](BED_S * RATE, seed=which)


def unit(samples: Samples) -> Samples:
    """Return the samples at RMS 1."""
    return samples / np.sqrt(np.mean(samples**2))


# ---- steady and simple -----------------------------------------------------------------------------------------------


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


# ---- parts of the five places ----------------------------------------------------------------------------------------


def _hertz(count: int) -> Samples:
    return np.fft.rfftfreq(count, 1 / RATE)


def _shaped(samples: Samples, gain: Samples) -> Samples:
    """Return the samples with each frequency's amplitude multiplied."""
    return np.fft.irfft(np.fft.rfft(samples) * gain, len(samples))


def _coloured(count: int, gain: Samples, rng: np.random.Generator) -> Samples:
    return unit(_shaped(rng.standard_normal(count), gain))


def _band(count: int, low: float, high: float) -> Samples:
    """Return a band's gain, falling 12 dB an octave on either side."""
    hertz = np.maximum(_hertz(count), 1)
    return 1 / np.sqrt((1 + (low / hertz) ** 4) * (1 + (hertz / high) ** 4))


def _slow(count: int, per_second: float, rng: np.random.Generator) -> Samples:
    """Return a slow random walk about 0 with RMS 1, by points `per_second` apart that are joined smoothly."""
    points = int(count / RATE * per_second) + 3
    drawn = rng.standard_normal(points)
    at = np.arange(count) * per_second / RATE
    low = at.astype(int)
    part = (1 - np.cos(np.pi * (at - low))) / 2
    return unit(drawn[low] * (1 - part) + drawn[low + 1] * part)


def _firings(count: int, rng: np.random.Generator) -> tuple[Samples, float]:
    """Return an impulse at each firing of an idling engine, and how often it fires [Hz].

    Six cylinders of a four-stroke fire three times a turn, so 600 to 750 rpm are 30 to 37.5 Hz (derived). That each
    firing comes some 1.5 % early or late, and each cylinder differs by a tenth, is common practice, no source.
    """
    rate = 3 * rng.uniform(600, 750) / 60
    many = int(count / RATE * rate * 1.2) + 8
    at = np.cumsum(RATE / rate * (1 + 0.015 * rng.standard_normal(many)))
    cylinder = 1 + 0.1 * rng.standard_normal(6)
    strength = np.resize(cylinder, many) * (1 + 0.05 * rng.standard_normal(many))
    inside = at < count
    train = np.zeros(count)
    train[at[inside].astype(int)] = strength[inside]
    return train, float(rate)


def _rung(train: Samples, response: Samples) -> Samples:
    """Return the response to each impulse."""
    size = len(train) + len(response)
    return np.fft.irfft(np.fft.rfft(train, size) * np.fft.rfft(response, size), size)[: len(train)]


def _engine(count: int, rng: np.random.Generator) -> tuple[Samples, Samples]:
    """Return an idling diesel's rumble and its knock, each at RMS 1.

    The rumble is a pressure pulse a firing, ringing at 90 Hz for 15 ms. The knock is a burst of noise from 1 to 4 kHz a
    firing that dies within 4 ms: combustion noise of a direct-injection diesel stands out there (memory: texts on
    engine noise give 0.8 to 4 kHz).
    """
    train, _ = _firings(count, rng)
    seconds = np.arange(RATE // 10) / RATE
    rumble = unit(_rung(train, np.exp(-seconds / 0.015) * np.sin(2 * np.pi * 90 * seconds)))
    swell = _rung(train, np.exp(-seconds / 0.004))
    knock = unit(_coloured(count, _band(count, 1_000, 4_000), rng) * (0.08 + np.maximum(swell, 0)))
    return rumble, knock


# ---- the five places -------------------------------------------------------------------------------------------------


def diesel_in_cab(count: int, *, seed: int) -> Samples:
    """Return the idling engine as heard inside the cab: its rumble, little knock, a fan; the firewall takes the top."""
    rng = np.random.default_rng([seed, 1])
    rumble, knock = _engine(count, rng)
    fan = _coloured(count, _band(count, 80, 600), rng)
    hertz = _hertz(count)
    wall = 1 / np.sqrt(1 + (hertz / 300) ** 2)
    return unit(_shaped(rumble + 0.6 * knock, wall) + 0.25 * fan)


def diesel_beside(count: int, *, seed: int) -> Samples:
    """Return the idling engine a step away: knock as loud as the rumble, fan and turbocharger all over the band."""
    rng = np.random.default_rng([seed, 2])
    rumble, knock = _engine(count, rng)
    air = _coloured(count, _band(count, 300, 6_000) / np.sqrt(np.maximum(_hertz(count), 300) / 300), rng)
    return unit(0.9 * rumble + 0.9 * knock + 0.6 * air)


def wind(count: int, *, seed: int) -> Samples:
    """Return wind at the microphone: strongest at the lowest frequencies, in gusts of a second or some.

    Turbulence's energy falls as frequency to the power -5/3 (Kolmogorov, memory), here from 20 Hz up; beyond 400 Hz the
    eddies are smaller than the microphone and average out. The gusts swing the level by some 6 dB.
    """
    rng = np.random.default_rng([seed, 3])
    hertz = np.maximum(_hertz(count), 1)
    gain = _band(count, 20, 400) * hertz ** (-5 / 6)  # amplitude is the root of energy
    gust = 10 ** (3 * _slow(count, 1.2, rng) / 20)
    hiss = _coloured(count, _band(count, 200, 2_000), rng)
    return unit((_coloured(count, gain, rng) + 0.08 * hiss) * gust)


def road(count: int, *, seed: int) -> Samples:
    """Return a cab on the highway: tyres, rumble, and the engine far below its idle clatter.

    Tyre noise on the road peaks between 700 and 1,300 Hz whatever the tyre (U. Sandberg, "The multi-coincidence peak
    around 1000 Hz in tyre/road noise spectra", Euronoise 2003, memory). The cab takes some of it; the rumble below
    120 Hz is the louder part inside.
    """
    rng = np.random.default_rng([seed, 4])
    hertz = np.maximum(_hertz(count), 1)
    tyres = _coloured(count, np.exp(-(np.log2(hertz / 950) ** 2) / (2 * 0.6**2)), rng)
    rumble = _coloured(count, _band(count, 25, 120), rng)
    rest = _coloured(count, _band(count, 100, 3_000) / np.sqrt(hertz), rng)
    turns = 2 * np.pi * np.cumsum(65 * (1 + 0.004 * _slow(count, 0.5, rng))) / RATE  # 1,300 rpm, three firings a turn
    hum = unit(np.sin(turns) + 0.4 * np.sin(2 * turns + 1))
    seams = 1 + 0.15 * _slow(count, 4, rng)
    return unit((0.7 * tyres + rumble + 0.4 * rest) * seams + 0.35 * hum)


def yard(count: int, *, seed: int) -> Samples:
    """Return a steel yard: an engine some way off, steel on steel now and then, and something backing up.

    Back-up alarms beep at 700 to 2,800 Hz, on as long as off (SAE J994, memory): here 1,000 to 1,250 Hz, half a second
    each. A clank rings in six inharmonic modes that die within half a second; one comes every two seconds or so.
    """
    rng = np.random.default_rng([seed, 5])
    rumble, knock = _engine(count, rng)
    far = unit(_shaped(rumble + 0.8 * knock, 1 / np.sqrt(1 + (_hertz(count) / 700) ** 2)))
    floor = _coloured(count, _band(count, 60, 6_000) / np.sqrt(np.maximum(_hertz(count), 60)), rng)
    clanks = np.zeros(count)
    for _ in range(max(1, rng.poisson(count / RATE / 2))):
        start = int(rng.integers(count))
        seconds = np.arange(min(RATE // 2, count - start)) / RATE
        modes = rng.uniform(400, 5_000, 6)
        die = rng.uniform(0.03, 0.15, 6)
        ring = sum(
            np.exp(-seconds / late) * np.sin(2 * np.pi * mode * seconds) for mode, late in zip(modes, die, strict=True)
        )
        clanks[start : start + len(seconds)] += rng.uniform(0.5, 1.5) * np.asarray(ring)
    seconds = np.arange(count) / RATE + rng.uniform(0, 12)
    backing = (seconds % 12 < 7) & (seconds % 1 < 0.5)
    beep = np.sin(2 * np.pi * rng.uniform(1_000, 1_250) * seconds) * _shaped(backing.astype(float), _band(count, 0, 40))
    return unit(0.7 * far + 0.6 * floor + 0.9 * clanks + 0.8 * beep)


KINDS: dict[str, Kind] = {
    "diesel from the cab": diesel_in_cab,
    "wind": wind,
    "road in the cab": road,
    "yard": yard,
    "beside the engine": diesel_beside,
}
BESIDE = "beside the engine"
OTHERS = tuple(name for name in KINDS if name != BESIDE)
