"""What if: the load is judged as it would be, what changes is said and listed, and the load stays as it was told."""

import pytest

from assistant.load.model import Eye, Kind, Through
from assistant.say.answer import Answer
from assistant.say.machine import as_json
from assistant.securement.finding import Status
from tests.conftest import Talk

# 49 CFR 393.106(d), read: half of 40,000 lb is 20,000 lb. 393.108 chain table, read: 3/8 in grade 70 is 6,600 lb,
# 1/2 in grade 70 11,300 lb, 3/8 in grade 80 7,100 lb. So four chains across count 26,400, 45,200 and 28,400 lb.
CRADLED = "forty thousand pound coil eye crosswise in a cradle with mats"
FOUR = f"{CRADLED}, two chains forward and two rearward"
THREE = f"{CRADLED}, three chains"


def counted(answer: Answer) -> float | None:
    assert answer.judgement
    return answer.judgement.counted_lb


SUPPOSED = [
    ("what if I had grade eighty chains", 28_400, 40_000),
    ("what if the chains were grade eighty", 28_400, 40_000),
    ("what if the chains were half inch", 45_200, 40_000),
    ("what if they were half inch grade seventy chains", 45_200, 40_000),
    ("what if I had half inch chains", 45_200, 40_000),
    ("what if the binders were marked six thousand", 24_000, 40_000),
    ("what if the binders are marked 5,000", 20_000, 40_000),
    ("what if the coil was thirty eight thousand", 26_400, 38_000),
    ("what if the coil was thirty eight thousand pounds", 26_400, 38_000),
    ("what if it weighed thirty eight thousand", 26_400, 38_000),
    ("what if I add a strap", 31_800, 40_000),
    ("what if I add two straps", 37_200, 40_000),
    ("suppose I add a strap", 31_800, 40_000),
]


@pytest.mark.parametrize(("said", "count_lb", "weight_lb"), SUPPOSED, ids=[said for said, *_ in SUPPOSED])
def test_what_if__is_judged_as_changed_and_the_load_stays(talk: Talk, said: str, count_lb: int, weight_lb: int) -> None:
    _, before = talk(FOUR)
    answer, after = talk(said, conversation=before)
    assert (answer.understood, answer.intent) == (True, "what if")
    assert counted(answer) == count_lb
    assert answer.judgement
    assert answer.judgement.needed_lb == weight_lb / 2
    assert answer.say.startswith("If so: ")
    assert answer.load == after.load == before.load
    assert (after.turns, after.pending, after.focus) == (before.turns, before.pending, before.focus)


FEWER = [
    ("what if I took one off", 13_200),
    ("what if I take one off", 13_200),
    ("what if I took one chain off", 13_200),
    ("what if I had five chains", 33_000),
    ("what if I use five chains", 33_000),
    ("what if I use five", 33_000),
    ("what about five", 33_000),
    ("what if I add two more", 33_000),
    ("what if I had no chains", 0),
]


@pytest.mark.parametrize(("said", "count_lb"), FEWER, ids=[said for said, _ in FEWER])
def test_what_if__of_another_number(talk: Talk, said: str, count_lb: int) -> None:
    _, before = talk(THREE)
    answer, after = talk(said, conversation=before)
    assert answer.intent == "what if"
    assert (counted(answer) or 0) == count_lb
    assert after.load == before.load


def test_what_if__of_another_eye(talk: Talk) -> None:
    _, before = talk(FOUR)
    answer, after = talk("what if it was eye to the sky", conversation=before)
    assert answer.judgement
    assert any("393.120(b)" in finding.rule for finding in answer.judgement.findings)
    assert after.load.coils[0].eye is Eye.CROSSWISE


FOLLOWED = [
    (("what if I use five chains", "and with six"), 39_600),
    (("what if I use five chains", "and with six?"), 39_600),
    (("what if I use five chains", "and if it was six"), 39_600),
    (("what if I use five chains", "and with six", "and with seven"), 46_200),
    (("what if I use five chains", "what about six"), 39_600),
    (("what if I use five chains", "and if they were grade eighty"), 35_500),
    (("what if I use five chains", "six"), 39_600),
    (("what if I add a strap", "and with two"), 30_600),
]


@pytest.mark.parametrize(("said", "count_lb"), FOLLOWED, ids=[" | ".join(said) for said, _ in FOLLOWED])
def test_what_if__can_be_gone_on_with(talk: Talk, said: tuple[str, ...], count_lb: int) -> None:
    """A strap of the sample list is marked 5,400 lb."""
    _, before = talk(THREE)
    answer, after = talk(*said, conversation=before)
    assert answer.intent == "what if"
    assert counted(answer) == count_lb
    assert after.load == before.load


