"""`reply`: an utterance and a conversation in, an answer and the conversation after it out.

Microphone, file, terminal, page and quiz all call this one function. It opens no file, reads no clock and draws no
random number.
"""

from collections.abc import Callable, Sequence
from functools import partial

from assistant.commands import follow, follow_all
from assistant.conversation import Conversation, Pending
from assistant.doubts import ask_instead, chosen, heard_again
from assistant.halves import false_start, go_on, hold, number_goes_on
from assistant.kit import Kit
from assistant.load.model import Load
from assistant.load.note import Topic
from assistant.load.open_item import OpenItem, Why
from assistant.note_talk import bare_number, take_note_talk
from assistant.offers import with_other
from assistant.phrase.grammar import REPLIES
from assistant.phrase.meaning import Meaning
from assistant.phrase.reconcile import reconcile
from assistant.phrase.tokens import TooLong, words
from assistant.quiz_talk import answer_quiz
from assistant.say.answer import Answer
from assistant.say.open_items import spoken as open_spoken
from assistant.say.spell import spell
from assistant.short_answers import settle
from assistant.taking import judged, opened_by, read_back, told
from assistant.talk import hold_until_yes, is_that_right, not_understood, plain
from assistant.understand.heard import Fragment, Heard, implies_a_number
from assistant.what_if import is_supposed, what_if

_NOT_SAID_AGAIN = frozenset({"repeat", "stop", "slower", "faster", "usual pace", "sleep", "awake"})
"""After these, "say again" still means the answer before: they are about how it was said."""

_OF_NOTES = frozenset({"note", "read note", "drop note", "log", "number"})


def reply(
    utterance: str,
    conversation: Conversation,
    *,
    kit: Kit,
    unsure: Sequence[int] = (),
    hazy: bool = False,
    others: Callable[[], Sequence[str]] = tuple,
) -> tuple[Answer, Conversation]:
    """Answer one utterance.

    Parameters
    ----------
    utterance
        What was recognized or typed; anything at all.
    conversation
        The state before it.
    kit
        Grammar, tables and the day.
    unsure
        Which of the utterance's number words the recognizer doubts, counted from 0. What they tell does not enter the
        load until it is confirmed.
    hazy
        Whether the recognizer doubts the utterance as a whole: then it is read back before it changes anything.
    others
        Gives what else it may have been, the likeliest first: offered where it is read back, or came to nothing.

    Returns
    -------
    tuple[Answer, Conversation]
        The answer, and the state after it.
    """
    answer, after = _reply(utterance, conversation, kit, unsure)
    if hazy and (_changes(conversation, after) or _part_of_it(answer, kit)):
        answer, after = _ask_whole(utterance, conversation, kit)
    answer, after = with_other((answer, after), conversation, others, kit, partial(_take, kit))
    if not answer.understood and after.held is None:
        answer, after = _kept_open(answer, conversation, after, kit)
    answer = answer.model_copy(update={"say": answer.say[:1].upper() + answer.say[1:], "open": after.open})
    kept = conversation.last if answer.intent in _NOT_SAID_AGAIN else answer
    after = _asked_beside(answer, after)
    pending = after.pending
    if pending and not pending.settles and not _open_before(pending, conversation):
        spoken_so = pending.model_copy(update={"spoken": spell(pending.asked[0]) in answer.say})
        after = after.model_copy(update={"pending": spoken_so})
    if answer.intent not in {"what if", "repeat"} and not (after.pending and after.pending.settles):
        after = after.model_copy(update={"supposed": None})
    told_last = utterance if after.turns != conversation.turns and answer.intent == "facts" else ""
    held = after.held if after.held is not conversation.held else None  # a half waits for one utterance only
    topic = _topic(answer, conversation, after)
    return answer, after.model_copy(update={"last": kept, "told_last": told_last, "held": held, "topic": topic})


def _topic(answer: Answer, before: Conversation, after: Conversation) -> Topic:
    """Return what was talked of last: what was not understood, or is about the voice or nothing, leaves it so."""
    if answer.intent in _OF_NOTES | _NOT_SAID_AGAIN | {"talk"} or not answer.understood:
        return after.topic if after.turns == before.turns else Topic.LOAD
    return Topic.QUIZ if answer.intent == "quiz" else Topic.LOAD


_LONGEST_ITEM = 60
"""Characters of an open item's words that are kept: what is longer is named by its beginning."""


