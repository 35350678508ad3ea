"""A yard move: the last slow yards at the receiver, with tiedowns off. Private ground only, never the road."""

import datetime as dt
from collections.abc import Sequence

from assistant.load.model import Load
from assistant.securement.clause import Useful, found, told
from assistant.securement.finding import Finding, Rated, Status, Step
from assistant.securement.table_reader import Tables, Value


def look_at_yard_move(
    *, load: Load, rated: Sequence[Rated], tables: Tables, on: dt.date
) -> tuple[list[Finding], list[str]]:
    """Say what still holds and what does not with what is on, for a slow move on private ground.

    Returns
    -------
    tuple of list of Finding, list of str
        One finding, `outside`: no clause governs private ground, so none is called met. And the geometry it assumed.

    References
    ----------
    Common practice, no source. Statics: see statics.py. 49 CFR 393.100(b) for public roads.
    """
    from assistant.securement.statics import PLENTY_G, can_look, look_at_movement  # noqa: PLC0415 - numpy, only when asked for

    row = tables.value("yard_move", on=on)
    lead = f"A yard move: {row.words}."
    missing = can_look(load, tables=tables, on=on)
    if missing:
        text = f"{lead} What holds the load was not worked out: {missing[0].lower()}{missing[1:]}"
        return [_outside(row, text, ())], []
    statics = look_at_movement(load, rated, tables=tables, on=on)
    held = {way.name: way.at_limit for way in statics.ways}
    words = ", ".join(f"{name} {min(held[name], PLENTY_G):.2f} g" for name in ("forward", "rearward", "left", "up"))
    steps = [told(name, round(min(g, PLENTY_G), 3), "g", "statics") for name, g in held.items()]
    return [_outside(row, f"{lead} It holds {words}.", steps)], list(statics.assumed)


def _outside(row: Value, text: str, steps: Sequence[Step]) -> Finding:
    return found(
        row,
        Status.OUTSIDE,
        text,
        topic="yard move",
        remedy="Creep, brake gently, and put every tiedown back on before the road.",
        steps=steps,
        weight=Useful.DANGER,
    )
