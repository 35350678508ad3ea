"""Barge-in: telling, by level alone, that the driver speaks while the assistant does.

Nothing is recognized meanwhile: the assistant would hear itself. What tells the two apart is that somebody who wants to
be heard is louder at the microphone than the loudspeaker's echo, which is learned anew in each answer.
"""

import numpy as np

from assistant.edges.recognizer import RATE

_FRAME = RATE // 50
_FRAME_BYTES = 2 * _FRAME
LEARN_S = 1.0
"""How long the echo is learned from its first sound on: a few syllables, and the delay of device and room. Nobody can
barge in sooner."""
LOUD_SHARE = 90
"""Percentile of the learned 20 ms frames that stands for the echo: its vowels, not one click."""
MARGIN_DB = 6.0
"""How far above the echo counts. The installed voices rise above their first second by at most 6 dB, and for no longer
than 0.06 s (measured on ten answers of each of three voices)."""
QUIETEST_DBFS = -46.0
"""The echo is taken to be no softer: with a headset there is none, and a breath is no word."""
LASTS_S = 0.25
"""How long the level must stay up. The vowel of a called "stop" does; a bang or a tap of the horn does not."""
GAP_S = 0.12
"""Shorter dips do not end a rise: the closure of a t or a p lasts up to a tenth of a second."""
LOUD_PART = 0.6
"""Part of a rise that must be loud: two knocks are no word."""
LEAD_S = 0.3
"""Sound kept from before the rise where there is no echo: the s of "stop" is far softer than its vowel."""
LEAD_IN_ECHO_S = 0.04
"""The same where there is an echo: more would let the assistant's own words, and its numbers, be taken for the
driver's."""


class BargeIn:
    """Listens to the level while one answer is spoken."""

    def __init__(self) -> None:
        self.risen = False
        """Whether the driver has barged in."""
        self._kept = bytearray()
        self._rest = b""
        self._learned: list[float] = []
        self._echo_frames = 0
        self._rise: list[bool] = []
        self._after = 0
        self._threshold = 0.0

    def hear(self, pcm: bytes, *, sounding: bool) -> bytes | None:
        """Take the next 16 kHz mono 16-bit sound; return what was said so far once the driver has barged in.

        Parameters
        ----------
        pcm : bytes
            The microphone's sound.
        sounding : bool
            Whether the loudspeaker has begun: only then is there an echo to learn.
        """
        self._kept += pcm
        frames, self._rest = _framed(self._rest + pcm)
        for level in _levels_dbfs(frames):
            self._take(float(level), sounding=sounding)
        if not self.risen:
            del self._kept[: max(0, len(self._kept) - self._wanted())]
            return None
        return bytes(self._kept[max(0, len(self._kept) - self._wanted()) :])

    def _wanted(self) -> int:
        """Return how many of the latest bytes belong to the rise, with what leads up to it."""
        lead = LEAD_IN_ECHO_S if self._threshold > QUIETEST_DBFS + MARGIN_DB else LEAD_S
        frames = len(self._rise) + self._after + round(lead * RATE / _FRAME)
        return frames * _FRAME_BYTES + len(self._rest)

    def _take(self, level: float, *, sounding: bool) -> None:
        if self.risen:
            self._after += 1
            return
        if self._echo_frames < LEARN_S * 50:
            self._learned.append(level)
            self._echo_frames += sounding
            # Silence before the first sound would make the echo seem softer than it is.
            echo = self._learned[-self._echo_frames :] if self._echo_frames else self._learned
            self._threshold = max(QUIETEST_DBFS, float(np.percentile(echo, LOUD_SHARE))) + MARGIN_DB
            return
        loud = level > self._threshold
        if loud or self._rise:
            self._rise.append(loud)
        if not any(self._rise[-int(GAP_S * 50) :]):
            self._rise = []
        lasted = len(self._rise) >= LASTS_S * 50 and loud
        self.risen = lasted and sum(self._rise) >= LOUD_PART * len(self._rise)


def _framed(pcm: bytes) -> tuple[bytes, bytes]:
    whole = len(pcm) // _FRAME_BYTES * _FRAME_BYTES
    return pcm[:whole], pcm[whole:]


def _levels_dbfs(frames: bytes) -> list[float]:
    samples = np.frombuffer(frames, np.int16).astype(np.float64).reshape(-1, _FRAME) / 2**15
    return [float(level) for level in 10 * np.log10(np.mean(samples**2, axis=1) + 1e-12)]
