"""49 CFR 393.104: what only eyes can check, and what a driver may see."""

import datetime as dt
from collections.abc import Sequence

from assistant.load.model import Load, Tiedown
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables
from assistant.securement.wording import counted


def look_at_devices(*, tables: Tables, on: dt.date) -> Finding:
    """Point out that no part of a tiedown may be damaged or weakened.

    References
    ----------
    49 CFR 393.104(b).
    """
    row = tables.value("device_condition", on=on)
    return found(
        row,
        Status.LOOK,
        f"Each tiedown must be {row.words}.",
        topic="condition",
        remedy="Look at each tiedown for cuts, cracks and wear.",
    )


def look_at_edges(*, tiedowns: Sequence[Tiedown], tables: Tables, on: dt.date) -> Finding:
    """Point out where edge protection is needed; where it was told, that it must lie under each.

    References
    ----------
    49 CFR 393.104(f)(4).
    """
    row = tables.value("edge_protection", on=on)
    protected = all(one.edge_protected for one in tiedowns)
    remedy = (
        "Check that the edge protection lies under each tiedown and is not crushed."
        if protected
        else "Put edge protection wherever a tiedown could be cut."
    )
    return found(row, Status.LOOK, f"Edge protection {row.words}.", topic="edges", remedy=remedy)


def refuse_damaged(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Refuse tiedowns told to be damaged: they may not be used, and count nothing.

    References
    ----------
    49 CFR 393.104(b). That they count nothing is derived: no number for a damaged tiedown is printed anywhere.
    """
    damaged = [tiedown for tiedown in load.tiedowns if tiedown.damaged]
    if not damaged:
        return []
    row = tables.value("device_condition", on=on)
    number = sum(tiedown.count for tiedown in damaged)
    names = counted(number, str(damaged[0].kind) if len({one.kind for one in damaged}) == 1 else "tiedown")
    return [
        found(
            row,
            Status.STOP,
            f"{names.capitalize()} told as damaged: none of them counts, and none may be used.",
            topic="damaged tiedown",
            remedy=f"Take off or replace {names}.",
            steps=(told("damaged tiedowns", number),),
            weight=Useful.DANGER,
        )
    ]


def check_seen(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge what the driver saw, by the table of observations.

    Notes
    -----
    An observation that the table does not have is repeated and asked about: nothing seen is dropped, and no load is met
    while it stands.

    References
    ----------
    49 CFR 392.9(b), 393.104(b) to (d), (f)(1), (f)(3), (f)(4), 393.112; common practice where the row says so.
    """
    findings = []
    for name in load.seen:
        row = tables.lookup("observation", on=on, name=name)
        if row is None:
            row = tables.value("device_condition", on=on)
            text = f"Seen: {name}. No rule is kept for that."
            remedy = f"What is wrong there: {name}? Say it in other words."
            findings.append(found(row, Status.ASK, text, topic="seen", remedy=remedy))
            continue
        status = Status(row.words)
        weight = Useful.DANGER if status is Status.STOP else Useful.DETAIL
        findings.append(
            found(
                row,
                status,
                f"Seen: {name}. {row.notes['why']} {row.notes['refuse']}",
                topic=name,
                remedy=row.notes["remedy"],
                steps=(told("seen", name),),
                weight=weight,
            )
        )
    return findings
