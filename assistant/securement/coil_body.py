"""A coil on its supports with its tiedowns, as a rigid body: geometry as told, and as assumed where it was not."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.load.model import Coil, Eye, Path, Place, Pull, Through, Tiedown
from assistant.securement import rigid_body
from assistant.securement.coil_shape import CoilSize, Geometry, coil_size
from assistant.securement.rigid_body import Body, Contact
from assistant.securement.sharing import Piece
from assistant.securement.table_reader import Tables

_RIM = 8
"""Points that stand for the rim of an upright coil's base."""
_BLOCK_HEIGHT_SHARE = 0.5
"""A block touches a coil at half the height of the edges it stands beside."""
_WIDEST_GAP = 1.9
"""Widest gap between edges, in radii, at which a coil is still taken to rest on both."""

Point = tuple[float, float, float]
Ends = tuple[tuple[Point, Point], ...]


def coil_body(
    piece: Piece, coil: Coil, *, tables: Tables, on: dt.date, limits: Sequence[float]
) -> tuple[Body, list[str]]:
    """Return a coil as a rigid body, and what was assumed.

    Parameters
    ----------
    piece
        What supports and holds it.
    coil
        The coil, with weight and eye told.
    tables, on
        Where densities, friction and assumed lengths come from.
    limits
        What one tiedown of each group may bear [lb]: its working load limit or its breaking strength.
    """
    size = coil_size(coil, tables=tables, on=on)
    geometry = Geometry(tables, on, list(size.assumed))
    contacts, height = _supports(piece, coil, size, geometry)
    centre = (0.0, 0.0, height)
    rail = geometry.length(None, "between rails") / 2
    shape = _Shape(coil.eye or Eye.CROSSWISE, size, height, rail, geometry)
    pulls = []
    for held, limit in zip(piece.held, limits, strict=True):
        tiedown = held.rated.tiedown
        for course, share in shape.ends(tiedown, held.rated.path) if held.number else []:
            number = held.number * held.part * share
            pretension = (tiedown.pretension_lb or 0.0) * number
            pulls.append(rigid_body.Pull(held.name, course, limit_lb=limit * number, pretension_lb=pretension))
    geometry.assumed.append("What the coil rests on is taken as kept from sliding.")
    if any(held.rated.tiedown.pretension_lb is None for held in piece.held):
        geometry.assumed.append("Pretension not told: a tiedown holds only movement that stretches it.")
    body = Body(coil.weight_lb or 0.0, centre, tuple(contacts), tuple(pulls))
    return body, list(dict.fromkeys(geometry.assumed))


def _supports(piece: Piece, coil: Coil, size: CoilSize, geometry: Geometry) -> tuple[list[Contact], float]:
    """Return the supports and the height of the coil's centre."""
    support = piece.support
    means = (support.timbers, support.wedges, support.cradle)
    bare = not any(means) and means != (None, None, None)
    if coil.eye is Eye.VERTICAL:
        base = geometry.length(None, "pallet height") if support.pallet else 0.0
        friction = geometry.friction(
            "mats" if support.mats else "steel on timber" if support.pallet else "steel on deck"
        )
        rim = [2 * math.pi * place / _RIM for place in range(_RIM)]
        contacts = [
            Contact((size.radius * math.cos(turn), size.radius * math.sin(turn), base), (0.0, 0.0, 1.0), friction)
            for turn in rim
        ]
        height = base + size.width / 2
    elif bare:
        # Told to have no timbers, wedges or cradle: it lies on a line of the deck and rolls at once.
        geometry.assumed.append("Told without timbers, wedges or cradle: the coil lies on the bare deck.")
        height = size.radius
        friction = geometry.friction("steel on deck")
        contacts = [
            _contact(coil.eye, (0.0, end, 0.0), (0.0, 0.0, 1.0), friction) for end in (-size.width / 2, size.width / 2)
        ]
    else:
        if not any(means):
            geometry.assumed.append("What keeps it from rolling was not told: taken as two edges, as of timbers.")
        gap = geometry.length(support.gap_in, "gap between edges")
        if gap > _WIDEST_GAP * size.radius:
            gap = _WIDEST_GAP * size.radius
            geometry.assumed.append(f"The gap is too wide for the coil: taken as {gap:.0f} in.")
        edge = geometry.length(support.edge_height_in, "edge height")
        rise = math.sqrt(size.radius**2 - gap**2 / 4)
        height = edge + rise
        friction = geometry.friction("steel on timber")
        if support.mats:
            geometry.assumed.append("Mats are taken to lie under the cradle, not between it and the coil.")
        inward = ((-gap / 2, gap / 2 / size.radius), (gap / 2, -gap / 2 / size.radius))
        along = (-size.width / 2, size.width / 2)
        contacts = [
            _contact(coil.eye, (across, end, edge), (tilt, 0.0, rise / size.radius), friction)
            for across, tilt in inward
            for end in along
        ]
    if coil.eye is not Eye.CROSSWISE:
        contacts += _blocks(piece, coil, size, geometry)
    return contacts, height


