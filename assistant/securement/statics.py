"""Which way a load can still move: the greatest acceleration each way, what gives first, and what does nothing.

The verdict rests on the clauses; this explains and warns. It is a rigid-body bound with assumed geometry, and every
assumption is listed. Of several pieces, the one that moves first governs each way.
"""

import datetime as dt
from collections.abc import Sequence

from pydantic import Field

from assistant.load.model import Coil, Eye, Kind, Load, Noun
from assistant.securement.block_body import block_body
from assistant.securement.coil_body import coil_body
from assistant.securement.finding import Finding, Mark, Rated, Status, Step
from assistant.securement.rigid_body import Body, Bound, NotSolvedError, greatest_g
from assistant.securement.sharing import Piece, share_out, why_not_shared
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
_DIGITS = 6
"""Digits to which accelerations are compared, so that the solver's last digits choose nothing."""
_SAME = 1 - 10**-_DIGITS


class Way(Noun):
    """One movement: the acceleration resisted [g] at the working load limits and at breaking strength, and the tests.

    `need_limit` and `need_break` are the accelerations of 393.102(a)(2) and (a)(1); None where there is no test.
    """

    name: str
    piece: str
    """What moves: "the coil", "the second crate", "each coil"."""
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
    shared: str = ""
    """A short sentence, where tiedowns were shared out among pieces; `assumed` says how."""
    assumed: tuple[str, ...]
    finding: Finding


def can_look(load: Load, *, tables: Tables, on: dt.date) -> str:
    """Return why the statics cannot look at a load, as a question or a sentence; empty when they can."""
    for coil in load.coils:
        if coil.weight_lb is None:
            return "What does the coil weigh?" if coil.count == 1 else "What does each coil weigh?"
        if coil.eye is None:
            return "Which way does the eye point: up, to the side, or lengthwise?"
    for article in load.articles:
        rule = tables.lookup("commodity", on=on, name=article.name)
        if rule is not None:
            return f"{rule.words} governs {rule.notes['heading']}; their movement I do not work out."
        if article.weight_lb is None:
            return f"What does {'the' if article.count == 1 else 'each'} {article.name} weigh?"
        if article.length_ft is None:
            return f"How long is {'the' if article.count == 1 else 'each'} {article.name}?"
    return why_not_shared(load) if load.coils or load.articles else "What is on the deck?"


def look_at_movement(load: Load, rated: Sequence[Rated], *, tables: Tables, on: dt.date) -> Statics:
    """Return how much acceleration a load resists each way.

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

    Notes
    -----
    Each piece is worked out by itself with the tiedowns that are its own, or its share of them; each way, the piece
    that reaches least of its closest test is told. See sharing.py for how tiedowns are shared out.

    References
    ----------
    49 CFR 393.102(a)(1), (a)(2), (b). Limit analysis: see rigid_body.py.
    """
    pieces, sharing = share_out(load, rated)
    looked = [_look_at(piece, tables, on) for piece in pieces]
    weakest: dict[str, Way] = {}
    for way in (way for ways, _ in looked for way in ways):
        if way.name not in weakest or way.share < weakest[way.name].share * _SAME:
            weakest[way.name] = way
    ordered = tuple(sorted(weakest.values(), key=lambda way: round(way.share, _DIGITS)))
    both = all(way.at_break is not None or not way.need_break for way in ordered)
    sentence = _sentence(ordered[0], both=both)
    row = tables.value("force_to_working_load_limit", on=on, direction="forward")
    finding = Finding(
        rule=row.clause.partition("(i)")[0],
        status=Status.LOOK,
        text=f"{sentence} A rigid-body bound with assumed geometry; the verdict rests on the clauses.",
        mark=Mark.DERIVED,
        trace=(row.step(), *(_step(way) for way in ordered)),
        topic="statics",
    )
    return Statics(
        ways=ordered,
        sentence=sentence,
        shared="How the tiedowns are taken as shared out is on the screen." if sharing and rated else "",
        assumed=(*sharing, *_assumed(pieces, [assumed for _, assumed in looked])),
        finding=finding,
    )


def _look_at(piece: Piece, tables: Tables, on: dt.date) -> tuple[list[Way], list[str]]:
    """Return every way one piece may move, and what was assumed."""
    limits = [held.rated.wll_lb or 0.0 for held in piece.held]
    breaking = [_breaking_lb(held.rated, tables, on) for held in piece.held]
    body, assumed = _body(piece, tables, on, limits)
    known = [value for value in breaking if value is not None]
    all_known = len(known) == len(breaking)
    at_break = _body(piece, tables, on, known)[0] if all_known and piece.held else None
    ways = [_way(way, piece, body, at_break, tables, on) for way in _WAYS]
    ways += [_up(piece, body, at_break, tables, on), *_turning(piece, body, at_break, tables, on)]
    if not all_known:
        assumed.append("Breaking strengths not told: only the test at working load limits is made.")
    return ways, assumed


