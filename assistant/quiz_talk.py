"""The quiz inside a conversation: begins it, takes answers, ends it."""

import math

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.quiz.marking import MARKED_ALREADY, ask, mark_answer
from assistant.quiz.questions import make_quiz
from assistant.quiz.state import Question
from assistant.say.answer import Answer, Hush
from assistant.talk import plain
from assistant.understand.heard import Heard

_OUT = frozenset({"stop", "quit", "start_over"})


def begin_quiz(utterance: str, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Make a fresh quiz and ask its first question. The load stays as it is."""
    quiz = make_quiz(seed=conversation.seed, tables=kit.tables, gear=kit.sample_gear, on=kit.on)
    after = conversation.model_copy(update={"quiz": quiz, "seed": conversation.seed + 1, "pending": None})
    say, show = ask(quiz)
    intro = f"{len(quiz.questions)} questions. Say pass when you don't know, stop to end.\n\n"
    return plain(utterance, "quiz", after, "", show=intro + show).model_copy(update={"say": say}), after


def answer_quiz(utterance: str, heard: Heard, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Mark one answer and go on to the next question or the score."""
    quiz = conversation.quiz
    whole = kit.understander.whole(heard)
    ends = not _OUT.isdisjoint(whole) or (heard.names and heard.names <= _OUT and not heard.left_over)
    if quiz is None or quiz.current is None or ends:
        after = conversation.model_copy(update={"quiz": None})
        return plain(
            utterance, "stop", after, "The quiz is over. The load is as you left it.", effects=(Hush(),)
        ), after
    if "repeat" in whole:
        say, show = ask(quiz)
        return plain(utterance, "quiz", conversation, "", show=show).model_copy(update={"say": say}), conversation
    if quiz.right and ("undo" in whole or kit.note_talk.begins("correcting", utterance)):
        # it is about the answer before, which was told right or wrong already
        say, show = ask(quiz)
        answer = plain(utterance, "quiz", conversation, "", show=f"{MARKED_ALREADY}\n{show}")
        return answer.model_copy(update={"say": f"{MARKED_ALREADY} {say}"}), conversation
    passed = "dont_know" in whole
    given = math.nan if passed else _given(_plainly(utterance, heard, kit), frozenset(whole), quiz.current)
    marked, say, show = mark_answer(quiz, given)
    after = conversation.model_copy(update={"quiz": marked if marked.current else None})
    answer = plain(utterance, "quiz", after, "", show=show).model_copy(update={"say": say})
    return answer.model_copy(update={"understood": given is not None}), after


_IS = ("is it ", "that would be ", "it would be ", "that is ", "it is ", "that's ", "it's ", "i say ", "i'd say ")
"""What an answer may begin with."""


def _plainly(utterance: str, heard: Heard, kit: Kit) -> Heard:
    """Return an answer without "that would be", which tells elsewhere of what is not so yet."""
    said = next((utterance[len(begun) :] for begun in _IS if utterance.lower().startswith(begun)), "")
    return kit.understander.hear(said) if said else heard


def _given(heard: Heard, whole: frozenset[str], question: Question) -> float | bool | None:
    """Read an answer: yes or no, a number of pounds, or a count ("four", "four chains")."""
    if isinstance(question.answer, bool):
        return True if "yes" in whole else False if whole & {"no", "fix"} else None
    for part in heard.fragments:
        weight = part.values.get("weight")
        if weight is not None and question.unit == "lb":
            return float(weight.pounds)
        if "count" in part.values and not heard.left_over:  # "gimme another" one answers nothing
            return float(part.values["count"])
    return None
