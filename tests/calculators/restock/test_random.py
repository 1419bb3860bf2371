"""A thousand random selections against SciPy's distributions, and against a model of its own written down here."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
from scipy import stats

import calculators
from calculators.restock import maths

CASES = 1000
# Both sides add up thousands of doubles.
CLOSE = 1e-9


def draws(name: str) -> list[random.Random]:
    return [random.Random(f"{name} {seed}") for seed in range(CASES)]


def mean_of(rng: random.Random) -> float:
    return 10 ** rng.uniform(-2, 3.5)


def test_chances_are_those_of_scipy() -> None:
    """At most so many, exactly so many, and how many go short, near the mean and far from it."""
    for rng in draws("chances"):
        mean = mean_of(rng)
        count = max(0, round(mean + rng.uniform(-5, 8) * math.sqrt(mean)))
        law = stats.poisson(mean)
        assert maths.chance(mean, count) == pytest.approx(law.cdf(count), abs=CLOSE)
        assert maths.point(mean, count) == pytest.approx(law.pmf(count), abs=CLOSE)
        wanted = mean * law.sf(count - 1) - count * law.sf(count)  # E[(D − S)+] by another identity
        assert maths.short(mean, count) == pytest.approx(wanted, abs=CLOSE * max(1.0, mean))
        assert maths.sold(mean, count) + maths.left(mean, count) == pytest.approx(count, abs=CLOSE * max(1.0, mean))


def test_stocks_are_those_of_scipy() -> None:
    """The least that lasts, the most that sells, and how long a stock lasts (a gamma distribution's quantile)."""
    for rng in draws("stocks"):
        mean, wanted = mean_of(rng), rng.uniform(0.5, 0.999)
        law = stats.poisson(mean)
        assert maths.enough(mean, wanted) == law.ppf(wanted)
        most = maths.surely(mean, wanted, 100_000)
        assert law.sf(most - 1) >= wanted > law.sf(most)
        stock = rng.randrange(1, 400)
        assert maths.lasting(stock, wanted) == pytest.approx(stats.gamma.ppf(1 - wanted, stock + 1), rel=1e-9)


def test_what_pays_best_is_the_fractile_and_no_neighbor_pays_more() -> None:
    for rng in draws("pays"):
        mean, price = 10 ** rng.uniform(-1, 2.3), rng.randrange(50, 900)
        cost = rng.randrange(1, price)
        best = maths.best(mean, price, cost)
        assert best == stats.poisson.ppf((price - cost) / price, mean)
        earned = [_earned(mean, best + step, price, cost) for step in (-1, 0, 1)]
        assert earned[1] >= max(earned) - 1e-6
        assert maths.earned(mean, best, price, cost, goes_out=True) == pytest.approx(earned[1], abs=1e-6)


def _earned(mean: float, stock: int, price: int, cost: int) -> float:
    """What is sold brings its price, all of it was paid for: added up demand by demand."""
    if stock < 0:
        return -math.inf
    law = stats.poisson(mean)
    sold = sum(law.pmf(count) * min(count, stock) for count in range(stock)) + stock * law.sf(stock - 1)
    return float(price * sold - cost * stock)


def test_a_selection_is_what_another_model_makes_of_it() -> None:
    """Days, par, filling, bringing, cases, lost and thrown out, by SciPy and the rules written down once more."""
    for rng in draws("selection"):
        row, inputs = _drawn(rng)
        result = calculators.run("restock", {"units": "si", "inputs": inputs})
        stated = {each["key"]: each["inner"] for each in result["values"]}
        wanted = _modelled(row, inputs)
        for key, value in wanted.items():
            assert stated[key] == pytest.approx(value, rel=1e-6, abs=1e-6), (key, inputs)


def _drawn(rng: random.Random) -> tuple[dict[str, Any], dict[str, Any]]:
    capacity, price = rng.randrange(4, 60), rng.randrange(100, 600)
    row: dict[str, Any] = {
        "weekly_sales": rng.uniform(0.5, 120), "capacity": capacity, "on_hand": rng.randrange(0, capacity + 1),
        "life_left": rng.choice([0, 2, 5, 9, 60]), "perishable": rng.choice(["yes", "no"]), "shelf_days": rng.choice([2, 5, 9, 60, 365]),
        "price": f"{price / 100:.2f}", "cost": f"{rng.randrange(20, price) / 100:.2f}", "case_pieces": rng.choice([6, 12, 24]), "mass": 300,
    }  # fmt: skip
    row["life_left"] = min(row["life_left"], row["shelf_days"])
    inputs = {"days": round(rng.uniform(0, 9), 2), "cover": round(rng.uniform(0.5, 9), 2), "service": rng.choice([80, 95, 99]),
              "fill": rng.choice(["full", "par"]), "selections": [row]}  # fmt: skip
    return row, inputs


def _modelled(row: dict[str, Any], inputs: dict[str, Any]) -> dict[str, float]:
    daily, days, cover = row["weekly_sales"] / 7, inputs["days"], inputs["cover"]
    goes, price, cost = row["perishable"] == "yes", float(row["price"]), float(row["cost"])
    service = inputs["service"] / 100
    wanted = min(0.999, (price - cost) / price) if goes else service
    ahead = stats.poisson(daily * days)
    lasts = stats.gamma.ppf(1 - wanted, row["on_hand"] + 1) / daily if row["on_hand"] else 0.0
    par = stats.poisson(daily * cover).ppf(wanted)
    fill = min(row["capacity"], par)
    if not goes and inputs["fill"] == "full":
        keeps = stats.poisson(daily * row["shelf_days"])
        sells = max((each for each in range(row["capacity"] + 1) if keeps.sf(each - 1) >= service), default=0)
        fill = min(row["capacity"], max(par, sells))
    if row["shelf_days"] < cover:
        fill = 0
    out = goes or row["life_left"] < days + cover
    there = 0 if out else max(row["on_hand"] - ahead.ppf(wanted), 0)
    bring = max(fill - there, 0)
    until = stats.poisson(daily * min(days, row["life_left"]))
    thrown = sum(until.pmf(each) * (row["on_hand"] - each) for each in range(row["on_hand"])) if out else 0.0
    lost = daily * days - sum(ahead.sf(each) for each in range(row["on_hand"]))
    ends = [lasts, *([row["life_left"]] if row["on_hand"] else [])]
    return {"next_visit": min(999.0, *ends), "pieces": bring, "cases": math.ceil(bring / row["case_pieces"]), "lost": lost,
            "out": thrown, "lost_money": lost * price * 100, "out_money": thrown * cost * 100,
            "mass": math.ceil(bring / row["case_pieces"]) * row["case_pieces"] * 0.3}  # fmt: skip
