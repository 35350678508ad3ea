"""What may be added to a load: the gear list's tiedowns in each role that the clauses know, and what coils rest on."""

import datetime as dt
from collections import Counter
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from assistant.load.model import Eye, GearList, Kind, Load, Noun, Path, Place, Pull, Support, Through, Tiedown
from assistant.securement.clause import number_of
from assistant.securement.finding import Finding, Status
from assistant.securement.rating import rate
from assistant.securement.table_reader import Tables
from assistant.securement.wording import counted

_PAIR = 2
_CROSSED = "crossed"
_OVER: dict[str, object] = {"through": Through.TOP, "pulls": Pull.OVER}
_EYE: dict[str, object] = {"through": Through.EYE}
_FORWARD: dict[str, object] = {"pulls": Pull.FORWARD}
_REARWARD: dict[str, object] = {"pulls": Pull.REARWARD}
_CROSSWISE = (
    ("through the eye against forward movement", {**_EYE, **_FORWARD}),
    ("through the eye against rearward movement", {**_EYE, **_REARWARD}),
    ("over the top", _OVER),
)
_VERTICAL = (
    ("straight over the eye", _OVER),
    ("against forward movement", _FORWARD),
    ("against rearward movement", _REARWARD),
    ("crossed over the eye", {"through": Through.TOP, _CROSSED: True}),
)
_LENGTHWISE = (
    ("over the top at the front", {**_OVER, "place": Place.FRONT}),
    ("over the top at the rear", {**_OVER, "place": Place.REAR}),
    ("over the top", {**_OVER, "place": Place.MIDDLE}),
)
# Beside a coil with another eye direction it would have to be asked whose eye these go through.
_LENGTHWISE_ALONE = (
    ("crossed through the eye", {**_EYE, _CROSSED: True}),
    ("straight through the eye and back to its own side", {**_EYE, "path": Path.SAME_SIDE}),
)
_OVER_IT = (("over it to the other side", _OVER),)


class Addition(Noun):
    """One thing to add: a tiedown, a crossed pair, or something under the coil; `name` and `how` put it into words."""

    tiedown: Tiedown | None = None
    under: str = ""
    """The field of `Support` that it adds to, where it is no tiedown."""
    name: str
    how: str = ""
    pieces: int = 1
    counts_lb: float = 0
    """What it adds to the aggregate [lb]."""


def kinds_owned(load: Load, *, tables: Tables, gear: GearList, on: dt.date) -> tuple[Kind, ...]:
    """Return the kinds that can be added, strongest first; a kind without a known limit is none of them.

    Notes
    -----
    Each kind of the gear list, as the list describes it; without a gear list the kinds already on, else chains.
    """
    kinds = [item.kind for item in gear.items] or list(dict.fromkeys(one.kind for one in load.tiedowns))
    limits = {kind: rate(Tiedown(kind=kind), tables=tables, gear=gear, on=on).wll_lb for kind in kinds or [Kind.CHAIN]}
    known = [kind for kind, limit in limits.items() if limit is not None]
    return tuple(sorted(known, key=lambda kind: -(limits[kind] or 0)))


def tiedowns_to_add(load: Load, *, kind: Kind, tables: Tables, gear: GearList, on: dt.date) -> tuple[Addition, ...]:
    """Return one tiedown of a kind in each role that the load's clauses know.

    Notes
    -----
    Two crossed tiedowns make a pair and are added as one, unless a single one on the load lacks its other diagonal.
    """
    odd = number_of([one for one in load.tiedowns if one.crossed]) % _PAIR
    offered: dict[Tiedown, Addition] = {}
    for how, facts in _roles(load):
        pieces = _PAIR if facts.get(_CROSSED) and not odd else 1
        tiedown = Tiedown.model_validate({"kind": kind, "path": Path.ACROSS, "count": pieces, **facts})
        counts_lb = rate(tiedown, tables=tables, gear=gear, on=on).counts_lb
        # Two directions may share a role: what goes over an upright coil goes over a crate as well.
        offered.setdefault(
            tiedown, Addition(tiedown=tiedown, name=str(kind), how=how, pieces=pieces, counts_lb=counts_lb)
        )
    return tuple(offered.values())


def added(load: Load, chosen: Sequence[tuple[Addition, int]]) -> Load:
    """Return the load with so many of each addition on it."""
    tiedowns = tuple(
        one.tiedown.model_copy(update={"count": one.tiedown.count * times}) for one, times in chosen if one.tiedown
    )
    support: dict[str, object] = {
        one.under: True if one.under == "mats" else (getattr(load.support, one.under) or 0) + times
        for one, times in chosen
        if one.under
    }
    return load.model_copy(
        update={
            "tiedowns": (*load.tiedowns, *tiedowns),
            "support": Support.model_validate({**load.support.model_dump(), **support}),
        }
    )


def words_of(chosen: Sequence[Addition]) -> str:
    """Return additions after "Add": "two chains through the eye against forward movement and one bunk"."""
    numbers: Counter[tuple[str, str]] = Counter()
    for one in chosen:
        numbers[one.name, one.how] += one.pieces
    parts = [f"{counted(number, name)} {how}".strip() for (name, how), number in numbers.items()]
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def supports_to_add(support: Support, *, findings: Sequence[Finding]) -> Iterator[Addition]:
    """Yield what the findings show to be lacking under the coils; no more of what was not told, for that is asked."""
    lacking = {one.topic for one in findings if one.status in {Status.SHORT, Status.STOP}}
    rests = (support.timbers or 0) + (support.wedges or 0)
    if support.bunks is not None and lacking & {"bunks", "rolling", "bunk rating"}:
        yield Addition(name="bunk", under="bunks")
    if "rolling" in lacking and not support.cradle and rests < _PAIR:
        wedge = bool(support.wedges and not support.timbers)
        yield Addition(name="wedge" if wedge else "timber", under="wedges" if wedge else "timbers")
    if "movement" in lacking and not support.mats:
        yield Addition(name="set", how="of friction mats", under="mats")


def _roles(load: Load) -> Iterator[tuple[str, dict[str, object]]]:
    eyes = {coil.eye for coil in load.coils}
    for how, facts in _roles_of(eyes, goods=bool(load.articles)):
        # Beside a coil with its eye lengthwise, a tiedown over something else must not leave open which end it lies on:
        # what is short would turn into a question, and that mends nothing.
        unplaced = Eye.LENGTHWISE in eyes and facts.get("through") is Through.TOP and not facts.get(_CROSSED)
        yield how, {"place": Place.MIDDLE, **facts} if unplaced else facts


def _roles_of(eyes: AbstractSet[Eye | None], *, goods: bool) -> Iterator[tuple[str, dict[str, object]]]:
    if Eye.CROSSWISE in eyes:
        yield from _CROSSWISE
    if Eye.VERTICAL in eyes:
        yield from _VERTICAL
    if Eye.LENGTHWISE in eyes:
        yield from _LENGTHWISE
        if len(eyes) == 1:
            yield from _LENGTHWISE_ALONE
    if goods or not eyes - {None}:
        yield from _OVER_IT
