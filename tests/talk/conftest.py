"""The kit that every test of understanding talks to, and the shortest ways to say things to it."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.conversation import Conversation
from assistant.kit import Kit, read_kit
from assistant.phrase.grammar import Grammar, read_grammar
from assistant.reply import reply
from assistant.say.answer import Answer
from tests.talk.not_yet import NOT_YET, NOW_AND_THEN

Talk = Callable[..., tuple[Answer, Conversation]]


@pytest.fixture(scope="session")
def kit() -> Kit:
    return read_kit(dt.date(2026, 11, 25))


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    return read_grammar()


@pytest.fixture
def talk(kit: Kit) -> Talk:
    """Say one thing after another in a fresh conversation; return the last answer and the conversation after it."""

    def say(*utterances: str, conversation: Conversation | None = None) -> tuple[Answer, Conversation]:
        state = conversation or Conversation(gear=kit.sample_gear)
        answer = None
        for utterance in utterances:
            answer, state = reply(utterance, state, kit=kit)
        assert answer is not None
        return answer, state

    return say


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what does not hold yet."""
    for item in items:
        if Path(__file__).parent not in item.path.parents:
            continue
        for reason, names in (NOT_YET | NOW_AND_THEN).items():
            if any(name in item.name for name in names):
                item.add_marker(pytest.mark.xfail(reason=reason, strict=reason in NOT_YET))
