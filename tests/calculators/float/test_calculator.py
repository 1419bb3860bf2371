"""The whole calculator: from typed inputs to checks, mends, values, tables and figure."""

from __future__ import annotations

import copy
import json
import math
import os
import random
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import calculators
from calculators.core.reading import read_record
from calculators.float import CALCULATOR
from calculators.float.coinage import Coin, stacks
from calculators.float.inputs import Inputs
from calculators.float.setup import build, shares
from tests.calculators.float import reference
from tests.calculators.float.reference import Spec
from tests.support.drawn import SVG, Figure
from tests.support.mends import changed

ROOT = Path(__file__).parents[3]
COINS = {"cent": 1, "nickel": 5, "dime": 10, "quarter": 25, "half": 50, "dollar": 100}
PLAIN: dict[str, Any] = {
    "tubes": [{"coin": "nickel", "capacity": 50, "count": 20}, {"coin": "dime", "capacity": 70, "count": 20},
              {"coin": "quarter", "capacity": 60, "count": 20}],
    "prices": [{"price": "1.25", "share": 2}, {"price": "1.60", "share": 1}],
    "sales_per_day": 12, "days": 2, "share_notes": 40, "share_exact": 20, "share_over": 0, "wanted": 95,
    "note_box": 400, "coin_box": 2000,
}  # fmt: skip


def run(units: str = "us", **changes: Any) -> dict[str, Any]:
    inputs = {**copy.deepcopy(PLAIN), **changes}
    return calculators.run("float", {"units": units, "inputs": {k: v for k, v in inputs.items() if v is not None}})


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def value(result: dict[str, Any], key: str) -> Any:
    return next(each["inner"] for each in result["values"] if each["key"] == key)


def table(result: dict[str, Any], title: str) -> list[Any]:
    return next(each["rows"] for each in result["tables"] if each["title"] == title)


# -- from inputs to buyers ----------------------------------------------------------------


def _spec(notes: dict[int, float], inputs: dict[str, Any]) -> Spec:
    """The buyers that the inputs mean, written out by hand for prices with even shares."""
    kinds: list[Any] = []
    weights = []
    prices = {round(float(row["price"]) * 100): row["share"] for row in inputs["prices"]}
    caps = {COINS[tube["coin"]]: tube["capacity"] for tube in inputs["tubes"]}
    for price, share in prices.items():
        for note, part in notes.items():
            kinds.append(("note", price, note))
            weights.append(inputs["share_notes"] * part * share)
        left, paid = price, {}
        for coin in sorted(caps, reverse=True):
            paid[coin], left = divmod(left, coin)
        kinds.append(("coins", price, None if left else paid))
        weights.append(inputs.get("share_exact", 0) * share)
        kinds.append(("coins", price, {25: math.ceil(price / 25)}))
        weights.append(inputs.get("share_over", 0) * share)
    kept = [number for number, weight in enumerate(weights) if weight]
    return Spec(caps, list(prices), [kinds[n] for n in kept], [float(weights[n]) for n in kept],
                inputs.get("payout", "largest"), inputs.get("accept", "every"), inputs.get("own", True),
                note_cap=inputs.get("note_box"), coin_cap=inputs.get("coin_box"))  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "notes"),
    [
        ({}, {100: 0.8, 500: 0.2}),
        ({"share_over": 15, "over_coin": "quarter", "own_coins": "no"}, {100: 0.8, 500: 0.2}),
        ({"takes_5": "no", "accept": "whole"}, {100: 1.0}),
        ({"share_1": 0, "share_5": 50, "share_10": 50, "takes_10": "yes", "accept": "cheapest"},
         {500: 0.5, 1000: 0.5}),
        ({"payout": "any", "note_box": 13, "coin_box": 60}, {100: 0.8, 500: 0.2}),
    ],
)  # fmt: skip
def test_the_inputs_mean_what_they_say(changes: dict[str, Any], notes: dict[int, float]) -> None:
    """Chance and refusals of the whole calculator against the independent model, within 3 SE."""
    result = run(**changes)
    inputs = {**PLAIN, **changes, "own": changes.get("own_coins") != "no"}
    spec = _spec(notes, inputs)
    cash = (inputs["share_notes"] + inputs["share_exact"] + inputs.get("share_over", 0)) / 100
    counts = {COINS[tube["coin"]]: tube["count"] for tube in inputs["tubes"]}
    runs = 600
    refused = reference.simulate(spec, counts, 12 * 2 * cash, runs, 5)
    clean = float(np.mean(refused == 0))
    chance = value(result, "chance") / 100
    played = next(step["value"] for group in result["working"] for step in group["steps"]
                  if step["symbol"] == "R")  # fmt: skip
    middle = (clean * runs + 1) / (runs + 2)
    assert abs(clean - chance) <= 3 * math.sqrt(middle * (1 - middle) * (1 / runs + 1 / played))


