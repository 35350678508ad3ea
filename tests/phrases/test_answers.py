"""Short answers: to every question that the engine can ask, and only to what was asked."""

import itertools
import re
from collections.abc import Iterator

import pytest

from assistant.conversation import Conversation, Pending
from assistant.kit import Kit
from assistant.load.change import revised
from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Path, Pull, Row, Support, Through, Tiedown
from assistant.phrase.grammar import read_grammar
from assistant.reply import reply
from tests.conftest import Talk
from tests.phrases.asked import asked_by_the_engine

READ = read_grammar()
FORMS = READ.answers

ASKED = asked_by_the_engine()
# Questions without a form, each with its reason.
WITHOUT_FORM: dict[str, str] = {}


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


def test_questions__are_all_read_off_the_sources(questions: frozenset[str]) -> None:
    """What loads make the engine ask is found in its sources, names and sizes apart."""
    plain = {_plain(asked) for asked in ASKED}
    assert {asked for asked in questions if asked.endswith("?") and _plain(asked) not in plain} == set()
    assert len(ASKED) > 40


def _plain(question: str) -> str:
    """Return a question without what differs from load to load."""
    made = r"on the .*(chain|strap|wire rope|rope|steel strapping)s?\?"
    question = re.sub(made, "on the thing?", question)
    return re.sub(r"(chain|strap|wire rope|rope|tiedown|timber|bunk|coil|crate)s?\b", "thing", question)


@pytest.mark.parametrize("question", ASKED)
def test_every_question__has_a_form_for_short_answers(question: str, kit: Kit) -> None:
    form = kit.understander.grammar.answer_to(question)
    assert form or question in WITHOUT_FORM, f"{ASKED[question]} asks what grammar/answers.toml has no form for"


def test_every_form__belongs_to_a_question_that_is_asked() -> None:
    """No dead form: each one's question stands in the engine, or is asked in return by another form."""
    asked = [*ASKED, *(question for form in FORMS for question in form.back.values())]
    for form in FORMS:
        first = [question for question in asked if READ.answer_to(question) == form]
        assert first, form.asked


def test_exceptions__are_questions_that_are_asked() -> None:
    assert set(WITHOUT_FORM) <= set(ASKED)
    assert all(WITHOUT_FORM.values())


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


