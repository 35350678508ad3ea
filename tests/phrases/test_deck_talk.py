"""Talk on the deck as drivers put it: what it weighs, how it lies, how tiedowns run, and what is put right.

Expected loads are typed from the meaning of the words, as in test_understanding.py.
"""

from collections.abc import Callable

import pytest

from assistant.load.model import Load
from tests.conftest import Talk
from tests.phrases.test_understanding import BACK, CROSS, FRONT, FWD, LONG, OVER, UP, chain, coil, load, strap

C = "forty thousand pound coil eye crosswise"
DECK = coil(40_000, **CROSS)


def crate(weight: float | None = None, **facts: object) -> dict[str, object]:
    return {"name": "crate", **({"weight_lb": weight} if weight else {}), **facts}


TAKEN: list[tuple[tuple[str, ...], Load]] = [
    # ---- weights and who says them
    (("one coil", "it scaled at thirty nine thousand four hundred"), load(coil(39_400))),
    (("one coil", "scaled out at forty one two"), load(coil(41_200))),
    (("one coil", "tag reads thirty seven six forty"), load(coil(37_640))),
    (("one coil", "the ticket reads thirty nine six"), load(coil(39_600))),
    (("one coil", "bill of lading says forty thousand even"), load(coil(40_000))),
    (("one coil", "the paperwork says forty one two hundred"), load(coil(41_200))),
    (("nine thousand seven fifty pounds eye lengthwise",), load(coil(9_750, **LONG))),
    (("twelve thousand four fifty pound coil",), load(coil(12_450))),
    (("two coils eyes lengthwise", "both coils weigh seventeen eight"), load(coil(17_800, count=2, **LONG))),
    (("two coils", "each coil is twelve thousand"), load(coil(12_000, count=2))),
    ((C, "wrong it's thirty eight nine"), load(coil(38_900, **CROSS))),
    ((C, "wrong forty one five"), load(coil(41_500, **CROSS))),
    ((C, "meant to say forty six thousand"), load(coil(46_000, **CROSS))),
    # ---- coils by other words
    (("i got three of them at fourteen thousand pounds all shotgun",), load(coil(14_000, count=3, **LONG))),
    (("two of those weighing nine thousand apiece",), load(coil(9_000, count=2))),
    (("one big aluminum coil nineteen thousand pounds eye to the sky",), load(coil(19_000, metal="aluminum", **UP))),
    (("the front coil is twenty four thousand and the back one is twenty two",), load(coil(24_000), coil(22_000))),
    (("two ten thousand pound coils", "the back one is twelve thousand"), load(coil(10_000), coil(12_000))),
    (("five slit coils on skids seven thousand each eyes up",),
     load(coil(7_000, count=5, **UP), support={"pallet": True})),
    (("single coil suicide thirty eight five",), load(coil(38_500, **CROSS))),
    (("hot band forty three five suicide",), load(coil(43_500, **CROSS))),
    (("three hot rolled coils twelve thousand each shotgun",), load(coil(12_000, count=3, **LONG))),
    (("one suicide coil and one shotgun coil fifteen thousand each",),
     load(coil(15_000, **CROSS), coil(15_000, **LONG))),
    (("one shotgun coil twenty thousand and one suicide coil eighteen thousand",),
     load(coil(20_000, **LONG), coil(18_000, **CROSS))),
    (("two suicide coils at twenty thousand",), load(coil(20_000, count=2, **CROSS))),
    (("three ten thousand pound coils", "they took one coil off the truck"), load(coil(10_000, count=2))),
    (("three ten thousand pound coils", "a coil came off"), load(coil(10_000, count=2))),
    (("three ten thousand pound coils", "no coil"), load()),
    (("four six thousand pound coils", "oops five coils not four"), load(coil(6_000, count=5))),
    # ---- how it lies
    (("forty coil", "that coil's eye points straight at the cab"), load(coil(40_000, **LONG))),
    (("forty coil", "the eye runs front to back"), load(coil(40_000, **LONG))),
    (("forty coil", "hole's facing up"), load(coil(40_000, **UP))),
    (("forty coil", "the hole runs side to side"), load(coil(40_000, **CROSS))),
    (("forty coil", "eye to the left"), load(coil(40_000, **CROSS))),
    (("forty coil", "the eye is facing the rail"), load(coil(40_000, **CROSS))),
    (("one steel coil thirty seven thousand pounds hole to the side",), load(coil(37_000, metal="steel", **CROSS))),
    ((C, "hold on it's eye to the sky"), load(coil(40_000, **UP))),
    ((C, "hold up it's eye to the sky"), load(coil(40_000, **UP))),
    ((C, "no timbers under it just on the deck"), load(DECK, support={"timbers": 0, "on_deck": True})),
    ((C, "coil is straight on the deck"), load(DECK, support={"on_deck": True})),
    # ---- how many tiedowns, and of what
    ((C, "four half inch chains", "gonna need one more add a half inch chain"),
     load(DECK, on=(chain(5, size_in=0.5),))),
    ((C, "two four inch straps", "one more four inch strap"), load(DECK, on=(strap(3, size_in=4),))),
    ((C, "four grade seventy chains", "i'm adding two more grade seventy chains"),
     load(DECK, on=(chain(6, grade="70"),))),
    ((C, "four grade seventy chains", "another grade seventy chain"), load(DECK, on=(chain(5, grade="70"),))),
    ((C, "eight chains total four each way"), load(DECK, on=(chain(4, **FWD), chain(4, **BACK)))),
    ((C, "four chains", "six chains total"), load(DECK, on=(chain(6),))),
    ((C, "three eighths grade forty three four of them"), load(DECK, on=(chain(4, size_in=0.375, grade="43"),))),
    ((C, "four ratchet straps four inch"), load(DECK, on=(strap(4, size_in=4),))),
    ((C, "six chains", "pulled two chains off"), load(DECK, on=(chain(4),))),
    ((C, "six chains", "i pulled two off"), load(DECK, on=(chain(4),))),
    ((C, "six chains", "two chains came off"), load(DECK, on=(chain(4),))),
    ((C, "four chains", "two straps", "took off all the chains"), load(DECK, on=(strap(2),))),
    ((C, "four chains", "i can't read the marks on the chains"), load(DECK, on=(chain(4, unmarked=True),))),
    ((C, "two straps", "the tags on the straps are worn off"), load(DECK, on=(strap(2, unmarked=True),))),
    ((C, "three straps", "straps are four inch tag says five thousand"),
     load(DECK, on=(strap(3, size_in=4, marked_lb=5_000),))),
    # ---- what it is, and what it is not
    ((C, "four grade seventy chains", "wait that's grade eighty not seventy"), load(DECK, on=(chain(4, grade="80"),))),
    ((C, "four grade seventy chains", "they're grade eighty not grade seventy"),
     load(DECK, on=(chain(4, grade="80"),))),
    ((C, "four three eighths chains", "it was half inch not three eighths"), load(DECK, on=(chain(4, size_in=0.5),))),
    ((C, "four half inch chains", "three eighths instead of half inch"), load(DECK, on=(chain(4, size_in=0.375),))),
    # ---- how they run
    ((C, "two chains and a strap in the middle"), load(DECK, on=(chain(2), strap(place="middle")))),
    ((C, "a strap over the front and a strap over the middle"),
     load(DECK, on=(strap(**FRONT), strap(place="middle", **OVER)))),
    ((C, "four chains", "the first two pull forward"), load(DECK, on=(chain(2, **FWD), chain(2)))),
    ((C, "four chains", "first two forward last two rearward"), load(DECK, on=(chain(2, **FWD), chain(2, **BACK)))),
    ((C, "four chains", "two of them go forward", "the other two go rearward"),
     load(DECK, on=(chain(2, **FWD), chain(2, **BACK)))),
    ((C, "six chains", "three against forward and three against rearward"),
     load(DECK, on=(chain(3, **FWD), chain(3, **BACK)))),
    ((C, "four chains", "chains are pulling opposite ways two and two"),
     load(DECK, on=(chain(2, **FWD), chain(2, **BACK)))),
    ((C, "four chains", "two to the left and two to the right"),
     load(DECK, on=(chain(2, pulls="left"), chain(2, pulls="right")))),
    ((C, "four chains", "the chains run straight from the coil to the rail"),
     load(DECK, on=(chain(4, path="direct"),))),
    ((C, "four chains", "each chain goes around and hooks on the other rail"),
     load(DECK, on=(chain(4, path="across"),))),
    ((C, "four chains", "rail to rail"), load(DECK, on=(chain(4, path="across"),))),
    ((C, "four chains", "hooked on the same rail"), load(DECK, on=(chain(4, path="same side"),))),
    ((C, "two chains", "one forward and one rearward both through the eye"),
     load(DECK, on=(chain(through="eye", **FWD), chain(through="eye", **BACK)))),
    # ---- other cargo
    (("a bundle of pipe twelve thousand pounds twenty feet long",),
     load(articles=[{"name": "pipe", "weight_lb": 12_000, "length_ft": 20}])),
    (("five thousand pound crate", "the crate is ten foot six long"), load(articles=[crate(5_000, length_ft=10.5)])),
    (("five thousand pound crate", "that crate is against the bulkhead"),
     load(articles=[crate(5_000, blocked_forward=True)])),
    (("a crate", "crate is five thousand pounds ten feet long"), load(articles=[crate(5_000, length_ft=10)])),
    (("five thousand pound crate", "a crate ten foot long"), load(articles=[crate(5_000), crate(length_ft=10)])),
    (("a pallet of plates behind the coil thirty two hundred pounds",),
     load(articles=[{"name": "plate", "weight_lb": 3_200}])),
    (("three bundles of rebar forty foot long ten thousand each",),
     load(articles=[{"name": "rebar", "count": 3, "weight_lb": 10_000, "length_ft": 40}])),
    (("theres a bundle of pipe up front twenty foot long forty five hundred pound",),
     load(articles=[{"name": "pipe", "weight_lb": 4_500, "length_ft": 20}])),
    # ---- what a tiedown is made of, told of no one in particular
    ((C, "two chains forward and two chains back", "three eighths grade seventy"),
     load(DECK, on=(chain(2, size_in=0.375, grade="70", **FWD), chain(2, size_in=0.375, grade="70", **BACK)))),
    ((C, "two chains forward and two chains back", "i said half inch i meant three eighths"),
     load(DECK, on=(chain(2, size_in=0.375, **FWD), chain(2, size_in=0.375, **BACK)))),
    ((C, "three half inch chains forward", "add a chain back", "three eighths"),
     load(DECK, on=(chain(3, size_in=0.5, **FWD), chain(size_in=0.375, **BACK)))),
    ((C, "four chains with ratchet binders on every one"), load(DECK, on=(chain(4),))),
    # ---- what the ear makes of "add" and of "no"
    ((C, "four chains", "at one chain"), load(DECK, on=(chain(5),))),
    ((C, "three chains note four chains"), load(DECK, on=(chain(4),))),
    # ---- taken back
    (("forty coil", "four chains", "oops"), load(coil(40_000))),
    (("forty coil", "four chains", "oops five chains"), load(coil(40_000), on=(chain(5),))),
]  # fmt: skip


