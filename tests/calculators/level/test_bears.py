"""What may be said of legs that carry, of readings that scatter, and of a manual that allows more than the trade."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.level import legs
from tests.support.sheet import check

from .test_blank import made, needs, outcome
from .test_level import run

LEVEL = [{"high": high, "slope": 0} for high in ("none_across", "none_across", "none_along", "none_along")]


@pytest.mark.parametrize(("layout", "middle"), [("six_wide", ("front_middle", "rear_middle")), ("six_deep", ("left_middle", "right_middle"))])
def test_pressing_corners_shows_nothing_of_a_middle_leg(layout: str, middle: tuple[str, str]) -> None:
    """Each is looked at by itself, and 0 says that it bears; one that hangs is a stop, told or not of the other."""
    inputs: dict[str, Any] = {"leg_layout": layout, "readings": LEVEL}
    rows = [{"leg": leg, "gap": 0} for leg in middle]
    assert needs("bears", **inputs) == ["each_leg"]
    for number in (0, 1):
        found = check(made(**inputs, each_leg=[rows[number]]), "bears")
        assert found["outcome"] == "unknown"
        assert legs.LEGS[middle[1 - number]] in found["note"]
        assert outcome("bears", **inputs, each_leg=[{**rows[number], "gap": 1}]) == "stop"
        assert needs("bears", **inputs, each_leg=[rows[number], {"leg": middle[1 - number]}]) == ["each_leg.1.gap"]
    assert outcome("bears", **inputs, each_leg=rows) == "pass"
    assert outcome("bears", **inputs, each_leg=rows, rocks=None) == "unknown"
    assert outcome("bears", **inputs, rocks=True) == "stop"
    assert outcome("bears", readings=LEVEL) == "pass", "four legs have none between corners"


def own(*places: tuple[float, float]) -> dict[str, Any]:
    return {"leg_layout": "own", "readings": LEVEL, "each_leg": [{"x": x, "y": y, "gap": 0} for x, y in places]}


@pytest.mark.parametrize(("places", "expected"), [
    (((0, 0), (850, 0), (0, 750), (850, 750)), "pass"),
    (((0, 0), (850, 0), (100, 750), (750, 750)), "pass"),
    (((0, 0), (850, 0), (0, 750)), "stop"),  # its middle lies on the line from leg to leg
    (((0, 0), (850, 0), (10, 760), (0, 750)), "stop"),
    (((0, 0), (850, 0), (425, 750)), "stop"),
    (((425, 0), (0, 375), (850, 375), (425, 750)), "pass"),
    # At seven tenths of the depth the sides have come in by seven tenths of what they come in by: 255 mm of 850 mm there.
    (((0, 0), (850, 0), (364, 750), (486, 750)), "pass"),
    (((0, 0), (850, 0), (365, 750), (485, 750)), "stop"),
    (((0, 0), (850, 0)), "unknown"),
])  # fmt: skip
def test_legs_hold_the_weight_wherever_it_may_lie(places: tuple[tuple[float, float], ...], expected: str) -> None:
    """From 30 to 70 % of each span, as everywhere; on the edge is not inside."""
    found = check(run({"rocks": False, **own(*places)}), "bears")
    assert found["outcome"] == ("pass" if expected == "unknown" else expected)
    if expected == "stop":
        assert "places of all legs" in found["note"]
    whole = made(**own(*places))["outcome"]
    assert whole == expected


def test_readings_that_scatter_are_known_no_better_than_they_agree() -> None:
    """4 mm/m and 0 of the same direction: their middle is 2, and neither reading says so."""
    apart = [{"high": "left", "slope": 4}, {"high": "none_across", "slope": 0}, {"high": "none_along", "slope": 0}]
    found = check(made(readings=apart), "slope_now")
    assert (found["outcome"], found["value"], found["tolerance"]) == ("caution", pytest.approx(2), pytest.approx(2))
    assert "differ less" in found["note"]
    near = [{**apart[0], "slope": 2.2}, {**apart[1], "high": "left", "slope": 1.8}, apart[2]]
    alike = check(made(readings=near), "slope_now")
    assert (alike["outcome"], alike["tolerance"]) == ("pass", pytest.approx(2**0.5 * 0.5))
    assert "differ less" not in alike["note"]


@pytest.mark.parametrize(("manual", "limit"), [(30, 3), (3.1, 3), (2.9, 2.9), (None, 3)])
def test_a_manual_counts_where_it_asks_for_less(manual: float | None, limit: float) -> None:
    steep = [{"high": "left", "slope": 25}, {"high": "left", "slope": 25}, {"high": "none_along", "slope": 0}]
    for key in ("slope_now", "after"):
        assert check(made(readings=steep, level_limit=manual), key)["limit"] == pytest.approx(limit)
    assert outcome("slope_now", readings=steep, level_limit=manual) == "stop"


def test_where_no_leg_turns_its_thread_does_not_unlevel_it() -> None:
    """Level, nothing hangs, all legs alike: it stays so. What the nut keeps is asked for all the same, each input once."""
    blank: dict[str, Any] = {"readings": LEVEL, **dict.fromkeys(("thread", "thread_out", "thread_most", "stud_length"))}
    assert outcome("after", **blank) == "pass"
    for key in ("reach", "short", "engaged"):
        asked = needs(key, **blank)
        assert len(asked) == len(set(asked)), key
    for more in ({"each_leg": [{"leg": "rear_left"}]}, {"each_leg": [{"leg": "rear_left", "gap": 1}]}, {"plate_front_left": 3},
                 {"each_leg": [{"leg": "rear_left", "gap": 0, "out": 20}]}, {"leg_layout": "six_wide"},
                 {"readings": [*LEVEL[:3], {"high": "rear", "slope": 0.1}]}, {"readings": LEVEL[:2]}):  # fmt: skip
        assert outcome("after", **{**blank, **more}) == "unknown", more
    assert outcome("after", **{**blank, "each_leg": [{"leg": "rear_left", "gap": 0}]}) == "pass"