def _kept_open(answer: Answer, before: Conversation, after: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Keep what was told and refused as open: nothing said vanishes. What was only asked changes nothing."""
    try:
        heard = kit.understander.hear(answer.heard, before.load)
    except TooLong:
        heard = None
    sorts = kit.understander.grammar.sorts
    told = heard is None or any(sorts[part.name] == "fact" for part in heard.fragments) or opened_by(heard)
    only_asked = heard is not None and heard.supposed is not None
    if not told or only_asked or answer.intent in _OF_NOTES or before.quiz or after.pending != before.pending:
        return answer, after
    said = answer.heard if len(answer.heard) <= _LONGEST_ITEM else f"{answer.heard[:_LONGEST_ITEM]} ..."
    opened = (opened_by(heard) if heard else ()) or (OpenItem(said=said, why=Why.NOT_PLACED),)
    return answer, after.turned((), opened, after.open)


def _open_before(pending: Pending, conversation: Conversation) -> bool:
    """Tell whether this is what was open before, or before a question that has been settled now."""
    was = conversation.pending
    return pending is was or (was is not None and was.settles is not None and pending == conversation.settled().pending)


def _changes(before: Conversation, after: Conversation) -> bool:
    """Tell whether an utterance told, took back or decided something."""
    return any(getattr(before, part) != getattr(after, part) for part in ("turns", "gear", "rules", "quiz"))


def _part_of_it(answer: Answer, kit: Kit) -> bool:
    """Tell whether what is read back leaves out a number that no word tells."""
    return bool(answer.confirm) and implies_a_number(kit.understander.hear(answer.heard).fragments)


def _ask_whole(utterance: str, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Hold an utterance that was heard badly until it is confirmed; a reply to what was read back asks that again."""
    open_one = conversation.pending.settles if conversation.pending else None
    if open_one and kit.understander.hear(utterance).names <= REPLIES:
        answer = plain(utterance, "facts", conversation, f"I did not catch that. {open_one.text}")
        confirm = (open_one.part or open_one.doubted,) if open_one.doubted else ()
        return answer.model_copy(update={"confirm": confirm, "asks": (open_one.text,)}), conversation
    put = chosen(kit.understander.hear(utterance), open_one, kit) if open_one else None
    if put:
        return ask_instead(utterance, conversation, put)
    said = (utterance,)
    return hold_until_yes(utterance, conversation, is_that_right(said), doubted=utterance, confirm=said)


def _asked_beside(answer: Answer, after: Conversation) -> Conversation:
    """Let a question that an answer to another question ends in ("which way can it move") be the one that is open."""
    pending = after.pending
    if not answer.understood or not answer.asks or (pending and pending.settles):
        return after
    open_ones = pending.asked if pending else ()
    if open_ones[:1] == answer.asks[:1]:
        return after
    return after.model_copy(update={"pending": Pending(asked=tuple(dict.fromkeys((*answer.asks, *open_ones))))})


def _reply(
    utterance: str, conversation: Conversation, kit: Kit, unsure: Sequence[int], *, may_hold: bool = True
) -> tuple[Answer, Conversation]:
    utterance = _as_told(utterance, conversation)
    try:
        heard = kit.understander.hear(utterance, conversation.load)
    except TooLong as too_long:
        text = f"That is {too_long.length:,} characters; one thing said is far shorter. Say it in parts."
        return not_understood(utterance[:80], conversation, text), conversation
    noted, conversation = take_note_talk(utterance, heard, conversation, kit)
    if noted:
        return noted, conversation
    if conversation.quiz and conversation.quiz.current:
        return answer_quiz(utterance, heard, conversation, kit)
    dropped = _never_minded(utterance, heard, conversation, kit)
    if dropped:
        return dropped
    gone_on = go_on(utterance, heard, conversation, kit, unsure, partial(_take, kit))
    if gone_on:
        return gone_on
    unsure = (*unsure, *heard.joined)
    settled = (
        settle(utterance, heard, conversation, kit, unsure, partial(_take, kit))
        or number_goes_on(utterance, heard, conversation, kit)
        or false_start(utterance, heard, conversation, kit)
        or bare_number(utterance, heard, conversation, kit)
    )
    if settled:
        return settled
    if may_hold and heard.left_over and (held := hold(utterance, heard, conversation, kit, unsure)):
        return held
    taken_back = _taken_back(heard, kit)
    if taken_back:
        numbers = sum(kit.understander.is_number_word(token.word) for token in heard.tokens[:taken_back])
        left = [place - numbers for place in unsure if place >= numbers]
        return _reply(words(heard.tokens[taken_back:]), conversation, kit, left)
    answer, after = _act(utterance, heard, conversation, kit, unsure)
    if may_hold and not answer.understood:
        return hold(utterance, heard, conversation, kit, unsure, why=answer.show) or (answer, after)
    return answer, after


_GOES_ON_SUPPOSING = "and with "


def _as_told(utterance: str, conversation: Conversation) -> str:
    """Return "and with four chains" as what it tells where nothing was supposed that it could go on with."""
    goes_on = utterance.lower().startswith(_GOES_ON_SUPPOSING)
    return utterance.split(maxsplit=1)[1] if goes_on and conversation.supposed is None else utterance


_NEVER_MIND = frozenset({"never mind", "forget", "ignore", "skip", "disregard", "drop", "leave"})
_THAT = frozenset({"", "that", "it", "them", "that one", "all that", "all of it", "all of that", "that part", "those"})


def _never_minded(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation] | None:
    """Let go of what is open, where a driver says that it does not matter."""
    if not conversation.open:
        return None
    said = words(heard.tokens)
    if not any(said == f"{begins} {rest}".strip() for begins in _NEVER_MIND for rest in _THAT):
        return None
    every = any(word in said for word in ("all", "them", "those"))
    earlier = conversation.open_before[-1] if conversation.open_before else ()
    last = tuple(item for item in conversation.open if item not in earlier) or conversation.open[-1:]
    still = () if every else tuple(item for item in conversation.open if item not in last)
    after = conversation.turned((), (), still).model_copy(update={"pending": None})
    answer, after = judged(utterance, "never mind", after, kit)
    return answer.model_copy(update={"say": f"Dropped. {answer.say}"}), after


def _taken_back(heard: Heard, kit: Kit) -> int:
    """Return how many words an undo between facts takes back, with itself: "four chains strike that" before "three"."""
    sorts = kit.understander.grammar.sorts
    facts = [part.start for part in heard.fragments if sorts[part.name] == "fact"]
    undone = [part for part in heard.fragments if part.name == "undo"]
    between = undone and facts and facts[0] < undone[-1].start < facts[-1]
    return undone[-1].end if between else 0


def _take(
    kit: Kit, utterance: str, conversation: Conversation, unsure: Sequence[int] = (), *, may_hold: bool = True
) -> tuple[Answer, Conversation]:
    return _reply(utterance, conversation, kit, unsure, may_hold=may_hold)


def _without_facts(
    utterance: str, heard: Heard, others: Sequence[Fragment], conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Answer what tells nothing of the load: questions and commands, what waits for more, and small talk."""
    if others:
        answer, after = follow_all(utterance, others, conversation, kit)
        waits = conversation.unsettled and not after.unsettled and after.turns == conversation.turns
        return answer, after.model_copy(update={"pending": conversation.pending}) if waits else after
    opened = opened_by(heard)
    if opened and any(one.why in _HELD for one in heard.lost):
        return told(utterance, heard, Meaning(focus=conversation.focus), conversation, kit)
    if _is_small_talk(heard):
        after = conversation if conversation.load == Load() else conversation.turned((), opened, conversation.open)
        said = f"I took nothing from that. {open_spoken(opened)}" if after.open else "I took nothing from that."
        return plain(utterance, "talk", after, said), after
    named = bool(heard.names or kit.understander.whole(heard))
    return not_understood(utterance, conversation, _why_nothing(heard, conversation.pending, named=named)), conversation


def _act(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int]
) -> tuple[Answer, Conversation]:
    sorts = kit.understander.grammar.sorts
    facts = [part for part in heard.fragments if sorts[part.name] == "fact"]
    read = heard.fragments if facts else (*heard.fragments, *kit.understander.whole(heard).values())  # "oops" alone
    others = [part for part in read if sorts[part.name] in {"ask", "command"}]
    supposes = is_supposed(heard, conversation)
    if not facts and not supposes:
        return _without_facts(utterance, heard, others, conversation, kit)
    before = conversation
    command = next((part for part in others if sorts[part.name] == "command"), None)
    if command and facts and command.name in {"undo", "start_over"} and command.start < facts[0].start:
        # "scratch that, five chains": first what was said first
        _, conversation = follow(utterance, command, conversation, kit)
        others.remove(command)
        heard = kit.understander.hear(utterance, conversation.load)
    if supposes and not facts:
        return _suppose(utterance, heard, conversation, kit, unsure)
    drafts, limits = heard.drafts, kit.understander.grammar.limits
    meaning = reconcile(drafts, conversation.load, conversation.focus, limits)
    if meaning.refused and heard.phrases > 1:
        heard, meaning = _what_can_be_taken(utterance, heard, meaning, conversation, kit)
    doubtful = kit.understander.unsure_fragments(heard, unsure) or heard_again(heard, before)
    if doubtful and not meaning.refused:
        return read_back(utterance, kit.understander.fluent(utterance), heard, doubtful, before, kit)
    answer, after = told(utterance, heard, meaning, conversation, kit)
    if not answer.understood:
        return answer.model_copy(update={"load": before.load}), before
    after = _one_turn(before, after)
    if supposes and not (after.pending is not None and after.pending.settles is not None):
        would, then = what_if(utterance, heard, after, kit)
        if would.understood:
            return would, then
    if heard.asking or supposes:
        answer = answer.model_copy(
            update={"say": f"{answer.say} I can't answer the rest.", "show": f"I can't answer the rest.\n{answer.show}"}
        )
    return _and_others(utterance, others, (answer, after), before, kit)


def _and_others(
    utterance: str,
    others: Sequence[Fragment],
    so_far: tuple[Answer, Conversation],
    before: Conversation,
    kit: Kit,
) -> tuple[Answer, Conversation]:
    """Follow the last question or command that stood beside facts, once these are taken."""
    answer, after = so_far
    # what was just told has its answer already
    others = [part for part in others if part.name not in {"repeat", "stop"}]
    if not others or (after.pending is not None and after.pending.settles is not None):
        return answer, after
    last, then = follow(utterance, others[-1], after, kit)
    if not last.understood:
        # nothing is half taken: the facts beside a refused question are left too
        return last.model_copy(update={"load": before.load}), before
    return last, then


_MOST_TRIED = 24
"""Phrases of one utterance that are tried one by one: more are no speech."""


_HELD = frozenset({"denied", "not now", "not yet", "elsewhere"})
"""Why of what was understood as denied, or as not so on this load now."""
_OF_A_LOAD = _HELD | {"clash", "not placed"}


def _is_small_talk(heard: Heard) -> bool:
    """Return whether words tell nothing of a load: nothing in them is known to be part of one, and nothing is asked."""
    return (
        bool(heard.tokens)
        and not heard.asking
        and not heard.fragments
        and not any(one.why in _OF_A_LOAD for one in heard.lost)
        and len(heard.tokens) > 1
    )


def _what_can_be_taken(
    utterance: str, heard: Heard, meaning: Meaning, conversation: Conversation, kit: Kit
) -> tuple[Heard, Meaning]:
    """Leave the phrases out that make no sense beside the others, and take the rest."""
    limits = kit.understander.grammar.limits
    every = range(1, min(heard.phrases, _MOST_TRIED) + 1)
    taken: set[int] = set()
    best: tuple[Heard, Meaning] | None = None
    for phrase in every:
        skip = frozenset(range(1, heard.phrases + 1)) - taken - {phrase}
        tried = kit.understander.hear(utterance, conversation.load, skip)
        meant = reconcile(tried.drafts, conversation.load, conversation.focus, limits)
        if not meant.refused:
            taken.add(phrase)
            best = tried, meant
    if best is None or not (best[1].changes or best[1].question):
        return heard, meaning
    return best


def _suppose(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int]
) -> tuple[Answer, Conversation]:
    doubtful = kit.understander.unsure_fragments(heard, unsure)
    if doubtful:
        return read_back(utterance, kit.understander.fluent(utterance), heard, doubtful, conversation, kit)
    return what_if(utterance, heard, conversation, kit)


def _one_turn(before: Conversation, after: Conversation) -> Conversation:
    """Keep one thing said one turn, so that one undo brings back the load before "start over, twenty two coil"."""
    known = len(before.turns)
    if len(after.turns) <= known + 1:
        return after
    one = tuple(change for turn in after.turns[known:] for change in turn)
    opened = after.open_before[: known + 1]
    return after.model_copy(update={"turns": (*after.turns[:known], one), "open_before": opened})


def _why_nothing(heard: Heard, pending: Pending | None, *, named: bool) -> str:
    if not heard.tokens:
        return "I heard nothing. Say the coil's weight, or say help."
    if heard.asking:
        return "I can't answer that. Say help to hear what I know."
    if heard.lost:
        return f"I could not place “{heard.left_over}”. Say it in other words."
    if named and pending and pending.spoken:
        return f"That is no answer to what I asked. {pending.asked[0]}"
    if named:
        return "I have no question open that this answers. Say the coil's weight, or say help."
    return "I did not understand that. Say help to hear what I know."
