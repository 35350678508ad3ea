"""Questions, what-ifs and commands in the words that drivers have for them: each is known for what it is.

Intents and expected values are written from the meaning of the words; numbers come from the clause named beside them.
"""

import pytest

from assistant.conversation import Conversation
from assistant.load.model import GearList, Load
from assistant.say.answer import CorrectNote, KeepNote, Pace
from tests.conftest import Talk
from tests.phrases.test_understanding import BACK, CROSS, FWD, chain, coil, load, strap

FORTY = "forty thousand pound coil eye crosswise"

ASKED: list[tuple[str, str]] = [
    ("can i run it like this", "check"),
    ("can i run like this", "check"),
    ("can i haul this like that", "check"),
    ("does that cover it", "check"),
    ("does that do it", "check"),
    ("am i over or under", "check"),
    ("am i covered", "check"),
    ("how much margin have i got", "holds"),
    ("what's my margin", "holds"),
    ("what's the total", "holds"),
    ("add it up", "holds"),
    ("what do they add up to", "holds"),
    ("why's it short", "why"),
    ("why am i short", "why"),
    ("why isn't that enough", "why"),
    ("why doesn't it hold", "why"),
    ("how come it's not enough", "why"),
    ("what's on the truck", "read back"),
    ("what's on my trailer", "read back"),
    ("what am i hauling", "read back"),
    ("what's the total weight", "read back"),
    ("what does it weigh", "read back"),
    ("tell me what i've got", "read back"),
    ("tell me what you have", "read back"),
    ("i missed that", "repeat"),
    ("run that by me again", "repeat"),
    ("when's my first stop", "next stop"),
    ("where's my first check", "next stop"),
    ("when do i check first", "next stop"),
    ("how far before i stop", "next stop"),
    ("which way would it roll", "movement"),
    ("what way could it slide", "movement"),
    ("which way does it want to go", "movement"),
    ("what rules are we on", "rules"),
    ("which rules am i under", "rules"),
    ("whose rules are you using", "rules"),
    ("what are the commands", "help"),
    ("what commands are there", "help"),
    ("how do i use this", "help"),
    ("where do i put it on the deck", "axles"),
    ("where should the coil sit", "axles"),
    ("am i legal on my axles", "axles"),
]


@pytest.mark.parametrize(("said", "intent"), ASKED, ids=[said for said, _ in ASKED])
def test_question__is_known_and_touches_nothing(talk: Talk, said: str, intent: str) -> None:
    _, before = talk(FORTY, "four chains")
    answer, after = talk(said, conversation=before)
    assert (answer.understood, answer.intent) == (True, intent)
    assert after.load == before.load


RATED: list[tuple[str, str]] = [
    # 49 CFR 393.108 chain table, read: 1/2 in grade 80 is 12,000 lb, 3/8 in grade 70 is 6,600 lb.
    ("what's the working load limit on a half inch grade eighty", "twelve thousand pounds"),
    ("what's a grade eighty half inch chain worth", "twelve thousand pounds"),
    ("what's a half inch grade eighty chain worth", "twelve thousand pounds"),
    ("what is half inch grade eighty good for", "twelve thousand pounds"),
    ("how much does a grade seventy three eighths chain hold", "six thousand six hundred pounds"),
    ("what will a three eighths grade seventy chain hold", "six thousand six hundred pounds"),
    ("what's the wll of 3/8 g70", "six thousand six hundred pounds"),
]


@pytest.mark.parametrize(("said", "worth"), RATED, ids=[said for said, _ in RATED])
def test_rating__in_any_order_of_its_words(talk: Talk, said: str, worth: str) -> None:
    answer, _ = talk(said)
    assert answer.intent == "rating"
    assert worth in answer.say


@pytest.mark.parametrize(
    "said", ["how much does one strap count for", "what does each strap hold", "what's a strap worth"]
)
def test_rating_of_one_that_is_on__goes_by_what_was_told_of_it(talk: Talk, said: str) -> None:
    """49 CFR 393.106(d)(1), read: half of one that goes back to the same side; 393.108(b): the mark governs."""
    answer, _ = talk(FORTY, "two straps marked five thousand back to the same side", said)
    assert (
        answer.say
        == "One strap is good for five thousand pounds by its mark, and counts two thousand five hundred pounds."
    )


def test_rating_of_one__goes_by_the_gear_list_where_none_is_on(talk: Talk) -> None:
    answer, _ = talk("my straps are marked four thousand", "how much does one strap count for")
    assert "four thousand pounds by the gear list" in answer.say


