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
from assistant.securement.finding import Status
from tests.phrases.not_yet import NOT_YET

Talk = Callable[..., tuple[Answer, Conversation]]


@pytest.fixture(scope="session")
def kit() -> Kit:
    return read_kit(dt.date(2026, 11, 25))


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    return read_grammar()


MEETS = (
    "forty thousand pound coil eye crosswise on timbers in four bunks on mats",
    "four three eighths grade seventy chains through the eye two forward and two rearward",
    "two four inch straps marked fifty four hundred over the top",
)
"""A load that meets: half of 40,000 lb is 20,000; 4 x 6,600 + 2 x 5,400 = 37,200 (393.106(d), 393.108, 393.120(c))."""


@pytest.fixture
def met(talk: Talk) -> Conversation:
    """Give a conversation whose load meets."""
    answer, state = talk(*MEETS)
    assert answer.judgement
    assert answer.judgement.verdict is Status.MEETS
    return state


@pytest.fixture
def let_pass(talk: Talk, met: Conversation) -> Callable[[str], bool]:
    """Say something beside a load that meets; return whether it is passed over: the load as it was, and still met."""

    def passed(said: str) -> bool:
        _, state = talk(said, conversation=met)
        answer, _ = talk("is it legal", conversation=state)
        assert answer.judgement
        return answer.judgement.verdict is Status.MEETS and state.load == met.load

    return passed


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
    """Mark what is not understood yet."""
    for item in items:
        if Path(__file__).parent not in item.path.parents:
            continue
        for reason, names in NOT_YET.items():
            if any(name in item.name for name in names):
                item.add_marker(pytest.mark.xfail(reason=reason, strict=True))
