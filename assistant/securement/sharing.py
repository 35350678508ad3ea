"""Which tiedowns hold which piece of a load, for the statics: told, or shared out by a rule that is said."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.load.model import Article, Coil, Eye, FrontStructure, Load, Path, Pull, Row, Support, Through, Tiedown
from assistant.securement.coil_group import is_over
from assistant.securement.finding import Rated
from assistant.securement.wording import counted, pounds

_MOST_PIECES = 6
"""Different pieces that are worked out one by one; more would keep the driver waiting (our choice)."""
_ARTICLE = "article"
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
_ALONE = "Or tell me one piece alone, with its own tiedowns."

Cargo = Coil | Article


@dataclass(frozen=True, slots=True)
class Held:
    """Tiedowns of one make and course on one piece.

    `number` of them hold it, each with the share `part` of its limit, below 1 where it holds a whole row.
    """

    rated: Rated
    number: int
    part: float = 1.0

    @property
    def name(self) -> str:
        """What they are called in an answer: "two chains against forward movement"."""
        words = named(self.rated.tiedown, self.number)
        return words if self.part == 1 else f"its share of {words}"


@dataclass(frozen=True, slots=True)
class Piece:
    """One coil or article with what supports it and holds it; `of_pieces` share a front end structure's rating."""

    name: str
    cargo: Cargo
    held: tuple[Held, ...]
    support: Support
    front: FrontStructure | None = None
    of_pieces: int = 1


def why_not_shared(load: Load) -> str:
    """Return why it is not plain which tiedowns hold which piece, and what to say; empty where it is plain."""
    kinds = _kinds(load)
    if len({_alike(item) for item in _cargo(load)}) > _MOST_PIECES:
        return f"Movement is worked out of at most {_MOST_PIECES} different pieces. Tell me the heaviest alone."
    unplain = [one for one in load.tiedowns if not one.damaged and _owner(one, kinds) is None]
    if not unplain:
        return ""
    remedy = "Say which go through the coil's eye." if _lying(kinds) else ""
    what = named(unplain[0], sum(one.count for one in unplain if _one(one) == _one(unplain[0])))
    reason = f"Different kinds of cargo are on deck, and it was not told which of them this holds: {what}."
    return " ".join(part for part in (reason, remedy, _ALONE) if part)


def share_out(load: Load, rated: Sequence[Rated]) -> tuple[tuple[Piece, ...], list[str]]:
    """Return the different pieces of a load with what holds each, and how that was shared out.

    Parameters
    ----------
    load
        A load for which `why_not_shared` is empty.
    rated
        Its tiedown groups.

    Notes
    -----
    Pieces of one kind have equal numbers of each make and course of tiedown. What does not divide evenly is left out:
    the piece with fewest governs. One over a transverse row holds each piece of the row alike. Beside coils with eyes
    crosswise, a tiedown over the top holds the other cargo.
    """
    kinds = _kinds(load)
    pieces: list[Piece] = []
    said: list[str] = []
    for kind in kinds:
        items = [item for item in _cargo(load) if _kind(item) == kind]
        total = sum(item.count for item in items)
        own = _merged([one for one in rated if not one.tiedown.damaged and _owner(one.tiedown, kinds) == kind])
        held = tuple(_share(one, number, total, load.row, kind) for one, number in own)
        even = all(one.part < 1 or one.number * total == number for one, (_, number) in zip(held, own, strict=True))
        alike = Counter[Cargo]()
        for item in items:
            alike[_alike(item)] += item.count
        for cargo, number in alike.items():
            name = _piece_name(load, cargo, number, even=even, alone=len(alike) == 1)
            support = load.support if isinstance(cargo, Coil) or not load.coils else Support()
            pieces.append(Piece(name, cargo, held, support, load.front, _blocked_pieces(load)))
        if total > 1:
            said += _said(held, [number for _, number in own], total, _noun(items), even=even)
    if len(kinds) > 1 and any(is_over(one.tiedown) for one in rated):
        others = [piece.name for piece in pieces if _kind(piece.cargo) is not Eye.CROSSWISE]
        whom = others[0] if len(others) == 1 else "the other cargo"
        said.append(f"What goes over the top is taken to hold {whom}, and no coil with its eye crosswise.")
    return tuple(pieces), said


def named(tiedown: Tiedown, number: int) -> str:
    """Return what so many tiedowns are called by their number, kind and what they do."""
    if tiedown.pulls in _AGAINST:
        how = _AGAINST[tiedown.pulls]
    elif tiedown.through is Through.EYE:
        how = "through the eye"
    elif is_over(tiedown):
        how = "over the top"
    else:
        how = _COURSES[tiedown.path]
    return f"{counted(number, str(tiedown.kind))} {how}"


_AGAINST: dict[Pull | None, str] = {
    Pull.FORWARD: "against forward movement",
    Pull.REARWARD: "against rearward movement",
    Pull.LEFT: "against movement to the left",
    Pull.RIGHT: "against movement to the right",
    Pull.OVER: "over the top",
}
_COURSES = {
    Path.DIRECT: "to its ends",
    Path.SAME_SIDE: "back to the same side",
    Path.ACROSS: "across",
    None: "whose course was not told",
}


