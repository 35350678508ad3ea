"""Where Deckside keeps its files: folders that their owner alone can read."""

import os
from pathlib import Path

import platformdirs

from assistant.edges.problem import Problem

HOME_VARIABLE = "DECKSIDE_HOME"
"""Environment variable that moves all folders below one folder of the user's choice."""

_APP = "deckside"
_OWNER_ONLY = 0o700


class PlaceProblem(Problem):
    """A folder of ours cannot be made or used."""


def data_dir() -> Path:
    """Return the folder for what must last: the notebook."""
    return _folder("data", platformdirs.user_data_path(_APP, appauthor=False))


def cache_dir() -> Path:
    """Return the folder for what can be fetched again: the speech model."""
    return _folder("cache", platformdirs.user_cache_path(_APP, appauthor=False))


def config_dir() -> Path:
    """Return the folder for what the driver edits: the gear list."""
    return _folder("config", platformdirs.user_config_path(_APP, appauthor=False))


def _folder(name: str, usual: Path) -> Path:
    home = os.environ.get(HOME_VARIABLE)
    path = Path(home).expanduser() / name if home else usual
    try:
        path.mkdir(mode=_OWNER_ONLY, parents=True, exist_ok=True)
        if path.stat().st_mode & ~_OWNER_ONLY & 0o777:
            path.chmod(_OWNER_ONLY)
    except OSError as error:
        trouble = f"The folder {path} cannot be made or used ({error.strerror})."
        raise PlaceProblem(trouble, f"Set {HOME_VARIABLE} to a folder of yours.") from error
    return path
