"""The terminal by lines: answers, notices, faults in words, the end. Threads and keys are tried at a real screen."""

import datetime as dt
import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.edges.session import Session
from assistant.edges.sign import closing
from assistant.edges.terminal import Terminal, Ways
from assistant.edges.voice import Silent, Voice
from assistant.hear.doubt import Utterance
from assistant.kit import Kit, read_kit
from assistant.say.answer import Answer

Sit = Callable[..., str]


@pytest.fixture(scope="module")
def kit() -> Kit:
    return read_kit(dt.date(2026, 11, 25))


@pytest.fixture
def sit(kit: Kit, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Sit:
    """Sit down, say lines, and return what was shown."""
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))

    def run(said: str, *, first: str = "", session: Session | None = None, voice: Voice | None = None) -> str:
        monkeypatch.setattr(sys, "stdin", io.StringIO(said))
        Terminal(session or Session(kit), voice or Silent(), None, Ways()).run(first)
        return capsys.readouterr().out

    return run


def test_without_an_ear_it_takes_typed_lines(sit: Sit) -> None:
    shown = sit("forty two five coil\n\nfour chains\n")
    assert "Type what is on the deck" in shown
    assert "need 21,250 lb" in shown
    # Four 3/8 in grade 70 chains: 4 x 6,600 lb (49 CFR 393.108, read).
    assert "have 26,400 lb" in shown


def test_what_is_said_first_is_answered_first(sit: Sit) -> None:
    assert "Five questions" in sit("", first="quiz me")


def test_good_bye_ends_it_and_later_lines_are_not_waited_for(sit: Sit) -> None:
    assert "Good bye" in sit("good bye\n")


def test_the_verdict_and_the_spoken_words_stand_at_the_foot(sit: Sit) -> None:
    foot = sit("forty two five coil on two bunks and timbers crosswise\n").strip().splitlines()[-3:]
    assert any(line == "SHORT" for line in foot)


def test_notices_of_the_session_are_shown(sit: Sit, kit: Kit) -> None:
    session = Session(kit)
    session.notices.append("The notebook cannot be used.")
    assert "The notebook cannot be used." in sit("", session=session)


def test_a_fault_of_ours_is_said_in_words_and_the_sitting_goes_on(sit: Sit, kit: Kit) -> None:
    class Failing(Session):
        def take(self, said: Utterance | str) -> Answer:
            """Fail on one line."""
            if said == "boom":
                message = "boom"
                raise RuntimeError(message)
            return super().take(said)

    shown = sit("boom\nforty two five coil\n", session=Failing(kit))
    assert "Deckside failed on this (RuntimeError: boom)" in shown
    assert "need 21,250 lb" in shown


def test_the_closing_lines_carry_color_only_on_a_screen(
    kit: Kit, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path))
    answer = Session(kit).take("forty two five coil")
    assert "\033" in closing(answer, in_color=True)
    assert "\033" not in closing(answer, in_color=False)
    assert closing(answer, in_color=False).startswith("ASK\n")


def test_slower_and_faster_last_for_the_sitting_and_say_where_they_end(sit: Sit) -> None:
    voice = Silent()
    assert "Slower." in sit("slower\nforty two five coil\nslow down\n", voice=voice)
    # Two steps of 1.2.
    assert voice.speed == pytest.approx(1 / 1.44)
    sit("normal speed\n", voice=voice)
    assert voice.speed == 1.0
    assert "I cannot speak faster than this." in sit("faster\n" * 5, voice=voice)
    assert voice.speed <= 2.0


def test_told_to_sleep_without_a_wake_phrase_it_says_that_it_does_not(sit: Sit) -> None:
    assert "I go on listening" in sit("go to sleep\n")


def test_slower_leaves_the_answer_to_be_said_again(sit: Sit) -> None:
    shown = sit("forty two five coil\nslower\nsay again\n")
    assert shown.count("need 21,250 lb") == 2
