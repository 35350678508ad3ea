"""The corpus is balanced, always the same, and kept by what it is made from. No voice is needed."""

import itertools
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from tests.speech import corpus, noise, voices
from tests.speech.sentences import Sentence, sentences

NAMES = [voice.name for voice in voices.VOICES]
ITEMS = corpus.selection(sentences(), NAMES)
PARTS = [[item for item in ITEMS if item.sentence.held_out is held_out] for held_out in (False, True)]
TONE = 0.3 * np.sin(2 * np.pi * 300 * np.arange(12_000) / 24_000)


@pytest.fixture
def hummed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Put a voice that hums in the place of `heart`; return what it was asked to say."""
    said: list[str] = []

    def hum(text: str, speed: float) -> tuple[voices.Samples, int]:
        said.append(text)
        return TONE * speed, 24_000

    monkeypatch.setitem(voices.BY_NAME, "heart", voices.VOICES[0]._replace(speak=hum))
    return said


def test_there_are_ten_voices_of_which_four_are_natural_and_two_unseen() -> None:
    assert len(voices.VOICES) == 10
    assert {"heart", "joe", "us", "gb"} == voices.NATURAL
    assert {voice.name for voice in voices.VOICES if voice.unseen} == {"joe", "gb"}


@pytest.mark.parametrize("part", PARTS, ids=["chosen by", "held out"])
def test_each_sentence_is_said_by_three_voices_two_of_them_natural(part: list[corpus.Item]) -> None:
    by = {words: {item.voice for item in items} for words, items in grouped(part).items()}
    assert {len(some) for some in by.values()} == {3}
    assert {len(some & voices.NATURAL) for some in by.values()} == {2}
    pairs = Counter(frozenset(some & voices.NATURAL) for some in by.values())
    assert len(pairs) == 6
    assert spread(pairs) <= 1


def grouped(items: list[corpus.Item]) -> dict[str, list[corpus.Item]]:
    found: dict[str, list[corpus.Item]] = {}
    for item in items:
        found.setdefault(item.sentence.words, []).append(item)
    return found


def spread(counts: Counter[object]) -> int:
    return max(counts.values()) - min(counts.values())


@pytest.mark.parametrize("part", PARTS, ids=["chosen by", "held out"])
@pytest.mark.parametrize("voice", NAMES)
def test_each_voice_has_its_speeds_and_noises_in_equal_shares(part: list[corpus.Item], voice: str) -> None:
    mine = [item for item in part if item.voice == voice]
    assert spread(Counter(item.speed for item in mine if item.noise is None)) <= 1
    for snr_db in corpus.RATIOS_DB:
        kinds = Counter(item.noise for item in mine if item.snr_db == snr_db)
        assert set(kinds) == set(noise.KINDS)
        others = Counter({name: count for name, count in kinds.items() if name != noise.BESIDE})
        assert spread(others) <= 1


def test_a_natural_voice_is_heard_clean_at_each_ratio_and_once_beside_the_engine() -> None:
    for items in grouped(ITEMS).values():
        for voice in {item.voice for item in items}:
            mine = [item for item in items if item.voice == voice]
            assert len(mine) == len(set(mine)) == (6 if voice in voices.NATURAL else 2)
            assert [item.snr_db for item in mine].count(None) == 1
            if voice in voices.NATURAL:
                assert {item.snr_db for item in mine} == {None, *corpus.RATIOS_DB}
                assert any(item.noise == noise.BESIDE and item.snr_db for item in mine)


@pytest.mark.parametrize("part", PARTS, ids=["chosen by", "held out"])
def test_each_speed_is_heard_beside_the_engine_at_each_ratio(part: list[corpus.Item]) -> None:
    beside = [item for item in part if item.noise == noise.BESIDE and item.voice in voices.NATURAL and item.snr_db]
    assert len({(item.voice, item.speed, item.snr_db) for item in beside}) == 4 * 3 * 3


def test_sentences_more_on_one_side__leave_those_on_the_other_as_they_were() -> None:
    chosen_by, held_out = ([said for said in sentences() if said.held_out is so] for so in (False, True))
    assert corpus.selection(chosen_by, NAMES) + corpus.selection(held_out, NAMES) == ITEMS
    fewer = corpus.selection([*held_out, *chosen_by[5:]], NAMES)
    assert [item for item in fewer if item.sentence.held_out] == PARTS[True]


def test_every_voice_says_every_sentence_when_asked() -> None:
    items = corpus.selection(sentences()[:20], NAMES, every_voice=True)
    assert {len({item.voice for item in some}) for some in grouped(items).values()} == {len(NAMES)}


def test_the_cross_product_is_whole() -> None:
    items = corpus.cross_product(sentences()[:3], NAMES[:2])
    assert len(set(items)) == len(items) == 3 * 2 * 3 * (1 + 4 * 5)


def test_without_other_voices_the_natural_ones_speak() -> None:
    assert corpus.speakers(0, ["heart"]) == ["heart"]
    assert sorted(corpus.speakers(0, ["heart", "joe"])) == ["heart", "joe"]
    assert corpus.speakers(1, ["rms", "slt"]) == ["slt"]


def test_a_sample_is_balanced_and_the_same_each_time() -> None:
    some = corpus.sample(ITEMS, 420)
    assert len(some) == 420
    assert some == corpus.sample(ITEMS, 420)
    assert some != corpus.sample(ITEMS, 420, seed=1)
    assert spread(Counter(item.voice for item in some)) <= 42


def test_only_what_is_named_is_kept() -> None:
    some = corpus.narrowed(ITEMS, {"voice": "joe", "noise": "wind", "group": "weights", "db": "10"})
    assert some
    assert {(item.voice, item.noise, item.sentence.group, item.snr_db) for item in some} == {
        ("joe", "wind", "weights", 10)
    }
    assert {item.noise for item in corpus.narrowed(ITEMS, {"noise": "clean"})} == {None}
    assert [corpus.narrowed(ITEMS, {"held_out": answer}) for answer in ("no", "yes")] == PARTS


def test_speech_is_made_once_and_kept(hummed: list[str], tmp_path: Path) -> None:
    first = corpus.clean("heart", "Four chains.", 1.0, tmp_path)
    assert corpus.clean("heart", "Four chains.", 1.0, tmp_path) == first
    assert hummed == ["Four chains."]
    for text, speed in (("Five chains.", 1.0), ("Four chains.", 1.2)):
        corpus.clean("heart", text, speed, tmp_path)
    assert len(hummed) == len(list(tmp_path.rglob("*.wav"))) == 3


def test_speech_is_levelled_with_silence_round_it(hummed: list[str], tmp_path: Path) -> None:
    samples = np.frombuffer(corpus.clean("heart", "Four chains.", 1.0, tmp_path), np.int16).astype(float)
    assert hummed
    edge = int(voices.EDGE_S * voices.RATE)
    assert not samples[: edge - 1].any()
    assert not samples[-edge:].any()
    # -23 dB below full scale
    assert noise.active_rms(samples) / 32_768 == pytest.approx(10 ** (-23 / 20), rel=0.05)


@pytest.mark.usefixtures("hummed")
@pytest.mark.parametrize(("kind", "snr_db"), [*itertools.product(noise.KINDS, corpus.RATIOS_DB)])
def test_noise_is_at_the_ratio_asked_for(tmp_path: Path, kind: str, snr_db: int) -> None:
    item = corpus.Item(sentences()[0], "heart", 1.0, kind, snr_db)
    speech = np.frombuffer(corpus.clean("heart", "Four chains.", 1.0, tmp_path), np.int16).astype(float)
    heard = np.frombuffer(corpus.heard_as(item, "Four chains.", tmp_path), np.int16).astype(float)
    # Turned down where it would clip: the hum's own level in the sum says by how much.
    gain = heard @ speech / (speech @ speech)
    ratio = 20 * np.log10(noise.active_rms(speech) / np.sqrt(np.mean((heard / gain - speech) ** 2)))
    assert ratio == pytest.approx(snr_db, abs=0.3)


@pytest.mark.usefixtures("hummed")
def test_noise_is_the_same_each_time_and_another_when_said_again(tmp_path: Path) -> None:
    item = corpus.Item(sentences()[0], "heart", 1.0, "yard", 10)
    other = item._replace(sentence=Sentence("five chains", "Five chains.", "chains"))
    once = corpus.heard_as(item, "Four chains.", tmp_path)
    assert corpus.heard_as(item, "Four chains.", tmp_path) == once
    assert corpus.heard_as(other, "Four chains.", tmp_path) != once
    assert corpus.heard_as(item, "Four chains.", tmp_path, again=True) != once
