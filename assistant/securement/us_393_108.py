"""49 CFR 393.108: the working load limit of a tiedown and of its parts."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.load.model import Kind
from assistant.securement.finding import Step
from assistant.securement.table_reader import Tables, Value
from assistant.securement.wording import inches

_MANILA = "manila"


@dataclass(frozen=True, slots=True)
class Limit:
    """A working load limit [lb] with the steps that lead to it and what had to be assumed."""

    lb: float
    steps: tuple[Step, ...]
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """A fact without which no limit can be given: the question, and why it is asked."""

    question: str
    text: str


@dataclass(frozen=True, slots=True)
class Component:
    """One part of a tiedown and its limit [lb]."""

    name: str
    lb: float
    step: Step | None = None


def limit_by_mark(*, marked_lb: float, told: bool, tables: Tables, on: dt.date) -> Limit:
    """Return the limit that the maker marked, which counts whatever the tables say.

    Parameters
    ----------
    marked_lb
        The mark [lb].
    told
        Whether the driver read it out; otherwise it stands in the gear list.

    References
    ----------
    49 CFR 393.108(b).
    """
    rule = tables.value("maker_mark", on=on)
    where = "told" if told else "gear list"
    return Limit(lb=marked_lb, steps=(_told("maker's mark", marked_lb, where), rule.step()))


def limit_of_chain(
    *, size_in: float | None, grade: str | None, unmarked: bool, tables: Tables, on: dt.date
) -> Limit | Missing:
    """Return the default limit of welded steel chain.

    Parameters
    ----------
    size_in
        Nominal size [in]; None when not known.
    grade
        "30", "43", "70", "80" or "100"; None when not known.
    unmarked
        No mark tells grade or limit. READING: the chain is then grade 30, whatever was said of its grade.

    Returns
    -------
    Limit or Missing
        The limit [lb], or the question to ask. A size or grade that the table does not print has no limit.

    References
    ----------
    49 CFR 393.108(b), (d) and the chain table.
    """
    if size_in is None:
        return Missing("What size is the chain?", "The chain's size is not known.")
    steps: tuple[Step, ...] = ()
    assumed: tuple[str, ...] = ()
    if unmarked:
        rule = tables.value("unmarked_chain_grade", on=on)
        assumed = (f"Chain without marks is taken as grade {rule.words}.",) if grade != rule.words else ()
        grade, steps = rule.words, (rule.step(),)
    if grade is None:
        return Missing("What grade is stamped on the chain, or has it no marks?", "The chain's grade is not known.")
    cell = tables.lookup("chain_wll", on=on, size_in=size_in, grade=grade)
    if cell is None:
        return _not_printed(f"{inches(size_in)} in grade {grade} chain")
    return Limit(lb=cell.number, steps=(*steps, cell.step()), assumed=assumed)


def limit_of_strap(*, size_in: float | None, tables: Tables, on: dt.date) -> Limit | Missing:
    """Return the default limit of synthetic webbing of a width [in].

    References
    ----------
    49 CFR 393.108(b) and the synthetic webbing table.
    """
    if size_in is None:
        return Missing("How wide is the strap, and what limit is on its tag?", "The strap's width is not known.")
    return _cell(tables.lookup("webbing_wll", on=on, size_in=size_in), f"{inches(size_in)} in strap")


def limit_of_wire_rope(*, size_in: float | None, tables: Tables, on: dt.date) -> Limit | Missing:
    """Return the default limit of wire rope of a diameter [in], taken as 6x37 with fiber core.

    References
    ----------
    49 CFR 393.108(e)(2) and the wire rope table.
    """
    if size_in is None:
        return Missing("How thick is the wire rope?", "The wire rope's diameter is not known.")
    rule = tables.value("unmarked_wire_rope", on=on)
    cell = tables.lookup("wire_rope_wll", on=on, size_in=size_in)
    if cell is None:
        return _not_printed(f"{inches(size_in)} in wire rope")
    return Limit(lb=cell.number, steps=(rule.step(), cell.step()), assumed=(f"Wire rope is taken as {rule.words}.",))


def limit_of_rope(
    *, size_in: float | None, material: str | None, unmarked: bool, tables: Tables, on: dt.date
) -> Limit | Missing:
    """Return the default limit of fiber rope.

    Parameters
    ----------
    size_in
        Diameter [in]; None when not known.
    material
        "manila", "polypropylene", "polyester", "nylon" or "double braided nylon"; None when not known.
    unmarked
        No label tells fiber or limit: synthetic cordage is taken as polypropylene, manila goes by its diameter.
        READING: where a synthetic fiber was told all the same, the lower of the two limits counts.

    References
    ----------
    49 CFR 393.108(b), (c), (f) and the rope tables.
    """
    if size_in is None:
        return Missing("How thick is the rope?", "The rope's diameter is not known.")
    if material is None and not unmarked:
        return Missing("What fiber is the rope, or has it no label?", "The rope's fiber is not known.")
    rules: list[Value] = []
    materials = [material] if material is not None else []
    if material == _MANILA:
        rules.append(tables.value("manila_by_diameter", on=on))
    elif unmarked:
        rules.append(tables.value("unmarked_rope_material", on=on))
        materials.append(rules[-1].words)
    cells = [tables.lookup("rope_wll", on=on, size_in=size_in, material=name) for name in materials]
    printed = [cell for cell in cells if cell is not None]
    if len(printed) < len(cells):
        return _not_printed(f"{inches(size_in)} in {materials[0]} rope")
    lowest = min(printed, key=lambda cell: cell.number)
    assumed = (f"Rope without a label is taken as {materials[-1]}.",) if unmarked and material != _MANILA else ()
    return Limit(lb=lowest.number, steps=(*(rule.step() for rule in rules), lowest.step()), assumed=assumed)


def limit_of_steel_strap(
    *, size_in: float | None, thickness_in: float | None, tables: Tables, on: dt.date
) -> Limit | Missing:
    """Return the default limit of steel strapping of a width and thickness [in].

    References
    ----------
    49 CFR 393.108(b) and the steel strapping table.
    """
    if size_in is None or thickness_in is None:
        return Missing("How wide and how thick is the steel strapping?", "The steel strapping's size is not known.")
    cell = tables.lookup("steel_strap_wll", on=on, size_in=size_in, thickness_in=thickness_in)
    return _cell(cell, f"{inches(size_in)} by {thickness_in:g} in steel strapping")


def lowest_component(*, components: Sequence[Component]) -> Component:
    """Return the part that sets the limit of the whole: the lowest, the first named where two are equal.

    References
    ----------
    49 CFR 393.108(a).
    """
    return min(components, key=lambda component: component.lb)


def default_limit(  # noqa: PLR0913 - these are all the facts that the five tables go by
    *,
    kind: Kind,
    size_in: float | None,
    thickness_in: float | None,
    grade: str | None,
    material: str | None,
    unmarked: bool,
    tables: Tables,
    on: dt.date,
) -> Limit | Missing:
    """Return the default limit [lb] of any kind of tiedown from its own table, or the question to ask."""
    match kind:
        case Kind.CHAIN:
            return limit_of_chain(size_in=size_in, grade=grade, unmarked=unmarked, tables=tables, on=on)
        case Kind.STRAP:
            return limit_of_strap(size_in=size_in, tables=tables, on=on)
        case Kind.WIRE_ROPE:
            return limit_of_wire_rope(size_in=size_in, tables=tables, on=on)
        case Kind.ROPE:
            return limit_of_rope(size_in=size_in, material=material, unmarked=unmarked, tables=tables, on=on)
        case Kind.STEEL_STRAP:
            return limit_of_steel_strap(size_in=size_in, thickness_in=thickness_in, tables=tables, on=on)


def _cell(cell: Value | None, what: str) -> Limit | Missing:
    return _not_printed(what) if cell is None else Limit(lb=cell.number, steps=(cell.step(),))


def _not_printed(what: str) -> Missing:
    return Missing(
        f"What working load limit is marked on the {what}?",
        f"The table of 393.108 has no {what}, so its mark is needed.",
    )


def _told(what: str, lb: float, where: str) -> Step:
    return Step(what=what, value=lb, unit="lb", formula=where)
