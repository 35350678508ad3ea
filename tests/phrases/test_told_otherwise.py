"""What is on the deck, told in the words that drivers have for it: weights, measures, cargo, tiedowns, support.

Each expected load is written from the meaning of the words, as in test_understanding.py.
"""

from collections.abc import Callable
from typing import Any

import pytest

from assistant.load.model import Load
from tests.conftest import Talk
from tests.phrases.test_understanding import BACK, CROSS, FRONT, FWD, LONG, OVER, REAR, UP, chain, coil, load, strap

FORTY = "forty thousand pound coil"


def article(name: str, **facts: Any) -> dict[str, Any]:  # noqa: ANN401 - any field of an article
    return {"name": name, **facts}


TOLD: list[tuple[tuple[str, ...], Load]] = [
    # ---- what stands before or behind a weight
    (("one coil", "roughly forty two thousand six hundred"), load(coil(42_600))),
    (("one coil", "call it thirty seven thousand"), load(coil(37_000))),
    (("one coil", "i'd call it thirty seven thousand"), load(coil(37_000))),
    (("one coil", "it comes in at thirty nine eight"), load(coil(39_800))),
    (("one coil", "she came in at thirty nine eight"), load(coil(39_800))),
    (("one coil", "it scaled at thirty nine eight"), load(coil(39_800))),
    (("one coil", "tag reads thirty nine eight"), load(coil(39_800))),
    (("one coil", "the ticket shows thirty nine eight"), load(coil(39_800))),
    (("one coil", "they've got it at thirty nine eight"), load(coil(39_800))),
    (("one coil", "net weight forty thousand nine hundred sixty pounds"), load(coil(40_960))),
    (("one coil", "the net is forty thousand nine hundred sixty"), load(coil(40_960))),
    (("one coil", "thirty nine eight on the tag"), load(coil(39_800))),
    (("one coil", "seventeen thousand two hundred kilos on the tag"), load(coil(round(17_200 / 0.45359237, 3)))),
    (("coil's thirty thousand even",), load(coil(30_000))),
    (("coil is thirty thousand pounds even eye crosswise",), load(coil(30_000, **CROSS))),
    (("forty one thousand five hundred on the nose",), load(coil(41_500))),
    # ---- how large
    ((FORTY, "she's fifty inches across the face"), load(coil(40_000, width_in=50))),
    ((FORTY, "coil is forty four wide"), load(coil(40_000, width_in=44))),
    ((FORTY, "it's forty four wide"), load(coil(40_000, width_in=44))),
    ((FORTY, "outside diameter's sixty eight"), load(coil(40_000, outside_in=68))),
    ((FORTY, "diameter is sixty eight"), load(coil(40_000, outside_in=68))),
    ((FORTY, "width is fifty"), load(coil(40_000, width_in=50))),
    ((FORTY, "bore measures twenty inches"), load(coil(40_000, bore_in=20))),
    ((FORTY, "the hole is twenty inches"), load(coil(40_000, bore_in=20))),
    ((FORTY, "seventy two inch diameter twenty four inch hole"), load(coil(40_000, outside_in=72, bore_in=24))),
    # ---- which way the eye points
    ((FORTY, "eye's pointing at the sky"), load(coil(40_000, **UP))),
    ((FORTY, "the hole is looking straight up"), load(coil(40_000, **UP))),
    ((FORTY, "eye is pointing at the cab"), load(coil(40_000, **LONG))),
    ((FORTY, "eye is facing toward the front"), load(coil(40_000, **LONG))),
    ((FORTY, "the eye is facing out the side"), load(coil(40_000, **CROSS))),
    # ---- other cargo
    (("ten thousand pounds of lumber sixteen foot against the bulkhead",),
     load(articles=[article("lumber", weight_lb=10_000, length_ft=16, blocked_forward=True)])),
    (("steel plate forty thousand pounds twenty four feet",),
     load(articles=[article("plate", weight_lb=40_000, length_ft=24)])),
    (("twenty foot of lumber nine thousand pounds",),
     load(articles=[article("lumber", weight_lb=9_000, length_ft=20)])),
    (("steel beams forty foot long eighteen tons",),
     load(articles=[article("beam", weight_lb=36_000, length_ft=40)])),
    (("concrete block six thousand pounds five feet long",),
     load(articles=[article("concrete block", weight_lb=6_000, length_ft=5)])),
    (("load of angle iron thirty feet twenty two thousand pounds",),
     load(articles=[article("angle iron", weight_lb=22_000, length_ft=30)])),
    (("two concrete blocks six thousand pounds each five feet long",),
     load(articles=[article("concrete block", count=2, weight_lb=6_000, length_ft=5)])),
    # ---- what it rests on
    (("got wedges nailed down nothing else",), load(support={"wedges": 2, "nailed_only": True})),
    (("it's nailed down and that's it",), load(support={"nailed_only": True})),
    (("two bunks", "i put two more bunks in"), load(support={"bunks": 4})),
    (("two bunks", "add two bunks"), load(support={"bunks": 4})),
    (("two bunks", "another bunk"), load(support={"bunks": 3})),
    (("four bunks", "take off two bunks"), load(support={"bunks": 2})),
    (("four bunks", "take two bunks out"), load(support={"bunks": 2})),
    (("four timbers", "take a timber out"), load(support={"timbers": 3})),
    (("two timbers", "two more timbers"), load(support={"timbers": 4})),
    (("two bunks", "add a strap", "make that three bunks"), load(on=(strap(),), support={"bunks": 3})),
    (("four bunks", "throw on two chains it's on four bunks"), load(on=(chain(2),), support={"bunks": 4})),
    (("four bunks", "remove the bunks"), load(support={"bunks": 0})),
    (("four bunks", "no more bunks"), load(support={"bunks": 0})),
    (("four timbers", "remove the timbers"), load(support={"timbers": 0})),
    (("in a cradle on mats", "get rid of the mats"), load(support={"cradle": True, "mats": False})),
    (("in a cradle on mats", "lose the cradle"), load(support={"cradle": False, "mats": True})),
    ((FORTY, "blocked in front", "remove blocking in front"), load(coil(40_000), support={"blocked_forward": False})),
    (("add two bunks",), load(support={"bunks": 2})),
    (("the boards under it are six by six",), load(support={"timbers": 2})),
    (("on six by sixes",), load(support={"timbers": 2})),
    (("four six by sixes",), load(support={"timbers": 4})),
    # ---- binders
    (("four chains", "binder's only got two threads left"), load(on=(chain(4, threads_left=2),))),
    (("four chains", "the binder only has two threads left"), load(on=(chain(4, threads_left=2),))),
    (("four chains", "down to two threads"), load(on=(chain(4, threads_left=2),))),
    (("four chains", "plenty of threads left six on each"), load(on=(chain(4, threads_left=6),))),
    (("four chains", "six threads left on each binder"), load(on=(chain(4, threads_left=6),))),
    # ---- which way they pull
    (("twenty ton coil four half inch chains two pulling each way",),
     load(coil(40_000), on=(chain(2, size_in=0.5, **FWD), chain(2, size_in=0.5, **BACK)))),
    (("four chains", "two go each way"), load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("three chains holding it from going forward and three from going back",),
     load(on=(chain(3, **FWD), chain(3, **BACK)))),
    (("one chain stops it going forward and one stops it going back",), load(on=(chain(1, **FWD), chain(1, **BACK)))),
    (("two chains keeping it from sliding forward two keeping it from sliding back",),
     load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("two chains forward and the same rearward",), load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("two half inch chains forward and the same number rearward",),
     load(on=(chain(2, size_in=0.5, **FWD), chain(2, size_in=0.5, **BACK)))),
    (("four chains two forward and the same rearward",), load(on=(chain(2, **FWD), chain(2, **BACK)))),
    (("four chains", "all four pull rearward"), load(on=(chain(4, **BACK),))),
    (("four chains", "all four go over the top"), load(on=(chain(4, **OVER),))),
    (("four chains two straps", "all four through the eye"), load(on=(chain(4, through="eye"), strap(2)))),
    (("two chains forward two rearward", "all four of them go through the eye"),
     load(on=(chain(2, through="eye", **FWD), chain(2, through="eye", **BACK)))),
    (("four chains", "make two of those forward"), load(on=(chain(2, **FWD), chain(2)))),
    (("four chains", "run two of them rearward"), load(on=(chain(2, **BACK), chain(2)))),
    # ---- more and fewer
    (("four chains", "two chains", "those are two extra"), load(on=(chain(6),))),
    (("four chains", "two chains", "they're extra"), load(on=(chain(6),))),
    (("four straps", "take two of the straps off"), load(on=(strap(2),))),
    (("four straps", "take off two of the straps"), load(on=(strap(2),))),
    (("four straps", "take two of them off"), load(on=(strap(2),))),
    (("one strap over the front and one strap over the rear", "take off the front strap"), load(on=(strap(**REAR),))),
    (("one strap over the front and one strap over the rear", "take the rear strap off"), load(on=(strap(**FRONT),))),
    (("two chains forward two rearward", "take the forward chains off"), load(on=(chain(2, **BACK),))),
]  # fmt: skip


