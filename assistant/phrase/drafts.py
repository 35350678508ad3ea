"""From fragments to drafts: which fact belongs to which noun, before the load is looked at."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from assistant.load.model import Kind
from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.facts import ONE_FIELD, described
from assistant.phrase.grammar import Grammar
from assistant.phrase.page import MADE_OF, Page
from assistant.understand.heard import Fragment
from assistant.phrase.pointing import POINTING, told_as
from assistant.phrase.slots import Weight
from assistant.phrase.tokens import Token

_COIL = frozenset({"coil", "coils", "coils_together", "another_coil", "nth_coil", "numbered_coil"})
_MEASURED = frozenset({"seen", "flawed", "measured", "measure"})
_NO_TIEDOWN = frozenset({"counted", "article", "articles", "coil", "coils", "binders", "metal"})
"""Right behind one of these, "are damaged" tells of no tiedown."""
_WHICH = frozenset({"no", "last", "the"})
"""One of these tells which coil comes off; "a coil" and "one coil" do not."""
_EACH = frozenset({"each", "apiece"})
_ITS_TAG = frozenset({"tiedown", "those_tiedowns", "more_tiedowns", "sized"})
"""Right behind one of these, "the tag says" may tell of the tiedown."""
_MARKERS = frozenset({"fix", "add", "remove"})


class Drafter:
    """Sorts fragments into drafts, in the order they were said."""

    def __init__(self, grammar: Grammar) -> None:
        self._names = {(name, entry.key): entry for name, entries in grammar.lists.items() for entry in entries}
        self._definitions = grammar.definitions
        self._filler = grammar.filler

    def draft(self, fragments: Iterable[Fragment], tokens: Sequence[Token]) -> Drafts:
        """Return what the fact and marker fragments of an utterance tell."""
        scribe = _Scribe(self._names, self._definitions, tokens, self._filler)
        for fragment in fragments:
            scribe.take(fragment)
        scribe.share()
        return scribe.drafts


class _Scribe(Page):
    """Sorts fragment after fragment onto the page."""

    _end = 0
    """Where the fragment before ended."""
    _after = ""
    """The fact before."""
    _marked = ""
    """The marker right before."""

    def take(self, fragment: Fragment) -> None:
        """Sort one fragment."""
        name, values = told_as(fragment, self._tokens[self._end : fragment.end], self._filler), fragment.values
        if name in _MARKERS:
            self._marker(fragment)
            return
        if self._verb == "remove" and self._tokens[fragment.start].breaks:
            self._verb = "state"
        if self._fixing and self._last_weights and ("weight" in values or name == "number"):
            self._last_weights.pop()
        elif self._fixing and self._last_weights is self.drafts.numbers and "count" in values:
            # "four, no, five chains": a false start, and no correction of what is there
            self.drafts.numbers.pop()
            self._verb, self._fixing = "state", False
        self._last_weights = None
        self._deny(fragment)
        if name in _COIL:
            self._coil(fragment)
        elif name in {"article", "articles"}:
            self._article(fragment)
        elif name in {"tiedown", "more_tiedowns"}:
            self._new_tiedown(values, verb="add" if name == "more_tiedowns" else self._verb)
        elif name == "those_tiedowns":
            self._those(values, there="kind" in values or self._said(fragment)[0] in POINTING)
        elif name in ONE_FIELD:
            self._one_field(name, values)
        else:
            self._fact(fragment)
        self._fixing, self._after, self._marked = False, name, ""
        self._end = fragment.end

    def _said(self, fragment: Fragment) -> list[str]:
        return [token.word for token in self._tokens[fragment.start : fragment.end]]

    def _marker(self, fragment: Fragment) -> None:
        self._verb = fragment.name
        self._fixing = fragment.name == "fix"
        self.drafts.fix |= self._fixing
        self._marked = fragment.name
        said = self._said(fragment)
        self._denied_at = fragment.end if said == ["no"] else -1

    def _deny(self, fragment: Fragment) -> None:
        """Refuse "no cradle" where the grammar knows no absence of it: "no" would be dropped, and the sense turned."""
        if fragment.start != self._denied_at or self._tokens[fragment.start].breaks:
            return
        on = self._name("attribute", fragment.values["attribute"]).on if fragment.name == "attribute" else ""
        if "support" in on or fragment.name in {"seen", "flawed", "article", "part", "metal"}:
            said = " ".join(self._said(fragment))
            self.drafts.clash = f"I heard “no {said}”. Say what is there, not what isn't."

    def share(self) -> None:
        """Tell what was said of all tiedowns to each."""
        for noun in self.drafts.nouns:
            if self.drafts.denied and noun.verb == "state":
                noun.verb = "fix"
            if noun.noun == "tiedowns":
                noun.facts |= {key: value for key, value in self._shared.items() if key not in noun.facts}

    def _drop_coil(self, fragment: Fragment) -> None:
        said = {*self._said(fragment)}
        self._add(Draft("coils", "remove", count=None if "no" in said else 1, another=not said & _WHICH))

    def _says_tag(self, fragment: Fragment) -> bool:
        """Return whether a weight is what a tag says right behind a tiedown: "straps are four inch, tag says ..."."""
        tag = "tag" in self._said(fragment)
        return tag and self._noun is not None and self._noun is self._tiedown and self._after in _ITS_TAG

    def _fact(self, fragment: Fragment) -> None:  # noqa: C901, PLR0912, PLR0915 - one branch a fragment reads best together
        name, values = fragment.name, fragment.values
        match name:
            case "same_again":
                self.drafts.same_again = True
            case "drop_coil":
                self._drop_coil(fragment)
            case "weight" if self._says_tag(fragment):
                self._tagged(values["weight"])
            case "weight":
                self._weight(values["weight"], each=_EACH.issuperset({self._tokens[fragment.end - 1].word}))
            case "one_weighs":
                self._weight(values["weight"], apart=True)
            case "not_that":
                self.drafts.denied.append(self._not_so(values))
                self.drafts.fix = True
            case "vague":
                pounds = values["weight"].pounds
                self.drafts.clash = f"I heard about {pounds:,.0f} pounds. Say the figure on the tag or the papers."
            case "weight_together":
                self._together(values["weight"])
            case "number":
                self.drafts.numbers.append(values["count"])
                self._last_weights = self.drafts.numbers
            case "metal":
                if not self._noun or self._noun.noun != "articles":
                    self._of_coil({"metal": values["metal"]})
            case "feet":
                self._bare_length(values["length"].feet(self._definitions))
            case "dimension":
                list_name = "wide" if "wide" in values else "spans"
                self._measured(self._name(list_name, values[list_name]), values["dimension"])
                self.drafts.assumed.append(f"{values['dimension']:g} is taken as inches.")
            case "measured" | "measure":
                self._measured(self._name(name, values[name]), values["inches"])
            case "length":
                self._length(values["length"].feet(self._definitions))
            case "attribute" if self._marked == "remove" and self._taken_out(values["attribute"]):
                out = self._name("attribute", values["attribute"])
                self._attribute(replace(out, sets=self._taken_out(out.key), assumed=""))
            case "attribute" if self._tells_where(values["attribute"]):
                what = self._noun.facts["name"] if self._noun else ""
                self.drafts.assumed.append(f"Where the {what} stands is not kept.")
            case "attribute" if values["attribute"] == "damaged" and self._after in _NO_TIEDOWN:
                self.drafts.clash = "I heard damage, but not of a tiedown. Say what is damaged by itself."
            case "attribute":
                self._attribute(self._name("attribute", values["attribute"]))
            case "seen":
                self.drafts.seen.append(values["seen"])
            case "flawed":
                self._flawed(values)
            case "beyond":
                list_name = "slick" if "slick" in values else "beyond"
                self.drafts.clash = self._name(list_name, values[list_name]).assumed
            case "mended":
                self.drafts.mended.append(values["flaw"])
            case "mended_it":
                self.drafts.mended_it = True
            case "clean":
                self.drafts.mended.append(values["clean"])
            case _:
                self._support_fact(name, values)

    def _support_fact(self, name: str, values: dict[str, Any]) -> None:
        """Put what it rests on, as so many, more or fewer."""
        match name:
            case "counted" if self._marked in {"add", "remove"}:
                self._more(values, sign=1 if self._verb == "add" else -1)
                self.drafts.adds |= {values["counted"]} if self._verb == "add" else set()
            case "counted":
                self._support({values["counted"]: values.get("count", 1)})
                self.drafts.counted = values["counted"]
            case "more_counted" | "fewer_counted":
                self._more(values, sign=1 if name == "more_counted" else -1)
            case "some_bunks" if self._marked == "remove":
                self._support({"bunks": 0})
            case "some_bunks":
                self.drafts.uncounted = True
            case _:
                self._tiedown_fact(name, values)

    def _flawed(self, values: dict[str, Any]) -> None:
        """Take a flaw as what is seen of the part that has it: "one of the chains has a bent link"."""
        if "worn" not in values:
            # "four chains, one of them is bent"; what "one of them" is, is not guessed where no tiedown was just told
            if self._tiedown and self._noun is self._tiedown and self._after not in _NO_TIEDOWN:
                self._some(values["count"], {"damaged": True})
            else:
                self.drafts.clash = (
                    "I heard damage, but not of what. Say chain, strap or hook, and what is wrong with it."
                )
        elif values["worn"] == "front":
            self.drafts.front["damaged"] = True
        else:
            self.drafts.seen.append("knot" if values.get("hurt") == "knot" else values["worn"])

    def _tiedown_fact(self, name: str, values: dict[str, Any]) -> None:  # noqa: C901, PLR0912, PLR0915 - as above
        match name:
            case "none":
                kind = Kind(values.get("kinds") or values["kind"])
                self._add(Draft("tiedowns", "remove", kind=kind, facts={"quiet": True}))
            case "fewer":
                self._fewer(values)
            case "the_same":
                self._same(self._held(values["held"]))
            case "all_of_them":
                self._all_of(values.get("count", 0))
                self._facts = self._shared if self._tiedown else self.drafts.every_tiedown
                self._of_tiedown(self._held(values["held"]) if "held" in values else {})
            case "some_of_them":
                held = self._held(values["held"]) if "held" in values else {}
                if "kinds" in values:
                    self._those({"kinds": values["kinds"]})
                self._some(values["count"], held | described(values))
            case "the_other":
                self._other(self._held(values["held"]))
            case "each_side" | "over_each" | "on_each":
                self._for_each(name, values)
            case "recount":
                self._new_tiedown(values, verb="fix")
            case "swap":
                into = Kind(values.get("into") or values["into_one"])
                word = values.get("kinds") or values.get("kind")
                told = {"kind": into} | ({"count": values["count"]} if "count" in values else {})
                self._add(
                    Draft(
                        "tiedowns", "swap", kind=Kind(word) if word else None, facts=told, plural="kind" not in values
                    )
                )
            case "with_trait":
                self._those(values)
                self._facts |= self._name("attribute", values["trait"]).sets
            case "tagless":
                self._those(values)
                self._facts["unmarked"] = True
            case "tag_says":
                self._those(values)
                self._facts["marked_lb"] = values["limit"]
            case "binders":
                self.drafts.assumed.append("Binders are taken as part of their chains.")
            case "those_held":
                self._those_held(self._held(values["held"]))
            case "each_way":
                self._each_way(values)
            case "marked":
                self._facts["marked_lb"] = values["limit"]
            case "sized" if self._after in _MEASURED:
                # "telescoped two inches" tells of no strap
                self.drafts.assumed.append("How far it is out is not kept, only that it was seen.")
            case "sized":
                self._facts |= described(values)
            case "part":
                self._part(values)

    def _for_each(self, name: str, values: dict[str, Any]) -> None:
        """Bring in so many on each side, or for each piece."""
        sides = 2 if name == "each_side" else 1
        self._new_tiedown({**values, "count": sides * values.get("count", 1)}, verb=self._verb)
        if self._tiedown:
            self._tiedown.each = sides == 1
        if name == "over_each":
            self._facts |= self._name("attribute", "over").sets

    def _each_way(self, values: dict[str, Any]) -> None:
        if "pairs" in values:
            values = {"count": int(values["pairs"])}
        count = values.get("count", 1)
        if len(values) > 1 or "count" not in values:
            self._new_tiedown({**values, "count": 2 * count}, verb=self._verb)
        self._some(count, {"pulls": "forward"}, together=True)
        self._some(count, {"pulls": "rearward"}, together=True)

    def _coil(self, fragment: Fragment) -> None:
        values = fragment.values
        if fragment.name == "coils_together":
            values = self._each(values)
        told_before = [noun for noun in self.drafts.nouns if noun.noun == "coils"]
        verb = "add" if fragment.name == "another_coil" else self._verb
        draft = self._add(Draft("coils", verb, count=values.get("count")))
        if fragment.name == "numbered_coil":
            draft.nth, draft.count = values["count"], None
        draft.nth = int(values.get("nth", draft.nth))
        if "lies" in values:
            draft.facts |= self._name("attribute", values["lies"]).sets
        if not {*self._said(fragment)} & {"coil", "coils", "one"}:
            draft.unnamed = True
        draft.another = bool(told_before) and self._tokens[fragment.start].word in {"a", "one"}
        if "metal" in values:
            draft.facts["metal"] = values["metal"]
        if "weight" in values:
            self._coil_weight(values["weight"], fragment.end, [*told_before, draft])
        self._last_weights = draft.weights
        if not told_before:
            draft.facts |= self.drafts.coil_facts
            self.drafts.coil_facts = {}
            if self.drafts.weights and not draft.weights:
                draft.weights.append(self.drafts.weights.pop(0))

    def _coil_weight(self, weight: Weight, end: int, coils: Sequence[Draft]) -> None:
        """Weigh the last of the coils told, and with "each" behind it those told before it too."""
        each = end < len(self._tokens) and self._tokens[end].word in _EACH
        for noun in coils[:-1] if each else ():
            noun.weights += [] if noun.weights else [weight]
        coils[-1].weights.append(weight)

    def _article(self, fragment: Fragment) -> None:
        values = fragment.values
        self.drafts.coil_facts.pop("metal", None)  # "steel plate" brings in no coil
        name = values.get("article") or values["articles"]
        entry = self._name("article" if "article" in values else "articles", name)
        self.drafts.assumed += [entry.assumed] if entry.assumed else []
        facts = {"name": entry.sets.get("name", name)}
        draft = self._add(Draft("articles", self._verb, count=values.get("count", 1), facts=facts))
        behind = self._tokens[fragment.end].word if fragment.end < len(self._tokens) else ""
        draft.there = self._tokens[fragment.start].word in POINTING or behind in {"is", "weighs"}
        if "length" in values:
            draft.facts["length_ft"] = values["length"].feet(self._definitions)
        if "weight" in values:
            draft.weights.append(values["weight"])
        elif self.drafts.weights:
            draft.weights.append(self.drafts.weights.pop(0))

    def _new_tiedown(self, values: dict[str, Any], *, verb: str) -> None:
        word = values.get("kinds") or values.get("kind") or values.get("done")
        # Only chains bear grades: "4x 3/8 G70" are chains.
        kind = Kind(word) if word else Kind.CHAIN if "grade" in values or "stamp" in values else None
        told = described(values) | (self._held(values["held"]) if "held" in values else {})
        if self._fixing and self._tiedown and self._noun is self._tiedown and self._tiedown.verb != "remove":
            # "four chains, no, five": the words before were a slip
            old = self._tiedown
            kept = {key: value for key, value in old.facts.items() if kind is old.kind or key not in MADE_OF}
            old.count, old.kind, old.plural = values.get("count", 1), kind or old.kind, "kinds" in values
            old.facts = self._facts = kept | told
            self._verb = old.verb
            return
        if self._one_more_is(verb, values.get("count", 1)):
            self.drafts.nouns.pop()  # "one more, add a half inch chain" is one
        draft = self._add(Draft("tiedowns", verb, values.get("count", 1), kind, told, plural="kinds" in values))
        if self._tiedown is None:
            draft.facts |= self.drafts.tiedown_facts
            self.drafts.tiedown_facts = {}
        self._tiedown, self._facts = draft, draft.facts

    def _one_more_is(self, verb: str, count: int) -> bool:
        """Return whether what is added now is what "one more" was just told to be."""
        last = self._noun
        more = self._after == "more_tiedowns" and last is not None and last is self._tiedown
        return more and verb == "add" and last.kind is None and last.count == count and not last.facts  # type: ignore[union-attr]

    def _those(self, values: dict[str, Any], *, there: bool = False) -> None:
        kind = Kind(values.get("kinds") or values["kind"])
        made = described(values)
        if self._tiedown and self._tiedown.kind is kind and self._verb == "state" and not made and "held" not in values:
            self._facts = self._tiedown.facts
            return
        only = dict(self._name("held", values["held"]).sets) if "held" in values else {}
        draft = self._add(Draft("tiedowns", self._verb, kind=kind, plural="kinds" in values, only=only, made=made))
        draft.there = there
        if self.drafts.tiedown_facts:
            self.drafts.clash = f"Say the {kind.value}s first, and then how they run."
        self._tiedown, self._facts = draft, draft.facts

    def _those_held(self, only: dict[str, Any]) -> None:
        draft = self._add(Draft("tiedowns", self._verb, only=only))
        self._tiedown, self._facts = draft, draft.facts

    def _fewer(self, values: dict[str, Any]) -> None:
        word = values.get("kinds") or values.get("kind")
        if word is None:
            self.drafts.fewer.append(values["count"])
            return
        only = dict(self._name("held", values["held"]).sets) if "held" in values else {}
        count = values.get("count", None if "kinds" in values else 1)
        self._add(Draft("tiedowns", "remove", count, Kind(word), plural="kinds" in values, only=only))
