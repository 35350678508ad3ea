"""Notes: however they are begun, and what was talked of last decides what is then corrected, dropped and read."""

import datetime as dt
import wave
from itertools import chain
from pathlib import Path

import pytest

from assistant.conversation import Conversation
from assistant.edges.notebook import Notebook, notebook_path
from assistant.edges.session import Session
from assistant.hear.doubt import Utterance
from assistant.kit import Kit, read_kit
from assistant.load.note import Topic
from assistant.reply import reply
from assistant.say.answer import Answer, CorrectNote, DropNote, KeepNote, ReadNote
from assistant.understand.notes import Does, read_note_talk

LOAD = "forty one thousand pound coil, eye crosswise, on timbers and three bunks"
SOUND = bytes(range(250)) * 64
KIT = read_kit(dt.date(2026, 11, 25))


def talk(*said: str) -> tuple[Answer, Conversation]:
    state = Conversation(gear=KIT.sample_gear)
    answer = None
    for utterance in said:
        answer, state = reply(utterance, state, kit=KIT)
    assert answer is not None
    return answer, state


def texts(state: Conversation) -> list[str]:
    return [note.text for note in state.notes.kept]


# ---- how a note begins -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "lead",
    [
        "note", "note:", "note that", "hey can you note down", "jot down", "write down that", "log", "remember that",
        "remember", "remind me that", "put in the log", "add to my notes", "add to the log that", "make a note saying",
        "i'd like to leave a note", "let me take a quick note", "write in the notebook", "okay new note",
        "for the record",
        "one more note", "i need a note saying", "note to self:", "make a note to myself", "stick this in the log",
    ],
)  # fmt: skip
def test_note__begins_in_many_ways_and_takes_what_follows_as_it_is(lead: str) -> None:
    answer, state = talk(LOAD, f"{lead} winch five spins free, Bay B gate is bent")
    assert (answer.intent, answer.understood) == ("note", True)
    assert texts(state) == ["winch 5 spins free, Bay B gate is bent"]


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("note for the shop: mudflap gone", "for the shop: mudflap gone"),
        ("i want to leave a note for the next driver, fifth wheel is dry", "for the next driver: fifth wheel is dry"),
        ("take a note for dispatch dock opens at six", "for dispatch: dock opens at 6"),
        ("remind me to grease the winches", "grease the winches"),
        ("make a note to look at the tarp", "look at the tarp"),
        ("note this coil came in wet", "this coil came in wet"),
        ("remember i need three more", "i need 3 more"),
        ("note the tarp is torn end note", "the tarp is torn"),
    ],
)
def test_note__says_for_whom_it_is_and_loses_none_of_its_words(said: str, text: str) -> None:
    assert texts(talk(said)[1]) == [text]


@pytest.mark.parametrize(
    "said",
    [
        "no the shipper said forty", "put down two straps", "write two straps", "two chains noted", "add two chains",
        "take off the strap", "put it on the trailer", "leave the chains", "drop two chains", "drop the last one",
        "read that back", "scratch that", "take them all off",
    ],
)  # fmt: skip
def test_load_talk__is_no_note(said: str) -> None:
    _, state = talk("four chains and a strap", said)
    assert texts(state) == []
    assert state.topic is Topic.LOAD


@pytest.mark.parametrize(
    "text", ["six chains and two straps", "the coil weighs nine thousand", "start over", "four bunks", "drop that note"]
)
def test_text_of_a_note__never_changes_the_load(text: str) -> None:
    before = talk(LOAD)[1].load
    answer, state = talk(LOAD, f"note {text}")
    assert state.load == answer.load == before
    assert len(texts(state)) == 1


def test_every_listed_order_about_notes__is_heard() -> None:
    note_talk = read_note_talk()
    does = {
        "note": {Does.NOTE, Does.NOTE_THE_LAST}, "correct_note": {Does.REPLACE}, "drop_note": {Does.DROP},
        "read_note": {Does.READ, Does.READ_ALL}, "show_log": {Does.LIST, Does.READ_ALL},
    }  # fmt: skip
    phrases = KIT.understander.grammar.phrases
    missed = []
    for phrase in phrases:
        act = note_talk.hear(" ".join(phrase.pieces))
        if phrase.fragment in does:
            missed += [phrase.pieces] if act is None or act.does not in does[phrase.fragment] or act.text else []
        elif act is not None:
            missed.append(phrase.pieces)
    assert missed == []


