"""`reply`: an utterance and a conversation in, an answer and the conversation after it out.

Microphone, file, terminal, page and quiz all call this one function. It opens no file, reads no clock and draws no
random number.
"""

from collections.abc import Mapping, Sequence

from assistant.conversation import Conversation, Pending
from assistant.kit import Kit
from assistant.load.change import Change, Remove, StartOver, fold
from assistant.load.model import Load, all_alike
from assistant.phrase.grammar import AnswerForm
from assistant.phrase.meaning import Meaning, Question
from assistant.phrase.parser import Fragment
from assistant.phrase.reconcile import reconcile
from assistant.phrase.tokens import TooLong, words
from assistant.phrase.understand import Heard
from assistant.questions import answer_question
from assistant.quiz_talk import answer_quiz, begin_quiz
from assistant.say.answer import Answer, Hush, KeepNote
from assistant.say.ear import NOT_KNOWN, spoken
from assistant.say.screen import shown
from assistant.say.spell import spell
from assistant.securement.rule_sets import RuleSet, in_words
from assistant.talk import not_understood, plain, simple_command

_LONGEST_ANSWER = 8
"""Words in a short answer; what is longer stands by itself."""


def reply(
    utterance: str, conversation: Conversation, *, kit: Kit, unsure: Sequence[int] = ()
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

    Returns
    -------
    tuple[Answer, Conversation]
        The answer, and the state after it.
    """
    answer, after = _reply(utterance, conversation, kit, unsure)
    answer = answer.model_copy(update={"say": answer.say[:1].upper() + answer.say[1:]})
    kept = conversation.last if answer.intent == "repeat" else answer
    pending = after.pending
    if pending and pending is not conversation.pending and not pending.settles:
        spoken_so = pending.model_copy(update={"spoken": spell(pending.asked[0]) in answer.say})
        after = after.model_copy(update={"pending": spoken_so})
    return answer, after.model_copy(update={"last": kept})


def _reply(utterance: str, conversation: Conversation, kit: Kit, unsure: Sequence[int]) -> tuple[Answer, Conversation]:
    try:
        heard = kit.understander.hear(utterance)
    except TooLong as too_long:
        text = f"That is {too_long.length:,} characters; one thing said is far shorter. Say it in parts."
        return not_understood(utterance[:80], conversation, text), conversation
    if heard.note is not None:
        return _note(utterance, heard.note, conversation)
    if conversation.quiz and conversation.quiz.current:
        return answer_quiz(utterance, heard, conversation, kit)
    settled = _settle(utterance, heard, conversation, kit, unsure)
    if settled:
        return settled
    return _act(utterance, heard, conversation, kit, unsure)


def _note(utterance: str, note: str, conversation: Conversation) -> tuple[Answer, Conversation]:
    if not note:
        return not_understood(
            utterance, conversation, "The note is empty. Say note, and then what to write."
        ), conversation
    return plain(
        utterance, "note", conversation, f"Noted: {note.rstrip('.')}.", effects=(KeepNote(text=note),)
    ), conversation


# ---- answers to what was asked last ----------------------------------------------------------------------------------


def _settle(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int]
) -> tuple[Answer, Conversation] | None:
    """Take an utterance as the answer to what was asked, if it is one."""
    pending = conversation.pending
    if pending is None or not heard.tokens:
        return None
    if pending.settles:
        return _settle_question(utterance, kit.understander.whole(heard), conversation, pending.settles, kit)
    bare = heard.names == {"weight"} and len(heard.fragments) == 1
    if heard.fragments and not heard.left_over and not bare and not heard.names & {"number", "yes", "no", "fix"}:
        return None
    return _settle_short(utterance, heard, conversation, pending, kit, unsure)


def _settle_question(
    utterance: str, whole: dict[str, Fragment], conversation: Conversation, question: Question, kit: Kit
) -> tuple[Answer, Conversation] | None:
    replies = {"yes": ("yes",), "no": ("no", "fix"), "in all": ("in_all",), "more": ("more", "more_tiedowns")}
    for said, changes in question.on.items():
        given = [whole[name] for name in replies[said] if name in whole]
        if given and given[0].values.get("count", question.count) == question.count:
            moved = any(isinstance(change, Remove) for change in changes)
            focus = None if moved else conversation.focus
            after = conversation.model_copy(update={"pending": None, "focus": focus})
            if question.doubted and said == "yes":
                answer, then = _reply(question.doubted, after, kit, ())
                return answer.model_copy(update={"heard": utterance}), then
            if changes:
                return _changed(utterance, changes, after, kit)
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
    if len(heard.tokens) > _LONGEST_ANSWER:
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
                return _read_back(utterance, phrase, full, doubtful, conversation, kit)
            if not meaning.refused:
                return _told(utterance, full, meaning, conversation, kit)
    return None


def _phrases_for(heard: Heard, whole: Mapping[str, Fragment], form: AnswerForm, kit: Kit) -> list[str]:
    if whole.keys() & {"yes", "no"}:
        phrase = form.yes if "yes" in whole else form.no
        return [phrase] if phrase else []
    return kit.understander.completed(heard, form)


# ---- commands, questions, facts --------------------------------------------------------------------------------------


def _act(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit, unsure: Sequence[int]
) -> tuple[Answer, Conversation]:
    sorts = kit.understander.grammar.sorts
    facts = [part for part in heard.fragments if sorts[part.name] == "fact"]
    others = [part for part in heard.fragments if sorts[part.name] in {"ask", "command"}]
    command = next((part for part in others if sorts[part.name] == "command"), None)
    unclear = _unclear(heard, told=bool(facts or others), command=bool(command), pending=conversation.pending)
    if unclear:
        return not_understood(utterance, conversation, unclear), conversation
    if not facts:
        return _other(utterance, others[-1], conversation, kit)
    before = conversation
    if command and command.name in {"undo", "start_over"} and command.start < facts[0].start:
        # "scratch that, five chains": first what was said first
        _, conversation = _other(utterance, command, conversation, kit)
        others.remove(command)
    drafts, limits = kit.understander.drafts(heard), kit.understander.grammar.limits
    meaning = reconcile(drafts, conversation.load, conversation.focus, limits)
    doubtful = kit.understander.unsure_fragments(heard, unsure)
    if doubtful and not meaning.refused:
        return _read_back(utterance, utterance, heard, doubtful, before, kit)
    if "what_if" in heard.names and not meaning.refused:
        return _what_if(utterance, meaning, conversation, kit), conversation
    answer, after = _told(utterance, heard, meaning, conversation, kit)
    if not answer.understood:
        return answer.model_copy(update={"load": before.load}), before
    after = _one_turn(before, after)
    others = [part for part in others if part.name != "repeat"]  # what was just told has its answer already
    if not others or (after.pending is not None and after.pending.settles is not None):
        return answer, after
    last, then = _other(utterance, others[-1], after, kit)
    if not last.understood:
        # nothing is half taken: the facts beside a refused question are left too
        return last.model_copy(update={"load": before.load}), before
    return last, then


def _what_if(utterance: str, meaning: Meaning, conversation: Conversation, kit: Kit) -> Answer:
    """Judge the load as it would be, and leave it as it is."""
    changes = meaning.changes or (meaning.question.on.get("in all", ()) if meaning.question else ())
    if not changes:
        text = "Say what would be different: what if I use five chains."
        return not_understood(utterance, conversation, text)
    would = conversation.model_copy(update={"load": fold(changes, conversation.load)})
    answer, _ = _judged(utterance, "what if", would, kit, meaning.assumed)
    first, _, rest = answer.say.partition(". ")
    said = f"If so: {first[:1].lower()}{first[1:].rstrip('.')}."
    return answer.model_copy(
        update={
            "load": conversation.load,
            "say": f"{said} {rest}".strip(),
            "show": f"What if. The load stays as it was told.\n\n{answer.show}",
        }
    )


def _unclear(heard: Heard, *, told: bool, command: bool, pending: Pending | None) -> str:
    """Return why nothing of an utterance can be taken; empty where it can."""
    if heard.contrary:
        return f"I heard “{heard.contrary}” and can't be sure what it turns round. Say what is there, not what isn't."
    if heard.asking:
        return "I can't answer that. Say help to hear what I know."
    if heard.numbers_left:
        said = heard.left_over if len(heard.tokens) > _LONGEST_ANSWER else words(heard.tokens)
        return f"I heard “{said}” but not what it counts. Say it again, with its name."
    if not told:
        return _why_nothing(heard, pending)
    if command and heard.left_over:
        return f"I did not understand “{heard.left_over}”. Say a command by itself."
    return ""


def _one_turn(before: Conversation, after: Conversation) -> Conversation:
    """Keep one thing said one turn, so that one undo brings back the load before "start over, twenty two coil"."""
    known = len(before.turns)
    if len(after.turns) <= known + 1:
        return after
    one = tuple(change for turn in after.turns[known:] for change in turn)
    return after.model_copy(update={"turns": (*after.turns[:known], one)})


def _why_nothing(heard: Heard, pending: Pending | None) -> str:
    if not heard.tokens:
        return "I heard nothing. Say the coil's weight, or say help."
    if heard.names and pending and pending.spoken:
        return f"That is no answer to what I asked. {pending.asked[0]}"
    if heard.names:
        return "I have no question open that this answers. Say the coil's weight, or say help."
    return "I did not understand that. Say help to hear what I know."


def _read_back(
    utterance: str, doubted: str, heard: Heard, doubtful: Sequence[Fragment], conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Hold a whole phrase of which a part is not sure until that is confirmed."""
    said = [" ".join(token.word for token in heard.tokens[part.start : part.end]) for part in doubtful]
    twins = kit.understander.grammar.twins
    maybe = [twins[word] for words in said for word in words.split() if word in twins]
    text = f"I heard {' and '.join(said)}. Is that right{f', or was it {maybe[0]}' if maybe else ''}?"
    question = Question(text=text, expects="yes or no", on={"yes": (), "no": ()}, doubted=doubted)
    after = conversation.model_copy(update={"pending": Pending(asked=(question.text,), settles=question)})
    answer = plain(utterance, "facts", conversation, text)
    return answer.model_copy(update={"confirm": tuple(said), "asks": (text,)}), after


def _told(
    utterance: str, heard: Heard, meaning: Meaning, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Make the changes that are sure, and answer with the judgement or with the question that is open."""
    if meaning.refused:
        return not_understood(utterance, conversation, meaning.refused[0]), conversation
    if heard.left_over and not meaning.changes and not meaning.question:
        text = f"I did not understand “{heard.left_over}”. Say help to hear what I know."
        return not_understood(utterance, conversation, text), conversation
    answer, after = _changed(utterance, meaning.changes, conversation, kit, meaning.assumed)
    after = after.model_copy(update={"focus": meaning.focus})
    remarks = [*meaning.remarks, *(f"“{wrote}” is taken as “{taken}”." for wrote, taken in heard.replaced)]
    if heard.left_over:
        remarks.append(f"Not understood: “{heard.left_over}”.")
    spoken_first = meaning.question.text if meaning.question else ""
    if meaning.question:
        pending = Pending(asked=(meaning.question.text,), settles=meaning.question)
        after = after.model_copy(update={"pending": pending})
    elif remarks and not meaning.changes:
        spoken_first = remarks[0]
    return (
        answer.model_copy(
            update={
                "asks": (spoken_first,) if meaning.question else (),
                "say": spell(spoken_first) if spoken_first else _with_remark(answer.say, heard.left_over),
                "show": "".join(f"{remark}\n" for remark in (spoken_first, *remarks) if remark) + answer.show,
            }
        ),
        after,
    )


def _with_assumption(say: str, assumed: tuple[str, ...]) -> str:
    """Speak what hearing took for granted where the first sentence would only say that nothing is known yet."""
    if not assumed or not say.startswith(NOT_KNOWN):
        return say
    return f"{spell(assumed[0])}{say.removeprefix(NOT_KNOWN)}"


def _with_remark(say: str, left_over: str) -> str:
    """Speak what was not understood in place of the second sentence: it may matter more."""
    if not left_over:
        return say
    first, _, _ = say.partition(". ")
    return f"{first.rstrip('.')}. I did not catch: {spell(left_over)}."


def _changed(
    utterance: str, changes: tuple[Change, ...], conversation: Conversation, kit: Kit, assumed: tuple[str, ...] = ()
) -> tuple[Answer, Conversation]:
    """Make changes, remember them as one turn, and judge the load."""
    turns = (*conversation.turns, changes) if changes else conversation.turns
    load = fold(changes, conversation.load)
    after = conversation.model_copy(update={"turns": turns, "load": load, "pending": None})
    return _judged(utterance, "facts", after, kit, assumed)


def _judged(
    utterance: str, intent: str, conversation: Conversation, kit: Kit, assumed: tuple[str, ...] = ()
) -> tuple[Answer, Conversation]:
    """Judge the load; what hearing it took for granted stands before what judging it did."""
    judgement = kit.judge(conversation.load, conversation.gear, conversation.rules)
    judgement = judgement.model_copy(update={"assumed": (*assumed, *judgement.assumed)})
    pending = Pending(asked=judgement.asks) if judgement.asks else None
    after = conversation.model_copy(update={"pending": pending})
    answer = Answer(
        heard=utterance,
        intent=intent,
        understood=True,
        load=conversation.load,
        judgement=judgement,
        say=_with_assumption(spoken(judgement), assumed),
        show=shown(judgement, conversation.load),
    )
    return answer, after


def _other(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Answer a question or follow a command."""
    simple = simple_command(utterance, part.name, conversation)
    if simple:
        return simple, conversation
    match part.name:
        case "undo":
            return _undo(utterance, conversation, kit)
        case "start_over":
            empty = fold((StartOver(),), conversation.load)
            turns = (*conversation.turns, (StartOver(),))
            after = conversation.model_copy(update={"turns": turns, "load": empty, "pending": None, "focus": None})
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
            if after.load == Load():
                return plain(utterance, "rules", after, f"From now on by {in_words(after.rules)}."), after
            return _judged(utterance, "rules", after, kit)
        case "check":
            return _judged(utterance, "check", conversation, kit)
        case _:
            return answer_question(utterance, part, conversation, kit)


def _undo(utterance: str, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    if not conversation.turns:
        return plain(utterance, "undo", conversation, "There is nothing to undo."), conversation
    turns = conversation.turns[:-1]
    load = fold((change for turn in turns for change in turn), Load())
    after = conversation.model_copy(update={"turns": turns, "load": load, "pending": None, "focus": None})
    answer, after = _judged(utterance, "undo", after, kit)
    first, _, _ = answer.say.partition(". ")
    return answer.model_copy(update={"say": f"Undone. {first.rstrip('.')}."}), after


def _repeat(utterance: str, conversation: Conversation) -> Answer:
    last = conversation.last
    if last is None:
        return plain(utterance, "repeat", conversation, "There is nothing to say again yet.")
    return last.model_copy(update={"heard": utterance, "intent": "repeat", "effects": ()})
