"""What is said: at most two sentences, the verdict first, no figure in digits, and never that a load is safe.

Figures are invented; the wording is what is tested.
"""

import re

import pytest
from hypothesis import given

from assistant.load.model import Kind, Path, Tiedown
from assistant.say.ear import finding_spoken, spoken
from assistant.securement.finding import Basis, Finding, Judgement, Status, Step
from tests.say.judged import JUDGEMENTS, SHORT, finding, rated, sums

FORBIDDEN = re.compile(r"\b(safe|ok to go|good to go|okay to go|secure enough)\b", re.IGNORECASE)


def judged(*findings: Finding, **told: object) -> Judgement:
    return Judgement.model_validate({"findings": findings, **told})


def test_short__says_by_how_much_and_what_to_add() -> None:
    assert spoken(SHORT) == "Short by two hundred pounds. Add one chain like those, across to the other side."


def test_short_of_a_direction_that_some_hold__says_too_few() -> None:
    lead = finding(Status.SHORT, "rearward", need=2, have=1, unit="tiedowns", remedy="Add one chain.")
    assert spoken(judged(lead)) == "Not met: too few hold rearward movement. Add one chain."


def test_short_on_sample_gear__owns_up_to_it() -> None:
    judgement = judged(sums(Status.SHORT, 19_800, remedy="Add one chain."), rated=(rated(basis=Basis.SAMPLE_GEAR),))
    assert spoken(judgement) == "Short by two hundred pounds on sample gear. Add one chain."


@pytest.mark.parametrize(
    ("topic", "movement"),
    [("forward", "forward movement"), ("rearward", "rearward movement"), ("left", "movement to the left")],
)
def test_short_of_a_direction__names_the_movement_that_is_not_held(topic: str, movement: str) -> None:
    lead = finding(
        Status.SHORT, topic, text="At least one tiedown; none told.", remedy="Add one chain through the eye."
    )
    assert spoken(judged(lead)) == f"Not met: {movement} is not held. Add one chain through the eye."


def test_stop__says_what_is_wrong_and_what_to_do() -> None:
    lead = finding(Status.STOP, "knot", text="A tiedown must not contain a knot.", remedy="Take the knot out.")
    judgement = judged(lead, sums(Status.MEETS, 30_000))
    assert spoken(judgement) == "Stop: a tiedown must not contain a knot. Take the knot out."


def test_stop_for_what_was_seen__names_it() -> None:
    lead = finding(
        Status.STOP, "seen", text="Seen: knot. A tiedown must not contain a knot.", remedy="Take the knot out."
    )
    assert spoken(judged(lead)) == "Stop: knot seen. Take the knot out."


def test_stop_with_a_long_reason__leaves_the_reason_to_the_screen() -> None:
    lead = finding(Status.STOP, "nailed", text=f"{'Nailed wood ' * 12}.", remedy="Hold the timbers with coil bunks.")
    assert spoken(judged(lead)) == "Stop. Hold the timbers with coil bunks."


def test_question__follows_what_is_known() -> None:
    eye = finding(Status.ASK, "eye", text="The eye is not known.", remedy="Which way does the eye point?")
    judgement = judged(eye, sums(Status.MEETS, 26_400))
    assert (
        spoken(judgement)
        == "Half-weight line is met, six thousand four hundred pounds over. Which way does the eye point?"
    )


def test_question_when_nothing_is_known__says_so() -> None:
    lead = finding(Status.ASK, text="A weight was not told.", remedy="What does the coil weigh?")
    assert spoken(judged(lead)) == "I can't tell yet. What does the coil weigh?"


def test_question_of_the_path__does_not_call_the_line_met() -> None:
    lead = finding(Status.ASK, "path", need=20_000, have=13_200, remedy="Do all the chains reach the other side?")
    judgement = judged(lead, sums(Status.MEETS, 26_400))
    support = finding(Status.ASK, "rolling", remedy="What does it rest on?")
    assert spoken(judged(support, *judgement.findings)).startswith(
        "Half-weight line is met only if all go to the other"
    )
    assert spoken(judgement) == (
        "Half-weight line is met only if all go to the other side. Do all the chains reach the other side?"
    )


def test_met__gives_the_margin_and_what_only_eyes_can_check() -> None:
    judgement = judged(sums(Status.MEETS, 26_000), rated=(rated(),))
    assert spoken(judgement) == (
        "Every rule I checked is met, by six thousand pounds. Look at the edges and the hooks before you roll."
    )


