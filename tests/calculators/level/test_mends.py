"""Printed changes: 125 failures of each of four kinds, each changed as printed.

A slope as it is now, readings that differ and a leg that hangs are mended with hands, not with a
number, and a leg is too short only where its range is none: each of these fails twenty times and
more, and its note says what to do.
"""

from __future__ import annotations

import random
from types import SimpleNamespace
from typing import Any

import pytest

from calculators.core.report import Mend
from calculators.level import CALCULATOR, mends
from tests.support.inputs import random_request
from tests.support.mends import Trial

from .test_level import short_thread

ADVISED = ("slope_now", "spread", "bears", "short")


def make(seed: int) -> dict[str, Any]:
    """Any cabinet, but most with too little thread or too thick a plate."""
    if seed % 20 == 0:
        return random_request(CALCULATOR, 80_000 + seed)
    rng = random.Random(f"level mends {seed}")
    inputs = short_thread(rng)
    if seed % 10 < 3:
        inputs[rng.choice(["plate_front_left", "plate_rear_right"])] = rng.uniform(20, 50)
    elif seed % 10 == 3:
        del inputs["thread_most"]  # the nut decides alone, and leaves no range
        inputs |= {"thread": "m16", "range_given": False, "stud_length": inputs["thread_out"] + rng.uniform(0, 2)}
    elif seed % 10 == 4:
        inputs["readings"].append({"high": "left", "slope": rng.uniform(0, 16)})
    return {"inputs": inputs}


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_mend_works(units: str) -> None:
    """The printed plates, typed as printed, turn their check to pass; where there are none a note helps."""
    Trial(CALCULATOR, advised=ADVISED).run(make, units)


@pytest.mark.parametrize(("after", "limit", "level"), [(1.0, 3.0, True), (2.9, 3.0, False), (None, 3.0, False), (1.0, None, False)])
def test_plates_are_no_mend_of_a_lean_that_nobody_knows(after: float | None, limit: float | None, level: bool) -> None:
    """Neither where it is not known how it stands on them, nor how level it has to be; nor where that is too near to tell."""
    mend = Mend("Plates.", {"plate_front_left": "3 mm"})
    plated = mends.Plated(mend, SimpleNamespace(after=after, off=0.2))  # type: ignore[arg-type]
    assert (mends.levels(plated, limit) is mend) is level
    assert mends.levels(None, limit) is None
