"""Reads grammar/ and checks it: what is always said in the same words, numbers, units, answers and what is misheard."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from assistant.phrase.numbers import NumberWords
from assistant.phrase.template import expand

NUMERIC = frozenset({"count", "weight", "size", "limit"})
"""Values of a fragment that hold a number."""
REPLIES = frozenset({"yes", "no", "in_all", "more", "other_one"})
"""What answers a question that must be settled before anything enters the load."""
FRAMES = {
    "how_many": "ask",
    "rating": "ask",
    "use_rules": "command",
    "gear": "command",
    "gear_binders": "command",
    "gear_unmarked": "command",
}
"""Questions and orders about a noun phrase, and what each is: they are composed, so fixed.toml has no row for them."""
_SORTS = frozenset({"ask", "command", "reply"})


class GrammarProblem(Exception):  # noqa: N818 - one base for all refusals of grammar data
    """The grammar's files do not fit together; keeps the file, the entry and the remedy."""

    def __init__(self, file: str, entry: str, remedy: str) -> None:
        super().__init__(f"grammar/{file}, {entry}: {remedy}")
        self.file = file
        self.entry = entry
        self.remedy = remedy


@dataclass(frozen=True)
class Phrase:
    """One question, order or answer in its words. `spoken` is false for what is only typed."""

    fragment: str
    pieces: tuple[str, ...]
    spoken: bool
    weight: float


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
    """What fixed.toml says of a question, an order or an answer beside its words."""

    sort: str
    theme: str
    about: str
    forms: tuple[str, ...]
    """Its templates as they are written, spoken ones first."""


@dataclass(frozen=True)
class Entry:
    """What page.toml says of one thing that is composed: which sorts it is made of, and ways to say it."""

    theme: str
    about: str
    sorts: tuple[str, ...]
    say: tuple[str, ...]


class _Sorts(dict[str, str]):
    """What each named question, order or answer is; everything else tells something."""

    def __missing__(self, name: str) -> str:
        """Return the sort of what has no name of its own."""
        return "fact"


@dataclass(frozen=True)
class Grammar:
    """All of grammar/ but the lexicon and its rules, read and checked."""

    phrases: tuple[Phrase, ...]
    rows: Mapping[str, Row]
    entries: tuple[Entry, ...]
    units: Mapping[str, tuple[Unit, ...]]
    numbers: NumberWords
    limits: Mapping[str, float]
    mistakable: tuple[str, ...]
    """What sounds like its contrary."""
    hesitations: frozenset[str]
    goes_on: frozenset[str]
    """Number words that never begin a number."""
    means: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]
    definitions: str
    """Text of units.txt, for pint."""
    talk: Mapping[str, Any]
    """talk.toml: in which shapes people put words together, and how often; what the recognizer expects."""
    answers: tuple[AnswerForm, ...]
    same_sound: Mapping[str, str]
    """Words that sound like a number word: heard as the number word, meant by the phrase."""
    twins: Mapping[str, str]
    """Number words that noise makes of others: heard, and perhaps said."""

    @cached_property
    def sorts(self) -> Mapping[str, str]:
        """What each fragment is: ask, command, reply, or fact."""
        return _Sorts(FRAMES | {name: row.sort for name, row in self.rows.items()})

    @cached_property
    def fixed(self) -> dict[tuple[str, ...], tuple[str, str]]:
        """Questions and orders by their words: the sort that the lexicon knows them by, and their name."""
        told = {"ask": "ask", "command": "order"}
        return {
            phrase.pieces: (told[self.sorts[phrase.fragment]], phrase.fragment)
            for phrase in self.phrases
            if self.sorts[phrase.fragment] in told and phrase.fragment not in {"note", "correct_note"}
        }

    @cached_property
    def replies(self) -> Mapping[str, str]:
        """What each word that says yes or no by itself says."""
        return {
            phrase.pieces[0]: phrase.fragment
            for phrase in self.phrases
            if phrase.fragment in REPLIES and len(phrase.pieces) == 1
        }

    def as_it_sounds(self, phrase: str) -> str:
        """Write words of one sound as one word: the recognizer cannot tell them apart, understanding can."""
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
        An entry without words, or of an unknown sort.
    BadTemplate
        A template that cannot be read.
    """
    place = folder or grammar_folder()
    numbers = read_toml(place, "numbers.toml")
    hearing = read_toml(place, "hearing.toml")
    written = read_toml(place, "fixed.toml")
    return Grammar(
        phrases=tuple(_phrases(written)),
        rows={
            name: Row(entry["sort"], entry["theme"], entry["about"], (*entry.get("say", ()), *entry.get("typed", ())))
            for name, entry in written.items()
        },
        entries=tuple(
            Entry(entry["theme"], entry["about"], tuple(entry["sorts"]), tuple(entry["say"]))
            for entry in read_toml(place, "page.toml")["entry"]
        ),
        units={sort: tuple(_units(entries)) for sort, entries in read_toml(place, "units.toml").items()},
        numbers=NumberWords.of(numbers),
        limits=numbers["limits"],
        mistakable=tuple(hearing["mistakable"]),
        hesitations=frozenset(hearing["hesitations"]),
        goes_on=frozenset(hearing["goes_on"]),
        means=tuple(_means(hearing["means"])),
        definitions=(place / "units.txt").read_text(encoding="utf-8"),
        talk=read_toml(place, "talk.toml"),
        answers=tuple(
            AnswerForm(**{**entry, "says": tuple(entry["says"])})
            for entry in read_toml(place, "answers.toml")["answer"]
        ),
        same_sound=hearing["same_sound"],
        twins=hearing["twins"],
    )


def read_toml(place: Path, name: str) -> dict[str, Any]:
    """Read one file of the grammar."""
    try:
        return tomllib.loads((place / name).read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as problem:
        raise GrammarProblem(name, "the file", f"it is not TOML: {problem}") from problem


def _phrases(data: Mapping[str, Any]) -> Iterator[Phrase]:
    for fragment, entry in data.items():
        if entry["sort"] not in _SORTS:
            raise GrammarProblem("fixed.toml", fragment, f"{entry['sort']!r} is no sort")
        if not entry.get("say"):
            raise GrammarProblem("fixed.toml", fragment, "give it words to say")
        for spoken, templates in ((True, entry["say"]), (False, entry.get("typed", ()))):
            for pieces in (pieces for template in templates for pieces in expand(template)):
                yield Phrase(fragment, pieces, spoken, entry.get("weight", 1))


def _words(templates: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    return tuple(dict.fromkeys(sequence for template in templates for sequence in expand(template)))


def _units(entries: Mapping[str, Any]) -> Iterator[Unit]:
    for key, entry in entries.items():
        name, typed = entry.get("unit", key), tuple((word,) for word in entry.get("typed", ()))
        yield Unit(name, _words(entry.get("say", ())), typed, entry.get("assumed", ""))


def _means(entries: Sequence[Mapping[str, Any]]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for entry in entries:
        for heard in entry["heard"]:
            yield tuple(heard.split()), tuple(entry["meant"].split())
