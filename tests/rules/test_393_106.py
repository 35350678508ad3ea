"""49 CFR 393.106(d): the aggregate working load limit. Rule and shares: read. Sums: derived unless said otherwise."""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Path, Row, Tiedown
from assistant.securement.finding import Finding, Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables


class Judge:
    """Judges with the tables of the tests."""

    def __init__(self, tables: Tables, gear: GearList, on: dt.date) -> None:
        self.tables, self.gear, self.on = tables, gear, on

    def __call__(self, load: Load) -> Judgement:
        """Return the judgement of a load."""
        return judge(load, tables=self.tables, gear=self.gear, on=self.on)

    def aggregate(self, load: Load) -> Finding:
        """Return the finding on the sum."""
        return next(one for one in self(load).findings if one.topic == "aggregate")


@pytest.fixture
def judged(tables: Tables, sample: GearList, on: dt.date) -> Judge:
    return Judge(tables, sample, on)


def chains(count: int, path: Path | None = Path.ACROSS, **facts: object) -> Tiedown:
    told = {"kind": "chain", "count": count, "size_in": 0.375, "grade": "70", "path": path, **facts}
    return Tiedown.model_validate(told)


def coil(weight_lb: float | None, **facts: object) -> Coil:
    return Coil.model_validate({"weight_lb": weight_lb, **facts})


@pytest.mark.parametrize(
    ("path", "counts"),
    # Half of 6,600 lb for (d)(1) and (d)(2), all of it for (d)(3).
    [(Path.DIRECT, 3300), (Path.SAME_SIDE, 3300), (Path.ACROSS, 6600)],
)
def test_s393_106_d_each_path_counts_its_share(judged: Judge, path: Path, counts: float) -> None:
    found = judged(Load(coils=(coil(40000),), tiedowns=(chains(1, path),)))
    assert found.counted_lb == counts


@pytest.mark.parametrize(
    ("path", "count", "status"),
    # 40,000 lb needs 20,000: over the top 20,000 / 6,600 = 3.03, so four (three give 19,800); direct 6.06, so seven.
    [
        (Path.ACROSS, 3, Status.SHORT),
        (Path.ACROSS, 4, Status.MEETS),
        (Path.DIRECT, 6, Status.SHORT),
        (Path.DIRECT, 7, Status.MEETS),
    ],
)
def test_s393_106_d_40000_lb_needs_four_across_or_seven_direct(
    judged: Judge, path: Path, count: int, status: Status
) -> None:
    found = judged.aggregate(Load(coils=(coil(40000),), tiedowns=(chains(count, path),)))
    assert (found.status, found.need) == (status, 20000)


def test_s393_106_d_three_chains_are_200_lb_short(judged: Judge) -> None:
    found = judged.aggregate(Load(coils=(coil(40000),), tiedowns=(chains(3),)))
    assert found.margin == -200
    assert found.text == "Half the weight is 20,000 lb; these tiedowns count 19,800 lb."
    assert found.remedy == "Add one chain like those, across to the other side."


@pytest.mark.parametrize(("weight", "status"), [(39599, Status.MEETS), (39600, Status.MEETS), (39601, Status.SHORT)])
def test_s393_106_d_exactly_half_is_enough(judged: Judge, weight: float, status: Status) -> None:
    # Three at 6,600 lb: 19,800 lb, half of 39,600 lb. "At least one-half": read.
    assert judged.aggregate(Load(coils=(coil(weight),), tiedowns=(chains(3),))).status is status


def test_s393_106_d_unmarked_direct_chains_hold_10600_lb(judged: Judge) -> None:
    # Trade page, read: four direct chains without marks (2,650 lb) on a 14,000 lb machine count 5,300, for 10,600 lb.
    four = Tiedown(kind=Kind.CHAIN, count=4, size_in=0.375, unmarked=True, path=Path.DIRECT)
    machine = Article(name="machine", weight_lb=14000, length_ft=12)
    found = judged(Load(articles=(machine,), tiedowns=(four,)))
    assert (found.counted_lb, found.needed_lb, found.verdict) == (5300, 7000, Status.SHORT)
    lighter = machine.model_copy(update={"weight_lb": 10600})
    assert judged.aggregate(Load(articles=(lighter,), tiedowns=(four,))).status is Status.MEETS


def test_s393_106_d_30000_lb_needs_15000(judged: Judge) -> None:
    # Read.
    assert judged(Load(coils=(coil(30000),))).needed_lb == 15000


