"""What is drawn to scale stands where the inputs say: sums as bars, days, cabinets that lean, lifts, lamps, the spot."""

from __future__ import annotations

import dataclasses
import itertools
import math
from typing import Any

import pytest

import calculators
from calculators.cash.figure import BAR
from calculators.core.rules import RULE_SETS, load
from calculators.outlet import face
from tests.support.drawn import SVG, Figure, Point
from tests.support.inputs import random_request


def figures(name: str, inputs: dict[str, Any]) -> tuple[dict[str, Any], list[Figure]]:
    """What is said and drawn; nothing is probed, as what a blank may hide is not drawn."""
    quick = dataclasses.replace(calculators.get(name), probe=False)
    result = quick.run({"units": "si", "typed": "si", "inputs": inputs})
    return result, [Figure.of(svg) for svg in result["figures"]]


def example(name: str) -> dict[str, Any]:
    return dict(calculators.get(name).example_in("us")[0])


def near(point: Point, *others: Point, off: float = 0.05) -> bool:
    return any(math.dist(point, other) <= off for other in others)


@pytest.mark.parametrize("name", calculators.NAMES)
def test_where_nothing_can_be_drawn_there_is_no_figure(name: str) -> None:
    """A page and a paper leave no room for one that is not there; whatever is drawn says in words what it shows."""
    for inputs in ({}, {key: value for key, value in example(name).items() if not isinstance(value, list)}):
        for figure in figures(name, inputs)[1]:
            said = [figure.root.findtext(f"{SVG}{tag}") for tag in ("title", "desc")]
            assert all(said), name


# Those that have such a test of their own, or draw words of fixed lengths in fixed places.
KEPT_ELSEWHERE = ("spiral", "float", "cold")


@pytest.mark.parametrize("name", [name for name in calculators.NAMES if name not in KEPT_ELSEWHERE])
def test_words_stand_on_the_page_and_clear_of_each_other(name: str) -> None:
    """The example, and twelve that nobody would measure, in both unit systems."""
    quick = dataclasses.replace(calculators.get(name), probe=False)
    asked = [{"units": units, "inputs": example(name)} for units in ("us", "si")]
    asked += [random_request(quick, seed, units) for seed in range(12) for units in ("us", "si")]
    for figure in (Figure.of(svg) for request in asked for svg in quick.run(request)["figures"]):
        wide, high = figure.size
        written = figure.written()
        for words, (left, top, right, foot) in written:
            assert min(left, top, wide - right, high - foot) >= -1, words
        for (one, a), (other, b) in itertools.combinations(written, 2):
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (one, other)


# -- money, days ---------------------------------------------------------------------------


def test_where_no_money_went_in_and_none_came_out_the_bars_are_hairs() -> None:
    """Neither wide nor nothing: that it is so has to be seen."""
    same = {"cash_in_now": "9310.00", "paid_out_now": "3120.00", "tubes_now": "61.00", "filled": "0", "bills_1": "0", "bills_5": "0"}
    result, found = figures("cash", {**example("cash"), **same, "coins": [{"coin": "quarter", "way": "number", "number": "0"}]})
    assert [each["inner"] for each in result["values"] if each["key"] == "must"] == [0]
    [figure] = found
    bars = [box for style in ("wall", "good", "body") for box in figure.boxes(style)]
    assert len(bars) == 2
    assert [(right - left, foot - top) for left, top, right, foot in bars] == [(pytest.approx(1, abs=0.1), pytest.approx(BAR, abs=0.1))] * 2


