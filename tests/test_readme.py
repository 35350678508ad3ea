"""README's scenario is answered as it says, and each command it names exists."""

import datetime as dt
import re
from pathlib import Path

import pytest

from assistant.cli import _COMMANDS, main
from assistant.conversation import Conversation
from assistant.kit import read_kit
from assistant.reply import reply

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
KIT = read_kit(dt.date(2026, 11, 25))


def quoted() -> list[str]:
    blocks = re.findall(r"(?:^> .*\n)+", README, flags=re.MULTILINE)
    return [" ".join(line.removeprefix("> ") for line in block.splitlines()) for block in blocks]


def test_the_scenario_is_answered_as_it_stands() -> None:
    conversation, said = Conversation(gear=KIT.sample_gear), ""
    answered = 0
    for block in quoted():
        if block.startswith("**"):
            assert said == block.strip("*")
            answered += 1
            continue
        answer, conversation = reply(block, conversation, kit=KIT)
        said = answer.say
    assert answered >= 3


def test_sayings_in_the_table_are_understood() -> None:
    rows = re.findall(
        r"^\| ([^|]+) \| [^|]+ \|$", README.partition("| say | for |")[2].partition("## Commands")[0], re.MULTILINE
    )
    sayings = [saying for row in rows for saying in re.split(r"; ", row) if saying.strip("-")]
    assert len(sayings) > 20
    for saying in sayings:
        _, loaded = reply(
            "forty thousand pound coil crosswise four chains and a strap", Conversation(gear=KIT.sample_gear), kit=KIT
        )
        answer, _ = reply(saying, loaded, kit=KIT)
        assert answer.understood, saying


@pytest.mark.parametrize("command", [name for name in _COMMANDS if name != "chat"])
def test_every_command_is_described(command: str) -> None:
    assert f"`deckside {command}" in README


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    shown = capsys.readouterr().out
    assert all(name in shown for name in _COMMANDS)