@pytest.mark.parametrize(
    ("weight", "need"),
    # Practice of a state manual, read: 36,500 lb, half is 18,250; 41,500 lb, half is 20,750; 12,000 lb, half is 6,000.
    [(36500, 18250), (41500, 20750), (12000, 6000)],
)
def test_s393_106_d_half_of_published_weights(judged: Judge, weight: float, need: float) -> None:
    assert judged(Load(coils=(coil(weight),))).needed_lb == need


@pytest.mark.parametrize("path", [Path.DIRECT, Path.SAME_SIDE])
def test_s393_106_d_a_tiedown_marked_8000_counts_4000_when_halved(judged: Judge, path: Path) -> None:
    # Practice of a state manual: percentage read, product derived.
    one = Tiedown(kind=Kind.CHAIN, marked_lb=8000, path=path)
    assert judged(Load(coils=(coil(20000),), tiedowns=(one,))).counted_lb == 4000


def test_s393_106_d_26000_lb_coil_with_three_five_sixteenths_chains(judged: Judge) -> None:
    # A drivers' forum, inputs read, arithmetic derived: 3 x 4,700 = 14,100 against 13,000.
    found = judged(Load(coils=(coil(26000),), tiedowns=(chains(3, size_in=0.3125),)))
    assert (found.counted_lb, found.needed_lb) == (14100, 13000)


def test_common_practice_four_chains_and_a_strap_on_40000_lb_are_amply_over(judged: Judge) -> None:
    # Common practice, no source: 4 x 6,600 + 5,400 = 31,800 against 20,000.
    strap = Tiedown(kind=Kind.STRAP, marked_lb=5400)
    found = judged(Load(coils=(coil(40000),), tiedowns=(chains(4, None), strap)))
    assert (found.needed_lb, found.counted_lb) == (20000, 31800)
    assert next(one for one in found.findings if one.topic == "aggregate").status is Status.MEETS


def test_s393_106_d_the_weight_of_everything_on_deck_counts(judged: Judge) -> None:
    load = Load(coils=(coil(10000, count=2), coil(5000)), articles=(Article(weight_lb=1000, count=3),))
    assert judged(load).needed_lb == 14000


def test_s393_106_d_two_sorts_of_tiedown_add_up(judged: Judge) -> None:
    # 2 x 6,600 + 0.5 x 4 x 4,700 = 22,600.
    load = Load(coils=(coil(40000),), tiedowns=(chains(2), chains(4, Path.DIRECT, size_in=0.3125)))
    assert judged(load).counted_lb == 22600


# What was not told.


def test_a_weight_that_was_not_told_is_asked_and_the_count_is_given(judged: Judge) -> None:
    found = judged(Load(coils=(coil(None),), tiedowns=(chains(4),)))
    assert (found.needed_lb, found.counted_lb, found.verdict) == (None, 26400, Status.ASK)
    assert found.asks[0] == "What does the coil weigh?"


def test_no_tiedown_told_is_asked_and_the_need_is_given(judged: Judge) -> None:
    found = judged(Load(coils=(coil(37600),)))
    assert (found.needed_lb, found.counted_lb) == (18800, None)
    assert found.asks[0] == "What holds it?"


def test_tiedowns_without_a_load_ask_what_is_on_deck(judged: Judge) -> None:
    found = judged(Load(tiedowns=(chains(4),)))
    assert (found.counted_lb, found.verdict, found.asks) == (26400, Status.ASK, ("What is on the deck?",))


def test_an_empty_load_is_not_judged(judged: Judge) -> None:
    found = judged(Load())
    assert (found.findings, found.verdict) == ((), None)


def test_a_limit_that_cannot_be_found_is_asked_and_never_met_by_it(judged: Judge) -> None:
    odd = chains(4, size_in=0.75)
    found = judged(Load(coils=(coil(40000),), tiedowns=(odd,)))
    assert (found.counted_lb, found.verdict) == (None, Status.ASK)
    assert "What working load limit is marked on the 3/4 in grade 70 chain?" in found.asks


def test_enough_without_the_tiedown_whose_limit_is_unknown_meets(judged: Judge) -> None:
    found = judged.aggregate(Load(coils=(coil(20000),), tiedowns=(chains(4), chains(1, size_in=0.75))))
    assert (found.status, found.have) == (Status.MEETS, 26400)


