"""What was seen: a fault, and the part that has it. Found first, so that no other fact is made of its words."""

from collections.abc import Sequence
from typing import NamedTuple

from assistant.understand.scan import Piece


class Observation(NamedTuple):
    """One thing seen, by its name among the observations, and the pieces it was told with.

    `name` is "" where it is not known what has the fault. `many` is how many have it where that was told.
    """

    name: str
    fault: str
    places: frozenset[int]
    denied: bool = False
    fixed: bool = False
    kind: str = ""
    many: int | None = None


_DAMAGED = {
    "chain": "damaged chain",
    "strap": "damaged strap",
    "wire rope": "damaged chain",
    "rope": "damaged strap",
    "steel strap": "damaged strap",
}
_BEARERS = (
    "part",
    "kind",
    "anytie",
    "eyeword",
    "counted",
    "cradle",
    "pallet",
    "mats",
    "coil",
    "papers",
    "deck",
    "marknoun",
    "article",
    "front",
    "protect",
)
_PARTS = {
    ("front", "damaged"): "damaged front",
    ("front", "loose"): "damaged front",
    ("front", "missing"): "damaged front",
    ("hook", "damaged"): "damaged hook",
    ("hook", "loose"): "loose tiedown",
    ("link", "damaged"): "damaged chain",
    ("binder", "damaged"): "damaged binder",
    ("binder", "loose"): "loose tiedown",
    ("binder", "bottomed out"): "binder bottomed out",
    ("binder", "stuck"): "damaged binder",
    ("binder", "slick"): "damaged binder",
    ("binder", "missing"): "missing binder",
    ("winch", "damaged"): "damaged anchor",
    ("winch", "stuck"): "damaged anchor",
    ("winch", "loose"): "loose tiedown",
    ("anchor", "damaged"): "damaged anchor",
    ("anchor", "loose"): "damaged anchor",
    ("hook", "stuck"): "damaged hook",
    ("hook", "sticks out"): "damaged hook",
    ("hook", "gap"): "damaged hook",
    ("band", "damaged"): "broken band",
    ("band", "missing"): "broken band",
    ("band", "loose"): "broken band",
    ("band", "sticks out"): "broken band",
    ("wrap", "loose"): "lip",
    ("wrap", "sticks out"): "lip",
    ("wrap", "damaged"): "damaged coil",
    ("wrap", "shifted"): "lip",
    ("wrap", "telescoped"): "telescoped",
    ("wrap", "slick"): "slick surface",
    ("edge", "loose"): "lip",
    ("edge", "sticks out"): "lip",
    ("edge", "damaged"): "damaged coil",
    ("inner wrap", "loose"): "inner lip",
    ("inner wrap", "sticks out"): "inner lip",
    ("inner wrap", "damaged"): "inner lip",
    ("inner wrap", "telescoped"): "telescoped",
    ("inner wrap", "shifted"): "inner lip",
    ("threads", "missing"): "binder bottomed out",
    ("link", "knot"): "knot",
    ("protector", "damaged"): "no edge protection",
    ("protector", "shifted"): "no edge protection",
    ("protector", "loose"): "no edge protection",
}
_ALONE = {
    "telescoped": "telescoped",
    "egged": "egged",
    "knot": "knot",
    "bottomed out": "binder bottomed out",
    "gap": "gap at the support",
}
"""Faults that only one thing can have."""
_SUPPORT = {
    "slick": "slick surface",
    "damaged": "damaged support",
    "loose": "damaged support",
    "shifted": "damaged support",
    "stuck": "damaged support",
    "gap": "gap at the support",
}
_DECK = {"slick": "slick surface", "damaged": "damaged deck", "loose": "damaged deck"}
_OF_SORT = {
    "eyeword": {
        "slick": "wet eye",
        "damaged": "damaged coil",
        "loose": "inner lip",
        "sticks out": "inner lip",
    },
    "coil": {
        "loose": "lip",
        "sticks out": "lip",
        "damaged": "damaged coil",
        "shifted": "shifted cargo",
        "slick": "slick surface",
        "differ": "paper and tag differ",
        "gap": "gap at the support",
    },
    "counted": _SUPPORT,
    "cradle": _SUPPORT,
    "mats": _SUPPORT,
    "pallet": {"damaged": "broken pallet", "loose": "broken pallet", "slick": "slick surface"},
    "deck": _DECK,
    "ondeck": _DECK,
    "papers": {"differ": "paper and tag differ"},
    "marknoun": {"differ": "paper and tag differ"},
    "article": {
        "shifted": "shifted cargo",
        "loose": "shifted cargo",
        "slick": "slick surface",
        "damaged": "damaged cargo",
    },
}
"""What a fault is called of each sort of thing."""
_NEAR = 7
"""So many pieces may stand between a fault and what has it."""


