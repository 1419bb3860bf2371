"""A weighing of which one figure is blank: from nothing to all that it may be, and no further."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from tests.support import pairs

RUN = pairs.runner(calculators.get("cash"), bounds=True)
READ = {"cash_in_last": "100", "cash_in_now": "120", "paid_out_last": "0", "paid_out_now": "0", "tubes_last": "10", "tubes_now": "10",
        "filled": "0", "emptied": "0", "scale_off": 0.1, "counted_by": "x", "checked_by": "y"}  # fmt: skip
LOTS = {
    "one kind": (lambda blank: {"coins": [{"coin": "quarter", "way": "mass", **blank}]}, ("scale", "container")),
    "mixed": (lambda blank: {f"mixed_{key}": value for key, value in blank.items()}, ("scale", "container")),
}
lots = pytest.mark.parametrize("kind", LOTS)


def outcomes(inputs: dict[str, Any]) -> dict[str, str]:
    result = RUN(inputs, "us")
    assert result is not None
    return {"sheet": result["outcome"], **{check["key"]: check["outcome"] for check in result["checks"]}}


def bag(kind: str, weighed: dict[str, float], **more: Any) -> dict[str, Any]:
    made, _ = LOTS[kind]
    return {**READ, **made(weighed), **more}


@lots
def test_a_bag_that_is_short_with_the_lightest_container_is_short(kind: str) -> None:
    """500 g of quarters, or of coins alike, are some 22 dollars: 20 may be there, 300 never."""
    rich = {"cash_in_now": "400", "second": "300"}
    found = outcomes(bag(kind, {"scale": 500.0}, **rich))
    assert (found["sheet"], found["short"], found["agree_high"]) == ("stop", "stop", "stop")
    assert {outcomes(bag(kind, {"scale": 500.0, "container": box}, **rich))["short"] for box in (0.0, 56.5, 102.1, 500.0)} == {"stop"}
    sheet = RUN(bag(kind, {"scale": 500.0}, second="20"), "us")
    assert sheet is not None
    assert "by number" not in sheet["checks"][0]["note"], "the container is what lacks"
    found = outcomes(bag(kind, {"scale": 500.0}, second="20"))
    assert [found[key] for key in ("sheet", "short", "over", "agree_low", "agree_high", "weighed")] == [
        "unknown", "unknown", "pass", "unknown", "unknown", "unknown"]  # fmt: skip


@lots
def test_a_bag_that_is_short_whatever_the_scale_may_show_is_short(kind: str) -> None:
    """No scale of ours goes past 50 kg: 2,300 dollars."""
    assert outcomes(bag(kind, {"container": 20.0}, cash_in_now="3000", second="2900"))["short"] == "stop"
    assert outcomes(bag(kind, {"container": 20.0}, cash_in_now="2000", second="1900"))["short"] == "unknown"


def printed(inputs: dict[str, Any]) -> str:
    """What the first lot is worth, as the table says it."""
    result = RUN(inputs, "us")
    assert result is not None
    return str(next(table for table in result["tables"] if table["key"] == "lots")["rows"][0][3])


def worth(inputs: dict[str, Any]) -> tuple[float, float]:
    """The least and the most that it is worth."""
    text = printed(inputs)
    ends = [float(each.strip("$")) for each in text.rpartition("(")[2].rstrip(")").split(" to ")]
    return ends[0], ends[-1]


@lots
def test_no_container_makes_more_of_it_than_is_told(kind: str) -> None:
    """Every container leaves a sum between the bounds, and one of nothing the upper bound itself."""
    low, high = worth(bag(kind, {"scale": 500.0}))
    left = [worth(bag(kind, {"scale": 500.0, "container": float(box)})) for box in range(0, 301, 50)]
    assert printed(bag(kind, {"scale": 500.0})).startswith("$0.00 to $")
    assert low == 0.0
    assert max(most for _, most in left) == left[0][1] == high


def test_a_kind_that_no_weight_settles_is_still_counted_by_number() -> None:
    """Where the rules do not say how far a coin may be off, a weight bounds nothing, told or not."""
    inputs = {**READ, "coins": [{"coin": "dollar", "way": "mass", "scale": 500.0}], "cash_in_now": "40000", "second": "300"}
    result = RUN(inputs, "us")
    assert result is not None
    lacking = next(check for check in result["checks"] if check["key"] == "short")
    assert lacking["outcome"] == "unknown"
    assert "by number" in lacking["note"]