def test_what_if__is_forgotten_once_something_else_is_said(talk: Talk) -> None:
    _, before = talk(THREE)
    _, state = talk("what if I use five chains", "a broken band", conversation=before)
    answer, after = talk("and with six", conversation=state)
    assert answer.intent != "what if"
    assert after.load.tiedowns == before.load.tiedowns


def test_and_with__is_no_what_if_by_itself(talk: Talk) -> None:
    answer, after = talk("forty thousand pound coil and with four chains")
    assert answer.intent == "facts"
    assert [group.count for group in after.load.tiedowns] == [4]


@pytest.mark.parametrize("said", ["what if I had grade eighty straps", "what if", "what if it rains"])
def test_what_if__that_says_nothing_to_judge_is_refused(talk: Talk, said: str) -> None:
    _, before = talk(FOUR)
    answer, after = talk(said, conversation=before)
    assert not answer.understood
    assert after.load == before.load


def test_what_if__is_not_still_so_where_it_is_not_so_yet(talk: Talk) -> None:
    answer, _ = talk("forty coil", "what if I use four chains")
    assert "still" not in answer.say
    assert answer.say.endswith("they count half.")


# ---- what changes ----------------------------------------------------------------------------------------------------


def test_changed_verdict__is_said_with_what_it_is_now(talk: Talk) -> None:
    """Two chains count 13,200 lb, 6,800 lb short of 20,000 lb; four 26,400 lb, 6,400 lb over."""
    answer, _ = talk(f"{CRADLED}, two chains forward", "what if I add two chains rearward")
    assert answer.say.startswith(
        "If so: every rule I checked is met on sample gear, by six thousand four hundred pounds; now it is short"
    )


def test_unchanged_verdict__is_said_with_the_change_that_matters_most(talk: Talk) -> None:
    answer, _ = talk(FOUR, "what if I add a strap")
    assert answer.say == (
        "If so: every rule I checked is still met on sample gear, by eleven thousand eight hundred pounds. "
        "By weight it is now over by six thousand four hundred pounds."
    )


def test_what_changes_nothing__says_so(talk: Talk) -> None:
    answer, _ = talk(FOUR, "what if the coil is steel")
    assert answer.say.startswith("If so: nothing changes")
    assert answer.changed == ()


@pytest.mark.parametrize("said", [said for said, *_ in SUPPOSED] + [said for said, _ in FEWER])
def test_what_if__is_said_in_at_most_two_sentences(talk: Talk, said: str) -> None:
    answer, _ = talk(THREE, said)
    assert answer.say.count(". ") <= 1
    assert answer.say.endswith((".", "?"))


def test_changed_findings__are_listed_worst_first_before_and_after(talk: Talk) -> None:
    answer, _ = talk(FOUR, "what if the coil was sixty thousand")
    ranks = [Status.STOP, Status.SHORT, Status.ASK, Status.OUTSIDE, Status.MEETS, None]
    order = [ranks.index(change.after) for change in answer.changed]
    assert order == sorted(order)
    worst = answer.changed[0]
    assert (worst.topic, worst.before, worst.after) == ("aggregate", Status.MEETS, Status.SHORT)
    assert (worst.before_margin, worst.after_margin) == (6_400, -3_600)
    listed = answer.show.split("What would change")[1]
    assert "MEETS -> SHORT" in listed
    assert "+6,400 lb -> -3,600 lb" in listed


def test_json__holds_the_real_load_and_the_changed_findings(talk: Talk) -> None:
    answer, before = talk(FOUR)
    as_it_is = as_json(answer)
    assert as_it_is["changed"] == []
    supposed, _ = talk("what if the chains were half inch", conversation=before)
    told = as_json(supposed)
    assert told["load"] == as_it_is["load"]
    assert told["counted_lb"] == 45_200
    assert told["changed"][0] == {
        "rule": "49 CFR 393.106(d)", "topic": "aggregate", "text": told["changed"][0]["text"], "unit": "lb",
        "before": "meets", "after": "meets", "before_margin": 6_400, "after_margin": 25_200,
    }  # fmt: skip
    assert set(as_it_is) == set(told)


# ---- the same, told and not supposed ---------------------------------------------------------------------------------


def test_grade_before_the_noun__is_told_of_the_tiedowns_that_are_there(talk: Talk) -> None:
    _, after = talk("four chains", "grade eighty chains")
    assert [(group.kind, group.count, group.grade) for group in after.load.tiedowns] == [(Kind.CHAIN, 4, "80")]
    _, after = talk("two half inch chains and two three eighths chains", "the half inch chains go through the eye")
    assert [(group.size_in, group.through) for group in after.load.tiedowns] == [(0.5, Through.EYE), (0.375, None)]


def test_grade_before_the_noun__of_several_groups_is_asked(talk: Talk) -> None:
    _, before = talk("two chains forward and two rearward")
    answer, after = talk("the half inch chains go through the eye", conversation=before)
    assert not answer.understood
    assert after.load == before.load
