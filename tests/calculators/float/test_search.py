"""The search for the least money in whole rolls: proven where it can be, the same whatever the seed, and stoppable."""

from __future__ import annotations

import importlib
import itertools
import json
import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import scipy.stats

import calculators
from calculators.core.progress import finish
from calculators.float import CALCULATOR, buyers, chain, judge, search
from calculators.float.buyers import Buyers
from calculators.float.chain import at_once
from calculators.float.effort import FULL
from calculators.float.judge import Chance, Judge
from calculators.float.machine import Machine
from calculators.float.search import Plan, cheapest_first, filled, least_load
from calculators.float.setup import Setup, note_sale
from tests.calculators.float import reference
from tests.calculators.float.reference import ordered, random_spec

# The package's own name ``solve`` is the function of it.
solving = importlib.import_module("calculators.float.solve")


def planned(made: Judge, now: tuple[int, ...], sizes: tuple[int, ...]) -> Plan:
    at_once(made.prepare())
    return at_once(least_load(made, now, sizes))


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
    made = Judge(spec.setup(), chain.poisson(mean), max(wanted, 1e-6), 1)
    plan = planned(made, now, sizes)
    assert made.exact is not None
    good = [load for load, chance in chances.items() if chance > made.wanted]
    assert plan.met == bool(good)
    assert plan.proven
    assert not plan.open
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
    made = Judge(_many((200, 200, 200)), chain.poisson(12.0), 0.95, 1)
    plan = planned(made, (0, 0, 0), (20, 25, 20))
    monkeypatch.setattr(search, "LOADS", 3)
    short = planned(made, (0, 0, 0), (20, 25, 20))
    assert (plan.proven, short.proven) == (True, False)
    assert plan.met
    assert short.met
    assert short.tried == 3
    money = [500 * p.rolls[0] + 250 * p.rolls[1] + 100 * p.rolls[2] for p in (plan, short)]
    assert money[0] <= money[1] <= 3 * money[0]
    # None of its rolls could be left out.
    for place in range(3):
        less = tuple(rolls - (at == place) for at, rolls in enumerate(short.rolls))
        if min(less) >= 0:
            assert not at_once(made.decide(filled((0, 0, 0), less, (20, 25, 20), (200,) * 3))).met


def test_a_hopeless_search_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """No load is found in tubes that are far too small, tried through or given up; the best one is the fullest."""
    made = Judge(_many((8, 8, 8)), chain.poisson(60.0), 0.95, 1)
    assert not planned(made, (0, 0, 0), (4, 5, 4)).met
    poor = planned(Judge(_many((24, 24, 24)), chain.poisson(20.0), 0.999, 1), (0, 0, 0), (12, 12, 12))
    assert (poor.met, poor.proven) == (False, True)
    assert sum(poor.rolls) >= 5
    monkeypatch.setattr(search, "LOADS", 3)
    given_up = planned(made, (0, 0, 0), (4, 5, 4))
    assert (given_up.met, given_up.proven) == (False, False)


# -- how long is played ----------------------------------------------------------------------------


def test_runs_go_on_until_the_answer_is_clear() -> None:
    """A chance near the wanted one is played longer than one far from it, and may stay undecided."""
    spread, setup, counts = chain.poisson(6.0), _many((80, 80, 80)), (10, 10, 10)
    longest = judge._Played()
    base = Judge(setup, spread, 0.5, 1)
    at_once(base._play(base.machine.start(counts), longest, 65_536))
    level = longest.clean / longest.runs
    close = at_once(Judge(setup, spread, level, 1).decide(counts, 200_000))
    far = at_once(Judge(setup, spread, level - 0.2, 1).decide(counts, 200_000))
    assert 0.3 < level < 0.9
    assert close.met is None
    assert far.met is True
    assert far.runs < 1000 < close.runs
    # Twice as many runs would have cost more than was allowed.
    assert close.runs * base.run_cost <= 200_000 < 2 * close.runs * base.run_cost


