"""Tiedowns by their kind: new ones, those told before, some of them, and those that are on."""

from typing import Any

from assistant.load.model import Kind
from assistant.phrase.draft import Draft
from assistant.phrase.page import MADE_OF
from assistant.understand.phrase import Phrase
from assistant.understand.scan import Piece
from assistant.understand.told_cargo import Cargo
from assistant.understand.told_facts import RUN

_TOLD_APART_BY = RUN - {"path"}
"""What tells those apart that are taken off."""


class Tiedowns(Cargo):
    """Takes the phrases of which the noun is a tiedown."""

    def _tie(self, phrase: Phrase) -> None:
        kind = phrase.kind
        facts = self._tie_facts(phrase, phrase.facts)
        self._others(phrase)
        if any(piece.sort == "each_way" for piece in phrase.facts):
            self._each_way(phrase.number or 1, kind, facts)
            return
        if phrase.denied:
            self._no_tie(phrase, kind, facts)
            return
        if phrase.ref == "part" or (phrase.ref == "them" and phrase.number is not None and self._verb == "remove"):
            self._part_of(phrase.number or 1, kind, facts)
            return
        if phrase.more and phrase.number is None:
            phrase.number = 1
        nth = next((piece for piece in phrase.facts if piece.sort == "nth"), None)
        if nth is not None and phrase.number is None and not self._plural(phrase):
            self._nth_tie(nth, phrase, kind, facts)
            return
        if phrase.each_side:
            phrase.number = 2 * (phrase.number or 1)
        if phrase.number is not None or (phrase.indefinite and phrase.ref not in {"all", "both"}):
            count = phrase.number if phrase.number is not None else 1
            if phrase.fewer:
                self._add(Draft("tiedowns", "remove", count, kind))
                return
            if self._restated(count, kind, facts, phrase) or self._said_again(count, kind, facts, phrase):
                return
            self._new(count, kind, facts, each=phrase.each and not phrase.marks, plural=count > 1, total=phrase.total)
            return
        self._those(phrase, kind, facts)

    def _nth_tie(self, nth: Piece, phrase: Phrase, kind: Kind | None, facts: dict[str, Any]) -> None:
        """Take "first chain goes through the eye" as one more, where there are as many as stand before it."""
        told = sum(noun.count or 0 for noun in self.drafts.nouns if noun.noun == "tiedowns" and noun.kind is kind)
        if nth.key == str(told + 1) and kind not in self._kinds_on:
            self._new(1, kind, facts, plural=False)
        else:
            self._lose(phrase, "not placed")

    def _new(
        self,
        count: int,
        kind: Kind | None,
        facts: dict[str, Any],
        *,
        each: bool = False,
        plural: bool = True,
        total: bool = False,
    ) -> None:
        if (
            self._fixing
            and self._tiedown
            and self._noun is self._tiedown
            and self._tiedown.verb not in {"remove", "fix"}
            and not (kind is not self._tiedown.kind and self._kinds_on)
        ):
            old = self._tiedown
            kept = {key: value for key, value in old.facts.items() if kind is old.kind or key not in MADE_OF}
            old.count, old.kind, old.plural = count, kind or old.kind, plural
            old.facts = self._facts = kept | facts
            return
        verb = "fix" if total and self._verb == "state" else self._verb
        draft = self._add(Draft("tiedowns", verb, count, kind, facts, plural=plural))
        draft.each = each
        if self._tiedown is None:
            draft.facts |= {key: value for key, value in self.drafts.tiedown_facts.items() if key not in draft.facts}
            self.drafts.tiedown_facts = {}
        self._tiedown, self._facts = draft, draft.facts

    def _restated(self, count: int, kind: Kind | None, facts: dict[str, Any], phrase: Phrase) -> bool:
        """Return whether a number sums up what was told before in the same breath: "two each way, so four chains"."""
        told = [
            noun.count or 0
            for noun in self.drafts.nouns
            if noun.noun == "tiedowns" and noun.kind is kind and noun.verb != "remove"
        ]
        if facts or phrase.more or self._verb != "state":
            return False
        if self._tiedown is not None and self._tiedown.each and self._tiedown.kind is kind:
            on = sum(noun.count or 1 for noun in self.drafts.nouns if noun.noun == "coils") or self._coils_on
            if on * (self._tiedown.count or 1) != count:
                self._lose(phrase, "clash")
            return True  # "a strap over each one, so four straps"
        return len(told) > 1 and sum(told) == count

    def _said_again(self, count: int, kind: Kind | None, facts: dict[str, Any], phrase: Phrase) -> bool:
        """Hold the very same told twice in one breath: "four chains uh four chains" may be four or eight."""
        told = ((noun.count, noun.kind, noun.facts) for noun in self.drafts.nouns if noun.noun == "tiedowns")
        again = self._verb == "state" and not phrase.more and (count, kind, facts) in told
        if again:
            self._lose(phrase, "clash")
        return again

    def _no_tie(self, phrase: Phrase, kind: Kind | None, facts: dict[str, Any]) -> None:
        if kind and phrase.number is None and not facts:
            self._add(Draft("tiedowns", "remove", kind=kind, facts={"quiet": True}))
        elif phrase.number is not None and not facts:
            self.drafts.denied.append(float(phrase.number))
            self.drafts.fix = True
        else:
            self._lose(phrase, "denied")

    def _part_of(self, count: int, kind: Kind | None, facts: dict[str, Any]) -> None:
        if self._verb == "remove":
            self._add(Draft("tiedowns", "remove", count, kind))
            return
        if self._tiedown and kind in {None, self._tiedown.kind}:
            self._some(count, facts)
            return
        if kind and kind not in self._kinds_on:
            self._new(count, kind, facts)
            return
        draft = self._add(Draft("tiedowns", "state", kind=kind, some=[(count, facts)]))
        self._tiedown, self._facts = draft, facts

    def _those(self, phrase: Phrase, kind: Kind | None, facts: dict[str, Any]) -> None:
        """Take "the chains are grade eighty", "all the straps", "chains over the top", with no number."""
        if self._verb == "fix" and kind and kind not in self._kinds_on and self._tiedown is None and self._kinds_on:
            draft = self._add(Draft("tiedowns", "fix", kind=kind, facts=facts))
            self._tiedown, self._facts = draft, draft.facts
            return
        if self._tiedown and self._tiedown.kind is kind and self._verb == "state":
            self._of_tiedown(facts)
            self._facts = self._tiedown.facts
            return
        there = kind in self._kinds_on if kind else bool(self._kinds_on)
        if self._verb == "remove":
            which = {key: value for key, value in facts.items() if key in _TOLD_APART_BY}
            made = {key: value for key, value in facts.items() if key in MADE_OF}
            self._add(Draft("tiedowns", "remove", kind=kind, plural=self._plural(phrase), only=which, made=made))
            return
        if not there and phrase.pron == "them" and self._kinds_on and kind:
            # "they're chains", where straps were told
            draft = self._add(Draft("tiedowns", "fix", kind=kind, facts=facts))
            self._tiedown, self._facts = draft, draft.facts
            return
        if (
            not there
            and phrase.ref != "part"
            and not phrase.definite
            and (phrase.each or self._plural(phrase))
            and kind
            and facts
        ):
            self.uncounted = True
        if (
            not there
            and not self._plural(phrase)
            and not phrase.definite
            and kind
            and not phrase.ref
            and not phrase.each
            and facts
        ):
            self._new(1, kind, facts, plural=False)
            return
        if not there and kind and not phrase.definite and not phrase.ref:
            self.uncounted = True
        only, made = self._which(phrase, facts)
        draft = self._add(
            Draft(
                "tiedowns",
                self._verb if self._verb in {"state", "fix"} else "state",
                kind=kind,
                plural=self._plural(phrase),
                only=only,
                made=made,
                facts=facts,
            )
        )
        draft.there = phrase.definite
        self._tiedown, self._facts = draft, draft.facts

    def _which(self, phrase: Phrase, facts: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
        """Split off what stands before the noun: "the forward chains are ..." points at those that run so."""
        if phrase.head is None or not phrase.definite:
            return {}, {}
        before = [piece for piece in phrase.facts if piece.end <= phrase.head.start]
        behind = [piece for piece in phrase.facts if piece.start >= phrase.head.end]
        if not before or not behind:
            return {}, {}
        told = self._tie_facts(Phrase(), before)
        only = {key: value for key, value in told.items() if key in RUN}
        made = {key: value for key, value in told.items() if key in MADE_OF}
        for key in (*only, *made):
            if facts.get(key) == told[key]:
                del facts[key]
        return only, made

    def _each_way(self, count: int, kind: Kind | None, facts: dict[str, Any]) -> None:
        facts = {key: value for key, value in facts.items() if key != "pulls"}
        if kind or self._tiedown is None or self._tiedown.count != 2 * count:
            self._new(2 * count, kind, facts)
        self._some(count, {"pulls": "forward"}, together=True)
        self._some(count, {"pulls": "rearward"}, together=True)

    def _some(self, count: int, facts: dict[str, Any], *, together: bool = False) -> None:
        """Tell facts of so many: of those just told, unless these run so that they must be others."""
        draft = self._tiedown
        if draft is not None and not together and self._others_than(draft.facts, facts):
            self._beside(draft, count, facts)
            return
        super()._some(count, facts, together=together)

    @staticmethod
    def _others_than(told: dict[str, Any], facts: dict[str, Any]) -> bool:
        """Return whether no tiedown runs both ways: what hooks to the load goes over nothing, an X is not straight."""
        direct = told.get("path") == "direct" and "through" in facts
        hooked = facts.get("path") == "direct" and "through" in told
        straight = bool(told.get("crossed")) and not facts.get("crossed") and ("path" in facts or "through" in facts)
        return direct or hooked or straight

    def _all_of(self, count: int) -> None:
        """Take the number of "all four" beside what was told, or later beside what is on."""
        told = [noun.count for noun in self.drafts.nouns if noun.noun == "tiedowns" and noun.verb != "remove"]
        if told and None not in told and sum(number or 0 for number in told) == count:
            return
        super()._all_of(count)

    def _tell_everyone(self, facts: dict[str, Any]) -> None:
        if self._tiedown is not None:
            for draft in self.drafts.nouns:
                if draft.noun == "tiedowns" and draft.verb != "remove":
                    draft.facts |= {key: value for key, value in facts.items() if key not in draft.facts}
            self._shared |= facts
        else:
            self.drafts.every_tiedown |= facts

    def damages(self, kind: str, count: int) -> bool:
        """Take so many tiedowns as damaged, told before or brought in so; False where one thing was seen."""
        if count == 1 and (self._tiedown is not None or Kind(kind) in self._kinds_on):
            return False
        if self._tiedown is not None and self._tiedown.kind is Kind(kind):
            self._some(count, {"damaged": True})
        elif Kind(kind) in self._kinds_on:
            self.drafts.nouns.append(Draft("tiedowns", "state", count, Kind(kind), {"damaged": True}))
        else:
            self._new(count, Kind(kind), {"damaged": True})
        return True
