"""The ratings of all tiedowns of a load, what they assume, and what they leave to ask."""

import datetime as dt
from collections.abc import Sequence

from assistant.load.model import Eye, GearList, Load, Path, Pull, Through, Tiedown
from assistant.securement.clause import Useful, found
from assistant.securement.coil_group import is_over
from assistant.securement.finding import Finding, Status
from assistant.securement.rating import Rating, path_assumption, rating
from assistant.securement.table_reader import Tables

_HALF = "Tiedowns through the eye whose course was not told count half, as if back to the same side."
_OTHER_PARTS = "Hooks, winches and anchor points that were not described are taken as no weaker than the rest."


def rate_all(*, load: Load, tables: Tables, gear: GearList, on: dt.date) -> tuple[Rating, ...]:
    """Return the rating of each group.

    Notes
    -----
    Through the eye of a coil that lies lengthwise a tiedown may run on the diagonal (full) or back to the same side
    (half). Not told, it counts half.

    References
    ----------
    49 CFR 393.106(d), 393.108, 393.120(d)(1), (d)(2).
    """
    return tuple(
        rating(tiedown, tables=tables, gear=gear, on=on, path=path_if_untold(tiedown, load=load))
        for tiedown in load.tiedowns
    )


def path_if_untold(tiedown: Tiedown, *, load: Load) -> Path:
    """Return the path that a tiedown is taken to run when none was told: across, or the stricter of two it may run."""
    return Path.SAME_SIDE if _lies_lengthwise(load) and _course_open(tiedown) else Path.ACROSS


def clear_paths(*, load: Load) -> tuple[bool, ...]:
    """Tell for each group whether what was told of it leaves no doubt that it reaches the other side.

    Notes
    -----
    One over the top reaches the other side, and so does a pair laid on the diagonals. Where all coils are crosswise so
    does one through the eye, which itself runs from side to side, and where nothing else is on deck one against forward
    or rearward movement, which is taken to go through it. Round an upright coil or another article a tiedown may as
    well come back to the side it started from.
    """
    crosswise = bool(load.coils) and all(coil.eye is Eye.CROSSWISE for coil in load.coils)
    alone = not load.articles
    return tuple(_clear(tiedown, crosswise=crosswise, alone=alone) for tiedown in load.tiedowns)


def rating_assumptions(*, ratings: Sequence[Rating]) -> list[str]:
    """Return what the ratings assume, as plain sentences."""
    sentences = [sentence for rated in ratings for sentence in rated.assumed]
    for one in ratings:
        if not one.path_told:
            full = one.rated.path is Path.ACROSS
            sentences.append(path_assumption(one.rated.tiedown.kind) if full else _HALF)
    if ratings:
        sentences.append(_OTHER_PARTS)
    return sentences


def ask_limits(*, ratings: Sequence[Rating], tables: Tables, on: dt.date) -> list[Finding]:
    """Ask for what a working load limit still lacks.

    References
    ----------
    49 CFR 393.108(b).
    """
    row = tables.value("maker_mark", on=on)
    return [
        found(
            row,
            Status.ASK,
            one.missing.text,
            topic="rating",
            remedy=one.missing.question,
            weight=Useful.MARK,
        )
        for one in ratings
        if one.missing
    ]


def look_at_marks(*, tables: Tables, on: dt.date) -> Finding:
    """Point out that the lowest mark on any part is the one that counts.

    References
    ----------
    49 CFR 393.108(a).
    """
    row = tables.value("lowest_component", on=on)
    return found(
        row,
        Status.LOOK,
        f"A tiedown counts {row.words}.",
        topic="marks",
        remedy="Read the marks on binders, hooks, winches and anchor points.",
    )


def look_at_doubled(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Point out that a doubled tiedown counts as one: no text decides otherwise.

    References
    ----------
    49 CFR 393.106(d); READING: one assembly from anchor to anchor is one tiedown, however often it is laid.
    """
    if not any(tiedown.doubled for tiedown in load.tiedowns):
        return []
    row = tables.value("aggregate_share", on=on)
    text = "A doubled tiedown is counted as one; no text that was seen decides whether it is two."
    return [found(row, Status.LOOK, text, topic="doubled", remedy="Count a doubled tiedown as one.")]


def _lies_lengthwise(load: Load) -> bool:
    return any(coil.eye is Eye.LENGTHWISE for coil in load.coils)


def _course_open(tiedown: Tiedown) -> bool:
    return tiedown.through is Through.EYE and tiedown.path is None and not tiedown.crossed


def _clear(tiedown: Tiedown, *, crosswise: bool, alone: bool) -> bool:
    if is_over(tiedown) or tiedown.crossed:
        return True
    along = alone and tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}
    return crosswise and (tiedown.through is Through.EYE or along)