def test_each_way_to_pay_is_a_kind_of_sale() -> None:
    """Coins in, notes in and change of one price, by hand; a price met by the coin itself needs none."""
    inputs = read_record(Inputs, {**PLAIN, "share_over": 10, "prices": [{"price": "1.25", "share": 1},
                                                                     {"price": "1.60", "share": 1}]}, "us")  # fmt: skip
    coins = {name: Coin(name, cents, 1.0, 1.0, 40) for name, cents in COINS.items()}
    held = stacks(coins, inputs.tubes, [50, 70, 60])
    split = shares(inputs)
    assert split is not None
    setup = build(inputs, coins, {"1": 100, "5": 500}, held, split)
    assert setup.coins == (25, 10, 5)
    found = sorted(((sale.price, sale.note, sale.credits, sale.coins, sale.change), round(weight, 9))
                   for sale, weight in zip(setup.sales, setup.weights, strict=True))  # fmt: skip
    assert found == sorted([
        ((125, 100, (100, 200), (0, 0, 0), 75), 16.0), ((160, 100, (100, 200), (0, 0, 0), 40), 16.0),
        ((125, 500, (500,), (0, 0, 0), 375), 4.0), ((160, 500, (500,), (0, 0, 0), 340), 4.0),
        ((125, 0, (), (5, 0, 0), 0), 10.0), ((160, 0, (), (6, 1, 0), 0), 10.0),
        ((125, 0, (), (5, 0, 0), 0), 5.0), ((160, 0, (), (7, 0, 0), 15), 5.0),
    ])  # fmt: skip
    assert math.fsum(setup.weights) == pytest.approx(40 + 20 + 10)


def test_fixed_sales_are_rounded_up_to_whole_ones() -> None:
    """2.4 days of 2.1 sales are six sales, all in notes: two quarters each, from eleven."""
    changes: dict[str, Any] = {
        "tubes": [{"coin": "quarter", "capacity": 11, "count": 11}], "prices": [{"price": "1.50", "share": 1}],
        "sales": "fixed", "sales_per_day": 2.1, "days": 2.4, "share_notes": 100, "share_exact": None,
        "takes_5": "no", "wanted": 50,
    }  # fmt: skip
    result = run(**changes)
    assert value(result, "chance") == 0.0  # exactly: the sixth buyer is always refused
    changes["tubes"][0].update(capacity=12, count=12)
    assert value(run(**changes), "chance") == 100.0
    assert value(run(**changes), "sure") == 6


# -- unknown ------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["tubes", "prices", "sales_per_day", "days", "share_notes"])
def test_without_a_needed_input_the_chance_is_unknown(key: str) -> None:
    """It names what is missing, and never passes."""
    result = run(**{key: None})
    found = check(result, "chance")
    assert found["outcome"] == "unknown"
    assert key in found["needs"]
    assert result["outcome"] in ("unknown", "stop")
    assert result["measure_next"] is not None


@pytest.mark.parametrize("row", ["tubes", "prices"])
def test_a_gap_in_a_row_is_unknown(row: str) -> None:
    """Each part of a tube or a price can be missing."""
    for key in list(PLAIN[row][0]):
        changed = copy.deepcopy(PLAIN[row])
        del changed[1][key]
        found = check(run(**{row: changed}), "chance")
        missing = "height" if key == "capacity" else key
        assert (found["outcome"], found["needs"]) == ("unknown", [f"{row}.1.{missing}"])


def test_uncounted_tubes_are_planned_from_empty() -> None:
    """With no count at all the answer is about the planned load, and says so."""
    tubes = [{k: v for k, v in tube.items() if k != "count"} for tube in PLAIN["tubes"]]
    result = run(tubes=tubes)
    found = check(result, "chance")
    assert found["outcome"] == "pass"
    assert "taken as empty" in found["note"]
    assert value(result, "chance") == value(result, "loaded")
    assert value(result, "money") > 0
    assert table(result, "What each load buys")[0][0] == "Empty tubes"


