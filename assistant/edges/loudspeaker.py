"""The loudspeaker: plays sound in short blocks, so that a word of the driver's silences it at once."""

import threading
import time
from collections import deque
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from assistant.edges import devices
from assistant.edges.problem import NoLoudspeaker

Samples = np.ndarray[Any, np.dtype[np.float32]]

_AHEAD_S = 0.1
"""Sound that the device holds. When the speech is stopped it is thrown away, so silence does not wait for it."""
_LOST_AFTER_S = 2.0
"""A device asks for sound many times a second; one that has not for this long is gone."""
_LOOK_EVERY_S = 0.25
_TONE_RATE = 24_000
_TONE_PEAK = 0.1
_NOTE_S = 0.08
_NOTES_HZ = (440.0, 660.0)
_TYPING = "Answers are shown on the screen and can be kept as sound files."


def play(
    samples: Iterable[Samples], rate: int, stop: threading.Event | None = None, began: Callable[[], None] = lambda: None
) -> bool:
    """Play pieces of mono sound one after another; return whether all of it was played.

    Parameters
    ----------
    samples : iterable of float32 arrays
        Pieces between -1 and 1; the first is played while the second is made.
    rate : int
        Samples a second.
    stop : threading.Event or None
        Once set, the sound ends within a block's length and what the device still holds is thrown away.
    began : callable
        Called when the first piece goes out.

    Raises
    ------
    NoLoudspeaker
        No sound library, no device, or it cannot be opened or went away.
    """
    sounddevice = devices.load(NoLoudspeaker)
    feed = _Feed(sounddevice, stop or threading.Event())
    try:
        with devices.quiet():
            device = sounddevice.OutputStream(
                samplerate=rate,
                channels=1,
                dtype="float32",
                latency=_AHEAD_S,
                callback=feed.give,
                finished_callback=feed.finished.set,
            )
            device.start()
    except (sounddevice.PortAudioError, ValueError) as error:
        trouble = f"No loudspeaker can be used: {error}."
        raise NoLoudspeaker(trouble, _TYPING) from error
    try:
        for place, piece in enumerate(samples):
            if feed.stop.is_set():
                break
            if place == 0:
                began()
            feed.pieces.append(piece)
        feed.complete = True
        feed.wait()
    finally:
        # abort, not stop: stop waits for a device that may be gone.
        device.abort(ignore_errors=True)
        device.close(ignore_errors=True)
    return not feed.stop.is_set()


def tone() -> tuple[Samples, int]:
    """Return the listening tone and its samples a second: a short, soft rise of two notes.

    Each note is faded in and out, or it would click. It is a fifth, 0.16 s long, some 20 dB below the loudest.
    """
    when = np.arange(int(_TONE_RATE * _NOTE_S)) / _TONE_RATE
    fade = np.sin(np.pi * when / _NOTE_S) ** 2
    notes = [_TONE_PEAK * fade * np.sin(2 * np.pi * hertz * when) for hertz in _NOTES_HZ]
    return np.concatenate(notes).astype(np.float32), _TONE_RATE


class _Feed:
    """What the device asks for sound, on a thread of its own.

    Between two pieces it gives silence: a device that runs dry halts for half a second and cuts the next words.
    """

    def __init__(self, sounddevice: Any, stop: threading.Event) -> None:  # noqa: ANN401 - sounddevice ships no types
        self.stop = stop
        self.pieces: deque[Samples] = deque()
        self.complete = False
        self.finished = threading.Event()
        self._end = sounddevice.CallbackStop
        self._cut = sounddevice.CallbackAbort
        self._last = time.monotonic()

    def give(self, out: Any, frames: int, when: Any, status: Any) -> None:  # noqa: ANN401, ARG002 - sounddevice's signature
        """Fill the device's block."""
        self._last = time.monotonic()
        out[:] = 0.0
        if self.stop.is_set():
            raise self._cut
        # Read before the pieces: what is appended until then is played, not cut off.
        complete = self.complete
        filled = 0
        while filled < frames and self.pieces:
            piece = self.pieces.popleft()
            part = piece[: frames - filled]
            out[filled : filled + len(part), 0] = part
            filled += len(part)
            if len(part) < len(piece):
                self.pieces.appendleft(piece[len(part) :])
        if complete and not self.pieces:
            raise self._end

    def wait(self) -> None:
        """Wait until all has been played or the speech is stopped."""
        while not self.finished.wait(_LOOK_EVERY_S):
            if time.monotonic() - self._last > _LOST_AFTER_S:
                trouble = "The loudspeaker stopped taking sound."
                raise NoLoudspeaker(trouble, _TYPING)
