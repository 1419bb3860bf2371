"""The coil's end, the ranking, and what would have to change: each told and each true."""

from __future__ import annotations

import copy
import itertools
from collections.abc import Callable
from typing import Any

import pytest

import calculators
from calculators.core.report import OUTCOMES
from calculators.spiral import CALCULATOR, flat, ranking
from calculators.spiral.choose import best_coil
from calculators.spiral.fit import Fit
from calculators.spiral.inputs import CoilRow, Inputs
from calculators.spiral.maths import Opening
from tests.calculators.spiral.solid import Place, Solid, Wire, lean, rest
from tests.support.inputs import random_request

COIL = {"usable_length": "546.1 mm", "coil_outside": "76.2 mm", "wire": "4 mm"}
BOTTLE = {**COIL, "shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm",
          "coil_count": 7, "lane_width": "79 mm", "height_above": "280 mm", "rail_height": "130 mm"}  # fmt: skip


def run(inputs: dict[str, Any], units: str = "si") -> dict[str, Any]:
    return calculators.run("spiral", {"units": units, "typed": "si", "inputs": inputs})


def check_of(result: dict[str, Any], key: str) -> dict[str, Any] | None:
    return next((check for check in result["checks"] if check["key"] == key), None)


def values_of(result: dict[str, Any]) -> dict[str, Any]:
    return {value["key"]: value["inner"] for value in result["values"]}


# -- the end of the coil ----------------------------------------------------------------

# The wire before a bottle stops it some 20° before the top of its turn, on the side that the wire
# comes up. A right-hand coil, seen from the front, comes up on the right: 3 is a quarter turn, 12
# a whole upper quarter behind it.
# An hour earlier the end still reaches it, leaning further: the hour is read to half an hour.
RIGHT = {12: "pass", 1: "pass", 2: "stop", 3: "stop", 6: "stop", 9: "stop", 11: "stop"}
# Clock angle of the end from the top of that turn, the doubtful half hour left out.
ENDS = {12: -15.0, 1: -45.0, 2: -75.0}


@pytest.mark.parametrize(("hour", "outcome"), RIGHT.items())
def test_a_slender_first_pack_is_held_only_by_wire_that_goes_on_past_it(hour: int, outcome: str) -> None:
    """Only an end near the top, its half turn behind it, stops a bottle when the tray is drawn out."""
    found = check_of(run({**BOTTLE, "end_clock": hour}), "first")
    assert found is not None
    assert found["outcome"] == outcome
    left = check_of(run({**BOTTLE, "hand": "left", "end_clock": 12 - hour or 12}), "first")
    assert left is not None
    assert left["outcome"] == outcome, "the mirror image"


def test_an_empty_first_turn_gives_the_first_pack_a_whole_turn_of_wire() -> None:
    """Whatever the hour, the pack behind the last whole turn is held."""
    for hour in range(1, 13):
        found = check_of(run({**BOTTLE, "end_clock": hour, "end_empty": 1}), "first")
        assert found is not None
        assert found["outcome"] == "pass", hour


def test_a_broad_first_pack_is_loose_and_does_not_fall() -> None:
    """Without wire before it a broad low pack stands by itself: a caution."""
    pot = {**BOTTLE, "diameter": "68 mm", "foot_diameter": "66 mm", "height": "90 mm", "end_clock": 6}
    found = check_of(run(pot), "first")
    assert found is not None
    assert found["outcome"] == "caution"
    assert found["text"].startswith("Loose")


@pytest.mark.parametrize("hour", ENDS)
def test_the_first_pack_leans_as_far_as_the_sampled_end_of_the_wire_lets_it(hour: int) -> None:
    """The same wire cut off at its end, in three dimensions; where nothing stops it, it falls."""
    wire, bottle = Wire(546.1 / 7, (76.2 - 4.0) / 2, 4.0), Solid(True, 60.0, 65.0, 205.0, heeled=True)
    place = Place(wire.pitch / 2)
    foot = rest(wire, bottle, place)
    assert foot is not None
    true = lean(wire, bottle, place, foot, last=ENDS[hour])
    found = check_of(run({**BOTTLE, "end_clock": hour}), "first")
    assert found is not None
    assert (true is None) == (found["value"] is None)
    if true is not None:
        assert found["value"] == pytest.approx(true, abs=0.3)


def test_a_blank_hour_keeps_the_check_of_the_first_pack() -> None:
    """Not known yet, and the hour is what to look up; an empty turn before it holds it at every hour."""
    found = check_of(run(BOTTLE), "first")
    assert found is not None
    assert found["outcome"] == "unknown"
    assert found["needs"] == ["end_clock"]
    empty = check_of(run({**BOTTLE, "end_empty": 1}), "first")
    assert empty is not None
    assert empty["outcome"] == "pass"
    by_hour = {check["outcome"] for hour in range(1, 13) for check in run({**BOTTLE, "end_empty": 1, "end_clock": hour})["checks"]
               if check["key"] == "first"}  # fmt: skip
    assert by_hour == {"pass"}


