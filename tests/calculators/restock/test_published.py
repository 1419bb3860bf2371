"""Printed tables and worked examples of stock, to half of the last printed digit."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.restock import maths
from tests.support.digits import agrees

CASES = tomllib.loads((Path(__file__).parents[2] / "cases" / "restock" / "stock.toml").read_text(encoding="utf-8"))


def cases(table: str) -> list[Any]:
    return [pytest.param(case, id=case["id"]) for case in CASES[table]]


@pytest.mark.parametrize("case", cases("table"))
def test_a_printed_table_comes_out(case: dict[str, Any]) -> None:
    for count, printed in enumerate(case["at_most"]):
        assert agrees(maths.chance(case["mean"], count), printed), count
    for count, printed in enumerate(case.get("exactly", ())):
        assert agrees(maths.point(case["mean"], count), printed), count
    for count, printed in enumerate(case.get("short", ())):
        assert agrees(maths.short(case["mean"], count), printed), count


@pytest.mark.parametrize("case", cases("place"))
def test_a_place_in_a_printed_table_comes_out(case: dict[str, Any]) -> None:
    for count, printed in case["at_most"].items():
        assert agrees(maths.chance(case["mean"], int(count)), printed), count


@pytest.mark.parametrize("case", cases("par"))
def test_the_least_stock_that_lasts(case: dict[str, Any]) -> None:
    """By the mathematics alone, and as the form gives it for goods that keep."""
    for mean, par in case["par"].items():
        assert maths.enough(float(mean), case["wanted"] / 100) == par
        row = {"weekly_sales": mean, "capacity": 40, "perishable": "no", "shelf_days": 365}
        assert column({"days": 0, "cover": 7, "service": case["wanted"], "selections": [row]}, "par") == [str(par)]


@pytest.mark.parametrize("case", cases("newsvendor"))
def test_how_many_pay_best(case: dict[str, Any]) -> None:
    """A piece too many costs the holding cost, one too few the shortage cost: price is both, cost the first."""
    mean, holding, shortage = case["mean"], case["holding"], case["shortage"]
    best = maths.best(mean, holding + shortage, holding)
    assert best == case["best"]
    assert agrees(holding * maths.left(mean, best) + shortage * maths.short(mean, best), case["cost"])
    row = {"weekly_sales": mean, "capacity": 80, "perishable": "yes", "shelf_days": 9, "price": f"{holding + shortage:.2f}",
           "cost": f"{holding:.2f}"}  # fmt: skip
    assert column({"days": 0, "cover": 7, "selections": [row]}, "fill") == [str(case["best"])]


@pytest.mark.parametrize("case", cases("order_up_to"))
def test_an_order_up_to_level(case: dict[str, Any]) -> None:
    """What is on hand covers the days ahead and those between: chance of running short, and share served."""
    mean = case["daily"] * case["days"]
    for stock, printed in case["stockout"].items():
        assert agrees(1 - maths.chance(mean, int(stock)), printed)
        row = {"weekly_sales": case["daily"] * 7, "capacity": 20, "on_hand": int(stock), "perishable": "no", "shelf_days": 365}
        shown = column({"days": case["days"], "cover": 4, "cleared": "yes", "selections": [row]}, "chance")
        assert shown == ["15.3%"]  # rounded up: it is the unsafe side
    for stock, printed in case["fill_rate"].items():
        assert agrees(1 - maths.short(mean, int(stock)) / case["daily"], printed)


def column(inputs: dict[str, Any], key: str) -> list[str]:
    """A column of the table of selections."""
    result = calculators.run("restock", {"inputs": inputs})
    table = next(each for each in result["tables"] if each["key"] == "selections")
    return [row[table["keys"].index(key)] for row in table["rows"]]
