"""Margins of leveling at their limits: none jumps where its outcome leaves pass."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.limits import jump
from tests.support.sheet import check

from .test_level import run

LIMITS = [
    ("slope_now", "slope", 0.5, 20), ("spread", "other", 6, 20), ("reach", "thread_most", 24, 9), ("reach", "slope", 0.5, 50),
    ("engaged", "stud_length", 60, 20), ("engaged", "slope", 0.5, 60), ("plate", "plate_front_left", 1, 50),
    ("short", "stud_length", 36, 13), ("reach", "stud_length", 60, 20),
]  # fmt: skip


@pytest.mark.parametrize(("key", "path", "good", "bad"), LIMITS)
def test_margins_run_through_nothing_at_their_limits(key: str, path: str, good: float, bad: float) -> None:
    """Where an outcome leaves pass the margin does not jump.

    The slope after whole parts of a turn moves in steps, so that check has no such place.
    """
    def tried(amount: float) -> dict[str, Any]:
        slope, other = amount if path == "slope" else 6, amount if path == "other" else 6
        inputs = {"leg_layout": "four", "span_x": 850, "span_y": 750, "thread": "m10", "foot": "stud", "thread_out": 12,
                  "thread_least": 6, "thread_most": 24, "stud_length": 36, "rocks": False,
                  "readings": [{"high": "left", "slope": slope}, {"high": "left", "slope": other if path == "other" else slope},
                               {"high": "rear", "slope": 1}]}  # fmt: skip
        if path == "stud_length":  # the nut decides alone
            inputs |= {"thread_most": None, "range_given": False}
        return check(run(inputs if path in ("slope", "other") else inputs | {path: amount}), key)

    assert jump(tried, good, bad) <= 1e-6