@pytest.mark.parametrize(("said", "expected"), TAKEN, ids=[" | ".join(said) for said, _ in TAKEN])
def test_said__comes_to_what_it_means(talk: Talk, said: tuple[str, ...], expected: Load) -> None:
    answer, after = talk(*said)
    assert answer.understood
    assert after.load == expected


LEFT_ALONE: list[tuple[str, ...]] = [
    # of the last one alone, or of both?
    (C, "two chains", "one forward and one rearward through the eye"),
    (C, "four chains", "two forward and two rearward crossed"),
    # whose tag?
    ("one coil", "three straps", "straps are four inch tag says five thousand"),
    (C, "three chains", "four chains tag says five thousand"),
    # of what?
    ("four crates", "three of them at two thousand pounds"),
    (C, "four chains", "two of them at five thousand"),
    # which coil?
    ("forty coil", "the back coil is thirty"),
    ("two coils 18,200 and 19,500", "they took a coil off"),
    (C, "four chains", "the front one goes through the eye"),
    # not what is there
    (C, "four grade seventy chains", "grade eighty not grade forty three"),
    (C, "four three eighths chains", "three eighths not half inch"),
    (C, "two chains forward and two back", "six chains total"),
    (C, "i can't read the tag on the coil"),
    ("five thousand pound crate", "the crate"),
    # two numbers side by side, and a word that turns them round
    (C, "except four five chains"),
    (C, "it's not thirteen two half tons"),
    # pointed at, and not there
    (C, "four chains", "the winch on the last strap won't hold"),
    (C, "four chains", "the tag is off the yellow strap"),
    (C, "four chains", "no the strap is fine it was just dirty"),
    # said to be gone
    (C, "forget the pallet they took it off"),
    (C, "a mat walked out from under it"),
    # not yet, not any more, or on another truck
    (C, "i still have to put the mats in"),
    (C, "four chains", "going to add a chain at the next stop"),
    (C, "i'll put two straps on later"),
    (C, "four chains", "i need two more chains"),
    (C, "four chains", "wish i had two more chains"),
    (C, "four chains", "i used to run half inch chains"),
    (C, "four chains", "i was going to use five chains"),
    (C, "last week i had four chains on a forty"),
    (C, "the guy next to me has six chains on his"),
    (C, "it's supposed to weigh forty one thousand"),
    (C, "i've got mats in my box"),
    (C, "four chains", "the chains in my toolbox are half inch"),
    # denied
    (C, "there ain't no timbers under it"),
    (C, "couldn't fit the cradle so it's just sitting on the mats"),
    (C, "i wouldn't say the coil's loose"),
    (C, "on timbers", "four chains", "two forward and two back", "you said i was good with three"),
    # not off, but tight
    (C, "four chains", "i pulled two chains tight"),
]


