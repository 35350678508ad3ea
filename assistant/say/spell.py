"""Written text into words for the ear: numbers, fractions, units and clauses spelled out by our own rules.

A voice left to itself reads "5/16 in" as a date and "393.120" as a decimal; what reaches it holds no digit.
"""

import re
from collections.abc import Callable

MOST = 999_999_999
"""The largest number that has words here; longer strings of digits are read digit by digit."""

_ONES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_SCALES = ((1_000_000, "million"), (1_000, "thousand"), (100, "hundred"))
_ORDINALS = {
    "one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth",
    "twelve": "twelfth",
}  # fmt: skip
_HUNDRED = 100
_FINEST = 100
"""The smallest parts of a whole that are named (hundredths); finer ones are read "over"."""
_ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9, "x": 10}
_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}

# Singular and plural of each unit we print.
_UNITS = {
    "lb": ("pound", "pounds"), "lbs": ("pound", "pounds"), "kg": ("kilogram", "kilograms"),
    "in": ("inch", "inches"), "ft": ("foot", "feet"), "mi": ("mile", "miles"), "mm": ("millimeter", "millimeters"),
    "mph": ("mile per hour", "miles per hour"), "%": ("percent", "percent"), "g": ("g", "g"),
    "°": ("degree", "degrees"), "h": ("hour", "hours"), "inch": ("inch", "inch"), "inches": ("inches", "inches"),
}  # fmt: skip
_SINGLED = frozenset({"in", "ft", "lb", "lbs"})
_MEASURED = (
    "grade|g\\d|chains?|straps?|web|webbing|wire|ropes?|cables?|binders?|hooks?|winch(?:es)?|timbers?|coils?|"
    "articles?|decks?|trailers?|lift|tiedowns?|steel|manila|nylon|polyester|polypropylene|double|high|transport|alloy"
)
# "4 in the row" is no length.
_NOT_INCHES = (
    r"(?:the|a|an|all|each|every|any|this|that|these|those|your|my|our|its|place|front|line|one|both|case|and|it|them|"
    r"total|half)\b|\d"
)

_NUMBER = r"\d{1,3}(?:,\d{3}){1,2}(?!,?\d)(?:\.\d+)?|\d+(?:\.\d+)?"
_FRACTION = r"\d+/\d+"
_UNIT = (
    rf"(?:\s*(?P<unit>%|°)|[\s-]*(?P<letters>lbs?|kg|ft|mi|mm|mph|g|h|inch|inches|in(?!\s+(?:{_NOT_INCHES})))"
    rf"(?![\w/])(?P<dot>\.(?=\s+[a-z]))?)"
)
_CLAUSE = re.compile(
    r"(?:\b(?P<title>\d{1,2})\s+)?(?:\bCFR\b\s*)?(?:§+\s*)?\b(?P<part>39\d)\.(?P<section>\d{1,3})(?![\d.]*\d)"
    r"(?P<paragraphs>(?:[-–]?\([A-Za-z0-9]{1,5}\))*)"  # noqa: RUF001 - a dash people print
    r"(?!\s*(?:%|(?:lbs?|kg|in|ft|mi|g)\b))"
)
_PART = re.compile(r"\b([Pp]art)\s+(39\d)\b")
_GRADE = re.compile(r"\bG(\d{2,3})\b")
_BY = re.compile(r"\b(\d+)x(\d+)\b(?!,\d)")
_SECTIONS = re.compile(r"\b(39\d\.\d{1,3}(?:\([A-Za-z0-9]{1,5}\))*)\s?[-–]\s?(?=39\d\.\d)")  # noqa: RUF001 - as below
_RANGE = re.compile(rf"(?<![\w.,/-])({_NUMBER})\s?[-–](?=\d)(?!\d+/\d)(?![\d,.]*-)")  # noqa: RUF001 - a dash people print
_ORDINAL = re.compile(r"\b(\d{1,4})(?:st|nd|rd|th)\b")
_QUANTITY = re.compile(
    rf"(?P<minus>(?<![\w)\]])[-−])?"  # noqa: RUF001 - the sign a typesetter uses
    rf"(?:(?P<whole>\d+)[-\s](?P<part>{_FRACTION})|(?P<fraction>{_FRACTION})|(?P<number>{_NUMBER}))"
    rf"(?:{_UNIT}(?P<noun>\s+(?i:{_MEASURED})\b)?)?"
)
_ACROSS = re.compile(r"\s+[x×]\s+(?=[\d./-]+\s?(?:in|ft|mm)\b)")  # noqa: RUF001 - as below
_TIMES = re.compile(r"\s+[x×]\s+(?=\d)")  # noqa: RUF001 - the sign a typesetter uses
_SIGNS = (
    (re.compile(r"\bAWLL\b"), "aggregate working load limit"),
    (re.compile(r"\bWLL(s?)\b"), r"working load limit\1"),
    (re.compile(r"\bCFR\b"), "C F R"),
    (re.compile(r"§+\s*"), "section "),
    (re.compile(r"\s*>=\s*"), " at least "),
    (re.compile(r"\s*<=\s*"), " at most "),
    (re.compile(r"\s*&\s*"), " and "),
    (re.compile(r"\s+=\s+"), " is "),
    (re.compile(r"\s+\+\s+"), " plus "),
)


