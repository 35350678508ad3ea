"""Stand-ins for the sound system, the recognizer library and a voice."""

# Their methods are the ones they stand in for, documented there; what they are called with is the libraries' affair.
# ruff: noqa: D102, ANN401

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

from assistant.edges.recognizer import BYTES_PER_SECOND, Heard, HeardWord
from assistant.edges.voice import Samples, Voice

_HUNDREDTH = BYTES_PER_SECOND // 100
CLIPS = Path(__file__).parents[2] / "audio_fixtures"


class PortAudioError(Exception):
    """The sound library's error."""


class CallbackStop(Exception):  # noqa: N818 - the sound library's name
    """Raised by a callback that has given its last sound."""


class CallbackAbort(Exception):  # noqa: N818 - the sound library's name
    """Raised by a callback that wants silence at once."""


class FakeInput:
    """An input stream that delivers what the test feeds it."""

    def __init__(self, sound: "FakeSound", **told: Any) -> None:
        if told["samplerate"] not in sound.rates:
            message = "Invalid sample rate"
            raise PortAudioError(message)
        self.told = told
        self.active = False
        self.closed = False

    def start(self) -> None:
        self.active = True

    def deliver(self, pcm: bytes) -> None:
        self.told["callback"](pcm, len(pcm) // 2, None, None)

    def abort(self, *, ignore_errors: bool) -> None:
        assert ignore_errors
        self.active = False

    def close(self, *, ignore_errors: bool) -> None:
        assert ignore_errors
        self.closed = True


class FakeOutput:
    """An output stream that asks for sound on a thread of its own and keeps what it got."""

    def __init__(self, sound: "FakeSound", **told: Any) -> None:
        self.told = told
        self.sound = sound
        self.ended = threading.Event()

    def start(self) -> None:
        threading.Thread(target=self._run, daemon=True).start()

    def _run(self) -> None:
        while not self.ended.is_set() and self.sound.alive:
            block = np.ones((480, 1), np.float32)
            try:
                self.told["callback"](block, len(block), None, None)
            except CallbackStop:
                self.sound.played.append(block[:, 0])
                break
            except CallbackAbort:
                break
            self.sound.played.append(block[:, 0])
            self.sound.after_block()
        if self.sound.alive:
            self.told["finished_callback"]()

    def abort(self, *, ignore_errors: bool) -> None:
        assert ignore_errors
        self.ended.set()

    def close(self, *, ignore_errors: bool) -> None:
        assert ignore_errors


class FakeSound:
    """The sounddevice module, as far as Deckside uses it."""

    PortAudioError = PortAudioError
    CallbackStop = CallbackStop
    CallbackAbort = CallbackAbort

    def __init__(self, *, rates: tuple[int, ...] = (16_000,), usual: int = 48_000, present: bool = True) -> None:
        self.rates = rates
        self.usual = usual
        self.present = present
        self.alive = True
        self.played: list[Samples] = []
        self.after_block: Callable[[], None] = lambda: None
        self.input: FakeInput | None = None

    def query_devices(self, device: int | str | None = None, kind: str | None = None) -> dict[str, Any]:
        if not self.present:
            message = "Error querying device -1"
            raise PortAudioError(message)
        return {"name": f"fake {device or kind}", "default_samplerate": float(self.usual)}

    def get_portaudio_version(self) -> tuple[int, str]:
        return 1, "PortAudio, pretended"

    def RawInputStream(self, **told: Any) -> FakeInput:  # noqa: N802 - the sound library's name
        self.input = FakeInput(self, **told)
        return self.input

    def OutputStream(self, **told: Any) -> FakeOutput:  # noqa: N802 - the sound library's name
        if not self.present:
            message = "Error querying device -1"
            raise PortAudioError(message)
        return FakeOutput(self, **told)


class FakeListening:
    """Hears each block as the text written in it; a block that says "." ends the utterance."""

    def __init__(self) -> None:
        self.words: list[str] = []
        self.audio = b""
        self.finished = False

    def feed(self, pcm: bytes) -> Heard | None:
        self.audio += pcm
        text = pcm.decode().strip()
        self.words += text.removesuffix(".").split()
        if not text.endswith("."):
            return None
        heard = self._take()
        return heard if heard.words else None

    def partial(self) -> str:
        return " ".join(self.words)

    def finish(self) -> Heard:
        self.finished = True
        return self._take()

    def _take(self) -> Heard:
        words, at = [], 0
        for word in self.words:
            start = self.audio.index(word.encode(), at)
            at = start + len(word)
            # The recognizer tells times in hundredths of a second.
            end = -(-at // _HUNDREDTH) * _HUNDREDTH
            words.append(HeardWord(word, start / BYTES_PER_SECOND, end / BYTES_PER_SECOND, 1.0))
        heard = Heard(tuple(words), self.audio)
        self.words, self.audio = [], b""
        return heard


class FakeVoice(Voice):
    """Speaks a tone a tenth of a second long for each word."""

    name = "fake"
    rate = 24_000

    def samples(self, text: str) -> Iterator[Samples]:
        for _ in text.split():
            yield np.full(2_400, 0.5, np.float32)
