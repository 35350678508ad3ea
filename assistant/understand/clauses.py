"""An utterance cut into clauses, each with an act: what denial, time, wish or possession scopes over."""

from collections.abc import Iterator, Sequence
from enum import StrEnum
from itertools import pairwise
from typing import NamedTuple

from assistant.understand.scan import JOINS, Piece


class Act(StrEnum):
    """What a clause does."""

    TELL = "tell"
    NOT_NOW = "not now"
    NOT_YET = "not yet"
    ELSEWHERE = "elsewhere"
    SUPPOSE = "suppose"
    ASK = "ask"


class Clause(NamedTuple):
    """Pieces that share an act. What stands before `scope` is told whatever the act is."""

    pieces: tuple[Piece, ...]
    act: Act
    scope: int = 0

    @property
    def start(self) -> int:
        """Where its first token is."""
        return self.pieces[0].start

    @property
    def end(self) -> int:
        """Where its last token ends."""
        return self.pieces[-1].end


_CONTENT = frozenset(
    {
        "num",
        "weight",
        "size",
        "length",
        "inches",
        "kind",
        "coil",
        "article",
        "counted",
        "mats",
        "cradle",
        "pallet",
        "eye",
        "grade",
        "pull",
        "path",
        "over",
        "through",
        "crossed",
        "unmarked",
        "fault",
        "protect",
        "anytie",
        "blocked",
        "metal",
        "part",
        "place",
    }
)
_INVERTED = frozenset(
    {
        "'is'",
        "'are'",
        "'do'",
        "'does'",
        "'did'",
        "'am'",
        "'can'",
        "'could'",
        "'should'",
        "'will'",
        "'would'",
        "'may'",
        "'have'",
        "'has'",
        "'was'",
        "'were'",
    }
)
_ASKING = frozenset({"'what'", "'how'", "'why'", "'anything'", "'when'", "'where'", "'which'", "'who'", "'whose'"})
_SUBJECT = frozenset({"who", "pron", "det", "kind", "coil", "part"})
_SOFT = frozenset({"filler", "and", "but", "or", "hedge"})


def clauses(pieces: Sequence[Piece]) -> tuple[Clause, ...]:
    """Cut an utterance and give each part its act."""
    return tuple(_bound(_conditions([_act(part) for part in _cut(pieces)])))


def _conditions(found: list[Clause]) -> list[Clause]:
    """Let a weight that a question is about be no weight told: "under five thousand pounds, does the rule apply"."""
    for place in range(len(found) - 1):
        told, asked = found[place], found[place + 1]
        limits = bool(told.pieces[0].names & _LIMITS) and all(one.sort in {"prep", "weight"} for one in told.pieces)
        if limits and told.act is Act.TELL and asked.act is Act.ASK:
            found[place : place + 2] = [Clause((*told.pieces, *asked.pieces), Act.ASK)]
            break
    return found


_LIMITS = frozenset({"'under'", "'over'", "'below'", "'above'"})
_WHEN = frozenset({"'when'", "'once'", "'after'", "'until'", "'till'", "'unless'", "'whenever'"})


def _bound(found: Sequence[Clause]) -> Iterator[Clause]:
    """Yield the clauses; what is told beside "when the truck gets here" in the same breath is not done yet either."""
    later = [_is_later(clause) and len(found) > 1 for clause in found]
    for place, clause in enumerate(found):
        before = place > 0 and later[place - 1] and not clause.pieces[0].breaks
        behind = place + 1 < len(found) and later[place + 1] and not found[place + 1].pieces[0].breaks
        if later[place] or (clause.act is Act.TELL and (before or behind)):
            yield Clause(clause.pieces, Act.NOT_YET)
        else:
            yield clause


def _is_later(clause: Clause) -> bool:
    """Return whether a clause tells when something will be: it begins so, and asks nothing."""
    first = next((piece for piece in clause.pieces if piece.sort not in _SOFT), clause.pieces[0])
    rest = clause.pieces[1:2]
    begins = bool(first.names & _WHEN) or first.sort == "whenever"
    asked = bool(rest) and bool(rest[0].names & (_INVERTED | {"ask"}))
    return bool(begins) and not asked and len(clause.pieces) > 1


def _cut(pieces: Sequence[Piece]) -> Iterator[tuple[Piece, ...]]:
    begun = 0
    for place, piece in enumerate(pieces):
        if place == begun:
            continue
        told = any(_CONTENT & one.names for one in pieces[begun:place])
        asks = piece.sort == "ask" or (piece.sort == "order" and not told)
        done = ordered(pieces[place - 1]) and (pieces[place - 1].sort == "order" or piece.breaks or piece.sort in _SOFT)
        if (
            asks
            or done
            or (piece.breaks and (told or ordered(pieces[place - 1])))
            or (not ordered(pieces[begun]) and _begins(pieces, place, begun))
        ):
            yield tuple(pieces[begun:place])
            begun = place
    if begun < len(pieces):
        yield tuple(pieces[begun:])


