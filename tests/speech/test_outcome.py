"""What became of a sentence, told from made-up answers: no voice and no ear are needed."""

import datetime as dt
from typing import Any

import pytest

from assistant.hear.doubt import Utterance
from assistant.kit import read_kit
from tests.speech.outcome import (
    Outcome,
    driver_says,
    folded,
    goal_of,
    numbers,
    outcome_of,
    taken,
    values_in,
    word_errors,
)
from tests.speech.sentences import read
from tests.speech.table import by_ratio, by_voice, conditions, end, measured, row

KIT = read_kit(dt.date(2026, 11, 25))
GRAMMAR = KIT.understander.grammar


def came_of(entry: dict[str, Any], heard: str, *unsure: int, too_loud: bool = False) -> Outcome:
    goal = goal_of(read({"group": "made up", **entry}), KIT)
    answer, after = taken(Utterance(heard, None, unsure, too_loud), goal.before, KIT)
    return outcome_of(goal, heard, answer, after, KIT)


COIL = {
    "words": "fifteen thousand pound coil four chains",
    "expected": {"coils": [{"weight_lb": 15_000}], "tiedowns": [{"kind": "chain", "count": 4}]},
}
SPLIT = {
    "words": "four chains two forward and two back",
    "expected": {
        "tiedowns": [
            {"kind": "chain", "count": 2, "pulls": "forward"},
            {"kind": "chain", "count": 2, "pulls": "rearward"},
        ]
    },
}
FIX = {
    "words": "no five chains",
    "before": ["four chains"],
    "expected": {"tiedowns": [{"kind": "chain", "count": 5}]},
}
LENGTH = {"words": "how many chains do i need", "before": ["forty thousand pound coil"], "intent": "how many"}
SEVENTY = {
    "words": "four grade seventy chains",
    "expected": {"tiedowns": [{"kind": "chain", "count": 4, "grade": "70"}]},
}
GEAR = {"words": "my chains are half inch", "intent": "gear", "gear": [{"kind": "chain", "size_in": 0.5}]}
METRIC = {"words": "ten metric tons", "expected": {"coils": [{"weight_lb": 22_046.23}]}}
WHAT_IF = {"words": "what if i use five chains", "before": ["forty thousand pound coil"], "intent": "what if"}
RATING = {"words": "what's a three eighths grade seventy chain good for", "intent": "rating"}
RULES = {"words": "use canadian rules", "intent": "rules", "rules": "Canada"}
QUIZ = {"words": "four thousand", "before": ["quiz me"], "intent": "quiz"}


@pytest.mark.parametrize(
    ("entry", "heard", "outcome"),
    [
        (COIL, "fifteen thousand pound coil four chains", Outcome.RIGHT),
        (COIL, "a fifteen thousand pound coil and four chains", Outcome.RIGHT),
        (COIL, "fifty thousand pound coil four chains", Outcome.WRONG_NUMBER),
        (COIL, "fifteen thousand pound coil five chains", Outcome.WRONG_NUMBER),
        (COIL, "fifteen thousand pound coil", Outcome.WRONG),
        (COIL, "fifteen thousand pound coil four straps", Outcome.WRONG_NUMBER),
        (COIL, "fifteen thousand pound coil a chain", Outcome.WRONG_NUMBER),
        (COIL, "fifteen thousand pound coil four chains and a strap", Outcome.WRONG),
        (COIL, "fifteen thousand pound coil four chains on timbers", Outcome.WRONG),
        (COIL, "fifteen thousand pound coil four chains on mats", Outcome.WRONG),
        (COIL, "fifteen thousand pound coil four chains four bunks", Outcome.WRONG_NUMBER),
        (COIL, "the green ideas", Outcome.ASKED),
        (COIL, "", Outcome.ASKED),
        (SPLIT, "four chains", Outcome.WRONG),
        (SPLIT, "four chains two forward", Outcome.WRONG),
        (SPLIT, "three chains", Outcome.WRONG_NUMBER),
        (FIX, "no nine chains", Outcome.WRONG_NUMBER),
        (FIX, "five chains", Outcome.ASKED),
        (FIX, "what does it hold", Outcome.WRONG),
        (LENGTH, "how many chains do i need", Outcome.RIGHT),
        (LENGTH, "what does it hold", Outcome.WRONG),
        (LENGTH, "two chains", Outcome.WRONG_NUMBER),
        (SEVENTY, "four grade eighty chains", Outcome.WRONG_NUMBER),
        (GEAR, "my chains are half inch", Outcome.RIGHT),
        (GEAR, "my chains are quarter inch", Outcome.WRONG_NUMBER),
        (METRIC, "ten metric tons", Outcome.RIGHT),
        (METRIC, "ten tons", Outcome.WRONG_NUMBER),
        (WHAT_IF, "what if i use five chains", Outcome.RIGHT),
        (WHAT_IF, "what if i use nine chains", Outcome.WRONG_NUMBER),
        (RATING, "what's a five eighths grade seventy chain good for", Outcome.WRONG),
        (RULES, "use canadian rules", Outcome.RIGHT),
        (RULES, "use european rules", Outcome.WRONG),
        (QUIZ, "four thousand", Outcome.RIGHT),
        (QUIZ, "five thousand", Outcome.WRONG_NUMBER),
        (QUIZ, "green ideas", Outcome.ASKED),
    ],
)
def test_outcome(entry: dict[str, Any], heard: str, outcome: Outcome) -> None:
    assert came_of(entry, heard) is outcome


