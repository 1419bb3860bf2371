"""How far wire reaches toward a product that is not as wide beside all of it, against every place of the wire in turn."""

from __future__ import annotations

import math
import random

import pytest

from calculators.spiral import beside
from calculators.spiral.arc import arc_seen
from calculators.spiral.maths import Coil, Opening
from calculators.spiral.profile import Profile, grower, straight
from calculators.spiral.stand import Pose

PLACES = 4000  # over a half turn: 0.02 mm of wire, and less of what it reaches
NEAR = 0.01  # mm


def coil(chance: random.Random) -> Coil:
    outside, wire = chance.uniform(50, 95), chance.uniform(2.5, 5)
    return Coil(pitch=546.1 / chance.randint(5, 14), radius=(outside - wire) / 2, wire=wire)


def every_place() -> list[float]:
    return [math.pi * (place / PLACES - 0.5) for place in range(PLACES + 1)]


@pytest.mark.parametrize("seed", range(60))
def test_no_wire_reaches_further_toward_a_pack(seed: int) -> None:
    chance = random.Random(seed)
    one, thick = coil(chance), chance.uniform(10, 40)
    sides = Profile(thick / 2, thick / 2, chance.uniform(5, 120))
    pose = Pose(round=False, breadth=chance.uniform(20, 120), thick=thick, foot=thick, ahead=one.pitch / 2,
                skew=chance.uniform(0, 45), shape=sides)  # fmt: skip
    foot = chance.uniform(0, 1.5 * one.radius)
    face, half, width = arc_seen(one, pose.skew), one.wire / 2, grower(sides)
    middle = one.pitch * face.sin / 2

    def toward(phi: float) -> float:
        past = abs(face.along(phi) - middle) - pose.breadth / 2
        if past >= half:
            return -math.inf
        wide = width(beside.up(one, phi, foot), half if past <= 0 else math.sqrt(half * half - past * past))
        return -math.inf if wide is None else face.out(phi) + wide

    found = beside.reach(one, face, middle, pose, foot)
    assert found >= max(map(toward, every_place())) - NEAR


@pytest.mark.parametrize("seed", range(60))
def test_no_wire_is_nearer_to_a_round_product(seed: int) -> None:
    chance = random.Random(seed)
    one, wide = coil(chance), chance.uniform(20, 60)
    profile = straight(wide, wide * chance.uniform(0.6, 1), chance.uniform(5, 120))
    foot, half, girth = chance.uniform(0, 1.5 * one.radius), one.wire / 2, grower(profile)
    place = Opening(size=wide, ahead=one.pitch * chance.uniform(0.3, 0.7), shift=chance.uniform(-5, 5))

    def size(phi: float, x: float, y: float) -> float:
        out = girth(beside.up(one, phi, foot), half)
        gap = math.hypot(x - one.rate * phi, y - one.radius * math.sin(phi))
        return math.inf if out is None else 2 * (profile.widest + gap - out)

    least = min(min(size(phi, place.ahead, place.shift), size(phi, one.pitch - place.ahead, -place.shift))
                for phi in every_place())  # fmt: skip
    assert beside.round_beside(one, place, None, profile, foot).opening.size <= least + NEAR


@pytest.mark.parametrize("seed", range(20))
def test_a_wire_is_cut_where_its_middle_passes_foot_heel_and_top(seed: int) -> None:
    """At each place that is named the wire's middle is just so high, and each height that the wire comes by has both its places."""
    chance = random.Random(seed)
    one, heel, height = coil(chance), chance.uniform(2, 15), chance.uniform(20, 70)
    foot = chance.uniform(0, 1.5 * one.radius)
    places = beside.edges(one, Profile(30.0, 30.0, height, heel), foot)
    reached = [each for each in (0.0, heel, height) if one.radius < foot + each - one.wire / 2 < 2 * one.radius]
    assert sorted(beside.up(one, place, foot) for place in places) == pytest.approx(sorted(2 * reached), abs=1e-9)
    assert sum(places) == pytest.approx(0.0, abs=1e-12)
