"""Noun phrases into what they tell of the load: which fact belongs to which noun."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from assistant.load.model import Kind
from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.page import MADE_OF, Page
from assistant.phrase.slots import Length, Weight
from assistant.phrase.tokens import Token
from assistant.phrase.units import factor
from assistant.understand.heard import Lost
from assistant.understand.phrases import OF_TIEDOWN, TRADE_COIL, Phrase, thousands
from assistant.understand.scan import Piece

_FORWARD = "Forward and rearward are taken as the movement that a tiedown keeps the load from."
_SIDEWAYS = "Left and right are taken as the movement that a tiedown keeps the load from."
_TAKEN = {
    "timbers": "Timbers without a number are taken as two.",
    "wedges": "Wedges without a number are taken as two.",
}
_RATED = {"binder": "binder_lb", "hook": "hook_lb", "winch": "winch_lb", "anchor": "anchor_lb"}
_PLURAL_ARTICLES = frozenset({"beam", "plate", "pipe"})
_MOST_MARKED = 10_000
"""A tag that says less may be a strap's as well as a coil's [lb]; common practice, no source."""
_BORNE_BY = {
    "measure": {"", "coil", "article", "counted", "part"},
    "eyeword": {""},
    "length": {"", "article", "part", "coil"},
    "nth": {"", "coil", "kind"},
}
"""Facts that only some nouns can have."""
_HOW = frozenset({"through", "path", "crossed"})
_RUN = frozenset({"pulls", "through", "place", "path", "crossed"})


@dataclass
class Told:
    """What the clauses of an utterance told, and what of it was not taken."""

    drafts: Drafts
    lost: list[Lost] = field(default_factory=list)


class Teller(Page):
    """Takes the phrases of one utterance, clause after clause."""

    def __init__(
        self,
        definitions: str,
        tokens: Sequence[Token],
        kinds_on: frozenset[Kind] = frozenset(),
        skip: frozenset[int] = frozenset(),
        *,
        coils_on: int = 0,
    ) -> None:
        super().__init__(definitions, tokens)
        self._kinds_on = kinds_on
        self._skip = skip
        self._coils_on = bool(coils_on)
        self._many_coils = coils_on > 1
        self._counted: list[Draft] = []
        """Those told of without a number of which the parts were counted: the parts are all there is."""
        self._count = 0
        """How many phrases were gathered; those of which the number is among the skipped are not taken."""
        self._hint: Kind | None = None
        self.lost: list[Lost] = []
        self._last_sort = ""
        self.uncounted = False
        """Whether tiedowns were told of without a number, and none are on."""

    def forget_uncounted(self) -> None:
        """Let go of tiedowns told without a number: they were asked of, not told."""
        self.drafts.nouns = [noun for noun in self.drafts.nouns if noun.count is not None or noun.noun != "tiedowns"]
        self.uncounted = False

    @property
    def uncounted_kind(self) -> str:
        """What was told of without a number, in words; "" where nothing was."""
        waiting = [
            noun.kind for noun in self.drafts.nouns if noun.noun == "tiedowns" and noun.count is None and noun.kind
        ]
        return f"{waiting[-1].value}s" if self.uncounted and waiting else ""

    @property
    def count(self) -> int:
        """How many phrases were gathered."""
        return self._count

    @property
    def tokens(self) -> Sequence[Token]:
        """The words of the utterance."""
        return self._tokens

    def damages(self, kind: str, count: int) -> bool:
        """Take so many tiedowns as damaged: of those told, or as they are brought in; False where one thing was seen."""
        if count == 1 and (self._tiedown is not None or Kind(kind) in self._kinds_on):
            return False
        if self._tiedown is not None and self._tiedown.kind is Kind(kind):
            self._some(count, {"damaged": True})
        elif Kind(kind) in self._kinds_on:
            self.drafts.nouns.append(Draft("tiedowns", "state", count, Kind(kind), {"damaged": True}))
        else:
            self._new(count, Kind(kind), {"damaged": True})
        return True

    def lip(self, piece: Piece) -> None:
        """Take how far a lip stands out."""
        self.drafts.slack["lip_in"] = self._inches(piece)

    # ---- one clause

    def _in_full(self, told: Sequence[Phrase]) -> None:
        """Take "twenty nine thousand eight" as 29,800, and own up to it: nobody weighs to the pound in words."""
        for phrase in told:
            for at, piece in enumerate(phrase.weights):
                weight = piece.value
                if weight.maybe:
                    assumed = f"I take “{self.words(piece.start, piece.end)}” as {weight.maybe:,.0f} lb."
                    phrase.weights[at] = piece._replace(
                        value=weight._replace(pounds=weight.maybe, maybe=0.0, assumed=assumed)
                    )

    def take(self, told: Sequence[Phrase], hint: Kind | None = None) -> None:
        """Take the phrases of one clause that tells."""
        self._hint = hint
        self._last_sort = ""
        turned = [phrase for phrase in told if phrase.sort == "kind"]
        in_place = len(turned) == 2 and turned[1].denied and not turned[0].denied  # noqa: PLR2004 - one goes, one comes
        if (in_place or any(phrase.verb in {"swap", "instead"} for phrase in told)) and self._swapped(told):
            return
        self._how_of_last(told)
        self._in_full(told)
        for phrase in told:
            self._count += 1
            if self._count in self._skip:
                self._lose(phrase, "not placed")
                continue
            self._begin(phrase)
            if phrase.unknown and phrase.head is not None and self._inside(phrase):
                self._lose(phrase, "unknown word", self._tokens[phrase.unknown[0].start].word)
                continue
            self._phrase(phrase)
            self._fixing = False

    def _how_of_last(self, told: Sequence[Phrase]) -> None:
        """Take how the last ones run as told of all: "two forward and two rearward through the eye"; owned up to."""
        parts = [
            phrase
            for phrase in told
            if phrase.head is None
            and phrase.number is not None
            and any(piece.sort in {"pull", "place"} for piece in phrase.facts)
        ]
        how = [[piece for piece in phrase.facts if piece.sort in {"through", "path", "crossed"}] for phrase in parts]
        if len(parts) > 1 and how[-1] and not any(how[:-1]):
            for phrase in parts[:-1]:
                phrase.facts += how[-1]
            self.drafts.assumed.append(f"“{self.words(how[-1][0].start, how[-1][-1].end)}” is taken of all of them.")

    def _swapped(self, told: Sequence[Phrase]) -> bool:
        """Take "swap the straps for chains", "straps instead of chains", "change the chains to five"."""
        kinds = [phrase for phrase in told if phrase.sort == "kind" and phrase.head]
        first = told[0].verb
        if len(kinds) == 1 and first == "swap":
            number = next((phrase.number for phrase in told if phrase.number is not None), None)
            facts = [piece for phrase in told for piece in phrase.facts]
            if number is not None:
                self._add(
                    Draft(
                        "tiedowns", "fix", number, Kind(kinds[0].head.key_of("kind")), self._tie_facts(Phrase(), facts)
                    )
                )  # type: ignore[union-attr]
            return number is not None
        if not kinds or len(kinds) > 2:  # noqa: PLR2004 - one goes, one comes
            return False
        old, new = (kinds[0], kinds[-1]) if first == "swap" else (kinds[-1], kinds[0])
        facts = self._tie_facts(new, new.facts) | {"kind": Kind(new.head.key_of("kind"))}  # type: ignore[union-attr]
        facts |= {"count": new.number} if new.number is not None else {}
        gone = Kind(old.head.key_of("kind")) if len(kinds) > 1 and old.head else None
        self._add(Draft("tiedowns", "swap", kind=gone, facts=facts, plural=self._plural(old) if gone else True))
        return True

    def _begin(self, phrase: Phrase) -> None:
        self._verb = {"fix": "fix", "add": "add", "remove": "remove", "swap": "swap"}.get(phrase.verb, "state")
        if phrase.more and self._verb == "state":
            self._verb = "add"
        if (
            phrase.only
            and self._verb == "state"
            and phrase.number is not None
            and phrase.sort == "kind"
            and self._kinds_on
        ):
            self._verb = "fix"
        self._fixing = self._verb == "fix"
        self.drafts.fix |= self._fixing
        if (
            self._fixing
            and phrase.cued
            and not phrase.denied
            and self._last_weights
            and (phrase.weights or phrase.number is not None)
        ):
            self._last_weights.pop()
        noun = self._noun
        if (
            self._fixing
            and noun
            and noun.noun == "coils"
            and not (noun.weights or noun.facts or noun.count)
            and not phrase.head
        ):
            noun.verb = "fix"
        self._last_weights = None

    def _inside(self, phrase: Phrase) -> bool:
        """Return whether a word nobody knows stands inside the phrase: before its head, behind its first piece."""
        return phrase.head is not None and any(
            phrase.start <= word.start < phrase.head.start for word in phrase.unknown
        )

    def _lose(self, phrase: Phrase, why: str, word: str = "") -> None:
        self.lost.append(Lost(phrase.start, phrase.end, why, word, phrase.sort))

    def words(self, start: int, end: int) -> str:
        """Return what was said between two places."""
        return " ".join(token.word or f"{token.value:g}" for token in self._tokens[start:end])

    def _phrase(self, phrase: Phrase) -> None:
        if phrase.sort not in {"coil", ""}:
            for piece in phrase.facts:
                if piece.sort == "eye":
                    self._coil_fact(piece, phrase)
        self._what_it_cannot_bear(phrase)
        match phrase.sort:
            case "kind" | "anytie":
                self._tie(phrase)
            case "coil":
                self._coil(phrase)
            case "article":
                self._article(phrase)
            case "counted" | "mats" | "cradle" | "pallet":
                self._rest_on(phrase)
            case "part":
                self._rated_part(phrase)
            case _:
                self._headless(phrase)
        self._last_sort = phrase.sort or self._last_sort

    def _some(self, count: int, facts: dict[str, Any], *, together: bool = False) -> None:
        """Tell facts of so many: of those just told, unless these run so that they must be others."""
        draft = self._tiedown
        if draft is not None and not together and self._others_than(draft.facts, facts):
            self._beside(draft, count, facts)
            return
        super()._some(count, facts, together=together)

    @staticmethod
    def _others_than(told: dict[str, Any], facts: dict[str, Any]) -> bool:
        """Return whether no tiedown can run both ways: what hooks to the load goes over nothing, an X is no straight one."""
        direct = told.get("path") == "direct" and "through" in facts
        hooked = facts.get("path") == "direct" and "through" in told
        straight = bool(told.get("crossed")) and not facts.get("crossed") and ("path" in facts or "through" in facts)
        return direct or hooked or straight

    def _what_it_cannot_bear(self, phrase: Phrase) -> None:
        """Name the facts that no noun of its sort has."""
        sorts = {piece.sort for piece in phrase.facts}
        valued = bool(sorts & {"inches", "size", "length"}) or phrase.number is not None
        for piece in phrase.facts:
            odd = piece.sort in _BORNE_BY and phrase.sort not in _BORNE_BY[piece.sort]
            if piece.key_of("measure") == "length" and not sorts & {"length", "inches", "size"}:
                continue  # "two long timbers"
            if odd or (piece.sort in {"measure", "eyeword"} and not valued):
                self.lost.append(Lost(piece.start, piece.end, "not placed"))
        marks = [piece for piece in phrase.marks if piece.sort != "weight"]
        if phrase.sort == "kind" and marks and len(marks) == len(phrase.marks):
            self.lost.append(Lost(marks[0].start, marks[-1].end, "not placed"))

    # ---- facts

    def _tie_facts(self, phrase: Phrase, pieces: Sequence[Piece]) -> dict[str, Any]:  # noqa: C901, PLR0912 - one branch a sort of fact
        facts: dict[str, Any] = {}
        crossed = any(piece.sort == "crossed" for piece in pieces)
        for sort in ("pull", "path", "grade", "size"):
            if len({(piece.key, str(piece.value)) for piece in pieces if piece.sort == sort}) > 1:
                self._two_at_once(phrase)
        if {piece.sort for piece in pieces} >= {"through", "over"} and not crossed:
            self._two_at_once(phrase)
        for piece in pieces:
            match piece.sort:
                case "size":
                    facts["size_in"] = piece.value
                case "inches":
                    facts["size_in"] = self._inches(piece)
                case "grade":
                    facts["grade"] = piece.key
                case "material":
                    facts["material"] = piece.key
                case "thickness":
                    facts["thickness_in"] = piece.value
                case "pull":
                    facts["pulls"] = piece.key
                    self.drafts.assumed.append(_FORWARD if piece.key in {"forward", "rearward"} else _SIDEWAYS)
                case "path":
                    facts["path"] = piece.key
                case "through":
                    facts["through"] = "eye"
                case "over":
                    facts["through"] = "top"
                    if not crossed:
                        facts["pulls"] = "over"
                    if piece.key != "top":
                        facts["place"] = piece.key
                case "crossed":
                    facts["crossed"] = True
                case "doubled":
                    facts["doubled"] = True
                case "unmarked":
                    facts["unmarked"] = True
                case "protect":
                    self._protected(facts, piece)
                case "adjustable":
                    facts["adjustable"] = piece.key == "yes"
                case "place":
                    self._place(facts, piece)
        if facts.get("pulls") == "over" and any(piece.sort == "pull" for piece in pieces):
            facts["pulls"] = next(piece.key for piece in pieces if piece.sort == "pull")
        for mark in phrase.marks:
            if mark.sort == "weight" and isinstance(mark.value, Weight):
                facts[self._what_mark(phrase)] = mark.value.pounds
        return facts

    def _two_at_once(self, phrase: Phrase) -> None:
        """Refuse two things told of the same tiedowns of which one excludes the other."""
        if not self._fixing:
            self.drafts.clash = f"I heard two things of the same tiedowns in “{self.words(phrase.start, phrase.end)}”. Say how many run each way."

    def _what_mark(self, phrase: Phrase) -> str:
        sorts = {mark.sort for mark in phrase.marks}
        return "breaking_lb" if "breaking" in sorts else "pretension_lb" if "pretension" in sorts else "marked_lb"

    def _protected(self, facts: dict[str, Any], piece: Piece) -> None:
        if piece.key == "yes":
            facts["edge_protected"] = True
        else:
            self.drafts.seen.append("no edge protection")

    def _place(self, facts: dict[str, Any], piece: Piece) -> None:
        way = {"front": "forward", "rear": "rearward"}.get(piece.key)
        if way and self._many_coils and any("'on'" in part.names for part in piece.parts):
            self.drafts.assumed.append("Which coil they hold is not kept.")
        elif way:
            facts["pulls"] = way
            self.drafts.assumed.append(_FORWARD)
        elif piece.key == "middle":
            facts["place"] = "middle"

    def _inches(self, piece: Piece) -> float:
        """Return a measure in inches."""
        if not isinstance(piece.value, Length):
            return float(piece.value)
        return round(sum(value * factor(self._definitions, unit, "inch") for value, unit in piece.value.parts), 4)

    # ---- tiedowns

    def _tie(self, phrase: Phrase) -> None:
        word = phrase.head.key_of("kind") if phrase.head else ""
        kind = Kind(word) if word else None
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
            if self._restated(count, kind, facts, phrase):
                return
            self._new(
                count, kind, facts, each=phrase.each, plural=count > 1, total=phrase.total, definite=phrase.definite
            )
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
        definite: bool = False,
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
        if definite and verb == "state" and self._tiedown is None and kind in self._kinds_on and facts:
            verb = "state"
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
        return len(told) > 1 and sum(told) == count and not facts and not phrase.more and self._verb == "state"

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
            only = {key: facts[key] for key in ("pulls", "through", "place", "crossed") if key in facts}
            made = {key: facts[key] for key in MADE_OF if key in facts}
            self._add(Draft("tiedowns", "remove", kind=kind, plural=self._plural(phrase), only=only, made=made))
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
        only = {key: value for key, value in told.items() if key in _RUN}
        made = {key: value for key, value in told.items() if key in MADE_OF}
        for key in (*only, *made):
            if facts.get(key) == told[key]:
                del facts[key]
        return only, made

    def _plural(self, phrase: Phrase) -> bool:
        if phrase.head is None:
            return True
        return (
            self._tokens[phrase.head.end - 1].word.endswith("s") or self._tokens[phrase.head.end - 1].word == "webbing"
        )

    def _each_way(self, count: int, kind: Kind | None, facts: dict[str, Any]) -> None:
        facts = {key: value for key, value in facts.items() if key != "pulls"}
        if kind or self._tiedown is None or self._tiedown.count != 2 * count:
            self._new(2 * count, kind, facts)
        self._some(count, {"pulls": "forward"}, together=True)
        self._some(count, {"pulls": "rearward"}, together=True)

    # ---- facts and numbers without a noun

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

    # ---- coils and weights

    def _others(self, phrase: Phrase) -> None:
        """Take what is told of rows, blocking, the deck, nails and the yard, whatever noun it stands beside."""
        for piece in phrase.facts:
            match piece.sort:
                case "row":
                    self.drafts.row = piece.key if piece.key in {"transverse", "lengthwise"} else "lengthwise"
                case "blocked":
                    self._blocked(piece.key, told=True)
                case "unblocked":
                    self._blocked(piece.key, told=False)
                case "ondeck":
                    self._support({"on_deck": piece.key == "yes"})
                case "nailed":
                    self._support(
                        {"nailed_only": piece.key != "no"} | ({"cradle": True} if piece.key == "cradle" else {})
                    )
                case "held":
                    self._support({"held": True})
                case "yard":
                    self.drafts.yard = piece.key == "yard"
                case "length" if isinstance(piece.value, Length):
                    self._long(phrase, piece.value)
        if (
            phrase.sort in {"counted", "mats", "cradle", "pallet", "kind"}
            and phrase.weights
            and not (phrase.sort == "pallet" and phrase.number is not None)
        ):
            self._weigh(phrase, None)

    def _long(self, phrase: Phrase, length: Length) -> None:
        if phrase.sort in {"article", "part"}:
            return
        feet = length.feet(self._definitions)
        if self._noun and self._noun.noun == "articles":
            self._noun.facts["length_ft"] = feet
        else:
            self.drafts.article_facts["length_ft"] = feet

    def _blocked(self, way: str, *, told: bool) -> None:
        if way in {"forward", "both", "blocked"}:
            facts = {"blocked_forward": told}
            if self._noun and self._noun.noun == "articles":
                self._noun.facts |= facts
            else:
                self.drafts.article_facts |= facts
        if way in {"rearward", "both"}:
            self._support({"blocked_rearward": told})

    def _coil_fact(self, piece: Piece, phrase: Phrase) -> None:
        if phrase.denied and piece.sort == "eye":
            self.drafts.denied.append(piece.key)
            self.drafts.fix = True
            return
        if piece.sort == "metal" and self._noun and self._noun.noun == "articles":
            return
        self._of_coil({piece.sort: piece.key_of(piece.sort) or piece.key})

    def _bore(self, phrase: Phrase) -> bool:
        """Take "the bore is twenty four inches"."""
        inches = next((piece for piece in phrase.facts if piece.sort in {"inches", "size"}), None)
        value = self._inches(inches) if inches else phrase.number
        if value is not None:
            self._of_coil({"bore_in": float(value)})
        return value is not None

    def measured(self, phrase: Phrase, key: str, value: float) -> None:
        """Put a measure in inches where its name belongs."""
        if key in {"lip_in", "wrap_in", "timber_in"}:
            self.drafts.slack[key] = value
        elif key in {"take_up_in", "lead_in"}:
            self._of_tiedown({key: value})
        elif key in {"gap_in", "edge_height_in"}:
            self._support({key: value})
        elif self._noun and self._noun.noun == "articles":
            self._lose(phrase, "not placed")
        else:
            self._of_coil({key: value})

    def _measure(self, phrase: Phrase, measure: Piece) -> bool:
        """Take "sixty inches wide", "thirty feet long", "at forty five degrees"."""
        key = measure.key_of("measure")
        inches = next((piece for piece in phrase.facts if piece.sort in {"inches", "size", "length"}), None)
        value = None
        if inches is not None:
            value = self._inches(inches)
        elif phrase.number is not None and key not in {"length", "lead_in"}:
            value = float(phrase.number)
        if value is None:
            return False
        if key == "length":
            self._length(value / 12)
        elif key == "angle":
            self._of_tiedown({"angle_deg": value})
        else:
            self.measured(phrase, key, value)
        return True

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

    def _coil(self, phrase: Phrase) -> None:
        self._others(phrase)
        told_before = [noun for noun in self.drafts.nouns if noun.noun == "coils"]
        if phrase.denied:
            if phrase.weights or phrase.facts or phrase.number:
                self._lose(phrase, "denied")
            elif self._coils_on:
                self._add(Draft("coils", "remove", count=None))
            else:
                self._lose(phrase, "denied")
            return
        if self._verb == "remove":
            self._add(Draft("coils", "remove", count=phrase.number or 1, another=phrase.indefinite or phrase.one))
            return
        nth = next((piece for piece in phrase.facts if piece.sort == "nth"), None)
        if nth is not None:
            self._nth_coil(nth, phrase)
            return
        if any(piece.sort == "again" for piece in phrase.facts):
            self.drafts.same_again = True
            return
        if (
            phrase.number is not None
            and phrase.number in TRADE_COIL
            and not phrase.weights
            and not self._plural(phrase)
        ):
            phrase.weights.append(thousands(phrase.number or 0, phrase.start, phrase.end))
            phrase.number = None
        place = next(
            (
                piece
                for piece in phrase.facts
                if piece.sort == "place" and phrase.head and piece.start < phrase.head.start
            ),
            None,
        )
        draft = self._add(Draft("coils", self._verb, count=phrase.number))
        if place is not None and phrase.number is None and not phrase.indefinite:
            draft.nth, draft.count = (1 if place.key == "front" else -2), None
        draft.another = bool(told_before) and (phrase.indefinite or phrase.one or phrase.number is not None)
        for piece in phrase.facts:
            if piece.sort == "eye" and phrase.denied:
                self.drafts.denied.append(piece.key)
            elif piece.sort in {"eye", "metal"}:
                draft.facts[piece.sort] = piece.key_of(piece.sort) or piece.key
        measure = next((piece for piece in phrase.facts if piece.sort == "measure"), None)
        weights = [piece.value for piece in phrase.weights]
        if measure is not None and not weights:
            self._measure(phrase, measure)
        if phrase.total and weights:
            weights = [self._each({"count": phrase.number or 1, "weight": weights[0]})["weight"]]
        if phrase.vague and weights:
            self.drafts.clash = (
                f"I heard about {weights[0].pounds:,.0f} pounds. Say the figure on the tag or the papers."
            )
        if phrase.each and weights:
            for noun in told_before:
                noun.weights += [] if noun.weights else weights[:1]
        draft.weights += weights
        self._last_weights = draft.weights
        if not told_before:
            draft.facts |= {key: value for key, value in self.drafts.coil_facts.items() if key not in draft.facts}
            self.drafts.coil_facts = {}
            if self.drafts.weights and not draft.weights:
                draft.weights.append(self.drafts.weights.pop(0))
        self._also_of_ties(phrase)

    def _also_of_ties(self, phrase: Phrase) -> None:
        ties = [piece for piece in phrase.facts if piece.sort in OF_TIEDOWN - {"inches", "size"}]
        if ties and self._tiedown is None and not self._kinds_on:
            self.lost += [Lost(piece.start, piece.end, "not placed") for piece in ties]
        elif ties:
            self._of_tiedown(self._tie_facts(Phrase(), ties))

    # ---- other cargo, supports, parts

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
        for piece in phrase.facts:
            if piece.sort in {"blocked", "unblocked"}:
                draft.facts["blocked_forward"] = piece.sort == "blocked"
        self._also_of_ties(phrase)

    def _rest_on(self, phrase: Phrase) -> None:
        if (
            phrase.sort == "pallet"
            and (phrase.holds or (phrase.weights and phrase.number is not None))
            and not phrase.denied
        ):
            self._article(phrase)
            return
        if phrase.each_side:
            phrase.number = 2 * (phrase.number or 1)
        self._others(phrase)
        sort = phrase.sort
        key = phrase.head.key_of("counted") if sort == "counted" and phrase.head else sort
        there = not phrase.denied and self._verb != "remove"
        measure = next((piece for piece in phrase.facts if piece.sort == "measure"), None)
        if measure is not None and self._measure(phrase, measure):
            return
        rated = [mark for mark in phrase.marks if mark.sort == "weight"]
        if rated and key in {"bunks", "timbers"}:
            self._support({f"{key[:-1]}_rated_lb": rated[0].value.pounds})
        if phrase.denied:
            self.drafts.support.pop(key, None)  # "mats? there's no mats"
            self.drafts.taken.pop(key, None)
        if sort != "counted":
            self._support({key: there})
        elif phrase.more or (self._verb in {"add", "remove"} and phrase.number is not None):
            sign = -1 if self._verb == "remove" or phrase.fewer else 1
            self._more({"counted": key, "count": phrase.number or 1}, sign=sign)
            self.drafts.adds |= {key} if self._verb == "add" and not phrase.more else set()
        elif phrase.number is not None and phrase.denied:
            self.drafts.denied.append(float(phrase.number))
            self.drafts.fix = True
        elif phrase.number is not None:
            self._support({key: phrase.number})
            self.drafts.counted = key
        elif not there:
            self._support({key: 0})
        elif phrase.indefinite:
            self._support({key: 1})
            self.drafts.counted = key
        elif not rated:
            self._uncounted(key)
        self._also_of_ties(phrase)

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
        if limits and part in _RATED:
            self._part({"part": _RATED[part], "limit": limits[0]})
        elif limits and part == "front":
            self.drafts.front["rated_lb"] = limits[0]
        elif part == "front" and any(piece.sort == "length" for piece in phrase.facts):
            length = next(piece for piece in phrase.facts if piece.sort == "length")
            self.drafts.front["height_ft"] = length.value.feet(self._definitions)
        elif part == "threads" and phrase.number is not None:
            self._of_tiedown({"threads_left": float(phrase.number)})
        elif part == "takeup" and any(piece.sort in {"inches", "size"} for piece in phrase.facts):
            inches = next(piece for piece in phrase.facts if piece.sort in {"inches", "size"})
            value = self._inches(inches)
            self._of_tiedown({"take_up_in": value})
        elif (
            part == "binder"
            and any(piece.sort in {"inches", "size"} for piece in phrase.facts)
            and phrase.number is None
        ):
            self._of_tiedown(
                {"take_up_in": self._inches(next(piece for piece in phrase.facts if piece.sort in {"inches", "size"}))}
            )
        elif part in {"binder", "hook", "winch", "anchor"} and not phrase.denied:
            self.drafts.assumed.append("Binders are taken as part of their chains.")
            self._also_of_ties(phrase)
        else:
            self._lose(phrase, "denied" if phrase.denied else "not placed")

    def _coils_by_weight(self) -> None:
        """Take several weights and no noun as so many coils: "two, twenty one four and eighteen six"."""
        weights, self.drafts.weights = self.drafts.weights, []
        facts, self.drafts.coil_facts = self.drafts.coil_facts, {}
        self.drafts.numbers = [number for number in self.drafts.numbers if number != len(weights)]
        self.drafts.assumed.append("Weights by themselves are taken as one coil's each.")
        self.drafts.nouns.append(Draft("coils", "state", count=len(weights), facts=facts, weights=weights))

    def finish(self) -> Told:
        """Return all that was told."""
        self.drafts.nouns = [noun for noun in self.drafts.nouns if not any(noun is one for one in self._counted)]
        if (
            len(self.drafts.weights) > 1
            and not any(noun.noun in {"coils", "articles"} for noun in self.drafts.nouns)
            and not self.drafts.fix
        ):
            self._coils_by_weight()
        for noun in self.drafts.nouns:
            if self.drafts.denied and noun.verb == "state":
                noun.verb = "fix"
            if noun.noun == "tiedowns":
                noun.facts |= {key: value for key, value in self._shared.items() if key not in noun.facts}
        return Told(self.drafts, self.lost)
