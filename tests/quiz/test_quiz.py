"""Questions are made fresh, their answers come from the tables and the engine, and each answer is told why.

Expected answers are values of the regulation or arithmetic on them; each stands with its clause and mark.
"""

import datetime as dt
import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.load.model import Gear, GearList, Kind
from assistant.quiz.marking import ask, mark_answer
from assistant.quiz.questions import make_quiz
from assistant.quiz.state import Question, Quiz
from assistant.securement.table_reader import read_sample_gear, read_tables

TABLES = read_tables()
SAMPLE = read_sample_gear()
OWN = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.5, grade="43"),))
CHAINS_FOR_40_000 = (
    "How many 3/8 in grade 70 chains, all to the other side, "
    "does a 40,000 lb coil with its eye crosswise need at least?"
)
DAY = dt.date(2026, 3, 2)


def quiz_of(seed: int, gear: GearList = SAMPLE, length: int = 5) -> Quiz:
    return make_quiz(seed=seed, tables=TABLES, gear=gear, on=DAY, length=length)


@pytest.fixture(scope="module")
def asked() -> dict[str, Question]:
    """Every question of some hundreds of quizzes, by its words."""
    return {question.show: question for seed in range(300) for question in quiz_of(seed, length=13).questions}


@pytest.mark.parametrize(
    ("show", "answer"),
    [
        # 49 CFR 393.108 chain table, read
        ("What is the working load limit of 3/8 in grade 70 chain?", 6_600),
        ("What is the working load limit of 5/16 in grade 80 chain?", 4_500),
        ("What is the working load limit of 1/2 in grade 43 chain?", 9_200),
        # 49 CFR 393.108 synthetic webbing table, read
        ("What does a 4 in strap without a tag count as?", 4_000),
        ("What does a 1-3/4 in strap without a tag count as?", 1_750),
        # 49 CFR 393.108(d), read: without marks as grade 30, whose 3/8 in is 2,650 lb
        ("You find no marks at all on a 3/8 in chain: what limit does it get?", 2_650),
        # 49 CFR 393.108 chain table, read: at 5/16 in grade 80 has 4,500 lb and grade 70 has 4,700 lb
        ("Is 5/16 in grade 80 chain rated higher than grade 70 of that size?", False),
        ("Is 3/8 in grade 80 chain rated higher than grade 70 of that size?", True),
        # 49 CFR 393.106(d), read: half the weight
        ("How many pounds must the tiedowns of a 40,000 lb coil add up to?", 20_000),
        # 49 CFR 393.106(d), read, arithmetic derived: three of 6,600 lb are 200 lb short of 20,000 lb
        (CHAINS_FOR_40_000, 4),
        # 49 CFR 393.106(d)(1), (d)(2), (d)(3), read
        ("Does a chain that goes round and back to the same side count in full?", False),
        ("Does a chain that hooks straight to the machine count in full?", False),
        ("Does a chain that goes over to the other side count in full?", True),
        # 49 CFR 393.120(c)(2), memory; (d)(1)(ii)-(iii), memory, in other words by agency pages
        ("May the chains through the eye form an X, seen from above, when the eye points across the deck?", False),
        ("May the chains through the eye form an X, seen from above, when the eye points along the deck?", True),
        # 49 CFR 393.120(c)(1)(i), memory, in other words by agency pages
        ("May a coil with its eye crosswise rest on timbers that nails alone hold?", False),
        ("May a coil with its eye crosswise rest on timbers that coil bunks hold?", True),
        # 49 CFR 393.120(a), read: "5,000 lbs or more"
        ("Does the coil rule apply to a single coil of 4,800 lb?", False),
        ("Does the coil rule apply to a single coil of 5,000 lb?", True),
    ],
)  # fmt: skip
def test_question__has_the_answer_of_the_regulation(asked: dict[str, Question], show: str, answer: object) -> None:
    assert asked[show].answer == answer
    assert isinstance(asked[show].answer, bool) is isinstance(answer, bool)


