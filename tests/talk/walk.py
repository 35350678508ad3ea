"""Says talk to `reply`, and tells what came of it from the answer's JSON and the conversation alone."""

import datetime as dt
import random
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from assistant.conversation import Conversation
from assistant.kit import Kit, read_kit
from assistant.load.model import Load
from assistant.reply import reply
from assistant.say.answer import Answer
from assistant.say.machine import as_json
from tests.talk.disturb import SORTS, Disturbed, disturb
from tests.talk.loads_that_meet import Told, Truth, make

DAY = dt.date(2026, 11, 25)
ASKED = "am i good"
FINE, FALSE_MEETS, SILENT, TRACEBACK = "fine", "false meets", "changed silently", "traceback"
BESIDES = frozenset({
    "the", "a", "an", "and", "of", "is", "it's", "i", "on", "in", "at", "my", "to", "you", "have", "has", "got", "had",
    "one", "that", "for", "was", "they", "so", "as", "or", "by", "no", "not", "be", "are", "them", "it", "from", "each",
})  # fmt: skip
"""Words that name nothing: an answer that has one of them has not named what was put in."""


class Base(NamedTuple):
    """Talk as it was made, and what came of each utterance."""

    told: Told
    answers: tuple[Answer, ...]
    states: tuple[Conversation, ...]
    """Before the first utterance, and after each."""
    verdict: str | None
    true: bool
    """Whether the load is what was told."""

    @property
    def meets(self) -> bool:
        """Whether it is of use here: told whole, understood whole."""
        return self.verdict == "meets" and self.true


class Outcome(NamedTuple):
    """What came of disturbed talk."""

    kind: str
    sort: str
    word: str
    utterances: tuple[str, ...]
    say: str


def read() -> Kit:
    """Read the kit of the day the tests are for."""
    return read_kit(DAY)


def fresh(kit: Kit) -> Conversation:
    """Return a conversation on the sample gear, with nothing told."""
    return Conversation(gear=kit.sample_gear)


def open_items(conversation: Conversation) -> tuple[Any, ...]:
    """Return what was said and could not be taken, as the conversation keeps it."""
    return tuple(getattr(conversation, "open", ()))


def say_all(
    kit: Kit, utterances: Sequence[str], state: Conversation
) -> tuple[tuple[Answer, ...], tuple[Conversation, ...]]:
    """Say one after another; return each answer and the conversation after it."""
    answers, states = [], []
    for utterance in utterances:
        answer, state = reply(utterance, state, kit=kit)
        answers.append(answer)
        states.append(state)
    return tuple(answers), tuple(states)


def verdict_of(answer: Answer) -> str | None:
    """Return an answer's verdict, as a machine reads it."""
    verdict: str | None = as_json(answer)["verdict"]
    return verdict


def is_true(load: Mapping[str, Any], truth: Truth) -> bool:
    """Tell whether a load, as a machine reads it, is what is on the deck."""
    totals: dict[str, int] = {}
    for group in load["tiedowns"]:
        totals[group["kind"]] = totals.get(group["kind"], 0) + group["count"]
    coils = [(coil["count"], coil["weight_lb"], coil["eye"]) for coil in load["coils"]]
    return coils == [(1, truth.weight_lb, truth.eye)] and tuple(sorted(totals.items())) == truth.tiedowns


def tell(kit: Kit, told: Told) -> Base:
    """Say a load as it was made, and ask."""
    begin = fresh(kit)
    answers, states = say_all(kit, told.utterances, begin)
    last, _ = reply(ASKED, states[-1], kit=kit)
    seen = as_json(last)
    return Base(told, answers, (begin, *states), seen["verdict"], is_true(seen["load"], told.truth))


def meeting(kit: Kit, seed: int, tries: int = 200) -> Base:
    """Return the first talk from a seed on that is understood and meets."""
    for nearby in range(tries):
        base = tell(kit, make(seed * tries + nearby))
        if base.meets:
            return base
    message = f"none of {tries} loads from seed {seed} was understood as it was told"
    raise LookupError(message)


def is_less(after: Load, before: Load) -> bool:
    """Tell whether a load is another with gear told as not there: its verdict is then a smaller load's own."""
    now, was = after.model_dump(), before.model_dump()
    for name, value in was["support"].items():
        if now["support"][name] != value and now["support"][name] not in (0, False):
            return False
    groups: tuple[Counter[str], Counter[str]] = (Counter(), Counter())
    for total, load in zip(groups, (now, was), strict=True):
        load.pop("support")
        for group in load.pop("tiedowns"):
            total[str({name: value for name, value in group.items() if name != "count"})] += group["count"]
    return now == was and groups[0] <= groups[1]


def has_sign(answer: Answer, state: Conversation, word: str, undisturbed: Answer | None) -> bool:
    """Tell whether an answer names what was put in, asks, or says that something was not taken."""
    seen = as_json(answer)
    if not seen["understood"] or seen["confirm"] or open_items(state):
        return True
    if undisturbed is not None and seen["intent"] != undisturbed.intent:
        return True
    text = f"{seen['say']} {seen['show']}".lower().split()
    names = {part.strip(".,:;?!“”\"'") for part in text}
    return bool((set(word.split()) - BESIDES) & names)


def put_in(kit: Kit, base: Base, made: Disturbed) -> Outcome:
    """Say disturbed talk from where it is disturbed on, ask, and judge what came of it."""
    at = made.at
    try:
        answers, states = say_all(kit, (*made.utterances[at:], ASKED), base.states[at])
        last = as_json(answers[-1])
    except Exception as error:  # noqa: BLE001 - a traceback of any kind is what is looked for
        return Outcome(TRACEBACK, made.sort.name, made.word, made.utterances, repr(error))
    load, undisturbed = states[-1].load, base.states[-1].load
    same = load == undisturbed
    kind = FINE
    if last["verdict"] == "meets" and not is_honest(made, load, undisturbed):
        kind = FALSE_MEETS
    elif not same and not made.sort.may_change:
        beside = None if made.alone else base.answers[at]
        signs = [has_sign(answers[0], states[0], made.word, beside)]
        signs += [
            has_sign(answer, state, made.word, None) for answer, state in zip(answers[1:], states[1:], strict=True)
        ]
        kind = FINE if any(signs) else SILENT
    return Outcome(kind, made.sort.name, made.word, made.utterances, last["say"])


def is_honest(made: Disturbed, load: Load, undisturbed: Load) -> bool:
    """Tell whether `meets` may stand: for what is harmless on the same load, or on one told as honestly smaller.

    A place along the coil ("in the middle") may be told of a tiedown, but makes no movement of it.
    """
    if load == undisturbed:
        return not made.sort.serious
    if not made.sort.may_change:
        return False
    if made.sort.serious:
        return is_less(load, undisturbed)
    return wherever(load) == wherever(undisturbed)


def wherever(load: Load) -> tuple[Load, Counter[str]]:
    """Return a load without where along the coil its tiedowns lie, and how many there are of each make and course."""
    totals: Counter[str] = Counter()
    for group in load.tiedowns:
        told = group.model_dump(exclude={"count", "place"})
        totals[str(told)] += group.count
    return load.model_copy(update={"tiedowns": ()}), totals


def disturbed_talk(kit: Kit, base: Base, draw: random.Random, sort: str | None = None) -> Outcome:
    """Disturb one load once, say it, and judge."""
    return put_in(kit, base, disturb(draw, base.told.utterances, SORTS[sort] if sort else None))
