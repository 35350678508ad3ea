"""What the driver saw of the load, its gear and what it stands on: no load with a fault on it is met.

The words expected of each finding are those of its clause, typed from the regulation, beside each row below. Where no
clause has the words the row is common practice, without a source.
"""

import datetime as dt
import tomllib
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.load.model import Coil, Eye, GearList, Load, Support, Tiedown
from assistant.say.ear import spoken
from assistant.securement.finding import Finding, Mark, Status
from assistant.securement.judge import judge
from assistant.securement.rule_sets import RuleSet, judge_by
from assistant.securement.table_reader import Tables, read_sample_gear, read_tables
from assistant.securement.us_393_104 import check_seen

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 3, 1)

HOLDING = Load.model_validate(
    {
        "coils": (Coil(weight_lb=20_000, eye=Eye.CROSSWISE),),
        "tiedowns": [{"kind": "chain", "count": 2, "pulls": way, "through": "eye"} for way in ("forward", "rearward")],
        "support": Support(bunks=4, timbers=2),
    }
)
"""A coil that meets every rule as long as nothing was seen to be wrong."""

# name: clause, mark, words of the text that say why, words of the remedy that name the thing.
NEW = {
    # (f)(3) "Each tiedown must be attached and secured in a manner that prevents it from becoming loose".
    "loose tiedown": ("49 CFR 393.104(f)(3)", Mark.READ, "come loose", "Tighten the loose tiedown"),
    # No clause speaks of a wet deck; 393.108(g) reckons with the friction of mats.
    "slick surface": ("common practice", Mark.PRACTICE, "friction", "wet or slick surface"),
    # 392.9(b)(2) "any adjustments to be made to the cargo ... to ensure that cargo cannot shift".
    "shifted cargo": ("49 CFR 392.9(b)(2)", Mark.READ, "adjust it so that it cannot shift", "cargo that has shifted"),
    # No clause speaks of a gap; 393.106(c)(1) "must be restrained by chocks, wedges, a cradle".
    "gap at the support": ("common practice", Mark.PRACTICE, "gap", "Close the gap"),
    # (b) "in proper working order ... with no damaged or weakened components".
    "damaged binder": ("49 CFR 393.104(b)", Mark.READ, "in working order, with no damaged or weakened", "binder"),
    # 393.112 "so the driver of an in-transit commercial motor vehicle can tighten them".
    "missing binder": ("49 CFR 393.112", Mark.READ, "tightened", "Put a binder on the chain"),
    # (c) "tiedown anchor points ... stakes, posts, and associated mounting pockets ... no damaged or weakened".
    "damaged anchor": ("49 CFR 393.104(c)", Mark.READ, "damaged or weakened", "damaged anchor"),
    # (d) "dunnage ..., chocks, cradles ... must not have damage or defects".
    "damaged support": ("49 CFR 393.104(d)", Mark.READ, "no damage or defect", "damaged support"),
    # (c) "floors, walls, decks ... with no damaged or weakened components".
    "damaged deck": ("49 CFR 393.104(c)", Mark.READ, "damaged or weakened", "deck"),
    # 393.100(b) "prevent the cargo from leaking, spilling, blowing or falling"; it does not speak of a broken crate.
    "damaged cargo": ("common practice", Mark.PRACTICE, "spill or fall", "damaged cargo"),
    # (f)(4) "Edge protection must be used whenever a tiedown would be subject to abrasion or cutting".
    "tiedown on an edge": ("49 CFR 393.104(f)(4)", Mark.READ, "edge protection must be used", "edge protection"),
}
OLD = (
    "lip", "inner lip", "paper and tag differ", "broken band", "telescoped", "damaged chain", "damaged strap",
    "damaged hook", "knot", "broken pallet", "binder bottomed out", "no edge protection",
    "sided vehicle without anchor points",
)  # fmt: skip
LOOKED_AT = {
    "egged": "it holds where it sits on both timbers; a gap is told as a gap",
    "wet eye": "water inside the coil is a claim, and bears on nothing that holds it",
    "damaged coil": "dents and scratches are a claim; a loose wrap is told as a lip, a broken band as that",
}
"""What leaves a load met, to be looked at, and why it may."""


def seen(name: str) -> Finding:
    (finding,) = check_seen(load=Load(seen=(name,)), tables=TABLES, on=ON)
    return finding


def with_seen(load: Load, *names: str) -> Load:
    return load.model_copy(update={"seen": names})


def test_the_load_is_met_while_nothing_was_seen() -> None:
    assert judge(HOLDING, tables=TABLES, gear=GEAR, on=ON).verdict is Status.MEETS


