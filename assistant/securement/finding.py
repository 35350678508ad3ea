"""What the engine says: findings with a trace, and the judgement they add up to."""

from enum import StrEnum

from pydantic import Field

from assistant.load.model import Noun, Path, Tiedown


class Status(StrEnum):
    """Status of one rule."""

    MEETS = "meets"
    SHORT = "short"
    ASK = "ask"
    LOOK = "look"
    STOP = "stop"
    OUTSIDE = "outside"


class Mark(StrEnum):
    """How sure we are of a source's words."""

    READ = "read"
    OTHER_WORDS = "in other words"
    MEMORY = "memory"
    DERIVED = "derived"
    PRACTICE = "common practice, no source"


class Basis(StrEnum):
    """Where a tiedown's working load limit comes from."""

    MARKED = "marked"
    TABLE = "table"
    GEAR_LIST = "gear list"
    SAMPLE_GEAR = "sample gear"


class Step(Noun):
    """One step of a trace: a value, where it comes from, and how it was made."""

    what: str
    value: float | str
    unit: str = ""
    ref: str = ""
    """Clause, table and edition; empty for what the driver told."""
    mark: Mark | None = None
    formula: str = ""


class Finding(Noun):
    """One rule's result.

    `text` is one plain sentence for the screen, figures in digits. `remedy` is the one thing to do or to answer,
    as a short sentence that can also be spoken; empty when nothing is wanted. `weight` orders findings of equal
    status: the higher is the more useful to say first.
    """

    rule: str
    status: Status
    text: str
    remedy: str = ""
    need: float | None = None
    have: float | None = None
    unit: str = ""
    mark: Mark
    trace: tuple[Step, ...] = Field(min_length=1)
    topic: str
    """Stable name of what is judged: "aggregate", "rating", "count", "forward", "rearward", "rolling", ..."""
    weight: int = 0

    @property
    def margin(self) -> float | None:
        """`have - need`, or None when either is unknown."""
        return None if self.need is None or self.have is None else self.have - self.need


class Rated(Noun):
    """A group of tiedowns with its working load limit settled.

    `wll_lb` is each one's (lb), None when it cannot be found; then `counts_lb`, the group's share of the
    aggregate (lb), is 0.
    """

    tiedown: Tiedown
    whole: Tiedown | None = None
    """The tiedown with what the gear list told of it; None where it told nothing."""
    wll_lb: float | None
    basis: Basis
    path: Path
    counts_lb: float
    governs: str
    """The component that sets the limit: "chain", "binder", "hook", "winch", "anchor", ..."""
    trace: tuple[Step, ...] = ()


_WORST_FIRST = (Status.STOP, Status.SHORT, Status.ASK, Status.OUTSIDE, Status.MEETS)


class Judgement(Noun):
    """All findings on one load, worst and most useful first.

    `needed_lb` and `counted_lb` are the aggregate WLL sums of 393.106(d); None when they cannot be known.
    """

    findings: tuple[Finding, ...] = ()
    rated: tuple[Rated, ...] = ()
    needed_lb: float | None = None
    counted_lb: float | None = None
    assumed: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()

    @property
    def verdict(self) -> Status | None:
        """The worst status among the findings; `look` never decides; None without findings."""
        found = {finding.status for finding in self.findings}
        return next((status for status in _WORST_FIRST if status in found), None)
