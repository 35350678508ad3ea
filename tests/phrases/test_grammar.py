"""grammar/ fits together, and its two uses agree: what the recognizer expects, the parser understands."""

import itertools
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
import vosk

from assistant.phrase.drafts import Drafter
from assistant.phrase.grammar import (
    NUMERIC,
    Grammar,
    GrammarProblem,
    Phrase,
    grammar_folder,
    read_grammar,
)
from assistant.phrase.template import BadTemplate, expand
from assistant.understand.understander import Understander

GRAMMAR = read_grammar()
UNDERSTANDER = Understander(GRAMMAR)
NUMBERS = {
    "count": "four",
    "weight": "forty two thousand pounds",
    "size": "three eighths",
    "limit": "fifty four hundred",
    "length": "six feet",
    "inches": "forty eight inches",
    "dimension": "forty four",
    "wrong": "fifty thousand",
    "thickness": "point oh two nine",
}


def fillings(phrase: Phrase) -> Iterator[str]:
    """Fill a template: with every name where it has one slot, else with the first spoken words of each name once."""
    lists = [
        [NUMBERS[slot]] if slot in NUMERIC else [" ".join(name.spoken[0]) for name in GRAMMAR.lists[slot]]
        for slot in phrase.slots
    ]
    longest = max((len(names) for names in lists), default=1)
    for place in range(longest):
        values = iter([names[place % len(names)] for names in lists])
        yield " ".join(next(values) if piece.startswith("{") else piece for piece in phrase.pieces)


SPOKEN = [phrase for phrase in GRAMMAR.phrases if phrase.spoken]


@pytest.mark.parametrize("fragment", sorted({phrase.fragment for phrase in SPOKEN}))
def test_spoken_template__is_won_by_its_own_fragment(fragment: str) -> None:
    lost = []
    for phrase in SPOKEN:
        if phrase.fragment != fragment or fragment == "note":
            continue
        for said in fillings(phrase):
            heard = UNDERSTANDER.hear(said)
            whole = UNDERSTANDER.whole(heard).keys()
            won = [part.name for part in heard.fragments]
            if fragment not in whole or heard.left_over or (won != [fragment] and not set(won) <= whole):
                lost.append((said, won, heard.left_over))
    assert lost == []


@pytest.mark.parametrize("fragment", sorted({phrase.fragment for phrase in SPOKEN}))
def test_slots__come_back_with_what_was_put_in(fragment: str) -> None:
    for phrase in SPOKEN:
        if phrase.fragment != fragment or not phrase.slots:
            continue
        said = next(fillings(phrase))
        found = UNDERSTANDER.whole(UNDERSTANDER.hear(said))[fragment]
        assert set(found.values) == set(phrase.slots), said


def test_every_fragment__has_words_and_is_used() -> None:
    assert {phrase.fragment for phrase in GRAMMAR.phrases} == set(GRAMMAR.sorts)
    assert set(GRAMMAR.sorts.values()) == {"fact", "marker", "ask", "command", "reply"}


def test_every_fact__changes_what_is_drafted() -> None:
    """No dead fragment: each one that tells something leaves a trace in the drafts."""
    empty = Drafter(GRAMMAR).draft([], ())
    for phrase in SPOKEN:
        if GRAMMAR.sorts[phrase.fragment] != "fact" or phrase.fragment == "all_of_them":
            continue
        heard = UNDERSTANDER.hear(next(fillings(phrase)))
        assert UNDERSTANDER.drafts(heard) != empty, phrase


def test_every_list__stands_in_a_template() -> None:
    used = {slot for phrase in GRAMMAR.phrases for slot in phrase.slots}
    assert set(GRAMMAR.lists) <= used
    assert used <= set(GRAMMAR.lists) | NUMERIC


def test_names__of_one_list_are_never_alike() -> None:
    for list_name, names in GRAMMAR.lists.items():
        said = [(words, name.key) for name in names for words in name.all]
        twice = [
            (first, second)
            for first, second in itertools.combinations(said, 2)
            if first[0] == second[0] and first[1] != second[1]
        ]
        assert twice == [], list_name


@pytest.mark.parametrize("word", sorted(GRAMMAR.never_skip - {"nothing", "without", "no", "only", "half", "zero"}))
def test_word_that_turns_the_sense_round__costs_less_than_one_that_is_unknown(word: str) -> None:
    said = "four chains {} two over the top"
    assert UNDERSTANDER.cost(said.format(word).split()) < UNDERSTANDER.cost(said.format("banana").split())


