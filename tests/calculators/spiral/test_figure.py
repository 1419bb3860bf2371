"""The drawings: to scale, readable, nothing on top of anything."""

from __future__ import annotations

import dataclasses
import itertools
import math
import xml.etree.ElementTree as ET
from typing import Any

import pytest

from calculators.spiral import CALCULATOR, figure
from calculators.spiral.stand import Pose
from tests.support.inputs import random_request

QUICK = dataclasses.replace(CALCULATOR, probe=False)  # what a blank may hide is not drawn
SVG = "{http://www.w3.org/2000/svg}"
COIL = {"usable_length": 546.1, "coil_outside": 76.2, "wire": 4, "height_above": 240, "rail_height": 130}
DUAL = {"coil_kind": "dual", "axis_offset": 40}
PRODUCTS: dict[str, dict[str, Any]] = {
    "bottle": {"shape": "round", "diameter": 65, "foot_diameter": 58, "height": 205, "lane_width": 79, "coil_count": 7},
    "loose bottle": {"shape": "round", "diameter": 53, "foot_diameter": 47, "height": 230, "lane_width": 79, "coil_count": 5},
    "cup": {"shape": "round", "sides": "widening", "diameter": 95, "foot_diameter": 62, "height": 110,
            "lane_width": 105, "coil_count": 6},
    "bag": {"shape": "flat", "pillow": "yes", "breadth": 130, "thickness": 46, "height": 180, "lane_width": 145, "coil_count": 10},
    "bar": {"shape": "flat", "breadth": 45, "thickness": 28, "height": 120, "lane_width": 79, "coil_count": 12},
    "wedge": {"shape": "flat", "breadth": 125, "thickness": 60, "thin_end": 8, "thick_end": "foot", "height": 125,
              "lane_width": 158, "coil_count": 7},
    "platter": {"shape": "flat", "breadth": 160, "thickness": 46, "height": 60, "lane_width": 170, "coil_count": 5, **DUAL},
    "cake": {"shape": "flat", "breadth": 60, "thickness": 40, "height": 25, "lane_width": 79, "coil_count": 10},
    "far too large": {"shape": "round", "diameter": 290, "foot_diameter": 250, "height": 590, "lane_width": 590, "coil_count": 12},
    "tiny": {"shape": "flat", "breadth": 11, "thickness": 6, "height": 80, "lane_width": 25, "coil_count": 40},
}  # fmt: skip
each = pytest.mark.parametrize("inputs", PRODUCTS.values(), ids=PRODUCTS)
both = pytest.mark.parametrize("units", ["us", "si"])


def figures(inputs: dict[str, Any], units: str = "si") -> list[ET.Element]:
    result = QUICK.run({"units": units, "typed": "si", "inputs": {**COIL, **inputs}})
    return [ET.fromstring(svg) for svg in result["figures"]]


def scale_of(root: ET.Element) -> float:
    return next(float(each.get("data-scale", "nan")) for each in root.iter(f"{SVG}g"))


def points(shape: ET.Element) -> list[tuple[float, float]]:
    return [tuple(map(float, pair.split(","))) for pair in shape.get("points", "").split()]  # type: ignore[misc]


def drawn(root: ET.Element, style: str, tag: str = "polygon") -> list[list[tuple[float, float]]]:
    return [points(shape) for shape in root.iter(f"{SVG}{tag}") if shape.get("class") == f"hb-{style}"]


def texts(root: ET.Element) -> list[tuple[str, float, float, float, float]]:
    """Each text with its box; 0.56 em a letter is a little more than a sans face takes."""
    found = []
    for text in root.iter(f"{SVG}text"):
        size, words = float(text.get("font-size", 0)), text.text or ""
        wide = 0.56 * size * len(words)
        x, y = float(text.get("x", 0)), float(text.get("y", 0))
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text-anchor", "start")]
        found.append((words, x, y - 0.75 * size, x + wide, y + 0.1 * size))
    return found


@each
@both
def test_dimensions_read_back_and_words_keep_clear(inputs: dict[str, Any], units: str) -> None:
    """A dimension's line is as long as the number it shows; words keep clear of words and edge."""
    found = figures(inputs, units)
    assert len(found) == 2
    for root in found:
        assert root.find(f"{SVG}title").text  # type: ignore[union-attr]
        for dim in (each for each in root.iter(f"{SVG}g") if each.get("class") == "hb-dim"):
            x1, y1, x2, y2, scale, inner = (float(dim.get(f"data-{name}", "nan"))
                                            for name in ("x1", "y1", "x2", "y2", "scale", "inner"))  # fmt: skip
            # Page coordinates are printed to a thousandth of a pixel.
            assert math.hypot(x2 - x1, y2 - y1) == pytest.approx(inner * scale, abs=0.01)
        clear(root)