@pytest.mark.parametrize("said", LEFT_ALONE, ids=[" | ".join(said) for said in LEFT_ALONE])
def test_doubtful__is_never_passed_over(talk: Talk, let_pass: Callable[[str], bool], said: tuple[str, ...]) -> None:
    assert talk(*said)[0].say
    assert not let_pass(said[-1])


def test_coils_without_the_word__are_owned_up_to(talk: Talk) -> None:
    answer, _ = talk("i got three of them at fourteen thousand pounds")
    assert answer.say.startswith("These are taken as coils")


@pytest.mark.parametrize(
    "said", ["i run three eighths grade seventy chain", "i run grade seventy chains",
             "we run half inch grade eighty chains",
             "i run half inch grade eighty", "i run four inch straps"]
)  # fmt: skip
def test_what_i_run__is_the_gear_list(talk: Talk, said: str) -> None:
    answer, after = talk(C, said)
    assert answer.intent == "gear"
    assert not after.gear.sample
    assert after.load == load(DECK)


@pytest.mark.parametrize(
    ("said", "intent"),
    [("when do i have to stop and check it", "next stop"), ("when should i pull over", "next stop"),
     ("when do i gotta stop and look at it", "next stop"), ("how many chains did you count", "read back"),
     ("how many chains are on", "read back"), ("how many chains do i have to have", "how many"),
     ("how many chains do i need", "how many"), ("how far can i go before i check it again", "next stop"),
     ("whats my margin", "holds"), ("how much margin", "holds"), ("is it okay to roll", "check"),
     ("how much is a three eighths grade seventy good for", "rating"), ("what if it was eye up instead", "what if"),
     ("read the whole load back to me", "read back"), ("scratch that last one", "undo")],
)  # fmt: skip
def test_question__gets_its_own_answer(talk: Talk, said: str, intent: str) -> None:
    assert talk(C, "four chains", said)[0].intent == intent


