"""The coin unit's rules, the exact chain and the runs, against models written apart."""

from __future__ import annotations

import itertools
import math
import random
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.core import rules
from calculators.float import chain, coinage, payout, simulate
from calculators.float.certain import surely_served
from calculators.float.chain import at_once
from calculators.float.judge import Judge, _Played
from calculators.float.machine import Machine
from calculators.float.packing import Layout
from calculators.float.setup import Setup, coin_sale, note_sale
from tests.calculators.float import reference
from tests.calculators.float.reference import Spec, Unit, ordered, random_spec, set_spec


def _states(unit: Unit) -> tuple[int, ...]:
    return ordered(unit.tubes)


@pytest.mark.parametrize("seed", range(300))
def test_sale_by_sale_both_models_agree(seed: int) -> None:
    """Served or refused, and the coins left in every tube, over a long row of random sales."""
    rng = random.Random(seed)
    spec, counts = random_spec(rng, small=seed % 3 == 0)
    unit, machine = Unit(spec, counts), Machine(spec.setup())
    state = machine.start(ordered(counts))
    for _ in range(120):
        sale = rng.randrange(len(spec.kinds))
        after = machine.step(state, sale)
        assert (after >= 0) == unit.offer(spec.kinds[sale])
        state = after if after >= 0 else state
        assert tuple(machine.counts(state)) == _states(unit)


@pytest.mark.parametrize("name", list(rules.RULE_SETS))
@pytest.mark.parametrize("seed", range(16))
def test_both_models_agree_in_the_coins_of_every_set(name: str, seed: int) -> None:
    """With up to six tubes, large notes, and coins that have no tube."""
    known, rng = rules.load(name), random.Random(f"{name} {seed}")
    coins = [row["value"] for row in known["coins.table"].value]
    spec, counts = set_spec(rng, coins, known["coins.notes"].value)
    unit, machine = Unit(spec, counts), Machine(spec.setup())
    state = machine.start(ordered(counts))
    for _ in range(100):
        sale = rng.randrange(len(spec.kinds))
        after = machine.step(state, sale)
        assert (after >= 0) == unit.offer(spec.kinds[sale])
        state = after if after >= 0 else state
        assert tuple(machine.counts(state)) == _states(unit)


@pytest.mark.parametrize("seed", range(40))
def test_exact_chances_equal_the_absorbing_chain_in_numpy(seed: int) -> None:
    """Survival over a Poisson and over a fixed number of sales; the mean time to the first loss."""
    spec, counts = random_spec(random.Random(1000 + seed), small=True, boxes=seed % 4 == 0)
    moves = reference.matrix(spec, counts)
    machine = Machine(spec.setup())
    start = machine.start(ordered(counts))
    table = at_once(chain.closure(_moves(machine), [start], 10_000))
    assert table is not None
    mean = 7.5
    for spread, pmf in ((chain.poisson(mean), scipy.stats.poisson(mean).pmf),
                        (chain.binomial(20, 0.4), scipy.stats.binom(20, 0.4).pmf)):  # fmt: skip
        wanted, alive = 0.0, np.ones(len(moves))
        for number in range(80):
            wanted += pmf(number) * alive[0]
            alive = moves @ alive
        assert at_once(chain.served(table, spread))[start] == pytest.approx(wanted, abs=1e-11)


def test_a_long_look_for_states_pauses_and_may_be_given_up() -> None:
    """Twenty states in a row: a pause after every four, and none is looked at after one that is answered."""
    looked: list[int] = []

    def moves(state: int) -> list[tuple[int | None, float]]:
        looked.append(state)
        return [(state + 1, 1.0)] if state < 19 else [(None, 1.0)]

    run = chain.closure(moves, [0], 100, pause=4)
    assert [next(run) for _ in range(5)] == [None] * 5
    with pytest.raises(StopIteration) as ended:
        next(run)
    assert list(ended.value.value) == list(range(20))
    looked.clear()
    run = chain.closure(moves, [0], 100, pause=4)
    next(run)
    with pytest.raises(StopIteration) as given_up:
        run.send(True)
    assert (given_up.value.value, looked) == (None, [0, 1, 2, 3])


