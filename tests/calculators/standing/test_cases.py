"""Published cases of statics and of wind, at their printed precision."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.core.rules import STATUSES
from calculators.standing import CALCULATOR, maths
from tests.support import formulas

FILE = Path(__file__).parents[2] / "cases" / "standing" / "published.toml"
CASES = tomllib.loads(FILE.read_text(encoding="utf-8"))
# Inputs of a cabinet outdoors under each code, so that every step of the wind is printed.
OUTDOORS = {**CALCULATOR.example, "outdoors": "yes", "wind_speed": "40 m/s", "hill": "no"}
PLACE = {"us": {"exposure": "c"}, "uk": {"terrain": "ii", "altitude": "50 m"}, "eu": {"terrain": "ii"}}


def listed(name: str) -> list[Any]:
    return [pytest.param(case, id=case["id"]) for case in CASES[name]]


def near(case: dict[str, Any], value: float) -> bool:
    printed = case["printed"]
    half = 0.5 * 10.0 ** -len(printed.partition(".")[2])
    assert ("tolerance" in case) == ("reason" in case)
    return abs(value * case.get("scale", 1.0) - float(printed)) <= case.get("tolerance", half) + 1e-12


def steps(rules: str, inputs: dict[str, Any], units: str = "us") -> dict[str, dict[str, Any]]:
    """The steps that are worked out, by symbol."""
    result = CALCULATOR.run({"units": units, "rules": rules, "inputs": inputs})
    return {step["symbol"]: step for group in result["working"] for step in group["steps"] if step["formula"]}


@pytest.mark.parametrize("case", listed("case"))
def test_a_worked_example(case: dict[str, Any]) -> None:
    """The function, or the formula that the page prints, gives the source's number."""
    if "function" in case:
        assert near(case, getattr(maths, case["function"])(*case["arguments"]))
        return
    printed = steps(case["rules"], {**OUTDOORS, **PLACE[case["rules"]]})[case["step"]]
    assert near(case, formulas.evaluate(printed["formula"], case["numbers"]))


@pytest.mark.parametrize("case", listed("sheet"))
def test_a_worked_example_on_a_sheet(case: dict[str, Any]) -> None:
    """Typed into the form under its own code, the sheet shows the source's number."""
    assert near(case, steps(case["rules"], case["inputs"], "si")[case["step"]]["value"])


def test_every_case_says_whence_it_is() -> None:
    """Citation and status of each; both codes, and every kind of example that is asked for."""
    both = [*CASES["case"], *CASES["sheet"]]
    assert all(case["citation"] and case["status"] in STATUSES for case in both)
    assert {case["id"].partition(",")[0] for case in both} >= {"T1", "T3", "T4", "W2", "W3", "W4", "W6", "W7", "W8", "W9"}
