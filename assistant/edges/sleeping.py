"""Asleep and awake: hands-free, it can wait for its wake phrase and take nothing else meanwhile."""

import time
from collections.abc import Callable, Iterator

import numpy as np

from assistant.edges.loudspeaker import Samples

AWAKE_S = 30.0
"""How long after the last thing said or answered it still listens: a look at a chain and back (our choice)."""
TONE_RATE = 16_000
_TONE_HZ = 660.0
_TONE_S = 0.12
_TONE_LEVEL = 0.1
_FADE_S = 0.02


class Sleeping:
    """Whether it sleeps.

    Parameters
    ----------
    dozes
        Whether it falls asleep by itself when nothing is said for a while, and begins asleep.
    clock
        Seconds from any start, never back.
    """

    def __init__(self, *, dozes: bool = False, clock: Callable[[], float] = time.monotonic) -> None:
        self._dozes = dozes
        self._clock = clock
        self._sent = False
        self._until = clock()

    @property
    def asleep(self) -> bool:
        """Whether only the wake phrase is listened for."""
        return self._sent or (self._dozes and self._clock() >= self._until)

    def stir(self) -> None:
        """Wake up, or stay awake: something was said or answered just now."""
        self._sent = False
        self._until = self._clock() + AWAKE_S

    def sleep(self) -> None:
        """Fall asleep: it was told to."""
        self._sent = True


def tone() -> Iterator[Samples]:
    """Yield the short soft tone that says "I listen", at 16 kHz."""
    count = int(_TONE_S * TONE_RATE)
    fade = int(_FADE_S * TONE_RATE)
    shape = np.minimum(1.0, np.minimum(np.arange(count), np.arange(count)[::-1]) / fade)
    wave = _TONE_LEVEL * shape * np.sin(2 * np.pi * _TONE_HZ * np.arange(count) / TONE_RATE)
    yield wave.astype(np.float32)
