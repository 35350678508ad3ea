"""How widely the recognizer searches: the model's own files, with other settings for the search.

The settings that come with the model suit a telephone. Noise makes the right words look unlikely for a while, and a
narrow search has dropped them by then. They stand in one small file of the model's folder, which is left as it is: a
folder beside it links to the same files and has settings of its own.
"""

import hashlib
import re
import shutil
from pathlib import Path

from assistant.edges.places import PlaceProblem, cache_dir

_SETTINGS = Path("conf") / "model.conf"
_WIDER = {"beam": "13.0", "lattice-beam": "6.0", "max-active": "7000"}
"""Measured on the speech bench: one to three more of a hundred utterances right at 10 dB and below, for half as much
time again."""


def searching_widely(model: Path) -> Path:
    """Return a folder with the same model that is searched more widely; the model itself where none can be made.

    Parameters
    ----------
    model
        The model's folder.
    """
    try:
        settings = (model / _SETTINGS).read_text(encoding="utf-8")
        wider = settings
        for name, value in _WIDER.items():
            wider = re.sub(rf"^--{name}=.*$", f"--{name}={value}", wider, flags=re.MULTILINE)
        if wider == settings:
            return model
        digest = hashlib.sha256(f"{model.resolve()}\n{wider}".encode()).hexdigest()[:16]
        folder = cache_dir() / "search" / digest
        if not folder.is_dir():
            _link(model.resolve(), folder, wider)
    except (OSError, PlaceProblem):  # no links, no room or no folder of ours
        return model
    return folder


def _link(model: Path, folder: Path, settings: str) -> None:
    fresh = folder.with_suffix(".new")
    shutil.rmtree(fresh, ignore_errors=True)
    fresh.mkdir(parents=True, mode=0o700)
    for part in model.iterdir():
        if part.name != _SETTINGS.parent.name:
            (fresh / part.name).symlink_to(part, target_is_directory=part.is_dir())
    shutil.copytree(model / _SETTINGS.parent, fresh / _SETTINGS.parent)
    (fresh / _SETTINGS).write_text(settings, encoding="utf-8")
    fresh.replace(folder)
