"""The noun phrases of a clause, gathered from its pieces left to right."""

from collections.abc import Iterator, Sequence

from assistant.understand.lexicon import Sense
from assistant.understand.phrase import OF_TIEDOWN, TRADE_COIL, Phrase, is_head, thousands
from assistant.understand.phrase_bounds import Bounds
from assistant.understand.scan import Piece

ROLES = frozenset(
    {
        "filler",
        "det",
        "prep",
        "cop",
        "verb",
        "and",
        "have",
        "who",
        "of",
        "hedge",
        "weigh",
        "pron",
        "papers",
        "times",
        "but",
        "unknown",
        "number",
        "ask",
        "order",
        "fixed",
        "fix",
        "verdict",
        "deck",
        "notyet",
        "takes",
        "moving",
    }
)
"""Sorts of words that tell nothing by themselves, or are told of elsewhere."""
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
_FACTS = frozenset(
    {
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
    }
)
"""What is told of a phrase besides what is told of tiedowns."""
_KEPT = frozenset({"nth", "marked", "marknoun", "breaking", "pretension", "papers"})
_WAYS = ("pull", "place", "over", "through", "path", "each_way")


def phrases(pieces: Sequence[Piece], words: Sequence[str]) -> list[Phrase]:
    """Gather the noun phrases of one clause; `words` are those of the whole utterance."""
    return gathered(pieces, words)[0]


def gathered(pieces: Sequence[Piece], words: Sequence[str]) -> tuple[list[Phrase], list[Piece]]:
    """Gather the noun phrases of one clause, and the pieces that came to nothing and have no role of their own."""
    gatherer = _Gatherer(pieces, words)
    found = list(gatherer.gather())
    return found, gatherer.left()


class _Gatherer(Bounds):
    """Walks over one clause."""

    def left(self) -> list[Piece]:
        """Return what came to nothing."""
        open_ones = (piece for at, piece in enumerate(self._pieces) if at not in self._used)
        return [piece for piece in open_ones if piece.sort not in ROLES and piece.key != "goes_on"]

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

    def _is_off(self, at: int) -> bool:
        """Return whether what was told stands off now: "the strap is off"."""
        before = self._pieces[at - 1] if at else None
        stands = before is not None and before.sort in {"cop", "filler", "kind", "fault", "takes"}
        return stands and (self._now.sort in {"kind", "anytie", "counted", "coil"} or self._now.number is not None)

    def _take(self, at: int, piece: Piece) -> None:
        now, sort = self._now, piece.sort
        if self._is_coil(piece):
            self._take_coil(piece)
        elif self._counts(piece):
            self._count(at, piece)
        elif sort == "up" and now.number is not None and now.head is None:  # "two up, two back"
            front = Piece(Sense("place", "front"), piece.start, piece.end, frozenset({"place", "place.front"}))
            now.facts.append(front)
            now.covers(piece)
        elif sort == "weight":
            self._take_weight(at, piece)
        elif is_head(piece):
            self._take_head(at, piece)
        elif sort in OF_TIEDOWN or sort in _FACTS:
            self._take_fact(piece)
        elif sort in _KEPT:
            (now.facts if sort == "nth" else now.marks).append(piece)
            now.covers(piece)
        elif not self._points(at, piece):
            self._take_word(at, piece)
        if not now.empty:
            self._take_cues()

    def _take_coil(self, piece: Piece) -> None:
        """Take "the aluminum one" as a coil."""
        now = self._now
        now.head = Piece(Sense("coil", "coil"), piece.start, piece.end, frozenset({"coil", "coil.coil"}))
        now.indefinite |= self._det == "a"
        now.definite |= self._det == "the"
        now.covers(piece)

    def _take_weight(self, at: int, piece: Piece) -> None:
        now, mark = self._now, self._as_mark(at)
        (now.marks if mark else now.weights).append(piece)
        now.indefinite |= self._det == "a"
        if self._vague >= 0 and not mark:
            now.vague = True
            self._used.add(self._vague)
        now.covers(piece)

    def _take_head(self, at: int, piece: Piece) -> None:
        now = self._now
        now.head = piece
        if now.ref == "them" and now.number is not None:
            now.ref = "part"
        before = self._pieces[at - 1] if at else None
        now.definite |= self._det == "the" or (before is not None and before.sort == "pron")
        now.indefinite |= self._det == "a"
        now.covers(piece)
        now.each |= self._for_each and now.sort == "kind" and now.number is not None
        self._det, self._apart = "", False

    def _take_fact(self, piece: Piece) -> None:
        now = self._now
        now.facts.append(piece)
        now.covers(piece)
        said = any("'the'" in part.names for part in piece.parts)
        now.definite |= now.head is None and piece.sort == "place" and said
        if self._words[piece.start] in {"a", "an"}:  # "a half inch chain" is one
            self._det = "a"
        self._apart = False

    def _points(self, at: int, piece: Piece) -> bool:
        """Take a word that tells which or how many of them are meant; False where it is none."""
        now, sort = self._now, piece.sort
        if sort == "ref":
            all_told = piece.key == "them" and now.number is not None and bool(now.head or now.ref)
            now.ref = now.ref or "them" if all_told else piece.key
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
        else:
            return False
        return True

    def _take_word(self, at: int, piece: Piece) -> None:
        """Take a word that tells nothing by itself, and changes how what stands beside it is meant."""
        now, sort = self._now, piece.sort
        if sort == "unknown":
            now.unknown.append(piece)
        elif sort == "det":
            self._det = "a" if "'a'" in piece.names or "'an'" in piece.names else "the"
            self._apart = True
        elif sort in {"fix", "add", "remove", "swap", "instead"}:
            self._verb, self._cued = sort, True
            self._cues.append(at)
            if not now.empty:
                now.verb = sort
        elif self._verb in {"add", "remove"} and self._says_how_it_is(at, piece):
            self._verb = ""  # "throw on two chains, it's on four bunks"
        elif sort == "neg":
            self._deny(at, piece)
        elif sort == "vague":
            self._vague = at
        elif sort == "and" or (sort == "prep" and now.first(*_WAYS)):
            self._apart = True
        if sort in {"prep", "cop", "verb", "and"}:
            self._det = ""

    def _says_how_it_is(self, at: int, piece: Piece) -> bool:
        """Return whether a new sentence begins that tells how something is: "it's on", "they are"."""
        if piece.sort == "filler":
            return self._words[piece.start : piece.end] == ["it", "is"]
        return piece.sort == "cop" and at > 0 and self._pieces[at - 1].sort == "pron"

    def _take_cues(self) -> None:
        """Let the words that say how the next phrase is meant hold for this one."""
        now = self._now
        now.verb = now.verb or self._verb
        self._used |= {*self._cues}
        self._cues = []
        now.cued, self._cued = now.cued or self._cued, False
        if self._denied:
            now.denied, self._denied = True, False

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
        """Return whether a number is told twice, once for each of two ways: "two and two front and rear"."""
        behind = self._pieces[at + 1 : at + 4]
        same = (
            len(behind) > 1
            and "and" in behind[0].names
            and behind[1].sort == "num"
            and behind[1].value == self._pieces[at].value
        )
        return same and (
            not behind[2:] or behind[2].breaks or behind[2].sort in {"each_way", "lengthways", "front", "place"}
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
        points = (
            after is not None and after.sort in {"of", "ref"} and not (now.head is not None and after.sort == "ref")
        )
        if points and after is not None and now.ref not in {"all", "both"}:
            now.ref = "them" if after.sort == "ref" else "part"
        self._det = ""
