"""What drivers, dispatchers and trainers say, and the load it must give.

Each expected load is written from the meaning of the words. Trade usage (common practice, no source): "suicide" is
eye crosswise, "shotgun" eye lengthwise, "forty two five" 42,500 lb, racks are coil bunks, four by fours are timbers.
"""

from collections.abc import Callable
from typing import Any

import pytest

from assistant.conversation import Conversation
from assistant.load.model import Load
from tests.conftest import Talk

Told = dict[str, Any]


def coil(weight: float | None = None, **facts: Any) -> Told:  # noqa: ANN401 - any field of a coil
    return {**({"weight_lb": weight} if weight else {}), **facts}


def chain(count: int = 1, **facts: Any) -> Told:  # noqa: ANN401 - any field of a tiedown
    return {"kind": "chain", "count": count, **facts}


def strap(count: int = 1, **facts: Any) -> Told:  # noqa: ANN401 - any field of a tiedown
    return {"kind": "strap", "count": count, **facts}


def load(*coils: Told, on: tuple[Told, ...] = (), **parts: Any) -> Load:  # noqa: ANN401 - any part of a load
    return Load.model_validate({"coils": coils, "tiedowns": on, **parts})


CROSS, LONG, UP = {"eye": "crosswise"}, {"eye": "lengthwise"}, {"eye": "vertical"}
FWD, BACK = {"pulls": "forward"}, {"pulls": "rearward"}
OVER = {"through": "top", "pulls": "over"}
FRONT, REAR = {**OVER, "place": "front"}, {**OVER, "place": "rear"}

LONG_BREATH = (
    "I have a coil that weighs 38,600 lbs sitting suicide in four racks on rubber with 5 chains, 3/8 grade 70, three "
    "pulling forward two pulling back and a strap over the top"
)

