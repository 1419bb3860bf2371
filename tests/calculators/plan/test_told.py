"""What is not told, and what cannot be: no blank lets a product lie where it may be barred, and nothing is said that was not asked."""

from __future__ import annotations

import json
from typing import Any

import pytest

import calculators

WATER = {"name": "Water", "weekly_sales": 20, "drop_limit": "3 m", "shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm",
         "height": "205 mm"}  # fmt: skip
TRAY = {"name": "top", "lanes": 1, "lane_width": "79 mm", "height_above": "265 mm", "rail_height": "150 mm", "drop_height": "560 mm"}
LOW = {**TRAY, "name": "low", "drop_height": "200 mm"}
SEVEN = {"name": "seven", "coil_count": 7, "coil_outside": "76.2 mm", "wire": "4 mm", "stock": 8}
PLAN: dict[str, Any] = {"days": 7, "usable_length": "546.1 mm", "products": [WATER], "trays": [TRAY], "coils": [SEVEN]}


def planned(**changes: Any) -> dict[str, Any]:
    return json.loads(calculators.run_json("plan", json.dumps({"units": "si", "inputs": {**PLAN, **changes}})))  # type: ignore[no-any-return]


def found(result: dict[str, Any], key: str, at: str = "") -> dict[str, Any]:
    return next(check for check in result["checks"] if (check["key"], check["at"]) == (key, at))


def where(result: dict[str, Any]) -> list[str]:
    """The trays of the lanes that are filled."""
    rows = next((table["rows"] for table in result["tables"] if table["key"] == "lanes"), [])
    return [row[0] for row in rows if row[2] != "(empty)"]


@pytest.mark.parametrize(("zones", "outcome", "trays"), [
    ([None], "unknown", []), (["cold"], "pass", ["top"]), (["warm"], "stop", []), ([None, "cold"], "pass", ["low"]),
    (["warm", None], "unknown", []), ([None, None], "unknown", []),
])  # fmt: skip
def test_a_tray_is_not_cooled_because_nobody_said_so(zones: list[str | None], outcome: str, trays: list[str]) -> None:
    """Goods that must be kept cold lie where it is told; else the zones are asked for."""
    rows = [{**row, "zone": zone} for row, zone in zip((TRAY, LOW), zones, strict=False)]
    result = planned(products=[{**WATER, "needs_cold": "yes"}], trays=rows)
    assert (result["outcome"], where(result)) == (outcome, trays)
    assert found(result, "known")["needs"] == ([f"trays.{n}.zone" for n, zone in enumerate(zones) if zone is None] if outcome == "unknown" else [])
    assert planned(trays=rows)["outcome"] == "pass", "what needs no cold lies anywhere"


@pytest.mark.parametrize(("product", "cabinet", "needs"), [
    ({}, {"heavy_tray": 2, "heavy_mass": "500 g"}, ["products.0.mass"]), ({}, {"heavy_mass": "500 g"}, ["heavy_tray", "products.0.mass"]),
    ({"heavy": "yes"}, {}, ["heavy_tray"]), ({"mass": "520 g"}, {"heavy_mass": "500 g"}, ["heavy_tray"]),
])  # fmt: skip
def test_heavy_goods_stay_low_whatever_is_blank(product: dict[str, str], cabinet: dict[str, Any], needs: list[str]) -> None:
    """Its mass, or the tray from which heavy goods may lie, is asked for before it lies in the top tray."""
    goods = [{**WATER, **product}]
    result = planned(products=goods, **cabinet)
    assert (result["outcome"], where(result)) == ("unknown", [])
    assert sorted(found(result, "known")["needs"]) == needs
    free = planned(products=[{"mass": "520 g", **goods[0]}], **{"heavy_mass": "500 g", **cabinet, "heavy_tray": 1})
    assert (free["outcome"], where(free)) == ("pass", ["top"])
    if "heavy_tray" in cabinet:
        assert where(planned(products=goods, trays=[TRAY, LOW], **cabinet)) == ["low"]


def test_where_nothing_fits_and_nothing_is_blank_it_is_a_stop_with_its_reasons() -> None:
    """Barred from the only tray, or from every coil."""
    result = planned(products=[{**WATER, "mass": "520 g"}], heavy_tray=2, heavy_mass="500 g")
    told = found(result, "placed")
    assert (result["outcome"], told["outcome"]) == ("stop", "stop")
    assert "too high for heavy goods" in told["text"]
    assert planned(trays=[{**TRAY, "lane_width": "60 mm"}])["outcome"] == "stop"
    assert planned(coils=[])["outcome"] == "unknown"


@pytest.mark.parametrize(("drops", "told"), [
    (("200 mm", "1100 mm"), {0, 1}), (("1100 mm", "200 mm"), set()), (("560 mm", "569 mm"), set()), (("560 mm", "571 mm"), {0, 1}),
    (("200 mm", None, "1100 mm"), {0, 2}), ((None, "1100 mm"), set()),
])  # fmt: skip
def test_trays_are_listed_from_the_top_down_where_heavy_goods_go_by_it(drops: tuple[str | None, ...], told: set[int]) -> None:
    """The two drops that contradict it are named, beyond what two tapes hide."""
    rows = [{**TRAY, "name": f"tray {number}", "drop_height": drop} for number, drop in enumerate(drops)]
    errors = planned(trays=rows, heavy_tray=2).get("errors", [])
    assert {error["field"] for error in errors} == {f"trays.{number}.drop_height" for number in told}
    assert "errors" not in planned(trays=rows)


def test_no_product_is_pressed_to_nothing() -> None:
    """As in spiral fit."""
    bag = {"name": "Bag", "weekly_sales": 5, "shape": "flat", "breadth": "60 mm", "thickness": "42 mm", "squeeze": "42 mm"}
    assert {error["field"] for error in planned(products=[WATER, bag])["errors"]} == {"products.1.squeeze", "products.1.thickness"}


@pytest.mark.parametrize("lacks", ["height_above", "rail_height", "drop_height"])
def test_what_a_planned_lane_lacks_is_asked_for(lacks: str) -> None:
    """It may keep the product out of that lane: no test by hand tells it."""
    result = planned(trays=[{**TRAY, lacks: None}])
    told = found(result, "care", "Water")
    assert (result["outcome"], told["outcome"], told["needs"]) == ("unknown", "unknown", [f"trays.0.{lacks}"])
    assert "Lift three packs" not in json.dumps(result["checks"])


def test_go_says_of_spiral_fit_what_was_asked() -> None:
    """Not of the first pack, which its coil's end decides; a product lower than its coil is minded, as there."""
    result = planned()
    assert result["outcome"] == "pass"
    assert "first pack" in found(result, "care")["text"]
    assert any("first pack" in line for line in result["not_checked"])
    low = {**WATER, "height": "50 mm", "drop_limit": "3 m"}
    care = planned(products=[low])
    assert care["outcome"] == "caution"
    rows = next(table["rows"] for table in care["tables"] if table["key"] == "lanes")
    assert "Taller than the coil" in rows[0][5]


def test_a_lane_so_wide_that_a_product_stands_beside_its_coil_is_not_planned() -> None:
    """Nor one in which it leans too far before its rail holds it; a broad can stands, and yet beside its coil."""
    can = {**WATER, "foot_diameter": "64 mm", "height": "100 mm"}
    for goods, wide, outcome in ((WATER, "170 mm", "stop"), (WATER, "300 mm", "stop"), (can, "120 mm", "pass"), (can, "170 mm", "stop")):
        assert planned(products=[goods], trays=[{**TRAY, "lane_width": wide}])["outcome"] == outcome
