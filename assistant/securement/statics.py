"""Which way a coil can still move: the greatest acceleration each way, what gives first, and what does nothing.

The verdict rests on the clauses; this explains and warns. It is a rigid-body bound with assumed geometry, and every
assumption is listed.
"""

import datetime as dt
from collections.abc import Sequence

from pydantic import Field

from assistant.load.model import Eye, Kind, Load, Noun
from assistant.securement.coil_body import coil_body
from assistant.securement.finding import Finding, Mark, Rated, Status, Step
from assistant.securement.rigid_body import Body, Bound, NotSolvedError, greatest_g
from assistant.securement.table_reader import Tables, Value

Direction = tuple[float, float, float]

_WAYS: tuple[tuple[str, Direction, str], ...] = (
    ("forward", (1, 0, 0), "forward"),
    ("rearward", (-1, 0, 0), "rearward"),
    ("left", (0, 1, 0), "lateral"),
    ("right", (0, -1, 0), "lateral"),
)
_UP = (0.0, 0.0, 1.0)
_OWN_WEIGHT = 1.0
"""What a body resists upward by its weight alone, in g."""
PLENTY_G = 10.0
"""Beyond this an acceleration is not told apart: the supports take whatever comes."""


class Way(Noun):
    """One movement: the acceleration resisted [g] at the working load limits and at breaking strength, and the tests.

    `need_limit` and `need_break` are the accelerations of 393.102(a)(2) and (a)(1); None where there is no test.
    """

    name: str
    at_limit: float
    at_break: float | None
    need_limit: float | None
    need_break: float | None
    turns: bool
    first: str
    idle: tuple[str, ...] = ()

    @property
    def tests(self) -> tuple[tuple[float, float, str], ...]:
        """Each test that is made: what is held, what is asked [g], and at which strength of the tiedowns."""
        made = [(self.at_limit, self.need_limit, "at working load limits")]
        if self.at_break is not None:
            made.append((self.at_break, self.need_break, "at breaking strength"))
        return tuple((held, asked, where) for held, asked, where in made if asked)

    @property
    def closest(self) -> tuple[float, float, str]:
        """The test that is reached least."""
        return min(self.tests, key=lambda test: test[0] / test[1], default=(PLENTY_G, 1.0, ""))

    @property
    def share(self) -> float:
        """The part of its closest test that is reached."""
        held, asked, _ = self.closest
        return held / asked


class Statics(Noun):
    """All movements, the weakest first, in plain words, with what was assumed."""

    ways: tuple[Way, ...] = Field(min_length=1)
    sentence: str
    assumed: tuple[str, ...]
    finding: Finding


def can_look(load: Load) -> str:
    """Return why the statics cannot look at a load, as a question or a sentence; empty when they can."""
    if len(load.coils) != 1 or load.coils[0].count != 1 or load.articles:
        return "I work out the movement of one coil alone."
    coil = load.coils[0]
    if coil.weight_lb is None:
        return "What does the coil weigh?"
    if coil.eye is None:
        return "Which way does the eye point: up, to the side, or lengthwise?"
    return ""


def look_at_movement(load: Load, rated: Sequence[Rated], *, tables: Tables, on: dt.date) -> Statics:
    """Return how much acceleration a coil resists each way.

    Parameters
    ----------
    load
        A load for which `can_look` is empty.
    rated
        Its tiedown groups; one without a known limit holds nothing.
    tables
        The regulation tables.
    on
        The day whose values count.

    References
    ----------
    49 CFR 393.102(a)(1), (a)(2), (b). Limit analysis: see rigid_body.py.
    """
    limits = [group.wll_lb or 0.0 for group in rated]
    breaking = [_breaking_lb(group, tables, on) for group in rated]
    body, assumed = coil_body(load, rated, tables=tables, on=on, limits=limits)
    known = [value if value is not None else limit for value, limit in zip(breaking, limits, strict=True)]
    all_known = all(value is not None for value in breaking)
    at_break = coil_body(load, rated, tables=tables, on=on, limits=known)[0] if all_known and rated else None
    ways = [_way(way, body, at_break, tables, on) for way in _WAYS]
    ways += [_up(body, at_break, tables, on), *_turning(load, body, at_break, tables, on)]
    if not all_known:
        assumed.append("Breaking strengths not told: only the test at working load limits is made.")
    ordered = tuple(sorted(ways, key=lambda way: way.share))
    sentence = _sentence(ordered[0], both=at_break is not None)
    row = tables.value("force_to_working_load_limit", on=on, direction="forward")
    finding = Finding(
        rule=row.clause.partition("(i)")[0],
        status=Status.LOOK,
        text=f"{sentence} A rigid-body bound with assumed geometry; the verdict rests on the clauses.",
        mark=Mark.DERIVED,
        trace=(row.step(), *(_step(way) for way in ordered)),
        topic="statics",
    )
    return Statics(ways=ordered, sentence=sentence, assumed=tuple(dict.fromkeys(assumed)), finding=finding)