@pytest.mark.parametrize(("said", "expected"), TOLD, ids=[" | ".join(said)[:70] for said, _ in TOLD])
def test_told_in_other_words__gives_the_load_it_tells(talk: Talk, said: tuple[str, ...], expected: Load) -> None:
    answer, after = talk(*said)
    assert answer.understood
    assert after.load == expected


OWNED_UP: list[tuple[tuple[str, ...], str]] = [
    ((FORTY, "coil is forty four wide"), "44 is taken as inches."),
    (("steel beams forty foot long eighteen tons",),
     "Beams without a number are taken as one piece, with that weight in all."),
    (("the boards under it are six by six",), "Timbers without a number are taken as two."),
]  # fmt: skip


@pytest.mark.parametrize(("said", "assumed"), OWNED_UP, ids=[assumed for _, assumed in OWNED_UP])
def test_what_was_taken_for_granted__is_owned_up_to(talk: Talk, said: tuple[str, ...], assumed: str) -> None:
    answer, _ = talk(*said)
    assert answer.judgement
    assert assumed in answer.judgement.assumed


# ---- racks without a number ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said", ["suicide on timbers and racks six three eighths chains", "six three eighths chains on racks"]
)
def test_racks_without_a_number__are_asked_for(talk: Talk, said: str) -> None:
    answer, asked = talk(FORTY, said)
    assert answer.asks == ("How many bunks are there?",)
    assert answer.say == "How many bunks are there?"
    assert asked.load.tiedowns == load(on=(chain(6, size_in=0.375),)).tiedowns
    assert asked.load.support.bunks is None
    _, after = talk("four", conversation=asked)
    assert after.load.support.bunks == 4


