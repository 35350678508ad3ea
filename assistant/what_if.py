"""What would be: the load is judged as a phrase would change it, and stays as it is."""

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.change import fold
from assistant.phrase.meaning import Meaning
from assistant.say.answer import Answer
from assistant.taking import judged
from assistant.talk import not_understood


def what_if(utterance: str, meaning: Meaning, conversation: Conversation, kit: Kit) -> Answer:
    """Judge the load as it would be, and leave it as it is."""
    changes = meaning.changes or (meaning.question.on.get("in all", ()) if meaning.question else ())
    if not changes:
        text = "Say what would be different: what if I use five chains."
        return not_understood(utterance, conversation, text)
    would = conversation.model_copy(update={"load": fold(changes, conversation.load)})
    answer, _ = judged(utterance, "what if", would, kit, meaning.assumed)
    first, _, rest = answer.say.partition(". ")
    said = f"If so: {first[:1].lower()}{first[1:].rstrip('.')}."
    return answer.model_copy(
        update={
            "load": conversation.load,
            "say": f"{said} {rest}".strip(),
            "show": f"What if. The load stays as it was told.\n\n{answer.show}",
        }
    )
