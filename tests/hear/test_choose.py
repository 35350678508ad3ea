"""What is meant by the recognizer's alternatives, and how sure that is: shares worked out by hand.

Where alternatives parse alike, the share of one that scores d below the best is 1 / (1 + exp(d / 1.5)) of the two.
"""

import math

import pytest

from assistant.hear.choose import COST_IN_NATS, TEMPERATURE, Alternative, choose, denied, weigh
from assistant.hear.runs import Runs
from assistant.phrase.grammar import read_grammar
from assistant.understand.understander import Understander

UNDERSTANDER = Understander(read_grammar())


NEVER = 2e-4
"""Nothing counts as quite certain."""


def weighing(text: str, weight: float = 1.0) -> Alternative:
    """Return an alternative whose share is `weight` to those of others, whatever the grammar finds wrong with it."""
    words = tuple(text.split())
    return words, TEMPERATURE * math.log(weight) + COST_IN_NATS * UNDERSTANDER.cost(words)


def says(text: str, score: float = 0.0) -> Alternative:
    return tuple(text.split()), score


def test_the_grammar_outweighs_a_little_of_the_recognizers_score() -> None:
    place, _ = choose([says("forty chains thousand coil"), says("forty thousand pound coil", -1.0)], UNDERSTANDER)
    assert place == 1


def test_runs_of_words_that_the_phrases_have_outweigh_a_little_of_the_recognizers_score() -> None:
    phrases = Runs(["one chain", "nine chains", "one strap", "nine straps"] * 9, UNDERSTANDER.grammar)
    heard = [[says("one chains"), says("nine chains", -1.0)]]
    assert weigh(heard, UNDERSTANDER).words == ("one", "chains")
    assert weigh(heard, UNDERSTANDER, phrases).words == ("nine", "chains")


def test_a_word_is_as_sure_as_the_share_of_the_readings_that_have_it() -> None:
    other = 1 / (1 + math.exp(3 / 1.5))
    _, sure = choose([says("four chains"), says("five chains", -3.0)], UNDERSTANDER)
    assert sure == pytest.approx((1 - other, 1.0))


def test_two_hearings_that_agree_have_it_against_one_that_is_surer_of_itself() -> None:
    first = [says("forty thousand pound coil"), says("fourteen thousand pound coil", -1.0)]
    second = [says("fourteen thousand pound coil"), says("forty thousand pound coil", -3.0)]
    assert weigh([first, second], UNDERSTANDER).words[0] == "fourteen"
    assert weigh([first], UNDERSTANDER).words[0] == "forty"


def test_a_number_is_as_sure_as_all_of_its_words_together() -> None:
    said, longer = "forty seven coil four chains", "forty four seven coil four chains"
    found = weigh([[weighing(said, 3), weighing(longer, 1)]], UNDERSTANDER)
    assert " ".join(found.words) == said
    assert found.numbers == pytest.approx((0.75, 0.75, 1.0), abs=NEVER)
    assert found.all_numbers == pytest.approx(0.75)


def test_a_number_said_twice_wants_a_reading_with_both() -> None:
    both, one = "two chains forward two chains rearward", "two chains forward"
    found = weigh([[weighing(both, 3), weighing(one, 2)]], UNDERSTANDER)
    assert found.numbers == pytest.approx((1.0, 0.6), abs=NEVER)
    assert found.all_numbers == pytest.approx(0.6)


def test_a_number_lost_by_one_reading_is_doubted_though_the_others_stand() -> None:
    found = weigh([[weighing("four chains", 3), weighing("four chains six straps", 2)]], UNDERSTANDER)
    assert found.numbers == pytest.approx((1.0,), abs=NEVER)
    assert found.all_numbers == pytest.approx(0.6)


def test_what_no_reading_counts_is_sure_of_its_numbers() -> None:
    found = weigh([[says("eye crosswise"), says("eyes crosswise")]], UNDERSTANDER)
    assert (found.numbers, found.all_numbers) == ((), pytest.approx(1.0, abs=NEVER))


def test_a_word_that_is_written_as_no_number_has_no_place_among_the_numbers() -> None:
    # "eye two the side" is written "eye to the side"; the two chains are the only number.
    found = weigh([[says("eye two the side two chains forward")]], UNDERSTANDER)
    assert found.numbers == pytest.approx((1.0,), abs=NEVER)


def test_an_unknown_sound_is_no_word_of_a_number() -> None:
    found = weigh([[says("[unk] forty thousand pound coil [unk]")]], UNDERSTANDER)
    assert len(found.numbers) == 2


def test_an_and_inside_a_number_is_no_other_number() -> None:
    both = [weighing("six hundred and fifty pounds"), weighing("six hundred fifty pounds")]
    assert weigh([both], UNDERSTANDER).numbers == pytest.approx((1.0, 1.0, 1.0), abs=NEVER)


def test_what_is_said_again_is_likelier_where_both_may_be_it() -> None:
    """Nine chains: 0.3 of the first and 0.625 of the second; five chains 0.1 and 0.3125. Together 6 to 1."""
    before = {("nine", "chains"): 0.3, ("five", "chains"): 0.1, ("mats",): 0.6}
    now = [[weighing("nine chains", 10), weighing("five chains", 5), weighing("my chains", 1)]]
    found = weigh(now, UNDERSTANDER, before=before)
    assert found.words == ("nine", "chains")
    assert found.numbers == pytest.approx((6 / 7,))


def test_what_is_hardly_heard_now_stays_unsure_though_it_was_surer_before() -> None:
    before = {("nine", "chains"): 0.9, ("five", "chains"): 0.1}
    found = weigh([[weighing("five chains", 8), weighing("nine chains", 2)]], UNDERSTANDER, before=before)
    assert found.words == ("nine", "chains")
    assert found.numbers == pytest.approx((0.2,))


def test_what_is_no_repetition_is_weighed_alone() -> None:
    before = {("eye", "crosswise"): 0.99, ("five", "chains"): 0.01}
    now = [weighing("nine chains", 9), weighing("five chains", 1)]
    assert weigh([now], UNDERSTANDER, before=before) == weigh([now], UNDERSTANDER)


def test_what_was_read_back_and_not_confirmed_was_not_said() -> None:
    both = [weighing("fifteen thousand", 6), weighing("fifteen thousand pounds", 3), weighing("fifty thousand", 1)]
    heard = weigh([both], UNDERSTANDER)
    assert denied(heard, UNDERSTANDER, read_back=heard.words) == pytest.approx({("fifty", "thousand"): 0.1})
    assert ("fifteen", "thousand", "pounds") in denied(heard, UNDERSTANDER)
    instead = denied(heard, UNDERSTANDER, read_back=("fifty", "thousand"))
    assert instead == pytest.approx({("fifteen", "thousand", "pounds"): 0.3})


def test_of_two_hearings_a_number_has_the_mean_of_its_log_odds() -> None:
    """Odds of 9 and of 1: their geometric mean is 3, so three in four."""
    one = [weighing("four chains", 9), weighing("five chains", 1)]
    other = [weighing("four chains", 1), weighing("five chains", 1)]
    assert weigh([one, other], UNDERSTANDER).numbers == pytest.approx((0.75,))
