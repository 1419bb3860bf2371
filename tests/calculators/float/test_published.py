"""Against figures printed elsewhere: payments, failing sets of coins, ruin, tubes and rolls."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import calculators
from calculators.core import rules
from calculators.float import payout
from calculators.float.chain import at_once, closure
from tests.support import replay

FOLDER = Path(__file__).parents[2] / "cases" / "float"


def cases(name: str, table: str) -> list[Any]:
    rows = tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))[table]
    return [pytest.param(row, id=row.get("id") or str(row.get("coin") or row["coins"])) for row in rows]


def close(value: float, printed: str) -> bool:
    """Within half of the last printed digit."""
    digits = len(printed.split(".")[1]) if "." in printed else 0
    return abs(value - float(printed)) <= 0.5 * 10.0**-digits + 1e-9


@pytest.mark.parametrize("case", cases("change", "average"))
def test_average_coins_in_a_payment(case: dict[str, Any]) -> None:
    """The mean number of coins over all amounts, fewest and largest first."""
    few, greedy = replay.averages(case["coins"], case["step"], case["most"])
    assert close(few, case["fewest"])
    assert close(greedy, case["greedy"])


@pytest.mark.parametrize("case", cases("change", "payment"))
def test_a_single_payment(case: dict[str, Any]) -> None:
    """41 cents, in two sets of coins."""
    assert payout.fewest(case["coins"], case["amount"]) == tuple(case["fewest"])
    if "greedy" in case:
        assert payout.plenty(case["coins"], payout.largest_first, case["amount"]) == tuple(case["greedy"])


def _wasteful(coins: list[int], most: int) -> int | None:
    """The smallest amount for which largest-first takes more coins than needed."""
    table = payout.fewest_table(coins, most)
    for amount in range(1, most + 1):
        greedy = payout.plenty(coins, payout.largest_first, amount)
        if sum(greedy or ()) > sum(payout.unpicked(coins, table, amount) or ()):
            return amount
    return None


@pytest.mark.parametrize("case", cases("change", "failing"))
def test_sets_of_coins_where_largest_first_wastes(case: dict[str, Any]) -> None:
    """The smallest failing amount, and how many coins each way takes."""
    coins, amount = case["coins"], case["amount"]
    assert _wasteful(coins, 2 * coins[0]) == amount
    assert sum(payout.plenty(coins, payout.largest_first, amount) or ()) == case["greedy"]
    assert sum(payout.fewest(coins, amount) or ()) == case["best"]


@pytest.mark.parametrize("case", cases("change", "canonical"))
def test_sets_of_coins_where_it_never_does(case: dict[str, Any]) -> None:
    """No amount below the bound of Kozen and Zaks fails."""
    assert _wasteful(case["coins"], case["coins"][0] + case["coins"][1]) is None


@pytest.mark.parametrize("case", cases("change", "limit"))
def test_the_theorem_needs_plenty_of_every_coin(case: dict[str, Any]) -> None:
    """With a tube empty, largest-first strands a rest that another mix would pay."""
    coins, counts, amount = case["coins"], case["counts"], case["amount"]
    assert payout.largest_first(coins, counts, amount) is None
    assert payout.any_mix(coins, counts, amount) == tuple(case["any"])


@pytest.mark.parametrize("case", cases("ruin", "walk"))
def test_gamblers_ruin(case: dict[str, Any]) -> None:
    """Ruin from the walk whose top is kept, duration from the walk that ends at both ends."""
    win, start, top = case["win"], case["start"], case["top"]
    steps = 30 * top + (2 * top * top if win == 0.5 else 3 * top)
    ruined, lasting, left = replay.ruin(win, start, top, steps)
    assert close(ruined, case["ruin"])
    assert left < 1e-4
    assert close(lasting, case["duration"])


@pytest.mark.parametrize("case", cases("ruin", "visits"))
def test_the_fair_walk_s_fundamental_matrix(case: dict[str, Any]) -> None:
    """The chain's own moves give N = (I − Q)⁻¹ as printed."""
    top = case["top"]
    table = at_once(closure(replay.walk(case["win"], top, True), range(1, top), 10))
    assert table is not None
    moves = np.array([[dict(table[one]).get(other, 0.0) for other in range(1, top)]
                      for one in range(1, top)])  # fmt: skip
    assert np.allclose(np.linalg.inv(np.eye(top - 1) - moves), case["N"], atol=1e-12)


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("case", cases("coins", "tube"))
def test_new_coins_in_a_straight_tube(case: dict[str, Any], units: str) -> None:
    """Floor of height over thickness, in both unit systems; then one in twenty is left out."""
    tube = {"coin": case["coin"], "height": f"{case['height_mm']} mm"}
    result = calculators.run("float", {"units": units, "inputs": {"tubes": [tube]}})
    steps = {step["symbol"]: step["value"] for step in result["working"][0]["steps"]}
    assert steps["n"] == case["coins"]
    assert steps["C"] == case["coins"] - math.ceil(case["coins"] / 20)


def _coin(name: str) -> dict[str, Any]:
    figures = rules.load("us")
    coin = next(row for row in figures["coins.table"].value if row["name"] == name)
    roll = next(row["count"] for row in figures["coins.rolls"].value if row["name"] == name)
    return {**coin, "roll": roll}


@pytest.mark.parametrize("case", cases("coins", "roll"))
def test_rolls(case: dict[str, Any]) -> None:
    """Worth and weight of a roll."""
    coin = _coin(case["coin"])
    assert f"{coin['roll'] * coin['value'] / 100:.2f}" == case["value"]
    assert close(coin["roll"] * coin["mass_g"], case["grams"])


@pytest.mark.parametrize("case", cases("coins", "worth"))
def test_clad_coins_are_worth_the_same_by_weight(case: dict[str, Any]) -> None:
    """Dollars in a kilogram and in a pound, for each of them."""
    for name in case["coins"]:
        coin = _coin(name)
        by_kg = coin["value"] / 100 / (coin["mass_g"] / 1000)
        assert close(by_kg, case["dollars_per_kg"])
        assert close(by_kg * 0.45359237, case["dollars_per_lb"])