@pytest.mark.parametrize(("cash_in", "paid_out", "tubes", "filled", "emptied", "bills"), [
    (240.0, 52.5, 13.25, 20.0, 0.0, 96), (100.0, 30.0, -20.0, 0.0, 15.0, 80), (50.0, 90.0, 0.0, 60.0, 0.0, 10),
])  # fmt: skip
def test_each_bar_of_the_cash_begins_where_the_last_one_ends(
    cash_in: float, paid_out: float, tubes: float, filled: float, emptied: float, bills: int,
) -> None:
    """In, out, into the tubes, filled, taken out; what must be there and what was counted begin at nothing."""
    result, [figure] = figures("cash", {
        "cash_in_last": "1000.00", "cash_in_now": f"{1000 + cash_in:.2f}", "paid_out_last": "500.00", "paid_out_now": f"{500 + paid_out:.2f}",
        "tubes_last": "60.00", "tubes_now": f"{60 + tubes:.2f}", "filled": f"{filled:.2f}", "emptied": f"{emptied:.2f}",
        "coins": [], "bills_1": f"{bills}"})  # fmt: skip
    steps = [each for each in (cash_in, -paid_out, -tubes, filled, -emptied) if each]
    ends = [0.0]
    for each in steps:
        ends.append(ends[-1] + each)
    counted = next(each["inner"] for each in result["values"] if each["key"] == "counted") / 100
    left, right = min(0.0, *ends), max(1.0, counted, *ends)
    scale = (360 - 68) / (right - left)

    def at(money: float) -> float:
        return 34 + (money - left) * scale

    spans = [tuple(sorted((at(one), at(other)))) for one, other in itertools.pairwise(ends)]
    assert [box[::2] for box in figure.boxes("body")] == [pytest.approx(span, abs=0.02) for span in spans]
    for style, value in (("wall", ends[-1]), ("good", counted)):
        assert figure.boxes(style)[0][::2] == pytest.approx(sorted((at(0), at(value))), abs=1.01)
    [((x1, y1), (x2, y2))] = figure.lines("ghost")
    assert (x1, x2) == pytest.approx((at(ends[-1]), at(ends[-1])), abs=0.02)
    tops = [box[1] for style in ("body", "wall", "good") for box in figure.boxes(style)]
    assert min(y1, y2) <= min(tops)
    assert max(y1, y2) >= max(tops)


@pytest.mark.parametrize("days", [1, 3, 9])
def test_a_selection_s_bar_is_as_long_as_it_lasts(days: int) -> None:
    """Beside the planned visit, at one scale; a date ends where its days do; what lasts beyond the picture has an arrow."""
    inputs = {**example("restock"), "days": days}
    result, [figure] = figures("restock", inputs)
    [((visit, _), (same, _))] = figure.lines("limit")
    bars = figure.boxes("good")
    left = bars[0][0]
    day = (visit - left) / days
    assert visit == same
    lasts = sorted(float(words.split(": ")[1].split()[0]) for words, _ in figure.words() if words.endswith(" days") and "visit" not in words)
    assert len(bars) == len(lasts) == len(inputs["selections"])
    tops = [box[1] for box in bars]
    assert tops == sorted(tops)
    beyond = 0
    for box, long in zip(bars, lasts, strict=True):
        assert box[0] == pytest.approx(left, abs=0.02)
        if long * day > 326 - left:
            beyond += 1
            assert box[2] == pytest.approx(326, abs=0.02)
        else:  # printed rounded down to a tenth of a day
            assert -0.03 <= box[2] - left - long * day <= 0.1 * day + 0.03
    assert len(figure.arrows()) == beyond
    dates = [each["life_left"] for each in inputs["selections"] if "life_left" in each]
    assert [x - left for (x, _), _ in figure.lines("wall")] == [pytest.approx(each * day, abs=0.03) for each in dates if each * day <= 326 - left]
    assert result["outcome"]


# -- cabinets that lean ----------------------------------------------------------------------


