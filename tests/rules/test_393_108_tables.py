"""49 CFR 393.108: the default tables, cell by cell.

Expected values were typed from the regulation's printed tables, kilograms and pounds. Chain, webbing, wire rope to
3/4 in, manila and the first row of steel strapping: read. The other rope columns, wire rope 7/8 and 1 in and the other
strapping rows: memory.
"""

import datetime as dt

import pytest

from assistant.securement.finding import Mark
from assistant.securement.table_reader import Tables

READ = Mark.READ
MEMORY = Mark.MEMORY

# size in: grade 30, 43, 70, 80, 100 as (kg, lb); None is a blank cell. Mark: read.
CHAIN = {
    1 / 4: ((580, 1300), (1180, 2600), (1430, 3150), (1570, 3500), (1950, 4300)),
    5 / 16: ((860, 1900), (1770, 3900), (2130, 4700), (2000, 4500), (2600, 5700)),
    3 / 8: ((1200, 2650), (2450, 5400), (2990, 6600), (3200, 7100), (4000, 8800)),
    7 / 16: ((1680, 3700), (3270, 7200), (3970, 8750), None, None),
    1 / 2: ((2030, 4500), (4170, 9200), (5130, 11300), (5400, 12000), (6800, 15000)),
    5 / 8: ((3130, 6900), (5910, 13000), (7170, 15800), (8200, 18100), (10300, 22600)),
}
GRADES = ("30", "43", "70", "80", "100")
CHAIN_CELLS = [(size, grade, cell) for size, row in CHAIN.items() for grade, cell in zip(GRADES, row, strict=True)]

WEBBING = {1.75: (790, 1750), 2: (910, 2000), 3: (1360, 3000), 4: (1810, 4000)}

WIRE_ROPE = {
    1 / 4: (640, 1400, READ),
    5 / 16: (950, 2100, READ),
    3 / 8: (1360, 3000, READ),
    7 / 16: (1860, 4100, READ),
    1 / 2: (2400, 5300, READ),
    5 / 8: (3770, 8300, READ),
    3 / 4: (4940, 10900, READ),
    7 / 8: (7300, 16100, MEMORY),
    1: (9480, 20900, MEMORY),
}

# diameter in: manila (read), then from memory polypropylene, polyester, nylon, double braided nylon.
ROPE = {
    3 / 8: ((90, 205), (180, 400), (250, 555), (130, 278), (150, 336)),
    7 / 16: ((120, 265), (240, 525), (340, 750), (190, 410), (230, 502)),
    1 / 2: ((150, 315), (280, 625), (440, 960), (240, 525), (300, 655)),
    5 / 8: ((210, 465), (420, 925), (680, 1500), (420, 935), (510, 1130)),
    3 / 4: ((290, 640), (580, 1275), (850, 1880), (640, 1420), (830, 1840)),
    1: ((480, 1050), (950, 2100), (1500, 3300), (1140, 2520), (1470, 3250)),
}
FIBERS = ("manila", "polypropylene", "polyester", "nylon", "double braided nylon")
ROPE_CELLS = [(size, fiber, cell) for size, row in ROPE.items() for fiber, cell in zip(FIBERS, row, strict=True)]

STEEL_STRAP = {
    (1.25, 0.029): (540, 1190, READ),
    (1.25, 0.031): (540, 1190, MEMORY),
    (1.25, 0.035): (540, 1190, MEMORY),
    (1.25, 0.044): (770, 1690, MEMORY),
    (1.25, 0.050): (770, 1690, MEMORY),
    (1.25, 0.057): (870, 1925, MEMORY),
    (2, 0.044): (1200, 2650, MEMORY),
    (2, 0.050): (1200, 2650, MEMORY),
}


@pytest.mark.parametrize(("size", "grade", "cell"), CHAIN_CELLS)
def test_s393_108_chain_cell_is_as_printed(
    tables: Tables, on: dt.date, size: float, grade: str, cell: tuple[float, float] | None
) -> None:
    value = tables.lookup("chain_wll", on=on, size_in=size, grade=grade)
    assert (value and (value.also, value.value)) == cell
    assert value is None or value.mark is READ


@pytest.mark.parametrize("width", WEBBING)
def test_s393_108_webbing_cell_is_as_printed(tables: Tables, on: dt.date, width: float) -> None:
    value = tables.value("webbing_wll", on=on, size_in=width)
    assert (value.also, value.value, value.mark) == (*WEBBING[width], READ)


@pytest.mark.parametrize("size", WIRE_ROPE)
def test_s393_108_wire_rope_cell_is_as_printed(tables: Tables, on: dt.date, size: float) -> None:
    value = tables.value("wire_rope_wll", on=on, size_in=size)
    assert (value.also, value.value, value.mark) == WIRE_ROPE[size]


@pytest.mark.parametrize(("size", "fiber", "cell"), ROPE_CELLS)
def test_s393_108_rope_cell_is_as_printed(
    tables: Tables, on: dt.date, size: float, fiber: str, cell: tuple[float, float]
) -> None:
    value = tables.value("rope_wll", on=on, size_in=size, material=fiber)
    assert (value.also, value.value) == cell
    assert value.mark is (READ if fiber == "manila" else MEMORY)


@pytest.mark.parametrize("size", STEEL_STRAP)
def test_s393_108_steel_strapping_cell_is_as_printed(tables: Tables, on: dt.date, size: tuple[float, float]) -> None:
    value = tables.value("steel_strap_wll", on=on, size_in=size[0], thickness_in=size[1])
    assert (value.also, value.value, value.mark) == STEEL_STRAP[size]


@pytest.mark.parametrize(
    ("name", "cells"),
    [
        ("chain_wll", sum(cell is not None for _, _, cell in CHAIN_CELLS)),
        ("webbing_wll", len(WEBBING)),
        ("wire_rope_wll", len(WIRE_ROPE)),
        ("rope_wll", len(ROPE_CELLS)),
        ("steel_strap_wll", len(STEEL_STRAP)),
    ],
)
def test_s393_108_tables_have_no_cell_beyond_the_printed_ones(tables: Tables, name: str, cells: int) -> None:
    assert len(tables.cells(name)) == cells


@pytest.mark.parametrize("cell", [(kg, lb) for _, _, c in CHAIN_CELLS if c for kg, lb in [c]])
def test_s393_108_kilograms_and_pounds_of_a_chain_cell_agree(cell: tuple[float, float]) -> None:
    # Derived: a copying error in one of the two units would show. The printed pairs are each rounded for themselves.
    kg, lb = cell
    assert abs(kg * 2.20462 - lb) <= 0.025 * lb


# 49 CFR 393.102(a)(1), (a)(2), read; direction: breaking strength, working load limit [g].
FORCES = {"forward": (0.8, 0.435), "rearward": (0.5, 0.5), "lateral": (0.5, 0.25)}


@pytest.mark.parametrize("direction", FORCES)
def test_s393_102_forces_are_as_printed(tables: Tables, on: dt.date, direction: str) -> None:
    breaking = tables.value("force_to_breaking_strength", on=on, direction=direction).number
    working = tables.value("force_to_working_load_limit", on=on, direction=direction).number
    assert (breaking, working) == FORCES[direction]


def test_s393_102_b_downward_share_and_s393_108_g_mat_share_are_as_printed(tables: Tables, on: dt.date) -> None:
    # 49 CFR 393.102(b): 20 percent, read. 49 CFR 393.108(g): 50 percent, read.
    assert tables.value("downward_share", on=on).number == 0.2
    assert tables.value("mat_share", on=on).number == 0.5