def test_more_runs_only_add_to_those_that_were_played() -> None:
    """Decided a little at a time or at once: the same runs, the same looks, the same answer."""
    spread, setup, counts = chain.poisson(6.0), _many((80, 80, 80)), (12, 12, 12)
    bits, whole = (Judge(setup, spread, 0.9, 3) for _ in range(2))
    for sales in (1, 5_000, 50_000, 400_000):
        found = at_once(bits.decide(counts, sales))
    assert found == at_once(whole.decide(counts, 400_000))
    first = at_once(Judge(setup, spread, 0.9, 3).decide(counts, 1))
    assert first.runs == 64


def test_a_printed_chance_rests_on_enough_runs_and_changes_no_decision() -> None:
    """Decided by a few runs it is played on to 2,048, or to what they may cost, in whole groups."""
    spread, setup, counts = chain.poisson(6.0), _many((80, 80, 80)), (1, 1, 1)
    made = Judge(setup, spread, 0.95, 1)
    decided, printed = at_once(made.decide(counts)), at_once(made.chance(counts))
    assert decided.met is printed.met is False
    assert decided.runs < 2048 == printed.runs
    dear = Judge(setup, chain.poisson(3000.0), 0.95, 1)
    assert dear.runs == int(600_000 / dear.run_cost) // 64 * 64 < 200
    assert at_once(dear.rough(counts)).runs == 64
    assert at_once(made.rough(counts)).runs == 2048


@pytest.mark.parametrize("counts", [(1, 1, 1), (12, 12, 12), (60, 60, 60)])
def test_runs_played_to_their_end_tell_the_chance_as_well(counts: tuple[int, ...]) -> None:
    """The same chance and the same decision as if its runs had been played for it; nothing is played twice."""
    spread, setup = chain.poisson(6.0), _many((80, 80, 80))
    once, twice = (Judge(setup, spread, 0.9, seed) for seed in (3, 3))
    at_once(once.tally(counts))
    played = once._sales
    found = at_once(once.chance(counts))
    buyers._LAST.clear()
    assert found == at_once(twice.chance(counts))
    assert found.runs == 2048
    assert once._sales == played


def test_runs_are_the_same_kept_or_drawn_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """A group of a seed is one and the same, from wherever it is asked for; other seeds have others."""
    setup = _many((80, 80, 80))
    spread, machine = chain.poisson(6.0), Machine(setup)
    kept = list(Buyers(spread, machine, 5).some(0, 256))
    assert len(kept) == 256
    assert list(Buyers(spread, machine, 5).some(64, 128)) == kept[64:128] != kept[:64]
    monkeypatch.setattr(buyers, "KEPT", 0)
    assert list(Buyers(spread, machine, 5).some(0, 256)) == kept
    assert list(Buyers(spread, machine, 6).some(0, 256)) != kept
    made = Buyers(spread, machine, 5)
    list(made.some(0, 64))
    list(made.some(0, 64))
    assert made.drawn == 2 * sum(map(len, kept[:64]))


def test_small_set_ups_are_worked_out_and_larger_ones_played() -> None:
    """Up to 3,000 states and 40,000 moves; none with a box that may fill."""
    sales = tuple(note_sale(price, 100, 2) for price in (25, 75, 50))

    def exact(caps: tuple[int, int], **more: Any) -> bool:
        made = Judge(Setup((25, 5), caps, sales, (1.0,) * 3, (25, 50, 75), **more), chain.poisson(5.0), 0.9, 1)
        at_once(made.prepare())
        return made.exact is not None

    assert exact((53, 53))
    assert not exact((54, 55))  # 55 × 56 = 3,080
    assert not exact((20, 20), note_cap=4)
    assert not exact((20, 20), coin_cap=0) or True
    many = sales * 6
    made = Judge(Setup((25, 5), (50, 50), many, (1.0,) * 18, (25, 50, 75)), chain.poisson(5.0), 0.9, 1)
    at_once(made.prepare())
    assert made.exact is None  # 51 × 51 × 18 = 46,818


# -- the seed ------------------------------------------------------------------------------------


