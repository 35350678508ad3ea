"""Noun phrases as bags: a head, its number, and what is told of it, before or behind, in any order."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from assistant.phrase.slots import Weight
from assistant.understand.lexicon import Sense
from assistant.understand.scan import Piece

HEADS = ("kind", "anytie", "coil", "article", "counted", "mats", "cradle", "pallet", "part")
"""Nouns that can bear a number or a fact."""
OF_TIEDOWN = frozenset({"size", "grade", "material", "thickness", "pull", "path", "through", "over", "crossed", "doubled", "unmarked",
                        "protect", "each_way", "adjustable", "inches"})  # fmt: skip
OF_COIL = frozenset({"eye", "metal", "row", "weight", "nth"})
_BEFORE_HEAD = frozenset({"size", "grade", "material", "metal", "unmarked", "eye", "crossed", "direct", "doubled", "more", "fewer", "inches", "length", "weight",
                          "nth", "over", "through", "path", "pull", "place", "unknown", "filler", "fault", "thickness", "protect", "marked"})  # fmt: skip
"""What may stand between the beginning of a phrase and its head, with no number between."""
_TAKES_NUMBER = frozenset(
    {"pull", "path", "through", "over", "place", "crossed", "each_way", "unmarked", "protect", "doubled"}
)


ROLES = frozenset({"filler", "det", "prep", "cop", "verb", "and", "have", "who", "of", "hedge", "weigh", "pron", "papers", "times", "but", "unknown",
                   "number", "ask", "order", "fixed", "fix", "verdict", "deck", "notyet", "takes", "moving"})  # fmt: skip
"""Sorts of words that tell nothing by themselves, or are told of elsewhere."""


@dataclass
class Phrase:
    """One noun phrase, or facts that belong to a noun spoken of before."""

    number: int | None = None
    head: Piece | None = None
    facts: list[Piece] = field(default_factory=list)
    weights: list[Piece] = field(default_factory=list)
    ref: str = ""
    """How it points at what is there: "them", "all", "both", "rest", "half", "other", "part" (some of a kind)."""
    marks: list[Piece] = field(default_factory=list)
    """Words that say that a number is a mark or a rating."""
    more: bool = False
    fewer: bool = False
    each: bool = False
    each_side: bool = False
    holds: bool = False
    """Whether it is a pallet of something."""
    cued: bool = False
    """Whether what its verb is was said right before it."""
    total: bool = False
    only: bool = False
    definite: bool = False
    indefinite: bool = False
    one: bool = False
    """Whether its number was the word one, which may be a pronoun."""
    verb: str = ""
    denied: bool = False
    pron: str = ""
    vague: bool = False
    unknown: list[Piece] = field(default_factory=list)
    start: int = -1
    end: int = -1

    @property
    def sort(self) -> str:
        """What its head is."""
        if self.head is None:
            return ""
        return next((sort for sort in HEADS if sort in self.head.names), self.head.sort)

    @property
    def empty(self) -> bool:
        """Whether nothing was told by it."""
        rated = any(mark.sort == "weight" for mark in self.marks)
        return self.number is None and self.head is None and not (self.facts or self.weights or self.ref or rated)

    def covers(self, piece: Piece) -> None:
        """Let a piece be part of it."""
        self.start = piece.start if self.start < 0 else self.start
        self.end = piece.end


_DENIABLE = frozenset(
    {
        "marknoun",
        "eyeword",
        "fault",
        "nailed",
        "blocked",
        "protect",
        "metal",
        "deck",
        "more",
        "row",
        "unmarked",
        "marked",
    }
)
"""A "no" right before one of these denies it; before anything else it corrects."""
TRADE_COIL = range(10, 81)
"""A bare number in this range, told of a coil, is its thousands of pounds ("a forty coil"); common practice, no source."""


def thousands(number: float, start: int, end: int) -> Piece:
    """Return a bare number as the thousands of pounds that it is of a coil."""
    weight = Weight(number * 1000.0, thousands_unsaid=True, unit="", assumed="")
    return Piece(Sense("weight", ""), start, end, frozenset({"weight"}), weight)


def is_head(piece: Piece) -> bool:
    """Return whether a piece is a noun that can bear facts."""
    return piece.sort in HEADS


def phrases(pieces: Sequence[Piece], words: Sequence[str]) -> list[Phrase]:
    """Gather the noun phrases of one clause; `words` are those of the whole utterance."""
    return gathered(pieces, words)[0]


def gathered(pieces: Sequence[Piece], words: Sequence[str]) -> tuple[list[Phrase], list[Piece]]:
    """Gather the noun phrases of one clause, and the pieces that came to nothing and have no role of their own."""
    gatherer = _Gatherer(pieces, words)
    found = list(gatherer.gather())
    return found, gatherer.left()


class _Gatherer:
    """Walks over one clause."""

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
        self._joined = False
        self._det = ""
        self._denied = False
        self._vague = -1
        """Where a word stands that makes a weight vague."""
        self._for_each = False
        self._cued = False
        self._apart = False
        """Whether an article or an "and" stood behind what the phrase has so far."""

    def left(self) -> list[Piece]:
        """Return what came to nothing."""
        return [piece for at, piece in enumerate(self._pieces) if at not in self._used and piece.sort not in ROLES]

    def _taken_off(self) -> int | None:
        """Return where "take", "pull" or "drop" stands with an "off" behind what it is about."""
        offs = [at for at, piece in enumerate(self._pieces) if piece.sort == "off"]
        takes = [at for at, piece in enumerate(self._pieces) if "takes" in piece.names and offs and at < offs[-1]]
        return (
            takes[0]
            if takes
            and any(
                is_head(one) or self._counts(one) or one.sort == "pron" for one in self._pieces[takes[0] : offs[-1]]
            )
            else None
        )

    def gather(self) -> Iterator[Phrase]:
        takes = self._taken_off()
        for at, piece in enumerate(self._pieces):
            if at == self._pair:
                self._used.add(at)
                continue
            span = (self._now.start, self._now.end)
            self._singular = not self._words[piece.end - 1].endswith("s")
            if self._opens(at, piece) or at == takes:
                yield from self._close()
            if at == takes:
                self._verb, self._cued = "remove", True
                self._used.add(at)
            elif piece.sort == "off" and not self._verb and self._is_off(at):
                self._now.verb = "remove"
                self._used |= {at, at - 1}
            elif piece.sort == "off" and self._verb == "remove":
                self._used.add(at)
            self._take(at, piece)
            if (self._now.start, self._now.end) != span and self._now.end == piece.end:
                self._used.add(at)
        yield from self._close()

    def _close(self) -> Iterator[Phrase]:
        if not self._now.empty:
            yield self._now
        self._now = Phrase()

    # ---- where a phrase begins

    def _opens(self, at: int, piece: Piece) -> bool:  # noqa: PLR0911 - one answer a sort of piece reads best in one place
        now = self._now
        if now.empty:
            return False
        if piece.sort in {"fix", "add", "remove", "swap", "neg", "instead"}:
            return not (piece.sort == "fix" and self._only_named())
        if self._counts(piece):
            named = (
                piece.sort == "pron"
                and now.head is None
                and now.number is None
                and any(one.sort in {"metal", "eye"} for one in now.facts)
            )
            return not named and self._number_opens(at)
        if piece.sort == "weight":
            if self._as_mark(at):
                return False
            head = self._ahead(at)
            if head is not None and head.sort in {"coil", "article", "part"}:
                return bool(now.head or now.weights or now.facts) and not (now.number is not None and now.head is None)
            if now.head is None:
                return bool(now.weights) or any(one.sort in OF_TIEDOWN for one in now.facts)
            return now.sort not in {"coil", "article", "part", "pallet"} or bool(now.weights and now.sort != "coil")
        if is_head(piece):
            return now.head is not None or self._not_its(piece)
        if piece.sort == "nth":
            return now.head is not None or bool(now.weights)
        if piece.sort in _BEFORE_HEAD and now.head is not None:
            head = self._ahead(at)
            return head is not None
        if piece.sort in {"inches", "size", "measure"} and self._measured(piece.sort):
            return True
        if piece.sort == "ref" and piece.key in {"rest", "other", "half", "same"}:
            return True
        if piece.sort == "ref" and piece.key == "all":
            return not (now.head is not None and not now.facts and at + 1 == len(self._pieces))
        return False

    def _is_off(self, at: int) -> bool:
        """Return whether what was told stands off now: "the strap is off"."""
        before = self._pieces[at - 1] if at else None
        stands = before is not None and before.sort in {"cop", "filler", "kind", "fault", "takes"}
        return stands and (self._now.sort in {"kind", "anytie", "counted", "coil"} or self._now.number is not None)

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

    def _counts(self, piece: Piece) -> bool:
        return piece.sort == "num" or (piece.sort == "pron" and piece.key == "one")

    def _next(self, at: int, skip: frozenset[str] = frozenset({"filler", "hedge"})) -> Piece | None:
        return next((one for one in self._pieces[at + 1 :] if one.sort not in skip), None)

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
        before = [one for one in self._pieces[max(0, at - 5) : at]]
        rated = any(one.sort in {"marked", "breaking", "pretension"} for one in before)
        said = rated or any("marknoun" in one.names for one in before)
        if now.head is None and not now.weights:
            return rated
        return now.sort in {"kind", "part", "anytie", "counted"} and (said or now.sort == "part" or bool(now.marks))

    # ---- what belongs to it

    def _take(self, at: int, piece: Piece) -> None:  # noqa: C901, PLR0912, PLR0915 - one branch a sort of piece reads best in one place
        now, sort = self._now, piece.sort
        if (
            piece.sort == "pron"
            and piece.key == "one"
            and now.head is None
            and now.number is None
            and any(one.sort in {"metal", "eye"} for one in now.facts)
        ):
            now.head = Piece(
                Sense("coil", "coil"), piece.start, piece.end, frozenset({"coil", "coil.coil"})
            )  # "the aluminum one"
            now.indefinite |= self._det == "a"
            now.definite |= self._det == "the"
            now.covers(piece)
        elif self._counts(piece):
            self._count(at, piece)
        elif sort == "up" and now.number is not None and now.head is None:
            now.facts.append(
                Piece(Sense("place", "front"), piece.start, piece.end, frozenset({"place", "place.front"}))
            )  # "two up, two back"
            now.covers(piece)
        elif sort == "weight":
            mark = self._as_mark(at)
            (now.marks if mark else now.weights).append(piece)
            now.indefinite |= self._det == "a"
            if self._vague >= 0 and not mark:
                now.vague = True
                self._used.add(self._vague)
            now.covers(piece)
        elif is_head(piece):
            now.head = piece
            if now.ref == "them" and now.number is not None:
                now.ref = "part"
            before = self._pieces[at - 1] if at else None
            now.definite |= self._det == "the" or (before is not None and before.sort == "pron")
            now.indefinite |= self._det == "a"
            if self._det in {"all", "both"} and not now.ref:
                now.ref = self._det
            now.covers(piece)
            now.each |= self._for_each and now.sort == "kind" and now.number is not None
            self._det, self._apart = "", False
        elif sort in OF_TIEDOWN or sort in {
            "eye",
            "metal",
            "row",
            "blocked",
            "unblocked",
            "length",
            "place",
            "ondeck",
            "nailed",
            "deck",
            "measure",
            "yard",
            "held",
            "number",
            "eyeword",
            "again",
        }:
            now.facts.append(piece)
            now.covers(piece)
            now.definite |= (
                now.head is None and sort in {"place", "nth"} and any("'the'" in part.names for part in piece.parts)
            )
            if self._words[piece.start] in {"a", "an"}:  # "a half inch chain" is one
                self._det = "a"
            self._apart = False
        elif sort == "nth":
            now.facts.append(piece)
            now.covers(piece)
        elif sort in {"marked", "marknoun", "breaking", "pretension", "papers"}:
            now.marks.append(piece)
            now.covers(piece)
        elif sort == "ref":
            now.ref = (
                piece.key
                if not (piece.key == "them" and now.number is not None and now.head is not None)
                else now.ref or "them"
            )
            if any("all.both" in part.names for part in piece.parts):
                now.ref = "both"
            now.covers(piece)
        elif sort == "pron":
            now.pron = piece.key if now.empty or not now.pron else now.pron
        elif sort == "of" and now.sort == "pallet":
            now.holds = True
        elif sort == "each_side":
            now.each_side = True
            now.covers(piece)
        elif sort == "each" and now.empty:
            self._for_each = True  # "every one of them has three chains"
            self._used.add(at)
        elif sort in {"more", "fewer", "each", "total", "only"}:
            setattr(now, sort, True)
            self._cues.append(at)
            if not now.empty or sort == "more":
                now.covers(piece)
        elif sort == "unknown":
            now.unknown.append(piece)
        elif sort == "det":
            self._det = "a" if "'a'" in piece.names or "'an'" in piece.names else "the"
            self._apart = True
        elif sort in {"fix", "add", "remove", "swap", "instead"}:
            self._verb, self._cued = sort, True
            self._cues.append(at)
            if not now.empty:
                now.verb = sort
        elif sort == "neg":
            self._deny(at, piece)
        elif sort == "vague":
            self._vague = at
        elif sort == "and" or (
            sort == "prep"
            and {one.sort for one in now.facts} & {"pull", "place", "over", "through", "path", "each_way"}
        ):
            self._apart = True
        if not now.empty:
            now.verb = now.verb or self._verb
            self._used |= {*self._cues}
            self._cues = []
            now.cued, self._cued = now.cued or self._cued, False
            if self._denied:
                now.denied, self._denied = True, False
        if sort not in {"det", "hedge", "filler", "unknown"} and sort in {"prep", "cop", "verb", "and"}:
            self._det = ""

    def _deny(self, at: int, piece: Piece) -> None:
        """Take a "no" before a number, a way or a pronoun as the correction that it is, before a noun as a denial."""
        after, now = self._next(at), self._now
        last = after is None or (after.breaks and after.sort not in {"num", "weight"})  # "no, six" corrects
        if last and now.sort in {"mats", "counted", "cradle", "pallet", "kind"} and now.number is None:
            now.denied = True  # "mats, no", "the mats also not"
            self._used.add(at)
            return
        noun = after is not None and (
            is_head(after) or after.sort in _DENIABLE or ("'a'" in after.names or "'any'" in after.names)
        )
        if "'no'" in piece.names and not noun and not last:
            self._verb, self._cued = "fix", True
        else:
            self._denied = True
        self._cues.append(at)

    def _paired(self, at: int) -> bool:
        """Return whether a number is told twice, for each of two ways: "four and four", "two and two front and rear"."""
        behind = self._pieces[at + 1 : at + 4]
        same = (
            len(behind) > 1
            and "and" in behind[0].names
            and behind[1].sort == "num"
            and behind[1].value == self._pieces[at].value
        )
        return same and (
            len(behind) == 2 or behind[2].breaks or behind[2].sort in {"each_way", "lengthways", "front", "place"}
        )

    def _count(self, at: int, piece: Piece) -> None:
        now, after = self._now, self._next(at)
        now.covers(piece)
        self._apart = False
        value = 1 if piece.sort == "pron" else int(piece.value)
        if piece.sort == "num" and self._paired(at):
            now.facts.append(Piece(Sense("each_way", "each_way"), piece.start, piece.end, frozenset({"each_way"})))
            self._pair = at + 2
        if now.number is None:
            now.number = value
        elif now.one and value in TRADE_COIL:
            now.weights.append(thousands(value, now.start, now.end))
        now.one = piece.sort == "pron" or "num.1" in piece.names
        now.definite |= self._det == "the"
        if after is not None and after.sort in {"of", "ref"} and not (now.head is not None and after.sort == "ref"):
            now.ref = "them" if after.sort == "ref" else "part"
        self._det = ""
