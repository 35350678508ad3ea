"""Disturbs made talk of loads that meet, and counts what it must not come to.

Run `python -m tests.talk.hundred_thousand`. Each talk is a load that was told whole and is understood whole, with one
word or phrase of disturbing.toml put in at a random place, and then "am i good". Counted by the word's class:

false meets
    The verdict is `meets`, though the word is a serious one, or the load is another. A load told smaller than it was,
    by a denial or by what takes off, keeps the verdict of that smaller load, and a place on the deck may be taken as
    where along the coil a tiedown lies.
changed silently
    The load is another, the word is none that may change it, and no answer named the word, asked, or said that
    something was not taken.
traceback
    An exception left `reply`.

A load that meets undisturbed though it is not the one that was told counts as a false meets of the class "undisturbed".
The exit code is 1 if there is any of these. The same seed gives the same talks, whatever the number of processes.
"""

import argparse
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from typing import NamedTuple

from assistant.kit import Kit
from tests.talk import walk
from tests.talk.disturb import SORTS
from tests.talk.loads_that_meet import chance, make
from tests.talk.walk import FALSE_MEETS, FINE, SILENT, TRACEBACK, Outcome

PIECE = 250
"""Talks that one process makes at a time."""
EACH = 8
"""How often one load is disturbed, each time anew."""
EXAMPLES = 40
FAULTS = (FALSE_MEETS, SILENT, TRACEBACK)
UNDISTURBED = "undisturbed"


class Piece(NamedTuple):
    """What came of some of the talks."""

    outcomes: tuple[Outcome, ...]
    """All that are not fine."""
    done: Counter[str]
    """Talks by class of word."""
    made: int
    """Loads made."""
    used: int
    """Loads of them that were understood as they were told and meet."""


@cache
def kit() -> Kit:
    """Read the kit, once a process."""
    return walk.read()


def piece(seed: int, number: int, talks: int) -> Piece:
    """Make and say some talks."""
    draw = chance(f"{seed} {number}")
    outcomes: list[Outcome] = []
    done: Counter[str] = Counter()
    made = used = 0
    while done.total() < talks:
        base = walk.tell(kit(), make(draw.getrandbits(40)))
        made += 1
        if base.verdict == "meets" and not base.true:
            outcomes.append(Outcome(FALSE_MEETS, UNDISTURBED, "", base.told.utterances, str(base.told.truth)))
        if not base.meets:
            continue
        used += 1
        for _ in range(min(EACH, talks - done.total())):
            outcome = walk.disturbed_talk(kit(), base, draw)
            done[outcome.sort] += 1
            if outcome.kind != FINE:
                outcomes.append(outcome)
    return Piece(tuple(outcomes), done, made, used)


def run(talks: int, seed: int, processes: int) -> Iterable[Piece]:
    """Make and say all talks, some after some, in the same order whatever the number of processes."""
    sizes = [PIECE] * (talks // PIECE) + ([talks % PIECE] if talks % PIECE else [])
    if processes == 1:
        yield from map(partial(piece, seed), range(len(sizes)), sizes)
        return
    with ProcessPoolExecutor(processes) as pool:
        yield from pool.map(partial(piece, seed), range(len(sizes)), sizes)


def show(pieces: Iterable[Piece], examples: int) -> bool:
    """Print the tables and some examples; return whether there was no fault."""
    faults: dict[tuple[str, str], list[Outcome]] = defaultdict(list)
    done: Counter[str] = Counter()
    made = used = 0
    for part in pieces:
        done += part.done
        made, used = made + part.made, used + part.used
        for outcome in part.outcomes:
            faults[outcome.kind, outcome.sort].append(outcome)
    print(f"{made:,} loads made, {used:,} of them understood as they were told and of use here")
    print(f"{'class':<16}{'talks':>8}" + "".join(f"{kind:>18}" for kind in FAULTS))
    names = (UNDISTURBED, *SORTS)
    for name in names:
        counts = [len(faults[kind, name]) for kind in FAULTS]
        print(
            f"{name:<16}{made if name == UNDISTURBED else done[name]:>8,}"
            + "".join(f"{count:>18,}" for count in counts)
        )
    totals = [sum(len(faults[kind, name]) for name in names) for kind in FAULTS]
    print(f"{'all':<16}{done.total():>8,}" + "".join(f"{total:>18,}" for total in totals))
    for kind in FAULTS:
        for name in names:
            if faults[kind, name] and examples:
                print(f"\n{kind}, {name}:")
            for outcome in faults[kind, name][:examples]:
                print(f"  [{outcome.word}] {' | '.join(outcome.utterances)}\n      -> {outcome.say}")
    return not any(totals)


def main() -> int:
    """Run it, print, and return the exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.talk.hundred_thousand", description=__doc__)
    parser.add_argument("--talks", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--examples", type=int, default=EXAMPLES, help="printed of each kind and class, at most")
    given = parser.parse_args()
    began = time.perf_counter()
    clean = show(run(given.talks, given.seed, given.processes), given.examples)
    print(f"\n{time.perf_counter() - began:.0f} s")
    return 0 if clean else 1


if __name__ == "__main__":
    sys.exit(main())