def test_a_doubtful_number_is_asked_about_whether_it_is_right_or_not() -> None:
    assert came_of(COIL, COIL["words"], 0) is Outcome.ASKED
    assert came_of(COIL, "fifty thousand pound coil four chains", 0) is Outcome.ASKED


def test_a_number_that_was_read_back__is_not_unasked_where_it_came_to_stand_wrong() -> None:
    marked = {"words": "two straps marked thirty three hundred", "expected": {"tiedowns": [
        {"kind": "strap", "count": 2, "marked_lb": 3_300}
    ]}}  # fmt: skip
    goal = goal_of(read({"group": "made up", **marked}), KIT)
    answer, after = taken(Utterance("thirty three hundred", None, ()), goal.before, KIT)
    assert outcome_of(goal, "", answer, after, KIT) is Outcome.WRONG_NUMBER
    assert outcome_of(goal, "", answer, after, KIT, read_back=["thirty three hundred"]) is Outcome.WRONG


def test_too_loud_is_asked_though_every_word_is_right() -> None:
    assert came_of(COIL, COIL["words"], too_loud=True) is Outcome.ASKED


@pytest.mark.parametrize(
    ("heard", "unsure", "says"),
    [
        ("fifteen thousand pound coil four chains", (0,), "yes"),
        ("fifty thousand pound coil four chains", (0,), COIL["words"]),
        ("fifteen thousand pound coil five chains", (2,), COIL["words"]),
        ("green ideas", (), COIL["words"]),
    ],
)
def test_the_driver__says_yes_to_what_is_right_and_else_the_sentence_again(
    heard: str, unsure: tuple[int, ...], says: str
) -> None:
    goal = goal_of(read({"group": "made up", **COIL}), KIT)
    answer, after = taken(Utterance(heard, None, unsure), goal.before, KIT)
    assert driver_says(goal, answer, after, KIT)[0] == says


def test_the_driver__takes_the_number_that_the_question_offers() -> None:
    entry = {"group": "made up", "words": "forty thousand pound coil", "expected": {"coils": [{"weight_lb": 40_000}]}}
    goal = goal_of(read(entry), KIT)
    answer, after = taken(Utterance("fourteen thousand pound coil", None, (0,)), goal.before, KIT)
    assert "or was it forty" in answer.asks[0]
    assert driver_says(goal, answer, after, KIT) == ("forty thousand pound coil", "Forty thousand pound coil.")


def test_the_driver__says_what_else_the_question_offers() -> None:
    entry = {"group": "made up", "words": "a chain and a strap", "expected": {"tiedowns": []}}
    goal = goal_of(read(entry), KIT)
    heard = Utterance("eight chains and a strap", None, (0,), others=lambda: ("a chain and a strap",))
    answer, after = taken(heard, goal.before, KIT)
    assert answer.asks == ("I heard eight chains. Is that right, or was it a chain?",)
    assert driver_says(goal, answer, after, KIT) == ("a chain", "A chain.")


def test_the_driver__hears_that_a_number_is_missing_in_what_is_read_back() -> None:
    goal = goal_of(read({"group": "made up", "words": "eight concrete pipes", "expected": {}}), KIT)
    answer, after = taken(Utterance("a concrete pipe", None, (), hazy=True), goal.before, KIT)
    assert answer.confirm == ("a concrete pipe",)
    assert driver_says(goal, answer, after, KIT)[0] == "eight concrete pipes"


