"""The command line: what it prints, its exit codes, and bad input in words."""

import json
import os
import subprocess
import sys
import wave
from pathlib import Path
from typing import Any

import pytest

from assistant.cli import main

CLIPS = Path(__file__).parents[2] / "audio_fixtures"
# Names and order as promised to whoever reads the answers by machine.
FIELDS = [
    "heard",
    "verdict",
    "needed_lb",
    "counted_lb",
    "margin_lb",
    "load",
    "findings",
    "open",
    "assumed",
    "asks",
    "say",
    "show",
]
TIEDOWN = {"kind", "count", "size_in", "grade", "marked_lb", "wll_lb", "basis", "path", "pulls", "counts_lb"}


def answers(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, list[dict[str, Any]]]:
    code = main([*arguments, "--json"])
    return code, [json.loads(line) for line in capsys.readouterr().out.splitlines()]


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))


def test_ask__has_the_promised_fields_in_order(capsys: pytest.CaptureFixture[str]) -> None:
    code, (answer,) = answers(capsys, "ask", "forty thousand pound coil, four chains and a strap")
    assert code == 0
    assert list(answer)[: len(FIELDS)] == FIELDS
    assert answer["load"].keys() >= {"coils", "articles", "tiedowns", "support", "seen"}
    assert answer["load"]["tiedowns"][0].keys() >= TIEDOWN
    assert answer["findings"][0].keys() >= {"rule", "status", "need", "have", "unit", "text"}


def test_ask__a_coil_with_four_chains_and_a_strap_is_amply_over_half(capsys: pytest.CaptureFixture[str]) -> None:
    # Common practice, no source: four 3/8 in grade 70 chains and a 5,400 lb strap on a 40,000 lb coil. The limits are
    # those of 49 CFR 393.108 (read) and of the sample strap's mark; 4 x 6,600 + 5,400 = 31,800; half is 20,000.
    _, (answer,) = answers(capsys, "ask", "forty thousand pound coil, four chains and a strap")
    assert (answer["needed_lb"], answer["counted_lb"], answer["margin_lb"]) == (20_000, 31_800, 11_800)
    chains, strap = answer["load"]["tiedowns"]
    assert {chains["basis"], strap["basis"]} == {"sample gear"}
    # Gear that nobody described is the gear list's: size, grade and mark.
    assert (chains["size_in"], chains["grade"], chains["marked_lb"], chains["wll_lb"]) == (0.375, "70", None, 6_600)
    assert (strap["size_in"], strap["marked_lb"], strap["wll_lb"]) == (4, 5_400, 5_400)
    assert any("sample gear" in line.lower() for line in answer["assumed"])


def test_ask__utterances_go_on_in_one_conversation(capsys: pytest.CaptureFixture[str]) -> None:
    _, (first, second) = answers(capsys, "ask", "forty two five coil", "eyes crosswise")
    assert first["load"]["coils"][0]["eye"] is None
    assert second["load"]["coils"][0] == {"count": 1, "weight_lb": 42_500, "eye": "crosswise", "metal": None}


