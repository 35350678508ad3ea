"""The rule sets that can be chosen, and the one function that judges by any of them."""

import datetime as dt
from enum import StrEnum

from assistant.load.model import GearList, Load
from assistant.securement.canada_nsc10 import judge_canada
from assistant.securement.en_12195_1 import judge_en
from assistant.securement.finding import Judgement
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables


class RuleSet(StrEnum):
    """Whose rules a load is judged by."""

    US = "US"
    CANADA = "Canada"
    EN_12195_1 = "EN 12195-1"


_JUDGES = {RuleSet.US: judge, RuleSet.CANADA: judge_canada, RuleSet.EN_12195_1: judge_en}
_NAMES = {
    RuleSet.US: "the federal rule of the United States, 49 CFR 393",
    RuleSet.CANADA: "the rules of Canada, NSC Standard 10, as far as it was read",
    RuleSet.EN_12195_1: "the method of EN 12195-1, from memory",
}


def judge_by(rules: RuleSet, load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Judgement:
    """Judge a load by one rule set; see the judge of each."""
    return _JUDGES[rules](load, tables=tables, gear=gear, on=on)


def in_words(rules: RuleSet) -> str:
    """Return a rule set's name to say and show."""
    return _NAMES[rules]
