"""A real capture device: PulseAudio's null sink "deck" plays a clip, its monitor is the default microphone.

`.ci/run` starts such a server and demands these tests; elsewhere they are skipped where there is none.
"""

import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
import soundfile

from assistant.edges.loudspeaker import play
from assistant.edges.microphone import Microphone, hands_free, held
from assistant.edges.problem import MicrophoneLost, NoMicrophone
from assistant.edges.recognizer import Recognizer
from tests.edges.fakes import CLIPS

pytestmark = [pytest.mark.microphone, pytest.mark.model]

CLIP = CLIPS / "heart_01_forty_thousand_coil_four_chains.flac"
SAID = "forty thousand pound coil four chains and a strap"
PHRASES = (SAID, "forty two five", "take off the strap")


def pactl(*words: str) -> str:
    done = subprocess.run(["pactl", *words], check=True, capture_output=True, text=True, timeout=10)  # noqa: S603, S607 - the system's own
    return done.stdout.strip()


@pytest.fixture(scope="module", autouse=True)
def _server() -> None:
    try:
        missing = "" if "\tdeck\t" in pactl("list", "short", "sinks") else "the sound server has no sink named deck"
        missing = missing or (
            "" if pactl("get-default-source") == "deck.monitor" else "deck.monitor is not the default"
        )
    except (OSError, subprocess.SubprocessError) as error:
        missing = f"no PulseAudio server answers ({error})"
    if missing and os.environ.get("DECKSIDE_REQUIRE_MICROPHONE") == "1":
        pytest.fail(missing)
    if missing:
        pytest.skip(missing)


@pytest.fixture(scope="module")
def ear(model_path: Path) -> Recognizer:
    recognizer = Recognizer(model_path)
    recognizer.prepare(PHRASES)
    return recognizer


@pytest.fixture
def clip(tmp_path: Path) -> Path:
    samples, rate = soundfile.read(CLIP, dtype="int16")
    soundfile.write(tmp_path / "clip.wav", samples, rate)
    return tmp_path / "clip.wav"


def playing(clip: Path, then: threading.Event | None = None) -> threading.Thread:
    def run() -> None:
        subprocess.run(["paplay", "--device=deck", clip], check=True, timeout=60)  # noqa: S603, S607 - the system's own
        if then:
            then.set()

    thread = threading.Thread(target=run)
    thread.start()
    return thread


def test_a_clip_is_heard_hands_free(ear: Recognizer, clip: Path) -> None:
    with Microphone() as microphone:
        thread = playing(clip)
        heard = next(hands_free(microphone, lambda: ear.stream(PHRASES)))
        thread.join()
    assert heard.text == SAID


def test_a_clip_is_heard_while_a_key_is_held(ear: Recognizer, clip: Path) -> None:
    with Microphone(deaf=True) as microphone:
        microphone.resume()
        played = threading.Event()
        thread = playing(clip, played)

        def let_go() -> None:
            played.wait(60)
            # The server still holds some of what paplay has handed over.
            threading.Event().wait(0.5)
            microphone.pause()

        threading.Thread(target=let_go).start()
        heard = held(microphone, ear.stream(PHRASES))
        thread.join()
    assert heard.text == SAID


def test_the_loudspeaker_is_heard_by_the_microphone(ear: Recognizer) -> None:
    samples, rate = soundfile.read(CLIP, dtype="float32")
    with Microphone() as microphone:
        thread = threading.Thread(target=play, args=(iter([samples]), rate))
        thread.start()
        heard = next(hands_free(microphone, lambda: ear.stream(PHRASES)))
        thread.join()
    assert heard.text == SAID


def test_the_microphone_hears_nothing_while_it_is_paused(ear: Recognizer, clip: Path) -> None:
    with Microphone(deaf=True) as microphone:
        playing(clip).join()
        microphone.resume()
        thread = playing(clip)
        heard = next(hands_free(microphone, lambda: ear.stream(PHRASES)))
        thread.join()
    assert heard.text == SAID


def test_what_is_said_into_the_microphone_is_answered(clip: Path, model_path: Path, tmp_path: Path) -> None:
    environment = {**os.environ, "DECKSIDE_MODEL": str(model_path), "DECKSIDE_HOME": str(tmp_path / "home")}
    command = [sys.executable, "-m", "assistant.cli", "chat", "--voice", "silent"]
    with subprocess.Popen(  # noqa: S603 - our own command
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment
    ) as chat:
        assert chat.stdin
        assert chat.stdout
        lines = iter(chat.stdout.readline, "")
        assert any("Listening on" in line for line in lines)
        thread = playing(clip)
        assert any(SAID in line for line in lines)
        # Half of 40,000 lb; 4 x 6,600 lb (49 CFR 393.108, read) and a strap marked 5,400 lb.
        assert any("need 20,000 lb    have 31,800 lb" in line for line in lines)
        thread.join()
        chat.stdin.write("good bye\n")
        chat.stdin.close()
        assert any("Good bye" in line for line in lines)
    assert chat.returncode == 0


@pytest.fixture
def only_microphone() -> Iterator[str]:
    """Give the number that unplugs the server's only microphone; plug it in again afterwards."""
    if os.environ.get("DECKSIDE_REQUIRE_MICROPHONE") != "1":
        pytest.skip("only a server started for these tests may lose its microphone")
    rows = [row.split("\t") for row in pactl("list", "short", "modules").splitlines()]
    number, name, told = next(row[:3] for row in rows if "sink_name=deck" in row[2])
    yield number
    pactl("load-module", name, *told.split())
    pactl("set-default-source", "deck.monitor")


def test_a_microphone_unplugged_midway_is_told(only_microphone: str) -> None:
    with Microphone() as microphone:
        blocks = microphone.blocks()
        assert next(blocks)
        pactl("unload-module", only_microphone)
        with pytest.raises(MicrophoneLost, match="Typing goes on"):
            list(blocks)
    with pytest.raises(NoMicrophone), Microphone():
        pass


def test_a_microphone_plugged_in_again_is_heard_again(ear: Recognizer, clip: Path) -> None:
    with Microphone() as microphone:
        thread = playing(clip)
        assert next(hands_free(microphone, lambda: ear.stream(PHRASES))).text == SAID
        thread.join()
