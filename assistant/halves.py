"""Sentences broken in two: a first half is held, and joined with what comes next if that is understood better."""

from collections.abc import Sequence
from itertools import dropwhile
from typing import Protocol

from assistant.conversation import Conversation, Half
from assistant.kit import Kit
from assistant.load.change import SetFields
from assistant.load.open_item import OpenItem, Why
from assistant.phrase.meaning import Question
from assistant.phrase.reconcile import reconcile
from assistant.phrase.tokens import LONGEST, words
from assistant.say.answer import Answer, Hush
from assistant.say.spell import spell
from assistant.talk import hold_until_yes, not_understood, plain
from assistant.understand.heard import Heard

_NOT_PUT_OFF = frozenset({"seen"})
"""Damage is taken, or named as not taken, at once: a half may be dropped."""


class Take(Protocol):
    """Takes an utterance with its doubtful number words, and holds no half of it unless it may."""

    def __call__(
        self, utterance: str, conversation: Conversation, unsure: Sequence[int], *, may_hold: bool = True
    ) -> tuple[Answer, Conversation]:
        """Return the answer and the state after it."""


def hold(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int], *, why: str = ""
) -> tuple[Answer, Conversation] | None:
    """Hold an utterance that could not be taken, if it ends in something that cannot stand alone; show `why` not."""
    if heard.asking or heard.names & _NOT_PUT_OFF or not heard.unfinished:
        return None
    filler = kit.understander.filler
    said = words(tuple(dropwhile(lambda token: token.word in filler, heard.tokens)))
    text = f"I have {said} so far. Go on."
    after = conversation.model_copy(update={"held": Half(text=utterance, unsure=tuple(unsure))})
    if heard.uncounted:
        text = f"How many {heard.uncounted} are there?"
        return plain(utterance, "facts", after, text, show=f"{text}\n{why}").model_copy(update={"asks": (text,)}), after
    return not_understood(utterance, after, text).model_copy(update={"show": f"{text}\n{why}", "asks": (text,)}), after


def go_on(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int], take: Take
) -> tuple[Answer, Conversation] | None:
    """Take an utterance together with the half that is held; None where nothing is, or a note begins."""
    held = conversation.held
    if held is None or heard.note is not None:
        return None
    after = conversation.model_copy(update={"held": None})
    whole = kit.understander.whole(heard)
    if whole.keys() & {"undo", "stop", "dont_know", "no"}:
        return plain(utterance, "stop", after, f"Dropped: {held.text}.", effects=(Hush(),)), after
    first = kit.understander.hear(held.text, conversation.load)
    together = _together(first, held, utterance, heard, after, kit)
    if together is None:
        alone, before = take(held.text, after, held.unsure, may_hold=False)
        taken = alone.understood and not alone.asks
        # what was understood of it is taken now
        answer, then = take(utterance, before if taken else _left_open(first, heard, after), unsure)
        left = first.left_over if taken else words(first.tokens)
        return answer.model_copy(update={"show": f"Left out: “{left}”.\n{answer.show}"}), then
    numbers = kit.understander.number_words_in(first)
    shifted = [*held.unsure, *(numbers + which for which in unsure)]
    joined = kit.understander.hear(together, conversation.load)
    if _inside_a_number(first, joined, kit):
        shifted += [numbers - 1, numbers]
    answer, then = take(together, after, shifted)
    shown = f"Together: “{words(joined.tokens)}”.\n{answer.show}"
    return answer.model_copy(update={"heard": utterance, "show": shown}), then


def _left_open(first: Heard, heard: Heard, conversation: Conversation) -> Conversation:
    """Keep a half open that nothing came of, where it told more than a number that another took the place of."""
    counted = any("count" in part.values for part in heard.fragments)
    if not (first.fragments or first.lost) or (first.names == {"number"} and counted):
        return conversation
    return conversation.turned((), (OpenItem(said=words(first.tokens), why=Why.CUT_OFF),), conversation.open)


def _together(
    first: Heard, held: Half, utterance: str, heard: Heard, conversation: Conversation, kit: Kit
) -> str | None:
    """Return both halves as one text, if a phrase spans the place where they meet and nothing is left over."""
    text = f"{held.text} {utterance}"
    if len(text) > LONGEST:
        return None
    joined = kit.understander.hear(text, conversation.load)
    meet = len(first.tokens)
    spans = any(part.start < meet < part.end for part in joined.fragments) or len(joined.lost) < len(first.lost) + len(
        heard.lost
    )
    counts = bool(first.uncounted) and not joined.uncounted and len(joined.lost) <= len(first.lost)
    whole = not joined.left_over and (spans or first.unfinished) and joined.cost <= first.cost + heard.cost
    if joined.asking or not (counts or whole):
        return None
    drafts = kit.understander.drafts(joined)
    meaning = reconcile(drafts, conversation.load, conversation.focus, kit.understander.grammar.limits)
    return None if meaning.refused else text


def _inside_a_number(first: Heard, joined: Heard, kit: Kit) -> bool:
    """Return whether two numbers met: "twenty" and "four chains" may be two things."""
    meet = len(first.tokens)
    numbers = [kit.understander.is_number(token) for token in joined.tokens[meet - 1 : meet + 1]]
    return len(numbers) > 1 and all(numbers) and joined.tokens[meet].word not in kit.understander.grammar.goes_on


def number_goes_on(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation] | None:
    """Ask whether a bare number goes on with the weight told right before: "forty two thousand", "five hundred"."""
    if not conversation.told_last or len(heard.fragments) != 1 or not heard.names <= {"weight", "number"}:
        return None
    first = kit.understander.hear(conversation.told_last)
    joined = kit.understander.hear(f"{conversation.told_last} {utterance}"[:LONGEST])
    if not first.fragments or not joined.fragments or joined.left_over:
        return None
    was, whole, meet = first.fragments[-1].values.get("weight"), joined.fragments[-1], len(first.tokens)
    weight = whole.values.get("weight")
    if was is None or weight is None or not whole.start < meet < whole.end:
        return None
    told = [index for index, coil in enumerate(conversation.load.coils) if coil.weight_lb == was.pounds]
    if not told or weight.pounds <= was.pounds:
        return None
    said = words(joined.tokens[whole.start : whole.end])
    question = Question(
        text=f"Do you mean {said} for the coil?",
        expects="yes or no",
        on={"yes": (SetFields(noun="coils", index=told[-1], fields={"weight_lb": weight.pounds}),), "no": ()},
    )
    after = conversation.asking(question)
    answer = plain(utterance, "facts", after, question.text)
    return answer.model_copy(update={"say": spell(question.text), "asks": (question.text,)}), after


def false_start(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation] | None:
    """Ask which number was meant where one stands right before another: "four five chains"."""
    slip = None if heard.drafts.denied or heard.asking else kit.understander.slip(heard)
    if slip is None:
        return None
    dropped, meant, whole = slip
    text = f"I heard {dropped}, then {meant}. Do you mean {meant}?"
    return hold_until_yes(utterance, conversation, text, doubted=whole, confirm=(meant,))
