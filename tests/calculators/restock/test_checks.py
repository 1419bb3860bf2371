"""Each check on both sides of its limit, what a blank leaves open, and the orders that a reader gets."""

from __future__ import annotations

from typing import Any

import pytest
from scipy import stats

import calculators
from calculators.core import InputErrors

WATER: dict[str, Any] = {"name": "Water", "weekly_sales": 42, "capacity": 40, "on_hand": 30, "perishable": "no", "shelf_days": 365}
EGG: dict[str, Any] = {"name": "Egg", "weekly_sales": 14, "capacity": 14, "on_hand": 8, "life_left": 4, "perishable": "yes",
                       "shelf_days": 5, "price": "4.00", "cost": "2.00"}  # fmt: skip
BASE: dict[str, Any] = {"days": 3, "cover": 4, "cleared": "yes"}


def run(*rows: dict[str, Any], **inputs: Any) -> dict[str, Any]:
    return calculators.run("restock", {"inputs": {**BASE, **inputs, "selections": list(rows)}})


def check(result: dict[str, Any], key: str, at: str = "") -> dict[str, Any]:
    found = [each for each in result["checks"] if each["key"] == key and (not at or each["at"] == at)]
    assert len(found) == 1, (key, at, found)
    return dict(found[0])


def table(result: dict[str, Any], key: str) -> list[dict[str, str]]:
    found = next(each for each in result["tables"] if each["key"] == key)
    return [dict(zip(found["keys"], row, strict=True)) for row in found["rows"]]


# -- each check, on both sides -----------------------------------------------------------------


def test_a_selection_lasts_to_the_day_that_the_gamma_distribution_gives() -> None:
    """A hair before that day it passes, a hair after it wants care."""
    day = stats.gamma.ppf(0.05, 31) / 6
    assert check(run(WATER, days=day - 0.01), "lasts")["outcome"] == "pass"
    late = check(run(WATER, days=day + 0.01), "lasts")
    assert (late["outcome"], late["mend"]["changes"].keys()) == ("caution", {"days"})


def test_goods_that_go_out_are_held_to_the_chance_that_pays() -> None:
    """At twice its cost a piece lasts with a chance of one half, not of 95 in 100."""
    day = stats.gamma.ppf(0.5, 9) / 2
    assert check(run({**EGG, "life_left": 9, "shelf_days": 9}, days=day - 0.01), "lasts")["outcome"] == "pass"
    assert check(run({**EGG, "life_left": 9, "shelf_days": 9}, days=day + 0.01), "lasts")["outcome"] == "caution"


def test_what_is_in_it_may_be_sold_on_its_last_day_and_not_after() -> None:
    assert check(run(EGG, days=4), "date")["outcome"] == "pass"
    late = check(run(EGG, days=5), "date")
    assert (late["outcome"], late["mend"]["changes"]) == ("stop", {"days": "4 days"})
    assert late["caution"] == "Food past its date can make people ill."


def test_an_empty_lane_has_no_date() -> None:
    assert not [each for each in run({**EGG, "on_hand": 0}, days=9)["checks"] if each["key"] == "date"]


def test_a_date_that_was_read_is_of_a_pack_that_is_there() -> None:
    """The last visit should have left none, as it does not keep so long; somebody read the date of one."""
    blank = {**EGG, "on_hand": None}
    assert check(run(blank, days=6, stocked="filled"), "date")["outcome"] == "stop"
    assert check(run({**EGG, "on_hand": 8}, days=6, stocked="filled"), "date")["outcome"] == "stop"
    assert check(run({**blank, "shelf_days": None}, days=6, stocked="filled"), "date")["outcome"] == "stop"
    assert check(run({**blank, "shelf_days": None}, days=6, stocked="counted"), "date")["outcome"] == "unknown"
    assert "date" not in {each["key"] for each in run({**blank, "life_left": None}, days=6, stocked="filled")["checks"]}
    assert "date" not in {each["key"] for each in run({**EGG, "on_hand": 0}, days=6, stocked="filled")["checks"]}


def test_no_more_is_on_hand_than_its_lanes_hold() -> None:
    """Nine sell in three days, and eight fit: not counted, it runs short all the same."""
    small = {**WATER, "weekly_sales": 21, "capacity": 8, "on_hand": None}
    assert check(run(small), "lasts")["outcome"] == "caution"
    assert check(run({**small, "capacity": 40}), "lasts")["outcome"] == "unknown"


@pytest.mark.parametrize(("cleared", "outcome"), [("yes", "pass"), ("no", "unknown"), ("", "unknown")])
def test_without_its_own_date_somebody_must_have_looked(cleared: str, outcome: str) -> None:
    assert check(run(WATER, cleared=cleared), "date")["outcome"] == outcome


def test_a_look_at_the_dates_says_nothing_of_a_visit_whose_day_is_not_told() -> None:
    """No pack keeps longer than a fresh one: how far the visit is away decides."""
    found = check(run({**WATER, "shelf_days": 20}, days="", cleared="yes"), "date")
    assert (found["outcome"], found["needs"]) == ("unknown", ["days"])


