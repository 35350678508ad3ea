"""From tokens to what an utterance tells, asks and orders; every token ends somewhere, or is named as lost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.load.model import Kind, Load
from assistant.phrase.grammar import Grammar
from assistant.phrase.tokens import Token
from assistant.understand.clauses import Act, Clause, clauses, misplaced
from assistant.understand.frames import Asked, fixed, frame, gear, order
from assistant.understand.heard import Fragment, Heard, Lost
from assistant.understand.lexicon import Lexicon
from assistant.understand.observe import Observation, observations
from assistant.understand.phrase import Phrase
from assistant.understand.phrases import gathered, phrases
from assistant.understand.scan import Piece, Scanner
from assistant.understand.tell import Teller

_GROUPS = frozenset({"damaged chain", "damaged strap", "damaged hook"})
_OF_PART = {
    "band": "broken band",
    "lip": "lip",
    "inner lip": "inner lip",
    "chain": "damaged chain",
    "strap": "damaged strap",
    "hook": "damaged hook",
    "binder": "binder bottomed out",
    "link": "damaged chain",
    "pallet": "broken pallet",
    "papers": "paper and tag differ",
    "wrap": "lip",
    "protector": "no edge protection",
    "coil": "damaged coil",
    "knot": "knot",
}
"""What is struck where the part is told as mended."""
_COST = 1.0
_FILLED = 0.1
_LOST = 3.0
_WAITS = frozenset({"num", "size", "eyeword", "det", "metal", "more", "grade"})
"""Behind one of these something is to come."""


@dataclass(frozen=True)
class Composer:
    """Understands utterances by one lexicon."""

    scanner: Scanner
    definitions: str
    alone: Mapping[str, str]
    """Questions and orders of one word, which are that only where nothing else is said."""

    @classmethod
    def of(cls, lexicon: Lexicon, grammar: Grammar) -> "Composer":
        """Return one that goes by a lexicon."""
        alone = {words[0]: name for words, (_, name) in grammar.fixed.items() if len(words) == 1}
        return cls(Scanner(lexicon, grammar), grammar.definitions, alone)

    def hear(
        self, tokens: tuple[Token, ...], load: Load, *, marked: bool = False, skip: frozenset[int] = frozenset()
    ) -> Heard:
        """Take tokens apart, as they are meant beside what is on the deck.

        Parameters
        ----------
        tokens
            The utterance.
        load
            What is on the deck.
        marked
            Whether a question mark stood last.
        skip
            Which of its phrases, counted from 1, are not to be taken.
        """
        pieces = self.scanner.pieces(tokens)
        misread = misplaced(pieces)
        if misread:  # "two go forward and two go back" takes nothing back
            pieces = self.scanner.pieces(tokens, misread)
        hearing = _Hearing(tokens, load, self.definitions, self.alone, skip)
        found = clauses(pieces)
        for place, clause in enumerate(found):
            hearing.take(clause, last=place + 1 == len(found), marked=marked)
        return hearing.heard(pieces)


class _Hearing:
    """Takes the clauses of one utterance, one after another."""

    def __init__(
        self, tokens: tuple[Token, ...], load: Load, definitions: str, alone: Mapping[str, str], skip: frozenset[int]
    ) -> None:
        self._alone = alone
        self._tokens = tokens
        self._words = [token.word for token in tokens]
        kinds = frozenset(group.kind for group in load.tiedowns)
        self._teller = Teller(definitions, tokens, kinds, skip, coils_on=sum(coil.count for coil in load.coils))
        self._supposer = Teller(definitions, tokens, kinds)
        self._supposes = False
        self._supposing = False
        self._fragments: list[Fragment] = []
        self._lost: list[Lost] = []
        self._asking = False
        self._told_last: list[Phrase] = []
        self._kind = load.tiedowns[-1].kind.value if load.tiedowns else ""

    def take(self, clause: Clause, *, last: bool, marked: bool) -> None:
        """Take one clause."""
        word = self._words[clause.start] if clause.end == clause.start + 1 else ""
        if word in self._alone and (len(self._tokens) == 1 or self._fragments):
            self._fragments.append(Fragment(self._alone[word], {}, clause.start, clause.end))
            return
        said = fixed(clause)
        if said is not None and clause.act is Act.ASK:
            self._fixed(clause, said)
            return
        goes_on = self._supposing and not any(piece.sort in _NEW for piece in clause.pieces)
        self._supposing = clause.act is Act.SUPPOSE or (clause.act is Act.TELL and goes_on)
        match clause.act:
            case Act.ASK:
                self._ask(clause)
            case Act.SUPPOSE:
                self._suppose(clause.pieces)
            case Act.TELL if goes_on:
                self._suppose(clause.pieces)
            case Act.TELL if (
                marked
                and last
                and any(piece.sort in {"kind", "coil", "num", "weight"} for piece in clause.pieces)
                and len(self._fragments) == 0
            ):
                self._suppose(clause.pieces)
            case _:
                self._tell_or_hold(clause)

    def _fixed(self, clause: Clause, said: Piece) -> None:
        """Take a fixed question or order; what stands beside a question is what it is about."""
        rest = tuple(piece for piece in clause.pieces if piece is not said)
        about = [
            piece
            for piece in rest
            if piece.sort in {"kind", "anytie", "coil", "weight", "num", "size", "grade", "length", "article"}
        ]
        asked = frame(clause, phrases(rest, self._words), self._tokens) if about else None
        if asked is not None:
            self._fragments.append(Fragment(*asked))
            return
        rules = [piece.key for piece in rest if piece.sort == "rules"]
        if said.key == "check" and len(rules) == 1 and not about:  # "is this legal in canada"
            self._fragments.append(Fragment("use_rules", {"rules": rules[0]}, clause.start, clause.end))
            return
        self._fragments.append(Fragment(said.key, {}, clause.start, clause.end))
        for piece in rest:
            if self._words[piece.start] in self._alone:
                self._fragments.append(Fragment(self._alone[self._words[piece.start]], {}, piece.start, piece.end))
        if about:
            self._suppose(rest)

    def _ask(self, clause: Clause) -> None:
        about = phrases(clause.pieces, self._words)
        asked = frame(clause, about, self._tokens)
        if asked is None and any(
            phrase.number is not None and phrase.sort in {"kind", "coil", "anytie", "counted"} for phrase in about
        ):
            self._suppose(clause.pieces)
            return
        if asked is None and self._teller.uncounted:
            asked = self._of_before(clause)
        if asked is None:
            self._asking = True
            self._lost.append(Lost(clause.start, clause.end, "asked"))
            return
        self._fragments.append(Fragment(asked.name, asked.values, asked.start, asked.end))

    def _of_before(self, clause: Clause) -> Asked | None:
        """Return what a clause asks of the gear named right before it: "three eighths eighty, good for what"."""
        earlier = [phrase for phrase in self._told_last if phrase.number is None and not phrase.weights]
        asked = frame(clause, earlier[-1:], self._tokens)
        if asked is not None and asked.name == "rating":
            self._teller.forget_uncounted()
            return asked
        return None

    def _suppose(self, pieces: Sequence[Piece]) -> None:
        about = phrases(pieces, self._words)
        if not any(phrase.number is not None or phrase.weights or phrase.facts or phrase.head for phrase in about):
            asked = not any(piece.sort == "suppose" for piece in pieces) or len(self._fragments) == 0
            self._asking |= asked
            self._lost.append(Lost(pieces[0].start, pieces[-1].end, "asked" if asked else "not yet"))
            return
        self._supposes = True
        self._kind = self._tell(pieces, self._supposer, quiet=True)

    def _tell_or_hold(self, clause: Clause) -> None:
        rules = order(clause, self._tokens) if any(piece.sort == "rules" for piece in clause.pieces) else None
        if rules is not None:
            self._fragments.append(Fragment(*rules))
            return
        told, held = _split(clause)
        if held:
            self._lost.append(Lost(held[0].start, held[-1].end, clause.act.value))
        if told:
            own = order(clause, self._tokens) or gear(clause, phrases(told, self._words), self._tokens)
            if own is not None:
                self._fragments.append(Fragment(own.name, own.values, own.start, own.end))
                return
            self._kind = self._tell(told, self._teller)

    def _tell(self, told: Sequence[Piece], teller: Teller, *, quiet: bool = False) -> str:
        noticed = observations(told, self._kind)
        used = frozenset(place for one in noticed for place in one.places)
        for one in noticed:
            self._noticed(one, teller, told)
        rest = [piece for place, piece in enumerate(told) if place not in used]
        rest = self._how_far(noticed, rest, teller)
        hint = next(
            (
                Kind.CHAIN if piece.key == "chained" else Kind.STRAP
                for piece in rest
                if piece.sort == "verb" and piece.key in {"chained", "strapped"}
            ),
            None,
        )
        found, left = gathered(rest, self._words)
        self._told_last = found
        counted = any(phrase.number is not None for phrase in found)
        before = len(teller.lost)
        teller.take(found, hint)
        self._lost += [
            Lost(piece.start, piece.end, "denied" if piece.sort == "neg" else "asked" if quiet else "not placed")
            for piece in left
            if not (quiet and (piece.sort in _OF_SUPPOSING or (piece.sort in {"instead", "swap"} and not counted)))
        ]
        self._lost += teller.lost[before:]
        unplaced = {one.word for one in teller.lost[before:]}
        for piece in rest:
            if piece.sort in {"unknown", "number"} and self._words[piece.start] not in unplaced:
                why = "asked" if quiet else "unknown word"
                self._lost.append(Lost(piece.start, piece.end, why, self._words[piece.start]))
        if not quiet:
            self._fragments += [_fragment(phrase) for phrase in found]
            self._fragments += [Fragment("fix", {}, piece.start, piece.end) for piece in rest if piece.sort == "fix"]
        kinds = [piece.key_of("kind") for piece in told if "kind" in piece.names]
        return kinds[-1] if kinds else self._kind

    def _how_far(self, noticed: Sequence[Observation], rest: list[Piece], teller: Teller) -> list[Piece]:
        """Take inches told beside what was seen: of a lip they count, of anything else they are owned up to."""
        if not noticed or any("kind" in piece.names for piece in rest):
            return rest
        inches = [piece for piece in rest if piece.sort in {"inches", "size"}]
        for piece in inches:
            if any(one.fault == "lip" for one in noticed):
                teller.lip(piece)
            else:
                teller.drafts.assumed.append("How far it is out is not kept, only that it was seen.")
        return [piece for piece in rest if piece not in inches and piece.sort not in {"place", "pull"}]

    def _noticed(self, one: Observation, teller: Teller, told: Sequence[Piece]) -> None:
        """Put what was seen, denied or mended among what was told."""
        drafts = teller.drafts
        start, end = min(told[place].start for place in one.places), max(told[place].end for place in one.places)
        if one.fixed:
            mended = one.name if one.fault != "fixed" else _OF_PART.get(one.name, "")
            if mended:
                drafts.mended.append(mended)
            elif not one.name:
                drafts.mended_it = True
            else:
                self._lost.append(Lost(start, end, "not placed"))
        elif one.denied:
            drafts.mended += [one.name] if one.name else []
            if not one.name:
                self._lost.append(Lost(start, end, "denied"))
        elif one.name == "damaged front":
            drafts.front["damaged"] = True
        elif one.name in _GROUPS and one.kind and one.many and teller.damages(one.kind, one.many):
            pass
        elif one.name:
            drafts.seen.append(one.name)
        else:
            self._lost.append(Lost(start, end, "not placed"))
            return
        self._fragments.append(
            Fragment("mended" if one.fixed else "clean" if one.denied else "seen", {"seen": one.name}, start, end)
        )

    def heard(self, pieces: Sequence[Piece]) -> Heard:
        """Return all that was taken of the utterance, and what was not."""
        drafts = self._teller.finish()
        supposed = self._supposer.finish() if self._supposes else None
        fragments = tuple(sorted(self._fragments, key=lambda part: part.start))
        self._lost += _cut_off(pieces)
        lost = tuple(sorted(self._lost))
        cost = _COST * len(fragments) + _LOST * sum(one.end - one.start for one in lost)
        cost += _FILLED * sum(
            piece.sort in {"filler", "det", "prep", "cop", "who", "verb", "have", "and"} for piece in pieces
        )
        last = next((piece for piece in reversed(pieces) if piece.sort != "filler"), None)
        unfinished = bool(self._teller.uncounted or _cut_off(pieces)) or (
            last is not None
            and last.sort in _WAITS
            and any(piece.sort in {"num", "size", "weight", "coil", "kind", "grade", "eyeword"} for piece in pieces)
        )
        return Heard(
            self._tokens,
            fragments,
            drafts,
            supposed,
            lost,
            asking=self._asking,
            cost=cost,
            unfinished=unfinished,
            phrases=self._teller.count,
            uncounted=self._teller.uncounted_kind,
        )


def _cut_off(pieces: Sequence[Piece]) -> list[Lost]:
    """Return the number in which an utterance breaks off, "two forward and two": what it counts is still to come."""
    if len(pieces) < _ENDS_IN or pieces[-1].sort != "num" or pieces[-1].breaks:
        return []
    before, joins = pieces[-3:-1]
    cut = "and" in joins.names and before.sort in _COMPLETE
    return [Lost(pieces[-1].start, pieces[-1].end, "cut off")] if cut else []


_OF_SUPPOSING = frozenset({"suppose", "notnow", "notyet", "remove", "hold", "verdict"})
"""What words of a supposition say besides: "had", "would have", "dropped"."""
_NEW = frozenset({"num", "kind", "anytie", "coil", "weight", "counted", "article", "who", "ask", "order", "fault"})
"""Behind a supposition these tell of something else; anything less goes on with it: "..., four inch, no tag"."""
_ENDS_IN = 3
_COMPLETE = frozenset({"pull", "forward", "rear", "rearward", "kind", "coil", "through", "over", "path", "counted"})
"""What is told whole behind a number, so that a number behind it begins something new."""
_NAMES = {"kind": "tiedown", "anytie": "tiedown", "coil": "coil", "article": "article", "part": "part"}


def _fragment(phrase: Phrase) -> Fragment:
    """Return what a phrase is called, and what it says, so that two readings can be told apart."""
    facts = tuple((piece.sort, piece.key, str(piece.value)) for piece in phrase.facts)
    weights = tuple(str(piece.value) for piece in phrase.weights)
    values: dict[str, Any] = {
        "facts": facts,
        "weights": weights,
        "head": phrase.head.sense if phrase.head else None,
        "as": (phrase.ref, phrase.more, phrase.denied, phrase.verb, phrase.total),
    }
    if phrase.number is not None:
        values["count"] = phrase.number
    if phrase.weights:
        values["weight"] = phrase.weights[0].value
    if any(piece.sort in {"size", "inches", "length", "thickness"} for piece in phrase.facts):
        values["size"] = facts
    if phrase.marks:
        values["limit"] = tuple(str(mark.value) for mark in phrase.marks)
    if phrase.sort in {"kind", "article"} and phrase.head:
        values[phrase.sort] = phrase.head.key
    return Fragment(_name(phrase), values, phrase.start, phrase.end)


def _name(phrase: Phrase) -> str:
    if any(piece.sort == "again" for piece in phrase.facts):
        return "same_again"
    if phrase.sort == "kind" and phrase.number is None and not phrase.indefinite:
        return "those_tiedowns"
    if any(piece.sort == "nth" for piece in phrase.facts):
        return "nth_coil"
    if phrase.sort:
        return _NAMES.get(phrase.sort, "counted")
    if phrase.weights:
        return "weight" if not phrase.facts else "coil"
    if phrase.number is not None and not phrase.facts:
        return "more_tiedowns" if phrase.more else "number"
    if (
        phrase.facts
        and all(piece.sort in {"size", "grade", "inches", "material"} for piece in phrase.facts)
        and phrase.number is None
    ):
        return "sized"
    return "attribute" if phrase.number is None else "some_of_them"


def _split(clause: Clause) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    if clause.act is Act.TELL:
        return clause.pieces, ()
    return clause.pieces[: clause.scope], clause.pieces[clause.scope :]
