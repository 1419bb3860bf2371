"""Threads, gaps and rows left blank, and inputs that cannot all be true."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest

from calculators.core import InputErrors
from calculators.level import legs, maths
from tests.support.sheet import check, value

from .test_level import run

READ = [{"high": "left", "slope": 6}, {"high": "left", "slope": 6}, {"high": "rear", "slope": 1}]
# 6 mm/m over 850 mm and 1 mm/m over 750 mm: the farthest corner rises 5.85 mm, to 19.85 mm.
BASE = {"leg_layout": "four", "span_x": 850, "span_y": 750, "thread": "m10", "foot": "stud", "rocks": False,
        "thread_out": 14, "thread_least": 5, "thread_most": 38, "stud_length": 57, "readings": READ}  # fmt: skip


def made(**changes: Any) -> dict[str, Any]:
    return run({**BASE, **changes})


def outcome(key: str, **changes: Any) -> str:
    return str(check(made(**changes), key)["outcome"])


def needs(key: str, **changes: Any) -> list[str]:
    found = check(made(**changes), key)
    assert found["outcome"] == "unknown", found
    return list(found["needs"])


def test_a_manual_without_a_most_must_be_said_to_have_none() -> None:
    """Blank, it may say less than the nut does; “no” leaves the nut alone."""
    assert outcome("reach") == "pass"
    assert needs("reach", thread_most=None) == ["thread_most"]
    assert "say so" in check(made(thread_most=None), "reach")["note"]
    assert outcome("reach", thread_most=None, range_given=False) == "pass"
    assert outcome("reach", thread_most=None, stud_length=20) == "stop"


def test_the_manual_s_most_tells_of_the_nut_where_it_is_far_off() -> None:
    """A leg has more thread than may show: 38 mm less 19.9 mm keeps the 10 mm of M10, 24 mm does not."""
    far = check(made(stud_length=None), "engaged")
    assert far["outcome"] == "pass"
    assert far["text"].startswith("Whatever the whole thread is: 18.")
    assert outcome("after", stud_length=None) == "pass"
    for key in ("engaged", "after", "short"):
        assert needs(key, stud_length=None, thread_most=24) == ["stud_length"], key
    assert outcome("reach", stud_length=None, thread_most=24) == "pass"


@pytest.mark.parametrize("most", [31.9, 32.2])
def test_where_the_manual_tells_of_the_nut(most: float) -> None:
    """Exactly where every longer thread leaves the turns as they are: 19.85 + 10 + 2.1975 mm."""
    edge = 14 + 5.85 + 10 + (2 + 0.01 + 1.5 / 8)
    assert (outcome("engaged", stud_length=None, thread_most=most) == "pass") is (most >= edge)
    shortest = made(stud_length=most + 0.001, thread_most=most)
    assert (shortest["tables"] == made(stud_length=150, thread_most=most)["tables"]) is (most >= edge)
    assert check(shortest, "engaged")["outcome"] == "pass"


def test_a_thread_of_one_s_own_wants_its_diameter() -> None:
    """Without it nobody knows what the nut must keep."""
    own = {"thread": "other", "thread_pitch": 1.5}
    assert needs("engaged", **own) == ["thread_diameter"]
    assert outcome("engaged", **own, thread_diameter=10) == "pass"
    assert needs("reach", **own, thread_most=None, range_given=False) == ["thread_diameter"]


def test_thread_that_is_not_measured_leaves_the_turns_open() -> None:
    """The plan is shown, and nothing is promised of it."""
    for key in ("reach", "short", "engaged", "after"):
        assert needs(key, thread_out=None) == ["thread_out"], key
    assert made(thread_out=None)["tables"]


def test_a_leg_of_one_s_own_row_says_its_gap() -> None:
    """A row that is silent about the gap may hide one; 0 says that the leg bears."""
    row = {"leg": "rear_left", "out": 15}
    assert needs("bears", each_leg=[row]) == ["each_leg.0.gap"]
    assert outcome("bears", each_leg=[{**row, "gap": 0}]) == "pass"
    assert outcome("bears", each_leg=[{**row, "gap": 1}]) == "stop"
    assert outcome("bears", each_leg=[{}]) == "pass"
    assert needs("bears", rocks=None, each_leg=[row]) == ["rocks", "each_leg.0.gap"]
    assert outcome("bears", rocks=True, each_leg=[row]) == "stop"


def test_a_row_without_its_leg_leaves_all_turns_open() -> None:
    """Nobody knows which leg hangs."""
    result = made(each_leg=[{"gap": 1}])
    assert check(result, "reach")["needs"] == ["each_leg.0.leg"]
    assert result["tables"] == []


CONFLICTS: list[tuple[set[str], dict[str, Any], dict[str, Any]]] = [
    ({"thread_least", "thread_most"}, {"thread_least": 14, "thread_most": 13.9}, {"thread_least": 14, "thread_most": 14}),
    ({"thread_most", "stud_length"}, {"stud_length": 38}, {"stud_length": 38.1}),
    ({"thread_out", "thread_least"}, {"thread_out": 3.9}, {"thread_out": 4.0}),
    ({"thread_out", "stud_length"}, {"thread_out": 58.1}, {"thread_out": 58.0}),
    ({"each_leg.0.out", "thread_least"}, {"each_leg": [{"leg": "rear_left", "out": 3.9}]}, {"each_leg": [{"leg": "rear_left", "out": 4}]}),
    ({"thread_most", "range_given"}, {"range_given": False}, {"range_given": True}),
    ({"thread_pitch", "thread_diameter"}, {"thread": "other", "thread_pitch": 3, "thread_diameter": 3},
     {"thread": "m10", "thread_pitch": 3, "thread_diameter": 3}),
    ({"vial", "vial_arc"}, {"vial": 1, "vial_arc": 3}, {"vial": 0.9, "vial_arc": 3}),
    ({"vial", "vial_arc"}, {"vial": 0.78, "vial_arc": 3}, {"vial": 0.79, "vial_arc": 3}),
    ({"readings.0.bubble", "readings.0.slope"}, {"readings": [{"high": "left", "bubble": "half", "slope": 3}]},
     {"readings": [{"high": "left", "bubble": "half", "angle": 3}]}),
    ({"readings.0.bubble", "readings.0.angle"}, {"readings": [{"high": "left", "bubble": "half", "shown_as": "angle", "angle": 0}]},
     {"readings": [{"high": "left", "bubble": "half"}]}),
    ({"readings.0.high", "readings.0.bubble"}, {"readings": [{"high": "none_along", "bubble": "touching"}]},
     {"readings": [{"high": "none_along", "bubble": "middle"}]}),
    ({"readings.0.high", "readings.0.slope"}, {"readings": [{"high": "none_along", "slope": 0.1}]},
     {"readings": [{"high": "none_along", "slope": 0}]}),
    ({"each_leg.0.leg", "each_leg.1.leg"}, {"each_leg": [{"leg": "rear_left"}, {"leg": "rear_left"}]},
     {"each_leg": [{"leg": "rear_left"}, {"leg": "rear_right"}]}),
    ({"leg_layout", "each_leg.0.leg"}, {"each_leg": [{"leg": "left_middle"}]},
     {"leg_layout": "six_deep", "each_leg": [{"leg": "left_middle"}]}),
]  # fmt: skip


@pytest.mark.parametrize(("paths", "wrong", "right"), CONFLICTS)
def test_inputs_that_cannot_all_be_true_are_errors_at_each(paths: set[str], wrong: dict[str, Any], right: dict[str, Any]) -> None:
    """All are named, in a sentence that says what to do; a hair's breadth away there is no error."""
    with pytest.raises(InputErrors) as caught:
        made(**wrong)
    assert {error.field for error in caught.value.errors} == paths
    assert all(":" in error.limit or error.limit.startswith(("Give", "This")) for error in caught.value.errors)
    made(**right)


