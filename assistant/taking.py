"""What was told enters the load: changes are made, the load is judged, and what is open is asked."""

from collections.abc import Sequence

from assistant.conversation import Conversation, Pending
from assistant.judging import judge
from assistant.kit import Kit
from assistant.load.change import Change
from assistant.load.open_item import OpenItem, Why
from assistant.phrase.meaning import Meaning, Question
from assistant.say.answer import Answer
from assistant.say.ear import NOT_KNOWN, asked_aloud, lowered, spoken
from assistant.say.open_items import named
from assistant.say.open_items import spoken as open_spoken
from assistant.say.screen import shown
from assistant.say.spell import spell
from assistant.talk import hold_until_yes, is_that_right, not_understood
from assistant.understand.heard import ASKED, Fragment, Heard


def told(
    utterance: str, heard: Heard, meaning: Meaning, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Make the changes that are sure, and answer with the judgement or with the question that is open."""
    if meaning.refused:
        return not_understood(utterance, conversation, meaning.refused[0]), conversation
    opened = opened_by(heard)
    answer, after = changed(utterance, meaning.changes, conversation, kit, meaning.assumed, heard=heard)
    after = after.model_copy(update={"focus": meaning.focus})
    remarks = [*meaning.remarks, *(f"“{wrote}” is taken as “{taken}”." for wrote, taken in heard.replaced)]
    remarks += [named(item) for item in opened]
    spoken_first = meaning.question.text if meaning.question else meaning.open
    say = _led(meaning.lead, _with_open(answer.say, opened))
    if meaning.question:
        after = after.asking(meaning.question)
    elif meaning.open:
        behind = after.pending.asked if after.pending else ()
        after = after.model_copy(update={"pending": Pending(asked=tuple(dict.fromkeys((meaning.open, *behind))))})
    elif remarks and not meaning.changes and not opened:
        spoken_first = remarks[0]
    answer = answer.model_copy(
        update={
            "asks": (spoken_first,) if meaning.question or meaning.open else (),
            "say": spell(spoken_first) if spoken_first else say,
            "show": "".join(f"{remark}\n" for remark in (spoken_first, *remarks) if remark) + answer.show,
        }
    )
    unknown = next((item for item in opened if item.word and item.about), None)
    if unknown and not meaning.question:
        return _ask_of_word(answer, after, unknown)
    return answer, after


def opened_by(heard: Heard) -> tuple[OpenItem, ...]:
    """Return what of an utterance stays open."""
    found: dict[str, OpenItem] = {}
    for one in heard.lost:
        if one.why != ASKED:
            said = heard.said(one.start, one.end)
            found.setdefault(said, OpenItem(said=said, why=Why(one.why), word=one.word, about=one.about))
    return tuple(found.values())


def still_open(heard: Heard, conversation: Conversation) -> tuple[OpenItem, ...]:
    """Return what stays open behind an utterance: what was said of the same sort of noun is said in other words now."""
    if heard.lost:
        return conversation.open
    sorts = {part.values["head"].sort for part in heard.fragments if part.values.get("head")}
    return tuple(item for item in conversation.open if not item.about or item.about not in sorts)


def _passed_over(heard: Heard | None, conversation: Conversation) -> tuple[OpenItem, ...]:
    """Return what was asked about and is not answered by an utterance that tells of something else."""
    if heard is None:
        return ()
    heads = {part.values["head"].key for part in heard.fragments if part.values.get("head")}
    return tuple(item for item in conversation.unsettled if not any(head in item.said for head in heads))


def _ask_of_word(answer: Answer, after: Conversation, item: OpenItem) -> tuple[Answer, Conversation]:
    """Ask whether a noun is as good as any other, where a word that nobody knows was told of it."""
    plain_words = " ".join(word for word in item.said.split() if word != item.word)
    text = f"I don't know the word {item.word}. Are those {plain_words} as good as any others?"
    question = Question(text=text, expects="yes or no", on={"yes": (), "no": ()}, doubted=plain_words)
    say = {"say": spell(text), "asks": (text,), "show": f"{text}\n{answer.show}"}
    return answer.model_copy(update=say), after.asking(question)


def changed(
    utterance: str,
    changes: tuple[Change, ...],
    conversation: Conversation,
    kit: Kit,
    assumed: tuple[str, ...] = (),
    *,
    heard: Heard | None = None,
) -> tuple[Answer, Conversation]:
    """Make changes, remember them as one turn, and judge the load."""
    opened = (*(opened_by(heard) if heard else ()), *_passed_over(heard, conversation))
    still = still_open(heard, conversation) if heard and changes else conversation.open
    after = conversation.turned(changes, opened, still).model_copy(update={"pending": None})
    return judged(utterance, "facts", after, kit, assumed)


def judged(
    utterance: str, intent: str, conversation: Conversation, kit: Kit, assumed: tuple[str, ...] = ()
) -> tuple[Answer, Conversation]:
    """Judge the load; what hearing it took for granted stands before what judging it did."""
    judgement = judge(conversation, kit)
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


def _with_open(say: str, opened: Sequence[OpenItem]) -> str:
    """Speak what was not taken in place of the second sentence: it may matter more."""
    if not opened:
        return say
    first, _, _ = say.partition(". ")
    return f"{first.rstrip('.')}. {spell(open_spoken(opened))}"
