"""Answers to what was asked last: a yes, a no, a number, or a few words that complete a phrase."""

from collections.abc import Callable, Mapping, Sequence

from assistant.conversation import Conversation, Pending
from assistant.kit import Kit
from assistant.load.change import Remove
from assistant.load.model import all_alike
from assistant.phrase.grammar import AnswerForm
from assistant.phrase.meaning import Question
from assistant.phrase.parser import Fragment
from assistant.phrase.reconcile import reconcile
from assistant.phrase.understand import Heard
from assistant.say.answer import Answer, Hush
from assistant.taking import changed, read_back, told
from assistant.talk import plain

LONGEST_ANSWER = 8
"""Words in a short answer; what is longer stands by itself."""

Again = Callable[[str, Conversation], tuple[Answer, Conversation]]
"""Takes an utterance anew: for one that was held until it was confirmed."""


def settle(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int], again: Again
) -> tuple[Answer, Conversation] | None:
    """Take an utterance as the answer to what was asked, if it is one; `again` takes what was held until now."""
    pending = conversation.pending
    if pending is None or not heard.tokens:
        return None
    if pending.settles:
        return _settle_question(utterance, heard, conversation, pending.settles, kit, again)
    bare = heard.names == {"weight"} and len(heard.fragments) == 1
    if heard.fragments and not heard.left_over and not bare and not heard.names & {"number", "yes", "no", "fix"}:
        return None
    return _settle_short(utterance, heard, conversation, pending, kit, unsure)


def _settle_question(
    utterance: str, heard: Heard, conversation: Conversation, question: Question, kit: Kit, again: Again
) -> tuple[Answer, Conversation] | None:
    whole = kit.understander.whole(heard)
    replies = {"yes": ("yes",), "no": ("no", "fix"), "in all": ("in_all",), "more": ("more", "more_tiedowns")}
    for said, changes in question.on.items():
        given = [whole[name] for name in replies[said] if name in whole]
        if given and given[0].values.get("count", question.count) == question.count:
            moved = any(isinstance(change, Remove) for change in changes)
            focus = None if moved else conversation.focus
            after = conversation.model_copy(update={"pending": None, "focus": focus})
            if question.doubted and said == "yes":
                answer, then = again(question.doubted, after)
                return answer.model_copy(update={"heard": utterance}), then
            if changes:
                return changed(utterance, changes, after, kit)
            return plain(utterance, "facts", after, "Left as it was. Say it again as it should be."), after
    if "dont_know" in whole or "stop" in whole:
        after = conversation.model_copy(update={"pending": None})
        return plain(utterance, "stop", after, "Left as it was.", effects=(Hush(),)), after
    if whole.keys() & {"yes", "no"}:
        return plain(utterance, "facts", conversation, question.text), conversation
    return None


def _settle_short(
    utterance: str, heard: Heard, conversation: Conversation, pending: Pending, kit: Kit, unsure: Sequence[int]
) -> tuple[Answer, Conversation] | None:
    """Read a short answer as the whole phrase that grammar/answers.toml makes of it, if that is understood whole.

    A yes, a no or bare numbers answer only the question that was spoken; other words may answer any that is open.
    """
    if len(heard.tokens) > LONGEST_ANSWER:
        return None
    whole = kit.understander.whole(heard)
    bare = bool(whole.keys() & {"yes", "no"}) or heard.names in ({"number"}, {"weight"})
    open_to = pending.asked[: pending.spoken] if bare else pending.asked
    found = (kit.understander.grammar.answer_to(question) for question in open_to)
    forms = [form for form in found if form and all_alike(conversation.load, form.kind)]
    for form in forms:
        for phrase in _phrases_for(heard, whole, form, kit):
            full = kit.understander.hear(phrase)
            if full.left_over or any(kit.understander.grammar.sorts[name] != "fact" for name in full.names):
                continue
            drafts = kit.understander.drafts(full)
            meaning = reconcile(drafts, conversation.load, conversation.focus, kit.understander.grammar.limits)
            doubtful = kit.understander.unsure_fragments(full, unsure)
            if doubtful and not meaning.refused:
                return read_back(utterance, phrase, full, doubtful, conversation, kit)
            if not meaning.refused:
                return told(utterance, full, meaning, conversation, kit)
    return None


def _phrases_for(heard: Heard, whole: Mapping[str, Fragment], form: AnswerForm, kit: Kit) -> list[str]:
    if whole.keys() & {"yes", "no"}:
        phrase = form.yes if "yes" in whole else form.no
        return [phrase] if phrase else []
    return kit.understander.completed(heard, form)
