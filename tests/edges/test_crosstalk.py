"""Two voices at once are told from one, on the spoken clips and on their sums."""

from pathlib import Path

import numpy as np
import pytest
import yaml

from assistant.edges import crosstalk
from assistant.edges.loudness import signal_to_noise_db
from assistant.edges.sound_files import read_sound
from tests.speech import bad_input
from tests.speech.noise import diesel, mixed

CLIPS = Path(__file__).parents[2] / "audio_fixtures"
ENTRIES = yaml.safe_load((CLIPS / "manifest.yaml").read_text(encoding="utf-8"))["clips"]
SPEECH = read_sound(CLIPS / "demo.wav")


def two_voices(pcm: bytes) -> bool:
    return crosstalk.two_voices(pcm, signal_to_noise_db(pcm))


def test_hardly_any_clip_is_two_voices() -> None:
    found = [entry["file"] for entry in ENTRIES if two_voices(read_sound(CLIPS / entry["file"]))]
    assert len(found) <= len(ENTRIES) // 50, found


def test_of_clips_that_sound_at_once_more_than_half_are_two_voices() -> None:
    by_voice = {entry["voice"]: entry["file"] for entry in sorted(ENTRIES, key=lambda entry: len(entry["words"]))}
    sounds = [read_sound(CLIPS / longest) for longest in by_voice.values()]
    pairs = [bad_input.both(one, other) for place, one in enumerate(sounds) for other in sounds[:place]]
    assert sum(map(two_voices, pairs)) > len(pairs) / 2


@pytest.mark.parametrize("ratio", [0, 5, 10])
def test_an_engine_is_no_second_voice(ratio: float) -> None:
    assert not two_voices(mixed(SPEECH, diesel(len(SPEECH) // 2, seed=1), snr_db=ratio))


def test_any_sound_has_an_answer() -> None:
    loud = np.full(16_000, 32_767, np.int16).tobytes()
    assert not any(map(two_voices, (b"", bytes(100), bytes(32_000), loud, SPEECH[:1_001])))
