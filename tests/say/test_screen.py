"""What is shown: the verdict first, each rule with its clause beside it, nothing wider than a terminal."""

import pytest
from hypothesis import given

from assistant.load.model import Article, Coil, Eye, Kind, Load, Path, Pull, Row, Through, Tiedown
from assistant.say.picture import deck
from assistant.say.readback import describe, describe_spoken
from assistant.say.screen import CAUTION, finding_shown, shown, why
from assistant.securement.finding import Judgement, Mark, Status, Step
from tests.say.judged import FINDINGS, JUDGEMENTS, LOAD, LOADS, RATED, SHORT, finding, rated, sums

WIDTH = 78


def fits(text: str) -> bool:
    return all(len(line) <= WIDTH and line.isprintable() for line in text.splitlines())


def test_screen__begins_with_the_verdict_and_the_sums() -> None:
    first, second, *_ = shown(SHORT, LOAD).splitlines()
    assert first.startswith("━━━ SHORT BY 200 LB ━")
    assert second.split() == ["need", "20,000", "lb", "have", "19,800", "lb", "margin", "-200", "lb"]


def test_screen__shows_the_clause_and_its_mark_beside_the_rule() -> None:
    lines = shown(SHORT, LOAD).splitlines()
    row = next(index for index, line in enumerate(lines) if line.startswith("SHORT "))
    assert "Half the weight is 20,000 lb;" in lines[row]
    assert lines[row].endswith("49 CFR 393.106(d)")
    assert lines[row + 1].endswith("(read)")
    assert any("> Add one chain like those, across" in line for line in lines)


def test_screen__lists_assumptions_questions_and_what_only_eyes_can_check() -> None:
    asked = finding(Status.ASK, "eye", text="The eye is not known.", remedy="Which way?", mark=Mark.MEMORY)
    judgement = SHORT.model_copy(update={"findings": (*SHORT.findings, asked), "asks": ("Which way?",)})
    text = shown(judgement, LOAD)
    assert "Assumed\n  - Binders that were not described" in text
    assert "To answer\n  ? Which way?" in text
    assert "Only eyes can check\n  * Next stop within 50 miles." in text
    assert "(memory)" in text


def test_screen__always_ends_with_the_caution() -> None:
    for judgement in (SHORT, Judgement()):
        assert " ".join(shown(judgement, LOAD).split()).endswith(CAUTION)


def test_screen_of_nothing_judged__says_so() -> None:
    assert shown(Judgement(), Load()).startswith("━━━ NOTHING TO CHECK YET ━")


@given(JUDGEMENTS, LOADS)
def test_everything_shown__fits_and_is_printable(judgement: Judgement, load: Load) -> None:
    for text in (shown(judgement, load), why(judgement), deck(load), describe(load, judgement.rated)):
        assert fits(text)


@given(FINDINGS)
def test_finding_shown_alone__fits(one: object) -> None:
    assert fits(finding_shown(one))


def test_why__gives_each_step_with_its_clause_and_mark() -> None:
    steps = (
        Step(what="weight of the coil", value=40_000.0, unit="lb", formula="told"),
        Step(
            what="half the weight",
            value=20_000.0,
            unit="lb",
            ref="49 CFR 393.106(d)",
            mark=Mark.READ,
            formula="0.5 x 40,000",
        ),
    )
    worth = rated().model_copy(
        update={
            "trace": (Step(what="limit of one chain", value=6_600.0, unit="lb", ref="49 CFR 393.108", mark=Mark.READ),)
        }
    )
    text = why(Judgement(findings=(sums(Status.MEETS, 26_400, trace=steps),), rated=(worth,)))
    assert "1. weight of the coil: 40,000 lb  [told]\n" in text
    assert "2. half the weight: 20,000 lb  [0.5 x 40,000]\n        49 CFR 393.106(d) (read)" in text
    assert "3 x chain 3/8 in grade 70: 6,600 lb each, set by its chain (table), across,\n" in text
    assert "limit of one chain: 6,600 lb" in text