@pytest.mark.parametrize("said", ["gimme another one", "give me another question", "next one", "another one like that"])
def test_quiz__takes_no_number_from_what_asks_for_another(talk: Talk, said: str) -> None:
    """Passed, or asked again: never marked as the answer one."""
    answer, _ = talk("quiz me", said)
    assert answer.say.startswith("Passed") or not answer.understood


def test_number_in_other_talk__answers_no_question(talk: Talk) -> None:
    """One good strap is not one bunk."""
    answer, before = talk(C, "on two timbers", "four straps", "two forward two back", "cut strap")
    assert before.pending
    answer, after = talk("i swapped the cut strap for a good one", conversation=before)
    assert answer.understood
    assert after.load.seen == ()
    assert after.load.support == before.load.support


def test_place_of_cargo__is_not_kept_and_said_so(talk: Talk) -> None:
    answer, _ = talk("five thousand pound crate behind the coil")
    assert "Where the crate stands is not kept." in answer.say


def test_ton_metric__is_the_metric_ton(talk: Talk) -> None:
    """The international pound is 0.45359237 kg, exactly."""
    _, after = talk("ten coils two ton metric each")
    assert after.load.coils[0].weight_lb == pytest.approx(2_000 / 0.45359237, abs=0.01)


def test_what_is_not_so_now__is_named(talk: Talk) -> None:
    answer, after = talk(C, "i still need two straps")
    assert "I left out “i still need two straps”: that is not done yet." in answer.say
    assert after.load.tiedowns == ()
