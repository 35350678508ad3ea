"""Note talk: whether something said begins a note, goes on with one, or asks or orders something about notes."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, NamedTuple

from assistant.phrase.grammar import GrammarProblem, grammar_folder, read_toml
from assistant.phrase.template import expand
from assistant.understand.normal import whole_words

_WORD = re.compile(r"[^\W_]+(?:['\N{RIGHT SINGLE QUOTATION MARK}][^\W_]+)?")
_BREAK = re.compile(r"[,;:.!?\n]|\s-+\s|[\N{EM DASH}]")
_NOTE = "note"
_DICTATING = "dictating"
_BETWEEN = " \t\r\n,;:.!?-\N{EN DASH}\N{EM DASH}"


class Does(StrEnum):
    """What note talk does."""

    NOTE = "note"
    """What follows is a note; where nothing does, it is waited for."""
    NOTE_THE_LAST = "note the last"
    """What was said right before is a note: "write that down"."""
    END = "end"
    GIVE_UP = "give up"
    DROP_PART = "drop part"
    ADD = "add"
    REPLACE = "replace"
    CORRECT = "correct"
    CORRECT_IF_ALIKE = "correct, if alike"
    """It is a correction of the note only where the note has something of its kind, or it tells nothing of the load."""
    DROP = "drop"
    DROP_BY_WORD = "drop by word"
    CLEAR = "clear"
    READ = "read"
    READ_BY_WORD = "read by word"
    READ_BY_WORD_IF_ANY = "read by word, if any"
    READ_ALL = "read all"
    LIST = "list"
    SEND = "send"
    ASSURE = "assure"


class NoteAct(NamedTuple):
    """One thing done with notes: the text that came with it, as written, which note it is about, and for whom."""

    does: Does
    text: str = ""
    nth: int | None = None
    who: str = ""
    it: bool = False
    """Whether it says "it" of the note that was talked of last."""
    ends: bool = False
    """Whether the text closes with the words that end a note."""


class _Word(NamedTuple):
    word: str
    start: int
    end: int
    breaks: bool


class _Step(NamedTuple):
    name: str
    often: str


@dataclass(frozen=True)
class _Rule:
    does: Does
    when: str
    follows: str
    says: tuple[tuple[_Step, ...], ...]


class _Fit(NamedTuple):
    """A way a rule fits: where it ends, which note it names, and the words that say for whom."""

    end: int
    nth: int | None = None
    who: tuple[int, int] | None = None


@dataclass(frozen=True)
class NoteTalk:
    """The words and rules of grammar/notes.toml."""

    parts: Mapping[str, Mapping[str, tuple[tuple[str, ...], ...]]]
    """The expressions of each part, by their first word."""
    rules: tuple[_Rule, ...]
    nth: Mapping[tuple[str, ...], int]
    alike: tuple[frozenset[str], ...]
    """Words of one kind: one of them corrects another."""

    def hear(self, text: str, *, about_notes: bool = False, dictating: bool = False) -> NoteAct | None:
        """Return what an utterance does with notes, or None where it is no note talk.

        Parameters
        ----------
        text
            What was said.
        about_notes
            Whether a note was talked of last: then "it" is the note.
        dictating
            Whether a note is being dictated.
        """
        said = tuple(_words(text))
        for rule in self.rules:
            if dictating:
                # a note's own text may begin like anything: only what is an order as a whole ends it
                holds = rule.when == _DICTATING or not rule.follows
            else:
                holds = not rule.when or (about_notes and rule.when == _NOTE)
            if holds and (act := self._act(rule, text, said)):
                return act
        return None

    def means(self, part: str, text: str) -> bool:
        """Return whether an utterance as a whole is one of a part's words: "yes"."""
        said = tuple(_words(text))
        return any(fit.end == len(said) for fit in self._part(part, said, 0))

    def begins(self, part: str, text: str) -> bool:
        """Return whether an utterance begins with one of a part's words, and goes on: "no wait, five"."""
        said = tuple(_words(text))
        return any(fit.end < len(said) for fit in self._part(part, said, 0))

    def _act(self, rule: _Rule, text: str, said: Sequence[_Word]) -> NoteAct | None:
        fits = [fit for steps in rule.says for fit in self._fits(steps, said, 0)]
        if rule.follows in {"nothing", ""}:
            whole = next((fit for fit in fits if fit.end == len(said)), None)
            return NoteAct(rule.does, nth=whole.nth, it=rule.when == _NOTE) if whole and said else None
        fits = [fit for fit in fits if fit.end and (rule.follows == "maybe" or fit.end < len(said))]
        if not fits:
            return None
        best = max(fits, key=lambda fit: (fit.end, fit.who is not None))
        rest = text[said[best.end - 1].end :].lstrip(_BETWEEN).strip()
        rest, ends = self._without_end(rest) if rule.does is Does.NOTE else (rest, False)
        who = " ".join(one.word for one in said[slice(*best.who)]) if best.who else ""
        return NoteAct(rule.does, rest, best.nth, who, it=rule.when == _NOTE, ends=ends)

    def _without_end(self, text: str) -> tuple[str, bool]:
        """Return a note's text without "end note" behind it, and whether that stood there."""
        said = tuple(_words(text))
        for start in range(len(said)):
            words = tuple(one.word for one in said[start:])
            if words in self.parts["end"].get(words[0], ()) and "note" in words and len(words) > 1:
                return text[: said[start].start].rstrip(_BETWEEN), True
        return text, False

    def _fits(self, steps: Sequence[_Step], said: Sequence[_Word], at: int) -> Iterator[_Fit]:
        """Yield every way in which steps fit from a place on."""
        if not steps:
            yield _Fit(at)
            return
        step, rest = steps[0], steps[1:]
        if step.often in {"?", "*"}:
            yield from self._fits(rest, said, at)
        for end, nth, who in self._part(step.name, said, at):
            # a part that comes any number of times and takes no word would never end
            following = steps if step.often == "*" and end > at else rest
            for fit in self._fits(following, said, end):
                yield fit._replace(nth=fit.nth if nth is None else nth, who=fit.who or who)

    def _part(self, name: str, said: Sequence[_Word], at: int) -> Iterator[_Fit]:
        """Yield the places where one part ends that begins at a place."""
        if name == ",":
            if at == len(said) or said[at].breaks:
                yield _Fit(at)
        elif name.startswith("'"):
            if at < len(said) and said[at].word == name.strip("'"):
                yield _Fit(at + 1)
        elif name == "nth":
            for words, nth in self.nth.items():
                if _stands(words, said, at):
                    yield _Fit(at + len(words), nth)
        else:
            first = said[at].word if at < len(said) else ""
            for words in self.parts[name].get(first, ()):
                if _stands(words, said, at):
                    end = at + len(words)
                    yield _Fit(end, None, (at, end) if name == "who" else None)


