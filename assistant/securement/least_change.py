"""The least that mends what is short: proven least over the gear list, then with a spare beyond it."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from pydantic import Field

from assistant.load.model import GearList, Kind, Load, Noun
from assistant.securement.additions import Addition, added, kinds_owned, supports_to_add, tiedowns_to_add, words_of
from assistant.securement.clause import Useful, articles_on, found, told, usual_kind
from assistant.securement.finding import Finding, Judgement, Status, Step
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables

_MOST = 12
"""Pieces added at most: beyond that the load wants rethinking, not more gear (our choice)."""
_LOOKS = 24
"""Sets of the least size looked through for one that leaves nothing more to ask (our choice; the size is proven)."""
_ROUNDING_LB = 0.001
_BAD = {Status.SHORT, Status.STOP}
_SUM = frozenset({"aggregate", "path"})
_ALIKE = (_SUM, frozenset({"diagonal", "straight", "over", "front", "rear"}))
"""Topics that stand for one another: a sum that goes by a path; a lengthwise eye's options, of which one is shown."""

_Chosen = tuple[tuple[Addition, int], ...]


class Advice(Noun):
    """What to add at least, what with a spare, and what gear cannot mend.

    `additions` is empty where nothing is short, or where nothing on the gear list mends it (`possible` False).
    """

    additions: tuple[Addition, ...] = ()
    with_spare: tuple[Addition, ...] = ()
    possible: bool = True
    mends: tuple[str, ...] = ()
    to_answer: str = ""
    """What must still be answered, for gear mends no fact that was not told."""
    finding: Finding
    tried: int = Field(ge=0)
    """How many loads were judged to find it and to prove that nothing smaller will do."""


def least_change(load: Load, *, tables: Tables, gear: GearList, on: dt.date, most: int = _MOST) -> Advice:
    """Return the smallest set of additions that leaves nothing `short` and nothing stopped.

    Parameters
    ----------
    load
        The load as it is. One with no tiedown told is reckoned from none.
    tables
        The regulation tables.
    gear
        The driver's gear list: only its kinds are added, as it describes them.
    on
        The day whose values count.
    most
        How many pieces may be added.

    Notes
    -----
    What is short must come to meet: a set that only turns it into a question, because one of its tiedowns might do that
    too, mends nothing. So no finding may ask that did not ask before, unless it still asks with everything on.

    Least means fewest pieces (a crossed pair is two). One piece is tried before two, and so on. Sets are left out only
    where none of them can do, and `judge` itself says so: a part of the search whose sets all stay short with more of
    each role on than they could bring; and sets with too few of one role, where the load stays short with that few
    beside twelve of every other. Both rest on more gear never making a line short; what is asked may change with more
    gear, so that is looked at set by set. Kinds weaker than the strongest are not searched, since a stronger tiedown in
    a weaker one's place never worsens it either; the kind in use stands in where as many of it do.
    """
    before = judge(load, tables=tables, gear=gear, on=on)
    bad = [finding for finding in before.findings if finding.status in _BAD]
    from_none = not load.tiedowns and articles_on(load) > 0 and before.needed_lb is not None
    eyes_told = all(coil.eye for coil in load.coils)
    if not bad and not (from_none and eyes_told):
        return _nothing(before, tables, on, "Nothing is short.", before.asks[0] if before.asks else "")
    # From none, the sum asks for the tiedowns that are about to be added.
    asked = _asked(before) - (_SUM if from_none else set())
    kinds = kinds_owned(load, tables=tables, gear=gear, on=on)
    under = tuple(supports_to_add(load.support, findings=before.findings))
    roles = {kind: tiedowns_to_add(load, kind=kind, tables=tables, gear=gear, on=on) for kind in kinds}
    search = _Search(
        load=load,
        offered=(*under, *(roles[kinds[0]] if kinds else ())),
        tables=tables,
        gear=gear,
        on=on,
        lacking_lb=_lacking(before),
        may_ask=asked,
    )
    left = search.left_with_all(most)
    if left:
        return _not_mended(before, bad, left, search, most)
    search.find_least_of_each(most)
    for pieces in range(1, most + 1):
        chosen = search.best(pieces, asked=asked)
        if chosen:
            return _advice(_in_kind(chosen, roles, usual_kind(load.tiedowns), search), before, search)
    return _not_mended(before, bad, bad or before.findings[:1], search, most)