def test_a_blank_hour_is_decided_where_every_hour_says_the_same() -> None:
    """A wide loose tin falls out of every first turn, whatever the hour: no measuring helps."""
    tin = {**BOTTLE, "diameter": "40 mm", "foot_diameter": "30 mm"}
    found = check_of(run(tin), "first")
    assert found is not None
    assert found["outcome"] == "stop"
    assert found["text"].startswith("Wherever")


# -- shapes -----------------------------------------------------------------------------


def test_a_cup_has_more_room_than_its_rim_says() -> None:
    """At the wire's height it is narrower, so that a wider rim goes in; a straight one does not."""
    cup = {**BOTTLE, "diameter": "76 mm", "foot_diameter": "52 mm", "height": "110 mm"}
    assert values_of(run(cup))["opening"] < 70
    assert values_of(run({**cup, "sides": "widening"}))["opening"] > 72


def test_a_wedge_has_more_room_the_thinner_it_is_beside_the_wire() -> None:
    """Thick below and thin above: the thinner its thin end, the thicker it may be."""
    wedge = {**COIL, "shape": "flat", "breadth": "125 mm", "thickness": "60 mm", "height": "125 mm",
             "coil_count": 7, "lane_width": "158 mm", "thick_end": "foot"}  # fmt: skip
    found = [values_of(run({**wedge, "thin_end": f"{thin} mm"}))["opening"] for thin in (60, 40, 20, 5)]
    assert found == sorted(found)
    assert found[-1] > found[0] + 3


def test_the_middle_of_mass_of_full_bodies() -> None:
    """Of a wedge and of a cup, against the sums over a thousand slices."""
    wedge = {**COIL, "shape": "flat", "breadth": "125 mm", "thickness": "60 mm", "height": "120 mm",
             "coil_count": 7, "lane_width": "158 mm", "thin_end": "10 mm"}  # fmt: skip
    slices = [(k + 0.5) / 1000 for k in range(1000)]
    for end, width in (("foot", lambda s: 60 - 50 * s), ("top", lambda s: 10 + 50 * s)):
        middle = 120 * sum(s * width(s) for s in slices) / sum(width(s) for s in slices)
        assert middle_of(run({**wedge, "thick_end": end})) == pytest.approx(middle, abs=0.01)
    cup = {**BOTTLE, "sides": "widening", "diameter": "80 mm", "foot_diameter": "50 mm", "height": "100 mm"}
    area = [(50 + 30 * s) ** 2 for s in slices]
    middle = 100 * sum(s * a for s, a in zip(slices, area, strict=True)) / sum(area)
    assert middle_of(run(cup)) == pytest.approx(middle, abs=0.01)


def middle_of(result: dict[str, Any]) -> float:
    steps = [step for section in result["working"] for step in section["steps"]]
    return next(step["value"] for step in steps if step["symbol"] == "e_mid")


def test_a_product_below_the_axis_has_no_wire_beside_it_until_it_stands_on_a_riser() -> None:
    """Its top must reach the upper half turn; the mend says how high a riser does it."""
    cake = {**COIL, "shape": "flat", "breadth": "60 mm", "thickness": "36 mm", "height": "22 mm",
            "coil_count": 10, "lane_width": "79 mm"}  # fmt: skip
    result = run(cake)
    found = check_of(result, "held")
    assert found is not None
    assert found["outcome"] == "stop"
    assert values_of(result)["riser"] == pytest.approx(76.2 - 22)
    assert check_of(run({**cake, **found["mend"]["changes"]}), "held") is None


# -- ranking ----------------------------------------------------------------------------


def rows() -> list[CoilRow]:
    single = [CoilRow(name=f"{count}-count", coil_count=count, coil_outside=76.2, wire=4.0,
                      coil_kind="single", stock=5) for count in (6, 7, 9, 10)]  # fmt: skip
    return [*single, CoilRow(name="five dual", coil_count=5, coil_outside=76.2, wire=4.0,
                             coil_kind="dual", axis_offset=40.0, stock=5)]  # fmt: skip