# Every question that can be asked aloud, with the answers that people give, and what of the load that must tell. Rows
# of the engine's questions; expected facts are written from the meaning of the words.
CROSSWISE = "forty coil eye crosswise four bunks two timbers mats two chains forward two chains rearward"
LENGTHWISE = "forty coil eye lengthwise four bunks two timbers mats"
THREADS = "forty coil crosswise four bunks two timbers mats four chains three threads left two forward two rearward"
OVER_BOTH = "one strap over the front and one strap over the rear"
SHORT_ANSWERS: list[tuple[str, str, str, str, dict[str, object]]] = [
    ("forty coil", "What holds it?", "four chains", "tiedowns", {"count": 4, "kind": "chain"}),
    ("four chains", "What is on the deck?", "forty two", "coils", {"weight_lb": 42_000}),
    ("coil", "What does the coil weigh?", "forty two five", "coils", {"weight_lb": 42_500}),
    ("two coils", "What does each coil weigh?", "twenty thousand", "coils", {"count": 2, "weight_lb": 20_000}),
    ("forty coil four chains", "Which way does the eye point", "to the side", "coils", {"eye": "crosswise"}),
    ("forty coil eye crosswise four chains", "What does it rest on?", "a cradle", "support", {"cradle": True}),
    ("forty coil eye crosswise four chains", "What does it rest on?", "wedges", "support", {"wedges": 2}),
    ("forty coil eye crosswise four chains on timbers", "How many bunks hold", "four", "support", {"bunks": 4}),
    ("forty coil eye crosswise four chains on wedges", "How many bunks hold", "three", "support", {"bunks": 3}),
    ("forty coil crosswise four chains on four bunks", "Do timbers or wedges lie", "yes", "support", {"timbers": 2}),
    ("forty coil crosswise four chains on four bunks", "Do timbers or wedges lie", "wedges", "support", {"wedges": 2}),
    ("forty coil eye crosswise cradle timbers are rated ten thousand two chains forward two rearward mats",
     "How many timbers does it rest on?", "four", "support", {"timbers": 4}),
    ("three thousand pound coil eye crosswise four chains", "What keeps the coil from rolling?", "timbers", "support",
     {"timbers": 2}),
    ("three thousand pound coil eye crosswise four chains", "What keeps the coil from rolling?", "nothing", "support",
     {"timbers": 0, "wedges": 0, "cradle": False}),
    (f"{CROSSWISE} half an inch of crush", "How much take-up is left on the binder?", "three inches", "tiedowns",
     {"take_up_in": 3, "size_in": None}),
    (f"{CROSSWISE} half an inch of crush", "How much take-up is left on the binder?", "about half an inch", "tiedowns",
     {"take_up_in": 0.5, "size_in": None}),
    (f"{CROSSWISE} half an inch of crush", "How much take-up is left on the binder?", "nothing", "tiedowns",
     {"threads_left": 0}),
    (f"{THREADS} half an inch of crush", "How much does one turn of the binder take up?", "a quarter inch", "tiedowns",
     {"lead_in": 0.25, "size_in": None}),
    (f"{CROSSWISE} the bulkhead is rated eighteen thousand", "How high is the bulkhead?", "six feet", "front",
     {"height_ft": 6, "rated_lb": 18_000}),
    (f"{CROSSWISE} the bulkhead is rated eighteen thousand", "How high is the bulkhead?", "three foot six", "front",
     {"height_ft": 3.5}),
    (f"{CROSSWISE} the bulkhead is six feet high", "What is the bulkhead rated for?", "twenty thousand", "front",
     {"rated_lb": 20_000}),
    (f"{CROSSWISE} the bulkhead is six feet high", "What is the bulkhead rated for?", "twenty thousand pounds", "front",
     {"rated_lb": 20_000}),
    ("forty coil eye up four chains mats", "Do two cross over the eye", "yes", "tiedowns[0]",
     {"count": 2, "crossed": True, "through": "top"}),
    ("forty coil eye up four chains mats", "Do two cross over the eye", "yes", "tiedowns[1]",
     {"count": 1, "crossed": False, "through": "top", "pulls": "over"}),
    (f"{LENGTHWISE} {OVER_BOTH} two chains through the eye", "Do those through the eye run", "on the diagonal",
     "tiedowns[2]", {"kind": "chain", "crossed": True, "path": None}),
    (f"{LENGTHWISE} {OVER_BOTH} two chains through the eye", "Do those through the eye run", "straight back",
     "tiedowns[2]", {"kind": "chain", "crossed": False, "path": "same side"}),
    (f"{LENGTHWISE} four chains through the eye two chains over the top", "Does one lie over the front", "yes",
     "tiedowns[1]", {"count": 1, "place": "front"}),
    (f"{LENGTHWISE} four chains through the eye two chains over the top", "Does one lie over the front", "yes",
     "tiedowns[0]", {"count": 4, "through": "eye", "place": None}),
    (f"{LENGTHWISE} six chains", "How do they run", "through the eye", "tiedowns", {"count": 6, "through": "eye"}),
    ("forty coil eye crosswise four bunks two timbers mats four chains", "How many keep it from moving forward",
     "two each way", "tiedowns", {"count": 2}),
    ("forty coil eye crosswise four bunks two timbers mats four chains", "How many keep it from moving forward",
     "three and one", "tiedowns[0]", {"count": 3, "pulls": "forward"}),
    ("a crate two thousand pounds with two straps", "How long is the crate?", "six feet", "articles", {"length_ft": 6}),
    ("a crate two thousand pounds six feet long with one strap", "Is the crate blocked", "no", "articles",
     {"blocked_forward": False}),
    ("a crate with two straps", "What does the crate weigh", "two thousand", "articles", {"weight_lb": 2_000}),
    ("a crate two thousand pounds six feet long blocked in front two straps marked six hundred use canadian rules",
     "Do any tiedowns hook to the article itself?", "no", "tiedowns", {"path": "across"}),
    ("forty coil four chains use canadian rules", "What working load limit is marked on the chains?",
     "sixty six hundred", "tiedowns", {"marked_lb": 6_600}),
    ("forty coil eye crosswise two straps over the top use the european method", "What does it rest on", "mats",
     "support", {"mats": True}),
    ("forty coil mats four chains four straps use the european method", "Which tiedowns go over the top", "straps",
     "tiedowns[1]", {"kind": "strap", "through": "top"}),
    ("forty coil mats two straps over the top use the european method", "How tight, in pounds", "five hundred pounds",
     "tiedowns", {"pretension_lb": 500}),
    ("forty coil mats two straps over the top pretension 500 use the european method", "How steep, in degrees", "sixty",
     "tiedowns", {"angle_deg": 60}),
    ("forty coil mats two straps over the top pretension 500 use the european method", "How steep, in degrees",
     "sixty degrees", "tiedowns", {"angle_deg": 60}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "asked", "answer", "of", "facts"), SHORT_ANSWERS, ids=[f"{row[1]} {row[2]}" for row in SHORT_ANSWERS]
)
def test_short_answer__tells_what_was_asked(
    talk: Talk, said: str, asked: str, answer: str, of: str, facts: dict[str, object]
) -> None:
    _, before = talk(said)
    assert before.pending
    assert before.pending.asked[0].startswith(asked)
    assert before.pending.spoken
    given, after = talk(answer, conversation=before)
    assert given.understood
    noun, _, place = of.rstrip("]").partition("[")
    told = getattr(after.load, noun)
    items = [told[int(place)]] if place else [*told] if isinstance(told, tuple) else [told]
    assert items
    for item in items:
        assert {name: getattr(item, name) for name in facts} == facts