# -- checks and mends ---------------------------------------------------------------------


def _random_inputs(rng: random.Random) -> dict[str, Any]:
    """A cabinet as one meets it, small enough to be quick, often with something wrong."""
    names = rng.choice([["nickel", "dime", "quarter"], ["nickel", "quarter"], ["dime", "quarter", "quarter"]])
    tubes: list[dict[str, Any]] = []
    counted = rng.random() < 0.8
    for name in names:
        room = rng.randint(20, 80)
        tube: dict[str, Any] = {"coin": name, "capacity": room}
        if counted:
            tube["count"] = rng.randint(0, room) if rng.random() < 0.85 else room + rng.randint(1, 9)
        if rng.random() < 0.3:
            tube["low"] = rng.randint(1, 15)
        tubes.append(tube)
    step = 5 if "nickel" in names else rng.choice([5, 25])
    prices = [{"price": f"{rng.randrange(50, 260, step) / 100:.2f}", "share": rng.randint(1, 9)}
              for _ in range(rng.randint(1, 3))]  # fmt: skip
    inputs: dict[str, Any] = {
        "tubes": tubes, "prices": prices, "sales_per_day": rng.randint(3, 12),
        "days": round(rng.uniform(0.5, 4), 1), "share_notes": rng.randint(10, 60),
        "share_exact": rng.randint(0, 60), "share_over": rng.choice([0, 0, 10, 60]), "wanted": rng.choice([80, 90, 95, 99]),
        "takes_5": rng.choice(["yes", "no"]), "accept": rng.choice(["every", "cheapest", "whole"]),
        "payout": rng.choice(["largest", "any"]), "sales": rng.choice(["poisson", "fixed"]),
        "note_box": rng.choice([5, 30, 400]), "coin_box": rng.choice([10, 2000]),
        "seed": rng.randint(0, 99),
    }  # fmt: skip
    if rng.random() < 0.2:
        inputs["low_value"] = f"{rng.randint(1, 12)}.00"
    if rng.random() < 0.2:
        inputs["share_cashless"] = rng.randint(0, 60)
    return inputs


@pytest.mark.parametrize("units", ["us", "si"])
def test_mends_work_on_two_hundred_failures(units: str) -> None:
    """Every printed mend turns its check to pass; every failure has a mend or says what to do.

    A hundred in each unit system, of cabinets as one meets them.
    """
    rng, mended, loads = random.Random(f"mends {units}"), 0, 0
    while mended < 100:
        inputs = _random_inputs(rng)
        for found in calculators.run("float", {"units": units, "inputs": inputs})["checks"]:
            if found["outcome"] not in ("stop", "caution"):
                continue
            assert found["mend"] or found["note"], found
            if found["mend"]:
                again = calculators.run("float", {"units": units, "inputs": changed(inputs, found["mend"]["changes"])})
                same = [each for each in again["checks"] if (each["key"], each["at"]) == (found["key"], found["at"])]
                assert [each["outcome"] for each in same] == ["pass"], (inputs, found)
                mended += 1
                loads += found["key"] == "chance"
    assert loads > 10, "too few mends of the chance itself came up"


def test_where_no_load_does_an_earlier_visit_is_the_mend() -> None:
    """Small tubes and a long stay: the mend is the fullest load that helps and fewer days."""
    tubes = [{"coin": "nickel", "capacity": 20, "count": 2}, {"coin": "quarter", "capacity": 20, "count": 2}]
    result = run(tubes=tubes, days=14, share_exact=0, takes_5="no")
    mend = check(result, "chance")["mend"]
    assert "Visit earlier" in mend["text"]
    days = float(mend["changes"]["days"].split()[0])
    assert 0 < days < 14
    longer = {**mend["changes"], "days": f"{days + 1.5} days"}
    after = calculators.run("float", {"inputs": changed({**PLAIN, "tubes": tubes, "share_exact": 0, "takes_5": "no"}, longer)})
    assert check(after, "chance")["outcome"] != "pass"


