"""Sound files in and out: whatever a WAV or FLAC file holds becomes 16 kHz mono 16-bit sound, or a clear refusal."""

import os
import struct
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
import soxr

from assistant.edges.problem import SoundFileProblem
from assistant.edges.recognizer import RATE

LONGEST_S = 600.0
"""Nobody tells a load for ten minutes: a longer file was named by mistake. The free pass needs about its 20th part."""
SHORTEST_S = 0.1
"""Less than the shortest number word takes."""

_RATES = range(4_000, 384_001)
_MOST_CHANNELS = 8
_SILENT = 10 ** (-60 / 20)
"""Root mean square of the loudest 20 ms [1 = full scale] below which nothing was recorded."""
_FRAME_S = 0.02
_LONE_CHANNEL = 0.25
"""A mean of channels weaker than this part of the loudest one means that they cancel out: then the loudest is taken."""
_UNTOLD = 0x7FFF_0000
"""Programs that write into a pipe cannot know the length; they leave 0 or a huge number."""
_ENDLESS = 0x7FFF_FFFF_FFFF_FFFF
"""What libsndfile answers for a length that the file does not tell."""
_OWNER_ONLY = 0o600
_AGAIN = "Record or copy it again."
_KINDS = "WAV and FLAC files are understood."

Samples = np.ndarray[Any, np.dtype[np.float32]]
Pcm = np.ndarray[Any, np.dtype[np.int16]]


def read_sound(path: Path, *, longest_s: float = LONGEST_S) -> bytes:
    """Return a file's sound as 16 kHz mono 16-bit samples.

    Parameters
    ----------
    path : Path
        A file of any kind, rate, width and number of channels that libsndfile reads.
    longest_s : float
        Longest sound accepted [s]; a longer file is refused after a look at its header.

    Raises
    ------
    SoundFileProblem
        The file is missing, unreadable, empty, no sound file, cut short, silent, too short or too long.
    """
    _check_file(path)
    try:
        with path.open("rb") as stream, soundfile.SoundFile(stream.fileno(), closefd=False) as sound:
            _check_header(path, sound, longest_s)
            samples = _read(path, sound)
    except soundfile.LibsndfileError as error:
        trouble = f"{path} is not a sound file that can be read: {error.error_string}"
        raise SoundFileProblem(trouble, _KINDS) from error
    except OSError as error:
        trouble = f"{path} cannot be read: {error.strerror}."
        raise SoundFileProblem(trouble) from error
    _check_level(path, samples)
    return to_pcm(samples)


def to_pcm(samples: Samples) -> bytes:
    """Return samples between -1 and 1 as 16-bit ones; what lies outside is clipped."""
    return np.round(np.clip(samples, -1.0, 1.0) * 32767.0).astype("<i2").tobytes()


def write_wav(path: Path, samples: Samples | Pcm, rate: int) -> None:
    """Write mono sound as a 16-bit WAV file that its owner alone can read.

    Raises
    ------
    SoundFileProblem
        The file cannot be written.
    """
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, _OWNER_ONLY)
        with os.fdopen(handle, "wb") as stream:
            os.fchmod(handle, _OWNER_ONLY)
            soundfile.write(stream, samples, rate, subtype="PCM_16", format="WAV")
    except (OSError, soundfile.LibsndfileError) as error:
        trouble = f"{path} cannot be written: {getattr(error, 'strerror', None) or error}."
        raise SoundFileProblem(trouble, "Choose a folder that exists and that you may write to.") from error


def _check_file(path: Path) -> None:
    try:
        if path.is_dir():
            trouble = f"{path} is a folder, not a sound file."
            raise SoundFileProblem(trouble, "Name one file in it.")
        if not path.exists():
            trouble = f"{path} does not exist."
            raise SoundFileProblem(trouble, "Check the name and the folder.")
        if not path.is_file():
            trouble = f"{path} is not a plain file."
            raise SoundFileProblem(trouble, _KINDS)
        size = path.stat().st_size
    except (OSError, ValueError) as error:
        # A name with a zero byte in it, or longer than the file system takes.
        trouble = f"{str(path)[:80]!r} is not a usable file name: {getattr(error, 'strerror', None) or error}."
        raise SoundFileProblem(trouble) from error
    if not size:
        trouble = f"{path} is empty."
        raise SoundFileProblem(trouble, _AGAIN)