def test_short_answers__are_tried_for_every_form_that_no_other_test_tries() -> None:
    """Each form stands in a row above, in TOLD or in SUPPORTED, or is asked in return by one that does."""
    tried = {asked for _, asked, *_ in SHORT_ANSWERS}
    elsewhere = {"Does any wrap come loose", "Does it sit evenly",
                 "What grade is stamped", "How wide is the", "How thick is the", "What fiber is the",
                 "How wide and how thick", "What size is the"}  # fmt: skip
    open_only = {"What keeps it from moving", "Do all the", "Do the crossed ones go", "How many keep the row"}
    returned = {question for form in FORMS for question in form.back.values()}
    for form in FORMS:
        begun = [*tried, *elsewhere, *open_only, *returned]
        assert any(form.asked.startswith(start) or start.startswith(form.asked) for start in begun), form.asked


def settled(kit: Kit, load: Load, asked: str, *answers: str) -> Conversation:
    """Answer a question that is put to a load straight, as if the engine had just spoken it."""
    state = Conversation(gear=kit.sample_gear, load=load, pending=Pending(asked=(asked,)))
    for answer in answers:
        given, state = reply(answer, state, kit=kit)
        assert given.understood, answer
    return state


MOVING = [
    ("forward and back: blocking or mats?", "blocking", {"blocked_forward": True, "blocked_rearward": True}),
    ("forward and back: blocking or mats?", "mats", {"mats": True}),
    ("forward and back: blocking or mats?", "nothing",
     {"mats": False, "blocked_forward": False, "blocked_rearward": False}),
    ("forward: blocking or mats?", "blocking", {"blocked_forward": True}),
    ("forward: blocking or mats?", "none", {"mats": False, "blocked_forward": False}),
    ("back: blocking, mats or tiedowns?", "blocking", {"blocked_rearward": True}),
    ("back: blocking, mats or tiedowns?", "nothing", {"mats": False, "blocked_rearward": False}),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "answer", "facts"), MOVING)
