"""Whether two voices speak at once, from the sound itself: the recognizer makes one sentence of both.

A voice alone has one pitch at a time, and it glides. So each loud frame has its pitch taken out: what then still has a
pitch, and not a multiple of the first, is a second voice. And where the pitches of a whole utterance lie farther apart
than one speaker's do, two took turns in being the louder one.
"""

import numpy as np

from assistant.edges.loudness import Samples, samples_of
from assistant.edges.recognizer import RATE

_FRAME, _HOP = RATE // 20, RATE // 50
_SHORTEST_SOUND = RATE // 5
_SHORTEST, _LONGEST = RATE // 400, RATE // 60
"""Periods of the pitches from 60 to 400 Hz."""
_AS_GOOD = 0.03
"""Of periods that fit as well as this, the shortest is the pitch; longer ones are its multiples."""
_LEFT = 0.06
"""A second voice leaves at least this share of a frame's power once the first one's pitch is taken out."""
_PITCHED = 0.75
"""How like itself one period later that is."""
_VOICED = 0.85
"""How like itself a frame is whose pitch counts for the range of the pitches."""
_MULTIPLE = 0.06
_ONE_SPEAKERS_OCTAVES = 0.7
_OCTAVE_WEIGHS = 0.2
_TWO_VOICES = 0.12
"""Of a voice alone none of 1,680 utterances has more, clean and at 20 dB; of two voices equally loud 56 % have.
Measured, like those above, on voices of the speech bench that are no unseen ones."""
_CLEAR_DB = 18.0
"""Below this, by the estimate of loudness.py, an engine has pitches too."""
_FEWEST = 5

Frames = np.ndarray[tuple[int, int], np.dtype[np.float64]]


def two_voices(pcm: bytes, ratio_db: float) -> bool:
    """Return whether two voices speak at once in 16 kHz mono 16-bit sound; False in noise, where it can't be told.

    `ratio_db` is what loudness.py estimates of the sound.
    """
    samples = samples_of(pcm)
    if len(samples) < _SHORTEST_SOUND or ratio_db < _CLEAR_DB:
        return False
    return crosstalk(samples) > _TWO_VOICES


def crosstalk(samples: Samples) -> float:
    """Return how much there is in 16 kHz samples of a second voice: the share of frames, more for pitches far apart."""
    frames = np.lib.stride_tricks.sliding_window_view(samples, _FRAME + _LONGEST)[::_HOP]
    power = np.mean(frames**2, axis=1)
    loud = frames[power >= np.median(power)]
    now = loud[:, _LONGEST:]
    periods, alike = _pitch(now)
    at = np.arange(_LONGEST, _LONGEST + _FRAME) - periods[:, None]
    left = now - np.take_along_axis(loud, at, axis=1)
    share = np.mean(left**2, axis=1) / np.maximum(2 * np.mean(now**2, axis=1), 1e-9)
    others, pitched = _pitch(left, as_good=0.0)
    second = (share > _LEFT) & (pitched > _PITCHED) & ~_multiples(periods, others)
    farther = max(0.0, _octaves(periods[alike > _VOICED]) - _ONE_SPEAKERS_OCTAVES)
    return float(np.mean(second)) + _OCTAVE_WEIGHS * farther


def _pitch(frames: Frames, as_good: float = _AS_GOOD) -> tuple[np.ndarray, np.ndarray]:
    """Return each frame's period [samples], and how like itself it is one period later: its autocorrelation there."""
    window = np.hanning(_FRAME)
    own = _autocorrelation(window[None])[0]
    found = _autocorrelation(frames * window)
    among = slice(_SHORTEST, _LONGEST + 1)
    alike = found[:, among] / np.maximum(found[:, :1], 1e-9) / (own[among] / own[0])
    best = np.max(alike, axis=1)
    period = np.argmax(alike >= best[:, None] - as_good, axis=1)
    return period + _SHORTEST, best


def _autocorrelation(frames: Frames) -> Frames:
    power = np.abs(np.fft.rfft(frames, 2 * _FRAME)) ** 2
    lags: Frames = np.fft.irfft(power)[:, :_FRAME]
    return lags


def _multiples(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """Return where one period is a multiple of the other, nearly."""
    over = np.maximum(one, other) / np.minimum(one, other)
    nearly: np.ndarray = np.abs(over - np.round(over)) < _MULTIPLE
    return nearly


def _octaves(periods: np.ndarray) -> float:
    """Return how far the pitches lie apart, without the lowest and the highest tenth [octaves]."""
    if len(periods) < _FEWEST:
        return 0.0
    low, high = np.percentile(np.log2(periods), (10, 90))
    return float(high - low)
