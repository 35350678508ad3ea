"""The sound of a dictated note, kept beside the notebook where the driver wants it: one WAV file a note."""

import wave
from contextlib import suppress
from pathlib import Path

import numpy as np

from assistant.edges.places import data_dir
from assistant.edges.problem import Problem, SoundFileProblem
from assistant.edges.recognizer import RATE


def sound_path(number: int) -> Path:
    """Return where the sound of a note of this number is kept."""
    return data_dir() / "notes" / f"{number}.wav"


def keep_sound(number: int, pcm: bytes) -> Path:
    """Keep the sound of a note, readable by its owner alone; return its file.

    Parameters
    ----------
    number
        The note's number in the notebook.
    pcm
        16 kHz mono 16-bit sound.

    Raises
    ------
    Problem
        The file cannot be written: the note itself is kept all the same.
    """
    from assistant.edges.sound_files import write_wav  # noqa: PLC0415 - only who keeps sound waits for its library

    path = sound_path(number)
    try:
        path.parent.mkdir(mode=0o700, exist_ok=True)
        write_wav(path, np.frombuffer(pcm, np.int16), RATE)
    except (OSError, SoundFileProblem) as error:
        trouble = f"The note is kept, but its sound cannot be written to {path} ({error})."
        raise Problem(trouble, "Make room on the disk, or leave --keep-sound out.") from error
    return path


def sound_of(number: int) -> bytes:
    """Return the sound that is kept of a note; nothing where there is none."""
    with suppress(OSError, wave.Error, EOFError), wave.open(str(sound_path(number)), "rb") as file:
        return file.readframes(file.getnframes())
    return b""


def drop_sound(number: int) -> None:
    """Delete the sound of a note, if there is any."""
    with suppress(OSError):
        sound_path(number).unlink()
