"""The one way to a judgement on what a conversation told: what is open keeps anything from being met."""

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.model import Load
from assistant.say.open_items import HOW_MANY_BUNKS, with_open
from assistant.securement.finding import Judgement


def judge(conversation: Conversation, kit: Kit, load: Load | None = None) -> Judgement:
    """Return the judgement on a conversation's load, or on what it would be."""
    told = conversation.load if load is None else load
    judgement = kit.judge(told, conversation.gear, conversation.rules)
    if told.support.some_bunks and told.support.bunks is None:
        asks = tuple(dict.fromkeys((*judgement.asks, HOW_MANY_BUNKS)))
        judgement = judgement.model_copy(update={"asks": asks})
    return with_open(judgement, (*conversation.open, *conversation.waiting))