def test_rating_of_one_chain__asks_where_its_size_is_not_known(talk: Talk) -> None:
    answer, _ = talk("what's one rope worth", conversation=Conversation(gear=GearList()))
    assert not answer.understood
    assert "size" in answer.say


@pytest.mark.parametrize(
    ("said", "free", "blocked"),
    [
        # 49 CFR 393.110(b)(3), read: two for the first 10 ft and one for each 10 ft more; (c): one for each 10 ft.
        ("how many straps for a twenty foot load", "three straps", "two"),
        ("how many straps do i need for a twenty foot load", "three straps", "two"),
        ("how many chains for a load thirty five feet long", "five chains", "four"),
        ("how many straps for something ten feet long", "two straps", "one"),
    ],
)
def test_how_many__for_a_length_alone(talk: Talk, said: str, free: str, blocked: str) -> None:
    answer, after = talk(said)
    assert answer.intent == "how many"
    assert f"at least {free}, or {blocked} where it is blocked in front" in answer.say
    assert "weigh" in answer.say
    assert after.load == Load()


def test_how_many_by_length__is_refused_by_other_rules(talk: Talk) -> None:
    answer, _ = talk("use canadian rules", "how many straps for a twenty foot load")
    assert not answer.understood


def test_what_they_hold__says_the_margin(talk: Talk) -> None:
    """49 CFR 393.106(d), read: half of 40,000 lb; 393.108, read: 6,600 lb each going across."""
    answer, _ = talk(FORTY, "four three eighths grade seventy chains", "how much margin do i have")
    assert answer.say.endswith("Half the weight is twenty thousand pounds: six thousand four hundred pounds over.")
    answer, _ = talk(FORTY, "two three eighths grade seventy chains", "what's my margin")
    assert answer.say.endswith("six thousand eight hundred pounds short.")


# ---- what would be ---------------------------------------------------------------------------------------------------

SUPPOSED: list[tuple[tuple[str, ...], tuple[tuple[str, int], ...]]] = [
    (("two chains", "what if i throw two more chains on"), (("chain", 2), ("chain", 2))),
    (("two chains", "what if i throw on two more chains"), (("chain", 2), ("chain", 2))),
    (("two chains", "if i put on two more chains is that enough"), (("chain", 2), ("chain", 2))),
    (("four chains", "suppose i used straps instead"), (("strap", 4),)),
    (("four chains", "what if i use straps instead of chains"), (("strap", 4),)),
    (("four chains", "what if i used five straps instead"), (("strap", 5),)),
    (("four chains two straps", "what if i had straps instead of the chains"), (("strap", 4), ("strap", 2))),
    (("four chains", "what happens if a chain breaks"), (("chain", 3),)),
    (("four chains", "what happens if i lose a chain"), (("chain", 3),)),
    (("four chains", "what if two chains snap"), (("chain", 2),)),
    (("four chains", "say i put three straps over the top then what"), (("chain", 4), ("strap", 3))),
    (("four chains", "if i add a strap does it hold"), (("chain", 4), ("strap", 1))),
    (("four chains", "let's say i had five chains would it hold"), (("chain", 5),)),
]  # fmt: skip


@pytest.mark.parametrize(("said", "would"), SUPPOSED, ids=[" | ".join(said) for said, _ in SUPPOSED])
def test_what_if__in_other_words_leaves_the_load_alone(
    talk: Talk, said: tuple[str, ...], would: tuple[tuple[str, int], ...]
) -> None:
    _, before = talk(FORTY, said[0])
    answer, after = talk(*said[1:], conversation=before)
    assert answer.intent == "what if"
    assert after.load == before.load
    assert after.supposed
    supposed = after.supposed.load.tiedowns
    assert sum(group.count for group in supposed) == sum(count for _, count in would)
    assert {group.kind.value for group in supposed} == {kind for kind, _ in would}


def test_instead__takes_the_place_of_what_is_on(talk: Talk) -> None:
    _, after = talk("four chains", "straps instead of chains")
    assert after.load == load(on=(strap(4),))
    _, after = talk("two chains forward and two rearward", "straps instead")
    assert after.load == load(on=(strap(2, **FWD), strap(2, **BACK)))
    _, after = talk("four chains", "three straps instead of the chains")
    assert after.load == load(on=(strap(3),))


@pytest.mark.parametrize(
    "said",
    [
        ("four chains two straps", "ropes instead"),  # instead of which?
        ("two chains forward and two rearward", "three straps instead"),  # how many each way?
        ("use straps instead of chains",),  # there are none
        ("four chains", "straps if it rains"),
    ],
)
def test_instead__of_what_is_not_plain_is_asked_or_named(talk: Talk, said: tuple[str, ...]) -> None:
    _, before = talk("hello", *said[:-1])
    answer, after = talk(said[-1], conversation=before)
    assert answer.asks or after.open
    kept = [group for group in after.load.tiedowns if group.kind == "chain"]
    assert kept == [group for group in before.load.tiedowns if group.kind == "chain"]


