"""Plan openings against shapely: 5,000 random cases, half of them within 1 mm of the limit.

The wire is a fine polyline of the true arc, buffered to its thickness; whether a product goes in
is asked of the area that is left, never of the calculator's own formulas.
"""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest
import shapely
from shapely import affinity

from calculators.spiral import arc
from calculators.spiral.flat import flat_opening, pack_middle, skew_for
from calculators.spiral.maths import STEEPEST, Coil, on_grid, round_opening

BLOCKS = 10
# Chords of a polyline and of a buffer's round ends cost the reference up to 0.006 mm, the
# calculator's printable grid up to 0.01 mm; nearer to the limit than this neither side is sure.
SURE = 0.02
POINTS = 181


def arcs(coil: Coil, turns: range) -> list[Any]:
    """The upper half of each turn's wires, as lines."""
    phi = np.linspace(-math.pi / 2, math.pi / 2, POINTS)
    x, y = coil.pitch * phi / (2 * math.pi), coil.radius * np.sin(phi)
    sides = [(1, coil.offset), (-1, -coil.offset)] if coil.offset else [(1, 0.0)]
    return [shapely.LineString(np.column_stack([x + turn * coil.pitch, hand * y + side]))
            for turn in turns for hand, side in sides]  # fmt: skip


def random_coil(rng: random.Random, *, dual: bool = False) -> Coil:
    radius = rng.uniform(24, 45)
    offset = radius * rng.uniform(1.02, 1.5) if dual else 0.0
    return Coil(rng.uniform(45, 110), radius, rng.uniform(2.5, 5.0), offset)


def step(rng: random.Random, number: int) -> float:
    """Every second case lies within a millimetre of the limit, on either side of it."""
    size = rng.uniform(SURE, 1.0) if number % 2 else rng.uniform(1.0, 6.0)
    return size if rng.random() < 0.5 else -size


@pytest.mark.parametrize("block", range(BLOCKS))
def test_circles(block: int) -> None:
    """A circle goes in exactly where its middle finds room between the wires grown by its radius."""
    rng = random.Random(f"circle {block}")
    for number in range(120):
        coil = random_coil(rng)
        lane = 2 * coil.radius + coil.wire + rng.uniform(0, 20)
        opening = round_opening(coil, lane).size
        diameter = opening + step(rng, number)
        fits = circle_fits(coil, diameter, lane)
        assert fits == (diameter < opening), (coil, lane, opening, diameter)


def circle_fits(coil: Coil, diameter: float, lane: float) -> bool:
    grown = shapely.union_all(
        shapely.buffer(arcs(coil, range(-1, 3)), (diameter + coil.wire) / 2, quad_segs=48)
    )
    # The middle stays within the lane and beside the coil; one pitch is every place there is. A
    # circle wider than the lane is another check's matter: it is tried in the middle.
    side = max(min((lane - diameter) / 2, coil.radius), 0.1)
    left = shapely.box(0, -side, coil.pitch, side).difference(grown).area
    # A buffer of a curved line may leave a crack of 0.0002 mm² within itself; real room for a
    # circle 0.02 mm smaller than the opening is a strip of at least 0.02 mm by 1 mm.
    return left > 0.005


@pytest.mark.parametrize("block", range(BLOCKS))
def test_packs_at_their_best_skew(block: int) -> None:
    """A pack broader than the coil goes in exactly where some skew leaves it room."""
    rng = random.Random(f"pack {block}")
    for number in range(120):
        coil = random_coil(rng)
        breadth = 2 * coil.radius + coil.wire + rng.uniform(1.0, 1.6) * coil.pitch
        lane = breadth * rng.uniform(1.02, 1.3)
        found = flat_opening(coil, breadth, lane, skewed=True, pillow=False)
        thick = found.size + step(rng, number)
        if thick > 1.0:
            fits = thick < best_thickness(coil, breadth, lane)
            assert fits == (thick < found.size), (coil, breadth, lane, found, thick)
        if found.size > 1.0:
            assert stands_free(coil, breadth, found), (coil, breadth, lane, found)


