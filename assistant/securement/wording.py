"""Words and figures that findings are written with."""

from fractions import Fraction

from assistant.load.model import Gear, Kind, Tiedown

_SMALLEST = 16  # tape measures and chain sizes go by sixteenths
_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PLURALS = {
    Kind.CHAIN: "chains",
    Kind.STRAP: "straps",
    Kind.WIRE_ROPE: "wire ropes",
    Kind.ROPE: "ropes",
    Kind.STEEL_STRAP: "steel straps",
}


def inches(size_in: float) -> str:
    """Return a size as it is read off a tape: "3/8", "1-3/4", "4"; decimals when it is no sixteenth."""
    fraction = Fraction(size_in).limit_denominator(_SMALLEST)
    if float(fraction) != size_in:
        return f"{size_in:g}"
    whole, rest = divmod(fraction, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


def pounds(weight_lb: float) -> str:
    """Return a weight in figures: "18,250 lb"."""
    return f"{weight_lb:,.0f} lb" if weight_lb == round(weight_lb) else f"{weight_lb:,.1f} lb"


def weighed(weight: float, unit: str) -> str:
    """Return a weight in the unit that its finding has: "6,600 lb", "2,994 kg"."""
    return pounds(weight) if unit == "lb" else f"{weight:,.0f} {unit}"


def counted(number: int, noun: str) -> str:
    """Return a number and its noun: "one chain", "two chains", "14 bunks"."""
    word = _WORDS[number] if number < len(_WORDS) else str(number)
    return f"{word} {noun if number == 1 else noun + 's'}"


def many(kind: Kind) -> str:
    """Return a kind in the plural."""
    return _PLURALS[kind]


def described(item: Tiedown | Gear, *, mark: bool = True) -> str:
    """Return a tiedown's kind, size, grade, fiber and, unless left out, its mark: "chain 3/8 in grade 70"."""
    parts = [str(item.kind)]
    if item.size_in is not None:
        parts.append(f"{inches(item.size_in)} in")
    if item.thickness_in is not None:
        parts.append(f"by {item.thickness_in:g} in")
    if item.grade is not None and not item.unmarked:
        parts.append(f"grade {item.grade}")
    if item.material is not None:
        parts.append(item.material)
    if item.unmarked:
        parts.append("without marks")
    elif mark and item.marked_lb is not None:
        parts.append(f"marked {pounds(item.marked_lb)}")
    return " ".join(parts)
