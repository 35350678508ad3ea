"""Answers to what was asked last: a yes, a no, a number, or a few words that complete a phrase."""

from collections.abc import Mapping, Sequence

from assistant.conversation import Conversation, Pending
from assistant.doubts import Instead, ask_instead, instead
from assistant.kit import Kit
from assistant.load.change import AddCoils, Change, Remove, SetFields
from assistant.load.model import Load, all_alike
from assistant.offers import Again
from assistant.phrase.grammar import AnswerForm
from assistant.phrase.meaning import Focus, Meaning, Question
from assistant.phrase.reconcile import reconcile
from assistant.phrase.tokens import words
from assistant.say.answer import Answer, Hush
from assistant.say.ear import asked_aloud
from assistant.say.spell import spell
from assistant.taking import changed, judged, read_back, told
from assistant.talk import plain
from assistant.understand.heard import Fragment, Heard

LONGEST_ANSWER = 8
"""Words in a short answer; what is longer stands by itself."""
_VALUES = frozenset({"weight", "number", "sized", "attribute"})
"""Fragments that are a value alone: what it is of, the question says."""
_NO_YES = frozenset({"okay", "ok", "sure"})
"""No yes to what was read back: people say it while they think, and noise sounds like it."""
_OF_GEAR = frozenset({"mended", "seen", "binders", "clean"})
"""Beside one of these a number is no answer."""
_FLAT = frozenset({"yes", "no", "nothing"})


def settle(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int], again: Again
) -> tuple[Answer, Conversation] | None:
    """Take an utterance as the answer to what was asked, if it is one; `again` takes what was held until now."""
    pending = conversation.pending
    if pending is None or not heard.tokens or heard.asking or heard.supposed is not None:
        return None
    if pending.settles:
        settled = _settle_question(utterance, heard, conversation, pending.settles, kit, again)
        put = None if settled else instead(heard, pending.settles, kit, unsure)
        return _put_in(utterance, conversation, put, again) if put else settled
    whole = kit.understander.whole(heard)
    sorts = kit.understander.grammar.sorts
    if any(sorts[name] in {"ask", "command"} for name in whole) and "dont_know" not in whole:
        return None
    if "dont_know" in whole and pending.spoken:
        return _put_aside(utterance, conversation, pending.asked[0], kit)
    value = len(heard.fragments) == 1 and heard.names <= _VALUES
    if not value and not heard.names & {"number", "fix", *_FLAT} and _stands_alone(heard, conversation, kit):
        return None
    return _settle_short(utterance, heard, whole, conversation, kit, unsure)


def _stands_alone(heard: Heard, conversation: Conversation, kit: Kit) -> bool:
    """Return whether an utterance tells, asks or orders something whatever was asked: "straps" alone does not."""
    grammar = kit.understander.grammar
    if not heard.fragments or heard.left_over:
        return False
    if any(grammar.sorts[name] in {"ask", "command"} for name in heard.names):
        return True
    meaning = reconcile(kit.understander.drafts(heard), conversation.load, conversation.focus, grammar.limits)
    return bool(meaning.changes or meaning.question or meaning.remarks or meaning.open)


def _settle_question(
    utterance: str, heard: Heard, conversation: Conversation, question: Question, kit: Kit, again: Again
) -> tuple[Answer, Conversation] | None:
    whole = kit.understander.whole(heard)
    if question.doubted and words(heard.tokens) in _NO_YES:
        return plain(utterance, "facts", conversation, question.text), conversation
    replies = {"yes": ("yes",), "no": ("no", "fix"), "in all": ("in_all",), "more": ("more", "more_tiedowns")}
    for said, changes in question.on.items():
        given = [whole[name] for name in replies[said] if name in whole]
        if given and given[0].values.get("count", question.count) == question.count:
            moved = any(isinstance(change, Remove) for change in changes)
            focus = _brought_in(changes, conversation.load) or (None if moved else conversation.focus)
            after = conversation.settled().model_copy(update={"focus": focus})
            if question.doubted and said == "yes":
                answer, then = again(question.doubted, after)
                return answer.model_copy(update={"heard": utterance}), then
            if changes:
                return changed(utterance, changes, after, kit)
            return plain(utterance, "facts", after, "Left as it was. Say it again as it should be."), after
    if whole.keys() & ({"dont_know", "stop", "undo"} if question.doubted else {"dont_know", "stop"}):
        # what is held has not entered: "scratch that" means it, not what was told before it
        after = conversation.settled()
        return plain(utterance, "stop", after, "Left as it was.", effects=(Hush(),)), after
    if whole.keys() & {"yes", "no"}:
        return plain(utterance, "facts", conversation, question.text), conversation
    return None


def _put_in(utterance: str, conversation: Conversation, put: Instead, again: Again) -> tuple[Answer, Conversation]:
    """Take what is told in place of what is doubted, and with it the rest of what was held."""
    if put.sure:
        answer, then = again(put.phrase, conversation.settled())
        return answer.model_copy(update={"heard": utterance}), then
    return ask_instead(utterance, conversation, put)


