"""A person's number words joined into weights: speech that no voice of ours made.

The words are Debian's `asterisk-core-sounds-en-g722` (one person, CC BY-SA 3.0): 16 kHz G.722 files of single words.
They stay where the package put them. Joined words lack the melody of a spoken number, which makes them hard to decode.
"""

import shutil
import subprocess
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import numpy as np

from assistant.load.model import Coil, Load

RATE = 16_000
GAP_MS = (60, 120)
QUIET_DB = -40.0

ONES = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
FILES = {word: str(value) for value, word in enumerate(ONES + TEENS)}
FILES |= {word: str(20 + 10 * place) for place, word in enumerate(TENS)}
FILES |= {word: word for word in ("hundred", "thousand", "pound")}

Samples = np.ndarray[tuple[int], np.dtype[np.int16]]


@cache
def folder() -> Path | None:
    """Return where the recorded words are, or None where they or the decoder are not installed."""
    found = sorted(Path("/usr/share/asterisk/sounds").glob("en_US*/digits/thousand.g722"))
    return found[0].parent if found and shutil.which("ffmpeg") else None


@cache
def spoken_word(word: str) -> Samples:
    """Return one recorded word, without the silence round it."""
    place = folder()
    if place is None:
        message = "install Debian's asterisk-core-sounds-en-g722 and ffmpeg"
        raise FileNotFoundError(message)
    call = ["ffmpeg", "-v", "error", "-f", "g722", "-i", str(place / f"{FILES[word]}.g722")]
    call += ["-f", "s16le", "-ar", str(RATE), "-ac", "1", "-"]
    pcm = subprocess.run(call, check=True, capture_output=True).stdout  # noqa: S603 - our own arguments, no shell
    samples = np.frombuffer(pcm, np.int16)
    size = RATE // 100
    frames = samples[: len(samples) // size * size].reshape(-1, size).astype(np.float64)
    level = np.sqrt(np.mean(frames**2, axis=1))
    heard = np.flatnonzero(level > level.max() * 10 ** (QUIET_DB / 20))
    return samples[heard[0] * size : (heard[-1] + 1) * size]


def speak_number(words: str, *, seed: int = 0) -> bytes:
    """Return the number as 16-bit mono PCM at 16 kHz: words 60 to 120 ms apart, 0.3 s of silence on either side."""
    rng = np.random.default_rng(seed)
    edge = np.zeros(RATE * 3 // 10, np.int16)
    parts: list[Samples] = [edge]
    for word in words.split():
        if len(parts) > 1:
            parts.append(np.zeros(RATE * int(rng.integers(*GAP_MS, endpoint=True)) // 1000, np.int16))
        parts.append(spoken_word(word))
    return np.concatenate([*parts, edge]).tobytes()


def below_hundred(value: int) -> str:
    """Return 1 to 99 in words."""
    if value < 10:
        return ONES[value]
    if value < 20:
        return TEENS[value - 10]
    ten, one = divmod(value, 10)
    return TENS[ten - 2] + (f" {ONES[one]}" if one else "")


def thousands(weight_lb: int) -> str:
    """Say 42,000 as "forty two thousand"."""
    return f"{below_hundred(weight_lb // 1000)} thousand"


def in_full(weight_lb: int) -> str:
    """Say 42,500 as "forty two thousand five hundred"."""
    return f"{thousands(weight_lb)} {below_hundred(weight_lb % 1000 // 100)} hundred"


def short(weight_lb: int) -> str:
    """Say 42,500 as "forty two five"."""
    return f"{below_hundred(weight_lb // 1000)} {below_hundred(weight_lb % 1000 // 100)}"


def short_hundred(weight_lb: int) -> str:
    """Say 42,500 as "forty two five hundred"."""
    return f"{short(weight_lb)} hundred"


def pounds(weight_lb: int) -> str:
    """Say 42,000 as "forty two thousand pound", as of a coil."""
    return f"{thousands(weight_lb)} pound"


def hundreds(weight_lb: int) -> str:
    """Say 5,400 as "fifty four hundred"."""
    return f"{below_hundred(weight_lb // 100)} hundred"


FORMS = {
    "thousands": thousands,
    "in full": in_full,
    "short": short,
    "short hundred": short_hundred,
    "hundreds": hundreds,
    "pounds": pounds,
}
PER_FORM = 120


def values(form: str) -> Sequence[int]:
    """Return every weight (lb) that the form says and a driver might have: coils up to 60,000, marks up to 9,900."""
    if form in {"thousands", "pounds"}:
        return range(4_000, 61_000, 1_000)
    if form == "hundreds":
        return [value for value in range(1_100, 10_000, 100) if value % 1000]
    # "four five" is no weight, and "forty five hundred" is 4,500: a short form needs a unit before its hundreds.
    low, ambiguous = (4_000, 0) if form == "in full" else (11_000, 1_000)
    return [value for value in range(low, 60_000, 100) if value % 1000 and value % 10_000 >= ambiguous]


def told(weight_lb: int) -> Load:
    """Return the load that a bare weight tells."""
    return Load(coils=(Coil(weight_lb=weight_lb),))


def weights(form: str, *, seed: int = 0) -> list[tuple[str, int, int]]:
    """Return 120 of (words, weight in lb, seed of the gaps); a form with fewer weights says some twice."""
    rng = np.random.default_rng(seed)
    every = values(form)
    drawn = [rng.permutation(every) for _ in range(-(-PER_FORM // len(every)))]
    return [(FORMS[form](int(value)), int(value), turn) for turn, value in enumerate(np.concatenate(drawn)[:PER_FORM])]
