"""The cabinet plan written anew, lane by lane, for a general solver; and random problems for both."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable

import numpy as np
from scipy import sparse, stats
from scipy.optimize import Bounds, LinearConstraint, OptimizeResult, milp

from calculators.plan.model import Lane, Problem, Product

UNIT = 1e6


def expected(mean: float, most: int) -> np.ndarray:
    """E[min(D, c)] for c up to ``most``, from the library's own Poisson tail."""
    tail = stats.poisson.sf(np.arange(most), mean)
    return np.concatenate([[0.0], np.cumsum(tail)])


class Model:
    """Columns and rows of a mixed-integer program, gathered one by one."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.most: list[float] = []
        self.least: list[float] = []
        self.whole: list[int] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def column(self, most: float, *, cost: float = 0.0, whole: bool = True, least: float = 0.0) -> int:
        self.cost.append(cost)
        self.most.append(most)
        self.least.append(least)
        self.whole.append(int(whole))
        return len(self.cost) - 1

    def row(self, parts: Iterable[tuple[int, float]], low: float, high: float) -> None:
        row: dict[int, float] = {}
        for column, factor in parts:
            row[column] = row.get(column, 0.0) + factor
        self.rows.append((row, low, high))

    def solve(self) -> OptimizeResult:
        places = [(number, column, factor) for number, (row, _, _) in enumerate(self.rows)
                  for column, factor in row.items()]  # fmt: skip
        at, columns, factors = zip(*places, strict=True)
        matrix = sparse.coo_matrix((factors, (at, columns)), shape=(len(self.rows), len(self.cost)))
        limits = LinearConstraint(matrix.tocsr(), [low for _, low, _ in self.rows], [high for _, _, high in self.rows])
        return milp(np.array(self.cost), integrality=np.array(self.whole), constraints=limits,
                    bounds=Bounds(self.least, self.most), options={"mip_rel_gap": 0.0})  # fmt: skip


def model_of(problem: Problem) -> Model:
    """The problem as a mixed-integer program.

    Counts of lanes for product, tray and coil; one column for each further piece of a product, worth
    what it adds to the expected sales (these fall, so they fill in order); and for products that have
    foes or pins one column for each lane they may lie in.
    """
    made = Model()
    trays, kinds = range(len(problem.lanes)), range(len(problem.stock))
    lanes: dict[tuple[int, int, int], int] = {}
    for p, product in enumerate(problem.products):
        for t, k in itertools.product(trays, kinds):
            if problem.holds[p][t][k]:
                lanes[p, t, k] = made.column(min(product.most, problem.lanes[t], problem.stock[k]))
        mine = [(column, problem.holds[p][t][k]) for (q, t, k), column in lanes.items() if q == p]
        steps = np.diff(product.gains)
        pieces = [(made.column(1, cost=-float(step), whole=False), -1.0) for step in steps if step > 0]
        made.row([*mine, *pieces], 0, np.inf)
        made.row([(column, 1) for column, _ in mine], int(product.needed), product.most)
    for t in trays:
        made.row([(column, 1) for (_, u, _), column in lanes.items() if u == t], 0, problem.lanes[t])
    for k in kinds:
        made.row([(column, 1) for (_, _, j), column in lanes.items() if j == k], 0, problem.stock[k])
    _seats(problem, made, lanes)
    return made


def _seats(problem: Problem, made: Model, lanes: dict[tuple[int, int, int], int]) -> None:
    """Lane by lane, where it matters who lies beside whom."""
    marked = {p for pair in problem.apart | problem.beside for p in pair}
    marked |= {p for p, product in enumerate(problem.products) if product.pins}
    for t, count in enumerate(problem.lanes):
        seat = {(p, i): made.column(1, least=float((t, i) in problem.products[p].pins))
                for p in sorted(marked) for i in range(count)}  # fmt: skip
        there = {p: made.column(1) for p in sorted(marked)}
        for p in sorted(marked):
            counted = [(column, -1) for (q, u, _), column in lanes.items() if q == p and u == t]
            made.row([*[(seat[p, i], 1) for i in range(count)], *counted], 0, 0)
            made.row([*[(seat[p, i], 1) for i in range(count)], (there[p], -count)], -np.inf, 0)
        for i in range(count):
            made.row([(seat[p, i], 1) for p in sorted(marked)], 0, 1)
        for p, q in problem.apart:
            made.row([(there[p], 1), (there[q], 1)], 0, 1)
        for (p, q), i in itertools.product(problem.beside, range(count - 1)):
            made.row([(seat[p, i], 1), (seat[q, i + 1], 1)], 0, 1)
            made.row([(seat[q, i], 1), (seat[p, i + 1], 1)], 0, 1)


def best(problem: Problem) -> float | None:
    """The most that can be sold, in millionths of a sale; None where the wishes cannot all be kept."""
    result = model_of(problem).solve()
    if result.status == 2:
        return None
    assert result.status == 0, result.message
    return -float(result.fun)


# -- random problems ------------------------------------------------------------------------


def draw(seed: int, *, products: int = 20, trays: int = 3, lanes: int = 10, kinds: int = 8,
         most: int = 3, foes: int = 5, pins: int = 2) -> Problem:  # fmt: skip
    """A cabinet with wide and narrow trays, cold and warm ones, and coils of ``kinds`` counts.

    A product fits two or three neighboring counts, wide ones only wide trays, cold ones only cold
    trays, heavy ones only the lower half; coils are scarcer than lanes.
    """
    rng = random.Random(seed)
    counts = sorted(rng.sample(range(4, 17), kinds))
    wide = [rng.random() < 0.35 for _ in range(trays)]
    cold = [t < (trays + 1) // 2 for t in range(trays)]
    total = trays * lanes
    stock = [rng.randint(1, max(2, round(2.2 * total / kinds))) for _ in counts]
    made, holds = [], []
    for _ in range(products):
        top, span = rng.randrange(kinds), rng.randint(1, 3)
        kind = {"wide": rng.random() < 0.3, "cold": rng.random() < 0.3, "heavy": rng.random() < 0.25}
        fits = [all((wide[t] or not kind["wide"], cold[t] or not kind["cold"],
                     t >= trays // 2 or not kind["heavy"])) for t in range(trays)]  # fmt: skip
        holds.append(tuple(tuple(count if fits[t] and top - span < k <= top else 0
                                 for k, count in enumerate(counts)) for t in range(trays)))  # fmt: skip
        mean = rng.choice([2, 4, 6, 9, 14, 20, 30]) * rng.uniform(0.7, 1.4)
        gains = tuple(round(UNIT * float(x)) for x in expected(mean, most * max(counts)))
        made.append(Product(gains, most, needed=any(map(any, holds[-1])) and rng.random() < 0.15))
    problem = Problem(tuple(made), (lanes,) * trays, tuple(stock), tuple(holds))
    return _wishes(problem, rng, foes, pins)


def _wishes(problem: Problem, rng: random.Random, foes: int, pins: int) -> Problem:
    """Pairs kept apart among good sellers that share a tray, and lanes that are kept."""
    from dataclasses import replace

    number = range(len(problem.products))
    share = [(p, q) for p, q in itertools.combinations(number, 2)
             if any(any(problem.holds[p][t]) and any(problem.holds[q][t]) for t in range(len(problem.lanes)))]  # fmt: skip
    pairs = rng.sample(share, min(foes, len(share)))
    some = rng.randint(1, foes) if foes else 0
    products, taken = list(problem.products), set()
    for p in rng.sample(list(number), min(pins, len(products))):
        spots = [(t, i) for t in range(len(problem.lanes)) if any(problem.holds[p][t])
                 for i in range(problem.lanes[t]) if (t, i) not in taken]  # fmt: skip
        if spots:
            spot = rng.choice(spots)
            taken.add(spot)
            products[p] = replace(products[p], pins=(spot,))
    return replace(problem, products=tuple(products), apart=frozenset(pairs[:some]), beside=frozenset(pairs[some:]))


# -- a plan as a person would make it ---------------------------------------------------------


def by_hand(problem: Problem) -> int:
    """Worth of a greedy plan: kept lanes first, then the best seller first takes the largest coils."""
    plan = Hand(problem)
    order = sorted(range(len(problem.products)), key=lambda p: -problem.products[p].gains[-1])
    for p in order:
        for t, i in problem.products[p].pins:
            plan.fill(p, t, i)
    for p in [p for p in order if problem.products[p].needed] + order:
        while plan.one_more(p):
            if problem.products[p].needed and plan.rounds == 0:
                break
    return plan.worth()


class Hand:
    """Fills lanes one after the other and never takes back."""

    rounds = 1

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.stock = list(problem.stock)
        self.lanes: list[Lane] = []

    def one_more(self, p: int) -> bool:
        """The first free lane with the largest coil that takes it there."""
        for t, count in enumerate(self.problem.lanes):
            for i in range(count):
                if self.fill(p, t, i):
                    return True
        return False

    def fill(self, p: int, t: int, i: int) -> bool:
        product = self.problem.products[p]
        mine = [lane for lane in self.lanes if lane.product == p]
        if len(mine) >= product.most or not self._free(p, t, i) or self._full(p, mine):
            return False
        kinds = [k for k, left in enumerate(self.stock) if left and self.problem.holds[p][t][k]]
        if not kinds:
            return False
        kind = max(kinds, key=lambda k: self.problem.holds[p][t][k])
        self.stock[kind] -= 1
        self.lanes.append(Lane(t, i, p, kind))
        return True

    def _full(self, p: int, mine: list[Lane]) -> bool:
        """Whether nearly all that is wanted is there already."""
        product = self.problem.products[p]
        room = sum(self.problem.holds[p][lane.tray][lane.coil] for lane in mine)
        return product.gain(room) > 0.95 * product.gains[-1]

    def _free(self, p: int, t: int, i: int) -> bool:
        for lane in self.lanes:
            pair = (min(p, lane.product), max(p, lane.product))
            if lane.tray == t and (lane.lane == i or pair in self.problem.apart
                                   or (abs(lane.lane - i) == 1 and pair in self.problem.beside)):  # fmt: skip
                return False
        return True

    def worth(self) -> int:
        from calculators.plan.model import value_of

        return value_of(self.problem, self.lanes)
