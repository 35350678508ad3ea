"""The microphone: blocks of 16 kHz mono 16-bit sound, hands-free or while a key is held."""

import queue
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Self

import numpy as np
import soxr

from assistant.edges import devices
from assistant.edges.barge_in import BargeIn
from assistant.edges.problem import MicrophoneLost, NoMicrophone
from assistant.edges.recognizer import RATE, Heard, Listening, hear_all

_BLOCK_S = 0.1
_WAITING = 600
"""Blocks that may wait to be heard: a minute's."""
_LOST_AFTER_S = 2.0
"""A microphone delivers ten blocks a second; without one for this long it is gone."""
_LOOK_EVERY_S = 0.25
_PLUG_IN = "Plug a microphone in and choose it as the system's input. Sound files and typing work without one."


@dataclass(frozen=True)
class _Watched:
    """Sound that came while the voice spoke."""

    pcm: bytes
    watch: "_Watch"
    sounding: bool


class _Watch:
    """The watch over the level during one answer."""

    def __init__(self, barged_in: Callable[[], None]) -> None:
        self.level = BargeIn()
        self.barged_in = barged_in
        self.sounding = False


class Microphone:
    """The system's default microphone, or the one named; recording while the context lasts.

    Parameters
    ----------
    device : int, str or None
        The sound library's number or name of the device.
    deaf : bool
        Begin without listening, as hold-a-key does: `resume` opens the ear.

    Raises
    ------
    NoMicrophone
        On entering the context: no sound library, no device, or it cannot be opened.
    """

    def __init__(self, device: int | str | None = None, *, deaf: bool = False) -> None:
        self._device = device
        self._deaf = deaf
        self._stream: Any = None
        self._rate = RATE
        self._blocks: queue.Queue[bytes | _Watched | None] = queue.Queue(_WAITING)
        self._watch: _Watch | None = None
        self._behind = False
        self._closed = False
        self._last = 0.0
        self.name = ""

    def __enter__(self) -> Self:
        """Open the device and start to record."""
        sounddevice = devices.load(NoMicrophone)
        try:
            found = sounddevice.query_devices(self._device, "input")
        except (sounddevice.PortAudioError, ValueError) as error:
            trouble = f"No microphone was found: {error}."
            raise NoMicrophone(trouble, _PLUG_IN) from error
        self.name = found["name"]
        usual = int(found["default_samplerate"])
        refusals = []
        for rate in dict.fromkeys((RATE, usual)):
            try:
                with devices.quiet():
                    self._stream = sounddevice.RawInputStream(
                        samplerate=rate,
                        blocksize=int(rate * _BLOCK_S),
                        device=self._device,
                        channels=1,
                        dtype="int16",
                        callback=self._take,
                    )
                    self._stream.start()
            except sounddevice.PortAudioError as error:
                refusals.append(f"{rate} Hz: {error}")
                self._stream = None
            else:
                self._rate = rate
                self._last = time.monotonic()
                return self
        trouble = f"The microphone {self.name} cannot be opened ({'; '.join(refusals)})."
        raise NoMicrophone(trouble, "Close other programs that record, or choose another input.")

    def __exit__(self, *_: object) -> None:
        """Stop recording; whoever reads the blocks sees them end."""
        self._closed = True
        if self._stream is not None:
            # abort, not stop: stop waits for a device that may be gone.
            self._stream.abort(ignore_errors=True)
            self._stream.close(ignore_errors=True)

    @property
    def deaf(self) -> bool:
        """Whether sound is being dropped."""
        return self._deaf

    def pause(self) -> None:
        """Drop all sound from now on: the voice speaks, or the key was let go."""
        if not self._deaf:
            self._deaf = True
            self._put(None)

    def watch(self, barged_in: Callable[[], None]) -> None:
        """Drop sound as in a pause, but watch its level: when somebody barges in, call and listen again.

        What was said from the rise on is listened to.
        """
        self._watch = _Watch(barged_in)
        self.pause()

    def sounds(self) -> None:
        """Take note that the voice's first sound goes out now: from here on there may be an echo."""
        if watch := self._watch:
            watch.sounding = True

    def resume(self) -> None:
        """Listen again."""
        self._deaf = False
        self._watch = None

    def blocks(self) -> Iterator[bytes | None]:
        """Yield sound as it comes, None at each pause, until the context ends.

        Raises
        ------
        MicrophoneLost
            The device went away, or the reader fell a minute behind it.
        """
        resampler = None if self._rate == RATE else soxr.ResampleStream(self._rate, RATE, 1, dtype="int16")
        while not self._closed:
            if self._behind:
                trouble = "The computer is too busy to keep up with the microphone: a minute of sound is waiting."
                raise MicrophoneLost(trouble, "Close other programs and start again.")
            try:
                item = self._blocks.get(timeout=_LOOK_EVERY_S)
            except queue.Empty:
                self._look()
                continue
            block = item.pcm if isinstance(item, _Watched) else item
            if block and resampler:
                block = resampler.resample_chunk(np.frombuffer(block, np.int16)).tobytes()
            if isinstance(item, _Watched) and block and not item.watch.level.risen:
                block = self._rise(block, item)
                if block is None:
                    continue
            yield block

    def _rise(self, block: bytes, item: _Watched) -> bytes | None:
        """Return the sound since somebody barged in; None while nobody has."""
        since = item.watch.level.hear(block, sounding=item.sounding)
        if since is None:
            return None
        if self._watch is item.watch:
            self.resume()
        item.watch.barged_in()
        return since

    def _take(self, data: Any, frames: int, when: Any, status: Any) -> None:  # noqa: ANN401, ARG002 - sounddevice's signature
        self._last = time.monotonic()
        if not self._deaf:
            self._put(bytes(data))
        elif watch := self._watch:
            self._put(_Watched(bytes(data), watch, watch.sounding))

    def _put(self, block: bytes | _Watched | None) -> None:
        # On the sound system's own thread: it must never wait.
        try:
            self._blocks.put_nowait(block)
        except queue.Full:
            self._behind = True

    def _look(self) -> None:
        if self._closed:
            return
        silent = time.monotonic() - self._last
        if not self._stream.active:
            trouble = f"The microphone {self.name} was unplugged or switched off."
        elif silent >= _LOST_AFTER_S:
            trouble = f"The microphone {self.name} stopped: no sound has come from it for {silent:.0f} seconds."
        else:
            return
        raise MicrophoneLost(trouble, "Plug it in again, then start listening again. Typing goes on.")


