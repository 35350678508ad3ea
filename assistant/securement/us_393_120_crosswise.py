"""49 CFR 393.120(c): coils with eyes crosswise."""

import datetime as dt

from assistant.load.model import Pull, Tiedown
from assistant.securement.clause import Need, Useful, check_needs, found, number_of, usual_kind
from assistant.securement.coil_claims import Scheme
from assistant.securement.coil_group import UNTOLD, Checked, CoilGroup, is_over, roles
from assistant.securement.coil_support import check_rolling_support, support_assumed
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables

_ASSUMED_EYE = "The tiedowns that keep the coil from moving forward or back are taken to go through its eye."
_ASSUMED_CROSSING = "The crossed tiedowns are taken to go through the eye."
_ASSUMED_EACH = "No row was told: each coil is taken to be secured by itself."
_ASK_CROSSING = "Do the crossed ones go through the eye of the crosswise coil, or over another?"
_QUESTION = "How many keep it from moving forward, how many from moving back?"


def role_of(tiedown: Tiedown) -> str:
    """Return what a tiedown does for a coil with its eye crosswise."""
    if is_over(tiedown):
        return "over"
    if tiedown.crossed:
        return "crossing"
    if tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}:
        return str(tiedown.pulls)
    return UNTOLD if tiedown.pulls is None else "side"


def schemes(*, group: CoilGroup, tables: Tables, on: dt.date) -> tuple[Scheme, ...]:
    """Return what the coils ask of tiedowns: each one against forward and one against rearward movement.

    References
    ----------
    49 CFR 393.120(c)(1)(ii), (iii).
    """
    least: Scheme = {
        (way,): int(tables.value("coil_tiedowns", on=on, clause=f"crosswise {way}").number) * group.number
        for way in ("forward", "rearward")
    }
    return (least,)


def check_crosswise(*, group: CoilGroup, tables: Tables, on: dt.date) -> Checked:
    """Judge coils with eyes crosswise: rolling, forward, rearward, no X, and the rule that rows do not have.

    Notes
    -----
    READING: no paragraph covers a row, so each coil is secured by itself. A tiedown against forward or rearward
    movement whose course was not told is taken to go through the eye.

    References
    ----------
    49 CFR 393.120(c)(1), (c)(2).
    """
    number = group.number
    findings = check_rolling_support(
        clause=tables.value("coil_clause", on=on, clause="crosswise rolling"),
        support=group.support,
        number=group.lying,
        tables=tables,
        on=on,
    )
    assumed = list(support_assumed(support=group.support, number=group.lying))
    if group.tiedowns:
        findings += check_crosswise_tiedowns(group=group, tables=tables, on=on)
        if any(tiedown.through is None and role_of(tiedown) in {"forward", "rearward"} for tiedown in group.tiedowns):
            assumed.append(_ASSUMED_EYE)
        crossing = [tiedown for tiedown in group.tiedowns if role_of(tiedown) == "crossing"]
        if not group.mixed and any(tiedown.through is None for tiedown in crossing):
            assumed.append(_ASSUMED_CROSSING)
    findings += check_no_crossing(group=group, tables=tables, on=on)
    if number > 1:
        findings.append(no_rule_for_rows(group=group, tables=tables, on=on))
        if group.row is None:
            assumed.append(_ASSUMED_EACH)
    return Checked(tuple(findings), tuple(assumed), {"forward": number, "rearward": number})


def check_crosswise_tiedowns(*, group: CoilGroup, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge the tiedowns through the eye: at least one against forward and one against rearward movement.

    References
    ----------
    49 CFR 393.120(c)(1)(ii), (iii).
    """
    have = roles(group.tiedowns, role_of)
    needs = [
        Need(
            row=tables.value("coil_tiedowns", on=on, clause=f"crosswise {way}"),
            times=group.number,
            have=have[way],
            role=f"through the eye, to keep the coil from moving {moving}",
            topic=way,
        )
        for way, moving in (("forward", "forward"), ("rearward", "back"))
    ]
    return check_needs(needs, untold=have[UNTOLD], question=_QUESTION, kind=usual_kind(group.tiedowns))


def check_no_crossing(*, group: CoilGroup, tables: Tables, on: dt.date) -> list[Finding]:
    """Refuse tiedowns that form an X through the eye, seen from above.

    Notes
    -----
    Beside coils with another eye direction, whose clauses may want crossed tiedowns, it is asked whose they are.

    References
    ----------
    49 CFR 393.120(c)(2); from memory.
    """
    crossing = number_of([tiedown for tiedown in group.every if role_of(tiedown) == "crossing"])
    if not crossing:
        return []
    return [
        found(
            tables.value("coil_clause", on=on, clause="crosswise crossing"),
            Status.ASK if group.mixed else Status.STOP,
            "Tiedowns through the eye of a crosswise coil must not form an X seen from above.",
            topic="crossing",
            remedy=_ASK_CROSSING if group.mixed else "Uncross the tiedowns: run each straight through the eye.",
            have=crossing,
            need=0,
            unit="tiedowns",
            weight=Useful.DETAIL if group.mixed else Useful.DANGER,
        )
    ]


def no_rule_for_rows(*, group: CoilGroup, tables: Tables, on: dt.date) -> Finding:
    """Say that no paragraph covers a row of crosswise coils, and what the exemption asks for.

    Notes
    -----
    Told as a row, this is outside the rule; with no row told it is something to look at.

    References
    ----------
    49 CFR 393.120(c); FMCSA docket FMCSA-2010-0177.
    """
    exemption = tables.value("crosswise_row_exemption", on=on)
    status = Status.LOOK if group.row is None else Status.OUTSIDE
    opening = "If these coils form a row: " if group.row is None else ""
    text = (
        f"{opening}393.120 has no rule for rows of coils with eyes crosswise, so each coil is counted by itself. "
        f"Exemption {exemption.words} asks for {exemption.notes['conditions']}; {exemption.notes['doubt']}."
    )
    return found(
        tables.value("coil_clause", on=on, clause="crosswise row"),
        status,
        text,
        topic="row",
        remedy="Secure each coil by itself, or check that the exemption still holds.",
        steps=(exemption.step(),),
        weight=Useful.DETAIL,
    )
