"""What each tiedown can do for which clause, as far as it was told, and whether all needs can have their own."""

from enum import StrEnum
from itertools import combinations

from assistant.load.model import Load, Path, Place, Pull, Through, Tiedown


class Role(StrEnum):
    """What a clause wants one tiedown to do."""

    EYE_FORWARD = "through a crosswise eye, against forward movement"
    EYE_REARWARD = "through a crosswise eye, against rearward movement"
    DIAGONAL = "diagonally across a vertical eye"
    OVER_EYE = "over the top of a vertical coil"
    HOLD_FORWARD = "against forward movement of a vertical coil or row"
    HOLD_REARWARD = "against rearward movement of a vertical coil or row"
    EYE_DIAGONAL = "diagonally through a lengthwise eye"
    EYE_STRAIGHT = "straight through a lengthwise eye"
    OVER_LENGTHWISE = "over the top of a lengthwise coil"
    OVER_FRONT = "over the front of a lengthwise coil"
    OVER_REAR = "over the rear of a lengthwise coil"
    LIGHT = "any tiedown on a coil below the coil rule"
    ANY = "any tiedown on another article"


def tri_all(*parts: bool | None) -> bool | None:
    """Kleene's and."""
    if False in parts:
        return False
    return None if None in parts else True


def through_is(tiedown: Tiedown, want: Through) -> bool | None:
    """Tell whether a tiedown passes `want`; pressing down means over the top."""
    if tiedown.through is not None:
        return tiedown.through is want
    if tiedown.pulls is Pull.OVER:
        return want is Through.TOP
    # What holds forward, back or sideways does not press down; whether it passes the eye is open.
    return False if tiedown.pulls is not None and want is Through.TOP else None


def pulls(tiedown: Tiedown, want: Pull) -> bool | None:
    """Tell whether a tiedown resists movement in a direction."""
    return None if tiedown.pulls is None else tiedown.pulls is want


def side_to_side(tiedown: Tiedown) -> bool:
    """Tell whether a tiedown can go to the other side (untold counts as can)."""
    return tiedown.path in {None, Path.ACROSS}


def at(tiedown: Tiedown, want: Place) -> bool | None:
    """Tell whether a tiedown over the top lies at a place."""
    return None if tiedown.place is None else tiedown.place is want


def can(tiedown: Tiedown, role: Role) -> bool | None:
    """Tell whether a tiedown does what a role wants: yes, no, or not told."""
    over = tri_all(through_is(tiedown, Through.TOP), side_to_side(tiedown), not tiedown.crossed)
    eye = through_is(tiedown, Through.EYE)
    not_same_side = tiedown.path is not Path.SAME_SIDE
    # Taken, aloud, to go through a crosswise eye unless told otherwise; over the top nothing holds forward or back.
    by_eye = tiedown.through is not Through.TOP
    # Crossed pairs run on both diagonals; to the other side through a lengthwise eye may be the same one twice.
    diagonal = True if tiedown.crossed else None if tiedown.path is not Path.SAME_SIDE else False
    ahead, back = pulls(tiedown, Pull.FORWARD), pulls(tiedown, Pull.REARWARD)
    # "Direct" is a handbook's word for any tiedown that is not over the top.
    straight = None if tiedown.path in {None, Path.DIRECT} else tiedown.path is Path.SAME_SIDE
    return {
        Role.EYE_FORWARD: tri_all(by_eye, ahead, not tiedown.crossed),
        Role.EYE_REARWARD: tri_all(by_eye, back, not tiedown.crossed),
        Role.DIAGONAL: tri_all(tiedown.crossed, not_same_side),
        Role.OVER_EYE: over,
        Role.HOLD_FORWARD: tri_all(by_eye, ahead, not tiedown.crossed),
        Role.HOLD_REARWARD: tri_all(by_eye, back, not tiedown.crossed),
        Role.EYE_DIAGONAL: tri_all(eye, diagonal, not_same_side),
        Role.EYE_STRAIGHT: tri_all(eye, not tiedown.crossed, straight),
        Role.OVER_LENGTHWISE: over,
        Role.OVER_FRONT: tri_all(over, at(tiedown, Place.FRONT)),
        Role.OVER_REAR: tri_all(over, at(tiedown, Place.REAR)),
        Role.LIGHT: True,
        Role.ANY: True,
    }[role]


UPRIGHT = {Role.DIAGONAL, Role.OVER_EYE, Role.HOLD_FORWARD, Role.HOLD_REARWARD}


def serves(tiedown: Tiedown, role: Role, load: Load) -> bool | None:
    """Tell whether a tiedown does what a role wants on this load: through one thing's eye it holds no other thing."""
    if tiedown.through is Through.EYE:
        if role in UPRIGHT and len({coil.eye for coil in load.coils}) > 1:
            return False
        if role is Role.ANY and load.coils and load.articles:
            return False
    return can(tiedown, role)


def covered(demands: dict[Role, int], load: Load, *, strict: bool) -> bool:
    """Tell whether each demand can have tiedowns of its own (Hall's condition, set by set)."""
    wanted = [role for role, number in demands.items() if number]
    for size in range(1, len(wanted) + 1):
        for roles in combinations(wanted, size):
            have = 0
            for tiedown in load.tiedowns:
                answers = [serves(tiedown, role, load) for role in roles]
                if any(answer is True or (answer is None and not strict) for answer in answers):
                    have += tiedown.count
            if have < sum(demands[role] for role in roles):
                return False
    return True
