"""From fragments to drafts: which fact belongs to which noun, before the load is looked at."""

from collections.abc import Iterable, Sequence
from typing import Any

from assistant.load.model import Kind
from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.facts import ONE_FIELD, described, plain
from assistant.phrase.grammar import Grammar, Name
from assistant.phrase.parser import Fragment
from assistant.phrase.slots import Weight
from assistant.phrase.tokens import Token

_COIL = frozenset({"coil", "coils", "coils_together", "another_coil"})
_MARKERS = frozenset({"fix", "add", "remove"})
_ONE_COURSE = frozenset({"pulls", "through", "place", "path"})
"""Of each of these a tiedown has one: a second, other one is told of other tiedowns, or by mistake."""
_MADE_OF = frozenset({"size_in", "thickness_in", "grade", "material", "marked_lb", "unmarked"})
_TWO_COURSES = "I heard two courses for the same tiedowns. Say how many run each way."
_TWO_DIRECTIONS = "I heard two directions for the same tiedowns. Say how many hold forward, how many rearward."
_EQUAL = "Coils weighed together are taken as equally heavy."


class Drafter:
    """Sorts fragments into drafts, in the order they were said."""

    def __init__(self, grammar: Grammar) -> None:
        self._names = {(name, entry.key): entry for name, entries in grammar.lists.items() for entry in entries}
        self._definitions = grammar.definitions

    def draft(self, fragments: Iterable[Fragment], tokens: Sequence[Token]) -> Drafts:
        """Return what the fact and marker fragments of an utterance tell."""
        scribe = _Scribe(self._names, self._definitions, tokens)
        for fragment in fragments:
            scribe.take(fragment)
        scribe.share()
        return scribe.drafts


