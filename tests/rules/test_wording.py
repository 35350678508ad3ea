"""What a finding says: whose tiedowns it counts, of what it speaks, and no clause that does not govern.

The clauses are those of the tests beside this one; here only their words are demanded.
"""

import datetime as dt

import pytest

from assistant.load.model import Article, Coil, Eye, GearList, Kind, Load, Row, Support, Tiedown
from assistant.securement.finding import Finding, Judgement
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables


@pytest.fixture
def judged(tables: Tables, sample: GearList, on: dt.date):  # noqa: ANN201 - a closure for the tests below
    def judge_it(**facts: object) -> Judgement:
        return judge(Load.model_validate(facts), tables=tables, gear=sample, on=on)

    return judge_it


def finding(found: Judgement, topic: str) -> Finding:
    return next(one for one in found.findings if one.topic == topic)


def strap(count: int, **facts: object) -> Tiedown:
    return Tiedown.model_validate({"kind": Kind.STRAP, "count": count, "pulls": "over", **facts})


def test_s110_a_range_is_in_the_plural_and_the_remedy_is_the_least(judged) -> None:  # noqa: ANN001
    # 22 ft: three where blocked forward, four where not (in other words).
    small = finding(judged(coils=(Coil(weight_lb=3000),), tiedowns=(strap(1),)), "count")
    assert small.text == "By length and weight between 1 and 2 tiedowns; 1 told."
    plate = Article(name="plate", weight_lb=4000, length_ft=22)
    long = finding(judged(articles=(plate,), tiedowns=(strap(2),)), "count")
    assert long.remedy == "Add at least one strap."
    told = plate.model_copy(update={"blocked_forward": True})
    assert finding(judged(articles=(told,), tiedowns=(strap(2),)), "count").remedy == "Add one strap."


def test_s110_tiedowns_that_coils_take_up_are_not_counted_as_told_for_the_rest(judged) -> None:  # noqa: ANN001
    found = judged(
        coils=(Coil(weight_lb=6000, eye=Eye.VERTICAL),),
        articles=(Article(name="beam", weight_lb=500, length_ft=12),),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=2, crossed=True), strap(2)),
        support=Support(mats=True),
    )
    assert finding(found, "count").text == "By length and weight between 2 and 3 tiedowns; 1 not taken up by coils."


def test_s106_d_a_limit_that_is_not_known_is_not_said_to_count_nothing(judged) -> None:  # noqa: ANN001
    found = judged(articles=(Article(weight_lb=2000, length_ft=4),), tiedowns=(strap(2, size_in=2.5),))
    assert finding(found, "aggregate").text == "Half the weight is 1,000 lb; the tiedowns of known limit count 0 lb."


def test_s106_d_a_path_asked_of_several_kinds_names_none(judged) -> None:  # noqa: ANN001
    found = judged(
        articles=(Article(weight_lb=20000, length_ft=4),),
        tiedowns=(Tiedown(kind=Kind.CHAIN), Tiedown(kind=Kind.STRAP)),
    )
    assert finding(found, "path").text.startswith("If the tiedowns come back to the same side")


def test_s120_b1_iv_what_was_told_not_to_be_there_is_not_called_untold(judged) -> None:  # noqa: ANN001
    loose = Support(mats=False, blocked_forward=False, blocked_rearward=False)
    found = judged(coils=(Coil(weight_lb=6000, eye=Eye.VERTICAL),), tiedowns=(strap(4),), support=loose)
    assert finding(found, "movement").text == "Nothing keeps the coil from moving forward and back."


@pytest.mark.parametrize(("row", "angle"), [(None, False), (Row.TRANSVERSE, True)])
def test_s120_b2_the_angle_of_rows_is_not_asked_of_single_upright_coils(
    judged,  # noqa: ANN001
    row: Row | None,
    *,
    angle: bool,
) -> None:
    found = judged(coils=(Coil(weight_lb=6000, eye=Eye.VERTICAL, count=2),), tiedowns=(strap(4),), row=row)
    assert any(one.topic == "angle" for one in found.findings) is angle


def test_s120_d4_a_row_is_called_a_row(judged) -> None:  # noqa: ANN001
    found = judged(
        coils=(Coil(weight_lb=6000, eye=Eye.LENGTHWISE, count=2),),
        tiedowns=(strap(2, place="front"),),
        row=Row.TRANSVERSE,
    )
    assert finding(found, "rear").remedy == "Add one strap over the top near the rear of the row."


def test_s120_c2_crossed_ones_that_are_asked_about_are_not_assumed(judged) -> None:  # noqa: ANN001
    found = judged(
        coils=(Coil(weight_lb=6000, eye=Eye.CROSSWISE), Coil(weight_lb=6000, eye=Eye.VERTICAL)),
        tiedowns=(Tiedown(kind=Kind.CHAIN, count=2, crossed=True),),
    )
    assert "The crossed tiedowns are taken to go through the eye." not in found.assumed


def test_s106_d_chains_through_a_crosswise_eye_go_across_whatever_stands_beside_it(judged) -> None:  # noqa: ANN001
    # Half of 31,000 lb is 15,500: 18,600 with the chains across, 12,000 with them counted half (derived).
    found = judged(
        coils=(Coil(weight_lb=30000, eye=Eye.CROSSWISE),),
        articles=(Article(name="crate", weight_lb=1000, length_ft=4, blocked_forward=True),),
        tiedowns=(
            Tiedown(kind=Kind.CHAIN, pulls="forward", through="eye"),
            Tiedown(kind=Kind.CHAIN, pulls="rearward", through="eye"),
            strap(1),
        ),
        support=Support(bunks=4, timbers=2),
    )
    assert not any(one.topic == "path" for one in found.findings)
