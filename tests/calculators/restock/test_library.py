"""A thousand random selections against an inventory library of others (stockpyl, MIT), function by function."""

from __future__ import annotations

import random

import pytest
from stockpyl import loss_functions, newsvendor

from calculators.restock import maths

CASES = 1000
# Both sides add up many doubles, the library's from the small end.
CLOSE = 1e-7


def drawn() -> list[tuple[float, int, int, int]]:
    """Mean, stock, price and cost of each: from slow lanes to busy ones, stock far below the mean and far above it."""
    rng = random.Random("an inventory library")
    found = []
    for _ in range(CASES):
        mean, price = 10 ** rng.uniform(-1.5, 2.4), rng.randrange(50, 900)
        found.append((mean, max(0, round(mean + rng.uniform(-4, 6) * mean**0.5)), price, rng.randrange(1, price)))
    return found


def test_who_goes_short_and_what_is_left_are_the_library_s() -> None:
    for mean, stock, _, _ in drawn():
        short, left = loss_functions.poisson_loss(stock, mean)
        assert (maths.short(mean, stock), maths.left(mean, stock)) == pytest.approx((float(short), float(left)), abs=CLOSE), (mean, stock)


def test_what_pays_best_is_the_library_s_and_costs_as_much() -> None:
    """A piece too many costs what it cost, a piece too few what it would have earned."""
    for mean, stock, price, cost in drawn():
        best, least = newsvendor.newsvendor_poisson(cost, price - cost, mean)
        assert maths.best(mean, price, cost) == best, (mean, price, cost)
        ours = cost * maths.left(mean, int(best)) + (price - cost) * maths.short(mean, int(best))
        assert ours == pytest.approx(float(least), abs=CLOSE * price)
        other = newsvendor.newsvendor_poisson_cost(stock, cost, price - cost, mean)
        ours = cost * maths.left(mean, stock) + (price - cost) * maths.short(mean, stock)
        assert ours == pytest.approx(float(other), abs=CLOSE * price)


def test_what_is_earned_is_the_library_s() -> None:
    """What is left brings nothing and costs nothing more: its worth in the library is nought."""
    for mean, _, price, cost in drawn():
        best, profit = newsvendor.newsvendor_poisson_explicit(price, cost, 0, mean)
        assert maths.earned(mean, int(best), price, cost, goes_out=True) == pytest.approx(float(profit), abs=CLOSE * price)
