"""Tests by hand in the cabinet plan, and why a lane stays empty."""

from __future__ import annotations

from typing import Any

import pytest

import calculators

WATER = {"name": "Water", "weekly_sales": 40, "shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "mass": "520 g",
         "drop_limit": "10 ft"}  # fmt: skip
TRAY = {"name": "T", "lanes": 4, "lane_width": "79 mm", "height_above": "11 in", "rail_height": "4 1/2 in", "drop_height": "20 in"}
COILS = [{"name": str(count), "coil_count": count, "coil_outside": "3 in", "wire": "4 mm", "stock": 9} for count in (6, 7, 8)]


CRISPS = {"name": "Crisps", "weekly_sales": 40, "shape": "flat", "breadth": "130 mm", "thickness": "44 mm", "height": "180 mm", "mass": "45 g",
          "squeeze": "4 mm", "pillow": "yes", "drop_limit": "10 ft"}  # fmt: skip
BAGS = {"products": [CRISPS], "trays": [{**TRAY, "lane_width": "158 mm", "height_above": "9 1/2 in", "rail_height": "3 1/2 in"}],
        "coils": [{**COILS[0], "name": str(count), "coil_count": count} for count in (9, 10, 12)]}  # fmt: skip


def planned(**changes: Any) -> dict[str, Any]:
    inputs = {"days": 7, "usable_length": "21 1/2 in", "products": [WATER], "trays": [TRAY], "coils": COILS, **changes}
    return calculators.run("plan", {"units": "us", "inputs": inputs})


def lanes(result: dict[str, Any]) -> list[tuple[str, ...]]:
    return next((table["rows"] for table in result["tables"] if table["key"] == "lanes"), [])


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def tried(coil: str, verdict: str, product: str = "Water") -> dict[str, Any]:
    return {"tried": [{"product": product, "coil": coil, "verdict": verdict}]}


def test_without_a_test_the_coil_of_most_pieces_is_taken() -> None:
    """Seven turns hold the bottle, eight do not let it in: the same as in spiral fit."""
    assert [(row[3], row[4], row[5]) for row in lanes(planned())[:3]] == [("7", "7", "")] * 3


@pytest.mark.parametrize("verdict", ["tight", "loose", "other"])
def test_a_coil_that_failed_is_not_used(verdict: str) -> None:
    assert {row[3] for row in lanes(planned(**BAGS))[:3]} == {"12"}
    assert {row[3] for row in lanes(planned(**BAGS, **tried("12", verdict, "Crisps")))[:3]} == {"10"}


def test_a_coil_that_was_kept_is_used_with_care_where_the_sum_says_stop() -> None:
    rows = lanes(planned(**tried("8", "keep")))
    assert {row[3] for row in rows[:3]} == {"8"}
    assert all("against the calculation: goes in between two turns" in row[5] for row in rows[:3])


def test_a_coil_that_was_kept_goes_before_one_with_something_to_mind() -> None:
    """The bag goes into the twelve-count by less than the measuring hides; the kept nine-count needs no care."""
    assert all(row[5] for row in lanes(planned(**BAGS))[:3])
    kept = lanes(planned(**{**BAGS, "coils": [BAGS["coils"][0], BAGS["coils"][2]]}, **tried("9", "keep", "Crisps")))
    assert {(row[3], row[5]) for row in kept[:3]} == {("9", "")}


@pytest.mark.parametrize("change", [{"height_above": "8 in"}, {"lane_width": "66 mm"}])
def test_no_test_makes_room_in_another_tray(change: dict[str, str]) -> None:
    result = planned(trays=[{**TRAY, **change}], **tried("7", "keep"))
    assert not [row for row in lanes(result) if row[4] != "0"]


def test_a_test_of_nothing_that_is_there_stops_and_a_half_one_asks() -> None:
    assert check(planned(**tried("9", "keep")), "tests")["outcome"] == "stop"
    assert check(planned(**tried("7", "keep", "Tea")), "tests")["outcome"] == "stop"
    assert check(planned(tried=[{"product": "Water", "coil": "7"}]), "tests")["outcome"] == "unknown"
    assert check(planned(**tried("7", "keep")), "tests")["outcome"] == "pass"


TEA = {**WATER, "name": "Tea", "allergens": "x"}
JUICE = {**WATER, "name": "Juice", "allergens": "y"}


@pytest.mark.parametrize(("changes", "why"), [
    ({}, "each product that fits it has its most lanes already"),
    ({"trays": [TRAY, {**TRAY, "name": "low", "height_above": "6 in"}]}, "no product fits it with a coil in stock"),
    ({"coils": [{**COILS[1], "stock": 2}]}, "no coil is left for a product that fits it"),
    ({"products": [TEA, JUICE], "trays": [{**TRAY, "lanes": 5}], "apart": [{"first": "x", "second": "y", "where": "tray"}]},
     "a pair to be kept apart leaves no room"),
    ({"products": [{**WATER, "weekly_sales": 0}]}, "nothing more would sell from it"),
])  # fmt: skip
def test_an_empty_lane_says_why(changes: dict[str, Any], why: str) -> None:
    rows = [row for row in lanes(planned(**changes)) if row[2] == "(empty)"]
    assert rows
    assert rows[-1][5] == why
