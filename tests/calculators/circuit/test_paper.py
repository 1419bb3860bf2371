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


@pytest.mark.parametrize(("outlet", "breaker"), [("20", "15"), ("15", "20")])
def test_how_many_outlets_there_are_is_asked_before_one_is_said_to_belong(outlet: str, breaker: str) -> None:
    """15 A on 20 A belongs there among several and not alone; of 20 A on 15 A it is the other way round."""
    inputs = {"breaker": breaker, "receptacle_rating": outlet, "nominal_voltage": "120", "dedicated": "yes"}
    found = check(QUICK.run({"rules": "us", "inputs": inputs}), "receptacle")
    assert (found["outcome"], found["needs"]) == ("unknown", ["outlets"])
    del inputs["dedicated"]
    found = check(QUICK.run({"rules": "us", "inputs": {**inputs, "outlets": 1}}), "receptacle")
    assert (found["outcome"], found["needs"]) == ("unknown", ["dedicated"])
    told = [check(run(outlet, breaker, count, 1), "receptacle")["outcome"] for count in (1, 2)]
    assert sorted(told) == ["pass", "stop"]


# What tells somebody to give power again, and what in the same words forbids it or says who may.
AGAIN = re.compile(r"(switch|turn|put) (it|them|the \w+) (back )?on|(switch|turn) on|\breset (it|them|the)\b|try (it )?again|press RESET", re.IGNORECASE)
HELD = re.compile(r"\bnot?\b|never|leave it|nobody|electrician|technician|\{\{rule circuit\.reset\}\}|\| ", re.IGNORECASE)
TRIPPED = re.compile(r"(breaker|GFCI|fuse|it) (has )?(trips|tripped|went off|goes off)|tripped by itself|trips (again|by itself)", re.IGNORECASE)


def _switching(text: str) -> list[str]:
    """The lines that tell to switch on what tripped, and neither forbid it nor name who may in that sentence."""
    parts = text.splitlines()
    return [part.strip() for part in parts if TRIPPED.search(part) and any(
        AGAIN.search(each) and not HELD.search(each) for each in re.split(r"(?<=[.!?])\s", part))]


@pytest.mark.parametrize(("text", "caught"), [
    ("The breaker tripped. **Fix:** switch the breaker on again, one time only.", True), ("It trips. Reset it once.", True),
    ("If the GFCI tripped, press RESET and try again.", True), ("The fuse went off by itself; turn it back on.", True),
    ("It tripped by itself, so never switch it on.", False), ("It tripped. It {{rule circuit.reset}}.", False),
    ("The breaker tripped: an electrician turns it on.", False), ("Switch it on and listen.", False), ("Trip hazards: reset the mat.", False),
])  # fmt: skip
def test_an_order_to_switch_on_is_seen_in_many_words(text: str, caught: bool) -> None:
    assert bool(_switching(text)) == caught


def test_nobody_is_told_to_switch_on_what_tripped_by_itself() -> None:
    """29 CFR 1910.334(b)(2): not before it is known to be safe; every page that speaks of a trip says so or stops."""
    pages = {path: path.read_text(encoding="utf-8") for path in sorted(DOCS.rglob("*.md"))}
    told = [path.name for path, text in pages.items()
            if re.search(r"reset (it|them|the \w+)[^.]{0,30} once|once[^.]{0,20} reset it", text, re.IGNORECASE)]  # fmt: skip
    assert told == []
    assert [(path.name, part) for path, text in pages.items() for part in _switching(text)] == []
    for name in ("connect.md", "find-a-fault.md"):
        assert "{{rule circuit.reset}}" in pages[DOCS / "procedures" / name]
    assert US["circuit.reset"].clause == "1910.334(b)(2)"
