"""Asleep and awake: when it dozes off, what wakes it, what follows in the same breath, and the tone."""

from collections.abc import Sequence
from typing import cast

import numpy as np
import pytest

from assistant.edges.ear import Ear
from assistant.edges.recognizer import Heard, HeardWord, Recognizer
from assistant.edges.sleeping import AWAKE_S, TONE_RATE, Sleeping, tone
from assistant.phrase.grammar import read_grammar
from assistant.phrase.understand import Understander

UNDERSTANDER = Understander(read_grammar())
SOUND = bytes(96_000)


class Clock:
    """A clock that is set by hand."""

    now = 100.0

    def __call__(self) -> float:
        """Return the time."""
        return self.now


def test_it_begins_asleep_and_dozes_off_again_when_nothing_is_said() -> None:
    clock = Clock()
    sleeping = Sleeping(dozes=True, clock=clock)
    assert sleeping.asleep
    sleeping.stir()
    assert not sleeping.asleep
    clock.now += AWAKE_S - 1
    assert not sleeping.asleep
    sleeping.stir()
    clock.now += AWAKE_S - 1
    assert not sleeping.asleep
    clock.now += 1
    assert sleeping.asleep


def test_without_dozing_it_sleeps_only_when_told_to() -> None:
    clock = Clock()
    sleeping = Sleeping(clock=clock)
    clock.now += 10 * AWAKE_S
    assert not sleeping.asleep
    sleeping.sleep()
    assert sleeping.asleep
    sleeping.stir()
    assert not sleeping.asleep


class FakeRecognizer:
    """Hears the wake phrase where it is told to, and a rest behind it."""

    def __init__(self, words: str, rest: str = "") -> None:
        self.words = words
        self.rest = rest
        self.behind: bytes | None = None

    def listen(self, pcm: bytes, phrases: Sequence[str] | None) -> Heard:
        """Return what it was told to hear."""
        if phrases == [UNDERSTANDER.grammar.wake]:
            return self._heard(self.words, pcm)
        self.behind = pcm
        return self._heard(self.rest, pcm)

    @staticmethod
    def _heard(text: str, pcm: bytes) -> Heard:
        words = [HeardWord(word, place / 2, place / 2 + 0.5, 1.0) for place, word in enumerate(text.split())]
        return Heard(tuple(words), pcm)


def woken(words: str, rest: str = "") -> tuple[Heard | None, FakeRecognizer]:
    fake = FakeRecognizer(words, rest)
    return Ear(cast("Recognizer", fake), UNDERSTANDER).woken(Heard((), SOUND)), fake


@pytest.mark.parametrize("words", ["", "[unk]", "hey [unk]", "deckhand", "[unk] hey"])
def test_nothing_but_the_whole_phrase_wakes_it(words: str) -> None:
    assert woken(words)[0] is None


def test_the_phrase_alone_wakes_it_and_tells_nothing() -> None:
    heard, _ = woken("hey deckhand")
    assert heard is not None
    assert heard.words == ()


def test_what_follows_in_the_same_breath_is_taken() -> None:
    heard, fake = woken("[unk] hey deckhand [unk] [unk]", rest="four chains")
    assert heard is not None
    assert heard.text == "four chains"
    # behind the third word, which ends after 1.5 s of 32,000 bytes each
    assert fake.behind == SOUND[48_000:]


def test_the_tone_is_short_and_soft_and_ends_in_silence() -> None:
    (sound,) = tone()
    assert len(sound) / TONE_RATE < 0.2
    assert 0.05 < np.abs(sound).max() <= 0.1
    assert abs(sound[0]) < 0.001
    assert abs(sound[-1]) < 0.001