def _stands(words: Sequence[str], said: Sequence[_Word], at: int) -> bool:
    return len(said) - at >= len(words) and all(one.word == word for one, word in zip(said[at:], words, strict=False))


def _words(text: str) -> Iterator[_Word]:
    """Yield the words of a text with where they stand in it; a contraction is its whole words, all in one place."""
    before = 0
    for found in _WORD.finditer(text):
        breaks = bool(before and _BREAK.search(text[before : found.start()]))
        before = found.end()
        whole = whole_words(found[0].lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"))
        for place, word in enumerate(whole):
            yield _Word(word, found.start(), found.end(), breaks and not place)


def read_note_talk(folder: Path | None = None) -> NoteTalk:
    """Read and check grammar/notes.toml.

    Raises
    ------
    GrammarProblem
        A rule that names a part that there is not, or that does what nobody knows.
    BadTemplate
        Words that cannot be read.
    """
    data = read_toml(folder or grammar_folder(), "notes.toml")
    parts = {name: _by_first(_expanded(templates)) for name, templates in data["part"].items()}
    nth = {words: int(key) for key, templates in data["nth"].items() for words in _expanded(templates)}
    alike = tuple(frozenset(words) for words in data["alike"].values())
    return NoteTalk(parts=parts, rules=tuple(_rules(data["rule"], parts)), nth=nth, alike=alike)


def _by_first(expressions: Iterable[tuple[str, ...]]) -> Mapping[str, tuple[tuple[str, ...], ...]]:
    found: dict[str, tuple[tuple[str, ...], ...]] = {}
    for words in expressions:
        found[words[0]] = tuple(dict.fromkeys((*found.get(words[0], ()), words)))
    return found


def _expanded(templates: Sequence[str]) -> Iterator[tuple[str, ...]]:
    for template in templates:
        for pieces in expand(template):
            yield tuple(whole for piece in pieces for whole in whole_words(piece))


def _rules(data: Sequence[Mapping[str, Any]], parts: Mapping[str, object]) -> Iterator[_Rule]:
    known = {*parts, "nth", ","}
    for entry in data:
        says = tuple(tuple(_steps(written)) for written in entry["says"])
        for step in (step for steps in says for step in steps):
            if step.name not in known and not step.name.startswith("'"):
                raise GrammarProblem("notes.toml", entry["does"], f"there is no part {step.name!r}")
        if entry["does"] not in {does.value for does in Does}:
            raise GrammarProblem("notes.toml", entry["does"], "nothing does that")
        yield _Rule(Does(entry["does"]), entry.get("when", ""), entry.get("follows", ""), says)


def _steps(written: str) -> Iterator[_Step]:
    for name in written.split():
        often = name[-1] if name[-1] in "?*" else ""
        yield _Step(name.removesuffix(often), often)