# ---- a note in several breaths ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("begin", ["take a note", "start a note", "note", "write this down", "i want to make a note"])
@pytest.mark.parametrize("end", ["end note", "that's it", "end of note", "okay I'm done"])
def test_dictation__goes_on_until_it_is_ended_and_says_how_long_it_is(begin: str, end: str) -> None:
    waiting, _ = talk(LOAD, begin)
    assert (waiting.intent, waiting.understood) == ("note", True)
    assert not any(isinstance(effect, KeepNote) for effect in waiting.effects)
    answer, state = talk(LOAD, begin, "two chains were short", "and the yard took four straps", end)
    assert answer.say == "Noted, ten words."
    assert texts(state) == ["2 chains were short. and the yard took 4 straps"]
    assert state.load == talk(LOAD)[1].load


def test_dictation__is_kept_breath_by_breath() -> None:
    first, _ = talk("take a note", "gate shuts at noon")
    assert first.effects == (KeepNote(text="gate shuts at noon", heard="gate shuts at noon"),)
    second, _ = talk("take a note", "gate shuts at noon", "bring the blue paper")
    (effect,) = second.effects
    assert isinstance(effect, CorrectNote)
    assert effect.text == "gate shuts at noon. bring the blue paper"


@pytest.mark.parametrize("order", ["quiz me", "start over", "read it back"])
def test_another_order__ends_a_dictation(order: str) -> None:
    answer, state = talk("take a note", "the ramp is icy", order)
    assert not state.notes.dictating
    assert texts(state) == ["the ramp is icy"]
    assert answer.intent != "note"


def test_scratch_that__in_a_dictation_drops_the_last_breath() -> None:
    _, state = talk("take a note", "the ramp is icy", "bay nine", "scratch that", "bay six", "end note")
    assert texts(state) == ["the ramp is icy. bay 6"]


@pytest.mark.parametrize("said", ["never mind", "cancel", "end note"])
def test_dictation_without_a_word__keeps_nothing(said: str) -> None:
    answer, state = talk("take a note", said)
    assert texts(state) == []
    assert answer.understood


def test_write_that_down__notes_what_was_said_before() -> None:
    assert texts(talk("the left strap looks rough to me", "write that down")[1]) == ["the left strap looks rough to me"]


# ---- what was talked of last -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    ["scratch that", "delete it", "forget that", "strike that", "drop it", "undo that", "take that back", "undo"],
)
def test_after_a_note__the_note_is_dropped_and_the_load_stays(said: str) -> None:
    answer, state = talk(LOAD, "note the mats are wet", said)
    assert answer.effects == (DropNote(),)
    assert texts(state) == []
    assert "crossed out" in answer.say
    assert state.load == talk(LOAD)[1].load


def test_once_dropped__it_says_so_before_the_load_is_touched() -> None:
    answer, state = talk(LOAD, "note the mats are wet", "scratch that", "scratch that")
    assert state.load.coils
    assert "once more" in answer.say
    assert talk(LOAD, "note the mats are wet", "scratch that", "scratch that", "scratch that")[1].load.coils == ()


def test_after_the_load_is_told_again__it_is_the_load() -> None:
    answer, state = talk(LOAD, "note the mats are wet", "two chains forward", "scratch that")
    assert answer.intent == "undo"
    assert state.load.tiedowns == ()
    assert texts(state) == ["the mats are wet"]


