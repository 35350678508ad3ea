"""Dictated notes: numbers as figures, other words as they were said; notes corrected and dropped."""

import pytest

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.phrase.dictation import with_figures
from assistant.reply import reply
from assistant.say.answer import CorrectNote, DropNote, KeepNote


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("weight on the ticket forty two thousand five hundred", "weight on the ticket 42,500"),
        ("three chains on the left one", "3 chains on the left one"),
        ("gate two hundred and five", "gate 205"),
        ("tore at three fifteen", "tore at 3 15"),
        ("truck fifty four hundred", "truck 5400"),
        ("one thousand pounds over", "1000 pounds over"),
        ("two point five inches of lip", "2.5 inches of lip"),
        ("ticket says thirty eight, not forty", "ticket says 38, not 40"),
        ("tarp is torn", "tarp is torn"),
        ("typed 42,500 and three", "typed 42,500 and 3"),
        ("thousand islands", "thousand islands"),
        ("", ""),
        ("one", "one"),
        ("twenty one", "21"),
    ],
)
def test_numbers_are_written_as_figures_and_words_stay(kit: Kit, said: str, written: str) -> None:
    assert with_figures(said, kit.understander.grammar.numbers) == written


def test_a_note_keeps_its_figures_and_what_was_heard(kit: Kit) -> None:
    answer, _ = reply("note ticket says forty two thousand", Conversation(), kit=kit)
    assert answer.effects == (KeepNote(text="ticket says 42,000", heard="ticket says forty two thousand"),)
    assert "42,000" in answer.show


@pytest.mark.parametrize("lead", ["change the note to", "change that note to", "correct the note to"])
def test_a_note_is_corrected(kit: Kit, lead: str) -> None:
    answer, _ = reply(f"{lead} the tarp is torn on the left", Conversation(), kit=kit)
    assert answer.intent == "note"
    assert answer.effects == (CorrectNote(text="the tarp is torn on the left", heard="the tarp is torn on the left"),)


def test_a_correction_without_words_changes_nothing(kit: Kit) -> None:
    answer, _ = reply("change the note to", Conversation(), kit=kit)
    assert not answer.understood
    assert answer.effects == ()


@pytest.mark.parametrize("said", ["drop that note", "delete the note", "scratch that note"])
def test_a_note_is_dropped_and_the_load_is_left(kit: Kit, said: str) -> None:
    _, before = reply("forty two thousand pound coil", Conversation(), kit=kit)
    answer, after = reply(said, before, kit=kit)
    assert answer.effects == (DropNote(),)
    assert after.load == before.load