def test_a_path_that_was_not_told_is_assumed_aloud_and_asked_when_it_decides(judged: Judge) -> None:
    # 4 x 6,600 = 26,400 across, 13,200 counted half: only the first reaches 20,000.
    found = judged(Load(coils=(coil(40000),), tiedowns=(chains(4, None),)))
    assert "The chains are taken to go over, through or round to the other side of the vehicle." in found.assumed
    assert "Do all the chains reach the other side?" in found.asks
    assert "Only 13,200 lb count" in next(one for one in found.findings if one.topic == "aggregate").text


def test_a_path_that_does_not_decide_is_assumed_aloud_and_not_asked(judged: Judge) -> None:
    found = judged(Load(coils=(coil(20000),), tiedowns=(chains(4, None),)))
    assert "The chains are taken to go over, through or round to the other side of the vehicle." in found.assumed
    assert "Do all the chains reach the other side?" not in found.asks


def test_a_told_path_is_not_assumed(judged: Judge) -> None:
    assert not [
        one for one in judged(Load(coils=(coil(40000),), tiedowns=(chains(4),))).assumed if "taken to go" in one
    ]


def test_several_articles_say_that_each_alone_needs_its_half(judged: Judge) -> None:
    found = judged(Load(coils=(coil(10000, count=2),), tiedowns=(chains(4),)))
    assert "The tiedowns are summed over the whole load." in found.assumed
    assert any(one.topic == "each article" and one.status is Status.LOOK for one in found.findings)


def test_a_doubled_tiedown_is_one_and_that_is_said(judged: Judge) -> None:
    found = judged(Load(coils=(coil(40000),), tiedowns=(chains(2, doubled=True),)))
    assert found.counted_lb == 13200
    assert any(one.topic == "doubled" for one in found.findings)


def test_every_finding_has_its_source_in_its_trace(judged: Judge) -> None:
    for one in judged(Load(coils=(coil(40000),), tiedowns=(chains(4),))).findings:
        assert one.trace[0].ref.startswith(one.rule)
        assert one.trace[0].mark is one.mark


@pytest.mark.parametrize(
    ("eye", "told", "asked"),
    [
        # Half of 24,000 lb is 12,000: 2 x 6,600 across do, half of that does not.
        ("crosswise", {"pulls": "forward", "through": "eye"}, False),
        ("crosswise", {"pulls": "forward"}, False),
        ("crosswise", {"pulls": "left"}, True),
        ("vertical", {"pulls": "forward"}, True),
        ("vertical", {"pulls": "left"}, True),
        ("vertical", {"pulls": "over"}, False),
        ("vertical", {"crossed": True}, False),
        ("lengthwise", {"through": "top"}, False),
        ("lengthwise", {"pulls": "rearward"}, True),
        (None, {"through": "eye"}, True),
    ],
)
def test_s106_d2_a_path_is_asked_unless_the_course_makes_it_plain(
    tables: Tables, sample: GearList, on: dt.date, eye: str | None, told: dict[str, object], *, asked: bool
) -> None:
    # 49 CFR 393.106(d)(2), read: round the article and back to the same side counts half. That a chain through a
    # crosswise eye runs from side to side is derived.
    load = Load(
        coils=(Coil(weight_lb=24000, eye=eye and Eye(eye)),),
        tiedowns=(Tiedown.model_validate({"kind": "chain", "count": 2, **told}),),
    )
    found = judge(load, tables=tables, gear=sample, on=on)
    assert any(one.topic == "path" for one in found.findings) is asked


@pytest.mark.parametrize(
    ("row", "count", "looked"),
    [(Row.TRANSVERSE, 2, True), (Row.TRANSVERSE, 1, False), (Row.LENGTHWISE, 2, False), (None, 2, False)],
)
@pytest.mark.parametrize("weight_lb", [2_000, 20_000])
def test_s106_c2_coils_beside_each_other_must_touch_or_be_kept_apart(  # noqa: PLR0913 - a load and what comes of it
    tables: Tables, sample: GearList, on: dt.date, row: Row | None, count: int, *, looked: bool, weight_lb: float
) -> None:
    # 49 CFR 393.106(c)(2), memory: for all that stands side by side under transverse tiedowns, coils too.
    load = Load(coils=(Coil(count=count, weight_lb=weight_lb, eye=Eye.LENGTHWISE),), row=row)
    found = judge(load, tables=tables, gear=sample, on=on).findings
    assert [one.rule for one in found if one.topic == "beside"] == ["49 CFR 393.106(c)(2)"] * looked
