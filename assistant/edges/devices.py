"""The `sounddevice` package, loaded late, and its refusals in words."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

from assistant.edges.problem import Problem

_INSTALL = (
    "Install it: `sudo apt install libportaudio2` on Debian and Ubuntu, `sudo dnf install portaudio` on Fedora,"
    " `sudo pacman -S portaudio` on Arch. Sound files and typing work without it."
)


def load(kind: type[Problem]) -> Any:  # noqa: ANN401 - sounddevice ships no types
    """Return the `sounddevice` module, or raise a problem of the given kind that says what to install."""
    try:
        with quiet():
            return import_module("sounddevice")  # here, as it asks the sound system for all devices
    except ImportError as error:
        trouble = f"The sounddevice package cannot be loaded: {error}."
        raise kind(trouble, "Install it with `pip install sounddevice`.") from error
    except OSError as error:
        trouble = f"The sound library cannot be used: {error}."
        raise kind(trouble, _INSTALL) from error


@contextmanager
def quiet() -> Iterator[None]:
    """Keep the sound libraries' own diagnostics off the screen while a device is opened: we say what failed."""
    try:
        kept = os.dup(2)
    except OSError:
        # Started with standard error closed: there is no screen to keep clean.
        yield
        return
    if sys.stderr:
        sys.stderr.flush()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(nowhere)
        os.close(kept)