@pytest.mark.parametrize(
    ("said", "heard"),
    [("two half inch manila ropes", "a manila rope"),
     ("a pair of twenty one thousand pound coils", "twenty one thousand pound coil")],
)  # fmt: skip
def test_the_driver__hears_that_two_were_taken_for_one(said: str, heard: str) -> None:
    goal = goal_of(read({"group": "made up", "words": said, "expected": {}}), KIT)
    answer, after = taken(Utterance(heard, None, (), hazy=True), goal.before, KIT)
    assert answer.confirm == (heard,)
    assert driver_says(goal, answer, after, KIT)[0] == said


def test_words_of_one_sound_are_no_error_and_articles_are_none() -> None:
    assert word_errors("the eye to the side", "i two side", GRAMMAR) == (0, 3)
    assert word_errors("four chains for a coil", "for chains four coil", GRAMMAR) == (0, 4)
    assert word_errors("four chains", "five chains and", GRAMMAR) == (2, 2)
    assert folded("an eye to the sky", GRAMMAR) == ["eye", "two", "sky"]


def test_numbers_are_told_by_what_they_are_of() -> None:
    told = goal_of(read({"group": "made up", **SPLIT}), KIT).load
    assert numbers(told) == {("tiedowns.chain.count", 2), ("tiedowns.chain.count", 4)}


def test_a_row_counts_ends_and_marks_targets() -> None:
    common = {"asked_though_right": False, "word_errors": 0, "words": 4}
    results = [
        {**common, "outcome": "right"},
        {**common, "outcome": "asked", "then": "right"},
        {**common, "outcome": "asked", "then": "wrong number"},
        {**common, "outcome": "wrong"},
    ]
    assert [end(one) for one in results] == ["right", "right", "wrong number", "wrong"]
    assert row("all", results).split()[1:] == ["4", "0.0", "25.0", "50.0", "0.0", "25.0", "25.0"]


def test_a_length_that_was_read_back_is_a_number_too() -> None:
    assert [*values_in("six foot six long", KIT)] == [6.5]


def test_held_out_sentences__count_in_the_rows_with_targets_and_again_in_rows_of_their_own() -> None:
    common = {"voice": "heart", "outcome": "right", "asked_though_right": False, "word_errors": 0, "words": 4}
    heard = [(None, None), ("wind", 10), ("beside the engine", 10), ("wind", 0), ("beside the engine", 0)]
    results = [
        {**common, "noise": kind, "db": snr_db, "held_out": held_out}
        for kind, snr_db in heard
        for held_out in (False, False, True)
    ]
    rows = {line[:42].strip(): line[42:].split() for line in conditions(results)}
    assert {name.removeprefix("natural voices, "): cells[0] for name, cells in rows.items()} == {
        "clean": "3",
        "clean, held-out sentences": "1",
        "10 dB": "3",
        "10 dB, beside the engine": "3",
        "10 dB, held-out sentences": "1",
        "0 dB, any noise": "6",
        "0 dB, held-out sentences": "1",
    }
    assert {name for name, cells in rows.items() if not any("=" in cell for cell in cells)} == {
        name for name in rows if "held-out" in name
    }
    assert not any("held-out" in line for line in conditions([one for one in results if not one["held_out"]]))


def test_a_row_that_is_kept__has_its_targets_and_names_what_it_missed() -> None:
    common = {"voice": "heart", "noise": None, "db": None, "held_out": False, "word_errors": 1, "words": 4}
    right = {**common, "outcome": "right", "asked_though_right": False}
    results = [right, right, {**common, "outcome": "asked", "asked_though_right": True, "then": "right"}]
    kept = measured(by_ratio(results)[0])
    assert kept.what == "natural voices, clean"
    assert kept.figures == {
        "heard": 3,
        "word error": 25.0,
        "right first": 66.7,
        "right, 1 question": 100.0,
        "asked though right": 33.3,
        "wrong number": 0.0,
        "wrong otherwise": 0.0,
    }
    assert kept.targets["right first"] == "≥ 97"
    assert kept.missed == ["right first", "asked though right"]
    assert [part.name for part in by_voice(results)] == ["voice heart, clean"]
