"""What tests of understanding stand on beside the kit: a load that meets, and what is not understood yet."""

from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.conversation import Conversation
from assistant.securement.finding import Status
from tests.conftest import Talk
from tests.marking import mark_not_yet
from tests.phrases.not_yet import NOT_YET

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


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is not understood yet."""
    mark_not_yet(items, Path(__file__).parent, NOT_YET, strict=True)