@pytest.mark.parametrize(
    ("note", "said", "text"),
    [
        ("scale read sixty eight two hundred", "no wait sixty nine two hundred", "scale read 69,200"),
        ("chain five is grade forty three", "no make that grade seventy", "chain 5 is grade 70"),
        ("binder two slipped at mile ninety", "change it to mile ninety five", "binder 2 slipped at mile 95"),
        ("bent stake on the left", "no the right", "bent stake on the right"),
        ("gate code is seventeen", "i mean seventy", "gate code is 70"),
        ("gate code is seventeen", "now edit it, seventy", "gate code is 70"),
        ("gate code is seventeen", "no make that four four one eight", "gate code is 4 4 1 8"),
        ("closed on monday.", "actually tuesday", "closed on tuesday."),
        ("tarp is torn", "correction it is only scuffed", "tarp is torn. Correction: it is only scuffed"),
        ("tarp is torn", "change the note to the tarp is fine", "the tarp is fine"),
        ("tarp is torn", "add to that the bungees are gone", "tarp is torn. the bungees are gone"),
    ],
)
def test_after_a_note__the_note_is_corrected(note: str, said: str, text: str) -> None:
    answer, state = talk(LOAD, f"note {note}", said)
    assert texts(state) == [text]
    assert answer.intent == "note"
    assert any(isinstance(effect, CorrectNote) for effect in answer.effects)
    assert state.load == talk(LOAD)[1].load


def test_correction_that_tells_of_the_load__is_the_loads() -> None:
    _, state = talk(LOAD, "note guard was asleep", "make that four bunks")
    assert texts(state) == ["guard was asleep"]
    assert state.load.support.bunks == 4


@pytest.mark.parametrize("number", ["seventy nine four hundred", "forty", "38,000"])
def test_bare_number_after_a_note__makes_no_coil(number: str) -> None:
    answer, state = talk("note scale is shut", number)
    assert state.load.coils == ()
    assert not answer.understood
    changed = talk(LOAD, "note scale is shut", number)[1]
    assert changed.load == talk(LOAD)[1].load


# ---- notes are read, found and dropped -------------------------------------------------------------------------------

THREE = ("note ramp is icy", "note lost a blue strap at bay six", "note receiver shuts at four")


@pytest.mark.parametrize(
    ("said", "spoken"),
    [
        ("read it back", "Your last note: receiver shuts at four."),
        ("read that again", "Your last note: receiver shuts at four."),
        ("play the note", "Your last note: receiver shuts at four."),
        ("what did i say about the strap", "Note two: lost a blue strap at bay six."),
        ("find the note about the ramp", "Note one: ramp is icy."),
        ("read the second note", "Note two: lost a blue strap at bay six."),
        ("read note one", "Note one: ramp is icy."),
        ("read me my notes", "Note one: ramp is icy. Note two: lost a blue strap at bay six. Note three: receiver"),
        ("list my notes", "Note one: ramp is icy. Note two:"),
        ("did i note anything about the moon", "No note says anything about moon."),
        ("read note seven", "There is no note seven: there are three."),
        ("send that to dispatch", "Nothing is sent anywhere"),
        ("did you get that", "Yes, it is in the log: receiver shuts at four."),
    ],
)
def test_notes__are_read(said: str, spoken: str) -> None:
    answer, state = talk(*THREE, said)
    assert answer.say.startswith(spoken)
    assert answer.understood
    assert len(texts(state)) == 3


def test_what_did_i_say__of_what_no_note_tells_is_about_the_load() -> None:
    assert (
        talk(LOAD, "what did i say about the coil")[0].intent == talk(LOAD, "what did i say")[0].intent != "read note"
    )


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("drop the second note", [0, 2]),
        ("drop the second one", [0, 2]),
        ("delete note one", [1, 2]),
        ("delete the note about the strap", [0, 2]),
        ("drop that note", [0, 1]),
        ("drop note nine", [0, 1, 2]),
    ],
)
def test_one_of_several_notes__is_dropped(said: str, left: list[int]) -> None:
    whole = texts(talk(*THREE)[1])
    answer, state = talk(*THREE, said)
    assert texts(state) == [whole[place] for place in left]
    if len(left) == 3:
        assert answer.effects == (ReadNote(),)