ONE_BREATH: list[tuple[str, Load]] = [
    # ---- one coil: weight, eye, metal
    ("forty two five coil", load(coil(42_500))),
    ("a forty thousand pound coil", load(coil(40_000))),
    ("thirty eight two fifty", load(coil(38_250))),
    ("I've got a forty-two on there, eyes to the side", load(coil(42_000, **CROSS))),
    ("forty one eight loaded suicide", load(coil(41_800, **CROSS))),
    ("got a shotgun coil forty one eight", load(coil(41_800, **LONG))),
    ("thirty seven six aluminum coil eye to the sky", load(coil(37_600, metal="aluminum", **UP))),
    ("um so uh i got a uh forty two five coil um eye crosswise", load(coil(42_500, **CROSS))),
    ("coil's forty one two", load(coil(41_200))),
    ("she weighs forty one eight", load(coil(41_800))),
    ("the tag says forty one eight seventy", load(coil(41_870))),
    ("about forty thousand give or take", load(coil(40_000))),
    ("coil is forty thousand and it's shotgun", load(coil(40_000, **LONG))),
    ("crosswise, coil, forty two five", load(coil(42_500, **CROSS))),
    ("nineteen and a half ton coil", load(coil(39_000))),
    ("coil weighs eight thousand kilos", load(coil(round(8_000 / 0.45359237, 3)))),
    ("coil of steel wire fifty five hundred pounds", load(coil(5_500, metal="wire"))),
    # ---- several coils
    ("two coils twenty thousand each", load(coil(20_000, count=2))),
    ("three coils thirty six thousand total", load(coil(12_000, count=3))),
    ("two coils, forty thousand pounds together", load(coil(20_000, count=2))),
    ("five coils totaling thirty thousand", load(coil(6_000, count=5))),
    ("pair of twenty thousand pound coils", load(coil(20_000, count=2))),
    ("two coils 18,200 and 19,500", load(coil(18_200), coil(19_500))),
    ("two coils one's forty thousand the other's thirty-eight five", load(coil(40_000), coil(38_500))),
    ("two coils, one is forty thousand", load(coil(40_000), coil())),
    ("a four thousand pound coil and a five thousand pound coil", load(coil(4_000), coil(5_000))),
    ("two coils side by side eyes to the front nineteen thousand each",
     load(coil(19_000, count=2, **LONG), row="transverse")),
    # ---- tiedowns
    ("four chains and a strap", load(on=(chain(4), strap()))),
    ("a couple of chains", load(on=(chain(2),))),
    ("four three eighths grade seventy chains", load(on=(chain(4, size_in=0.375, grade="70"),))),
    ("four three eighths seventy chains", load(on=(chain(4, size_in=0.375, grade="70"),))),
    ("four transport chains", load(on=(chain(4, grade="70"),))),
    ("two four inch straps marked fifty four hundred", load(on=(strap(2, size_in=4, marked_lb=5_400),))),
    ("two straps no tags", load(on=(strap(2, unmarked=True),))),
    ("two wire ropes half inch", load(on=({"kind": "wire rope", "count": 2, "size_in": 0.5},))),
    ("two half inch nylon ropes", load(on=({"kind": "rope", "count": 2, "size_in": 0.5, "material": "nylon"},))),
    ("two chains forward and two rearward", load(on=(chain(2, **FWD), chain(2, **BACK)))),
    ("couple chains each way", load(on=(chain(2, **FWD), chain(2, **BACK)))),
    ("four chains two each way", load(on=(chain(2, **FWD), chain(2, **BACK)))),
    ("five chains three forward two back", load(on=(chain(3, **FWD), chain(2, **BACK)))),
    ("three chains forward two back strap over the top", load(on=(chain(3, **FWD), chain(2, **BACK), strap(**OVER)))),
    ("two forward chains and two rear chains", load(on=(chain(2, **FWD), chain(2, **BACK)))),
    ("two chains crossed in front and two crossed behind",
     load(on=(chain(2, crossed=True, **FWD), chain(2, crossed=True, **BACK)))),
    ("one strap over the front, the other over the rear", load(on=(strap(**FRONT), strap(**REAR)))),
    ("two straps, one over the front, the other over the rear", load(on=(strap(**FRONT), strap(**REAR)))),
    ("two chains through the eye crossed and one over the front and one over the rear",
     load(on=(chain(2, through="eye", crossed=True), chain(**FRONT), chain(**REAR)))),
    ("four chains back to the same side", load(on=(chain(4, path="same side"),))),
    ("four chains hooked to the coil", load(on=(chain(4, path="direct"),))),
    ("two chains and two straps, they all go to the other side",
     load(on=(chain(2, path="across"), strap(2, path="across")))),
    ("four chains with fifty four hundred pound binders", load(on=(chain(4, binder_lb=5_400),))),
    # ---- support
    ("four racks, couple of four by fours", load(support={"bunks": 4, "timbers": 2})),
    ("on three bunks and two timbers with mats", load(support={"bunks": 3, "timbers": 2, "mats": True})),
    ("in a cradle, rubber under it", load(support={"cradle": True, "mats": True})),
    ("no mats, no timbers", load(support={"mats": False, "timbers": 0})),
    ("no cradle", load(support={"cradle": False})),
    ("on a pallet", load(support={"pallet": True})),
    ("sits on timbers, four timbers", load(support={"timbers": 4})),
    ("four timbers, on timbers", load(support={"timbers": 4})),
    # ---- articles
    ("a crate two thousand pounds six feet long blocked in front with two straps",
     load(on=(strap(2),), articles=[{"name": "crate", "weight_lb": 2_000, "length_ft": 6, "blocked_forward": True}])),
    ("two crates five hundred pounds each eight feet long",
     load(articles=[{"name": "crate", "count": 2, "weight_lb": 500, "length_ft": 8}])),
    ("a box 6'6\" long 1,200 lbs", load(articles=[{"name": "crate", "weight_lb": 1_200, "length_ft": 6.5}])),
    ("steel plate four thousand pounds", load(articles=[{"name": "plate", "weight_lb": 4_000}])),
    # ---- observations
    ("forty thousand pound coil with a broken band", load(coil(40_000), seen=["broken band"])),
    ("a coil forty thousand pounds no lip no broken bands", load(coil(40_000))),
    # ---- slips within one breath
    ("forty no forty one five coil", load(coil(41_500))),
    ("forty thousand wait forty one thousand pound coil", load(coil(41_000))),
    ("two coils forty thousand each no forty one thousand", load(coil(41_000, count=2))),
    ("four chains no five chains", load(on=(chain(5),))),
    ("four chains, sorry, four straps", load(on=(strap(4),))),
    ("two chains forward no rearward", load(on=(chain(2, **BACK),))),
    ("forty coil eye crosswise no lengthwise", load(coil(40_000, **LONG))),
    # ---- typed shorthand and slips of the fingers
    ("42.5k coil, eye xwise, 4x 3/8 G70", load(coil(42_500, **CROSS), on=(chain(4, size_in=0.375, grade="70"),))),
    ("42,500# coil eye crosswise 4x3/8 g70 chains",
     load(coil(42_500, **CROSS), on=(chain(4, size_in=0.375, grade="70"),))),
    ("42k coil eye crosswise 4 bunks 2 timbers mats 2 chains fwd 2 chains rear 1 strap over",
     load(coil(42_000, **CROSS), on=(chain(2, **FWD), chain(2, **BACK), strap(**OVER)),
          support={"bunks": 4, "timbers": 2, "mats": True})),
    ("4 3/8 chains", load(on=(chain(4, size_in=0.375),))),
    ("3/8 chain x4", load(on=(chain(4, size_in=0.375),))),
    ("4 chians, 3/8 gr 70", load(on=(chain(4, size_in=0.375, grade="70"),))),
    ("coil 42500lbs eye crosswyse", load(coil(42_500, **CROSS))),
    ("3 coils @ 12,500", load(coil(12_500, count=3))),
    ("FORTY TWO FIVE COIL, EYE CROSSWISE.", load(coil(42_500, **CROSS))),
    # ---- the whole of it
    (LONG_BREATH,
     load(coil(38_600, **CROSS), support={"bunks": 4, "mats": True},
          on=(chain(3, size_in=0.375, grade="70", **FWD), chain(2, size_in=0.375, grade="70", **BACK), strap(**OVER)))),
]  # fmt: skip


