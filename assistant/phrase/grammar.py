"""Reads grammar/ and checks it: the one list of what can be said. The only module here that opens files."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from assistant.phrase.numbers import NumberWords
from assistant.phrase.template import Piece, expand

NUMERIC = frozenset({"count", "weight", "size", "inches", "limit", "length", "thickness", "wrong", "dimension"})
"""Slots that hold a number; the others are closed lists of names in vocabulary.toml."""


class GrammarProblem(Exception):  # noqa: N818 - one base for all refusals of grammar data
    """The grammar's files do not fit together; keeps the file, the entry and the remedy."""

    def __init__(self, file: str, entry: str, remedy: str) -> None:
        super().__init__(f"grammar/{file}, {entry}: {remedy}")
        self.file = file
        self.entry = entry
        self.remedy = remedy


REPLIES = frozenset({"yes", "no", "in_all", "more", "other_one"})
"""What answers a question that must be settled before anything enters the load."""


@dataclass(frozen=True)
class Phrase:
    """One plain sequence of a fragment: words and slots. `spoken` is false for what is only typed."""

    fragment: str
    pieces: tuple[Piece, ...]
    spoken: bool
    weight: float

    @property
    def slots(self) -> tuple[str, ...]:
        """Names of the slots, in order."""
        return tuple(piece[1:-1] for piece in self.pieces if piece.startswith("{"))


@dataclass(frozen=True)
class Name:
    """One entry of a closed list: what it is called and, for an attribute, what it sets."""

    key: str
    spoken: tuple[tuple[str, ...], ...]
    typed: tuple[tuple[str, ...], ...]
    on: str = ""
    sets: Mapping[str, Any] = field(default_factory=dict)
    assumed: str = ""
    weight: float = 1
    """How often it is said beside the others of its list; common practice, no source."""

    @property
    def all(self) -> tuple[tuple[str, ...], ...]:
        """Spoken and typed words together."""
        return self.spoken + self.typed


@dataclass(frozen=True)
class Unit:
    """A unit's words, its name in units.txt, and what using it assumes."""

    name: str
    spoken: tuple[tuple[str, ...], ...]
    typed: tuple[tuple[str, ...], ...]
    assumed: str = ""

    @property
    def spoken_words(self) -> frozenset[str]:
        """All words of its spoken forms."""
        return frozenset(word for words in self.spoken for word in words)


@dataclass(frozen=True)
class AnswerForm:
    """How short answers to one question are read (answers.toml)."""

    asked: str
    says: tuple[str, ...]
    yes: str = ""
    no: str = ""
    hear: str = ""
    kind: str = ""
    """The kind of tiedown that the question names."""
    nothing: str = ""
    """What "nothing" and "none" stand for."""
    untold: str = ""
    """The fact that was asked for: tiedowns of which it is told already keep it."""
    article: str = ""
    """The fact that is asked of the article named."""
    assumed: str = ""
    """What is taken for granted where that tells several groups."""
    back: Mapping[str, str] = field(default_factory=dict)
    """What to ask in return where an answer leaves the fact open: "yes", "no", or the words of the answer."""


@dataclass(frozen=True)
class Row:
    """What contract.toml says of a fragment beside its slots."""

    sort: str
    theme: str
    about: str


class _Sorts(dict[str, str]):
    """What each named question, order or answer is; everything else tells something."""

    def __missing__(self, name: str) -> str:
        """Return the sort of what has no name of its own."""
        return "fact"