@pytest.mark.parametrize("name", NEW)
def test_what_was_seen_stops_the_load_by_its_clause(name: str) -> None:
    clause, mark, why, _ = NEW[name]
    judgement = judge(with_seen(HOLDING, name), tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict is Status.STOP
    (finding,) = (one for one in judgement.findings if one.status is Status.STOP)
    assert (finding.rule, finding.mark, finding.topic) == (clause, mark, name)
    assert why in finding.text


@pytest.mark.parametrize("name", NEW)
def test_the_remedy_names_the_thing_and_is_spoken(name: str) -> None:
    *_, thing = NEW[name]
    remedy = seen(name).remedy
    assert thing.lower() in remedy.lower()
    assert remedy.count(".") == 1
    assert len(remedy.split()) <= 16
    judgement = judge(with_seen(HOLDING, name), tables=TABLES, gear=GEAR, on=ON)
    assert spoken(judgement) == f"Stop: {name} seen. {remedy}"


def test_s104_f_4__no_edge_protection_stops_a_load_that_is_met_otherwise() -> None:
    # "Edge protection must be used whenever a tiedown would be subject to abrasion or cutting".
    judgement = judge(with_seen(HOLDING, "no edge protection"), tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict is Status.STOP
    assert judgement.findings[0].rule == "49 CFR 393.104(f)(4)"


def test_no_edge_protection__stops_though_other_tiedowns_are_protected() -> None:
    tiedowns = tuple(one.model_copy(update={"edge_protected": True}) for one in HOLDING.tiedowns)
    load = with_seen(HOLDING.model_copy(update={"tiedowns": tiedowns}), "no edge protection")
    assert judge(load, tables=TABLES, gear=GEAR, on=ON).verdict is Status.STOP


def test_each_row_of_the_table_is_judged_here() -> None:
    table = files("assistant.securement") / "tables" / "observations.toml"
    rows = tomllib.loads(table.read_text(encoding="utf-8"))["observation"]["values"]
    assert {row["name"] for row in rows} == {*NEW, *OLD, *LOOKED_AT}


@pytest.mark.parametrize("name", ["wet eye"])
def test_what_bears_on_no_securement__is_shown_and_leaves_the_verdict(name: str) -> None:
    judgement = judge(with_seen(HOLDING, name), tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict is Status.MEETS
    assert [one.status for one in judgement.findings if one.topic == name] == [Status.LOOK]


@pytest.mark.parametrize("name", ["egged", "damaged coil"])
def test_what_may_bear_on_securement__is_asked_before_anything_is_met(name: str) -> None:
    judgement = judge(with_seen(HOLDING, name), tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict is Status.ASK
    assert [one.status for one in judgement.findings if one.topic == name] == [Status.ASK]


def test_an_observation_without_a_row__is_asked_about_and_never_met() -> None:
    judgement = judge(with_seen(HOLDING, "green paint"), tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict is Status.ASK
    assert "green paint" in spoken(judgement)


FAULTS = st.lists(st.sampled_from([*NEW, *OLD, "green paint"]), min_size=1, max_size=3, unique=True)


@settings(max_examples=80, deadline=None)
@given(
    names=FAULTS,
    others=st.lists(st.sampled_from([*LOOKED_AT]), max_size=2, unique=True),
    rules=st.sampled_from([*RuleSet]),
    chains=st.integers(0, 8),
    protected=st.booleans(),
    yard=st.booleans(),
    eye=st.sampled_from([None, *Eye]),
    mats=st.sampled_from([None, True, False]),
)
def test_no_load_with_a_fault_seen_is_ever_met(  # noqa: PLR0913 - a load has that many sides
    *, names: list[str], others: list[str], rules: RuleSet, chains: int, protected: bool, yard: bool,
    eye: Eye | None, mats: bool | None,
) -> None:  # fmt: skip
    more = [Tiedown(kind="chain", count=chains, pulls="over", edge_protected=protected)] if chains else []
    load = HOLDING.model_copy(
        update={
            "coils": (Coil(weight_lb=20_000, eye=eye),),
            "tiedowns": (*HOLDING.tiedowns, *more),
            "support": Support(bunks=4, timbers=2, mats=mats),
            "seen": (*others, *names),
            "yard": yard,
        }
    )
    judgement = judge_by(rules, load, tables=TABLES, gear=GEAR, on=ON)
    assert judgement.verdict not in {Status.MEETS, None}
    assert set(names) - {"green paint"} <= {one.topic for one in judgement.findings}


@pytest.mark.parametrize("name", [*NEW, *OLD])
def test_a_fault_alone__is_judged_without_any_load(name: str, tables: Tables, no_gear: GearList) -> None:
    assert judge(Load(seen=(name,)), tables=tables, gear=no_gear, on=ON).verdict in {Status.STOP, Status.OUTSIDE}
