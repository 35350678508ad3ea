"""Open items: what was said and could not be taken or placed. While one stands, nothing is met."""

from enum import StrEnum

from assistant.load.model import Noun


class Why(StrEnum):
    """Why something said was not taken."""

    UNKNOWN_WORD = "unknown word"
    NOT_PLACED = "not placed"
    DENIED = "denied"
    NOT_NOW = "not now"
    NOT_YET = "not yet"
    ELSEWHERE = "elsewhere"
    CLASH = "clash"
    CUT_OFF = "cut off"
    UNSETTLED = "unsettled"


class OpenItem(Noun):
    """One thing said that is neither taken nor has a role.

    `said` are its words, `word` the one that nobody knows, `about` what sort of noun it was told of ("kind", "coil",
    "counted"): told anew of that, it is said in other words.
    """

    said: str
    why: Why
    word: str = ""
    about: str = ""
