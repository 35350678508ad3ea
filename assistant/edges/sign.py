"""What stays in sight: the sign of what it is doing, and the closing lines of an answer."""

import shutil
import textwrap
from enum import StrEnum

from prompt_toolkit.formatted_text import StyleAndTextTuples

from assistant.say.answer import Answer
from assistant.securement.finding import Status

_WIDEST = 100
"""Columns of the closing lines: longer ones are hard to read from two metres."""


class State(StrEnum):
    """What it is doing."""

    LISTENING = "listening"
    WAITING = "hold to talk"
    THINKING = "thinking"
    SPEAKING = "speaking"
    ASLEEP = "asleep"
    TYPING = "type"


_HINTS = {
    State.WAITING: "hold the space bar and talk",
    State.SPEAKING: "Escape silences it",
    State.TYPING: "Enter to ask",
}
_SIGNS = {
    State.LISTENING: "bg:ansigreen fg:ansiblack",
    State.WAITING: "bg:ansiwhite fg:ansiblack",
    State.THINKING: "bg:ansiyellow fg:ansiblack",
    State.SPEAKING: "bg:ansicyan fg:ansiblack",
    State.ASLEEP: "bg:ansibrightblack fg:ansiwhite",
    State.TYPING: "bg:ansiwhite fg:ansiblack",
}
"""A color each, told apart from further off than letters are."""


def sign(state: State, partly: str, columns: int, *, hint: str = "") -> StyleAndTextTuples:
    """Return three lines for the foot of the screen: the state in wide capitals on a field of its color, and more.

    Parameters
    ----------
    state
        What it is doing.
    partly
        The words heard so far; the latest stay in sight.
    columns
        Width of the screen.
    hint
        What the driver can do now, in place of the usual.
    """
    word = "  " + " ".join(state.value.upper()) + "  "
    more = partly or hint or _HINTS.get(state, "")
    room = max(0, columns - len(word) - 2)
    more = more if len(more) <= room else more[len(more) - room :]
    field = f"noreverse bold {_SIGNS[state]}"
    blank = " " * len(word)
    return [(field, blank), ("", "\n"), (field, word), ("", f"  {more}\n"), (field, blank)]


_COLORS = {Status.STOP: 41, Status.SHORT: 43, Status.ASK: 46, Status.OUTSIDE: 45, Status.MEETS: 42}


def closing(answer: Answer, *, in_color: bool) -> str:
    """Return what stays in sight at the foot of a long answer: the verdict and what is being said."""
    verdict = answer.judgement.verdict if answer.judgement else None
    said = textwrap.fill(answer.say, min(shutil.get_terminal_size().columns, _WIDEST) - 1)
    if verdict is None:
        return said
    word = f" {verdict.value.upper()} "
    return f"\033[1;30;{_COLORS[verdict]}m{word}\033[0m\n{said}" if in_color else f"{word.strip()}\n{said}"
