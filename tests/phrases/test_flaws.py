"""Damage and conditions as drivers put them: what was seen, on which part, and what is named as not taken.

Expected values are typed from the meaning of the words, as in test_understanding.py.
"""

from collections.abc import Callable

import pytest

from assistant.conversation import Conversation
from assistant.load.model import Load
from tests.conftest import Talk
from tests.phrases.test_understanding import CROSS, chain, coil, load, strap

GEAR = ("forty thousand pound coil eye crosswise", "four chains", "two straps", "two timbers", "three bunks")

SEEN = [
    ("one chain's got a cracked link", "damaged chain"),
    ("cracked link in the second chain", "damaged chain"),
    ("there's a bent link in one of the chains", "damaged chain"),
    ("the second chain has a kinked link in it", "damaged chain"),
    ("one of my chains is stretched", "damaged chain"),
    ("a bad chain", "damaged chain"),
    ("two links are bent", "damaged chain"),
    ("strap's got a cut in it", "damaged strap"),
    ("strap has got a cut in it", "damaged strap"),
    ("one strap is frayed on the edge", "damaged strap"),
    ("there's a burn hole in the strap", "damaged strap"),
    ("the front strap is torn up", "damaged strap"),
    ("a chain broke", "damaged chain"),
    ("one of the straps just tore", "damaged strap"),
    ("one of the straps has a knot", "knot"),
    ("a knot in one strap", "knot"),
    ("the hook on that chain is bent", "damaged hook"),
    ("bent hook on one of the chains", "damaged hook"),
    ("the hook is cracked on one chain", "damaged hook"),
    ("coil's telescoped out on one side", "telescoped"),
    ("it's telescoped a little on one end", "telescoped"),
    ("banding is broken on the coil", "broken band"),
    ("one of the bands is gone", "broken band"),
    ("pallet's cracked", "broken pallet"),
    ("one of the skids is busted", "broken pallet"),
    ("one binder is all the way closed up", "binder bottomed out"),
    ("binder is run all the way in", "binder bottomed out"),
    ("weight on the tag don't match the paper", "paper and tag differ"),
    ("the papers and the tag don't agree", "paper and tag differ"),
]


@pytest.mark.parametrize(("said", "name"), SEEN, ids=[said for said, _ in SEEN])
def test_flaw__is_seen_and_nothing_else_changes(talk: Talk, said: str, name: str) -> None:
    _, before = talk(*GEAR)
    answer, after = talk(said, conversation=before)
    assert answer.say.startswith("Stop")
    assert after.load == before.load.model_copy(update={"seen": (name,)})


TOLD: list[tuple[str, Load]] = [
    ("two of the straps have burn holes", load(on=(chain(4), strap(2, damaged=True), strap(2)))),
    ("two straps are frayed", load(on=(chain(4), strap(2, damaged=True), strap(2)))),
    ("three of the chains are stretched", load(on=(chain(3, damaged=True), chain(1), strap(4)))),
    ("the chains have cracks in them", load(on=(chain(4, damaged=True), strap(4)))),
]


@pytest.mark.parametrize(("said", "expected"), TOLD, ids=[said for said, _ in TOLD])
def test_flaw_of_so_many__counts_for_these_alone(talk: Talk, said: str, expected: Load) -> None:
    _, after = talk("forty thousand pound coil eye crosswise", "four chains and four straps", said)
    assert after.load == expected.model_copy(update={"coils": load(coil(40_000, **CROSS)).coils})


@pytest.mark.parametrize(
    ("seen", "answer", "then"),
    [("the coil is dented", "no", ()), ("the coil is dented", "yes", ("damaged coil", "lip")),
     ("the coil is egged", "yes", ()), ("the coil is egged", "no", ("egged", "gap at the support"))],
)  # fmt: skip
def test_what_is_asked_of_a_flaw__is_answered_short(
    talk: Talk, met: Conversation, seen: str, answer: str, then: tuple[str, ...]
) -> None:
    asked, state = talk(seen, conversation=met)
    assert asked.say.endswith("?")
    assert talk(answer, conversation=state)[1].load.seen == then


def test_flaw_of_one_of_them__is_of_the_tiedowns_just_told(talk: Talk) -> None:
    _, after = talk("four chains and one of them is bent")
    assert after.load == load(on=(chain(1, damaged=True), chain(3)))


