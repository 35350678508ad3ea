"""Where one noun phrase ends and the next begins."""

from collections.abc import Sequence

from assistant.understand.phrase import OF_TIEDOWN, Phrase, is_head
from assistant.understand.scan import Piece

_BEFORE_HEAD = frozenset(
    {
        "size",
        "grade",
        "material",
        "metal",
        "unmarked",
        "eye",
        "crossed",
        "direct",
        "doubled",
        "more",
        "fewer",
        "inches",
        "length",
        "weight",
        "nth",
        "over",
        "through",
        "path",
        "pull",
        "place",
        "unknown",
        "filler",
        "fault",
        "thickness",
        "protect",
        "marked",
    }
)
"""What may stand between the beginning of a phrase and its head, with no number between."""
_TAKES_NUMBER = frozenset(
    {"pull", "path", "through", "over", "place", "crossed", "each_way", "unmarked", "protect", "doubled"}
)


_TOLD_BY_ITSELF = frozenset({"timber_in", "wrap_in", "take_up_in", "lip_in", "gap_in", "lead_in"})
"""What is measured and is no size of the noun that stands before it."""


class Bounds:
    """Knows of each piece of a clause whether it begins a phrase, by what the phrase before it has so far."""

    def __init__(self, pieces: Sequence[Piece], words: Sequence[str]) -> None:
        self._pieces = pieces
        self._words = words
        self._singular = False
        self._used: set[int] = set()
        self._cues: list[int] = []
        """Where words stand that say how the next phrase is meant."""
        self._pair = -1
        """Where the second of two like numbers stands."""
        self._now = Phrase()
        self._verb = ""
        self._det = ""
        self._denied = False
        self._vague = -1
        """Where a word stands that makes a weight vague."""
        self._for_each = False
        self._cued = False
        self._apart = False
        """Whether an article or an "and" stood behind what the phrase has so far."""

    def _next(self, at: int, skip: frozenset[str] = frozenset({"filler", "hedge"})) -> Piece | None:
        return next((one for one in self._pieces[at + 1 :] if one.sort not in skip), None)

    def _counts(self, piece: Piece) -> bool:
        return piece.sort == "num" or (piece.sort == "pron" and piece.key == "one")

    def _ahead(self, at: int) -> Piece | None:
        """Return the head that what stands here leads to, with no number and no other noun between."""
        for one in self._pieces[at + 1 :]:
            if is_head(one):
                return one
            if one.sort not in _BEFORE_HEAD and not (one.sort == "prep" and "'of'" in one.names):
                return None
        return None

    def _as_mark(self, at: int) -> bool:
        """Return whether a number is what a mark or a rating says."""
        now = self._now
        before = self._pieces[max(0, at - 5) : at]
        rated = any(one.sort in {"marked", "breaking", "pretension"} for one in before)
        said = rated or any("marknoun" in one.names for one in before)
        if now.head is None and not now.weights:
            return rated
        return now.sort in {"kind", "part", "anytie", "counted"} and (said or now.sort == "part" or bool(now.marks))

    def _opens(self, at: int, piece: Piece) -> bool:
        now = self._now
        if now.empty:
            return False
        return (now.head is not None and self._measures_else(at, piece)) or self._begins(at, piece)

    def _begins(self, at: int, piece: Piece) -> bool:
        now = self._now
        if piece.sort in {"fix", "add", "remove", "swap", "neg", "instead"}:
            return not (piece.sort == "fix" and self._only_named())
        if self._counts(piece):
            return not self._is_coil(piece) and self._number_opens(at)
        if piece.sort == "weight":
            return not self._as_mark(at) and self._weight_opens(at)
        if is_head(piece):
            return now.head is not None or self._not_its(piece)
        if piece.sort == "nth":
            return now.head is not None or bool(now.weights)
        if piece.sort in _BEFORE_HEAD and now.head is not None:
            return self._ahead(at) is not None
        if piece.sort in {"inches", "size", "measure"} and self._measured(piece.sort):
            return True
        if piece.sort == "ref" and piece.key == "all":
            return not (now.head is not None and not now.facts and at + 1 == len(self._pieces))
        return piece.sort == "ref" and piece.key in {"rest", "other", "half", "same"}

    def _weight_opens(self, at: int) -> bool:
        """Return whether a weight that is no mark begins a phrase: it is of a noun ahead, or the noun has its own."""
        now, head = self._now, self._ahead(at)
        if head is not None and head.sort in {"coil", "article", "part"}:
            return bool(now.head or now.weights or now.facts) and not (now.number is not None and now.head is None)
        if now.head is None:
            return bool(now.weights) or any(one.sort in OF_TIEDOWN for one in now.facts)
        return now.sort not in {"coil", "article", "part", "pallet"} or bool(now.weights and now.sort != "coil")

    def _is_coil(self, piece: Piece) -> bool:
        """Return whether a "one" is the coil of which the metal or the eye was told: "the aluminum one"."""
        now = self._now
        named = now.head is None and now.number is None and now.first("metal", "eye") is not None
        return piece.sort == "pron" and piece.key == "one" and named

    def _measures_else(self, at: int, piece: Piece) -> bool:
        """Return whether a measure begins that is no size of the noun before it: "half an inch of crush"."""
        if piece.sort == "measure":
            before = self._pieces[at - 1]
            return piece.key_of("measure") in _TOLD_BY_ITSELF and before.sort not in {"inches", "size", "num"}
        after = self._next(at)
        sized = piece.sort in {"inches", "size"} or self._counts(piece)
        return sized and after is not None and after.key_of("measure") in _TOLD_BY_ITSELF

    def _only_named(self) -> bool:
        """Return whether the phrase so far only names which one: "the second one's actually nineteen six"."""
        now = self._now
        which = all(one.sort == "nth" for one in now.facts)
        return which and not now.weights and now.number in {None, 1} and (bool(now.facts) or now.sort == "coil")

    def _not_its(self, head: Piece) -> bool:
        """Return whether what the phrase has so far is of another noun than the head that stands here."""
        now = self._now
        sorts = {one.sort for one in now.facts}
        coil = head.sort in {"coil", "article", "part"}
        if (now.weights or "eye" in sorts) and not coil:
            return True
        if now.ref in {"them", "all"} and now.facts:
            return True
        runs = sorts & {"pull", "place", "over", "through", "path", "each_way"}
        if runs and now.number is not None:
            return self._apart or (
                now.number > 1 and head.start + 1 == head.end and "kind" in head.names and self._singular
            )
        return bool(runs and self._apart and coil)

    def _measured(self, sort: str) -> bool:
        """Return whether a measure is whole, so that the next is another."""
        sorts = [one.sort for one in self._now.facts]
        told = "measure" in sorts and (bool({"inches", "size"} & {*sorts}) or self._now.number is not None)
        return told and not (sort == "measure" and sorts[-1] != "measure")

    def _number_opens(self, at: int) -> bool:
        """Return whether a number begins a phrase: not where it counts a head told just before it."""
        now, after = self._now, self._next(at)
        before = self._pieces[at - 1] if at else None
        which = bool(now.facts) and now.head is None and all(one.sort in {"place", "nth"} for one in now.facts)
        if which and (
            (now.number is None and self._pieces[at].sort == "pron") or (now.one and not now.weights and now.definite)
        ):
            return False
        if before is not None and "'x'" in before.names:
            return now.number is not None
        if now.number is not None:
            return True
        if now.ref in {"all", "both"} and now.head is None and not now.facts:
            return False  # "all four of them"
        if now.ref in {"other", "rest"} and not now.facts and now.head is None:
            return False
        if (
            now.facts
            and now.facts[-1].sort == "measure"
            and not {"inches", "size", "length"} & {one.sort for one in now.facts}
        ):
            return False
        if after is not None and after.sort == "ref" and after.key == "them":
            return not (now.head is not None or any(one.sort in {"size", "grade"} for one in now.facts))
        if now.head is not None and now.sort in {"kind", "counted"}:
            return (
                after is not None
                and not after.breaks
                and (
                    after.sort in _TAKES_NUMBER
                    or after.sort in {"and", "more"}
                    or is_head(after)
                    or self._ahead(at) is not None
                )
            )
        if (
            now.head is None
            and now.facts
            and self._ahead(at) is None
            and after is None
            and all(one.sort in OF_TIEDOWN for one in now.facts)
        ):
            return False
        return not (now.head is None and now.ref in {"all", "both"} and not now.facts)
