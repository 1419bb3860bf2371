"""The drawings: to scale, readable, nothing on top of anything."""

from __future__ import annotations

import itertools
import math
import random
import xml.etree.ElementTree as ET
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from tests.calculators.clearance.test_route import CABINET, random_inputs

SVG = "{http://www.w3.org/2000/svg}"
LEGS: dict[str, dict[str, Any]] = {
    "doorway": {"kind": "doorway", "width": 900, "height": 2200, "sill": 0},
    "low doorway": {"kind": "doorway", "width": 1500, "height": 1900, "sill": 20},
    "corridor": {"kind": "corridor", "width": 1000, "height": 2300},
    "turn": {"kind": "turn", "width_in": 1150, "width_out": 1250},
    "wide turn": {"kind": "turn", "width_in": 2600, "width_out": 1200},
    "lift": {"kind": "lift", "width": 1300, "height": 2300, "car_width": 1500, "car_depth": 1000},
    "ramp": {"kind": "ramp", "rise": 300, "run": 3600},
    "side door": {"kind": "side_door", "width": 980, "height": 2200, "width_in": 1200, "wall": 150,
                  "beyond": 900},
    "side door at the end": {"kind": "side_door", "width": 940, "height": 2200, "width_in": 1020,
                             "wall": 300, "beyond": 60},
    "deep side door": {"kind": "side_door", "width": 930, "height": 2200, "width_in": 3500, "wall": 1500},
    "small side door": {"kind": "side_door", "width": 600, "height": 2200, "width_in": 700, "wall": 0},
    "tail-lift": {"kind": "tail_lift", "platform_width": 2000, "platform_depth": 1500},
    "small tail-lift": {"kind": "tail_lift", "platform_width": 900, "platform_depth": 800},
    "low car": {"kind": "lift", "width": 1300, "height": 2300, "car_width": 1500, "car_depth": 1500,
                "car_height": 1900},
}


def texts(svg: str) -> list[tuple[str, float, float, float, float]]:
    """Each text with its box; 0.56 em a letter is a little more than a sans face takes."""
    found = []
    for each in ET.fromstring(svg).iter(f"{SVG}text"):
        size, words = float(each.get("font-size", 0)), each.text or ""
        wide = 0.56 * size * len(words)
        x, y = float(each.get("x", 0)), float(each.get("y", 0))
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[each.get("text-anchor", "start")]
        found.append((words, x, y - 0.75 * size, x + wide, y + 0.1 * size))
    return found


def all_figures() -> list[Any]:
    made = []
    for units in ("us", "si"):
        for name, leg in LEGS.items():
            made.append((f"{name} {units}", {**CABINET, "route": [leg], "rear_gap": 110, "front_clear": 1500,
                                              "door_leaf": 940, "hinge_side": "left", "tray_pullout": 600}, units))  # fmt: skip
        made += [
            (f"random {seed} {units}", random_inputs(random.Random(seed)), units)
            for seed in range(30)
        ]
    return [pytest.param(inputs, units, id=name) for name, inputs, units in made]


@pytest.mark.parametrize(("inputs", "units"), all_figures())
def test_dimensions_read_back_and_nothing_overlaps(inputs: dict[str, Any], units: str) -> None:
    """A dimension's line is as long as the number it shows; words keep clear of words and edge."""
    result = CALCULATOR.run({"units": units, "typed": "si", "inputs": inputs})
    assert result["figures"]
    for svg in result["figures"]:
        root = ET.fromstring(svg)
        assert root.find(f"{SVG}title").text  # type: ignore[union-attr]
        for dim in (each for each in root.iter(f"{SVG}g") if each.get("class") == "hb-dim"):
            x1, y1, x2, y2, scale, inner = (float(dim.get(f"data-{name}", "nan"))
                                            for name in ("x1", "y1", "x2", "y2", "scale", "inner"))  # fmt: skip
            assert inner > 0
            assert min(abs(x2 - x1), abs(y2 - y1)) < 0.01, "along a wall or across it"
            if inner in (inputs["cabinet_width"], inputs["cabinet_depth"]):
                continue  # its own size, written inside the cabinet: the arrow is shorter than the side
            # Page coordinates are printed to a thousandth of a pixel.
            assert math.hypot(x2 - x1, y2 - y1) == pytest.approx(inner * scale, abs=0.01)
        boxes = texts(svg)
        wide, high = (float(each) for each in root.get("viewBox", "").split()[2:])
        for words, x0, y0, x1, y1 in boxes:
            assert min(x0, y0, wide - x1, high - y1) >= 0, words
        for (one, *a), (other, *b) in itertools.combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (one, other)


