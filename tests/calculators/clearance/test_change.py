"""The one change over the whole sheet, and what lifts, gear, controls and ways add to it."""

from __future__ import annotations

import random
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from calculators.clearance.onechange import MOST, _left, _merged
from calculators.clearance.solve import checks
from calculators.core import Work, rules
from calculators.core.reading import read_record
from calculators.core.report import Mend
from calculators.core.units import Units
from tests.calculators.clearance.test_route import CABINET, check, random_inputs, run
from tests.support.mends import changed

SPOT = {"rear_gap": 150, "front_clear": 2000, "front_width": 1600, "in_corridor": False, "slope": 5,
        "door_leaf": 900, "hinge_side": "left", "tray_pullout": 600, "control_low": 420,
        "control_high": 1150, "panel_space": False, "exit_blocked": False, "fire_gear": False,
        "floor_use": "ground", "way_use": "ground", "floor_known": "kind", "surface": "smooth", "alcove": 0,
        "overhang": 0, "rear_gap_plate": 0, "side_gap_plate": 0, "top_gap_plate": 0, "left_gap": 300, "right_gap": 300,
        "top_gap": 500, "gear_face": 690, "gear_rating": 900, "cg_height": 850, "cg_back": 430, "cg_side": 500,
        "sprinklers": "none", "cord_length": 2700, "outlet_way": 1500, "outdoors": False, "wheels_apart": 0}  # fmt: skip
TABLE = "What one change would do"


def full(inputs: dict[str, Any], units: str = "si") -> dict[str, Any]:
    return CALCULATOR.run({"units": units, "inputs": inputs})


def failing(result: dict[str, Any]) -> int:
    return sum(each["outcome"] in ("stop", "caution") for each in result["checks"])


def test_the_skid_is_named_where_it_stops_several_legs() -> None:
    """Three low doors fail for one reason; taking the skid off mends them all."""
    door = {"kind": "doorway", "width": 1200, "height": 1950, "sill": 0}
    inputs = {**CABINET, **SPOT, "skid": "on", "skid_height": 127, "skid_beyond": 0, "route": [door] * 3}
    result = full(inputs)
    assert failing(result) == 3
    assert result["actions"][0].startswith("One change is enough. Take it off its skid.")
    assert failing(full({**inputs, "skid": "off"})) == 0


def test_changes_that_are_enough_only_together_are_called_so() -> None:
    """Two unlike failures: no one change does, both do."""
    route = [{"kind": "doorway", "width": 700, "height": 2100, "sill": 0}]
    result = full({**CABINET, **SPOT, "rear_gap": 20, "route": route})
    assert result["actions"][0] == "No one change is enough. All the changes below together are."


def test_what_no_change_mends_is_said_too() -> None:
    """Controls out of reach stay so whatever is done to the spot: the best change leaves them."""
    route = [{"kind": "doorway", "width": 700, "height": 2100, "sill": 0}]
    result = full({**CABINET, **SPOT, "control_low": 200, "control_high": 1500, "route": route})
    assert result["actions"][0].startswith("No one change is enough. This mends most, 1 of 3: ")
    only = full({**CABINET, **SPOT, "control_low": 200, "control_high": 1500,
                 "route": [{"kind": "doorway", "width": 1200, "height": 2100, "sill": 0}]})  # fmt: skip
    assert only["actions"][0].startswith("No one change mends any part of this")


def test_one_failure_has_its_own_change_and_no_more() -> None:
    """Where one check fails, its own mend is the one change."""
    result = full({**CABINET, **SPOT, "route": [{"kind": "steps", "rise": 180}]})
    assert failing(result) == 1
    assert all(table["title"] != TABLE for table in result["tables"])


@pytest.mark.parametrize("units", ["us", "si"])
def test_the_counts_hold_when_the_change_is_typed(units: str) -> None:
    """Each check's mend, put in as printed, leaves as many failures as the table says."""
    seen = 0
    for seed in range(12):
        inputs = run({**SPOT, **random_inputs(random.Random(f"change-{seed}"))}, units)["inputs"]
        result = full(inputs, units)
        tables = [table for table in result["tables"] if table["title"] == TABLE]
        assert len(tables) <= 1
        said = {row[0]: row for table in tables for row in table["rows"]}
        assert len(said) <= MOST
        for each in result["checks"]:
            if each["mend"] and each["mend"]["text"] in said:
                again = full(changed(inputs, each["mend"]["changes"]), units)
                row = said[each["mend"]["text"]]
                assert (failing(result) - failing(again), failing(again)) == (int(row[1]), int(row[2]))
                seen += 1
    assert seen > 12


