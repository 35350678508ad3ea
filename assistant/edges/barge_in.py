"""Being interrupted: whether someone speaks while the assistant does, by level alone.

Nothing is recognized here, so that it cannot hear itself. What comes out of its own loudspeaker, and the noise of the
place, are learned as they are heard; only what stands clearly above both, and lasts, is taken for the driver.
"""

from collections import deque

import numpy as np

_LEARNING = 4
"""Blocks of a tenth of a second at the start of each answer that only teach how loud its own voice is here."""
_ABOVE = 2.0
"""How far above the loudest so far someone must speak: 6 dB. A voice at the microphone is nearer than the speaker's."""
_LASTING = 3
"""Blocks in a row: a bang or a short horn is over by then, "stop" is not."""
_LEAST = 300.0
"""Root mean square of 16-bit samples that is no silence, for a headset that hears nothing of the loudspeaker."""
_KEPT = 5
"""Blocks from before the decision that are listened to, so that the first word is whole."""


class BargeIn:
    """Watches one answer being spoken.

    `hears` is given each tenth of a second of 16-bit mono sound, and tells once that someone began to speak; `sound` is
    what was heard since shortly before that.
    """

    def __init__(self) -> None:
        self._seen = 0
        self._loudest = 0.0
        self._risen = 0
        self._kept: deque[bytes] = deque(maxlen=_KEPT)

    def hears(self, block: bytes) -> bool:
        """Take the next block; return whether someone speaks now."""
        samples = np.frombuffer(block[: len(block) // 2 * 2], np.int16).astype(np.float64)
        level = float(np.sqrt(np.mean(samples**2))) if len(samples) else 0.0
        self._seen += 1
        self._kept.append(block)
        if self._seen > _LEARNING and level > max(_LEAST, _ABOVE * self._loudest):
            self._risen += 1
            return self._risen == _LASTING
        self._risen = 0
        self._loudest = max(self._loudest, level)
        return False

    @property
    def sound(self) -> tuple[bytes, ...]:
        """The latest blocks, oldest first."""
        return tuple(self._kept)
