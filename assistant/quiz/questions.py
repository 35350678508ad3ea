"""Quiz questions made fresh from the tables and the engine: no answer is typed in."""

import datetime as dt
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from assistant.load.model import Coil, Eye, GearList, Kind, Load, Path, Pull, Support, Through, Tiedown
from assistant.quiz.state import Question, Quiz
from assistant.say.spell import spell
from assistant.securement.advice import how_many, wll_of
from assistant.securement.finding import Finding, Rated, Status, Step
from assistant.securement.judge import judge
from assistant.securement.table_reader import Tables, Value
from assistant.securement.us_393_106 import needed_aggregate_lb
from assistant.securement.us_393_110 import least_blocked, least_unblocked
from assistant.securement.wording import counted, inches, pounds

_POUNDS = "lb"
_TIEDOWNS = "tiedowns"
# The scenes' figures are invented and round, so that a driver can say the sum aloud.
_COIL_LB = range(8_000, 48_001, 2_000)
_ARTICLE_FT = range(3, 54)
_ARTICLE_LB = (800, 1_000, 2_000, 6_000)
_SAYABLE_LB = 100
_A = {"binder": "a binder", "hook": "a hook", "anchor": "an anchor"}
_SMALL_LB = (-500, -200, 0, 200, 500)


@dataclass(frozen=True, slots=True)
class _Source:
    """Where questions come from: the draw, the tables, the driver's gear and the day."""

    draw: random.Random
    tables: Tables
    gear: GearList
    on: dt.date

    def rate(self, tiedown: Tiedown) -> Rated:
        """Rate a tiedown as it is described, no gear list added."""
        return wll_of(tiedown, tables=self.tables, on=self.on)

    def value(self, name: str, **keys: str | float) -> Value:
        """Look a value up."""
        return self.tables.value(name, on=self.on, **keys)

    def chain(self, grades: Sequence[str] = ()) -> Tiedown:
        """Draw a chain whose size and grade the table prints."""
        cells = [cell for cell in self.tables.cells("chain_wll") if not grades or cell[1] in grades]
        size_in, grade = self.draw.choice(cells)
        return _across(float(size_in), str(grade))


def make_quiz(*, seed: int, tables: Tables, gear: GearList, on: dt.date, length: int = 5) -> Quiz:
    """Return a quiz of questions of varying sort.

    Parameters
    ----------
    seed
        Draws sorts and figures: the same seed gives the same quiz.
    tables
        The regulation tables.
    gear
        The driver's gear list: how many chains are needed is asked of their own.
    on
        The day whose values count.
    length
        How many questions.
    """
    draw = random.Random(seed)  # noqa: S311 - a scene is drawn, nothing is kept secret
    source = _Source(draw=draw, tables=tables, gear=gear, on=on)
    sorts: list[Callable[[_Source], Question]] = []
    while len(sorts) < length:
        sorts += draw.sample(_SORTS, k=min(len(_SORTS), length - len(sorts)))
    return Quiz(questions=tuple(sort(source) for sort in sorts))


def _limit_of_chain(source: _Source) -> Question:
    chain = source.chain()
    rated = source.rate(chain)
    ask = f"What is the working load limit of {_chain_words(chain)}?"
    why = f"the chain table gives {_lb(rated.wll_lb)}"
    return _question(ask, answer=rated.wll_lb, unit=_POUNDS, why=why, steps=[_table_step(rated)])


def _limit_of_strap(source: _Source) -> Question:
    (size_in,) = source.draw.choice(source.tables.cells("webbing_wll"))
    strap = Tiedown(kind=Kind.STRAP, size_in=float(size_in), path=Path.ACROSS)
    rated = source.rate(strap)
    ask = f"What does a {inches(float(size_in))} in strap without a tag count as?"
    why = f"the webbing table gives {_lb(rated.wll_lb)}"
    return _question(ask, answer=rated.wll_lb, unit=_POUNDS, why=why, steps=[_table_step(rated)])


