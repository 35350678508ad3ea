"""Make the spoken clips from the sentences in `manifest.yaml`, and write back how each was made.

    python audio_fixtures/make.py            # clips that are missing
    python audio_fixtures/make.py --all      # every clip anew
    python audio_fixtures/make.py --check    # compare the files with the manifest's SHA-256

To add a clip: add an entry with `file`, `voice`, `speed`, `text`, `words` and `expected` or `intent`, then run this.
`command`, `licence` and `sha256` are written by this script. Every voice is deterministic, so the same versions of the
voices (see LICENSES.md) give the same samples; the bytes of a FLAC file also depend on the version of libFLAC.
"""  # noqa: INP001 - a script beside its data, never imported

import argparse
import hashlib
import re
import shlex
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import soundfile as sf
import yaml

HERE = Path(__file__).parent
MANIFEST = HERE / "manifest.yaml"
RATE = 16_000
EDGE_S = 0.2
"""Silence left on either side of the speech."""
ACTIVE_DBFS = -23.0
"""Level of the speech over its active 20 ms frames."""
QUIET_DB = -40.0
"""A frame this far below the loudest one is silence."""

Samples = np.ndarray[tuple[int], np.dtype[np.float64]]

LICENCES = {
    "heart": "Apache-2.0",
    "rms": "BSD-like (CMU Arctic)",
    "slt": "BSD-like (CMU Arctic)",
    "awb": "BSD-like (CMU Arctic)",
    "hts": "BSD-like (CMU Arctic, HTS)",
    "kal": "BSD-like (CMU)",
}

FESTIVAL = {"hts": "(voice_cmu_us_slt_arctic_hts)", "kal": "(voice_kal_diphone)"}


def command(voice: str, text: str, speed: float) -> str:
    """Return the command that speaks `text`, before trimming and levelling."""
    if voice == "heart":
        return f"Hibari(voice='heart')({text!r}, speed={speed}, seed=0)"
    return shlex.join(engine_call(voice, text, speed, "OUT.wav"))


def engine_call(voice: str, text: str, speed: float, out: str) -> list[str]:
    """Return the argument list for one of the Debian voices; festival reads its text from standard input."""
    if voice in FESTIVAL:
        stretch = f"(Parameter.set 'Duration_Stretch {1 / speed:.3f})"
        return ["text2wave", "-eval", FESTIVAL[voice], "-eval", stretch, "-o", out, "-"]
    return ["flite", "-voice", voice, "--setf", f"duration_stretch={1 / speed:.3f}", "-t", text, "-o", out]


@cache
def heart() -> Callable[..., Samples]:
    """Load the neural voice once."""
    from hibari import Hibari  # noqa: PLC0415 - the other voices work where this one is not installed

    return Hibari(voice="heart")


def speak(voice: str, text: str, speed: float) -> tuple[Samples, int]:
    """Return what the voice says, and its sample rate."""
    if voice == "heart":
        return np.asarray(heart()(text, speed=speed, seed=0), np.float64), 24_000
    with tempfile.TemporaryDirectory() as folder:
        out = str(Path(folder) / "out.wav")
        subprocess.run(  # noqa: S603 - an argument list of our own, no shell
            engine_call(voice, text, speed, out), input=text.encode(), check=True, capture_output=True
        )
        samples, rate = sf.read(out, dtype="float64")
    return samples, rate


def resample(samples: Samples, rate: int) -> Samples:
    """Return the samples at 16 kHz: band-limited, through the spectrum of the whole clip."""
    if rate == RATE:
        return samples
    count = len(samples) * RATE // rate
    spectrum = np.fft.rfft(samples)[: count // 2 + 1]
    return np.fft.irfft(spectrum, count) * (count / len(samples))


def frames_rms(samples: Samples) -> Samples:
    """Return the level of each 20 ms frame."""
    size = RATE // 50
    whole = samples[: len(samples) // size * size].reshape(-1, size)
    return np.sqrt(np.mean(whole**2, axis=1))


def finish(samples: Samples) -> np.ndarray[tuple[int], np.dtype[np.int16]]:
    """Trim to 0.2 s of silence on either side, set the level, and return 16-bit samples."""
    level = frames_rms(samples)
    active = np.flatnonzero(level > level.max() * 10 ** (QUIET_DB / 20))
    size, edge = RATE // 50, int(EDGE_S * RATE)
    speech = samples[active[0] * size : (active[-1] + 1) * size]
    gain = 10 ** (ACTIVE_DBFS / 20) / np.sqrt(np.mean(level[active] ** 2))
    gain = min(gain, 0.95 / np.abs(speech).max())
    return np.round(np.pad(speech * gain, edge) * 32767).astype(np.int16)


def make(clip: dict[str, Any]) -> None:
    """Speak one clip into its file."""
    samples, rate = speak(clip["voice"], clip["text"], clip["speed"])
    sf.write(HERE / clip["file"], finish(resample(samples, rate)), RATE, subtype="PCM_16")


def digest(path: Path) -> str:
    """Return the SHA-256 of a file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def words_of(text: str) -> str:
    """Return the text as a recognizer would give it."""
    return " ".join(re.sub(r"[^a-z' ]", " ", text.lower()).split())


ORDER = ("file", "words", "text", "voice", "speed", "expected", "intent", "command", "licence", "sha256")
FLOW_WIDTH = 10_000


def written(clips: list[dict[str, Any]], preface: str) -> str:
    """Return the manifest's text: one line a field, so that a changed clip is a small difference."""
    blocks = []
    for clip in clips:
        lines = [
            f"{name}: {yaml.safe_dump(clip[name], default_flow_style=True, width=FLOW_WIDTH, sort_keys=False)}"
            for name in ORDER
            if name in clip
        ]
        block = "\n".join(line.removesuffix("\n...\n").rstrip() for line in lines)
        blocks.append("- " + block.replace("\n", "\n  "))
    return preface + "clips:\n" + "\n\n".join(blocks) + "\n"


def main() -> int:
    """Make or check the clips; return the exit status."""
    parser = argparse.ArgumentParser(description="Make the spoken clips of manifest.yaml.")
    parser.add_argument("--all", action="store_true", help="make every clip anew, not just the missing ones")
    parser.add_argument("--check", action="store_true", help="only compare the files with the manifest")
    options = parser.parse_args()
    text = MANIFEST.read_text(encoding="utf-8")
    clips: list[dict[str, Any]] = yaml.safe_load(text)["clips"]
    if options.check:
        wrong = [
            c["file"] for c in clips if not (HERE / c["file"]).exists() or digest(HERE / c["file"]) != c.get("sha256")
        ]
        sys.stdout.write("".join(f"differs or is missing: {name}\n" for name in wrong))
        return 1 if wrong else 0
    for clip in clips:
        if words_of(clip["text"]) != clip["words"]:
            sys.stderr.write(f"{clip['file']}: words and text differ\n")
            return 1
        if options.all or not (HERE / clip["file"]).exists():
            make(clip)
            sys.stdout.write(f"{clip['file']}\n")
        clip["command"] = command(clip["voice"], clip["text"], clip["speed"])
        clip["licence"] = LICENCES[clip["voice"]]
        clip["sha256"] = digest(HERE / clip["file"])
    MANIFEST.write_text(written(clips, text[: text.index("clips:\n")]), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