def test_length_question__has_the_least_number(asked: dict[str, Question]) -> None:
    """49 CFR 393.110(b)(1)-(2), read; (b)(3) and (c), in other words: restated here from the text."""
    pattern = re.compile(r"a crate (\d+) ft long, ([\d,]+) lb, (blocked)?")
    found = 0
    for show, question in asked.items():
        if match := pattern.search(show):
            length_ft, weight_lb, blocked = int(match[1]), int(match[2].replace(",", "")), match[3]
            tens = math.ceil(length_ft / 10)
            unblocked = 1 if length_ft <= 5 and weight_lb <= 1_100 else max(2, 1 + tens)
            assert question.answer == (tens if blocked else unblocked), show
            found += 1
    assert found > 50


def test_weakest_part_question__has_the_lower_mark(asked: dict[str, Question]) -> None:
    """49 CFR 393.108(a), read: the lowest of the components; each part asked about is weaker than its chain."""
    marks = {show: re.search(r"good for with an? \w+ marked ([\d,]+) lb", show) for show in asked}
    found = {show: int(match[1].replace(",", "")) for show, match in marks.items() if match}
    assert len(found) > 20
    assert all(asked[show].answer == mark for show, mark in found.items())


def test_sum_question__counts_those_that_come_back_half(asked: dict[str, Question]) -> None:
    """49 CFR 393.106(d)(2) and (3), read; 393.108 chain table, read: 2 x 6,600 + 2 x 3,300 lb, derived."""
    reach, back = "two reach the other side", "two come back to the same side"
    show = f"Of four grade 70 chains of 3/8 in, {reach} and {back}: what do they count?"
    assert asked[show].answer == 19_800


def test_every_question__has_words_a_clause_and_a_mark(asked: dict[str, Question]) -> None:
    for question in asked.values():
        assert not re.search(r"\d", question.say + question.why_say)
        assert question.rule.startswith("49 CFR 39")
        assert re.search(r"\((read|in other words|memory|derived)\)", question.why)
        assert isinstance(question.answer, bool) or question.answer > 0


def test_sums__are_round_enough_to_say(asked: dict[str, Question]) -> None:
    assert all(isinstance(one.answer, bool) or one.answer < 100 or one.answer % 50 == 0 for one in asked.values())


@given(st.integers())
def test_same_seed__gives_the_same_quiz_and_its_sorts_differ(seed: int) -> None:
    quiz = quiz_of(seed)
    assert quiz == quiz_of(seed)
    assert len(quiz.questions) == 5
    assert len({question.show for question in quiz.questions}) == 5


def test_other_seed__gives_another_quiz() -> None:
    assert len({quiz_of(seed).questions for seed in range(20)}) > 15


def test_how_many_chains__is_asked_of_the_drivers_own() -> None:
    shows = [question.show for seed in range(30) for question in quiz_of(seed, OWN, length=13).questions]
    chains = [show for show in shows if show.startswith("How many") and "all to the other side" in show]
    assert chains
    assert all("1/2 in grade 43 chains" in show for show in chains)


@given(st.integers(0, 10_000), st.lists(st.booleans(), min_size=5, max_size=5))
def test_score__counts_right_answers(seed: int, wills: list[bool]) -> None:
    quiz = quiz_of(seed)
    said = ""
    for will in wills:
        question = quiz.current
        assert question is not None
        if isinstance(question.answer, bool):
            given_answer: float | bool = question.answer is will
        else:
            given_answer = question.answer if will else question.answer + 1
        quiz, said, shown = mark_answer(quiz, given_answer)
        assert not re.search(r"\d", said)
        assert question.rule in shown
        assert len(re.findall(r"[.?](?=\s|$)", said)) == 2
    assert quiz.right == tuple(wills)
    assert quiz.current is None
    words = ("zero", "one", "two", "three", "four", "five")[sum(wills)].capitalize()
    assert f"{words} of five" in said