def _unmarked_chain(source: _Source) -> Question:
    chain = source.chain(grades=("70", "80")).model_copy(update={"grade": None, "unmarked": True})
    rated = source.rate(chain)
    rule = source.value("unmarked_chain_grade")
    ask = f"You find no marks at all on a {inches(chain.size_in or 0)} in chain: what limit does it get?"
    why = f"without marks it is grade {rule.words}, {_lb(rated.wll_lb)}"
    return _question(ask, answer=rated.wll_lb, unit=_POUNDS, why=why, steps=[rule.step(), _table_step(rated)])


def _higher_grade(source: _Source) -> Question:
    """Ask whether the higher grade number has the higher limit: once in the table it has not."""
    high, low = "80", "70"
    cells = source.tables.cells("chain_wll")
    sizes = [float(size) for size, grade in cells if grade == high and (size, low) in cells]
    limits = {size: [source.value("chain_wll", size_in=size, grade=grade) for grade in (high, low)] for size in sizes}
    traps = [size for size, (over, under) in limits.items() if over.number < under.number]
    size = source.draw.choice(traps if traps and source.draw.random() < 1 / 2 else sizes)
    over, under = limits[size]
    ask = f"Is {inches(size)} in grade {high} chain rated higher than grade {low} of that size?"
    why = f"the table gives grade {high} {pounds(over.number)} and grade {low} {pounds(under.number)}"
    return _question(ask, answer=over.number > under.number, why=why, steps=[over.step(), under.step()])


def _weakest_part(source: _Source) -> Question:
    chain = source.chain(grades=("43", "70", "80", "100"))
    own = source.rate(chain).wll_lb or 0
    lower = sorted({value for value in _chain_limits(source) if value < own})
    part = source.draw.choice([*_A])
    part_lb = source.draw.choice(lower[-4:])
    rated = source.rate(chain.model_copy(update={f"{part}_lb": part_lb}))
    ask = f"What is {_chain_words(chain)} good for with {_A[part]} marked {pounds(part_lb)}?"
    why = f"the weakest part counts, here the {rated.governs}, {_lb(rated.wll_lb)}"
    steps = [source.value("lowest_component").step(), _table_step(rated)]
    return _question(ask, answer=rated.wll_lb, unit=_POUNDS, why=why, steps=steps)


def _half_weight(source: _Source) -> Question:
    weight_lb = source.draw.choice(_COIL_LB)
    load = Load(coils=(Coil(weight_lb=weight_lb),))
    needed_lb = needed_aggregate_lb(load=load, tables=source.tables, on=source.on)
    ask = f"How many pounds must the tiedowns of a {pounds(weight_lb)} coil add up to?"
    why = f"half the weight, {_lb(needed_lb)}"
    return _question(ask, answer=needed_lb, unit=_POUNDS, why=why, steps=[source.value("aggregate_share").step()])


def _aggregate(source: _Source) -> Question:
    halved = source.draw.choice((Path.SAME_SIDE, Path.DIRECT))
    chains = [_across(float(size), str(grade)) for size, grade in source.tables.cells("chain_wll")]
    chain = source.draw.choice([one for one in chains if (source.rate(one).wll_lb or 1) % _SAYABLE_LB == 0])
    # Even numbers of the halved ones keep the sum round.
    full, half = source.draw.choice((2, 3)), source.draw.choice((2, 4))
    groups = [
        source.rate(chain.model_copy(update={"count": count, "path": path}))
        for count, path in ((full, Path.ACROSS), (half, halved))
    ]
    total_lb = sum(group.counts_lb for group in groups)
    course = {Path.SAME_SIDE: "come back to the same side", Path.DIRECT: "hook straight to the machine"}[halved]
    number, come, back = (counted(count, "").split()[0] for count in (full + half, full, half))
    made = f"grade {chain.grade} chains of {inches(chain.size_in or 0)} in"
    ask = f"Of {number} {made}, {come} reach the other side and {back} {course}: what do they count?"
    parts = " and ".join(pounds(group.counts_lb) for group in groups)
    why = f"those that {course} count half, so {parts}, {pounds(total_lb)}"
    steps = [source.value("counts_as", path=str(halved)).step(), _table_step(groups[0])]
    return _question(ask, answer=total_lb, unit=_POUNDS, why=why, steps=steps)


