"""What of the properties of talk does not hold yet is marked so."""

from pathlib import Path

import pytest

from tests.marking import mark_not_yet
from tests.talk.not_yet import NOT_YET, NOW_AND_THEN


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what does not hold yet."""
    mark_not_yet(items, Path(__file__).parent, NOT_YET, strict=True)
    mark_not_yet(items, Path(__file__).parent, NOW_AND_THEN, strict=False)
