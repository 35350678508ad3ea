"""The contract of the grammar: each thing that can be said has its row, its example wins, and nothing in it is dead."""

import datetime as dt
from collections.abc import Iterator

import pytest

from assistant.conversation import Conversation, Pending
from assistant.kit import read_kit
from assistant.phrase.examples import Saying, sayings, slots
from assistant.phrase.grammar import NUMERIC, Phrase
from assistant.reply import reply
from tests.phrases.test_grammar import GRAMMAR, NUMBERS, UNDERSTANDER, fillings

KIT = read_kit(dt.date(2026, 11, 25))
SAYINGS = [saying for told in sayings(GRAMMAR).values() for saying in told]
TYPED = [phrase for phrase in GRAMMAR.phrases if not phrase.spoken]


def test_contract__has_a_row_a_theme_and_a_line_for_every_fragment() -> None:
    assert set(GRAMMAR.contract) == {phrase.fragment for phrase in GRAMMAR.phrases} == set(GRAMMAR.forms)
    assert all(row.theme and row.about and row.sort for row in GRAMMAR.contract.values())
    lines = [(row.theme, row.about) for row in GRAMMAR.contract.values()]
    assert len(set(lines)) == len(lines)


DICTATED = {"note", "correct_note"}


@pytest.mark.parametrize("saying", SAYINGS, ids=lambda saying: saying.fragment)
def test_example__is_won_by_its_own_fragment_among_all(saying: Saying) -> None:
    heard = UNDERSTANDER.hear(saying.example)
    if saying.fragment in DICTATED:
        assert heard.note == ""
        assert heard.corrects == (saying.fragment == "correct_note")
        return
    won = [part.name for part in heard.fragments]
    assert not heard.left_over
    # a few words are two things, as "no" is: then the question that is open decides
    assert won == [saying.fragment] or saying.fragment in UNDERSTANDER.whole(heard)
    assert won


@pytest.mark.parametrize("saying", [one for one in SAYINGS if GRAMMAR.sorts[one.fragment] in {"ask", "command"}],
                         ids=lambda saying: saying.fragment)  # fmt: skip
def test_question_or_command__is_answered(saying: Saying) -> None:
    """No dead intent: each has an answer of its own, not the words for what is not understood."""
    _, state = reply("forty coil eye crosswise four chains", Conversation(gear=KIT.sample_gear), kit=KIT)
    said = f"{saying.example} the tarp" if saying.fragment in DICTATED else saying.example
    answer, _ = reply(said, state, kit=KIT)
    assert answer.understood
    assert answer.intent != "nothing"


@pytest.mark.parametrize("saying", [one for one in SAYINGS if GRAMMAR.sorts[one.fragment] == "reply"],
                         ids=lambda saying: saying.fragment)  # fmt: skip
def test_reply__settles_some_question(saying: Saying) -> None:
    _, doubt = reply("five chains", reply("four chains", Conversation(gear=KIT.sample_gear), kit=KIT)[1], kit=KIT)
    _, load = reply("forty coil eye crosswise", Conversation(gear=KIT.sample_gear), kit=KIT)
    rests = load.model_copy(update={"pending": Pending(asked=("What does it rest on?",))})
    bunks = load.model_copy(update={"pending": Pending(asked=("Do timbers or wedges lie in the bunks?",))})
    _, offered = reply(
        "four chains", Conversation(gear=KIT.sample_gear), kit=KIT, unsure=(0,), others=lambda: ("a chain",)
    )
    told = [reply(saying.example, state, kit=KIT)[0].understood for state in (doubt, rests, bunks, offered)]
    assert any(told)


@pytest.mark.parametrize("fragment", sorted({phrase.fragment for phrase in TYPED}))
def test_typed_template__is_no_dead_rule(fragment: str) -> None:
    """Each is read as its own fragment, if the whole utterance is nothing else."""
    dead = []
    for phrase in TYPED:
        if phrase.fragment != fragment:
            continue
        said = next(fillings(phrase))
        if fragment not in UNDERSTANDER.whole(UNDERSTANDER.hear(said)):
            dead.append(said)
    assert dead == []


def test_name__of_every_list_is_read_as_itself() -> None:
    """No dead word: each spoken and typed name, put into a template that takes its list, gives its key."""
    dead = []
    for list_name, entries in GRAMMAR.lists.items():
        phrase = next(phrase for phrase in GRAMMAR.phrases if list_name in phrase.slots)
        for entry in entries:
            for words in entry.all:
                said = " ".join(_piece(piece, list_name, " ".join(words), phrase) for piece in phrase.pieces)
                found = UNDERSTANDER.whole(UNDERSTANDER.hear(said)).get(phrase.fragment)
                if found is None or found.values[list_name] != entry.key:
                    dead.append((said, entry.key))
    assert dead == []


def _piece(piece: str, list_name: str, words: str, phrase: Phrase) -> str:
    if not piece.startswith("{"):
        return piece
    slot = piece[1:-1]
    if slot == list_name:
        return words
    assert slot in NUMERIC or slot in GRAMMAR.lists, phrase
    return NUMBERS[slot] if slot in NUMERIC else " ".join(GRAMMAR.lists[slot][0].spoken[0])


def test_misheard_words__are_none_that_are_meant() -> None:
    """No dead repair: what is heard for something else is no phrase of its own, and what is meant is."""
    for heard, meant in GRAMMAR.means:
        assert heard != meant
        said = UNDERSTANDER.hear(" ".join(heard))
        assert tuple(token.word for token in said.tokens) == meant


def test_slots__are_all_explained() -> None:
    used = {slot for phrase in GRAMMAR.phrases for slot in phrase.slots}
    explained = {slot.name: slot.words for slot in slots(GRAMMAR)}
    assert used <= set(explained)
    assert all(explained.values())
