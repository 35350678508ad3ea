"""What once put a wrong number or a wrong fact into the load without a word.

Expected loads are typed from the meaning of the words, as in test_understanding.py.
"""

from collections.abc import Callable

import pytest

from assistant.load.model import Load
from assistant.phrase.grammar import Grammar
from assistant.understand.understander import Understander
from tests.conftest import Talk
from tests.phrases.test_understanding import CROSS, OVER, chain, coil, load, strap

# A question never changes the load, whether it can be answered or not.
QUESTIONS: list[tuple[str, ...]] = [
    ("forty coil four chains", "will two more chains do it"),
    ("forty coil four chains", "would five chains do it"),
    ("forty coil four chains", "will five chains be enough"),
    ("forty coil four chains", "should i add a strap"),
    ("forty coil four chains", "should i take a chain off"),
    ("forty coil four chains", "can i take a chain off"),
    ("forty coil four chains", "could i use straps"),
    ("forty coil four chains", "do i need another chain"),
    ("forty coil four chains", "do i need timbers"),
    ("forty coil four chains", "do i need edge protectors"),
    ("forty coil", "are four chains enough"),
    ("forty coil", "is four chains enough"),
    ("forty coil", "is four enough"),
    ("forty coil four chains", "is it eye crosswise"),
    ("forty coil four chains", "did i say five chains"),
    ("forty coil four chains", "are there five chains"),
    ("forty coil four chains", "does it need mats"),
    ("forty coil", "what's the rule for eye to the side"),
    ("forty coil two straps", "what holds it back"),
    ("forty coil two straps", "read it all back"),
    ("forty coil two straps", "go over it again"),
    ("forty coil two straps", "louder"),
    ("forty coil four chains", "how about a strap"),
    ("forty coil four chains", "and if i had five chains"),
    ("forty coil four chains", "is the eye crosswise"),
    ("forty coil four chains", "can you check it"),
    ("forty coil four chains", "can you use five chains"),
    ("forty coil four chains", "would you add a strap"),
    ("forty coil four chains", "could you read that back"),
    ("forty coil four chains", "would five chains do it", "is it eye crosswise"),
]


@pytest.mark.parametrize("said", QUESTIONS, ids=[" | ".join(said[1:]) for said in QUESTIONS])
def test_question__never_changes_the_load(talk: Talk, said: tuple[str, ...]) -> None:
    _, before = talk(*said[:-1])
    answer, after = talk(said[-1], conversation=before)
    assert after.load == before.load
    assert after.turns == before.turns
    assert answer.intent not in {"facts", "stop"}
    assert answer.say


SUPPOSED = [
    ("will two more chains do it", 6),
    ("would five chains do it", 5),
    ("will five chains be enough", 5),
    ("can i take a chain off", 3),
    ("is five chains enough", 5),
    ("are five chains enough", 5),
    ("is five enough", 5),
]


@pytest.mark.parametrize(("said", "chains"), SUPPOSED)
def test_question_of_a_number__is_answered_as_a_what_if(talk: Talk, said: str, chains: int) -> None:
    """393.108 chain table, read: 3/8 in grade 70 counts 6,600 lb going across."""
    _, before = talk("forty thousand pound coil eye crosswise", "four three eighths grade seventy chains",
                     "they all go to the other side")  # fmt: skip
    answer, _ = talk(said, conversation=before)
    assert answer.intent == "what if"
    assert answer.judgement
    assert answer.judgement.counted_lb == chains * 6_600


def test_question_of_need__is_answered_with_how_many(talk: Talk) -> None:
    for said in ("do i need another chain", "do i need more straps", "do i have enough chains"):
        answer, _ = talk("forty coil four chains", said)
        assert answer.intent == "how many"


# Beside words that were not understood, what has no name of its own is not taken as told of anything.
UNNAMED: list[tuple[str, ...]] = [
    ("a forklift nine thousand pounds",),
    ("coil", "a forklift nine thousand pounds"),
    ("forty coil two straps", "hurry on back"),
    ("forty coil two straps", "gremlins are two inches"),
    ("four chains forty coil", "gizmos are good for fifty four hundred"),
    ("forty two thousand five",),
    ("forty two thousand five pounds",),
    ("forty two thousand pound coils of eyes crosswise",),
]


@pytest.mark.parametrize("said", UNNAMED, ids=[said[-1] for said in UNNAMED])
def test_number_or_course_without_a_name__is_never_passed_over(
    talk: Talk, let_pass: Callable[[str], bool], said: tuple[str, ...]
) -> None:
    assert talk(*said)[0].say
    assert not let_pass(said[-1])


def test_weight_beside_unknown_words__is_taken_on_a_yes(talk: Talk) -> None:
    answer, state = talk("driver told me forty two thousand pounds")
    assert answer.say.endswith("?")
    assert "forty two thousand pounds" in answer.say
    assert talk("yes", conversation=state)[1].load == load(coil(42_000))
    assert talk("no", conversation=state)[1].load == Load()


def test_thousands_and_one_digit__are_taken_as_hundreds_and_said_back(talk: Talk) -> None:
    """Nobody's scale shows 42,005 lb: "forty two thousand five" is 42,500 cut short (common practice, no source)."""
    answer, state = talk("forty two thousand five")
    assert "forty two thousand five hundred pounds" in answer.say
    assert state.load == load(coil(42_500))


