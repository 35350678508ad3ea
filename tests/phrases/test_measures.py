"""Measures, binders and what-ifs: what is said of them against what it must set. Expected values are the words'."""

from typing import Any

import pytest

from tests.conftest import Talk

LOAD = "forty two five coil crosswise on timbers and three bunks two chains forward two chains rearward"


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("forty eight inches wide", "width_in", 48),
        ("seventy two inches outside diameter", "outside_in", 72),
        ("the bore is twenty four inches", "bore_in", 24),
        ('60" wide', "width_in", 60),
    ],
)
def test_a_coils_measures__are_told_in_inches(talk: Talk, said: str, field: str, value: float) -> None:
    _, after = talk(LOAD, said)
    assert getattr(after.load.coils[0], field) == value


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("timbers are rated twenty thousand pounds", "timber_rated_lb", 20_000),
        ("each bunk is good for fifteen thousand pounds", "bunk_rated_lb", 15_000),
        ("twenty four inches apart", "gap_in", 24),
        ("four inches off the deck", "edge_height_in", 4),
        ("the cradle is kept from sliding", "held", True),
        ("more than nails", "nailed_only", False),
    ],
)
def test_what_it_rests_on__takes_measures_and_ratings(talk: Talk, said: str, field: str, value: Any) -> None:  # noqa: ANN401 - numbers and truths
    _, after = talk(LOAD, said)
    assert getattr(after.load.support, field) == value


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("four chains with three threads left", "threads_left", 3),
        ("four chains at forty five degrees", "angle_deg", 45),
        ("four chains breaking strength twenty six thousand four hundred", "breaking_lb", 26_400),
        ("four chains two inches left on the binder", "take_up_in", 2),
        ("four chains one turn takes up a quarter inch", "lead_in", 0.25),
        ("four chains that can't be tightened", "adjustable", False),
        ("four straps with edge protectors", "edge_protected", True),
        ("two chains that are damaged", "damaged", True),
    ],
)
def test_tiedowns__take_what_is_told_of_binder_angle_and_condition(
    talk: Talk,
    said: str,
    field: str,
    value: Any,  # noqa: ANN401 - numbers and truths
) -> None:
    _, after = talk("forty two five coil", said)
    assert getattr(after.load.tiedowns[0], field) == value


def test_slack__is_told_by_what_would_give(talk: Talk) -> None:
    _, after = talk(LOAD, "the lip is two inches", "the timbers could crush half an inch")
    assert (after.load.slack.lip_in, after.load.slack.timber_in) == (2, 0.5)


def test_a_measured_lip__has_been_seen_and_is_gone_when_it_is_fixed(talk: Talk) -> None:
    _, after = talk(LOAD, "the lip is two inches")
    assert after.load.seen == ("lip",)
    _, after = talk("i fixed the lip", conversation=after)
    assert after.load.seen == ()
    assert after.load.slack.lip_in is None


def test_the_front_structure__has_a_height_and_a_rating(talk: Talk) -> None:
    _, after = talk(LOAD, "the bulkhead is four feet high", "the bulkhead is rated twenty thousand pounds")
    assert after.load.front is not None
    assert (after.load.front.height_ft, after.load.front.rated_lb) == (4, 20_000)


def test_a_yard_move__is_told_and_taken_back(talk: Talk) -> None:
    _, after = talk(LOAD, "yard move")
    assert after.load.yard
    _, after = talk("going on the road", conversation=after)
    assert not after.load.yard


def test_damaged_chains__are_refused_and_not_counted(talk: Talk) -> None:
    answer, _ = talk("forty two five coil crosswise six chains", "two chains that are damaged")
    assert answer.judgement is not None
    # 49 CFR 393.108 (read): 6,600 lb each; four sound ones of six.
    assert answer.judgement.counted_lb == 26_400
    assert answer.judgement.verdict == "stop"


def test_what_if__judges_another_load_and_leaves_this_one(talk: Talk) -> None:
    _, before = talk("forty two five coil crosswise on timbers and three bunks two chains forward")
    answer, after = talk("what if i use two chains rearward", conversation=before)
    assert answer.intent == "what if"
    assert answer.judgement is not None
    assert answer.judgement.verdict == "meets"
    assert answer.say.startswith("If so:")
    assert after.load == before.load


def test_which_way_can_it_move__names_the_weak_way(talk: Talk) -> None:
    answer, _ = talk(LOAD, "which way can it move")
    assert answer.intent == "movement"
    assert answer.judgement is not None
    assert any(finding.topic == "statics" for finding in answer.judgement.findings)
    assert "g" in answer.say.split()
    assert "Assumed" in answer.show


def test_which_way_can_it_move__names_the_piece_and_speaks_of_the_sharing(talk: Talk) -> None:
    answer, _ = talk("two coils twenty thousand each crosswise three chains forward", "which way can it move")
    assert "the coil with fewest tiedowns would" in answer.say
    assert "on the screen" in answer.say
    assert "one of three chains" in " ".join(answer.show.split())


def test_which_way_can_it_move__asks_what_it_needs(talk: Talk) -> None:
    assert "weigh" in talk("steel coil", "which way can it move")[0].say
    assert "eye point" in talk("two coils twenty thousand each", "which way can it move")[0].say


@pytest.mark.parametrize(
    ("said", "rules", "rule"),
    [
        ("use canadian rules", "Canada", "NSC Standard 10"),
        ("go by the european method", "EN 12195-1", "EN 12195-1"),
        ("use the federal rule", "US", "49 CFR"),
    ],
)
def test_rules__are_chosen_and_named(talk: Talk, said: str, rules: str, rule: str) -> None:
    answer, after = talk(LOAD, said)
    assert after.rules == rules
    assert answer.judgement is not None
    assert any(finding.rule.startswith(rule) for finding in answer.judgement.findings)
    assert "Judged by" in talk("whose rules", conversation=after)[0].show


def test_canada__is_short_in_kilograms_aloud(talk: Talk) -> None:
    answer, _ = talk("use canadian rules", "a crate ten thousand pounds", "one strap marked two thousand pounds")
    # Half of 4,536 kg is 2,268 kg; 2,000 lb are 907 kg.
    assert answer.say.startswith("Short by one thousand three hundred sixty one kilograms")


def test_the_least__is_advised_with_a_spare(talk: Talk) -> None:
    answer, _ = talk("forty two five coil crosswise on timbers and three bunks two chains forward", "what do i add")
    assert answer.intent == "advice"
    assert answer.say.startswith("Add one chain through the eye against forward movement and one chain")
    assert "With a spare" in answer.say
