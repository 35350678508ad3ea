"""The model store: whole or not at all, each route in its turn, and every refusal in words."""

import hashlib
import os
import signal
import stat
import subprocess
import sys
import textwrap
import threading
import zipfile
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import pytest

from assistant.edges import model_routes, model_store
from assistant.edges.model_record import Record, RecordedFile, content_faults, recorded
from assistant.edges.model_routes import RouteFailed, Say, from_maven, from_vosk
from assistant.edges.model_store import fetch_model, find_model, ready_model
from assistant.edges.problem import ModelMissing

CONTENT = {"am/final.mdl": b"acoustic" * 1000, "graph/Gr.fst": b"grammar" * 1000, "conf/model.conf": b"--beam=10.0\n"}
ARCHIVE_FOLDER = "assets/small"


def record_of(content: dict[str, bytes]) -> Record:
    return Record(
        name="small-model",
        maven="org.example:small-model:1:aar",
        maven_folder=ARCHIVE_FOLDER,
        download_size=15_000,
        files={name: RecordedFile(len(data), hashlib.sha256(data).hexdigest()) for name, data in content.items()},
    )


RECORD = record_of(CONTENT)


def lay(folder: Path, content: dict[str, bytes] = CONTENT) -> Path:
    for name, data in content.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return folder


def brings(content: dict[str, bytes] = CONTENT) -> Callable[[Path, Record, Say], Path]:
    return lambda temporary, _record, _say: lay(temporary / "arrived", content)


def fails(temporary: Path, record: Record, say: Say) -> Path:  # noqa: ARG001 - a route's signature
    message = "there is no network"
    raise RouteFailed(message)


def archive(path: Path, content: dict[str, bytes] = CONTENT) -> Path:
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("AndroidManifest.xml", "")
        for name, data in content.items():
            packed.writestr(f"{ARCHIVE_FOLDER}/{name}", data)
    return path


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv("DECKSIDE_MODEL", raising=False)
    monkeypatch.setattr(model_store, "recorded", lambda: RECORD)
    return tmp_path / "model"


@pytest.fixture
def said() -> list[str]:
    return []


def test_the_record_names_every_file_that_recognition_reads() -> None:
    folders = {name.split("/")[0] for name in recorded().files}
    assert folders == {"am", "conf", "graph", "ivector"}
    assert recorded().maven == "com.alphacephei:vosk-model-en:0.3.45:aar"


# Looking, without a network.


def test_a_missing_model_is_told_with_its_remedy(home: Path) -> None:
    with pytest.raises(ModelMissing, match="not on this machine") as missing:
        find_model(home=home)
    assert "deckside fetch-model" in missing.value.remedy


def test_a_whole_model_is_found_by_its_sizes_alone(home: Path) -> None:
    folder = lay(home / "small-model")
    assert find_model(home=home) == folder


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (CONTENT | {"graph/Gr.fst": b"half"}, r"graph/Gr\.fst has 4 bytes instead of 7,000"),
        ({name: data for name, data in CONTENT.items() if name != "am/final.mdl"}, r"am/final\.mdl is missing"),
    ],
)
def test_a_damaged_model_is_told_by_file(home: Path, content: dict[str, bytes], told: str) -> None:
    lay(home / "small-model", content)
    with pytest.raises(ModelMissing, match=told):
        find_model(home=home)


def test_a_changed_byte_shows_only_when_every_byte_is_read(home: Path) -> None:
    folder = lay(home / "small-model", CONTENT | {"graph/Gr.fst": b"Grammar" * 1000})
    assert find_model(home=home) == folder
    assert content_faults(folder, RECORD) == ["graph/Gr.fst differs from the recorded SHA-256"]


