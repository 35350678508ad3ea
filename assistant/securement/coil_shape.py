"""A coil's size, worked out from its weight where it was not told, and the lengths that are assumed."""

import datetime as dt
import math
from dataclasses import dataclass, field

from assistant.load.model import Coil
from assistant.securement.table_reader import Tables, Value


@dataclass(frozen=True)
class CoilSize:
    """Outside radius, bore radius and width [in], and what was assumed to know them."""

    radius: float
    bore: float
    width: float
    assumed: tuple[str, ...]


@dataclass
class Geometry:
    """The lengths a body is built from, told or assumed; `assumed` collects a sentence for each that was not told."""

    tables: Tables
    on: dt.date
    assumed: list[str] = field(default_factory=list)

    def length(self, told: float | None, of: str) -> float:
        """Return a length as told, or as assumed [in]."""
        if told is not None:
            return told
        value = self.tables.value("assumed_length", on=self.on, of=of).number
        self.assumed.append(f"{of.capitalize()} taken as {value:g} in.")
        return value

    def friction(self, pair: str) -> float:
        """Return the coefficient of friction of a pair, listed as assumed."""
        value = self.tables.value("friction", on=self.on, pair=pair)
        self.assumed.append(f"Friction, {pair}: {value.number:g} ({value.ref}; {value.mark}).")
        return value.number

    def run(self, height: float, told_deg: float | None) -> float:
        """Return how far along the deck an anchor lies from a point at a height."""
        row: Value = self.tables.value("assumed_angle", on=self.on)
        if told_deg is None:
            self.assumed.append(
                f"Angle of tiedowns with the deck, seen from the side, taken as {row.number:g} degrees."
            )
        slope = math.radians(row.number if told_deg is None else told_deg)
        return height / math.tan(slope) if math.tan(slope) > 0 else 0.0


def coil_size(coil: Coil, *, tables: Tables, on: dt.date) -> CoilSize:
    """Return a coil's size, worked out from its weight where it was not told.

    Notes
    -----
    Outside diameter = sqrt(4 W / (pi rho w) + bore^2), the strip wound without gaps.

    Raises
    ------
    ValueError
        The weight was not told.
    """
    if coil.weight_lb is None:
        message = "a coil without a weight has no size"
        raise ValueError(message)
    geometry = Geometry(tables, on)
    width = geometry.length(coil.width_in, "coil width")
    bore = geometry.length(coil.bore_in, "coil bore") / 2
    if coil.outside_in is not None:
        return CoilSize(coil.outside_in / 2, min(bore, coil.outside_in / 2), width, tuple(geometry.assumed))
    metal = coil.metal if coil.metal and tables.lookup("density", on=on, metal=coil.metal) else "steel"
    density = tables.value("density", on=on, metal=metal)
    radius = math.sqrt(coil.weight_lb / (math.pi * density.number * width) + bore**2)
    how = f"from the weight and {metal} at {density.number:g} lb/in3 ({density.mark})"
    geometry.assumed.append(f"Outside diameter {2 * radius:.0f} in, {how}.")
    return CoilSize(radius, bore, width, tuple(geometry.assumed))
