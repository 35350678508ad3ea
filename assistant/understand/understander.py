"""Understands utterances: notes, fixed questions and orders, and all that is composed of words."""

from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import chain, pairwise

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from assistant.load.model import Load
from assistant.phrase.draft import Drafts
from assistant.phrase.grammar import NUMERIC, AnswerForm, Grammar
from assistant.phrase.tokens import LONGEST, Token, tokens, words
from assistant.understand.composer import Composer
from assistant.understand.heard import Fragment, Heard
from assistant.understand.lexicon import read_lexicon
from assistant.understand.normal import normal, whole_words

_EMPTY = frozenset({"filler", "det", "prep", "cop", "verb", "and", "have", "who", "of", "hedge", "weigh", "pron"})
_CUT_OFF = 80
_CLEAR_LEAD = 8
_BEHIND_TO = frozenset({"the", "a", "it", "my", "her", "hold", "be", "that", "this"})
"""No number stands before these."""
_TO_DO = (frozenset({"have", "need", "want", "got"}), frozenset({"put", "use", "add", "check", "stop", "get", "make"}))
"""Between one of the first and one of the second stands no number: "have to put on"."""
_TO_A_NUMBER = frozenset({"go", "change", "switch"})
"""Between one of these and another number stands no number: "go to six"."""
_FOR_A_NUMBER = frozenset({"rated", "marked", "tagged", "good", "stamped"})
"""Between one of these and another number stands no number: "rated for six thousand"."""
_TO_BETWEEN = frozenset({("side", "side"), ("meant", "say"), ("front", "back"), ("rail", "rail")})
_IT = frozenset({"it", "that", "them"})
"""Behind "change it" stands no number."""
_COST_OF_NOTE = 3.0
"""Between what "no four" costs and what the phrases make of free talk. Measured on synthetic voices."""
_COST_OF_NOTHING = 2.0
"""What words cost besides of which nothing is understood: people say something. Measured on synthetic voices too."""
_DICTATED = frozenset({"note", "correct_note"})
_SHORTEST = 5
"""Letters of a word that can be a misspelled name; among shorter ones too many are words of their own ("coal")."""
_SHORT = 6
"""Up to so many letters one slip of the fingers is all that is forgiven, beyond that two."""
_SPOKEN_TO = frozenset({"please", "okay", "ok", "hey", "so", "well", "and", "then", "now", "um", "uh"})
"""These may stand round a fixed question or order."""


