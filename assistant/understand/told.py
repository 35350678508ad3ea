"""What is kept while an utterance is taken: its words, what of it was lost, and what waits for its number."""

from collections.abc import Sequence

from assistant.load.model import Kind
from assistant.phrase.draft import Draft
from assistant.phrase.page import Page
from assistant.phrase.slots import Length
from assistant.phrase.tokens import Token
from assistant.phrase.units import factor
from assistant.understand.heard import Lost
from assistant.understand.phrase import Phrase
from assistant.understand.scan import Piece

_BORNE_BY = {
    "measure": {"", "coil", "article", "counted", "part"},
    "eyeword": {""},
    "length": {"", "article", "part", "coil"},
    "nth": {"", "coil", "kind"},
}
"""Facts that only some nouns can have."""


class Telling(Page):
    """Keeps what was told so far, and what of it came to nothing."""

    def __init__(
        self,
        definitions: str,
        tokens: Sequence[Token],
        kinds_on: frozenset[Kind] = frozenset(),
        skip: frozenset[int] = frozenset(),
        *,
        coils_on: int = 0,
    ) -> None:
        super().__init__(definitions, tokens)
        self._kinds_on = kinds_on
        self._skip = skip
        self._coils_on = coils_on
        self._counted: list[Draft] = []
        """Those told of without a number of which the parts were counted: the parts are all there is."""
        self._count = 0
        """How many phrases were gathered; those of which the number is among the skipped are not taken."""
        self._hint: Kind | None = None
        self.lost: list[Lost] = []
        self._last_sort = ""
        self.uncounted = False
        """Whether tiedowns were told of without a number, and none are on."""

    def forget_uncounted(self) -> None:
        """Let go of tiedowns told without a number: they were asked of, not told."""
        self.drafts.nouns = [noun for noun in self.drafts.nouns if noun.count is not None or noun.noun != "tiedowns"]
        self.uncounted = False

    @property
    def uncounted_kind(self) -> str:
        """What was told of without a number, in words; "" where nothing was."""
        waiting = [
            noun.kind for noun in self.drafts.nouns if noun.noun == "tiedowns" and noun.count is None and noun.kind
        ]
        return f"{waiting[-1].value}s" if self.uncounted and waiting else ""

    @property
    def count(self) -> int:
        """How many phrases were gathered."""
        return self._count

    def words(self, start: int, end: int) -> str:
        """Return what was said between two places."""
        return " ".join(token.word or f"{token.value:g}" for token in self._tokens[start:end])

    def _lose(self, phrase: Phrase, why: str, word: str = "") -> None:
        self.lost.append(Lost(phrase.start, phrase.end, why, word, phrase.sort))

    def _bring_in(self, draft: Draft) -> None:
        """Add tiedowns, to which what follows belongs."""
        self._tiedown = self._add(draft)
        self._facts = draft.facts

    def _inches(self, piece: Piece) -> float:
        """Return a measure in inches."""
        if not isinstance(piece.value, Length):
            return float(piece.value)
        return round(sum(value * factor(self._definitions, unit, "inch") for value, unit in piece.value.parts), 4)

    def _plural(self, phrase: Phrase) -> bool:
        if phrase.head is None:
            return True
        return (
            self._tokens[phrase.head.end - 1].word.endswith("s") or self._tokens[phrase.head.end - 1].word == "webbing"
        )

    def _what_excludes_itself(self, phrase: Phrase) -> None:
        """Name the second of two things told of one noun of which it can have one only."""
        if phrase.verb == "fix":
            return
        one_coil = phrase.sort == "coil" and phrase.number in {None, 1} and not self._plural(phrase)
        eyes = [piece for piece in phrase.facts if piece.sort == "eye"]
        marks = [piece for piece in phrase.marks if piece.sort == "weight"]
        for told in (eyes, marks, phrase.weights if one_coil else []):
            if len({(piece.key, piece.value) for piece in told}) > 1:
                self.lost.append(Lost(told[-1].start, told[-1].end, "clash"))

    def _what_it_cannot_bear(self, phrase: Phrase) -> None:
        """Name the facts that no noun of its sort has, and those that exclude each other."""
        self._what_excludes_itself(phrase)
        sorts = {piece.sort for piece in phrase.facts}
        valued = bool(sorts & {"inches", "size", "length"}) or phrase.number is not None
        for piece in phrase.facts:
            odd = piece.sort in _BORNE_BY and phrase.sort not in _BORNE_BY[piece.sort]
            if piece.key_of("measure") == "length" and not sorts & {"length", "inches", "size"}:
                continue  # "two long timbers"
            if odd or (piece.sort in {"measure", "eyeword"} and not valued):
                self.lost.append(Lost(piece.start, piece.end, "not placed"))
        marks = [piece for piece in phrase.marks if piece.sort != "weight"]
        if phrase.sort == "kind" and marks and len(marks) == len(phrase.marks):
            self.lost.append(Lost(marks[0].start, marks[-1].end, "not placed"))
