"""Questions as frames: what is asked, and about which noun phrase; the same phrases serve where something is told."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from assistant.phrase.slots import Length, Weight
from assistant.phrase.tokens import Token
from assistant.understand.clauses import Act, Clause, ordered
from assistant.understand.phrase import Phrase
from assistant.understand.scan import Piece


class Asked(NamedTuple):
    """What is asked or ordered, with the values that it is asked of, and where it was said."""

    name: str
    values: dict[str, Any]
    start: int
    end: int


def fixed(clause: Clause) -> Piece | None:
    """Return the fixed question or order that a clause is, if it is one."""
    return next((piece for piece in clause.pieces if ordered(piece)), None)


_RATED = frozenset({"marked", "marknoun"})
_GOOD = frozenset(
    {
        "good",
        "rated",
        "hold",
        "holds",
        "worth",
        "rating",
        "wll",
        "limit",
        "count",
        "counts",
        "handle",
        "take",
        "carry",
        "stand",
        "strong",
    }
)


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
    counted = {"have", "got", "on", "count", "told"} & set(words) and not {
        "need",
        "take",
        "takes",
        "put",
        "add",
        "more",
        "gotta",
        "must",
        "should",
    } & set(words)
    counted = counted and words[-1:] != ["have"]  # "how many do i have to have"
    if {"how", "many"} <= set(words) and counted and tie is not None:
        return Asked("read_back", {}, clause.start, clause.end)
    more = tie is not None and (tie.more or "more" in words) and {"need", "needs", "enough"} & set(words)
    if more or words[:2] == ["how", "many"] or words[:3] == ["how", "much", "more"] or {"how", "many"} <= set(words):
        return _how_many(clause, gathered, tie)
    said = set(words)
    if tie is not None and (_GOOD & said or any(piece.sort in _RATED for piece in clause.pieces)):
        return _rating(clause, tie)
    name = next((name for name, needs in _FRAMES if all(any(_in(words, word) for word in one) for one in needs)), "")
    return Asked(name, {}, clause.start, clause.end) if name else None


def _in(words: Sequence[str], said: str) -> bool:
    """Return whether a word, or several in a row, stand among words."""
    wanted = said.split()
    return any(list(words[at : at + len(wanted)]) == wanted for at in range(len(words) - len(wanted) + 1))


_AM = (
    "am i",
    "is it",
    "are we",
    "is that",
    "is this",
    "will it",
    "will that",
    "does it",
    "does that",
    "is she",
    "do i",
    "can i",
    "could i",
    "would it",
    "would that",
    "is everything",
    "are they",
    "is my",
    "is the",
    "should i be",
    "would that be",
    "would this be",
)
_FRAMES: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...] = (
    (
        "next_stop",
        (
            ("when", "how often", "how far", "how soon", "how long"),
            ("stop", "check", "look", "inspect", "recheck", "tighten", "retighten", "again", "next"),
        ),
    ),
    (
        "read_back",
        (
            ("what", "read", "say", "tell", "repeat"),
            (
                "told",
                "tell you",
                "said",
                "have you got",
                "got so far",
                "you have",
                "you got",
                "heard so far",
                "on there so far",
                "so far",
            ),
        ),
    ),
    (
        "holds",
        (
            ("how much", "what"),
            ("room", "margin", "spare", "cushion", "extra", "to spare", "over by", "leeway", "wiggle"),
        ),
    ),
    ("how_many_any", (("how much", "how short", "how far"), ("short", "more", "under"))),
    (
        "holds",
        (
            ("how much", "what"),
            (
                "half",
                "hold",
                "holding",
                "holds",
                "count",
                "counts",
                "it all",
                "all together",
                "altogether",
                "add up",
                "total",
                "margin",
            ),
        ),
    ),
    (
        "movement",
        (
            ("which way", "what way", "where", "can it", "will it"),
            ("move", "roll", "slide", "shift", "go first", "give"),
        ),
    ),
    ("why", (("why", "how come"),)),
    ("least", (("what", "which"), ("add", "fix it", "make it right", "make it legal", "put on", "do about"))),
    ("check", (("how do i", "how am i", "how are we"), ("stand", "look", "doing", "sit"))),
    (
        "check",
        (("did i", "have i", "do i", "what", "something", "anything"), ("forget", "forgot", "miss", "missing", "lack")),
    ),
    ("check", (("what must i", "what should i", "what do i", "what can i", "what now"), ("do", "now"))),
    ("check", (("enough", "good", "legal", "okay", "ok"), ("or no", "or not", "or what", "or is not"))),
    ("holds", (("how much",), ("this", "it", "that", "all"))),
    (
        "check",
        (
            ("what", "which", "anything"),
            (
                "missing",
                "need",
                "needs",
                "lack",
                "wrong",
                "forget",
                "forgot",
                "else",
                "left",
                "do i do",
                "should i do",
                "short",
                "now",
            ),
        ),
    ),
    (
        "check",
        (
            _AM,
            (
                "good",
                "legal",
                "ok",
                "okay",
                "short",
                "enough",
                "fine",
                "ready",
                "alright",
                "set",
                "covered",
                "safe",
                "over",
                "under",
                "done",
                "pass",
                "hold",
                "good to go",
                "get it",
                "do it",
                "roll",
                "go",
                "cut it",
                "work",
                "all right",
                "solid",
                "tight enough",
                "bad",
                "allowed",
                "safe",
                "a problem",
                "wrong",
                "right",
                "acceptable",
                "passable",
                "going to hold",
                "too light",
                "too heavy",
                "secure",
                "compliant",
            ),
        ),
    ),
)
"""What is asked, by words of which each group has one; the first that fits."""


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
    lengths = [
        piece.value
        for phrase in gathered
        for piece in phrase.facts
        if piece.sort == "length" and isinstance(piece.value, Length)
    ]
    if lengths:
        values["length"] = lengths[0]
    pounds = [
        piece.value.pounds
        for phrase in gathered
        for piece in phrase.weights
        if isinstance(piece.value, Weight) and phrase.sort in {"coil", "article", ""}
    ]
    if pounds:
        values["weight"] = pounds[0]
    if {"grade", "size"} & values.keys() and "kind" not in values:
        values["kind"] = "chain"
    if "kind" in values:
        values["kinds"] = values["kind"]
    return Asked("how_many" if "kind" in values else "how_many_any", values, clause.start, clause.end)


def _rating(clause: Clause, tie: Phrase) -> Asked:
    return Asked("rating", _made_of(tie), clause.start, clause.end)


_PASSING = frozenset({"num", "weight", "kind", "coil", "unknown", "ref", "neg", "elsewhere", "suppose"})
"""Beside these a country is named in passing, and no rules are chosen: "my trailer was built in canada"."""
_IS = frozenset({"'is'", "'was'"})
_MOST_OF_ORDER = 8
"""An order to read back has no more words than these; common practice, no source."""


def order(clause: Clause, tokens: Sequence[Token]) -> Asked | None:
    """Return the order that a clause gives in words of its own: "say that back to me"."""
    words = [
        token.word
        for token in tokens[clause.start : clause.end]
        if token.word not in {"so", "okay", "please", "now", "can", "could", "you"}
    ]
    rules = [piece for piece in clause.pieces if piece.sort == "rules"]
    passing = any(piece.sort in _PASSING and "'check'" not in piece.names for piece in clause.pieces)
    passing |= bool(clause.pieces[0].names & _IS)
    if len(rules) == 1 and not passing:
        return Asked("use_rules", {"rules": rules[0].key}, clause.start, clause.end)
    speaks = words[:1] and words[0] in {"say", "read", "repeat", "tell", "give", "run", "play"}
    if (
        speaks
        and ("back" in words or {"load", "got"} & set(words))
        and len(words) <= _MOST_OF_ORDER
        and not any(piece.sort in {"num", "weight", "kind"} for piece in clause.pieces)
    ):
        return Asked("read_back", {}, clause.start, clause.end)
    return None


_MINE = frozenset({"my"})
_RUN = frozenset({"run", "carry", "use"})


def gear(clause: Clause, gathered: Sequence[Phrase], tokens: Sequence[Token]) -> Asked | None:
    """Return what a clause tells of the driver's own gear: "my chains are half inch grade seventy"."""
    words = [
        token.word for token in tokens[clause.start : clause.end] if token.word not in {"all", "so", "okay", "and"}
    ]
    if clause.act is not Act.TELL or not words or len(gathered) != 1:
        return None
    (phrase,) = gathered
    mine = words[0] in _MINE or (words[0] in {"set", "change", "make", "switch", "put"} and words[1:2] == ["my"])
    runs = words[0] in {"i", "we"} and words[1:2] and words[1] in _RUN
    if not (mine or runs) or phrase.number is not None or phrase.denied or phrase.weights:
        return None
    if phrase.sort == "part" and phrase.head is not None and phrase.head.key == "binder":
        limits = [mark.value.pounds for mark in phrase.marks if mark.sort == "weight"]
        return (
            Asked("gear_binders", {"part": "binder_lb", "limit": limits[0]}, clause.start, clause.end)
            if limits
            else None
        )
    run = {piece.sort for piece in phrase.facts} & {
        "pull",
        "path",
        "over",
        "through",
        "crossed",
        "place",
        "fault",
        "protect",
        "each_way",
        "doubled",
    }
    if phrase.sort not in {"kind", ""} or run or (mine and phrase.sort != "kind"):
        return None
    values = _made_of(phrase)
    if not values.keys() - {"kind", "material"}:
        return None
    if values.get("unmarked"):
        return Asked("gear_unmarked", {"kinds": values.get("kind", "chain")}, clause.start, clause.end)
    return Asked("gear", values, clause.start, clause.end)