def best_thickness(coil: Coil, breadth: float, lane: float) -> float:
    """The greatest room over skews to 45°, from the outlines that shapely draws."""
    behind, before = (
        np.asarray(line.buffer(coil.wire / 2, quad_segs=32).exterior.coords)
        for line in arcs(coil, range(2))
    )
    coarse = np.radians(np.arange(0, 45.001, 0.5))
    near = coarse[np.argmax(_room(behind, before, coarse, breadth, lane))]
    fine = np.clip(near + np.radians(np.arange(-0.6, 0.6001, 0.005)), 0, math.pi / 4)
    return float(np.max(_room(behind, before, fine, breadth, lane)))


def _room(behind: Any, before: Any, skews: Any, breadth: float, lane: float) -> Any:
    sine, cosine = np.sin(skews)[:, None], np.cos(skews)[:, None]
    out = [outline[:, 0] * cosine - outline[:, 1] * sine for outline in (behind, before)]
    room = out[1].min(axis=1) - out[0].max(axis=1)
    within = (lane - breadth * cosine[:, 0]) / np.maximum(sine[:, 0], 1e-12)
    return np.minimum(room, within)


def stands_free(coil: Coil, breadth: float, found: Any) -> bool:
    """The pack, a trifle thinner than its opening, in the place the calculator gives."""
    x, y = pack_middle(coil, breadth, found.skew, found.shift)
    thick = found.size - SURE
    pack = shapely.box(-thick / 2, -breadth / 2, thick / 2, breadth / 2)
    placed = affinity.translate(affinity.rotate(pack, -found.skew, origin=(0, 0)), x, y)
    wire = shapely.union_all(shapely.buffer(arcs(coil, range(-1, 3)), coil.wire / 2, quad_segs=32))
    return not placed.intersects(wire)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_packs_held_square_by_a_dual(block: int) -> None:
    """Between the chevrons a square pack goes in exactly where it is thinner than the gap."""
    rng = random.Random(f"dual {block}")
    for number in range(260):
        coil = random_coil(rng, dual=True)
        breadth = 2 * rng.uniform(coil.offset, coil.offset + coil.radius + 15)
        opening = flat_opening(coil, breadth, None, skewed=False, pillow=False).size
        thick = opening + step(rng, number)
        strip = shapely.box(-500, -breadth / 2, 500, breadth / 2)
        turns = [
            shapely.union_all(shapely.buffer(arcs(coil, range(k, k + 1)), coil.wire / 2, quad_segs=32))
            for k in range(2)
        ]
        gap = turns[1].intersection(strip).bounds[0] - turns[0].intersection(strip).bounds[2]
        assert (thick < gap) == (thick < opening), (coil, breadth, opening, gap)


@pytest.mark.parametrize("peak", [0.0, 0.04, 0.31, STEEPEST / 2, STEEPEST - 0.03, STEEPEST])
def test_the_best_skew_is_found_at_the_ends_and_between(peak: float) -> None:
    """To the hundredth of a degree, whatever lies nearest on the coarse grid."""
    assert skew_for(lambda skew: -abs(skew - peak)) == pytest.approx(peak, abs=0.005 + 1e-9)


def test_an_end_of_the_grid_may_be_the_best() -> None:
    assert [on_grid(lambda x: -x, near, 2.0, 5.0) for near in (2.0, 2.004)] == [2.0, 2.0]
    assert [on_grid(lambda x: x, near, 2.0, 5.0) for near in (5.0, 4.996)] == [5.0, 5.0]


@pytest.mark.parametrize("gap", [0.0, 0.5, 1.9, 2.1])
def test_the_round_end_of_a_wire_beside_a_pack_reaches_as_far_as_a_circle(gap: float) -> None:
    """Seen straight on, an arc ends at its radius: past that only half the wire's thickness is left, and less the further off."""
    coil, half = Coil(70.0, 36.0, 4.0, 0.0), 2.0
    face = arc.arc_seen(coil, 0.0)
    circle = math.sqrt(half**2 - gap**2) if gap < half else -math.inf
    assert arc.reach(face, 36.0 + gap + 15.0, 30.0, 4.0) == pytest.approx(70.0 / 4 + circle)
