"""Expected sales against the library’s Poisson, and seating against every arrangement."""

from __future__ import annotations

import itertools
import random
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from calculators.plan.demand import gains, sold, sold_out
from calculators.plan.model import Group, Problem, Product
from calculators.plan.outcome import Plan
from calculators.plan.seating import Seating
from tests.calculators.plan.reference import expected

CASES = tomllib.loads((Path(__file__).parents[2] / "cases" / "plan" / "sales.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES["case"], ids=lambda case: case["id"])
def test_expected_sales_of_worked_cases(case: dict[str, Any]) -> None:
    """Half of the last printed digit."""
    found = sold(case["inputs"]["mean"], case["inputs"]["pieces"])[-1]
    assert found == pytest.approx(case["expected"]["sales"], abs=0.5 * 10 ** -case["digits"])


@given(st.floats(0, 3000), st.integers(0, 240))
@settings(max_examples=200, deadline=None)
def test_expected_sales_agree_with_the_library(mean: float, most: int) -> None:
    """E[min(D, c)] from the tail of scipy’s Poisson, to 1e-9 of a piece for each piece."""
    assert sold(mean, most) == pytest.approx(list(expected(mean, most)), abs=1e-9 * (most + 1))


@given(st.floats(0, 700), st.integers(0, 120))
@settings(max_examples=200, deadline=None)
def test_the_chance_of_selling_out_agrees_with_the_library(mean: float, pieces: int) -> None:
    """As many or more wanted than there are."""
    assert sold_out(mean, pieces) == pytest.approx(100 * stats.poisson.sf(pieces - 1, mean), abs=1e-7)


@given(st.floats(0, 500))
def test_each_further_piece_sells_no_more_than_the_one_before(mean: float) -> None:
    """Expected sales rise ever more slowly; a millionth is the rounding to whole ones."""
    steps = np.diff(gains(mean, 60))
    assert all(steps >= 0)
    assert all(np.diff(steps) <= 1)


# -- seating -------------------------------------------------------------------------------------


@given(st.data())
@settings(max_examples=250, deadline=None)
def test_seating_agrees_with_trying_every_arrangement(data: st.DataObject) -> None:
    """One tray or two like ones, up to six lanes in all, four products, pairs and pins at will."""
    trays = data.draw(st.integers(1, 2))
    lanes = data.draw(st.integers(1, 6 // trays))
    pairs = list(itertools.combinations(range(4), 2))
    apart = frozenset(data.draw(st.sets(st.sampled_from(pairs), max_size=3)))
    beside = frozenset(data.draw(st.sets(st.sampled_from(pairs), max_size=3)))
    pin = data.draw(st.none() | st.tuples(st.integers(0, 3), st.integers(0, lanes - 1))) if trays == 1 else None
    counts = {p: data.draw(st.integers(0, 3)) for p in range(4)}
    problem = Problem(
        tuple(Product((0, 1), 3, pins=((0, pin[1]),) if pin and pin[0] == p else ()) for p in range(4)),
        (lanes,) * trays, (9,), (((5,),) * trays,) * 4, apart, beside)  # fmt: skip
    found = Seating(problem, Group(tuple(range(trays)), lanes))
    wanted = any_arrangement(problem, counts, lanes, trays)
    assert found.possible(counts) == wanted
    seats = found.seats(counts)
    assert (seats is not None) == wanted
    if seats is not None:
        assert {p: list(seats.values()).count(p) for p in range(4)} == counts


def test_a_full_tray_of_products_that_must_not_lie_beside_each_other_is_told_rightly() -> None:
    """One tray without a lane to spare, five products and many pairs: what was refused after one product may go after another."""
    rng = random.Random("beside")
    pairs = list(itertools.combinations(range(5), 2))
    told = []
    for _ in range(400):
        counts = {p: rng.randint(0, 2) for p in range(5)}
        lanes = sum(counts.values())
        problem = Problem(tuple(Product((0, 1), 3) for _ in range(5)), (lanes,), (9,), (((5,),),) * 5,
                          beside=frozenset(rng.sample(pairs, rng.randint(3, 6))))  # fmt: skip
        told.append(Seating(problem, Group((0,), lanes)).seats(counts) is not None)
        assert told[-1] == in_a_row(problem, counts, ())
    assert 50 < sum(told) < 350


def in_a_row(problem: Problem, counts: dict[int, int], row: tuple[int, ...]) -> bool:
    """Whether the products go on from these lanes so that each may lie beside the next."""
    if len(row) == problem.lanes[0]:
        return True
    return any(in_a_row(problem, {**counts, p: count - 1}, (*row, p)) for p, count in counts.items()
               if count and not {(*row[-1:], p), (p, *row[-1:])} & problem.beside)  # fmt: skip


def any_arrangement(problem: Problem, counts: dict[int, int], lanes: int, trays: int) -> bool:
    goods = [p for p, count in counts.items() for _ in range(count)]
    if len(goods) > lanes * trays:
        return False
    goods += [-1] * (lanes * trays - len(goods))
    return any(fair(problem, order, lanes) for order in set(itertools.permutations(goods)))


def fair(problem: Problem, order: tuple[int, ...], lanes: int) -> bool:
    rows = [order[at : at + lanes] for at in range(0, len(order), lanes)]
    for row in rows:
        if any(p in row and q in row for p, q in problem.apart):
            return False
        near = set(itertools.pairwise(row))
        if any((p, q) in near or (q, p) in near for p, q in problem.beside):
            return False
    return all(rows[t][i] == p for p, product in enumerate(problem.products) for t, i in product.pins if p in order)


def test_a_bound_that_is_not_proven_is_told_in_tenths_rounded_up() -> None:
    """A proven plan's bound is its own worth; where wishes are still open there is none."""
    plan = Plan(lanes=(), worth=1_000_001, bound=1_200_001, proven=False, missed=0, nodes=1, coil_prices=())
    assert plan.sales_bound == 1.3
    assert replace(plan, bound=1_200_000).sales_bound == 1.2
    assert replace(plan, proven=True).sales_bound == 1.000001
    assert replace(plan, bound=None).sales_bound is None