def _cargo(load: Load) -> tuple[Cargo, ...]:
    return (*load.coils, *load.articles)


def _kind(item: Cargo) -> Eye | str | None:
    return item.eye if isinstance(item, Coil) else _ARTICLE


def _kinds(load: Load) -> tuple[Eye | str | None, ...]:
    return tuple(dict.fromkeys(_kind(item) for item in _cargo(load)))


def _alike(item: Cargo) -> Cargo:
    return item.model_copy(update={"count": 1})


def _one(tiedown: Tiedown) -> Tiedown:
    return tiedown.model_copy(update={"count": 1})


def _lying(kinds: Sequence[Eye | str | None]) -> list[Eye | str | None]:
    return [kind for kind in kinds if kind in {Eye.CROSSWISE, Eye.LENGTHWISE}]


def _owner(tiedown: Tiedown, kinds: Sequence[Eye | str | None]) -> Eye | str | None:
    """Return which kind of cargo a tiedown holds; None where what was told does not show it."""
    if len(kinds) == 1:
        return kinds[0]
    lying = _lying(kinds)
    if tiedown.through is Through.EYE:
        return lying[0] if len(lying) == 1 else None
    if tiedown.path is Path.DIRECT and not is_over(tiedown):
        return _ARTICLE if _ARTICLE in kinds else None
    others = [kind for kind in kinds if kind is not Eye.CROSSWISE]
    if is_over(tiedown) and Eye.CROSSWISE in kinds and len(others) == 1:
        return others[0]
    return None


def _merged(rated: Sequence[Rated]) -> list[tuple[Rated, int]]:
    """Return tiedowns told in several breaths as one group where all else that was told of them is the same."""
    found: dict[tuple[object, ...], tuple[Rated, int]] = {}
    for one in rated:
        key = (_one(one.tiedown), one.whole and _one(one.whole), one.wll_lb, one.path, one.governs)
        first, number = found.get(key, (one, 0))
        found[key] = (first, number + one.tiedown.count)
    return list(found.values())


def _share(rated: Rated, number: int, total: int, row: Row | None, kind: Eye | str | None) -> Held:
    if total > 1 and row is Row.TRANSVERSE and _spans(rated.tiedown, kind):
        return Held(rated, number, 1 / total)
    return Held(rated, number // total)


def _spans(tiedown: Tiedown, kind: Eye | str | None) -> bool:
    """Tell whether a tiedown goes over a whole transverse row: over the top, and round a row of upright coils."""
    round_row = kind is Eye.VERTICAL and tiedown.pulls in {Pull.FORWARD, Pull.REARWARD}
    return kind is not Eye.CROSSWISE and tiedown.path in {None, Path.ACROSS} and (is_over(tiedown) or round_row)


def _blocked_pieces(load: Load) -> int:
    """Return how many pieces press against what blocks them forward; one where none was told to."""
    coils = sum(coil.count for coil in load.coils) if load.support.blocked_forward else 0
    return max(1, coils + sum(article.count for article in load.articles if article.blocked_forward))


def _noun(items: Sequence[Cargo]) -> str:
    nouns = {_name(item) for item in items}
    return nouns.pop() if len(nouns) == 1 else "piece"


def _name(item: Cargo) -> str:
    return "coil" if isinstance(item, Coil) else item.name


def _piece_name(load: Load, cargo: Cargo, number: int, *, even: bool, alone: bool) -> str:
    noun = _name(cargo)
    like_named = [item for item in _cargo(load) if _name(item) == noun]
    if sum(item.count for item in like_named) == 1:
        return f"the {noun}"
    if alone and len({_alike(item) for item in like_named}) == 1:
        return f"each {noun}" if even else f"the {noun} with fewest tiedowns"
    if number > 1:
        return f"each {pounds(cargo.weight_lb or 0)} {noun}"
    place = 0
    for item in like_named:
        if _alike(item) == cargo:
            break
        place += item.count
    ordinal = _ORDINALS[place] if place < len(_ORDINALS) else f"{place + 1}th"
    return f"the {ordinal} {noun}"


def _said(held: Sequence[Held], told: Sequence[int], total: int, noun: str, *, even: bool) -> list[str]:
    """Return the sentences about how tiedowns were shared out over `total` pieces."""
    said = [f"Each {noun} is reckoned by itself, as if it stood in the middle of the deck."]
    if any(one.part < 1 for one in held):
        said.append(
            f"A tiedown over the row is taken to hold each {noun} of it alike; one that stands lower is not held."
        )
    if not held:
        return said
    if even:
        return [*said, f"Each {noun} is reckoned with its share: {', '.join(one.name for one in held)}."]
    shares = [
        one.name if one.part < 1 else f"{_how_many(one.number)} of {named(one.rated.tiedown, number)}"
        for one, number in zip(held, told, strict=True)
    ]
    return [
        *said,
        f"The tiedowns do not divide by {total}: the {noun} with fewest is reckoned, with {', '.join(shares)}.",
    ]


def _how_many(number: int) -> str:
    return counted(number, "tiedown").split()[0] if number else "none"
