"""What became of one sentence: right, asked, a wrong number in silence, or wrong otherwise. Pure, so that it is tested.

right
    The load is the expected one, nothing missing and nothing besides, and so are intent, gear and rules where the
    sentence names them. Of a quiz answer, a what-if and a question for a rating the numbers must also be heard as said.
asked
    The answer reads a number back, asks which is meant, says that it is too loud or that it did not understand, and the
    load is as it was before.
wrong number
    Neither: load, gear, quiz answer or what-if holds a number that was not said, or another one in the place of one
    that was, and nothing was asked about it. What an article implies ("a strap", "on timbers") is a number only where
    another one belongs; else it is a fact too many. A question for a rating does not count: its answer names them.
wrong
    Neither, but no number is wrong: a fact missing, or one that is no number, or another question answered.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from enum import StrEnum
from typing import Any, NamedTuple

from rapidfuzz.distance import Levenshtein

from assistant.conversation import Conversation
from assistant.hear.doubt import Utterance
from assistant.kit import Kit
from assistant.load.model import GearList, Load
from assistant.phrase.grammar import NUMERIC, Grammar
from assistant.phrase.numbers import without_and
from assistant.phrase.slots import Length
from assistant.reply import reply
from assistant.say.answer import Answer
from assistant.talk import not_understood
from tests.speech.expected import same
from tests.speech.sentences import Sentence

ARTICLES = frozenset({"a", "an", "the"})
NUMBERS_COUNT = frozenset({"quiz", "what if", "rating"})
"""Intents whose numbers enter no load: they are right only if the numbers were heard as said."""
NAMED_ALOUD = frozenset({"rating"})
TIMBERS = 2
"""What timbers without a number are taken as."""
TOO_LOUD = "It is too loud here to be sure of a number."
SEED = 0
"""The quiz's scenes, the same each time."""


class Outcome(StrEnum):
    """What became of it."""

    RIGHT = "right"
    ASKED = "asked"
    WRONG_NUMBER = "wrong number"
    WRONG = "wrong"


class Goal(NamedTuple):
    """A sentence, the conversation before it, and the load that must be there after it."""

    sentence: Sentence
    before: Conversation
    load: Load


def goal_of(sentence: Sentence, kit: Kit) -> Goal:
    """Set the scene for a sentence in a fresh conversation."""
    before = Conversation(gear=kit.sample_gear, seed=SEED)
    for said in sentence.before:
        _, before = reply(said, before, kit=kit)
    return Goal(sentence, before, before.load if sentence.load is None else sentence.load)


