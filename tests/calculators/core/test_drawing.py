"""A figure is to scale: every place of it against the arithmetic of its page, done here again.

A drawing is 360 wide with a margin of 34 round it, so 292 are left for the world's width.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from calculators.core.drawing import Drawing, bars
from calculators.core.units import Units

SI = Units("si")
SVG = "{http://www.w3.org/2000/svg}"


def drawing(box: tuple[float, float, float, float] = (0, 0, 146, 73), **more: float) -> Drawing:
    return Drawing(box, SI, title="T", description="D", **more)


def parts(made: Drawing, tag: str) -> list[ET.Element]:
    """The elements of a kind, those of the arrow heads left out."""
    root = ET.fromstring(made.svg())
    heads = {id(each) for defs in root.iter(f"{SVG}defs") for each in defs.iter()}
    return [each for each in root.iter(f"{SVG}{tag}") if id(each) not in heads]


def numbers(element: ET.Element, *names: str) -> list[float]:
    return [float(element.attrib[name]) for name in names]


def points(element: ET.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in element.attrib["points"].split())]


# -- where things stand ---------------------------------------------------------------


def test_a_wide_world_fills_the_width() -> None:
    """146 on 292: two to one; 73 high is 146, and a margin above and below."""
    made = drawing()
    assert made.scale == 2
    assert (made.width, made.height) == (360, 146 + 68)
    assert made.at((0, 0)) == (34, 180)
    assert made.at((146, 73)) == (326, 34)
    assert made.at((10, 20)) == (54, 140)


def test_a_tall_world_is_no_taller_than_the_page_and_stands_in_its_middle() -> None:
    """352 on 352 (420 less the margins): one to one, 100 wide in the middle of 360."""
    made = drawing((0, 0, 100, 352))
    assert (made.scale, made.height) == (1, 420)
    assert made.at((0, 0)) == (130, 386)
    assert made.at((100, 352)) == (230, 34)


def test_a_world_may_begin_anywhere() -> None:
    made = drawing((-46, -23, 100, 50))
    assert made.at((-46, -23)) == (34, 180)
    assert made.at((100, 50)) == (326, 34)


def test_another_page_is_another_scale() -> None:
    made = drawing(width=214, tallest=1000)
    assert (made.scale, made.width) == (1, 214)
    assert drawing(tallest=141).scale == 1


def test_a_world_without_a_width_or_height_does_not_fail() -> None:
    """A point, drawn as large as the page allows."""
    assert drawing((0, 0, 0, 0)).at((0, 0)) == pytest.approx((34, 326))
    assert drawing((0, 0, 146, 0)).scale == 2
    assert drawing((0, 0, 0, 352)).scale == 1


def test_the_picture_has_its_size_and_its_words() -> None:
    root = ET.fromstring(drawing().svg())
    assert root.attrib["viewBox"] == "0 0 360 214.0"
    assert (root.attrib["role"], root.attrib["class"]) == ("img", "hb-figure")
    assert [root.findtext(f"{SVG}{name}") for name in ("title", "desc")] == ["T", "D"]
    assert {each.attrib["id"] for each in root.iter(f"{SVG}marker")} == {"hb-arrow", "hb-back"}


# -- shapes ---------------------------------------------------------------------------


def test_shapes_stand_where_the_world_says() -> None:
    made = drawing()
    made.line((0, 0), (146, 73), "limit")
    made.polygon([(0, 0), (10, 0), (10, 20)], "body")
    made.path([(0, 0), (10, 20)])
    made.path([(0, 0), (20, 10)], "ghost", arrow=True)
    made.rect((10, 20), 30, 40, "wall")
    made.circle((73, 36), 15, "good")
    line, circle = parts(made, "line")[0], parts(made, "circle")[0]
    assert numbers(line, "x1", "y1", "x2", "y2") == [34, 180, 326, 34]
    assert numbers(circle, "cx", "cy", "r") == [180, 108, 30]
    three, four = (points(each) for each in parts(made, "polygon"))
    assert three == [(34, 180), (54, 180), (54, 140)]
    assert four == [(54, 140), (114, 140), (114, 60), (54, 60)]
    plain, tipped = parts(made, "polyline")
    assert (points(plain), points(tipped)) == ([(34, 180), (54, 140)], [(34, 180), (74, 160)])
    assert (plain.get("marker-end"), tipped.get("marker-end")) == (None, "url(#hb-arrow)")
    assert (plain.get("class"), tipped.get("class"), line.get("class")) == (None, "hb-ghost", "hb-limit")


@pytest.mark.parametrize("style", ["body", "wall", "ghost", "limit", "good", "thin", "solid"])
def test_each_style_has_a_stroke_or_filling_of_its_own(style: str) -> None:
    """Nothing is told by colour alone: no two look alike in black and white."""
    looks = {}
    for name in ("", "body", "wall", "ghost", "limit", "good", "thin", "solid"):
        made = drawing()
        made.line((0, 0), (1, 1), name)
        attributes = parts(made, "line")[0].attrib
        looks[name] = tuple(attributes.get(each) for each in ("fill", "fill-opacity", "stroke", "stroke-width", "stroke-dasharray"))
    assert list(looks.values()).count(looks[style]) == 1
    assert set(looks[style][:1]) | set(looks[style][2:3]) <= {"none", "currentColor"}


@pytest.mark.parametrize(("start", "end", "steps"), [(0, 90, 15), (0, 12, 2), (0, 3, 2), (30, -90, 20), (0, 19, 3)])
def test_a_sector_is_a_slice_in_steps_of_six_degrees(start: float, end: float, steps: int) -> None:
    made = drawing((-73, -36.5, 73, 36.5))
    made.sector((10, 5), 20, start, end)
    shape = parts(made, "polygon")[0]
    assert shape.get("class") == "hb-ghost"
    centre, *rim = points(shape)
    assert centre == (200, 97)
    assert len(rim) == steps + 1
    angles = [math.degrees(math.atan2(97 - y, x - 200)) for x, y in rim]
    wanted = [start + (end - start) * each / steps for each in range(steps + 1)]
    assert angles == pytest.approx(wanted, abs=0.02)
    assert [math.dist(centre, each) for each in rim] == pytest.approx([40] * (steps + 1), abs=0.02)


# -- words and dimensions -------------------------------------------------------------


def test_words_stand_at_their_point() -> None:
    made = drawing()
    made.text((10, 20), "here")
    made.text((10, 20), "below", anchor="start", dy=5, size=11, bold=True)
    here, below = parts(made, "text")
    assert numbers(here, "x", "y", "font-size") == [54, 140, 13]
    assert (here.get("text-anchor"), here.get("font-weight")) == ("middle", None)
    assert numbers(below, "x", "y", "font-size") == [54, 145, 11]
    assert (below.get("text-anchor"), below.get("font-weight")) == ("start", "700")


def test_words_of_a_figure_are_words_whatever_they_look_like() -> None:
    """A place or a product is called what people call it."""
    made = Drawing((0, 0, 146, 73), SI, title="</title><b>", description="a & b <i>")
    made.text((10, 20), "<script>&amp;")
    made.dim((0, 0), (100, 0), words="</text><b>")
    assert [each.text for each in parts(made, "text")] == ["<script>&amp;", "</text><b> 100 mm"]
    root = ET.fromstring(made.svg())
    assert [root.findtext(f"{SVG}{tag}") for tag in ("title", "desc")] == ["</title><b>", "a & b <i>"]


@pytest.mark.parametrize(
    ("start", "end", "off", "line", "words", "anchor"),
    [  # to the right with the words above the line, or below it; upward with the words to its right or left
        ((0, 0), (100, 0), 0, [34, 180, 234, 180], (134, 175), "middle"),
        ((0, 0), (100, 0), 20, [34, 160, 234, 160], (134, 155), "middle"),
        ((100, 0), (0, 0), 20, [234, 200, 34, 200], (134, 214), "middle"),
        ((0, 0), (0, 50), 0, [34, 180, 34, 80], (28, 134.5), "end"),
        ((0, 0), (0, 50), 20, [14, 180, 14, 80], (8, 134.5), "end"),
        ((0, 50), (0, 0), 20, [54, 80, 54, 180], (60, 134.5), "start"),
        ((0, 50), (0, 0), -20, [14, 80, 14, 180], (20, 134.5), "start"),
    ],
)
def test_a_dimension_stands_off_to_the_left_of_its_direction(
    start: tuple[float, float], end: tuple[float, float], off: float, line: list[float],
    words: tuple[float, float], anchor: str,
) -> None:  # fmt: skip
    made = drawing()
    made.dim(start, end, off=off)
    drawn, told, group = parts(made, "line")[0], parts(made, "text")[0], parts(made, "g")[0]
    assert numbers(drawn, "x1", "y1", "x2", "y2") == line
    assert (drawn.get("marker-start"), drawn.get("marker-end")) == ("url(#hb-back)", "url(#hb-arrow)")
    assert (*numbers(told, "x", "y"), told.get("text-anchor")) == (*words, anchor)
    assert numbers(group, "data-x1", "data-y1", "data-x2", "data-y2", "data-scale") == [*line, 2]
    assert numbers(group, "data-inner") == [math.dist(start, end)]
    assert told.text == f"{round(math.dist(start, end))} mm"


def test_a_dimension_says_what_it_stands_for() -> None:
    made = drawing()
    made.dim((0, 0), (100, 0), length=1234.5, words="clear")
    made.dim((0, 0), (100, 0), length=2.5, kind="run")
    made.dim((7, 7), (7, 7))
    assert [each.text for each in parts(made, "text")] == ["clear 1234 mm", "2.5 m", "0 mm"]
    assert [numbers(each, "data-inner")[0] for each in parts(made, "g")] == [1234.5, 2.5, 0]


def test_a_slanting_dimension_has_its_words_beside_or_above_it() -> None:
    """Steeper than about 44° from level the words stand beside the line."""
    for rise, anchor in ((40, "middle"), (60, "end"), (-60, "start")):
        made = drawing((-73, -73, 73, 73))
        made.dim((0, 0), (50, rise))
        assert parts(made, "text")[0].get("text-anchor") == anchor


def test_an_arrow_points_the_way() -> None:
    made = drawing()
    made.arrow((0, 0), (10, 20))
    drawn = parts(made, "line")[0]
    assert (numbers(drawn, "x1", "y1", "x2", "y2"), drawn.get("marker-end")) == ([34, 180, 54, 140], "url(#hb-arrow)")


# -- bars -----------------------------------------------------------------------------


def test_bars_are_as_long_as_their_values() -> None:
    """The greatest of values and limits takes 328 of 344, less a margin of 8 each side."""
    root = ET.fromstring(bars([("A", 10, 40), ("B", 20.04, None), ("C", 0, 15.06)], "current", SI, title="T", description="D"))
    assert root.attrib["viewBox"] == "0 0 360 150"
    boxes, limits = list(root.iter(f"{SVG}rect")), list(root.iter(f"{SVG}line"))
    assert [numbers(each, "x", "y", "width", "height") for each in boxes] == [
        [8, 22, 82, 13], [8, 68, pytest.approx(164.33, abs=0.005), 13], [8, 114, 0.5, 13]]  # fmt: skip
    assert [numbers(each, "data-inner", "data-scale") for each in boxes] == [[10, 8.2], [20.04, 8.2], [0, 8.2]]
    assert [numbers(each, "x1", "y1", "x2", "y2") for each in limits] == [
        [336, 18, 336, 39], [pytest.approx(131.49, abs=0.006), 110, pytest.approx(131.49, abs=0.006), 131]]  # fmt: skip
    assert [each.text for each in root.iter(f"{SVG}text")] == ["A: 10.00 A of 40.00 A", "B: 20.04 A", "C: 0.00 A of 15.06 A"]
    assert [numbers(each, "x", "y") for each in root.iter(f"{SVG}text")] == [[8, 16], [8, 62], [8, 108]]
    assert [numbers(each, "data-inner") for each in limits] == [[40], [15.06]]


def test_bars_round_a_value_up_and_its_limit_down() -> None:
    root = ET.fromstring(bars([("A", 1.001, 2.009)], "current", SI, title="T", description="D"))
    assert root.findtext(f"{SVG}text") == "A: 1.01 A of 2.00 A"


def test_bars_of_nothing_do_not_fail() -> None:
    """Nothing to draw, or nothing but zero."""
    assert re.search('viewBox="0 0 360 12"', bars([], "current", SI, title="T", description="D"))
    assert 'width="0.50"' in bars([("A", 0, 0)], "current", SI, title="T", description="D")