# -- lifts and gear ---------------------------------------------------------------------


def test_who_rides_a_tail_lift_has_to_be_said() -> None:
    """410 kg of cabinet and gear; with one rider of 100 kg (220 lb) the plate's 500 kg is passed."""
    lift = {"kind": "tail_lift", "platform_width": 2000, "platform_depth": 1500, "rated_load": 500}
    unsaid = check(run({**CABINET, "route": [lift]}), "lift_load")
    assert (unsaid["outcome"], unsaid["needs"]) == ("unknown", ["route.0.riders"])
    assert check(run({**CABINET, "route": [{**lift, "riders": 0}]}), "lift_load")["value"] == pytest.approx(410)
    ridden = check(run({**CABINET, "route": [{**lift, "riders": 1}]}), "lift_load")
    assert ridden["value"] == pytest.approx(410 + 220 * 0.45359237)
    assert ridden["outcome"] == "stop"
    assert ridden["mend"]["changes"] == {"route.0.riders": "0"}


def test_a_tail_lift_carries_cabinet_and_gear_without_hands() -> None:
    """The platform is compared with the bare box; every wheel must stand on it."""
    lift = {"kind": "tail_lift", "platform_width": 1000, "platform_depth": 870, "rated_load": 900}
    result = run({**CABINET, "route": [lift]})
    assert check(result, "platform_width")["limit"] == pytest.approx(991)
    assert check(result, "platform_depth")["limit"] == pytest.approx(864)
    assert check(result, "platform_width")["caution"]


def test_a_low_car_stops_it_though_its_door_is_high() -> None:
    """The car's own height is compared without the sill; not measured it keeps the answer open."""
    lift = {"kind": "lift", "width": 1200, "height": 2100, "sill": 10, "car_width": 1500,
            "car_depth": 1500, "rated_load": 2000}  # fmt: skip
    low = check(run({**CABINET, "route": [{**lift, "car_height": 1900}]}), "car_height")
    assert (low["limit"], low["outcome"]) == (pytest.approx(1829 + 76), "stop")
    blank = check(run({**CABINET, "route": [lift]}), "car_height")
    assert (blank["outcome"], blank["needs"]) == ("unknown", ["route.0.car_height"])


def test_gear_that_is_too_weak_is_a_stop() -> None:
    """The gear's plate against the cabinet; without a plate the check stands, unknown."""
    weak = check(run({**CABINET, "gear_rating": 300}), "gear_load")
    assert weak["outcome"] == "stop"
    assert weak["caution"]
    blank = check(run(CABINET), "gear_load")
    assert (blank["outcome"], blank["needs"]) == ("unknown", ["gear_rating"])


# -- the way's floor, controls ----------------------------------------------------------


def test_the_way_s_own_floor_counts_while_it_is_moved() -> None:
    """Standing on a slab, moved over a weak floor: the wheels are judged by the weak one."""
    inputs = {**CABINET, "cabinet_mass": 800, "floor_use": "ground", "floor_known": "kind", "stock_mass": 100,
              "wheels_apart": 0}  # fmt: skip
    assert check(run({**inputs, "way_use": "ground"}), "floor_wheels")["outcome"] == "pass"
    unsaid = check(run(inputs), "floor_wheels")
    assert (unsaid["outcome"], unsaid["needs"]) == ("unknown", ["way_use", "way_rating"])
    weak = check(run({**inputs, "way_use": "classroom"}), "floor_wheels")
    assert weak["outcome"] == "caution"
    assert "Floor: classroom." in weak["note"]
    rated = {**inputs, "way_use": "classroom", "floor_known": "rating"}
    assert check(run({**rated, "way_rating": 500}), "floor_wheels")["outcome"] == "stop"
    assert check(run({**rated, "way_rating": 5000, "point_rating": 5000}), "floor_wheels")["outcome"] == "pass"
    assert check(run({**rated, "way_rating": 5000}), "floor_wheels")["outcome"] == "unknown"
    assert check(run({**rated, "point_rating": 5000}), "floor_wheels")["outcome"] == "unknown"