@dataclass(frozen=True)
class Grammar:
    """All of grammar/, read and checked."""

    phrases: tuple[Phrase, ...]
    sorts: Mapping[str, str]
    contract: Mapping[str, Row]
    forms: Mapping[str, tuple[str, ...]]
    """Each fragment's templates as they are written, spoken ones first."""
    lists: Mapping[str, tuple[Name, ...]]
    units: Mapping[str, tuple[Unit, ...]]
    numbers: NumberWords
    limits: Mapping[str, float]
    filler: frozenset[str]
    never_skip: frozenset[str]
    mistakable: tuple[str, ...]
    """What sounds like its contrary."""
    not_now: frozenset[str]
    """Those of `never_skip` that tell of another time or another truck."""
    flaws: frozenset[str]
    hesitations: frozenset[str]
    goes_on: frozenset[str]
    """Number words that never begin a number."""
    asking: frozenset[str]
    """Words that begin a question."""
    question: Mapping[str, tuple[tuple[str, ...], ...]]
    """How what is asked of the load begins and ends: hearing.toml."""
    measures: frozenset[str]
    """Words that say a number before them was of something that is no fact here ("inches wide")."""
    means: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]
    definitions: str
    """Text of units.txt, for pint."""
    talk: Mapping[str, Any]
    """talk.toml: how people put words together, and how often."""
    answers: tuple[AnswerForm, ...]
    same_sound: Mapping[str, str]
    """Words that sound like a number word: heard as the number word, meant by the phrase."""
    twins: Mapping[str, str]
    """Number words that noise makes of others: heard, and perhaps said."""
    replies: Mapping[str, str]
    """What each word that says yes or no by itself says."""

    @cached_property
    def fixed(self) -> dict[tuple[str, ...], tuple[str, str]]:
        """Questions and orders that are always said in the same words."""
        sorts = {"ask", "command"}
        return {
            phrase.pieces: ("order" if self.sorts[phrase.fragment] == "command" else "ask", phrase.fragment)
            for phrase in self.phrases
            if not phrase.slots and self.sorts[phrase.fragment] in sorts and phrase.fragment not in {"note", "correct_note"}
        }

    @cached_property
    def heeded(self) -> frozenset[str]:
        """Words of which nothing may be lost: left over, they have all of an utterance left."""
        return self.never_skip | self.flaws | self.measures

    def closed_words(self) -> frozenset[str]:
        """Return the words of names and units: what a misspelled word may be. No number word is among them."""
        units = {word for group in self.units.values() for unit in group for words in unit.spoken for word in words}
        named = self._named() | units | {"coil", "coils"}
        return frozenset(word for word in named if word.isalpha()) - self.numbers.all - self.numbers.parts.keys()

    def known_words(self) -> frozenset[str]:
        """Return every word that stands somewhere in the grammar: it is no misspelling."""
        phrases = {piece for phrase in self.phrases for piece in phrase.pieces if not piece.startswith("{")}
        units = {word for group in self.units.values() for unit in group for words in unit.typed for word in words}
        numbers = self.numbers.all | self.numbers.parts.keys() | self.numbers.counts.keys()
        heard = {word for heard, _ in self.means for word in heard}
        besides = self.filler | self.never_skip | self.flaws | self.closed_words()
        return frozenset(phrases | units | numbers | heard | self._named()) | besides

    def _named(self) -> set[str]:
        return {word for names in self.lists.values() for name in names for words in name.all for word in words}

    def as_it_sounds(self, phrase: str) -> str:
        """Write words of one sound as one word: the recognizer cannot tell them apart, the parser can."""
        return " ".join(self.same_sound.get(word, word) for word in phrase.split())

    def answer_to(self, question: str) -> AnswerForm | None:
        """Return how answers to a question are read; None where every answer is a whole phrase."""
        fitting = (form for form in self.answers if question.startswith(form.asked) and form.kind in question)
        return next(fitting, None)


def grammar_folder() -> Path:
    """Return the folder of grammar data: inside the installed package, or beside it in a checkout."""
    here = Path(__file__).parent
    packed = here / "grammar"
    return packed if packed.is_dir() else here.parent.parent / "grammar"


def read_grammar(folder: Path | None = None) -> Grammar:
    """Read and check the grammar.

    Raises
    ------
    GrammarProblem
        A template that breaks its contract, an unknown slot, an entry without words.
    BadTemplate
        A template that cannot be read.
    """
    place = folder or grammar_folder()
    numbers = read_toml(place, "numbers.toml")
    hearing = read_toml(place, "hearing.toml")
    contract = read_toml(place, "contract.toml")
    lists = {name: tuple(_names(name, entries)) for name, entries in read_toml(place, "vocabulary.toml").items()}
    lists["held"] = tuple(name for name in lists["attribute"] if name.on == "tiedown")
    lists["lies"] = tuple(name for name in lists["attribute"] if name.on == "coil")
    lists["into"], lists["into_one"] = lists["kinds"], lists["kind"]
    written = read_toml(place, "phrases.toml")
    phrases = tuple(_phrases(written, contract, lists))
    return Grammar(
        phrases=phrases,
        sorts=_Sorts({name: entry["sort"] for name, entry in contract.items()}),
        contract={name: Row(entry["sort"], entry["theme"], entry["about"]) for name, entry in contract.items()},
        forms={name: (*entry.get("say", ()), *entry.get("typed", ())) for name, entry in written.items()},
        lists=lists,
        units={sort: tuple(_units(entries)) for sort, entries in read_toml(place, "units.toml").items()},
        numbers=NumberWords.of(numbers),
        limits=numbers["limits"],
        filler=frozenset(hearing["filler"]),
        never_skip=frozenset([*hearing["never_skip"], *hearing["not_now"]]),
        mistakable=tuple(hearing["mistakable"]),
        not_now=frozenset(hearing["not_now"]),
        flaws=frozenset(hearing["flaws"]),
        hesitations=frozenset(hearing["hesitations"]),
        goes_on=frozenset(hearing["goes_on"]),
        asking=frozenset(hearing["asking"]),
        question={name: tuple(tuple(said.split()) for said in told) for name, told in hearing["question"].items()},
        measures=frozenset(hearing["measures"]),
        means=tuple(_means(hearing["means"])),
        definitions=(place / "units.txt").read_text(encoding="utf-8"),
        talk=read_toml(place, "talk.toml"),
        answers=tuple(
            AnswerForm(**{**entry, "says": tuple(entry["says"])}) for entry in read_toml(place, "answers.toml")["answer"]
        ),
        same_sound=hearing["same_sound"],
        twins=hearing["twins"],
        replies={
            phrase.pieces[0]: phrase.fragment
            for phrase in phrases
            if phrase.fragment in REPLIES and len(phrase.pieces) == 1
        },
    )


