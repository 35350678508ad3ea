"""How much likelier words are by runs of four than by pairs: worked out by hand after Witten and Bell."""

import math

import pytest

from assistant.hear.runs import Runs
from assistant.phrase.grammar import read_grammar

GRAMMAR = read_grammar()


def beyond(phrases: list[str], words: str) -> float:
    return Runs(phrases, GRAMMAR).beyond_pairs(words.split())


def test_what_no_phrase_holds_side_by_side_is_the_same_by_longer_runs() -> None:
    assert beyond(["new chains", "old straps"], "straps chains") == pytest.approx(0.0)


def test_a_longer_run_tells_what_a_pair_does_not() -> None:
    """The words and ends are eight, of six kinds; with the beginning and a strange word there are eight codes.

    "red", and the end, is two of the eight. Behind "old" and behind "<s> old" stood "red" alone, once. "straps" is one
    of two behind "red", and never stood behind "old red", nor behind "<s> old red": a half of a half. The end stood
    once behind "straps" and "red straps", and no phrase has "old red straps".
    """
    phrases = ["old red chains", "new red straps"]
    two_of_eight = (2 + 6 / 8) / (8 + 6)
    pair = (1 + two_of_eight) / (1 + 1)
    run = (1 + pair) / (1 + 1)
    by_hand = math.log(run / pair) + math.log(1 / 4) + math.log(run / pair)
    assert beyond(phrases, "old red straps") == pytest.approx(by_hand)


def test_a_phrase_that_is_there_more_than_once_counts_as_often() -> None:
    once = beyond(["old red chains", "new red straps", "old red straps"], "old red chains")
    often = beyond(["old red chains", *["new red straps"] * 5, "old red straps"], "old red chains")
    assert often > once


def test_no_number_is_likelier_than_another_of_its_class() -> None:
    phrases = ["three chains", "three chains", "nine straps", "thirty thousand", "ninety straps"]
    assert beyond(phrases, "nine chains") == pytest.approx(beyond(phrases, "three chains"))
    assert beyond(phrases, "ninety thousand") == pytest.approx(beyond(phrases, "thirty thousand"))
    assert beyond(phrases, "nine thousand") != pytest.approx(beyond(phrases, "ninety thousand"))


def test_one_is_a_class_of_its_own() -> None:
    """A chain is not "one chains"."""
    phrases = ["one chain forward", "nine chains forward", "one strap back", "nine straps back", "one big coil"]
    assert beyond(phrases, "nine chains forward") > beyond(phrases, "one chains forward")


def test_no_run_reaches_into_the_phrase_before() -> None:
    assert beyond(["four chains", "three straps"], "chains three") == pytest.approx(0.0)


def test_a_strange_word_is_no_error() -> None:
    assert math.isfinite(beyond(["four chains"], "[unk] four banana chains"))
