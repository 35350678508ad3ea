"""The ear: what it makes of alternatives, notes, open questions and doubt. The recognizer here is a stand-in."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import cast

import pytest

from assistant.conversation import Conversation, Pending
from assistant.edges import ear as module
from assistant.edges.ear import Ear
from assistant.edges.recognizer import Heard, HeardWord, Recognizer
from assistant.hear.choose import TEMPERATURE, fault
from assistant.hear.runs import Runs
from assistant.load.note import Notes
from assistant.phrase.grammar import read_grammar
from assistant.phrase.meaning import Question
from assistant.understand.understander import Understander
from tests.hear.generated import answers, whole

UNDERSTANDER = Understander(read_grammar())
SOUND = bytes(64_000)
FRESH = Conversation()


@cache
def against(text: str) -> float:
    return fault(UNDERSTANDER, phrases(), tuple(text.split()))


@cache
def sampled(narrow: str = "") -> list[str]:
    return [*(answers(narrow) if narrow else whole())]


@cache
def phrases() -> Runs:
    return Runs(sampled(), UNDERSTANDER.grammar)


def heard(text: str, *others: str, likelier: float = 0.0) -> Heard:
    """Return what was heard; each of the others is as likely a way to read it, whatever grammar and phrases make of it.

    `likelier` is by how much all of them are likelier than what another grammar heard [nats].
    """
    words = text.split()
    return Heard(
        tuple(HeardWord(word, place, place + 0.5, 1.0) for place, word in enumerate(words)),
        SOUND,
        UNDERSTANDER.number_words,
        tuple((tuple(one.split()), likelier + against(one)) for one in (text, *others)),
    )


class FakeRecognizer:
    """Hears what it is told: by the whole grammar, by a narrow one, and freely."""

    def __init__(self, whole: Heard, narrow: Heard | None = None, free: Heard | None = None) -> None:
        self.whole = whole
        self.narrow = narrow
        self.free = free
        self.freely: list[bytes] = []

    def listen(self, pcm: bytes, phrases: Sequence[str] | None) -> Heard:
        """Return what it was told to hear."""
        if phrases is None:
            self.freely.append(pcm)
            return self.free or Heard()
        return self.whole if len(phrases) > 10_000 else self.narrow or Heard()


def ear(whole: Heard, narrow: Heard | None = None, free: Heard | None = None) -> tuple[Ear, FakeRecognizer]:
    fake = FakeRecognizer(whole, narrow, free)
    return Ear(cast("Recognizer", fake), UNDERSTANDER), fake


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))


@pytest.fixture(autouse=True)
def _sampled_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "phrases_of", lambda _, narrow="": sampled(narrow))
    monkeypatch.setattr(module, "Runs", lambda *_: phrases())


def test_words_of_one_sound_are_written_as_they_are_meant() -> None:
    listening, _ = ear(heard("eye two the side two chains forward"))
    assert listening.hear(SOUND, FRESH).text == "eye to the side two chains forward"


def test_a_doubtful_number_is_told_by_its_place_among_the_numbers() -> None:
    listening, _ = ear(heard("forty thousand pound coil four chains", "forty thousand pound coil five chains"))
    utterance = listening.hear(SOUND, FRESH)
    assert utterance.unsure == (2,)
    assert utterance.confidence == pytest.approx(0.5)


def test_a_number_that_may_have_lost_a_word_is_doubted_whole() -> None:
    listening, _ = ear(heard("forty seven coil", "forty four seven coil"))
    assert listening.hear(SOUND, FRESH).unsure == (0, 1)


def test_where_a_whole_number_may_be_lost_another_is_read_back() -> None:
    listening, _ = ear(heard("four chains forward", "four chains forward six straps"))
    assert listening.hear(SOUND, FRESH).unsure == (0,)


def test_a_doubtful_word_that_is_no_number_is_not_read_back() -> None:
    listening, _ = ear(heard("forty thousand pound coil", "forty thousand pound wall"))
    assert listening.hear(SOUND, FRESH).unsure == ()


def test_what_is_dictated_is_heard_freely() -> None:
    dictating = FRESH.model_copy(update={"notes": Notes(dictating=True)})
    listening, _ = ear(heard("two bunks [unk]"), free=heard("the booth closes at noon"))
    said = listening.hear(SOUND, dictating)
    assert (said.text, said.unsure) == ("the booth closes at noon", ())
    assert said.audio


def test_a_note_is_heard_again_freely_from_behind_its_first_word() -> None:
    listening, fake = ear(heard("note tarp [unk]"), free=heard("no tarp is torn on the left"))
    assert listening.hear(SOUND, FRESH).text == "note tarp is torn on the left"
    assert fake.freely == [SOUND]


def test_a_correction_is_heard_though_its_to_sounds_like_two() -> None:
    listening, _ = ear(heard("change the note two [unk]"), free=heard("change the no to tarp tore at four"))
    said = listening.hear(SOUND, FRESH)
    assert UNDERSTANDER.hear(said.text).note == "tarp tore at four"
    assert UNDERSTANDER.hear(said.text).corrects


def test_an_answer_to_an_open_question_is_heard_by_the_narrow_grammar_too() -> None:
    asked = FRESH.model_copy(update={"pending": Pending(asked=("What does the coil weigh?",))})
    listening, _ = ear(heard("fourteen", "forty"), narrow=heard("forty", likelier=3.0))
    assert listening.hear(SOUND, asked).text == "forty"


def test_the_narrow_grammar_gives_way_where_it_did_not_know_a_word() -> None:
    asked = FRESH.model_copy(update={"pending": Pending(asked=("What does the coil weigh?",))})
    listening, _ = ear(heard("take off the strap"), narrow=heard("forty [unk]"))
    assert listening.hear(SOUND, asked).text == "take off the strap"


def test_what_is_no_answer_is_heard_by_the_whole_grammar_though_the_narrow_one_made_as_many_words_of_it() -> None:
    asked = FRESH.model_copy(update={"pending": Pending(asked=("What does the coil weigh?",))})
    listening, _ = ear(heard("add a strap", likelier=6.0), narrow=heard("at is drop"))
    assert listening.hear(SOUND, asked).text == "add a strap"


def test_two_hearings_that_differ_in_a_number_are_both_doubted() -> None:
    asked = FRESH.model_copy(update={"pending": Pending(asked=("What does the coil weigh?",))})
    listening, _ = ear(heard("sixty thousand"), narrow=heard("sixteen thousand"))
    assert listening.hear(SOUND, asked).unsure == (0, 1)


@pytest.mark.parametrize(
    ("ratio", "unsure", "too_loud"), [(50, (), False), (30, (0, 1), False), (12, (0, 1), False), (5, (0, 1), True)]
)
def test_in_noise_a_number_must_be_surer(
    monkeypatch: pytest.MonkeyPatch, ratio: float, unsure: tuple[int, ...], *, too_loud: bool
) -> None:
    # Of four alternatives that score alike, "fifteen thousand" is in three: 0.75 sure.
    monkeypatch.setattr(module, "signal_to_noise_db", lambda _: ratio)
    same = ("fifteen thousand pound coils", "fifteen thousand pound copper coil")
    listening, _ = ear(heard("fifteen thousand pound coil", *same, "fifty thousand pound coil"))
    utterance = listening.hear(SOUND, FRESH)
    assert (utterance.unsure, utterance.too_loud) == (unsure, too_loud)


@pytest.mark.parametrize(("ratio", "unsure"), [(12.0, ()), (9.0, (0, 1))])
def test_where_it_is_loud_a_number_must_be_surer_still(
    monkeypatch: pytest.MonkeyPatch, ratio: float, unsure: tuple[int, ...]
) -> None:
    # 3 nats to the temperature of the shares: 0.95 sure.
    monkeypatch.setattr(module, "signal_to_noise_db", lambda _: ratio)
    said, other = "fifteen thousand pound coil", "fifty thousand pound coil"
    readings = ((tuple(said.split()), against(said)), (tuple(other.split()), against(other) - 3 * TEMPERATURE))
    listening, _ = ear(replace(heard(said), readings=readings))
    assert listening.hear(SOUND, FRESH).unsure == unsure


@pytest.mark.parametrize(("said", "hazy"), [("two straps that can be tightened", True), ("two straps", False)])
def test_what_sounds_like_its_contrary_is_read_back(said: str, *, hazy: bool) -> None:
    listening, _ = ear(heard(said))
    assert listening.hear(SOUND, FRESH).hazy is hazy


@pytest.mark.parametrize("said", ["coil strap", "i got a chain", "eye to the sky"])
def test_where_it_is_too_loud_no_fact_is_taken_though_no_number_was_heard(
    monkeypatch: pytest.MonkeyPatch, said: str
) -> None:
    monkeypatch.setattr(module, "signal_to_noise_db", lambda _: 3.0)
    listening, _ = ear(heard(said))
    assert listening.hear(SOUND, FRESH).too_loud


@pytest.mark.parametrize(("ratio", "hazy"), [(50.0, False), (12.0, True)])
def test_in_noise_a_count_that_no_word_tells_must_be_surer(
    monkeypatch: pytest.MonkeyPatch, ratio: float, *, hazy: bool
) -> None:
    # Half of what is as likely says something else in place of two of four words: 0.75 sure on average.
    monkeypatch.setattr(module, "signal_to_noise_db", lambda _: ratio)
    listening, _ = ear(heard("i got a chain", "i got that strap"))
    assert listening.hear(SOUND, FRESH).hazy is hazy


def read_back(conversation: Conversation = FRESH) -> Conversation:
    question = Question(text="I heard forty thousand. Is that right?", expects="yes or no", doubted="forty thousand")
    return conversation.asking(question)


@pytest.mark.parametrize(("asked", "hazy"), [(read_back(), False), (FRESH, True)])
def test_a_yes_to_what_was_read_back_is_taken_where_it_is_likelier_than_all_else(
    asked: Conversation, *, hazy: bool
) -> None:
    listening, _ = ear(heard("yeah", "yes", "yes", "mats", "hush"))
    utterance = listening.hear(SOUND, asked)
    assert "yes" in UNDERSTANDER.whole(UNDERSTANDER.hear(utterance.text))
    assert utterance.hazy is hazy


def test_what_was_not_understood_and_is_said_again_is_weighed_with_what_was_heard_before() -> None:
    first, _ = ear(heard("mats the thousand pound coil", "nine thousand pound coil"))
    again, _ = ear(heard("five thousand pound coil", "nine thousand pound coil", "nine thousand pounds coil"))
    before = first.hear(SOUND, FRESH)
    assert again.hear(SOUND, FRESH).text == "five thousand pound coil"
    assert again.hear(SOUND, FRESH, before).text == "nine thousand pound coil"


def test_a_yes_that_may_be_a_no_is_not_taken() -> None:
    listening, _ = ear(heard("yeah", "no", "nope", "mats"))
    assert listening.hear(SOUND, read_back()).hazy


@pytest.mark.parametrize(
    ("said", "other"), [("a concrete pipe", "eight concrete pipes"), ("same again", "same again two")]
)
def test_in_noise_a_count_that_no_word_tells_must_be_the_only_one(
    monkeypatch: pytest.MonkeyPatch, said: str, other: str
) -> None:
    monkeypatch.setattr(module, "signal_to_noise_db", lambda _: 12.0)
    # 3 nats to the temperature of the shares: 0.95 sure, more than a number that was heard must be.
    readings = ((tuple(said.split()), against(said)), (tuple(other.split()), against(other) - 3 * TEMPERATURE))
    listening, _ = ear(replace(heard(said), readings=readings))
    assert listening.hear(SOUND, FRESH).hazy


def test_in_noise_what_tells_nothing_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "signal_to_noise_db", lambda _: 3.0)
    listening, _ = ear(heard("read that back"))
    assert not listening.hear(SOUND, FRESH).too_loud


def test_of_sound_recorded_too_loud_every_number_is_doubtful_however_sure(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "is_clipped", lambda _: True)
    listening, _ = ear(heard("thirty thousand pound coil four chains"))
    utterance = listening.hear(SOUND, FRESH)
    assert (utterance.unsure, utterance.clipped) == ((0, 1, 2), True)
    listening, _ = ear(heard("a chain"))
    assert listening.hear(SOUND, FRESH).hazy


def test_nothing_heard_is_an_empty_utterance() -> None:
    listening, _ = ear(Heard())
    utterance = listening.hear(SOUND, FRESH)
    assert (utterance.text, utterance.confidence, utterance.unsure) == ("", None, ())