def varied(seed: int) -> dict[str, Any]:
    """A cabinet of two to four tubes, counted or not, that needs some change."""
    rng = random.Random(f"varied {seed}")
    names = rng.choice([["nickel", "dime", "quarter"], ["nickel", "quarter"], ["dime", "quarter", "quarter"],
                        ["nickel", "dime", "quarter", "dollar"]])  # fmt: skip
    tubes: list[dict[str, Any]] = [{"coin": name, "capacity": rng.randint(40, 90)} for name in names]
    if rng.random() < 0.6:
        for tube in tubes:
            tube["count"] = rng.randint(0, 30)
    step = 5 if "nickel" in names else 25
    prices = [{"price": f"{rng.randrange(75, 300, step) / 100:.2f}", "share": rng.randint(1, 9)}
              for _ in range(rng.randint(1, 4))]  # fmt: skip
    return {
        "tubes": tubes, "prices": prices, "sales_per_day": rng.randint(5, 20), "days": rng.choice([2, 3, 4]),
        "share_notes": rng.randint(10, 40), "share_exact": rng.randint(5, 40), "wanted": rng.choice([80, 90, 95, 98]),
        "takes_5": rng.choice(["yes", "no"]), "accept": rng.choice(["every", "cheapest", "whole"]),
        "payout": rng.choice(["largest", "any"]), "sales": rng.choice(["poisson", "fixed"]),
        "note_box": 400, "coin_box": 2000,
    }  # fmt: skip


def answers(inputs: dict[str, Any], rules: str = "us") -> list[tuple[float, str, bool]]:
    """For each of four seeds: the least money (much where there is none), the outcome, whether loads stay open."""
    found = []
    for seed in (1, 2, 77, 4004):
        result = calculators.run("float", {"inputs": {**inputs, "seed": seed}, "rules": rules})
        money = next(each["inner"] for each in result["values"] if each["key"] == "money")
        check = next(each for each in result["checks"] if each["key"] == "chance")
        said = result["tables"][0]["note"] + check["note"]
        found.append((1e9 if money is None else money, check["outcome"], "cannot be told apart" in said))
    return found