def test_a_price_that_cannot_be_changed_is_found() -> None:
    """Quarters and dimes with largest-first strand 30 cents; any mix pays it."""
    tubes = [{"coin": "dime", "capacity": 50, "count": 30}, {"coin": "quarter", "capacity": 50, "count": 30}]
    prices = [{"price": "0.70", "share": 1}]
    bad = run(tubes=tubes, prices=prices, takes_5="no", share_exact=0)
    assert check(bad, "price")["outcome"] == "stop"
    assert "$0.30" in check(bad, "price")["text"]
    assert check(run(tubes=tubes, prices=prices, takes_5="no", share_exact=0, payout="any"), "price")["outcome"] == "pass"


def test_two_tubes_of_one_coin_are_one_stack() -> None:
    """Two tubes of 30 quarters give the same chance as one of 60, and are loaded one by one."""
    one = run()
    pair = [*PLAIN["tubes"][:2], {"coin": "quarter", "capacity": 30, "count": 12},
            {"coin": "quarter", "capacity": 30, "count": 8}]  # fmt: skip
    assert value(run(tubes=pair), "chance") == value(one, "chance")
    poor = [{**tube, "count": 2} for tube in pair]
    mend = check(run(tubes=poor, wanted=99), "chance")["mend"]
    assert all(float(count) <= 30 for path, count in mend["changes"].items() if path.startswith(("tubes.2", "tubes.3")))


def test_a_full_note_box_turns_note_buyers_away() -> None:
    """A box of three notes: the chance falls, the check cautions, the reason is named."""
    result = run(note_box=3)
    assert check(result, "note_box")["outcome"] == "caution"
    assert value(result, "chance") < 20
    assert "bill box full" in dict(table(result, "Buyers refused until the visit, on average"))


def test_a_box_too_small_for_any_stay_has_to_be_a_larger_one_that_holds_whole_coins() -> None:
    """A tenth of a day already brings more: no earlier visit helps, and what is told is a number of pieces that does."""
    busy = {"days": 0.1, "sales_per_day": 300}
    for key in ("note_box", "coin_box"):
        [told] = check(run(**busy, **{key: 1}), key)["mend"]["changes"].items()
        assert told[0] == key
        assert check(run(**busy, **{key: int(told[1])}), key)["outcome"] == "pass"
        assert check(run(**busy, **{key: int(told[1]) - 1}), key)["outcome"] != "pass"


def test_refused_buyers_who_pay_cashless_are_no_lost_sales() -> None:
    """Refusals stay, the money lost goes."""
    poor = [{**tube, "count": 1} for tube in PLAIN["tubes"]]
    leave, stay = run(tubes=poor, days=9), run(tubes=poor, days=9, refused="cashless")
    assert value(leave, "refused") == value(stay, "refused") > 0
    assert value(leave, "lost") > 0 == value(stay, "lost")


def test_coin_buyers_may_begin_with_a_smaller_coin() -> None:
    """Exact buyers with dimes fill the dime tube; with fewest coins they fill the quarters."""
    changes: dict[str, Any] = {"share_exact": 50, "takes_5": "no",
                               "tubes": [{**tube, "capacity": 300} for tube in PLAIN["tubes"]]}  # fmt: skip
    ends = {row[0]: row for row in table(run(**changes), "Coins in the tubes")}
    changes["coin_mix"] = [{"coin": "dime", "share": 1}]
    dimes = {row[0]: row for row in table(run(**changes), "Coins in the tubes")}
    assert float(dimes["Dime"][4]) > float(ends["Dime"][4]) + 5
    assert float(dimes["Quarter"][4]) < float(ends["Quarter"][4]) - 5


# -- what is given ------------------------------------------------------------------------


def test_the_load_table_adds_up_in_both_unit_systems() -> None:
    """Money is exact; weight is the same in ounces and grams; rolls stand first in the first table."""
    poor = [{**tube, "count": 0} for tube in PLAIN["tubes"]]
    us, si = run("us", tubes=poor), run("si", tubes=poor)
    assert us["tables"][0]["columns"][0] == "Rolls"
    money = sum(float(row[3].lstrip("$")) for row in us["tables"][0]["rows"])
    assert value(us, "money") == round(money * 100)
    assert value(us, "mass") == value(si, "mass")
    numbers = {name: next(each["value"] for each in result["values"] if each["key"] == "mass")
               for name, result in (("us", us), ("si", si))}  # fmt: skip
    assert numbers["us"] * 28.349523125 == pytest.approx(numbers["si"], rel=1e-12)