def test_met_exactly__says_that_nothing_is_to_spare() -> None:
    assert spoken(judged(sums(Status.MEETS, 20_000))).startswith("Every rule I checked is met, with nothing to spare.")


def test_met_with_a_path_not_told__speaks_that_assumption() -> None:
    untold = rated(Tiedown(kind=Kind.CHAIN, count=4))
    assert "I took the chains as going to the other side." in spoken(
        judged(sums(Status.MEETS, 26_000), rated=(untold,))
    )
    direct = rated(Tiedown(kind=Kind.CHAIN, count=4), path=Path.DIRECT)
    assert "I took" not in spoken(judged(sums(Status.MEETS, 26_000), rated=(direct,)))


def test_met_on_sample_gear__says_so_and_asks_for_the_drivers_own() -> None:
    judgement = judged(sums(Status.MEETS, 26_000), rated=(rated(basis=Basis.SAMPLE_GEAR),))
    assert spoken(judgement) == (
        "Every rule I checked is met on sample gear, by six thousand pounds. Tell me what your own gear is."
    )


def test_met_with_another_assumption__speaks_it_but_not_the_drivers_own_list() -> None:
    own, binder = "Gear list: chain 3/8 in grade 70, WLL 6,600 lb.", "Binders are taken as no weaker than their chain."
    judgement = judged(sums(Status.MEETS, 26_000), rated=(rated(),), assumed=(own, binder))
    assert spoken(judgement).endswith("Mind: binders are taken as no weaker than their chain.")
    assert spoken(judged(sums(Status.MEETS, 26_000), assumed=("",))).endswith("before you roll.")
    sample = judgement.model_copy(update={"assumed": ("Sample gear list: binder marked 6,600 lb.",)})
    assert spoken(sample).endswith(
        "From the sample gear list I took the binder marked six thousand six hundred pounds."
    )


def test_another_rule__is_named_as_outside() -> None:
    lead = finding(
        Status.OUTSIDE, "other rule", text="Paper rolls have a rule of their own.", remedy="See 49 CFR 393.122."
    )
    assert spoken(judged(lead)) == (
        "Outside what I check: paper rolls have a rule of their own. "
        "See forty nine C F R three ninety three point one twenty two."
    )


def test_nothing_judged__asks_for_the_load() -> None:
    assert spoken(Judgement()) == "Nothing to check yet. Tell me what is on the deck."


def test_one_finding__is_said_alone() -> None:
    need = finding(Status.MEETS, "advice", text="Four chains of 6,600 lb reach it (26,400 lb). More follows.")
    assert finding_spoken(need) == "Four chains of six thousand six hundred pounds reach it."
    ask = finding(Status.ASK, "advice", text="A weight was not told.", remedy="What does it weigh?")
    assert finding_spoken(ask) == "A weight was not told. What does it weigh?"


def test_advice__says_first_what_to_do_then_what_it_could_not_count() -> None:
    text = "Half the weight is 20,000 lb. The eye was not told, so its own count is not in this."
    steps = (Step(what="gear", value=6_600.0, formula="Sample gear list: chain 3/8 in grade 70."),)
    advice = finding(Status.MEETS, "advice", text=text, remedy="Put on four chains.", trace=steps)
    assert finding_spoken(advice) == (
        "Put on four chains, going by sample gear. The eye was not told, so its own count is not in this."
    )
    told = finding(Status.MEETS, "advice", text="Half the weight is 20,000 lb.", remedy="Put on four chains.")
    assert finding_spoken(told) == "Put on four chains. Half the weight is twenty thousand pounds."


@given(JUDGEMENTS)
def test_anything_judged__is_two_sentences_at_most_without_digits_and_never_calls_it_safe(judgement: Judgement) -> None:
    said = spoken(judgement)
    assert said
    assert not re.search(r"\d", said)
    assert not FORBIDDEN.search(said)
    assert len(re.findall(r"[.?!](?=\s|$)", said)) <= 2


@given(JUDGEMENTS)
def test_verdict__comes_first(judgement: Judgement) -> None:
    first = {
        None: "Nothing",
        Status.STOP: "Stop",
        Status.SHORT: ("Short", "Not met"),
        Status.ASK: ("I can't tell", "Half-weight line"),
        Status.OUTSIDE: "Outside",
        Status.MEETS: "Every rule I checked is met",
    }[judgement.verdict]
    assert spoken(judgement).startswith(first)
