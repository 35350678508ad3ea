"""49 CFR 393.120(b): coils with eyes vertical."""

import datetime as dt

from assistant.load.model import Path, Pull, Row, Tiedown
from assistant.securement.clause import Need, check_needs, found, usual_kind
from assistant.securement.coil_claims import Scheme
from assistant.securement.coil_group import UNTOLD, Checked, CoilGroup, is_over, is_transverse, roles
from assistant.securement.coil_support import check_movement_along
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables

_BOTH = ("forward", "rearward")
_ASSUMED_EACH = "No row was told: each coil is taken to be secured by itself."
_ASSUMED_ROW = "The coils are taken to stand in one row."
_QUESTION = "Do two cross over the eye on the diagonals, and does one go straight over it?"
_ROW_QUESTION = "How many keep the row from moving forward, how many from moving back, how many go over the top?"


def role_of(tiedown: Tiedown) -> str:
    """Return what a tiedown does for a coil with its eye vertical."""
    if tiedown.crossed:
        return "side" if tiedown.path is Path.SAME_SIDE else "diagonal"
    if is_over(tiedown):
        return "over" if is_transverse(tiedown) else "side"
    if tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}:
        return str(tiedown.pulls)
    return UNTOLD if tiedown.pulls is None else "side"


def schemes(*, group: CoilGroup, tables: Tables, on: dt.date) -> tuple[Scheme, ...]:
    """Return what the coils ask of tiedowns, each coil by itself or as a row.

    Notes
    -----
    One coil needs tiedowns against forward and rearward movement only where neither mats nor blocking hold it.

    References
    ----------
    49 CFR 393.120(b)(1), (b)(2).
    """

    def least(clause: str) -> int:
        return int(tables.value("coil_tiedowns", on=on, clause=f"vertical {clause}").number)

    if _in_row(group):
        over = least("row over") * (1 if group.row is Row.TRANSVERSE else group.number)
        return ({("forward",): least("row front"), ("rearward",): least("row rear"), ("over",): over},)
    alone: Scheme = {("diagonal",): least("diagonal") * group.number, ("over",): least("over") * group.number}
    return ({**alone, **{(way,): group.number for way in _untied(group)}},)


def check_vertical(*, group: CoilGroup, tables: Tables, on: dt.date) -> Checked:
    """Judge coils with eyes vertical, one by one or as a row.

    References
    ----------
    49 CFR 393.120(b)(1), (b)(2).
    """
    if _in_row(group):
        return check_vertical_row(group=group, tables=tables, on=on)
    return check_vertical_single(group=group, tables=tables, on=on)


def check_vertical_single(*, group: CoilGroup, tables: Tables, on: dt.date) -> Checked:
    """Judge each coil by itself: two diagonals, one transverse over the eye, and no movement along the vehicle.

    References
    ----------
    49 CFR 393.120(b)(1)(i) to (iv).
    """
    number = group.number
    have = roles(group.tiedowns, role_of)
    needs = [
        Need(
            row=tables.value("coil_tiedowns", on=on, clause="vertical diagonal"),
            times=number,
            have=have["diagonal"],
            role="crossing over the eye, one on each diagonal",
            topic="diagonal",
        ),
        Need(
            row=tables.value("coil_tiedowns", on=on, clause="vertical over"),
            times=number,
            have=have["over"],
            role="straight over the eye from side to side",
            topic="over",
        ),
    ]
    findings: list[Finding] = []
    if group.tiedowns:
        findings += check_needs(needs, untold=have[UNTOLD], question=_QUESTION, kind=usual_kind(group.tiedowns))
    findings.append(
        check_movement_along(
            clause=tables.value("coil_clause", on=on, clause="vertical longitudinal"),
            support=group.support,
            directions=_BOTH,
            number=number,
            held={way: have[way] for way in _BOTH},
            untold=have[UNTOLD],
        )
    )
    findings += check_pallet(group=group, tables=tables, on=on)
    takes = {"diagonal": needs[0].least, "over": needs[1].least, **dict.fromkeys(_untied(group), number)}
    return Checked(tuple(findings), (_ASSUMED_EACH,) if number > 1 else (), takes)


def check_vertical_row(*, group: CoilGroup, tables: Tables, on: dt.date) -> Checked:
    """Judge a row: one tiedown at the front, one at the rear, one over each coil or over the transverse row.

    Notes
    -----
    One tiedown may lie over a whole transverse row; in a row along the vehicle each coil has its own.

    References
    ----------
    49 CFR 393.120(b)(2)(i) to (iv).
    """
    have = roles(group.tiedowns, role_of)
    over_times = 1 if group.row is Row.TRANSVERSE else group.number
    roles_of_row = (
        ("front", "forward", 1, "to keep the row from moving forward"),
        ("rear", "rearward", 1, "to keep the row from moving back"),
        ("over", "over", over_times, "over the top"),
    )
    needs = [
        Need(
            row=tables.value("coil_tiedowns", on=on, clause=f"vertical row {name}"),
            times=times,
            have=have[role],
            role=does,
            topic=role,
        )
        for name, role, times, does in roles_of_row
    ]
    findings: list[Finding] = []
    if group.tiedowns:
        findings += check_needs(needs, untold=have[UNTOLD], question=_ROW_QUESTION, kind=usual_kind(group.tiedowns))
    arrangement = tables.value("coil_clause", on=on, clause="vertical row arrangement")
    findings.append(
        found(
            arrangement,
            Status.LOOK,
            f"A row needs {arrangement.words}.",
            topic="arrangement",
            remedy="Check that the row cannot shift or tip in any direction.",
        )
    )
    findings += check_pallet(group=group, tables=tables, on=on)
    return Checked(tuple(findings), (_ASSUMED_ROW,), {need.topic: need.least for need in needs})


def _in_row(group: CoilGroup) -> bool:
    return group.row is not None and group.number > 1


def _untied(group: CoilGroup) -> tuple[str, ...]:
    """Return the ways along the vehicle in which neither mats nor blocking hold the coils."""
    blocked = {"forward": group.support.blocked_forward, "rearward": group.support.blocked_rearward}
    return tuple(way for way in _BOTH if not (group.support.mats or blocked[way]))


def check_pallet(*, group: CoilGroup, tables: Tables, on: dt.date) -> list[Finding]:
    """Point out what a pallet under the coil must be.

    References
    ----------
    Words of a handbook on 49 CFR 393.120(b)(1).
    """
    if not group.support.pallet:
        return []
    row = tables.value("coil_clause", on=on, clause="vertical pallet")
    return [
        found(
            row,
            Status.LOOK,
            f"The coil needs {row.words}.",
            topic="pallet",
            remedy="Check that the pallet is sound and the coil is secured to it.",
        )
    ]
