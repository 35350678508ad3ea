"""Speaking beside listening: one answer at a time on a thread of its own, hushed at a word."""

import threading
from collections.abc import Callable
from pathlib import Path

from assistant.edges.loudspeaker import play, tone
from assistant.edges.problem import NoLoudspeaker, Problem
from assistant.edges.voice import Voice

Tell = Callable[[str], None]


class Speaker:
    """Speaks answers in the background.

    Parameters
    ----------
    voice
        The voice.
    tell
        Takes a notice in words, once for each sort of trouble.
    instead
        A WAV file for the answer where there is no sound device; None leaves it to the screen.
    started, ended
        Called round the speech: the microphone is deaf in between, so that the assistant does not hear itself.
    sounds
        Called when the first sound of a speech goes out.
    """

    def __init__(
        self,
        voice: Voice,
        tell: Tell,
        *,
        instead: Path | None = None,
        started: Callable[[], None] = lambda: None,
        ended: Callable[[], None] = lambda: None,
        sounds: Callable[[], None] = lambda: None,
    ) -> None:
        self._voice = voice
        self._tell = tell
        self._instead = instead
        self._started = started
        self._ended = ended
        self._sounds = sounds
        self._stop = threading.Event()
        self._thread: threading.Thread | None = None
        self._told: set[str] = set()
        if voice.notice:
            tell(voice.notice)

    @property
    def speaking(self) -> bool:
        """Whether an answer is being spoken."""
        return self._thread is not None and self._thread.is_alive()

    def say(self, text: str, *, in_tone: Callable[[], bool] = lambda: False) -> None:
        """Speak a text, in place of one that is still being spoken.

        Parameters
        ----------
        text
            What to speak; nothing at all where it is empty.
        in_tone
            Asked when the text was spoken to its end: whether the listening tone follows.
        """
        self.hush()
        self._stop = threading.Event()
        self._thread = threading.Thread(
            target=self._speak, args=(text, self._stop, in_tone), name="speech", daemon=True
        )
        self._thread.start()

    def sound_tone(self) -> None:
        """Sound the listening tone alone."""
        self.say("", in_tone=lambda: True)

    def change_pace(self, step: int) -> bool:
        """Speak slower (-1), faster (1) or as it began (0) from now on; return whether there is such a pace."""
        return self._voice.change_pace(step)

    def cut(self) -> None:
        """Be silent at once, without waiting for the speech's end."""
        self._stop.set()

    def hush(self) -> None:
        """Be silent at once, and wait until the microphone is open again."""
        self.cut()
        self.wait()

    def wait(self) -> None:
        """Wait until what is being spoken has ended."""
        if self._thread is not None:
            self._thread.join()

    def _speak(self, text: str, stop: threading.Event, in_tone: Callable[[], bool]) -> None:
        self._started()
        try:
            if (not text or self._voice.speak(text, stop, self._sounds)) and in_tone():
                play([tone()[0]], tone()[1], stop)
        except NoLoudspeaker as none:
            self._write(text, none)
        except Problem as problem:
            self._once(str(problem))
        finally:
            self._ended()

    def _write(self, text: str, none: NoLoudspeaker) -> None:
        if self._instead is None:
            self._once(str(none))
            return
        try:
            self._voice.to_file(text, self._instead)
        except Problem as problem:
            self._once(str(problem))
        else:
            self._tell(f"There is no loudspeaker here. The answer is spoken in {self._instead}")

    def _once(self, text: str) -> None:
        if text not in self._told:
            self._told.add(text)
            self._tell(text)
