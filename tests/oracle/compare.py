"""Judge many made loads twice, by the engine and by the rule texts alone, and print where they part.

Run as `python -m tests.oracle.compare --loads 20000 [--first SEED] [--show 3] [--write]`.
"""

import argparse
import collections
import datetime as dt
import sys

from assistant.load.model import Eye, GearList, Load
from assistant.securement.finding import Judgement, Status
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables, read_tables
from tests.measured import Measured, record
from tests.oracle.loads import make
from tests.oracle.oracle import Opinion, Outcome, in_scope, opinion

DAY = dt.date(2026, 3, 1)
BAD = {Status.SHORT, Status.STOP}
WRONG = {"wrong `meets`": "WRONG MEETS", "wrong `short` or `stop`": "WRONG BAD"}
"""Verdicts that the texts contradict, as they are told and as `differences` begins them."""


def topics(judgement: Judgement) -> str:
    """Name the topics of the findings that have the verdict's status."""
    return ", ".join(sorted({f"{f.topic}:{f.status}" for f in judgement.findings if f.status is judgement.verdict}))


def parts(view: Opinion, *outcomes: Outcome) -> str:
    """Name the clauses of some outcomes."""
    return ", ".join(
        sorted(f"{clause}:{outcome.value}" for clause, outcome in view.clauses.items() if outcome in outcomes)
    )


def silent(load: Load, judgement: Judgement) -> list[str]:
    """Name what a met verdict rests on without saying so."""
    aloud = " ".join(judgement.assumed)
    said = {
        "path": "other side of the vehicle" in aloud or "count half" in aloud,
        "cradle": "held by more than nails" in aloud,
        "row": "each coil is taken to be secured by itself" in aloud,
        "sum": "summed over the whole load" in aloud,
    }
    lying = sum(coil.count for coil in load.coils if coil.eye in {Eye.CROSSWISE, Eye.LENGTHWISE})
    rests_on = {
        "path": any(tiedown.path is None for tiedown in load.tiedowns),
        "cradle": bool(load.support.cradle and load.support.nailed_only is None and lying and in_scope(load)),
        "row": load.row is None and any(coil.count > 1 for coil in load.coils) and in_scope(load),
        "sum": sum(one.count for one in (*load.coils, *load.articles)) > 1,
    }
    return [f"SILENT on {what}" for what, does in rests_on.items() if does and not said[what]]


def differences(load: Load, gear: GearList, *, tables: Tables, on: dt.date) -> list[str]:
    """Name every way in which engine and texts part on one load."""
    judgement, view = judge(load, tables=tables, gear=gear, on=on), opinion(load, gear)
    verdict, found = judgement.verdict, []
    faults = parts(view, *(outcome for outcome in Outcome if outcome is not Outcome.MET))
    if verdict is Status.MEETS:
        found += silent(load, judgement)
    if (verdict is Status.MEETS) != view.may_meet:
        name = {Status.MEETS: "WRONG MEETS", Status.SHORT: "WRONG BAD", Status.STOP: "WRONG BAD"}
        found.append(f"{name.get(verdict, f'texts met, engine {verdict}')}: {topics(judgement)} / {faults}")
    if not view.may_meet and verdict in BAD and not view.surely_bad:
        found.append(f"bad, texts untold: {topics(judgement)} / {faults}")
    if verdict is Status.ASK and view.surely_bad:
        found.append(f"asks, texts bad: {topics(judgement)} / {faults}")
    if judgement.needed_lb != view.need_lb:
        found.append("SUM need differs")
    counted = judgement.counted_lb
    if counted is not None and not view.low_lb - 0.01 <= counted <= view.high_lb + 0.01:
        found.append("SUM counted outside the texts' bounds")
    return found


def main() -> int:
    """Compare, print counts and a few seeds of each class; 1 when a met verdict is wrong."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--loads", type=int, default=20000)
    reader.add_argument("--first", type=int, default=0)
    reader.add_argument("--show", type=int, default=3)
    reader.add_argument("--write", action="store_true", help="keep the counts in tests/measured.json")
    told = reader.parse_args()
    tables: Tables = read_tables()
    verdicts: collections.Counter[str] = collections.Counter()
    seeds: dict[str, list[int]] = collections.defaultdict(list)
    for seed in range(told.first, told.first + told.loads):
        load, gear = make(seed)
        verdict, view = judge(load, tables=tables, gear=gear, on=DAY).verdict, opinion(load, gear)
        texts = "met" if view.may_meet else "bad" if view.surely_bad else "untold"
        verdicts[f"engine {verdict}, texts {texts}"] += 1
        for difference in differences(load, gear, tables=tables, on=DAY):
            seeds[difference].append(seed)
    for name, number in sorted(verdicts.items()):
        print(f"{number:7} {name}")  # noqa: T201 - printing is its job
    print()  # noqa: T201 - printing is its job
    for name, found in sorted(seeds.items(), key=lambda item: -len(item[1])):
        print(f"{len(found):7} {name}  e.g. {found[: told.show]}")  # noqa: T201 - printing is its job
    if told.write:
        record(
            {"slow oracle": [_kept(what, name, seeds) for what, name in WRONG.items()]},
            by="python -m tests.oracle.compare",
            note=f"{told.loads:,} made loads, from seed {told.first}, against the rule texts read alone.",
        )
    return int(any(name.startswith("WRONG MEETS") for name in seeds))


def _kept(what: str, name: str, seeds: dict[str, list[int]]) -> Measured:
    count = sum(len(at) for difference, at in seeds.items() if difference.startswith(name))
    return Measured(what, {"loads": count}, {"loads": "0"}, ["loads"] if count else [])


if __name__ == "__main__":
    sys.exit(main())
