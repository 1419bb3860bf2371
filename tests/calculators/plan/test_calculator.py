"""The calculator as a whole: wishes kept, spiral fit asked, progress told, the drawing to scale."""

from __future__ import annotations

import copy
import json
import re
from typing import Any

import pytest

import calculators
from calculators.core.progress import Progress
from calculators.plan import CALCULATOR
from calculators.plan.inputs import EXAMPLE


def run(**changes: Any) -> dict[str, Any]:
    inputs = {**copy.deepcopy(EXAMPLE), **changes}
    return calculators.run("plan", {"units": "us", "inputs": inputs})


def table(result: dict[str, Any], title: str) -> list[tuple[str, ...]]:
    return next(each["rows"] for each in result["tables"] if each["title"] == title)


def value(result: dict[str, Any], key: str) -> float:
    return next(each["inner"] for each in result["values"] if each["key"] == key)


def check(result: dict[str, Any], key: str, at: str = "") -> dict[str, Any]:
    return next(each for each in result["checks"] if (each["key"], each["at"]) == (key, at))


def lanes(result: dict[str, Any]) -> dict[tuple[str, int], tuple[str, str, int]]:
    """(tray, lane) → product, coil, pieces."""
    return {(row[0], int(row[1])): (row[2], row[3], int(row[4])) for row in table(result, "Lane by lane")
            if row[2] != "(empty)"}  # fmt: skip


def test_every_lane_is_one_that_spiral_fit_takes() -> None:
    """Product, tray and coil of each lane put to spiral fit by themselves: no stop, and the same pieces."""
    products = {row["name"]: row for row in EXAMPLE["products"]}
    trays = {row["name"]: row for row in EXAMPLE["trays"]}
    coils = {row["name"]: row for row in EXAMPLE["coils"]}
    known = {field.key for field in calculators.get("spiral").inputs.fields()}
    filled = lanes(run())
    assert len(filled) >= 15
    for (tray, _), (product, coil, pieces) in filled.items():
        inputs = {**products[product], **trays[tray], **coils[coil], "usable_length": EXAMPLE["usable_length"]}
        inputs = {key: each for key, each in inputs.items() if key in known}
        result = calculators.run("spiral", {"units": "us", "inputs": inputs})
        stops = [each["key"] for each in result["checks"] if each["outcome"] == "stop"]
        assert not stops, (product, coil, stops)
        assert next(each["inner"] for each in result["values"] if each["key"] == "capacity") == pieces


TAPERED = {
    "a cup": ({"shape": "round", "diameter": "89 mm", "foot_diameter": "70 mm", "height": "105 mm"},
              {"sides": "widening"}, 6),
    "a wedge": ({"shape": "flat", "breadth": "125 mm", "thickness": "64 mm", "height": "125 mm"},
                {"thick_end": "foot", "thin_end": "28 mm"}, 7),
}  # fmt: skip


@pytest.mark.parametrize("name", TAPERED)
def test_a_tapered_product_goes_where_a_full_one_does_not(name: str) -> None:
    """The plan asks spiral fit with the sides and ends of its products, so the taper gains a lane."""
    sizes, taper, count = TAPERED[name]
    own = {"name": name, "weekly_sales": 20, "mass": "200 g", **sizes}
    coil = {"name": "coil", "coil_count": count, "coil_outside": "3 in", "wire": "4 mm", "stock": 1}
    tray = {**EXAMPLE["trays"][0], "lanes": 1}
    full, tapered = (run(products=[row], trays=[tray], coils=[coil], pins=[], apart=[])
                     for row in (own, {**own, **taper}))  # fmt: skip
    assert lanes(tapered) == {("tray 1", 1): (name, "coil", count)}
    assert value(full, "filled") is None