def test_movement__can_be_answered_short(kit: Kit, asked: str, answer: str, facts: dict[str, object]) -> None:
    lying = Load(coils=(Coil(weight_lb=40_000, eye=Eye.LENGTHWISE),))
    after = settled(kit, lying, f"What keeps it from moving {asked}", answer)
    assert after.load.support == Support.model_validate(facts)


def test_other_side__is_told_only_to_tiedowns_that_lack_it(kit: Kit) -> None:
    same = Tiedown(kind=Kind.CHAIN, count=2, path=Path.SAME_SIDE)
    both = Load(coils=(Coil(weight_lb=40_000),), tiedowns=(same, Tiedown(kind=Kind.CHAIN, count=4)))
    after = settled(kit, both, "Do all the chains reach the other side?", "yes")
    assert [group.path for group in after.load.tiedowns] == [Path.SAME_SIDE, Path.ACROSS]


def test_crossed_ones__are_told_where_they_cross(kit: Kit) -> None:
    tiedowns = (Tiedown(kind=Kind.CHAIN, count=2, crossed=True), Tiedown(kind=Kind.STRAP))
    load = Load(coils=(Coil(eye=Eye.CROSSWISE), Coil(eye=Eye.VERTICAL)), tiedowns=tiedowns)
    asked = "Do the crossed ones go through the eye of the crosswise coil, or over another?"
    assert settled(kit, load, asked, "through the eye").load.tiedowns[0].through is Through.EYE
    over = settled(kit, load, asked, "over another").load
    assert (over.tiedowns[0].through, over.tiedowns[1], len(over.coils)) == (Through.TOP, tiedowns[1], 2)


def test_row__can_be_answered_by_three_numbers(kit: Kit) -> None:
    load = Load(
        coils=(Coil(count=2, eye=Eye.VERTICAL),), row=Row.TRANSVERSE, tiedowns=(Tiedown(kind=Kind.CHAIN, count=5),)
    )
    asked = "How many keep the row from moving forward, how many from moving back, how many go over the top?"
    after = settled(kit, load, asked, "two two and one")
    told = [(group.count, group.pulls) for group in after.load.tiedowns]
    assert told == [(2, Pull.FORWARD), (2, Pull.REARWARD), (1, Pull.OVER)]


@pytest.mark.parametrize(("answer", "count"), [("bunks", 4), ("coil racks", 3), ("on bunks", 5)])
def test_bunks__without_a_number_are_asked_for_it(kit: Kit, answer: str, count: int) -> None:
    load = Load(coils=(Coil(weight_lb=40_000, eye=Eye.CROSSWISE),))
    between = settled(kit, load, "What does it rest on?", answer)
    assert between.load.support.some_bunks
    assert between.load.coils == load.coils
    assert between.last
    assert between.last.asks == ("How many bunks are there?",)
    after = settled(kit, load, "What does it rest on?", answer, str(count))
    assert after.load.support.bunks == count


def test_size__is_told_to_chains_of_which_it_was_asked(kit: Kit) -> None:
    load = Load(coils=(Coil(weight_lb=40_000),), tiedowns=(Tiedown(kind=Kind.CHAIN, count=4),))
    for said in ("half", "half inch", "half an inch"):
        (chains,) = settled(kit, load, "What size is the chain?", said).load.tiedowns
        assert (chains.size_in, chains.count) == (0.5, 4)


def test_weight_and_length__go_to_the_article_that_the_question_names(kit: Kit) -> None:
    """Whatever was spoken of last."""
    load = Load(articles=(Article(name="crate", count=2), Article(name="machine", weight_lb=900)))
    after = settled(kit, load, "What does each crate weigh?", "two thousand")
    assert [(one.count, one.weight_lb) for one in after.load.articles] == [(2, 2_000), (1, 900)]
    after = settled(kit, load, "How long is the crate?", "six foot six")
    assert [one.length_ft for one in after.load.articles] == [6.5, None]
    after = settled(kit, load, "Is the crate blocked against moving forward?", "yes")
    assert [one.blocked_forward for one in after.load.articles] == [True, None]


