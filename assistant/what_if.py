"""What would be: the load is judged as a phrase would change it, and stays as it is."""

from dataclasses import replace

from assistant.conversation import Conversation, Supposed
from assistant.judging import judge
from assistant.kit import Kit
from assistant.load.change import Change, fold
from assistant.phrase.draft import Drafts
from assistant.phrase.meaning import Meaning
from assistant.phrase.reconcile import reconcile
from assistant.say.answer import Answer
from assistant.say.changed import changed_shown, changed_spoken, changes
from assistant.taking import judged
from assistant.talk import not_understood
from assistant.understand.heard import Heard

_SAY = "Say what would be different: what if I use five chains."


def is_supposed(heard: Heard, conversation: Conversation) -> bool:
    """Return whether an utterance supposes something, or goes on with what was supposed last ("and with six")."""
    if heard.supposed is not None:
        return True
    return conversation.supposed is not None and heard.names == {"number"}


def what_if(utterance: str, heard: Heard, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Judge the load as it would be, and say what that changes."""
    supposed = conversation.supposed
    goes_on = supposed and (_goes_on(heard) or heard.names == {"number"})
    load, focus = (supposed.load, supposed.focus) if supposed and goes_on else (conversation.load, conversation.focus)
    drafts = _as_corrections(kit.understander.drafts(heard))
    meaning = reconcile(drafts, load, focus, kit.understander.grammar.limits)
    if meaning.refused:
        return not_understood(utterance, conversation, meaning.refused[0]), conversation
    told = _changes(meaning)
    if not told or heard.left_over:
        text = f"I did not understand “{heard.left_over}”. {_SAY}" if heard.left_over else _SAY
        return not_understood(utterance, conversation, text), conversation
    would = conversation.model_copy(update={"load": fold(told, load)})
    answer, _ = judged(utterance, "what if", would, kit, meaning.assumed)
    now = judge(conversation, kit)
    then = judge(would, kit)
    changed = changes(now, then)
    answer = answer.model_copy(
        update={
            "load": conversation.load,
            "as_it_is": now,
            "changed": changed,
            "say": changed_spoken(now, then, changed),
            "show": f"What if. The load stays as it was told.\n\n{changed_shown(changed)}\n{answer.show}",
        }
    )
    return answer, conversation.model_copy(update={"supposed": Supposed(load=would.load, focus=meaning.focus)})


def _goes_on(heard: Heard) -> bool:
    """Return whether it goes on with what was supposed last: "and with six"."""
    return heard.tokens[:1] != () and heard.tokens[0].word == "and"


def _as_corrections(drafts: Drafts) -> Drafts:
    """Take what is supposed of a coil, an article or a number in place of what is there, never beside it."""
    nouns = [
        replace(noun, verb="fix") if noun.verb == "state" and noun.noun != "tiedowns" else noun for noun in drafts.nouns
    ]
    return replace(drafts, nouns=nouns, fix=True)


def _changes(meaning: Meaning) -> tuple[Change, ...]:
    """Return the changes, with the likelier reading of a doubt: nothing is kept of them."""
    on = meaning.question.on if meaning.question else {}
    return (*meaning.changes, *(on.get("in all") or on.get("yes") or ()))
