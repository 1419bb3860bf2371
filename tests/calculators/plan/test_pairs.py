"""Many pairs kept apart: seatings found and refused rightly, plans proven, and what is said where they are not."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from typing import Any

import pytest

import calculators
from calculators.core.progress import finish
from calculators.plan import finish as finishing
from calculators.plan import search
from calculators.plan.inputs import EXAMPLE
from calculators.plan.model import Group, Lane, Problem, Product, faults, value_of
from calculators.plan.parting import Parting
from calculators.plan.seating import PLAIN, Seating
from calculators.plan.shuffle import Shuffle
from tests.calculators.plan.reference import best, draw

# The most labels a search with 60 pairs has needed is a tenth of this; each takes some 30 µs.
LABELS = 40_000


# -- plans ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(4))
def test_sixty_pairs_in_a_large_cabinet_are_planned_and_proven(seed: int) -> None:
    """40 products, 60 lanes, 12 coils, 60 pairs: proven, no wish broken, and in few steps."""
    problem = draw(seed, products=40, trays=6, lanes=10, kinds=12, foes=60, pins=3)
    assert len(problem.apart | problem.beside) == 60
    plan = search.plan(problem)
    assert plan.proven
    assert not faults(problem, plan.lanes)
    assert value_of(problem, plan.lanes) == plan.worth
    assert plan.nodes < LABELS


@pytest.mark.parametrize("seed", range(12))
def test_many_pairs_agree_with_a_general_solver(seed: int) -> None:
    """30 pairs among 20 products: as many sales, wishes kept where they can be."""
    problem = draw(4000 + seed, foes=30)
    plan, most = search.plan(problem), best(problem)
    assert plan.proven
    assert not faults(problem, plan.lanes)
    assert plan.missed if most is None else plan.worth == pytest.approx(most, rel=2e-8, abs=5)


def test_the_form_takes_sixty_pairs_and_no_more() -> None:
    """Names of products as words, all of the example's pairs many times over."""
    names = [row["name"] for row in EXAMPLE["products"]]
    rows = [{"first": a, "second": b, "where": "beside"} for a, b in itertools.permutations(names, 2)]
    assert calculators.run("plan", {"units": "us", "inputs": {**EXAMPLE, "apart": (rows * 2)[:60]}})["outcome"]
    with pytest.raises(calculators.core.CalculatorError, match="0 to 60"):
        calculators.run("plan", {"units": "us", "inputs": {**EXAMPLE, "apart": (rows * 3)[:61]}})


# -- what is said --------------------------------------------------------------------------------


