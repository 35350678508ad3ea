"""Slips, second thoughts and halves: what people say when it does not come out in one piece.

Each expected load is typed from the meaning of the words, as in test_understanding.py.
"""

import pytest

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.model import Load
from assistant.reply import reply
from tests.conftest import Talk
from tests.phrases.test_understanding import BACK, CROSS, FWD, OVER, chain, coil, load, strap

REPAIRED: list[tuple[tuple[str, ...], Load]] = [
    # ---- second thoughts
    (("four chains", "no, five"), load(on=(chain(5),))),
    (("forty coil", "four chains", "scratch that"), load(coil(40_000))),
    (("forty coil", "four chains", "scratch that, five chains"), load(coil(40_000), on=(chain(5),))),
    (("forty coil", "four chains", "no no five chains"), load(coil(40_000), on=(chain(5),))),
    # ---- what it is, and what it is not
    (("fifty coil", "fifteen not fifty"), load(coil(15_000))),
    (("fifty coil", "no not fifty fifteen"), load(coil(15_000))),
    (("fifty thousand pound coil", "fifteen thousand not fifty thousand"), load(coil(15_000))),
    (("five chains", "that's four chains not five"), load(on=(chain(4),))),
    (("five chains", "four chains not five"), load(on=(chain(4),))),
    (("five chains", "four not five"), load(on=(chain(4),))),
    (("five bunks", "four bunks not five"), load(support={"bunks": 4})),
    (("forty coil eye crosswise", "eye is to the sky not crosswise"), load(coil(40_000, eye="vertical"))),
    (("forty coil", "it's not forty it's forty two"), load(coil(42_000))),
    (("forty two coil", "my bad it's forty one"), load(coil(41_000))),
    (("forty two coil", "let me correct that to forty one thousand"), load(coil(41_000))),
    (("forty two coil", "i got that wrong it's forty one"), load(coil(41_000))),
    # ---- one thing for another
    (("four chains", "change the chains to five"), load(on=(chain(5),))),
    (("four chains two straps", "change the straps to three"), load(on=(chain(4), strap(3)))),
    (("two straps", "swap the straps for chains"), load(on=(chain(2),))),
    (("two straps four chains", "change the straps to wire ropes"),
     load(on=({"kind": "wire rope", "count": 2}, chain(4)))),
    (("one strap", "replace the strap with a chain"), load(on=(chain(1),))),
    (("two four inch straps over the top", "swap the straps for chains"), load(on=(chain(2, **OVER),))),
    # ---- which of several
    (("forty coil", "the second coil is thirty eight two"), load(coil(40_000), coil(38_200))),
    (("two coils", "the second coil is thirty eight two"), load(coil(), coil(38_200))),
    (("two coils forty each", "the second coil is thirty eight two"), load(coil(40_000), coil(38_200))),
    (("two coils forty each", "the first coil is thirty eight two"), load(coil(38_200), coil(40_000))),
    (("two coils", "the first coil is forty", "the second is thirty eight two"), load(coil(40_000), coil(38_200))),
    (("two coils", "the first one is forty", "the second one is thirty eight two"), load(coil(40_000), coil(38_200))),
    (("two coils 18,200 and 19,500", "the first coil is eye crosswise"), load(coil(18_200, **CROSS), coil(19_500))),
    (("two coils 18,200 and 19,500", "the second coil is 19,000"), load(coil(18_200), coil(19_000))),
    (("two coils 18,200 and 19,500", "the last coil is 19,000"), load(coil(18_200), coil(19_000))),
    # ---- both, each, apiece
    (("two coils", "both twenty thousand"), load(coil(20_000, count=2))),
    (("two coils", "twenty thousand apiece"), load(coil(20_000, count=2))),
    (("two coils", "twenty thousand each"), load(coil(20_000, count=2))),
    (("two coils", "each one is twenty thousand"), load(coil(20_000, count=2))),
    (("two coils", "both are eye to the side"), load(coil(count=2, **CROSS))),
    (("two straps", "both over the top"), load(on=(strap(2, **OVER),))),
    (("two chains", "both of them forward"), load(on=(chain(2, **FWD),))),
    (("two crates five hundred pounds apiece",), load(articles=[{"name": "crate", "count": 2, "weight_lb": 500}])),
    # ---- same again
    (("forty coil", "same again"), load(coil(40_000, count=2))),
    (("forty coil eye crosswise", "four chains", "same again"), load(coil(40_000, count=2, **CROSS), on=(chain(4),))),
    (("forty coil", "another one like it"), load(coil(40_000, count=2))),
    (("forty coil", "a twenty coil", "yes", "another one just like that"), load(coil(40_000), coil(20_000, count=2))),
    (("a crate five hundred pounds", "same again"),
     load(articles=[{"name": "crate", "count": 2, "weight_lb": 500}])),
    # ---- half sentences
    (("forty two thousand pound",), load(coil(42_000))),
    (("forty two thousand pound", "coil"), load(coil(42_000))),
    (("coil", "forty two"), load(coil(42_000))),
    # ---- false starts
    (("four no five chains",), load(on=(chain(5),))),
    (("four, no, five chains forward",), load(on=(chain(5, **FWD),))),
    (("four chains i mean five chains",), load(on=(chain(5),))),
    (("four i mean five chains",), load(on=(chain(5),))),
    (("three no four bunks",), load(support={"bunks": 4})),
    (("forty two no forty three thousand pound coil",), load(coil(43_000))),
    (("forty two forty three thousand pound coil", "yes"), load(coil(43_000))),
    (("forty two forty three thousand pound coil", "no"), load()),
    (("four five chains", "yes"), load(on=(chain(5),))),
    # ---- hesitation
    (("the uh the coil is um forty two er thousand pounds",), load(coil(42_000))),
    (("um four uh chains er forward",), load(on=(chain(4, **FWD),))),
    (("four uh three eighths um grade uh seventy chains",), load(on=(chain(4, size_in=0.375, grade="70"),))),
    (("um, forty coil, uh, eye, um, crosswise",), load(coil(40_000, **CROSS))),
    (("a forty uh two coil", "yes"), load(coil(42_000))),
    (("a forty uh two coil", "no"), load()),
    (("fifty four um hundred pound coil",), load(coil(5_400))),
    # ---- broken by the endpointer
    (("four three eighths", "grade seventy chains"), load(on=(chain(4, size_in=0.375, grade="70"),))),
    (("four", "chains"), load(on=(chain(4),))),
    (("four three eighths grade", "seventy chains"), load(on=(chain(4, size_in=0.375, grade="70"),))),
    (("forty coil eye", "to the side"), load(coil(40_000, **CROSS))),
    (("eye", "crosswise"), load(coil(**CROSS))),
    (("forty coil and four", "chains forward"), load(coil(40_000), on=(chain(4, **FWD),))),
    (("two chains forward and two", "rearward"), load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("four three eighths", "forty coil"), load(coil(40_000))),
    (("four", "five chains"), load(on=(chain(5),))),
    (("twenty", "four chains"), load()),
    (("twenty", "four chains", "yes"), load(on=(chain(24),))),
    (("twenty", "four chains", "no", "four chains"), load(on=(chain(4),))),
    (("four", "scratch that", "chains"), load()),
    (("forty coil", "four", "scratch that"), load(coil(40_000))),
    # ---- a number that goes on
    (("forty two thousand", "five hundred pounds"), load(coil(42_000))),
    (("forty two thousand", "five hundred pounds", "yes"), load(coil(42_500))),
    (("forty two thousand", "five hundred pounds", "no"), load(coil(42_000))),
    (("coil", "forty two thousand", "five hundred", "yes"), load(coil(42_500))),
    (("forty two thousand", "four chains", "five hundred pounds"), load(coil(42_000), on=(chain(4),))),
]  # fmt: skip


