"""Small answers that judge nothing: one sentence, said and shown."""

import re
from collections.abc import Sequence

from assistant.conversation import Conversation
from assistant.phrase.meaning import Question
from assistant.say.answer import Answer, Effect, Pace, Quit, Sleep
from assistant.say.spell import spell

OR_WAS_IT = ", or was it "
"""Stands in a question before what else may have been said."""
_ASIDE = re.compile(r"\s+\([^()]*\)")

LATEST_NOTES = 10
"""How many entries "show my notes" lists: what fits on a screen read from the seat (our choice)."""


def plain(
    utterance: str,
    intent: str,
    conversation: Conversation,
    text: str,
    *,
    show: str = "",
    effects: tuple[Effect, ...] = (),
) -> Answer:
    """Return an answer that says one thing and judges nothing; what stands in brackets is for the screen."""
    return Answer(
        heard=utterance,
        intent=intent,
        understood=True,
        load=conversation.load,
        say=spell(_ASIDE.sub("", text)),
        show=show or f"{text}\n",
        effects=effects,
    )


def not_understood(utterance: str, conversation: Conversation, text: str) -> Answer:
    """Return an answer to what could not be taken; the load stays as it was."""
    return plain(utterance, "nothing", conversation, text).model_copy(update={"understood": False})


def is_that_right(said: Sequence[str], other: str = "") -> str:
    """Return the question that reads back what was heard, and offers another if there is one."""
    return f"I heard {' and '.join(said)}. Is that right{OR_WAS_IT if other else ''}{other}?"


def hold_until_yes(
    utterance: str, conversation: Conversation, text: str, *, doubted: str, confirm: Sequence[str], part: str = ""
) -> tuple[Answer, Conversation]:
    """Ask whether a phrase was meant, and hold it until then.

    Parameters
    ----------
    utterance
        What was heard.
    conversation
        The state before it; nothing of the phrase enters it.
    text
        The question.
    doubted
        The phrase that a yes takes.
    confirm
        What of it is read back.
    part
        The words of it that hold the doubted number, where it is one.
    """
    question = Question(text=text, expects="yes or no", on={"yes": (), "no": ()}, doubted=doubted, part=part)
    answer = plain(utterance, "facts", conversation, text)
    return answer.model_copy(update={"confirm": tuple(confirm), "asks": (text,)}), conversation.asking(question)


_SIMPLE: dict[str, tuple[str, Effect | None]] = {
    "awake": ("I'm listening.", None),
    "axles": ("I don't work out axle weights. Set it by the trailer's own chart, and scale it before the road.", None),
    "quit": ("Good bye. Look at it again before you roll.", Quit()),
    "slower": ("Slower.", Pace(step=-1)),
    "faster": ("Faster.", Pace(step=1)),
    "usual_pace": ("Usual speed.", Pace(step=0)),
    "sleep": ("Asleep until the wake phrase.", Sleep()),
}


def simple_command(utterance: str, name: str, conversation: Conversation) -> Answer | None:
    """Return the answer to what needs no judging, and mostly asks something of the edge; None for the rest."""
    known = _SIMPLE.get(name)
    if known is None:
        return None
    text, effect = known
    return plain(utterance, name.replace("_", " "), conversation, text, effects=(effect,) if effect else ())