def test_a_folder_the_user_names_goes_before_the_cache(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay(home / "small-model")
    argument, environment = lay(tmp_path / "argument"), lay(tmp_path / "environment")
    monkeypatch.setenv("DECKSIDE_MODEL", str(environment))
    assert find_model(home=home) == environment
    assert find_model(argument, home=home) == argument


def test_a_named_folder_that_is_none_is_never_replaced_by_another(home: Path, tmp_path: Path) -> None:
    lay(home / "small-model")
    with pytest.raises(ModelMissing, match="is not a folder"):
        ready_model(tmp_path / "nowhere", home=home)


def test_a_named_model_that_cannot_be_loaded_is_told_and_not_crashed_on(home: Path, tmp_path: Path) -> None:
    folder = lay(tmp_path / "other", {"am/final.mdl": b"no model"})
    with pytest.raises(ModelMissing, match="cannot be loaded"):
        find_model(folder, home=home)


@pytest.mark.model
def test_another_model_that_loads_is_used_with_a_notice(home: Path, model_path: Path, said: list[str]) -> None:
    assert find_model(model_path, say=said.append, home=home) == model_path
    assert said == [
        f"The speech model in {model_path} is not the recorded small-model. It is used because you chose it."
    ]


# Fetching.


def test_routes_are_tried_in_their_order_and_their_failures_told(home: Path, said: list[str]) -> None:
    folder = fetch_model(said.append, home=home, record=RECORD, routes=[fails, brings()])
    assert folder == home / "small-model"
    assert content_faults(folder, RECORD) == []
    assert "One way to the speech model did not work: there is no network." in said


def test_only_the_owner_can_read_what_was_fetched(home: Path, said: list[str]) -> None:
    folder = fetch_model(said.append, home=home, record=RECORD, routes=[brings()])
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE(home.stat().st_mode) == 0o700


def test_nothing_is_fetched_while_the_model_lies_whole(home: Path, said: list[str]) -> None:
    lay(home / "small-model")
    assert fetch_model(said.append, home=home, record=RECORD, routes=[fails]) == home / "small-model"


def test_when_no_route_works_every_reason_and_a_remedy_are_given(home: Path, said: list[str]) -> None:
    with pytest.raises(ModelMissing, match="there is no network; there is no network") as missing:
        fetch_model(said.append, home=home, record=RECORD, routes=[fails, fails])
    assert "--model" in missing.value.remedy
    assert list(home.iterdir()) == [home / "fetching.lock"]


def test_a_download_that_arrives_damaged_is_tried_once_more(home: Path, said: list[str]) -> None:
    arrivals = [CONTENT | {"am/final.mdl": b"torn"}, CONTENT]
    fetch_model(
        said.append, home=home, record=RECORD, routes=[lambda temporary, *_: lay(temporary / "it", arrivals.pop(0))]
    )
    assert any(text.startswith("Trying again: what arrived is not the recorded model: am/final.mdl") for text in said)


def test_another_model_than_the_recorded_one_is_never_installed(home: Path, said: list[str]) -> None:
    other = CONTENT | {"graph/Gr.fst": b"Grammar" * 1000}
    with pytest.raises(ModelMissing, match=r"graph/Gr\.fst differs"):
        fetch_model(said.append, home=home, record=RECORD, routes=[brings(other)])
    assert not (home / "small-model").exists()


def test_a_damaged_model_is_told_and_fetched_again(
    home: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lay(home / "small-model", CONTENT | {"graph/Gr.fst": b""})
    monkeypatch.setattr(
        model_store,
        "fetch_model",
        lambda say, *, home: fetch_model(say, home=home, record=RECORD, routes=[brings()]),
    )
    folder = ready_model(say=said.append, home=home)
    assert content_faults(folder, RECORD) == []
    assert "is damaged: graph/Gr.fst has 0 bytes instead of 7,000" in said[0]
    assert sorted(path.name for path in home.iterdir()) == ["fetching.lock", "small-model"]


def test_a_cache_that_cannot_be_written_is_told(tmp_path: Path, said: list[str]) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(ModelMissing, match="could not be kept in"):
        fetch_model(said.append, home=tmp_path / "file" / "model", record=RECORD, routes=[brings()])


def test_of_two_that_fetch_at_once_the_second_uses_what_the_first_brought(home: Path) -> None:
    begun, go_on = threading.Event(), threading.Event()

    def slowly(temporary: Path, _record: Record, _say: Say) -> Path:
        begun.set()
        go_on.wait(30)
        return lay(temporary / "arrived")

    first = threading.Thread(
        target=fetch_model, args=(lambda _: None,), kwargs={"home": home, "record": RECORD, "routes": [slowly]}
    )
    first.start()
    assert begun.wait(30)

    def say(text: str) -> None:
        if "waiting" in text:
            go_on.set()

    assert fetch_model(say, home=home, record=RECORD, routes=[fails]) == home / "small-model"
    first.join()


def test_a_killed_fetch_leaves_no_model_and_the_next_one_clears_up(home: Path, said: list[str]) -> None:
    program = textwrap.dedent("""
        import sys, time
        from pathlib import Path
        from assistant.edges.model_record import Record, RecordedFile
        from assistant.edges.model_store import fetch_model

        def half(temporary, record, say):
            (temporary / "half").mkdir()
            (temporary / "half" / "final.mdl").write_bytes(b"half")
            print("half", flush=True)
            time.sleep(600)

        record = Record("small-model", "", "", 1, {"final.mdl": RecordedFile(8, "")})
        fetch_model(lambda text: None, home=Path(sys.argv[1]), record=record, routes=[half])
    """)
    with subprocess.Popen([sys.executable, "-c", program, str(home)], stdout=subprocess.PIPE, text=True) as process:  # noqa: S603 - this Python, a text of our own
        assert process.stdout is not None
        assert process.stdout.readline() == "half\n"
        process.send_signal(signal.SIGKILL)
    assert not (home / "small-model").exists()
    assert list(home.glob("fetching-*"))
    fetch_model(said.append, home=home, record=RECORD, routes=[brings()])
    assert sorted(path.name for path in home.iterdir()) == ["fetching.lock", "small-model"]


# The vosk package's route.


def test_a_model_in_the_vosk_packages_own_folder_is_copied(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lay(tmp_path / "kept" / "small-model")
    monkeypatch.setattr(import_module("vosk"), "MODEL_DIRS", [None, tmp_path / "nowhere", tmp_path / "kept"])
    folder = fetch_model(said.append, home=home, record=RECORD, routes=[from_vosk])
    assert content_faults(folder, RECORD) == []
    assert (tmp_path / "kept" / "small-model").exists()


def test_the_vosk_packages_downloader_works_in_our_temporary_folder(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with zipfile.ZipFile(tmp_path / "served.zip", "w") as packed:
        for name, data in CONTENT.items():
            packed.writestr(f"small-model/{name}", data)
    asked: list[str] = []

    def urlretrieve(url: str, filename: str, **_: object) -> None:
        asked.append(url)
        Path(filename).write_bytes((tmp_path / "served.zip").read_bytes())

    vosk = import_module("vosk")
    monkeypatch.setattr(vosk, "MODEL_DIRS", [])
    monkeypatch.setattr(vosk, "urlretrieve", urlretrieve)
    folder = fetch_model(said.append, home=home, record=RECORD, routes=[from_vosk])
    assert content_faults(folder, RECORD) == []
    assert [url.rsplit("/", 1)[1] for url in asked] == ["small-model.zip"]


@pytest.mark.parametrize("error", [OSError("no route to host"), TimeoutError("timed out"), zipfile.BadZipFile("torn")])
def test_a_downloader_that_fails_hands_over_to_the_next_route(
    home: Path, said: list[str], monkeypatch: pytest.MonkeyPatch, error: Exception
) -> None:
    def urlretrieve(*_: object, **__: object) -> None:
        raise error

    vosk = import_module("vosk")
    monkeypatch.setattr(vosk, "MODEL_DIRS", [])
    monkeypatch.setattr(vosk, "urlretrieve", urlretrieve)
    fetch_model(said.append, home=home, record=RECORD, routes=[from_vosk, brings()])
    assert any(str(error) in text for text in said)


# Maven's route, with a stand-in for the command.


def install_mvn(folder: Path, script: str, monkeypatch: pytest.MonkeyPatch) -> None:
    folder.mkdir()
    command = folder / "mvn"
    command.write_text(f"#!{sys.executable}\n{textwrap.dedent(script)}")
    command.chmod(0o755)
    monkeypatch.setenv("PATH", f"{folder}{os.pathsep}{os.environ['PATH']}")


COPY = """
    import pathlib, shutil, sys
    told = dict(word[2:].split("=", 1) for word in sys.argv if word.startswith("-D"))
    assert told["artifact"] == "org.example:small-model:1:aar", told
    assert any(word.endswith(":copy") for word in sys.argv)
    kept = pathlib.Path(told["maven.repo.local"], "org", "example")
    kept.mkdir(parents=True)
    shutil.copy("{served}", kept / "small-model-1.aar")
    target = pathlib.Path(told["outputDirectory"])
    target.mkdir()
    shutil.copy("{served}", target / "small-model-1.aar")
"""


def test_maven_brings_the_archive_and_only_the_recorded_files_are_taken(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    served = archive(tmp_path / "served.aar", CONTENT | {"../../outside": b"escape"})
    install_mvn(tmp_path / "bin", COPY.format(served=served), monkeypatch)
    folder = fetch_model(said.append, home=home, record=RECORD, routes=[from_maven])
    assert content_faults(folder, RECORD) == []
    assert {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()} == set(CONTENT)
    assert sorted(path.name for path in home.iterdir()) == ["fetching.lock", "small-model"]


def test_an_archive_without_the_model_is_refused(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """An empty shell was once published under the same name."""
    install_mvn(tmp_path / "bin", COPY.format(served=archive(tmp_path / "served.aar", {})), monkeypatch)
    with pytest.raises(ModelMissing, match="damaged or of another kind"):
        fetch_model(said.append, home=home, record=RECORD, routes=[from_maven])


def test_mavens_own_error_is_passed_on(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    install_mvn(tmp_path / "bin", "print('[ERROR] Could not transfer artifact'); raise SystemExit(1)", monkeypatch)
    with pytest.raises(ModelMissing, match=r"Maven ended with code 1: \[ERROR\] Could not transfer artifact"):
        fetch_model(said.append, home=home, record=RECORD, routes=[from_maven])


def test_a_maven_that_stalls_is_ended(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(model_routes, "_STALL_S", 0.5)
    install_mvn(tmp_path / "bin", "import time; time.sleep(600)", monkeypatch)
    with pytest.raises(ModelMissing, match="Maven brought nothing for"):
        fetch_model(said.append, home=home, record=RECORD, routes=[from_maven])


def test_without_maven_the_route_says_so(
    home: Path, tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(ModelMissing, match=r"Maven \(the command mvn\) is not installed"):
        fetch_model(said.append, home=home, record=RECORD, routes=[from_maven])


# The command.


def test_the_command_prints_the_folder(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lay(home / "small-model")
    monkeypatch.setattr(model_store, "model_home", lambda: home)
    assert model_store.main([]) == 0
    assert capsys.readouterr().out == f"{home / 'small-model'}\n"
    assert model_store.main(["--model", str(tmp_path / "nowhere")]) == 1
    assert "is not a folder" in capsys.readouterr().err


@pytest.mark.model
def test_the_model_on_this_machine_is_the_recorded_one(model_path: Path) -> None:
    assert content_faults(model_path, recorded()) == []
