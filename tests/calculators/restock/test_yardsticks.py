"""The libraries by which the calculator is judged give the printed answers of worked examples themselves."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from scipy import stats
from stockpyl import eoq, loss_functions, newsvendor, rq

from calculators.core.rules import STATUSES
from calculators.restock import maths
from tests.support.digits import agrees

CASES = tomllib.loads((Path(__file__).parents[2] / "cases" / "restock" / "yardsticks.toml").read_text(encoding="utf-8"))


def cases(table: str) -> Any:
    return pytest.mark.parametrize("case", [pytest.param(case, id=case["id"]) for case in CASES[table]])


@cases("loss")
def test_a_normal_loss(case: dict[str, Any]) -> None:
    """By the library and by L(z) = φ(z) − z(1 − Φ(z)); how far above the mean, the standard loss, and the expected shortfall."""
    z = (case["stock"] - case["mean"]) / case["deviation"]
    assert agrees(z, case["z"])
    for standard in (loss_functions.standard_normal_loss(z)[0], stats.norm.pdf(z) - z * stats.norm.sf(z)):
        assert agrees(float(standard), case["standard"])
        assert agrees(case["deviation"] * float(standard), case["short"])
    assert agrees(float(loss_functions.normal_loss(case["stock"], case["mean"], case["deviation"])[0]), case["short"])


@cases("normal")
def test_a_newsvendor_of_normal_demand(case: dict[str, Any]) -> None:
    """By the library, and by the share Cu/(Cu + Co) of SciPy's normal distribution."""
    stock, cost = newsvendor.newsvendor_normal(case["holding"], case["shortage"], case["mean"], case["deviation"])
    assert agrees(float(stock), case["stock"])
    assert agrees(float(cost), case["cost"])
    share = maths.share(case["shortage"] + case["holding"], case["holding"])
    assert agrees(float(stats.norm.ppf(share, case["mean"], case["deviation"])), case["stock"])


@cases("order")
def test_an_economic_order_quantity(case: dict[str, Any]) -> None:
    """√(2KD/h), and what it costs a year."""
    quantity, cost = eoq.economic_order_quantity(case["fixed"], case["holding"], case["demand"])
    assert agrees(float(quantity), case["quantity"])
    assert agrees(float(cost), case["cost"])
    assert quantity == pytest.approx(math.sqrt(2 * case["fixed"] * case["demand"] / case["holding"]))


@cases("reorder")
def test_a_reorder_point(case: dict[str, Any]) -> None:
    """Quantity and point settle each other; the lead time is what makes the year's demand that of the lead time."""
    lead = case["lead_mean"] / case["demand"]
    yearly = case["lead_deviation"] / math.sqrt(lead)
    point, quantity, _ = rq.r_q_eil_approximation(case["holding"], case["shortage"], case["fixed"], case["demand"], yearly, lead)
    assert agrees(float(quantity), case["quantity"])
    assert agrees(float(point), case["point"])


@cases("places")
def test_the_square_root_law(case: dict[str, Any]) -> None:
    """What several places hold beyond their mean, by the library: the same demand shared by fewer or by more of them."""

    def beyond(places: int) -> float:
        mean = 9000 / places
        return places * (float(newsvendor.newsvendor_normal(1, 9, mean, math.sqrt(mean))[0]) - mean)

    assert agrees(case["held"] * beyond(case["after"]) / beyond(case["before"]), case["printed"])


@cases("binomial")
def test_a_binomial_table(case: dict[str, Any]) -> None:
    for count, printed in enumerate(case["at_most"]):
        assert agrees(float(stats.binom.cdf(count, case["tries"], case["chance"])), printed), count


def test_many_tries_of_a_small_chance_are_our_buyers() -> None:
    """The tables' law with a million tries is the calculator's own, to what the difference can be (Le Cam: n·p²)."""
    for mean in (0.5, 2.0, 10.0):
        law = stats.binom(1_000_000, mean / 1_000_000)
        for count in range(25):
            assert maths.chance(mean, count) == pytest.approx(law.cdf(count), abs=mean**2 / 1_000_000)


def test_every_case_says_whence_it_is() -> None:
    listed = [case for table in CASES.values() for case in table]
    assert all(case["citation"] and case["status"] in STATUSES for case in listed)
