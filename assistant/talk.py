"""Small answers that judge nothing: one sentence, said and shown."""

import re

from assistant.conversation import Conversation
from assistant.say.answer import Answer, Effect
from assistant.say.spell import spell

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
