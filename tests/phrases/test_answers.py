"""Short answers: to every question that the engine can ask, and only to what was asked."""

import itertools
import re
from collections.abc import Iterator

import pytest

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.change import revised
from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Path, Pull, Row, Support, Through, Tiedown
from assistant.phrase.grammar import read_grammar
from assistant.reply import reply
from tests.phrases.conftest import Talk

FORMS = read_grammar().answers

# Answered by whole phrases ("four chains", "blocked in front", "a forty thousand pound coil"), never by a bare value.
OPEN = (
    "What is on the deck?",
    "What holds it?",
    "What keeps ",
    "Do the crossed ones go ",
    "Which ",
)


def loads() -> Iterator[Load]:
    """Yield loads with every kind of gap that the engine asks about."""
    supports = [
        Support(), Support(timbers=2), Support(bunks=3), Support(bunks=3, timbers=2), Support(mats=True),
        Support(bunks=0, timbers=0, wedges=0, cradle=False),
    ]  # fmt: skip
    makes = [
        Tiedown(kind=Kind.CHAIN, count=4),
        Tiedown(kind=Kind.CHAIN, count=4, size_in=0.375),
        Tiedown(kind=Kind.CHAIN, count=4, size_in=0.875, grade="70"),
        Tiedown(kind=Kind.STRAP, count=4),
        Tiedown(kind=Kind.STRAP, count=4, size_in=5),
        Tiedown(kind=Kind.WIRE_ROPE, count=4),
        Tiedown(kind=Kind.WIRE_ROPE, count=4, size_in=5),
        Tiedown(kind=Kind.ROPE, count=4),
        Tiedown(kind=Kind.ROPE, count=4, size_in=0.5),
        Tiedown(kind=Kind.ROPE, count=4, size_in=5, material="nylon"),
        Tiedown(kind=Kind.STEEL_STRAP, count=4),
        Tiedown(kind=Kind.STEEL_STRAP, count=4, size_in=5, thickness_in=0.1),
    ]
    full = Tiedown(kind=Kind.CHAIN, count=4, size_in=0.375, grade="70")
    runs = [
        full.model_copy(update={"through": through, "crossed": crossed, "pulls": pulls, "path": path, "count": count})
        for through in (None, *Through)
        for crossed in (False, True)
        for pulls in (None, Pull.FORWARD, Pull.OVER)
        for path in (None, Path.ACROSS)
        for count in (2, 8)
    ]
    yield Load(tiedowns=(full,))
    for eye, weight, count in itertools.product((None, *Eye), (None, 3_000, 40_000), (1, 2)):
        coil = Coil(eye=eye, weight_lb=weight, count=count)
        for row, support in itertools.product((None, *Row) if count > 1 else (None,), supports):
            yield Load(coils=(coil,), row=row, support=support)
            if weight == 40_000:
                yield from (Load(coils=(coil,), row=row, support=support, tiedowns=(run,)) for run in runs)
        yield from (Load(coils=(coil,), tiedowns=(make,)) for make in makes)
    for weight, length in itertools.product((None, 2_000), (None, 6)):
        crate = Article(name="crate", weight_lb=weight, length_ft=length)
        yield from (Load(articles=(crate,), tiedowns=(revised(full, {"count": count}),)) for count in (1, 4))
    mixed = (Coil(eye=Eye.CROSSWISE, weight_lb=30_000), Coil(eye=Eye.VERTICAL, weight_lb=30_000))
    yield from (Load(coils=mixed, tiedowns=(run,)) for run in runs)


@pytest.fixture(scope="session")
def questions(kit: Kit) -> frozenset[str]:
    asked: set[str] = set()
    for gear in (GearList(), kit.sample_gear):
        for load in loads():
            asked.update(kit.judge(load, gear).asks)
    return frozenset(asked)


def test_engine__asks_many_different_questions(questions: frozenset[str]) -> None:
    assert len({re.sub(r"(chain|strap|wire rope|rope|coil|crate)s?", "thing", question) for question in questions}) > 15


def test_every_form__belongs_to_a_question_that_the_engine_asks(questions: frozenset[str]) -> None:
    assert [form for form in FORMS if not any(form.asked in asked and form.kind in asked for asked in questions)] == []


