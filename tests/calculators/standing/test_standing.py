"""Each check fails on its own side of its limit, and anchors change what a failure says, never what it is."""

from __future__ import annotations

import dataclasses
import math
import random
from typing import Any

import pytest

import calculators
from calculators.clearance import CALCULATOR as CLEARANCE
from calculators.core import InputErrors
from calculators.standing import CALCULATOR, maths

from .test_statics import cabinet, run, values

PLAIN_CLEARANCE = dataclasses.replace(CLEARANCE, probe=False, finish=None)
# A cabinet that is known to the last, outdoors on flat ground; every check of it passes.
FIRM: dict[str, Any] = {
    "cabinet_width": 1000, "cabinet_depth": 1000, "cabinet_height": 1500, "cabinet_mass": 400, "anchored": False, "outdoors": True,
    "cg_height": 500, "cg_back": 500, "cg_side": 500, "leg_inset": 0, "stock_mass": 200, "stock_height": 500, "door_leaf": 800,
    "door_mass": 20, "hinge_side": "left", "tray_pullout": 500, "tray_load": 20, "lean_along": 0, "lean_across": 0,
    "rough_use": False, "hill": False, "wind_speed": 20, "exposure": "b", "friction": 0.6,
}  # fmt: skip


def checks(inputs: dict[str, Any], rules: str = "us") -> dict[tuple[str, str], dict[str, Any]]:
    found = CALCULATOR.run({"units": "si", "typed": "si", "rules": rules, "inputs": {**FIRM, **inputs}})["checks"]
    return {(check["key"], check["at"]): check for check in found}


def whole(inputs: dict[str, Any], rules: str = "us") -> str:
    return str(CALCULATOR.run({"units": "si", "typed": "si", "rules": rules, "inputs": {**FIRM, **inputs}})["outcome"])


def outcome(inputs: dict[str, Any], key: str, at: str = "", rules: str = "us") -> str:
    return str(checks(inputs, rules)[key, at]["outcome"])


def test_a_firm_cabinet_passes_every_check() -> None:
    assert {check["outcome"] for check in checks({}).values()} == {"pass"}


# Its weight hangs 40 mm inside its front feet, a meter high, and no goods, whose place would be open.
THIN = {"leg_inset": 270, "cg_back": 310, "cg_height": 1000, "stock_mass": 0, "tray_load": 0, "outdoors": False}
FOUR = ("Empty", "Full", "Empty, door open", "Full, door open")


@pytest.mark.parametrize(("key", "at", "changes"), [
    *(("lean", at, THIN) for at in FOUR), *(("push", at, THIN) for at in FOUR), ("tray", "Full", THIN), ("tray", "Empty but for that tray", THIN),
    ("lean", "Full, door open", {"door_mass": 100, "door_leaf": 1000, "cg_side": 320, "cg_height": 1000, "stock_mass": 1, "tray_load": 0}),
    ("wind_tip", "Wind on front or back", {"wind_speed": 90}),
    ("wind_tip", "Wind on a side", {"wind_speed": 90}),
    ("wind_slide", "", {"wind_speed": 90}),
    ("wind_slide", "", {"friction": 0.05}),
])  # fmt: skip
def test_each_check_fails_where_it_is_too_much(key: str, at: str, changes: dict[str, Any]) -> None:
    """A hard stop with a caution and a way out, and the anchor check asks for an engineer."""
    check = checks(changes)[key, at]
    assert (check["outcome"], bool(check["caution"])) == ("stop", True)
    assert check["margin"] < 0
    assert "licensed engineer" in check["note"]
    assert outcome(changes, "anchor") == "stop"


def test_the_first_tray_alone_is_tried() -> None:
    """By hand: 120 kg whose middle hangs 400 mm inside and 700 high, a tray of 100 kg 700 mm out from 300 behind the front: full it stands."""
    light = {"cabinet_mass": 120, "cg_back": 400, "cg_height": 700, "stock_mass": 300, "stock_height": 500, "tray_load": 100, "tray_pullout": 700,
             "door_mass": 0, "outdoors": False}  # fmt: skip
    found = checks(light)
    assert found["tray", "Full"]["outcome"] == "pass"
    first = found["tray", "Empty but for that tray"]
    inside, up = (120 * 400 - 100 * 400) / 220, (120 * 700 + 100 * 500) / 220
    assert (first["outcome"], first["value"]) == ("stop", pytest.approx(math.degrees(math.atan(inside / up)), abs=1e-9))
    [told] = first["mend"]["changes"].values()
    assert outcome({**light, "tray_load": told}, "tray", "Empty but for that tray") == "pass"
    assert values(run({**FIRM, **light}))["angle_tray"] == pytest.approx(first["value"])