TAKEN: list[tuple[tuple[str, ...], Load]] = [
    (("forty thousand pound coil", "half a dozen chains"), load(coil(40_000), on=(chain(6),))),
    (("forty thousand pound coil", "a half dozen chains"), load(coil(40_000), on=(chain(6),))),
    (("forty thousand pound coil", "four chains strike that three chains"), load(coil(40_000), on=(chain(3),))),
    (("eighteen and three quarter tons coil",), load(coil(37_500))),
    (("forty thousand pound coil", "four chains", "go through the load for me"), load(coil(40_000), on=(chain(4),))),
    (("forty coil", "take out the mats"), load(coil(40_000), support={"mats": False})),
    (("forty coil on mats", "take the mats out"), load(coil(40_000), support={"mats": False})),
    (("forty coil on mats", "take off the mats"), load(coil(40_000), support={"mats": False})),
    (("forty coil on timbers", "take the timbers out"), load(coil(40_000), support={"timbers": 0})),
    (("forty coil two straps", "coil's telescoped two inches"),
     load(coil(40_000), on=(strap(2),), seen=["telescoped"])),
    (("forty coil two straps", "the lip is about two inches"),
     load(coil(40_000), on=(strap(2),), seen=["lip"], slack={"lip_in": 2})),
    (("four chains", "binders are good for fifty four hundred"), load(on=(chain(4, binder_lb=5_400),))),
    (("forty coil", "the coil is sitting on the deck"), load(coil(40_000), support={"on_deck": True})),
    (("forty coil", "it's sitting on the deck"), load(coil(40_000), support={"on_deck": True})),
    (("forty coil on the deck",), load(coil(40_000), support={"on_deck": True})),
    (("one strap across the top as a belly strap",), load(on=(strap(1, **OVER),))),
    (("two straps", "straps cross over the eye"), load(on=(strap(2, crossed=True, through="top"),))),
    (("one chain on each side",), load(on=(chain(2),))),
    (("two chains on each side",), load(on=(chain(4),))),
    (("forty coil with a wedge on each side",), load(coil(40_000), support={"wedges": 2})),
    (("three bundles", "two straps over each"),
     load(on=(strap(6, **OVER),), articles=[{"name": "bundle", "count": 3}])),
    (("four chains", "i took a chain off"), load(on=(chain(3),))),
    (("forty coil", "change the weight to thirty three thousand"), load(coil(33_000))),
    (("forty coil", "the weight is wrong it's thirty three thousand"), load(coil(33_000))),
    (("forty coil", "could you make it forty two"), load(coil(42_000))),
    (("forty coil", "and with four chains"), load(coil(40_000), on=(chain(4),))),
    (("forty coil", "the coil is actually thirty three thousand"), load(coil(33_000))),
    (("forty coil", "weight should be thirty three thousand"), load(coil(33_000))),
    (("two thousand pound coil eyes crosswise",), load(coil(2_000, **CROSS))),
]  # fmt: skip


@pytest.mark.parametrize(("said", "expected"), TAKEN, ids=[" | ".join(said) for said, _ in TAKEN])
def test_said__is_taken_as_it_was_meant(talk: Talk, said: tuple[str, ...], expected: Load) -> None:
    assert talk(*said)[1].load == expected


def test_so_many_over_each__are_asked_where_there_is_nothing_to_count(talk: Talk) -> None:
    answer, after = talk("two straps over each")
    assert not answer.understood
    assert after.load == Load()


@pytest.mark.parametrize(
    ("heard", "written"),
    [
        ("four", "four"),
        ("two", "two"),
        ("make it four", "make it four"),
        ("no four", "no four"),
        ("two and two", "two and two"),
        ("two go forward and two go back", "two go forward and two go back"),
        ("eye two the sky", "eye to the sky"),
        ("am i good two go", "am i good to go"),
        ("rated four six thousand", "rated for six thousand"),
        ("four chains hooked two the other side", "four chains hooked to the other side"),
        ("four chains tied two the deck", "four chains tied to the deck"),
        ("what if i go two six chains", "what if i go to six chains"),
        ("how many chains do i have two put on", "how many chains do i have to put on"),
        ("i have two four inch straps", "i have two four inch straps"),
        ("coil eye up two four inch straps", "coil eye up two four inch straps"),
        ("go two and two", "go two and two"),
        ("i have two chains to put on", "i have two chains to put on"),
    ],
)
def test_number_heard__is_written_as_a_number_unless_the_phrase_has_the_other_word(
    grammar: Grammar, heard: str, written: str
) -> None:
    assert " ".join(Understander(grammar).written(heard.split())) == written


FLAWS = ["one strap smells burned", "the chains are rusty", "two straps tore on the way"]


@pytest.mark.parametrize("said", FLAWS)
def test_damage__is_never_passed_over(let_pass: Callable[[str], bool], said: str) -> None:
    assert not let_pass(said)


@pytest.mark.parametrize(
    "said", ["a knot in one strap", "stretched link in one chain", "one of the chains has a bent link"]
)
def test_damage_of_one_of_them__is_seen_and_their_number_stays(talk: Talk, said: str) -> None:
    _, before = talk("forty thousand pound coil eye crosswise", "four chains", "two straps over the top")
    answer, after = talk(said, conversation=before)
    assert answer.say.startswith("Stop")
    assert after.load.seen
    assert after.load.tiedowns == before.load.tiedowns