@pytest.mark.parametrize(("name", "sizes", "hands"), [("tail-lift", (2000, 1500), 0), ("small tail-lift", (900, 800), 0), ("lift", (1500, 1000), 2)])
def test_what_carries_it_is_drawn_with_its_own_size_and_the_cabinet_s(name: str, sizes: tuple[float, float], hands: int) -> None:
    """Across and along, whichever way it stands there; in a lift with an inch for the hands at each side."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "inputs": {**CABINET, "route": [LEGS[name]]}})
    [svg] = [svg for svg in result["figures"] if "platform" in svg or "car from above" in svg]
    drawn = [float(dim.get("data-inner", "nan")) for dim in ET.fromstring(svg).iter(f"{SVG}g") if dim.get("class") == "hb-dim"]
    body = [CABINET[key] + hands * 25.4 for key in ("cabinet_width", "cabinet_depth")]
    assert sorted(drawn) == pytest.approx(sorted([*sizes, *body]))


def test_an_unknown_cabinet_has_no_figure() -> None:
    """Nothing is drawn from guesses."""
    assert CALCULATOR.run({"typed": "si", "inputs": {"route": [LEGS["turn"]]}})["figures"] == []


def test_the_box_in_the_turn_touches_the_outer_walls_and_fits_the_corner() -> None:
    """The drawn box stands on both outer walls, its far side as far from the corner as the margin."""
    result = CALCULATOR.run({"units": "si", "inputs": {**CABINET, "route": [LEGS["turn"]]}})
    turn = next(check for check in result["checks"] if check["key"] == "turn")
    root = ET.fromstring(result["figures"][0])
    body = next(each for each in root.iter(f"{SVG}polygon") if each.get("class") == "hb-body")
    walls = [each for each in root.iter(f"{SVG}polygon") if each.get("class") == "hb-wall"]
    corner = _points(walls[1])[0]
    scale = float(next(root.iter(f"{SVG}g")).get("data-scale", "nan"))
    first, second, third, fourth = _points(body)
    # The far long side runs from the third to the fourth corner; its distance from the block.
    (x1, y1), (x2, y2) = third, fourth
    area = (x2 - x1) * (corner[1] - y1) - (y2 - y1) * (corner[0] - x1)
    gap = abs(area) / math.dist(third, fourth) / scale
    assert gap == pytest.approx(abs(turn["margin"]), abs=0.2)
    outer = _points(walls[0])
    assert first[1] == pytest.approx(outer[2][1], abs=0.02)
    assert second[0] == pytest.approx(outer[3][0], abs=0.02)
    # A box: its sides stand square to each other and are as long as the cabinet's, and the two ways as wide as they are.
    sides = [math.dist(one, other) / scale for one, other in itertools.pairwise([first, second, third, fourth, first])]
    assert sides == pytest.approx([max(sides), min(sides)] * 2, abs=0.05)
    assert math.dist(first, third) == pytest.approx(math.dist(second, fourth), abs=0.05)
    wide = sorted(float(dim.get("data-inner", "nan")) for dim in root.iter(f"{SVG}g") if dim.get("class") == "hb-dim")
    assert wide == [LEGS["turn"]["width_in"], LEGS["turn"]["width_out"]]


def _points(shape: ET.Element) -> list[tuple[float, float]]:
    pairs = [pair.split(",") for pair in shape.get("points", "").split()]
    return [(float(x), float(y)) for x, y in pairs]


def test_the_box_in_the_side_door_touches_what_stops_it() -> None:
    """Drawn on the far wall, its near corner as far above the doorway's edge as the margin is short."""
    leg = LEGS["side door"]
    result = CALCULATOR.run({"units": "si", "inputs": {**CABINET, "route": [leg]}})
    found = next(check for check in result["checks"] if check["key"] == "side_room")
    root = ET.fromstring(result["figures"][0])
    body = _points(next(each for each in root.iter(f"{SVG}polygon") if each.get("class") == "hb-body"))
    floor, left, right, *_ = (_points(each) for each in root.iter(f"{SVG}polygon")
                              if each.get("class") == "hb-wall")  # fmt: skip
    scale = float(next(root.iter(f"{SVG}g")).get("data-scale", "nan"))
    assert max(y for _, y in body) == pytest.approx(floor[2][1], abs=0.02)
    # With nothing to spare, the corridor's upper wall would stand where both jambs touch the box.
    up = found["margin"] * scale
    jambs = [(left[1][0], left[1][1] + up), (right[0][0], right[0][1] + up)]
    sides = list(itertools.pairwise([*body, body[0]]))
    for jamb in jambs:
        assert min(_distance(jamb, *side) for side in sides) / scale == pytest.approx(0.0, abs=0.2)


def _distance(point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]) -> float:
    """From a point to a side, as page pixels."""
    (x, y), (x1, y1), (x2, y2) = point, start, end
    run = math.dist(start, end)
    share = max(0.0, min(1.0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / run**2))
    return math.hypot(x - x1 - share * (x2 - x1), y - y1 - share * (y2 - y1))


def test_a_leg_whose_kind_is_not_told_is_not_drawn() -> None:
    """A place and the cabinet's sizes alone: an answer that asks on, and no figure of a way nobody knows."""
    result = CALCULATOR.run({"typed": "si", "inputs": {"cabinet_width": 990, "cabinet_depth": 860, "gear_wide": 0,
                                                       "route": [{"place": "loading door"}]}})  # fmt: skip
    assert result["outcome"] == "unknown"
    assert len(result["figures"]) == 1  # the spot alone