def test_a_first_tray_of_which_little_is_told_may_weigh_anything() -> None:
    """Blank it goes up to a share of a full load; told, it needs no load; a light one lets it stand."""
    light = {"cabinet_mass": 120, "cg_back": 400, "cg_height": 700, "tray_pullout": 700, "door_mass": 0, "stock_height": 500, "outdoors": False}
    at = "Empty but for that tray"
    assert outcome({**light, "stock_mass": 300, "tray_load": None}, "tray", at) == "unknown"
    assert outcome({**light, "stock_mass": 150, "tray_load": 1}, "tray", at) == "pass"
    assert outcome({**light, "stock_mass": None, "tray_load": 100}, "tray", at) == "stop"
    assert set(checks({**light, "stock_mass": None, "tray_load": None})["tray", at]["needs"]) == {"stock_mass"}


def test_with_all_fields_given_nothing_stays_open() -> None:
    """Where goods lie front to back nobody can type: they count at their worst, and none is asked to measure what has no field."""
    light = {"cabinet_mass": 180, "stock_mass": 360, "stock_height": 760, "cg_height": 760, "door_mass": 27, "tray_pullout": 760, "outdoors": False}
    seen = set()
    for tray in range(40, 144, 4):
        found = checks({**light, "tray_load": tray, "cabinet_depth": 864, "cg_back": 432, "leg_inset": 51})
        assert "unknown" not in {check["outcome"] for check in found.values()}, tray
        seen.add(found["tray", "Full"]["outcome"])
    assert seen == {"pass", "caution", "stop"}


@pytest.mark.parametrize(("key", "at", "path", "low", "high"), [
    ("lean", "Empty", "cg_back", 300, 690), ("push", "Full, door open", "cg_back", 300, 690), ("tray", "Full", "cg_back", 300, 690), ("tray", "Empty but for that tray", "cg_back", 300, 690),
    ("wind_tip", "Wind on front or back", "wind_speed", 20, 90), ("wind_slide", "", "wind_speed", 20, 90),
])  # fmt: skip
def test_a_limit_is_where_it_says(key: str, at: str, path: str, low: float, high: float) -> None:
    """On its way over the limit a check stops, takes care within the tolerance, and passes; by its own numbers."""
    base = FIRM if path == "wind_speed" else {**FIRM, **THIN}
    seen = set()
    for step in range(121):
        result = run({**base, path: low + (high - low) * step / 120})
        check = next(each for each in result["checks"] if (each["key"], each["at"]) == (key, at))
        seen.add(check["outcome"])
        if check["outcome"] in ("pass", "stop"):
            assert (check["value"] > check["limit"]) == (check["outcome"] == "pass")
    assert seen >= {"pass", "caution", "stop"}


def test_rough_use_is_take_care_until_it_is_fixed_down() -> None:
    assert outcome({"rough_use": True}, "rough") == "caution"
    assert outcome({"rough_use": True, "anchored": True, "anchor_paper": True}, "rough") == "pass"
    assert outcome({"rough_use": None}, "rough") == "unknown"


# -- anchors ---------------------------------------------------------------------------------

STORM = {"wind_speed": 90}


def test_fixed_down_without_a_paper_is_take_care_and_says_what_they_carry() -> None:
    """Never stop for what the anchors may hold, never go without the engineer."""
    found = checks({**STORM, "anchored": True, "anchor_paper": False})
    assert found["wind_tip", "Wind on a side"]["outcome"] == "caution"
    assert found["anchor", ""]["outcome"] == "caution"
    assert "must carry" in found["anchor", ""]["text"]
    assert outcome({"anchored": True, "anchor_paper": None}, "anchor") == "caution"


def test_held_by_anchors_what_is_not_measured_can_only_be_care() -> None:
    """Without the engineer's paper it is take care whatever it weighs; not anchored, its mass may make a stop of it."""
    for anchored, expected in ((True, "caution"), (False, "unknown")):
        inputs = {"anchored": anchored, "anchor_paper": False, "outdoors": False, "cabinet_mass": None, "lean_across": None}
        assert whole(inputs) == expected
    assert whole({"anchored": True, "anchor_paper": False, "exposure": None, "wind_speed": None}, "au") == "unknown"