@pytest.mark.parametrize(
    "said",
    [
        "the headboard's got a crack in it",
        "bulkhead's bent",
        "headache rack is pushed in",
        "there's a crack in the bulkhead",
    ],
)
def test_flaw_of_the_front_end_structure__stops_the_load(talk: Talk, said: str) -> None:
    answer, after = talk("forty coil against the bulkhead", said)
    assert after.load.front
    assert after.load.front.damaged
    assert "front end structure" in answer.say


NOT_TAKEN = [
    ("timber under it is cracked", "timber"),
    ("two of the timbers are cracked", "timber"),
    ("a cracked timber", "timber"),
    ("there's a crack in one of the timbers", "timber"),
    ("one of the four by fours is split", "timber"),
    ("bunk is bent", "bunk"),
    ("three bunks are bent", "bunk"),
    ("one of the racks has a crack in it", "bunk"),
    ("deck's icy", "deck"),
    ("there's ice on the deck", "deck"),
    ("floor is oily", "deck"),
    ("coil's wet", "coil"),
    ("the coil is rusty", "coil"),
    ("a binder is bent", "binder"),
    ("the mats are torn", "mats"),
    ("one of the winches is broken", "winch"),
    ("one of them has a cracked link", "Say chain, strap or hook"),
    ("one strap smells burned", "can't place it"),
    ("three crates are cracked", "not of a tiedown"),
    ("two coils are damaged", "not of a tiedown"),
]


@pytest.mark.parametrize(("said", "named"), NOT_TAKEN, ids=[said for said, _ in NOT_TAKEN])
def test_flaw_in_other_words__is_never_passed_over(
    talk: Talk, let_pass: Callable[[str], bool], said: str, named: str
) -> None:
    assert talk(*GEAR, said)[0].say, named
    assert not let_pass(said)


@pytest.mark.parametrize(
    "said", ["none of the chains are bent", "the chain isn't cracked", "no cracks in the chains", "is one chain bent",
             "what if a chain is cracked", "binder is closed", "cut the strap", "the tarp is torn"]
)  # fmt: skip
def test_flaw_that_is_denied_or_asked__is_not_seen(talk: Talk, said: str) -> None:
    _, before = talk(*GEAR)
    _, after = talk(said, conversation=before)
    assert after.load == before.load


@pytest.mark.parametrize(
    "said", ["only going across the yard", "just moving around the yard", "we're only moving it in the yard"]
)
def test_yard__is_told_with_only(talk: Talk, said: str) -> None:
    assert talk("forty coil", said)[1].load.yard


@pytest.mark.parametrize(
    ("said", "feet"),
    [("headache rack stands five and a half feet tall", 5.5), ("bulkhead is four feet tall", 4),
     ("the headboard stands five foot six", 5.5)],
)  # fmt: skip
def test_front__stands_so_high(talk: Talk, said: str, feet: float) -> None:
    front = talk("forty coil", said)[1].load.front
    assert front
    assert front.height_ft == feet


@pytest.mark.parametrize(
    "mended",
    [
        "i replaced it",
        "replaced the chain",
        "swapped it out",
        "it's fixed",
        "i swapped out the bad chain",
        "the bent chain has been replaced",
        "took care of it",
    ],
)
def test_the_one_flaw__is_struck_when_it_is_mended_and_what_replaces_it_is_owned_up_to(talk: Talk, mended: str) -> None:
    _, flawed = talk(*GEAR, "one of the chains has a bent link")
    answer, after = talk(mended, conversation=flawed)
    assert after.load == flawed.load.model_copy(update={"seen": ()})
    assert "what replaces the damaged chain as like the others" in answer.show


def test_damage_to_a_group_of_tiedowns__is_struck_when_it_is_mended(talk: Talk) -> None:
    _, flawed = talk(*GEAR, "two straps are frayed")
    _, after = talk("i replaced them", conversation=flawed)
    assert not any(group.damaged for group in after.load.tiedowns)
    assert sum(group.count for group in after.load.tiedowns) == sum(group.count for group in flawed.load.tiedowns)


def test_mended__of_several_flaws_asks_which_and_of_none_says_so(talk: Talk) -> None:
    _, flawed = talk(*GEAR, "there's a lip on it", "one of the straps is cut")
    answer, after = talk("fixed it", conversation=flawed)
    assert (answer.understood, after.load) == (False, flawed.load)
    assert "Say which: lip, or the damaged strap" in answer.show
    _, sound = talk(*GEAR)
    answer, after = talk("i replaced it", conversation=sound)
    assert (answer.understood, after.load) == (False, sound.load)