def observations(pieces: Sequence[Piece], kind_before: str = "") -> list[Observation]:
    """Return what was seen in one clause.

    Parameters
    ----------
    pieces
        The clause.
    kind_before
        The kind of tiedown last spoken of, for "one of them is bent".
    """
    found: list[Observation] = []
    taken: set[int] = set()
    for place, piece in enumerate(pieces):
        if place in taken:
            continue
        if piece.sort == "part" and piece.key in {"lip", "inner lip"}:
            one = _lip(pieces, place)
        elif "kind" in piece.names and (edge := _on_edge(pieces, place)):
            one = edge
        elif piece.sort == "fault":
            one = _fault(pieces, place, kind_before, taken)
        elif piece.sort == "fixed" and not any(
            one.sort == "fault" or one.key_of("part") in {"lip", "inner lip"} for one in pieces
        ):
            one = _mended(pieces, place)
        else:
            continue
        found.append(one)
        taken |= one.places
    return found


def _on_edge(pieces: Sequence[Piece], place: int) -> Observation | None:
    """Return that a tiedown lies on an edge, where nothing is told to lie between."""
    for at in range(place + 1, min(place + 6, len(pieces))):
        piece = pieces[at]
        if (
            piece.key_of("part") == "edge"
            and piece.names.isdisjoint({"'corner'", "'corners'"})
            and any(one.sort == "prep" or "hold" in one.names for one in pieces[place + 1 : at])
        ):
            return Observation(
                "tiedown on an edge", "edge", frozenset(range(place, at + 1)), kind=pieces[place].key_of("kind")
            )
        if piece.sort in {"num", "and", "over", "through", "path", "pull", "protect"}:
            return None
    return None


def _denied(pieces: Sequence[Piece], place: int, since: int) -> int | None:
    """Return where a denial of what stands at a place is, none between it and what has it."""
    for at in range(place - 1, max(since, place - 6) - 1, -1):
        if "neg" in pieces[at].names:
            return at
        if pieces[at].sort in {"num", "weight", "and", "but"}:
            return None
    return None


def _lip(pieces: Sequence[Piece], place: int) -> Observation:
    denied = _denied(pieces, place, 0)
    fixed = next((at for at, piece in enumerate(pieces) if piece.sort == "fixed"), None)
    faults = {at for at, piece in enumerate(pieces) if piece.sort == "fault" and abs(at - place) < _NEAR}
    ends = {at for at in (denied, fixed) if at is not None}
    return Observation(
        pieces[place].key, "lip", frozenset({place, *ends, *faults}), denied is not None, fixed is not None
    )


def _fault(pieces: Sequence[Piece], place: int, kind_before: str, taken: set[int]) -> Observation:
    fault = pieces[place].key_of("fault")
    bearer = _bearer(pieces, place, taken)
    fixed = next((at for at, piece in enumerate(pieces) if piece.sort == "fixed"), None)
    denied = _denied(pieces, place, 0)
    places = {at for at in (place, denied, fixed) if at is not None}
    kind, name, count = "", _ALONE.get(fault, ""), None
    if bearer is not None:
        places.add(bearer)
        borne = pieces[bearer]
        if not name:
            name, kind = _named(borne, fault)
        count = _count(pieces, bearer, places)
        if "part" in borne.names:
            count = _owner(pieces, place, bearer, places) or count
    elif not name:
        kind, of_them = _of_them(pieces, place, kind_before, places)
        if of_them:
            name = (
                _DAMAGED.get(kind, "")
                if fault in {"damaged", "missing"}
                else "loose tiedown"
                if fault == "loose"
                else ""
            )
            count = _count(pieces, min(places), places)
        elif fault == "slick":
            name = "slick surface"
        elif fault == "differ":
            name = "paper and tag differ"
        elif fault == "shifted" and any("pron.it" in piece.names for piece in pieces):
            name = "shifted cargo"
    return Observation(name, fault, frozenset(places), denied is not None, fixed is not None, kind, count)


