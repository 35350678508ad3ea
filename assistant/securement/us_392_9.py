"""49 CFR 392.9: when cargo and tiedowns are looked at again."""

import datetime as dt

from assistant.securement.clause import Useful, found
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables


def next_look(*, tables: Tables, on: dt.date) -> Finding:
    """Say when to stop and look again.

    Notes
    -----
    A sealed vehicle that the driver was ordered not to open, and cargo that cannot be reached, are excepted
    (49 CFR 392.9(b)(4)).

    References
    ----------
    49 CFR 392.9(b)(2), (3).
    """
    first = tables.value("first_look", on=on)
    hours = tables.value("later_look_time", on=on)
    miles = tables.value("later_look_distance", on=on)
    return found(
        first,
        Status.LOOK,
        f"Next stop within {first.number:g} miles, then at each change of duty status, after {hours.number:g} hours or "
        f"after {miles.number:g} miles, whichever comes first.",
        topic="next look",
        remedy=f"Stop and look within {first.number:g} miles.",
        steps=(hours.step(), miles.step()),
        weight=Useful.DETAIL,
    )