@pytest.mark.parametrize(("said", "expected"), REPAIRED, ids=[" | ".join(said)[:70] for said, _ in REPAIRED])
def test_repair__gives_the_load_that_was_meant(talk: Talk, said: tuple[str, ...], expected: Load) -> None:
    _, after = talk(*said)
    assert after.load == expected


ASKED = [
    (("forty two forty three thousand pound coil",), "forty three thousand pound coil"),
    (("four five chains",), "five chains"),
    (("a forty uh two coil",), "forty two coil"),
    (("forty two thousand", "five hundred pounds"), "forty two thousand five hundred pounds"),
    (("twenty", "four chains"), "twenty four chains"),
]


WRONG = [
    ("forty coil", "fifteen not fifty"),
    ("four chains", "six chains not five"),
    ("forty coil eye crosswise", "eye is to the sky not lengthwise"),
    ("four chains", "swap the straps for chains"),
    ("two straps", "replace the strap with a chain"),
    ("four chains forward two chains rearward", "change the chains to five"),
]


@pytest.mark.parametrize("said", WRONG, ids=[" | ".join(said) for said in WRONG])
def test_correction_of_what_was_not_told__changes_nothing(talk: Talk, said: tuple[str, str]) -> None:
    _, before = talk(said[0])
    answer, after = talk(said[1], conversation=before)
    assert after.load == before.load
    assert not answer.understood or answer.asks