NUMBER = Question(say="How many?", show="How many?", answer=4.0, unit="chains", why="Four.\n49 CFR 393.106(d) (read)",
                  why_say="four, by the rule.", rule="49 CFR 393.106(d)")  # fmt: skip
YES = NUMBER.model_copy(update={"say": "May it?", "show": "May it?", "answer": True, "why_say": "yes, it may."})


def test_right_answer__names_the_clause_and_asks_the_next() -> None:
    quiz, said, shown = mark_answer(Quiz(questions=(NUMBER, YES)), 4)
    assert said == "Right, by three ninety three point one oh six, paragraph d. Number two: May it?"
    assert shown == "Right: 4 chains\n    Four.\n    49 CFR 393.106(d) (read)\n\nNumber 2: May it?\n"
    assert quiz.right == (True,)


def test_wrong_answer__says_why() -> None:
    quiz, said, _ = mark_answer(Quiz(questions=(NUMBER, YES)), 3)
    assert said == "Not so: four, by the rule. Number two: May it?"
    assert quiz.right == (False,)


def test_passed_question__is_told_and_does_not_score() -> None:
    quiz, said, _ = mark_answer(Quiz(questions=(NUMBER, YES)), float("nan"))
    assert said == "Passed: four, by the rule. Number two: May it?"
    assert quiz.right == (False,)


def test_passed_yes_or_no__is_passed_and_not_wrong() -> None:
    quiz, said, _ = mark_answer(Quiz(questions=(YES,)), float("nan"))
    assert said.startswith("Passed: yes, it may.")
    assert quiz.right == (False,)


def test_last_answer__gives_the_score() -> None:
    quiz = Quiz(questions=(NUMBER, YES), right=(True,))
    assert mark_answer(quiz, given=False)[1] == "Not so: yes, it may. One of two."
    assert mark_answer(quiz, given=True)[1].endswith("Two of two, every one.")


@pytest.mark.parametrize(
    ("question", "not_understood", "lead"),
    [
        (NUMBER, None, "I need a number."),
        (NUMBER, True, "I need a number."),
        (YES, None, "Yes or no?"),
        (YES, 4.0, "Yes or no?"),
    ],
)
def test_what_was_not_understood__is_asked_again_and_does_not_count(
    question: Question,
    not_understood: float | bool | None,  # noqa: FBT001 - an answer is either
    lead: str,
) -> None:
    quiz = Quiz(questions=(question,))
    again, said, shown = mark_answer(quiz, not_understood)
    assert again == quiz
    assert said == f"{lead} {question.say}"
    assert shown == f"{lead}\n{question.show}\n"


@pytest.mark.parametrize("given_answer", [float("nan"), float("inf"), -4.0])
def test_absurd_number__is_wrong(given_answer: float) -> None:
    assert mark_answer(Quiz(questions=(NUMBER,)), given_answer)[0].right == (False,)


def test_quiz__opens_with_its_length_and_ends_with_its_score() -> None:
    assert ask(Quiz(questions=(NUMBER, YES))) == ("Two questions. How many?", "Two questions. How many?\n")
    done = Quiz(questions=(NUMBER, YES), right=(True, False))
    assert ask(done)[0] == "The quiz is over. One of two."
    assert mark_answer(done, 4) == (done, *ask(done))
    assert ask(Quiz(questions=()))[0] == "The quiz is over. No questions were asked."


def test_quiz__comes_back_from_json_with_numbers_as_numbers_and_yes_as_yes() -> None:
    quiz = Quiz(questions=(NUMBER, YES), right=(True,))
    back = Quiz.model_validate_json(quiz.model_dump_json())
    assert back == quiz
    assert isinstance(back.questions[1].answer, bool)
    assert not isinstance(back.questions[0].answer, bool)
