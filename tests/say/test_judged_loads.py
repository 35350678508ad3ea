"""Loads judged by the engine, then said, shown, read back and written out."""

import datetime as dt
import json
import re

import pytest
from hypothesis import given

from assistant.load.model import Coil, Eye, GearList, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.say.answer import Answer
from assistant.say.ear import spoken
from assistant.say.machine import as_json
from assistant.say.screen import shown, why
from assistant.securement.finding import Judgement
from assistant.securement.judge import judge
from assistant.securement.table_reader import read_sample_gear, read_tables
from tests.say.judged import LOADS

TABLES = read_tables()
SAMPLE = read_sample_gear()
DAY = dt.date(2026, 3, 2)
BED = Support(bunks=3, timbers=2, mats=True, nailed_only=False, on_deck=False)


def judged(load: Load, gear: GearList = SAMPLE) -> Judgement:
    return judge(load, tables=TABLES, gear=gear, on=DAY)


def chains(count: int, **told: object) -> Tiedown:
    usual = {"kind": Kind.CHAIN, "count": count, "size_in": 0.375, "grade": "70", "path": Path.ACROSS}
    return Tiedown.model_validate({**usual, **told})


def coil(weight_lb: float, *tiedowns: Tiedown, support: Support = BED) -> Load:
    return Load(coils=(Coil(weight_lb=weight_lb, eye=Eye.CROSSWISE),), tiedowns=tiedowns, support=support)


def both_ways(count: int, **told: object) -> tuple[Tiedown, Tiedown]:
    return (
        chains(count, pulls=Pull.FORWARD, through=Through.EYE, **told),
        chains(count, pulls=Pull.REARWARD, through=Through.EYE, **told),
    )


def test_three_chains_on_forty_thousand__is_short_by_two_hundred() -> None:
    """49 CFR 393.106(d), read; chain table of 393.108, read: 3 x 6,600 lb against 20,000 lb, derived."""
    judgement = judged(coil(40_000, chains(3)))
    assert spoken(judgement).startswith("Short by two hundred pounds. Add one chain")
    assert shown(judgement, Load()).startswith("━━━ SHORT BY 200 LB ━")


def test_met_load__is_told_with_its_margin_and_never_called_safe() -> None:
    """49 CFR 393.106(d), read: 4 x 6,600 lb against half of 37,600 lb, derived."""
    said = spoken(judged(coil(37_600, *both_ways(2))))
    assert said.startswith("Every rule I checked is met, by seven thousand six hundred pounds.")
    assert "safe" not in said


def test_chains_that_nobody_described__are_said_to_be_sample_gear() -> None:
    said = spoken(judged(coil(37_600, *both_ways(2, size_in=None, grade=None))))
    assert said.startswith("Every rule I checked is met on sample gear,")


def test_direction_that_nothing_holds__is_named() -> None:
    """49 CFR 393.120(c)(1)(ii), memory, in other words by agency pages: one tiedown against forward movement."""
    said = spoken(judged(coil(37_600, chains(4, pulls=Pull.REARWARD, through=Through.EYE))))
    assert said.startswith("Not met: forward movement is not held.")


def test_nailed_wood__is_a_stop() -> None:
    """49 CFR 393.120(c)(1)(i), memory, in other words by agency pages."""
    said = spoken(judged(coil(37_600, *both_ways(2), support=Support(timbers=2, nailed_only=True))))
    assert said.startswith("Stop")
    assert "nails alone" in said


def test_untold_eye__is_asked_for() -> None:
    load = Load(coils=(Coil(weight_lb=40_000),), tiedowns=(chains(4),))
    said = spoken(judged(load))
    assert said.startswith(
        "Half-weight line is met, six thousand four hundred pounds over. Which way does the eye point"
    )


@pytest.mark.parametrize("gear", [SAMPLE, GearList()])
def test_why__gives_a_clause_or_what_was_told_for_each_step(gear: GearList) -> None:
    judgement = judged(coil(37_600, *both_ways(2)), gear)
    text = " ".join(why(judgement).split())
    for finding in judgement.findings:
        assert finding.rule in text
        for step in finding.trace:
            assert " ".join(step.ref.split()) in text


@given(LOADS)
def test_any_judged_load__is_said_in_two_sentences_shown_within_the_screen_and_written_as_json(load: Load) -> None:
    judgement = judged(load)
    said = spoken(judgement)
    assert not re.search(r"\d|\bsafe\b", said)
    assert len(re.findall(r"[.?!](?=\s|$)", said)) <= 2
    screen = shown(judgement, load)
    assert all(len(line) <= 78 for line in (screen + why(judgement)).splitlines())
    answer = Answer(heard="", intent="told", understood=True, load=load, judgement=judgement, say=said, show=screen)
    told = json.loads(json.dumps(as_json(answer), allow_nan=False))
    assert all(tiedown["wll_lb"] is None or tiedown["counts_lb"] > 0 for tiedown in told["load"]["tiedowns"])
    assert len(told["load"]["tiedowns"]) == len(judgement.rated)
