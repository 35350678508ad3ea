"""Numbers and facts without a noun: which of the nouns told before, or on the deck, they belong to."""

from typing import Any

from assistant.load.model import Kind
from assistant.phrase.draft import Draft
from assistant.phrase.page import MADE_OF
from assistant.understand.phrase import OF_TIEDOWN, TRADE_COIL, Phrase, thousands
from assistant.understand.told_tiedowns import Tiedowns

_HOW = frozenset({"through", "path", "crossed"})
_RUN = frozenset({"pulls", "through", "place", "path", "crossed"})


class Bare(Tiedowns):
    """Takes the phrases that have no noun."""

    def _headless(self, phrase: Phrase) -> None:  # noqa: C901, PLR0912 - the ways to leave a noun out read best in one place
        if (
            phrase.ref in {"other", "rest", "half", "same"}
            and phrase.number is None
            and not (phrase.facts or phrase.weights)
        ):
            self._lose(phrase, "not placed")
            return
        self._others(phrase)
        ties = [piece for piece in phrase.facts if piece.sort in OF_TIEDOWN or piece.sort == "place"]
        facts = self._tie_facts(phrase, ties)
        coil_facts = [piece for piece in phrase.facts if piece.sort in {"eye", "metal"}]
        nth = next((piece for piece in phrase.facts if piece.sort == "nth"), None)
        if any(piece.sort == "again" for piece in phrase.facts):
            self.drafts.same_again = True
            return
        if any(piece.sort == "eyeword" for piece in phrase.facts) and self._bore(phrase):
            return
        measure = next((piece for piece in phrase.facts if piece.sort == "measure"), None)
        if measure and self._measure(phrase, measure):
            return
        place = next(
            (piece for piece in phrase.facts if piece.sort == "place" and piece.key in {"front", "rear"}), None
        )
        if (
            place is not None
            and (phrase.one or (phrase.definite and phrase.number is None))
            and (phrase.weights or coil_facts)
            and not facts.keys() - {"pulls"}
        ):
            self._placed_coil(place, phrase)
            return
        if nth is not None and phrase.number is not None and phrase.number in TRADE_COIL and not phrase.weights:
            phrase.weights.append(thousands(phrase.number or 0, phrase.start, phrase.end))
        if phrase.weights:
            self._weigh(phrase, nth)
            facts = {} if not ties else facts
        elif nth is not None and (coil_facts or phrase.verb):
            self._nth_coil(nth, phrase)
            return
        for piece in coil_facts:
            self._coil_fact(piece, phrase)
        number = None if phrase.weights else phrase.number
        if any(piece.sort == "each_way" for piece in phrase.facts):
            self._each_way(number or 1, self._hint, facts)
            return
        if self._hint and number is not None and phrase.ref != "them":
            self._new(number, self._hint, facts)
            self._hint = None
            return
        if number is not None:
            self._numbered(number, phrase, facts)
        elif facts:
            self._facts_alone(phrase, facts)

    def _numbered(self, number: int, phrase: Phrase, facts: dict[str, Any]) -> None:
        if phrase.denied and phrase.one and not (self.drafts.nouns or self.drafts.numbers):
            self._lose(phrase, "denied")
            return
        if phrase.denied:
            self.drafts.denied.append(float(number))
            self.drafts.fix = True
            return
        if self._points(phrase):
            self._lose(phrase, "not placed")
            return
        if self._verb == "remove" and any(piece.sort == "protect" for piece in phrase.facts):
            self.drafts.seen.append("no edge protection")
            return
        if self._verb == "remove":
            if self._tiedown is None and not self._kinds_on and self._coils_on:
                self._add(Draft("coils", "remove", count=number))
                return
            if phrase.one and self._tiedown is None and not self._kinds_on:
                self._lose(phrase, "not placed")
                return
            self.drafts.fewer.append(number)
            return
        if phrase.fewer:
            self.drafts.fewer.append(number)
            return
        if phrase.more:
            like = self._tiedown
            made = {key: value for key, value in like.facts.items() if key in MADE_OF} if like else {}
            draft = self._add(Draft("tiedowns", "add", number, like.kind if like else None, made | facts))
            self._tiedown, self._facts = draft, draft.facts
            return
        waiting = self._tiedown is not None and self._tiedown.count is None and self._tiedown.kind not in self._kinds_on
        if waiting and self._tiedown is not None and facts.keys() & _RUN and phrase.ref != "all":
            self._counted.append(self._tiedown)
            self._beside(self._tiedown, number, {**self._tiedown.facts, **facts})
            self.uncounted = False
            return
        if waiting and self._tiedown is not None and phrase.ref != "part":
            self._tiedown.count = number
            self._tiedown.facts |= facts
            self.uncounted = False
            return
        if phrase.fewer:
            self.drafts.fewer.append(number)
            return
        if (
            phrase.ref == "them"
            and not facts
            and self._tiedown is None
            and not self._kinds_on
            and not self._coils_on
            and number > 1
        ):
            draft = self._add(Draft("coils", "state", count=number))
            draft.unnamed = True
            self._last_weights = draft.weights
            return
        if not facts:
            if phrase.one and not (phrase.cued and self._fixing):
                return  # "just the one", "one of them": it counts what was told by itself
            if phrase.ref in {"them", "all"} and self._tiedown and self._tiedown.count in {None, number}:
                self._tiedown.count = number
                return
            self.drafts.numbers.append(number)
            self._last_weights = self.drafts.numbers
            return
        made = facts.keys() & MADE_OF
        if (phrase.ref in {"all", "both"} or (phrase.each and phrase.ref == "them")) and not (
            made and not self._kinds_on and self._tiedown is None
        ):
            self._all_of(number)
            self._tell_everyone(facts)
            return
        if self._tiedown is None and not self._kinds_on and not made:
            self._lose(phrase, "not placed")
            return
        full = self._tiedown is not None and (self._tiedown.count or 0) <= sum(count for count, _ in self._tiedown.some)
        fresh = (self._tiedown is None and not self._kinds_on) or (
            self._tiedown is not None and full and "grade" in facts
        )
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
        if (
            phrase.facts
            and all(piece.sort == "place" for piece in phrase.facts)
            and not phrase.ref
            and self._last_sort != "kind"
        ):
            self.drafts.assumed.append("Where it stands is not kept.")
            return
        match phrase.ref:
            case "all" | "both":
                self._tell_everyone(facts)
            case "rest" | "other":
                self._other(facts)
            case "same":
                self._same(facts)
            case "half":
                draft = self._tiedown
                if draft and draft.count:
                    self._some(draft.count // 2, facts)
                else:
                    self._lose(phrase, "not placed")
            case _ if phrase.pron == "them" and self._tiedown is None and len(self._kinds_on) == 1:
                self.drafts.every_tiedown |= facts
            case _ if self._made_alone(facts):
                draft = self._add(Draft("tiedowns", "state", None, Kind.CHAIN, facts))
                self._tiedown, self._facts = draft, draft.facts
                self.uncounted = True
            case _ if facts.keys() <= _HOW and self._told_in_parts():
                self._tell_everyone(facts)
                self.drafts.assumed.append(f"“{self.words(phrase.start, phrase.end)}” is taken of all of them.")
            case _:
                self._of_tiedown(facts)

    def _told_in_parts(self) -> bool:
        """Return whether tiedowns were told in parts right before: what is told behind them is told of all."""
        told = [noun for noun in self.drafts.nouns if noun.noun == "tiedowns" and noun.verb != "remove"]
        return len(told) > 1 or any(noun.some for noun in told)

    def _made_alone(self, facts: dict[str, Any]) -> bool:
        """Return whether chains are told of by what they are made of, and their number comes later: "half inch seventies"."""
        fraction = 0 < facts.get("size_in", 1) < 1
        return (
            self._tiedown is None and not self._kinds_on and (fraction or "grade" in facts) and not facts.keys() & _RUN
        )

    def _not_so_made(self, phrase: Phrase, facts: dict[str, Any]) -> None:
        """Take "not three eighths" as what it was before, where it is put right; hold every other denial."""
        made = [value for key, value in facts.items() if key in {"size_in", "grade"}]
        if facts and len(made) == len(facts):
            self.drafts.denied += [float(value) for value in made]
            self.drafts.fix = True
        else:
            self._lose(phrase, "denied")