def test_every_question__has_a_form_or_is_answered_by_a_whole_phrase(questions: frozenset[str], kit: Kit) -> None:
    grammar = kit.understander.grammar
    unanswered = {asked for asked in questions if grammar.answer_to(asked) is None and not asked.startswith(OPEN)}
    assert {asked for asked in unanswered if asked.endswith("?")} == set()


def test_form__of_one_kind_fits_no_question_about_another(kit: Kit) -> None:
    grammar = kit.understander.grammar
    for kind in ("wire rope", "rope", "steel strapping", "strap", "chain"):
        form = grammar.answer_to(f"What working load limit is marked on the 5 in {kind}?")
        assert form
        assert form.kind == kind.removesuffix("ping")


ANSWERED: list[tuple[tuple[str, ...], str, object]] = [
    (("coil",), "forty two five", 42_500),
    (("coil",), "forty two", 42_000),
    (("coil",), "it weighs forty two five", 42_500),
    (("coil",), "forty thousand", 40_000),
]


@pytest.mark.parametrize(("said", "answer", "weight"), ANSWERED)
def test_weight__can_be_answered_bare(talk: Talk, said: tuple[str, ...], answer: str, weight: float) -> None:
    _, after = talk(*said, answer)
    assert [coil.weight_lb for coil in after.load.coils] == [weight]


TOLD = [
    ("forty coil|up", "coils", {"eye": "vertical"}),
    ("forty coil four chains|to the side", "coils", {"eye": "crosswise"}),
    ("forty coil four chains|lengthwise", "coils", {"eye": "lengthwise"}),
    ("forty coil two ropes|half inch", "tiedowns", {"size_in": 0.5}),
    ("forty coil two ropes|half inch|nylon", "tiedowns", {"material": "nylon"}),
    ("forty coil two ropes|half inch|no tag", "tiedowns", {"unmarked": True}),
    ("forty coil two wire ropes|half", "tiedowns", {"size_in": 0.5}),
    ("forty coil two steel straps|two inch by point oh four four", "tiedowns", {"size_in": 2, "thickness_in": 0.044}),
    ("forty coil four seven eighths chains|nine thousand", "tiedowns", {"marked_lb": 9_000}),
    ("forty coil four seven eighths chains|marked nine thousand", "tiedowns", {"marked_lb": 9_000}),
    ("a crate|two thousand pounds", "articles", {"weight_lb": 2_000}),
    ("a crate two thousand pounds with two straps|six feet", "articles", {"length_ft": 6}),
    ("a crate two thousand pounds with two straps|six", "articles", {"length_ft": 6}),
    ("a crate two thousand pounds six feet long with one strap|yes", "articles", {"blocked_forward": True}),
    ("a crate two thousand pounds six feet long with one strap|no", "articles", {"blocked_forward": False}),
]


@pytest.mark.parametrize(("said", "noun", "facts"), TOLD, ids=[said for said, _, _ in TOLD])
def test_fact__can_be_answered_short(talk: Talk, said: str, noun: str, facts: dict[str, object]) -> None:
    answer, after = talk(*said.split("|"))
    assert answer.understood
    (item,) = getattr(after.load, noun)
    assert {name: getattr(item, name) for name in facts} == facts


SUPPORTED = [
    ("forty coil eye crosswise four chains|four bunks", {"bunks": 4}),
    ("forty coil eye crosswise four chains|timbers", {"timbers": 2}),
    ("forty coil eye crosswise four chains on four bunks|yes", {"bunks": 4, "timbers": 2}),
    ("forty coil eye crosswise four chains on four bunks|no", {"bunks": 4, "timbers": 0}),
    ("forty coil eye crosswise four chains on two timbers|four", {"bunks": 4, "timbers": 2}),
    ("forty coil eye crosswise four chains on two timbers|um four", {"bunks": 4, "timbers": 2}),
]


@pytest.mark.parametrize(("said", "facts"), SUPPORTED, ids=[said for said, _ in SUPPORTED])
def test_support__can_be_answered_short(talk: Talk, said: str, facts: dict[str, object]) -> None:
    _, after = talk(*said.split("|"))
    assert after.load.support == Support.model_validate(facts)


