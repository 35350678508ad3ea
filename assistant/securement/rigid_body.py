"""How much acceleration a rigid body on its supports, held by tiedowns, resists: a small linear program.

A lower bound by limit analysis: if some set of contact forces within their friction cones and tiedown forces within
their limits balances the body, it stands. Lengths are inches, forces pounds, accelerations g. x points forward, y to
the left, z up.

References
----------
The static (lower bound) theorem of limit analysis; Coulomb friction. Textbook cases in tests/rules/test_rigid_body.py.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]

_TANGENTS = 8
"""Sides of the pyramid that stands for a friction cone. It lies inside the cone and touches it along x and y."""
_MOST_G = 100.0
"""Beyond this the body is simply held: the supports take whatever comes."""
_NO_SLIP = 50.0
"""A coefficient of friction that rules sliding out, to look at tipping and rolling alone. Only the edge that the body
would turn over keeps it: two edges of such friction would wedge the body fast, which no real pair does."""
_SAME_EDGE = 1e-3
_STRETCH = 1e-6
_USED = 1e-6


class NotSolvedError(ArithmeticError):
    """The linear program has no answer: the body does not even stand still by itself. Keeps the solver's status."""

    def __init__(self, status: str) -> None:
        super().__init__(f"the body does not stand: {status}")
        self.status = status


@dataclass(frozen=True)
class Contact:
    """A point where a support touches the body: it can push along `normal` (towards the body) and rub.

    A support that bears no more than `limit_lb` has no friction, and a name to be told by when it gives.
    """

    at: tuple[float, float, float]
    normal: tuple[float, float, float]
    friction: float
    limit_lb: float = math.inf
    name: str = ""


@dataclass(frozen=True)
class Pull:
    """A tiedown: from each point on the body it pulls towards an anchor, with one and the same tension.

    `limit_lb` bounds the tension where the movement stretches the tiedown; `pretension_lb` where it does not.
    """

    name: str
    ends: tuple[tuple[tuple[float, float, float], tuple[float, float, float]], ...]
    limit_lb: float
    pretension_lb: float = 0.0


@dataclass(frozen=True)
class Body:
    """A weight at a centre, its supports and its tiedowns."""

    weight_lb: float
    centre: tuple[float, float, float]
    contacts: tuple[Contact, ...]
    pulls: tuple[Pull, ...] = ()


@dataclass(frozen=True)
class Bound:
    """The greatest acceleration resisted (g), how the body then begins to move, and what each tiedown does.

    `turns` is true where it turns rather than slides. `first` names the tiedown, or the support of bounded strength,
    that is at its limit and gives way most; `idle` the tiedowns that do nothing against this movement.
    """

    g: float
    turns: bool
    first: str
    idle: tuple[str, ...]


def greatest_g(body: Body, direction: tuple[float, float, float], *, sliding: bool = True) -> Bound:
    """Return the greatest acceleration that the body resists.

    Parameters
    ----------
    body
        The body.
    direction
        Unit vector of the movement: (1, 0, 0) is the load going forward.
    sliding
        False rules sliding out, so that only tipping and rolling remain.

    Returns
    -------
    Bound
        100 g stands for "held by its supports, whatever comes".

    Raises
    ------
    NotSolvedError
        The body does not stand still at 0 g.

    Notes
    -----
    A tiedown that a slide does not stretch holds with its pretension alone: a strap straight over the top presses the
    load down no harder because the load begins to slide.
    """
    towards = np.asarray(direction, float)
    limits = [
        pull.limit_lb if not sliding or _resists(pull, towards) else min(pull.pretension_lb, pull.limit_lb)
        for pull in body.pulls
    ]
    forces = _contact_forces(body, towards, sliding=sliding)
    columns = [_wrench(body, np.asarray(contact.at, float), force) for contact, force in forces]
    columns += [_pull_wrench(body, pull) for pull in body.pulls]
    names = [*(contact.name for contact, _ in forces), *(pull.name for pull in body.pulls)]
    # In units of the weight, so that all numbers are near one: in pounds the solver now and then gives up.
    bounds = np.asarray([*(contact.limit_lb for contact, _ in forces), *limits], float) / body.weight_lb
    inertia = np.concatenate([towards, np.zeros(3)])
    load = np.asarray([0.0, 0.0, 1.0, 0.0, 0.0, 0.0])
    values, rates = _solve(np.column_stack([*columns, inertia]), np.append(bounds, _MOST_G), load)
    slide, turn = float(np.linalg.norm(rates[:3])), float(np.linalg.norm(rates[3:]))
    return Bound(
        g=max(0.0, min(float(values[-1]), _MOST_G)),
        turns=turn > slide * 0.5,
        first=_first(names, values[:-1], bounds, [-float(np.dot(column, rates)) for column in columns]),
        idle=_idle(body, values[len(forces) : -1]),
    )


