"""What is said of buyers and tubes counts as it is said: bills that come back, coins that do not fit, a blank that hides."""

from __future__ import annotations

import copy
from typing import Any

import pytest

import calculators
from calculators.core import InputErrors
from calculators.core.reading import read_record
from calculators.float.inputs import Inputs
from calculators.float.setup import over_unknown, shares, taken, turned_away
from tests.support.mends import changed

# Full tubes, few sales: whoever can be given change here gets it.
FULL: dict[str, Any] = {
    "tubes": [{"coin": "nickel", "capacity": 50, "count": 40}, {"coin": "dime", "capacity": 70, "count": 40},
              {"coin": "quarter", "capacity": 120, "count": 100}],
    "prices": [{"price": "1.25", "share": 2}, {"price": "1.60", "share": 1}],
    "sales_per_day": 5, "days": 2, "share_notes": 20, "share_exact": 20, "share_over": 0, "wanted": 95,
    "note_box": 400, "coin_box": 2000,
}  # fmt: skip
# Nothing in the tubes, and nobody is said to bring a bill.
EMPTY: dict[str, Any] = {
    "tubes": [{"coin": coin, "height": "115 mm", "count": 0} for coin in ("10p", "20p", "50p", "1gbp")],
    "prices": [{"price": price, "share": 1} for price in ("1.20", "1.50", "1.80", "2.50")],
    "sales_per_day": 20, "days": 4, "share_notes": 0, "share_exact": 60, "note_box": 400, "coin_box": 2000,
}  # fmt: skip


def run(inputs: dict[str, Any], rules: str = "us", units: str = "us") -> dict[str, Any]:
    known = {key: value for key, value in copy.deepcopy(inputs).items() if value is not None}
    return calculators.run("float", {"inputs": known, "rules": rules, "units": units, "typed": "si" if rules == "uk" else "us"})


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


# -- bills --------------------------------------------------------------------------------


def test_full_tubes_are_go_where_every_bill_that_is_brought_is_taken() -> None:
    assert run(FULL)["outcome"] == "pass"
    assert check(run(FULL), "bills")["outcome"] == "pass"


@pytest.mark.parametrize(("share", "part"), [(1, "1.0%"), (100, "50.0%"), (60, "37.5%")])
def test_buyers_of_whom_some_bring_a_bill_that_is_not_taken_are_no_go(share: int, part: str) -> None:
    """However few: they are turned away whatever the tubes hold. The mend takes their bill; so does a share of none."""
    result = run({**FULL, "share_10": share})
    found = check(result, "bills")
    assert (result["outcome"], found["outcome"]) == ("stop", "stop")
    assert found["text"] == f"Bills of $10.00 are not taken: {part} of the bill buyers are turned away."
    assert "left out" in check(result, "chance")["note"]
    assert check(run(changed({**FULL, "share_10": share}, found["mend"]["changes"])), "bills")["outcome"] == "pass"
    assert check(run({**FULL, "share_10": share, "takes_10": "yes"}), "bills")["outcome"] == "pass"


@pytest.mark.parametrize("how", [{"share_1": 0, "share_5": 0, "share_10": 100}, {"takes_1": "no", "takes_5": "no"}])
def test_where_none_of_their_bills_is_taken_bill_buyers_are_refused_and_given_no_other_bill(how: dict[str, Any]) -> None:
    """Both ways to say it come to one chance, that no bill buyer comes; no load is called its mend."""
    result = run({**FULL, **how})
    assert [check(result, key)["outcome"] for key in ("chance", "bills")] == ["stop", "stop"]
    assert next(each["inner"] for each in result["values"] if each["key"] == "chance") == pytest.approx(100 * 2.718281828**-2, abs=2.5)
    assert "no load helps those buyers" in check(result, "chance")["note"]
    assert "the price cannot be paid so" in [row[0] for table in result["tables"] if table["key"] == "refused" for row in table["rows"]]


def test_bills_have_the_parts_that_are_said() -> None:
    """Of those taken each its part; of those that are not, their part of all; a bill of no set has none."""
    said = {"share_1": 40, "share_5": 40, "share_10": 20, "takes_5": "no"}
    inputs = read_record(Inputs, said, "us")
    known = {"1": 100, "5": 500, "10": 1000, "20": 2000}
    assert taken(inputs, known) == {100: 1.0}
    assert turned_away(inputs, known) == pytest.approx({"5": 0.4, "10": 0.2})
    assert taken(inputs, {"10": 1000, "20": 2000}) == {}


def test_no_bill_that_nobody_brings_counts_where_no_sale_is_paid_with_bills() -> None:
    assert check(run({**FULL, "share_notes": 0, "share_10": 100}), "bills")["outcome"] == "pass"


def test_bill_buyers_without_any_bill_are_a_contradiction() -> None:
    """Both sides are named. A bill that the set has not is none; without bill buyers nothing contradicts."""
    none = {"share_1": 0, "share_5": 0}
    with pytest.raises(InputErrors) as told:
        run({**FULL, **none})
    assert [each.field for each in told.value.errors] == ["share_notes", "share_1", "share_5", "share_10", "share_20"]
    with pytest.raises(InputErrors):
        run({**EMPTY, "share_notes": 10, "share_5": 0}, "uk")  # a note of £1 that is 80% elsewhere is no note here
    run({**FULL, **none, "share_notes": 0})
    run({**FULL, **none, "share_20": 1})