def _blocks(piece: Piece, coil: Coil, size: CoilSize, geometry: Geometry) -> list[Contact]:
    """Return what blocks a coil along the deck; a front end structure told with a rating bears no more than that."""
    support, found = piece.support, list[Contact]()
    if not (support.blocked_forward or support.blocked_rearward):
        return found
    reach = size.radius if coil.eye is not Eye.LENGTHWISE else size.width / 2
    low = _BLOCK_HEIGHT_SHARE * geometry.length(support.edge_height_in, "edge height")
    for told, side in ((support.blocked_forward, 1.0), (support.blocked_rearward, -1.0)):
        if not told:
            continue
        front = piece.front if side > 0 else None
        limit, name = math.inf, ""
        if front and front.damaged:
            geometry.assumed.append("The front end structure was told as damaged: it is taken to hold nothing.")
            continue
        if front and front.rated_lb:
            limit, name = front.rated_lb / piece.of_pieces / 2, "the front end structure"
        else:
            geometry.assumed.append("What blocks the coil is taken to hold whatever comes; its strength was not told.")
        found += [Contact((side * reach, y, low), (-side, 0.0, 0.0), 0.0, limit, name) for y in (-size.bore, size.bore)]
    return found


def _contact(eye: Eye | None, at: Point, normal: Point, friction: float) -> Contact:
    """Return a contact written for a crosswise coil, turned a quarter for a lengthwise one."""
    if eye is Eye.LENGTHWISE:
        return Contact((at[1], at[0], at[2]), (normal[1], normal[0], normal[2]), friction)
    return Contact(at, normal, friction)


@dataclass(frozen=True)
class _Shape:
    """Where tiedowns leave the coil and where they are anchored."""

    eye: Eye
    size: CoilSize
    height: float
    rail: float
    geometry: Geometry

    def ends(self, tiedown: Tiedown, path: Path) -> list[tuple[Ends, float]]:
        """Return the courses of a group: (ends, share of the group); none where its course was not told."""
        if tiedown.damaged:
            return []
        if tiedown.through is Through.TOP or tiedown.pulls is Pull.OVER:
            return self._over(tiedown)
        if tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}:
            return self._against(tiedown, path)
        if tiedown.through is Through.EYE and self.eye is Eye.LENGTHWISE:
            return self._along_eye(tiedown, path)
        return []

    def _over(self, tiedown: Tiedown) -> list[tuple[Ends, float]]:
        along = {Place.FRONT: 0.5, Place.REAR: -0.5}.get(tiedown.place or Place.MIDDLE, 0.0)
        if self.eye is Eye.VERTICAL:
            top = self.height + self.size.width / 2
            radius, rail = self.size.radius, self.rail
            if not tiedown.crossed:
                return [((((0, radius, top), (0, rail, 0)), ((0, -radius, top), (0, -rail, 0))), 1.0)]
            part = radius / math.sqrt(2)
            return [
                ((((part, side * part, top), (radius, side * rail, 0)),
                        ((-part, -side * part, top), (-radius, -side * rail, 0))), 0.5)
                for side in (1, -1)
            ]  # fmt: skip
        if self.eye is Eye.CROSSWISE:
            x = along * self.size.radius
            top, half = self.height + math.sqrt(self.size.radius**2 - x**2), self.size.width / 2
            return [((((x, half, top), (x, self.rail, 0)), ((x, -half, top), (x, -self.rail, 0))), 1.0)]
        x = along * self.size.width
        y, z = _tangent(self.size.radius, self.height, self.rail)
        return [((((x, y, z), (x, self.rail, 0)), ((x, -y, z), (x, -self.rail, 0))), 1.0)]

    def _against(self, tiedown: Tiedown, path: Path) -> list[tuple[Ends, float]]:
        """Return a tiedown against forward or rearward movement: its anchors lie on the other side of the coil."""
        back = -1.0 if tiedown.pulls is Pull.FORWARD else 1.0
        run = back * self.geometry.run(self.height, tiedown.angle_deg)
        if self.eye is Eye.VERTICAL:
            point_x, reach = 0.0, self.size.radius
        elif self.eye is Eye.CROSSWISE:
            point_x, reach = back * self.size.bore, self.size.width / 2
        else:
            point_x, reach = -back * self.size.width / 2, self.size.bore
            run += point_x
        left: tuple[Point, Point] = ((point_x, reach, self.height), (run, self.rail, 0.0))
        right: tuple[Point, Point] = ((point_x, -reach, self.height), (run, -self.rail, 0.0))
        if path is Path.ACROSS:
            return [((left, right), 1.0)]
        return [((left,), 0.5), ((right,), 0.5)]

    def _along_eye(self, tiedown: Tiedown, path: Path) -> list[tuple[Ends, float]]:
        """Return tiedowns through a lengthwise bore: straight on each side, or on the two diagonals."""
        half, run = self.size.width / 2, self.geometry.run(self.height, tiedown.angle_deg)
        diagonal = tiedown.crossed or path is Path.ACROSS
        found: list[tuple[Ends, float]] = []
        for side in (1, -1):
            rear = -side if diagonal else side
            front_end: tuple[Point, Point] = (
                (half, side * self.size.bore, self.height),
                (half + run, side * self.rail, 0),
            )
            rear_end: tuple[Point, Point] = (
                (-half, rear * self.size.bore, self.height),
                (-half - run, rear * self.rail, 0),
            )
            found.append(((front_end, rear_end), 0.5))
        return found


def _tangent(radius: float, height: float, rail: float) -> tuple[float, float]:
    """Return where a strap from the rail at deck level leaves a round top: the upper tangent's point (y, z)."""
    distance = math.hypot(rail, height)
    if distance <= radius:
        return 0.0, height + radius
    to_centre = math.atan2(height, -rail)
    opening = math.asin(radius / distance)
    length = math.sqrt(distance**2 - radius**2)
    turn = to_centre - opening
    return rail + length * math.cos(turn), length * math.sin(turn)
