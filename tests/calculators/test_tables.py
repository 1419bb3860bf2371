"""The tables of the codes, typed in a second time, against the rule sets: number, unit, clause, status."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.core import rules, units
from calculators.core.rules import STATUSES

CASES: dict[str, Any] = tomllib.loads((Path(__file__).parents[1] / "cases" / "tables.toml").read_text(encoding="utf-8"))
ROWS = [pytest.param(*row, id=f"{row[0]} {row[1]}") for table in CASES["table"] for row in table["rows"]]


@pytest.mark.parametrize(("name", "key", "printed", "unit", "clause", "status"), ROWS)
def test_a_row_is_held_as_printed(name: str, key: str, printed: str, unit: str, clause: str, status: str) -> None:
    """Within half of the last printed digit, in the printed unit, with its clause and how far it was seen."""
    rule = rules.load(name)[key]
    half = 0.5 * 10.0 ** -len(printed.partition(".")[2])
    step = abs(units.to_inner(1.0, unit, rule.kind) - units.to_inner(0.0, unit, rule.kind))
    assert rule.inner == pytest.approx(units.to_inner(float(printed), unit, rule.kind), abs=half * step)
    assert clause in rule.clause
    assert (rule.status, status in STATUSES) == (status, True)


@pytest.mark.parametrize("case", CASES["list"], ids=lambda case: " ".join(case["key"]))
def test_a_list_is_held_row_by_row(case: dict[str, Any]) -> None:
    """Every row, none more."""
    name, key = case["key"]
    rule = rules.load(name)[key]
    assert rule.value == case["rows"]
    assert case["clause"] in rule.clause


@pytest.mark.parametrize(("name", "key", "words", "clause", "status"), CASES["words"]["rows"])
def test_a_rule_in_words_holds_its_number(name: str, key: str, words: str, clause: str, status: str) -> None:
    """The number or the word that decides stands in it, with its clause and how far it was seen."""
    rule = rules.load(name)[key]
    assert words in str(rule.value)
    assert clause in rule.clause
    assert rule.status == status


def test_no_row_stands_twice_and_what_is_left_out_says_why() -> None:
    """Each figure once; a clause that no figure holds has its reason."""
    keys = [(row[0], row[1]) for table in CASES["table"] for row in table["rows"]]
    assert len(keys) == len(set(keys)) > 90
    assert all(case["clause"] and case["why"].endswith(".") for case in CASES["left_out"])