def _moves(machine: Machine):
    weights = machine.setup.weights
    total = math.fsum(weights)

    def moves(state: int):
        for sale, weight in enumerate(weights):
            after = machine.step(state, sale)
            yield (None if after < 0 else after), weight / total

    return moves


@pytest.mark.parametrize("seed", range(25))
def test_the_mean_time_to_the_first_loss_is_the_fundamental_matrix_s(seed: int) -> None:
    """Σ uₙ of the chain equals (I − Q)⁻¹·1 where a loss is sure to come."""
    spec, counts = random_spec(random.Random(3000 + seed), small=True, boxes=False)
    spec.kinds.append(("coins", 35, None))  # a buyer who can never be served: the end comes
    spec.weights.append(1.0)
    moves = reference.matrix(spec, counts)
    wanted = np.linalg.solve(np.eye(len(moves)) - moves, np.ones(len(moves)))[0]
    machine = Machine(spec.setup())
    table = at_once(chain.closure(_moves(machine), [machine.start(ordered(counts))], 10_000))
    assert table is not None
    place = list(table).index(machine.start(ordered(counts)))
    got = math.fsum(alive[place] for alive in itertools.islice(chain.survival(table), 1000))
    assert got == pytest.approx(wanted, rel=1e-9)


def test_runs_agree_with_an_independent_simulation() -> None:
    """Chance of no refusal and mean refusals, over every acceptance and payout rule, in standard errors.

    Of 204 comparisons one in two runs of this test would see one beyond 3, so none may be beyond 4 and two beyond 3; what no
    single one would show, a small lean to one side in all of them, their means do.
    """
    off = [_apart(seed) for seed in range(102)]
    for part in zip(*off, strict=True):
        assert abs(math.fsum(part)) <= 3 * math.sqrt(len(part)), "all lean to one side"
        assert max(map(abs, part)) <= 4
    assert sum(abs(each) > 3 for part in off for each in part) <= 2


