"""Weights put together from a person's recorded number words are decoded by a grammar of numbers alone."""

import json

import pytest
import vosk

from tests.speech import human

pytestmark = [
    pytest.mark.human,
    pytest.mark.model,
    pytest.mark.skipif(human.folder() is None, reason="asterisk-core-sounds-en-g722 or ffmpeg is not installed"),
]


def decoded(recognizer: vosk.KaldiRecognizer, pcm: bytes) -> str:
    recognizer.Reset()
    recognizer.AcceptWaveform(pcm)
    return str(json.loads(recognizer.FinalResult())["text"])


@pytest.fixture(scope="module")
def numbers(model: vosk.Model) -> vosk.KaldiRecognizer:
    every = [say(value) for form, say in human.FORMS.items() for value in human.values(form)]
    return vosk.KaldiRecognizer(model, human.RATE, json.dumps([*every, "[unk]"]))


@pytest.mark.parametrize("form", human.FORMS)
def test_a_persons_weights_are_heard_right_nineteen_times_in_twenty(numbers: vosk.KaldiRecognizer, form: str) -> None:
    said = human.weights(form)
    right = sum(decoded(numbers, human.speak_number(words, seed=seed)) == words for words, _, seed in said)
    assert len(said) == human.PER_FORM
    assert right >= 0.95 * len(said)


def test_the_same_seed_gives_the_same_sound() -> None:
    assert human.speak_number("forty two five", seed=3) == human.speak_number("forty two five", seed=3)
    assert human.speak_number("forty two five", seed=3) != human.speak_number("forty two five", seed=4)
