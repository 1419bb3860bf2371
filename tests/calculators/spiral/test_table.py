"""The table of worked values."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.spiral.flat import flat_opening, flat_room
from calculators.spiral.maths import Coil, round_opening
from calculators.spiral.stand import Pose, rest

CASES = Path(__file__).parents[2] / "cases" / "spiral"
TABLE = tomllib.loads((CASES / "table.toml").read_text(encoding="utf-8"))
NEAR = TABLE["tolerance"]


def coil(count: int, offset: float = 0.0) -> Coil:
    radius = (TABLE["outside"] - TABLE["wire"]) / 2
    return Coil(TABLE["usable_length"] / count, radius, TABLE["wire"], offset)


@pytest.mark.parametrize("case", TABLE["single"], ids=lambda case: f"{case['count']}-count")
def test_single_coils(case: dict[str, float]) -> None:
    """Pitch, largest circle, square pack, and a pack of 130 mm at its best skew."""
    wire = coil(int(case["count"]))
    assert wire.pitch == pytest.approx(case["pitch"], abs=NEAR)
    assert round_opening(wire, None).size == pytest.approx(case["circle"], abs=NEAR)
    square = flat_opening(wire, 130, None, skewed=False, pillow=False).size
    assert square == pytest.approx(case["square"], abs=NEAR)
    assert square == pytest.approx(wire.pitch / 2 - wire.wire, abs=1e-9)
    assert flat_room(wire, 130, case["skew"], 0.0, None) == pytest.approx(case["skewed_130"], abs=NEAR)
    # The calculator's grid is finer than the table's, so it finds that much or a little more.
    best = flat_opening(wire, 130, 400, skewed=True, pillow=False)
    assert case["skewed_130"] - NEAR <= best.size <= case["skewed_130"] + 0.2
    assert best.skew == pytest.approx(case["skew"], abs=0.25)


@pytest.mark.parametrize("case", TABLE["lens"], ids=lambda case: f"{case['count']}-count")
def test_a_pillow_bag_is_a_lens(case: dict[str, float]) -> None:
    """Full in the middle, nothing at its seals: more room than a box of the same belly has."""
    wire, breadth = coil(int(case["count"])), case["breadth"]
    square = flat_opening(wire, breadth, None, skewed=False, pillow=True).size
    skewed = flat_opening(wire, breadth, 400, skewed=True, pillow=True).size
    assert square == pytest.approx(case["square"], abs=NEAR)
    assert skewed == pytest.approx(case["skewed"], abs=NEAR)


@pytest.mark.parametrize("case", TABLE["foot"], ids=lambda case: f"foot at {case['height']} mm")
def test_rest_height_follows_from_the_wire_under_the_foot(case: dict[str, float]) -> None:
    """The diameter that rests at the table's height is the table's circle."""
    wire = coil(int(case["count"]))
    heights = {step: rest_height(wire, case["circle"] + step) for step in (-0.5, 0.0, 0.5)}
    assert heights[0.0] == pytest.approx(case["height"], abs=case["tolerance"])
    assert heights[-0.5] < heights[0.0] < heights[0.5]


def rest_height(wire: Coil, diameter: float) -> float:
    """Height of the foot above the lowest point of the coil."""
    found = rest(wire, Pose(True, diameter, diameter, diameter, wire.pitch / 2))
    assert found is not None
    return wire.radius * (1 - math.cos(math.radians(found.angle))) + wire.wire / 2 + found.crown


@pytest.mark.parametrize("case", TABLE["dual"], ids=lambda case: f"{case['count']}-count dual")
def test_dual_coils_hold_a_pack_square(case: dict[str, Any]) -> None:
    """Chevrons: three quarters of a pitch for a narrow pack, half a pitch for a broad one."""
    wire = coil(case["count"], case["offset"])
    for breadth, opening in zip(case["breadths"], case["openings"], strict=True):
        found = flat_opening(wire, breadth, None, skewed=False, pillow=False).size
        assert found == pytest.approx(opening, abs=NEAR), breadth


def test_a_pack_is_never_shifted_past_the_wire_or_out_of_its_lane() -> None:
    """Its middle stays beside the coil; one that fills its lane stays in the middle."""
    wire = Coil(570.24 / 5, (60.99 - 3.69) / 2, 3.69)
    roomy = flat_opening(wire, 69.61, 152.49, skewed=True, pillow=False)
    assert abs(roomy.shift) <= wire.radius
    # 79.2: a dense search over skew and place with the pack's middle kept beside the coil.
    assert roomy.size <= 79.3
    tight = flat_opening(wire, 69.61, 69.61, skewed=False, pillow=False)
    assert tight.shift == 0.0
