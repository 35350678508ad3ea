"""What else may have been said is offered: "I heard four chains. Is that right, or was it five chains?"."""

from collections.abc import Callable, Sequence
from typing import Any

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.phrase.meaning import Question
from assistant.phrase.tokens import words
from assistant.say.answer import Answer
from assistant.say.spell import spell
from assistant.talk import hold_until_yes, is_that_right
from assistant.understand.heard import Fragment, Heard

Again = Callable[[str, Conversation], tuple[Answer, Conversation]]
"""Takes an utterance as if it had been heard well."""
_ONE = frozenset({"a", "an"})
"""Before what is offered these are its number: "was it a chain"."""
_LONGEST_OFFER = 8
"""Words that can be offered: nobody keeps more than these in mind beside others."""


def with_other(
    came: tuple[Answer, Conversation],
    before: Conversation,
    others: Callable[[], Sequence[str]],
    kit: Kit,
    again: Again,
) -> tuple[Answer, Conversation]:
    """Offer the likeliest of what else was perhaps said, where what was heard is read back or came to nothing.

    Parameters
    ----------
    came
        What came of what was heard: the answer, and the conversation after it.
    before
        The conversation as it was.
    others
        Gives what else may have been said, the likeliest first.
    kit
        Grammar, tables and the day.
    again
        Takes one of them.
    """
    answer, after = came
    asked = after.pending.settles if after.pending and after.pending != before.pending else None
    read_back = asked is not None and bool(asked.doubted and answer.confirm)
    partly = read_back and bool(kit.understander.hear(answer.heard).left_over)
    if asked and read_back and not partly and asked.text.startswith(is_that_right(answer.confirm).rstrip("?")):
        held = kit.understander.hear(asked.doubted)
        for other in others():
            offered = _instead(held, kit.understander.hear(other), answer.confirm)
            if offered and _can_be_taken(other, before, again):
                return _offering(answer, after, asked, other, offered)
    elif partly or (not answer.came_to_something and after.held is None and after.load == before.load):
        for other in others():
            if _can_be_taken(other, before, again):
                text = f"I did not understand that. Did you say {other}?"
                return hold_until_yes(answer.heard, before, text, doubted=other, confirm=(other,))
    return came


def _offering(
    answer: Answer, after: Conversation, asked: Question, other: str, offered: str
) -> tuple[Answer, Conversation]:
    """Put what is offered into the question that reads back what was heard."""
    text = is_that_right(answer.confirm, offered)
    question = asked.model_copy(update={"text": text, "other": other, "offers": offered})
    put = {"asks": (text,), "say": spell(text), "show": answer.show.replace(asked.text, text)}
    return answer.model_copy(update=put), after.asking(question)


def _can_be_taken(other: str, before: Conversation, again: Again) -> bool:
    """Return whether something would come of it: a fact that enters, or a question about how it is meant."""
    answer, after = again(other, before)
    asks = after.pending is not None and after.pending.settles is not None and after.pending != before.pending
    return answer.understood and (asks or after.load != before.load)


def _instead(heard: Heard, other: Heard, confirm: Sequence[str]) -> str:
    """Return the words of the other in which it differs, whole parts only.

    Empty where they are too many to offer, or where what differs is none of what is read back.
    """
    mine = [_told(part) for part in heard.fragments]
    theirs = [_told(part) for part in other.fragments]
    first = next((at for at, pair in enumerate(zip(mine, theirs, strict=False)) if pair[0] != pair[1]), len(mine))
    behind = 0
    while behind < min(len(mine), len(theirs)) - first and mine[-1 - behind] == theirs[-1 - behind]:
        behind += 1
    parts = other.fragments[first : len(theirs) - behind]
    differ = [words(heard.tokens[part.start : part.end]) for part in heard.fragments[first : len(mine) - behind]]
    if not parts or not any(part in asked for part in differ or [""] for asked in confirm):
        return ""
    if not differ:
        parts = other.fragments  # "two chains" or "two chains hooked to the load": not "or was it hooked to the load"
    start = parts[0].start
    if start and other.tokens[start - 1].word in _ONE:
        start -= 1
    offered = other.tokens[start : parts[-1].end]
    return words(offered) if len(offered) <= _LONGEST_OFFER else ""


def _told(part: Fragment) -> tuple[str, Any]:
    return part.name, part.values