def leaned(point: Point, about: Point, degrees: float) -> Point:
    """Turned to the left about a point, y upward: a rotation as a complex number."""
    turned = complex(*about) + (complex(*point) - complex(*about)) * complex(math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
    return turned.real, turned.imag


@pytest.mark.parametrize("side", [380, 620])
def test_where_it_falls_its_middle_of_mass_stands_over_its_feet(side: float) -> None:
    """The dot at its place, the cabinet turned about its feet by the angle that is told, and then right above them."""
    inputs = {"cabinet_width": 1000, "cabinet_depth": 1400, "cabinet_height": 1800, "cabinet_mass": 350, "cg_height": 800, "cg_back": 700,
              "cg_side": side, "leg_inset": 60, "stock_mass": 0, "outdoors": False, "anchored": False, "lean_along": 0, "lean_across": 0,
              "door_mass": 0, "door_leaf": 900, "hinge_side": "left"}  # fmt: skip
    result, [figure] = figures("standing", inputs)
    edge = "left" if side < 500 else "right"
    assert f"over its {edge} feet" in result["figures"][0]
    [upright] = figure.outlines("body")
    [fallen] = figure.outlines("ghost")
    foot_y = max(y for _, y in upright)
    left, wide = min(x for x, _ in upright), max(x for x, _ in upright) - min(x for x, _ in upright)
    scale = wide / 1000
    assert foot_y - min(y for _, y in upright) == pytest.approx(1800 * scale, abs=0.1)

    def page(point: Point) -> Point:
        return left + point[0] * scale, foot_y - point[1] * scale

    inside = min(side, 1000 - side)
    angle = next(each["inner"] for each in result["values"] if each["key"] == "angle_empty")
    assert angle == pytest.approx(math.degrees(math.atan2(inside - 60, 800)), abs=0.01)
    for corner, drawn in zip(((0, 0), (1000, 0), (1000, 1800), (0, 1800)), fallen, strict=True):
        assert near(drawn, page(leaned(corner, (60, 0), angle)), off=0.1)
    [(dot, _)], [(over, _)] = figure.dots("solid"), figure.dots("good")
    assert near(dot, page((inside, 800)), off=0.1)
    assert near(over, page(leaned((inside, 800), (60, 0), angle)), off=0.1)
    assert over[0] == pytest.approx(page((60, 0))[0], abs=0.1)
    words = {text: at[0] for text, at in figure.words()}
    other = {"left": "right", "right": "left"}[edge]
    assert words[edge] < words[other]


TILTED = {"job": "tilt", "cabinet_mass": 350, "crew": 3, "tilt_over": "back", "tilt_gear": False, "tilt_hands": 1200, "max_tilt": 20,
          "cabinet_width": 991, "cabinet_depth": 864, "cabinet_height": 1829, "cg_height": 840, "cg_back": 430, "cg_side": 480, "skid": "off"}  # fmt: skip


@pytest.mark.parametrize(("over", "base", "from_edge"), [("back", 864, 434), ("front", 864, 430), ("left", 991, 480), ("right", 991, 511)])
@pytest.mark.parametrize(("angle", "skid"), [(8, 0), (25, 0), (15, 120)])
def test_a_tipped_cabinet_leans_over_its_low_edge(over: str, base: float, from_edge: float, angle: float, skid: float) -> None:
    """By its angle, skid and all; hands and middle of mass are where they were measured, and the weight pulls straight down."""
    skids = {"skid": "on", "skid_height": skid, "skid_beyond": 0} if skid else {}
    _, [figure, _] = figures("handling", {**TILTED, "tilt_over": over, "tilt_angle": angle, **skids})
    [floor] = figure.lines("")[:1]
    [upright] = figure.lines("limit")
    edge, scale = upright[0], math.dist(*figure.outlines("body")[0][:2]) / base

    def page(point: Point) -> Point:
        x, y = leaned(point, (0, 0), -angle)
        return edge[0] + x * scale, edge[1] - y * scale

    assert edge[1] == floor[0][1] == floor[1][1]
    assert upright[1][0] == edge[0]
    tall = 1829 + skid
    for corner, drawn in zip(((0, 0), (-base, 0), (-base, tall), (0, tall)), figure.outlines("body")[0], strict=True):
        assert near(drawn, page(corner), off=0.1)
    [(middle, _)] = figure.dots("solid")
    assert near(middle, page((-from_edge, 840 + skid)), off=0.1)
    [(start, end)] = figure.arrows()
    assert near(start, middle)
    assert end[0] == start[0]
    assert end[1] > start[1]
    [(hands, _)] = figure.dots("good")
    assert near(hands, page((0, 1200)), off=0.1)


@pytest.mark.parametrize(("over", "wide", "deep"), [("back", 991, 864), ("left", 864, 991)])
@pytest.mark.parametrize("job", ["tilt", "roll"])
def test_nobody_stands_where_it_can_land(job: str, over: str, wide: float, deep: float) -> None:
    """The ring is as far out as the cabinet is tall; the leader is below, a helper at each side, each clear of it."""
    figure = figures("handling", {**TILTED, "job": job, "tilt_over": over, "tilt_angle": 10})[1][-1]
    [box] = figure.boxes("body")
    scale = (box[2] - box[0]) / wide
    assert (box[3] - box[1]) / scale == pytest.approx(deep, abs=1)
    [(middle, ring)] = figure.dots("limit")
    assert near(middle, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
    assert ring / scale == pytest.approx(1829 + math.hypot(wide, deep) / 2, rel=0.002)
    places = [place for place, _ in figure.dots("good")]
    leader, left, right = places
    assert leader[0] == pytest.approx(middle[0], abs=0.02)
    assert leader[1] > box[3]
    assert left[0] < box[0]
    assert right[0] > box[2]
    assert left[0] + right[0] == pytest.approx(2 * middle[0], abs=0.05)
    # Beside it where it is tipped; behind its lower corners where it rolls.
    assert all(y == pytest.approx(middle[1], abs=0.05) if job == "tilt" else y > box[3] for _, y in (left, right))


@pytest.mark.parametrize(("height", "height_to", "reach", "reach_to"), [(800, 750, 350, None), (300, 1400, 300, 500), (1500, 500, 600, 400)])
def test_hands_are_drawn_where_they_hold(height: float, height_to: float, reach: float, reach_to: float | None) -> None:
    """At the start and at the end, from the ankles and the floor; an arrow leads from one to the other where they are apart."""
    lift = {"mass": 10, "count": 5, "grip": "good", "reach": reach, "height": height, "height_to": height_to, "reach_to": reach_to, "control": True}
    _, [figure] = figures("handling", {"job": "lift", "duration": "short", "how": "plain", "lifts": [lift]})
    floor = figure.lines("")[0][0][1]
    [start], [end] = figure.boxes("body"), figure.boxes("ghost")
    scale = (start[2] - start[0]) / 260
    head = figure.dots("body")[0][0][0]
    for box, out, up in ((start, reach, height), (end, reach_to or reach, height_to)):
        assert ((box[0] + box[2]) / 2 - head) / scale == pytest.approx(out, abs=1)
        assert (floor - (box[1] + box[3]) / 2) / scale == pytest.approx(up, abs=1)
    arrows = figure.arrows()
    assert len(arrows) == (abs(height - height_to) > 100)
    for begin, tip in arrows:
        assert (tip[1] < begin[1]) is (height_to > height)
        assert (tip[0] - begin[0]) / scale == pytest.approx((reach_to or reach) - reach, abs=1)


# -- the outlet ------------------------------------------------------------------------------


@pytest.mark.parametrize("lamps", [("lit", "lit", "dark"), ("dark", "lit", "lit"), ("lit", "dark", "dark"), ("dark", "dark", "lit")])
def test_each_lamp_is_drawn_between_its_two_slots_as_it_was_seen(lamps: tuple[str, ...]) -> None:
    """Lit ones full, dark ones a ring; the wrong ones and no others say so. Neutral is the longer slot, on the left."""
    _, [figure] = figures("outlet", dict(zip(("lamp_ln", "lamp_lg", "lamp_ng"), lamps, strict=True)))
    slots = sorted(figure.boxes("solid"))
    assert slots[0][3] - slots[0][1] > slots[1][3] - slots[1][1]
    (neutral, line), ground = (((each[0] + each[2]) / 2, (each[1] + each[3]) / 2) for each in slots), figure.dots("solid")[0][0]
    assert ground[1] > neutral[1]
    for lamp, (one, other) in zip(lamps, ((line, neutral), (line, ground), (neutral, ground)), strict=True):
        place = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
        for style, seen in (("solid", "lit"), ("wall", "dark")):
            assert any(near(place, middle, off=0.1) for middle, _ in figure.dots(style)) is (lamp == seen)
    wrong = sum(lamp != right for lamp, right in zip(lamps, ("lit", "lit", "dark"), strict=True))
    assert sum("not right" in words for words, _ in figure.words()) == wrong


# Typed a second time: in which openings neutral, line and ground lie, as one faces the outlet (left and right, over and under).
FACES = {
    "us": ("upper left", "upper right", "below"), "ca": ("upper left", "upper right", "below"),
    "uk": ("lower left", "lower right", "above"), "au": ("upper right", "upper left", "below"),
}  # fmt: skip


@pytest.mark.parametrize("name", RULE_SETS)
def test_every_rule_set_names_a_face_that_can_be_drawn(name: str) -> None:
    """Else the outlet of another country would be drawn without a word."""
    assert load(name).figures["outlet.face"].value in face.FACES


@pytest.mark.parametrize("rules", ["us", "ca", "uk", "eu", "au"])
@pytest.mark.parametrize("wrong", [False, True])
def test_the_outlet_is_drawn_as_it_is_in_the_country(rules: str, wrong: bool) -> None:
    """Each name stands at its opening, each pair's words at its side; nothing on each other or off the page."""
    lamps = ("dark", "dark", "lit") if wrong else ("lit", "lit", "dark")
    inputs: dict[str, Any] = {f"lamp_{pair}": lamp for pair, lamp in zip(("ln", "lg", "ng"), lamps, strict=True)}
    inputs |= {f"volts_{pair}": 230 if lamp == "lit" else 1 for pair, lamp in zip(("ln", "lg", "ng"), lamps, strict=True)}
    quick = dataclasses.replace(calculators.get("outlet"), probe=False)
    [svg] = quick.run({"units": "si", "rules": rules, "inputs": inputs})["figures"]
    figure = Figure.of(svg)
    [plate] = figure.boxes("body")
    middle, centre = (plate[0] + plate[2]) / 2, (plate[1] + plate[3]) / 2
    places = {words: (("upper" if y < centre else "lower"), ("left" if x < middle else "right")) for words, (x, y) in figure.words()}
    for (one, a), (other, b) in itertools.combinations(figure.written(), 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (one, other)
    for words, (left, top, right, foot) in figure.written():
        assert min(left, top, figure.size[0] - right, figure.size[1] - foot) >= 0, words
    assert sum("not right" in words for words, _ in figure.words()) == (3 if wrong else 0)
    if rules == "eu":  # which of the two is the line is not laid down
        assert not {"line", "neutral"} & set(places)
        assert {"line and neutral", "as you face it, either way round"} <= set(places)
        return
    neutral, line, ground = FACES[rules]
    assert " ".join(places["neutral"]) == neutral
    assert " ".join(places["line"]) == line
    assert places["ground"][0] == ("upper" if ground == "above" else "lower")
    assert places["line–ground"][1] == places["line"][1]
    assert places["neutral–ground"][1] == places["neutral"][1]


# -- the spot --------------------------------------------------------------------------------


@pytest.mark.parametrize("hinge", ["left", "right"])
@pytest.mark.parametrize(("front", "rear", "left", "right"), [(1500, 110, 60, 200), (1100, 40, 300, 25)])
def test_walls_door_and_tray_stand_round_the_cabinet_as_measured(front: float, rear: float, left: float, right: float, hinge: str) -> None:
    """Each gap as wide as it is; the door swings about its hinge, to the front; the tray comes out as far as it does."""
    _, [figure] = figures("clearance", {"cabinet_width": 991, "cabinet_depth": 864, "cabinet_height": 1829, "front_clear": front, "rear_gap": rear,
                                        "left_gap": left, "right_gap": right, "door_leaf": 900, "hinge_side": hinge, "tray_pullout": 600})  # fmt: skip
    [box] = figure.boxes("body")
    scale = (box[2] - box[0]) / 991
    assert (box[3] - box[1]) / scale == pytest.approx(864, abs=0.5)
    walls = figure.boxes("wall")
    gaps = {"rear": box[1] - walls[0][3], "left": box[0] - walls[1][2], "right": walls[2][0] - box[2], "front": walls[3][1] - box[3]}
    assert {name: gap / scale for name, gap in gaps.items()} == pytest.approx({"rear": rear, "left": left, "right": right, "front": front}, abs=0.5)
    [door] = figure.sectors()
    pivot = (box[0] if hinge == "left" else box[2], box[3])
    assert near(door[0], pivot)
    assert [math.dist(pivot, point) / scale for point in door[1:]] == pytest.approx([900] * (len(door) - 1), abs=0.5)
    xs, ys = [x for x, _ in door], [y for _, y in door]
    assert min(ys) >= box[3] - 0.05
    assert (min(xs) >= box[0] - 0.05) if hinge == "left" else (max(xs) <= box[2] + 0.05)
    [tray] = [each for each in figure.boxes("ghost") if each[3] - each[1] < 0.7 * 900 * scale]
    assert (tray[1], (tray[3] - tray[1]) / scale) == pytest.approx((box[3], 600), abs=0.5)
    [floor] = figure.boxes("limit")
    head_on = front >= 1219.2
    assert ((floor[2] - floor[0]) / scale, (floor[3] - floor[1]) / scale) == pytest.approx((762, 1219.2) if head_on else (1219.2, 762), abs=0.5)
    assert ((floor[0] + floor[2]) / 2, floor[1]) == pytest.approx(((box[0] + box[2]) / 2, box[3]), abs=0.05)