def test_legs_of_another_layout_may_share_a_name() -> None:
    """There a name only helps to find a leg."""
    made(leg_layout="own", each_leg=[{"leg": "rear_left", "x": x, "y": y, "gap": 0} for x, y in ((0, 0), (800, 0), (0, 700))])


def least(*rows: dict[str, Any]) -> dict[str, Any]:
    """The level check of these readings alone."""
    return check(run({"readings": list(rows)}), "slope_now")


def test_an_amount_that_is_missing_cannot_level_the_other_direction() -> None:
    """Left high by any amount: front to back stays 4 mm/m, which is a stop; at 2 mm/m it may be level."""
    found = least({"high": "rear", "slope": 4}, {"high": "left"})
    assert (found["outcome"], found["value"]) == ("stop", pytest.approx(4))
    assert "whatever the readings are" in found["note"]
    assert least({"high": "rear", "slope": 2}, {"high": "left"})["outcome"] == "unknown"


@pytest.mark.parametrize(("kind", "most"), [("slope", 60), ("angle", 59.41), ("phone", 59.41), ("divisions", 40)])
def test_an_amount_that_is_missing_goes_no_further_than_it_may(kind: str, most: float) -> None:
    """The middle of 200 mm/m to the left and as much to the right as can be read; without a vial, anything."""
    rows = [{"high": "left", "slope": 50}] * 4 + [{"high": "right", "shown_as": kind}, {"high": "none_along"}]
    found = check(run({"vial": 2, "readings": rows}), "slope_now")
    assert (found["outcome"], found["value"]) == ("stop", pytest.approx((200 - most) / 5, abs=0.01))
    bare = check(run({"readings": rows}), "slope_now")
    assert bare["outcome"] == ("unknown" if kind == "divisions" else "stop")


