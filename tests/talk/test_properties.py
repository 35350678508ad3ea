"""What must hold of any talk at all, of the whole way from words to verdict.

The talk is made, not written: see loads_that_meet.py and disturb.py. The same examples are tried on every run; many
more are in `python -m tests.talk.hundred_thousand`.
"""

import datetime as dt
import itertools
import sys
from collections.abc import Sequence
from types import FrameType
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.conversation import Conversation
from assistant.kit import Kit, read_kit
from assistant.load.model import Load
from assistant.reply import reply
from assistant.say.answer import Answer
from assistant.say.machine import as_json
from tests.talk import walk
from tests.talk.disturb import SORTS, disturb
from tests.talk.loads_that_meet import chance, make, plan
from tests.talk.walk import ASKED, FINE, Base, open_items
from tests.talk.wordings import CONTRADICTIONS, OTHER_TONGUES, QUESTIONS, THREE_CORRECTIONS

KIT = read_kit(dt.date(2026, 11, 25))
settings.register_profile("talk", deadline=None, derandomize=True)
few = settings(settings.get_profile("talk"), max_examples=12)
some = settings(settings.get_profile("talk"), max_examples=30)

seeds = st.integers(0, 2**20)
MEETING: dict[int, Base] = {}


def meeting(seed: int) -> Base:
    """Return talk of a load that meets, the same for a seed; a hundred of them, each said once."""
    seed %= 100
    if seed not in MEETING:
        MEETING[seed] = walk.meeting(KIT, seed)
    return MEETING[seed]


def said(utterance: str, state: Conversation) -> tuple[Answer, Conversation]:
    return reply(utterance, state, kit=KIT)


def kept(state: Conversation) -> tuple[Load, tuple[Any, ...]]:
    """Return all that was told: what was taken and what was not."""
    return state.load, open_items(state)


def asks(answer: Answer, state: Conversation) -> bool:
    """Tell whether an answer says that something of what was said was not taken, or asks about it."""
    seen = as_json(answer)
    return not seen["understood"] or bool(seen["confirm"]) or bool(open_items(state))


# Loads that are told ------------------------------------------------------------------------------------------------


@given(seeds)
@some
def test_load_that_meets__is_the_one_that_was_told(seed: int) -> None:
    base = walk.tell(KIT, make(seed))
    assert base.verdict != "meets" or base.true


@given(seeds, seeds)
@some
def test_order_of_clauses__does_not_matter(seed: int, shuffled: int) -> None:
    """One clause at a time, in any order; an order that is not understood is no matter of this test."""
    clauses, _ = plan(chance(seed))
    other = chance(shuffled).sample(clauses, len(clauses))
    loads = []
    for order in (clauses, other):
        answers, states = walk.say_all(KIT, (*order, ASKED), walk.fresh(KIT))
        assume(walk.verdict_of(answers[-1]) == "meets")
        groups = tuple(sorted(states[-1].load.tiedowns, key=str))
        loads.append(states[-1].load.model_copy(update={"tiedowns": groups}))
    assert loads[0] == loads[1], (clauses, other)


@pytest.mark.parametrize("sort", SORTS)
@given(seeds, seeds)
@some
def test_one_word_put_in__never_leaves_a_false_meets_or_changes_the_load_in_silence(
    sort: str, seed: int, place: int
) -> None:
    outcome = walk.disturbed_talk(KIT, meeting(seed), chance(place), sort)
    assert outcome.kind == FINE, outcome


@given(seeds, st.lists(seeds, min_size=2, max_size=4))
@some
def test_several_serious_words_put_in__never_leave_a_false_meets(seed: int, places: list[int]) -> None:
    """Nothing that is said makes up for something else that was not understood."""
    utterances = meeting(seed).told.utterances
    serious = [sort for sort in SORTS.values() if sort.serious and not sort.may_change]
    for place in places:
        draw = chance(place)
        utterances = disturb(draw, utterances, draw.choice(serious)).utterances
    answers, _ = walk.say_all(KIT, (*utterances, ASKED), walk.fresh(KIT))
    assert walk.verdict_of(answers[-1]) != "meets", utterances


