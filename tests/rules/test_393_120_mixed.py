"""49 CFR 393.120: coils whose eyes point different ways share the tiedowns, each counted for one of them.

(b)(1) is read up to (ii), the rest from memory; each expected status follows from the clauses by hand: the tiedowns are
told so that all the coils have what they need, or lack just one, however they are shared out.
"""

import datetime as dt
from collections.abc import Callable
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.load.model import Coil, Eye, GearList, Kind, Load, Path, Place, Pull, Support, Through, Tiedown
from assistant.securement.coil_claims import Claim, sharings
from assistant.securement.finding import Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables

Shorts = Callable[..., list[str]]
"""Judges coils of 6,000 lb with these eyes and tiedowns: the topics of what is short, stopped or asked."""

HELD = Support(bunks=9, timbers=2, mats=True)
CROSSED = Tiedown(kind=Kind.CHAIN, count=2, crossed=True, path=Path.ACROSS, through=Through.TOP)


def over(kind: Kind, place: Place | None, count: int = 1) -> Tiedown:
    return Tiedown(kind=kind, count=count, path=Path.ACROSS, through=Through.TOP, pulls=Pull.OVER, place=place)


def eye(pulls: Pull | None, path: Path, count: int = 1) -> Tiedown:
    return Tiedown(kind=Kind.CHAIN, count=count, path=path, through=Through.EYE, pulls=pulls)


@pytest.fixture
def shorts(tables: Tables, sample: GearList, on: dt.date) -> Shorts:
    def judged(eyes: tuple[Eye, ...], *tiedowns: Tiedown) -> list[str]:
        coils = tuple(Coil(weight_lb=6000, eye=one) for one in eyes)
        found = judge(Load(coils=coils, tiedowns=tiedowns, support=HELD), tables=tables, gear=sample, on=on)
        return [one.topic for one in found.findings if one.status in {Status.SHORT, Status.STOP, Status.ASK}]

    return judged


UPRIGHT_AND_LENGTHWISE = (Eye.VERTICAL, Eye.LENGTHWISE)


@pytest.mark.parametrize("kinds", list(permutations([Kind.CHAIN, Kind.STRAP, Kind.WIRE_ROPE])))
def test_s120_b_d__one_in_the_middle_is_the_upright_coils_whatever_its_kind(
    shorts: Shorts, kinds: tuple[Kind, ...]
) -> None:
    # (b)(1)(iii): one over the upright coil; (d)(3): one over the front, one over the rear of the lengthwise one.
    limits = {"marked_lb": 6000, "size_in": 0.5}
    tiedowns = (
        over(kinds[0], Place.FRONT).model_copy(update=limits),
        over(kinds[1], Place.REAR).model_copy(update=limits),
        over(kinds[2], Place.MIDDLE).model_copy(update=limits),
    )
    assert shorts(UPRIGHT_AND_LENGTHWISE, CROSSED, *tiedowns) == []


@pytest.mark.parametrize("many", [Place.FRONT, Place.REAR])
def test_s120_b_d__the_upright_coil_takes_the_one_that_the_other_can_spare(shorts: Shorts, many: Place) -> None:
    few = Place.REAR if many is Place.FRONT else Place.FRONT
    assert shorts(UPRIGHT_AND_LENGTHWISE, CROSSED, over(Kind.CHAIN, many, 2), over(Kind.CHAIN, few)) == []


@pytest.mark.parametrize("place", [Place.FRONT, Place.REAR])
def test_s120_b_d__two_over_the_top_are_one_too_few(shorts: Shorts, place: Place) -> None:
    assert shorts(UPRIGHT_AND_LENGTHWISE, CROSSED, over(Kind.CHAIN, place, 2)) != []


def test_s120_c_d__what_holds_forward_is_left_to_the_crosswise_coil(shorts: Shorts) -> None:
    # (c)(1)(ii)-(iii) want one each way through the crosswise eye; (d)(2) two straight through the lengthwise one, and
    # one over it. The two straight ones are told as against forward movement too, and are not for the crosswise coil.
    tiedowns = (
        eye(Pull.FORWARD, Path.SAME_SIDE, 2),
        eye(Pull.FORWARD, Path.ACROSS),
        eye(Pull.REARWARD, Path.ACROSS),
        over(Kind.CHAIN, Place.MIDDLE),
    )
    assert shorts((Eye.CROSSWISE, Eye.LENGTHWISE), *tiedowns) == []
    assert shorts((Eye.CROSSWISE, Eye.LENGTHWISE), *tiedowns[1:]) != []


COUNTS = st.lists(st.integers(0, 3), min_size=4, max_size=4)


@given(have=COUNTS, wanted=COUNTS, both=st.integers(0, 3))
def test_whoever_can_have_their_own_gets_them(have: list[int], wanted: list[int], both: int) -> None:
    # Four sorts of tiedown and one that may stand for the first two: by Hall's condition all wants can be filled just
    # where each single want, and the first two together, find enough.
    names = ("forward", "rearward", "front", "rear")
    tiedowns = [over(Kind.CHAIN, None, number) for number in have if number]
    plays = [name for name, number in zip(names, have, strict=True) if number]
    if both:
        tiedowns.append(over(Kind.STRAP, None, both))
        plays.append("either")
    scheme = {
        ("forward", "either"): wanted[0],
        ("rearward", "either"): wanted[1],
        ("front",): wanted[2],
        ("rear",): wanted[3],
    }
    (share,) = sharings(tiedowns, [Claim(Eye.CROSSWISE, (scheme,), tuple(plays))])
    got = sum(one.count for one in share[Eye.CROSSWISE])
    lacking = max(0, wanted[0] - have[0]) + max(0, wanted[1] - have[1])
    best = (
        min(wanted[0], have[0])
        + min(wanted[1], have[1])
        + min(lacking, both)
        + min(wanted[2], have[2])
        + min(wanted[3], have[3])
    )
    assert got == best
