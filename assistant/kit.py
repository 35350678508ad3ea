"""What `reply` works with: the grammar, the tables and the day. Read once by an edge, never changed."""

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

from assistant.load.model import GearList, Load
from assistant.phrase.grammar import read_grammar
from assistant.securement.finding import Judgement
from assistant.securement.rule_sets import RuleSet, judge_by
from assistant.securement.table_reader import Tables, read_sample_gear, read_tables
from assistant.understand.notes import NoteTalk, read_note_talk
from assistant.understand.understander import Understander


@dataclass(frozen=True)
class Kit:
    """The fixed parts of every reply. `on` is the day whose rules apply."""

    understander: Understander
    tables: Tables
    on: dt.date

    def judge(self, load: Load, gear: GearList, rules: RuleSet = RuleSet.US) -> Judgement:
        """Return the judgement on a load by the rules of the day."""
        return judge_by(rules, load, tables=self.tables, gear=gear, on=self.on)

    @cached_property
    def note_talk(self) -> NoteTalk:
        """How people begin notes, and speak of them."""
        return read_note_talk()

    @cached_property
    def sample_gear(self) -> GearList:
        """The gear list of a fresh install."""
        return read_sample_gear()


def read_kit(on: dt.date) -> Kit:
    """Read grammar and tables from the package's own files."""
    return Kit(understander=Understander(read_grammar()), tables=read_tables(), on=on)