Partly = Callable[[str], None]


def hands_free(
    microphone: Microphone, listen: Callable[[], Listening], *, partly: Partly | None = None
) -> Iterator[Heard]:
    """Yield one utterance after another; the recognizer's endpointer tells where each ends.

    Parameters
    ----------
    microphone : Microphone
        An open one. A pause throws away what was heard of an unfinished utterance.
    listen : callable
        Begins the listening to one utterance, so that each can have phrases of its own.
    partly : callable or None
        Is told the words so far, whenever they change.

    Raises
    ------
    MicrophoneLost
        The device went away.
    """
    listening = listen()
    before = ""
    for block in microphone.blocks():
        heard = listening.feed(block) if block else None
        if block and not heard:
            if partly and (words := listening.partial()) != before:
                partly(words)
                before = words
            continue
        listening.finish()
        before = ""
        if heard:
            yield heard
        listening = listen()
    listening.finish()


def held(microphone: Microphone, listening: Listening, *, partly: Partly | None = None) -> Heard:
    """Return what is said until the microphone is paused (the key let go), pauses for thought or not.

    Raises
    ------
    MicrophoneLost
        The device went away.
    """

    def blocks() -> Iterator[bytes]:
        for block in microphone.blocks():
            if block is None:
                return
            yield block
            if partly:
                partly(listening.partial())

    return hear_all(listening, blocks())
