"""What must hold of any talk: order, undo, units and purity."""

import datetime as dt
import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.conversation import Conversation
from assistant.kit import Kit, read_kit
from assistant.load.change import fold
from assistant.load.model import Load
from assistant.phrase.numbers import in_words, trade_words
from assistant.reply import reply

KIT = read_kit(dt.date(2026, 11, 25))

# Facts that have nothing to do with each other: whichever is told first, the load is the same.
FACTS = (
    "forty two thousand pound coil eye crosswise",
    "four chains",
    "two four inch straps over the top",
    "four bunks",
    "two timbers",
    "with mats",
    "a broken band",
    "blocked behind",
)
TALK = (
    *FACTS,
    "coil",
    "forty two five",
    "no, forty one",
    "a second coil at twenty thousand",
    "make that five chains",
    "two chains forward and two rearward",
    "take off the straps",
    "take one off",
    "no mats",
    "the chains are three eighths grade seventy",
    "five chains",
    "in all",
    "more",
    "yes",
    "no",
    "eye to the sky",
    "a crate two thousand pounds six feet long",
    "start over",
    "how many chains",
    "why",
    "my chains are half inch grade seventy",
    "i fixed the band",
    "start over, twenty thousand pound coil",
)
talks = st.lists(st.sampled_from(TALK), max_size=6)


def said(*utterances: str, state: Conversation | None = None) -> Conversation:
    state = state or Conversation(gear=KIT.sample_gear)
    for utterance in utterances:
        _, state = reply(utterance, state, kit=KIT)
    return state


def by_kind(load: Load) -> Load:
    """Return the load with its groups in one order: which was told first is no fact of the load."""
    return load.model_copy(
        update={"tiedowns": tuple(sorted(load.tiedowns, key=str)), "coils": tuple(sorted(load.coils, key=str))}
    )


@given(st.permutations(FACTS))
def test_facts__give_the_same_load_in_any_order(facts: list[str]) -> None:
    assert by_kind(said(*facts).load) == by_kind(said(*FACTS).load)


@given(st.permutations(FACTS), st.sampled_from((" and ", ", ", " ")))
@settings(max_examples=60)
def test_facts__give_the_same_load_in_one_breath_as_one_by_one(facts: list[str], join: str) -> None:
    # "... mats blocked behind" and the like stay apart; only a count right behind a count could run together
    assert by_kind(said(join.join(facts)).load) == by_kind(said(*FACTS).load)


@given(talks, st.sampled_from(TALK))
def test_undo__after_any_change_gives_the_load_before(before: list[str], last: str) -> None:
    state = said(*before)
    after = said(last, state=state)
    undone = said("undo", state=after)
    if after.held:
        # a half that waited for the rest is what is undone first
        assert undone.load == state.load
        return
    # a half that waited before is dropped, or was taken with what was said last
    whole = state.model_copy(update={"held": None})
    assert undone.load == (state.load if len(after.turns) > len(state.turns) else said("undo", state=whole).load)


@given(talks)
def test_undo__as_often_as_there_were_turns_gives_an_empty_deck(before: list[str]) -> None:
    state = said(*before)
    doubted = bool(state.pending and state.pending.settles)  # the first undo drops what is held or read back
    assert said(*["undo"] * (len(state.turns) + bool(state.held) + doubted), state=state).load == Load()


@given(talks)
def test_load__is_always_the_fold_of_its_turns(before: list[str]) -> None:
    state = said(*before)
    assert state.load == fold(change for turn in state.turns for change in turn)


@given(talks, st.sampled_from(TALK))
def test_reply__is_pure(before: list[str], last: str) -> None:
    state = said(*before)
    kept = state.model_dump_json()
    assert reply(last, state, kit=KIT) == reply(last, state, kit=KIT)
    assert state.model_dump_json() == kept


@given(talks)
def test_question__never_changes_the_load(before: list[str]) -> None:
    state = said(*before)
    if state.pending and state.pending.settles:
        return
    asked = ("how many chains", "what does it hold", "why", "read that back", "when do i stop", "help", "am i good")
    for question in asked:
        assert said(question, state=state).load == state.load


# A short ton is 2,000 lb, a kip 1,000 lb, a metric ton 1,000 kg, 1 lb 0.45359237 kg exactly (all from memory).
@given(st.integers(10, 70))
def test_weight__is_the_same_in_pounds_kips_tons_and_kilograms(thousands: int) -> None:
    pounds = thousands * 1_000
    number = in_words(thousands, KIT.understander.grammar.numbers)
    ways = [f"{pounds} lb coil", f"{thousands}k coil", f"{number} kip coil", f"{pounds / 2000:g} ton coil",
            f"{pounds * 0.45359237:.6f} kg coil", f"{pounds * 0.00045359237:.9f} metric ton coil"]  # fmt: skip
    for way in ways:
        assert said(way).load.coils[0].weight_lb == pytest.approx(pounds, abs=0.01), way


@given(st.integers(100, 799).map(lambda hundreds: hundreds * 100))
def test_weight__is_the_same_in_every_trade_form(pounds: int) -> None:
    for way in trade_words(pounds, KIT.understander.grammar.numbers):
        assert said(f"{way} coil").load.coils[0].weight_lb == pounds
        assert said("coil", f"it weighs {way}").load.coils[0].weight_lb == pounds


@given(st.integers(2, 12), st.integers(2, 12))
def test_two_groups_told_apart__add_up_to_what_was_told(forward: int, rearward: int) -> None:
    ways = (
        (f"{forward} chains forward and {rearward} rearward",),
        (f"{forward + rearward} chains", f"{forward} forward {rearward} rearward"),
        (f"{forward + rearward} chains {forward} forward {rearward} rearward",),
        (f"{forward} chains forward", f"{rearward} chains rearward"),
    )
    loads = [said(*way).load for way in ways]
    for first, second in itertools.pairwise(loads):
        assert first == second


def test_kit__is_read_alike_twice() -> None:
    again: Kit = read_kit(dt.date(2026, 11, 25))
    first = reply(FACTS[0], Conversation(gear=KIT.sample_gear), kit=KIT)
    assert reply(FACTS[0], Conversation(gear=again.sample_gear), kit=again) == first
