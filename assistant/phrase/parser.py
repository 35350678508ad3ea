"""The parser: the cheapest way to cover an utterance with fragments, whatever their order.

Every template hangs in one trie of words and slots. From each place all fragments that start there are read; then
the cover with the lowest cost wins (unknown words are skipped dearly, words that mean nothing almost for free).
Any text gives a result; nothing is raised.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from assistant.phrase.grammar import Grammar
from assistant.phrase.slots import Slots, SlotsOn
from assistant.phrase.tokens import Token

# Costs of a cover, in fragments: chosen so that one longer fragment beats two short ones, and reading beats skipping.
_FRAGMENT = 1.0
_NUMBER_ALONE = 1.5
_SLOT = -0.01
_TYPED = 0.3
_FILLER = 0.1
_ALL_FILLER = 0.05
"""A fragment made of words that could be skipped ("they all"): reading it is still better."""
_SAID_OUT = 4
"""So many words are meant, though each could be skipped: "sitting on the deck", and not "on the deck" in passing."""
_UNKNOWN = 3.0
_UNREAD_NUMBER = 4.0
_VALUES = frozenset({"number", "sized", "weight", "feet"})
"""Fragments that are a bare value, which may go on."""

_PLACED = frozenset(
    {"from", "off", "behind", "of", "back", "away", "apart", "ahead", "between", "above", "over", "past"}
)
"""Behind a length these tell where something is, not how long."""


class Fragment(NamedTuple):
    """A fragment found: its name, the values of its slots, and the tokens it covers."""

    name: str
    values: dict[str, Any]
    start: int
    end: int


class Parse(NamedTuple):
    """The best cover: fragments in order, and the places of tokens that carry meaning but were not understood."""

    fragments: tuple[Fragment, ...]
    left_over: tuple[int, ...]
    cost: float


class _Node:
    __slots__ = ("ends", "slots", "words")

    def __init__(self) -> None:
        self.words: dict[str, _Node] = {}
        self.slots: dict[str, _Node] = {}
        self.ends: list[tuple[str, float, bool]] = []


class Parser:
    """Parses token sequences by one grammar."""

    def __init__(self, grammar: Grammar) -> None:
        self._grammar = grammar
        self._slots = Slots(grammar)
        self._root = _Node()
        self._numeric = grammar.numbers.all
        for phrase in grammar.phrases:
            self._hang(phrase.fragment, phrase.pieces, spoken=phrase.spoken)

    def _hang(self, fragment: str, pieces: Sequence[str], *, spoken: bool) -> None:
        node = self._root
        for piece in pieces:
            branch, key = (node.slots, piece[1:-1]) if piece.startswith("{") else (node.words, self._sound(piece))
            node = branch.setdefault(key, _Node())
        cost = _NUMBER_ALONE if fragment == "number" else _FRAGMENT
        if all(piece in self._grammar.filler for piece in pieces):
            cost = _ALL_FILLER
        cost += _SLOT * sum(piece.startswith("{") for piece in pieces) + (0 if spoken else _TYPED)
        bare = fragment in {"weight", "feet"} and len(pieces) == 1
        if all(name != fragment for name, _, _ in node.ends):
            node.ends.append((fragment, cost, bare))

    def _sound(self, word: str) -> str:
        return self._grammar.same_sound.get(word, word)

    def parse(self, tokens: Sequence[Token]) -> Parse:
        """Return the cheapest cover of the tokens."""
        slots = self._slots.on(tokens)
        count = len(tokens)
        best: list[tuple[float, Fragment | None, int]] = [(0.0, None, count)] * (count + 1)
        for at in range(count - 1, -1, -1):
            cheapest: tuple[float, Fragment | None, int] = (self._skip_cost(tokens[at]) + best[at + 1][0], None, at + 1)
            for cost, fragment in self._starting(tokens, at, slots):
                total = cost + best[fragment.end][0]
                if total < cheapest[0]:
                    cheapest = (total, fragment, fragment.end)
            best[at] = cheapest
        cover = self._cover(tokens, best)
        if cover.fragments:
            return cover
        # "that's all" is all skippable words, and yet something that is said
        whole = self.whole(tokens)
        return Parse((whole[0],), (), _FRAGMENT) if whole else cover

    def _goes_on(self, values: Mapping[str, Any], following: Sequence[Token]) -> bool:
        """Return whether a bare value is none by itself: thousands unsaid, inches alone, or feet to somewhere."""
        if "weight" in values:
            return bool(values["weight"].thousands_unsaid)
        inches = all(unit == "inch" for _, unit in values["length"].parts)
        return inches or any(token.word in _PLACED and not token.breaks for token in following)

    def whole(self, tokens: Sequence[Token]) -> list[Fragment]:
        """Return every fragment that covers the whole utterance by itself."""
        slots = self._slots.on(tokens)
        return [found for _, found in self._starting(tokens, 0, slots) if found.end == len(tokens)] if tokens else []

    def unfinished(self, tokens: Sequence[Token]) -> bool:
        """Return whether the end of the utterance is the beginning of a phrase that cannot stand alone.

        All before it must be understood. A value alone ("four") is a phrase only as an answer.
        """
        slots, parse = self._slots.on(tokens), self.parse(tokens)
        if parse.left_over:
            latest = parse.left_over[0]
        elif parse.fragments and parse.fragments[-1].name in _VALUES:
            latest = parse.fragments[-1].start
        else:
            return False
        return any(
            self._begins(tokens, at, slots) and not self.parse(tokens[:at]).left_over
            for at in range(latest + 1)
            if tokens[at].word not in self._grammar.filler
        )

    def _begins(self, tokens: Sequence[Token], at: int, slots: SlotsOn) -> bool:
        """Return whether some phrase begins with all the tokens from a place on, and no phrase is whole there."""
        stack: list[tuple[_Node, int]] = [(self._root, at)]
        begun = False
        while stack:
            node, end = stack.pop()
            if end == len(tokens):
                if any(name not in _VALUES for name, _, _ in node.ends):
                    return False
                begun |= bool(node.words or node.slots)
                continue
            if end > at and tokens[end].breaks:
                continue
            following = node.words.get(self._sound(tokens[end].word))
            stack += [(following, end + 1)] if following else []
            for slot, below in node.slots.items():
                stack += [(below, after) for after, _ in slots.read(slot, end)]
                begun |= slots.begins(slot, end)
        return begun

    def _cover(self, tokens: Sequence[Token], best: list[tuple[float, Fragment | None, int]]) -> Parse:
        fragments: list[Fragment] = []
        left_over: list[int] = []
        at = 0
        while at < len(tokens):
            _, fragment, following = best[at]
            if fragment:
                fragments.append(fragment)
            elif tokens[at].word not in self._grammar.filler:
                left_over.append(at)
            at = following
        return Parse(tuple(fragments), tuple(left_over), best[0][0])

    def _skip_cost(self, token: Token) -> float:
        if token.value is not None or token.word in self._numeric:
            return _UNREAD_NUMBER
        return _FILLER if token.word in self._grammar.filler else _UNKNOWN

    def _all_filler(self, tokens: Sequence[Token]) -> bool:
        return all(token.word in self._grammar.filler for token in tokens)

    def _starting(self, tokens: Sequence[Token], at: int, slots: SlotsOn) -> list[tuple[float, Fragment]]:
        """Return all fragments that start at a place, with their costs."""
        found: list[tuple[float, Fragment]] = []
        stack: list[tuple[_Node, int, dict[str, Any]]] = [(self._root, at, {})]
        while stack:
            node, end, values = stack.pop()
            for name, full, bare in node.ends:
                cost = full
                if name == "attribute" and end - at >= _SAID_OUT and self._all_filler(tokens[at:end]):
                    cost = _ALL_FILLER
                if not (bare and self._goes_on(values, tokens[end : end + 1])):
                    found.append((cost, Fragment(name, values, at, end)))
            if end == len(tokens) or (end > at and tokens[end].breaks):
                continue
            following = node.words.get(self._sound(tokens[end].word))
            if following:
                stack.append((following, end + 1, values))
            for slot, below in node.slots.items():
                stack += [(below, after, {**values, slot: value}) for after, value in slots.read(slot, end)]
        return found