@pytest.mark.parametrize("cleared", ["yes", "no", ""])
def test_no_pack_keeps_longer_than_a_fresh_one(cleared: str) -> None:
    """Whatever was taken out at the last visit: five days later all are past their date, and the visit is due by then."""
    blank = {**EGG, "life_left": "", "weekly_sales": 1}
    late = run(blank, days=6, cleared=cleared)
    assert (late["outcome"], check(late, "date")["outcome"]) == ("stop", "stop")
    assert bool(check(late, "date")["mend"]) == (cleared == "yes"), "sooner alone mends nothing while nobody looked"
    assert late["actions"][0] == "Next visit within 5.0 days: Egg reaches its date first."
    assert check(run(blank, days=5, cleared=cleared), "date")["outcome"] == ("pass" if cleared == "yes" else "unknown")
    assert check(run({**WATER, "shelf_days": 20}, days=21, cleared=cleared), "date")["outcome"] == "stop"
    assert "date" not in {each["key"] for each in run({**blank, "on_hand": 0}, days=6, cleared=cleared)["checks"]}
    assert check(run({**blank, "on_hand": ""}, days=6, cleared=cleared), "date")["outcome"] == "unknown"


def test_a_next_visit_goes_no_farther_than_dates_are_known() -> None:
    """What goes out was looked through for the planned visit alone; what stays keeps no longer than fresh."""
    blank = {**EGG, "life_left": "", "weekly_sales": 1}
    assert run(blank, days=3)["actions"][0] == "Next visit within 3.0 days: Egg may reach its date first."
    assert run({**WATER, "weekly_sales": 1, "shelf_days": 20})["actions"][0] == "Next visit within 20.0 days: Water may reach its date first."
    assert [row["name"] for row in table(run(WATER, blank, days=1), "selections")] == ["Egg", "Water"]


@pytest.mark.parametrize(("row", "cover", "outcome"), [
    (EGG, 5, "pass"), (EGG, 5.1, "stop"),
    # What stays in must last to the visit after that too.
    ({**WATER, "shelf_days": 10}, 5, "pass"), ({**WATER, "shelf_days": 10}, 5.1, "stop"),
])  # fmt: skip
def test_what_is_loaded_keeps(row: dict[str, Any], cover: float, outcome: str) -> None:
    found = check(run(row, cover=cover), "fresh")
    assert found["outcome"] == outcome
    assert bool(found["mend"]) == (outcome == "stop")


def test_the_lanes_hold_what_is_wanted_or_one_of_them_is_named() -> None:
    par = int(stats.poisson.ppf(0.95, 24))
    assert check(run({**WATER, "capacity": par}), "room")["outcome"] == "pass"
    small = check(run({**WATER, "capacity": par - 1}, EGG), "room")
    assert small["outcome"] == "caution"
    assert f"Water ({par - 1} of {par})" in small["text"]
    assert "Egg" not in small["text"]


def test_goods_that_go_out_must_earn_more_than_they_cost() -> None:
    """At its cost a piece that is left over is lost: the least more is a cent."""
    assert check(run({**EGG, "price": "2.01"}), "pays")["outcome"] == "pass"
    for price in ("1.99", "2.00"):
        bad = check(run({**EGG, "price": price}), "pays")
        assert (bad["outcome"], bad["mend"]["changes"]) == ("caution", {"selections.0.price": "2.01"})
    assert not [each for each in run({**WATER, "price": "1.00", "cost": "2.00"})["checks"] if each["key"] == "pays"]


# -- what it says --------------------------------------------------------------------------------


def test_the_one_that_runs_short_first_drives_the_visit_a_date_too() -> None:
    slow = {**WATER, "name": "Slow", "weekly_sales": 7}
    assert run(slow, WATER)["actions"][0].endswith("Water runs short first.")
    assert run(slow, {**EGG, "life_left": 1}, days=0)["actions"][0] == "Next visit within 1.0 days: Egg reaches its date first."
    assert [row["name"] for row in table(run(slow, WATER), "selections")] == ["Water", "Slow"]


def test_sales_of_the_cabinet_are_shared_by_what_the_selections_sell() -> None:
    """Twice the sales of all: each lasts half as long."""
    alone, shared = run(WATER, EGG), run(WATER, EGG, sales_per_day=16)
    for key in ("Water", "Egg"):
        short, long = (check(each, "lasts", key)["value"] for each in (shared, alone))
        assert short == pytest.approx(long / 2)


def test_filled_at_the_last_visit_counts_as_full_and_fresh() -> None:
    """Without a count: full of what keeps, what pays of what goes out; a count stands over it."""
    rows = [{key: cell for key, cell in row.items() if key not in ("on_hand", "life_left")} for row in (WATER, EGG)]
    found = run(*rows, stocked="filled", cleared="")
    assert check(found, "lasts", "Water")["value"] == pytest.approx(stats.gamma.ppf(0.05, 41) / 6)
    assert check(found, "lasts", "Egg")["value"] == pytest.approx(stats.gamma.ppf(0.5, stats.poisson.ppf(0.5, 6) + 1) / 2)
    assert check(found, "date", "Egg")["value"] == 5
    assert check(run(WATER, stocked="filled"), "lasts")["value"] == pytest.approx(stats.gamma.ppf(0.05, 31) / 6)


