"""The loudspeaker: plays sound in short blocks, so that a word of the driver's silences it at once."""

import threading
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from assistant.edges import devices
from assistant.edges.problem import NoLoudspeaker

Samples = np.ndarray[Any, np.dtype[np.float32]]
Write = Callable[[Samples], None]

_BLOCK_S = 0.02
_TYPING = "Answers are shown on the screen and can be kept as sound files."


def play(samples: Iterable[Samples], rate: int, stop: threading.Event | None = None) -> bool:
    """Play pieces of mono sound one after another; return whether all of it was played.

    Parameters
    ----------
    samples : iterable of float32 arrays
        Pieces between -1 and 1; the first is played while the second is made.
    rate : int
        Samples a second.
    stop : threading.Event or None
        Once set, the sound ends within a block's length and what the device still holds is thrown away.

    Raises
    ------
    NoLoudspeaker
        No sound library, no device, or it cannot be opened or went away.
    """
    sounddevice = devices.load(NoLoudspeaker)
    try:
        with devices.quiet():
            device = sounddevice.OutputStream(samplerate=rate, channels=1, dtype="float32", latency="low")
    except (sounddevice.PortAudioError, ValueError) as error:
        trouble = f"No loudspeaker can be used: {error}."
        raise NoLoudspeaker(trouble, _TYPING) from error
    try:
        with device:
            if _play(samples, int(rate * _BLOCK_S), device.write, stop):
                return True
            device.abort()
            return False
    except sounddevice.PortAudioError as error:
        trouble = f"The loudspeaker stopped: {error}."
        raise NoLoudspeaker(trouble, _TYPING) from error


def _play(samples: Iterable[Samples], block: int, write: Write, stop: threading.Event | None) -> bool:
    for piece in samples:
        for start in range(0, len(piece), block):
            if stop is not None and stop.is_set():
                return False
            write(np.ascontiguousarray(piece[start : start + block]))
    return True
