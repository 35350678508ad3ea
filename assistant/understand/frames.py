"""Questions as frames: what is asked, and about which noun phrase. The same noun phrases serve as where something is told."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from assistant.phrase.slots import Length, Weight
from assistant.phrase.tokens import Token
from assistant.understand.clauses import Act, Clause
from assistant.understand.phrases import Phrase
from assistant.understand.scan import Piece


class Asked(NamedTuple):
    """What is asked or ordered, with the values that it is asked of, and where it was said."""

    name: str
    values: dict[str, Any]
    start: int
    end: int


def fixed(clause: Clause) -> Piece | None:
    """Return the fixed question or order that a clause is, if it is one."""
    return next((piece for piece in clause.pieces if piece.key_of("fixed")), None)


_RATED = frozenset({"marked", "marknoun"})
_GOOD = frozenset({"good", "rated", "hold", "holds", "worth", "rating", "wll", "limit", "count", "counts", "handle", "take", "carry", "stand", "strong"})


def frame(clause: Clause, gathered: Sequence[Phrase], tokens: Sequence[Token]) -> Asked | None:
    """Return what a clause asks, if its words make a question that is known.

    Parameters
    ----------
    clause
        A clause that asks.
    gathered
        Its noun phrases.
    tokens
        The words of the utterance.
    """
    words = [token.word for token in tokens[clause.start : clause.end]]
    tie = next((phrase for phrase in gathered if phrase.sort in {"kind", "anytie"} or _made(phrase)), None)
    if words[:2] == ["how", "many"] or words[:3] == ["how", "much", "more"] or {"how", "many"} <= set(words):
        return _how_many(clause, gathered, tie)
    if tie is not None and (_GOOD & set(words) or any(piece.sort in _RATED for piece in clause.pieces)):
        return _rating(clause, tie)
    return None


def _made(phrase: Phrase) -> bool:
    return phrase.head is None and any(piece.sort == "grade" for piece in phrase.facts)


def _made_of(tie: Phrase) -> dict[str, Any]:
    values: dict[str, Any] = {}
    if tie.head is not None and tie.head.key_of("kind"):
        values["kind"] = tie.head.key_of("kind")
    for piece in tie.facts:
        if piece.sort in {"size", "grade", "material"}:
            values[piece.sort] = piece.key if piece.sort in {"grade", "material"} else float(piece.value)
        elif piece.sort == "inches" and isinstance(piece.value, Length) and piece.value.parts[0][1] == "inch":
            values["size"] = piece.value.parts[0][0]
        elif piece.sort == "unmarked":
            values["unmarked"] = True
    limits = [mark.value.pounds for mark in tie.marks if mark.sort == "weight" and isinstance(mark.value, Weight)]
    return values | ({"limit": limits[0]} if limits else {})


def _how_many(clause: Clause, gathered: Sequence[Phrase], tie: Phrase | None) -> Asked:
    values = _made_of(tie) if tie else {}
    lengths = [piece.value for phrase in gathered for piece in phrase.facts if piece.sort == "length" and isinstance(piece.value, Length)]
    if lengths:
        values["length"] = lengths[0]
    if "kind" in values:
        values["kinds"] = values["kind"]
    return Asked("how_many" if "kind" in values else "how_many_any", values, clause.start, clause.end)


def _rating(clause: Clause, tie: Phrase) -> Asked:
    return Asked("rating", _made_of(tie), clause.start, clause.end)


_MINE = frozenset({"my"})
_RUN = frozenset({"run", "carry", "use"})


def gear(clause: Clause, gathered: Sequence[Phrase], tokens: Sequence[Token]) -> Asked | None:
    """Return what a clause tells of the driver's own gear: "my chains are half inch grade seventy"."""
    words = [token.word for token in tokens[clause.start : clause.end] if token.word not in {"all", "so", "okay", "and"}]
    if clause.act is not Act.TELL or not words or len(gathered) != 1:
        return None
    (phrase,) = gathered
    mine = words[0] in _MINE or (words[0] in {"set", "change", "make", "switch", "put"} and words[1:2] == ["my"])
    runs = words[0] in {"i", "we"} and words[1:2] and words[1] in _RUN
    if not (mine or runs) or phrase.number is not None or phrase.denied or phrase.weights:
        return None
    if phrase.sort == "part" and phrase.head is not None and phrase.head.key == "binder":
        limits = [mark.value.pounds for mark in phrase.marks if mark.sort == "weight"]
        return Asked("gear_binders", {"part": "binder_lb", "limit": limits[0]}, clause.start, clause.end) if limits else None
    run = {piece.sort for piece in phrase.facts} & {"pull", "path", "over", "through", "crossed", "place", "fault", "protect", "each_way", "doubled"}
    if phrase.sort not in {"kind", ""} or run or (mine and phrase.sort != "kind"):
        return None
    values = _made_of(phrase)
    if not values.keys() - {"kind", "material"}:
        return None
    if values.get("unmarked"):
        return Asked("gear_unmarked", {"kinds": values.get("kind", "chain")}, clause.start, clause.end)
    return Asked("gear", values, clause.start, clause.end)
