"""A bubble as it is read, and one reading alone: which side to raise, and about how much."""

from __future__ import annotations

import random
from typing import Any

import numpy as np
import pytest

from tests.support.sheet import check, value

from .test_level import run, way

LEGS = {"leg_layout": "four", "span_x": 800, "span_y": 600, "thread": "m10", "foot": "stud", "rocks": False,
        "thread_out": 14, "thread_least": 2, "thread_most": 100, "stud_length": 150}  # fmt: skip
# A quarter of an inch in a foot, and 3 mm in a meter: typed here a second time.
HALF, TOUCH, MIDDLE, TWICE = 250 / 12, 3.0, 1.5, 2.0
OPPOSITE = {"left": "right", "right": "left", "front": "rear", "rear": "front"}


def read(high: str, place: str, **more: Any) -> dict[str, Any]:
    return run({**LEGS, "readings": [{"high": high, "bubble": place}], **more})


def turns(result: dict[str, Any]) -> dict[str, str]:
    """Legs of the first table and their printed turns."""
    return {row[0].partition(". ")[2]: row[1] for row in result["tables"][0]["rows"]}


@pytest.mark.parametrize(("place", "slope"), [
    ("middle", 0), ("touching", TOUCH), ("half", HALF), ("over", 2 * HALF - TOUCH),
])  # fmt: skip
def test_a_bubble_beside_its_lines_is_a_slope(place: str, slope: float) -> None:
    """The trade's figures; from touching to wholly over, the bubble moves by its length."""
    assert value(read("right", place), "slope_x") == pytest.approx(slope, abs=1e-12)
    assert value(read("left", place), "slope_x") == pytest.approx(-slope, abs=1e-12)


@pytest.mark.parametrize(("place", "slope"), [("touching", 8 * TOUCH / HALF), ("half", 8), ("over", 16 - 8 * TOUCH / HALF)])
def test_a_level_that_was_tried_counts_as_tried(place: str, slope: float) -> None:
    """All places scale with the slope that puts half the bubble past a line."""
    assert value(read("rear", place, half_bubble=8), "slope_y") == pytest.approx(slope, rel=1e-12)


def off(*places: str, **more: Any) -> float:
    """How far the slope may be off, one direction (the printed figure is for two: √2 of it)."""
    rows = [{"high": high, "bubble": place} for high, place in zip(("left", "rear", "right"), places, strict=False)]
    result = run({"readings": rows, **more}, "si")
    shown = next(each for each in result["values"] if each["key"] == "slope_x")["tolerance"]
    return float(shown.removesuffix(" mm/m")) / 2**0.5


@pytest.mark.parametrize(("places", "more", "told"), [
    (("middle", "middle"), {}, MIDDLE),
    (("half", "middle"), {}, HALF * (TWICE - 1)),
    (("over", "half"), {}, (2 * HALF - TOUCH) * (TWICE - 1)),
    (("touching", "middle"), {}, 2 * (HALF - TOUCH) / 8),  # an eighth of a bubble is coarser than twice
    (("half", "middle"), {"half_bubble": HALF}, 2 * (HALF - TOUCH) / 8),
    (("middle", "middle"), {"half_bubble": HALF / 3}, MIDDLE / 3),
])  # fmt: skip
def test_how_far_a_bubble_may_be_off(places: tuple[str, ...], more: dict[str, Any], told: float) -> None:
    """Twice or half on a level nobody tried; an eighth of its length on the reader's own."""
    assert off(*places, **more) == pytest.approx(told, abs=0.1)


def test_three_bubbles_in_the_middle_are_level() -> None:
    """The trade's own proof: the bubble between its lines, both ways."""
    rows = [{"high": high, "bubble": "middle"} for high in ("none_across", "none_along", "none_across")]
    result = run({**LEGS, "readings": rows})
    assert {each["outcome"] for each in result["checks"]} == {"pass"}
    rows = [{"high": high, "bubble": "middle"} for high in ("left", "rear", "right")]
    assert check(run({**LEGS, "readings": rows}), "slope_now")["outcome"] == "pass"


def test_a_bubble_that_touches_its_line_is_no_proof() -> None:
    """3 mm/m against 3 mm/m, on a level that may be twice as coarse."""
    rows = [{"high": "left", "bubble": "touching"}, {"high": "none_along"}, {"high": "left", "bubble": "touching"}]
    assert check(run({"readings": rows}), "slope_now")["outcome"] == "caution"


def test_bubbles_that_contradict_each_other_say_so() -> None:
    """End for end from touching to half over: the level is off by more than it is read to."""
    rows = [{"high": "left", "bubble": "half"}, {"high": "left", "bubble": "touching"}, {"high": "none_along"}]
    found = check(run({"readings": rows}), "spread")
    assert (found["outcome"], found["limit"]) == ("caution", pytest.approx(2 * (HALF - TOUCH) / 8))
    assert "contradict" in found["note"]
    same = [{"high": "left", "bubble": "touching"}, {"high": "left", "slope": 5.5}, {"high": "none_along"}]
    assert check(run({"readings": same}), "spread")["outcome"] == "pass"


