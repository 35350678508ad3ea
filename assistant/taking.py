"""What was told enters the load: changes are made, the load is judged, and what is open is asked."""

from collections.abc import Sequence

from assistant.conversation import Conversation, Pending
from assistant.kit import Kit
from assistant.load.change import Change, fold
from assistant.phrase.draft import Drafts
from assistant.phrase.meaning import Meaning
from assistant.understand.heard import Fragment
from assistant.phrase.tokens import words
from assistant.understand.heard import Heard
from assistant.say.answer import Answer
from assistant.say.ear import NOT_KNOWN, asked_aloud, lowered, spoken
from assistant.say.screen import shown
from assistant.say.spell import spell
from assistant.talk import hold_until_yes, is_that_right, not_understood


def told(
    utterance: str, heard: Heard, meaning: Meaning, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Make the changes that are sure, and answer with the judgement or with the question that is open."""
    if meaning.refused:
        return not_understood(utterance, conversation, meaning.refused[0]), conversation
    if heard.left_over and not meaning.changes and not meaning.question and not meaning.open:
        text = f"I did not understand “{heard.left_over}”. Say help to hear what I know."
        return not_understood(utterance, conversation, text), conversation
    answer, after = changed(utterance, meaning.changes, conversation, kit, meaning.assumed)
    after = after.model_copy(update={"focus": meaning.focus})
    remarks = [*meaning.remarks, *(f"“{wrote}” is taken as “{taken}”." for wrote, taken in heard.replaced)]
    if heard.left_over:
        remarks.append(f"Not understood: “{heard.left_over}”.")
    spoken_first = meaning.question.text if meaning.question else meaning.open
    say = _led(meaning.lead, _with_remark(answer.say, heard.left_over))
    if meaning.question:
        after = after.asking(meaning.question)
    elif meaning.open:
        behind = after.pending.asked if after.pending else ()
        after = after.model_copy(update={"pending": Pending(asked=tuple(dict.fromkeys((meaning.open, *behind))))})
    elif remarks and not meaning.changes:
        spoken_first = remarks[0]
    return (
        answer.model_copy(
            update={
                "asks": (spoken_first,) if meaning.question or meaning.open else (),
                "say": spell(spoken_first) if spoken_first else say,
                "show": "".join(f"{remark}\n" for remark in (spoken_first, *remarks) if remark) + answer.show,
            }
        ),
        after,
    )


def changed(
    utterance: str, changes: tuple[Change, ...], conversation: Conversation, kit: Kit, assumed: tuple[str, ...] = ()
) -> tuple[Answer, Conversation]:
    """Make changes, remember them as one turn, and judge the load."""
    turns = (*conversation.turns, changes) if changes else conversation.turns
    load = fold(changes, conversation.load)
    after = conversation.model_copy(update={"turns": turns, "load": load, "pending": None})
    return judged(utterance, "facts", after, kit, assumed)


def judged(
    utterance: str, intent: str, conversation: Conversation, kit: Kit, assumed: tuple[str, ...] = ()
) -> tuple[Answer, Conversation]:
    """Judge the load; what hearing it took for granted stands before what judging it did."""
    judgement = kit.judge(conversation.load, conversation.gear, conversation.rules)
    judgement = judgement.model_copy(update={"assumed": (*assumed, *judgement.assumed)})
    aside = tuple(question for question in conversation.aside if question in judgement.asks)
    first = asked_aloud(judgement, aside)
    asked = tuple(dict.fromkeys(question for question in (first, *judgement.asks) if question in judgement.asks))
    pending = Pending(asked=asked) if asked else None
    after = conversation.model_copy(update={"pending": pending, "aside": aside})
    answer = Answer(
        heard=utterance,
        intent=intent,
        understood=True,
        load=conversation.load,
        judgement=judgement,
        say=_with_assumption(spoken(judgement, aside), assumed),
        show=shown(judgement, conversation.load),
    )
    return answer, after


def read_back(
    utterance: str, doubted: str, heard: Heard, doubtful: Sequence[Fragment], conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Hold a whole phrase of which a part is not sure until that is confirmed."""
    said = [" ".join(token.word for token in heard.tokens[part.start : part.end]) for part in doubtful]
    twins = kit.understander.grammar.twins
    maybe = [twins[word] for words in said for word in words.split() if word in twins]
    text = is_that_right(said, maybe[0] if maybe else "")
    part = said[0] if len(said) == 1 else ""
    return hold_until_yes(utterance, conversation, text, doubted=doubted, confirm=said, part=part)


def _with_assumption(say: str, assumed: tuple[str, ...]) -> str:
    """Speak what hearing took for granted where the first sentence would only say that nothing is known yet."""
    if not assumed or not say.startswith(NOT_KNOWN):
        return say
    return f"{spell(assumed[0])}{say.removeprefix(NOT_KNOWN)}"


def _led(lead: str, say: str) -> str:
    return f"{spell(lead)}: {lowered(say)}" if lead else say


def _with_remark(say: str, left_over: str) -> str:
    """Speak what was not understood in place of the second sentence: it may matter more."""
    if not left_over:
        return say
    first, _, _ = say.partition(". ")
    return f"{first.rstrip('.')}. I did not catch: {spell(left_over)}."
