"""The check-up: what is present for listening, speaking and keeping, and what to do about what is not."""

import platform
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from assistant.edges import devices
from assistant.edges.gear_file import gear_path
from assistant.edges.model_record import content_faults, recorded
from assistant.edges.model_store import FETCH_REMEDY, find_model, given_path
from assistant.edges.notebook import notebook_path, program_version
from assistant.edges.problem import ModelMissing, NoLoudspeaker, NoMicrophone, Problem
from assistant.edges.recognizer import Recognizer
from assistant.edges.voice import Silent, choose_voice

_PACKAGES = ("vosk", "sounddevice", "soundfile", "soxr", "hibari-tts", "onnxruntime", "numpy", "pydantic", "pint")


@dataclass(frozen=True)
class Looked:
    """One thing looked at. `essential` things that are not `well` keep Deckside from listening at all."""

    what: str
    well: bool
    found: str
    essential: bool = False

    @property
    def line(self) -> str:
        """The thing as one line for the screen."""
        mark = "ok" if self.well else "MISSING" if self.essential else "note"
        return f"{mark:<8}{self.what + ':':<16}{self.found}"


def check_up(given: Path | None = None) -> tuple[list[str], bool]:
    """Return what was found, a line each, and whether listening to a sound file will work.

    No microphone, loudspeaker or voice is no failure: sound files and typing work without.

    Parameters
    ----------
    given : Path or None
        The folder of a speech model that the user names.
    """
    looks = list(_looks(given))
    ok = all(look.well for look in looks if look.essential)
    verdict = "Ready to listen." if ok else "Not ready to listen: see what is MISSING above. Typing works."
    return [*(look.line for look in looks), verdict], ok


def _looks(given: Path | None) -> Iterator[Looked]:
    yield Looked("Deckside", well=True, found=f"{program_version()} on Python {platform.python_version()}")
    yield from (_package(name) for name in _PACKAGES)
    yield _told("speech model", lambda: _model(given), essential=True)
    yield _told("voice", _voice)
    yield _told("sound library", lambda: str(devices.load(Problem).get_portaudio_version()[1]))
    yield _told("microphone", lambda: _device("input", NoMicrophone))
    yield _told("loudspeaker", lambda: _device("output", NoLoudspeaker))
    yield _told("notebook", lambda: _place(notebook_path()))
    yield _told("gear list", lambda: _place(gear_path()))


def _package(name: str) -> Looked:
    try:
        return Looked(name, well=True, found=version(name))
    except PackageNotFoundError:
        return Looked(name, well=False, found=f"not installed. Install it with `pip install {name}`.")


def _told(what: str, look: Callable[[], str], *, essential: bool = False) -> Looked:
    try:
        return Looked(what, well=True, found=look(), essential=essential)
    except Problem as problem:
        return Looked(what, well=False, found=str(problem), essential=essential)


def _model(given: Path | None) -> str:
    notices: list[str] = []
    folder = find_model(given, say=notices.append)
    faults = content_faults(folder, recorded())
    if faults and not given_path(given):
        trouble = f"The speech model in {folder} is damaged: {'; '.join(faults)}."
        raise ModelMissing(trouble, FETCH_REMEDY)
    # Loaded as well: a whole model helps nothing where the library does not run.
    Recognizer(folder).prepare(None)
    if faults:
        return " ".join(notices) or f"not the recorded one, as you chose: {folder} ({'; '.join(faults)})"
    return f"{recorded().name}, every file as recorded, in {folder}"


def _voice() -> str:
    voice = choose_voice()
    list(voice.samples("Ready."))
    if isinstance(voice, Silent):
        raise Problem(voice.notice)
    return voice.name


def _device(kind: str, problem: type[Problem]) -> str:
    sounddevice = devices.load(problem)
    try:
        found = sounddevice.query_devices(kind=kind)
    except (sounddevice.PortAudioError, ValueError) as error:
        trouble = f"None was found ({error})."
        raise problem(trouble, "Plug one in if you want it; sound files and typing work without.") from error
    return str(found["name"])


def _place(path: Path) -> str:
    return f"{path}{'' if path.exists() else ' (not begun yet)'}"
