"""49 CFR 393.108: what a tiedown is good for, part by part, marked or not, told or from the gear list.

The rules (a) to (d) and (f) are read; (e) is in other words. Sums are derived from the printed tables.
"""

import datetime as dt

import pytest

from assistant.load.model import Gear, GearList, Kind, Path, Tiedown
from assistant.securement.finding import Basis
from assistant.securement.rating import Rating, rate, rating
from assistant.securement.table_reader import Tables


@pytest.fixture
def rated(tables: Tables, on: dt.date):  # noqa: ANN201 - a closure for the tests below
    def rate_it(tiedown: Tiedown, gear: GearList | None = None) -> Rating:
        return rating(tiedown, tables=tables, gear=gear or GearList(), on=on)

    return rate_it


def chain(**facts: object) -> Tiedown:
    return Tiedown.model_validate({"kind": "chain", "size_in": 0.375, "grade": "70", **facts})


def test_s393_108_a_the_lowest_part_sets_the_limit(rated) -> None:  # noqa: ANN001
    # Grade 70 3/8 in 6,600 lb (read), binder 5,400 lb, anchor 5,000 lb: 5,000 lb (derived).
    one = rated(chain(binder_lb=5400, anchor_lb=5000)).rated
    assert (one.wll_lb, one.governs, one.basis) == (5000, "anchor", Basis.MARKED)


def test_s393_108_a_a_weak_binder_governs(rated) -> None:  # noqa: ANN001
    # Trade page: binder 8,800 lb on a 4,700 lb chain gives 4,700 lb (read); 5,400 lb on 6,600 lb gives 5,400 (derived).
    assert rated(chain(size_in=0.3125, binder_lb=8800)).rated.wll_lb == 4700
    assert rated(chain(binder_lb=5400)).rated.wll_lb == 5400


@pytest.mark.parametrize("part", ["binder_lb", "hook_lb", "winch_lb", "anchor_lb"])
def test_s393_108_a_each_part_can_govern(rated, part: str) -> None:  # noqa: ANN001
    below, at, above = (rated(chain(**{part: lb})).rated for lb in (6599, 6600, 6601))
    assert (below.wll_lb, at.wll_lb, above.wll_lb) == (6599, 6600, 6600)
    assert (below.governs, at.governs) == (part.removesuffix("_lb"), "chain")


def test_s393_108_b_the_mark_beats_the_table_either_way(rated) -> None:  # noqa: ANN001
    assert rated(chain(marked_lb=6000)).rated.wll_lb == 6000
    assert rated(chain(marked_lb=7000)).rated.wll_lb == 7000
    assert rated(chain(marked_lb=7000)).rated.basis is Basis.MARKED


def test_s393_108_d_unmarked_chain_is_grade_30(rated, sample: GearList) -> None:  # noqa: ANN001
    # 5/16 in grade 70 is 4,700 lb, unmarked it falls to grade 30, 1,900 lb (read); 3/8 in: 2,650 lb (read).
    assert rated(chain(size_in=0.3125)).rated.wll_lb == 4700
    assert rated(Tiedown(kind=Kind.CHAIN, size_in=0.3125, unmarked=True)).rated.wll_lb == 1900
    assert rated(Tiedown(kind=Kind.CHAIN, unmarked=True), sample).rated.wll_lb == 2650


def test_s393_108_d_a_grade_that_was_told_does_not_help_an_unmarked_chain(rated) -> None:  # noqa: ANN001
    one = rated(chain(unmarked=True))
    assert one.rated.wll_lb == 2650
    assert "Chain without marks is taken as grade 30." in one.assumed