def _resists(pull: Pull, towards: Vector) -> bool:
    """Return whether moving that way stretches the tiedown."""
    along = sum(float(np.dot(_unit(np.subtract(anchor, point)), towards)) for point, anchor in pull.ends)
    return along < -_STRETCH


def _contact_forces(body: Body, towards: Vector, *, sliding: bool) -> list[tuple[Contact, Vector]]:
    """Return the edges of each contact's friction pyramid; without sliding, of the edge it would turn over."""
    found: list[tuple[Contact, Vector]] = []
    reach = [float(np.dot(contact.at, towards)) for contact in body.contacts]
    edge = max(reach, default=0.0) - _SAME_EDGE
    for contact, far in zip(body.contacts, reach, strict=True):
        if not sliding and far < edge:
            continue
        normal = _unit(np.asarray(contact.normal, float))
        # What gives way at a limit is no edge that the body could turn over.
        friction = contact.friction if sliding or math.isfinite(contact.limit_lb) else _NO_SLIP
        if friction <= 0:
            found.append((contact, normal))
            continue
        first, second = _tangents(normal)
        for turn in range(_TANGENTS):
            angle = 2 * np.pi * turn / _TANGENTS
            edge_of_cone = normal + friction * (np.cos(angle) * first + np.sin(angle) * second)
            found.append((contact, edge_of_cone / math.hypot(1.0, friction)))
    return found


def _tangents(normal: Vector) -> tuple[Vector, Vector]:
    """Return two directions across a normal, along x and y as nearly as can be."""
    along = np.array([1.0, 0, 0]) if abs(normal[0]) < abs(normal[1]) + abs(normal[2]) else np.array([0, 0, 1.0])
    first = _unit(along - np.dot(along, normal) * normal)
    (x, y, z), (a, b, c) = normal, first
    return first, np.array([y * c - z * b, z * a - x * c, x * b - y * a])


def _unit(vector: Vector) -> Vector:
    length = float(np.sqrt(np.dot(vector, vector)))
    return np.asarray(vector / length) if length else np.asarray(vector)


def _wrench(body: Body, point: Vector, force: Vector) -> Vector:
    """Return force and moment about the centre, the moment in units of the centre's height so that both weigh alike."""
    scale = _scale(body)
    x, y, z = ((float(point[axis]) - body.centre[axis]) / scale for axis in range(3))
    a, b, c = float(force[0]), float(force[1]), float(force[2])
    # Written out: numpy's cross product costs ten times as much for one pair of vectors.
    return np.array([a, b, c, y * c - z * b, z * a - x * c, x * b - y * a])


def _scale(body: Body) -> float:
    return max(abs(body.centre[2]), 1.0)


def _pull_wrench(body: Body, pull: Pull) -> Vector:
    total = np.zeros(6)
    for point, anchor in pull.ends:
        total += _wrench(body, np.asarray(point, float), _unit(np.subtract(anchor, point)))
    return total


@cache
def _solver() -> Any:  # noqa: ANN401 - highspy ships no types
    import highspy  # noqa: PLC0415 - 70 ms, and only when the statics are asked for

    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)  # noqa: FBT003 - the solver's signature
    return highspy, solver


def _solve(matrix: Vector, upper: Vector, load: Vector) -> tuple[Vector, Vector]:
    """Maximize the last variable with all forces in balance; return the values and the virtual movement."""
    highspy, solver = _solver()
    rows, count = matrix.shape
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = count, rows
    cost = np.zeros(count)
    cost[-1] = -1.0
    program.col_cost_, program.col_lower_ = cost, np.zeros(count)
    program.col_upper_ = np.where(np.isinf(upper), highspy.kHighsInf, upper)
    program.row_lower_ = program.row_upper_ = load
    program.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    program.a_matrix_.start_ = np.arange(0, (count + 1) * rows, rows)
    program.a_matrix_.index_ = np.tile(np.arange(rows), count)
    program.a_matrix_.value_ = matrix.T.ravel()
    solver.passModel(program)
    solver.run()
    status = solver.getModelStatus()
    if status != highspy.HighsModelStatus.kOptimal:
        raise NotSolvedError(solver.modelStatusToString(status))
    solution = solver.getSolution()
    return np.asarray(solution.col_value), np.asarray(solution.row_dual)


def _first(names: Sequence[str], forces: Vector, limits: Vector, gives: Sequence[float]) -> str:
    """Return the name of what is at its limit and gives way most; empty where nothing of a name is at its limit."""
    full = [
        (abs(give) * limit, name)
        for name, force, limit, give in zip(names, forces, limits, gives, strict=True)
        if name and limit > 0 and force >= limit * (1 - _USED)
    ]
    return max(full)[1] if full else ""


def _idle(body: Body, tensions: Vector) -> tuple[str, ...]:
    least = max(1.0 / body.weight_lb, _USED)
    return tuple(pull.name for pull, tension in zip(body.pulls, tensions, strict=True) if tension <= least)
