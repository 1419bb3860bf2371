"""Published cases: thread pitches, vials, and where every figure comes from."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.core import rules, units
from calculators.core.rules import STATUSES
from calculators.level import CALCULATOR, maths

FOLDER = Path(__file__).parents[2] / "cases" / "level"
THREADS = tomllib.loads((FOLDER / "threads.toml").read_text())["case"]
VIALS = tomllib.loads((FOLDER / "vials.toml").read_text())["case"]


def half_digit(printed: str) -> float:
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


def figure(key: str) -> float:
    return rules.load("us")[key].inner


@pytest.mark.parametrize("case", THREADS, ids=lambda case: case["id"])
def test_the_rise_of_a_turn_is_the_standard_s(case: dict[str, Any]) -> None:
    """The rule set's pitch is the printed one, and one inch over its threads exactly."""
    rise = figure(f"level.pitch_{case['thread']}")
    assert rise == pytest.approx(float(case["rise"]), abs=half_digit(case["rise"]))
    if "threads_per_inch" in case:
        assert rise * case["threads_per_inch"] == pytest.approx(25.4, rel=1e-14)


@pytest.mark.parametrize("case", [each for each in THREADS if "turns" in each], ids=lambda case: case["id"])
def test_three_millimeters_take_the_printed_turns(case: dict[str, Any]) -> None:
    """A corner 3 mm low: the working's turns, before rounding, are the table's."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "inputs": {
        "leg_layout": "four", "span_x": 1000, "span_y": 1000, "thread": case["thread"],
        "readings": [{"high": "right", "slope": 3}, {"high": "none_along"}]}})  # fmt: skip
    turns = {step["symbol"]: step["value"] for part in result["working"] for step in part["steps"]}
    assert turns["m_1"] == pytest.approx(float(case["turns"]), abs=half_digit(case["turns"]))
    degrees = 360 * 0.1 / figure(f"level.pitch_{case['thread']}")
    assert degrees == pytest.approx(float(case["degrees"]), abs=half_digit(case["degrees"]))


@pytest.mark.parametrize("case", VIALS, ids=lambda case: case["id"])
def test_a_vial_s_angle_is_its_printed_slope(case: dict[str, Any]) -> None:
    """Angle to slope, read as a person types it."""
    angle = case.get("degrees") or units.parse(case["angle"], "arc", "us") / 60
    slack = case.get("tolerance", half_digit(case["slope"]))
    assert maths.slope_of_angle(angle) == pytest.approx(float(case["slope"]), abs=slack)
    assert "tolerance" not in case or case["reason"]


def test_bubble_divisions_are_read_through_the_vial() -> None:
    """Two and a half divisions of a 20″ vial are 2.5 times its slope, in the working too."""
    result = CALCULATOR.run({"typed": "si", "units": "si", "inputs": {
        "vial_arc": '20"', "readings": [{"high": "left", "shown_as": "divisions", "divisions": 2.5},
                                        {"high": "none_along"}]}})  # fmt: skip
    slope = next(value["inner"] for value in result["values"] if value["key"] == "slope_x")
    assert slope == pytest.approx(-2.5 * 0.09696, abs=2.5 * 0.5e-5)


def test_every_figure_and_case_says_where_it_comes_from() -> None:
    """A clause or common practice for each figure; citation and status for each case."""
    for key, rule in rules.load("us").figures.items():
        if key.startswith("level."):
            assert bool(rule.clause) != (rule.status == "common practice"), key
            assert rule.label
    for case in (*THREADS, *VIALS):
        assert case["citation"]
        assert case["status"] in STATUSES
