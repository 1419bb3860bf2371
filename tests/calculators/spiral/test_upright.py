"""Held upright: the rule worked anew from a sheet's own steps, step by step in every size, worst over all skews."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest

import calculators
from calculators.core import InputErrors, Work, rules
from calculators.core.report import Check
from calculators.core.units import Units
from calculators.spiral import CALCULATOR, flat, stand
from calculators.spiral.fit import Found, fit_of
from calculators.spiral.inputs import Inputs
from calculators.spiral.maths import Coil
from calculators.spiral.solve import assess
from tests.calculators.spiral.solid import Place, Solid, Wire, lean, rest, spare

US = rules.load("us")
COIL: dict[str, Any] = {"usable_length": 546.1, "coil_outside": 76.2, "wire": 4.0, "coil_count": 7, "lane_width": 79.0,
                        "height_above": 400.0, "rail_height": 100.0}  # fmt: skip
BOTTLE = {"shape": "round", "diameter": 65.0, "foot_diameter": 60.0, "height": 205.0}
TIN = {"shape": "flat", "breadth": 60.0, "thickness": 20.0, "height": 95.0}
BAR = {"shape": "flat", "breadth": 45.0, "thickness": 35.0, "height": 120.0}
PLATTER = {"shape": "flat", "breadth": 165.0, "thickness": 44.5, "height": 63.5, "lane_width": 177.8}
PAIR = {"coil_count": 5, "coil_kind": "dual", "axis_offset": 40.0}
CARE, MOST = 15.0, 25.0  # degrees; the two figures of common practice


def assessed(**inputs: Any) -> tuple[Found, dict[str, Check], dict[str, float]]:
    """The found sizes, the checks and the steps of one product in one coil."""
    work = Work(CALCULATOR, Inputs(**{**COIL, **inputs}), US, Units("si"))
    found = assess(work.inputs, work)  # type: ignore[arg-type]
    steps = {step.symbol: step.value for section in work.sections[:7] if section.title.startswith("How far")
             for step in section.steps}  # fmt: skip
    return found, {check.key: check for check in work.checks}, steps


# -- the rule -----------------------------------------------------------------------------


@pytest.mark.parametrize("height", [40.0, 60.0, 90.0, 120.0, 180.0])
@pytest.mark.parametrize("product", [BAR, TIN, BOTTLE], ids=["bar", "tin", "bottle"])
@pytest.mark.parametrize("count", [5, 7, 9, 12, 15])
def test_the_limits_follow_from_what_holds_it(product: dict[str, Any], height: float, count: int) -> None:
    """Below its middle of mass it falls past its tipping angle; at or above it rests on the wire up to 25°."""
    base = float(product["foot_diameter"] if product["shape"] == "round" else product["thickness"])
    _, checks, steps = assessed(**{**product, "height": height, "coil_count": count})
    if "lean" not in checks or checks["lean"].value is None:
        return
    tips = math.degrees(math.atan(base / height))
    reach = steps["z_c"] - steps["h_λ"]
    most = tips if reach < height / 2 else max(tips, MOST)
    assert checks["lean"].limit == pytest.approx(most)
    assert checks["upright"].limit == pytest.approx(min(CARE, tips))
    assert checks["lean"].value == checks["upright"].value == pytest.approx(math.degrees(math.atan(steps["g"] / reach)))
    off = math.degrees(math.atan((1.0 + 0.5 + 0.1 + 2.0 / count) / reach))
    assert checks["lean"].tolerance == checks["upright"].tolerance == pytest.approx(off)


def test_that_rule_meets_every_case() -> None:
    """Of the products above some are held below, some above their middle of mass, some stop, some need care."""
    seen = set()
    for product in (BAR, TIN, BOTTLE):
        for height in (40.0, 60.0, 90.0, 120.0, 180.0):
            for count in (5, 7, 9, 12, 15):
                _, checks, steps = assessed(**{**product, "height": height, "coil_count": count})
                if "lean" in checks and checks["lean"].value is not None:
                    seen.add((steps["z_c"] - steps["h_λ"] < height / 2, checks["lean"].outcome))
    assert seen >= {(True, "stop"), (True, "pass"), (False, "stop"), (False, "pass")}


def test_a_bag_rests_on_the_wire_and_does_not_fall_as_a_board_does() -> None:
    """Its limits are 25° and 15° (or its own tipping angle, where that is more), whatever holds it."""
    soft = {"pillow": True}
    _, checks, steps = assessed(**{**BAR, **soft, "breadth": 70.0, "height": 240.0})
    assert steps["z_c"] - steps["h_λ"] < 120.0
    assert checks["lean"].limit == MOST
    assert checks["upright"].limit == CARE
    _, checks, _ = assessed(**{**BAR, **soft, "thickness": 42.0, "breadth": 70.0, "height": 60.0})
    assert checks["lean"].limit == pytest.approx(math.degrees(math.atan(42 / 60)))
    assert checks["upright"].limit == CARE


@pytest.mark.parametrize("squeeze", [0.1, 3.0, 15.0])
def test_a_pack_that_may_be_pressed_falls_as_any_other(squeeze: float) -> None:
    """However much it gives: nothing beyond the room for it is won by it."""
    tall = {**BAR, "breadth": 70.0, "height": 240.0}
    hard, soft = assessed(**tall)[1], assessed(**tall, squeeze=squeeze)[1]
    for key in ("lean", "upright", "first"):
        assert (soft[key].limit, soft[key].outcome) == (hard[key].limit, "stop" if key == "lean" else soft[key].outcome)


FAMILIES: dict[str, dict[str, Any]] = {
    "tin in a five": {**TIN, "coil_count": 5}, "tin in a ten": {**TIN, "coil_count": 10},
    "tin in a fifteen": {**TIN, "coil_count": 15}, "bar in a ten": {**BAR, "coil_count": 10},
    "bar in a twelve": {**BAR, "coil_count": 12}, "bottle in a six": {**BOTTLE, "coil_count": 6},
    "bottle in a seven": BOTTLE, "box in a nine": {"shape": "flat", "breadth": 125.0, "thickness": 35.0,
                                                   "lane_width": 158.0, "coil_count": 9},
    "platter in a pair": {**PLATTER, **PAIR},
}  # fmt: skip


@pytest.mark.parametrize("family", FAMILIES.values(), ids=FAMILIES)
def test_between_go_and_stop_there_is_always_take_care(family: dict[str, Any]) -> None:
    """Two millimetres of height never turn go into stop, nor stop into go."""
    outcomes = []
    for height in range(60, 240, 2):
        _, checks, _ = assessed(**{**family, "height": float(height)})
        both = [checks[key].outcome for key in ("lean", "upright") if key in checks]
        outcomes.append(min(both, key=("stop", "unknown", "caution", "pass").index))
    assert ("pass", "stop") not in list(itertools.pairwise(outcomes))
    assert ("stop", "pass") not in list(itertools.pairwise(outcomes))


def test_nothing_beside_it_holds_nothing() -> None:
    """A low pack in a high coil: no wire of an upper half turn reaches it."""
    found, checks, _ = assessed(**{**BAR, "height": 20.0, "breadth": 30.0})
    assert found.leaning is None
    assert "upright" not in checks
    assert {checks[key].outcome for key in ("held", "lean") if key in checks} == {"stop"}


def test_a_product_that_does_not_go_in_is_not_judged_by_its_stand() -> None:
    """Nothing can be said of how far it leans."""
    _, checks, _ = assessed(**{**BOTTLE, "coil_count": 9})
    assert checks["goes_in"].outcome == "stop"
    assert not {"lean", "upright", "first"} & set(checks)


# -- worst over all skews -----------------------------------------------------------------


@pytest.mark.parametrize(("product", "count", "lane"), [(BAR, 10, 79.0), (TIN, 10, 79.0), ({**BAR, "height": 60.0}, 9, 90.0)],
                         ids=["bar", "tin", "low bar"])  # fmt: skip
def test_the_lean_is_the_worst_of_all_skews_of_the_sampled_helix(product: dict[str, Any], count: int, lane: float) -> None:
    """No skew at which the solid goes in leans it further, and one of them leans it as far."""
    found, checks, steps = assessed(**{**product, "coil_count": count, "lane_width": lane})
    wire = Wire(546.1 / count, (76.2 - 4.0) / 2, 4.0)
    thick, broad, high = (float(product[key]) for key in ("thickness", "breadth", "height"))
    solid = Solid(False, thick, thick, high, broad)
    leans = []
    for skew in range(0, 46, 3):
        place, turn = Place(wire.pitch / 2, 0.0, float(skew)), math.radians(skew)
        foot = rest(wire, solid, place) or 0.0
        if broad * math.cos(turn) + thick * math.sin(turn) <= lane - 3.2 and spare(wire, solid, place, foot) >= 0:
            leans.append(lean(wire, solid, place, foot) or 75.0)
    assert checks["lean"].value is not None
    assert -0.6 <= checks["lean"].value - max(leans) <= 3.0
    assert checks["lean"].note.startswith("The worst of all skews")
    assert found.fit.skew <= steps["s_λ"] <= found.fit.most_skew


def test_the_greatest_skew_is_the_last_that_goes_in() -> None:
    """A tenth of a degree more and the lane or the wire is in the way; a square pack has none."""
    wire = Coil(546.1 / 10, (76.2 - 4.0) / 2, 4.0)
    for lane, thick in ((70.0, 20.0), (79.0, 35.0), (100.0, 41.0)):
        found, _, _ = assessed(**{**BAR, "coil_count": 10, "lane_width": lane, "thickness": thick})
        most = found.fit.most_skew
        assert flat.flat_room(wire, 45.0, most, 0.0, lane - 3.175) >= thick
        assert most == 45.0 or flat.flat_room(wire, 45.0, most + 0.1, 0.0, lane - 3.175) < thick
    assert assessed(**{**BAR, "coil_count": 10, "may_skew": False})[0].fit.most_skew == 0.0
    assert assessed(**BOTTLE)[0].fit.most_skew == 0.0


# -- what a pair can hold -----------------------------------------------------------------


def test_a_pair_says_how_low_a_pack_it_suits() -> None:
    """One as low as the sheet says stands there, one 3 mm higher does not."""
    _, checks, _ = assessed(**{**PLATTER, **PAIR, "height": 127.0})
    assert checks["lean"].outcome == "stop"
    assert "up to a height of 70 mm" in checks["lean"].note
    assert assessed(**{**PLATTER, **PAIR, "height": 70.0})[1]["lean"].outcome != "stop"
    assert assessed(**{**PLATTER, **PAIR, "height": 73.0})[1]["lean"].outcome == "stop"


def test_a_bottle_in_a_pair_is_told_its_height_too() -> None:
    """By the ring it stands on, not by its body."""
    _, checks, steps = assessed(**{**BOTTLE, **PAIR, "lane_width": 177.8})
    assert checks["lean"].outcome == "stop"
    stands = 60.0 / math.tan(math.radians(checks["lean"].value or 0.0))
    reaches = math.hypot(steps["g"], steps["z_c"] - steps["h_λ"])
    assert ("up to a height of" in checks["lean"].note) == (stands >= reaches)
    assert "with more turns" in assessed(**{**BOTTLE, "coil_count": 5})[1]["lean"].note
    wedge = {**PLATTER, **PAIR, "height": 127.0, "thick_end": "foot", "thin_end": 30.0}
    assert "height of" not in assessed(**wedge)[1]["lean"].note


# -- a bag is a lens ----------------------------------------------------------------------


def outline(breadth: float, belly: float, skew: float) -> float:
    """Width across the lane of a thousand points of the bag's outline."""
    along = np.linspace(-breadth / 2, breadth / 2, 4001)
    out, turn = belly / 2 * (1 - (2 * along / breadth) ** 2), math.radians(skew)
    sides = np.concatenate([along * math.cos(turn) - out * math.sin(turn), along * math.cos(turn) + out * math.sin(turn)])
    return float(sides.max() - sides.min())


