"""What every test stands on: folders of its own and, where it listens, the speech model."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import hypothesis
import pytest

from assistant.edges.model_store import ready_model
from assistant.edges.problem import ModelMissing

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
