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
    inputs = {"cabinet_width": 1000, "cabinet_depth": 800, "cabinet_mass": 500, "stock_mass": 0, "cg_back": 400, "cg_side": 500,
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


ROOM = " A stiff plate helps where it fits: measure the gaps."


@pytest.mark.parametrize(("key", "where", "more"), [
    ("floor_spread", "", ROOM), ("floor_patch", "", ""), ("floor_wheels", "Floor: office. ", ""),
])  # fmt: skip
def test_beside_a_floor_too_weak_stands_what_its_limit_is(key: str, where: str, more: str) -> None:
    """Its own rating, which only the engineer may stretch, is a stop; a usual figure for its kind is a caution and says so."""
    rated = check(CALCULATOR.run({"units": "si", "inputs": {**HEAVY, **OWN, "floor_known": "rating"}}), key)
    assert (rated["outcome"], rated["note"]) == ("stop", f"The floor's own rating. Ask the building's engineer.{more}")
    usual = check(CALCULATOR.run({"units": "si", "inputs": {**HEAVY, "floor_known": "kind"}}), key)
    assert usual["outcome"] == "caution"
    assert usual["note"] == where + ENGINEER + more


# -- where the weight is ----------------------------------------------------------------


@given(width=SIZES, depth=SIZES, inset=st.floats(0, 150), count=st.sampled_from([4, 6]), patch=st.floats(0, 1800),
       ends=st.lists(st.floats(0.05, 0.95), min_size=4, max_size=4), at=st.tuples(st.floats(0, 1), st.floats(0, 1)))  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_no_place_within_a_rectangle_is_worse_than_what_is_said_of_it(width, depth, inset, count, patch, ends, at) -> None:
    """The worst over a rectangle covers every centre in it; one outside all feet stands on one of them."""
    legs = maths.leg_layout(count, width, depth, inset)
    across, along = (tuple(sorted(size * each for each in pair)) for size, pair in ((width, ends[:2]), (depth, ends[2:])))
    x, y = (low + (high - low) * part for (low, high), part in zip((across, along), at, strict=True))
    whole = maths.worst_over(legs, across, along, patch)
    assert whole >= maths.worst_patch_share(legs, (x, y), patch) - 1e-9
    assert maths.worst_over(legs, (-9.0, -9.0), along, patch) == 1.0


PLACED = {"cabinet_width": 991, "cabinet_depth": 864, "cabinet_height": 1829, "cabinet_mass": 350, "stock_mass": 0, "gear_mass": 60,
          "wheels_apart": 900, "legs": "four", "leg_inset": 50, "floor_known": "rating", "floor_rating": 2000}  # fmt: skip


def floor(more: dict[str, object], key: str) -> dict[str, object]:
    found: dict[str, object] = check(CALCULATOR.run({"units": "si", "inputs": {**PLACED, "way_rating": 5000, "point_rating": 5000, **more}}), key)
    return found


def test_feet_bear_more_where_the_middle_of_mass_is_nearer() -> None:
    """Two feet of a side stand on one patch of 762 mm and bear what moments say; the goods lie within their usual share."""
    near = floor({"cg_back": 432, "cg_side": 318}, "floor_patch")["value"]
    assert near == pytest.approx(350 * (1 - (318 - 50) / 891))
    full = floor({"cg_back": 432, "cg_side": 318, "stock_mass": 180}, "floor_patch")["value"]
    left = (350 * 318 + 180 * 0.3 * 991) / 530
    assert full == pytest.approx(530 * (1 - (left - 50) / 891))


def test_feet_of_a_silent_card_are_judged_at_the_ends_of_its_range() -> None:
    """30 to 70 %: what the worst place allows passes, what the best forbids stops, between is open and asks for both."""
    worst = 350 * (0.7 * 991 - 50) / 891
    for rating, word in ((worst + 1, "pass"), (worst - 1, "unknown"), (176, "unknown"), (174, "stop")):
        assert floor({"point_rating": rating}, "floor_patch")["outcome"] == word, rating
    assert floor({"point_rating": 200}, "floor_patch")["needs"] == ["cg_back", "cg_side"]


def test_one_wheel_bears_more_where_the_middle_of_mass_is_nearer() -> None:
    """Two wheels 900 mm apart with the weight so far off their middle: moments about the farther one."""
    aside = ((584 - 432) ** 2 + (318 - 495.5) ** 2) ** 0.5
    assert floor({"cg_back": 584, "cg_side": 318}, "floor_wheels")["value"] == pytest.approx(350 * (0.5 + aside / 900) + 30)
    assert floor({"cg_back": 432, "cg_side": 495.5}, "floor_wheels")["value"] == pytest.approx(205)
    off = ((0.2 * 864) ** 2 + (0.2 * 991) ** 2) ** 0.5
    most = 350 * (0.5 + off / 900) + 30
    for rating, word in ((most + 1, "pass"), (most - 1, "unknown"), (206, "unknown"), (204, "stop")):
        found = floor({"way_rating": rating}, "floor_wheels")
        assert found["outcome"] == word, rating
    assert floor({"way_rating": 300}, "floor_wheels")["needs"] == ["cg_back", "cg_side"]


# -- the weaker of two floors, and what a plate can do ----------------------------------


def test_wheels_stop_at_the_spot_too() -> None:
    """A strong way does not make the floor strong on which it ends: the weaker of both ratings, or of both kinds."""
    wheels = {"wheels_apart": 0}
    for way, spot, word in ((411, 411, "pass"), (409, 5000, "stop"), (5000, 409, "stop")):
        assert floor({**wheels, "way_rating": way, "point_rating": spot}, "floor_wheels")["outcome"] == word, (way, spot)
    for blank, needs in (("way_rating", ["way_rating"]), ("point_rating", ["point_rating"])):
        found = floor({**wheels, blank: None}, "floor_wheels")
        assert (found["outcome"], found["needs"]) == ("unknown", needs)
    assert floor({**wheels, "way_rating": 300, "point_rating": None}, "floor_wheels")["outcome"] == "stop"


@pytest.mark.parametrize(("way", "use", "word"), [
    ("ground", "ground", "pass"), ("ground", "classroom", "caution"), ("classroom", "ground", "caution"),
    ("store_heavy", "classroom", "caution"), ("ground", None, "unknown"), (None, "ground", "unknown"), ("classroom", None, "caution"),
])  # fmt: skip
def test_the_weaker_kind_of_floor_counts_for_the_wheels(way: str | None, use: str | None, word: str) -> None:
    """860 kg on wheels: too much for a classroom, before it or in it."""
    kind = {"floor_known": "kind", "floor_rating": None, "point_rating": None, "way_rating": None}
    found = floor({**kind, "cabinet_mass": 800, "wheels_apart": 0, "way_use": way, "floor_use": use}, "floor_wheels")
    assert found["outcome"] == word
    assert ("Floor: classroom." in str(found["note"])) == (word == "caution")


WEAK = {"cg_back": 432, "cg_side": 495.5, "floor_rating": 350, "left_gap": 100, "right_gap": 60, "rear_gap": 80, "front_clear": 1500}


def test_no_plate_is_larger_than_the_place() -> None:
    """Under the cabinet's middle it reaches as far as the lesser gap on either side; more of it is not under the cabinet."""
    room = (991 + 2 * 60) * (864 + 2 * 80) / 1e6
    assert floor(WEAK, "floor_spread")["mend"]["changes"] == {"spread_area": "1 m²"}
    assert floor({**WEAK, "spread_area": 1.0}, "floor_spread")["outcome"] == "pass"
    heavy = {**WEAK, "floor_rating": 300}
    assert floor({**heavy, "spread_area": 20}, "floor_spread")["value"] == pytest.approx(350 / room)
    none = floor(heavy, "floor_spread")
    assert (none["mend"], none["outcome"]) == (None, "stop")
    assert "No stiff plate large enough fits there: use another spot." in str(none["note"])
    assert floor({**WEAK, "spread_area": 1.0, "right_gap": None}, "floor_spread")["needs"] == ["right_gap"]


@pytest.mark.parametrize(("low", "words"), [(600, "low enough for a cane to find it"), (2100, "above people's heads")])
def test_where_what_sticks_out_is_out_of_the_way_is_said(low: float, words: str) -> None:
    """Half a meter of it, below 27 in or above 80 in."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "rules": "us", "inputs": {"in_corridor": "yes", "overhang": 500, "overhang_low": low}})
    [found] = [check for check in result["checks"] if check["key"] == "protrusion"]
    assert (found["outcome"], found["text"]) == ("pass", f"Its edge is {words}.")
