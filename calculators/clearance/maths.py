"""The mathematics of moving and setting a box: floats in, floats out, any one unit of length.

Angles are in degrees. Nothing here knows a cabinet, a rule or a sheet.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Iterator, Sequence

Point = tuple[float, float]
GRID = 180  # half-degree steps: f below holds only sin, cos and sin of twice the angle
HALVINGS = 60  # a bracket of a degree halved so often is below the last bit of a float


def corner_distance(into: float, out: float, longer: float, angle: float) -> float:
    """Distance from the inner corner of a right-angle turn to the outer long side of a box.

    The box touches both outer walls with its long side, turned ``angle`` degrees (0 to 90)
    from the first corridor. ``into`` and ``out`` are the corridors' widths. The box passes
    this angle where its shorter side is no more than the distance:
    f(θ) = a·cos θ + b·sin θ − L·sin θ·cos θ.
    """
    turn = math.radians(angle)
    sine, cosine = math.sin(turn), math.cos(turn)
    return into * cosine + out * sine - longer * sine * cosine


@functools.lru_cache(maxsize=4096)
def tightest_turn(into: float, out: float, longer: float) -> tuple[float, float]:
    """The angle in degrees at which a turning box has least room, and that room.

    Every valley of a fixed grid is refined by halving on the sign of the slope, which is
    exact to the last bits where a search on the value is not; the room is then evaluated
    once, at that angle. The ends stand for corridors narrower than the turn itself.
    """
    angle, room = (0.0, into) if into <= out else (90.0, out)
    samples = [corner_distance(into, out, longer, 90 * i / GRID) for i in range(GRID + 1)]
    for i in range(1, GRID):
        if samples[i] <= samples[i - 1] and samples[i] < samples[i + 1]:
            valley = _valley(into, out, longer, 90 * (i - 1) / GRID, 90 * (i + 1) / GRID)
            found = corner_distance(into, out, longer, valley)
            # An end that is as tight within rounding is kept: no printed angle may hang on a bit.
            if found < room - 1e-9 * longer:
                angle, room = valley, found
    return angle, room


def _valley(into: float, out: float, longer: float, low: float, high: float) -> float:
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        turn = math.radians(middle)
        slope = out * math.cos(turn) - into * math.sin(turn) - longer * math.cos(2 * turn)
        low, high = (middle, high) if slope < 0 else (low, middle)
    return (low + high) / 2


@functools.lru_cache(maxsize=1024)
def least_width_in(out: float, longer: float, shorter: float) -> float:
    """The narrowest first corridor in which the box turns into a second one of width ``out``.

    The most of (w − b·sin θ)/cos θ + L·sin θ over 0 ≤ θ < 90; infinite where w > b.
    """
    if shorter > out:
        return math.inf

    def wanted(angle: float) -> float:
        sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
        return (shorter - out * sine) / cosine + longer * sine

    # 89.99, not 90: there the first part is 0/0 when w = b; L·sin θ has reached its end by then.
    angles = [89.99 * i / GRID for i in range(GRID + 1)]
    best = max(range(GRID + 1), key=lambda i: wanted(angles[i]))
    low, high = angles[max(best - 1, 0)], angles[min(best + 1, GRID)]
    for _ in range(HALVINGS):
        third = (high - low) / 3
        low, high = (
            (low + third, high)
            if wanted(low + third) < wanted(high - third)
            else (low, high - third)
        )
    return wanted((low + high) / 2)


def least_equal_width(longer: float, shorter: float) -> float:
    """The least width of two equal corridors in which the box turns: w ≤ a and L ≤ 2(√2·a − w).

    With a = b the room depends on sin θ + cos θ alone and bends downward in it, so that only
    the ends and 45° can be tightest.
    """
    return max(shorter, (longer / 2 + shorter) / math.sqrt(2))


def longest_turn(into: float, out: float, shorter: float) -> float:
    """The longest box of a given shorter side that turns, by halving on the least room.

    0 where the shorter side is wider than a corridor; no box has to be longer than
    the ladder of the same corridors.
    """
    if shorter > min(into, out):
        return 0.0
    low, high = 0.0, longest_ladder(into, out)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        fits = tightest_turn(into, out, middle)[1] >= shorter
        low, high = (middle, high) if fits else (low, middle)
    return low


def longest_ladder(into: float, out: float) -> float:
    """The longest rod without width that turns the corner: (a^⅔ + b^⅔)^(3/2)."""
    return float((into ** (2 / 3) + out ** (2 / 3)) ** 1.5)


def tipped_height(height: float, depth: float, angle: float) -> float:
    """Height of a box tipped back by an angle about a bottom edge: h·cos θ + d·sin θ."""
    turn = math.radians(angle)
    return height * math.cos(turn) + depth * math.sin(turn)


def highest_while_tipping(height: float, depth: float, most: float) -> tuple[float, float]:
    """The angle at which a box stands tallest on the way from 0 to ``most``, and that height.

    The top is √(h² + d²) at atan(d/h); where the box is tipped less it is never reached.
    """
    peak = math.degrees(math.atan2(depth, height))
    angle = min(peak, most)
    return angle, tipped_height(height, depth, angle)


def balance_angle(edge: float, height: float) -> float:
    """The angle in degrees at which a box tipped over one bottom edge balances: atan(edge ÷ height).

    ``edge`` is how far that edge is from below the middle of mass, ``height`` how far the middle of
    mass is above it.
    """
    return math.degrees(math.atan2(edge, height))


def slope_angle(rise: float, run: float) -> float:
    """The slope of a ramp in degrees."""
    return math.degrees(math.atan2(rise, run))


def run_for(rise: float, angle: float) -> float:
    """The run of a ramp of that rise at that slope in degrees."""
    return rise / math.tan(math.radians(angle))


def grade_share(rise: float, run: float, rolling: float) -> float:
    """Push up a ramp as a share of the weight: sin A + r·cos A, with A = atan(rise/run)."""
    slope = math.atan2(rise, run)
    return math.sin(slope) + rolling * math.cos(slope)


# -- legs on a floor ------------------------------------------------------------------


def worst_patch_share(legs: Sequence[Point], centre: Point, patch: float) -> float:
    """The greatest share of the weight that any square of side ``patch`` may have to carry.

    However unevenly the legs bear, the shares are positive and balance about the centre of
    gravity; the greatest sum over some legs is then reached with only three of them bearing
    (a corner of that set), so all threes are tried. 0 where the centre lies outside all.
    """
    groups = _groups(legs, patch)
    return max(
        (math.fsum(share for leg, share in shares.items() if leg in group)
         for shares in _supports(legs, centre) for group in groups),
        default=0.0,
    )  # fmt: skip


def worst_over(legs: Sequence[Point], across: Point, along: Point, patch: float) -> float:
    """The greatest such share with the centre of gravity anywhere in a rectangle, given by the ends of its sides.

    Along a side a share turns back only where the centre passes a leg, so that the ends and the legs between them are
    enough. A centre outside all legs puts everything on one of them.
    """
    xs, ys = ({*ends, *(leg[side] for leg in legs if ends[0] < leg[side] < ends[1])} for side, ends in enumerate((across, along)))
    return max(worst_patch_share(legs, (x, y), patch) or 1.0 for x in sorted(xs) for y in sorted(ys))


def _groups(legs: Sequence[Point], patch: float) -> list[frozenset[int]]:
    """The sets of legs (by number) that a square, sides along the cabinet's, can cover.

    Hair's breadth is given to the square: touching counts as covered.
    """
    found = {
        frozenset(n for n, (x, y) in enumerate(legs)
                  if left - 1e-6 <= x <= left + patch + 1e-6 and low - 1e-6 <= y <= low + patch + 1e-6)
        for left in {x for x, _ in legs} for low in {y for _, y in legs}
    }  # fmt: skip
    return sorted(found, key=sorted)


def _supports(legs: Sequence[Point], centre: Point) -> Iterator[dict[int, float]]:
    """The shares of each three legs that can hold the weight by themselves."""
    for three in itertools.combinations(range(len(legs)), 3):
        shares = _three_shares([legs[n] for n in three], centre)
        if shares is not None and min(shares) >= -1e-9:
            yield dict(zip(three, shares, strict=True))


def _three_shares(legs: Sequence[Point], centre: Point) -> tuple[float, float, float] | None:
    """The shares of three legs, or None where they stand in a line."""
    (ax, ay), (bx, by), (cx, cy) = legs
    whole = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    if abs(whole) < 1e-9 * max(1.0, abs(bx - ax), abs(cx - ax)) ** 2:
        return None
    px, py = centre
    second = ((px - ax) * (cy - ay) - (cx - ax) * (py - ay)) / whole
    third = ((bx - ax) * (py - ay) - (px - ax) * (by - ay)) / whole
    return 1 - second - third, second, third


def leg_layout(count: int, width: float, depth: float, inset: float) -> list[Point]:
    """Four legs in the corners, or six with one more midway along front and back."""
    xs = (inset, width - inset) if count == 4 else (inset, width / 2, width - inset)
    return [(x, y) for y in (inset, depth - inset) for x in xs]
