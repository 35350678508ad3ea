"""The phrases of an utterance into what they tell of the load: which fact belongs to which noun."""

from collections.abc import Sequence

from assistant.load.model import Kind
from assistant.phrase.draft import Draft, Drafts
from assistant.understand.phrase import Phrase
from assistant.understand.told_bare import Bare


class Teller(Bare):
    """Takes the phrases of one utterance, clause after clause."""

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
                self._add(Draft("tiedowns", "fix", number, kinds[0].kind, self._tie_facts(Phrase(), facts)))
            return number is not None
        if not kinds or len(kinds) > 2:  # noqa: PLR2004 - one goes, one comes
            return False
        old, new = (kinds[0], kinds[-1]) if first == "swap" else (kinds[-1], kinds[0])
        instead = self._tie_facts(new, new.facts) | {"kind": new.kind}
        instead |= {"count": new.number} if new.number is not None else {}
        gone = old.kind if len(kinds) > 1 else None
        self._add(Draft("tiedowns", "swap", kind=gone, facts=instead, plural=self._plural(old) if gone else True))
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

    def finish(self) -> Drafts:
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
        return self.drafts