def test_directions__can_be_answered_by_two_numbers(talk: Talk) -> None:
    _, after = talk("forty coil eye crosswise four chains on four bunks and two timbers", "two and two")
    assert [(group.count, group.pulls) for group in after.load.tiedowns] == [(2, Pull.FORWARD), (2, Pull.REARWARD)]


def test_yes__answers_only_what_was_said_aloud(talk: Talk) -> None:
    """Short of the half-weight line, the answer says what to add; the crossing is asked on the screen alone."""
    first, state = talk("forty coil eye up three chains")
    assert "?" not in first.say
    answer, after = talk("yes", conversation=state)
    assert not answer.understood
    assert after.load == state.load


def test_yes_to_an_open_question__asks_it_again(talk: Talk) -> None:
    first, state = talk("forty coil eye crosswise four chains")
    answer, _ = talk("yes", conversation=state)
    assert not answer.understood
    assert answer.say.endswith("What does it rest on?")
    assert first.say.endswith("What does it rest on?")


def test_mark__is_not_taken_for_chains_of_two_makes(talk: Talk) -> None:
    _, state = talk("forty coil two three eighths chains and two seven eighths chains")
    _, after = talk("nine thousand", conversation=state)
    assert all(group.marked_lb is None for group in after.load.tiedowns)


def test_doubtful_number__is_read_back_before_it_is_taken(kit: Kit, talk: Talk) -> None:
    first, state = reply("forty thousand pound coil", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    assert first.confirm == ("forty thousand pound coil",)
    assert state.load == Load()
    assert talk("yes", conversation=state)[1].load.coils[0].weight_lb == 40_000
    assert talk("no", conversation=state)[1].load == Load()
    assert talk("no fourteen thousand pounds", conversation=state)[1].load.coils[0].weight_lb == 14_000


def test_what_if_with_a_doubtful_number__is_judged_when_confirmed_and_changes_nothing(kit: Kit, talk: Talk) -> None:
    _, before = talk("forty two five coil crosswise on timbers and three bunks two chains forward")
    first, state = reply("what if i use two chains rearward", before, kit=kit, unsure=(0,))
    assert first.confirm
    answer, after = talk("yes", conversation=state)
    assert answer.intent == "what if"
    assert answer.say.startswith("If so:")
    assert (after.load, after.turns) == (before.load, before.turns)


def test_confirmed_number__still_tells_what_was_assumed(kit: Kit, talk: Talk) -> None:
    _, state = reply("forty coil", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    answer, _ = talk("yes", conversation=state)
    assert answer.judgement is not None
    assert "I take 40 as 40,000 lb." in answer.judgement.assumed


def test_confirmed_number__still_asks_what_the_rest_of_the_phrase_left_open(kit: Kit, talk: Talk) -> None:
    _, before = talk("two chains")
    plainly, _ = talk("forty thousand pound coil five chains", conversation=before)
    assert plainly.asks
    _, state = reply("forty thousand pound coil five chains", before, kit=kit, unsure=(0,))
    answer, _ = talk("yes", conversation=state)
    assert answer.asks == plainly.asks


def test_confirmed_number__still_answers_the_question_beside_it(kit: Kit, talk: Talk) -> None:
    said = "forty thousand pound coil four chains which way can it move"
    plainly, _ = talk(said)
    _, state = reply(said, Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    answer, _ = talk("yes", conversation=state)
    assert (answer.intent, answer.say) == (plainly.intent, plainly.say)
    assert answer.heard == "yes"


def test_doubtful_number_after_scratch_that__leaves_all_as_it_was_when_denied(kit: Kit, talk: Talk) -> None:
    _, before = talk("forty thousand pound coil", "two chains")
    first, state = reply("scratch that five chains", before, kit=kit, unsure=(0,))
    assert first.confirm
    assert first.load == before.load
    assert talk("no", conversation=state)[1].load == before.load
    assert [group.count for group in talk("yes", conversation=state)[1].load.tiedowns] == [5]