@pytest.mark.parametrize(("said", "expected"), ONE_BREATH, ids=[said[:60] for said, _ in ONE_BREATH])
def test_one_breath__gives_the_load_it_tells(talk: Talk, said: str, expected: Load) -> None:
    answer, after = talk(said)
    assert answer.understood
    assert after.load == expected


IN_TURN: list[tuple[tuple[str, ...], Load]] = [
    # ---- corrections
    (("forty coil", "no, forty two five"), load(coil(42_500))),
    (("forty coil", "make it thirty nine"), load(coil(39_000))),
    (("two coils, twenty thousand each", "no, nineteen five"), load(coil(19_500, count=2))),
    (("four chains", "make that five chains"), load(on=(chain(5),))),
    (("four chains", "make it five"), load(on=(chain(5),))),
    (("four chains", "no, six"), load(on=(chain(6),))),
    (("four chains", "i've only got three chains"), load(on=(chain(3),))),
    (("forty coil eye crosswise", "actually it's shotgun"), load(coil(40_000, **LONG))),
    (("three bunks", "make that four bunks"), load(support={"bunks": 4})),
    (("four chains two forward two rearward", "no, three forward and one back"),
     load(on=(chain(3, **FWD), chain(1, **BACK)))),
    (("forty coil, two straps", "sorry it's a forty one thousand coil with four chains"),
     load(coil(41_000), on=(strap(2), chain(4)))),
    (("two straps", "actually four chains", "yes"), load(on=(chain(4),))),
    (("two straps", "actually four chains", "no"), load(on=(strap(2), chain(4)))),
    (("two straps", "make that chains"), load(on=(chain(2),))),
    # ---- more and fewer
    (("four chains", "throw another chain on her"), load(on=(chain(5),))),
    (("four chains", "add a strap over the top"), load(on=(chain(4), strap(**OVER)))),
    (("four chains", "two more"), load(on=(chain(6),))),
    (("four chains", "lose the chain"), load(on=(chain(3),))),
    (("four chains two straps", "take off the straps"), load(on=(chain(4),))),
    (("four chains", "take two off"), load(on=(chain(2),))),
    (("four chains two straps", "took the chains off"), load(on=(strap(2),))),
    (("four chains", "two less"), load(on=(chain(2),))),
    (("four chains two straps", "no straps"), load(on=(chain(4),))),
    (("four chains two straps", "no strap"), load(on=(chain(4),))),
    (("four chains two forward two rearward", "take off one chain forward"),
     load(on=(chain(1, **FWD), chain(2, **BACK)))),
    (("forty coil", "take off the coil"), load()),
    (("two straps four chains", "take off a strap, the chains are grade eighty"),
     load(on=(strap(1), chain(4, grade="80")))),
    (("four chains", "lose the chain", "make it five"), load(on=(chain(5),))),
    # ---- in all or more
    (("four chains", "five chains", "in all"), load(on=(chain(5),))),
    (("four chains", "five chains", "five total"), load(on=(chain(5),))),
    (("four chains", "two chains", "more"), load(on=(chain(6),))),
    (("four chains", "two chains", "two more"), load(on=(chain(6),))),
    (("four chains", "three chains", "total"), load(on=(chain(3),))),
    (("four chains", "four chains"), load(on=(chain(4),))),
    # ---- told more closely
    (("four chains", "two chains forward and two rearward"), load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("four chains", "two chains forward two chains rearward"), load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("four chains", "the chains go through the eye, two each way"),
     load(on=(chain(2, through="eye", **FWD), chain(2, through="eye", **BACK)))),
    (("four chains", "one's through the eye"), load(on=(chain(1, through="eye"), chain(3)))),
    (("two straps", "both straps are four inch"), load(on=(strap(2, size_in=4),))),
    (("two chains two straps", "both straps go over the top"), load(on=(chain(2), strap(2, **OVER)))),
    (("two straps", "one strap goes over the front the other over the back"), load(on=(strap(**FRONT), strap(**REAR)))),
    (("four chains", "two of them are half inch"), load(on=(chain(2, size_in=0.5), chain(2)))),
    (("four chains", "two are grade eighty the other two are grade seventy"),
     load(on=(chain(2, grade="80"), chain(2, grade="70")))),
    (("four chains two forward two rearward", "the forward chains are half inch"),
     load(on=(chain(2, size_in=0.5, **FWD), chain(2, **BACK)))),
    (("four chains", "chains are three eighths seventy"), load(on=(chain(4, size_in=0.375, grade="70"),))),
    (("four chains", "the binders are rated fifty four hundred"), load(on=(chain(4, binder_lb=5_400),))),
    (("four timbers", "it's on timbers with mats"), load(support={"timbers": 4, "mats": True})),
    (("two coils", "one's forty thousand", "the other's thirty eight five"), load(coil(38_500), coil(40_000))),
    (("coil with a broken band", "i fixed the band"), load(coil())),
    # ---- commands
    (("forty coil", "four chains", "undo"), load(coil(40_000))),
    (("forty coil", "four chains", "undo", "undo"), load()),
    (("four chains", "scratch that five chains"), load(on=(chain(5),))),
    (("forty coil", "start over"), load()),
    (("forty coil", "start over", "undo"), load(coil(40_000))),
    (("forty coil", "start over, twenty two coil"), load(coil(22_000))),
    (("forty coil", "start over, twenty two coil", "undo"), load(coil(40_000))),
    (("forty coil", "repeat"), load(coil(40_000))),
    (("forty coil", "stop"), load(coil(40_000))),
]  # fmt: skip


