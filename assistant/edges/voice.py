"""Voices that speak an answer: one small interface, a few engines behind it, and silence that says so."""

import shutil
import subprocess
import tempfile
import threading
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from assistant.edges.loudspeaker import Samples, play
from assistant.edges.problem import VoiceProblem
from assistant.edges.sound_files import write_wav

_SPEEDS = (0.5, 2.0)
_PACE_STEP = 1.2
"""What "slower" and "faster" change the pace by: plain to hear, and three fit on either side of the usual."""
_ENGINE_LIMIT_S = 60
_AUDIBLE = 0.004
_LEAD_S = 0.03
"""Kept before the first audible sample: the onset of an f or an h is softer than that."""
_ESPEAK_WORDS_A_MINUTE = 175


class Voice(ABC):
    """Speaks text whose numbers are already spelled out.

    Parameters
    ----------
    speed : float
        1 is the engine's usual pace, 0.5 half as fast, 2 twice as fast.
    """

    name: str
    rate: int
    """Samples a second of what `samples` makes."""
    notice: str = ""
    """What the user must be told about this voice; empty when all is well."""

    def __init__(self, speed: float = 1.0) -> None:
        slowest, fastest = _SPEEDS
        if not slowest <= speed <= fastest:
            trouble = f"A voice cannot speak at {speed} times its pace; {slowest} to {fastest} is possible."
            raise VoiceProblem(trouble)
        self.speed = self._usual = speed

    def change_pace(self, step: int) -> bool:
        """Speak slower (-1), faster (1) or at the pace it began with (0); return whether there is such a pace."""
        slowest, fastest = _SPEEDS
        wanted = self._usual if step == 0 else self.speed * _PACE_STEP**step
        if not slowest <= wanted <= fastest:
            return False
        self.speed = wanted
        return True

    @abstractmethod
    def samples(self, text: str) -> Iterator[Samples]:
        """Yield the speech piece by piece, as soon as each is made; float32 between -1 and 1.

        Raises
        ------
        VoiceProblem
            The engine cannot be loaded or failed.
        """

    def speak(self, text: str, stop: threading.Event | None = None, began: Callable[[], None] = lambda: None) -> bool:
        """Play the speech, tell when its first sound goes out, and return whether it was played to its end.

        Raises
        ------
        NoLoudspeaker
            There is nothing to play on.
        VoiceProblem
            The engine cannot be loaded or failed.
        """
        return play(self.samples(text), self.rate, stop, began)

    def to_file(self, text: str, path: Path) -> None:
        """Write the speech as a WAV file that its owner alone can read.

        Raises
        ------
        SoundFileProblem
            The file cannot be written.
        VoiceProblem
            The engine cannot be loaded or failed.
        """
        pieces = list(self.samples(text))
        write_wav(path, np.concatenate(pieces) if pieces else np.zeros(0, np.float32), self.rate)


class Hibari(Voice):
    """The default: a neural voice that comes inside the `hibari-tts` wheel. It loads while others load."""

    name = "hibari heart"
    rate = 24_000

    def __init__(self, speed: float = 1.0) -> None:
        super().__init__(speed)
        self._engine: Any = None
        self._trouble: Exception | None = None
        # No daemon: a process that ends while the engine loads would be ended by the engine's abort.
        self._loading = threading.Thread(target=self._load, name="voice")
        self._loading.start()

    def samples(self, text: str) -> Iterator[Samples]:
        """Yield one sentence after another; the first waits until the engine is loaded."""
        self._loading.join()
        if self._trouble is not None:
            trouble = f"The voice {self.name} cannot be loaded: {self._trouble}."
            remedy = "Install it again with `pip install --force-reinstall hibari-tts`, or install flite or espeak-ng."
            raise VoiceProblem(trouble, remedy) from self._trouble
        for sentence in self._engine.stream(text, self.speed):
            yield _without_lead(sentence, self.rate)

    def _load(self) -> None:
        try:
            self._engine = import_module("hibari").Hibari()
            # Its spelling-to-sound rules load with the first word: let that not be the driver's.
            self._engine("Ready.")
        except Exception as error:  # noqa: BLE001 - whatever fails on this thread is told by the one that speaks
            self._trouble = error