@pytest.mark.parametrize("seed", range(40))
def test_any_figure_is_readable(seed: int) -> None:
    """Random inputs, extremes among them: every word within the drawing, none upon another."""
    result = CALCULATOR.run(random_request(CALCULATOR, 3000 + seed, "us" if seed % 2 else "si"))
    for svg in result["figures"]:
        clear(ET.fromstring(svg))


def clear(root: ET.Element) -> None:
    wide, high = (float(each) for each in root.get("viewBox", "").split()[2:])
    boxes = texts(root)
    for words, left, top, right, foot in boxes:
        assert left >= -1, words
        assert top >= -1, words
        assert right <= wide + 1, words
        assert foot <= high + 1, words
    for one, other in itertools.combinations(boxes, 2):
        apart = one[3] <= other[1] or other[3] <= one[1] or one[4] <= other[2] or other[4] <= one[2]
        assert apart, (one[0], other[0])


@each
def test_the_plan_is_to_scale(inputs: dict[str, Any]) -> None:
    """Pitch, coil, wire and product measured off the page are what was typed."""
    root = figures(inputs)[0]
    scale = scale_of(root)
    wires = drawn(root, "wall")
    outside = [y for wire in wires for _, y in wire]
    across = 76.2 + (80 if "coil_kind" in inputs else 0)
    # The ends of a half turn run along the lane, where half the wire stands beside their middle.
    assert max(outside) - min(outside) == pytest.approx(across * scale, abs=0.05)
    hands = 2 if "coil_kind" in inputs else 1
    pitch = wires[1][0][0] - wires[0][0][0]
    assert len(wires) == 2 * hands
    assert pitch == pytest.approx(546.1 / inputs["coil_count"] * scale, abs=0.05)
    widest = next(outline for style in ("thin", "body", "limit") for outline in drawn(root, style))
    assert size_of(widest, inputs) == pytest.approx(inputs.get("diameter", inputs.get("thickness")) * scale, abs=0.1)


def size_of(outline: list[tuple[float, float]], inputs: dict[str, Any]) -> float:
    """The diameter of a drawn circle; the distance between a drawn pack's two long faces."""
    if inputs["shape"] == "round":
        return max(x for x, _ in outline) - min(x for x, _ in outline)
    if "pillow" in inputs:
        middle = len(outline) // 4
        return math.dist(outline[middle], outline[-1 - middle])
    return math.dist(outline[1], outline[2])


