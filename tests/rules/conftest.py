"""What the rule tests share: the tables, an empty gear list, the sample gear list and a day."""

import datetime as dt

import pytest

from assistant.load.model import GearList
from assistant.securement.table_reader import Tables, read_sample_gear, read_tables


@pytest.fixture(scope="session")
def tables() -> Tables:
    return read_tables()


@pytest.fixture(scope="session")
def sample() -> GearList:
    return read_sample_gear()


@pytest.fixture(scope="session")
def no_gear() -> GearList:
    return GearList()


@pytest.fixture(scope="session")
def on() -> dt.date:
    return dt.date(2026, 3, 1)
