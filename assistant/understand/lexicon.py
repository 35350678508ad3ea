"""Reads grammar/lexicon.toml and grammar/rules.toml: words with what they are, and how they compose."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

from assistant.phrase.grammar import GrammarProblem, grammar_folder, read_toml
from assistant.phrase.template import expand
from assistant.understand.normal import whole_words


class Sense(NamedTuple):
    """What a word or a fixed expression is: a sort ("kind") and which of it ("chain")."""

    sort: str
    key: str


class Step(NamedTuple):
    """One place of a rule: the names that fit there, and how often ("1", "?", "*", "+")."""

    names: frozenset[str]
    often: str


@dataclass(frozen=True)
class Rule:
    """Pieces side by side that make one."""

    makes: Sense
    steps: tuple[Step, ...]

    @cached_property
    def first(self) -> frozenset[str]:
        """The names that a match can begin with."""
        names: set[str] = set()
        for step in self.steps:
            names |= step.names
            if step.often in {"1", "+"}:
                break
        return frozenset(names)


@dataclass(frozen=True)
class Lexicon:
    """All words, by their first one, and all rules."""

    entries: Mapping[tuple[str, ...], tuple[Sense, ...]]
    rules: tuple[Rule, ...]
    forms: Mapping[str, tuple[str, ...]]
    """The words of each sort as they are written."""

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word that stands in an entry."""
        return frozenset(word for words in self.entries for word in words) | self._literal

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Words that name things: what a misspelled word may be."""
        sorts = {
            "coil",
            "metal",
            "eye",
            "eyeword",
            "counted",
            "mats",
            "cradle",
            "pallet",
            "article",
            "kind",
            "material",
            "pull",
            "forward",
            "rearward",
            "crossed",
            "unmarked",
        }
        named = (
            word
            for words, senses in self.entries.items()
            if len(words) == 1 and senses[0].sort in sorts
            for word in words
        )
        return tuple(dict.fromkeys(named))

    def same_name(self, first: str, second: str) -> bool:
        """Return whether two words are one noun, or words of one name: "crosswise" and "crossways"."""
        return first.rstrip("s") == second.rstrip("s") or bool(
            {*self.entries.get((first,), ())} & {*self.entries.get((second,), ())}
        )

    @cached_property
    def _literal(self) -> frozenset[str]:
        return frozenset(
            name[1:-1] for rule in self.rules for step in rule.steps for name in step.names if name.startswith("'")
        )

    @cached_property
    def root(self) -> dict[str, Any]:
        """The entries as a trie: a word leads to what may follow it, "" to the senses."""
        root: dict[str, Any] = {}
        for words, senses in self.entries.items():
            node = root
            for word in words:
                node = node.setdefault(word, {})
            node[""] = senses
        return root

    @cached_property
    def by_first(self) -> Mapping[str, tuple[Rule, ...]]:
        """The rules by what they can begin with."""
        found: dict[str, list[Rule]] = {}
        for rule in self.rules:
            for name in rule.first:
                found.setdefault(name, []).append(rule)
        return {name: tuple(rules) for name, rules in found.items()}


def read_lexicon(folder: Path | None = None, fixed: Mapping[tuple[str, ...], tuple[str, str]] | None = None) -> Lexicon:
    """Read and check words and rules.

    Raises
    ------
    GrammarProblem
        A rule that names no sort that there is, or that could be empty.
    BadTemplate
        Words that cannot be read.
    """
    place = folder or grammar_folder()
    entries: dict[tuple[str, ...], list[Sense]] = {}
    written = read_toml(place, "lexicon.toml")
    for sort, keys in written.items():
        for key, templates in keys.items():
            for words in (words for template in templates for words in expand(template)):
                senses = entries.setdefault(words, [])
                if Sense(sort, key) not in senses:
                    senses.append(Sense(sort, key))
    for words, name in (fixed or {}).items():
        said = tuple(whole for word in words for whole in whole_words(word))
        if len(said) > 1:  # a single word is one only where nothing else is said
            entries.setdefault(said, []).append(Sense(name[0], name[1]))
    rules = read_toml(place, "rules.toml")
    known = {name for sort, keys in written.items() for name in (sort, *(f"{sort}.{key}" for key in keys))}
    known |= {name for rule in rules["rule"] for name in (rule["makes"], rule["makes"].split(".")[0])}
    return Lexicon(
        entries={words: tuple(senses) for words, senses in entries.items()},
        rules=tuple(_rules(rules["rule"], rules["glue"], known)),
        forms={sort: tuple(form for forms in keys.values() for form in forms) for sort, keys in written.items()},
    )


_OPTION = re.compile(r"\[([^\[\]]*)\]")
_PART = re.compile(r"\(([^()]*)\)([?*+]?)|([^\s()?*+]+)([?*+]?)")


def _rules(data: Sequence[Mapping[str, Any]], glue: Sequence[str], known: set[str]) -> Iterator[Rule]:
    for entry in data:
        sort, _, key = entry["makes"].partition(".")
        for written in (plain for template in entry["of"] for plain in _without_options(template)):
            steps = tuple(_steps(written, glue))
            for name in (name for step in steps for name in step.names):
                if name not in known and not name.startswith("'"):
                    raise GrammarProblem("rules.toml", f"{entry['makes']}: {written!r}", f"there is no sort {name!r}")
            if all(step.often in {"?", "*"} for step in steps):
                raise GrammarProblem("rules.toml", f"{entry['makes']}: {written!r}", "one part of it has to be there")
            yield Rule(Sense(sort, key), steps)


def _without_options(template: str) -> list[str]:
    """Return a rule with and without each part in square brackets."""
    found = _OPTION.search(template)
    if not found:
        return [template]
    before, behind = template[: found.start()], template[found.end() :]
    return [plain for kept in (found[1], "") for plain in _without_options(f"{before}{kept}{behind}")]


def _steps(written: str, glue: Sequence[str]) -> Iterator[Step]:
    """Yield the places of a rule; a group of several parts in brackets is allowed at a time, with | between names."""
    for group, group_often, single, often in _PART.findall(written):
        if single == "~":
            yield Step(frozenset(glue), "*")
        elif group:
            names = frozenset(part.strip() for part in group.split("|"))
            yield Step(names, group_often or "1")
        else:
            yield Step(frozenset({single}), often or "1")
