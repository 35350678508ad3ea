"""An article of general freight with its tiedowns, as a rigid block: geometry as told, and as assumed where not."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

from assistant.load.model import Article, Path, Place, Pull, Through, Tiedown
from assistant.securement.coil_group import is_over
from assistant.securement.coil_shape import Geometry
from assistant.securement.rigid_body import Body, Contact
from assistant.securement.rigid_body import Pull as Tension
from assistant.securement.sharing import Held, Piece, named
from assistant.securement.table_reader import Tables
from assistant.securement.wording import counted, pounds

_INCHES = 12.0
"""Inches in a foot."""
_SPAN = {Place.FRONT: (0.0, 0.5), Place.MIDDLE: (-0.25, 0.25), Place.REAR: (-0.5, 0.0), None: (-0.5, 0.5)}
"""Between which shares of the length, from the middle, tiedowns over the top lie."""
_TIPS = "The article is taken as a solid block, its center in the middle; a taller or narrower one tips sooner."

Point = tuple[float, float, float]
Ends = tuple[tuple[Point, Point], ...]


@dataclass(frozen=True)
class _Course:
    """Where one tiedown, or one of a pair, runs; `worth` is how many of the group run there."""

    ends: Ends
    worth: float
    name: str = ""
    """What it is called, where that is not the group's name."""


def block_body(
    piece: Piece, article: Article, *, tables: Tables, on: dt.date, limits: Sequence[float]
) -> tuple[Body, list[str]]:
    """Return an article as a rigid body, and what was assumed.

    Parameters
    ----------
    piece
        What supports and holds it.
    article
        The article, with weight and length told.
    tables, on
        Where friction, assumed lengths and the least strength of a front end structure come from.
    limits
        What one tiedown of each group may bear [lb]: its working load limit or its breaking strength.

    Notes
    -----
    Tiedowns of one make and course are spread evenly over the length, so that one more never moves the others' sum.
    A tiedown whose course was not told is taken as the course that holds least of those it may have, and that is said.
    """
    geometry = Geometry(tables, on)
    base = geometry.length(None, "pallet height") if piece.support.pallet else 0.0
    length = _INCHES * (article.length_ft or 0.0)
    width, height = geometry.length(None, "article width"), geometry.length(None, "article height")
    shape = _Block(length / 2, width / 2, base, base + height, geometry.length(None, "between rails") / 2, geometry)
    geometry.assumed.append(_TIPS)
    friction = geometry.friction(_rests_on(piece))
    contacts = [
        Contact((x, y, base), (0.0, 0.0, 1.0), friction)
        for x in (-shape.half_length, shape.half_length)
        for y in (-shape.half_width, shape.half_width)
    ]
    contacts += _blocked_forward(piece, article, shape, geometry)
    pulls = []
    for held, limit, pretension in _paired(piece.held, limits, geometry):
        for course in shape.courses(held) if held.number else []:
            worth = course.worth * held.part
            pulls.append(Tension(course.name or held.name, course.ends, limit * worth, pretension * worth))
    if any(held.rated.tiedown.pretension_lb is None for held in piece.held):
        geometry.assumed.append("Pretension not told: a tiedown holds only movement that stretches it.")
    body = Body(article.weight_lb or 0.0, (0.0, 0.0, shape.middle), tuple(contacts), tuple(pulls))
    return body, list(dict.fromkeys(geometry.assumed))


def _paired(held: Sequence[Held], limits: Sequence[float], geometry: Geometry) -> list[tuple[Held, float, float]]:
    """Return groups with limit and pretension of each tiedown, odd ones of which half are on each side in pairs.

    An odd one is left out, for nobody told where it is; two odd ones of different makes are one on each side, and both
    count as the weaker.
    """
    groups = [(one, limit, one.rated.tiedown.pretension_lb or 0.0) for one, limit in zip(held, limits, strict=True)]
    for split in (Path.SAME_SIDE, Path.DIRECT):
        odd = [group for group in groups if group[0].number % 2 and _split(group[0].rated.tiedown) is split]
        odd = sorted((group for group in odd if group[0].part == 1), key=lambda group: -group[1])
        for stronger, weaker in zip(odd[::2], odd[1::2], strict=False):
            for group in (stronger, weaker):
                groups[groups.index(group)] = (replace(group[0], number=group[0].number - 1), *group[1:])
            groups.append((replace(weaker[0], number=2), weaker[1], min(stronger[2], weaker[2])))
            one, other = (named(group[0].rated.tiedown, 1) for group in (stronger, weaker))
            geometry.assumed.append(f"{one} and {other}: one on each side, both as strong as the weaker.".capitalize())
    return groups


