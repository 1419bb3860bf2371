"""The search for the least money in whole rolls."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
import scipy.stats

from calculators.float import chain, search
from calculators.float.search import Judge, cheapest_first, filled, least_load
from calculators.float.setup import Setup, note_sale
from tests.calculators.float import reference
from tests.calculators.float.reference import ordered, random_spec


@pytest.mark.parametrize("seed", range(40))
def test_the_search_equals_brute_force(seed: int) -> None:
    """Every load of small “rolls”, judged by a matrix of the independent model; the cheapest wins."""
    rng = random.Random(seed)
    spec, counts = random_spec(rng, small=True, boxes=False)
    counts = {coin: rng.randint(0, count // 2) for coin, count in counts.items()}
    sizes, mean = tuple(rng.randint(1, 3) for _ in counts), rng.choice([1.0, 3.0])
    coins = sorted(counts, reverse=True)
    now = ordered(counts)
    caps = [spec.caps[coin] for coin in coins]
    rolls = [range(-(-(cap - have) // size) + 1)
             for cap, have, size in zip(caps, now, sizes, strict=True)]  # fmt: skip
    chances = {}
    for load in itertools.product(*rolls):
        laid = [min(cap, have + roll * size)
                for have, roll, size, cap in zip(now, load, sizes, caps, strict=True)]  # fmt: skip
        chances[load] = _chance(spec, dict(zip(coins, laid, strict=True)), mean)
    # Half way between two chances that occur, so that no answer hangs on the last digit.
    levels = sorted(set(np.round([*chances.values(), 1.0], 9)))
    pick = rng.randrange(len(levels))
    wanted = float((levels[pick] + levels[max(0, pick - 1)]) / 2) if pick else levels[0] / 2
    judge = Judge(spec.setup(), chain.poisson(mean), max(wanted, 1e-6), 1)
    assert judge.exact is not None
    plan = least_load(judge, now, sizes)
    good = [load for load, chance in chances.items() if chance > judge.wanted]
    assert plan.met == bool(good)
    assert plan.proven
    money = {load: sum(c * r * s for c, r, s in zip(coins, load, sizes, strict=True)) for load in chances}
    if good:
        assert money[plan.rolls] == min(money[load] for load in good)
        assert plan.rolls in good
    else:
        assert chances[plan.rolls] == pytest.approx(max(chances.values()), abs=1e-9)


def _chance(spec: reference.Spec, counts: dict[int, int], mean: float) -> float:
    moves = reference.matrix(spec, counts)
    total, alive = 0.0, np.ones(len(moves))
    for weight in scipy.stats.poisson(mean).pmf(range(40)):
        total += weight * alive[0]
        alive = moves @ alive
    return float(total)


def test_loads_come_in_the_order_of_their_money() -> None:
    """All loads, each once, cheapest first."""
    prices, most = (1000, 500, 200), (3, 2, 4)
    loads = list(cheapest_first(prices, most))
    assert sorted(loads) == sorted(itertools.product(*(range(top + 1) for top in most)))
    money = [sum(price * rolls for price, rolls in zip(prices, load, strict=True)) for load in loads]
    assert money == sorted(money)


def test_a_part_of_a_roll_fills_a_tube() -> None:
    """A roll that fits in part fills the tube to the top; what was there is never taken out."""
    assert filled((30, 5), (1, 0), (40, 50), (57, 3)) == (57, 5)


def _many(caps: tuple[int, ...]) -> Setup:
    sales = tuple(note_sale(price, 200, 3) for price in (125, 130, 160))
    return Setup((25, 10, 5), caps, sales, (1.0, 1.0, 1.0), (125, 130, 160))


def test_a_search_given_up_still_gives_a_load_that_will_do(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too many loads to try, a full cabinet is thinned out and called not proven."""
    judge = Judge(_many((200, 200, 200)), chain.poisson(12.0), 0.95, 1)
    plan = least_load(judge, (0, 0, 0), (20, 25, 20))
    monkeypatch.setattr(search, "LOADS", 3)
    short = least_load(judge, (0, 0, 0), (20, 25, 20))
    assert plan.proven
    assert not short.proven
    assert plan.met
    assert short.met
    money = [500 * p.rolls[0] + 250 * p.rolls[1] + 100 * p.rolls[2] for p in (plan, short)]
    assert money[0] <= money[1] <= 3 * money[0]


def test_a_hopeless_search_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """No load is found in tubes that are far too small, tried through or given up."""
    judge = Judge(_many((8, 8, 8)), chain.poisson(60.0), 0.95, 1)
    assert not least_load(judge, (0, 0, 0), (4, 5, 4)).met
    monkeypatch.setattr(search, "LOADS", 3)
    given_up = least_load(judge, (0, 0, 0), (4, 5, 4))
    assert not given_up.met
    assert not given_up.proven


def test_runs_go_on_until_the_answer_is_clear() -> None:
    """A chance near the wanted one is played longer than one far from it, and may stay undecided."""
    spread, setup, counts = chain.poisson(6.0), _many((80, 80, 80)), (10, 10, 10)
    longest = Judge(setup, spread, 0.5, 1)
    level = longest.sample(longest.machine.start(counts), 0, search.MOST_RUNS).value
    close = Judge(setup, spread, level, 1).chance(counts)
    far = Judge(setup, spread, level - 0.2, 1).chance(counts)
    assert 0.3 < level < 0.9
    assert far.runs == search.RUNS < close.runs
    assert close.clear(level) is None
    assert far.clear(level - 0.2) is True


def test_a_cheaper_load_too_near_to_tell_is_said_and_not_ruled_out() -> None:
    """The example's plan is $10; $7 in nickels and dimes passes when it is typed in and played on."""
    import calculators

    example = dict(calculators.get("float").example)
    planned = calculators.run("float", {"inputs": example})["tables"][0]
    cheaper = [dict(tube) for tube in example["tubes"]]
    cheaper[0]["count"], cheaper[1]["count"] = "55", "75"
    typed = calculators.run("float", {"inputs": {**example, "tubes": cheaper}})
    outcome = next(each["outcome"] for each in typed["checks"] if each["key"] == "chance")
    assert outcome == "pass"
    assert "every cheaper load was tried" not in planned["note"]
    assert "too near the wanted chance to tell" in planned["note"]
