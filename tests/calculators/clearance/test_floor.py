"""How unevenly legs may share: every three legs, against linear programming."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from calculators.clearance import CALCULATOR, maths
from tests.support.sheet import check

SIZES = st.floats(400, 1500)


def most_on(
    legs: list[tuple[float, float]], centre: tuple[float, float], group: list[int]
) -> float:
    """The greatest sum of shares in a group: positive shares that balance, by scipy."""
    wanted = [-1.0 if n in group else 0.0 for n in range(len(legs))]
    balance = [[1.0] * len(legs), [x / 1000 for x, _ in legs], [y / 1000 for _, y in legs]]
    found = linprog(
        wanted, A_eq=balance, b_eq=[1.0, centre[0] / 1000, centre[1] / 1000], bounds=(0, None)
    )
    assert found.status == 0
    return -found.fun


def worst_by_scipy(
    legs: list[tuple[float, float]], centre: tuple[float, float], patch: float
) -> float:
    """The greatest sum over every group of legs that a patch of that side can cover."""
    groups = [
        list(group)
        for size in range(1, len(legs) + 1)
        for group in itertools.combinations(range(len(legs)), size)
        if np.ptp([legs[n] for n in group], axis=0).max() <= patch
    ]
    return max(most_on(legs, centre, group) for group in groups)


@given(width=SIZES, depth=SIZES, inset=st.floats(0, 150), count=st.sampled_from([4, 6]),
       patch=st.floats(0, 1800), off=st.tuples(st.floats(-0.3, 0.3), st.floats(-0.3, 0.3)))  # fmt: skip
@settings(max_examples=50, deadline=None)
def test_threes_give_the_worst_patch(width, depth, inset, count, patch, off) -> None:
    """No way of sharing puts more on a patch than the worst three legs do."""
    legs = maths.leg_layout(count, width, depth, inset)
    centre = width * (0.5 + off[0] / 2), depth * (0.5 + off[1] / 2)
    if not (inset <= centre[0] <= width - inset and inset <= centre[1] <= depth - inset):
        return
    # A patch that just touches a leg is meant to count it, with a hair's breadth of 1e-6 mm at
    # each edge: so the answer lies between the patch itself and one larger by both hairs.
    low, high = (worst_by_scipy(legs, centre, side) for side in (patch, patch + 3e-6))
    assert low - 1e-6 <= maths.worst_patch_share(legs, centre, patch) <= high + 1e-6


@pytest.mark.parametrize("count", [4, 6])
def test_one_foot_carries_half_at_worst(count: int) -> None:
    """With the weight in the middle, four legs or six: one leg never carries more than half."""
    legs = maths.leg_layout(count, 1000, 850, 50)
    assert maths.worst_patch_share(legs, (500, 425), 0.0) == pytest.approx(0.5, abs=1e-12)


def test_six_legs_close_together_share_one_patch() -> None:
    """Two middle legs and their neighbors stand on one patch and may carry everything."""
    inputs = {"cabinet_width": 1000, "cabinet_depth": 800, "cabinet_mass": 350, "stock_mass": 150,
              "floor_use": "shop_first", "floor_known": "kind", "leg_inset": 50.8}  # fmt: skip
    for legs, share in (("four", 0.5), ("six", 1.0)):
        result = CALCULATOR.run({"units": "si", "inputs": {**inputs, "legs": legs}})
        value = next(check["value"] for check in result["checks"] if check["key"] == "floor_patch")
        assert value == pytest.approx(500 * share)


HEAVY = {"cabinet_width": 1000, "cabinet_depth": 800, "cabinet_mass": 1900, "stock_mass": 300, "gear_mass": 50, "wheels_apart": 0,
         "legs": "four", "leg_inset": 50, "floor_use": "office", "way_use": "office"}  # fmt: skip
OWN = {"floor_rating": 100, "point_rating": 100, "way_rating": 100}
ENGINEER = ("The figure is what such floors are built for at least, over the whole floor. "
            "The building's engineer knows what this one carries.")  # fmt: skip


@pytest.mark.parametrize(("key", "where"), [("floor_spread", ""), ("floor_patch", ""), ("floor_wheels", "Floor: office. ")])
def test_beside_a_floor_too_weak_stands_what_its_limit_is(key: str, where: str) -> None:
    """Its own rating, which only the engineer may stretch, is a stop; a usual figure for its kind is a caution and says so."""
    rated = check(CALCULATOR.run({"units": "si", "inputs": {**HEAVY, **OWN, "floor_known": "rating"}}), key)
    assert (rated["outcome"], rated["note"]) == ("stop", "The floor's own rating. Ask the building's engineer.")
    usual = check(CALCULATOR.run({"units": "si", "inputs": {**HEAVY, "floor_known": "kind"}}), key)
    assert usual["outcome"] == "caution"
    assert usual["note"] == where + ENGINEER


@pytest.mark.parametrize(("low", "words"), [(600, "low enough for a cane to find it"), (2100, "above people's heads")])
def test_where_what_sticks_out_is_out_of_the_way_is_said(low: float, words: str) -> None:
    """Half a meter of it, below 27 in or above 80 in."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "rules": "us", "inputs": {"in_corridor": "yes", "overhang": 500, "overhang_low": low}})
    [found] = [check for check in result["checks"] if check["key"] == "protrusion"]
    assert (found["outcome"], found["text"]) == ("pass", f"Its edge is {words}.")
