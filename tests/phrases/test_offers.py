"""What else may have been said is offered where what was heard is read back or came to nothing, and taken if chosen."""

import datetime as dt
from collections.abc import Sequence

import pytest

from assistant.conversation import Conversation
from assistant.kit import read_kit
from assistant.reply import reply
from assistant.say.answer import Answer

KIT = read_kit(dt.date(2026, 11, 25))
EMPTY = Conversation(gear=KIT.sample_gear)


def chains(conversation: Conversation) -> list[int]:
    return [tiedown.count for tiedown in conversation.load.tiedowns]


def heard(
    said: str, others: Sequence[str], *, unsure: Sequence[int] = (), hazy: bool = False
) -> tuple[Answer, Conversation]:
    return reply(said, EMPTY, kit=KIT, unsure=unsure, hazy=hazy, others=lambda: others)


def test_a_doubtful_number__is_read_back_with_the_likeliest_other() -> None:
    answer, after = heard("four chains", ["five chains", "nine chains"], unsure=[0])
    assert answer.asks == ("I heard four chains. Is that right, or was it five chains?",)
    assert answer.confirm == ("four chains",)
    assert after.load == EMPTY.load


@pytest.mark.parametrize(
    "said", ["five chains", "five", "no five chains", "the other one", "the second", "no the other one"]
)
def test_what_was_offered__is_taken_when_it_is_chosen(said: str) -> None:
    _, asked = heard("four chains", ["five chains"], unsure=[0])
    _, after = reply(said, asked, kit=KIT)
    assert chains(after) == [5]


def test_yes__takes_what_was_read_back_and_not_what_was_offered() -> None:
    _, asked = heard("four chains", ["five chains"], unsure=[0])
    assert chains(reply("yes", asked, kit=KIT)[1]) == [4]


def test_no__takes_neither() -> None:
    _, asked = heard("four chains", ["five chains"], unsure=[0])
    assert chains(reply("no", asked, kit=KIT)[1]) == []


def test_only_what_differs__is_offered_and_all_of_it_taken() -> None:
    answer, asked = heard("forty two coil and a strap", ["forty two coil and eight straps"], hazy=True)
    assert answer.asks == ("I heard forty two coil and a strap. Is that right, or was it eight straps?",)
    _, after = reply("eight straps", asked, kit=KIT)
    assert (after.load.coils[0].weight_lb, chains(after)) == (42_000, [8])


@pytest.mark.parametrize(("unsure", "hazy"), [((0,), False), ((), True)])
def test_what_is_chosen_and_heard_badly__is_asked_once_more(unsure: Sequence[int], hazy: bool) -> None:  # noqa: FBT001
    _, asked = heard("four chains and a strap", ["five chains and a strap"], unsure=[0])
    answer, again = reply("five chains", asked, kit=KIT, unsure=unsure, hazy=hazy)
    assert (answer.asks, chains(again)) == (("Do you mean five chains?",), [])
    assert chains(reply("yes", again, kit=KIT)[1]) == [5, 1]


def test_what_came_to_nothing__is_asked_for_as_it_would_be_understood() -> None:
    answer, asked = heard("of a the", ["nothing of use", "four chains"])
    assert answer.asks == ("I did not understand that. Did you say four chains?",)
    assert (answer.confirm, chains(asked)) == (("four chains",), [])
    assert chains(reply("yes", asked, kit=KIT)[1]) == [4]


def test_what_is_sure_or_would_come_to_nothing_itself__offers_nothing() -> None:
    assert heard("four chains", ["five chains"])[0].asks == heard("four chains", [])[0].asks
    assert heard("of a the", ["a the of"])[0].asks == heard("of a the", [])[0].asks


def test_the_other_one__answers_nothing_where_nothing_was_offered() -> None:
    _, after = reply("the other one", EMPTY, kit=KIT)
    assert after.load == EMPTY.load