@pytest.mark.parametrize("skew", [0.0, 5.0, 20.0, 33.0, 45.0])
@pytest.mark.parametrize("belly", [10.0, 45.0, 70.0, 140.0])
def test_the_width_of_a_skewed_bag_is_its_outline_s(belly: float, skew: float) -> None:
    """From seal to seal, or the belly where that stands out further; and the other way round."""
    wide = flat.lens_across(130.0, belly, skew)
    assert wide == pytest.approx(outline(130.0, belly, skew), abs=0.01)
    thickest = flat.lens_lane(130.0, skew, wide + 1e-9)
    assert thickest >= belly - 1e-3
    if 2 * belly * math.sin(math.radians(skew)) > 130 * math.cos(math.radians(skew)):
        assert thickest == pytest.approx(belly, abs=1e-3)


def test_a_bag_wider_than_its_lane_has_no_room_at_that_skew() -> None:
    """Square it may stand out, as the check of the lane says; turned too little it cannot be."""
    assert flat.lens_lane(130.0, 10.0, 127.0) == -math.inf
    assert flat.lens_lane(130.0, 13.0, 127.0) > 0
    coil = Coil(60.0, 36.1, 4.0)
    assert flat.lens_in_lane(coil, 130.0, 0.0, 100.0) == flat.lens_room(coil, 130.0, 0.0)
    assert flat.lens_in_lane(coil, 130.0, 20.0, None) == flat.lens_room(coil, 130.0, 20.0)
    assert flat.lens_in_lane(coil, 130.0, 20.0, 100.0) == -math.inf
    assert flat.lens_in_lane(coil, 130.0, 20.0, 200.0) == flat.lens_room(coil, 130.0, 20.0)