def _split(tiedown: Tiedown) -> Path | None:
    """Return the course of which half are on each side, or at each end, because nobody told where; None for others."""
    if tiedown.through is Through.EYE or (tiedown.pulls not in {None, Pull.OVER} and not is_over(tiedown)):
        return None
    loop, direct = tiedown.path is Path.SAME_SIDE, tiedown.path is Path.DIRECT and not is_over(tiedown)
    return tiedown.path if loop or direct else None


def _rests_on(piece: Piece) -> str:
    """Return the pair whose friction counts: of what was told, the lower."""
    if piece.support.timbers or piece.support.pallet:
        return "article on timber"
    return "mats" if piece.support.mats else "article on deck"


def _blocked_forward(piece: Piece, article: Article, shape: "_Block", geometry: Geometry) -> list[Contact]:
    """Return what blocks an article forward, as strong as it was told or as 393.114(c) asks of it at the least.

    References
    ----------
    49 CFR 393.114(b)(1), (c)(1)-(2).
    """
    front, tables, on = piece.front, geometry.tables, geometry.on
    if article.blocked_forward is not True:
        return []
    if front and front.damaged:
        geometry.assumed.append("The front end structure was told as damaged: it is taken to hold nothing.")
        return []
    if front and front.rated_lb is not None:
        limit, name = front.rated_lb / piece.of_pieces, "the front end structure"
        geometry.assumed.append(f"The front end structure is taken to bear {pounds(limit)} of {piece.name}, as rated.")
    else:
        tall = front is None or front.height_ft is None or front.height_ft >= tables.value("front_tall", on=on).number
        row = tables.value("front_share", on=on, height="tall" if tall else "low")
        limit, name = row.number * (article.weight_lb or 0.0), "what blocks it forward"
        geometry.assumed.append(
            f"What blocks {piece.name} forward is taken to bear {row.number:g} of its weight, the least that a front "
            f"end structure must ({row.ref}; {row.mark}); its rating was not told."
        )
    high = front.height_ft if front and front.height_ft else tables.value("front_height", on=on).number
    at = min((_INCHES * high + shape.base) / 2, shape.middle)
    return [
        Contact((shape.half_length, y, at), (-1.0, 0.0, 0.0), 0.0, limit / 2, name)
        for y in (-shape.half_width / 2, shape.half_width / 2)
    ]


