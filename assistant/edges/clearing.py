"""Sound with its steady noise turned down, for further hearings beside the first.

A Wiener filter after Ephraim and Malah's decision-directed estimate (IEEE Transactions on Acoustics, Speech, and Signal
Processing 32, 1984): the noise is taken from the quietest stretches of the utterance itself. The recognizer was trained
on speech as it is, so the filter is held back, and the sound as it came is always heard too.
"""

import numpy as np
import soxr

from assistant.edges.loudness import Samples, samples_of
from assistant.edges.recognizer import RATE

_WINDOW = 512
_HOP = 128
_QUIETEST = 0.15
"""The part of the frames that stands for the noise. Measured on made noise, like the two below."""
_LEAST_GAIN_DB = -14.0
"""No more than this is taken away: more of it leaves speech that the model does not know."""
_SMOOTHING = 0.96
_LEAST_RATIO_DB = -25.0
_TILT_DB = 3.0
"""The cleared sound is made brighter by this, an octave: what noise covers of speech lies high."""
_TILT_FROM_HZ, _TILT_LOWEST_HZ = 1000.0, 125.0
_SLOWER = 1.08
"""Sound is slowed by this: where both speeds are heard alike, a number is surer than by one alone."""

Spectrum = np.ndarray[tuple[int, int], np.dtype[np.float64]]


def cleared(pcm: bytes) -> bytes:
    """Return 16 kHz mono 16-bit sound with steady noise turned down, and a little brighter.

    Notes
    -----
    Sound shorter than a tenth of a second is returned as it is: there is no telling what in it is noise.
    """
    samples = samples_of(pcm)
    if len(samples) < RATE // 10:
        return pcm
    window = np.sqrt(np.hanning(_WINDOW + 1)[:-1])
    padded = np.pad(samples, _WINDOW)
    starts = range(0, len(padded) - _WINDOW + 1, _HOP)
    frames = np.lib.stride_tricks.sliding_window_view(padded, _WINDOW)[::_HOP]
    spectrum = np.fft.rfft(frames * window, axis=1)
    gains = _gains(np.abs(spectrum) ** 2)
    pieces = np.fft.irfft(spectrum * gains * _tilt(), _WINDOW, axis=1) * window
    total, weight = np.zeros(len(padded)), np.zeros(len(padded))
    for start, piece in zip(starts, pieces, strict=True):
        total[start : start + _WINDOW] += piece
        weight[start : start + _WINDOW] += window**2
    clear = (total / np.maximum(weight, 1e-8))[_WINDOW : _WINDOW + len(samples)]
    level = np.std(samples) / np.maximum(np.std(clear), 1.0)
    return _as_bytes(clear * level)


def slowed(pcm: bytes) -> bytes:
    """Return 16 kHz mono 16-bit sound a little slower, and lower with it."""
    return _as_bytes(soxr.resample(samples_of(pcm), RATE, RATE * _SLOWER))


def _as_bytes(samples: Samples) -> bytes:
    whole: np.ndarray[tuple[int], np.dtype[np.int16]] = np.clip(np.round(samples), -32_768, 32_767).astype(np.int16)
    return whole.tobytes()


def _tilt() -> Samples:
    """Return what each frequency is multiplied by."""
    hertz = np.maximum(np.fft.rfftfreq(_WINDOW, 1 / RATE), _TILT_LOWEST_HZ)
    factors: Samples = 10 ** (_TILT_DB * np.log2(hertz / _TILT_FROM_HZ) / 20)
    return factors


def _gains(power: Spectrum) -> Spectrum:
    """Return what is left of each frequency in each frame, 1 at most."""
    inner = power[_WINDOW // _HOP : -(_WINDOW // _HOP)]
    quiet = np.argsort(inner.sum(axis=1))[: max(8, int(len(inner) * _QUIETEST))]
    noise = inner[quiet].mean(axis=0) + 1e-6
    least, floor = 10 ** (_LEAST_GAIN_DB / 20), 10 ** (_LEAST_RATIO_DB / 10)
    gains = np.empty_like(power)
    before = np.ones(power.shape[1])
    for at, frame in enumerate(power):
        ratio = frame / noise
        expected = np.maximum(_SMOOTHING * before + (1 - _SMOOTHING) * np.maximum(ratio - 1, 0), floor)
        gains[at] = np.clip(expected / (1 + expected), least, 1.0)
        before = gains[at] ** 2 * ratio
    return gains