def taken(utterance: Utterance, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Answer what was heard as a session does: nothing is taken where it is too loud."""
    if utterance.too_loud:
        return not_understood(utterance.text, conversation, TOO_LOUD), conversation
    return reply(
        utterance.text,
        conversation,
        kit=kit,
        unsure=utterance.unsure,
        hazy=utterance.hazy,
        others=utterance.others,
    )


def outcome_of(
    goal: Goal, heard: str, answer: Answer, after: Conversation, kit: Kit, *, read_back: Sequence[str] = ()
) -> Outcome:
    """Return what became of a sentence.

    Parameters
    ----------
    goal
        The sentence and its scene.
    heard
        What the ear made of it.
    answer, after
        What was answered, and the conversation after it.
    kit
        Knows which words are numbers.
    read_back
        Parts of the phrase that were read back before, and confirmed: their numbers were asked about.
    """
    sentence, before = goal.sentence, goal.before
    agree = numbers_in(sentence.words, kit) == numbers_in(heard, kit) or answer.intent not in NUMBERS_COUNT
    if (
        answer.understood
        and not answer.confirm
        and alike(goal.load, after.load)
        and sentence.intent in {None, answer.intent}
        and (sentence.gear is None or alike(sentence.gear, after.gear.model_copy(update={"sample": False})))
        and sentence.rules in {None, str(after.rules)}
        and agree
    ):
        return Outcome.RIGHT
    if before.load == after.load and before.gear == after.gear and _asks(answer, before, after):
        return Outcome.ASKED
    named = {path for path, _ in numbers(goal.load)}
    asked = {value for part in read_back for value in values_in(part, kit)}
    strange = {
        (path, value)
        for path, value in numbers(after.load) - numbers(goal.load) - numbers(before.load)
        if value not in asked and (path in named or not _implied(path, value))
    }
    strange |= numbers(after.gear) - numbers(sentence.gear or before.gear) - numbers(before.gear)
    if strange or (not agree and answer.intent == sentence.intent and answer.intent not in NAMED_ALOUD):
        return Outcome.WRONG_NUMBER
    return Outcome.WRONG


def _asks(answer: Answer, before: Conversation, after: Conversation) -> bool:
    settles = after.pending is not None and after.pending.settles is not None and after.pending != before.pending
    return not answer.came_to_something or bool(answer.confirm) or settles


# ---- comparing -------------------------------------------------------------------------------------------------------


def alike(expected: Load | GearList, got: Load | GearList) -> bool:
    """Return whether two loads are the same, weights within a tenth of a pound."""
    return same(expected.model_dump(mode="json"), got.model_dump(mode="json"))


def numbers(told: Load | GearList) -> set[tuple[str, float]]:
    """Return every number that is told, as (of what, value); a grade is one too.

    Tiedowns of one kind told apart ("two forward and two back") also count as so many together: who heard "four
    chains" and no more has heard no wrong number.
    """
    plain = told.model_dump(mode="json")
    found = {(path, round(value, 1) if path.endswith("_lb") else value) for path, value in _numbers(plain)}
    together: Counter[str] = Counter()
    for group in plain.get("tiedowns", ()):
        together[group["kind"]] += group["count"]
    return found | {(f"tiedowns.{kind}.count", float(count)) for kind, count in together.items()}


def _numbers(plain: Any, path: str = "") -> Iterator[tuple[str, float]]:  # noqa: ANN401 - any part of a load
    match plain:
        case dict():
            kind = f".{plain['kind']}" if "kind" in plain else ""
            for name, value in plain.items():
                yield from _numbers(value, f"{path}{kind}.{name}".lstrip("."))
        case list():
            for item in plain:
                yield from _numbers(item, path)
        case bool() | None:
            return
        case int() | float():
            yield path, float(plain)
        case str() if plain.isdigit():
            yield path, float(plain)


def _implied(path: str, value: float) -> bool:
    return (path.endswith(".count") and value == 1) or (path == "support.timbers" and value == TIMBERS)


def values_in(part: str, kit: Kit) -> Iterator[float]:
    """Yield the numbers that a part of a phrase tells."""
    heard = kit.understander.hear(part)
    for fragment in heard.fragments:
        for slot in NUMERIC & fragment.values.keys():
            value = fragment.values[slot]
            if isinstance(value, Length):
                value = value.feet(kit.understander.grammar.definitions)
            if type(value) is not tuple:  # several facts; they stand among the drafts
                yield round(getattr(value, "pounds", value), 1)
    drafts = kit.understander.drafts(heard)
    told = (drafts.coil_facts, drafts.tiedown_facts, drafts.article_facts, drafts.slack, drafts.front)
    for facts in (*told, *(noun.facts for noun in drafts.nouns)):
        yield from (round(value, 1) for value in facts.values() if isinstance(value, float | int))


def numbers_in(words: str, kit: Kit) -> list[str]:
    """Return the number words, and the yes or no, of what was said."""
    said = words.split()
    return [word for word in said if kit.understander.is_number_word(word)] or [
        word for word in said if word in {"yes", "no"}
    ]


# ---- words -----------------------------------------------------------------------------------------------------------


def folded(words: str, grammar: Grammar) -> list[str]:
    """Return words without articles, and those of one sound as one: what the parser does not tell apart."""
    found = _sounds(words.split(), grammar)
    for heard, meant in grammar.means:
        part = _sounds(heard, grammar)
        for at in range(len(found) - len(part) + 1):
            if found[at : at + len(part)] == part:
                found[at : at + len(part)] = _sounds(meant, grammar)
    return found


def _sounds(words: Sequence[str], grammar: Grammar) -> list[str]:
    return [grammar.same_sound.get(word, word) for word in words if word not in ARTICLES]


def word_errors(said: str, heard: str, grammar: Grammar) -> tuple[int, int]:
    """Return how many words are wrong, missing or besides, of how many said."""
    one, other = folded(said, grammar), folded(heard, grammar)
    return Levenshtein.distance(one, other), len(one)


def holds(words: Sequence[str], part: Sequence[str]) -> bool:
    """Return whether words hold others, one after another."""
    size = len(part)
    return any(list(words[at : at + size]) == list(part) for at in range(len(words) - size + 1))


def _plain(words: Sequence[str], grammar: Grammar) -> list[str]:
    """Return words as a listener who cares for the number takes them: pounds, or an "and", are all the same."""
    return [word.removesuffix("s") for word in without_and(words, grammar.numbers)]


def _as_said(said: Sequence[str], part: Sequence[str], kit: Kit) -> bool:
    """Return whether a part was said so, with all of its number: "a pipe" is not "eight pipes", nor "two" tons."""
    heard = _plain(folded(" ".join(part), kit.understander.grammar), kit.understander.grammar)
    goes_on = {word.removesuffix("s") for word in _weight_units(kit.understander.grammar)}
    ends_in_number = bool(heard) and kit.understander.is_number_word(heard[-1])

    def more(at: int) -> bool:
        before, behind = said[at - 1] if at else "", [*said, ""][at + len(heard)]
        more_behind = kit.understander.is_number_word(behind) or behind in goes_on - {"pound"}
        return kit.understander.is_number_word(before) or (ends_in_number and more_behind)

    places = [at for at in range(len(said)) if list(said[at : at + len(heard)]) == heard]
    return any(not more(at) for at in places)


def _as_many(said: Sequence[str], part: Sequence[str], grammar: Grammar) -> bool:
    """Return whether one thing that is read back was said of one: "coil" is not "a pair of coils"; a unit may be."""
    last = part[-1]
    return last in said or f"{last}s" not in said or last in _weight_units(grammar)


def _weight_units(grammar: Grammar) -> set[str]:
    return {word for unit in grammar.units["weight"] for words in unit.spoken for word in words}


# ---- the simulated driver --------------------------------------------------------------------------------------------


def driver_says(goal: Goal, answer: Answer, after: Conversation, kit: Kit) -> tuple[str, str]:
    """Return what a driver says to a question, as words and as text for the voice.

    "Yes" if what is read back is right: as said, with every number word of it. If it is wrong or less than what the
    question offers, and that is right, that; else the sentence again.
    """
    grammar = kit.understander.grammar
    said = _plain(folded(goal.sentence.words, grammar), grammar)
    read_back = [part.split() for part in answer.confirm]
    settles = after.pending.settles if after.pending else None
    offered = settles.offers.split() if settles else []
    right = bool(read_back) and all(
        _as_said(said, part, kit) and _as_many(goal.sentence.words.split(), part, grammar) for part in read_back
    )
    if offered and _as_said(said, offered, kit) and not (right and len(offered) <= sum(map(len, read_back))):
        words = " ".join(offered)
        return words, f"{words[:1].upper()}{words[1:]}."
    if right:
        return "yes", "Yes."
    if len(read_back) == 1:
        (part,) = read_back
        for at, word in enumerate(part):
            twin = grammar.twins.get(word)
            right = [*part[:at], twin or word, *part[at + 1 :]]
            if (
                twin
                and f"was it {twin}" in " ".join(answer.asks)
                and holds(said, _plain(folded(" ".join(right), grammar), grammar))
            ):
                words = " ".join(right)
                return words, f"{words[:1].upper()}{words[1:]}."
    return goal.sentence.words, goal.sentence.text