@pytest.mark.parametrize(("said", "back"), ASKED, ids=[" | ".join(said) for said, _ in ASKED])
def test_number_that_may_be_another__is_read_back(talk: Talk, said: tuple[str, ...], back: str) -> None:
    _, before = talk(*said[:-1]) if said[:-1] else (None, Conversation())
    answer, after = talk(said[-1], conversation=before) if said[:-1] else talk(said[-1])
    assert answer.asks
    assert back in answer.say
    assert answer.say.endswith("?")
    assert after.load == before.load


def test_half__is_said_back_and_changes_nothing(talk: Talk) -> None:
    answer, after = talk("two chains forward and two")
    assert not answer.understood
    assert answer.say == "I have two chains forward and two so far. Go on."
    assert (after.load, after.turns) == (Load(), ())
    answer, after = talk("rearward", conversation=after)
    assert "Together: “two chains forward and two rearward”." in answer.show
    assert answer.heard == "rearward"
    assert [(group.count, group.pulls) for group in after.load.tiedowns] == [(2, "forward"), (2, "rearward")]


def test_half__that_nothing_came_of_is_named(talk: Talk) -> None:
    _, after = talk("forty coil and four", "eye crosswise")
    assert "four" in [item.said for item in after.open]
    answer, after = talk("four", "scratch that")
    assert answer.say == "Dropped: four."
    assert after.load == Load()


def test_half__is_held_for_one_utterance_only(talk: Talk) -> None:
    _, after = talk("four", "am i good", "chains")
    assert after.load == Load()


