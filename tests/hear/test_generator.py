"""What the recognizer expects is what is understood: the generated phrases, and the words that they are made of."""

import random
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
import vosk

from assistant.hear.generator import Generator
from assistant.hear.shapes import read_line, read_shape
from assistant.load.model import Coil, Kind, Load, Tiedown
from assistant.phrase.grammar import GrammarProblem
from assistant.understand.understander import Understander
from tests.hear.generated import GRAMMAR, TOPICS, UNDERSTANDER, answers, generator, parts, whole, words

BUDGET = 60_000
DENIALS = ("not", "isn't", "aren't", "ain't", "can't", "won't", "don't", "doesn't")
MOST_REFUSED = 0.2
"""Share of the phrases in which a word stands that turns their sense round."""
MOST_UNPLACED = 60
"""Words of the lexicon that stand in no phrase which is understood."""
MOST_LEFT_OUT = 0.1
"""Share of the breaths that are not understood: more, and a shape is dead."""


@cache
def model(path: Path) -> vosk.Model:
    vosk.SetLogLevel(-1)
    return vosk.Model(str(path))


# ---- all that is generated


def test_phrases__are_many_but_within_the_budget_narrow_grammars_included() -> None:
    assert len(whole()) > 10_000
    assert len(set(whole())) > 8_000
    assert len(whole()) + sum(len(answers(topic)) for topic in TOPICS) <= BUDGET


def test_phrases__are_the_same_each_time() -> None:
    first, second = Generator(UNDERSTANDER), Generator(UNDERSTANDER)
    assert first.turned() == second.turned()
    assert first.answers("weight") == second.answers("weight")


def test_phrases__hold_no_figures_and_no_capitals() -> None:
    assert {word for word in words(whole()) if not re.fullmatch(r"[a-z]+(?:'[a-z]+)?", word)} == set()


def test_whole__is_made_of_what_is_told_in_any_order_turned_and_rare() -> None:
    class Small(Generator):
        def _budget(self, name: str) -> int:
            return 1 if name == "repeats" else 3

    fresh = Small(UNDERSTANDER)
    told = [*fresh.told(), *fresh.any_order(), *fresh.turned()]
    told += fresh.rest(told)
    told += fresh.unplaced(told)
    assert Small(UNDERSTANDER).whole() == [GRAMMAR.as_it_sounds(said) for said in told]


@pytest.mark.parametrize("part", ["told", "any_order", "rest"])
def test_phrases__are_understood_with_nothing_lost(part: str) -> None:
    assert [said for said in dict.fromkeys(getattr(parts(), part)) if not _is_understood(said)] == []


def _is_understood(said: str) -> bool:
    """Return whether nothing is lost, with an empty deck or with one of the kinds of tiedown on it."""
    for tiedowns in ((), *((Tiedown(kind=kind, count=12),) for kind in Kind)):
        heard = UNDERSTANDER.hear(said, Load(coils=(Coil(),) if tiedowns else (), tiedowns=tiedowns))
        if UNDERSTANDER.whole(heard) or (not heard.lost and (heard.fragments or heard.supposed is not None)):
            return True
    return False


def test_phrases__that_are_refused_are_a_small_share() -> None:
    assert len(parts().turned) + len(parts().unplaced) <= MOST_REFUSED * len(whole())


def test_breaths__are_hardly_ever_left_out() -> None:
    kept = len(parts().told) - len(generator().told_always())
    assert kept >= (1 - MOST_LEFT_OUT) * GRAMMAR.talk["budget"]["sentences"]


@pytest.mark.parametrize("topic", TOPICS)
def test_narrow_grammar__is_understood(topic: str) -> None:
    said = answers(topic)
    assert len(said) > 100
    sample = random.Random(5).sample(sorted({*said}), 150)  # noqa: S311 - a reproducible sample
    written = [" ".join(UNDERSTANDER.written(one.split())) for one in sample]
    assert [one for one in written if not generator().understood(one)] == []


def test_answer_forms__hear_narrow_grammars_that_exist() -> None:
    assert {form.hear for form in GRAMMAR.answers} - {""} <= set(TOPICS)


# ---- the words of the lexicon


def test_every_word_of_the_lexicon__is_listened_for() -> None:
    assert generator().listened_for <= words(whole())
    assert len(parts().unplaced) < MOST_UNPLACED


def test_words_that_turn_the_sense_round__are_all_listened_for() -> None:
    turned = words(parts().turned)
    assert turned >= {*DENIALS}
    assert turned >= {
        "without",
        "never",
        "yesterday",
        "later",
        "spare",
        "suppose",
        "but",
        "or",
        "frayed",
        "loose",
        "nearly",
        "instead",
    }