def misplaced(pieces: Sequence[Piece]) -> frozenset[tuple[int, int]]:
    """Return the places of what has the words of an order, and stands in the middle of what is told."""
    found = set()
    told = False
    for piece in pieces:
        told = (told and not piece.breaks) or bool((_CONTENT | _ASKING) & piece.names)
        if piece.sort == "order" and told:
            found.add((piece.start, piece.end))
    return frozenset(found)


def ordered(piece: Piece) -> bool:
    """Return whether a piece is a fixed question or order, and nothing that corrects what comes behind it."""
    return piece.sort in {"ask", "order"}


def _begins(pieces: Sequence[Piece], place: int, begun: int) -> bool:
    """Return whether a clause begins at a place in the middle of an utterance."""
    piece = pieces[place]
    names = piece.names
    told = any(_CONTENT & one.names for one in pieces[begun:place])
    cued = told or any(one.sort in _CUES for one in pieces[begun:place])
    first = next((one for one in pieces[begun:place] if one.sort not in _SOFT), pieces[begun])
    if first.names & _ASKING or first.sort == "suppose" or (first.names & _INVERTED and not _SUBJECT & first.names):
        return "but" in names and told
    after = pieces[place + 1].names if place + 1 < len(pieces) else frozenset()
    if ("but" in names or names & JOINS) and cued and after:
        return True
    if (
        told
        and piece.sort in {"num", "kind", "coil"}
        and after & {"cop"}
        and not ("kind" in names and place > 1 and pieces[place - 2].sort == "det")  # "the forward chains are"
        and pieces[place - 1].sort
        not in {
            "det",
            "num",
            "prep",
            "and",
            "of",
            "size",
            "grade",
            "verb",
            "over",
            "weigh",
            "nth",
            "metal",
            "filler",
            "ref",
        }
    ):
        return True
    chooses = names & _BY and any(one.sort == "rules" for one in pieces[place + 1 : place + 3])
    if told and (chooses or (piece.key_of("have") == "there" and piece.end - piece.start > 1)):
        return True
    if names & _ASKING and told:
        return not ("'which'" in names and "cop" in after) and pieces[place - 1].sort not in {
            "cop",
            "prep",
            "verb",
            "weigh",
            "who",
            "det",
            "and",
        }
    if told and ("suppose.suppose" in names or (names & _INVERTED and _asks_there(pieces, place, begun))):
        return True
    if "and" in names and told and after:
        return _begins_joined(pieces, place, begun)
    if (
        piece.sort in {"add", "remove"}
        and any(one.sort == "notyet" for one in pieces[begun:place])
        and pieces[place - 1].sort not in {"notyet", "who", "prep"}
    ):
        return True
    # "... i need two more": a subject with a cue of its own
    if "who" in names and told and place + 1 < len(pieces):
        return bool(after & {"notyet", "notnow", "neg", "have", "verb", "cop", "takes", "remove"} or "'would'" in after)
    return False


_BY = frozenset({"'use'", "'by'", "'under'", "'switch'", "'go'", "'change'"})
"""Words before the rules to go by, behind what is told: "four chains, use canadian rules"."""


def _begins_joined(pieces: Sequence[Piece], place: int, begun: int) -> bool:
    """Return whether the "and" at a place joins a clause, and not another noun or fact."""
    after = pieces[place + 1].names
    following = pieces[place + 2].names if place + 2 < len(pieces) else frozenset()
    own_subject = "who" in after or ("pron" in after and bool(following & {"cop", "have", "verb"}))
    cue = bool(after & {"neg", "notyet", "notnow", "elsewhere", "remove", "add", "takes", "fix"})
    asks = bool(after & (_ASKING | _INVERTED)) and _asks_there(pieces, place + 1, begun)
    return own_subject or cue or _tells_anew(pieces, place + 1) or asks


_CUES = frozenset({"notyet", "whenever", "notnow", "elsewhere", "neg"})
_OF_SUBJECT = frozenset(
    {
        "det",
        "num",
        "kind",
        "coil",
        "part",
        "counted",
        "mats",
        "nth",
        "place",
        "pron",
        "filler",
        "size",
        "grade",
        "metal",
        "weight",
        "article",
        "eyeword",
        "ref",
        "more",
    }
)


