"""The least that turns every `short` into `meets`: proven least over the gear list, then with a spare beyond it."""

import datetime as dt
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement

from pydantic import Field

from assistant.load.model import Eye, GearList, Kind, Load, Noun, Path, Place, Pull, Support, Through, Tiedown
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.rating import rate
from assistant.securement.table_reader import Tables
from assistant.securement.wording import counted

_MOST = 6
"""Additions tried together at most: beyond that the load wants rethinking, not more gear (our choice)."""
_PAIR = 2


class Addition(Noun):
    """One thing to add: a tiedown, a crossed pair, or a bunk; `name` and `how` put it into words."""

    tiedown: Tiedown | None = None
    name: str
    how: str = ""
    pieces: int = 1


class Advice(Noun):
    """What to add at least, what with a spare, and what gear cannot mend.

    `additions` is empty where nothing is short, or where no set of up to six additions mends it (`possible` False).
    """

    additions: tuple[Addition, ...] = ()
    with_spare: tuple[Addition, ...] = ()
    possible: bool = True
    mends: tuple[str, ...] = ()
    finding: Finding
    tried: int = Field(ge=0)
    """How many sets were judged: all smaller ones, and those of the same size up to the one found."""


def least_change(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> Advice:
    """Return the smallest set of additions that leaves nothing `short`.

    Parameters
    ----------
    load
        The load as it is.
    tables
        The regulation tables.
    gear
        The driver's gear list: only its kinds are added, as it describes them.
    on
        The day whose values count.

    Notes
    -----
    Least means fewest pieces (a crossed pair is two). All sets of one piece are judged by `judge` itself before any of
    two, and so on, so no smaller set over these candidates mends the load. One bound skips sets that cannot: the
    aggregate's shortfall, divided by the most that one candidate can count, is a number of pieces below which the sum
    of 393.106(d) stays short whatever they are.
    """
    before = judge(load, tables=tables, gear=gear, on=on)
    short = [finding for finding in before.findings if finding.status is Status.SHORT]
    stops = [finding for finding in before.findings if finding.status is Status.STOP]
    if stops:
        return _nothing(before, tables, on, f"Gear does not mend this: {stops[0].text}", stops[0].remedy)
    if not short:
        question = before.asks[0] if before.asks else ""
        return _nothing(before, tables, on, "Nothing is short.", question)
    candidates = _candidates(load, gear, short)
    fewest = _fewest(before, candidates, tables, gear, on)
    tried = 0
    for pieces in range(fewest, _MOST + 1):
        for chosen in _sets(candidates, pieces):
            tried += 1
            after = judge(_with(load, chosen), tables=tables, gear=gear, on=on)
            if not {finding.status for finding in after.findings} & {Status.SHORT, Status.STOP}:
                return _advice(chosen, short, after, tables, on, tried)
    text = f"No {_MOST} additions from the gear list mend this: {short[0].text}"
    return _nothing(before, tables, on, text, short[0].remedy, tried=tried).model_copy(update={"possible": False})


def _candidates(load: Load, gear: GearList, short: Sequence[Finding]) -> list[Addition]:
    """Return what may be added: each kind of the gear list in each role that the eye's direction knows, and a bunk."""
    kinds = [item.kind for item in gear.items] or sorted({tiedown.kind for tiedown in load.tiedowns}) or [Kind.CHAIN]
    eyes = {coil.eye for coil in load.coils}
    eye = next(iter(eyes)) if len(eyes) == 1 else None
    bunk = [Addition(name="bunk")] if any(finding.topic == "bunks" for finding in short) else []
    return [*(addition for kind in kinds for addition in _roles(kind, eye)), *bunk]


def _roles(kind: Kind, eye: Eye | None) -> list[Addition]:
    over: dict[str, object] = {"through": Through.TOP, "pulls": Pull.OVER}
    forward, rearward = {"pulls": Pull.FORWARD}, {"pulls": Pull.REARWARD}
    through = {"through": Through.EYE}
    crossed: dict[str, object] = {"crossed": True, "count": _PAIR}
    roles: list[tuple[str, dict[str, object]]]
    match eye:
        case Eye.CROSSWISE:
            roles = [
                ("through the eye against forward movement", {**through, **forward}),
                ("through the eye against rearward movement", {**through, **rearward}),
                ("over the top", over),
            ]
        case Eye.VERTICAL:
            roles = [
                ("straight over the eye", over),
                ("against forward movement", {**forward}),
                ("against rearward movement", {**rearward}),
                ("crossed over the eye", {**crossed, "through": Through.TOP}),
            ]
        case Eye.LENGTHWISE:
            roles = [
                ("over the top at the front", {**over, "place": Place.FRONT}),
                ("over the top at the rear", {**over, "place": Place.REAR}),
                ("over the top", {**over, "place": Place.MIDDLE}),
                ("crossed through the eye", {**crossed, **through}),
            ]
        case _:
            roles = [("over it to the other side", over)]
    return [_addition(kind, how, facts) for how, facts in roles]


def _addition(kind: Kind, how: str, facts: dict[str, object]) -> Addition:
    tiedown = Tiedown.model_validate({"kind": kind, "path": Path.ACROSS, **facts})
    return Addition(tiedown=tiedown, name=str(kind), how=how, pieces=tiedown.count)


def _sets(candidates: Sequence[Addition], pieces: int) -> Iterator[tuple[Addition, ...]]:
    """Yield every multiset of candidates of so many pieces."""
    for number in range(1, pieces + 1):
        for chosen in combinations_with_replacement(candidates, number):
            if sum(addition.pieces for addition in chosen) == pieces:
                yield chosen


def _fewest(before: Judgement, candidates: Sequence[Addition], tables: Tables, gear: GearList, on: dt.date) -> int:
    """Return a number of pieces below which the aggregate stays short whatever they are."""
    if before.needed_lb is None or before.counted_lb is None or before.counted_lb >= before.needed_lb:
        return 1
    each = [
        rate(one.tiedown.model_copy(update={"count": 1}), tables=tables, gear=gear, on=on).counts_lb
        for one in candidates
        if one.tiedown
    ]
    most = max(each, default=0.0)
    if most <= 0:
        return 1
    return max(1, -int(-(before.needed_lb - before.counted_lb) // most))


def _with(load: Load, chosen: Sequence[Addition]) -> Load:
    tiedowns = tuple(one.tiedown for one in chosen if one.tiedown)
    bunks = sum(one.tiedown is None for one in chosen)
    support = load.support
    if bunks:
        support = Support.model_validate({**support.model_dump(), "bunks": (support.bunks or 0) + bunks})
    return load.model_copy(update={"tiedowns": (*load.tiedowns, *tiedowns), "support": support})


def words_of(chosen: Sequence[Addition]) -> str:
    """Return additions after "Add": "two chains through the eye against forward movement and one bunk"."""
    numbers: Counter[tuple[str, str]] = Counter()
    for one in chosen:
        numbers[one.name, one.how] += one.pieces
    parts = [f"{counted(number, name)} {how}".strip() for (name, how), number in numbers.items()]
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _advice(
    chosen: tuple[Addition, ...], short: Sequence[Finding], after: Judgement, tables: Tables, on: dt.date, tried: int
) -> Advice:
    spare = next((one for one in chosen if one.tiedown), None)
    with_spare = (*chosen, spare) if spare else chosen
    row = tables.value("aggregate_share", on=on)
    mends = tuple(dict.fromkeys(finding.text for finding in short))
    pieces = sum(one.pieces for one in chosen)
    beyond = f" With a spare: {words_of(with_spare)}." if spare else ""
    text = f"{pieces} to add at least, over the gear list. It mends: {mends[0]}{beyond}"
    steps = (
        told("sets judged", tried, formula="all smaller ones, and those of this size up to the first that mends it"),
        *(told("mends", sentence) for sentence in mends),
        told("left to answer", after.asks[0] if after.asks else "nothing"),
    )
    remedy = f"Add {words_of(chosen)}."
    finding = found(row, Status.LOOK, text, topic="advice", remedy=remedy, steps=steps, weight=Useful.DETAIL)
    return Advice(additions=chosen, with_spare=with_spare, mends=mends, finding=finding, tried=tried)


def _nothing(before: Judgement, tables: Tables, on: dt.date, text: str, remedy: str, *, tried: int = 0) -> Advice:
    row = tables.value("aggregate_share", on=on)
    verdict = told("verdict", str(before.verdict or "nothing judged"))
    finding = found(row, Status.LOOK, text, topic="advice", remedy=remedy, steps=(verdict,), weight=Useful.DETAIL)
    return Advice(finding=finding, tried=tried)