def _brought_in(changes: Sequence[Change], load: Load) -> Focus | None:
    """Return the coil that a reply brings in: it is what was spoken of last."""
    return ("coils", len(load.coils)) if any(isinstance(change, AddCoils) for change in changes) else None


def _put_aside(utterance: str, conversation: Conversation, question: str, kit: Kit) -> tuple[Answer, Conversation]:
    """Leave a fact untold, and go on to the next open question; what was put aside is asked again when none is left."""
    aside = (*(other for other in conversation.aside if other != question), question)
    answer, after = judged(utterance, "left open", conversation.model_copy(update={"aside": aside}), kit)
    asked = asked_aloud(answer.judgement, aside) if answer.judgement else ""
    going_on = asked if asked and asked not in aside else "That is all I have to ask."
    return answer.model_copy(update={"say": f"Left open. {spell(going_on)}"}), after


def _settle_short(
    utterance: str,
    heard: Heard,
    whole: Mapping[str, Fragment],
    conversation: Conversation,
    kit: Kit,
    unsure: Sequence[int],
) -> tuple[Answer, Conversation] | None:
    """Read a short answer as the whole phrase that grammar/answers.toml makes of it, if that is understood whole.

    A yes, a no, a bare number or a course answers only the question that was spoken; what has a unit, or is no phrase
    by itself, may answer any that is open: "three inches" is the take-up that the screen asks for, no chain's size.
    """
    pending = conversation.pending
    if pending is None or len(heard.tokens) > LONGEST_ANSWER or _counts_else(heard):
        return None
    grammar = kit.understander.grammar
    bare = bool(whole.keys() & _FLAT) or heard.names in ({"number"}, {"weight"}, {"attribute"})
    open_to = pending.asked[: pending.spoken] if bare else pending.asked
    for question in open_to:
        form = grammar.answer_to(question)
        if not form or not all_alike(conversation.load, form.kind):
            continue
        focus = _article_asked_of(question, form, conversation.load) or conversation.focus
        given = next((name for name in ("yes", "no", "nothing") if name in whole), "")
        for phrase in _phrases_for(heard, given, form, kit):
            full = kit.understander.hear(phrase, conversation.load)
            if (
                not full.fragments
                or full.left_over
                or full.asking
                or any(grammar.sorts[name] != "fact" for name in full.names)
            ):
                continue
            meaning = reconcile(kit.understander.drafts(full), conversation.load, focus, grammar.limits)
            if meaning.refused:
                continue
            doubtful = kit.understander.unsure_fragments(full, unsure)
            if doubtful:
                # as it was said: "two and two", not the whole phrase that it stands for
                own = kit.understander.unsure_fragments(heard, unsure)
                return read_back(utterance, phrase, heard if own else full, own or doubtful, conversation, kit)
            answered = (
                _to_the_untold(meaning, form, conversation.load) if form.untold and given != "nothing" else meaning
            )
            if answered:
                return told(utterance, full, answered, conversation, kit)
        back = form.back.get(given or words(heard.tokens))
        if back:
            return _ask_back(utterance, back, conversation)
    return None


def _counts_else(heard: Heard) -> bool:
    """Return whether a number counts nothing that was asked for: "the front one", "i swapped it for a good one"."""
    stray = "number" in heard.names and (heard.names & _OF_GEAR or (heard.left_over and heard.names == {"number"}))
    return "nth_coil" in heard.names or bool(stray)


def _phrases_for(heard: Heard, given: str, form: AnswerForm, kit: Kit) -> list[str]:
    if given:
        phrase = {"yes": form.yes, "no": form.no, "nothing": form.nothing}[given]
        return [phrase] if phrase else []
    return kit.understander.completed(heard, form)


def _article_asked_of(question: str, form: AnswerForm, load: Load) -> Focus | None:
    """Return the article that a question asks about: the first of the name that lacks the fact."""
    if not form.article:
        return None
    lacking = (
        ("articles", index)
        for index, article in enumerate(load.articles)
        if getattr(article, form.article) is None and f" {article.name} " in question.replace("?", " ")
    )
    return next(lacking, None)


def _to_the_untold(meaning: Meaning, form: AnswerForm, load: Load) -> Meaning | None:
    """Tell the fact that was asked for, and only to the groups of tiedowns that lack it; None where it is another."""
    told_to = [change for change in meaning.changes if isinstance(change, SetFields) and change.noun == "tiedowns"]
    if len(told_to) < len(meaning.changes) or not all(form.untold in change.fields for change in told_to):
        return None
    kept = tuple(change for change in told_to if getattr(load.tiedowns[change.index], form.untold) is None)
    assumed = (*meaning.assumed, form.assumed) if form.assumed and len(kept) > 1 else meaning.assumed
    return meaning.model_copy(update={"changes": kept, "assumed": assumed})


def _ask_back(utterance: str, question: str, conversation: Conversation) -> tuple[Answer, Conversation]:
    """Ask more closely where an answer leaves the fact open."""
    asked = conversation.pending.asked if conversation.pending else ()
    after = conversation.model_copy(update={"pending": Pending(asked=(question, *asked))})
    return plain(utterance, "facts", after, question).model_copy(update={"asks": (question,)}), after