def number_words(n: int) -> str:
    """Return the words of a whole number, without "and" and without hyphens.

    Raises
    ------
    ValueError
        The number is negative or above `MOST`.
    """
    if not 0 <= n <= MOST:
        message = f"no words for {n}: 0 to {MOST:,} have them"
        raise ValueError(message)
    if n < len(_ONES):
        return _ONES[n]
    for size, name in _SCALES:
        if n >= size:
            rest = f" {number_words(n % size)}" if n % size else ""
            return f"{number_words(n // size)} {name}{rest}"
    ten, one = divmod(n, 10)
    return f"{_TENS[ten]} {_ONES[one]}" if one else _TENS[ten]


def ordinal_words(n: int) -> str:
    """Return the words of a whole number's ordinal: 21 is "twenty first"."""
    *front, last = number_words(n).split()
    regular = f"{last[:-1]}ieth" if last.endswith("y") else f"{last}th"
    return " ".join((*front, _ORDINALS.get(last, regular)))


def spell(text: str) -> str:
    """Return the text with every figure, unit sign and clause in words; no digit is left.

    Any text at all returns a text. Text without figures or signs of ours comes back as it was, but for
    runs of blanks.
    """
    # Runs of blanks say nothing, and each pattern would try them anew from every one of them.
    text = re.sub(r"\s{2,}", " ", text)
    for sign, plain in _VULGAR.items():
        text = re.sub(rf"(?<=\d)\s?{sign}", f"-{plain}", text).replace(sign, plain)
    for pattern, words in _PASSES:
        text = pattern.sub(words, text)
    for pattern, word in _SIGNS:
        text = pattern.sub(word, text)
    return re.sub(r"\d", _any_digit, text)


def _any_digit(match: re.Match[str]) -> str:
    return f" {_ONES[int(match[0])]} "


def _clause(match: re.Match[str]) -> str:
    """Read a section as people do: 393.106(d) is "three ninety three point one oh six, paragraph d"."""
    words = f"{_grouped(match['part'])} point {_grouped(match['section'])}"
    if "CFR" in match[0]:
        words = f"C F R {words}"
    if match["title"]:
        words = f"{number_words(int(match['title']))} {words}"
    if match["paragraphs"]:
        words += f", paragraph {_paragraphs(match['paragraphs'])}"
    return words


def _paragraphs(text: str) -> str:
    """Read "(d)(1)-(2)" as "d one to two": what stands after a dash is of the level before it."""
    words: list[str] = []
    level = -1
    for dash, name in re.findall(r"([-–]?)\(([^)]*)\)", text):  # noqa: RUF001 - a dash people print
        level += 0 if dash else 1
        words += [*(["to"] if dash else []), _paragraph(level, name)]
    return " ".join(words)