@pytest.mark.parametrize(("said", "expected"), IN_TURN, ids=[" | ".join(said)[:70] for said, _ in IN_TURN])
def test_one_thing_after_another__gives_the_load_it_tells(talk: Talk, said: tuple[str, ...], expected: Load) -> None:
    _, after = talk(*said)
    assert after.load == expected


# What can be meant in two ways, or turns the sense round, is asked or refused: the load stays as it was before.
DOUBTFUL: list[tuple[str, ...]] = [
    ("forty coil", "not on timbers"),
    ("forty coil", "coil is not crosswise"),
    ("forty coil", "coil weighs forty or forty two thousand"),
    ("forty coil", "more than forty one thousand"),
    ("forty coil", "fourty two thousand pound coil"),
    ("four chains", "a skid of steel"),
    ("forty coil", "eye crosswise eye lengthwise"),
    ("forty coil", "no lip sticking out"),
    ("forty coil", "four bunks three bunks"),
    ("forty coil", "four chains five"),
    ("forty coil", "what does a coil weigh"),
    ("forty coil", "four chains forward and rearward"),
    ("forty coil", "a few straps"),
    ("forty coil", "two chains through the eye over the top"),
    ("forty coil", "both straps are four inch"),
    ("forty coil", "one hundred chains"),
    ("forty coil", "zero chains"),
    ("forty coil", "one chain each corner"),
    ("four chains", "two chains, three straps, take off the chains"),
    ("forty coil four chains", "five chains"),
    ("forty coil four chains", "take everything off"),
    ("forty coil four chains", "half go forward"),
    ("forty coil four chains", "nothing goes over"),
    ("forty coil four chains", "none of them go forward"),
    ("forty coil four chains", "two more chains, my winches are marked 5,400"),
    ("forty coil four chains", "take off the grade eighty chains"),
    ("forty coil four chains", "what does start over do"),
    ("forty coil four chains two forward two rearward", "take off one chain"),
    ("forty coil four chains two forward two rearward", "make that six chains"),
    ("forty coil four chains two forward two rearward", "make it six"),
    ("forty coil eye up three chains", "yes"),
    ("forty coil", "a forty one thousand pound coil"),
    ("forty coil", "forty pound coil"),
]