def test_a_paper_for_its_anchors_says_that_it_is_fixed_down() -> None:
    """Who has the paper need not say so twice: no middle of mass, door or shaking that is not told makes a difference then."""
    blanks = dict.fromkeys(("anchored", "cg_height", "cg_back", "cg_side", "rough_use", "door_mass", "stock_height"))
    assert whole({**blanks, "anchor_paper": True}) == "pass"
    assert whole({**blanks, "anchor_paper": None}) == "unknown"
    # With nothing told of the cabinet nobody has compared it with the paper, whichever of the two was said.
    assert whole({**dict.fromkeys(FIRM), "anchor_paper": True}) == "caution"


def test_with_the_engineers_paper_they_hold_it() -> None:
    found = checks({**STORM, "anchored": True, "anchor_paper": True})
    assert {check["outcome"] for check in found.values()} == {"pass"}
    assert "must carry" in found["anchor", ""]["text"]
    assert "engineer" in found["wind_tip", "Wind on a side"]["text"]


def test_what_the_engineers_anchors_hold_they_hold_whatever_is_not_measured() -> None:
    """Else a blank paper, which is take care, would hide a sheet that is not known yet. It says what to compare.

    Without a figure it is not looked at.
    """
    nothing = {**dict.fromkeys(FIRM), "anchored": True}
    assert (whole({**nothing, "anchor_paper": None}), whole({**nothing, "anchor_paper": True})) == ("caution", "caution")
    assert whole({"anchored": True, "anchor_paper": True, "cabinet_mass": None, "door_leaf": None}) == "pass"
    found = checks({"anchored": True, "anchor_paper": True, "cabinet_mass": None})
    assert "engineer’s anchors hold it: compare the paper" in found["lean", "Empty"]["text"]
    assert not found["anchor", ""]["note"], "there is nothing yet to compare with the paper"
    assert whole({**nothing, "anchor_paper": True, "outdoors": True}, "au") == "unknown"


def test_whether_it_is_fixed_down_is_asked_where_that_decides() -> None:
    assert outcome({**STORM, "anchored": None}, "wind_slide") == "unknown"
    assert outcome({"anchored": None}, "wind_slide") == "pass"
    assert outcome({"anchored": None}, "anchor") == "unknown"


def test_no_answer_sizes_an_anchor() -> None:
    """A force in newtons, an engineer, no bolt, screw, plug or drill but to say: not you."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "inputs": {**FIRM, **STORM}})
    text = str({key: result[key] for key in ("checks", "actions", "tables", "working", "not_checked")}).lower()
    assert "licensed engineer designs the anchors" in text
    assert not [word for word in ("bolts of", "diameter", " m8", " m10", " m12", "screw", "drill a", "embed") if word in text]
    assert text.count("drill") == text.count("you do not drill")


def test_the_pull_on_an_anchor_is_what_the_weight_lacks() -> None:
    """By hand: (overturning less steadying) over the feet's distance."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "inputs": {**FIRM, **STORM, "stock_mass": 0, "tray_load": 0}})
    check = next(each for each in result["checks"] if each["at"] == "Wind on a side")
    found = values(result)
    assert found["tension"] == pytest.approx((check["limit"] - check["value"]) / 1.0, rel=1e-9)
    assert found["shear"] == pytest.approx(found["wind"], rel=1e-9)


@pytest.mark.parametrize("changes", [{}, {"cg_height": 800}, {"cabinet_height": 1400}, {"cabinet_width": 1100, "cg_side": 550}])
def test_how_far_tape_and_level_may_be_off_in_the_wind(changes: dict[str, float]) -> None:
    """Empty: its middle of mass by two tapes of 5 mm and by 0.5 mm/m of lean, six tenths of its weight; its face by a tape each way."""
    bare = {"stock_mass": 0, "tray_load": 0}
    inputs = {**FIRM, **changes}
    found = checks({**bare, **changes})["wind_tip", "Wind on front or back"]
    weight = 0.6 * 9.80665 * 400 / 1000 * (2 * 5 + inputs["cg_height"] * 0.5 / 1000)
    wide, tall = inputs["cabinet_width"], inputs["cabinet_height"]
    assert found["tolerance"] == pytest.approx(weight + found["limit"] * ((wide + 5) / wide * ((tall + 5) / tall) ** 2 - 1), rel=1e-9)


# -- where the wind is not worked out -----------------------------------------------------------