def test_what_each_load_buys_starts_as_it_stands() -> None:
    """The first line is the chance now, the second the plan, then one more roll of each coin."""
    poor = [{**tube, "count": 3} for tube in PLAIN["tubes"]]
    result = run(tubes=poor)
    rows = table(result, "What each load buys")
    assert float(rows[0][2].rstrip("%")) == pytest.approx(value(result, "chance"), abs=0.01)
    assert float(rows[1][2].rstrip("%")) == pytest.approx(value(result, "loaded"), abs=0.01)
    assert len(rows) >= 3


def test_notes_go_off_after_some_sales() -> None:
    """The twentieth of visits where notes stop first, as the independent model has it; else a dash."""
    tubes = [{**tube, "count": 30, "low": None} for tube in PLAIN["tubes"]]
    tight = run(tubes=tubes, days=20, share_exact=None, takes_5="no")
    spec = _spec({100: 1.0}, {**PLAIN, "share_exact": 0})
    rng = np.random.default_rng(3)
    chances, firsts = np.array(spec.weights) / sum(spec.weights), []
    for _ in range(1500):
        unit, served = reference.Unit(spec, {5: 30, 10: 30, 25: 30}), 0
        while unit.offer(spec.kinds[rng.choice(len(chances), p=chances)]):
            served += 1
        firsts.append(served / 0.4)  # of ten sales four are paid with notes
    low, high = np.quantile(firsts, [0.03, 0.075])
    assert low <= value(tight, "notes_off") <= high
    rich = [{**tube, "capacity": 900, "count": 900} for tube in PLAIN["tubes"]]
    assert value(run(tubes=rich), "notes_off") is None


def test_bars_have_the_length_of_their_numbers() -> None:
    """Each bar's width is its number times the one scale; none is wider than what the tubes hold."""
    svg = run()["figures"][0]
    bars = re.findall(r'<rect [^>]*width="([\d.]+)"[^>]*data-inner="([\d.]+)" data-scale="([\d.]+)"', svg)
    assert len(bars) == 9
    for width, count, scale in bars:
        assert float(width) == pytest.approx(float(count) * float(scale), abs=0.006)
    assert len({scale for _, _, scale in bars}) == 1


def test_bars_begin_at_one_edge_and_the_tubes_end_at_a_line() -> None:
    """Three bars a coin, each with its number; the line stands at what the tubes hold, across all three."""
    figure = Figure.of(run()["figures"][0])
    rects = [each for each in figure.root.iter(f"{SVG}rect") if each.get("data-inner")]
    scale = float(rects[0].get("data-scale", "nan"))
    lines = figure.lines("limit")
    rooms = [int(words.rpartition(" ")[2]) for words, _ in figure.words() if "tubes hold" in words]
    assert len(lines) == len(rooms) == len(rects) / 3
    assert {float(each.get("x", "nan")) for each in rects} == {8.0}
    for number, (((x, top), (same, foot)), room) in enumerate(zip(lines, rooms, strict=True)):
        assert x == same == pytest.approx(8 + room * scale, abs=0.01)
        mine = [float(each.get("y", "nan")) for each in rects[3 * number : 3 * number + 3]]
        assert top <= mine[0] < mine[1] < mine[2] < foot
        start = round(float(rects[3 * number].get("data-inner", "nan")))
        assert (f"{start}", mine[0] + 11) in [(words, at[1]) for words, at in figure.words()]


def test_the_same_request_gives_the_same_text_in_another_process() -> None:
    """No clock, no hash order, no state left from a run before."""
    request = json.dumps({"inputs": dict(CALCULATOR.example), "html": True})
    code = "import sys, calculators; sys.stdout.write(calculators.run_json('float', sys.argv[1]))"
    run(days=9)
    here = calculators.run_json("float", request)
    assert here == calculators.run_json("float", request)
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"}
        there = subprocess.run([sys.executable, "-c", code, request], cwd=ROOT, env=env, check=True,
                               capture_output=True, encoding="utf-8")  # fmt: skip
        assert there.stdout == here


def test_another_seed_plays_other_buyers() -> None:
    """The chance moves, but not past the interval."""
    poor = [{**tube, "count": 12} for tube in PLAIN["tubes"]]
    chances = [value(run(tubes=poor, seed=seed), "chance") for seed in (1, 2, 3)]
    assert len(set(chances)) > 1
    assert max(chances) - min(chances) < 8
