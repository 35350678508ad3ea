"""Commands to the conversation itself, and the way to every question."""

from collections.abc import Sequence

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.change import StartOver, fold
from assistant.load.model import Load
from assistant.note_talk import NOTE_ORDERS, follow_note
from assistant.questions import answer_question
from assistant.quiz_talk import begin_quiz
from assistant.say.answer import Answer, Hush
from assistant.say.ear import lowered
from assistant.say.spell import spell
from assistant.securement.rule_sets import RuleSet, in_words
from assistant.taking import judged
from assistant.talk import plain, simple_command
from assistant.understand.heard import Fragment

_PACES = frozenset({"slower", "faster", "usual_pace"})


def follow(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Answer a question or follow a command."""
    simple = simple_command(utterance, part.name, conversation)
    if simple:
        return simple, conversation
    match part.name:
        case "undo":
            return _undo(utterance, conversation, kit)
        case "start_over":
            after = conversation.turned((StartOver(),), (), ()).model_copy(update={"pending": None, "focus": None})
            return plain(utterance, "start over", after, "Empty deck. What is the load?"), after
        case "stop":
            after = conversation.model_copy(update={"pending": None})
            return plain(utterance, "stop", after, "Stopped.", effects=(Hush(),)), after
        case "quiz":
            return begin_quiz(utterance, conversation, kit)
        case "repeat":
            return _repeat(utterance, conversation), conversation
        case "use_rules":
            after = conversation.model_copy(update={"rules": RuleSet(part.values["rules"]), "pending": None})
            text = f"From now on by {in_words(after.rules)}."
            if after.load == Load():
                return plain(utterance, "rules", after, text), after
            answer, after = judged(utterance, "rules", after, kit)
            say = f"{spell(text).rstrip('.')}: {lowered(answer.say)}"
            return answer.model_copy(update={"say": say}), after
        case "check":
            return judged(utterance, "check", conversation, kit)
        case _:
            take = follow_note if part.name in NOTE_ORDERS else answer_question
            return take(utterance, part, conversation, kit)


def follow_all(
    utterance: str, parts: Sequence[Fragment], conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Follow the last of several questions and commands; "say it again slower" is both at once."""
    pace = next((part for part in parts if part.name in _PACES), None)
    if pace and any(part.name == "repeat" for part in parts):
        changed = simple_command(utterance, pace.name, conversation)
        again = _repeat(utterance, conversation)
        return again.model_copy(update={"effects": changed.effects if changed else ()}), conversation
    return follow(utterance, parts[-1], conversation, kit)


def undone(conversation: Conversation) -> Conversation:
    """Return the conversation without its last turn: load and open items are what they were."""
    turns = conversation.turns[:-1]
    load = fold((change for turn in turns for change in turn), Load())
    was = {"open": conversation.open_before[-1], "open_before": conversation.open_before[:-1]}
    return conversation.model_copy(update={"turns": turns, "load": load, "pending": None, "focus": None, **was})


def _undo(utterance: str, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    if not conversation.turns:
        return plain(utterance, "undo", conversation, "There is nothing to undo."), conversation
    after = undone(conversation)
    answer, after = judged(utterance, "undo", after, kit)
    first, _, _ = answer.say.partition(". ")
    return answer.model_copy(update={"say": f"Undone. {first.rstrip('.')}."}), after


def _repeat(utterance: str, conversation: Conversation) -> Answer:
    last = conversation.last
    if last is None:
        return plain(utterance, "repeat", conversation, "There is nothing to say again yet.")
    return last.model_copy(update={"heard": utterance, "intent": "repeat", "effects": ()})
