"""The speech model for tests that decode."""

import pytest
import vosk

from assistant.edges.model_store import find_model
from assistant.edges.problem import ModelMissing


@pytest.fixture(scope="session")
def model() -> vosk.Model:
    """Return the speech model; skip where it is not on this machine."""
    try:
        folder = find_model()
    except ModelMissing as missing:
        pytest.skip(str(missing))
    vosk.SetLogLevel(-1)
    return vosk.Model(str(folder))