def test_limits_of_lanes_coils_and_products_are_kept() -> None:
    """No coil is fitted more often than it is there, no product has more than its lanes."""
    filled = lanes(run())
    for row in EXAMPLE["coils"]:
        assert sum(coil == row["name"] for _, coil, _ in filled.values()) <= row["stock"]
    for row in EXAMPLE["products"]:
        assert sum(product == row["name"] for product, _, _ in filled.values()) <= EXAMPLE["most_lanes"]


def test_wishes_are_kept() -> None:
    """The pinned lane, the tray without both kinds, heavy goods below the mark, the one that must be sold."""
    filled = lanes(run())
    assert filled["tray 3", 1][0] == "Still water"
    for tray in ("tray 1", "tray 2", "tray 3"):
        here = {product for (where, _), (product, _, _) in filled.items() if where == tray}
        assert not {"Nut bar", "Rice cake"} <= here
    assert {where for (where, _), (product, _, _) in filled.items() if product == "Pier cola"} == {"tray 3"}
    assert any(product == "Rice cake" for product, _, _ in filled.values())


def test_cold_goods_stay_in_the_cold_zone() -> None:
    """With all trays but one warm, a product that must be kept cold lies in that one or nowhere."""
    inputs = copy.deepcopy(EXAMPLE)
    for number, row in enumerate(inputs["trays"]):
        row["zone"] = "cold" if number == 1 else "warm"
    inputs["products"][2]["needs_cold"] = "yes"
    filled = lanes(run(**inputs))
    where = {tray for (tray, _), (product, _, _) in filled.items() if product == "Lemon can"}
    assert where == {"tray 2"}


def test_a_pin_that_cannot_be_kept_stops_and_says_why() -> None:
    """Heavy goods kept in the top tray: a stop with the reason, and the rest is planned."""
    result = run(pins=[{"product": "Pier cola", "tray": "tray 1", "lane": 2}])
    found = check(result, "pins", "Keep here 1")
    assert found["outcome"] == "stop"
    assert "heavy" in found["note"]
    assert value(result, "sales") > 100


def test_where_nothing_goes_in_no_lane_is_kept_and_each_product_is_named() -> None:
    """A plan without a lane says as much of each product as one with some."""
    products = [{**row, "drop_limit": "0.1 in"} for row in EXAMPLE["products"]]
    result = run(products=products, trays=[{**row, "drop_height": "40 in"} for row in EXAMPLE["trays"]])
    assert "No coil in stock takes any product" in check(result, "placed")["text"]
    assert run(products=products, trays=[{**row, "drop_height": "40 in"} for row in EXAMPLE["trays"]], days="")["outcome"] == "stop"
    assert check(run(days=""), "placed")["needs"] == ["days"], "where something goes in, they decide"
    assert check(result, "pins", "Keep here 1")["outcome"] == "stop"
    found = check(result, "fits")
    assert found["outcome"] == "caution"
    assert all(row["name"] in found["text"] for row in products)


@pytest.mark.parametrize(("blank", "outcome"), [({}, "pass"), ({"weekly_sales": None}, "unknown"), ({"height": None}, "unknown"),
                                                ({"height": None, "needs_cold": "yes"}, "stop")])  # fmt: skip
def test_a_pin_is_no_stop_for_what_is_not_measured(blank: dict[str, Any], outcome: str) -> None:
    """A product that is left out for a blank may yet keep its lane; one that is barred from the tray may not, whatever the blank is."""
    inputs = copy.deepcopy(EXAMPLE)
    pin = inputs["pins"][0]
    next(row for row in inputs["products"] if row["name"] == pin["product"]).update(blank)
    next(row for row in inputs["trays"] if row["name"] == pin["tray"])["zone"] = "warm"
    result = run(**inputs)
    assert check(result, "pins", "Keep here 1")["outcome"] == outcome
    assert check(result, "proven")["outcome"] == "pass"