def test_racks_that_are_known__are_not_asked_for_again(talk: Talk) -> None:
    answer, after = talk(FORTY, "four racks", "sits on racks")
    assert "How many bunks" not in answer.say
    assert after.load.support.bunks == 4


# ---- what is not plain changes nothing -------------------------------------------------------------------------------

NOT_TAKEN: list[tuple[str, ...]] = [
    ("two more bunks",),  # than how many?
    ("take two bunks out",),
    ("two bunks", "take three bunks out"),
    ("five chains", "all four pull rearward"),
    ("four chains four straps", "all four go over the top"),
    ("all four pull rearward",),
    ("five chains all four through the eye",),
    ("and the same rearward",),
    (FORTY, "it's eight wide"),  # feet or inches?
    (FORTY, "forty four chains wide"),
    ("a crate two thousand pounds", "forty inches wide"),  # no coil is brought in by it
    ("a crate two thousand pounds forty inches wide",),
    ("a crate two thousand pounds two feet from the bulkhead",),  # where it stands, not how long it is
    ("a crate two thousand pounds six feet off the deck",),
    ("four chains twenty feet",),
    ("twenty feet of slack",),
    ("a crate two thousand pounds", "four chains twenty feet"),
    ("two straps", "take the front strap off"),
    ("four chains", "plenty of threads left"),  # how many?
    ("uneven coil thirty thousand seven",),
]


@pytest.mark.parametrize("said", NOT_TAKEN, ids=" | ".join)
def test_what_is_not_plain__is_never_passed_over(
    talk: Talk, let_pass: Callable[[str], bool], said: tuple[str, ...]
) -> None:
    assert talk("hello", *said)[0].say
    assert not let_pass(said[-1])


# ---- the driver's own gear -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "kind", "facts"),
    [
        ("all my straps are four inch tagged fifty four hundred", "strap", {"size_in": 4, "marked_lb": 5_400}),
        ("my straps are four inch rated for fifty four hundred", "strap", {"size_in": 4, "marked_lb": 5_400}),
        ("all my straps are marked fifty four hundred", "strap", {"marked_lb": 5_400}),
        ("my binders are good for sixty six hundred", "chain", {"binder_lb": 6_600}),
        ("my binders are rated at sixty six hundred", "chain", {"binder_lb": 6_600}),
        ("set my chains to half inch grade eighty", "chain", {"size_in": 0.5, "grade": "80"}),
        ("change my chains to half inch grade eighty", "chain", {"size_in": 0.5, "grade": "80"}),
        ("my chains are all half inch grade eighty", "chain", {"size_in": 0.5, "grade": "80"}),
        ("i use half inch grade eighty chains", "chain", {"size_in": 0.5, "grade": "80"}),
        ("all i carry is half inch grade eighty chains", "chain", {"size_in": 0.5, "grade": "80"}),
    ],
)
def test_gear__told_in_other_words(talk: Talk, said: str, kind: str, facts: dict[str, Any]) -> None:
    answer, after = talk(said)
    (item,) = after.gear.items
    assert item.model_dump(exclude_defaults=True) == {"kind": kind, **facts}
    assert after.load == Load()
    assert answer.effects


def test_false_start__beside_what_turns_the_sense_round_is_no_question(talk: Talk) -> None:
    """Free talk heard by load phrases: "isn't" was dropped, and "half tons" asked about."""
    answer, after = talk("isn't thirteen feet off the two half tons")
    assert not answer.confirm
    assert after.open