@pytest.mark.parametrize("rules", ["ca", "au"])
def test_a_set_without_a_wind_code_says_so(rules: str) -> None:
    check = checks({"exposure": None}, rules)["wind_tip", "Wind on a side"]
    assert check["outcome"] == "unknown"
    assert check["text"].startswith("No figure in this rule set")
    assert outcome({"outdoors": False, "exposure": None, "wind_speed": None, "hill": None}, "anchor", rules=rules) == "pass"


def test_on_a_hill_only_a_stop_is_sure() -> None:
    assert outcome({"hill": True}, "wind_tip", "Wind on a side") == "unknown"
    assert outcome({"hill": True, **STORM}, "wind_tip", "Wind on a side") == "stop"


@pytest.mark.parametrize(("rules", "place", "least"), [("uk", {"terrain": "iv", "altitude": 0}, 20), ("eu", {"terrain": "iv"}, 17)])
def test_a_wind_that_no_map_has_is_refused(rules: str, place: dict[str, Any], least: float) -> None:
    """Somebody typed the weather report. The United States have a least pressure of their own; indoors no wind counts."""
    for speed in (10, least - 0.1):
        with pytest.raises(InputErrors) as told:
            checks({**place, "wind_speed": speed}, rules)
        assert {error.field for error in told.value.errors} == {"wind_speed"}
        assert "not from a forecast" in str(told.value)
    checks({**place, "wind_speed": least}, rules)
    checks({**place, "wind_speed": 10, "outdoors": False}, rules)
    checks({"wind_speed": 10}, "us")


@pytest.mark.parametrize(("rules", "place"), [("uk", {"terrain": "ii", "altitude": 0}), ("us", {})])
def test_the_land_that_the_wind_blows_over_is_no_wire(rules: str, place: dict[str, Any]) -> None:
    """Where a ground wire is called earth, flat land is not."""
    inputs = {**FIRM, **place, "wind_speed": 40}
    result = calculators.run("standing", {"units": "si", "typed": "si", "rules": rules, "inputs": inputs})
    note = next(check["note"] for check in result["checks"] if check["at"] == "Wind on a side")
    assert "On flat open land;" in note
    assert "earth" not in note


def test_indoors_no_wind_is_asked_for() -> None:
    assert not [key for key, _ in checks({"outdoors": False}) if key.startswith("wind")]
    assert outcome({"outdoors": None, "wind_speed": None}, "wind_slide") == "unknown"


# -- one middle of mass for both forms ------------------------------------------------------------


@pytest.mark.parametrize("known", [True, False])
def test_it_falls_where_clearance_says_that_it_balances(known: bool) -> None:
    """Feet at the faces, off its skid, level: the least balance angle over all edges is the angle at which it falls."""
    for seed in range(15):
        case = {**cabinet(random.Random(f"both {seed}")), "leg_inset": 0.0, "lean_along": 0.0, "lean_across": 0.0}
        if not known:
            case = {key: value for key, value in case.items() if not key.startswith("cg_")}
        shared = {key: case[key] for key in ("cabinet_width", "cabinet_depth", "cabinet_height", "cabinet_mass")}
        shared |= {key: value for key, value in case.items() if key.startswith("cg_")}
        angles = []
        for edge in ("front", "back", "left", "right"):
            inputs = {**shared, "skid": "off", "tilt": True, "tilt_over": edge, "tilt_angle": 1}
            working = PLAIN_CLEARANCE.run({"units": "si", "typed": "si", "inputs": inputs})["working"]
            angles.append(next(step["value"] for group in working for step in group["steps"] if step["symbol"] == "B_1"))
        assert values(run(case))["angle_empty"] == pytest.approx(min(angles), rel=1e-9)


def test_one_that_hangs_outside_its_feet_falls_now() -> None:
    """Less than nothing is left, and it need not be lifted to fall."""
    assert maths.critical_angle(-10, 1000) < 0
    assert maths.rise(-10, 1000) == 0
    assert maths.rise(300, 400) == 100


def test_a_tray_that_hardly_comes_out_gets_no_fix_beyond_all_numbers() -> None:
    """Divided by next to nothing a load is infinite: then the tray is not what tips it, and nothing of it is said."""
    inputs = {"cabinet_width": 200, "cabinet_height": 200, "cabinet_mass": 10, "tray_pullout": 5e-324, "door_mass": 0,
              "stock_mass": 0, "leg_inset": 0, "lean_across": 0, "lean_along": 0, "anchored": False}  # fmt: skip
    report = CALCULATOR.run({"units": "us", "typed": "si", "inputs": inputs})
    assert not any(each["mend"] for each in report["checks"] if each["key"] == "tray")