@dataclass(frozen=True)
class _Block:
    """Half length and half width, heights of base and top above the deck, half the distance between the rails [in]."""

    half_length: float
    half_width: float
    base: float
    top: float
    rail: float
    geometry: Geometry

    @property
    def middle(self) -> float:
        """Height of the centre above the deck [in]."""
        return (self.base + self.top) / 2

    def courses(self, held: Held) -> list[_Course]:
        """Return where the tiedowns of a group run; none where they hold nothing that is certain."""
        tiedown, name = held.rated.tiedown, held.name
        if tiedown.through is Through.EYE:
            self._note(f"{name}: an article has no eye; they are taken to hold nothing.")
            return []
        if split := _split(tiedown):
            return self._loops(held) if split is Path.SAME_SIDE else self._at_both_ends(held)
        if is_over(tiedown):
            return self._over(held)
        if tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}:
            return self._along(tiedown, held.number, 1.0 if tiedown.pulls is Pull.FORWARD else -1.0, name)
        if tiedown.pulls in {Pull.LEFT, Pull.RIGHT}:
            return self._over(held) if tiedown.path is Path.ACROSS else self._sideways(tiedown, held.number)
        over = f"{counted(held.number, str(tiedown.kind))} over the top"
        if tiedown.path is None:
            self._note(f"{name}: taken over the top, from side to side.")
        return [_Course(one.ends, one.worth, over) for one in self._over(held)]

    def _note(self, sentence: str) -> None:
        self.geometry.assumed.append(sentence[0].upper() + sentence[1:])

    def _stations(self, number: int, place: Place | None = None) -> list[float]:
        """Return where so many tiedowns lie along the article: evenly spaced in their part of its length."""
        first, last = (2 * self.half_length * share for share in _SPAN[place])
        return [first + (last - first) * (index + 0.5) / number for index in range(number)]

    def _over(self, held: Held) -> list[_Course]:
        tiedown, y, top, rail = held.rated.tiedown, self.half_width, self.top, self.rail
        if tiedown.crossed:
            x = self.half_length / 2
            return [
                _Course((((x, s * y, top), (x, s * rail, 0.0)), ((-x, -s * y, top), (-x, -s * rail, 0.0))),
                        held.number / 2)
                for s in (1.0, -1.0)
            ]  # fmt: skip
        self._note("Tiedowns over the top are taken as evenly spaced along the article.")
        return [
            _Course((((x, y, top), (x, rail, 0.0)), ((x, -y, top), (x, -rail, 0.0))), 1.0)
            for x in self._stations(held.number, tiedown.place)
        ]

    def _along(self, tiedown: Tiedown, number: int, towards: float, name: str) -> list[_Course]:
        """Return tiedowns against forward (`towards` 1) or rearward (-1) movement."""
        run = towards * self.geometry.run(self.middle, tiedown.angle_deg)
        if tiedown.path is Path.ACROSS:
            # Round the end that leads, back on either side: one tension in both legs.
            x = towards * self.half_length
            legs = [((x, s * self.half_width, self.middle), (x - run, s * self.rail, 0.0)) for s in (1.0, -1.0)]
            return [_Course(tuple(legs), float(number))]
        if tiedown.path is None:
            self._note(f"{name}: course not told; reckoned as from the article's end, one leg each.")
        if number % 2:
            self._note(f"{name}: an odd one is reckoned as half on each side.")
        x = -towards * self.half_length
        return [
            _Course((((x, s * self.half_width, self.middle), (x - run, s * self.rail, 0.0)),), number / 2)
            for s in (1.0, -1.0)
        ]

    def _at_both_ends(self, held: Held) -> list[_Course]:
        """Return direct tiedowns of which the end was not told: half at each, an odd one left out."""
        half, kind = held.number // 2, str(held.rated.tiedown.kind)
        self._note(f"{held.name}: taken as half at each end; an odd one is not counted.")
        found = []
        for towards, end in ((1.0, "rear"), (-1.0, "front")):
            name = f"{counted(half, kind)} at the {end} end"
            legs = self._along(held.rated.tiedown, half, towards, name) if half else []
            found += [_Course(one.ends, one.worth, name) for one in legs]
        return found

    def _sideways(self, tiedown: Tiedown, number: int) -> list[_Course]:
        """Return tiedowns against movement to one side: one leg each, to the other rail."""
        s = -1.0 if tiedown.pulls is Pull.LEFT else 1.0
        return [
            _Course((((x, s * self.half_width, self.middle), (x, s * self.rail, 0.0)),), 1.0)
            for x in self._stations(number)
        ]

    def _loops(self, held: Held) -> list[_Course]:
        """Return loops round the article, back to the side they come from: half on each side, an odd one left out."""
        half = held.number // 2
        self._note(f"{held.name}: taken round the article at half its height, half of them on each side.")
        if held.number % 2:
            self._note(f"{held.name}: the side of an odd one was not told, so it is not counted.")
        x = self.half_length
        return [
            _Course(
                tuple(((end, -s * self.half_width, self.middle), (end, s * self.rail, 0.0)) for end in (x, -x)),
                float(half),
            )
            for s in ((1.0, -1.0) if half else ())
        ]