def test_half__with_a_doubtful_number_is_read_back_when_whole(kit: Kit) -> None:
    _, state = reply("four", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    answer, state = reply("grade seventy chains", state, kit=kit)
    assert answer.confirm
    assert state.load == Load()
    _, state = reply("yes", state, kit=kit)
    assert [group.count for group in state.load.tiedowns] == [4]


def test_what_stands_alone__is_never_held(talk: Talk) -> None:
    for said in ("forty coil", "four chains", "am i good", "undo", "colorless green ideas", "fourty two thousand"):
        answer, after = talk(said)
        assert "so far" not in answer.say
        assert after.held is None


def test_same_again__says_what_it_took(talk: Talk) -> None:
    answer, _ = talk("forty coil", "four chains", "same again")
    assert answer.say.startswith("Another coil like the last")
    assert "Tiedowns as they are" in answer.show
    assert talk("same again")[0].understood is False
    assert talk("two coils twenty each", "same again")[0].understood is False


def test_weight_alone__says_that_it_is_taken_as_a_coils(talk: Talk) -> None:
    answer, _ = talk("forty two thousand pound")
    assert answer.say.startswith("A weight by itself is taken as one coil's.")


def test_number_corrected_behind_a_coil__is_not_its_count_where_chains_are_on(talk: Talk) -> None:
    _, before = talk("four chains forty coil")
    answer, after = talk("no four", conversation=before)
    assert answer.asks
    assert after.load == before.load


@pytest.mark.parametrize("said", ["the third coil is twenty", "the fifth coil is eye up"])
def test_coil_beyond_those_told__is_asked(talk: Talk, said: str) -> None:
    _, before = talk("forty coil")
    answer, after = talk(said, conversation=before)
    assert not answer.understood
    assert after.load == before.load


def test_two_sentences_in_one_breath__tell_and_ask(talk: Talk) -> None:
    """49 CFR 393.106(d), read: half of 42,500 is 21,250 lb; 3/8 in grade 70 counts 6,600 lb, so two lack two more."""
    answer, after = talk(
        "forty two five coil eye to the side two three eighths grade seventy chains forward how many more do I need"
    )
    assert answer.intent == "how many"
    assert "two more chains" in answer.say
    assert after.load == load(coil(42_500, **CROSS), on=(chain(2, size_in=0.375, grade="70", **FWD),))


HELD = "fifteen thousand pound coil eye crosswise four chains"


IN_PLACE = ["fifty", "no fifty", "fifty thousand", "no fifty thousand pounds", "it's fifty thousand pounds",
            "fifty thousand pound coil"]  # fmt: skip


@pytest.mark.parametrize("said", IN_PLACE)
def test_number_told_in_place_of_a_doubted_one__keeps_the_rest_of_what_was_held(kit: Kit, said: str) -> None:
    answer, state = reply(HELD, Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    assert answer.say == "I heard fifteen thousand pound coil eye crosswise. Is that right, or was it fifty?"
    _, state = reply(said, state, kit=kit)
    assert state.load == load(coil(50_000, **CROSS), on=(chain(4),))


def test_number_of_another_size_in_place_of_a_doubted_one__is_asked(kit: Kit) -> None:
    _, state = reply(HELD, Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    answer, state = reply("sixteen", state, kit=kit)
    assert answer.say == "Do you mean sixteen thousand?"
    assert state.load == Load()
    _, state = reply("yes", state, kit=kit)
    assert state.load == load(coil(16_000, **CROSS), on=(chain(4),))


def test_bare_number_that_corrects_a_count__says_of_what(talk: Talk) -> None:
    answer, state = talk("forty coil", "four chains and a strap", "no five")
    assert answer.say.startswith("Five straps: ")
    assert [(group.kind, group.count) for group in state.load.tiedowns] == [("chain", 4), ("strap", 5)]


def test_doubtful_number_in_place_of_a_doubted_one__is_asked(kit: Kit) -> None:
    _, state = reply(HELD, Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    answer, state = reply("fifty thousand", state, kit=kit, unsure=(0,))
    assert answer.asks
    assert state.load == Load()


def test_count_told_in_place_of_a_doubted_one__is_taken(kit: Kit) -> None:
    _, state = reply("forty coil fourteen chains", Conversation(gear=kit.sample_gear), kit=kit, unsure=(1,))
    _, state = reply("no four", state, kit=kit)
    assert state.load == load(coil(40_000), on=(chain(4),))


def test_a_doubted_part_told_again_in_full__takes_its_place(kit: Kit) -> None:
    _, asked = reply("coil weighs twenty six six", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0, 1, 2))
    _, after = reply("coil weighs twenty six kips", asked, kit=kit)
    assert [one.weight_lb for one in after.load.coils] == [26_000]


def test_a_number_told_of_another_thing__does_not_take_the_place_of_a_doubted_one(kit: Kit) -> None:
    _, asked = reply("four tons", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    _, after = reply("four tanks", asked, kit=kit)
    assert after.load.coils == ()