# -- tubes --------------------------------------------------------------------------------


def tall(height: str, capacity: int, coin: str = "quarter") -> dict[str, Any]:
    return {**FULL, "tubes": [*FULL["tubes"][:2], {"coin": coin, "height": height, "capacity": capacity, "count": 20}]}


@pytest.mark.parametrize("units", ["us", "si"])
def test_more_coins_than_the_height_has_room_for_are_a_contradiction_of_both_fields(units: str) -> None:
    """50 mm over 1.75 mm are 28 quarters; of thinner dimes 37 are right. A sixteenth of an inch may be printing."""
    for capacity, wrong in ((120, True), (30, True), (29, False), (28, False), (10, False)):
        if wrong:
            with pytest.raises(InputErrors) as told:
                run(tall("50 mm", capacity), units=units)
            assert [each.field for each in told.value.errors] == ["tubes.2.height", "tubes.2.capacity"]
            assert f"{capacity} coins do not fit" in told.value.errors[0].limit
            assert "room for 28" in told.value.errors[0].limit
        else:
            run(tall("50 mm", capacity), units=units)
    run(tall("50 mm", 37, "dime"), units=units)


def test_more_coins_in_a_tube_than_it_holds_are_a_stop_however_that_is_known() -> None:
    for size in ({"height": "50 mm"}, {"capacity": 28}, {"height": "50 mm", "capacity": 28}):
        tubes = [*FULL["tubes"][:2], {"coin": "quarter", "count": 100, **size}]
        found = [each for each in run({**FULL, "tubes": tubes})["checks"] if each["key"] == "fit"]
        assert [each["outcome"] for each in found] == ["pass", "pass", "stop"]


# -- coins over the price -----------------------------------------------------------------


def test_a_blank_of_coins_over_the_price_lets_no_empty_tubes_go() -> None:
    """Nobody said that nobody overpays: it is asked for. A stop stands, whatever the blank."""
    result = run(EMPTY, "uk")
    assert result["outcome"] == "unknown"
    assert check(result, "chance")["needs"] == ["share_over"]
    assert result["measure_next"]["field"] == "share_over"
    assert run({**EMPTY, "share_over": 10, "share_exact": 50}, "uk")["outcome"] == "stop"
    assert run({**EMPTY, "share_over": 0}, "uk")["outcome"] == "pass"
    assert run({**EMPTY, "share_cashless": 40}, "uk")["outcome"] == "pass"
    assert run({**EMPTY, "share_notes": 20}, "uk")["outcome"] == "stop"


@pytest.mark.parametrize(
    ("said", "over", "asked"),
    [
        ({}, 0, True), ({"share_exact": 20}, 0, True), ({"share_cashless": 55}, 0, True),
        ({"share_exact": 20, "share_cashless": 55}, 0, False), ({"share_exact": 20, "share_cashless": 54.6}, 0, False),
        ({"share_exact": 20, "share_cashless": 50}, 5, False), ({"share_exact": 75}, 0, False), ({"share_cashless": 75}, 0, False),
        ({"share_over": 0}, 0, False), ({"share_over": 3, "share_exact": 20}, 3, False), ({"share_exact": 90}, 0, False),
    ],
)  # fmt: skip
def test_coins_over_the_price_are_the_rest_where_all_else_is_said(said: dict[str, Any], over: float, asked: bool) -> None:
    """Asked for as long as sales are left that may be paid so; what is rounded away is no sale."""
    inputs = read_record(Inputs, {"share_notes": 25, **said}, "us")
    split = shares(inputs)
    assert split is not None
    assert (split.over, over_unknown(inputs)) == (over, asked)
    assert split.total == pytest.approx(100, abs=0.5) or said.get("share_exact") == 90


def test_what_is_worked_out_while_it_is_asked_is_told_as_such() -> None:
    """The load stands in its tables, and nothing is told to be done by it yet."""
    blank, none = run({**FULL, "share_over": None}), run(FULL)
    assert (blank["values"], blank["tables"]) == (none["values"], none["tables"])
    assert "as if nobody paid with coins over the price" in check(blank, "chance")["note"]


# -- tubes that nobody counted ------------------------------------------------------------


def test_uncounted_tubes_go_only_as_filled_and_the_filling_is_what_to_do() -> None:
    """The count of each coin, and the rolls from empty: what the same tubes counted as empty are mended by."""
    bare = {**FULL, "tubes": [{key: value for key, value in tube.items() if key != "count"} for tube in FULL["tubes"]]}
    result = run(bare)
    assert result["outcome"] == "pass"
    assert result["headline"].endswith("That is once the tubes are filled as planned.")
    assert result["actions"] == ["Before you leave, fill the tubes to 50 dimes and 40 nickels. "
                                 "From empty that takes 1 roll of dimes and 1 roll of nickels: $7.00."]  # fmt: skip
    empty = run({**FULL, "tubes": [{**tube, "count": 0} for tube in FULL["tubes"]]})
    assert check(empty, "chance")["mend"]["changes"] == {"tubes.1.count": "50", "tubes.0.count": "40"}
    assert run(FULL)["actions"] == []
    blank = run({**bare, "share_over": None})
    assert blank["actions"] == ["Measure next: Sales paid with coins over the price."]
