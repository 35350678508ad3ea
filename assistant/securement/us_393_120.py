"""49 CFR 393.120: metal coils. Scope, and the clauses of each eye direction."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from assistant.load.model import Coil, Eye, Load, Through, Tiedown
from assistant.securement.clause import Useful, found, number_of, told
from assistant.securement.coil_claims import Claim, Scheme, sharings, without
from assistant.securement.coil_group import Checked, CoilGroup, RoleOf, left_over
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables
from assistant.securement.us_393_120_crosswise import check_crosswise
from assistant.securement.us_393_120_crosswise import role_of as crosswise_role
from assistant.securement.us_393_120_crosswise import schemes as crosswise_schemes
from assistant.securement.us_393_120_lengthwise import check_lengthwise
from assistant.securement.us_393_120_lengthwise import role_of as lengthwise_role
from assistant.securement.us_393_120_lengthwise import schemes as lengthwise_schemes
from assistant.securement.us_393_120_vertical import check_vertical
from assistant.securement.us_393_120_vertical import role_of as vertical_role
from assistant.securement.us_393_120_vertical import schemes as vertical_schemes
from assistant.securement.wording import counted, pounds

_ASSUMED_SCOPE = "A coil weight was not told: the coils are judged under 393.120, as if they weighed"
_MIXED = "The eyes point different ways: the tiedowns are shared out among the coils, each one counted for one of them."


_WITHOUT_ANCHORS = "sided vehicle without anchor points"


class _Rule(NamedTuple):
    """The paragraph for one eye direction."""

    eye: Eye
    check: Callable[..., Checked]
    schemes: Callable[..., tuple[Scheme, ...]]
    role_of: RoleOf


_RULES = (
    _Rule(Eye.CROSSWISE, check_crosswise, crosswise_schemes, crosswise_role),
    _Rule(Eye.VERTICAL, check_vertical, vertical_schemes, vertical_role),
    _Rule(Eye.LENGTHWISE, check_lengthwise, lengthwise_schemes, lengthwise_role),
)
_Group = tuple[_Rule, CoilGroup]


@dataclass(frozen=True, slots=True)
class CoilsChecked:
    """What the coil rule says of a load; `left` are the tiedowns that no coil takes up."""

    findings: tuple[Finding, ...]
    assumed: tuple[str, ...]
    left: tuple[Tiedown, ...]


def in_scope(*, coils: Sequence[Coil], tables: Tables, on: dt.date) -> bool:
    """Tell whether the coil rule applies: coils that singly or grouped together weigh 5,000 lb or more.

    Notes
    -----
    READING: all coils on the deck count as grouped together, the stricter way. A weight that was not told puts the
    coils in scope as well.

    References
    ----------
    49 CFR 393.120(a).
    """
    if any(coil.weight_lb is None for coil in coils):
        return True
    total_lb = sum(coil.count * (coil.weight_lb or 0) for coil in coils)
    return bool(coils) and total_lb >= tables.value("coil_scope", on=on).number


def check_coils(*, load: Load, tables: Tables, on: dt.date) -> CoilsChecked:
    """Judge all coils of a load that is in scope, eye direction by eye direction.

    Notes
    -----
    In a sided vehicle or container without anchor points (e) governs instead, which is named among what was seen.

    References
    ----------
    49 CFR 393.120(b) to (e).
    """
    if _WITHOUT_ANCHORS in load.seen:
        return CoilsChecked((), (), load.tiedowns)
    findings: list[Finding] = []
    assumed: list[str] = []
    mixed = len({coil.eye for coil in load.coils}) > 1
    if any(coil.weight_lb is None for coil in load.coils):
        assumed.append(f"{_ASSUMED_SCOPE} {pounds(tables.value('coil_scope', on=on).number)} or more.")
    if any(coil.eye is None for coil in load.coils):
        findings.append(ask_eye(tables=tables, on=on))
    if mixed:
        assumed.append(_MIXED)
    if mixed:
        load = load.model_copy(update={"tiedowns": tuple(sorted(load.tiedowns, key=_sharing))})
    groups = _groups(load, mixed=mixed)
    if mixed:
        claims = [_claim(rule, group, tables, on) for rule, group in groups]
        shares = sharings(load.tiedowns, claims)
        checked = min((_check_in_turn(load, groups, share, tables, on) for share in shares), key=_badness)
    else:
        checked = _check_in_turn(load, groups, {}, tables, on)
    return CoilsChecked((*findings, *checked.findings), (*assumed, *checked.assumed), checked.left)


def _groups(load: Load, *, mixed: bool) -> list[_Group]:
    """Return the coils of each eye direction, in the order of the paragraphs."""
    lying = sum(coil.count for coil in load.coils if coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE})
    groups = []
    for rule in _RULES:
        number = sum(coil.count for coil in load.coils if coil.eye is rule.eye)
        if number:
            group = CoilGroup(
                eye=rule.eye,
                number=number,
                row=load.row,
                support=load.support,
                tiedowns=load.tiedowns,
                every=load.tiedowns,
                mixed=mixed,
                lying=lying,
            )
            groups.append((rule, group))
    return groups


def _check_in_turn(
    load: Load, groups: Sequence[_Group], share: Mapping[Eye, Sequence[Tiedown]], tables: Tables, on: dt.date
) -> CoilsChecked:
    """Judge one eye direction after another, each by its share and by what is free."""
    findings: list[Finding] = []
    assumed: list[str] = []
    left = without(load.tiedowns, share)
    for rule, group in groups:
        # Beside a coil that lies, what goes through an eye goes through that coil's and holds no upright one.
        kept = tuple(one for one in left if _holds_none(one, group))
        offered = (*share.get(rule.eye, ()), *(one for one in left if one not in kept))
        checked = rule.check(group=replace(group, tiedowns=offered), tables=tables, on=on)
        findings += checked.findings
        assumed += checked.assumed
        if load.tiedowns and not offered:
            findings.append(_none_left(group=replace(group, tiedowns=()), tables=tables, on=on))
        left = (*kept, *left_over(offered, rule.role_of, checked.takes))
        # One upright coil has no such angle: only (b)(2), on rows, sets it.
        if load.tiedowns and (rule.eye is not Eye.VERTICAL or (load.row is not None and group.number > 1)):
            findings.append(look_at_angle(eye=rule.eye, tiedowns=load.tiedowns, tables=tables, on=on))
    return CoilsChecked(tuple(findings), tuple(assumed), left)


def _holds_none(tiedown: Tiedown, group: CoilGroup) -> bool:
    return group.mixed and group.eye is Eye.VERTICAL and tiedown.through is Through.EYE


def _claim(rule: _Rule, group: CoilGroup, tables: Tables, on: dt.date) -> Claim:
    plays = tuple(None if _holds_none(one, group) else rule.role_of(one) for one in group.tiedowns)
    return Claim(rule.eye, rule.schemes(group=group, tables=tables, on=on), plays)


def _badness(checked: CoilsChecked) -> tuple[int, int]:
    """Return how many lines are short, and how many ask."""
    statuses = [finding.status for finding in checked.findings]
    return statuses.count(Status.SHORT), statuses.count(Status.ASK)


def ask_eye(*, tables: Tables, on: dt.date) -> Finding:
    """Ask which way the eye points, for the clauses go by that.

    References
    ----------
    49 CFR 393.120(b), (c), (d).
    """
    row = tables.value("coil_clause", on=on, clause="eye")
    return found(
        row,
        Status.ASK,
        "Which way the eye points was not told; the clauses go by that.",
        topic="eye",
        remedy="Which way does the eye point: up, to the side, or lengthwise?",
        weight=Useful.EYE,
    )


def look_at_angle(*, eye: Eye, tiedowns: Sequence[Tiedown], tables: Tables, on: dt.date) -> Finding:
    """Point out the angle that only eyes can check, or that was told as too steep.

    Notes
    -----
    "Whenever practicable": a steeper one is never `short`, but is said.

    References
    ----------
    49 CFR 393.120(b)(2)(i)-(ii), (c)(1)(ii)-(iii), (d)(1)(ii)-(iii).
    """
    row = tables.value("coil_angle", on=on, eye=str(eye))
    text = (
        f"Tiedowns against forward or rearward movement: no steeper than {row.number:g} degrees to the floor, "
        "seen from the side, whenever practicable."
    )
    steepest = max((one.angle_deg for one in tiedowns if one.angle_deg is not None), default=0.0)
    if steepest > row.number:
        text = f"{text} Told: {steepest:g} degrees."
        remedy = f"Anchor them further out, to {row.number:g} degrees or less, if that is practicable."
        return found(row, Status.LOOK, text, topic="angle", remedy=remedy, steps=(told("angle", steepest, "degrees"),))
    remedy = f"Check that they are no steeper than {row.number:g} degrees."
    return found(row, Status.LOOK, text, topic="angle", remedy=remedy)


def _sharing(tiedown: Tiedown) -> tuple[bool, bool, str]:
    """Return an order for sharing out that does not hang on the order of telling.

    Through an eye comes first, for those serve the coils that come first; told places come last, for those can serve
    the coils that come last.
    """
    return tiedown.through is not Through.EYE, tiedown.place is not None, tiedown.model_dump_json()


def _none_left(*, group: CoilGroup, tables: Tables, on: dt.date) -> Finding:
    row = tables.value("coil_clause", on=on, clause="eye")
    return found(
        row,
        Status.SHORT,
        f"No tiedown is left for {counted(group.number, 'coil')} with eye {group.eye}.",
        topic="count",
        remedy=f"Add tiedowns for the {counted(group.number, 'coil')} with eye {group.eye}.",
        need=group.number,
        have=number_of(group.tiedowns),
        unit="tiedowns",
        weight=Useful.TIEDOWNS,
    )