def test_no__to_the_other_side_asks_which(kit: Kit) -> None:
    load = Load(coils=(Coil(weight_lb=40_000),), tiedowns=(Tiedown(kind=Kind.CHAIN, count=4),))
    after = settled(kit, load, "Do all the chains reach the other side?", "no", "two to the same side")
    assert [(group.count, group.path) for group in after.load.tiedowns] == [(2, Path.SAME_SIDE), (2, None)]


@pytest.mark.parametrize("said", ["which way can it move", "how many chains do I need"])
def test_question_that_another_answer_ends_in__is_open(talk: Talk, said: str) -> None:
    question = "What does the coil weigh?"
    asked, state = talk("coil eye crosswise four chains", "don't know", said)
    assert asked.say.endswith(question)
    assert state.pending
    assert state.pending.asked[0] == question
    assert state.pending.spoken
    _, after = talk("thirty eight two", conversation=state)
    assert [coil.weight_lb for coil in after.load.coils] == [38_200]


# ---- what the driver does not know -----------------------------------------------------------------------------------


@pytest.mark.parametrize("said", ["don't know", "not sure", "i don't know", "no idea", "um not sure", "I can't tell"])
def test_dont_know__leaves_it_open_and_asks_the_next(talk: Talk, said: str) -> None:
    first, before = talk("forty coil eye crosswise four chains")
    assert first.say.endswith("What does it rest on?")
    answer, after = talk(said, conversation=before)
    assert answer.understood
    assert answer.say == "Left open. How many keep it from moving forward, how many from moving back?"
    assert after.load == before.load
    assert "What does it rest on?" in answer.show


def test_dont_know__to_everything_ends_the_asking(talk: Talk) -> None:
    answer, after = talk("forty coil eye crosswise four chains", "don't know", "don't know", "don't know")
    assert answer.say == "Left open. That is all I have to ask."
    told, after = talk("it's steel", conversation=after)
    assert told.say.endswith("What does it rest on?")


def test_dont_know__is_remembered_until_the_fact_is_told(talk: Talk) -> None:
    answer, after = talk("forty coil eye crosswise four chains", "don't know", "two forward two rearward")
    assert not answer.say.endswith("What does it rest on?") or len(answer.judgement.asks) == 1
    answer, after = talk("on a cradle", conversation=after)
    assert after.aside == ()


def test_dont_know__to_a_question_about_what_was_heard_leaves_all_as_it_was(talk: Talk) -> None:
    _, before = talk("four chains", "five chains")
    answer, after = talk("don't know", conversation=before)
    assert (answer.say, after.load) == ("Left as it was.", before.load)


@pytest.mark.parametrize("said", ["none of them go forward", "nothing goes over", "nothing but four chains"])
def test_nothing__beside_other_words_is_never_dropped(talk: Talk, said: str) -> None:
    _, before = talk("forty coil four chains")
    answer, after = talk(said, conversation=before)
    assert after.load == before.load
    assert after.open or not answer.understood


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


@pytest.mark.parametrize("said", ["okay", "ok", "sure"])
def test_okay__is_no_yes_to_what_was_read_back(kit: Kit, talk: Talk, said: str) -> None:
    first, state = reply("forty thousand pound coil", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0,))
    answer, state = talk(said, conversation=state)
    assert answer.say == first.say
    assert state.load == Load()
    assert talk("yes", conversation=state)[1].load.coils[0].weight_lb == 40_000


def test_doubtful_number_heard_the_same_again__is_asked_again(kit: Kit, talk: Talk) -> None:
    said = "thirty thousand five hundred pounds"
    _, state = reply(said, Conversation(gear=kit.sample_gear), kit=kit, unsure=(0, 1, 2, 3))
    answer, state = talk(said, conversation=state)
    assert answer.asks
    assert state.load == Load()
    assert talk("yes", conversation=state)[1].load.coils[0].weight_lb == 30_500


