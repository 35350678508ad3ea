"""What stands beside any noun: rows, blocking, the deck, nails, the yard, and measures."""

from assistant.phrase.slots import Length
from assistant.understand.phrase import Phrase
from assistant.understand.scan import Piece
from assistant.understand.told_weights import Weights


def _stands(piece: Piece) -> dict[str, bool]:
    """Return what is told of how a coil stands, by the names of the load's support."""
    if piece.sort == "ondeck":
        return {"on_deck": piece.key == "yes"}
    if piece.sort == "held":
        return {"held": True}
    return {"nailed_only": piece.key != "no"} | ({"cradle": True} if piece.key == "cradle" else {})


class Around(Weights):
    """Takes what is told beside a noun, whatever noun it is."""

    def _others(self, phrase: Phrase) -> None:
        """Take what is told of rows, blocking, the deck, nails and the yard, whatever noun it stands beside."""
        for piece in phrase.facts:
            match piece.sort:
                case "row":
                    self.drafts.row = piece.key if piece.key in {"transverse", "lengthwise"} else "lengthwise"
                case "blocked" | "unblocked":
                    self._blocked(piece.key, told=piece.sort == "blocked" and phrase.verb != "remove")
                case "ondeck" | "nailed" | "held":
                    self._support(_stands(piece))
                case "yard":
                    self.drafts.yard = piece.key == "yard"
                case "length" if isinstance(piece.value, Length):
                    self._long(phrase, piece.value)
        holds = phrase.sort == "pallet" and phrase.number is not None
        if phrase.sort in {"counted", "mats", "cradle", "pallet", "kind"} and phrase.weights and not holds:
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

    def _put_measure(self, phrase: Phrase, key: str, value: float) -> None:
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
            if key.endswith("_in"):
                self.drafts.assumed.append(f"{phrase.number} is taken as inches.")
        if value is None:
            return False
        if key == "length":
            self._length(value / 12)
        elif key == "angle":
            self._of_tiedown({"angle_deg": value})
        else:
            self._put_measure(phrase, key, value)
        return True

    def lip(self, piece: Piece) -> None:
        """Take how far a lip stands out."""
        self.drafts.slack["lip_in"] = self._inches(piece)