def _paragraph(level: int, name: str) -> str:
    if name.isdecimal():
        return _digits_or_number(name)
    # The third level of a federal paragraph is a small Roman number; higher up "i" and "v" are letters.
    if level > 1 and name in _ROMAN:
        return f"roman {number_words(_ROMAN[name])}"
    return name


def _grouped(figures: str) -> str:
    """Read up to three figures as a section number: 106 "one oh six", 120 "one twenty", 100 "one hundred"."""
    if int(figures) < _HUNDRED:
        return _digits_or_number(figures)
    first, rest = _ONES[int(figures[0])], figures[1:]
    if rest == "00":
        return f"{first} hundred"
    if rest[0] == "0":
        return f"{first} oh {_ONES[int(rest[1])]}"
    return f"{first} {number_words(int(rest))}"


def _digits_or_number(figures: str) -> str:
    """Read whole figures as a number; a leading zero or too many of them, one by one."""
    plain = figures.replace(",", "")
    if (plain[0] == "0" and len(plain) > 1) or len(plain) > len(str(MOST)):
        return " ".join(_ONES[int(figure)] for figure in plain)
    return number_words(int(plain))


def _decimal(figures: str) -> str:
    whole, _, part = figures.partition(".")
    words = _digits_or_number(whole)
    return f"{words} point {' '.join(_ONES[int(figure)] for figure in part)}" if part else words


def _fraction(figures: str, *, whole: str = "", measured: bool = False) -> str:
    """Read a fraction; `measured` drops the "one" of a half or a quarter inch."""
    above, below = figures.split("/")
    words = f"{_digits_or_number(above)} {_parts(above, below)}"
    bare = {"1/2": "half", "1/4": "quarter"}.get(figures)
    if whole:
        return f"{_digits_or_number(whole)} and {f'a {bare}' if bare else words}"
    return bare if bare and measured else words


def _parts(above: str, below: str) -> str:
    """Name the parts of a whole: halves, quarters, eighths; "over" where English has no word."""
    bottom = int(below) if len(below) <= len(str(_FINEST)) else 0
    if bottom not in range(2, _FINEST + 1):
        return f"over {_digits_or_number(below)}"
    name = {2: "half", 4: "quarter"}.get(bottom) or ordinal_words(bottom)
    if above == "1":
        return name
    return "halves" if name == "half" else f"{name}s"


def _quantity(match: re.Match[str]) -> str:
    unit = match["unit"] or match["letters"]
    if match["number"]:
        words = _decimal(match["number"])
    else:
        words = _fraction(match["part"] or match["fraction"], whole=match["whole"] or "", measured=unit is not None)
    if match["minus"]:
        words = f"minus {words}"
    if unit is None:
        return words
    one, many = _UNITS[unit.lower()]
    # Before a noun, and after a fraction, English keeps the unit single: "four inch strap", "three eighths inch".
    adjective = unit.lower() in _SINGLED and (not match["number"] or match["noun"] is not None)
    single = match["number"] == "1" or adjective
    return f"{words} {one if single else many}{match['noun'] or ''}"


_PASSES: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str]], ...] = (
    (_ACROSS, lambda _: " by "),
    (_TIMES, lambda _: " times "),
    (_SECTIONS, lambda match: f"{match[1]} to "),
    (_CLAUSE, _clause),
    (_PART, lambda match: f"{match[1]} {_grouped(match[2])}"),
    (_GRADE, lambda match: f"grade {_digits_or_number(match[1])}"),
    (_BY, lambda match: f"{_digits_or_number(match[1])} by {_digits_or_number(match[2])}"),
    (_ORDINAL, lambda match: ordinal_words(int(match[1]))),
    (_RANGE, lambda match: f"{match[1]} to "),
    (_QUANTITY, _quantity),
)