@pytest.mark.parametrize(("lanes_", "must", "outcome"), [(8, "yes", "pass"), (None, "yes", "unknown"), (None, "no", "caution"), (1, "yes", "stop")])
def test_what_must_be_sold_is_no_stop_while_a_tray_is_not_told(lanes_: int | None, must: str, outcome: str) -> None:
    """Two products must be kept cold, and how many lanes the only cold tray has decides: one is too few without doubt."""
    inputs = copy.deepcopy(EXAMPLE)
    inputs["pins"] = []
    for number, row in enumerate(inputs["trays"]):
        row["zone"] = "cold" if number == 1 else "warm"
    inputs["trays"][1]["lanes"] = lanes_
    for row in (inputs["products"][2], inputs["products"][4]):
        row.update(needs_cold="yes", must=must)
    assert check(run(**inputs), "placed")["outcome"] == outcome


@pytest.mark.parametrize(("pinned", "must"), [(True, False), (False, True), (True, True), (False, False)])
def test_what_may_not_bear_the_drop_keeps_open_where_it_must_lie(pinned: bool, must: bool) -> None:
    """A product that is kept in a lane, or that must be sold, and whose fall is not judged, may stop the plan.

    Any other may be left out, with care where a small limit does it; while its lane rests on what is blank that is asked for.
    """
    def sheet(drop_limit: str | None) -> dict[str, Any]:
        inputs = copy.deepcopy(EXAMPLE)
        inputs["products"][0].update(must="yes" if must else "no", drop_limit=drop_limit)
        return run(products=inputs["products"], pins=[{"product": "Still water", "tray": "tray 3", "lane": 1}] if pinned else [])

    wanted = {key: at for key, at, asked in (("pins", "Keep here 1", pinned), ("placed", "", must)) if asked}
    blank, small, great = sheet(None), sheet("1 in"), sheet("10 ft")
    for key, at in wanted.items():
        found = check(blank, key, at)
        assert (found["outcome"], found["needs"]) == ("unknown", ["products.0.drop_limit"])
        assert check(great, key, at)["outcome"] == "pass"
    # Beside another thing to mind the sheet takes care as it is.
    assert [blank["outcome"], small["outcome"]] == (["unknown", "stop"] if wanted else ["caution", "caution"])
    asked = check(blank, "care", "Still water")
    assert (asked["outcome"], asked["needs"]) == ("unknown", ["products.0.drop_limit"])


def test_a_pin_is_no_stop_before_there_are_coils() -> None:
    """Without any coil nothing keeps a lane, and nothing is known not to."""
    result = run(coils=[])
    assert check(result, "pins", "Keep here 1")["outcome"] == "unknown"


def test_a_lane_past_the_last_is_mended() -> None:
    """The mend names the last lane there is."""
    found = check(run(pins=[{"product": "Still water", "tray": "tray 2", "lane": 12}]), "spots", "Keep here 1")
    assert found["outcome"] == "stop"
    assert found["mend"]["changes"] == {"pins.0.lane": "8"}


def test_a_kept_lane_of_a_tray_that_is_not_there_is_a_stop_whatever_its_number() -> None:
    """So is one of a product that is not there; a row without a name might be the one that is meant."""
    def spot(pin: dict[str, Any], **inputs: Any) -> str:
        return str(check(run(pins=[pin], **inputs), "spots", "Keep here 1")["outcome"])

    assert spot({"product": "Still water", "tray": "tray 9"}) == "stop"
    assert spot({"product": "Flat water", "lane": 1}) == "stop"
    assert spot({"product": "Still water", "tray": "tray 2"}) == "unknown"
    unnamed = json.loads(json.dumps(list(EXAMPLE["trays"])))
    unnamed[0].pop("name")
    assert spot({"product": "Still water", "tray": "tray 9"}, trays=unnamed) == "unknown"


def test_more_wishes_never_sell_more() -> None:
    """Pins, pairs and must-haves can only cost; without them at least as much is sold."""
    free = run(pins=[], apart=[], heavy_tray=1)
    assert value(free, "sales") >= value(run(), "sales")


