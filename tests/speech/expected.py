"""What a clip's manifest expects, compared with what came of it."""

import math
from typing import Any

WITHIN_LB = 0.1
"""Weights told in metric units are written with two decimals."""


def as_expected(entry: dict[str, Any], intent: str, load: dict[str, Any]) -> bool:
    """Return whether an answer's intent, or its load, is what the clip's entry names."""
    return bool(intent == entry["intent"]) if "intent" in entry else same(entry["expected"], load)


def same(expected: object, got: object) -> bool:
    """Compare what is listed; what is not listed may be anything. Lists must be as long."""
    if isinstance(expected, dict):
        return isinstance(got, dict) and all(same(value, got.get(key)) for key, value in expected.items())
    if isinstance(expected, list):
        return (
            isinstance(got, list | tuple)
            and len(expected) == len(got)
            and all(same(one, other) for one, other in zip(expected, got, strict=True))
        )
    if isinstance(expected, float) and isinstance(got, int | float):
        return math.isclose(expected, got, abs_tol=WITHIN_LB)
    return expected == got