# ---- commands --------------------------------------------------------------------------------------------------------

ORDERED: list[tuple[tuple[str, ...], str]] = [
    ((FORTY, "hang on a second"), "stop"),
    ((FORTY, "hang on"), "stop"),
    ((FORTY, "wait a minute"), "stop"),
    ((FORTY, "just a second"), "stop"),
    (("quiz me", "that's enough stop the quiz"), "stop"),
    (("quiz me", "stop the quiz"), "stop"),
    (("quiz me", "no more questions"), "stop"),
    (("quiz me", "i'm done with the quiz"), "stop"),
    ((FORTY, "take off the last thing i said"), "undo"),
    ((FORTY, "scratch the last thing i said"), "undo"),
    ((FORTY, "forget what i just said"), "undo"),
    ((FORTY, "take that last thing back"), "undo"),
    ((FORTY, "put it back"), "undo"),
    ((FORTY, "four chains two forward two rearward", "remove two chains forward", "no put them back"), "undo"),
    ((FORTY, "wipe the whole thing"), "start over"),
    ((FORTY, "clear it all"), "start over"),
    ((FORTY, "start all over"), "start over"),
    (("that's all for today",), "quit"),
    (("we're done for the day",), "quit"),
    (("see you later",), "quit"),
    (("let's practice",), "quiz"),
    (("throw me some questions",), "quiz"),
    (("ask me some questions",), "quiz"),
    (("let's have a quiz",), "quiz"),
    (("are you listening",), "awake"),
    (("can you hear me",), "awake"),
    (("wake up",), "awake"),
    (("you can go to sleep",), "sleep"),
    (("stop listening to me",), "sleep"),
]


@pytest.mark.parametrize(("said", "intent"), ORDERED, ids=[said[-1] for said, _ in ORDERED])
def test_command__is_followed(talk: Talk, said: tuple[str, ...], intent: str) -> None:
    answer, _ = talk(*said)
    assert (answer.understood, answer.intent) == (True, intent)


@pytest.mark.parametrize(
    ("said", "step"),
    [
        ("speak a little slower", -1),
        ("talk a bit slower", -1),
        ("slow it down", -1),
        ("slow down a little please", -1),
        ("you're talking too fast", -1),
        ("that's too fast", -1),
        ("not so fast", -1),
        ("can you speak slower", -1),
        ("could you slow down", -1),
        ("speak a little faster", 1),
        ("talk a bit faster", 1),
        ("speed it up", 1),
        ("you're too slow", 1),
        ("not so slow", 1),
        ("speak at normal speed", 0),
        ("go back to the usual speed", 0),
        ("regular speed please", 0),
        ("talk like before", 0),
    ],
)
def test_pace__in_the_words_that_come_first(talk: Talk, said: str, step: int) -> None:
    answer, _ = talk(said)
    assert answer.understood
    assert answer.effects == (Pace(step=step),)


@pytest.mark.parametrize("said", ["say it again slower", "slower say it again", "repeat that a little slower"])
def test_say_again_slower__does_both(talk: Talk, said: str) -> None:
    first, before = talk(FORTY)
    answer, _ = talk(said, conversation=before)
    assert answer.intent == "repeat"
    assert answer.say == first.say
    assert answer.effects == (Pace(step=-1),)


RULES: list[tuple[str, str]] = [
    ("i'm running up into canada", "Canada"),
    ("we're heading to canada", "Canada"),
    ("i'm in canada now", "Canada"),
    ("do the canadian check", "Canada"),
    ("check it by the canadian standard", "Canada"),
    ("use the european standard", "EN 12195-1"),
    ("go by the european rules", "EN 12195-1"),
    ("back to federal rules", "US"),
    ("switch back to the american rules", "US"),
    ("i'm back in the states", "US"),
    ("change to the federal rule", "US"),
]


@pytest.mark.parametrize(("said", "rules"), RULES, ids=[said for said, _ in RULES])
def test_rules__are_chosen_by_where_it_goes(talk: Talk, said: str, rules: str) -> None:
    other = "use canadian rules" if rules == "US" else "use the federal rule"
    answer, after = talk(other, said)
    assert answer.intent == "rules"
    assert after.rules.value == rules