def test_s393_108_c_unmarked_cordage_is_polypropylene(rated) -> None:  # noqa: ANN001
    # 1/2 in polypropylene 625 lb (memory); nylon 525 lb (memory) is lower and stays.
    assert rated(Tiedown(kind=Kind.ROPE, size_in=0.5, unmarked=True)).rated.wll_lb == 625
    assert rated(Tiedown(kind=Kind.ROPE, size_in=0.5, unmarked=True, material="polyester")).rated.wll_lb == 625
    assert rated(Tiedown(kind=Kind.ROPE, size_in=0.5, unmarked=True, material="nylon")).rated.wll_lb == 525


def test_s393_108_f_manila_goes_by_its_diameter(rated) -> None:  # noqa: ANN001
    # 1/2 in manila 315 lb (read).
    assert rated(Tiedown(kind=Kind.ROPE, size_in=0.5, unmarked=True, material="manila")).rated.wll_lb == 315


def test_s393_108_e_wire_rope_is_6x37_with_fiber_core(rated) -> None:  # noqa: ANN001
    # 3/8 in 3,000 lb (read).
    one = rated(Tiedown(kind=Kind.WIRE_ROPE, size_in=0.375))
    assert one.rated.wll_lb == 3000
    assert "Wire rope is taken as 6x37, fiber core." in one.assumed


def test_s393_108_steel_strapping_goes_by_width_and_thickness(rated) -> None:  # noqa: ANN001
    # 1-1/4 x 0.029 in 1,190 lb (read).
    strap = Tiedown(kind=Kind.STEEL_STRAP, size_in=1.25, thickness_in=0.029)
    assert rated(strap).rated.wll_lb == 1190


@pytest.mark.parametrize(
    ("tiedown", "question"),
    [
        (Tiedown(kind=Kind.CHAIN), "What size is the chain?"),
        (Tiedown(kind=Kind.CHAIN, size_in=0.375), "What grade is stamped on the chain, or has it no marks?"),
        (chain(size_in=0.75), "What working load limit is marked on the 3/4 in grade 70 chain?"),
        (chain(size_in=0.4375, grade="80"), "What working load limit is marked on the 7/16 in grade 80 chain?"),
        (Tiedown(kind=Kind.STRAP), "How wide is the strap, and what limit is on its tag?"),
        (Tiedown(kind=Kind.STRAP, size_in=3.5), "What working load limit is marked on the 3-1/2 in strap?"),
        (Tiedown(kind=Kind.WIRE_ROPE), "How thick is the wire rope?"),
        (Tiedown(kind=Kind.WIRE_ROPE, size_in=2), "What working load limit is marked on the 2 in wire rope?"),
        (Tiedown(kind=Kind.ROPE), "How thick is the rope?"),
        (Tiedown(kind=Kind.ROPE, size_in=0.5), "What fiber is the rope, or has it no label?"),
        (
            Tiedown(kind=Kind.ROPE, size_in=0.5, material="hemp"),
            "What working load limit is marked on the 1/2 in hemp rope?",
        ),
        (Tiedown(kind=Kind.STEEL_STRAP, size_in=2), "How wide and how thick is the steel strapping?"),
        (
            Tiedown(kind=Kind.STEEL_STRAP, size_in=2, thickness_in=0.06),
            "What working load limit is marked on the 2 by 0.06 in steel strapping?",
        ),
    ],
)
def test_s393_108_what_the_tables_do_not_print_is_asked_and_counts_nothing(
    rated,  # noqa: ANN001
    tiedown: Tiedown,
    question: str,
) -> None:
    one = rated(tiedown)
    assert one.rated.wll_lb is None
    assert one.rated.counts_lb == 0
    assert one.missing.question == question


# The gear list.


def test_gear_what_was_not_told_comes_from_the_sample_and_is_said(rated, sample: GearList) -> None:  # noqa: ANN001
    one = rated(Tiedown(kind=Kind.CHAIN, count=4), sample)
    assert (one.rated.wll_lb, one.rated.basis, one.rated.counts_lb) == (6600, Basis.SAMPLE_GEAR, 26400)
    assert "Sample gear list: chain 3/8 in grade 70, WLL 6,600 lb." in one.assumed
    assert "Sample gear list: binder marked 6,600 lb." in one.assumed