def test_all_notes__are_dropped_only_after_a_yes() -> None:
    asked, state = talk(*THREE, "clear all my notes")
    assert len(texts(state)) == 3
    assert "?" in asked.say
    assert len(texts(talk(*THREE, "clear all my notes", "no")[1])) == 3
    assert len(texts(talk(*THREE, "clear all my notes", "four chains", "yes")[1])) == 3
    assert "nothing is dropped" in talk(*THREE, "clear all my notes", "are you sure you did it")[0].say
    done, after = talk(*THREE, "clear all my notes", "yes")
    assert done.effects == (DropNote(places=(0, 1, 2)),)
    assert texts(after) == []


def test_notes_in_a_quiz__leave_its_question_open() -> None:
    answer, state = talk("quiz me", "note ask the boss about this one", "read it back")
    assert answer.say == "Your last note: ask the boss about this one."
    assert state.quiz
    assert state.quiz.right == ()


@pytest.mark.parametrize("said", ["no wait five", "scratch that", "i mean six"])
def test_correction_in_a_quiz__answers_no_other_question(said: str) -> None:
    before = talk("quiz me", "four")[1]
    answer, state = talk("quiz me", "four", said)
    assert state.quiz == before.quiz
    assert answer.say.startswith("That answer is marked already.")


def test_bare_number_after_a_quiz__makes_no_coil() -> None:
    assert talk("quiz me", "stop the quiz", "forty two thousand")[1].load.coils == ()


# ---- with a notebook -------------------------------------------------------------------------------------------------


@pytest.fixture
def kit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Kit:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))
    return KIT


def test_notebook__keeps_what_is_dropped_crossed_out(kit: Kit) -> None:
    session = Session(kit)
    for said in (*THREE, "drop the second note", "clear all my notes", "yes"):
        session.take(said)
    with Notebook() as book:
        assert book.notes() == []
        kinds = [entry.kind for entry in book.entries()]
    assert sorted(kinds) == ["dropped"] * 3 + ["note"] * 3


def test_notes_of_an_earlier_sitting__count_and_are_numbered_with_todays(kit: Kit) -> None:
    first = Session(kit, lasting=True)
    for said in THREE:
        first.take(said)
    second = Session(kit, lasting=True)
    assert second.take("drop the second note").say.startswith("Dropped the note: lost a blue strap")
    second.take("note fuel is low")
    assert "Note three: fuel is low." in second.take("read me my notes").say
    second.take("drop note nine")
    with Notebook() as book:
        assert [note.text for note in book.notes()] == ["ramp is icy", "receiver shuts at 4", "fuel is low"]


def test_corrected_note__keeps_its_number(kit: Kit) -> None:
    session = Session(kit)
    for said in (*THREE, "read the second note", "no wait bay nine"):
        session.take(said)
    with Notebook() as book:
        assert [note.text for note in book.notes()][1] == "lost a blue strap at bay 9"
    assert session.take("read the second note").say == "Note two: lost a blue strap at bay nine."


def test_dictation__is_one_note_in_the_notebook(kit: Kit) -> None:
    Session(kit).take("note an old one")
    session = Session(kit)
    said = ("take a note", "we waited an hour", "nobody signed", "end note")
    answers = [session.take(utterance) for utterance in said]
    assert answers[-1].say == "Noted, six words."
    with Notebook() as book:
        assert [note.text for note in book.notes()] == ["an old one", "we waited an hour. nobody signed"]


def test_dictated_note__keeps_the_sound_of_each_breath(kit: Kit) -> None:
    session = Session(kit, keep_sound=True)
    for text in ("take a note", "we waited an hour", "nobody signed"):
        session.take(Utterance(text, None, (), audio=SOUND))
    (kept,) = (notebook_path().parent / "notes").iterdir()
    with wave.open(str(kept), "rb") as file:
        assert file.readframes(file.getnframes()) == SOUND * 2


def test_effects__come_back_from_json_as_they_were() -> None:
    for said in chain([("note x",)], [("note x", order) for order in ("scratch that", "read it", "list my notes")]):
        answer, _ = talk(*said)
        assert Answer.model_validate_json(answer.model_dump_json()).effects == answer.effects
