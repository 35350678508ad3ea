"""What pieces tell of tiedowns: what they are made of, how they run, and what is marked on them."""

from collections.abc import Sequence
from typing import Any

from assistant.phrase.slots import Weight
from assistant.understand.heard import Lost
from assistant.understand.phrase import OF_TIEDOWN, Phrase
from assistant.understand.scan import Piece
from assistant.understand.told import Telling

RUN = frozenset({"pulls", "through", "place", "path", "crossed"})
"""How a tiedown runs, and not what it is."""
_FORWARD = "Forward and rearward are taken as the movement that a tiedown keeps the load from."
_SIDEWAYS = "Left and right are taken as the movement that a tiedown keeps the load from."


class Facts(Telling):
    """Makes facts of tiedowns out of pieces."""

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
            said = self.words(phrase.start, phrase.end)
            self.drafts.clash = f"I heard two things of the same tiedowns in “{said}”. Say how many run each way."

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
        if way and self._coils_on > 1 and any("'on'" in part.names for part in piece.parts):
            self.drafts.assumed.append("Which coil they hold is not kept.")
        elif way:
            facts["pulls"] = way
            self.drafts.assumed.append(_FORWARD)
        elif piece.key == "middle":
            facts["place"] = "middle"

    def _also_of_ties(self, phrase: Phrase) -> None:
        ties = [piece for piece in phrase.facts if piece.sort in OF_TIEDOWN - {"inches", "size"}]
        if ties and self._tiedown is None and not self._kinds_on:
            self.lost += [Lost(piece.start, piece.end, "not placed") for piece in ties]
        elif ties:
            self._of_tiedown(self._tie_facts(Phrase(), ties))