class Understander:
    """Takes utterances apart by one grammar."""

    def __init__(self, grammar: Grammar) -> None:
        self.grammar = grammar
        self.lexicon = read_lexicon(fixed=grammar.fixed)
        self._composer = Composer.of(self.lexicon, grammar)
        self._fixed: dict[tuple[str, ...], tuple[str, ...]] = {}
        self._sounding: dict[tuple[str, ...], tuple[str, ...]] = {}
        for phrase in grammar.phrases:
            said = tuple(chain.from_iterable(whole_words(piece) for piece in phrase.pieces))
            self._fixed[said] = tuple(dict.fromkeys((*self._fixed.get(said, ()), phrase.fragment)))
            sounding = tuple(grammar.as_it_sounds(" ".join(phrase.pieces)).split())
            self._sounding[sounding] = phrase.pieces
        self._notes = tuple(phrase.pieces for phrase in grammar.phrases if phrase.fragment in _DICTATED)
        self._corrections = frozenset(phrase.pieces for phrase in grammar.phrases if phrase.fragment == "correct_note")
        self._means: dict[str, list[tuple[tuple[str, ...], tuple[str, ...]]]] = {}
        for heard, meant in grammar.means:
            self._means.setdefault(heard[0], []).append((heard, meant))
        self._closed = tuple(word for word in self.lexicon.names if word.isalpha() and len(word) >= _SHORTEST)

    def hear(self, text: str, load: Load | None = None, skip: frozenset[int] = frozenset()) -> Heard:
        """Take an utterance apart, as it is meant beside what is on the deck; of the phrases to skip nothing is taken.

        Raises
        ------
        TooLong
            The text is longer than an utterance can be.
        """
        raw = tokens(text)
        note = self._note(text, raw)
        if note is not None:
            corrects = self.note_words([token.word for token in raw]) in self._corrections
            return Heard(raw, note=note, corrects=corrects)
        found, joined = self._fluent(normal(text))
        found = tuple(self._dropped(token) for token in self._meant(found))
        found, replaced = self._spelled(found)
        heard = self._composer.hear(found, load or Load(), marked=text.rstrip().endswith("?"), skip=skip)
        return heard._replace(replaced=replaced, joined=joined)

    def drafts(self, heard: Heard) -> Drafts:
        """Return what an utterance tells."""
        return heard.supposed if heard.supposed is not None else heard.drafts

    def whole(self, heard: Heard) -> dict[str, Fragment]:
        """Return every fixed question, order or answer that an utterance is as a whole, by name."""
        said = [token.word for token in heard.tokens]
        found: dict[str, Fragment] = {}
        for start, end in _trimmed(said):
            for name in self._fixed.get(tuple(said[start:end]), ()):
                found.setdefault(name, Fragment(name, {}, 0, len(said)))
        if len(heard.fragments) == 1 and "as" in heard.fragments[0].values:
            part = heard.fragments[0]
            _, more, _, _, total = part.values["as"]
            found |= {name: part for name, told in (("in_all", total), ("more", more)) if told}
        return found

    def fluent(self, text: str) -> str:
        """Return a text without its hesitations."""
        return " ".join(word for word in text.split() if word.strip(",.;:!?-").lower() not in self.grammar.hesitations)

    def slip(self, heard: Heard) -> tuple[str, str, str] | None:
        """Return a false start: a bare number right before a phrase that begins with another ("four five chains").

        Returns
        -------
        tuple[str, str, str] | None
            The number dropped, the phrase behind it, and the whole utterance without the number.
        """
        for first, second in pairwise(heard.fragments):
            between = heard.tokens[second.start]
            if first.name != "number" or second.start != first.end or between.breaks or between.value is not None:
                continue  # figures side by side ("42 500") are no slip of the tongue
            if self.is_number(between) and "count" in second.values and second.name != "number":
                kept = heard.tokens[: first.start] + heard.tokens[first.end :]
                parts = (heard.tokens[first.start : first.end], heard.tokens[second.start : second.end], kept)
                return words(parts[0]), words(parts[1]), words(parts[2])
        return None

    def number_words_in(self, heard: Heard) -> int:
        """Return how many number words an utterance has."""
        return sum(self.is_number(token) for token in heard.tokens)

    def completed(self, heard: Heard, form: AnswerForm) -> list[str]:
        """Return the whole phrases that a short answer may stand for.

        {said} takes the answer as it is; {first}, {second} and {third} take the numbers of one that is all numbers.
        """
        said = words(heard.tokens)
        numbers = [str(part.values["count"]) for part in heard.fragments if part.name == "number"]
        only_numbers = bool(numbers) and len(numbers) == len(heard.fragments)
        phrases = []
        for template in form.says:
            if "{said}" in template:
                phrases.append(template.replace("{said}", said))
                continue
            slots = ("{first}", "{second}", "{third}")
            wanted = sum(slot in template for slot in slots)
            if only_numbers and len(numbers) == wanted:
                phrase = template
                for slot, number in zip(slots, numbers, strict=False):
                    phrase = phrase.replace(slot, number)
                phrases.append(phrase)
        return phrases

    def cost(self, said: Sequence[str]) -> float:
        """Return how badly words fit together as the recognizer gave them.

        A note costs as much as a short correction: "note four" and "no four" are then told apart by their sound, while
        free talk heard by load phrases ("no wait a two are") costs more than either.
        """
        if self.note_words(said):
            return _COST_OF_NOTE
        heard = self.hear(" ".join(said)[:LONGEST])
        return heard.cost if heard.fragments else heard.cost + _COST_OF_NOTHING

    def written(self, said: Sequence[str]) -> list[str]:
        """Return words as they are written: what was heard as "two" is "to" where the grammar takes it so.

        A number that the grammar can read stays one: "four" alone, "two and two". One that it cannot read is "to" only
        before what no number stands before ("tied two the deck").
        """
        found = [*self._sounding.get(tuple(said), said)]
        for holds in (self._is_no_number, self._reads_better):
            for written, heard in self.grammar.same_sound.items():
                for place, word in enumerate(found):
                    if word == heard:
                        other = [*found[:place], written, *found[place + 1 :]]
                        found = other if holds(found, other, place) else found
        return found

    def _is_no_number(self, found: Sequence[str], other: Sequence[str], place: int) -> bool:
        """Return whether no number can stand there, whatever else is said."""
        before, behind = ("", *found)[place], (*found, "")[place + 1]
        if self.note_words(found) or behind in _BEHIND_TO:
            return True
        if other[place] == "for":
            return before in _FOR_A_NUMBER and (not behind or self.is_number_word(behind))
        changed = before in _IT and found[place - 2] in _TO_A_NUMBER
        between = (before, behind) in _TO_BETWEEN
        return other[place] == "to" and (changed or between or self._is_to(before, behind))

    def _reads_better(self, found: Sequence[str], other: Sequence[str], place: int) -> bool:
        """Return whether something is lost with a number there, and less without."""
        if place + 1 == len(found):
            return False
        first, second = (self.hear(" ".join(words_)[:LONGEST]) for words_ in (found, other))
        return second.cost < first.cost and len(second.lost) < len(first.lost)

    def _is_to(self, before: str, behind: str) -> bool:
        """Return whether what is heard as "two" between these words is no number."""
        numbers = self.grammar.numbers
        return (before in _TO_DO[0] and behind in _TO_DO[1]) or (
            before in _TO_A_NUMBER and behind in {*numbers.units, *numbers.teens, *numbers.tens}
        )

    def unsure_fragments(self, heard: Heard, unsure: Iterable[int]) -> tuple[Fragment, ...]:
        """Return the fragments that hold a number word which the recognizer was not sure of.

        Parameters
        ----------
        heard
            The utterance.
        unsure
            Which of its number words are doubtful, counted from 0: replacing what was misheard moves words, but never
            adds or drops a number.
        """
        numbers = [place for place, token in enumerate(heard.tokens) if self.is_number(token)]
        places = {numbers[which] for which in unsure if which < len(numbers)}
        return tuple(
            fragment
            for fragment in heard.fragments
            if NUMERIC & fragment.values.keys() and places & set(range(fragment.start, fragment.end))
        )

    @cached_property
    def filler(self) -> frozenset[str]:
        """Words that tell nothing by themselves."""
        return frozenset(
            words[0] for words, senses in self.lexicon.entries.items() if len(words) == 1 and senses[0].sort in _EMPTY
        )

    @property
    def number_words(self) -> frozenset[str]:
        """Words that can be part of a number."""
        return self.grammar.numbers.all | self.grammar.numbers.parts.keys()

    def is_number_word(self, word: str) -> bool:
        """Return whether a word is part of numbers."""
        numbers = self.grammar.numbers
        return word in numbers.all or word in numbers.parts or word in numbers.counts

    def is_number(self, token: Token) -> bool:
        """Return whether a token is a number or part of one."""
        return token.value is not None or self.is_number_word(token.word)

    def _fluent(self, found: tuple[Token, ...]) -> tuple[tuple[Token, ...], tuple[int, ...]]:
        """Drop hesitations; tell which numbers they stood between."""
        if not any(token.word in self.grammar.hesitations for token in found):
            return found, ()
        kept: list[Token] = []
        joined: list[int] = []
        dropped = breaks = False
        numbers = 0
        for place, token in enumerate(found):
            if token.word in self.grammar.hesitations:
                dropped, breaks = True, breaks or token.breaks
                continue
            whole = token._replace(breaks=token.breaks or breaks)
            number = self.is_number(whole)
            if dropped and number and kept and self.is_number(kept[-1]) and not whole.breaks:
                fraction = place + 1 < len(found) and found[place + 1].word in self.grammar.numbers.parts
                joined += [] if fraction or whole.word in self.grammar.goes_on else [numbers - 1, numbers]
            numbers += number
            kept.append(whole)
            dropped = breaks = False
        return tuple(kept), tuple(joined)

    def note_words(self, said: Sequence[str]) -> tuple[str, ...]:
        """Return the words that make what is said a note ("take a note"); empty where it is none."""
        found = (
            pieces for pieces in sorted(self._notes, key=len, reverse=True) if tuple(said[: len(pieces)]) == pieces
        )
        return next(found, ())

    def _note(self, text: str, found: tuple[Token, ...]) -> str | None:
        """Return what follows "note", as written."""
        rest = text.strip()
        pieces = self.note_words([token.word for token in found])
        for piece in pieces:
            rest = rest[rest.lower().index(piece) + len(piece) :]
        return rest.lstrip(" ,:;.-").strip() if pieces else None

    def _dropped(self, token: Token) -> Token:
        """Return a word with the g that was left off: "pullin"."""
        word = token.word
        if not word.endswith("in") or word in self.lexicon.words or f"{word}g" not in self.lexicon.words:
            return token
        return token._replace(word=f"{word}g")

    def _meant(self, found: tuple[Token, ...]) -> tuple[Token, ...]:
        """Replace what the ear mishears by what was meant."""
        if not any(token.word in self._means for token in found):
            return found
        kept: list[Token] = []
        at = 0
        while at < len(found):
            for heard, meant in self._means.get(found[at].word, ()):
                if tuple(token.word for token in found[at : at + len(heard)]) == heard:
                    kept += [Token(word, breaks=found[at].breaks and not place) for place, word in enumerate(meant)]
                    at += len(heard)
                    break
            else:
                kept.append(found[at])
                at += 1
        return tuple(kept)

    def _spelled(self, found: tuple[Token, ...]) -> tuple[tuple[Token, ...], tuple[tuple[str, str], ...]]:
        """Replace misspelled names from closed lists; a clear lead over the second best, and never towards a number."""
        replaced: list[tuple[str, str]] = []
        kept = list(found)
        for place, token in enumerate(found):
            if (
                token.value is not None
                or token.word in self.lexicon.words
                or len(token.word) < _SHORTEST
                or self.is_number_word(token.word)
            ):
                continue
            # People slip within a word, not at its start: "scale" is no "cable"
            slips = 1 if len(token.word) <= _SHORT else 2
            alike = [
                word for word in self._closed if word[0] == token.word[0] and OSA.distance(word, token.word) <= slips
            ]
            near = process.extract(token.word, alike, scorer=fuzz.ratio, limit=2, score_cutoff=_CUT_OFF)
            number = process.extractOne(token.word, self.grammar.numbers.all, scorer=fuzz.ratio)
            if not near or (number and number[1] >= near[0][1]):
                continue
            unclear = len(near) > 1 and near[0][1] - near[1][1] < _CLEAR_LEAD
            if unclear and not self.lexicon.same_name(near[0][0], near[1][0]):
                continue
            kept[place] = token._replace(word=near[0][0])
            replaced.append((token.word, near[0][0]))
        return tuple(kept), tuple(replaced)


def _trimmed(said: Sequence[str]) -> Iterable[tuple[int, int]]:
    """Yield an utterance whole, and without the words that only speak to somebody."""
    yield 0, len(said)
    start, end = 0, len(said)
    while start < end and said[start] in _SPOKEN_TO:
        start += 1
    while end > start and said[end - 1] in _SPOKEN_TO:
        end -= 1
    yield start, end
    yield 0, end
    yield start, len(said)