def _chains_for_a_coil(source: _Source) -> Question:
    weight_lb = source.draw.choice(_COIL_LB)
    chain = _own_chain(source) or source.chain(grades=("43", "70"))
    load = Load(coils=(Coil(weight_lb=weight_lb, eye=Eye.CROSSWISE),), tiedowns=(chain,))
    advice = how_many(load, kind=Kind.CHAIN, tables=source.tables, gear=GearList(), on=source.on)
    ask = (
        f"How many {_chain_words(chain)}s, all to the other side, does a {pounds(weight_lb)} coil with its eye "
        f"crosswise need at least?"
    )
    words = advice.text.partition(". ")[0].rstrip(".")
    why = f"{words[0].lower()}{words[1:]}"
    return _question(ask, answer=advice.need, unit="chains", why=why, steps=advice.trace, finding=advice)


def _by_length(source: _Source) -> Question:
    length_ft, weight_lb = source.draw.choice(_ARTICLE_FT), source.draw.choice(_ARTICLE_LB)
    blocked = source.draw.random() < 1 / 2
    if blocked:
        least = least_blocked(length_ft=length_ft, tables=source.tables, on=source.on)
    else:
        least = least_unblocked(length_ft=length_ft, weight_lb=weight_lb, tables=source.tables, on=source.on)
    front = "blocked in front" if blocked else "with nothing in front of it"
    ask = f"How many tiedowns does its length ask of a crate {length_ft} ft long, {pounds(weight_lb)}, {front}?"
    why = f"the length rule asks for {counted(least.number, 'tiedown')}"
    return _question(ask, answer=float(least.number), unit=_TIEDOWNS, why=why, steps=[least.row.step()])


def _same_side(source: _Source) -> Question:
    path, course = source.draw.choice(
        (
            (Path.SAME_SIDE, "goes round and back to the same side"),
            (Path.DIRECT, "hooks straight to the machine"),
            (Path.ACROSS, "goes over to the other side"),
        )
    )
    row, full = source.value("counts_as", path=str(path)), source.value("counts_as", path=str(Path.ACROSS))
    ask = f"Does a chain that {course} count in full?"
    share = "in full" if row.number == full.number else "half"
    why = f"a chain that {course} counts {share}"
    return _question(ask, answer=row.number == full.number, why=why, steps=[row.step()])


def _crossing(source: _Source) -> Question:
    eye = source.draw.choice((Eye.CROSSWISE, Eye.LENGTHWISE))
    crossed = _across(3 / 8, "70").model_copy(update={"count": 2, "through": Through.EYE, "crossed": True})
    stop = _stop_over("crossing", Load(coils=(Coil(weight_lb=30_000, eye=eye),), tiedowns=(crossed,)), source)
    rows = {
        Eye.CROSSWISE: source.value("coil_clause", clause="crosswise crossing"),
        Eye.LENGTHWISE: source.value("coil_tiedowns", clause="lengthwise diagonal"),
    }
    way = {Eye.CROSSWISE: "across the deck", Eye.LENGTHWISE: "along the deck"}[eye]
    ask = f"May the chains through the eye form an X, seen from above, when the eye points {way}?"
    why = f"with the eye {way} an X through it is {'prohibited' if stop else 'one of the ways the rule gives'}"
    return _question(ask, answer=stop is None, why=why, steps=[rows[eye].step()], finding=stop)


