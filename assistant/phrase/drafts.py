"""From fragments to drafts: which fact belongs to which noun, before the load is looked at."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from assistant.load.model import Kind
from assistant.phrase.grammar import Grammar, Name
from assistant.phrase.parser import Fragment
from assistant.phrase.slots import Weight


@dataclass
class Draft:
    """A noun spoken of, with what was told of it.

    `verb` is "state", "add", "fix" or "remove"; `count` is None where the words point at what is there already ("the
    chains"). `some` holds parts told apart: (how many, their facts). `plural` tells "the straps" from "the strap".
    """

    noun: str
    verb: str
    count: int | None = None
    kind: Kind | None = None
    facts: dict[str, Any] = field(default_factory=dict)
    some: list[tuple[int, dict[str, Any]]] = field(default_factory=list)
    weights: list[Weight] = field(default_factory=list)
    plural: bool = True


@dataclass
class Drafts:
    """All that one utterance tells."""

    nouns: list[Draft] = field(default_factory=list)
    support: dict[str, Any] = field(default_factory=dict)
    row: str | None = None
    seen: list[str] = field(default_factory=list)
    mended: list[str] = field(default_factory=list)
    coil_facts: dict[str, Any] = field(default_factory=dict)
    """Told of the coil without naming it."""
    tiedown_facts: dict[str, Any] = field(default_factory=dict)
    """Told of the tiedowns without naming them."""
    every_tiedown: dict[str, Any] = field(default_factory=dict)
    """Told of all tiedowns there are."""
    tiedown_some: list[tuple[int, dict[str, Any]]] = field(default_factory=list)
    article_facts: dict[str, Any] = field(default_factory=dict)
    parts: dict[str, float] = field(default_factory=dict)
    """Working load limits of binders, hooks, ... without a tiedown named, lb."""
    weights: list[Weight] = field(default_factory=list)
    """Weights without a noun."""
    numbers: list[int] = field(default_factory=list)
    """Numbers without a noun."""
    fix: bool = False
    assumed: list[str] = field(default_factory=list)
    counted: str = ""
    """Which support was counted last, for "no, four"."""

    def any(self) -> bool:
        """Return whether anything at all was told."""
        return any(
            (self.nouns, self.support, self.row, self.seen, self.mended, self.coil_facts, self.tiedown_facts,
             self.every_tiedown, self.tiedown_some, self.article_facts, self.parts, self.weights, self.numbers)
        )  # fmt: skip


_COIL = frozenset({"coil", "coils", "coils_together", "another_coil"})
_MARKERS = frozenset({"fix", "add", "remove"})


class Drafter:
    """Sorts fragments into drafts, in the order they were said."""

    def __init__(self, grammar: Grammar) -> None:
        self._names = {(name, entry.key): entry for name, entries in grammar.lists.items() for entry in entries}
        self._definitions = grammar.definitions

    def draft(self, fragments: Iterable[Fragment]) -> Drafts:
        """Return what the fact and marker fragments tell."""
        scribe = _Scribe(self._names, self._definitions)
        for fragment in fragments:
            scribe.take(fragment)
        scribe.share()
        return scribe.drafts


class _Scribe:
    """The state of reading one utterance left to right."""

    def __init__(self, names: dict[tuple[str, str], Name], definitions: str) -> None:
        self._names = names
        self._definitions = definitions
        self.drafts = Drafts()
        self._verb = "state"
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
            self._verb = name
            self.drafts.fix |= name == "fix"
        elif name in _COIL:
            self._coil(_each(values) if name == "coils_together" else values,
                       verb="add" if name == "another_coil" else self._verb)  # fmt: skip
        elif name in {"article", "articles"}:
            self._article(values)
        elif name in {"tiedown", "more_tiedowns"}:
            self._new_tiedown(values, verb="add" if name == "more_tiedowns" else self._verb)
        elif name == "those_tiedowns":
            self._those(values)
        else:
            self._fact(name, values)

    def share(self) -> None:
        """Tell what was said of all tiedowns to each."""
        for noun in self.drafts.nouns:
            if noun.noun == "tiedowns":
                noun.facts |= {key: value for key, value in self._shared.items() if key not in noun.facts}

    def _fact(self, name: str, values: dict[str, Any]) -> None:  # noqa: C901, PLR0912 - one branch a fragment reads best together
        match name:
            case "none":
                self._add(Draft("tiedowns", "remove", kind=Kind(values["kinds"]), facts={"quiet": True}))
            case "drop_coil":
                self._add(Draft("coils", "remove"))
            case "weight":
                self._weight(values["weight"])
            case "number":
                self.drafts.numbers.append(values["count"])
            case "metal":
                self._of_coil({"metal": values["metal"]})
            case "all_of_them":
                self._facts = self._shared if self._tiedown else self.drafts.every_tiedown
            case "some_of_them":
                self._some(values["count"], dict(self._name("held", values["held"]).sets))
            case "each_way":
                self._some(values["count"], {"pulls": "forward"}, together=True)
                self._some(values["count"], {"pulls": "rearward"}, together=True)
            case "attribute":
                self._attribute(self._name("attribute", values["attribute"]))
            case "marked":
                self._facts["marked_lb"] = values["limit"]
            case "sized":
                self._facts |= _described(values)
            case "part":
                self._part(values)
            case "counted":
                self.drafts.support[values["counted"]] = values.get("count", 1)
                self.drafts.counted = values["counted"]
            case "length":
                self._length(values["length"].feet(self._definitions))
            case "seen":
                self.drafts.seen.append(values["seen"])
            case "mended":
                self.drafts.mended.append(values["flaw"])

    def _name(self, list_name: str, key: str) -> Name:
        return self._names[list_name, key]

    def _add(self, draft: Draft) -> Draft:
        self.drafts.nouns.append(draft)
        self._noun = draft
        return draft

    def _coil(self, values: dict[str, Any], *, verb: str) -> None:
        draft = self._add(Draft("coils", verb, count=values.get("count")))
        if "metal" in values:
            draft.facts["metal"] = values["metal"]
        if "weight" in values:
            draft.weights.append(values["weight"])
        if len([noun for noun in self.drafts.nouns if noun.noun == "coils"]) == 1:
            draft.facts |= self.drafts.coil_facts
            self.drafts.coil_facts = {}
            if self.drafts.weights and not draft.weights:
                draft.weights.append(self.drafts.weights.pop(0))

    def _article(self, values: dict[str, Any]) -> None:
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
        draft = self._add(
            Draft("tiedowns", verb, count=values.get("count", 1), kind=Kind(word) if word else None,
                  facts=_described(values), plural="kinds" in values)
        )  # fmt: skip
        if self._tiedown is None:
            draft.facts |= self.drafts.tiedown_facts
            self.drafts.tiedown_facts = {}
        self._tiedown, self._facts = draft, draft.facts

    def _those(self, values: dict[str, Any]) -> None:
        kind = Kind(values.get("kinds") or values["kind"])
        if self._tiedown and self._tiedown.kind is kind and self._verb == "state":
            self._facts = self._tiedown.facts
            return
        draft = self._add(Draft("tiedowns", self._verb, kind=kind, plural="kinds" in values))
        self._tiedown, self._facts = draft, draft.facts

    def _weight(self, weight: Weight) -> None:
        if self._noun and self._noun.noun in {"coils", "articles"}:
            wanted = (self._noun.count or 1) if self._noun.noun == "coils" else 1
            if len(self._noun.weights) < wanted:
                self._noun.weights.append(weight)
                return
        self.drafts.weights.append(weight)

    def _of_coil(self, facts: dict[str, Any]) -> None:
        coils = [noun for noun in self.drafts.nouns if noun.noun == "coils" and noun.verb != "remove"]
        for coil in coils:
            if coil is coils[-1] or not facts.keys() <= coil.facts.keys():
                coil.facts |= facts
        if not coils:
            self.drafts.coil_facts |= facts

    def _attribute(self, name: Name) -> None:
        facts = dict(name.sets)
        if name.assumed:
            self.drafts.assumed.append(name.assumed)
        if name.on == "coil":
            self._of_coil(facts)
        elif name.on == "tiedown":
            self._of_tiedown(facts)
        elif name.on == "row":
            self.drafts.row = facts["row"]
        elif name.on == "article or support" and self._noun and self._noun.noun == "articles":
            self._noun.facts |= facts
        elif name.on == "article or support":
            self.drafts.article_facts |= facts
        else:
            self.drafts.support |= facts

    def _of_tiedown(self, facts: dict[str, Any]) -> None:
        """Put facts on the tiedown last spoken of; two opposite pulls on one group are told apart later."""
        told = self._facts.get("pulls"), facts.get("pulls")
        if None not in told and told[0] != told[1]:
            self._facts.setdefault("also pulls", []).append(facts["pulls"])
            facts = {key: value for key, value in facts.items() if key != "pulls"}
        self._facts |= facts

    def _some(self, count: int, facts: dict[str, Any], *, together: bool = False) -> None:
        draft = self._tiedown
        if draft is None:
            self.drafts.tiedown_some.append((count, facts))
            self._facts = facts
            return
        spoken_for = sum(number for number, _ in draft.some) + count
        full = draft.count is not None and spoken_for > draft.count
        if not together and ("pulls" in draft.facts.keys() & facts.keys() or full):
            # "two chains forward and two rearward": the second two are chains beside the first
            kept = {
                key: value for key, value in draft.facts.items() if key not in {"pulls", "place", "path", "crossed"}
            }
            draft = self._add(Draft("tiedowns", draft.verb, count=count, kind=draft.kind, facts={**kept, **facts}))
            self._tiedown, self._facts = draft, draft.facts
            return
        draft.some.append((count, facts))
        self._facts = facts

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


def _each(values: dict[str, Any]) -> dict[str, Any]:
    """Return the values of coils weighed together with each one's share."""
    count = values["count"]
    weight = values["weight"]
    share = weight._replace(pounds=weight.pounds / count) if count > 0 else weight
    return {**values, "weight": share}


def _described(values: dict[str, Any]) -> dict[str, Any]:
    fields = {"size": "size_in", "grade": "grade", "material": "material"}
    return {field: values[slot] for slot, field in fields.items() if slot in values}