NOTHING_NEW = {
    "no lip sticking out", "what does a coil weigh", "both straps are four inch", "what does start over do", "yes",
}  # fmt: skip
"""Said of a load that meets, these tell nothing that is not so already, or ask."""


@pytest.mark.parametrize("said", DOUBTFUL, ids=[" | ".join(said)[:70] for said in DOUBTFUL])
def test_what_can_be_meant_in_two_ways__is_never_passed_over(
    talk: Talk, let_pass: Callable[[str], bool], said: tuple[str, ...]
) -> None:
    assert talk(*said)[0].say
    assert let_pass(said[-1]) == (said[-1] in NOTHING_NEW)


def test_refusal__keeps_an_aside_for_the_screen(talk: Talk) -> None:
    answer, _ = talk("nine hundred thousand pound coil")
    assert "(23 CFR 658.17)" in answer.show
    assert "C F R" not in answer.say


# ---- questions -------------------------------------------------------------------------------------------------------

ASKED: list[tuple[tuple[str, ...], str]] = [
    (("am i good to go",), "check"),
    (("forty coil", "is she legal"), "check"),
    (("forty coil am i good",), "check"),
    (("forty coil", "how many chains do i need"), "how many"),
    (("forty coil", "how many straps would it take"), "how many"),
    (("how many chains for a forty thousand pound coil",), "how many"),
    (("forty coil four chains", "what does it hold"), "holds"),
    (("forty coil", "why"), "why"),
    (("forty coil", "read that back"), "read back"),
    (("forty coil", "say that again"), "repeat"),
    (("when do i stop",), "next stop"),
    (("what's a three eighths grade seventy chain good for",), "rating"),
    (("help",), "help"),
    (("what's my gear",), "gear"),
    (("read my note",), "read note"),
    (("show my notes",), "log"),
    (("good bye",), "quit"),
    (("slower",), "slower"),
    (("too slow",), "faster"),
    (("normal speed",), "usual pace"),
    (("go to sleep",), "sleep"),
    (("forty coil", "slower", "stop"), "stop"),
]


@pytest.mark.parametrize(("said", "intent"), ASKED)
def test_question__is_known_for_what_it_is(talk: Talk, said: tuple[str, ...], intent: str) -> None:
    answer, _ = talk(*said)
    assert answer.understood
    assert answer.intent == intent


@pytest.mark.parametrize("said", ["stop", "slower", "normal speed"])
def test_say_again__means_the_answer_that_was_cut_short(talk: Talk, said: str) -> None:
    why, _ = talk("forty coil four chains", "why")
    again, _ = talk("forty coil four chains", "why", said, "say again")
    assert again.say == why.say


def test_how_many__counts_what_is_on(talk: Talk) -> None:
    """49 CFR 393.106(d), read: half of 40,000 lb; 393.108, read: 3/8 in grade 70 counts 6,600 lb going across."""
    _, four = talk("forty thousand pound coil eye crosswise", "how many chains do i need")
    assert "Put on four chains" in talk("how many chains", conversation=four)[0].say
    _, two = talk("two three eighths grade seventy chains", conversation=four)
    assert talk("how many more", conversation=two)[0].say.startswith("Put on two more chains")
    _, enough = talk("two more chains", conversation=two)
    assert talk("how many more", conversation=enough)[0].say.startswith("No more by weight and number")


def test_rating__is_said_in_the_order_people_say_it(talk: Talk) -> None:
    """49 CFR 393.108 chain table, read: 3/8 in grade 70 is 6,600 lb."""
    answer, _ = talk("what's a three eighths grade seventy chain good for")
    assert answer.say.startswith("A three eighths inch grade seventy chain is good for six thousand six hundred pounds")


