"""What the trade keeps to, from sizes fixed in the case file, each with a neighbour that must fail."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.core import rules
from tests.calculators.spiral.solid import Place, Solid, Wire, lean, rest

CASES = Path(__file__).parents[2] / "cases" / "spiral"
PRACTICE = tomllib.loads((CASES / "practice.toml").read_text(encoding="utf-8"))
# From 64 to 66 and from 70 to 75 mm are the shared list's own, a millimetre more than the charts'.
OVER = 1.0
BOTTLES = [size for case in PRACTICE["case"] for size in case["sizes"] if case["inputs"]["shape"] == "round"]


@pytest.mark.parametrize("case", PRACTICE["case"], ids=lambda case: case["id"])
def test_common_practice_comes_out_with_a_neighbour_that_fails(case: dict[str, Any]) -> None:
    """The coil the trade takes lets the product in and holds it; the next one does not."""
    keys = case.get("checks", ["goes_in"])
    for size in case["sizes"]:
        inputs = {**PRACTICE["common"], **case["inputs"], **size}
        fits = outcomes({**inputs, **case["fits"]}, keys)
        # Wire before and behind it is told of a pair only.
        assert set(fits) >= set(keys) - {"held"}, size
        assert set(fits.values()) <= {"pass", "caution"}, size
        assert "stop" in outcomes({**inputs, **case["fails"]}, keys).values(), size


@pytest.mark.parametrize("case", PRACTICE["difference"], ids=lambda case: case["id"])
def test_where_the_model_differs_from_practice_it_differs_as_written(case: dict[str, Any]) -> None:
    """The file gives the reason, and every outcome."""
    assert case["reason"]
    for size in case["sizes"]:
        inputs = {**PRACTICE["common"], **case["inputs"], **size}
        assert outcomes(inputs, list(case["outcomes"])) == case["outcomes"], size


def test_the_sampled_helix_bears_the_difference_out() -> None:
    """A platter in a five-count dual falls over before wire stops it, and before the next one would."""
    case = PRACTICE["difference"][0]
    inputs = {**PRACTICE["common"], **case["inputs"], **case["sizes"][0]}
    thick, high = size_of(inputs, "thickness"), size_of(inputs, "height")
    platter = Solid(False, thick, thick, high, size_of(inputs, "breadth"))
    thin = size_of(inputs, "wire")
    wire = Wire(size_of(inputs, "usable_length") / inputs["coil_count"], (size_of(inputs, "coil_outside") - thin) / 2,
                thin, size_of(inputs, "axis_offset"))  # fmt: skip
    place = Place(wire.pitch / 2)
    foot = rest(wire, platter, place)
    assert foot is not None
    leans = lean(wire, platter, place, foot)
    assert leans is not None
    tips = math.degrees(math.atan(thick / high))
    the_next_stops_it = math.degrees(math.asin((wire.pitch - thick) / high))
    assert leans > tips + 10
    assert the_next_stops_it > tips + 10


def outcomes(inputs: dict[str, Any], keys: list[str]) -> dict[str, str]:
    result = calculators.run("spiral", {"units": "si", "inputs": inputs})
    return {check["key"]: check["outcome"] for check in result["checks"] if check["key"] in keys}


def size_of(inputs: dict[str, Any], key: str) -> float:
    """Millimetres of a length in the file."""
    number, unit = inputs[key].split()
    assert unit == "mm", key
    return float(number)


@pytest.mark.parametrize("size", BOTTLES, ids=lambda size: f"{size['diameter']}")
def test_every_bottle_lies_in_the_ranges_of_the_shared_charts(size: dict[str, str]) -> None:
    """Sizes of the ordinary bottle, not sizes that suit the model."""
    known = rules.load("us")["goods.packages_bottle"].value
    wide, high = size_of(size, "diameter"), size_of(size, "height")
    assert any(row["diameter_least"] <= wide <= row["diameter_most"] + OVER
               and row["height_least"] <= high <= row["height_most"] for row in known)  # fmt: skip


def test_every_case_says_where_its_sizes_come_from() -> None:
    """From the shared list, the shared facts, or plainly as a size of its class."""
    known = ("shared list", "shared facts", "goods.packages_bottle", "plain size", "as in a")
    for case in (*PRACTICE["case"], *PRACTICE["difference"]):
        assert any(word in case["from"].lower() for word in known), case["id"]