@pytest.mark.model
def test_every_spoken_word__is_in_the_speech_model(model_path: Path) -> None:
    """Also those that no sample happened to take."""
    vosk.SetLogLevel(-1)
    model = vosk.Model(str(model_path))
    words = {piece for phrase in SPOKEN for piece in phrase.pieces if not piece.startswith("{")}
    words |= {word for names in GRAMMAR.lists.values() for name in names for said in name.spoken for word in said}
    words |= {word for units in GRAMMAR.units.values() for unit in units for word in unit.spoken_words}
    words |= GRAMMAR.numbers.all | GRAMMAR.numbers.parts.keys() | GRAMMAR.numbers.counts.keys()
    assert {word for word in words if model.vosk_model_find_word(word) < 0} == set()


# ---- words of one sound ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("eye two the sky", "eye to the sky"),
        ("am i good two go", "am i good to go"),
        ("rated four six thousand", "rated for six thousand"),
    ],
)
def test_words_of_one_sound__are_what_the_phrase_wants(heard: str, meant: str) -> None:
    first, second = UNDERSTANDER.hear(heard), UNDERSTANDER.hear(meant)
    assert [part[:2] for part in first.fragments] == [part[:2] for part in second.fragments]
    assert first.fragments
    assert not first.left_over


@pytest.mark.parametrize("said", ["two chains", "four chains", "four coils"])
def test_words_of_one_sound__stay_numbers_before_a_noun(said: str) -> None:
    (part,) = UNDERSTANDER.hear(said).fragments
    assert part.values["count"] == {"two": 2, "four": 4}[said.split(maxsplit=1)[0]]


def test_heard_words__are_written_as_meant() -> None:
    assert UNDERSTANDER.written(["eye", "two", "the", "sky"]) == ["eye", "to", "the", "sky"]
    assert UNDERSTANDER.written(["two", "chains"]) == ["two", "chains"]


# ---- grammar data that does not fit ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("template", "problem"),
    [
        ("a (b|c", "'(' is not closed"),
        ("a [b", "'[' is not closed"),
        ("a) b", "nothing opens before ')'"),
        ("a|b", "a choice needs brackets round it"),
        ("a [{count}] b", "slot {count} stands inside brackets"),
        ("a ({count}|b)", "slot {count} stands inside brackets"),
        ("a * b", "unknown sign '*'"),
    ],
)
def test_bad_template__says_which_and_what_is_wrong(template: str, problem: str) -> None:
    with pytest.raises(BadTemplate) as raised:
        expand(template)
    assert str(raised.value) == f"template {template!r}: {problem}"
    assert (raised.value.template, raised.value.problem) == (template, problem)


def test_template__stands_for_each_of_its_choices() -> None:
    said = {" ".join(pieces) for pieces in expand("[a|one] {weight} (coil|roll)")}
    begun = ("", "a ", "one ")
    assert said == {f"{begin}{{weight}} {noun}" for begin in begun for noun in ("coil", "roll")}


def edited(place: Path, file: str, old: str, new: str) -> Path:
    folder = place / "grammar"
    shutil.copytree(grammar_folder(), folder)
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("file", "old", "new", "entry", "remedy"),
    [
        ("phrases.toml", '"{count} coils",', '"{count} {eye}",', "coils: '{count} {eye}'", "no slot set of it"),
        ("phrases.toml", "[metal]\n", "[metals]\n", "metal", "every fragment stands in phrases.toml and in"),
        ("contract.toml", "metal         = {", "medal         = {", "medal", "every fragment stands in"),
        ("contract.toml", '[["metal"]]', '[["metal"], ["count"]]', "metal", "no template fills ('count',)"),
        ("vocabulary.toml", 'say = ["copper"]', "say = []", "[metal.copper]", "give it words to say"),
        ("vocabulary.toml", "[metal.copper]\n", "[metal.copper]\nsays = 1\n", "[metal.copper]", "unknown key 'says'"),
        ("units.toml", "[weight.pound]", "[weight.pound", "the file", "it is not TOML"),
    ],
)
def test_grammar_problem__names_file_entry_and_remedy(
    tmp_path: Path, file: str, old: str, new: str, entry: str, remedy: str
) -> None:
    with pytest.raises(GrammarProblem) as raised:
        read_grammar(edited(tmp_path, file, old, new))
    problem = raised.value
    assert str(problem).startswith("grammar/")
    assert (problem.file, problem.entry) == (file, entry) or problem.entry in {entry, "medal", "metal", "metals"}
    assert remedy in str(problem)


def test_slot_without_a_list__is_refused(tmp_path: Path) -> None:
    folder = edited(tmp_path, "phrases.toml", '"it\'s {metal}"', '"it\'s {color}"')
    contract = (folder / "contract.toml").read_text(encoding="utf-8")
    (folder / "contract.toml").write_text(
        contract.replace('[["metal"]]', '[["metal"], ["color"]]', 1), encoding="utf-8"
    )
    with pytest.raises(GrammarProblem, match="no list 'color'"):
        read_grammar(folder)


def test_grammar__is_read_alike_twice(grammar: Grammar) -> None:
    assert grammar.phrases == GRAMMAR.phrases
