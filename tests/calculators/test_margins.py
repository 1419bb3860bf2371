"""A measure that passes by less than it may be off is no Go; and the fixes that ask least are asked for first."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from calculators.circuit import maths
from calculators.float import coinage

# Each with the input that is measured, the limit that the example's other inputs give it, and how far a tape or a
# plate is off: 6 mm is what a measure of a wall is good for here, by common practice.
MEASURED = [("rear_gap", "rear_gap", "", 4.0, 0.25), ("left_gap", "plate_gap", "Left", 1.0, 0.25),
            ("top_gap", "plate_gap", "Above", 6.0, 0.25)]  # fmt: skip


def check(key: str, at: str, **typed: Any) -> dict[str, Any]:
    example = dict(calculators.get("clearance").example)
    result = calculators.run("clearance", {"units": "us", "inputs": {**example, **typed}})
    return next(each for each in result["checks"] if (each["key"], each["at"]) == (key, at))


@pytest.mark.parametrize(("field", "key", "at", "limit", "off"), MEASURED)
def test_a_gap_passes_only_by_more_than_the_tape_is_off(field: str, key: str, at: str, limit: float, off: float) -> None:
    for more, outcome in ((-1 / 16, "stop"), (0.0, "caution"), (off - 1 / 16, "caution"), (off + 1 / 16, "pass")):
        assert check(key, at, **{field: f"{limit + more} in"})["outcome"] == outcome, more


@pytest.mark.parametrize("box", [20, 30, 35])
def test_a_box_that_fills_is_met_by_an_earlier_visit_as_late_as_it_may_be(box: int) -> None:
    """The day given passes; a tenth of a day more does not."""
    example = {**dict(calculators.get("float").example), "note_box": box}

    def asked(**typed: Any) -> dict[str, Any]:
        result = calculators.run("float", {"units": "us", "inputs": {**example, **typed}})
        return next(each for each in result["checks"] if each["key"] == "note_box")

    fix = asked()["mend"]
    assert fix["text"].startswith("Visit earlier.")
    days = float(fix["changes"]["days"].split()[0])
    assert asked(days=days)["outcome"] == "pass"
    assert asked(days=round(days + 0.1, 1))["outcome"] != "pass"


def test_coins_go_where_there_is_room() -> None:
    stack = coinage.Stack(coinage.Coin("dime", 10, 2.268, 1.35, 50), (1, 4), (30, 20), None, 0, 0)
    assert stack.added({1: 25, 4: 5}, 12) == {1: 30, 4: 12}
    assert stack.added({1: 30, 4: 5}, 3) == {4: 8}
    assert stack.added({1: 35, 4: 20}, 5) == {}


def test_a_short_run_is_told_as_short_as_it_is() -> None:
    """Both loads over 0.4 m and one of them from there on: 0.4 · 2 + 0.2 · 1 = 1 thousandth of a volt."""
    assert maths.longest_with(0.001, [1.0, 1.0], [0.4, None], 1.0) == pytest.approx(0.6)