def read_toml(place: Path, name: str) -> dict[str, Any]:
    """Read one file of the grammar."""
    try:
        return tomllib.loads((place / name).read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as problem:
        raise GrammarProblem(name, "the file", f"it is not TOML: {problem}") from problem


def _words(templates: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    return tuple(dict.fromkeys(sequence for template in templates for sequence in expand(template)))


def _names(list_name: str, entries: Mapping[str, Any]) -> Iterator[Name]:
    for key, entry in entries.items():
        rest = {name: entry[name] for name in entry if name not in {"say", "typed"}}
        unknown = rest.keys() - {"on", "sets", "assumed", "weight"}
        if unknown or not entry.get("say"):
            problem = f"unknown key {min(unknown)!r}" if unknown else "give it words to say"
            raise GrammarProblem("vocabulary.toml", f"[{list_name}.{key}]", problem)
        yield Name(key, _words(entry["say"]), _words(entry.get("typed", ())), **rest)


def _units(entries: Mapping[str, Any]) -> Iterator[Unit]:
    for key, entry in entries.items():
        name, typed = entry.get("unit", key), tuple((word,) for word in entry.get("typed", ()))
        yield Unit(name, _words(entry.get("say", ())), typed, entry.get("assumed", ""))


def _whole_of(contracted: Mapping[str, Sequence[str]]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Yield what contractions mean: "chain's got" before "chain's", for the first that fits is taken."""
    for noun in contracted["has"]:
        yield (f"{noun}'s", "got"), (noun, "has")
    for noun in contracted["is"]:
        yield (f"{noun}'s",), (noun, "is")


def _apostrophes(words: Sequence[str]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Yield what contractions mean that are typed without their apostrophe."""
    for word in words:
        yield (word.replace("'", ""),), (word,)


def _means(entries: Sequence[Mapping[str, Any]]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for entry in entries:
        for heard in entry["heard"]:
            yield tuple(heard.split()), tuple(entry["meant"].split())


def _phrases(data: Mapping[str, Any], contract: Mapping[str, Any], lists: Mapping[str, object]) -> Iterator[Phrase]:
    for missing in contract.keys() ^ data.keys():
        raise GrammarProblem("contract.toml", missing, "every fragment stands in phrases.toml and in contract.toml")
    for fragment, entry in data.items():
        allowed = {tuple(sorted(slots)) for slots in contract[fragment]["slots"]}
        used: set[tuple[str, ...]] = set()
        for spoken, templates in ((True, entry.get("say", ())), (False, entry.get("typed", ()))):
            for template in templates:
                for pieces in expand(template):
                    phrase = Phrase(fragment, pieces, spoken, entry.get("weight", 1))
                    slots = tuple(sorted(phrase.slots))
                    if slots not in allowed:
                        raise GrammarProblem(
                            "phrases.toml", f"{fragment}: {template!r}", f"{slots} is no slot set of it"
                        )
                    unknown = set(slots) - NUMERIC - lists.keys()
                    if unknown:
                        raise GrammarProblem("phrases.toml", f"{fragment}: {template!r}", f"no list {min(unknown)!r}")
                    used.add(slots)
                    yield phrase
        for slots in allowed - used:
            raise GrammarProblem("contract.toml", fragment, f"no template fills {slots}: add one or take it out")
