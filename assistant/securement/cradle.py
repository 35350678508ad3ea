"""What a cradle holds by itself, whether the coil clears the deck, and whether bunks and timbers carry their share."""

import datetime as dt
import math

from assistant.load.model import Coil, Eye, Load, Support
from assistant.securement.clause import Useful, found, told, weight_of
from assistant.securement.coil_shape import CoilSize, Geometry, coil_size
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables, Value
from assistant.securement.wording import pounds


def rolls_out_at_g(*, gap_in: float, radius_in: float) -> float:
    """Return the acceleration at which a coil rolls out of a cradle by itself [g].

    Parameters
    ----------
    gap_in
        Between the two edges it rests on [in], below twice the radius.
    radius_in
        The coil's outside radius [in].

    Notes
    -----
    g = tan(theta), sin(theta) = s / (2 R): the coil turns over one edge when inertia and weight point past it.
    Textbook statics; friction does not enter.

    Raises
    ------
    ValueError
        The gap is as wide as the coil or wider: the coil falls between the edges and no cradle is left.
    """
    if gap_in >= 2 * radius_in:
        message = f"a gap of {gap_in:g} in holds no coil of {2 * radius_in:g} in: give a gap below its diameter"
        raise ValueError(message)
    return math.tan(math.asin(gap_in / (2 * radius_in)))


def clears_deck_by_in(*, gap_in: float, radius_in: float, edge_height_in: float) -> float:
    """Return how far the coil's lowest point hangs above the deck [in]: h - (R - sqrt(R^2 - s^2/4))."""
    return edge_height_in - (radius_in - math.sqrt(max(0.0, radius_in**2 - gap_in**2 / 4)))


