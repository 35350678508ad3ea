"""Talk of whole loads that meet the rule, made from a seed.

Each load has all that 49 CFR 393.120 asks of a single coil and nothing besides, so that whatever is denied or taken
away is missed: (c)(1) crosswise, a means against rolling and tiedowns through the eye each way; (d)(1) and (d)(3)
lengthwise, a means against rolling, two through the eye on the diagonals and one over the top, or one over the front
and one over the rear, with mats; (b)(1) vertical, two on the diagonals, one straight over the eye, and mats. Three
bunks are common practice (no source). There is gear enough for half of the weight by 393.108's tables; whether a load
meets is asked of the product, and what does not is left out by whoever uses this.

The words are plain trade English. Whether they are understood is what is measured: nothing here follows the grammar.
"""

import itertools
import random
from collections.abc import Sequence
from typing import NamedTuple

ONES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
TENS = ("zero", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
LONGEST = 5
"""The most utterances one load is told in."""


class Truth(NamedTuple):
    """What is on the deck: what every telling must come to."""

    weight_lb: int
    eye: str
    tiedowns: tuple[tuple[str, int], ...]
    """Kind and number, by kind."""


class Told(NamedTuple):
    """A load as it is told, one utterance after another."""

    utterances: tuple[str, ...]
    truth: Truth


class Gear(NamedTuple):
    """A kind of tiedown, and ways to say what it is: before the noun, and behind it."""

    kind: str
    before: tuple[str, ...]
    behind: tuple[str, ...]
    names: tuple[str, str]


GEAR = (
    Gear(
        "chain",
        ("three eighths grade seventy", "grade seventy three eighths", "3/8 g70", "3/8 inch grade 70", "g70 3/8"),
        ("three eighths grade seventy", "grade seventy, three eighths", "3/8 g70"),
        ("chain", "chains"),
    ),
    Gear(
        "chain",
        ("half inch grade seventy", "grade seventy half inch", "1/2 inch grade 70", "1/2 g70"),
        ("half inch grade seventy", "grade seventy, half inch"),
        ("chain", "chains"),
    ),
    Gear(
        "chain",
        ("three eighths grade eighty", "grade eighty three eighths", "3/8 g80"),
        ("three eighths grade eighty",),
        ("chain", "chains"),
    ),
    Gear(
        "strap",
        ("four inch",),
        (
            "marked fifty four hundred",
            "marked fifty four hundred pounds",
            "tagged 5,400 lb",
            "stamped fifty four hundred",
        ),
        ("strap", "straps"),
    ),
)
CHAINS = GEAR[:3]


def chance(seed: int | str) -> random.Random:
    """Return what draws the same for the same seed."""
    return random.Random(seed)  # noqa: S311 - made talk, no secret


def small(number: int) -> str:
    """Return a number below a hundred in words."""
    if number < 20:
        return ONES[number]
    return TENS[number // 10] + (f" {ONES[number % 10]}" if number % 10 else "")


def weight_said(draw: random.Random, pounds: int) -> str:
    """Return a weight of whole hundreds of pounds, with its unit or in the trade's short form."""
    thousands, hundreds = divmod(pounds, 1000)
    hundreds //= 100
    full = f"{small(thousands)} thousand" + (f" {small(hundreds)} hundred" if hundreds else "")
    ways = [f"{full} pounds", f"{full} pounds", f"{pounds:,} lb", f"{pounds} pounds", f"{pounds:,} pounds", full]
    if hundreds and thousands > 10 and thousands % 10:  # "twenty four" would be twenty four thousand
        ways += [f"{small(thousands)} {small(hundreds)}"] * 2
    ways.append(f"{thousands}.{hundreds}k" if hundreds else f"{thousands}k")
    if pounds % 2000 == 0:
        ways.append(f"{small(pounds // 2000)} tons")
    return draw.choice(ways)


def coil_said(draw: random.Random, pounds: int, eye: str) -> list[str]:
    """Return the coil, its weight and which way its eye points, in one or two clauses."""
    weight = weight_said(draw, pounds)
    per_piece = weight.removesuffix("s") if weight.endswith("pounds") else weight
    looks = draw.choice({
        "crosswise": ("eye crosswise", "eyes crosswise", "eye to the side", "suicide", "eye across", "eye sideways"),
        "lengthwise": ("eye lengthwise", "eyes lengthwise", "shotgun", "eye to the front", "eye front to back"),
        "vertical": ("eye to the sky", "eye up", "eye vertical", "eyes to the sky", "eye straight up"),
    }[eye])  # fmt: skip
    whole = draw.choice((
        f"{per_piece} coil", f"one coil {weight}", f"coil weighs {weight}", f"coil's {weight}", f"coil is {weight}",
        f"i got a {per_piece} coil", f"hauling one coil, {weight}", f"a coil at {weight}", f"{per_piece} steel coil",
        f"the coil weighs {weight}", f"coil, {weight}", f"there's a {per_piece} coil on here",
    ))  # fmt: skip
    if draw.random() < 0.6:
        return [f"{whole}{draw.choice((' ', ', ', ' loaded '))}{looks}"]
    apart = (
        looks if " " not in looks else draw.choice((looks, looks.replace("eye ", "the eye is ", 1), f"loaded {looks}"))
    )
    return [whole, apart]


def count_said(draw: random.Random, number: int) -> str:
    """Return a count in words or, more seldom, a figure."""
    return small(number) if draw.random() < 0.8 else str(number)


def bed_said(draw: random.Random, bunks: int) -> list[str]:
    """Return timbers in enough bunks."""
    many = count_said(draw, bunks)
    racks = draw.choice(("bunks", "coil bunks", "coil racks", "racks"))
    return [draw.choice((
        f"on timbers and {many} {racks}", f"sitting on timbers in {many} {racks}", f"{many} {racks} and two timbers",
        f"two timbers, {many} {racks}", f"on two timbers with {many} {racks}", f"it's on timbers and {many} {racks}",
        f"timbers with {many} {racks} under it", f"i have {many} {racks} and timbers under the coil",
        f"set on timbers held by {many} {racks}", f"{many} {racks} with timbers",
    ))]  # fmt: skip


def mats_said(draw: random.Random) -> list[str]:
    """Return mats under the coil."""
    return [draw.choice((
        "on mats", "on friction mats", "rubber mats under it", "with coil mats", "sitting on rubber mats",
        "it's on mats", "mats under the coil", "friction mats underneath",
    ))]  # fmt: skip


def tied(draw: random.Random, gear: Gear, number: int, where: str) -> str:
    """Return a number of tiedowns of one make with what they do, its parts in one order or another."""
    many, noun = count_said(draw, number), gear.names[number > 1]
    if gear.kind == "strap":
        return f"{many} {gear.before[0]} {noun} {draw.choice(gear.behind)} {where}"
    if draw.random() < 0.75:
        return f"{many} {draw.choice(gear.before)} {noun} {where}"
    return f"{many} {noun} {draw.choice(gear.behind)} {where}"


FORWARD = ("forward", "pulling forward", "going forward", "holding it forward", "to the front")
REARWARD = ("rearward", "pulling back", "going back", "holding it back", "to the rear", "pulling to the rear", "back")
EYE = ("through the eye", "thru the eye", "through the hole")
FAR = ("", "", " to the other side", " across to the other side", " over to the far rail")


def crosswise_held(draw: random.Random, each_way: int) -> tuple[list[str], tuple[str, int]]:
    """Return what holds a coil with its eye across, through the eye forward and rearward."""
    gear = draw.choice(GEAR)
    ways = [draw.choice(FORWARD), draw.choice(REARWARD)]
    if draw.random() < 0.4:
        ways = ["forward", "rearward"]
    if draw.random() < 0.2:
        ways.reverse()
    far = draw.choice(FAR)
    each, noun = count_said(draw, each_way), gear.names[1]
    eye = draw.choice(EYE)
    if draw.random() < 0.5:
        split = f"{each} {ways[0]} and {each} {ways[1]}"
        join = draw.choice((" ", ", ", ", with "))
        said = [tied(draw, gear, 2 * each_way, f"{eye}{far}{join}{split}")]
    elif draw.random() < 0.5:
        said = [tied(draw, gear, each_way, f"{eye} {way}{far}") for way in ways]
    else:
        said = [tied(draw, gear, each_way, f"{way} {eye}{far}") for way in ways]
    if len(said) == 1 and draw.random() < 0.2:
        many = count_said(draw, 2 * each_way)
        said = [f"{many} {noun}, {draw.choice(gear.behind)}, {eye}, {each} {ways[0]}, {each} {ways[1]}"]
        if gear.kind == "strap":
            said = [said[0].replace(f"{noun},", f"{gear.before[0]} {noun},", 1)]
    return said, (gear.kind, 2 * each_way)


def over_the_top(draw: random.Random) -> tuple[str, tuple[str, int]]:
    """Return one or two straight over the top."""
    gear, number = draw.choice(GEAR), draw.choice((1, 1, 2))
    where = draw.choice(("over the top", "straight over the top", "across the top", "over the top to the other side"))
    return tied(draw, gear, number, where), (gear.kind, number)


def diagonal(draw: random.Random, place: str) -> tuple[str, tuple[str, int]]:
    """Return two that cross, through the eye or over it."""
    gear = draw.choice(CHAINS)
    where = draw.choice((f"crossed {place}", f"{place} crossed", f"crossing {place}", f"{place} in an x"))
    return tied(draw, gear, 2, where), (gear.kind, 2)


def ends_over(draw: random.Random) -> tuple[list[str], list[tuple[str, int]]]:
    """Return one over the front of the coil and one over its rear, of one make."""
    gear = draw.choice(GEAR)
    front, rear = draw.choice((
        ("over the front of the coil", "over the rear of the coil"), ("over the front", "over the rear"),
        ("over the front end", "over the back end"), ("over the front of it", "over the rear of it"),
    ))  # fmt: skip
    return [tied(draw, gear, 1, front), tied(draw, gear, 1, rear)], [(gear.kind, 2)]


def summed(groups: Sequence[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    """Return how many there are of each kind."""
    totals: dict[str, int] = {}
    for kind, number in groups:
        totals[kind] = totals.get(kind, 0) + number
    return tuple(sorted(totals.items()))


def plan(draw: random.Random) -> tuple[list[str], Truth]:
    """Return the clauses that tell a load, in no order, and what is there."""
    eye = draw.choice(("crosswise", "crosswise", "lengthwise", "vertical"))
    groups: list[tuple[str, int]] = []
    if eye == "crosswise":
        pounds = draw.randrange(120, 216) * 100
        each_way = draw.choice((2, 3))
        pounds = pounds if each_way == 2 else draw.randrange(240, 480) * 100
        clauses, group = crosswise_held(draw, each_way)
        if group[0] == "strap" and pounds > 4 * each_way * 5_400:
            pounds = draw.randrange(120, 40 * each_way * 5) * 100
        groups.append(group)
        clauses += bed_said(draw, draw.choice((3, 3, 3, 4, 5)))
    elif eye == "lengthwise":
        pounds = draw.randrange(60, 205) * 100
        if draw.random() < 0.4:
            clauses, groups = ends_over(draw)
        else:
            through, one = diagonal(draw, draw.choice(EYE))
            over, other = over_the_top(draw)
            clauses, groups = [through, over], [one, other]
        clauses += bed_said(draw, draw.choice((3, 3, 4)))
        clauses += mats_said(draw)
    else:
        pounds = draw.randrange(60, 240) * 100
        across, one = diagonal(draw, "over the eye")
        over, other = over_the_top(draw)
        clauses, groups = [across, over, *mats_said(draw)], [one, other]
    order = coil_said(draw, pounds, eye)
    draw.shuffle(clauses)
    at = 0 if draw.random() < 0.7 else draw.randrange(len(clauses) + 1)  # who tells a load mostly begins with the coil
    return [*clauses[:at], *order, *clauses[at:]], Truth(pounds, eye, summed(groups))


def cut(draw: random.Random, clauses: Sequence[str]) -> tuple[str, ...]:
    """Return the clauses in at most five utterances, joined in one way or another."""
    many = draw.randint(1, min(LONGEST, len(clauses)))
    bounds = [0, *sorted(draw.sample(range(1, len(clauses)), many - 1)), len(clauses)]
    parts = [clauses[start:end] for start, end in itertools.pairwise(bounds)]
    return tuple(draw.choice((", ", ", ", " and ", " ", ", and ")).join(part) for part in parts)


def make(seed: int) -> Told:
    """Return the talk of one seed, always the same."""
    draw = chance(seed)
    clauses, truth = plan(draw)
    return Told(cut(draw, clauses), truth)