class Program(Voice):
    """A voice that is a program of the system: it reads a text file and writes a WAV file."""

    def __init__(self, name: str, command: Callable[[float, Path, Path], list[str]], rate: int, speed: float) -> None:
        super().__init__(speed)
        self.name = name
        self.rate = rate
        self._command = command

    def samples(self, text: str) -> Iterator[Samples]:
        """Yield the whole speech at once."""
        if not text.strip():
            return
        with tempfile.TemporaryDirectory(prefix="deckside-") as folder:
            words, sound = Path(folder, "words.txt"), Path(folder, "sound.wav")
            words.write_text(text, encoding="utf-8")
            try:
                subprocess.run(  # noqa: S603 - a program from the path, arguments of our own
                    self._command(self.speed, words, sound), check=True, capture_output=True, timeout=_ENGINE_LIMIT_S
                )
                made, rate = soundfile.read(sound, dtype="float32")
            except (OSError, subprocess.SubprocessError, soundfile.LibsndfileError) as error:
                trouble = f"The voice {self.name} failed: {error}."
                raise VoiceProblem(trouble) from error
        if rate != self.rate:
            trouble = f"The voice {self.name} made {rate} samples a second instead of {self.rate}."
            raise VoiceProblem(trouble)
        yield _without_lead(made, self.rate)


class Silent(Voice):
    """No voice: answers are only shown."""

    name = "silent"
    rate = 16_000
    notice = (
        "No voice is installed: answers are shown, not spoken. Install one with `pip install hibari-tts`,"
        " or the system's flite or espeak-ng."
    )

    def samples(self, text: str) -> Iterator[Samples]:  # noqa: ARG002 - a voice's signature
        """Yield nothing."""
        return iter(())

    def speak(  # a voice's signature
        self,
        text: str,  # noqa: ARG002
        stop: threading.Event | None = None,  # noqa: ARG002
        began: Callable[[], None] = lambda: None,  # noqa: ARG002
    ) -> bool:
        """Play nothing; no device is asked for."""
        return True


def _without_lead(piece: Samples, rate: int) -> Samples:
    """Cut the silence an engine puts before its first sound, up to 0.3 s that the driver would wait for."""
    sounding = np.flatnonzero(np.abs(piece) > _AUDIBLE)
    return piece[max(0, int(sounding[0]) - int(rate * _LEAD_S)) :] if len(sounding) else piece


def flite(speed: float) -> Voice:
    """Return the small voice of the program flite."""

    def command(speed: float, words: Path, sound: Path) -> list[str]:
        stretch = f"duration_stretch={1 / speed:.3f}"
        return ["flite", "-voice", "rms", "--setf", stretch, "-f", str(words), "-o", str(sound)]

    return Program("flite rms", command, 16_000, speed)


def espeak(speed: float) -> Voice:
    """Return the tiny voice of the program espeak-ng."""

    def command(speed: float, words: Path, sound: Path) -> list[str]:
        pace = str(round(_ESPEAK_WORDS_A_MINUTE * speed))
        return ["espeak-ng", "-v", "en-us", "-s", pace, "-f", str(words), "-w", str(sound)]

    return Program("espeak-ng", command, 22_050, speed)


def _hibari_there() -> bool:
    return find_spec("hibari") is not None and find_spec("onnxruntime") is not None


_VOICES: dict[str, tuple[Callable[[], bool], Callable[[float], Voice]]] = {
    "hibari": (_hibari_there, Hibari),
    "flite": (lambda: shutil.which("flite") is not None, flite),
    "espeak-ng": (lambda: shutil.which("espeak-ng") is not None, espeak),
}
VOICE_NAMES = (*_VOICES, "silent")
"""What `choose_voice` takes, in the order in which it chooses by itself."""


def voices_present() -> list[str]:
    """Return the names of the voices that are installed, best first."""
    return [name for name, (there, _) in _VOICES.items() if there()]


def choose_voice(preferred: str | None = None, *, speed: float = 1.0) -> Voice:
    """Return the voice asked for, or the best one installed; silence with a notice when there is none.

    Raises
    ------
    VoiceProblem
        The voice asked for is unknown or not installed, or the speed is out of range.
    """
    if preferred == "silent":
        return Silent(speed)
    present = voices_present()
    if preferred is not None and preferred not in present:
        trouble = f"There is no voice {preferred!r} on this machine."
        raise VoiceProblem(trouble, f"Choose one of: {', '.join([*present, 'silent'])}.")
    name = preferred or next(iter(present), None)
    return _VOICES[name][1](speed) if name else Silent(speed)