def _nailed(source: _Source) -> Question:
    nailed = source.draw.random() < 1 / 2
    support = Support(timbers=2, bunks=3, nailed_only=nailed)
    chains = tuple(
        _across(3 / 8, "70").model_copy(update={"count": 2, "pulls": pull, "through": Through.EYE})
        for pull in (Pull.FORWARD, Pull.REARWARD)
    )
    load = Load(coils=(Coil(weight_lb=30_000, eye=Eye.CROSSWISE),), tiedowns=chains, support=support)
    stop = _stop_over("rolling", load, source)
    row = source.value("coil_clause", clause="crosswise rolling")
    by = "nails alone" if nailed else "coil bunks"
    ask = f"May a coil with its eye crosswise rest on timbers that {by} hold?"
    why = f"{by} are {'prohibited as the only means' if stop else 'what the rule wants to hold the timbers'}"
    return _question(ask, answer=stop is None, why=why, steps=[row.step()], finding=stop)


def _scope(source: _Source) -> Question:
    row = source.value("coil_scope")
    weight_lb = row.number + source.draw.choice(_SMALL_LB)
    ask = f"Does the coil rule apply to a single coil of {pounds(weight_lb)}?"
    why = f"it applies from {pounds(row.number)} up"
    return _question(ask, answer=weight_lb >= row.number, why=why, steps=[row.step()])


_SORTS: tuple[Callable[[_Source], Question], ...] = (
    _limit_of_chain,
    _limit_of_strap,
    _unmarked_chain,
    _higher_grade,
    _weakest_part,
    _half_weight,
    _aggregate,
    _chains_for_a_coil,
    _by_length,
    _same_side,
    _crossing,
    _nailed,
    _scope,
)


def _question(
    ask: str,
    *,
    answer: float | bool | None,
    why: str,
    steps: Sequence[Step],
    unit: str = "",
    finding: Finding | None = None,
) -> Question:
    """Return a question; `steps` are the rows its answer rests on, the deciding clause first."""
    if answer is None:
        message = f"no answer to {ask!r}: the tables lack it"
        raise ValueError(message)
    if isinstance(answer, bool):
        why = f"{'yes' if answer else 'no'}, {why}"
    rule = finding.rule if finding else steps[0].ref.partition(",")[0].partition(";")[0]
    sources = dict.fromkeys(f"{step.ref} ({step.mark})" for step in steps if step.ref)
    return Question(
        say=spell(ask),
        show=ask,
        answer=answer,
        unit=unit,
        why="\n".join((f"{why[0].upper()}{why[1:]}.", *sources)),
        why_say=spell(f"{why}, by {rule.removeprefix('49 CFR ')}."),
        rule=rule,
    )


def _stop_over(topic: str, load: Load, source: _Source) -> Finding | None:
    """Return the engine's refusal of a load on one topic, if it refuses."""
    judgement = judge(load, tables=source.tables, gear=source.gear, on=source.on)
    return next(
        (one for one in judgement.findings if one.topic == topic and one.status is Status.STOP),
        None,
    )


def _chain_limits(source: _Source) -> list[float]:
    return [
        source.value("chain_wll", size_in=size, grade=grade).number for size, grade in source.tables.cells("chain_wll")
    ]


def _table_step(rated: Rated) -> Step:
    """Return the step of a rating that holds the table's cell."""
    return next((step for step in rated.trace if "table" in step.ref), rated.trace[0])


def _chain_words(tiedown: Tiedown) -> str:
    return f"{inches(tiedown.size_in or 0)} in grade {tiedown.grade} chain"


def _own_chain(source: _Source) -> Tiedown | None:
    """Return the driver's own chain by size and grade, when the table prints it."""
    own = source.gear.of(Kind.CHAIN)
    if own is None or own.size_in is None or own.grade is None:
        return None
    printed = source.tables.lookup("chain_wll", on=source.on, size_in=own.size_in, grade=own.grade)
    return _across(own.size_in, own.grade) if printed else None


def _across(size_in: float, grade: str) -> Tiedown:
    return Tiedown(kind=Kind.CHAIN, size_in=size_in, grade=grade, path=Path.ACROSS)


def _lb(value: float | None) -> str:
    return "no limit" if value is None else pounds(value)
