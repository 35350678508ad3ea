"""What a machine reads: fixed names, whole numbers as integers, nothing that JSON cannot hold."""

import json

from hypothesis import given
from hypothesis import strategies as st

from assistant.load.model import Article, Coil, Eye, Kind, Load, Path, Pull, Support, Tiedown
from assistant.say.answer import Answer
from assistant.say.machine import as_json
from assistant.securement.finding import Basis, Judgement, Rated, Status
from tests.say.judged import JUDGEMENTS, LOADS, sums

CHAINS = Tiedown(kind=Kind.CHAIN, count=4, size_in=0.375, grade="70", pulls=Pull.FORWARD)
LOAD = Load(
    coils=(Coil(weight_lb=37_600, eye=Eye.CROSSWISE), Coil()),
    articles=(Article(weight_lb=1_100.5, length_ft=5, blocked_forward=True),),
    tiedowns=(CHAINS,),
    support=Support(bunks=4, timbers=2, mats=True, nailed_only=False),
    seen=("lip",),
)
JUDGED = Judgement(
    findings=(sums(Status.MEETS, 26_400, need=18_800),),
    rated=(
        Rated(tiedown=CHAINS, wll_lb=6_600, basis=Basis.TABLE, path=Path.ACROSS, counts_lb=26_400, governs="chain"),
    ),
    needed_lb=18_800,
    counted_lb=26_400,
    assumed=("b",),
    asks=("what?",),
)


def answer(judgement: Judgement | None = JUDGED, load: Load = LOAD) -> Answer:
    return Answer(
        heard="four chains",
        intent="told",
        understood=True,
        load=load,
        judgement=judgement,
        say="s",
        show="t",
    )


def test_answer__has_the_names_and_the_order_that_were_promised() -> None:
    told = as_json(answer())
    assert list(told)[:12] == [
        "heard", "verdict", "needed_lb", "counted_lb", "margin_lb", "load", "findings", "open", "assumed", "asks",
        "say", "show",
    ]  # fmt: skip
    assert (told["verdict"], told["needed_lb"], told["counted_lb"], told["margin_lb"]) == (
        "meets",
        18_800,
        26_400,
        7_600,
    )
    assert told["assumed"] == ["b"]
    assert told["asks"] == ["what?"]
    assert tuple(told[name] for name in ("intent", "understood", "confidence", "confirm")) == ("told", True, None, [])


def test_load__has_each_noun_with_its_fields() -> None:
    load = as_json(answer())["load"]
    assert load["coils"] == [
        {"count": 1, "weight_lb": 37_600, "eye": "crosswise", "metal": None},
        {"count": 1, "weight_lb": None, "eye": None, "metal": None},
    ]
    assert {name: load["articles"][0][name] for name in ("weight_lb", "length_ft", "blocked_forward")} == {
        "weight_lb": 1_100.5, "length_ft": 5, "blocked_forward": True,
    }  # fmt: skip
    expected = {
        "kind": "chain", "count": 4, "size_in": 0.375, "grade": "70", "marked_lb": None, "wll_lb": 6_600,
        "basis": "table", "path": "across", "pulls": "forward", "counts_lb": 26_400,
    }  # fmt: skip
    assert {name: load["tiedowns"][0][name] for name in expected} == expected
    assert (load["support"]["bunks"], load["support"]["nailed_only"], load["seen"]) == (4, False, ["lip"])


def test_finding__has_rule_status_and_figures() -> None:
    (told,) = as_json(answer())["findings"]
    expected = {"rule": "49 CFR 393.106(d)", "status": "meets", "need": 18_800, "have": 26_400, "unit": "lb"}
    assert {name: told[name] for name in expected} == expected
    assert told["text"]
    assert told["trace"]


def test_whole_numbers__are_written_without_a_point() -> None:
    written = json.dumps(as_json(answer()))
    assert '"needed_lb": 18800,' in written
    assert '"weight_lb": 1100.5' in written


def test_nothing_judged__has_no_verdict_and_still_a_path_for_each_tiedown() -> None:
    told = as_json(answer(judgement=None))
    assert (told["verdict"], told["needed_lb"], told["counted_lb"], told["margin_lb"]) == (None, None, None, None)
    assert told["findings"] == []
    assert told["load"]["tiedowns"][0]["path"] == "across"
    assert told["load"]["tiedowns"][0]["wll_lb"] is None


@given(st.none() | JUDGEMENTS, LOADS)
def test_any_answer__is_json_and_comes_back_as_it_was(judgement: Judgement | None, load: Load) -> None:
    told = as_json(answer(judgement, load))
    assert json.loads(json.dumps(told, allow_nan=False)) == told
    assert all(tiedown["path"] for tiedown in told["load"]["tiedowns"])
