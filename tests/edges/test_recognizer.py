"""The recognizer: the phrases it is given, anything at all, its confidence, and its refusals."""

# The stand-in's methods are the library's.
# ruff: noqa: D102, ANN401

import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from assistant.edges import recognizer as module
from assistant.edges.problem import ModelMissing
from assistant.edges.recognizer import RATE, Heard, HeardWord, Recognizer, chunks, hear_all
from assistant.edges.sound_files import read_sound
from tests.edges.fakes import CLIPS, FakeListening

PHRASES = ("forty thousand pound coil four chains and a strap", "forty two five", "take off the strap")
NUMBERS = frozenset({"forty", "two", "five", "four", "thousand"})
SAID = "forty thousand pound coil four chains and a strap"


def word(text: str, confidence: float) -> HeardWord:
    return HeardWord(text, 0.0, 0.1, confidence)


# What was heard.


def test_the_least_sure_number_word_is_the_confidence() -> None:
    words = (word("forty", 0.9), word("two", 0.6), word("coil", 0.1))
    assert Heard(words, number_words=NUMBERS).confidence == 0.6


def test_without_a_number_the_mean_is_the_confidence() -> None:
    assert Heard((word("read", 0.8), word("back", 0.6)), number_words=NUMBERS).confidence == pytest.approx(0.7)


def test_every_word_counts_as_a_number_while_nobody_tells_which_do() -> None:
    assert Heard((word("forty", 0.9), word("coil", 0.1))).confidence == 0.1


def test_nothing_heard_has_no_confidence() -> None:
    assert Heard().confidence is None
    assert Heard((word("[unk]", 0.9),)).confidence is None


def test_an_unknown_sound_is_told_apart_from_the_words() -> None:
    heard = Heard((word("four", 1.0), word("[unk]", 0.5), word("chains", 1.0)))
    assert heard.text == "four chains"
    assert heard.unknown
    assert not Heard((word("four", 1.0),)).unknown


def test_all_utterances_of_a_sound_become_one() -> None:
    heard = hear_all(FakeListening(), [b"four chains ", b".", b".", b"and a strap"])
    assert heard.text == "four chains and a strap"
    assert heard.audio == b"four chains ..and a strap"


@pytest.mark.parametrize(("size", "lengths"), [(4, [4, 4, 2]), (10, [10]), (20, [10])])
def test_sound_is_cut_without_losing_any(size: int, lengths: list[int]) -> None:
    pieces = list(chunks(b"0123456789", size))
    assert [len(piece) for piece in pieces] == lengths
    assert b"".join(pieces) == b"0123456789"


# With the real model.


@pytest.fixture(scope="module")
def ear(model_path: Path) -> Recognizer:
    return Recognizer(model_path, NUMBERS)


@pytest.fixture(scope="module")
def clip() -> bytes:
    return read_sound(CLIPS / "heart_01_forty_thousand_coil_four_chains.flac")


@pytest.mark.model
def test_a_phrase_is_heard_with_times_and_confidence(ear: Recognizer, clip: bytes) -> None:
    heard = ear.listen(clip, PHRASES)
    assert heard.text == SAID
    assert heard.confidence == pytest.approx(1.0, abs=0.1)
    assert heard.seconds == len(clip) / 32_000
    starts = [word.start for word in heard.words]
    assert starts == sorted(starts)
    assert 0 < starts[0] < heard.words[-1].end < heard.seconds
    assert not heard.unknown


@pytest.mark.model
def test_sound_with_a_long_pause_is_heard_to_its_end(ear: Recognizer, clip: bytes) -> None:
    pause = bytes(2 * RATE * 3)
    heard = ear.listen(clip + pause + clip, PHRASES)
    assert heard.text == f"{SAID} {SAID}"
    second = heard.words[len(SAID.split())]
    assert second.start == pytest.approx((len(clip) + len(pause)) / 32_000 + heard.words[0].start, abs=0.1)


@pytest.mark.model
def test_a_recognizer_used_again_hears_the_same(ear: Recognizer, clip: bytes) -> None:
    texts = {ear.listen(clip, PHRASES).text for _ in range(3)}
    assert texts == {SAID}


@pytest.mark.model
def test_the_free_pass_hears_words_that_no_phrase_has(ear: Recognizer, clip: bytes) -> None:
    assert ear.listen(clip, ("take off the strap",)).text != SAID
    heard = ear.listen(clip, None).text
    assert "forty thousand" in heard
    assert "strap" in heard


@pytest.mark.model
def test_an_utterance_carries_its_sound_for_a_second_hearing(ear: Recognizer, clip: bytes) -> None:
    stream = ear.stream(PHRASES)
    ends = [heard for block in chunks(clip + bytes(2 * RATE * 2), 3200) if (heard := stream.feed(block))]
    stream.finish()
    assert [heard.text for heard in ends] == [SAID]
    assert "forty thousand" in ear.listen(ends[0].audio, None).text