@pytest.mark.parametrize("case", [*range(24), "us", "ca", "uk", "eu", "au"])
def test_the_answer_is_the_same_for_every_seed_or_says_that_it_cannot_tell(
    case: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where one seed finds a cheaper load than another, the other says that loads cannot be told apart.

    Played a tenth as long as ever, so that loads are left open more often than a reader sees it.
    """
    monkeypatch.setattr(solving, "FULL", replace(FULL, quick=40_000, longest=400_000, near=100_000))
    if isinstance(case, str):
        found = answers(dict(CALCULATOR.example_in(case)[0]), case)
    else:
        found = answers(varied(case))
    least = min(money for money, _, _ in found)
    assert all(open_ for money, _, open_ in found if money > least), found
    outcomes = {outcome for _, outcome, _ in found}
    assert not {"pass", "stop"} <= outcomes


def test_open_loads_are_named_beside_the_safer_one() -> None:
    """How many, and what the cheapest would save; it lies below the plan's money."""
    result = calculators.run("float", {"inputs": dict(CALCULATOR.example_in("ca")[0]), "rules": "ca"})
    note = result["tables"][0]["note"]
    assert note.startswith("The safer of loads that cannot be told apart: this one surely will do.")
    assert "2 cheaper loads, from $37.00 on, lie too near the wanted chance to tell" in note
    assert next(each["inner"] for each in result["values"] if each["key"] == "money") == 4000


class Stub(Judge):
    """Judges by a table: what a short and what a long look tell of each load."""

    def __init__(self, told: dict[tuple[int, ...], tuple[bool | None, bool | None]]) -> None:
        super().__init__(_many((2, 2, 2)), chain.poisson(1.0), 0.9, 1)
        self.told, self.asked = told, []

    def decide(self, counts: Any, sales: float | None = None) -> Any:
        self.asked.append((tuple(counts), sales))
        met = self.told[tuple(counts)][sales is not None]
        return Chance(0.9, 0.8, 0.95, 9, 10, met)
        yield


def stubbed(**told: tuple[bool | None, bool | None]) -> tuple[Plan, Stub]:
    """Loads of single nickels, by how many: n0, n1, n2."""
    made = Stub({(0, 0, int(key[1:])): each for key, each in told.items()})
    setup = made.setup
    made.setup = Setup(setup.coins, (0, 0, 2), setup.sales, setup.weights, setup.prices)
    return at_once(least_load(made, (0, 0, 0), (1, 1, 1))), made


UNSURE, YES, NO = (None, None), (True, True), (False, False)


def test_what_becomes_of_loads_that_a_short_look_leaves_open() -> None:
    """Played on: taken where it will do, dropped where it will not, named where it stays open."""
    plan, made = stubbed(n0=UNSURE, n1=(None, True), n2=YES)
    assert (plan.rolls, plan.open, plan.met, plan.proven) == ((0, 0, 1), ((0, 0, 0),), True, True)
    assert [sales for _, sales in made.asked] == [None] * 3 + [FULL.near] * 2
    plan, _ = stubbed(n0=NO, n1=(None, False), n2=YES)
    assert (plan.rolls, plan.open) == ((0, 0, 2), ())
    plan, _ = stubbed(n0=NO, n1=UNSURE, n2=YES)
    assert (plan.rolls, plan.open) == ((0, 0, 2), ((0, 0, 1),))
    plan, _ = stubbed(n0=NO, n1=UNSURE, n2=NO)
    assert (plan.met, plan.proven, plan.open) == (False, True, ((0, 0, 1),))
    plan, made = stubbed(n0=NO, n1=YES, n2=UNSURE)
    assert (plan.rolls, plan.open, len(made.asked)) == ((0, 0, 1), (), 2)


# -- progress and stop ---------------------------------------------------------------------------


SLOW: dict[str, Any] = {
    "tubes": [{"coin": coin, "capacity": 150, "count": 40} for coin in ("nickel", "dime", "quarter", "dollar")],
    "prices": [{"price": f"{1.05 + 0.15 * number:.2f}", "share": 1} for number in range(12)],
    "sales_per_day": 150, "days": 3, "share_notes": 50, "share_exact": 25, "takes_10": "yes", "share_10": 20,
    "payout": "any", "note_box": 5000, "coin_box": 50000,
}  # fmt: skip


@pytest.mark.parametrize(("played", "drawn"), [(judge.SLICE, 0), (0, judge.SLICE), (judge.SLICE - 20_000, 20_000)])
def test_a_pause_comes_when_a_slice_was_played_or_drawn(played: int, drawn: int) -> None:
    """Both count alike, what was looked up counts too, and each pause begins a new slice."""
    made = Judge(_many((200, 200, 200)), chain.poisson(12.0), 0.95, 1)
    worked = judge.WORKED_OUT * made.machine.worked
    made.buyers.drawn += drawn
    made._sales += played - worked - 1
    assert not made._breath()
    made._sales += 1
    assert made._breath()
    assert not made._breath()
    made.buyers.drawn += judge.SLICE - 1
    assert not made._breath()
    made.machine.worked += 1
    assert made._breath()


def watched_judges(monkeypatch: pytest.MonkeyPatch) -> list[Judge]:
    """All judges made from now on."""
    made: list[Judge] = []
    begin = Judge.__init__

    def noted(self: Judge, *words: Any) -> None:
        begin(self, *words)
        made.append(self)

    monkeypatch.setattr(Judge, "__init__", noted)
    return made


def test_every_stretch_between_two_pauses_is_short(monkeypatch: pytest.MonkeyPatch) -> None:
    """In plain sales played or drawn: no more than a few slices, each of some hundredths of a second."""
    made = watched_judges(monkeypatch)
    monkeypatch.setattr(solving, "FULL", replace(FULL, searched=400_000))
    done, longest, pauses = 0.0, 0.0, 0
    for _ in CALCULATOR.steps({"inputs": SLOW}):
        worked = sum(machine.worked for machine in {id(each.machine): each.machine for each in made}.values())
        now = sum(each._sales + each.buyers.drawn for each in made) + judge.WORKED_OUT * worked
        longest, done, pauses = max(longest, now - done), now, pauses + 1
    assert pauses > 20
    assert longest < 8 * judge.SLICE


@pytest.mark.parametrize("before", [1, 4, 12])
def test_stopped_it_answers_soon_and_says_so(before: int) -> None:
    """Wherever it is: an answer within a few steps, that never claims what was not tried."""
    running = calculators.begin_json("float", json.dumps({"inputs": SLOW}))
    for _ in range(before):
        assert running.advance().startswith(calculators.PROGRESS)
    running.stop()
    for _ in range(40):
        if not (answer := running.advance()).startswith(calculators.PROGRESS):
            break
    result = json.loads(answer)
    check = next(each for each in result["checks"] if each["key"] == "chance")
    assert "You stopped it" in check["note"]
    assert "every cheaper load was tried" not in result["tables"][0]["note"]
    assert "too many loads" not in check["note"]


def test_stopped_before_its_loads_are_compared_it_still_answers() -> None:
    """Of a load that was played for longer than the first look, no more is played than that."""
    inputs = {"sales_per_day": "25", "days": "14", "share_notes": "5", "wanted": "95", "share_exact": "20",
              "prices": [{"price": "2.50", "share": "33.3333"}, {"price": "3.00", "share": "40"}, {"price": "4.00", "share": "26.6667"}],
              "tubes": [{"coin": coin, "height": "115 mm"} for coin in ("5c", "10c", "20c", "50c")]}  # fmt: skip
    running = calculators.begin_json("float", json.dumps({"units": "si", "rules": "au", "inputs": inputs}))
    while (answer := running.advance()).startswith(calculators.PROGRESS):
        running.stop()
    result = json.loads(answer)
    assert "fault" not in result
    assert "You stopped it" in next(each for each in result["checks"] if each["key"] == "chance")["note"]


def test_step_by_step_it_comes_to_the_same_end() -> None:
    """Its steps are sentences; the answer is that of one run."""
    request = {"inputs": dict(CALCULATOR.example)}
    assert len({each.text for each in CALCULATOR.steps(request)}) >= 3
    assert finish(CALCULATOR.steps(request)) == calculators.run("float", request)


# -- bounds in place of certainty ------------------------------------------------------------------


def test_without_a_refusal_a_bound_is_printed_and_no_error() -> None:
    """A full cabinet and a short stay: “more than”, never 100%; with a refusal seen the error is back."""
    rich = {"tubes": [{"coin": coin, "capacity": 300, "count": 300} for coin in ("nickel", "dime", "quarter")],
            "prices": [{"price": "1.25", "share": 1}, {"price": "1.60", "share": 1}], "sales_per_day": 12, "days": 2,
            "share_notes": 40, "share_exact": 20, "share_over": 0, "note_box": 4000, "coin_box": 20000}  # fmt: skip
    result = calculators.run("float", {"inputs": rich})
    values = {each["key"]: each for each in result["values"]}
    assert values["chance"]["inner"] == pytest.approx(100 * 0.00135 ** (1 / 2048))
    assert values["short"]["inner"] == pytest.approx(100 - values["chance"]["inner"])
    assert values["error"]["text"] == "–"
    assert "100.00%" not in json.dumps(result)
    check = next(each for each in result["checks"] if each["key"] == "chance")
    assert check["outcome"] == "pass"
    assert "No refusal in 2,048 runs: the chance is more than 99.67%" in check["note"]
    gains = next(each["rows"] for each in result["tables"] if each["title"] == "What each load buys")
    assert gains[0][2] == "more than 99.67%"
    poor = calculators.run("float", {"inputs": {**rich, "tubes": [{**tube, "count": 25} for tube in rich["tubes"]]}})
    values = {each["key"]: each for each in poor["values"]}
    assert values["error"]["inner"] > 0
