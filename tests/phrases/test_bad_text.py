"""Any text at all gets an answer in words, and what is not understood changes nothing."""

import string
from collections.abc import Callable

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.model import Load
from assistant.phrase.grammar import read_grammar
from assistant.reply import reply
from assistant.say.answer import Answer
from assistant.understand.lexicon import read_lexicon
from tests.conftest import Talk

GRAMMAR = read_grammar()
WORDS = sorted(
    {piece for phrase in GRAMMAR.phrases for piece in phrase.pieces}
    | set(read_lexicon().words)
    | GRAMMAR.numbers.all
    | GRAMMAR.numbers.parts.keys()
    | {"42,500", "3/8", "4", "-5", "0", "1e9", "forty-two", '"', "#", "zebra", "fourty"}
)
TALK = st.lists(st.sampled_from(WORDS), max_size=14).map(" ".join)
TEXT = st.text(max_size=300) | st.text(string.printable, max_size=120) | TALK


def begun(kit: Kit) -> Conversation:
    state = Conversation(gear=kit.sample_gear)
    for said in ("forty coil eye crosswise", "four chains two forward two rearward", "on four bunks", "a strap"):
        _, state = reply(said, state, kit=kit)
    return state


def is_whole(answer: Answer) -> bool:
    return bool(answer.say and answer.show and answer.show.endswith("\n"))


@given(text=TEXT)
@example(text="\x00\x07\x1b[31m forty coil \x1b[0m")
@example(text="\N{FAMILY}\u202e\ufeff")
@example(text="9" * 400)
@example(text="-" * 400)
@example(text="no " * 300)
@example(text="two " * 400)
@example(text="note")
@example(text="bulldozer pardon")
@example(text="1/0 chains 0/0 coil")
@example(text="\N{VULGAR FRACTION ONE THIRD}\N{SUPERSCRIPT TWO}\N{ARABIC-INDIC DIGIT FOUR} chains")
@settings(max_examples=200)
def test_any_text__gets_an_answer_and_never_an_exception(kit: Kit, text: str) -> None:
    before = begun(kit)
    answer, after = reply(text, before, kit=kit)
    assert is_whole(answer)
    assert answer.load == after.load
    if not answer.understood:
        assert after.load == before.load


@given(text=TALK)
@settings(max_examples=200)
def test_any_talk__on_an_empty_deck_gets_an_answer(kit: Kit, text: str) -> None:
    before = Conversation(gear=kit.sample_gear)
    answer, after = reply(text, before, kit=kit)
    assert is_whole(answer)
    if not answer.understood:
        assert after.load == Load()


@given(first=TALK, second=TALK)
@settings(max_examples=100)
def test_any_talk__can_follow_any_other(kit: Kit, first: str, second: str) -> None:
    _, state = reply(first, Conversation(gear=kit.sample_gear), kit=kit)
    answer, _ = reply(second, state, kit=kit)
    assert is_whole(answer)


@given(text=TEXT)
@settings(max_examples=100)
def test_any_text__is_an_answer_to_a_quiz_question_too(kit: Kit, text: str) -> None:
    _, state = reply("quiz me", begun(kit), kit=kit)
    answer, after = reply(text, state, kit=kit)
    assert is_whole(answer)
    assert after.load == state.load


def test_a_hundred_thousand_characters__are_refused_with_their_number(talk: Talk) -> None:
    answer, after = talk("forty coil " * 9_091)
    assert not answer.understood
    assert after.load == Load()
    assert "100,001 characters" in answer.show
    assert len(answer.heard) <= 80


@pytest.mark.parametrize("text", ["", "   ", "\n\n", "...", "\x00\x01\x02", "\u200b"])
def test_nothing_said__asks_for_something(talk: Talk, text: str) -> None:
    answer, after = talk(text)
    assert not answer.understood
    assert "I heard nothing" in answer.say
    assert after.load == Load()


