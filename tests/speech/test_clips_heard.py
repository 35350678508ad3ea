"""The spoken clips through the whole ear: each must come to the load its manifest names, nineteen in twenty at least.

`python -m tests.bench` gives the exact share; this guards against a grammar that has grown deaf.
"""

import datetime as dt
from pathlib import Path

import pytest
import yaml

from assistant.conversation import Conversation
from assistant.edges.hearing import open_ear
from assistant.edges.sound_files import read_sound
from assistant.kit import read_kit
from assistant.reply import reply
from assistant.say.machine import as_json
from tests.speech.expected import as_expected

CLIPS = Path(__file__).parents[2] / "audio_fixtures"
ENTRIES = yaml.safe_load((CLIPS / "manifest.yaml").read_text(encoding="utf-8"))["clips"]
KIT = read_kit(dt.date(2026, 11, 25))


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: Path(entry["file"]).stem)
def test_a_clips_words_typed_come_to_what_its_manifest_names(entry: dict[str, object]) -> None:
    answer, _ = reply(str(entry["words"]), Conversation(gear=KIT.sample_gear), kit=KIT)
    assert as_expected(entry, answer.intent, as_json(answer)["load"])


@pytest.mark.model
def test_clips_are_heard_right_nineteen_times_in_twenty_and_never_wrong_in_a_number_unasked(model_path: Path) -> None:
    ear = open_ear(KIT, model_path)
    wrong, unasked = [], []
    for entry in ENTRIES:
        conversation = Conversation(gear=KIT.sample_gear)
        utterance = ear.hear(read_sound(CLIPS / entry["file"]), conversation)
        answer, _ = reply(utterance.text, conversation, kit=KIT, unsure=utterance.unsure, hazy=utterance.hazy)
        if as_expected(entry, answer.intent, as_json(answer)["load"]):
            continue
        wrong.append(entry["file"])
        numbers = [
            [word for word in said.split() if KIT.understander.is_number_word(word)]
            for said in (entry["words"], utterance.text)
        ]
        if numbers[0] != numbers[1] and answer.understood and not answer.confirm:
            unasked.append(entry["file"])
    assert len(ENTRIES) >= 60
    assert len(wrong) <= 0.05 * len(ENTRIES), wrong
    assert not unasked