def _apart(seed: int) -> tuple[float, float]:
    """How many standard errors the runs and the independent simulation lie apart, in clean runs and in refusals."""
    rng = random.Random(5000 + seed)
    spec, counts = random_spec(rng, boxes=seed % 2 == 0)
    spec.accept = ("every", "cheapest", "whole")[seed % 3]
    spec.payout = ("largest", "any")[seed // 3 % 2]
    mean, runs = rng.choice([6.0, 12.0]), 500
    refused = reference.simulate(spec, counts, mean, runs, seed)
    judge = Judge(spec.setup(), chain.poisson(mean), 0.9, seed)
    tally = at_once(judge.tally(ordered(counts)))
    clean = float(np.mean(refused == 0)) - tally.clean / tally.runs
    pooled = (np.sum(refused == 0) + tally.clean + 2) / (runs + tally.runs + 4)
    # Refusals come at least as scattered as by chance: that is the spread where few were seen.
    more = float(np.mean(refused)) - tally.refused.total() / tally.runs
    spread = max(float(np.var(refused, ddof=1)), tally.refused.total() / tally.runs)
    both = 1 / runs + 1 / tally.runs
    return clean / math.sqrt(pooled * (1 - pooled) * both), more / math.sqrt(spread * both) if spread else 0.0


@pytest.mark.parametrize("seed", range(20))
def test_exact_and_played_chances_agree(seed: int) -> None:
    """The chain lies inside Wilson's interval of the runs."""
    spec, counts = random_spec(random.Random(7000 + seed), small=True, boxes=False)
    judge = Judge(spec.setup(), chain.poisson(8.0), 0.9, seed)
    at_once(judge.prepare())
    assert judge.exact is not None
    played = _Played()
    at_once(judge._play(judge.machine.start(ordered(counts)), played, 2000))
    low, high = simulate.interval(played.clean, played.runs)
    assert low <= at_once(judge.chance(ordered(counts))).value <= high


def test_what_was_forgotten_is_worked_out_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """A memory of a few states only gives the same answers as one of all of them."""
    spec, counts = random_spec(random.Random(77), boxes=False)
    found = []
    for most in (200_000, 3):
        monkeypatch.setattr("calculators.float.machine.REMEMBERED", most)
        judge = Judge(spec.setup(), chain.poisson(12.0), 0.9, 5)
        found.append((at_once(judge.chance(ordered(counts))), at_once(judge.tally(ordered(counts)))))
    assert found[0] == found[1]
    assert found[0][1].refused.total() > 0


def test_no_more_is_remembered_than_a_phone_has_room_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five moves and five servings, in state after state; what was forgotten comes out the same again."""
    spec, _ = random_spec(random.Random(77), boxes=False)
    setup, chance = spec.setup(), random.Random(5)
    whole, small = Machine(setup), Machine(setup)
    most = []
    for _ in range(400):
        counts, sale = [chance.randint(0, cap) for cap in setup.caps], chance.randrange(len(setup.sales))
        expected = whole.slow(whole.start(counts), sale)
        with monkeypatch.context() as patched:
            patched.setattr("calculators.float.machine.REMEMBERED", 5)
            assert small.slow(small.start(counts), sale) == expected
        most.append((sum(map(len, small._memo)), sum(map(len, small._known))))
    assert (max(kept for kept, _ in most), max(learnt for _, learnt in most)) == (5, 5)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 900), st.integers(0, 900)), min_size=1, max_size=9),
       st.lists(st.integers(0, 50_000), max_size=2), st.data())  # fmt: skip
def test_packed_fields_are_cut_one_by_one(
    pairs: list[tuple[int, int]], boxes: list[int], data: st.DataObject
) -> None:
    """Each even field is the smaller of itself and its top, whatever stands above them."""
    values = [value for value, _ in pairs]
    layout = Layout([*values, *boxes], even=len(pairs))
    state = layout.pack([*values, *boxes]) | layout.guard
    tops = [data.draw(st.integers(0, top)) for _, top in pairs]
    cut = layout.cut(state, layout.pack_tops(tops))
    assert [layout.read(cut, place) for place in range(len(pairs))] == [
        min(value, top) for value, top in zip(values, tops, strict=True)
    ]
    assert [layout.read(state, place) for place in range(len(values) + len(boxes))] == [*values, *boxes]


@pytest.mark.parametrize("payer", ["largest", "any"])
def test_a_larger_float_can_be_worse(payer: str) -> None:
    """Three 10s and two 5s pay 30, 5 and 5; with one 25 added the third is refused."""
    # Buyers pay one dollar for 70 and 95 cents.
    sales = (note_sale(70, 100, 3), note_sale(95, 100, 3))
    setup = Setup((25, 10, 5), (10, 10, 10), sales, (1.0, 1.0), (95,), payer, "cheapest")
    machine = Machine(setup)

    def served(*counts: int) -> list[bool]:
        state, found = machine.start(counts), []
        for sale in (0, 1, 1):
            after = machine.step(state, sale)
            found.append(after >= 0)
            state = after if after >= 0 else state
        return found

    assert served(0, 3, 2) == [True, True, True]
    assert served(1, 3, 2) == [True, True, False]


@settings(max_examples=60, deadline=None)
@given(st.randoms(use_true_random=False), st.sampled_from([(100, 25, 5), (50, 25, 5), (50, 10, 5), (25, 5), (100, 50, 10)]))
def test_where_coins_divide_more_coins_never_hurt(rng: random.Random, coins: tuple[int, ...]) -> None:
    """Exact chances over all floats of a small cabinet rise with each coin added."""
    caps = tuple(rng.randint(1, 4) for _ in coins)
    prices = rng.sample(range(5, 105, 5), 2)
    sales = [note_sale(price, 100, len(coins)) for price in prices]
    sales.append(coin_sale(prices[0], coins, {coins[0]: -(-prices[0] // coins[0])}))
    weights = tuple(rng.choice([0.5, 1.0, 2.0]) for _ in sales)
    marks = tuple(rng.randint(0, 1) for _ in coins)
    setup = Setup(coins, caps, tuple(sales), weights, tuple(sorted(prices)), rng.choice(["largest", "any"]),
                  rng.choice(["every", "cheapest", "whole"]), rng.random() < 0.5, marks, marks)  # fmt: skip
    assert payout.divides(coins)
    machine = Machine(setup)
    floats = list(itertools.product(*(range(cap + 1) for cap in caps)))
    table = at_once(chain.closure(_moves(machine), map(machine.start, floats), 100_000))
    assert table is not None
    found = at_once(chain.served(table, chain.binomial(6, 0.8)))
    for counts in floats:
        for place, cap in enumerate(caps):
            if counts[place] < cap:
                more = (*counts[:place], counts[place] + 1, *counts[place + 1 :])
                assert found[machine.start(more)] >= found[machine.start(counts)] - 1e-12


@pytest.mark.parametrize("seed", range(30))
def test_money_is_neither_made_nor_lost(seed: int) -> None:
    """Over all runs: start + coins in − change = tubes at the end + fallen into the box, to the cent."""
    spec, counts = random_spec(random.Random(9000 + seed))
    judge = Judge(spec.setup(), chain.poisson(15.0), 0.9, seed)
    tally, setup = at_once(judge.tally(ordered(counts))), judge.setup
    start = sum(coin * count for coin, count in counts.items())
    moved = sum(
        (tally.came[number] - tally.refused[number])
        * ((0 if sale.notes else sale.price + sale.change - sale.loose_value) - sale.change)
        for number, sale in enumerate(setup.sales)
    )
    ends = sum(map(judge.machine.money, tally.ends))
    fallen = sum(coin * count for coin, count in zip(setup.coins, tally.fallen, strict=True))
    assert all(isinstance(number, int) for number in (start, moved, ends, fallen))
    assert tally.runs * start + moved == ends + fallen


@pytest.mark.parametrize("seed", range(60))
def test_sales_served_for_certain_are_served_in_every_order(seed: int) -> None:
    """No row of so many sales, of all there are, is refused by the independent model."""
    spec, counts = random_spec(random.Random(11_000 + seed), small=seed % 2 == 0)
    judge = Judge(spec.setup(), chain.poisson(9.0), 0.9, 1)
    sure = at_once(surely_served(judge, ordered(counts), 300))
    now = {(): Unit(spec, counts)}
    for _ in range(min(sure, 5)):
        after = {}
        for unit in now.values():
            for kind in spec.kinds:
                moved = unit.copy()
                assert moved.offer(kind)
                after[moved.state()] = moved
        now = after
    if sure < 3:  # and where few are promised, one more is indeed refused in some order
        assert any(not unit.copy().offer(kind) for unit in now.values() for kind in spec.kinds)


@pytest.mark.parametrize("seed", range(40))
def test_a_proof_cut_short_promises_no_more_than_a_whole_one(seed: int) -> None:
    """However few orders of sales are tried, the promise stays on the safe side."""
    spec, counts = random_spec(random.Random(13_000 + seed), small=True, boxes=False)
    judge = Judge(spec.setup(), chain.poisson(9.0), 0.9, 1)
    promised = [at_once(surely_served(judge, ordered(counts), most)) for most in (0, 1, 3, 10, 10_000)]
    assert promised == sorted(promised)


@settings(max_examples=200, deadline=None)
@given(st.lists(st.sampled_from([1, 5, 10, 20, 25, 50]), min_size=1, max_size=4, unique=True),
       st.data())  # fmt: skip
def test_payouts_against_a_listing_of_all_mixes(coins: list[int], data: st.DataObject) -> None:
    """Any mix finds one where there is one, the right one, and never more than there is."""
    coins.sort(reverse=True)
    counts = [data.draw(st.integers(0, 6)) for _ in coins]
    amount = data.draw(st.integers(0, 150))
    wanted = reference.best_mix(dict(zip(coins, counts, strict=True)), amount)
    got = payout.any_mix(coins, counts, amount)
    assert got == (None if wanted is None else tuple(wanted[coin] for coin in coins))
    assert reference.stepping_back(dict(zip(coins, counts, strict=True)), amount) == wanted
    reach = payout.payable(coins, counts, 150)[0]
    assert (reach >> amount & 1 == 1) == (wanted is not None)
    greedy = payout.largest_first(coins, counts, amount)
    if greedy is not None:
        assert sum(coin * used for coin, used in zip(coins, greedy, strict=True)) == amount
        assert all(used <= count for used, count in zip(greedy, counts, strict=True))
        assert got == greedy


@pytest.mark.parametrize("mean", [0.0, 0.3, 4.0, 90.0, 5000.0])
def test_poisson_weights(mean: float) -> None:
    """Against scipy, near and far from the mean."""
    spread = chain.poisson(mean)
    wanted = scipy.stats.poisson(mean).pmf(range(spread.first, spread.last + 1))
    assert np.allclose(spread.weights, wanted, rtol=1e-9, atol=1e-15)
    assert math.fsum(spread.weights) == pytest.approx(1.0, abs=1e-14)


@pytest.mark.parametrize(("number", "chance"), [(0, 0.3), (10, 0.0), (10, 1.0), (80, 0.45), (9000, 0.02)])
def test_binomial_weights(number: int, chance: float) -> None:
    """Against scipy."""
    spread = chain.binomial(number, chance)
    wanted = scipy.stats.binom(number, chance).pmf(range(spread.first, spread.last + 1))
    assert np.allclose(spread.weights, wanted, rtol=1e-8, atol=1e-14)
    assert spread.mean() == pytest.approx(number * chance, rel=1e-12)


@pytest.mark.parametrize(("clean", "runs"), [(0, 50), (50, 50), (37, 64), (1990, 2000)])
def test_wilson_s_interval(clean: int, runs: int) -> None:
    """Against scipy at the confidence of three standard errors."""
    level = 2 * scipy.stats.norm.cdf(simulate.Z) - 1
    wanted = scipy.stats.binomtest(clean, runs).proportion_ci(level, method="wilson")
    assert simulate.interval(clean, runs) == pytest.approx((wanted.low, wanted.high), abs=1e-12)


def test_the_unit_can_be_counted_by_hand() -> None:
    """Two quarters in the tube, dollar notes for 75 cents: two are served, the third is not."""
    spec = Spec({25: 4}, [75], [("note", 75, 100), ("coins", 75, {25: 3})], [1.0, 1.0])
    machine = Machine(spec.setup())
    state = machine.start([2])
    state = machine.step(machine.step(state, 0), 0)
    assert machine.counts(state) == [0]
    assert machine.step(state, 0) == -1
    state = machine.step(machine.step(state, 1), 1)
    assert machine.counts(state) == [4]  # the fifth and sixth quarter fell into the box


@pytest.mark.parametrize(("marks", "low"), [((5, None), 5), ((None, None), 0), ((5, 4), 9)])
def test_the_marks_of_tubes_of_one_coin_add_up_and_a_blank_is_none(marks: tuple[int | None, ...], low: int) -> None:
    tubes: list[Any] = [SimpleNamespace(coin="quarter", count=20, low=mark, back=None) for mark in marks]
    coin = coinage.Coin("quarter", 25, 5.67, 1.75, 40)
    (stack,) = coinage.stacks({"quarter": coin}, tubes, [60, 60])
    assert (stack.low, stack.back) == (low, low)
