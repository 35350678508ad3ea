"""What the clauses share: findings built from a table row, and needs that tiedowns fill."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum, auto

from assistant.load.model import Article, Coil, Kind, Load, Tiedown
from assistant.securement.finding import Finding, Status, Step
from assistant.securement.table_reader import Value
from assistant.securement.wording import counted


class Useful(IntEnum):
    """How useful a finding is among those of its status: later ones are said first."""

    ASIDE = 0
    DETAIL = auto()
    PATH = auto()
    MARK = auto()
    BLOCKING = auto()
    DIRECTION = auto()
    SUPPORT = auto()
    EYE = auto()
    TIEDOWNS = auto()
    WEIGHT = auto()
    DANGER = auto()


@dataclass(frozen=True, slots=True)
class Need:
    """So many tiedowns of one role, as one clause asks.

    `row` holds the least number for one coil or row, `times` how many of those there are, `have` what was told, `role`
    what such a tiedown does ("through the eye, to keep the coil from moving forward").
    """

    row: Value
    times: int
    have: int
    role: str
    topic: str

    @property
    def least(self) -> int:
        """The least number in all."""
        return int(self.row.number) * self.times

    @property
    def lacking(self) -> int:
        """How many are lacking."""
        return max(0, self.least - self.have)


def found(  # noqa: PLR0913 - a finding has that many sides
    row: Value,
    status: Status,
    text: str,
    *,
    topic: str,
    remedy: str = "",
    need: float | None = None,
    have: float | None = None,
    unit: str = "",
    steps: Sequence[Step] = (),
    weight: Useful = Useful.ASIDE,
) -> Finding:
    """Return a finding whose clause, mark and first step come from the row it rests on."""
    return Finding(
        rule=row.clause,
        status=status,
        text=text,
        remedy=remedy,
        need=need,
        have=have,
        unit=unit,
        mark=row.mark,
        trace=(row.step(), *steps),
        topic=topic,
        weight=int(weight),
    )


def told(what: str, value: float | str, unit: str = "", formula: str = "told") -> Step:
    """Return a step for what the driver told or what was worked out from it."""
    return Step(what=what, value=value, unit=unit, formula=formula)


def check_needs(needs: Sequence[Need], *, untold: int, question: str, kind: Kind) -> list[Finding]:
    """Return one finding for each need.

    Parameters
    ----------
    needs
        The needs, which no tiedown may fill twice.
    untold
        How many tiedowns were told without what they do: they may fill any of the needs.
    question
        What to ask about those.
    kind
        Kind of tiedown that a remedy names.

    Notes
    -----
    Lacking needs that the untold tiedowns can fill are `ask`. Where they are too few, the needs in the order given
    get them and the rest is `short`: what the driver will answer cannot mend that.
    """
    left = untold
    findings = []
    for need in needs:
        status = Status.MEETS
        if need.lacking > left:
            status = Status.SHORT
        elif need.lacking:
            status = Status.ASK
            left -= need.lacking
        findings.append(_need_found(need, status, question, kind))
    return findings


def _need_found(need: Need, status: Status, question: str, kind: Kind) -> Finding:
    text = f"At least {counted(need.least, 'tiedown')} {need.role}; {need.have} told."
    remedy = ""
    if status is Status.SHORT:
        remedy = f"Add {counted(need.lacking, str(kind))} {need.role}."
    elif status is Status.ASK:
        remedy = question
    return found(
        need.row,
        status,
        text,
        topic=need.topic,
        remedy=remedy,
        need=need.least,
        have=need.have,
        unit="tiedowns",
        steps=(told("tiedowns of that role", need.have),),
        weight=Useful.DIRECTION,
    )


def usual_kind(tiedowns: Sequence[Tiedown]) -> Kind:
    """Return the kind that a remedy should name: the one told first, else a chain."""
    return tiedowns[0].kind if tiedowns else Kind.CHAIN


def number_of(tiedowns: Sequence[Tiedown]) -> int:
    """Return how many tiedowns the groups hold."""
    return sum(tiedown.count for tiedown in tiedowns)


def cargo(load: Load) -> tuple[Coil | Article, ...]:
    """Return coils and other articles together."""
    return (*load.coils, *load.articles)


def weight_of(load: Load) -> float | None:
    """Return the weight of everything on deck [lb], None when one weight was not told."""
    items = cargo(load)
    weights = [item.count * item.weight_lb for item in items if item.weight_lb is not None]
    return sum(weights) if len(weights) == len(items) else None


def articles_on(load: Load) -> int:
    """Return how many coils and other articles are on deck."""
    return sum(item.count for item in cargo(load))


def once(sentences: Sequence[str]) -> tuple[str, ...]:
    """Return the sentences in their order, each once, empty ones left out."""
    return tuple(sentence for sentence in dict.fromkeys(sentences) if sentence)


__all__ = [
    "Need",
    "Useful",
    "articles_on",
    "cargo",
    "check_needs",
    "found",
    "number_of",
    "once",
    "told",
    "usual_kind",
    "weight_of",
]