def _body(piece: Piece, tables: Tables, on: dt.date, limits: Sequence[float]) -> tuple[Body, list[str]]:
    cargo = piece.cargo
    if isinstance(cargo, Coil):
        return coil_body(piece, cargo, tables=tables, on=on, limits=limits)
    return block_body(piece, cargo, tables=tables, on=on, limits=limits)


def _assumed(pieces: Sequence[Piece], assumed: Sequence[Sequence[str]]) -> list[str]:
    """Return what was assumed of all pieces, and by the piece's name what was assumed of some only."""
    found: dict[str, None] = {}
    for piece, sentences in zip(pieces, assumed, strict=True):
        for sentence in sentences:
            common = all(sentence in others for others in assumed)
            found[sentence if common else f"{piece.name[0].upper()}{piece.name[1:]}: {sentence}"] = None
    return list(found)


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


def _way(
    way: tuple[str, Direction, str], piece: Piece, body: Body, at_break: Body | None, tables: Tables, on: dt.date
) -> Way:
    name, towards, test = way
    bound = _bound(body, towards)
    return Way(
        name=name,
        piece=piece.name,
        at_limit=bound.g,
        at_break=_bound(at_break, towards).g if at_break else None,
        need_limit=tables.value("force_to_working_load_limit", on=on, direction=test).number,
        need_break=tables.value("force_to_breaking_strength", on=on, direction=test).number,
        turns=bound.turns,
        first=bound.first,
        idle=bound.idle,
    )


def _up(piece: Piece, body: Body, at_break: Body | None, tables: Tables, on: dt.date) -> Way:
    """Return what holds it down beyond its own weight, against the 20 % of 393.102(b)."""
    bound = _bound(body, _UP)
    return Way(
        name="up",
        piece=piece.name,
        at_limit=max(0.0, bound.g - _OWN_WEIGHT),
        at_break=max(0.0, _bound(at_break, _UP).g - _OWN_WEIGHT) if at_break else None,
        need_limit=tables.value("downward_share", on=on).number,
        need_break=None,
        turns=bound.turns,
        first=bound.first,
        idle=bound.idle,
    )


def _turning(piece: Piece, body: Body, at_break: Body | None, tables: Tables, on: dt.date) -> list[Way]:
    """Return tipping and rolling alone, as if nothing could slide: of a coil the weaker side, of a block each side."""
    long_ways, cross_ways = _WAYS[:2], _WAYS[2:]
    eye = piece.cargo.eye if isinstance(piece.cargo, Coil) else None
    turns = {
        Eye.CROSSWISE: (("rolling", long_ways), ("tipping", cross_ways)),
        Eye.LENGTHWISE: (("rolling", cross_ways), ("tipping", long_ways)),
        Eye.VERTICAL: (("tipping", _WAYS),),
        None: tuple(("tipping", (way,)) for way in _WAYS),
    }[eye]
    found = []
    for name, sides in turns:
        bounds = [(_bound(body, towards, sliding=False), towards, test) for _, towards, test in sides]
        needs = [tables.value("force_to_working_load_limit", on=on, direction=test).number for *_, test in bounds]
        worst = min(range(len(bounds)), key=lambda place: bounds[place][0].g / needs[place])
        bound, towards, test = bounds[worst]
        found.append(
            Way(
                name=f"{name} {sides[worst][0]}",
                piece=piece.name,
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
    moves = "lift" if way.name == "up" else "turn over its supports" if way.turns else "slide"
    gives = f"{way.first} would give first and {way.piece}" if way.first else way.piece
    idle = list(dict.fromkeys(way.idle))
    does = "does" if len(idle) == 1 and idle[0].startswith("one ") else "do"
    nothing = f" {_listed(idle).capitalize()} {does} nothing there." if idle else ""
    return f"{weak}: {holds}; {gives} would {moves}.{nothing}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _step(way: Way) -> Step:
    tests = [f"working load limits: need {way.need_limit:g} g"] if way.need_limit else []
    if way.at_break is not None and way.need_break:
        tests.append(f"at breaking strength {min(way.at_break, PLENTY_G):.2f} of {way.need_break:g} g")
    return Step(what=way.name, value=round(min(way.at_limit, PLENTY_G), 3), unit="g", formula="; ".join(tests))