def test_the_pick_list_is_whole_cases_heavy_first_and_cold_last() -> None:
    rows = [{**EGG, "mass": "900 g", "needs_cold": "yes"}, {**WATER, "name": "Bag", "mass": "45 g", "case_pieces": 30},
            {**WATER, "mass": "520 g", "case_pieces": 24}]  # fmt: skip
    found = table(run(*rows), "pick")
    assert [row["name"] for row in found] == ["Water", "Bag", "Egg"]
    for row, size in zip(found, (24, 30, 1), strict=True):
        cases = int(row["cases"].split()[0]) if size > 1 else int(row["pieces"])
        assert cases * size == int(row["pieces"]) + int(row["over"])
        assert int(row["over"]) < size


def test_what_is_past_its_date_by_the_visit_after_is_no_stock() -> None:
    """Packs that must come out at the visit are not taken off what is brought."""
    lasting, going = (run({**WATER, "life_left": left}) for left in (7, 6))
    pieces = [next(each["inner"] for each in found["values"] if each["key"] == "pieces") for found in (lasting, going)]
    assert pieces[1] == 40
    assert pieces[0] < 40


def test_a_lane_goes_to_whoever_earns_more_with_it() -> None:
    """By hand: expected sales with and without the lane's pieces, times what a piece earns."""
    fast = {**WATER, "name": "Fast", "capacity": 20, "on_hand": 0, "lanes": 2, "price": "2.00", "cost": "1.00"}
    slow = {**WATER, "name": "Slow", "weekly_sales": 1, "capacity": 20, "on_hand": 0, "lanes": 2, "price": "2.00", "cost": "1.00"}
    found = run(fast, slow)
    law = stats.poisson(24)
    gain = sum(law.sf(count) for count in range(20, 30))
    loss = sum(stats.poisson(4 / 7).sf(count) for count in range(10, 20))
    swap = next(each["inner"] for each in found["values"] if each["key"] == "swap")
    assert swap == pytest.approx(100 * (gain - loss))
    assert any("A lane of Slow" in action and "with Fast" in action for action in found["actions"])
    # Half of a lane of ten in four weeks is five; one a week is four.
    assert {row["name"]: row["slow"] for row in table(found, "lanes")} == {"Fast": "", "Slow": "slow"}


def test_more_pieces_than_room_is_a_contradiction() -> None:
    for change, fields in (({"on_hand": 41}, {"on_hand", "capacity"}), ({"lanes": 20, "capacity": 10, "on_hand": 1}, {"lanes", "capacity"})):
        with pytest.raises(InputErrors) as told:
            run({**WATER, **change})
        assert {error.field for error in told.value.errors} == {f"selections.0.{key}" for key in fields}


@pytest.mark.parametrize("row", [EGG, WATER])
def test_no_pack_is_fresher_than_a_fresh_one(row: dict[str, Any]) -> None:
    shelf = row["shelf_days"]
    run({**row, "life_left": shelf})
    with pytest.raises(InputErrors) as told:
        run({**row, "life_left": shelf + 1})
    assert {error.field for error in told.value.errors} == {"selections.0.life_left", "selections.0.shelf_days"}


def test_a_cabinet_sells_what_its_selections_sell() -> None:
    still = [{**WATER, "weekly_sales": 0}, {**EGG, "weekly_sales": 0}]
    with pytest.raises(InputErrors) as told:
        run(*still, sales_per_day=100)
    assert {error.field for error in told.value.errors} == {"sales_per_day", "selections.0.weekly_sales"}
    run(*still)
    run(still[0], EGG, sales_per_day=100)


@pytest.mark.parametrize("price", ["1.50", "2.00", "2.01", "4.00"])
def test_an_empty_lane_that_sells_does_not_last(price: str) -> None:
    """Whether it pays to fill it is another check."""
    assert check(run({**EGG, "on_hand": 0, "price": price}), "lasts")["outcome"] == "caution"


def test_room_beyond_what_pays_earns_nothing_for_goods_that_go_out() -> None:
    """Eight pay best and fourteen fit: a lane more changes nothing, a lane fewer costs what the eighth earns."""
    lanes = table(run({**EGG, "lanes": 2}), "lanes")
    assert lanes[0]["gains"] == "$0.00"
    law = stats.poisson(8)
    worth = [400 * sum(law.sf(count) for count in range(stock)) - 200 * stock for stock in (7, 8)]
    assert float(lanes[0]["loses"].strip("$")) == pytest.approx((worth[1] - worth[0]) / 100, abs=0.01)


def test_what_costs_nothing_is_not_promised_for_ever() -> None:
    """Never more than 999 of 1,000, however little a piece costs."""
    row = {**EGG, "cost": "0.00", "capacity": 60, "on_hand": 8}
    assert table(run(row), "selections")[0]["fill"] == str(int(stats.poisson.ppf(0.999, 8)))
