"""Small tables between fragments and the fields they fill."""

from typing import Any

ONE_FIELD = {
    "threads": ("tiedown", "count", "threads_left"),
    "angle": ("tiedown", "count", "angle_deg"),
    "breaking": ("tiedown", "limit", "breaking_lb"),
    "pretension": ("tiedown", "limit", "pretension_lb"),
    "rest_rated": ("support", "limit", ""),
    "front": ("front", "length", "height_ft"),
    "front_rated": ("front", "limit", "rated_lb"),
}
"""Facts that are one number: what they are told of, in which slot, and which field they fill."""


def described(values: dict[str, Any]) -> dict[str, Any]:
    """Return what the slots of a fragment tell of a tiedown's make."""
    fields = {
        "size": "size_in",
        "grade": "grade",
        "stamp": "grade",
        "material": "material",
        "thickness": "thickness_in",
    }
    return {field: values[slot] for slot, field in fields.items() if slot in values}


def plain(key: str, value: object) -> str:
    """Return a fact as a driver would know it again."""
    name = key.replace("_", " ")
    if isinstance(value, bool):
        return name if value else f"no {name}"
    return f"{value} {name}" if isinstance(value, int) else str(value)