def _bearer(pieces: Sequence[Piece], place: int, taken: set[int]) -> int | None:
    """Return what has the fault: a part before a tiedown, the nearest of each."""
    best: tuple[int, int] | None = None
    for at, piece in enumerate(pieces):
        if at == place or at in taken or abs(at - place) > _NEAR or not _bears(piece):
            continue
        if piece.key_of("part") == "edge" and any("kind" in one.names for one in pieces):
            continue  # "the strap has a cut on the edge"
        between = pieces[min(at, place) + 1 : max(at, place)]
        if any(one.sort in {"num", "weight"} and at > place for one in between):
            continue
        part = 0 if "part" in piece.names else 4
        distance = abs(at - place) + part + (1 if at > place + 2 else 0)
        if best is None or distance < best[0]:
            best = (distance, at)
    return best[1] if best else None


def _bears(piece: Piece) -> bool:
    return any(sort in piece.names for sort in _BEARERS) or any("eyeword" in part.names for part in piece.parts)


def _named(borne: Piece, fault: str) -> tuple[str, str]:
    """Return what a fault of a thing is called, and the kind of tiedown that has it."""
    if "part" in borne.names:
        part = borne.key_of("part")
        return part if part in {"lip", "inner lip"} else _PARTS.get((part, fault), ""), ""
    if "kind" in borne.names or "anytie" in borne.names:
        kind = borne.key_of("kind")
        if fault in {"loose", "shifted"}:
            return "loose tiedown", kind
        return _DAMAGED.get(kind, "damaged chain") if fault == "damaged" else "", kind
    eye = "eyeword" in borne.names or any("eyeword" in part.names for part in borne.parts)
    return _OF_SORT.get("eyeword" if eye else borne.sort, {}).get(fault, ""), ""


def _count(pieces: Sequence[Piece], bearer: int, places: set[int]) -> int | None:
    """Return how many have it: "two of the chains are loose", "one of my chains has a bent link"."""
    for at in range(bearer - 1, max(-1, bearer - 5), -1):
        piece = pieces[at]
        if piece.sort == "num" or "pron.one" in piece.names:
            places |= set(range(at, bearer))
            return int(piece.value) if piece.sort == "num" else 1
        if piece.sort not in {
            "det",
            "of",
            "ref",
            "pron",
            "size",
            "grade",
            "nth",
            "filler",
            "more",
            "unmarked",
            "crossed",
            "metal",
            "fault",
        }:
            return None
    return None


_OF_COIL = frozenset({"band", "wrap", "inner wrap"})
"""Parts that no tiedown has."""


def _owner(pieces: Sequence[Piece], place: int, bearer: int, places: set[int]) -> int | None:
    """Take the tiedown that has the part along: "one of the chains has a bent link", "the hook on that chain"."""
    if pieces[bearer].key_of("part") in _OF_COIL:
        return None
    for at, piece in enumerate(pieces):
        if "kind" in piece.names and at not in {place, bearer} and min(abs(at - place), abs(at - bearer)) < _NEAR:
            between = pieces[min(at, bearer, place) + 1 : max(at, bearer, place)]
            if not any(one.sort in {"weight", "grade", "pull", "over", "through", "and"} for one in between):
                places.add(at)
                return _count(pieces, at, places)
    return None


def _of_them(pieces: Sequence[Piece], place: int, kind_before: str, places: set[int]) -> tuple[str, bool]:
    """Return the kind spoken of before, where "one of them", "they" or "two" has the fault."""
    for at, piece in reversed(list(enumerate(pieces[:place]))):
        if piece.names & {"ref", "pron.them", "pron.one", "num"} and kind_before:
            places.add(at)
            return kind_before, True
    return "", False


def _mended(pieces: Sequence[Piece], place: int) -> Observation:
    """Return what was mended: the part or the tiedown that is named beside the word."""
    named = [
        at
        for at, piece in enumerate(pieces)
        if any(sort in piece.names for sort in ("part", "kind", "coil", "counted", "pallet", "papers"))
    ]
    places = frozenset({place, *named[:1]})
    piece = pieces[named[0]] if named else None
    name = (piece.key_of("part") or piece.key_of("kind") or piece.key_of("counted") or piece.sort) if piece else ""
    return Observation(name, "fixed", places, fixed=True)