@pytest.mark.parametrize(
    "said",
    ["thirty five thousand pound coil eye to the side", "two four inch straps over the top", "i took the mats out"],
)
def test_pairs_of_words__that_people_say_stand_in_some_phrase(said: str) -> None:
    pairs = {pair for phrase in whole() for pair in pairwise(phrase.split())}
    spoken = GRAMMAR.as_it_sounds(said).split()
    assert {*pairwise(spoken)} <= pairs


def test_words_of_one_sound__are_given_to_the_recognizer_as_one() -> None:
    assert words(whole()).isdisjoint(GRAMMAR.same_sound)
    assert set(GRAMMAR.same_sound.values()) <= words(whole())


def test_words_that_are_only_typed__are_not_listened_for() -> None:
    typed = GRAMMAR.talk["typed"]
    assert words(whole()).isdisjoint({*typed["words"], *typed["lacking"]})


@pytest.mark.model
def test_every_word_of_the_phrases__is_in_the_speech_model(model_path: Path) -> None:
    said = words(whole()).union(*(words(answers(topic)) for topic in TOPICS))
    assert {word for word in said if model(model_path).vosk_model_find_word(word) < 0} == set()


@pytest.mark.model
def test_words_that_the_speech_model_lacks__are_those_that_are_listed_and_no_others(model_path: Path) -> None:
    known = {word for word in UNDERSTANDER.lexicon.words if re.fullmatch(r"[a-z']+", word)}
    lacking = {word for word in known if model(model_path).vosk_model_find_word(word) < 0}
    listed = set(GRAMMAR.talk["typed"]["lacking"])
    assert lacking <= listed
    assert {word for word in listed if model(model_path).vosk_model_find_word(word) >= 0} == set()


# ---- shapes


def test_line__is_read_into_its_parts() -> None:
    choice, kind, word = read_line("any", "(a|one)?30 {kind.chain+} forward")
    assert (choice.words, choice.share) == (("a", "one"), 0.3)
    assert (kind.name, kind.number, kind.share) == ("kind.chain", "+", 1)
    assert (word.words, word.own) == (("forward",), False)


def test_name__of_the_shape_itself_is_the_sort_of_the_lexicon() -> None:
    (part,) = read_line("fix", "{fix}")
    assert part.own


@pytest.mark.parametrize("line", ["{kind", "(a|b", "four 4", "a ) b"])
def test_line__that_cannot_be_read_is_refused(line: str) -> None:
    with pytest.raises(GrammarProblem, match=re.escape("talk.toml, any")):
        read_shape("any", {line: 1})


def test_shape__that_names_what_is_not_there_is_refused() -> None:
    shapes = {**GRAMMAR.talk["shape"], "coil": {"{banana} coil": 1}}
    changed = replace(GRAMMAR, talk={**GRAMMAR.talk, "shape": shapes})
    with pytest.raises(GrammarProblem, match="banana"):
        Generator(Understander(changed))


def test_shapes__are_all_used() -> None:
    lines = [line for shape in GRAMMAR.talk["shape"].values() for line in shape]
    lines += [line for topic in TOPICS for line in GRAMMAR.talk["answers"][topic]]
    used = {part.name for line in lines for part in read_line("", line)}
    assert set(GRAMMAR.talk["shape"]) - used == {"breath", "opener", "closer", "part_of_talk"}


def test_words_of_shapes__are_known() -> None:
    lines = [line for shape in GRAMMAR.talk["shape"].values() for line in shape]
    said = {word for line in lines for part in read_line("", line) for ways in part.words for word in ways.split()}
    whole_words = {word for one in said for word in _whole(one)}
    numbers = GRAMMAR.numbers.all | GRAMMAR.numbers.parts.keys() | GRAMMAR.numbers.counts.keys()
    units = {word for units in GRAMMAR.units.values() for unit in units for word in unit.spoken_words}
    fixed = {word for phrase in GRAMMAR.phrases for word in phrase.pieces}
    assert whole_words - UNDERSTANDER.lexicon.words - numbers - units - fixed == set()


def _whole(word: str) -> list[str]:
    return [token.word for token in UNDERSTANDER.hear(word).tokens]


def test_often__names_words_of_the_lexicon() -> None:
    entries = {" ".join(said) for said in UNDERSTANDER.lexicon.entries}
    assert set(GRAMMAR.talk["often"]) - entries == set()


def test_heeded_sorts__are_sorts_of_the_lexicon() -> None:
    senses = [sense for senses in UNDERSTANDER.lexicon.entries.values() for sense in senses]
    sorts = {name for sense in senses for name in (sense.sort, f"{sense.sort}.{sense.key}")}
    assert set(GRAMMAR.talk["heeded"]["sorts"]) <= sorts