@pytest.mark.parametrize("high", ["left", "right", "front", "rear", "rear_left", "front_right"])
def test_one_reading_says_which_side_to_raise(high: str) -> None:
    """The low side by name, the legs that rise, and that the other direction is not read."""
    result = read(high, "half")
    sides = high.split("_")
    low = [OPPOSITE[side] for side in sides]
    lead = next(action for action in result["actions"] if "raise the" in action)
    assert f"raise the {' '.join(low)}" in lead
    rising = {name for name, text in turns(result).items() if "clockwise" in text}
    assert rising == {name for name in turns(result) if not all(side in name.lower() for side in sides)}
    assert result["tables"][0]["title"].endswith("alone")
    assert any("other direction" in action for action in result["actions"])
    assert check(result, "slope_now")["outcome"] == "stop"
    assert value(result, "slope") is None


def test_one_reading_says_about_how_much() -> None:
    """10 mm/m over legs 800 mm apart is 8 mm, which is 5 3/8 turns of M10 (1.5 mm)."""
    result = run({**LEGS, "readings": [{"high": "left", "slope": 10}]})
    assert any("raise the right by about 8.00 mm at its legs" in action for action in result["actions"])
    assert turns(result) == {"Front left": "0 turns", "Rear left": "0 turns",
                             "Front right": "5 3/8 turns clockwise", "Rear right": "5 3/8 turns clockwise"}  # fmt: skip
    bare = run({"readings": [{"high": "front", "slope": 10}]})
    assert any("raise the rear by about 10.0 mm/m" in action for action in bare["actions"])


def test_readings_of_one_direction_are_averaged_as_numpy_does() -> None:
    """Against the least of all least-squares answers, straight and corner to corner."""
    rng = random.Random("one direction")
    for _ in range(60):
        wide, deep = rng.uniform(400, 1500), rng.uniform(400, 1500)
        pair = rng.choice([("left", "right"), ("front", "rear"), ("rear_left", "front_right")])
        highs = rng.choices(pair, k=rng.randint(1, 4))
        slopes = [rng.uniform(0.5, 30) for _ in highs]
        result = run({**LEGS, "span_x": wide, "span_y": deep, "vial": 4,
                      "readings": [{"high": high, "slope": slope} for high, slope in zip(highs, slopes, strict=True)]})  # fmt: skip
        plane = np.linalg.lstsq(np.array([way(high, wide, deep) for high in highs]), slopes, rcond=None)[0]
        steps = {step["symbol"]: step["value"] for part in result["working"] for step in part["steps"]}
        assert [steps["s_x"], steps["s_y"]] == pytest.approx(plane, abs=1e-9)


def test_one_direction_stops_only_where_it_is_too_steep_alone() -> None:
    """The other direction can only add to a slope: 3.1 mm/m is a stop already, 2.9 is not known yet."""
    assert check(run({"readings": [{"high": "left", "slope": 3.1}]}), "slope_now")["outcome"] == "stop"
    assert check(run({"readings": [{"high": "left", "slope": 2.9}]}), "slope_now")["outcome"] == "unknown"
    assert check(run({"readings": [{"high": "left", "slope": 4}] * 2}), "spread")["outcome"] == "unknown"
    apart = [{"high": "left", "slope": 1}, {"high": "left", "slope": 6}]
    assert check(run({"readings": apart}), "spread")["outcome"] == "caution"


def test_a_bubble_beside_its_lines_is_turned_half_and_read_again() -> None:
    """What is about right is not turned in full; a number is."""
    assert "turn half" in read("left", "half")["tables"][0]["note"]
    assert "turn half" not in read("left", "middle")["tables"][0]["note"]
    number = run({**LEGS, "readings": [{"high": "left", "slope": 8}]})
    assert "turn half" not in number["tables"][0]["note"]


def test_a_begun_reading_keeps_the_slope_open() -> None:
    """Three readings that agree and a fourth without its amount: not known yet, and it is named."""
    rows = [{"high": "left", "slope": 1}, {"high": "rear", "slope": 1}, {"high": "left", "slope": 1}]
    assert check(run({**LEGS, "readings": rows}), "slope_now")["outcome"] == "pass"
    result = run({**LEGS, "readings": [*rows, {"high": "right"}]})
    for key in ("slope_now", "spread", "reach", "after"):
        found = check(result, key)
        assert (found["outcome"], found["needs"]) == ("unknown", ["readings.3.slope"]), key
    assert check(run({**LEGS, "readings": [*rows, {}]}), "slope_now")["outcome"] == "pass"