def test_ask__a_dash_reads_lines(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", iter(["twenty ton coil\n", "four chains\n"]))
    _, (_, second) = answers(capsys, "ask", "-")
    assert second["load"]["coils"][0]["weight_lb"] == 40_000
    assert second["load"]["tiedowns"][0]["count"] == 4


def test_ask__each_conversation_is_fresh(capsys: pytest.CaptureFixture[str]) -> None:
    answers(capsys, "ask", "forty two five coil")
    _, (answer,) = answers(capsys, "ask", "read that back")
    assert answer["load"]["coils"] == []


@pytest.mark.parametrize(
    "words",
    ["colorless green ideas", "", "900,000 lb coil", "-5 lb coil", "0 chains", "x" * 100_000, "\x00\x07\x1b[31m"],
)
def test_ask__nothing_understood_is_one_clear_answer_and_exit_code_1(
    capsys: pytest.CaptureFixture[str], words: str
) -> None:
    code, (before, answer) = answers(capsys, "ask", "forty two five coil", words)
    assert code == 1
    assert answer["verdict"] is None
    assert answer["load"]["coils"] == before["load"]["coils"]
    assert answer["say"]
    assert answer["show"]
    assert len(answer["heard"]) <= 200


def test_ask__shows_the_answer_to_people(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", "forty two five coil"]) == 0
    shown = capsys.readouterr().out
    assert "need 21,250 lb" in shown
    assert "Says: " in shown


def test_gear_spoken_once_holds_for_the_next_conversation(capsys: pytest.CaptureFixture[str]) -> None:
    answers(capsys, "ask", "my chains are half inch grade seventy")
    _, (answer,) = answers(capsys, "ask", "forty thousand pound coil two chains")
    # 49 CFR 393.108, chain table, 1/2 in grade 70 transport: 11,300 lb (read).
    assert answer["load"]["tiedowns"][0]["wll_lb"] == 11_300
    assert answer["load"]["tiedowns"][0]["basis"] == "gear list"


def test_a_note_is_kept_and_listed_and_exported(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", "note the shipper's scale is down"]) == 0
    capsys.readouterr()
    assert main(["log"]) == 0
    assert "the shipper's scale is down" in capsys.readouterr().out
    assert main(["log", "--format", "json"]) == 0
    assert "the shipper's scale is down" in json.loads(capsys.readouterr().out)[0]["text"]
    assert main(["ask", "read my note", "--json"]) == 0
    assert "shipper" in json.loads(capsys.readouterr().out)["say"]


def test_log__before_the_first_note_says_nothing_wrong(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["log"]) == 0
    assert "Traceback" not in capsys.readouterr().err


def test_an_unknown_option_is_refused_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["ask"])
    assert stopped.value.code == 2
    assert "usage" in capsys.readouterr().err


@pytest.mark.model
def test_hear__answers_a_clip_like_its_words(
    capsys: pytest.CaptureFixture[str], model_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DECKSIDE_MODEL", str(model_path))
    code, (answer,) = answers(capsys, "hear", str(CLIPS / "demo.wav"))
    assert code == 0
    assert list(answer)[: len(FIELDS)] == FIELDS
    assert answer["confidence"] > 0.5
    assert answer["confirm"] == []
    assert answer["load"]["coils"][0] == {"count": 1, "weight_lb": 42_500, "eye": "crosswise", "metal": None}
    # 4 x 6,600 lb (49 CFR 393.108, read) against half of 42,500 lb.
    assert (answer["needed_lb"], answer["counted_lb"]) == (21_250, 26_400)


@pytest.mark.model
def test_hear__goes_on_in_one_conversation(
    capsys: pytest.CaptureFixture[str], model_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DECKSIDE_MODEL", str(model_path))
    clips = [str(CLIPS / "demo.wav"), str(next(CLIPS.glob("heart_18_*.flac")))]
    _, (_, answer) = answers(capsys, "hear", *clips)
    assert answer["intent"] == "read back"
    assert answer["load"]["support"]["bunks"] == 3


@pytest.mark.model
@pytest.mark.parametrize("sort", ["missing", "empty", "text", "silent", "cut short"])
def test_hear__a_bad_file_is_one_sentence_and_exit_code_2(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, model_path: Path, monkeypatch: pytest.MonkeyPatch, sort: str
) -> None:
    monkeypatch.setenv("DECKSIDE_MODEL", str(model_path))
    file = tmp_path / "said.wav"
    if sort == "text":
        file.write_text("forty two five", encoding="utf-8")
    elif sort == "silent":
        with wave.open(str(file), "wb") as sound:
            sound.setparams((1, 2, 16_000, 0, "NONE", ""))
            sound.writeframes(bytes(32_000))
    elif sort == "cut short":
        file.write_bytes((CLIPS / "demo.wav").read_bytes()[:50_000])
    elif sort == "empty":
        file.touch()
    assert main(["hear", str(file)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.count("\n") == 1
    assert str(file) in printed.err


def test_hear__a_model_that_is_none_is_said_in_words(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("DECKSIDE_MODEL", raising=False)
    assert main(["hear", str(CLIPS / "demo.wav"), "--model", str(tmp_path / "nothing")]) == 2
    assert "holds no speech model" in capsys.readouterr().err


@pytest.mark.model
def test_quiz__by_lines_asks_five_and_scores(model_path: Path, tmp_path: Path) -> None:
    environment = {**os.environ, "DECKSIDE_MODEL": str(model_path), "DECKSIDE_HOME": str(tmp_path)}
    done = subprocess.run(
        [sys.executable, "-m", "assistant.cli", "quiz", "--mode", "type", "--voice", "silent"],
        input="pass\n" * 5 + "good bye\n",
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    assert "Number 5" in done.stdout
    assert "of five" in done.stdout
    assert "Traceback" not in done.stderr


def test_chat__by_lines_keeps_the_conversation_for_the_next_sitting(tmp_path: Path) -> None:
    environment = {**os.environ, "DECKSIDE_HOME": str(tmp_path)}
    command = [sys.executable, "-m", "assistant.cli", "chat", "--mode", "type", "--voice", "silent"]

    def sit(said: str) -> str:
        done = subprocess.run(  # noqa: S603 - our own command
            command, input=said, env=environment, capture_output=True, text=True, check=True, timeout=60
        )
        return done.stdout

    sit("forty two five coil eyes crosswise\n")
    second = sit("read that back\n")
    assert "Going on with the load from last time" in second
    assert "42,500 lb, eye crosswise" in second
    assert "start over" in second


def test_phrases__lists_all_that_can_be_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["phrases"]) == 0
    shown = capsys.readouterr().out
    assert "QUESTIONS" in shown
    assert "am i good to go" in shown


def test_phrases__writes_a_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = tmp_path / "phrases.html"
    assert main(["phrases", "--html", str(place)]) == 0
    assert str(place) in capsys.readouterr().out
    assert place.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_phrases__that_cannot_be_written_say_why(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = tmp_path / "missing" / "phrases.html"
    assert main(["phrases", "--html", str(place)]) == 2
    assert "cannot be written" in capsys.readouterr().err


@pytest.mark.parametrize("option", ["--wake", "--tone", "--no-barge-in"])
@pytest.mark.parametrize("mode", ["hold", "type"])
def test_chat__refuses_what_only_hands_free_listening_has(
    option: str, mode: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["chat", "--voice", "silent", "--mode", mode, option]) == 2
    assert "hands-free" in capsys.readouterr().err
