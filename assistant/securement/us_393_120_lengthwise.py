"""49 CFR 393.120(d): coils with eyes lengthwise."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.load.model import Path, Place, Row, Tiedown
from assistant.securement.clause import Need, check_needs, usual_kind
from assistant.securement.coil_claims import Scheme
from assistant.securement.coil_group import UNTOLD, Checked, CoilGroup, is_over, is_transverse, roles
from assistant.securement.coil_support import check_movement_along, check_rolling_support, support_assumed
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables

_BOTH = ("forward", "rearward")
_FORWARD = ("forward",)
_DIAGONAL = "diagonally through the eye, one on each diagonal"
_STRAIGHT = "straight through the eye, one on each side"
_OVER = "over the top from side to side"
_FRONT = "over the top near the front of the"
_REAR = "over the top near the rear of the"
_ASK_EYE = "Do those through the eye run on the diagonal, or straight back to the same side?"
_ASK_DIAGONALS = "Do those through the eye run on the diagonal, one each way?"
_ASK_PLACE = "Does one lie over the front of the coil and one over the rear?"
_ASK_COURSE = "How do they run: through the eye, or over the front and the rear of the coil?"
_ASSUMED_EACH = "No row was told: each coil is taken to be secured by itself."
_ASSUMED_ROW = "The coils of the row are taken to have about the same outside diameter."
# To the other side through a lengthwise eye is on a diagonal, but on which of the two only "crossed" tells. "Direct"
# says no more than that it is no tiedown over the top.
_THROUGH_EYE = {Path.SAME_SIDE: "straight", Path.ACROSS: "eye across", Path.DIRECT: "eye", None: "eye"}
_PLACES = ("over", Place.MIDDLE.value, Place.FRONT.value, Place.REAR.value)
_SEVERITY = {Status.MEETS: 0, Status.ASK: 1, Status.SHORT: 2}


@dataclass(frozen=True, slots=True)
class _Option:
    """One way to meet the rule, with what it says of this load."""

    findings: tuple[Finding, ...]
    lacking: int
    takes: dict[str, int]

    @property
    def rank(self) -> tuple[int, int, int]:
        """Lowest for the option that is met with fewest tiedowns, or nearest to it."""
        worst = max(_SEVERITY[finding.status] for finding in self.findings)
        return worst, self.lacking, sum(self.takes.values())


def role_of(tiedown: Tiedown) -> str:
    """Return what a tiedown does for a coil with its eye lengthwise."""
    if is_over(tiedown):
        if not is_transverse(tiedown):
            return "side"
        return "over" if tiedown.place is None else str(tiedown.place)
    if tiedown.through is None:
        # Crossed or pulling forward, it may pass the eye or not: an X over the top is no diagonal through the eye.
        return UNTOLD
    if tiedown.crossed:
        return "side" if tiedown.path is Path.SAME_SIDE else "diagonal"
    return _THROUGH_EYE[tiedown.path]


def schemes(*, group: CoilGroup, tables: Tables, on: dt.date) -> tuple[Scheme, ...]:
    """Return what the coils ask of tiedowns: the three options of a coil by itself, or what a transverse row needs.

    References
    ----------
    49 CFR 393.120(d)(1) to (d)(4).
    """

    def least(clause: str) -> int:
        return int(tables.value("coil_tiedowns", on=on, clause=f"lengthwise {clause}").number)

    if _in_row(group):
        return ({("front",): least("row front"), ("rear",): least("row rear")},)
    number = group.number
    by_eye = (
        {(name,): least(name) * number, _PLACES: least(f"{name} over") * number} for name in ("diagonal", "straight")
    )
    return (*by_eye, {("front",): least("front") * number, ("rear",): least("rear") * number})


def check_lengthwise(*, group: CoilGroup, tables: Tables, on: dt.date) -> Checked:
    """Judge coils with eyes lengthwise: rolling, and the option that is met or nearest.

    References
    ----------
    49 CFR 393.120(d)(1) to (d)(4).
    """
    in_row = _in_row(group)
    clause = "lengthwise row rolling" if in_row else "lengthwise rolling"
    findings = check_rolling_support(
        clause=tables.value("coil_clause", on=on, clause=clause),
        support=group.support,
        number=group.lying,
        tables=tables,
        on=on,
    )
    assumed = support_assumed(support=group.support, number=group.lying)
    if in_row:
        option = check_row(group=group, tables=tables, on=on)
        assumed = (*assumed, _ASSUMED_ROW)
    else:
        check = (check_option_1, check_option_2, check_option_3)
        option = min((one(group=group, tables=tables, on=on) for one in check), key=lambda option: option.rank)
        if group.number > 1:
            assumed = (*assumed, _ASSUMED_EACH)
    return Checked((*findings, *option.findings), assumed, option.takes)


def _in_row(group: CoilGroup) -> bool:
    return group.row is Row.TRANSVERSE and group.number > 1


def check_option_1(*, group: CoilGroup, tables: Tables, on: dt.date) -> _Option:
    """Judge option 1: one tiedown on each diagonal through the eye, one over the top.

    References
    ----------
    49 CFR 393.120(d)(1)(ii) to (v).
    """
    have = roles(group.tiedowns, role_of)
    return _through_eye(group, "diagonal", have["diagonal"], _DIAGONAL, tables, on)


def check_option_2(*, group: CoilGroup, tables: Tables, on: dt.date) -> _Option:
    """Judge option 2: one tiedown straight through the eye on each side, one over the top.

    References
    ----------
    49 CFR 393.120(d)(2)(ii) to (v).
    """
    have = roles(group.tiedowns, role_of)
    return _through_eye(group, "straight", have["straight"], _STRAIGHT, tables, on)


def check_option_3(*, group: CoilGroup, tables: Tables, on: dt.date) -> _Option:
    """Judge option 3: one tiedown over the top near the front, one near the rear.

    References
    ----------
    49 CFR 393.120(d)(3)(ii) to (iv).
    """
    return _front_and_rear(group, "", "lengthwise over longitudinal", group.number, _FORWARD, tables, on)


def check_row(*, group: CoilGroup, tables: Tables, on: dt.date) -> _Option:
    """Judge a transverse row: one tiedown over the top of the row near its front, one near its rear.

    References
    ----------
    49 CFR 393.120(d)(4)(ii) to (iv).
    """
    return _front_and_rear(group, "row ", "lengthwise row longitudinal", 1, _BOTH, tables, on)


def _through_eye(group: CoilGroup, name: str, through: int, role: str, tables: Tables, on: dt.date) -> _Option:
    have = roles(group.tiedowns, role_of)
    over = sum(have[place] for place in _PLACES)
    eye = Need(
        row=tables.value("coil_tiedowns", on=on, clause=f"lengthwise {name}"),
        times=group.number,
        have=through,
        role=role,
        topic=name,
    )
    top = Need(
        row=tables.value("coil_tiedowns", on=on, clause=f"lengthwise {name} over"),
        times=group.number,
        have=over,
        role=_OVER,
        topic="over",
    )
    # A tiedown through the eye whose course was not told can fill the need at the eye, never the one over the top.
    open_course = have["eye"] + (have["eye across"] if name == "diagonal" else 0)
    by_eye = min(eye.lacking, open_course)
    question = (_ASK_EYE if have["eye"] else _ASK_DIAGONALS) if by_eye else _ASK_COURSE
    findings: list[Finding] = []
    if group.tiedowns:
        kind = usual_kind(group.tiedowns)
        findings += check_needs([eye], untold=by_eye + have[UNTOLD], question=question, kind=kind)
        free = max(0, have[UNTOLD] - (eye.lacking - by_eye))
        findings += check_needs([top], untold=free, question=_ASK_COURSE, kind=kind)
    findings.append(_along(group, f"lengthwise {name} longitudinal", _BOTH, have, tables, on))
    return _Option(tuple(findings), eye.lacking + top.lacking, {name: eye.least, **_take_over(top.least, have)})


def _take_over(number: int, have: Counter[str]) -> dict[str, int]:
    """Return which tiedowns over the top are used up, those of no told place first."""
    takes = {}
    for place in _PLACES:
        takes[place] = min(number, have[place])
        number -= takes[place]
    return takes


def _front_and_rear(  # noqa: PLR0913, PLR0917 - option 3 and rows differ in just these
    group: CoilGroup, row: str, along: str, times: int, directions: Sequence[str], tables: Tables, on: dt.date
) -> _Option:
    have = roles(group.tiedowns, role_of)
    whose = "row" if row else "coil"
    needs = [
        Need(
            row=tables.value("coil_tiedowns", on=on, clause=f"lengthwise {row}{place}"),
            times=times,
            have=have[place],
            role=role,
            topic=place,
        )
        for place, role in ((str(Place.FRONT), f"{_FRONT} {whose}"), (str(Place.REAR), f"{_REAR} {whose}"))
    ]
    findings: list[Finding] = []
    if group.tiedowns:
        question = _ASK_PLACE if have["over"] else _ASK_COURSE
        untold = have["over"] + have[UNTOLD]
        findings += check_needs(needs, untold=untold, question=question, kind=usual_kind(group.tiedowns))
    findings.append(_along(group, along, directions, have, tables, on))
    return _Option(tuple(findings), sum(need.lacking for need in needs), {need.topic: need.least for need in needs})


def _along(
    group: CoilGroup, clause: str, directions: Sequence[str], have: Counter[str], tables: Tables, on: dt.date
) -> Finding:
    return check_movement_along(
        clause=tables.value("coil_clause", on=on, clause=clause),
        support=group.support,
        directions=directions,
        number=group.number,
        held=None,
        untold=have[UNTOLD],
    )
