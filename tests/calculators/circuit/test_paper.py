"""The paper beside the calculator: the outlet table that decides without a phone, and who may reset what tripped."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path
from typing import Any

import pytest

from calculators.circuit import CALCULATOR
from calculators.core import rules
from tests.support.sheet import check

DOCS = Path(__file__).parents[3] / "docs"
QUICK = dataclasses.replace(CALCULATOR, probe=False)
US = rules.load("us")
OPENINGS = {"one or more": (1, 2), "two or more": (2,), "one alone": (1,)}


def rows() -> list[list[str]]:
    """The table of outlet, openings, breaker and amps on the page, without its head."""
    page = (DOCS / "procedures" / "prove-the-outlet.md").read_text(encoding="utf-8")
    table = re.search(r"^\| Outlet \|.*?\n\n", page, re.MULTILINE | re.DOTALL)
    assert table
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in table.group().strip().splitlines()[2:]]


def run(outlet: str, breaker: str, openings: int, amps: float) -> dict[str, Any]:
    inputs = {"breaker": breaker, "nominal_voltage": "120", "dedicated": "yes", "outlets": openings,
              "receptacle_rating": outlet, "cabinet_amps": amps, "cabinet_continuous": "no"}  # fmt: skip
    return QUICK.run({"rules": "us", "inputs": inputs})


@pytest.mark.parametrize("row", rows(), ids=" ".join)
def test_the_paper_table_says_what_the_calculator_says(row: list[str]) -> None:
    """At its amps outlet and plug pass, above them the table stops no later than the calculator."""
    outlet, openings, breaker, most = row
    for count in OPENINGS[openings]:
        if most.startswith("none"):
            assert check(run(outlet, breaker, count, 1), "receptacle")["outcome"] == "stop"
            continue
        key = re.fullmatch(r"\{\{rule (\S+)\}\}", most)
        assert key
        amps = US[key.group(1)].inner
        result = run(outlet, breaker, count, amps)
        assert (check(result, "receptacle")["outcome"], check(result, "receptacle_load")["outcome"]) == ("pass", "pass")
        if count > 1:
            assert check(run(outlet, breaker, count, amps + 0.01), "receptacle_load")["outcome"] == "stop"


def test_no_pair_that_the_calculator_stops_is_on_the_paper() -> None:
    """15 A alone on a breaker of 20 A stands there as a stop (210.21(B)(1))."""
    assert ["15", "one alone", "20", "none: stop"] in rows()
    assert "{{rule circuit.single_receptacle}}" in (DOCS / "procedures" / "prove-the-outlet.md").read_text(encoding="utf-8")


def test_nobody_is_told_to_switch_on_what_tripped_by_itself() -> None:
    """29 CFR 1910.334(b)(2): not before it is known to be safe; every page that speaks of a trip says so or stops."""
    pages = {path: path.read_text(encoding="utf-8") for path in sorted(DOCS.rglob("*.md"))}
    told = [path.name for path, text in pages.items()
            if re.search(r"reset (it|them|the \w+)[^.]{0,30} once|once[^.]{0,20} reset it", text, re.IGNORECASE)]  # fmt: skip
    assert told == []
    for name in ("connect.md", "find-a-fault.md"):
        assert "{{rule circuit.reset}}" in pages[DOCS / "procedures" / name]
    assert US["circuit.reset"].clause == "1910.334(b)(2)"