def test_phrase_of_which_a_part_was_doubtful__is_asked_again_where_that_part_is_heard_the_same(
    kit: Kit, talk: Talk
) -> None:
    _, state = reply("forty coil eye crosswise four chains", Conversation(gear=kit.sample_gear), kit=kit, unsure=(0, 1))
    answer, state = talk("forty coil eye crosswise five chains", conversation=state)
    assert answer.confirm == ("forty coil eye crosswise",)
    assert state.load == Load()
    assert talk("fourteen coil eye crosswise five chains", conversation=state)[1].load.coils[0].weight_lb == 14_000


@pytest.mark.parametrize("denied", [False, True])
def test_question_that_was_open__is_open_again_once_what_was_read_back_is_settled(
    kit: Kit, talk: Talk, *, denied: bool
) -> None:
    _, before = talk("forty coil two half inch ropes forward")
    assert before.pending is not None
    assert "fiber" in before.pending.asked[0]
    answer, state = reply("nylon", before, kit=kit, hazy=True)
    assert answer.confirm == ("nylon",)
    _, state = talk("no", "nylon", conversation=state) if denied else talk("yes", conversation=state)
    assert [group.material for group in state.load.tiedowns] == ["nylon"]


def test_scratch_that_after_a_read_back__drops_what_was_held_and_nothing_else(kit: Kit, talk: Talk) -> None:
    _, before = talk("forty coil eye crosswise")
    _, state = reply("fourteen chains", before, kit=kit, unsure=(0,))
    answer, after = talk("scratch that", conversation=state)
    assert answer.say == "Left as it was."
    assert after.load == before.load
    assert after.pending is None or after.pending.settles is None


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


@pytest.mark.parametrize("said", ["four chains forward", "start over", "use canadian rules", "my chains are half inch"])
def test_what_was_heard_badly_changes_nothing_until_it_is_confirmed(said: str, kit: Kit) -> None:
    before = Conversation(gear=kit.sample_gear, load=Load(coils=(Coil(weight_lb=30_000),)))
    _, plain = reply(said, before, kit=kit)
    answer, held = reply(said, before, kit=kit, hazy=True)
    assert (held.load, held.gear, held.rules) == (before.load, before.gear, before.rules)
    assert answer.confirm == (said,)
    assert answer.say.endswith("Is that right?")
    _, after = reply("yes", held, kit=kit)
    assert (after.load, after.gear, after.rules) == (plain.load, plain.gear, plain.rules)
    _, left = reply("no", held, kit=kit)
    assert (left.load, left.gear, left.rules) == (before.load, before.gear, before.rules)


def test_a_question_heard_badly_is_answered_for_it_changes_nothing(kit: Kit) -> None:
    before = Conversation(gear=kit.sample_gear, load=Load(coils=(Coil(weight_lb=30_000),)))
    answer, _ = reply("how many chains do i need", before, kit=kit, hazy=True)
    assert not answer.confirm


def test_where_a_number_that_no_word_tells_was_heard_badly_all_is_read_back(kit: Kit) -> None:
    """A yes to "eighteen thousand pound coil" alone would take "a strap" with it, and two straps were said."""
    before = Conversation(gear=kit.sample_gear)
    said = "eighteen thousand pound coil a strap"
    assert reply(said, before, kit=kit, unsure=(0, 1))[0].confirm == ("eighteen thousand pound coil",)
    assert reply(said, before, kit=kit, unsure=(0, 1), hazy=True)[0].confirm == (said,)


@pytest.mark.parametrize("said", ["yes", "yeah", "that's right"])
def test_a_reply_heard_badly_has_the_same_read_back_again(said: str, kit: Kit) -> None:
    before = Conversation(gear=kit.sample_gear)
    first, asked = reply("forty thousand pound coil", before, kit=kit, unsure=(0,))
    answer, again = reply(said, asked, kit=kit, hazy=True)
    assert answer.say == f"I did not catch that. {first.say}"
    assert answer.confirm == first.confirm
    assert (again.load, again.pending) == (before.load, asked.pending)
    _, after = reply(said, again, kit=kit)
    assert [coil.weight_lb for coil in after.load.coils] == [40_000]
