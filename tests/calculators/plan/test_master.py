"""The prices of lanes and coils against a general solver of linear programs."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest
from scipy import sparse
from scipy.optimize import linprog

from calculators.core.progress import finish
from calculators.plan.master import Master
from calculators.plan.model import Choice
from calculators.plan.quick import EMPTY
from calculators.plan.relax import Root
from calculators.plan.space import Space
from tests.calculators.plan.reference import draw


def every_choice(space: Space) -> list[tuple[int, Choice]]:
    """All sets of lanes of all products, none left out."""
    return [(number, space.choice(number, tuple(sorted(places))))
            for number, product in enumerate(space.problem.products)
            for lanes in range(1, product.most + 1)
            for places in itertools.combinations_with_replacement(space.products[number], lanes)]  # fmt: skip


def shared_out(space: Space) -> float:
    """The most that products can be worth that share themselves out among all their choices."""
    columns = every_choice(space)
    limits, products = len(space.limits), len(space.problem.products)
    parts = [(r, at, count) for at, (_, choice) in enumerate(columns) for r, count in choice.uses]
    parts += [(limits + number, at, 1) for at, (number, _) in enumerate(columns)]
    rows, at, counts = zip(*parts, strict=True)
    matrix = sparse.coo_matrix((counts, (rows, at)), shape=(limits + products, len(columns)))
    result = linprog([-choice.worth for _, choice in columns], A_ub=matrix.tocsr(),
                     b_ub=np.array([*space.limits, *[1] * products]))  # fmt: skip
    assert result.status == 0
    return -float(result.fun)


@pytest.mark.parametrize("seed", range(12))
def test_the_bound_is_that_of_the_linear_program(seed: int) -> None:
    """Choices made when asked for lead to the same end as all of them at once; clashes priced too."""
    space = Space(draw(3000 + seed, foes=(5, 15)[seed % 2]))
    master = Master(space, Root(space), [EMPTY] * len(space.problem.products))
    bounds = []
    done = False
    while not done:
        bound, done = master.round()
        bounds.append(bound)
    most = shared_out(space)
    assert bounds[-1] == pytest.approx(most, rel=1e-9)
    # Prices on the way there give bounds as well: none of them lies below.
    assert min(bounds) >= most * (1 - 1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_a_dive_ends_with_a_plan_within_the_limits(seed: int) -> None:
    """One choice a product, no limit passed, and worth no more than the bound."""
    space = Space(draw(3000 + seed, foes=(5, 15)[seed % 2]))
    master = Master(space, Root(space), [EMPTY] * len(space.problem.products))
    while not (now := master.round())[1]:
        pass
    chosen = finish(master.dive())
    assert chosen is not None
    used = np.zeros(len(space.limits))
    for choice in chosen:
        for r, count in choice.uses:
            used[r] += count
    assert (used <= np.array(space.limits)).all()
    assert sum(choice.worth for choice in chosen) <= now[0] + 1
    assert sum(choice.worth for choice in chosen) >= 0.9 * now[0]


@pytest.mark.parametrize("seed", range(25))
def test_every_choice_that_is_worth_its_lanes_is_found(seed: int) -> None:
    """Against every set of lanes in turn: none that is too dear, and none left out."""
    rng, space = random.Random(f"choices {seed}"), Space(draw(3000 + seed, foes=5))
    costs = [rng.uniform(0, 4e6) for _ in space.pairs]
    for number, (product, room) in enumerate(zip(space.problem.products, space.products, strict=True)):
        least = rng.uniform(-2e6, 6e6)
        every = [places for lanes in range(product.most + 1) for places in itertools.combinations_with_replacement(sorted(room), lanes)]
        worth = {places: space.choice(number, places) for places in every}
        wanted = {places for places, choice in worth.items()
                  if choice.worth - math.fsum(costs[pair] for pair in places) >= least and space.fits(choice)}  # fmt: skip
        found = space.choices(number, costs, least)
        assert {choice.places for choice in found} == wanted
        assert len(found) == len(wanted)