BAG = {"shape": "flat", "pillow": True, "breadth": 150.0, "thickness": 55.0, "height": 215.0, "squeeze": 6.0,
       "coil_count": 9, "lane_width": 158.0}  # fmt: skip


def test_a_big_bag_skewed_in_its_lane_is_as_wide_as_its_seals() -> None:
    """The sheet's width is the outline's, and with its play it goes into a lane of 158 mm."""
    found, checks, _ = assessed(**BAG)
    assert found.wanted_lane is not None
    assert found.wanted_lane - 3.175 == pytest.approx(outline(150.0, 55.0, found.fit.skew), abs=0.01)
    assert checks["lane"].outcome == "pass"
    box = assessed(**{**BAG, "pillow": False, "squeeze": 0.0, "thickness": 40.0})[0]
    turn = math.radians(box.fit.skew)
    assert box.wanted_lane == pytest.approx(150 * math.cos(turn) + 40 * math.sin(turn) + 3.175)


def test_a_low_bag_in_a_narrow_lane_is_a_lens_too() -> None:
    """Beside only some of the wire it has another best skew, and the same lane."""
    low = {**BAG, "height": 40.0, "breadth": 130.0, "lane_width": 124.0, "thickness": 30.0, "squeeze": 0.0}
    found = fit_of(Inputs(**{**COIL, **low}), 3.0)
    assert found.opening is not None
    assert outline(130.0, found.opening.size, found.opening.skew) <= 121.0 + 0.05