def test_gear_a_strap_of_the_listed_width_has_the_listed_mark(rated, sample: GearList) -> None:  # noqa: ANN001
    assert rated(Tiedown(kind=Kind.STRAP), sample).rated.wll_lb == 5400
    assert rated(Tiedown(kind=Kind.STRAP, size_in=4), sample).rated.wll_lb == 5400


def test_gear_a_strap_of_another_width_goes_by_the_table(rated, sample: GearList) -> None:  # noqa: ANN001
    one = rated(Tiedown(kind=Kind.STRAP, size_in=3), sample).rated
    assert (one.wll_lb, one.basis) == (3000, Basis.TABLE)


def test_gear_no_marks_sets_the_listed_mark_aside(rated, sample: GearList) -> None:  # noqa: ANN001
    # Webbing of 4 in without a mark: 4,000 lb (read).
    assert rated(Tiedown(kind=Kind.STRAP, unmarked=True), sample).rated.wll_lb == 4000


def test_gear_told_facts_beat_the_list(rated, sample: GearList) -> None:  # noqa: ANN001
    one = rated(chain(size_in=0.5), sample)
    assert (one.rated.wll_lb, one.rated.basis) == (11300, Basis.TABLE)
    assert "Binders that were not described are taken as no weaker than their chain." in one.assumed


def test_gear_the_drivers_own_binder_bounds_any_chain(rated) -> None:  # noqa: ANN001
    own = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70", marked_lb=6600, binder_lb=9200),))
    half_inch = rated(chain(size_in=0.5), own)
    assert (half_inch.rated.wll_lb, half_inch.rated.governs, half_inch.rated.basis) == (9200, "binder", Basis.GEAR_LIST)
    assert "Gear list: binder marked 9,200 lb." in half_inch.assumed
    assert rated(Tiedown(kind=Kind.CHAIN), own).rated.wll_lb == 6600


def test_gear_the_listed_mark_does_not_carry_over_to_another_grade(rated) -> None:  # noqa: ANN001
    own = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70", marked_lb=7000),))
    assert rated(chain(), own).rated.wll_lb == 7000
    assert rated(chain(grade="43"), own).rated.wll_lb == 5400


def test_gear_listed_without_marks_is_rated_without_marks(rated) -> None:  # noqa: ANN001
    own = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70", unmarked=True),))
    assert rated(Tiedown(kind=Kind.CHAIN), own).rated.wll_lb == 2650


def test_gear_a_told_mark_needs_no_size(rated, sample: GearList) -> None:  # noqa: ANN001
    one = rated(Tiedown(kind=Kind.CHAIN, marked_lb=5000), sample).rated
    assert (one.wll_lb, one.basis) == (5000, Basis.MARKED)


def test_each_trace_step_of_a_limit_names_its_source(tables: Tables, on: dt.date) -> None:
    one = rate(chain(path=Path.ACROSS), tables=tables, gear=GearList(), on=on)
    assert "49 CFR 393.108, chain table, grade 70 transport, 3/8 in" in {step.ref for step in one.trace}
    assert "49 CFR 393.108(a)" in {step.ref for step in one.trace}
    assert "49 CFR 393.106(d)(3)" in {step.ref for step in one.trace}


@pytest.mark.parametrize(("marked_lb", "counts_lb"), [(2000, 2000), (2650, 2650), (6600, 2650)])
def test_s393_108_b_d_where_a_mark_and_no_mark_were_told_the_lower_counts(
    rated,  # noqa: ANN001
    marked_lb: float,
    counts_lb: float,
) -> None:
    # Grade 30, 3/8 in: 2,650 lb (read). The two contradict each other; that the lower counts is derived.
    assert rated(chain(marked_lb=marked_lb, unmarked=True)).rated.wll_lb == counts_lb
