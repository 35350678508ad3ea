"""What a heard number may be, and what is refused in words beyond it."""

from collections.abc import Mapping

from pydantic import ValidationError

from assistant.phrase.slots import Weight


class Refused(Exception):  # noqa: N818 - carries a sentence to the caller within this room, never out of it
    """A fact that makes no sense; the whole utterance is then left."""


def checked_weight(weight: Weight, noun: str, limits: Mapping[str, float]) -> float:
    """Return a weight in pounds, if a truck can carry it.

    Raises
    ------
    Refused
        Zero, negative, or more than a vehicle may gross (23 CFR 658.17(b), memory).
    """
    if weight.maybe and noun == "articles":
        message = f"I heard {weight.pounds:,.0f} pounds; it may be {weight.maybe:,.0f}. Say the weight again in full."
        raise Refused(message)
    most = limits["coil_max_lb" if noun == "coils" else "article_max_lb"]
    if weight.pounds <= 0:
        message = f"A weight must be more than zero; I heard {weight.pounds:,g} pounds."
        raise Refused(message)
    if weight.pounds > most:
        message = (
            f"I heard {weight.pounds:,.0f} pounds. No truck may gross more than {most:,.0f} pounds "
            "without a permit (23 CFR 658.17). Say the weight again."
        )
        raise Refused(message)
    return weight.pounds


def checked_count(count: int, limits: Mapping[str, float]) -> int:
    """Return a count, if a deck can hold so many.

    Raises
    ------
    Refused
        Zero, negative, or more than is plausible on one deck (common practice, no source).
    """
    if count < 1 or count > limits["count_max"]:
        most = limits["count_max"]
        message = f"I heard a count of {count:,}; it has to be from 1 to {most:g}. Say the count again."
        raise Refused(message)
    return count


def cannot_be(impossible: ValidationError) -> str:
    """Name a number that nothing on a deck can have: a bore of zero inches, an angle of a hundred degrees."""
    first = impossible.errors()[0]
    field = str(first["loc"][-1]).rpartition("_")[0].replace("_", " ")
    value = first["input"]
    said = f"{value:,g}" if isinstance(value, int | float) else value
    return f"I heard {said} for the {field or first['loc'][-1]}; that cannot be. Say it again."