def _tells_anew(pieces: Sequence[Piece], place: int) -> bool:
    """Return whether a subject and its verb stand at a place: "and the coil is ..."."""
    for piece in pieces[place : place + 5]:
        if piece.breaks:
            return False
        if piece.sort in {"cop", "have", "weigh"}:
            return piece is not pieces[place]
        if not piece.names & _OF_SUBJECT:
            return False
    return False


def _asks_there(pieces: Sequence[Piece], place: int, begun: int) -> bool:
    """Return whether an auxiliary stands before its subject, behind something that is no subject itself."""
    before = next((one for one in reversed(pieces[begun:place]) if not one.names & {"filler", "hedge"}), None)
    if before is not None and before.names & _SUBJECT and not before.names & {"over", "path", "through", "eye", "pull"}:
        return False
    after = pieces[place + 1].names if place + 1 < len(pieces) else frozenset()
    does = pieces[place].names & {"'do'", "'does'", "'did'"} and after & {
        "det",
        "kind",
        "coil",
        "counted",
        "part",
        "mats",
    }
    return bool(after & {"who", "pron"} or does) or ("'there'" in after)


def _act(part: tuple[Piece, ...]) -> Clause:
    if ordered(part[0]) or any(piece.sort == "ask" for piece in part) or _asks_how_much(part):
        return Clause(part, Act.ASK)
    first = next((place for place, piece in enumerate(part) if not piece.names <= _all_soft(piece)), 0)
    names = part[first].names
    if names & _ASKING or (names & _INVERTED and (_asks_there(part, first, first) or _is_asked(part, first))):
        return Clause(part, Act.ASK)
    for place, piece in enumerate(part):
        found = _cue(part, place, piece)
        if found:
            return Clause(part, found, _scope(part, place, found))
    return Clause(part, Act.TELL)


_VERBS = frozenset({"'is'", "'are'", "'will'", "'would'", "'do'", "'does'", "'can'", "'should'"})


_SUBJECTS = frozenset(
    {"num", "kind", "det", "coil", "part", "who", "pron", "counted", "mats", "cradle", "pallet", "article", "nailed"}
)


def _is_asked(part: Sequence[Piece], first: int) -> bool:
    """Return whether a clause begins with a verb and its subject behind it: "are five chains enough"."""
    after = part[first + 1] if first + 1 < len(part) else None
    subject = bool(part[first].names & _VERBS) and after is not None and after.sort in _SUBJECTS
    # "is four chains on it" tells how many there are
    plain = part[first].names & {"'is'", "'are'"} and after is not None and after.sort in {"num", "coil", "kind"}
    return subject and not (
        plain and not any(piece.sort in {"verdict", "ask", "fault"} or "'or'" in piece.names for piece in part)
    )


def _asks_how_much(part: Sequence[Piece]) -> bool:
    """Return whether "how much" or "how many" stands anywhere: "half of it how much is that"."""
    return any("'how'" in one.names and two.names & _MUCH for one, two in pairwise(part))


def _all_soft(piece: Piece) -> frozenset[str]:
    return piece.names if piece.sort in _SOFT and not piece.names & _ASKING else frozenset()


_MUCH = frozenset({"'much'", "'many'", "'far'", "'often'", "'long'"})


def _cue(part: Sequence[Piece], place: int, piece: Piece) -> Act | None:
    names = piece.names
    if piece.sort == "notyet" or ("notyet" in names and piece.sort in {"verb", "filler"}):
        following = part[place + 1].names if place + 1 < len(part) else frozenset()
        if following & {"neg", "unmarked", "unblocked", "protect", "adjustable", "fault"} and names & {
            "'can'",
            "'will'",
            "'could'",
        }:
            return None  # "can not be tightened", "will not"
        return Act.NOT_YET
    if piece.sort == "notnow":
        return Act.NOT_NOW
    if piece.sort == "elsewhere":
        return Act.ELSEWHERE
    if piece.sort == "suppose":
        return None if piece.key == "goes_on" and place else Act.SUPPOSE  # "a coil and with four chains" tells
    return None


def _scope(part: Sequence[Piece], place: int, act: Act) -> int:
    """Return from where on the act holds: a wish from its own words on, time and possession over the whole clause."""
    if act is Act.NOT_YET:
        while place and part[place - 1].names & {"who", "filler", "and", "but", "neg", "cop"}:
            place -= 1
        before = part[:place]
        if (
            before
            and before[-1].names & {"kind", "coil", "pron", "counted", "det", "num", "part"}
            and not any(piece.sort in {"weight", "eye", "over", "path", "through", "pull"} for piece in before)
        ):
            return 0  # "the chains should be grade eighty"
        return place
    joined = [
        at for at in range(1, place) if "and" in part[at].names and any(_CONTENT & one.names for one in part[:at])
    ]
    return joined[-1] if joined else 0