def _breaking_lb(group: Rated, tables: Tables, on: dt.date) -> float | None:
    """Return what one tiedown breaks at, told or by its grade's ratio; None where nobody knows."""
    tiedown = group.tiedown
    if tiedown.breaking_lb is not None:
        return tiedown.breaking_lb
    grade = (group.whole or tiedown).grade
    if group.wll_lb is None or tiedown.kind is not Kind.CHAIN or group.governs != Kind.CHAIN or grade is None:
        return None
    ratio: Value | None = tables.lookup("breaking_over_limit", on=on, grade=grade)
    return ratio.number * group.wll_lb if ratio else None


def _way(way: tuple[str, Direction, str], body: Body, at_break: Body | None, tables: Tables, on: dt.date) -> Way:
    name, towards, test = way
    bound = _bound(body, towards)
    return Way(
        name=name,
        at_limit=bound.g,
        at_break=_bound(at_break, towards).g if at_break else None,
        need_limit=tables.value("force_to_working_load_limit", on=on, direction=test).number,
        need_break=tables.value("force_to_breaking_strength", on=on, direction=test).number,
        turns=bound.turns,
        first=bound.first,
        idle=bound.idle,
    )


def _up(body: Body, at_break: Body | None, tables: Tables, on: dt.date) -> Way:
    """Return what holds it down beyond its own weight, against the 20 % of 393.102(b)."""
    bound = _bound(body, _UP)
    return Way(
        name="up",
        at_limit=max(0.0, bound.g - _OWN_WEIGHT),
        at_break=max(0.0, _bound(at_break, _UP).g - _OWN_WEIGHT) if at_break else None,
        need_limit=tables.value("downward_share", on=on).number,
        need_break=None,
        turns=bound.turns,
        first=bound.first,
        idle=bound.idle,
    )


def _turning(load: Load, body: Body, at_break: Body | None, tables: Tables, on: dt.date) -> list[Way]:
    """Return tipping and rolling alone, as if nothing could slide: the weaker side of each."""
    eye = load.coils[0].eye
    long_ways, cross_ways = _WAYS[:2], _WAYS[2:]
    turns = {
        Eye.CROSSWISE: (("rolling", long_ways), ("tipping", cross_ways)),
        Eye.LENGTHWISE: (("rolling", cross_ways), ("tipping", long_ways)),
        Eye.VERTICAL: (("tipping", _WAYS),),
    }[eye or Eye.CROSSWISE]
    found = []
    for name, sides in turns:
        bounds = [(_bound(body, towards, sliding=False), towards, test) for _, towards, test in sides]
        needs = [tables.value("force_to_working_load_limit", on=on, direction=test).number for *_, test in bounds]
        worst = min(range(len(bounds)), key=lambda place: bounds[place][0].g / needs[place])
        bound, towards, test = bounds[worst]
        found.append(
            Way(
                name=f"{name} {sides[worst][0]}",
                at_limit=bound.g,
                at_break=_bound(at_break, towards, sliding=False).g if at_break else None,
                need_limit=needs[worst],
                need_break=tables.value("force_to_breaking_strength", on=on, direction=test).number,
                turns=True,
                first=bound.first,
                idle=bound.idle,
            )
        )
    return found


def _bound(body: Body, towards: Direction, *, sliding: bool = True) -> Bound:
    try:
        return greatest_g(body, towards, sliding=sliding)
    except NotSolvedError:
        return Bound(0.0, turns=True, first="", idle=tuple(pull.name for pull in body.pulls))


def _sentence(way: Way, *, both: bool) -> str:
    """Return the weakest way in one or two plain sentences; `both` tells whether both tests could be made."""
    held, asked, where = way.closest
    holds = f"{min(held, PLENTY_G):.2f} g of the {asked:g} asked {where}"
    all_held = "Each way holds what is asked" if both else "At working load limits each way holds what is asked"
    weak = f"{all_held}; {way.name} is the closest" if way.share >= 1 else f"{way.name.capitalize()} is the weak way"
    how = "it would lift" if way.name == "up" else "it would turn over its supports" if way.turns else "it would slide"
    gives = f"{way.first} would give first" if way.first else how
    idle = list(dict.fromkeys(way.idle))
    does = "does" if len(idle) == 1 and idle[0].startswith("one ") else "do"
    nothing = f" {_listed(idle).capitalize()} {does} nothing there." if idle else ""
    return f"{weak}: {holds}; {gives}.{nothing}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _step(way: Way) -> Step:
    tests = [f"working load limits: need {way.need_limit:g} g"] if way.need_limit else []
    if way.at_break is not None and way.need_break:
        tests.append(f"at breaking strength {min(way.at_break, PLENTY_G):.2f} of {way.need_break:g} g")
    return Step(what=way.name, value=round(min(way.at_limit, PLENTY_G), 3), unit="g", formula="; ".join(tests))