def test_two_amounts_that_are_missing_are_sought_together() -> None:
    """Against the least over a fine grid of both."""
    known = [maths.Reading(1, 0, 20), maths.Reading(1, 0, 22), maths.Reading(0, 1, 9), maths.Reading(0.6, 0.8, 30)]
    begun = [((-0.8, 0.6), 12.0), ((0.0, -1.0), 5.0)]
    grid = min(
        math.hypot(*(maths.fit([*known, maths.Reading(*begun[0][0], 12 * i / 200), maths.Reading(*begun[1][0], 5 * j / 200)]) or (0, 0)))
        for i in range(201) for j in range(201))  # fmt: skip
    assert maths.least_slope(known, begun) == pytest.approx(grid, abs=1e-3)
    assert maths.least_slope(known, begun) <= grid + 1e-9


def test_a_plate_is_checked_before_the_legs_are_measured() -> None:
    """A thick plate is too thick wherever the legs stand; one that the layout has no leg for is none."""
    found = check(run({"plate_front_left": 40}), "plate")
    assert (found["outcome"], found["mend"]["changes"]) == ("stop", {"plate_front_left": "25 mm"})
    assert check(run({"leg_layout": "own", "each_leg": [{"plate": 40}]}), "plate")["outcome"] == "stop"
    keys = {each["key"] for each in run({"leg_layout": "four", "plate_front_middle": 40})["checks"]}
    assert "plate" not in keys


def test_a_corner_without_legs_says_nothing_yet() -> None:
    """Which way a corner lies is told by the legs; the reading waits for them."""
    found = check(run({"readings": [{"high": "rear_left", "slope": 9}]}), "slope_now")
    assert (found["outcome"], found["value"]) == ("unknown", None)
    assert found["needs"] == ["leg_layout"]
    spans = {"leg_layout": "four", "span_x": 800, "readings": [{"high": "rear_left", "slope": 9}]}
    assert check(run(spans), "slope_now")["needs"] == ["span_y"]


def test_a_layout_may_be_measured_from_anywhere() -> None:
    """Legs a meter farther right and back: the same corner lies the same way."""
    def plane(shift: float) -> list[Any]:
        rows = [{"x": x + shift, "y": y + shift, "gap": 0} for x, y in ((0, 0), (900, 0), (0, 400), (900, 400))]
        result = run({"leg_layout": "own", "each_leg": rows, "readings": [{"high": "rear_left", "slope": 9}, {"high": "left", "slope": 2}]})
        return [value(result, "slope_x"), value(result, "slope_y")]

    assert plane(1000) == pytest.approx(plane(0), rel=1e-9)
    # Along (−900, 400) by 9 mm/m, and 2 mm/m to the left, so 17.66 mm/m to the rear.
    assert plane(1000) == pytest.approx([-2, (9 * math.hypot(900, 400) - 2 * 900) / 400], rel=1e-9)


@pytest.mark.parametrize(("kind", "amount", "off"), [("angle", 0.4, 0.873), ("phone", 0.4, 1.745), ("slope", 7, 0.5), ("divisions", 2, 0.5)])
def test_how_far_a_number_may_be_off(kind: str, amount: float, off: float) -> None:
    """Half a tenth of a degree, a whole one by phone, half a millimeter in a meter, a quarter of a division of 2 mm/m; √2 of it for both ways."""
    rows = [{"high": high, "shown_as": kind, kind: amount} for high in ("left", "rear")]
    shown = next(each for each in run({"vial": 2, "readings": rows})["values"] if each["key"] == "slope")["tolerance"]
    assert float(shown.removesuffix(" mm/m")) == pytest.approx(math.sqrt(2) * off, abs=0.1)


def test_a_leg_of_one_s_own_without_gap_and_plate_has_none() -> None:
    """It stands on the floor as it is; how far it is out is then that of all."""
    row = SimpleNamespace(x=1000.0, y=500.0, leg=None, out=None, gap=None, plate=None)
    (leg,) = legs._own_legs(SimpleNamespace(each_leg=[row], thread_out=14.0))  # type: ignore[arg-type]
    assert (leg.gap, leg.plate, leg.out) == (0.0, 0.0, 14.0)