@dataclass(slots=True)
class _Search:
    """The search over sets of additions, with `judge` as the only one to say what a set mends."""

    load: Load
    offered: tuple[Addition, ...]
    tables: Tables
    gear: GearList
    on: dt.date
    lacking_lb: float
    may_ask: set[str]
    """Topics that may be left to answer."""
    judged: int = 0
    known: dict[_Chosen, Judgement] = field(default_factory=dict)
    least: dict[Addition, int] = field(default_factory=dict)
    """How many of each there must be whatever else is added."""

    def judge(self, chosen: _Chosen) -> Judgement:
        """Judge the load with these additions."""
        chosen = tuple((one, times) for one, times in chosen if times)
        if chosen not in self.known:
            self.judged += 1
            load = added(self.load, chosen)
            self.known[chosen] = judge(load, tables=self.tables, gear=self.gear, on=self.on)
        return self.known[chosen]

    def mends(self, chosen: _Chosen) -> bool:
        """Tell whether nothing is short, stopped or newly asked with these additions, and something holds the load."""
        after = self.judge(chosen)
        held = self.load.tiedowns or any(one.tiedown for one, times in chosen if times)
        bad = any(finding.status in _BAD for finding in after.findings)
        return bool(held) and not bad and _asked(after) <= self.may_ask

    def helps(self, chosen: _Chosen) -> bool:
        """Tell whether nothing is short or stopped with these additions, whatever is asked, and something holds it."""
        held = self.load.tiedowns or any(one.tiedown for one, times in chosen if times)
        return bool(held) and not any(finding.status in _BAD for finding in self.judge(chosen).findings)

    def left_with_all(self, pieces: int) -> list[Finding]:
        """Return what stays short or stopped with so many of everything on; what still asks then may be left to ask."""
        everything = tuple((one, pieces) for one in self.offered)
        self.may_ask = self.may_ask | _asked(self.judge(everything))
        if self.mends(everything):
            return []
        findings = self.judge(everything).findings
        return [finding for finding in findings if finding.status in _BAD] or list(findings[:1])

    def find_least_of_each(self, most: int) -> None:
        """Find how many of each candidate there must be whatever else is added."""
        for one in self.offered:
            others = tuple((other, most) for other in self.offered if other is not one)
            few, enough = 0, most
            while few < enough:
                middle = few if few == 0 and enough == most else (few + enough) // 2
                if self.helps((*others, (one, middle))):
                    enough = middle
                else:
                    few = middle + 1
            self.least[one] = enough

    def best(self, pieces: int, *, asked: set[str]) -> _Chosen:
        """Return a set of just so many pieces that mends the load, rather one that asks no more than before."""
        first: _Chosen = ()
        for number, chosen in enumerate(self._sets((), self.offered, pieces)):
            first = first or chosen
            after = self.judge(chosen)
            if _asked(after) <= asked:
                return chosen
            if number >= _LOOKS:
                break
        return first

    def _sets(self, fixed: _Chosen, rest: Sequence[Addition], left: int) -> Iterator[_Chosen]:
        """Yield the sets that mend the load with the fixed ones and `left` pieces of the rest."""
        spare = left - sum(self.least[one] * one.pieces for one in rest)
        if spare < 0 or self._lacks(fixed, rest, left):
            return
        # No set of this part has more of one candidate than its least and all that is to spare.
        most = {one: self.least[one] + spare // one.pieces for one in rest}
        if not self.helps((*fixed, *most.items())):
            return
        if not rest:
            if not left and self.mends(fixed):
                yield tuple((one, times) for one, times in fixed if times)
            return
        one, *others = rest
        for times in _in_turn(range(self.least[one], most[one] + 1), one, left, alike=len(rest)):
            yield from self._sets((*fixed, (one, times)), others, left - times * one.pieces)

    def _lacks(self, fixed: _Chosen, rest: Sequence[Addition], left: int) -> bool:
        """Tell whether the aggregate stays short whatever the pieces left are."""
        has = sum(one.counts_lb * times for one, times in fixed)
        each = max((one.counts_lb / one.pieces for one in rest), default=0.0)
        return has + left * each < self.lacking_lb - _ROUNDING_LB


def _in_turn(numbers: Sequence[int], one: Addition, left: int, *, alike: int) -> Sequence[int]:
    """Return the numbers of one candidate, likely ones first: tiedowns shared out evenly, the first ones ahead."""
    if one.tiedown is None:
        return numbers
    even = -(-left // (alike * one.pieces))
    return sorted(numbers, key=lambda times: abs(times - even))


def _in_kind(chosen: _Chosen, roles: dict[Kind, tuple[Addition, ...]], used: Kind, search: _Search) -> _Chosen:
    """Return the set in the kind that is in use, where that mends the load too."""
    kept = tuple((one, times) for one, times in chosen if not one.tiedown)
    times_of = {one.how: times for one, times in chosen if one.tiedown}
    other = (*kept, *((one, times_of[one.how]) for one in roles.get(used, ()) if one.how in times_of))
    return other if len(other) == len(chosen) and search.mends(other) else chosen


def _asked(judgement: Judgement) -> set[str]:
    """Return the topics that are asked, each with those that stand for it."""
    asked = {finding.topic for finding in judgement.findings if finding.status is Status.ASK}
    return asked.union(*(alike for alike in _ALIKE if asked & alike))


def _lacking(before: Judgement) -> float:
    """Return what the aggregate lacks for certain [lb]: a path that was not told is taken the better way."""
    if before.needed_lb is None or any(one.wll_lb is None for one in before.rated):
        return 0.0
    counts = sum(
        one.counts_lb if one.tiedown.path or one.tiedown.damaged else one.tiedown.count * (one.wll_lb or 0)
        for one in before.rated
    )
    return before.needed_lb - counts


def _advice(chosen: _Chosen, before: Judgement, search: _Search) -> Advice:
    additions = tuple(one for one, times in chosen for _ in range(times))
    after = search.judge(chosen)
    # One more may be taken for a part that the others played, so the spare is judged too.
    spares = (one for one, _ in chosen if one.tiedown)
    spare = next((one for one in spares if search.mends(_with_one_more(chosen, one))), None)
    with_spare = (*additions, spare) if spare else additions
    mends = tuple(dict.fromkeys(one.text for one in before.findings if one.status in _BAD))
    mends = mends or ("Nothing was told that holds it.",)
    pieces = sum(one.pieces for one in additions)
    beyond = f" With a spare: {words_of(with_spare)}." if spare else ""
    to_answer = after.asks[0] if after.asks else ""
    open_fact = f" Still to answer: {to_answer}" if to_answer else ""
    text = f"{pieces} to add at least, over the gear list. It mends: {mends[0]}{beyond}{open_fact}"
    steps = (
        told("loads judged", search.judged, formula="to find it, and to prove that nothing smaller will do"),
        *_reasons(chosen, search),
        told("left to answer", to_answer or "nothing"),
    )
    row = search.tables.value("aggregate_share", on=search.on)
    finding = found(
        row,
        Status.LOOK,
        text,
        topic="advice",
        remedy=f"Add {words_of(additions)}.{open_fact}",
        steps=steps,
        weight=Useful.DETAIL,
    )
    return Advice(
        additions=additions,
        with_spare=with_spare,
        mends=mends,
        to_answer=to_answer,
        finding=finding,
        tried=search.judged,
    )


def _with_one_more(chosen: _Chosen, spare: Addition) -> _Chosen:
    return tuple((one, times + (one is spare)) for one, times in chosen)


def _reasons(chosen: _Chosen, search: _Search) -> Iterator[Step]:
    """Yield for each addition what stays short without it."""
    for one, times in chosen:
        without = tuple((other, number - (other is one)) for other, number in chosen)
        bad = [finding.text for finding in search.judge(without).findings if finding.status in _BAD]
        what = words_of((one,) * times)
        yield told(what, bad[0] if bad else "nothing holds the load", formula="without one of these")


def _not_mended(
    before: Judgement, bad: Sequence[Finding], left: Sequence[Finding], search: _Search, most: int
) -> Advice:
    """Say what no gear mends, in the words of the load as it is."""
    same = next((one for one in bad if any((one.rule, one.topic) == (rest.rule, rest.topic) for rest in left)), None)
    why = same or left[0]
    if why.status is Status.STOP:
        text = f"Gear does not mend this: {why.text}"
    else:
        text = f"No {most} additions from the gear list mend this: {why.text}"
    advice = _nothing(before, search.tables, search.on, text, why.remedy, tried=search.judged)
    return advice.model_copy(update={"possible": False})


def _nothing(before: Judgement, tables: Tables, on: dt.date, text: str, remedy: str, *, tried: int = 0) -> Advice:
    row = tables.value("aggregate_share", on=on)
    verdict = told("verdict", str(before.verdict or "nothing judged"))
    finding = found(row, Status.LOOK, text, topic="advice", remedy=remedy, steps=(verdict,), weight=Useful.DETAIL)
    return Advice(finding=finding, to_answer=remedy if remedy.endswith("?") else "", tried=tried)


__all__ = ["Addition", "Advice", "least_change", "words_of"]
