"""What every test stands on: folders of its own and, where it listens, the speech model."""

import datetime as dt
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import hypothesis
import pytest

from assistant.conversation import Conversation
from assistant.edges.model_store import ready_model
from assistant.edges.problem import ModelMissing
from assistant.kit import Kit, read_kit
from assistant.phrase.grammar import Grammar, read_grammar
from assistant.reply import reply
from assistant.say.answer import Answer

Talk = Callable[..., tuple[Answer, Conversation]]

# The tests' own helpers are imported as tests.*. Last on the path, so that an installed Deckside is the one tested.
sys.path.append(str(Path(__file__).parents[1]))

# How long one example takes depends on the machine; nothing here is timed.
hypothesis.settings.register_profile("deckside", deadline=None)
hypothesis.settings.load_profile("deckside")


@pytest.fixture(scope="session", autouse=True)
def _own_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the tests away from the notebook and gear list of whoever runs them; the model's cache stays theirs."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("DECKSIDE_HOME", raising=False)
        for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME"):
            patch.setenv(name, str(tmp_path_factory.mktemp(name.lower())))
        yield


@pytest.fixture(scope="session")
def model_path(_own_folders: None) -> Path:
    """Return the speech model's folder, fetching it on the first run on a machine; fail where it cannot be had."""
    given = os.environ.get("DECKSIDE_MODEL")
    try:
        return ready_model(Path(given) if given else None)
    except ModelMissing as missing:
        pytest.fail(str(missing))


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