@pytest.mark.parametrize("days", [1, 3, 7, 14])
def test_sales_are_the_sum_of_the_table_and_never_above_what_is_wanted(days: int) -> None:
    """The lines of the table add up to the figure above it, to the rounding of what is printed."""
    result = run(days=days)
    rows = table(result, "Product by product")
    assert sum(float(row[4]) for row in rows) == pytest.approx(value(result, "sales"), abs=0.05 * len(rows))
    assert value(result, "sales") <= value(result, "wanted") + 1e-6
    assert value(result, "bound") == value(result, "sales")


def test_one_more_coil_gains_what_planning_with_it_gains() -> None:
    """The gain printed for a coil is the difference to the plan made with one more of it."""
    base = run()
    rows = table(base, "One more coil would gain")
    assert rows
    for row in rows:
        inputs = copy.deepcopy(EXAMPLE)
        coil = next(each for each in inputs["coils"] if each["name"] == row[0])
        coil["stock"] += 1
        gain = value(run(**inputs), "sales") - value(base, "sales")
        assert 0 <= gain - float(row[1]) < 0.1 + 1e-6


def test_what_is_not_measured_is_left_out_and_named() -> None:
    """A product without weekly sales, another without a height: the rest is planned, and the first is asked for."""
    inputs = copy.deepcopy(EXAMPLE)
    del inputs["products"][0]["weekly_sales"]
    del inputs["products"][2]["height"]
    inputs["pins"] = []
    result = run(**inputs)
    assert result["outcome"] == "unknown"
    needs = check(result, "known")["needs"]
    assert "products.0.weekly_sales" in needs
    assert "products.2.height" in needs
    assert value(result, "sales") > 50


def test_words_are_whole_words_in_whatever_case() -> None:
    """“Nut” is a word of “tree nut”, but not of “nutmeg” or “nut-free”."""
    from calculators.core.reading import read_record
    from calculators.plan.inputs import Inputs
    from calculators.plan.setup import bearers

    labels = ["tree Nut, milk", "nutmeg", "nut-free", "", "MILK"]
    products = [{"name": f"p{number}", "allergens": label} for number, label in enumerate(labels)]
    inputs = read_record(Inputs, {"products": products}, "us")
    assert bearers(inputs, "nut") == [0]
    assert bearers(inputs, "milk") == [0, 4]
    assert bearers(inputs, "nut-free") == [2]
    assert bearers(inputs, "P3") == [3]
    assert bearers(inputs, "") == []


# -- progress and stop --------------------------------------------------------------------------


def test_it_tells_how_far_it_is_and_ends_with_the_same_answer() -> None:
    """Step by step the answer is that of one run; each step before it is a sentence."""
    request = json.dumps({"units": "us", "inputs": EXAMPLE, "html": True})
    running = calculators.begin_json("plan", request)
    told = []
    while (answer := running.advance()).startswith(calculators.PROGRESS):
        told.append(json.loads(answer)["progress"])
    assert len(told) >= 10
    assert all(each["text"] and (each["share"] is None or 0 <= each["share"] <= 1) for each in told)
    assert answer == calculators.run_json("plan", request)


def test_stopped_it_gives_the_best_so_far_with_its_bound() -> None:
    """Stopped while planning: a plan, a bound above it, and a caution that says so."""
    # With a fourth lane for each product the first bound is no proof yet.
    running = calculators.begin_json("plan", json.dumps({"units": "us", "inputs": {**EXAMPLE, "most_lanes": 4}}))
    while "no plan sells more" not in (answer := running.advance()):
        assert answer.startswith(calculators.PROGRESS)
    assert "Planning" in answer
    running.stop()
    while (answer := running.advance()).startswith(calculators.PROGRESS):
        pass
    result, whole = json.loads(answer), run(most_lanes=4)
    assert check(result, "proven")["outcome"] == "caution"
    assert re.fullmatch(r"You stopped it: this plan is within \d+\.\d sales of the best possible\.",
                        check(result, "proven")["text"])  # fmt: skip
    assert check(result, "proven")["note"] == "Use it as it stands, or start again and let it run to its end."
    assert value(result, "sales") <= value(whole, "sales") <= value(result, "bound")
    assert not [each for each in result["tables"] if each["title"].startswith("One more coil")]