def test_why_of_nothing__says_so() -> None:
    assert why(Judgement()) == "Nothing was judged yet.\n"


@pytest.mark.parametrize(
    ("eye", "drawn"),
    [
        (Eye.CROSSWISE, "│ eye across"),
        (Eye.LENGTHWISE, "─ eye along"),
        (Eye.VERTICAL, "o eye up"),
        (None, "eye not told"),
    ],
)
def test_picture__shows_which_way_the_eye_points(eye: Eye | None, drawn: str) -> None:
    assert drawn in deck(Load(coils=(Coil(weight_lb=40_000, eye=eye),)))


def test_picture__counts_tiedowns_by_the_movement_they_hold() -> None:
    load = Load(
        coils=(Coil(weight_lb=40_000),),
        tiedowns=(
            Tiedown(kind=Kind.CHAIN, count=2, pulls=Pull.FORWARD),
            Tiedown(kind=Kind.CHAIN, count=3, pulls=Pull.REARWARD),
            Tiedown(kind=Kind.CHAIN, count=1, pulls=Pull.LEFT),
            Tiedown(kind=Kind.STRAP, count=1, through=Through.TOP),
            Tiedown(kind=Kind.STRAP, count=4),
        ),
    )
    lines = deck(load).splitlines()
    ends = next(line for line in lines if line.strip().startswith("2 │"))
    assert ends.endswith("│ 3")
    assert "left held by 1" in lines[0]
    assert lines[-1].strip() == "1 over the top, 4 with pull not told"
    assert lines[1].strip().startswith("◄ cab")


def test_picture_of_many_groups__says_how_many_are_not_drawn() -> None:
    load = Load(coils=(Coil(),) * 3, articles=(Article(), Article()), row=Row.LENGTHWISE)
    assert "and 2 more" in deck(load)
    assert "in line" in deck(load)


def test_readback__says_what_was_told_and_what_it_is_worth() -> None:
    load = Load(
        coils=(Coil(weight_lb=40_000, eye=Eye.CROSSWISE, metal="steel"), Coil(count=2)),
        articles=(Article(name="machine", weight_lb=14_000, length_ft=12, blocked_forward=False),),
        tiedowns=(
            Tiedown(
                kind=Kind.CHAIN,
                count=3,
                size_in=0.375,
                grade="70",
                path=Path.ACROSS,
                pulls=Pull.FORWARD,
                through=Through.EYE,
            ),
        ),
        seen=("lip", "knot"),
    )
    assert describe(load, (rated(),)).splitlines() == [
        "  One steel coil, 40,000 lb, eye crosswise.",
        "  Two coils, weight not told, eye not told.",
        "  One machine, 14,000 lb, 12 ft long, not blocked in front.",
        "  Three chains, 3/8 in grade 70, through the eye, to the other side, against",
        "  forward movement. 6,600 lb each (table), counts 19,800 lb.",
        "  Seen: lip and knot.",
    ]


def test_readback_for_the_ear__is_two_sentences() -> None:
    load = Load(
        coils=(Coil(weight_lb=42_500, eye=Eye.VERTICAL),),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=4), Tiedown(kind=Kind.STRAP, size_in=4, marked_lb=5_400)),
        support=LOAD.support.model_copy(update={"bunks": 3, "mats": True}),
    )
    assert describe_spoken(load) == (
        "One coil, forty two thousand five hundred pounds, eye vertical. "
        "Four chains; one strap, four inches, marked five thousand four hundred pounds; three bunks and friction mats."
    )


def test_readback_of_an_empty_deck__says_so() -> None:
    assert describe(Load()) == "The deck is empty.\n"
    assert describe_spoken(Load()) == "The deck is empty."


@given(LOADS, RATED)
def test_readback__takes_any_load(load: Load, one: object) -> None:
    assert describe_spoken(load)
    assert fits(describe(load, (one,) * len(load.tiedowns)))