@pytest.mark.parametrize("text", ["\x07forty\x00 five coil", "forty\tfive\r\ncoil", "\x1b[1mforty five\x1b[0m coil"])
def test_control_characters__are_never_shown(talk: Talk, text: str) -> None:
    answer, _ = talk(text)
    assert all(sign.isprintable() or sign == "\n" for sign in answer.show + answer.say)


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("900,000 lb coil", "900,000"),
        ("nine hundred thousand pound coil", "900,000"),
        ("ninety thousand pound coil", "90,000"),
        ("five hundred ton coil", "1,000,000"),
        ("0 lb coil", "0 pounds"),
        ("-5 lb coil", "-5"),
        ("-40,000 pound coil", "-40,000"),
        ("a crate 900,000 pounds", "900,000"),
        ("nine hundred ninety nine chains", "999"),
        ("41 chains", "41"),
        ("0 chains", "0"),
        ("-2 chains", "-2"),
        ("50 bunks", "50"),
        ("60 coils", "60"),
    ],
)
def test_absurd_number__is_said_back_and_not_taken(talk: Talk, said: str, heard: str) -> None:
    answer, after = talk(said)
    assert not answer.understood
    assert after.load == Load()
    if "hundred ninety" not in said:
        assert heard in answer.show


@pytest.mark.parametrize(
    "said",
    ["forty coil four chains on seven of", "coil 42,500 17", "four chains 9", "two coils 5 20,000 each", "coil 42 500",
     "four chains grade fifty", "four grade eight hundred chains", "coil is 72 inches od 8 wide",
     "forty coil 12 miles out", "fourty coil", "coil weighs thirtey thousand"],
)  # fmt: skip
def test_number_left_over__is_never_dropped(let_pass: Callable[[str], bool], said: str) -> None:
    assert not let_pass(said)


@pytest.mark.parametrize("word", ["not", "isn't", "never", "except", "unless", "or", "between", "only"])
def test_word_that_turns_the_sense__is_never_skipped(let_pass: Callable[[str], bool], word: str) -> None:
    assert not let_pass(f"forty thousand pound coil {word} four chains")


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("forty thousand pound coil four five inch chains", "marked"),
        ("forty thousand pound coil four seven eighths grade seventy chains", "marked"),
        ("forty thousand pound coil two five inch straps", "marked"),
    ],
)
def test_size_that_no_table_prints__asks_for_the_mark(talk: Talk, said: str, asked: str) -> None:
    """49 CFR 393.108 tables, read: none has a 5 in or 7/8 in grade 70 chain, nor a 5 in strap."""
    answer, _ = talk(said)
    assert answer.understood
    assert asked in answer.say


def test_missing_weight__is_asked(talk: Talk) -> None:
    answer, _ = talk("coil")
    assert answer.say.endswith("What does the coil weigh?")


def test_light_coil__is_asked_whether_thousands_were_meant(talk: Talk) -> None:
    _, state = talk("forty pound coil")
    assert state.load == Load()
    assert talk("yes", conversation=state)[1].load.coils[0].weight_lb == 40_000
    assert talk("no", conversation=state)[1].load == Load()


def test_unknown_words__are_told_beside_what_was_taken(talk: Talk) -> None:
    answer, after = talk("forty thousand pound coil zebra four chains")
    assert [coil.weight_lb for coil in after.load.coils] == [40_000]
    assert "zebra" in answer.say
    assert "zebra" in answer.show


def test_misspelled_name__is_shown_as_it_was_taken(talk: Talk) -> None:
    answer, _ = talk("forty coil crosswyse")
    assert "“crosswyse” is taken as “crosswise”." in answer.show


@pytest.mark.parametrize("said", ["scale", "claim", "stamp", "coal"])
def test_word_that_only_resembles_a_name__is_not_taken_for_it(talk: Talk, said: str) -> None:
    _, after = talk(f"forty thousand pound coil {said}")
    assert after.load.tiedowns == ()
    assert len(after.load.coils) == 1
