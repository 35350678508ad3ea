"""The page on which one utterance is drafted: what was told last, and where the next fact belongs."""

from collections.abc import Sequence
from typing import Any

from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.slots import Weight
from assistant.phrase.tokens import Token


def _plain(key: str, value: object) -> str:
    """Return a fact as a driver would know it again."""
    name = key.replace("_", " ")
    if isinstance(value, bool):
        return name if value else f"no {name}"
    return f"{value} {name}" if isinstance(value, int) else str(value)


_ONE_COURSE = frozenset({"pulls", "through", "place", "path"})
"""Of each of these a tiedown has one: a second, other one is told of other tiedowns, or by mistake."""
_HOW = frozenset({"through", "path", "crossed"})
"""Told behind the last of several parts without a noun, it may be meant for all of them."""
MADE_OF = frozenset({"size_in", "thickness_in", "grade", "material", "marked_lb", "unmarked"})
"""What a tiedown is, and not how it runs."""
_TWO_COURSES = "I heard two courses for the same tiedowns. Say how many run each way."
_TWO_DIRECTIONS = "I heard two directions for the same tiedowns. Say how many hold forward, how many rearward."
_EQUAL = "Coils weighed together are taken as equally heavy."


class Page:
    """The state of reading one utterance left to right."""

    def __init__(self, definitions: str, tokens: Sequence[Token]) -> None:
        self._definitions = definitions
        self._tokens = tokens
        self.drafts = Drafts()
        self._verb = "state"
        self._fixing = False
        """Whether a correction was begun and nothing told since: what comes takes the place of what was told last."""
        self._last_weights: list[Any] | None = None
        """Where the last fragment's weight or number was put."""
        self._shared: dict[str, Any] = {}
        """Told of all tiedowns of this utterance: "both through the eye"."""
        self._noun: Draft | None = None
        self._tiedown: Draft | None = None
        self._facts: dict[str, Any] = self.drafts.tiedown_facts
        """Where the next fact about a tiedown goes."""

    def _add(self, draft: Draft) -> Draft:
        fixed = [noun for noun in self.drafts.nouns if noun.verb == "fix"]
        if draft.verb == "fix" and not self._fixing and fixed and fixed[0].noun != draft.noun:
            # "no, it's a forty one with four chains": the correction was about the coil
            draft.verb = self._verb = "state"
        draft.first = self._fixing
        self.drafts.nouns.append(draft)
        self._noun = draft
        return draft

    def _weight(self, weight: Weight, *, apart: bool = False, each: bool = False) -> None:
        coils = [noun for noun in self.drafts.nouns if noun.noun == "coils" and not noun.weights]
        if each and len(coils) > 1 and coils[-1] is self._noun:
            for noun in coils:
                noun.weights.append(weight)
            return
        if self._noun and self._noun.noun in {"coils", "articles"}:
            wanted = (self._noun.count or 1) if self._noun.noun == "coils" else 1
            if len(self._noun.weights) < wanted:
                self._noun.weights.append(weight)
                self._noun.apart |= apart
                self._last_weights = self._noun.weights
                return
        self.drafts.weights.append(weight)
        self.drafts.apart |= apart
        self._last_weights = self.drafts.weights

    def _tagged(self, weight: Weight) -> None:
        if self._noun is not None:
            self.drafts.tagged.append((self._noun, weight))

    def _together(self, weight: Weight) -> None:
        noun = self._noun
        if noun is None or noun.noun != "coils":
            self.drafts.together = weight
        elif noun.weights:
            self.drafts.clash = "I heard a total besides the coils' own weights. Say what each one weighs."
        else:
            noun.weights.append(self._each({"count": noun.count or 1, "weight": weight})["weight"])

    def _each(self, values: dict[str, Any]) -> dict[str, Any]:
        """Return the values of coils weighed together with each one's share."""
        if values["weight"].maybe:
            self.drafts.clash = f"I heard {values['weight'].pounds:,.0f} pounds. Say the weight again in full."
        self.drafts.assumed.append(_EQUAL)
        count, weight = values["count"], values["weight"]
        return {**values, "weight": weight._replace(pounds=weight.pounds / count) if count > 0 else weight}

    def _of_coil(self, facts: dict[str, Any]) -> None:
        coils = [noun for noun in self.drafts.nouns if noun.noun == "coils" and noun.verb != "remove"]
        told = coils[-1].facts if coils else self.drafts.coil_facts
        self._clash(told, facts, "of the coil")
        for coil in coils[:-1]:
            if not facts.keys() <= coil.facts.keys():
                coil.facts |= facts
        told |= facts

    def _support(self, facts: dict[str, Any]) -> None:
        self._clash(self.drafts.support, facts, "of what it rests on")
        self.drafts.support |= facts

    def _clash(self, told: dict[str, Any], facts: dict[str, Any], what: str) -> None:
        """Refuse two facts of which one excludes the other, unless the second corrects the first."""
        for key, value in facts.items():
            if not self._fixing and told.get(key, value) != value:
                self.drafts.clash = (
                    f"I heard two things {what}: {_plain(key, told[key])} and {_plain(key, value)}. Say which."
                )

    def _of_tiedown(self, facts: dict[str, Any]) -> None:
        """Put facts on the tiedown last spoken of: one course each, unless this one corrects the other."""
        parts = [told for _, told in self.drafts.tiedown_some]
        new = _HOW & facts.keys() and not any(_HOW & part.keys() for part in parts)
        if new and len(parts) > 1 and self._facts is parts[-1]:
            self.drafts.clash = "I heard how the last ones run, but not the others. Say it of all of them, or of each."
        for key in _ONE_COURSE & facts.keys():
            if not self._fixing and self._facts.get(key, facts[key]) != facts[key]:
                self.drafts.clash = _TWO_DIRECTIONS if key == "pulls" else _TWO_COURSES
        self._facts |= facts

    def _some(self, count: int, facts: dict[str, Any], *, together: bool = False) -> None:
        draft = self._tiedown
        if draft is None:
            self.drafts.tiedown_some.append((count, facts))
            self._facts = facts
            return
        spoken_for = sum(number for number, _ in draft.some) + count
        full = draft.count is not None and spoken_for > draft.count
        said = draft.facts.keys() & facts.keys() & (_ONE_COURSE | {"crossed"})
        if not together and (said or full):
            self._beside(draft, count, facts)
            return
        draft.some.append((count, facts))
        self._facts = facts

    def _beside(self, draft: Draft, count: int, facts: dict[str, Any]) -> None:
        """Bring in more of the same make: in "two chains forward and two rearward" the second two are others."""
        made = {key: value for key, value in draft.facts.items() if key in MADE_OF}
        beside = self._add(Draft("tiedowns", draft.verb, count=count, kind=draft.kind, facts={**made, **facts}))
        self._tiedown, self._facts = beside, beside.facts

    def _other(self, facts: dict[str, Any]) -> None:
        """Take "the other": what is left of those told apart, or one more beside the one just told."""
        draft = self._tiedown
        if draft is None:
            self.drafts.clash = "I heard one and the other, but not of what. Say chains or straps."
        elif draft.some and draft.count and (left := draft.count - sum(number for number, _ in draft.some)) > 0:
            self._some(left, facts)
        else:
            self._beside(draft, 1, facts)

    def _same(self, facts: dict[str, Any]) -> None:
        """Take "the same rearward": as many again as were told last, another way."""
        draft = self._tiedown
        if draft is None:
            self.drafts.clash = "I heard the same, but not of what. Say chains or straps."
        elif draft.some:
            self._some(draft.some[-1][0], facts)
        else:
            self._beside(draft, draft.count or 1, facts)

    def _all_of(self, count: int) -> None:
        """Take the number of "all four" beside what was told, or later beside what is on."""
        if count and self._tiedown and self._tiedown.count not in {None, count}:
            self.drafts.clash = f"I heard all {count}, and {self._tiedown.count}. Say how many there are."
        self.drafts.all_of = count

    def _more(self, values: dict[str, Any], *, sign: int) -> None:
        """Take bunks, timbers or wedges put in beside those that are there, or taken out."""
        counted = values["counted"]
        self.drafts.more[counted] = self.drafts.more.get(counted, 0) + sign * values.get("count", 1)

    def _part(self, values: dict[str, Any]) -> None:
        if self._tiedown:
            self._tiedown.facts[values["part"]] = values["limit"]
        else:
            self.drafts.parts[values["part"]] = values["limit"]

    def _length(self, feet: float) -> None:
        if self._noun and self._noun.noun == "articles":
            self._noun.facts["length_ft"] = feet
        else:
            self.drafts.article_facts["length_ft"] = feet
