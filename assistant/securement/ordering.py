"""The order in which findings are told, whichever rule set made them."""

from collections.abc import Iterable

from assistant.securement.finding import Finding, Status

_ORDER = {
    status: place
    for place, status in enumerate((Status.STOP, Status.SHORT, Status.ASK, Status.OUTSIDE, Status.MEETS, Status.LOOK))
}


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings, worst and most useful first."""
    return tuple(sorted(findings, key=lambda finding: (_ORDER[finding.status], -finding.weight)))
