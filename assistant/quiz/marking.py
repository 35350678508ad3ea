"""Asking and marking: each answer is told right or wrong, why, and by which clause."""

import math

from assistant.quiz.state import Question, Quiz
from assistant.say.spell import number_words, spell
from assistant.securement.wording import counted

_RIGHT = ("Right", "That's it", "Correct", "Yes indeed", "Spot on")
_AGAIN_NUMBER = "I need a number."
_AGAIN_YES_NO = "Yes or no?"
MARKED_ALREADY = "That answer is marked already."
_ALL_DONE = "The quiz is over."


def ask(quiz: Quiz) -> tuple[str, str]:
    """Return the question that waits, for the ear and for the screen; the score when none does."""
    question = quiz.current
    if question is None:
        score = f"{_ALL_DONE} {_score(quiz)}"
        return score, f"{score}\n"
    return spell(_numbered(quiz, question.say)), f"{_numbered(quiz, question.show)}\n"


def mark_answer(quiz: Quiz, given: float | bool | None) -> tuple[Quiz, str, str]:  # noqa: FBT001 - an answer is a number or a yes or no
    """Mark one answer.

    Parameters
    ----------
    quiz
        The quiz as it stands.
    given
        The number, or the yes or no, that was answered; None when nothing was understood, NaN when the question is
        passed. A number where yes or no was asked, and the other way round, is not understood either.

    Returns
    -------
    tuple of Quiz, str, str
        The quiz with the answer marked, then what to say and what to show: the result with its reason and clause,
        then the next question or the score. What was not understood is asked again and does not count.
    """
    question = quiz.current
    if question is None:
        return quiz, *ask(quiz)
    passed = given is not None and math.isnan(given)
    if given is None or (not passed and isinstance(given, bool) is not isinstance(question.answer, bool)):
        lead = _AGAIN_YES_NO if isinstance(question.answer, bool) else _AGAIN_NUMBER
        return quiz, f"{lead} {question.say}", f"{lead}\n{question.show}\n"
    right = _same(given, question.answer)
    marked = quiz.model_copy(update={"right": (*quiz.right, right)})
    said, seen = ask(marked) if marked.current else (_score(marked), f"{_score(marked)}\n")
    if right:
        word = _RIGHT[(len(marked.right) - 1) % len(_RIGHT)]
        result = f"{word}, by {question.rule.removeprefix('49 CFR ')}."
    else:
        word = "Passed" if passed else "Not so"
        result = f"{word}: {question.why_say}"
    reason = "".join(f"    {line}\n" for line in question.why.splitlines())
    return marked, f"{spell(result)} {said}", f"{word}: {_shown(question)}\n{reason}\n{seen}"


def _same(given: float | bool, answer: float | bool) -> bool:  # noqa: FBT001 - as above
    if isinstance(answer, bool):
        return given is answer
    return math.isfinite(given) and math.isclose(given, answer, abs_tol=1e-6)


def _numbered(quiz: Quiz, words: str) -> str:
    number = len(quiz.right) + 1
    if number == 1:
        return f"{counted(len(quiz.questions), 'question').capitalize()}. {words}"
    return f"Number {number}: {words}"


def _score(quiz: Quiz) -> str:
    right, asked = sum(quiz.right), len(quiz.questions)
    if not asked:
        return "No questions were asked."
    score = f"{number_words(right)} of {number_words(asked)}".capitalize()
    if right == asked:
        return f"{score}, every one."
    return f"{score}."


def _shown(question: Question) -> str:
    if isinstance(question.answer, bool):
        return "yes" if question.answer else "no"
    return f"{question.answer:,g} {question.unit}".strip()
