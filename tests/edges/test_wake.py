"""Sleeping and waking: alone, in one breath, on load talk, by silence, by a word; with pretended and real ears."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soxr

from assistant.edges import devices, microphone
from assistant.edges.ear import Ear
from assistant.edges.microphone import Microphone
from assistant.edges.recognizer import BYTES_PER_SECOND, RATE, Recognizer
from assistant.edges.sound_files import read_sound
from assistant.edges.voice import Hibari
from assistant.edges.wake import PHRASE, Wake, after_phrase, when_woken
from tests.edges.fakes import CLIPS, FakeListening, FakeSound

CALL = PHRASE.encode()


class Sitting:
    """A pretended microphone into which words are said, and what was made of them."""

    def __init__(self, sound: FakeSound, ear: Microphone, awake_s: float = 20.0) -> None:
        self.sound = sound
        self.ear = ear
        self.wake = Wake(awake_s=awake_s)
        self.woken: list[str] = []
        self.partly: list[str] = []
        self.heard = when_woken(
            ear, self.wake, FakeListening, FakeListening,
            woken=lambda: self.woken.append("woken"), partly=self.partly.append,
        )  # fmt: skip

    def says(self, *sentences: bytes) -> None:
        """Deliver sentences, each ended by silence."""
        for sentence in sentences:
            self.deliver(*(word.ljust(BYTES_PER_SECOND // 100) for word in sentence.split()), b".")

    def deliver(self, *blocks: bytes) -> None:
        """Deliver blocks as the device does."""
        assert self.sound.input is not None
        for block in blocks:
            self.sound.input.deliver(block)


@pytest.fixture
def sitting(monkeypatch: pytest.MonkeyPatch) -> Iterator[Sitting]:
    sound = FakeSound()
    monkeypatch.setattr(devices, "load", lambda _: sound)
    monkeypatch.setattr(microphone, "_LOOK_EVERY_S", 0.01)
    with Microphone() as ear:
        yield Sitting(sound, ear)


def test_load_talk_is_not_listened_to_while_it_sleeps(sitting: Sitting) -> None:
    sitting.says(b"four chains", b"okay", b"the deckhand says okay", CALL, b"six chains")
    assert next(sitting.heard).text == "six chains"
    assert sitting.woken == ["woken"]


def test_what_follows_in_the_same_breath_is_taken(sitting: Sitting) -> None:
    sitting.says(b"um " + CALL + b" four chains and a strap")
    assert next(sitting.heard).text == "four chains and a strap"
    assert sitting.woken == []
    assert sitting.wake.awake


def test_it_takes_one_utterance_after_another(sitting: Sitting) -> None:
    sitting.says(CALL + b" four chains", b"a strap", b"am i good")
    assert [next(sitting.heard).text for _ in range(3)] == ["four chains", "a strap", "am i good"]


def test_the_phrase_said_while_awake_is_no_answer(sitting: Sitting) -> None:
    """Its "okay" would be a yes."""
    sitting.says(CALL, CALL, CALL + b" four chains")
    assert next(sitting.heard).text == "four chains"
    assert sitting.woken == ["woken", "woken"]


def test_it_sleeps_after_silence_and_says_so(sitting: Sitting) -> None:
    sitting.wake.awake_s = 0.05
    sitting.says(CALL)
    sitting.deliver(b" " * 1600, b" " * 1600)
    sitting.says(b"nobody listens", CALL + b" four chains")
    assert next(sitting.heard).text == "four chains"
    assert sitting.partly[0] == ""


def test_silence_counts_from_the_last_word(sitting: Sitting) -> None:
    sitting.wake.awake_s = 0.08
    sitting.says(CALL)
    sitting.deliver(b" " * 1600, b"four", b" " * 1600, b" chains")
    sitting.deliver(b".")
    assert next(sitting.heard).text == "four chains"


def test_told_to_sleep_it_listens_for_the_phrase_alone(sitting: Sitting) -> None:
    sitting.says(CALL + b" go to sleep")
    assert next(sitting.heard).text == "go to sleep"
    sitting.wake.sleep()
    sitting.deliver(b" ")
    sitting.says(b"four chains", CALL + b" five chains")
    assert next(sitting.heard).text == "five chains"


def test_an_answer_while_it_sleeps_does_not_wake_it(sitting: Sitting) -> None:
    sitting.ear.pause()
    sitting.says(CALL + b" nobody")
    sitting.ear.resume()
    sitting.says(b"four chains", CALL + b" five chains")
    assert next(sitting.heard).text == "five chains"


# ---- with the speech model -------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def recognizer(model_path: Path) -> Recognizer:
    return Recognizer(model_path)


@pytest.mark.model
def test_the_phrase_is_made_of_the_models_words(recognizer: Recognizer) -> None:
    assert recognizer.words_missing(PHRASE.split()) == []


@pytest.mark.model
def test_no_recorded_load_talk_wakes_it(recognizer: Recognizer) -> None:
    clips = sorted(CLIPS.glob("*.flac"))
    assert len(clips) > 90
    woke = [clip.name for clip in clips if after_phrase(recognizer.listen(read_sound(clip), (PHRASE,)), PHRASE)]
    assert woke == []


@pytest.mark.model
@pytest.mark.parametrize("speed", [0.8, 1.0, 1.25])
def test_the_spoken_phrase_wakes_it_and_the_rest_is_heard_whole(recognizer: Recognizer, speed: float) -> None:
    voice = Hibari(speed)
    made = np.concatenate(list(voice.samples(f"{PHRASE}, four chains and a strap.")))
    pcm = (soxr.resample(made, voice.rate, RATE) * 32767).astype("<i2").tobytes()
    rest = after_phrase(recognizer.listen(bytes(RATE) + pcm + bytes(RATE), (PHRASE,)), PHRASE)
    assert rest
    assert recognizer.listen(rest, ("four chains and a strap", "forty two five")).text == "four chains and a strap"


def test_the_ear_waits_for_one_phrase() -> None:
    asked: list[object] = []

    class Pretended:
        def stream(self, phrases: object) -> str:
            """Note what is listened for."""
            asked.append(phrases)
            return "listening"

    class Parser:
        grammar = None

    assert Ear(Pretended(), Parser()).waiting(PHRASE) == "listening"  # type: ignore[arg-type]
    assert asked == [(PHRASE,)]