def test_the_best_coil_without_a_sheet_is_the_sheet_s_own() -> None:
    """The exported ranking and the table of the sheet give the same order and words."""
    product = Inputs(shape="round", diameter=65.0, foot_diameter=60.0, height=205.0, lane_width=79.0,
                     usable_length=546.1, rail_height=130.0, height_above=280.0)  # fmt: skip
    ranked = best_coil(product, rows())
    assert [(each.word, each.row.name) for each in ranked[:2]] == [("Best", "7-count"), ("Too loose", "6-count")]
    assert {each.word for each in ranked[2:]} == {"Too tight", "Does not suit"}
    assert product.coils == [] or product.coils is None, "what is given stays as it was"
    own = [{"name": row.name, "coil_count": row.coil_count, "coil_outside": "76.2 mm", "wire": "4 mm",
            "coil_kind": row.coil_kind, "stock": 5, **({"axis_offset": "40 mm"} if row.axis_offset else {})}
           for row in rows()]  # fmt: skip
    table = next(each for each in run({**BOTTLE, "coils": own})["tables"] if each["title"].startswith("Your coils"))
    assert [(row[1], row[0]) for row in table["rows"]] == [(each.word, each.row.name) for each in ranked]


def test_every_verdict_has_a_reason() -> None:
    """Each row of the table says why, in words of the check that the verdict rests on."""
    seen = set()
    for seed in range(20):
        for table in CALCULATOR.run(random_request(CALCULATOR, 7000 + seed))["tables"]:
            for row in table["rows"] if table["title"].startswith("Your coils") else ():
                seen.add(row[1])
                assert len(row[2]) > 20, row
    assert len(seen) >= 4
    assert seen <= set(ranking.WORDS.values())


# -- what would have to change ------------------------------------------------------------


def standing(result: dict[str, Any]) -> tuple[int, int]:
    outcomes = [check["outcome"] for check in result["checks"]]
    return min(OUTCOMES.index(each) for each in outcomes), -sum(each != "pass" for each in outcomes)


@pytest.mark.parametrize("units", ["si", "us"])
def test_every_change_of_the_table_does_what_the_table_says(units: str) -> None:
    """Each is made as printed: the sheet is better for it or a failing check is cured, and the words agree."""
    tried = 0
    for seed in itertools.count():
        request = random_request(CALCULATOR, 40_000 + seed, units)
        request.update(inputs=CALCULATOR.run(request)["inputs"], typed=units)
        before = CALCULATOR.run(request)
        for table in before["tables"]:
            if table["title"] == "What would have to change":
                for text, word, _ in table["rows"]:
                    after = CALCULATOR.run(changed(request, before, text))
                    assert word == after["headline"].split(".")[0], (text, word, after["headline"])
                    assert standing(after) > standing(before) or cured(before, after), text
                    tried += 1
        if tried >= 12:
            break


def cured(before: dict[str, Any], after: dict[str, Any]) -> bool:
    failing = {check["key"] for check in before["checks"] if check["outcome"] in ("stop", "caution")}
    return any(check["key"] in failing and check["outcome"] == "pass" for check in after["checks"])


def changed(request: dict[str, Any], before: dict[str, Any], text: str) -> dict[str, Any]:
    """The request with a change read from its printed words: “Label: at least value.”"""
    labels = {field.label: field.key for field in CALCULATOR.inputs.fields()}
    made = copy.deepcopy(request)
    for label, key in labels.items():
        _, found, rest = text.partition(f"{label}: ")
        if found:
            value = rest.split(". ")[0].rstrip(".").removeprefix("at least ").removeprefix("at most ")
            made["inputs"][key] = value
    return made


@pytest.mark.parametrize(("thin", "outcome"), [("30 mm", "pass"), ("62 mm", "pass"), ("70 mm", "stop")])
def test_a_thin_end_thicker_than_the_thick_one_is_told_with_a_mend(thin: str, outcome: str) -> None:
    """Measured at the wrong end: the sheet says so, and with the mend it no longer does."""
    inputs = {"shape": "flat", "breadth": "125 mm", "thickness": "62 mm", "height": "125 mm", "thick_end": "foot",
              "thin_end": thin}  # fmt: skip
    made = check_of(run(inputs), "thin")
    assert made is not None
    assert made["outcome"] == outcome
    if outcome == "stop":
        mended = check_of(run({**inputs, **made["mend"]["changes"]}), "thin")
        assert mended is not None
        assert mended["outcome"] == "pass"


@pytest.mark.parametrize(("along", "goes_in"), [(40.0, True), (40.001, False), (None, False)])
def test_what_is_as_thick_as_its_room_goes_in(along: float | None, goes_in: bool) -> None:
    """And what is any thicker does not; without a size nothing is known to."""
    assert Fit(None, Opening(40.0), 30.0, along).goes_in is goes_in
    assert not Fit(None, None, 30.0, along).goes_in


@pytest.mark.parametrize(("value", "least"), [(lambda x: x, 2.0), (lambda x: -x, -5.0), (lambda x: (x - 3.21) ** 2, 0.0), (lambda x: (x - 2.01) ** 2, 0.0),
                                              (lambda x: (x - 4.99) ** 2, 0.0)])  # fmt: skip
def test_the_least_between_two_ends_may_lie_at_an_end(value: Callable[[float], float], least: float) -> None:
    assert flat._least(value, 2.0, 5.0) == pytest.approx(least, abs=1e-6)
