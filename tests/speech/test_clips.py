"""The spoken clips are what their manifest says, and what they expect can be told of a load."""

import hashlib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import soundfile as sf
import vosk
import yaml

from assistant.load.model import Load

FOLDER = Path(__file__).parents[2] / "audio_fixtures"
CLIPS: list[dict[str, Any]] = yaml.safe_load((FOLDER / "manifest.yaml").read_text(encoding="utf-8"))["clips"]
INTENTS = {"check", "how many", "why", "read back", "repeat", "undo", "start over", "stop", "help", "quiz", "note"}
INTENTS |= {"next stop", "holds"}

each_clip = pytest.mark.parametrize("clip", CLIPS, ids=[clip["file"] for clip in CLIPS])


def test_at_least_sixty_clips_from_at_least_four_voices() -> None:
    voices = Counter(clip["voice"] for clip in CLIPS)
    assert len(CLIPS) >= 60
    assert len(voices) >= 4
    assert min(voices.values()) >= 5


def test_every_intent_is_spoken() -> None:
    assert {clip["intent"] for clip in CLIPS if "intent" in clip} == INTENTS


def test_every_file_is_listed_once() -> None:
    files = {path.name for path in FOLDER.iterdir() if path.suffix in {".flac", ".wav"}}
    assert sorted(clip["file"] for clip in CLIPS) == sorted(files)


@each_clip
def test_file_is_the_one_listed(clip: dict[str, Any]) -> None:
    assert hashlib.sha256((FOLDER / clip["file"]).read_bytes()).hexdigest() == clip["sha256"]


@each_clip
def test_file_is_short_16_khz_mono_16_bit(clip: dict[str, Any]) -> None:
    info = sf.info(FOLDER / clip["file"])
    assert (info.samplerate, info.channels, info.subtype) == (16_000, 1, "PCM_16")
    assert 0.5 < info.duration < 15


@each_clip
def test_words_are_bare_words(clip: dict[str, Any]) -> None:
    assert clip["words"].replace(" ", "").replace("'", "").isalpha()
    assert clip["words"] == clip["words"].lower()


@each_clip
def test_expected_is_a_load_or_an_intent(clip: dict[str, Any]) -> None:
    assert ("expected" in clip) != ("intent" in clip)
    if "expected" in clip:
        assert Load.model_validate(clip["expected"]) != Load()


@pytest.mark.model
def test_the_model_has_every_word(model: vosk.Model) -> None:
    words = {word for clip in CLIPS for word in clip["words"].split()}
    assert {word for word in words if model.vosk_model_find_word(word) < 0} == set()