# Questions ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("question", QUESTIONS)
@given(seeds, st.integers(1, 5))
@few
def test_question__never_changes_what_was_told(question: str, seed: int, many: int) -> None:
    """Also of a load that is told in part."""
    states = meeting(seed).states
    before = states[min(many, len(states) - 1)]
    answer, after = said(question, before)
    assert kept(after) == kept(before), answer.say
    assert answer.say


@given(seeds, st.lists(st.sampled_from(QUESTIONS), min_size=2, max_size=6))
@some
def test_many_questions__never_change_what_was_told(seed: int, questions: list[str]) -> None:
    before = meeting(seed).states[-1]
    _, states = walk.say_all(KIT, questions, before)
    assert kept(states[-1]) == kept(before)


# Undo ---------------------------------------------------------------------------------------------------------------


@given(seeds, seeds, st.sampled_from(("undo", "undo that", "take that back")))
@settings(few, max_examples=150)
def test_undo__gives_back_what_was_before(seed: int, place: int, undo: str) -> None:
    """After anything that changed something: what is taken and what is open are as they were."""
    base = meeting(seed)
    made = disturb(chance(place), base.told.utterances)
    before = base.states[made.at]
    answer, after = said(made.utterances[made.at], before)
    assume(kept(after) != kept(before))
    _, undone = said(undo, after)
    assert kept(undone) == kept(before), (made.utterances, answer.say)


@given(seeds)
@some
def test_undo__one_by_one_gives_every_state_there_was(seed: int) -> None:
    """Undisturbed, each utterance of the talk changed the load, and is taken back by one undo."""
    states = meeting(seed).states
    state = states[-1]
    for earlier in itertools.islice(reversed(states), 1, None):
        _, state = said("undo", state)
        assert kept(state) == kept(earlier)


# Bad input ----------------------------------------------------------------------------------------------------------

KNOWN = sorted(
    {word.strip(",.") for seed in range(300) for told in make(seed).utterances for word in told.split()}
    | {word for question in QUESTIONS for word in question.split()}
    | {word for sort in SORTS.values() for entry in sort.says for word in entry.split()}
)
"""Words of the deck, of questions, and of everything else that is put in."""
NUMBERS = ("one", "two", "three", "four", "six", "forty", "seventy", "hundred", "thousand", "half", "3/8", "5400", "12")
FILLERS = tuple(entry for entry in SORTS["filler"].says if entry not in {"the", "and", "then", "also", "too", "here"})


def taken_or_named(utterance: str, before: Conversation) -> None:
    """Say something bad, and hold that nothing of it enters in silence or leaves a load better than it was."""
    answer, after = said(utterance, before)
    assert answer.say
    assert after.load == before.load or asks(answer, after) or answer.intent != "facts", (utterance, answer.say)
    last, _ = said(ASKED, after)
    assert walk.verdict_of(last) != "meets" or after.load == before.load, (utterance, last.say)


def soup(seed: int, many: int, words: Sequence[str] = KNOWN) -> str:
    return " ".join(chance(seed).choices(words, k=many))


@given(seeds, seeds, st.integers(8, 40))
@settings(few, max_examples=100)
def test_soup_of_known_words__is_named_or_leaves_the_load(seed: int, words: int, many: int) -> None:
    taken_or_named(soup(words, many), meeting(seed).states[-1])


@pytest.mark.parametrize(
    "words", [KNOWN, NUMBERS, ("chain",), ("no",), ("forward", "rearward"), ("eye",), ("not", "two")]
)
@pytest.mark.parametrize("seed", range(3))
def test_two_thousand_words__are_named_or_leave_the_load(words: Sequence[str], seed: int) -> None:
    taken_or_named(soup(seed, 2_000, words), meeting(seed).states[-1])
    taken_or_named(soup(seed, 2_000, words), walk.fresh(KIT))


@given(seeds, st.lists(st.sampled_from(FILLERS), min_size=1, max_size=30))
@some
def test_only_fillers__leave_everything_as_it_was(seed: int, fillers: list[str]) -> None:
    before = meeting(seed).states[-1]
    _, after = said(" ".join(fillers), before)
    assert after.load == before.load