def _check_header(path: Path, sound: soundfile.SoundFile, longest_s: float) -> None:
    if sound.samplerate not in _RATES:
        trouble = f"{path} claims {sound.samplerate:,} samples a second; {_RATES.start:,} to {_RATES[-1]:,} are usable."
        raise SoundFileProblem(trouble, _AGAIN)
    if sound.channels > _MOST_CHANNELS:
        trouble = f"{path} claims {sound.channels} channels; at most {_MOST_CHANNELS} are usable."
        raise SoundFileProblem(trouble, _AGAIN)
    seconds = sound.frames / sound.samplerate
    if sound.frames == _ENDLESS:
        trouble = f"{path} does not tell its length: it was written into a pipe."
        raise SoundFileProblem(trouble, "Write it straight into a file.")
    if seconds > longest_s:
        trouble = f"{path} lasts {_spell(seconds)}; {_spell(longest_s)} at most are listened to."
        raise SoundFileProblem(trouble, "Cut out the part with the load in it.")
    # libsndfile silently takes what a WAV file still holds; half a weight must not pass for a whole one.
    told = _wav_bytes(path)
    if told and told[1] < told[0]:
        trouble = f"{path} is cut short: it holds {told[1]:,} of the {told[0]:,} bytes of sound that it announces."
        raise SoundFileProblem(trouble, _AGAIN)
    if seconds < SHORTEST_S:
        trouble = f"{path} is too short to hold a word: {seconds:.2f} seconds."
        raise SoundFileProblem(trouble, _AGAIN)


def _read(path: Path, sound: soundfile.SoundFile) -> Samples:
    resampler = soxr.ResampleStream(sound.samplerate, RATE, 1, dtype="float32")
    made: list[Samples] = []
    frames = 0
    try:
        for block in sound.blocks(sound.samplerate, dtype="float32", always_2d=True):
            frames += len(block)
            made.append(resampler.resample_chunk(np.nan_to_num(_mono(block), posinf=1.0, neginf=-1.0)))
    except soundfile.LibsndfileError as error:
        trouble = f"{path} is damaged after {frames / sound.samplerate:.1f} seconds: {error.error_string}"
        raise SoundFileProblem(trouble, _AGAIN) from error
    if frames < sound.frames:
        got, told = (count / sound.samplerate for count in (frames, sound.frames))
        trouble = f"{path} is cut short: it holds {got:.1f} of the {told:.1f} seconds that it announces."
        raise SoundFileProblem(trouble, _AGAIN)
    made.append(resampler.resample_chunk(np.zeros(0, np.float32), last=True))
    return np.concatenate(made)


def _mono(block: Samples) -> Samples:
    mean: Samples = block.mean(axis=1)
    loudest: Samples = block[:, np.abs(block).sum(axis=0).argmax()]
    return loudest if np.abs(mean).sum() < _LONE_CHANNEL * np.abs(loudest).sum() else mean


def _check_level(path: Path, samples: Samples) -> None:
    frame = int(RATE * _FRAME_S)
    whole = samples[: len(samples) // frame * frame].reshape(-1, frame)
    steady = whole - samples.mean(dtype=np.float64)
    level = float(np.sqrt((steady * steady).mean(axis=1)).max(initial=0.0))
    if level < _SILENT:
        trouble = f"{path} is silent: nothing in it is as loud as a whisper."
        raise SoundFileProblem(trouble, "Check that the microphone was on, and record it again.")


def _wav_bytes(path: Path) -> tuple[int, int] | None:
    """Return how many bytes of sound a WAV file announces and holds, or None where it does not tell."""
    with path.open("rb") as stream:
        if stream.read(4) != b"RIFF" or stream.read(8)[4:] != b"WAVE":
            return None
        while len(head := stream.read(8)) == 8:  # noqa: PLR2004 - a chunk's name and size
            name, size = struct.unpack("<4sI", head)
            if name == b"data":
                held = path.stat().st_size - stream.tell()
                return (size, held) if 0 < size < _UNTOLD else None
            stream.seek(size + size % 2, os.SEEK_CUR)
    return None


def _spell(seconds: float) -> str:
    whole = round(seconds)
    return f"{whole // 60} minutes" if whole >= 120 else f"{whole} seconds"  # noqa: PLR2004 - below two minutes, seconds say more
