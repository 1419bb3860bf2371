"""Sizes that cannot all be true: each is told beside every field that says so."""

from __future__ import annotations

import json
from typing import Any

import pytest

import calculators

BAG: dict[str, Any] = {"shape": "flat", "pillow": "yes", "breadth": "130 mm", "thickness": "42 mm", "height": "180 mm"}
COIL: dict[str, Any] = {"coil_outside": "76.2 mm", "wire": "4 mm", "usable_length": "546.1 mm"}


def fields(**inputs: Any) -> set[str]:
    """The fields told of; none where the answer is a sheet."""
    result = json.loads(calculators.run_json("spiral", json.dumps({"units": "si", "inputs": inputs})))
    return {error["field"] for error in result.get("errors", [])}


@pytest.mark.parametrize(("given", "told"), [
    ({**BAG, "squeeze": "60 mm"}, {"squeeze", "thickness"}), ({**BAG, "squeeze": "42 mm"}, {"squeeze", "thickness"}),
    ({**BAG, "squeeze": "41 mm"}, set()), ({**BAG, "thickness": None, "squeeze": "60 mm"}, set()),
    ({**BAG, "breadth": "40 mm", "squeeze": "41 mm"}, set()),
    ({**BAG, "breadth": "40 mm", "squeeze": "41 mm", "may_turn": "yes"}, {"squeeze", "breadth"}),
    ({**BAG, "squeeze": "60 mm", "coil_count": 30, **COIL}, {"squeeze", "thickness"}),
])  # fmt: skip
def test_no_pack_is_pressed_to_nothing(given: dict[str, Any], told: set[str]) -> None:
    """By all of what lies along the lane: its thickness, or its breadth where it may be turned."""
    assert fields(**given) == told


@pytest.mark.parametrize(("count", "given", "told"), [
    (3, {"turns_per_sale": 4}, {"coil_count", "turns_per_sale"}), (4, {"turns_per_sale": 4}, set()),
    (3, {"end_empty": 3}, {"coil_count", "turns_per_sale", "end_empty"}), (4, {"end_empty": 3}, set()),
    (4, {"end_empty": 2, "turns_per_sale": 3}, {"coil_count", "turns_per_sale", "end_empty"}), (None, {"turns_per_sale": 4}, set()),
])  # fmt: skip
def test_a_lane_holds_one_product_at_least(count: int | None, given: dict[str, Any], told: set[str]) -> None:
    """The turns of a sale and those left empty are there, on the form and of each own coil."""
    sizes = {"coil_outside": "76.2 mm", "wire": "4 mm"}
    assert fields(**COIL, coil_count=count, **given) == told
    row = {"name": "mine", "coil_count": count, **sizes}
    assert fields(usable_length="546.1 mm", coils=[row], **given) == {f"coils.0.{path}" if path == "coil_count" else path for path in told}


BOTTLE = {"shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "usable_length": "234 mm",
          "lane_width": "79 mm", "height_above": "250 mm", "rail_height": "150 mm", "drop_height": "600 mm", "drop_limit": "3 m",
          "end_clock": 6}  # fmt: skip


@pytest.mark.parametrize(("turns", "mended"), [(2, True), (3, False)])
def test_no_turn_is_left_empty_without_which_the_lane_holds_none(turns: int, mended: bool) -> None:
    """Three turns, two for a sale: the first may stay empty; all three for a sale: it may not."""
    coil = {"coil_count": 3, "coil_outside": "76.2 mm", "wire": "4 mm"}
    result = calculators.run("spiral", {"units": "si", "inputs": {**BOTTLE, **coil, "turns_per_sale": turns}})
    first = next(check for check in result["checks"] if check["key"] == "first")
    assert first["outcome"] == "stop"
    assert ("end_empty" in (first["mend"] or {}).get("changes", {})) is mended


@pytest.mark.parametrize(("turns", "bought"), [(3, True), (4, False)])
def test_no_coil_is_to_buy_that_would_hold_none(turns: int, bought: bool) -> None:
    """Three turns would let the bottle in: with four for a sale none of them is of use."""
    own = [{"name": "nine", "coil_count": 9, "coil_outside": "76.2 mm", "wire": "4 mm"}]
    result = calculators.run("spiral", {"units": "si", "inputs": {**BOTTLE, "end_clock": 12, "turns_per_sale": turns, "coils": own}})
    assert result["outcome"] == "stop"
    assert ("a coil of 3 turns" in result["headline"]) is bought
