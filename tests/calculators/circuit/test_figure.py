"""The drawings: lines as steep as the numbers say, words apart from each other."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.circuit import CALCULATOR
from calculators.circuit.figure import LINE, spread
from tests.calculators.clearance.test_figure import texts
from tests.support.inputs import random_request

SVG = "{http://www.w3.org/2000/svg}"
EXAMPLES = {"example": CALCULATOR.example, **CALCULATOR.examples}


def all_figures() -> list[Any]:
    made = [pytest.param({"units": units, "typed": "us", "inputs": dict(inputs)}, id=f"{name} {units}")
            for units in ("us", "si") for name, inputs in EXAMPLES.items()]  # fmt: skip
    return made + [pytest.param(random_request(CALCULATOR, seed, units), id=f"random {seed} {units}")
                   for seed in range(25) for units in ("us", "si")]  # fmt: skip


@pytest.mark.parametrize("request_", all_figures())
def test_words_keep_clear_of_words_and_edge(request_: dict[str, Any]) -> None:
    """Every figure is readable at a phone's width."""
    for svg in CALCULATOR.run(request_)["figures"]:
        boxes = texts(svg)
        wide, high = (float(each) for each in ET.fromstring(svg).get("viewBox", "").split()[2:])
        for words, x0, y0, x1, y1 in boxes:
            assert min(x0, y0, wide - x1, high - y1) >= 0, words
        for (one, *a), (other, *b) in itertools.combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (one, other)


def test_bars_are_as_long_as_their_amperes() -> None:
    """Each bar's length over its scale is the check's value."""
    result = CALCULATOR.run({"inputs": dict(EXAMPLES["Shared with two others"])})
    bars = list(ET.fromstring(result["figures"][0]).iter(f"{SVG}rect"))
    told = [check["value"] for check in result["checks"]
            if check["unit"] == "A" and check["key"] not in ("shared_size", "wire_breaker")]  # fmt: skip
    drawn = [float(each.get("width", 0)) / float(each.get("data-scale", 1)) for each in bars]
    assert drawn == pytest.approx(told, abs=0.01)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_lines_fall_as_the_voltages_do(name: str) -> None:
    """The heights at the cabinet stand in the ratio of the two drops."""
    result = CALCULATOR.run({"inputs": dict(EXAMPLES[name])})
    volts = {each["key"]: each["inner"] for each in result["values"]}
    source = volts["volts_starting"] + volts["start_dip"]
    lines = [each for each in ET.fromstring(result["figures"][1]).iter(f"{SVG}line")
             if each.get("class") in ("hb-body", "hb-ghost")]  # fmt: skip
    falls = [float(each.get("y2", 0)) - float(each.get("y1", 0)) for each in lines]
    wanted = (source - volts["volts_running"]) / (source - volts["volts_starting"])
    # Coordinates are printed to a hundredth of a pixel, falls are tens of pixels.
    assert falls[0] / falls[1] == pytest.approx(wanted, abs=0.001)


def test_nothing_is_drawn_from_guesses() -> None:
    """A blank form has no figure."""
    assert CALCULATOR.run({"inputs": {}})["figures"] == []


@given(st.lists(st.floats(0, 180), min_size=1, max_size=3))
def test_spread_words_keep_a_line_apart_and_their_order(heights: list[float]) -> None:
    """Words beside three lines never overlap, and never leave the drawing at its foot."""
    falling = sorted(heights, reverse=True)
    placed = spread(falling)
    assert all(a - b >= LINE - 1e-9 for a, b in itertools.pairwise(placed))
    assert placed[-1] >= 0


@pytest.mark.parametrize("name", ["uk", "us"])
def test_the_line_bends_where_an_outlet_is(name: str) -> None:
    """Two equal loads, one half way: the first half of the run loses two thirds of it all."""
    inputs = {"breaker": "20", "nominal_voltage": "230" if name == "uk" else "240", "dedicated": "no",
              "loads_listed": "yes", "material": "copper", "conductor": "2.5mm2", "run": 40, "cabinet_amps": 4,
              "cabinet_power_factor": 1, "volts_idle": 230, "cabinet_start_amps": 4,
              "loads": [{"amps": 4, "power_factor": 1, "distance": 20}]}  # fmt: skip
    result = CALCULATOR.run({"rules": name, "typed": "si", "units": "si", "inputs": inputs})
    lines = [each for each in ET.fromstring(result["figures"][1]).iter(f"{SVG}line") if each.get("class") == "hb-body"]
    ends = [tuple(float(line.get(key, 0)) for key in ("x1", "y1", "x2", "y2")) for line in lines]
    first, second = ends
    assert first[2:] == second[:2]
    assert first[2] - first[0] == pytest.approx((second[2] - first[0]) / 2, abs=0.02)
    # Both currents run the first half, one of them the second: 2 to 1. Coordinates have two decimals.
    assert (first[3] - first[1]) / (second[3] - first[1]) == pytest.approx(2 / 3, abs=0.001)
