"""The drawing of the room: all three rooms of one shape, at one scale, from one corner, on the phone's screen."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from .test_energy import WHOLE, run

SVG = "{http://www.w3.org/2000/svg}"
WIDE, TALL, MARGIN = 360.0, 420.0, 34.0  # px
PROPANE = {"limit": 0.008, "ghost": 0.038}  # kg/m³: EN 378-1, practical limit and lower limit
Box = tuple[float, float, float, float]


def plan(**inputs: float) -> tuple[dict[str, Box], float, float]:
    """Left, foot, width and depth of each room drawn, by its style; the page's width and height."""
    root = ET.fromstring(run(**{**WHOLE, **inputs})["figures"][0])
    found = {}
    for each in root.iter(f"{SVG}polygon"):
        xs, ys = zip(*(map(float, pair.split(",")) for pair in each.get("points", "").split()), strict=True)
        found[(each.get("class") or "").removeprefix("hb-")] = (min(xs), max(ys), max(xs) - min(xs), max(ys) - min(ys))
    wide, high = map(float, root.get("viewBox", "").split()[2:])
    return found, wide, high


@pytest.mark.parametrize(("length", "width"), [(6.0, 4.0), (2.0, 11.0), (3.0, 3.0), (12.0, 2.5), (1.5, 1.2)])
def test_the_rooms_are_to_scale_and_fill_the_page(length: float, width: float) -> None:
    """The room by its sides; the other two have its shape and, at its height, the volume that the gas wants."""
    drawn, wide, high = plan(room_length=length, room_width=width)
    left, foot, across, deep = drawn["body"]
    assert across / length == pytest.approx(deep / width, rel=0.001)
    floor = length * width
    for style, limit in PROPANE.items():
        share = math.sqrt(WHOLE["charge"] / 1000 / limit / (floor * WHOLE["room_height"]))
        assert drawn[style][:2] == pytest.approx((left, foot), abs=0.02)
        assert drawn[style][2:] == pytest.approx((across * share, deep * share), abs=0.03)
    # As large as the page allows: the whole width, or 420 px of height.
    assert wide == WIDE
    most_wide, most_deep = (max(box[at] for box in drawn.values()) for at in (2, 3))
    assert high == pytest.approx(most_deep + 2 * MARGIN, abs=0.1)
    full = most_wide == pytest.approx(WIDE - 2 * MARGIN, abs=0.02), most_deep == pytest.approx(TALL - 2 * MARGIN, abs=0.02)
    assert any(full)
    assert high <= TALL + 0.05


def test_a_room_too_small_for_a_full_leak_lies_within_the_one_that_it_would_take() -> None:
    """And the words beside each name it."""
    drawn, _, _ = plan(room_length=1.5, room_width=1.2)
    assert drawn["limit"][2] > drawn["body"][2]
    svg = run(**{**WHOLE, "room_length": 1.5, "room_width": 1.2})["figures"][0]
    words = dict(re.findall(r'y="([\d.]+)"[^>]*>(This room|room for a full leak|here it would burn)', svg))
    named = {name: float(y) for y, name in words.items()}
    assert set(named) == {"This room", "room for a full leak", "here it would burn"}
    assert named["room for a full leak"] < named["here it would burn"] < named["This room"]
