"""What is told before the coil is: a fall and a height that are too much whatever coil it stands in, and what can only be care."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from tests.support import pairs

BOTTLE = {"shape": "round", "diameter": 65.0, "foot_diameter": 60.0, "height": 205.0}
COIL = {"coil_count": 7, "usable_length": 546.1, "coil_outside": 76.2, "wire": 4.0}
RUN = pairs.runner(calculators.get("spiral"), bounds=True)


def outcomes(inputs: dict[str, Any]) -> dict[str, str]:
    result = RUN(inputs, "us")
    assert result is not None
    return {"sheet": result["outcome"], **{check["key"]: check["outcome"] for check in result["checks"]}}


@pytest.mark.parametrize(("limit", "strips", "outcome"), [(299.0, 0.0, "stop"), (300.0, 0.0, "unknown"), (319.0, 20.0, "stop")])
def test_a_tray_too_far_above_the_bin_is_one_whatever_the_coil(limit: float, strips: float, outcome: str) -> None:
    """The coil lifts it, and never lets it down."""
    given = {**BOTTLE, "drop_height": 300.0, "drop_limit": limit, "strip_height": strips}
    assert outcomes(given)["drop"] == outcome
    if outcome == "stop":
        assert {outcomes({**given, **COIL, "coil_count": count})["drop"] for count in (3, 5, 7, 9)} == {"stop"}


@pytest.mark.parametrize(("above", "strips", "outcome"), [(217.0, 0.0, "stop"), (218.0, 0.0, "unknown"), (237.0, 20.0, "stop")])
def test_a_tray_too_low_above_it_is_one_whatever_the_coil(above: float, strips: float, outcome: str) -> None:
    """Half an inch over 205 mm, and the strips it stands on."""
    given = {**BOTTLE, "height_above": above, "strip_height": strips}
    assert outcomes(given)["height"] == outcome
    assert outcomes({**given, "height": None})["height"] == "unknown"
    if outcome == "stop":
        assert {outcomes({**given, **COIL, "coil_count": count})["height"] for count in (3, 5, 7, 9)} == {"stop"}


def test_a_change_that_only_opens_what_failed_is_no_mend() -> None:
    """With the tray as low as is told the coil may still lift it too far: nothing is promised."""
    result = RUN({**BOTTLE, "drop_height": 300.0, "drop_limit": 200.0, "height_above": 210.0}, "us")
    assert result is not None
    stops = [check for check in result["checks"] if check["outcome"] == "stop"]
    assert {check["key"] for check in stops} == {"drop", "height"}
    assert [check["mend"] for check in stops] == [None, None]


def test_an_hour_that_can_only_make_it_care_leaves_a_sheet_that_takes_care() -> None:
    """A low broad tin falls out of no first turn: at some hours it stands loose, at others it is held."""
    tin = {**BOTTLE, **COIL, "coil_count": 10, "diameter": 65.0, "height": 34.0, "drop_height": 300.0, "drop_limit": 3000.0,
           "lane_width": 79.0, "rail_height": 127.0, "height_above": 240.0}  # fmt: skip
    assert {outcomes({**tin, "end_clock": hour})["first"] for hour in range(1, 13)} == {"pass", "caution"}
    found = outcomes(tin)
    assert (found["first"], found["sheet"]) == ("unknown", "caution")
    slender = outcomes({**tin, "height": 205.0, "coil_count": 7, "strip_height": 0.0})
    assert (slender["first"], slender["sheet"]) == ("unknown", "unknown"), "at some hours it falls"


@pytest.mark.parametrize(("lane", "outcome"), [(140.0, "stop"), (160.0, "unknown")])
def test_two_coils_side_by_side_are_too_wide_for_a_lane_however_close_they_are(lane: float, outcome: str) -> None:
    """Two of 76.2 mm want 153 mm: a way between their axes that suits the lane lets them strike each other."""
    pair = {"coil_kind": "dual", "coil_outside": 76.2, "lane_width": lane}
    assert outcomes(pair)["coil_lane"] == outcome
    if outcome == "stop":
        told = [outcomes({**pair, "axis_offset": offset}) for offset in (15.0, 30.0, 37.0, 38.0, 39.0, 60.0)]
        assert {"stop"} == {each["sheet"] for each in told}


def test_the_thin_end_is_one_of_a_pack_and_of_nothing_else() -> None:
    """What was typed for a pack stays on the form while its shape is not told, and a bottle has no thin end."""
    pack = {"thickness": 50.0, "thick_end": "foot", "thin_end": 170.0}
    assert outcomes({**pack, "shape": "flat"})["thin"] == "stop"
    assert "thin" not in outcomes(pack)
    assert outcomes(pack)["sheet"] == "unknown"
