"""The drawing of the trays: lanes side by side, products in their middle, words that stand within their lane."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest

from calculators.plan.inputs import EXAMPLE

from .test_calculator import lanes, run

SVG = "{http://www.w3.org/2000/svg}"
WIDE, EDGE = 360.0, 6.0  # px of the page, and left free at each side
LETTER, ABOVE = 13.0, 0.75  # px of a text, and how much of that stands above its line


def boxes(root: ET.Element, style: str) -> list[tuple[float, float, float]]:
    """Left end, right end and top of every rectangle of a kind."""
    found = []
    for each in root.iter(f"{SVG}rect"):
        if each.get("class") == f"hb-{style}":
            x, y, width = (float(each.get(name, "nan")) for name in ("x", "y", "width"))
            found.append((x, x + width, y))
    return found


def upright(root: ET.Element) -> list[tuple[str, float]]:
    """The words that read upward, with the line on which they stand."""
    turned = [(each.text or "", each.get("transform", "")) for each in root.iter(f"{SVG}text") if each.get("transform")]
    return [(words, float(re.match(r"translate\(([\d.]+) ", at)[1])) for words, at in turned]  # type: ignore[index]


def drawing(**changes: Any) -> tuple[dict[str, Any], ET.Element]:
    result = run(**changes)
    return result, ET.fromstring(result["figures"][0])


def trays(counts: tuple[int, ...]) -> list[dict[str, Any]]:
    """Trays of the example with other numbers of lanes, all 820 mm wide, each lower than the one before."""
    return [{**EXAMPLE["trays"][number % 2], "name": f"t{number}", "lanes": count, "lane_width": f"{820 / count:.4f} mm",
             "drop_height": f"{44 - 10 * number} in"}
            for number, count in enumerate(counts)]  # fmt: skip


@pytest.mark.parametrize("counts", [(5, 10), (10, 4, 2), (12, 8)])
def test_lanes_stand_side_by_side(counts: tuple[int, ...]) -> None:
    """The first at the left edge, each where the one before ends, the last of the widest tray at the right edge."""
    _, root = drawing(trays=trays(counts), pins=[])
    drawn = {top: [(left, right) for left, right, _ in row]
             for top, row in itertools.groupby(boxes(root, "thin"), key=lambda box: box[2])}  # fmt: skip
    assert [len(row) for row in drawn.values()] == list(counts)
    for count, row in zip(counts, drawn.values(), strict=True):
        step = (WIDE - 2 * EDGE) / count
        assert row == [pytest.approx((EDGE + step * place, EDGE + step * (place + 1)), abs=0.02) for place in range(count)]


def test_a_long_name_is_cut_where_its_lane_ends() -> None:
    """Of 112 px 4 are left free at each end, and a letter takes 7.4: fourteen letters, the last of them a sign that more follows."""
    products = [{**EXAMPLE["products"][0], "name": "An uncommonly long name"}, {**EXAMPLE["products"][1], "name": "Fourteen signs"}]
    _, root = drawing(products=products, pins=[], apart=[])
    names = {words for words, _ in upright(root)} - {row["name"] for row in EXAMPLE["coils"]} - {"empty"}
    assert names == {"An uncommonly…", "Fourteen signs"}


def test_a_product_stands_in_the_middle_of_its_lane() -> None:
    """In the lane that the plan gave it, as wide as it is."""
    result, root = drawing()
    filled, room = lanes(result), boxes(root, "thin")
    names = [row["name"] for row in EXAMPLE["trays"]]
    order = [(name, place) for name, row in zip(names, EXAMPLE["trays"], strict=True) for place in range(1, row["lanes"] + 1)]
    taken = [box for box, at in zip(room, order, strict=True) if at in filled]
    middles = [(left + right) / 2 for left, right, _ in boxes(root, "body")]
    assert middles == pytest.approx([(left + right) / 2 for left, right, _ in taken], abs=0.02)
    assert len(middles) == len(filled) >= 15


@pytest.mark.parametrize(("wide", "both"), [(34.5, True), (30.02, True), (29.98, False), (26.5, False), (18.0, False)])
def test_a_coil_is_named_where_its_lane_has_room_for_two_lines(wide: float, both: bool) -> None:
    """Two lines of 13 px and 4 px to spare. Whatever stands there, no word stands outside its lane."""
    whole = 79 * (WIDE - 2 * EDGE) / wide  # mm of the widest tray, where a lane of 79 mm is so wide
    narrow = {**EXAMPLE["trays"][1], "name": "narrow", "lanes": 10, "lane_width": "79 mm"}
    rows = [narrow, {**narrow, "name": "widest", "lanes": 4, "lane_width": f"{whole / 4:.5f} mm"}]
    result, root = drawing(trays=rows, pins=[])
    room = boxes(root, "thin")
    assert room[0][1] - room[0][0] == pytest.approx(wide, abs=0.01)
    named = {row["name"] for row in EXAMPLE["coils"]}
    filled = lanes(result)
    first = [at for at in filled if at[0] == "narrow"]
    assert first
    assert sum(text in named for text, _ in upright(root)) == len(filled) - (0 if both else len(first))
    for text, line in upright(root):
        assert any(left <= line - ABOVE * LETTER and line <= right for left, right, _ in room), text
