"""Numbers and facts without a noun: which of the nouns told before, or on the deck, they belong to."""

from typing import Any

from assistant.load.model import Kind
from assistant.phrase.draft import Draft
from assistant.phrase.page import MADE_OF
from assistant.understand.phrase import OF_TIEDOWN, TRADE_COIL, Phrase, thousands
from assistant.understand.told_facts import RUN
from assistant.understand.told_tiedowns import Tiedowns

_POINTS = ("through", "crossed", "path")
"""By what tiedowns are pointed at."""
_HOW = frozenset({"through", "path", "crossed"})


class Bare(Tiedowns):
    """Takes the phrases that have no noun."""

    def _headless(self, phrase: Phrase) -> None:
        pointed = phrase.ref in {"other", "rest", "half", "same"}
        if pointed and phrase.number is None and not (phrase.facts or phrase.weights):
            self._lose(phrase, "not placed")
            return
        self._others(phrase)
        ties = [piece for piece in phrase.facts if piece.sort in OF_TIEDOWN or piece.sort == "place"]
        facts = self._tie_facts(phrase, ties)
        if self._is_again(phrase) or self._is_measure(phrase) or self._is_a_coil(phrase, facts):
            return
        for piece in phrase.facts:
            if piece.sort in {"eye", "metal"}:
                self._coil_fact(piece, phrase)
        number = None if phrase.weights else phrase.number
        if phrase.first("each_way"):
            self._each_way(number or 1, self._hint, facts)
        elif self._hint and number is not None and phrase.ref != "them":
            self._new(number, self._hint, facts)
            self._hint = None
        elif number is not None:
            self._numbered(number, phrase, facts)
        elif facts and (ties or not phrase.weights):
            self._facts_alone(phrase, facts)

    def _is_again(self, phrase: Phrase) -> bool:
        """Take "the same again"; False where it is not that."""
        again = phrase.first("again") is not None
        self.drafts.same_again |= again
        return again

    def _is_measure(self, phrase: Phrase) -> bool:
        """Take a measure that is told by its name; False where there is none."""
        if phrase.first("eyeword") and self._bore(phrase):
            return True
        measure = phrase.first("measure")
        return measure is not None and self._measure(phrase, measure)

    def _is_a_coil(self, phrase: Phrase, facts: dict[str, Any]) -> bool:
        """Take "the back one is twelve thousand", "the second one is eye up"; True where nothing is left to take.

        Of any other phrase the weights are taken.
        """
        nth, made = phrase.first("nth"), phrase.first("eye", "metal")
        place = next(
            (piece for piece in phrase.facts if piece.sort == "place" and piece.key in {"front", "rear"}), None
        )
        one = phrase.one or (phrase.definite and phrase.number is None)
        if place is not None and one and (phrase.weights or made) and not facts.keys() - {"pulls"}:
            self._placed_coil(place, phrase)
            return True
        if nth is not None and phrase.number is not None and phrase.number in TRADE_COIL and not phrase.weights:
            phrase.weights.append(thousands(phrase.number, phrase.start, phrase.end))
        if phrase.weights:
            self._weigh(phrase, nth)
        elif nth is not None and (made or phrase.verb):
            self._nth_coil(nth, phrase)
            return True
        return False

    def _numbered(self, number: int, phrase: Phrase, facts: dict[str, Any]) -> None:
        if phrase.denied and phrase.one and not (self.drafts.nouns or self.drafts.numbers):
            self._lose(phrase, "denied")
        elif phrase.denied:
            self.drafts.denied.append(float(number))
            self.drafts.fix = True
        elif self._points(phrase):
            self._lose(phrase, "not placed")
        elif self._verb == "remove":
            self._so_many_off(number, phrase)
        elif phrase.fewer:
            self.drafts.fewer.append(number)
        elif phrase.more:
            like = self._tiedown
            made = {key: value for key, value in like.facts.items() if key in MADE_OF} if like else {}
            self._bring_in(Draft("tiedowns", "add", number, like.kind if like else None, made | facts))
        elif self._counts_those_told(number, phrase, facts):
            self.uncounted = False
        elif facts:
            self._so_many_run(number, phrase, facts)
        else:
            self._number_alone(number, phrase)

    def _so_many_off(self, number: int, phrase: Phrase) -> None:
        """Take "take two off"."""
        nothing = self._tiedown is None and not self._kinds_on
        if phrase.first("protect"):
            self.drafts.seen.append("no edge protection")
        elif nothing and self._coils_on:
            self._add(Draft("coils", "remove", count=number))
        elif nothing and phrase.one:
            self._lose(phrase, "not placed")
        else:
            self.drafts.fewer.append(number)

    def _counts_those_told(self, number: int, phrase: Phrase, facts: dict[str, Any]) -> bool:
        """Take a number as that of the tiedowns told without one; False where none wait for theirs."""
        waiting = self._tiedown
        if waiting is None or waiting.count is not None or waiting.kind in self._kinds_on:
            return False
        if facts.keys() & RUN and phrase.ref != "all":
            self._counted.append(waiting)
            self._beside(waiting, number, {**waiting.facts, **facts})
            return True
        if phrase.ref == "part":
            return False
        waiting.count = number
        waiting.facts |= facts
        return True

    def _number_alone(self, number: int, phrase: Phrase) -> None:
        """Take a number of which nothing is told: of coils, of those told before, or to be placed later."""
        nothing = self._tiedown is None and not self._kinds_on and not self._coils_on
        if phrase.ref == "them" and nothing and number > 1:
            draft = self._add(Draft("coils", "state", count=number))
            draft.unnamed = True
            self._last_weights = draft.weights
            return
        if phrase.one and not (phrase.cued and self._fixing):
            return  # "just the one", "one of them": it counts what was told by itself
        if phrase.ref in {"them", "all"} and self._tiedown and self._tiedown.count in {None, number}:
            self._tiedown.count = number
            return
        self.drafts.numbers.append(number)
        self._last_weights = self.drafts.numbers

    def _so_many_run(self, number: int, phrase: Phrase, facts: dict[str, Any]) -> None:
        """Take how so many run, or what they are made of: all of them, some of them, or new ones."""
        made = facts.keys() & MADE_OF
        nothing = self._tiedown is None and not self._kinds_on
        every = phrase.ref in {"all", "both"} or (phrase.each and phrase.ref == "them")
        if every and not (made and nothing):
            self._all_of(number)
            self._tell_everyone(facts)
            return
        if nothing and not made:
            self._lose(phrase, "not placed")
            return
        told = self._tiedown
        full = told is not None and (told.count or 0) <= sum(count for count, _ in told.some)
        fresh = nothing or (full and "grade" in facts)
        if made and fresh and phrase.ref != "part" and ("grade" in facts or facts.keys() - made or "size_in" in facts):
            self._new(number, Kind.CHAIN, facts)
            return
        self._some(number, facts)

    def _points(self, phrase: Phrase) -> bool:
        """Return whether it points at one tiedown of several by where it is: "the front one goes through the eye"."""
        places = [piece for piece in phrase.facts if piece.sort == "place"]
        others = [piece for piece in phrase.facts if piece.sort in OF_TIEDOWN]
        return phrase.one and phrase.definite and bool(places) and bool(others)

    def _facts_alone(self, phrase: Phrase, facts: dict[str, Any]) -> None:
        if self._verb == "remove":
            self._lose(phrase, "not placed")
            return
        if phrase.denied:
            self._not_so_made(phrase, facts)
            return
        if self._tiedown is None and not self._kinds_on and not self._made_alone(facts):
            self._lose(phrase, "not placed")
            return
        placed = all(piece.sort == "place" for piece in phrase.facts)
        if phrase.facts and placed and not phrase.ref and self._last_sort != "kind":
            self.drafts.assumed.append("Where it stands is not kept.")
            return
        match phrase.ref:
            case "all" | "both":
                self._tell_everyone(facts)
            case "rest" | "other":
                self._other(facts)
            case "same":
                self._same(facts)
            case "half" if self._tiedown and self._tiedown.count:
                self._some(self._tiedown.count // 2, facts)
            case "half":
                self._lose(phrase, "not placed")
            case _:
                self._facts_of_those(phrase, facts)

    def _facts_of_those(self, phrase: Phrase, facts: dict[str, Any]) -> None:
        """Take facts as told of those spoken of last, on the deck, or still to be counted."""
        if self._pointed_at(phrase):
            return
        if phrase.pron == "them" and self._tiedown is None and len(self._kinds_on) == 1:
            self.drafts.every_tiedown |= facts
        elif self._made_alone(facts):
            self._bring_in(Draft("tiedowns", "state", None, Kind.CHAIN, facts))
            self.uncounted = True
        elif facts.keys() <= _HOW and self._told_in_parts():
            self._tell_everyone(facts)
            self.drafts.assumed.append(f"“{self.words(phrase.start, phrase.end)}” is taken of all of them.")
        else:
            self._of_tiedown(facts)

    def _pointed_at(self, phrase: Phrase) -> bool:
        """Take "those over the top ...": it points at the tiedowns on deck that run so, and tells the rest of them."""
        if self._tiedown is not None or not self._kinds_on or self.words(phrase.start - 1, phrase.start) != "those":
            return False
        which = self._tie_facts(Phrase(), phrase.facts[:1])
        only = {key: value for key, value in which.items() if key in _POINTS}
        if not only:
            return False
        told = self._tie_facts(Phrase(), phrase.facts[1:])
        draft = self._add(Draft("tiedowns", "state", only=only, plural=True, facts=told))
        draft.there = True
        self._tiedown, self._facts = draft, draft.facts
        return True

    def _told_in_parts(self) -> bool:
        """Return whether tiedowns were told in parts right before: what is told behind them is told of all."""
        told = [noun for noun in self.drafts.nouns if noun.noun == "tiedowns" and noun.verb != "remove"]
        return len(told) > 1 or any(noun.some for noun in told)

    def _made_alone(self, facts: dict[str, Any]) -> bool:
        """Return whether chains are told of by what they are made of, their number to come: "half inch seventies"."""
        made = 0 < facts.get("size_in", 1) < 1 or "grade" in facts
        return self._tiedown is None and not self._kinds_on and made and not facts.keys() & RUN

    def _not_so_made(self, phrase: Phrase, facts: dict[str, Any]) -> None:
        """Take "not three eighths" as what it was before, where it is put right; hold every other denial."""
        made = [value for key, value in facts.items() if key in {"size_in", "grade"}]
        if facts and len(made) == len(facts):
            self.drafts.denied += [float(value) for value in made]
            self.drafts.fix = True
        else:
            self._lose(phrase, "denied")