def test_stopped_before_there_is_a_bound_it_claims_none() -> None:
    """The first plan misses wishes that another might keep: that is all that can be said of it."""
    running = calculators.begin_json("plan", json.dumps({"units": "us", "inputs": {**EXAMPLE, "most_lanes": 4}}))
    while "Planning" not in (answer := running.advance()):
        assert answer.startswith(calculators.PROGRESS)
    running.stop()
    while (answer := running.advance()).startswith(calculators.PROGRESS):
        pass
    result = json.loads(answer)
    assert check(result, "proven")["text"] == "You stopped it: more of your wishes might be kept."
    assert value(result, "bound") is None


def test_stopped_while_trying_coils_it_answers_and_claims_nothing() -> None:
    """Whenever the stop comes, an answer follows after a few steps; a coil not tried is not “none fits”."""
    for before in (1, 3, 9):
        running = calculators.begin_json("plan", json.dumps({"units": "us", "inputs": EXAMPLE}))
        for _ in range(before):
            answer = running.advance()
        running.stop()
        for _ in range(40):
            if not (answer := running.advance()).startswith(calculators.PROGRESS):
                break
        result = json.loads(answer)
        assert result["outcome"] == "unknown"
        assert value(result, "sales") is None
        assert "You stopped it before every coil was tried" in check(result, "placed")["note"]


def test_a_calculator_without_steps_answers_at_once() -> None:
    """The other calculators come to their end in the first step, also with errors."""
    running = calculators.begin_json("spiral", json.dumps({"inputs": {"height": "tall"}}))
    assert json.loads(running.advance())["errors"]
    assert isinstance(next(CALCULATOR.steps({"inputs": EXAMPLE})), Progress)


# -- the drawing ---------------------------------------------------------------------------------


def test_lanes_and_products_are_drawn_to_scale() -> None:
    """Every width read back from the drawing is the lane’s or the product’s, all at one scale."""
    svg = run()["figures"][0]
    rects = re.findall(r'width="([\d.]+)"[^>]*class="hb-(\w+)" data-inner="([\d.]+)" data-scale="([\d.]+)"', svg)
    scales = {scale for _, _, _, scale in rects}
    assert len(scales) == 1
    for width, _, inner, scale in rects:
        assert float(width) == pytest.approx(float(inner) * float(scale), abs=0.006)
    widths = {float(inner) for _, kind, inner, _ in rects if kind == "thin"}
    assert widths == {158.0, 79.0}
    bodies = {float(inner) for _, kind, inner, _ in rects if kind == "body"}
    assert bodies <= {65.0, 73.0, 66.3, 130.0, 45.0, 60.0}
    lanes_drawn = [inner for _, kind, inner, _ in rects if kind == "thin"]
    assert len(lanes_drawn) == sum(row["lanes"] for row in EXAMPLE["trays"])


def test_the_drawing_holds_twelve_trays_of_twenty_lanes() -> None:
    """Nothing runs out of the picture, and every text is large enough to read."""
    trays = [{**EXAMPLE["trays"][1], "name": f"t{number}", "lanes": 20, "lane_width": "79 mm"} for number in range(12)]
    svg = run(trays=trays, pins=[])["figures"][0]
    height = float(re.search(r'viewBox="0 0 360 (\d+)"', svg).group(1))
    assert all(float(y) <= height for y in re.findall(r' y="([\d.]+)"', svg))
    assert all(float(x) <= 360 for x in re.findall(r'<rect x="([\d.]+)"', svg))
    assert min(map(float, re.findall(r'font-size="([\d.]+)"', svg))) >= 13
