"""Coils, other cargo, what they rest on, and rated parts."""

from collections.abc import Sequence

from assistant.phrase.draft import Draft
from assistant.phrase.slots import Weight
from assistant.understand.phrase import TRADE_COIL, Phrase, thousands
from assistant.understand.told_around import Around

_TAKEN = {
    "timbers": "Timbers without a number are taken as two.",
    "wedges": "Wedges without a number are taken as two.",
}
_RATED = {"binder": "binder_lb", "hook": "hook_lb", "winch": "winch_lb", "anchor": "anchor_lb"}
_PLURAL_ARTICLES = frozenset({"beam", "plate", "pipe"})


class Cargo(Around):
    """Takes the nouns that are no tiedowns."""

    def _coil(self, phrase: Phrase) -> None:
        self._others(phrase)
        if self._coil_of_those(phrase):
            return
        trade = phrase.number is not None and phrase.number in TRADE_COIL
        if trade and not phrase.weights and not self._plural(phrase):
            phrase.weights.append(thousands(phrase.number or 0, phrase.start, phrase.end))
            phrase.number = None
        told_before = [noun for noun in self.drafts.nouns if noun.noun == "coils"]
        draft = self._add(Draft("coils", self._verb, count=phrase.number))
        place = next((piece for piece in phrase.before_head if piece.sort == "place"), None)
        if place is not None and phrase.number is None and not phrase.indefinite:
            draft.nth = 1 if place.key == "front" else -2
        draft.another = bool(told_before) and (phrase.indefinite or phrase.one or phrase.number is not None)
        draft.facts |= {
            piece.sort: piece.key_of(piece.sort) or piece.key
            for piece in phrase.facts
            if piece.sort in {"eye", "metal"}
        }
        measure = phrase.first("measure")
        if measure is not None and not phrase.weights:
            self._measure(phrase, measure)
        self._weigh_coils(draft, phrase, told_before)
        if not told_before:
            self._told_ahead(draft)
        self._also_of_ties(phrase)

    def _coil_of_those(self, phrase: Phrase) -> bool:
        """Take a coil denied, taken off, pointed at or told again; False where coils are told by what they are."""
        nth = phrase.first("nth")
        if phrase.denied and (phrase.weights or phrase.facts or phrase.number or not self._coils_on):
            self._lose(phrase, "denied")
        elif phrase.denied:
            self._add(Draft("coils", "remove", count=None))
        elif self._verb == "remove":
            self._add(Draft("coils", "remove", count=phrase.number or 1, another=phrase.indefinite or phrase.one))
        elif nth is not None:
            self._nth_coil(nth, phrase)
        elif phrase.first("again"):
            self.drafts.same_again = True
        else:
            return False
        return True

    def _weigh_coils(self, draft: Draft, phrase: Phrase, told_before: Sequence[Draft]) -> None:
        """Put the weights told of coils on them: each one's, or a share of what they weigh together."""
        weights: list[Weight] = [piece.value for piece in phrase.weights]
        if phrase.total and weights:
            weights = [self._each({"count": phrase.number or 1, "weight": weights[0]})["weight"]]
        if phrase.vague and weights:
            self._about(weights[0])
        if phrase.each and weights:
            for noun in told_before:
                noun.weights += [] if noun.weights else weights[:1]
        draft.weights += weights
        self._last_weights = draft.weights

    def _told_ahead(self, draft: Draft) -> None:
        """Give the first coil what was told before any coil was named."""
        draft.facts |= {key: value for key, value in self.drafts.coil_facts.items() if key not in draft.facts}
        self.drafts.coil_facts = {}
        if self.drafts.weights and not draft.weights:
            draft.weights.append(self.drafts.weights.pop(0))

    def _article(self, phrase: Phrase) -> None:
        self.drafts.coil_facts.pop("metal", None)
        name = (phrase.head.key_of("article") if phrase.head else "") or "article"
        if phrase.denied:
            self._lose(phrase, "denied")
            return
        self._others(phrase)
        plural = self._plural(phrase)
        count = phrase.number or 1
        if phrase.number is None and plural and name in _PLURAL_ARTICLES:
            self.drafts.assumed.append(
                f"{name.capitalize()}s without a number are taken as one piece, with that weight in all."
            )
        draft = self._add(Draft("articles", self._verb, count=count, facts={"name": name}))
        draft.there = phrase.definite or (phrase.number is None and not phrase.indefinite and not phrase.more)
        lengths = [piece for piece in phrase.facts if piece.sort == "length"]
        if lengths:
            draft.facts["length_ft"] = lengths[0].value.feet(self._definitions)
        if phrase.weights:
            draft.weights.append(phrase.weights[0].value)
        elif self.drafts.weights:
            draft.weights.append(self.drafts.weights.pop(0))
        self._last_weights = draft.weights
        if phrase.first("place"):
            self.drafts.assumed.append(f"Where the {name} stands is not kept.")
        for piece in phrase.facts:
            if piece.sort in {"blocked", "unblocked"}:
                draft.facts["blocked_forward"] = piece.sort == "blocked"
        self._also_of_ties(phrase)

    def _rest_on(self, phrase: Phrase) -> None:
        loaded = phrase.holds or (phrase.weights and phrase.number is not None)
        if phrase.sort == "pallet" and loaded and not phrase.denied:
            self._article(phrase)
            return
        if phrase.each_side:
            phrase.number = 2 * (phrase.number or 1)
        self._others(phrase)
        measure = phrase.first("measure")
        if measure is not None and self._measure(phrase, measure):
            return
        key = phrase.head.key_of("counted") if phrase.sort == "counted" and phrase.head else phrase.sort
        rated = [mark for mark in phrase.marks if mark.sort == "weight"]
        if rated and key in {"bunks", "timbers"}:
            self._support({f"{key[:-1]}_rated_lb": rated[0].value.pounds})
        if phrase.denied:
            self.drafts.support.pop(key, None)  # "mats? there's no mats"
            self.drafts.taken.pop(key, None)
        there = not phrase.denied and self._verb != "remove"
        if phrase.sort != "counted":
            self._support({key: there})
        elif phrase.more or (self._verb in {"add", "remove"} and (phrase.number is not None or phrase.indefinite)):
            self._more_or_fewer(key, phrase)
        elif phrase.number is not None or phrase.indefinite or not there:
            self._counted_at(key, phrase, there=there)
        elif not rated:
            self._uncounted(key)
        self._also_of_ties(phrase)

    def _more_or_fewer(self, key: str, phrase: Phrase) -> None:
        sign = -1 if self._verb == "remove" or phrase.fewer else 1
        self._more({"counted": key, "count": phrase.number or 1}, sign=sign)
        self.drafts.adds |= {key} if self._verb == "add" and not phrase.more else set()

    def _counted_at(self, key: str, phrase: Phrase, *, there: bool) -> None:
        if phrase.number is not None and phrase.denied:
            self.drafts.denied.append(float(phrase.number))
            self.drafts.fix = True
        elif phrase.number is None and not there:
            self._support({key: 0})
        else:
            self._support({key: 1 if phrase.number is None else phrase.number})
            self.drafts.counted = key

    def _uncounted(self, key: str) -> None:
        if key == "bunks":
            self.drafts.uncounted = True
        else:
            self.drafts.taken |= {key: 2}
            self.drafts.taken_assumed |= {key: _TAKEN[key]}

    def _rated_part(self, phrase: Phrase) -> None:
        part = phrase.head.key_of("part") if phrase.head else ""
        self._others(phrase)
        limits = [piece.value.pounds for piece in (*phrase.marks, *phrase.weights) if piece.sort == "weight"]
        length, inches = phrase.first("length"), phrase.first("inches", "size")
        if limits and part in _RATED:
            self._part({"part": _RATED[part], "limit": limits[0]})
        elif limits and part == "front":
            self.drafts.front["rated_lb"] = limits[0]
        elif part == "front" and length is not None:
            self.drafts.front["height_ft"] = length.value.feet(self._definitions)
        elif part == "threads" and phrase.number is not None:
            self._of_tiedown({"threads_left": float(phrase.number)})
        elif inches is not None and (part == "takeup" or (part == "binder" and phrase.number is None)):
            self._of_tiedown({"take_up_in": self._inches(inches)})
        elif part in _RATED and not phrase.denied:
            self.drafts.assumed.append("Binders are taken as part of their chains.")
            self._also_of_ties(phrase)
        else:
            self._lose(phrase, "denied" if phrase.denied else "not placed")