@each
def test_the_side_view_is_to_scale(inputs: dict[str, Any]) -> None:
    """Height of the foot, of the product and of the coil, and the lean, measured off the page."""
    result = CALCULATOR.run({"units": "si", "typed": "si", "inputs": {**COIL, **inputs}})
    values = {value["key"]: value["inner"] for value in result["values"]}
    root = ET.fromstring(result["figures"][1])
    scale = scale_of(root)
    body, wire = drawn(root, "body")[0], drawn(root, "thin", "polyline")[0]
    high = [y for _, y in body]
    assert max(high) - min(high) == pytest.approx(inputs["height"] * scale, abs=0.05)
    floor = max(y for _, y in wire) + 2 * scale  # the lowest wire's middle lies half its thickness up
    assert floor - max(high) == pytest.approx(values["foot"] * scale, abs=0.05)
    assert floor - min(y for _, y in wire) == pytest.approx((76.2 - 2) * scale, abs=0.05)
    for leaned in drawn(root, "ghost"):
        # A straight side turns by the lean; its foot turns about its front edge by as much.
        (x1, y1), (x2, y2) = leaned[0], leaned[-1]
        assert math.degrees(math.atan2(y1 - y2, x1 - x2)) == pytest.approx(values["lean"], abs=0.3)


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("offset", [0, 25, 40])
def test_coils_stand_where_their_axis_is(hand: str, offset: float) -> None:
    """One on the lane's middle; two as far off it as they were measured, the one the other's mirror image."""
    dual = {"coil_kind": "dual", "axis_offset": offset} if offset else {"hand": hand}
    root = figures({**PRODUCTS["platter"], "coil_kind": "single", "axis_offset": None, **dual})[0]
    scale = scale_of(root)
    sides = sorted(float(each.get("y1", "nan")) for each in root.iter(f"{SVG}line") if each.get("class") == "hb-thin")
    middle = (sides[0] + sides[-1]) / 2
    assert sides[-1] - sides[0] == pytest.approx(170 * scale, abs=0.05)
    wires = drawn(root, "wall")
    axes = {round((max(y for _, y in wire) + min(y for _, y in wire)) / 2 - middle, 1) for wire in wires}
    assert sorted(axes) == pytest.approx([-offset * scale, offset * scale] if offset else [0], abs=0.15)
    # The wire's half turn above runs forward from the one side to the other; a left coil's runs the other way.
    if not offset:
        ends = [wire[0][1] - wire[len(wire) // 2 - 1][1] for wire in wires]
        assert all((end > 0) is (hand == "left") for end in ends)


@each
def test_the_side_view_has_the_product_s_outline(inputs: dict[str, Any]) -> None:
    """Foot, widest and top stand at their heights; a heel is a quarter of a circle, and only straight round ones have one."""
    root = figures(inputs)[1]
    scale = scale_of(root)
    body = drawn(root, "body")[0]
    middle = (max(x for x, _ in body) + min(x for x, _ in body)) / 2
    foot = max(y for _, y in body)
    here = {(abs(x - middle) / scale, (foot - y) / scale) for x, y in body}
    assert apart(here, outline(inputs)) < 0.05 + 0.02 / scale


def apart(here: set[tuple[float, float]], wanted: list[tuple[float, float]]) -> float:
    """How far a drawn corner is at most from one that is wanted, or one of these from any that is drawn."""
    near = [min(math.dist(one, other) for other in wanted) for one in here]
    back = [min(math.dist(one, other) for one in here) for other in wanted]
    return max(near + back)


def outline(inputs: dict[str, Any]) -> list[tuple[float, float]]:
    """Half of what stands there, out and up, from the sizes alone: its corners, and points of its heel."""
    high = inputs["height"]
    if inputs["shape"] == "round":
        foot, top = inputs["foot_diameter"] / 2, inputs["diameter"] / 2
    else:
        foot = top = inputs["thickness"] / 2
        if "thin_end" in inputs:
            top = inputs["thin_end"] / 2
    heel = top - foot if inputs["shape"] == "round" and "sides" not in inputs else 0.0
    rounds = [(foot + heel * math.cos(math.radians(a)), heel - heel * math.sin(math.radians(a))) for a in range(0, 90, 15)] if heel else []
    return [(foot, 0.0), *rounds, (top, high)]


WIDER: dict[str, dict[str, Any]] = {
    f"{hand} {wide}": {"shape": "round", "diameter": wide, "foot_diameter": wide - 6, "height": 120, "lane_width": 80, "coil_outside": 40,
                       "coil_count": 5, "hand": hand} for hand in ("left", "right") for wide in (80, 110)}  # fmt: skip


@pytest.mark.parametrize("inputs", [*PRODUCTS.values(), *WIDER.values()], ids=[*PRODUCTS, *WIDER])
def test_the_plan_leaves_room_round_all_that_it_shows(inputs: dict[str, Any]) -> None:
    """A sixth of coil and product more, and the margin; also where a product wider than its lane stands to one side of its coil."""
    root = figures(inputs)[0]
    high = float(root.get("viewBox", "").split()[3])
    shown = [point for style in ("thin", "body", "limit", "wall") for outline in drawn(root, style) for point in outline]
    reach, along = max(abs(y - high / 2) for _, y in shown), max(x for x, _ in shown) - min(x for x, _ in shown)
    assert high / 2 >= reach + 0.16 * max(reach, along) + 34 - 0.1


@pytest.mark.parametrize("hand", [1.0, -1.0])
@pytest.mark.parametrize("skew", [0.0, 17.0, 45.0])
def test_a_section_keeps_its_shape_wherever_it_is_turned(skew: float, hand: float) -> None:
    """As far from each other as before, its middle in its place; a coil of the other hand has it mirrored."""
    section = [(-30.0, -12.0), (30.0, -12.0), (30.0, 12.0), (-30.0, 12.0), (0.0, 0.0)]
    pose = Pose(False, 60.0, 24.0, 24.0, 41.0, skew, aside=5.0)
    turned = figure._turned(section, pose, hand)
    for (one, before), (other, after) in itertools.combinations(zip(turned, section, strict=True), 2):
        assert math.dist(one, other) == pytest.approx(math.dist(before, after))
    assert turned[-1] == pytest.approx((41.0, hand * 5.0))
    # Turned to the right: the end of its breadth that lay to that side has gone ahead.
    assert turned[1][0] - turned[0][0] == pytest.approx(60 * math.sin(math.radians(skew)))


def test_a_product_s_place_beside_its_coil_is_the_other_hand_s_mirrored() -> None:
    """Two coils of either hand: the outlines are each other's image in the lane's middle."""
    left, right = (figures(WIDER[f"{hand} 80"])[0] for hand in ("left", "right"))
    found = []
    for root in (left, right):
        middle, scale = float(root.get("viewBox", "").split()[3]) / 2, scale_of(root)
        outline = next(points for style in ("thin", "body", "limit") for points in drawn(root, style))
        found.append((max(y for _, y in outline) - middle, min(y for _, y in outline) - middle, scale))
    (low, high, scale), (other_low, other_high, other) = found
    assert abs(low + high) > 4 * scale
    assert (low, high, scale) == pytest.approx((-other_high, -other_low, other), abs=0.06)