@pytest.mark.parametrize("utterance", OTHER_TONGUES)
def test_another_language__leaves_the_load_and_is_named(utterance: str) -> None:
    for before in (walk.fresh(KIT), meeting(1).states[-1]):
        answer, after = said(utterance, before)
        assert after.load == before.load
        assert asks(answer, after) or answer.say.startswith("I took nothing from that.")


@given(seeds, seeds)
@settings(few, max_examples=60)
def test_number_after_every_word__is_named_or_leaves_the_load(seed: int, numbers: int) -> None:
    draw = chance(numbers)
    base = meeting(seed)
    tokens = " ".join(base.told.utterances).split()
    numbered = " ".join(f"{token} {draw.choice(NUMBERS)}" for token in tokens)
    taken_or_named(numbered, walk.fresh(KIT))
    taken_or_named(numbered, base.states[-1])


@given(seeds)
@settings(few, max_examples=60)
def test_cut_short__is_never_better_than_the_whole(seed: int) -> None:
    """A sentence that breaks off anywhere, and nothing after it: what is missing is missed."""
    base = meeting(seed)
    *first, last = base.told.utterances
    tokens = last.split()
    cut = " ".join(tokens[: seed % len(tokens)])
    answers, states = walk.say_all(KIT, (*first, cut, ASKED), walk.fresh(KIT))
    assert (
        walk.verdict_of(answers[-1]) != "meets" or states[-1].load == base.states[-1].load or _has_all(base, states[-1])
    )


def _has_all(base: Base, state: Conversation) -> bool:
    """Tell whether what was cut off was the course's end or a mere unit: coils and tiedowns are all there."""
    answer, _ = said(ASKED, state)
    return walk.is_true(as_json(answer)["load"], base.told.truth)


@pytest.mark.parametrize(("utterance", "coils", "tiedowns"), THREE_CORRECTIONS)
def test_three_corrections__end_in_the_last_or_are_asked(
    utterance: str, coils: list[int], tiedowns: list[tuple[str, int]]
) -> None:
    answer, after = said(utterance, walk.fresh(KIT))
    load = as_json(answer)["load"]
    told = [coil["weight_lb"] for coil in load["coils"]], [(tie["kind"], tie["count"]) for tie in load["tiedowns"]]
    assert told == (coils, tiedowns) or asks(answer, after) or answer.say.endswith("?"), answer.say


@pytest.mark.parametrize(("utterances", "about"), CONTRADICTIONS, ids=[" | ".join(told) for told, _ in CONTRADICTIONS])
def test_contradiction__is_asked(utterances: tuple[str, ...], about: tuple[str, ...]) -> None:
    answers, states = walk.say_all(KIT, (*utterances, ASKED), walk.fresh(KIT))
    told, after = answers[-2], states[-2]
    asked = "?" in told.say and not set(about).isdisjoint(told.say.lower().replace("?", " ").split())
    assert asked or asks(told, after), told.say
    assert walk.verdict_of(answers[-1]) != "meets"


# Time ---------------------------------------------------------------------------------------------------------------


def calls(utterance: str, kit: Kit) -> int:
    """Return how many functions an utterance calls: the same on any machine."""
    many = 0

    def count(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal many
        many += event in {"call", "c_call"}

    state = walk.fresh(kit)
    sys.setprofile(count)
    try:
        reply(utterance, state, kit=kit)
    finally:
        sys.setprofile(None)
    return many


@pytest.mark.parametrize("words", [KNOWN, ("bunks", "timbers", "mats"), NUMBERS, ("four chains",), ("spam",)])
def test_time__grows_no_faster_than_the_words(words: Sequence[str]) -> None:
    """Twice the words, twice the calls and at most a fifth more."""
    reply(soup(9, 50, words), walk.fresh(KIT), kit=KIT)  # what is read once is read now
    costs = [calls(soup(many, many, words), KIT) for many in (75, 150, 300, 600)]
    for fewer, more in itertools.pairwise(costs):
        assert more <= 2.4 * fewer + 2_000, costs
