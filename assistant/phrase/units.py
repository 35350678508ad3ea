"""Units at the boundary: words to pounds, inches and feet, by pint over our own definitions.

References
----------
International Yard and Pound Agreement, 1959: 1 lb = 0.45359237 kg, 1 in = 0.0254 m, both exact (memory; the same
figures are in NIST Special Publication 811, appendix B).
"""

from functools import cache
from typing import Any


@cache
def factor(definitions: str, unit: str, target: str) -> float:
    """Return how many `target` one `unit` is.

    Parameters
    ----------
    definitions
        Text of grammar/units.txt.
    unit, target
        Names defined there.

    Raises
    ------
    pint.UndefinedUnitError, pint.DimensionalityError
        A unit that is not listed, or a length for a weight.
    """
    if unit == target:
        return 1.0
    from pint import UnitRegistry  # noqa: PLC0415 - costs 0.12 s; most phrases are all pounds, inches and feet

    registry: UnitRegistry[Any] = UnitRegistry(None, on_redefinition="raise")
    registry.load_definitions(definitions.splitlines())
    return float(registry.Quantity(1, unit).to(target).magnitude)