def test_how_far_a_bag_is_pressed_is_said_where_it_is() -> None:
    """In one coil it is pressed, by what its opening lacks; in the next it is not."""
    tight, checks, _ = assessed(**{**BAG, "coil_count": 10, "thickness": 52.0})
    assert tight.fit.opening is not None
    lacking = 52.0 - tight.fit.opening.size
    assert 0 < lacking < 6
    assert checks["goes_in"].note.startswith(f"Pressed by {math.ceil(lacking)} mm of the 6 mm")
    assert assessed(**{**BAG, "coil_count": 8})[1]["goes_in"].note == ""
    assert assessed(**{**BAG, "coil_count": 8, "squeeze": 0.0, "thickness": 80.0})[1]["goes_in"].note[:7] != "Pressed"


# -- pressed aside ------------------------------------------------------------------------


ASIDE = {"shape": "flat", "breadth": 77.8, "thickness": 60.0, "height": 170.0, "may_skew": False, "coil_count": 5,
         "lane_width": 140.0}  # fmt: skip


def test_a_pack_that_goes_in_only_aside_is_marked() -> None:
    """It has room 30 mm from the middle; in a lane as narrow as itself, in the middle, it has less than it needs."""
    found, checks, _ = assessed(**ASIDE)
    narrow = fit_of(Inputs(**{**COIL, **ASIDE, "lane_width": 77.8 + 3.175}), 3.175)
    assert narrow.opening is not None
    assert found.fit.opening is not None
    assert checks["goes_in"].outcome == "pass"
    assert checks["middle"].value == pytest.approx(narrow.opening.size, abs=0.02)
    assert checks["middle"].outcome == "caution"
    assert f"{found.fit.opening.shift:.0f} mm from the lane’s" in checks["middle"].note
    assert assessed(**{**ASIDE, "thickness": 45.0})[1]["middle"].outcome == "pass"
    assert "middle" not in assessed(**{**ASIDE, "thickness": 90.0})[1], "it does not go in at all"
    assert "middle" not in assessed(**{**ASIDE, "lane_width": 82.0, "thickness": 40.0})[1]