def test_wheels_far_apart_do_not_share_a_patch() -> None:
    """Half of the mass at worst where two wheels never stand on one patch."""
    inputs = {**CABINET, "way_use": "classroom", "floor_use": "classroom", "floor_known": "kind", "stock_mass": 0, "cg_back": 432, "cg_side": 495.5}
    near, far = (check(run({**inputs, "wheels_apart": apart}), "floor_wheels")["value"]
                 for apart in (700, 800))  # fmt: skip
    assert (near, far) == (pytest.approx(410), pytest.approx(205))


def test_each_control_is_reached_or_not_by_name() -> None:
    """Every listed control has its own two checks, with its name beside them."""
    controls = [{"name": "card reader", "height": 1100, "over": 0}, {"name": "coin slot", "height": 1400, "over": 0},
                {"height": 300, "over": 0}]  # fmt: skip
    result = run({**CABINET, "controls": controls})
    assert check(result, "reach_high", "1. card reader")["outcome"] == "pass"
    assert check(result, "reach_high", "2. coin slot")["outcome"] == "stop"
    assert check(result, "reach_low", "3. Control")["outcome"] == "stop"
    assert "at least one of each type" in check(result, "reach_low", "3. Control")["note"]


@pytest.mark.parametrize(("over", "height", "outcome"), [
    ("9 in", "47 3/4 in", "pass"), ("12 in", "45 3/4 in", "pass"), ("12 in", "46 1/2 in", "stop"),
    ("23 in", "45 in", "pass"), ("25 in", "40 in", "stop"),
])  # fmt: skip
def test_what_is_reached_over_lowers_the_reach(over: str, height: str, outcome: str) -> None:
    """ADA 308.3.1 and 308.3.2: 48 in over 10 in of depth, 46 in over 24 in, none beyond."""
    answer = CALCULATOR.run({"inputs": {"controls": [{"name": "slot", "height": height, "over": over}]}})
    found = check(answer, "reach_high", "1. slot")
    assert found["outcome"] == outcome
    assert any("308.3" in line for line in found["citations"])


# -- changes that can be made together --------------------------------------------------

CLOSE = {"in_corridor": True, "corridor_width": 2000, "corridor_use": "few", "rear_gap": 50, "front_clear": 1040, "front_width": 1000,
         "door_leaf": 200}  # fmt: skip


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("front", [1040, 1086])
def test_more_room_behind_and_in_front_ask_for_one_way(units: str, front: float) -> None:
    """Gap, cabinet and free floor in one way: what is said to be enough together is taken by the form, and is enough."""
    inputs = run({**CABINET, **SPOT, **CLOSE, "front_clear": front, "route": [{"kind": "doorway", "width": 1200, "height": 2100, "sill": 0}]}, units)["inputs"]
    result = full(inputs, units)
    assert result["actions"][0] == "No one change is enough. All the changes below together are."
    mends = [each["mend"]["changes"] for each in result["checks"] if each["mend"]]
    assert len(mends) >= 2
    assert len({each["corridor_width"] for each in mends}) == 1
    every: dict[str, Any] = {}
    for each in mends:
        assert failing(full(changed(inputs, each), units)) < failing(result)
        every |= each
    assert failing(full(changed(inputs, every), units)) == 0


def test_a_change_that_the_form_refuses_mends_nothing() -> None:
    """Of two changes of one box the one that goes farther counts, and what contradicts is never said to be enough."""
    asked = read_record(CALCULATOR.inputs, {**CABINET, **SPOT, **CLOSE}, "si")
    work = Work(CALCULATOR, asked, rules.load("us"), Units("si"))
    near, far = Mend("", {"corridor_width": "2.2 m", "crew": "5"}), Mend("", {"corridor_width": "2.5 m", "crew": "6", "mover": "powered"})
    for parts in ([near, far], [far, near]):
        merged = _merged(work, parts)
        assert merged is not None
        assert merged.changes == {"corridor_width": "2.5 m", "crew": "6", "mover": "powered"}
    assert _merged(work, [near, None]) is None
    checks(asked, work)
    assert _left(work, Mend("", {"front_clear": "5 m"})) == len(work.checks) > 20