class _Scribe:
    """The state of reading one utterance left to right."""

    def __init__(self, names: dict[tuple[str, str], Name], definitions: str, tokens: Sequence[Token]) -> None:
        self._names = names
        self._definitions = definitions
        self._tokens = tokens
        self.drafts = Drafts()
        self._verb = "state"
        self._fixing = False
        """Whether a correction was begun and nothing told since: what comes takes the place of what was told last."""
        self._denied_at = -1
        """Where a bare "no" ended: right behind it, "cradle" means that there is none."""
        self._last_weights: list[Any] | None = None
        """Where the last fragment's weight or number was put."""
        self._shared: dict[str, Any] = {}
        """Told of all tiedowns of this utterance: "both through the eye"."""
        self._noun: Draft | None = None
        self._tiedown: Draft | None = None
        self._facts: dict[str, Any] = self.drafts.tiedown_facts
        """Where the next fact about a tiedown goes."""

    def take(self, fragment: Fragment) -> None:
        """Sort one fragment."""
        name, values = fragment.name, fragment.values
        if name in _MARKERS:
            self._marker(fragment)
            return
        if self._verb == "remove" and self._tokens[fragment.start].breaks:
            self._verb = "state"
        if self._fixing and self._last_weights and ("weight" in values or name == "number"):
            self._last_weights.pop()
        self._last_weights = None
        self._deny(fragment)
        if name in _COIL:
            self._coil(fragment)
        elif name in {"article", "articles"}:
            self._article(values)
        elif name in {"tiedown", "more_tiedowns"}:
            self._new_tiedown(values, verb="add" if name == "more_tiedowns" else self._verb)
        elif name == "those_tiedowns":
            self._those(values)
        elif name in ONE_FIELD:
            self._one_field(name, values)
        else:
            self._fact(name, values)
        self._fixing = False

    def _one_field(self, name: str, values: dict[str, Any]) -> None:
        """Put a fact that is one number where it belongs."""
        noun, slot, field = ONE_FIELD[name]
        value = values[slot].feet(self._definitions) if slot == "length" else float(values[slot])
        if noun == "tiedown":
            self._of_tiedown({field: value})
        elif noun == "front":
            self.drafts.front[field] = value
        else:
            self._support({values["rest"]: value})

    def _marker(self, fragment: Fragment) -> None:
        self._verb = fragment.name
        self._fixing = fragment.name == "fix"
        self.drafts.fix |= self._fixing
        said = [token.word for token in self._tokens[fragment.start : fragment.end]]
        self._denied_at = fragment.end if said == ["no"] else -1

    def _deny(self, fragment: Fragment) -> None:
        """Refuse "no cradle" where the grammar knows no absence of it: "no" would be dropped, and the sense turned."""
        if fragment.start != self._denied_at or self._tokens[fragment.start].breaks:
            return
        on = self._name("attribute", fragment.values["attribute"]).on if fragment.name == "attribute" else ""
        if "support" in on or fragment.name in {"seen", "article", "part", "metal"}:
            said = " ".join(token.word for token in self._tokens[fragment.start : fragment.end])
            self.drafts.clash = f"I heard “no {said}”. Say what is there, not what isn't."

    def share(self) -> None:
        """Tell what was said of all tiedowns to each."""
        for noun in self.drafts.nouns:
            if noun.noun == "tiedowns":
                noun.facts |= {key: value for key, value in self._shared.items() if key not in noun.facts}

    def _fact(self, name: str, values: dict[str, Any]) -> None:  # noqa: C901, PLR0912 - one branch a fragment reads best together
        match name:
            case "none":
                self._add(
                    Draft("tiedowns", "remove", kind=Kind(values.get("kinds") or values["kind"]), facts={"quiet": True})
                )
            case "drop_coil":
                self._add(Draft("coils", "remove"))
            case "fewer":
                self._fewer(values)
            case "weight":
                self._weight(values["weight"])
            case "one_weighs":
                self._weight(values["weight"], apart=True)
            case "weight_together":
                self._together(values["weight"])
            case "number":
                self.drafts.numbers.append(values["count"])
                self._last_weights = self.drafts.numbers
            case "metal":
                if not self._noun or self._noun.noun != "articles":
                    self._of_coil({"metal": values["metal"]})
            case "all_of_them":
                self._facts = self._shared if self._tiedown else self.drafts.every_tiedown
            case "some_of_them":
                held = self._held(values["held"]) if "held" in values else {}
                self._some(values["count"], held | described(values))
            case "the_other":
                self._other(self._held(values["held"]))
            case "each_way":
                self._each_way(values)
            case "attribute":
                self._attribute(self._name("attribute", values["attribute"]))
            case "marked":
                self._facts["marked_lb"] = values["limit"]
            case "sized":
                self._facts |= described(values)
            case "part":
                self._part(values)
            case "counted":
                self._support({values["counted"]: values.get("count", 1)})
                self.drafts.counted = values["counted"]
            case "measured" | "measure":
                self._measured(self._name(name, values[name]), values["inches"])
            case "length":
                self._length(values["length"].feet(self._definitions))
            case "seen":
                self.drafts.seen.append(values["seen"])
            case "mended":
                self.drafts.mended.append(values["flaw"])
            case "clean":
                self.drafts.mended.append(values["clean"])

    def _measured(self, name: Name, inches: float) -> None:
        """Put a measure where its name belongs."""
        facts = {name.key: inches}
        if name.on == "coil":
            self._of_coil(facts)
        elif name.on == "tiedown":
            self._of_tiedown(facts)
        elif name.on == "slack":
            self.drafts.slack |= facts
        else:
            self._support(facts)

    def _each_way(self, values: dict[str, Any]) -> None:
        count = values.get("count", 1)
        if len(values) > 1 or "count" not in values:
            self._new_tiedown({**values, "count": 2 * count}, verb=self._verb)
        self._some(count, {"pulls": "forward"}, together=True)
        self._some(count, {"pulls": "rearward"}, together=True)

    def _held(self, key: str) -> dict[str, Any]:
        name = self._name("held", key)
        self.drafts.assumed += [name.assumed] if name.assumed else []
        return dict(name.sets)

    def _name(self, list_name: str, key: str) -> Name:
        return self._names[list_name, key]

    def _add(self, draft: Draft) -> Draft:
        fixed = [noun for noun in self.drafts.nouns if noun.verb == "fix"]
        if draft.verb == "fix" and not self._fixing and fixed and fixed[0].noun != draft.noun:
            # "no, it's a forty one with four chains": the correction was about the coil
            draft.verb = self._verb = "state"
        draft.first = self._fixing
        self.drafts.nouns.append(draft)
        self._noun = draft
        return draft

    def _coil(self, fragment: Fragment) -> None:
        values = fragment.values
        if fragment.name == "coils_together":
            values = self._each(values)
        told_before = [noun for noun in self.drafts.nouns if noun.noun == "coils"]
        verb = "add" if fragment.name == "another_coil" else self._verb
        draft = self._add(Draft("coils", verb, count=values.get("count")))
        draft.another = bool(told_before) and self._tokens[fragment.start].word in {"a", "one"}
        if "metal" in values:
            draft.facts["metal"] = values["metal"]
        if "weight" in values:
            draft.weights.append(values["weight"])
        self._last_weights = draft.weights
        if not told_before:
            draft.facts |= self.drafts.coil_facts
            self.drafts.coil_facts = {}
            if self.drafts.weights and not draft.weights:
                draft.weights.append(self.drafts.weights.pop(0))

    def _each(self, values: dict[str, Any]) -> dict[str, Any]:
        """Return the values of coils weighed together with each one's share."""
        self.drafts.assumed.append(_EQUAL)
        count, weight = values["count"], values["weight"]
        return {**values, "weight": weight._replace(pounds=weight.pounds / count) if count > 0 else weight}

    def _article(self, values: dict[str, Any]) -> None:
        self.drafts.coil_facts.pop("metal", None)  # "steel plate" brings in no coil
        name = values.get("article") or values["articles"]
        draft = self._add(Draft("articles", self._verb, count=values.get("count", 1), facts={"name": name}))
        if "length" in values:
            draft.facts["length_ft"] = values["length"].feet(self._definitions)
        if "weight" in values:
            draft.weights.append(values["weight"])
        elif self.drafts.weights:
            draft.weights.append(self.drafts.weights.pop(0))

    def _new_tiedown(self, values: dict[str, Any], *, verb: str) -> None:
        word = values.get("kinds") or values.get("kind")
        # Only chains bear grades: "4x 3/8 G70" are chains.
        kind = Kind(word) if word else Kind.CHAIN if "grade" in values or "stamp" in values else None
        told = described(values) | (self._held(values["held"]) if "held" in values else {})
        if self._fixing and self._tiedown and self._noun is self._tiedown and self._tiedown.verb != "remove":
            # "four chains, no, five": the words before were a slip
            old = self._tiedown
            kept = {key: value for key, value in old.facts.items() if kind is old.kind or key not in _MADE_OF}
            old.count, old.kind, old.plural = values.get("count", 1), kind or old.kind, "kinds" in values
            old.facts = self._facts = kept | told
            self._verb = old.verb
            return
        draft = self._add(Draft("tiedowns", verb, values.get("count", 1), kind, told, plural="kinds" in values))
        if self._tiedown is None:
            draft.facts |= self.drafts.tiedown_facts
            self.drafts.tiedown_facts = {}
        self._tiedown, self._facts = draft, draft.facts

    def _those(self, values: dict[str, Any]) -> None:
        kind = Kind(values.get("kinds") or values["kind"])
        if self._tiedown and self._tiedown.kind is kind and self._verb == "state" and "held" not in values:
            self._facts = self._tiedown.facts
            return
        only = dict(self._name("held", values["held"]).sets) if "held" in values else {}
        draft = self._add(Draft("tiedowns", self._verb, kind=kind, plural="kinds" in values, only=only))
        if self.drafts.tiedown_facts:
            self.drafts.clash = f"Say the {kind.value}s first, and then how they run."
        self._tiedown, self._facts = draft, draft.facts

    def _weight(self, weight: Weight, *, apart: bool = False) -> None:
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

    def _together(self, weight: Weight) -> None:
        noun = self._noun
        if noun is None or noun.noun != "coils":
            self.drafts.together = weight
        elif noun.weights:
            self.drafts.clash = "I heard a total besides the coils' own weights. Say what each one weighs."
        else:
            noun.weights.append(self._each({"count": noun.count or 1, "weight": weight})["weight"])

    def _fewer(self, values: dict[str, Any]) -> None:
        word = values.get("kinds") or values.get("kind")
        if word is None:
            self.drafts.fewer.append(values["count"])
            return
        count = values.get("count", None if "kinds" in values else 1)
        self._add(Draft("tiedowns", "remove", count, Kind(word), plural="kinds" in values))

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
                    f"I heard two things {what}: {plain(key, told[key])} and {plain(key, value)}. Say which."
                )

    def _attribute(self, name: Name) -> None:
        facts = dict(name.sets)
        if name.on == "support" and name.assumed:
            self.drafts.taken |= facts
            self.drafts.taken_assumed = name.assumed
            return
        if name.assumed:
            self.drafts.assumed.append(name.assumed)
        if name.on == "coil":
            self._of_coil(facts)
        elif name.on == "tiedown":
            self._of_tiedown(facts)
        elif name.on == "row":
            self.drafts.row = facts["row"]
        elif name.on == "yard":
            self.drafts.yard = facts["yard"]
        elif name.on == "article or support" and self._noun and self._noun.noun == "articles":
            self._noun.facts |= facts
        elif name.on == "article or support":
            self.drafts.article_facts |= facts
        else:
            self._support(facts)

    def _of_tiedown(self, facts: dict[str, Any]) -> None:
        """Put facts on the tiedown last spoken of: one course each, unless this one corrects the other."""
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
        made = {key: value for key, value in draft.facts.items() if key in _MADE_OF}
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