def test_a_round_product_aside_has_its_room_in_the_middle_told() -> None:
    """The room in the middle is that of a lane which leaves it nowhere else to stand."""
    for sides, height in (("straight", 200.0), ("widening", 110.0)):
        for count in (4, 5, 12, 16):
            pot = {"shape": "round", "diameter": 40.0, "foot_diameter": 34.0, "height": height, "sides": sides,
                   "coil_count": count, "lane_width": 140.0}  # fmt: skip
            opening = fit_of(Inputs(**{**COIL, **pot}), 3.0).opening
            middle = fit_of(Inputs(**{**COIL, **pot, "lane_width": 43.0}), 3.0).opening
            assert opening is not None
            assert middle is not None
            if opening.shift:
                assert opening.middle == pytest.approx(middle.size, abs=0.02), (sides, count)
                assert opening.size > middle.size
            else:
                assert opening.middle is None


# -- contradictions, blanks -----------------------------------------------------------------


@pytest.mark.parametrize(("length", "refused"), [("150 mm", True), ("160 mm", True), ("161 mm", False)])
def test_turns_closer_than_their_wire_are_an_error_at_each_size(length: str, refused: bool) -> None:
    """40 turns of 4 mm wire are 160 mm when they touch."""
    inputs = {"usable_length": length, "coil_count": 40, "wire": "4 mm"}
    found: set[str] = set()
    try:
        calculators.run("spiral", {"units": "si", "inputs": inputs})
    except InputErrors as errors:
        found = {error.field for error in errors.errors}
    assert found == ({"coil_count", "usable_length", "wire"} if refused else set())


def test_a_listed_coil_that_cannot_be_is_an_error_in_its_row() -> None:
    """The second row: its count, its wire, and the length that is common to all."""
    rows = [{"coil_count": 7, "wire": "4 mm", "coil_outside": "76 mm"},
            {"coil_count": 40, "wire": "10 mm", "coil_outside": "76 mm"}]  # fmt: skip
    with pytest.raises(InputErrors) as caught:
        calculators.run("spiral", {"units": "si", "inputs": {"usable_length": "300 mm", "coils": rows}})
    assert {error.field for error in caught.value.errors} == {"coils.1.coil_count", "coils.1.wire", "usable_length"}
    assert "8 mm" in str(caught.value) or "7 mm" in str(caught.value)


@pytest.mark.parametrize(("key", "given"), [("drop_limit", "300 mm"), ("drop_height", "600 mm")])
def test_a_blank_drop_keeps_its_check(key: str, given: str) -> None:
    """Not known which drop it bears, or from how high it falls: not known yet, and named."""
    inputs = {"shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "coil_count": 7,
              "usable_length": "546 mm", "coil_outside": "76 mm", "wire": "4 mm", "lane_width": "79 mm", key: given}  # fmt: skip
    found = next(check for check in calculators.run("spiral", {"units": "si", "inputs": inputs})["checks"]
                 if check["key"] == "drop")  # fmt: skip
    assert found["outcome"] == "unknown"
    assert found["needs"] == [{"drop_limit": "drop_height", "drop_height": "drop_limit"}[key]]


def test_a_product_that_no_drop_harms_passes_from_any_tray() -> None:
    """Three metres or ten feet are more than any tray is high, whichever is not measured."""
    inputs = {"shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "coil_count": 7,
              "usable_length": "546 mm", "coil_outside": "76 mm", "wire": "4 mm", "lane_width": "79 mm",
              "drop_limit": "10 ft"}  # fmt: skip
    found = next(check for check in calculators.run("spiral", {"units": "si", "inputs": inputs})["checks"]
                 if check["key"] == "drop")  # fmt: skip
    assert found["outcome"] == "pass"


def test_a_foot_on_strips_leans_from_the_strips() -> None:
    """Raised out of the wire under it, it stands on them at every skew."""
    found, _, steps = assessed(**{**BAR, "coil_count": 12, "strip_height": 40.0})
    assert steps["h_λ"] == 40.0
    assert found.leaning is not None
    assert found.leaning.wire == stand.lean(found.fit.coil, found.fit.turned_to(found.leaning.skew), 40.0, 160.0)  # type: ignore[arg-type]