def test_rating_of_a_chain_without_a_grade__asks_for_it(talk: Talk) -> None:
    answer, _ = talk("what's a half inch chain good for")
    assert not answer.understood
    assert "grade" in answer.say


@pytest.mark.parametrize("said", ["forty coil", "why", "four chains", "help", "quiz me", "two straps are", "undo"])
def test_say__begins_with_a_capital(talk: Talk, said: str) -> None:
    answer, _ = talk("forty coil", said)
    assert answer.say[0].isupper()


# ---- gear and notes --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "kind", "facts"),
    [
        ("my chains are half inch grade seventy", "chain", {"size_in": 0.5, "grade": "70"}),
        ("my straps are four inch marked 5400", "strap", {"size_in": 4, "marked_lb": 5_400}),
        ("my straps have no marks", "strap", {"unmarked": True}),
        ("my binders are marked fifty four hundred", "chain", {"binder_lb": 5_400}),
    ],
)
def test_gear__is_kept_and_is_no_part_of_the_load(talk: Talk, said: str, kind: str, facts: Told) -> None:
    answer, after = talk(said)
    (item,) = after.gear.items
    assert item.model_dump(exclude_defaults=True) == {"kind": kind, **facts}
    assert after.load == Load()
    assert not after.gear.sample
    assert answer.effects


@pytest.mark.parametrize(
    ("said", "note"),
    [
        ("note call the shipper at noon", "call the shipper at noon"),
        ("Take a note: the tarp is torn.", "the tarp is torn."),
        ("make a note four chains left at the yard", "4 chains left at the yard"),
    ],
)
def test_note__is_kept_as_said_and_tells_nothing_of_the_load(talk: Talk, said: str, note: str) -> None:
    answer, after = talk(said)
    assert [effect.text for effect in answer.effects if hasattr(effect, "text")] == [note]
    assert after.load == Load()


def test_empty_note__is_asked_again(talk: Talk) -> None:
    answer, after = talk("note")
    assert "What is the note?" in answer.say
    assert after.notes.dictating


# ---- the quiz --------------------------------------------------------------------------------------------------------


def right_answer(conversation: Conversation) -> str:
    assert conversation.quiz
    question = conversation.quiz.current
    assert question
    if isinstance(question.answer, bool):
        return "yes" if question.answer else "no"
    return f"{question.answer:.0f}"


def test_quiz__leaves_the_load_alone_from_begin_to_end(talk: Talk) -> None:
    _, before = talk("forty coil four chains")
    _, state = talk("quiz me", conversation=before)
    assert state.quiz
    for _ in state.quiz.questions:
        assert state.quiz
        answer, state = talk(right_answer(state), conversation=state)
        assert answer.intent == "quiz"
        assert answer.understood
    assert state.quiz is None
    assert state.load == before.load


def test_quiz__marks_right_wrong_and_passed(talk: Talk) -> None:
    _, state = talk("quiz me")
    _, state = talk(right_answer(state), conversation=state)
    _, state = talk("pass", conversation=state)
    assert state.quiz
    assert state.quiz.right == (True, False)


def test_quiz__says_a_question_again_and_counts_no_answer(talk: Talk) -> None:
    first, state = talk("quiz me")
    again, after = talk("repeat", conversation=state)
    assert first.say.endswith(again.say.removeprefix("Five questions. "))
    assert after.quiz == state.quiz
    odd, after = talk("colorless green ideas", conversation=state)
    assert not odd.understood
    assert after.quiz == state.quiz


@pytest.mark.parametrize("said", ["stop", "quit", "start over"])
def test_quiz__ends_when_told_and_touches_nothing(talk: Talk, said: str) -> None:
    _, state = talk("forty coil", "quiz me")
    _, after = talk(said, conversation=state)
    assert after.quiz is None
    assert after.load == load(coil(40_000))


def test_quiz__takes_gear_of_its_own_not_the_drivers(talk: Talk) -> None:
    """Questions come from the sample gear, so that the same seed asks the same of every driver."""
    _, sample = talk("quiz me")
    _, own = talk("my chains are half inch grade eighty", "quiz me")
    assert sample.quiz == own.quiz