def look_at_cradle(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Say what the cradle of each lying coil holds by itself, and whether the coil clears the deck.

    Notes
    -----
    The gap and the height of the edges are taken as told, else as assumed; what was assumed, and what the coil's size
    was taken from, stands in the text. A told gap as wide as the coil or wider is `stop`: the coil falls between the
    edges. So is a coil that touches the deck by the edge height told. An assumed gap that holds no such coil says
    nothing.

    References
    ----------
    49 CFR 393.102(a)(1) for the accelerations; 393.120(c)(1)(i), (d)(1)(i) for "off the deck"; textbook statics.
    """
    support = load.support
    if not (support.gap_in or support.timbers or support.wedges or support.cradle):
        return []
    lying = [coil for coil in load.coils if coil.weight_lb and coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE}]
    findings = []
    for coil in lying:
        whose = "" if len(load.coils) == 1 else f"Under the coil of {pounds(coil.weight_lb or 0)}: "
        findings += _look_at_one(coil, whose, support, tables, on)
    return findings


def _look_at_one(coil: Coil, whose: str, support: Support, tables: Tables, on: dt.date) -> list[Finding]:
    size = coil_size(coil, tables=tables, on=on)
    geometry = Geometry(tables, on, list(size.assumed))
    gap = geometry.length(support.gap_in, "gap between edges")
    if gap >= 2 * size.radius:
        return [] if support.gap_in is None else [_falls_through(coil, whose, gap, size, tables, on)]
    edge = geometry.length(support.edge_height_in, "edge height")
    clear = clears_deck_by_in(gap_in=gap, radius_in=size.radius, edge_height_in=edge)
    findings = [_holds_by_itself(coil, whose, (gap, clear), size, geometry, tables, on)]
    if clear <= 0 and support.edge_height_in is not None:
        findings.append(_touches(coil, whose, clear, geometry, tables, on))
    return findings


def _holds_by_itself(  # noqa: PLR0913, PLR0917 - one coil with all that its cradle is reckoned from
    coil: Coil,
    whose: str,
    gap_and_clear: tuple[float, float],
    size: CoilSize,
    geometry: Geometry,
    tables: Tables,
    on: dt.date,
) -> Finding:
    gap, clear = gap_and_clear
    holds = rolls_out_at_g(gap_in=gap, radius_in=size.radius)
    forward, rearward, lateral = (
        tables.value("force_to_breaking_strength", on=on, direction=way) for way in ("forward", "rearward", "lateral")
    )
    ways = (forward, rearward) if coil.eye is Eye.CROSSWISE else (lateral,)
    shares = " and ".join(f"{min(1.0, holds / way.number):.0%} of {way.number:g} g" for way in ways)
    left = [f"{way.number - holds:.2f} g of {way.number:g} g" for way in ways if holds < way.number]
    rest = f"The tiedowns must hold {' and '.join(left)}" if left else "The tiedowns must still hold it down"
    hangs = f"It hangs {clear:.1f} in clear of the deck." if clear > 0 else "So reckoned it would touch the deck."
    text = f"{whose}By itself the cradle holds {holds:.2f} g: {shares}. {rest}. {hangs}{_taken(geometry)}"
    steps = (
        told("gap between the edges", gap, "in"),
        told("outside radius", round(size.radius, 1), "in", "; ".join(size.assumed)),
        told("rolls out at", round(holds, 3), "g", "tan(asin(s / 2R))"),
        told("clear of the deck", round(clear, 2), "in", "h - (R - sqrt(R^2 - s^2/4))"),
    )
    remedy = "Check that the tiedowns hold the rest." if clear > 0 else "Check that the coil hangs clear of the deck."
    return found(forward, Status.LOOK, text, topic="cradle", remedy=remedy, steps=steps)


def _falls_through(coil: Coil, whose: str, gap: float, size: CoilSize, tables: Tables, on: dt.date) -> Finding:
    steps = (told("gap between the edges", gap, "in"), told("outside diameter", round(2 * size.radius, 1), "in"))
    taken = f" {' '.join(size.assumed)}" if size.assumed else ""
    text = (
        f"{whose}The gap of {gap:g} in is as wide as the coil, {2 * size.radius:.0f} in: it falls between the edges."
        f"{taken}"
    )
    clause, remedy = _rolling_clause(coil, tables, on), "Set the timbers closer."
    return found(clause, Status.STOP, text, topic="cradle", remedy=remedy, steps=steps, weight=Useful.DANGER)


def _touches(coil: Coil, whose: str, clear: float, geometry: Geometry, tables: Tables, on: dt.date) -> Finding:
    steps = (told("clear of the deck", round(clear, 2), "in", "h - (R - sqrt(R^2 - s^2/4))"),)
    text = f"{whose}The coil touches the deck: its lowest point would hang {-clear:.1f} in below it.{_taken(geometry)}"
    clause, remedy = _rolling_clause(coil, tables, on), "Set it on higher timbers, or set them closer."
    topic = "clear of the deck"
    return found(clause, Status.STOP, text, topic=topic, remedy=remedy, steps=steps, weight=Useful.DANGER)


def _rolling_clause(coil: Coil, tables: Tables, on: dt.date) -> Value:
    eye = "lengthwise" if coil.eye is Eye.LENGTHWISE else "crosswise"
    return tables.value("coil_clause", on=on, clause=f"{eye} rolling")


def _taken(geometry: Geometry) -> str:
    return f" {' '.join(geometry.assumed)}" if geometry.assumed else ""


def look_at_cradle_sliding(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Point out that a cradle must be kept from sliding, unless that was told.

    References
    ----------
    49 CFR 393.120(c)(1)(i), (d)(1)(i), in a handbook's words.
    """
    lying = any(coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE} for coil in load.coils)
    if not lying or load.support.held or load.support.mats or not (load.support.cradle or load.support.timbers):
        return []
    row = tables.value("cradle_sliding", on=on)
    text = f"What the coil rests on must itself be kept from sliding: {row.words}."
    return [found(row, Status.LOOK, text, topic="cradle sliding", remedy="Check that the cradle cannot slide.")]


def check_support_ratings(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Judge whether bunks and timbers of told rating carry their even share of the weight; ask for their number.

    References
    ----------
    Common practice, no source.
    """
    support, weight = load.support, weight_of(load)
    row = tables.value("support_share", on=on)
    findings = []
    for name, rated, number in (
        ("bunk", support.bunk_rated_lb, support.bunks),
        ("timber", support.timber_rated_lb, support.timbers),
    ):
        if rated is None or weight is None or number == 0:
            continue
        if number is None:
            text = f"Each {name} is rated {pounds(rated)}; how many carry {pounds(weight)} was not told."
            question = f"How many {name}s does it rest on?"
            findings.append(found(row, Status.ASK, text, topic=f"{name} rating", remedy=question, weight=Useful.DETAIL))
            continue
        share = weight / number
        enough = rated >= share
        findings.append(
            found(
                row,
                Status.MEETS if enough else Status.SHORT,
                f"Each {name} carries {pounds(share)} and is rated {pounds(rated)}.",
                topic=f"{name} rating",
                remedy="" if enough else f"Use stronger {name}s, or more of them.",
                need=share,
                have=rated,
                unit="lb",
                steps=(told(f"{name}s", number), told("share", share, "lb", "weight / number")),
                weight=Useful.SUPPORT,
            )
        )
    return findings
