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
                self.drafts.clash = (
                    f"I heard about {weight.pounds:,.0f} pounds. Say the figure on the tag or the papers."
                )
            elif phrase.total:
                self._together(weight)
            elif phrase.indefinite and self._weighed_coil():
                draft = self._add(Draft("coils", "state"))
                draft.another = True
                draft.weights.append(weight)
                self._last_weights = draft.weights
            elif phrase.number is not None and phrase.number > 1 and phrase.ref not in {"other", "rest"}:
                draft = self._add(Draft("coils", self._verb, count=phrase.number))
                draft.weights.append(weight)
                draft.unnamed = True
                self._last_weights = draft.weights
            elif self._is_tag(phrase) and weight.pounds < _MOST_MARKED:
                self._of_tiedown({"marked_lb": weight.pounds})
            elif self._is_tag(phrase):
                self._tagged(weight)
            elif self._is_some_tag(phrase, weight):
                self._lose(phrase, "not placed")
            else:
                self._weight(weight, apart=phrase.one or phrase.ref == "other", each=phrase.each)

    def _weighed_coil(self) -> bool:
        """Return whether a coil was told with its weight in this breath: "a twelve five" is then another."""
        return any(noun.noun == "coils" and noun.weights for noun in self.drafts.nouns)

    def _is_tag(self, phrase: Phrase) -> bool:
        tag = any("marknoun" in mark.names for mark in phrase.marks) and not any(
            mark.sort == "papers" for mark in phrase.marks
        )
        return tag and self._noun is not None and self._noun is self._tiedown

    def _is_some_tag(self, phrase: Phrase, weight: Weight) -> bool:
        """Return whether a tag says so little that it may be a strap's, and no coil was just told."""
        tag = any("marknoun" in mark.names for mark in phrase.marks) and not any(
            mark.sort == "papers" for mark in phrase.marks
        )
        return tag and weight.pounds < _MOST_MARKED and not (self._noun and self._noun.noun == "coils")

    def _nth_coil(self, nth: Piece, phrase: Phrase) -> None:
        draft = self._add(Draft("coils", self._verb))
        draft.nth = -1 if nth.key == "last" else int(nth.key)
        draft.weights += [piece.value for piece in phrase.weights]
        draft.facts |= {piece.sort: piece.key for piece in phrase.facts if piece.sort in {"eye", "metal"}}
        self._last_weights = draft.weights

    def _placed_coil(self, place: Piece, phrase: Phrase) -> None:
        """Take "the back one is twelve thousand" as the coil that it is."""
        draft = self._add(Draft("coils", self._verb))
        draft.nth = 1 if place.key == "front" else -2
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
