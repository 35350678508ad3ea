"""Weights, and whose each one is: a coil's, another coil's, all of theirs together, or a tag's."""

from assistant.phrase.draft import Draft
from assistant.phrase.slots import Weight
from assistant.understand.phrase import Phrase
from assistant.understand.scan import Piece
from assistant.understand.told_facts import Facts

_MOST_MARKED = 10_000
"""A tag that says less may be a strap's as well as a coil's [lb]; common practice, no source."""


class Weights(Facts):
    """Puts weights where they belong."""

    def _weigh(self, phrase: Phrase, nth: Piece | None) -> None:
        if nth is not None:
            self._nth_coil(nth, phrase)
            return
        for piece in phrase.weights:
            weight: Weight = piece.value
            if self._verb == "remove":
                self._lose(phrase, "not placed")
            elif phrase.denied:
                self.drafts.denied.append(weight.pounds)
                self.drafts.fix = True
            elif phrase.vague:
                self._about(weight)
            elif phrase.total:
                self._together(weight)
            elif not self._weighs_others(phrase, weight) and not self._is_on_a_tag(phrase, weight):
                self._weight(weight, apart=phrase.one or phrase.ref == "other", each=phrase.each)

    def _about(self, weight: Weight) -> None:
        """Refuse a weight that was told as about so much."""
        self.drafts.clash = f"I heard about {weight.pounds:,.0f} pounds. Say the figure on the tag or the papers."

    def _weighs_others(self, phrase: Phrase, weight: Weight) -> bool:
        """Take a weight that brings coils in ("and a twelve five", "three at fourteen thousand"); else False."""
        another = phrase.indefinite and any(noun.noun == "coils" and noun.weights for noun in self.drafts.nouns)
        if another:
            draft = self._add(Draft("coils", "state"))
            draft.another = True
        elif phrase.number is not None and phrase.number > 1 and phrase.ref not in {"other", "rest"}:
            draft = self._add(Draft("coils", self._verb, count=phrase.number))
            draft.unnamed = True
        else:
            return False
        draft.weights.append(weight)
        self._last_weights = draft.weights
        return True

    def _is_on_a_tag(self, phrase: Phrase, weight: Weight) -> bool:
        """Take what a tag says: a strap's, where a tiedown was just told, or where it says as little as a strap's may.

        False where there is no tag, or it is a coil's.
        """
        names = [mark.names for mark in phrase.marks]
        if not any("marknoun" in name for name in names) or any(mark.sort == "papers" for mark in phrase.marks):
            return False
        if self._noun is not None and self._noun is self._tiedown:
            if weight.pounds < _MOST_MARKED:
                self._of_tiedown({"marked_lb": weight.pounds})
            else:
                self._tagged(weight)
            return True
        some = weight.pounds < _MOST_MARKED and not (self._noun and self._noun.noun == "coils")
        if some:
            self._lose(phrase, "not placed")
        return some

    def _nth_coil(self, nth: Piece, phrase: Phrase) -> None:
        self._one_coil(-1 if nth.key == "last" else int(nth.key), phrase)

    def _placed_coil(self, place: Piece, phrase: Phrase) -> None:
        """Take "the back one is twelve thousand" as the coil that it is."""
        self._one_coil(1 if place.key == "front" else -2, phrase)

    def _one_coil(self, nth: int, phrase: Phrase) -> None:
        draft = self._add(Draft("coils", self._verb))
        draft.nth = nth
        draft.weights += [piece.value for piece in phrase.weights]
        draft.facts |= {piece.sort: piece.key for piece in phrase.facts if piece.sort in {"eye", "metal"}}
        self._last_weights = draft.weights

    def _coils_by_weight(self) -> None:
        """Take several weights and no noun as so many coils: "two, twenty one four and eighteen six"."""
        weights, self.drafts.weights = self.drafts.weights, []
        facts, self.drafts.coil_facts = self.drafts.coil_facts, {}
        self.drafts.numbers = [number for number in self.drafts.numbers if number != len(weights)]
        self.drafts.assumed.append("Weights by themselves are taken as one coil's each.")
        self.drafts.nouns.append(Draft("coils", "state", count=len(weights), facts=facts, weights=weights))
