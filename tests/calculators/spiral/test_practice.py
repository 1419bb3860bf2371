"""What the trade keeps to, from sizes fixed in the case file, each with a neighbour that must fail."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.core import rules
from tests.calculators.spiral.solid import Place, Solid, Wire, lean, rest, spare

CASES = Path(__file__).parents[2] / "cases" / "spiral"
PRACTICE = tomllib.loads((CASES / "practice.toml").read_text(encoding="utf-8"))
# From 64 to 66 and from 70 to 75 mm are the shared list's own, a millimetre more than the charts'.
OVER = 1.0
BOTTLES = [size for case in PRACTICE["case"] for size in case["sizes"]
           if "bottle" in case["id"] and "diameter" in size]  # fmt: skip
CANS = [{**case["inputs"], **size} for case in PRACTICE["case"] for size in case["sizes"]
        if " can" in case["id"] and "diameter" in size]  # fmt: skip


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


@pytest.mark.parametrize("size", CANS, ids=lambda size: f"{size['diameter']}")
def test_every_can_is_one_of_the_shared_charts(size: dict[str, str]) -> None:
    """A standard, a sleek and a slim one."""
    wide, high = size_of(size, "diameter"), size_of(size, "height")
    assert any((row["diameter"], row["height"]) == (wide, high) for row in rules.load("us")["goods.packages_can"].value)


def own_coils(counts: list[int]) -> list[dict[str, Any]]:
    common = {key: PRACTICE["common"][key] for key in ("coil_outside", "wire")}
    return [{**common, "name": f"{count}-count", "coil_count": count, "stock": 5} for count in counts]


@pytest.mark.parametrize("case", PRACTICE["choice"], ids=lambda case: case["id"])
def test_of_the_usual_coils_the_best_is_the_one_the_trade_takes(case: dict[str, Any]) -> None:
    """Asked without a coil: the headline names it, and those the trade refuses are not called usable."""
    for size in case["sizes"]:
        inputs = {**PRACTICE["common"], **case["inputs"], **size, "coils": own_coils(case["own"])}
        sizes = {key: value for key, value in inputs.items() if key not in ("coil_outside", "wire")}
        result = calculators.run("spiral", {"units": "si", "inputs": sizes})
        table = next(each for each in result["tables"] if each["title"].startswith("Your coils"))
        words = {row[0]: row[1] for row in table["rows"]}
        assert table["rows"][0][:2] == [f"{case['best']}-count", "Best"], (size, words)
        assert f"{case['best']}-count" in result["headline"], result["headline"]
        assert result["outcome"] in ("pass", "caution"), result["headline"]
        for count in case["refused"]:
            assert words[f"{count}-count"] not in ("Best", "Usable"), (size, words)


@pytest.mark.parametrize("case", PRACTICE["tray"], ids=lambda case: case["id"])
def test_a_whole_tray_holds_as_many_as_the_trade_puts_in(case: dict[str, Any]) -> None:
    """Lanes side by side, each as wide as product and coil want, times what a lane holds."""
    inputs = {**PRACTICE["common"], **case["inputs"]}
    result = calculators.run("spiral", {"units": "si", "inputs": inputs})
    values = {value["key"]: value["inner"] for value in result["values"]}
    lanes = case["usable_width"] // max(values["wanted_lane"], size_of(inputs, "coil_outside"))
    least, most = case["goods"]
    assert least <= lanes * values["capacity"] <= most
    assert "stop" in outcomes({**inputs, **case["fails"]}, ["goes_in"]).values()


def test_the_sampled_helix_lets_a_flat_tin_into_a_twenty_count() -> None:
    """Skewed, with more than a millimetre to spare: which is why a twenty is no neighbour that fails."""
    wire = Wire(546.1 / 20, (76.2 - 4.0) / 2, 4.0)
    tin = Solid(False, 21.0, 21.0, 95.0, 60.0)
    gaps = []
    for skew in range(0, 31, 2):
        place = Place(wire.pitch / 2, 0.0, float(skew))
        gaps.append(spare(wire, tin, place, rest(wire, tin, place) or 0.0))
    assert gaps[0] < 0 < max(gaps)


def test_every_case_says_where_its_sizes_come_from() -> None:
    """From the shared list, the shared facts, or plainly as a size of its class."""
    known = ("shared list", "shared facts", "goods.packages_", "plain size", "as in a")
    for case in (*PRACTICE["case"], *PRACTICE["difference"], *PRACTICE["choice"], *PRACTICE["tray"]):
        assert any(word in case["from"].lower() for word in known), case["id"]