@pytest.mark.parametrize("said", ["use canadian rules", "is this legal in canada"])
def test_rules__that_change_are_said_aloud(talk: Talk, said: str) -> None:
    answer, after = talk(FORTY, "four chains", said)
    assert after.rules.value == "Canada"
    assert answer.say.startswith("From now on by the rules of Canada")


@pytest.mark.parametrize("said", ["what about canada geese", "two chains made in canada", "is canada far"])
def test_a_country_in_passing__chooses_no_rules(talk: Talk, said: str) -> None:
    _, after = talk(said)
    assert after.rules.value == "US"
    assert after.open or after.load == Load()


# ---- notes -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "write down tarp straps are getting thin",
        "write this down tarp straps are getting thin",
        "make a note that tarp straps are getting thin",
        "note that tarp straps are getting thin",
        "add a note tarp straps are getting thin",
        "jot this down tarp straps are getting thin",
        "new note tarp straps are getting thin",
    ],
)
def test_note__begins_as_people_begin_one(talk: Talk, said: str) -> None:
    answer, after = talk(said)
    assert answer.effects == (KeepNote(text="tarp straps are getting thin", heard="tarp straps are getting thin"),)
    assert after.load == Load()


@pytest.mark.parametrize(
    "said",
    [
        "change the note to say the gate is on the south side",
        "make the note say the gate is on the south side",
        "correct my note to say the gate is on the south side",
        "the note should read the gate is on the south side",
        "no the note says the gate is on the south side",
    ],
)
def test_note__is_corrected(talk: Talk, said: str) -> None:
    answer, _ = talk("note the gate is on the north side", said)
    assert [type(effect) for effect in answer.effects] == [CorrectNote]
    assert "Gate is on the south side" in answer.say or "gate is on the south side" in answer.say


@pytest.mark.parametrize(
    ("said", "intent"),
    [
        ("read my notes back", "read note"),
        ("read me the last note", "read note"),
        ("play back the last note", "read note"),
        ("what did i write down", "read note"),
        ("what was my last note", "read note"),
        ("what does the note say", "read note"),
        ("delete my last note", "drop note"),
        ("erase that note", "drop note"),
        ("get rid of that note", "drop note"),
        ("forget that note", "drop note"),
        ("what notes do i have", "log"),
        ("show me all my notes", "log"),
        ("what are my notes", "log"),
    ],
)
def test_note__is_read_dropped_or_listed(talk: Talk, said: str, intent: str) -> None:
    answer, _ = talk("note the gate is on the north side", said)
    assert (answer.understood, answer.intent) == (True, intent)


@pytest.mark.parametrize("said", ["put down two straps", "two chains noted", "write two straps"])
def test_load_talk__is_no_note(talk: Talk, said: str) -> None:
    answer, _ = talk(said)
    assert answer.intent != "note"


# ---- the quiz --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "next one",
        "skip this one",
        "i give up",
        "what's the answer",
        "tell me the answer",
        "move on",
        "give me the next question",
    ],
)
def test_quiz_question__is_passed(talk: Talk, said: str) -> None:
    _, state = talk("quiz me")
    answer, after = talk(said, conversation=state)
    assert answer.understood
    assert after.quiz
    assert after.quiz.right == (False,)


@pytest.mark.parametrize(
    "said", ["say the question again", "what was the question", "i missed that", "ask me that again"]
)
def test_quiz_question__is_said_again(talk: Talk, said: str) -> None:
    _, state = talk("quiz me")
    answer, after = talk(said, conversation=state)
    assert answer.understood
    assert after.quiz == state.quiz


# ---- a no, and then what it is ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ((FORTY, "that's wrong it's thirty eight nine"), load(coil(38_900, **CROSS))),
        ((FORTY, "wrong it's thirty eight nine"), load(coil(38_900, **CROSS))),
        ((FORTY, "wrong thirty eight nine"), load(coil(38_900, **CROSS))),
        ((FORTY, "that's not right it's thirty eight nine"), load(coil(38_900, **CROSS))),
        ((FORTY, "nope thirty eight nine"), load(coil(38_900, **CROSS))),
        (("four chains", "wrong five chains"), load(on=(chain(5),))),
        (("four chains", "negative five chains"), load(on=(chain(5),))),
        (("four chains", "nope five"), load(on=(chain(5),))),
    ],
)
def test_no_before_a_fact__corrects(talk: Talk, said: tuple[str, ...], expected: Load) -> None:
    _, after = talk(*said)
    assert after.load == expected


def test_no_alone__still_answers(talk: Talk) -> None:
    _, after = talk(FORTY, "thirty eight thousand pound coil", "that's wrong")
    assert after.load == load(coil(38_000, **CROSS))
