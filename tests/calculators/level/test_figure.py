"""The drawing of the legs: each where the inputs put it, its ring the way its foot turns, the same in words."""

from __future__ import annotations

import itertools
import math
import random
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest

from calculators.level.inputs import LEGS
from tests.support.drawn import Figure

from .test_level import EXTRA, order, reading, run

SVG = "{http://www.w3.org/2000/svg}"
AT = {"left": 0.0, "middle": 0.5, "right": 1.0, "front": 0.0, "rear": 1.0}
HIGH = (("left", "rear"), ("right", "front"), ("left", "front"))
Point = tuple[float, float]


def asked(seed: int) -> dict[str, Any]:
    """A cabinet read four times, its thread near one end or the middle, so that legs go up and down."""
    rng = random.Random(f"legs drawn {seed}")
    sides = rng.choice(HIGH)
    return {
        "leg_layout": rng.choice(list(EXTRA)), "span_x": round(rng.uniform(500, 1400)), "span_y": round(rng.uniform(500, 1400)),
        "thread": rng.choice(["3_8", "m10", "1_2"]), "foot": rng.choice(["stud", "cap", "nut"]),
        "thread_hand": rng.choice(["right", "left"]), "vial": 4, "rocks": "no", "thread_out": rng.choice([6, 18, 30]),
        "thread_least": 4, "thread_most": 32, "stud_length": 60,
        "readings": [reading(rng, side, rng.uniform(1, 6)) for side in sides for _ in range(2)],
    }  # fmt: skip


def drawn(result: dict[str, Any]) -> tuple[list[Point], list[list[Point]], str]:
    """The legs in the order of work, the rings round some of them, and the words."""
    root = ET.fromstring(result["figures"][0])
    legs = [(float(each.get("cx", "nan")), float(each.get("cy", "nan"))) for each in root.iter(f"{SVG}circle")]
    rings = [[tuple(map(float, pair.split(","))) for pair in each.get("points", "").split()] for each in root.iter(f"{SVG}polyline")]
    return legs, rings, root.findtext(f"{SVG}desc") or ""  # type: ignore[return-value]


def place(key: str) -> Point:
    """Where a leg stands, as a share of both sides, by its name alone."""
    words = key.split("_")
    across = next((AT[word] for word in words if word in ("left", "right")), 0.5)
    along = next((AT[word] for word in words if word in ("front", "rear")), 0.5)
    return across, along


def clockwise(ring: list[Point], about: Point) -> bool:
    """Whether a line goes clockwise round a point as the page is seen, where y runs down."""
    angles = [math.atan2(y - about[1], x - about[0]) for x, y in ring]
    turned = [math.remainder(late - early, math.tau) for early, late in itertools.pairwise(angles)]
    assert all(turn * turned[0] > 0 for turn in turned)
    return turned[0] > 0


SEEDS = range(30)


@pytest.mark.parametrize("seed", SEEDS)
def test_legs_stand_where_the_inputs_put_them_and_turn_as_the_order_says(seed: int) -> None:
    """Left is left, the rear at the top, both sides at one scale; number, ring and words are those of the order."""
    inputs = asked(seed)
    result = run(inputs)
    legs, rings, _ = drawn(result)
    moves = order(result)
    assert len(legs) == len(moves) == 4 + len(EXTRA[inputs["leg_layout"]])
    left, front = min(x for x, _ in legs), max(y for _, y in legs)
    scale = (max(x for x, _ in legs) - left) / inputs["span_x"]
    for (key, *_), (x, y) in zip(moves, legs, strict=True):
        across, along = place(key)
        assert x - left == pytest.approx(across * inputs["span_x"] * scale, abs=0.02), key
        assert front - y == pytest.approx(along * inputs["span_y"] * scale, abs=0.02), key
    turning = [(at, way) for at, (_, turns, way, _) in zip(legs, moves, strict=True) if turns]
    assert len(rings) == len(turning)
    for ring, (at, way) in zip(rings, turning, strict=True):
        assert clockwise(ring, at) is (way == "clockwise")


@pytest.mark.parametrize("sides", [*HIGH, ("right", "rear")])
def test_the_arrow_points_up_the_slope(sides: tuple[str, str]) -> None:
    """By the share of both slopes: 3 mm/m to the one side, 4 to the other."""
    readings = [{"high": side, "slope": slope} for side, slope in zip(sides, (3, 4), strict=True)]
    root = ET.fromstring(run({**asked(0), "readings": readings})["figures"][0])
    [arrow] = [each for each in root.iter(f"{SVG}line") if each.get("marker-end")]
    x1, y1, x2, y2 = (float(arrow.get(name, "nan")) for name in ("x1", "y1", "x2", "y2"))
    across, up = {"left": -0.6, "right": 0.6}[sides[0]], {"front": -0.8, "rear": 0.8}[sides[1]]
    size = math.hypot(x2 - x1, y2 - y1)
    assert ((x2 - x1) / size, (y1 - y2) / size) == pytest.approx((across, up), abs=0.002)


@pytest.mark.parametrize("slope", [0.0, 3.0])
def test_what_it_reads_stands_below_the_cabinet(slope: float) -> None:
    """Level or not, clear of the legs and their rings."""
    readings = [{"high": side, "slope": slope} for side in ("left", "rear")]
    found = Figure.of(run({**asked(0), "readings": readings})["figures"][0])
    [place] = [at for words, at in found.words() if words.startswith(("it reads level now", "now "))]
    lowest = max([middle[1] + radius for style in ("", "good", "ghost", "body", "wall") for middle, radius in found.dots(style)]
                 + [box[3] for style in ("", "good", "ghost", "body", "wall") for box in found.boxes(style)])  # fmt: skip
    assert place[1] > lowest + 8


@pytest.mark.parametrize("seed", SEEDS)
def test_the_words_for_who_cannot_see_it_say_the_order_of_work(seed: int) -> None:
    """Each leg with its turns, direction and whether its corner rises or comes down; those that stay say so."""
    result = run(asked(seed))
    said = re.findall(r"([A-Z][a-z ]+): (?:(stays)|([\d /]+) turns?, (\w+), (rises|comes down))\.", drawn(result)[2])
    expected = [(LEGS[key], "" if turns else "stays", way, corner if turns else "") for key, turns, way, corner in order(result)]
    assert [(name, stays, way, corner) for name, stays, _, way, corner in said] == expected


def test_the_drawn_legs_go_up_and_down_by_less_and_more_than_a_turn() -> None:
    """The cabinets above try every kind of move."""
    seen = {(corner, turns < 1) for seed in SEEDS for _, turns, _, corner in order(run(asked(seed))) if turns}
    assert seen == {("rises", True), ("rises", False), ("comes down", True), ("comes down", False)}
