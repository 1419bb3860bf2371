"""The revised lifting equation and several lifts of one visit, and the pull on a leaning cabinet; no sheet.

Lengths in mm, masses in kg, forces in N, angles in degrees, lifts a minute. The equation's own figures come
in with each call: metric and inch editions differ by a few parts in a hundred.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

Row = Mapping[str, float]


class Printed(NamedTuple):
    """A place of a printed table that strays from the equation: of which share, at what length in mm, what it says."""

    of: str
    at: float
    says: float


@dataclass(frozen=True)
class Equation:
    """The published figures of one edition of the equation."""

    load: float
    reach_near: float
    reach_far: float
    height_best: float
    height_share: float
    height_most: float
    travel_base: float
    travel_share: float
    travel_near: float
    travel_most: float
    twist_share: float
    twist_most: float
    frequency: tuple[Row, ...]
    grip: Mapping[str, Row]


def reach_share(of: Equation, reach: float) -> float:
    """What is left by how far out the hands are."""
    return 0.0 if reach > of.reach_far + NOISE else of.reach_near / max(reach, of.reach_near)


def height_share(of: Equation, height: float) -> float:
    """What is left by how high the hands are."""
    return 0.0 if height > of.height_most + NOISE else 1 - of.height_share * abs(height - of.height_best)


def travel_share(of: Equation, way: float) -> float:
    """What is left by how far up or down it goes."""
    return 0.0 if way > of.travel_most + NOISE else of.travel_base + of.travel_share / max(way, of.travel_near)


def twist_share(of: Equation, twist: float) -> float:
    """What is left by how far the body turns."""
    return 0.0 if twist > of.twist_most + NOISE else 1 - of.twist_share * twist


NOISE = 1e-6  # 63 cm typed as inches must not count as farther


def is_low(of: Equation, height: float) -> bool:
    """Whether the hands are below the height under which grip and frequency count for less."""
    return height < of.height_best - NOISE


def often_share(of: Equation, rate: float, duration: str, low: bool) -> float:
    """What is left by how often one lifts: the table, straight lines between its rows, nothing past its end."""
    column = f"{duration}_{'low' if low else 'high'}"
    points = [(row["upto"], row[column]) for row in of.frequency]
    if rate > points[-1][0] + NOISE:
        return 0.0
    for (left, one), (right, other) in itertools.pairwise(points):
        if rate <= right:
            return one + (other - one) * max(0.0, rate - left) / (right - left)
    return points[-1][1]


def grip_share(of: Equation, grip: str, low: bool) -> float:
    """What is left by the grip."""
    return of.grip[grip]["low" if low else "high"]


class Place(NamedTuple):
    """Where the hands are at one end of a lift: out, up, the whole way, the turn of the body; None is not known."""

    reach: float | None
    height: float | None
    way: float | None
    twist: float | None


def shares_of(of: Equation, place: Place, grip: str | None, printed: Sequence[Printed] = ()) -> dict[str, float | None]:
    """The shares of one end but for how often; ``printed`` rounds them as the published tables do."""
    reach, height, way, twist = place
    found = {
        "reach": None if reach is None else reach_share(of, reach),
        "height": None if height is None else height_share(of, height),
        "travel": None if way is None else travel_share(of, way),
        "twist": None if twist is None else twist_share(of, twist),
        "grip": None if grip is None or height is None else grip_share(of, grip, is_low(of, height)),
    }
    if not printed:
        return found
    at = {"reach": reach, "travel": way}
    return {key: None if share is None else as_printed(key, at.get(key), share, printed) for key, share in found.items()}


def as_printed(key: str, at: float | None, share: float, printed: Sequence[Printed]) -> float:
    """A share to two places, or what the table prints in its stead where it strays from its own equation."""
    for row in printed:
        if row.of == key and at is not None and abs(at - row.at) < NOISE:
            return row.says
    return two_places(share)


def two_places(share: float) -> float:
    """Rounded to two places, halves upward; 1e-9 keeps a half a half in binary."""
    return math.floor(100 * share + 0.5 + 1e-9) / 100


def product(shares: Sequence[float | None]) -> float | None:
    """The shares together: nothing where one leaves nothing, unknown where one is."""
    if any(share == 0 for share in shares):
        return 0.0
    known = [share for share in shares if share is not None]
    return None if len(known) < len(shares) else math.prod(known)


def at_best(shares: Sequence[float | None]) -> float:
    """The most that the shares can be together: what is not known takes nothing away."""
    return math.prod(1.0 if share is None else share for share in shares)


def filter_left(turn: float, rate: float, by_turn: Sequence[Row], by_rate: Sequence[Row]) -> tuple[float, float]:
    """The percentages by which a lifting filter is less: from an angle on, and up to so many lifts a minute."""
    turned = max((row["less"] for row in by_turn if turn >= row["upto"] - NOISE), default=0.0)
    return turned, next(row["less"] for row in by_rate if rate <= row["upto"] + NOISE)


# -- several lifts of one visit -------------------------------------------------------------


class Task(NamedTuple):
    """One kind of lift: mass over what may be lifted if it were done once, how often a minute, low or not."""

    strain: float
    rate: float
    low: bool


def visit_index(of: Equation, tasks: Sequence[Task], duration: str) -> float:
    """The composite lifting index as published; infinite where they are too many.

    The hardest lift counts with its own frequency, each further one by what its frequency adds to those
    before it. Below the best height counts as soon as one lift is.
    """
    order = sorted(tasks, key=lambda task: -task.strain * _over(of, [task], duration))
    index, before = 0.0, 0.0
    for number, task in enumerate(order, 1):
        both = _over(of, order[:number], duration)
        if math.inf in (both, task.strain):
            return math.inf
        index += task.strain * (both - before)
        before = both
    return index


def greatest_index(of: Equation, tasks: Sequence[Task], duration: str) -> float:
    """The same in the order that gives most, so that a harder lift never makes less.

    From the hardest down, two lifts change places when one gets a little harder, and the sum may fall.
    """
    if any(task.strain == math.inf for task in tasks):
        return math.inf
    whole = 1 << len(tasks)
    most = [-math.inf] * whole
    for number, task in enumerate(tasks):
        most[1 << number] = task.strain * _over(of, [task], duration)
    for done in range(1, whole):
        before = _over(of, [task for number, task in enumerate(tasks) if done >> number & 1], duration)
        if most[done] == math.inf or before == math.inf:
            return math.inf
        for number, task in enumerate(tasks):
            after = done | 1 << number
            if after != done:
                both = _over(of, [each for at, each in enumerate(tasks) if after >> at & 1], duration)
                most[after] = max(most[after], math.inf if both == math.inf else most[done] + task.strain * (both - before))
    return most[-1]


def _over(of: Equation, tasks: Sequence[Task], duration: str) -> float:
    """One over the share that is left by how often these are lifted together."""
    share = often_share(of, math.fsum(task.rate for task in tasks), duration, any(task.low for task in tasks))
    return 1 / share if share > 0 else math.inf


# -- a cabinet that leans -------------------------------------------------------------------


def pull_left(weight: float, far: float, up: float, hands: float, angle: float) -> float:
    """The level pull at the handles that holds a cabinet leaned by an angle; below 0 it pushes back.

    ``far`` is from the low edge to below the middle of mass and ``up`` its height above that edge, both
    as it stood; ``hands`` is the height of the hands then, straight above the low edge.
    """
    return weight * (far - up * math.tan(math.radians(angle))) / hands