def test_a_search_at_its_limit_says_so_and_how_far_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody stopped it: the words say limit, the distance is that of the printed bound, rounded up."""
    free = (replace(each, products=tuple(replace(product, needed=False) for product in each.products))
            for each in (draw(seed, foes=5, pins=0) for seed in range(50)))  # fmt: skip
    problem = next(each for each in free if search.plan(each).nodes > 20)
    whole = search.plan(problem)
    monkeypatch.setattr(finishing, "EVERY", 1)
    monkeypatch.setattr(search, "FEW_LABELS", 0)
    monkeypatch.setattr(search, "MOST_LABELS", 0)
    plan = search.plan(problem)
    assert not plan.proven
    assert plan.worth <= whole.worth <= plan.bound
    assert plan.sales_bound is not None
    assert plan.sales_bound * 10 == pytest.approx(round(plan.sales_bound * 10), abs=1e-9)
    assert plan.bound <= plan.sales_bound * 1e6 < plan.bound + 100_000


@pytest.mark.parametrize(("stopped", "lead"), [(True, "You stopped it"), (False, "The search ended at its limit")])
def test_stopped_by_the_reader_and_ended_at_its_limit_are_told_apart(*, stopped: bool, lead: str) -> None:
    """With the distance where there is one, and without where wishes are open; 1.04 of a sale is printed as 1.1."""
    from calculators.core import Work
    from calculators.core.calculator import read_setting
    from calculators.core.reading import read_record
    from calculators.plan import CALCULATOR
    from calculators.plan.checks import _proven
    from calculators.plan.inputs import Inputs
    from calculators.plan.outcome import Plan

    said = []
    for bound, proven in ((11_040_000, False), (None, False), (10_000_000, True)):
        work = Work(CALCULATOR, read_record(Inputs, {}, "us"), read_setting({}).rules, read_setting({}).show)
        _proven(work, Plan((), 10_000_000, bound, proven, 0, 0, ()), stopped=stopped)
        said.append((work.checks[0].outcome, work.checks[0].text))
    assert said == [("caution", f"{lead}: this plan is within 1.1 sales of the best possible."),
                    ("caution", f"{lead}: more of your wishes might be kept."),
                    ("pass", "Proven: no plan sells more.")]  # fmt: skip


# -- seatings ------------------------------------------------------------------------------------


def group_of(lanes: int, trays: int, products: int, *, apart: set[tuple[int, int]] = frozenset(),
             beside: set[tuple[int, int]] = frozenset(), pins: dict[int, tuple[int, int]] | None = None) -> tuple[Problem, Group]:  # fmt: skip
    """A group of like trays that every product fits."""
    pinned = {p: (spot,) for p, spot in (pins or {}).items()}
    rows = tuple(Product((0, 1), 9, pins=pinned.get(p, ())) for p in range(products))
    problem = Problem(rows, (lanes,) * trays, (99,), (((5,),) * trays,) * products, frozenset(apart), frozenset(beside))
    return problem, Group(tuple(range(trays)), lanes)


def shuffled(problem: Problem, group: Group, counts: dict[int, int]) -> dict[tuple[int, int], int] | None:
    seating = Seating(problem, group)
    apart = {p: {q for pair in problem.apart if p in pair for q in pair if q != p} for p in counts}
    beside = {p: {q for pair in problem.beside if p in pair for q in pair if q != p} for p in counts}
    return Shuffle(group, apart, beside, seating._pins).run(counts)


@pytest.mark.parametrize("seed", range(40))
def test_what_shuffling_finds_is_a_seating(seed: int) -> None:
    """30 lanes in three trays, pairs at will, one pin: each product as often as wanted, no pair too close."""
    rng = random.Random(seed)
    pairs = list(itertools.combinations(range(12), 2))
    problem, group = group_of(10, 3, 12, apart=set(rng.sample(pairs, 6)), beside=set(rng.sample(pairs, 14)),
                              pins={0: (1, rng.randrange(10))})  # fmt: skip
    counts = {p: rng.randint(1, 2) for p in range(12)}
    seats = shuffled(problem, group, counts)
    assert seats is not None
    assert {p: list(seats.values()).count(p) for p in counts} == counts
    assert seats[problem.products[0].pins[0]] == 0
    assert not faults(problem, [Lane(*spot, p, 0) for spot, p in seats.items()])


def test_shuffling_claims_nothing_where_there_is_no_seating() -> None:
    """Two foes that fill one tray lie side by side somewhere; a pin without its product; one lane too few."""
    problem, group = group_of(4, 1, 2, beside={(0, 1)})
    assert shuffled(problem, group, {0: 2, 1: 2}) is None
    assert shuffled(problem, group, {0: 2, 1: 1}) is not None
    twice, group = group_of(4, 1, 2, beside={(0, 1)}, pins={0: (0, 0)})
    rows = (Product((0, 1), 9, pins=((0, 0), (0, 3))), twice.products[1])
    both = Problem(rows, twice.lanes, twice.stock, twice.holds, twice.apart, twice.beside)
    assert shuffled(both, group, {0: 1, 1: 1}) is None
    assert shuffled(both, group, {0: 2, 1: 1}) is None
    assert shuffled(twice, group, {0: 1, 1: 1}) is not None


def test_a_hard_seating_is_found_and_an_impossible_one_refused() -> None:
    """Products each at odds with all but their two neighbors in a row can lie in that row alone.

    One that is at odds with all of them needs an empty lane beside it.
    """
    for many, lanes in ((10, 20), (4, 8)):
        row = list(range(many))
        friends = {frozenset(pair) for pair in itertools.pairwise(row)}
        beside = {pair for pair in itertools.combinations(row, 2) if frozenset(pair) not in friends}
        problem, group = group_of(lanes, 1, many + 1, beside={*beside, *((p, many) for p in row)})
        seating = Seating(problem, group)
        assert seating.possible(dict.fromkeys(row, 2))
        assert seating.possible({**dict.fromkeys(row[1:], 2), many: 1})
        assert not seating.gave_up
        assert not seating.possible({**dict.fromkeys(row[1:], 2), 0: 1, many: 1})
    assert not seating.gave_up


@pytest.mark.parametrize("seed", range(30))
def test_the_smallest_set_in_the_way_cannot_be_seated_and_any_less_can(seed: int) -> None:
    """Take one product out of it and it can."""
    rng = random.Random(seed)
    pairs = list(itertools.combinations(range(5), 2))
    problem, group = group_of(5, 1, 5, beside=set(rng.sample(pairs, 7)))
    seating = Seating(problem, group)
    counts = dict.fromkeys(range(5), 1)
    if seating.possible(counts):
        return
    found = seating.smallest(counts)
    assert not seating.possible(dict.fromkeys(found, 1))
    for product in found:
        assert seating.possible({p: 1 for p in found if p != product})


def test_plain_products_are_told_apart_in_the_end() -> None:
    """Seated as one and named after: each in as many lanes as it has."""
    problem, group = group_of(8, 1, 5, beside={(0, 1)})
    counts = {0: 2, 1: 2, 2: 1, 3: 2, 4: 1}
    seats = Seating(problem, group).named(counts)
    assert {p: list(seats.values()).count(p) for p in counts} == counts
    assert PLAIN not in seats.values()
    assert not faults(problem, [Lane(*spot, p, 0) for spot, p in seats.items()])


# -- foes parted ---------------------------------------------------------------------------------


def parted(lanes: list[Lane], *, apart: set[tuple[int, int]], holds: Any, trays: tuple[int, ...] = (2, 2),
           pins: dict[int, tuple[int, int]] | None = None) -> list[Lane]:  # fmt: skip
    rows = tuple(Product((0, 1), 9, pins=(pins[p],) if pins and p in pins else ()) for p in range(len(holds)))
    return finish(Parting(Problem(rows, trays, (9, 9), holds, frozenset(apart)), lanes).run())  # type: ignore[arg-type]


def where(lanes: list[Lane]) -> dict[int, int]:
    return {lane.product: lane.tray for lane in lanes}


def test_foes_change_trays_where_the_coil_holds_as_much() -> None:
    """By exchange in full trays, into an empty lane, and never to where it holds less."""
    alike = ((5, 4), (5, 4))
    full = [Lane(0, 0, 0, 0), Lane(0, 1, 1, 0), Lane(1, 0, 2, 0), Lane(1, 1, 3, 0)]
    found = where(parted(full, apart={(0, 1)}, holds=(alike,) * 4))
    assert found[0] != found[1]
    assert sorted(found.values()) == [0, 0, 1, 1]
    assert len(set(where(parted(full[:2], apart={(0, 1)}, holds=(alike,) * 2)).values())) == 2
    less = ((5, 4), (4, 4))
    assert len(parted(full[:2], apart={(0, 1)}, holds=(less, less))) == 1


def test_a_kept_lane_stays_and_its_foe_goes() -> None:
    """The pinned product is where it must be; where both are pinned, one is left out."""
    alike = ((5, 4), (5, 4))
    lanes = [Lane(0, 0, 0, 0), Lane(0, 1, 1, 0)]
    assert where(parted(lanes, apart={(0, 1)}, holds=(alike,) * 2, pins={0: (0, 0)})) == {0: 0, 1: 1}
    assert len(parted(lanes, apart={(0, 1)}, holds=(alike,) * 2, pins={0: (0, 0), 1: (0, 1)})) == 1


def test_the_one_in_the_way_of_most_is_left_out() -> None:
    """In a single tray nothing can be parted: of a product and its two foes the two are left."""
    lanes = [Lane(0, n, n, 0) for n in range(3)]
    found = parted(lanes, apart={(0, 1), (0, 2)}, holds=(((5, 4),),) * 3, trays=(3,))
    assert sorted(lane.product for lane in found) == [1, 2]


def test_watched_things_only_grow() -> None:
    """What was watched stays so, and a watch that gains nothing is the same."""
    watch = finishing.Watch(frozenset({1}), frozenset({(0, 3)}))
    assert watch.also({2}, {(1, 4)}) == finishing.Watch(frozenset({1, 2}), frozenset({(0, 3), (1, 4)}))
    assert watch.also({1}, {(0, 3)}) == watch