@pytest.mark.model
def test_the_words_so_far_can_be_shown(ear: Recognizer, clip: bytes) -> None:
    stream = ear.stream(PHRASES)
    for block in chunks(clip[: len(clip) // 2], 3200):
        stream.feed(block)
    assert SAID.startswith(stream.partial())
    assert stream.partial()
    stream.finish()
    with pytest.raises(ValueError, match="has been finished"):
        stream.feed(b"")


@pytest.mark.model
@pytest.mark.parametrize("phrases", [PHRASES, None])
def test_the_words_so_far_are_none_before_any_sound_and_through_a_long_silence(
    model_path: Path, phrases: tuple[str, ...] | None
) -> None:
    for ear in (Recognizer(model_path), Recognizer(model_path, choose=lambda _: (0, ()))):
        stream = ear.stream(phrases)
        assert stream.partial() == ""
        for block in chunks(bytes(2 * RATE * 15), 3200):
            assert stream.feed(block) is None
            assert stream.partial() == ""
        assert stream.finish().text == ""


@pytest.mark.model
@pytest.mark.parametrize("phrases", [PHRASES, None])
@pytest.mark.parametrize("sound", [b"", bytes(2), bytes(2 * RATE * 2)])
def test_silence_and_nothing_at_all_hold_no_words(
    ear: Recognizer, sound: bytes, phrases: tuple[str, ...] | None
) -> None:
    heard = ear.listen(sound, phrases)
    assert heard.text == ""
    assert heard.audio == sound


@pytest.mark.model
def test_noise_is_no_load(ear: Recognizer) -> None:
    noise = np.random.default_rng(1).normal(size=2 * RATE) * 3000
    assert ear.listen(noise.astype("<i2").tobytes(), PHRASES).text == ""


@pytest.mark.model
def test_words_the_model_lacks_are_named(ear: Recognizer) -> None:
    assert ear.words_missing(["coil", "dunnage", "chains", "securement"]) == ["dunnage", "securement"]


@pytest.mark.model
def test_two_listen_at_once_with_the_same_phrases(ear: Recognizer, clip: bytes) -> None:
    streams = [ear.stream(PHRASES), ear.stream(PHRASES)]
    heard = [[], []]
    for block in chunks(clip + bytes(2 * RATE * 2), 3200):
        for stream, ends in zip(streams, heard, strict=True):
            if utterance := stream.feed(block):
                ends.append(utterance.text)
    for stream in streams:
        stream.finish()
    assert heard == [[SAID], [SAID]]


@pytest.mark.model
def test_a_folder_without_a_model_is_refused_in_words(model_path: Path, tmp_path: Path) -> None:
    assert model_path != tmp_path
    with pytest.raises(ModelMissing, match="cannot be loaded"):
        Recognizer(tmp_path)


# With a stand-in for the library.


class FakeKaldi:
    """The library's recognizer: remembers what it was made with."""

    made: list[tuple[Any, ...]] = []  # noqa: RUF012 - emptied by each test

    def __init__(self, *told: Any) -> None:
        self.made.append(told)

    def SetWords(self, _: bool) -> None:  # noqa: FBT001, N802 - the library's signature
        pass

    def Reset(self) -> None:  # noqa: N802 - the library's name
        pass

    def FinalResult(self) -> str:  # noqa: N802 - the library's name
        return "{}"


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> SimpleNamespace:
    FakeKaldi.made.clear()
    fake = SimpleNamespace(SetLogLevel=lambda _: None, Model=SimpleNamespace, KaldiRecognizer=FakeKaldi)
    fake.Model = lambda path: SimpleNamespace(path=path)
    monkeypatch.setattr(module, "import_module", lambda _: fake)
    return fake


def test_the_unknown_word_is_always_among_the_phrases(library: SimpleNamespace) -> None:
    assert library
    ear = Recognizer(Path("model"))
    ear.prepare(["two chains"])
    ear.prepare(None)
    assert [json.loads(told[2]) for told in FakeKaldi.made[:1]] == [["two chains", "[unk]"]]
    assert len(FakeKaldi.made[1]) == 2


def test_the_same_phrases_are_compiled_once_and_few_sets_are_kept(library: SimpleNamespace) -> None:
    assert library
    ear = Recognizer(Path("model"))
    for _ in range(3):
        ear.prepare(["two chains"])
    assert len(FakeKaldi.made) == 1
    for number in range(20):
        ear.prepare([f"phrase {number}"])
    ear.prepare(["phrase 19"])
    assert len(FakeKaldi.made) == 21
    ear.prepare(["two chains"])
    assert len(FakeKaldi.made) == 22


def test_the_model_is_always_named_by_its_path(library: SimpleNamespace) -> None:
    named: list[str] = []
    library.Model = named.append
    Recognizer(Path("folder") / "model")
    assert named == ["folder/model"]


@pytest.mark.parametrize("error", [ImportError("no module"), OSError("libvosk.so")])
def test_a_library_that_cannot_be_loaded_is_told(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def broken(_: str) -> None:
        raise error

    monkeypatch.setattr(module, "import_module", broken)
    with pytest.raises(ModelMissing, match="vosk package cannot be loaded") as missing:
        Recognizer(Path("model"))
    assert "pip install vosk" in missing.value.remedy
