"""Prices paid in cash where the smallest coins are gone, and money in whole cents throughout."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.core import Work, rules
from calculators.core.reading import read_record
from calculators.core.units import Units
from calculators.float import CALCULATOR
from calculators.float.cash import cash_prices
from calculators.float.coinage import book, notes, stacks
from calculators.float.inputs import Inputs
from calculators.float.setup import Setup, build, shares
from tests.calculators.float.test_sets import SETS, cases, check, example, run, steps


@pytest.mark.parametrize("case", cases("rounding"))
def test_a_price_in_cash_is_rounded_as_the_notices_print_it(case: dict[str, Any]) -> None:
    """Shown in the working with the law and its date; a price already on a step is not."""
    base = example(case["rules"])
    for price, paid in case["paid"].items():
        inputs = {**base, "prices": [{"price": price, "share": "1"}], "rounding": case["place"]}
        result = run(case["rules"], inputs)
        shown = [group for group in result["working"] if group["title"] == "Price 1 in cash"]
        assert bool(shown) == (price != paid)
        if shown:
            found = {step["symbol"]: step for step in shown[0]["steps"]}
            assert f"{found['K']['value']:.2f}" == paid
            assert "since" in found["c"]["note"]


@pytest.mark.parametrize(("exact", "outcome"), [("20", "stop"), ("0", "pass")])
def test_a_price_that_no_coins_make_up_is_wrong_where_somebody_brings_them(exact: str, outcome: str) -> None:
    """Where all pay without cash it is as good as any other."""
    inputs = {**example("us"), "prices": [{"price": "1.27", "share": "1"}], "rounding": "none", "share_notes": "0",
              "share_over": "0", "share_exact": exact}  # fmt: skip
    assert check(run("us", inputs), "price", "Price 1")["outcome"] == outcome


def judged(inputs: dict[str, Any], name: str = "us") -> Setup:
    """The set-up of inputs, 40 coins in each tube at most."""
    record = read_record(Inputs, inputs, "si")
    work = Work(CALCULATOR, record, rules.load(name), Units("si"))
    coins, paid, split = book(work), cash_prices(work), shares(record)
    assert split is not None
    assert all(isinstance(price, int) for price in paid)
    held = stacks(coins, record.tubes, [40 for _ in record.tubes])
    return build(record, coins, notes(work), held, split, [price or 0 for price in paid])


def test_whoever_never_comes_is_no_kind_of_buyer() -> None:
    """A way to pay of which there is no share, and a price that is never asked, take nothing from what is surely served."""
    inputs = {**example("us"), "prices": [{"price": "1.25", "share": "100"}], "share_notes": "40", "share_exact": "0", "share_over": "0"}
    setup = judged(inputs)
    assert setup.sales
    assert all(weight > 0 for weight in setup.weights)
    assert all(sale.notes for sale in setup.sales)
    more = judged({**inputs, "prices": [{"price": "1.25", "share": "100"}, {"price": "4.75", "share": "0"}]})
    assert (more.sales, more.weights) == (setup.sales, setup.weights)


def test_change_is_given_for_the_rounded_price() -> None:
    """With 5-cent steps 1.99 is paid as 2.00: no cent is ever wanted as change."""
    inputs = {**example("ca"), "prices": [{"price": "1.99", "share": "1"}]}
    assert check(run("ca", inputs), "price", "Price 1")["outcome"] == "pass"
    exact = run("ca", {**inputs, "rounding": "none"})
    assert check(exact, "price", "Price 1")["outcome"] == "stop"
    rounded = run("ca", {**inputs, "prices": [{"price": "2.00", "share": "1"}]})
    for key in ("chance", "left", "note_bank", "refused"):
        found = [next(each["inner"] for each in result["values"] if each["key"] == key)
                 for result in (run("ca", inputs), rounded)]  # fmt: skip
        assert found[0] == found[1]


def test_the_mend_of_a_price_is_one_that_cash_can_pay() -> None:
    """Under rounding too: the printed price, typed in, passes."""
    inputs = {**example("au"), "prices": [{"price": "2.97", "share": "1"}]}
    found = check(run("au", inputs), "price", "Price 1")
    assert found["outcome"] == "stop"  # 2.95 needs a five-cent coin, and no tube holds one
    assert "$0.05" in found["text"] or "2.05" in found["text"]
    inputs["prices"][0]["price"] = found["mend"]["changes"]["prices.0.price"]
    assert check(run("au", inputs), "price", "Price 1")["outcome"] == "pass"


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_money_is_whole_cents_from_the_price_to_the_change(data: st.DataObject) -> None:
    """Nothing of a set-up is a binary fraction of a cent, and nothing is lost in a sale."""
    name = data.draw(st.sampled_from(SETS))
    cents = data.draw(st.lists(st.integers(1, 1500), min_size=1, max_size=3, unique=True))
    inputs = {**example(name), "share_over": "10",
              "prices": [{"price": f"{each // 100}.{each % 100:02d}", "share": "1"} for each in cents]}  # fmt: skip
    setup = judged(inputs, name)
    for sale in setup.sales:
        come = sum(coin * count for coin, count in zip(setup.coins, sale.coins, strict=True))
        assert all(isinstance(each, int) for each in (sale.price, sale.change, sale.loose_value, *sale.credits))
        assert not sale.possible or come + sale.loose_value + sale.notes * sale.note == sale.price + sale.change


def test_an_operators_own_rounding_rule_counts() -> None:
    """Dated and editable: the operator's row takes the place of the set's, and the sheet says so."""
    row = {"name": "country", "step": 10, "since": "2030-01-01", "law": "our law"}
    local = {"coins.rounding": {"value": [row], "label": "Ours"}}
    inputs = {**example("us"), "prices": [{"price": "1.26", "share": "1"}]}
    result = run("us", inputs, local=local)
    found = steps(result, "Price 1 in cash")
    assert found["K"]["value"] == pytest.approx(1.30, abs=1e-12)
    assert "our law, since 2030-01-01 (this operator's rule)" in found["c"]["note"]
    claimed = {"coins.rounding": {"value": [{**row, "status": "published"}], "label": "Ours"}}
    assert "our law, since 2030-01-01 (this operator's rule)" in steps(run("us", inputs, local=claimed), "Price 1 in cash")["c"]["note"]
    assert "coins.rounding" in result["local"]


def test_a_place_that_the_set_does_not_know_is_no_figure() -> None:
    """Finland's rule is not one of Canada's."""
    found = check(run("ca", {**example("ca"), "rounding": "finland"}), "chance")
    assert found["outcome"] == "unknown"
    assert "Finland" in found["note"]
