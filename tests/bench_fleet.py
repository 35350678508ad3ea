"""The fleet bench: how quick the engine is for one check, with statics, and for a month of loads.

Run `python -m tests.bench_fleet`; with `--write` its figures are kept in `tests/measured.json`.
"""

import datetime as dt
import itertools
import statistics
import sys
import time

from assistant.load.model import Coil, Eye, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.securement.judge import judge
from assistant.securement.statics import look_at_movement
from assistant.securement.table_reader import read_sample_gear, read_tables
from tests.bench import Row, reader, shown, timed
from tests.oracle.loads import make

TABLES, GEAR, ON = read_tables(), read_sample_gear(), dt.date(2026, 11, 25)
LOADS = 2_000
WARM = 200
COILS = (50, 100, 200)
"""Each twice the one before: a cost that grows with the square is four times as much."""


def main() -> int:
    """Print the table; the exit code is 1 if a target was missed."""
    options = reader("python -m tests.bench_fleet", __doc__).parse_args()
    rows = [one_check(), with_statics(), fleet(), *large()]
    return shown(rows, section="engine", by="python -m tests.bench_fleet", write=options.write)


def eight() -> Load:
    """Return one coil with eight tiedowns told one by one."""
    made = {"kind": Kind.CHAIN, "size_in": 0.375, "grade": "70", "path": Path.ACROSS}
    eye = [
        Tiedown.model_validate({**made, "pulls": pull, "through": Through.EYE})
        for pull in (Pull.FORWARD, Pull.FORWARD, Pull.FORWARD, Pull.REARWARD, Pull.REARWARD, Pull.REARWARD)
    ]
    over = [Tiedown.model_validate({**made, "through": Through.TOP}) for _ in range(2)]
    coil = Coil(weight_lb=42_500, eye=Eye.CROSSWISE)
    return Load(coils=(coil,), tiedowns=(*eye, *over), support=Support(timbers=2, bunks=3, mats=True))


def one_check() -> Row:
    """Check one coil and eight tiedowns, warm, without statics."""
    load = eight()
    median = statistics.median(timed(lambda: judge(load, tables=TABLES, gear=GEAR, on=ON), WARM)) * 1000
    return Row("one check, one coil and eight tiedowns, median", f"{median:.2f} ms", "≤ 1 ms", median <= 1)


def with_statics() -> Row:
    """Check the same, and work out every movement."""
    load = eight()

    def both() -> None:
        judgement = judge(load, tables=TABLES, gear=GEAR, on=ON)
        look_at_movement(load, judgement.rated, tables=TABLES, on=ON)

    median = statistics.median(timed(both, WARM // 4)) * 1000
    return Row("the same with statics, median", f"{median:.1f} ms", "≤ 15 ms", median <= 15)


def fleet() -> Row:
    """Check a month of made loads one after another."""
    loads = [make(seed) for seed in range(LOADS)]
    began = time.perf_counter()
    for load, gear in loads:
        judge(load, tables=TABLES, gear=gear, on=ON)
    each = LOADS / (time.perf_counter() - began)
    return Row(f"checks a second on one core, {LOADS:,} loads", f"{each:,.0f}", "≥ 1,000", each >= 1000)


def large() -> list[Row]:
    """Check loads of up to 200 coils and 800 tiedowns, and how the cost grows from each to the next."""

    def spent(coils: int) -> float:
        one = Coil(weight_lb=20_000, eye=Eye.CROSSWISE)
        ties = [
            Tiedown(kind=Kind.CHAIN, size_in=0.375, grade="70", path=Path.ACROSS, pulls=pull)
            for pull in (Pull.FORWARD, Pull.REARWARD) * (2 * coils)
        ]
        load = Load(coils=(one,) * coils, tiedowns=tuple(ties), support=Support(timbers=2, bunks=3 * coils, mats=True))
        return statistics.median(timed(lambda: judge(load, tables=TABLES, gear=GEAR, on=ON), 3))

    costs = {coils: spent(coils) for coils in COILS}
    rows = [
        Row(f"{coils} coils and {4 * coils} tiedowns in one load", f"{cost * 1000:.0f} ms", "< 1 s", cost < 1)
        for coils, cost in costs.items()
    ]
    for fewer, more in itertools.pairwise(COILS):
        growth = costs[more] / costs[fewer]
        rows.append(Row(f"cost of {more} coils over {fewer}", f"x {growth:.1f}", "≤ x 4", growth <= 4))
    return rows


if __name__ == "__main__":
    sys.exit(main())
