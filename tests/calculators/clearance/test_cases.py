"""Published cases: geometry, figures printed in two systems, limits by clause."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.clearance import CALCULATOR, maths
from calculators.core import rules
from calculators.core.rules import STATUSES

FOLDER = Path(__file__).parents[2] / "cases" / "clearance"


def cases(name: str) -> list[Any]:
    found = tomllib.loads((FOLDER / f"{name}.toml").read_text())["case"]
    return [pytest.param(case, id=case["id"]) for case in found]


@pytest.mark.parametrize("case", cases("geometry"))
def test_geometry(case: dict[str, Any]) -> None:
    """A function of the mathematics gives the printed number."""
    value = getattr(maths, case["function"])(*case["arguments"])
    if isinstance(value, tuple):
        value = value[1]  # angle and height: the height is printed
    assert value * case.get("scale", 1) == pytest.approx(case["expected"], abs=case["tolerance"])


@pytest.mark.parametrize("case", cases("twins"))
def test_a_figure_agrees_with_its_printed_twin(case: dict[str, Any]) -> None:
    """The rule set's figure, turned to the other system, is what the source prints there.

    ``per`` is the inner unit in one printed unit (102 kg for 1 kN or kPa on a square metre).
    """
    inner = rules.load(case.get("rules", "us"))[case["key"]].inner
    assert inner / case.get("per", 1.0) == pytest.approx(case["printed"], abs=case["tolerance"])


@pytest.mark.parametrize("case", cases("limits"))
def test_limits(case: dict[str, Any]) -> None:
    """An input on one side of a published limit has that outcome."""
    result = CALCULATOR.run({"units": case["units"], "inputs": case["inputs"], "rules": case.get("rules", "us")})
    found = [check["outcome"] for check in result["checks"]
             if (check["key"], check["at"]) == (case["check"], case["at"])]  # fmt: skip
    assert found == [case["outcome"]]


def test_every_case_says_where_it_comes_from() -> None:
    """Citation and status on each case, a reason on each tolerance that is wide."""
    for name in ("geometry", "twins", "limits"):
        for case in tomllib.loads((FOLDER / f"{name}.toml").read_text())["case"]:
            assert case["citation"]
            assert case["status"] in STATUSES


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_every_figure_says_where_it_comes_from(name: str) -> None:
    """Each figure of the three subjects has a clause, or is common practice without one."""
    for key, rule in rules.load(name).figures.items():
        if key.split(".")[0] in ("space", "floor", "handling"):
            assert bool(rule.clause) != (rule.status == "common practice"), key
            assert rule.label
