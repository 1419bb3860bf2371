"""Printed changes: 17 failures of each of 30 kinds, each changed as printed, turn to pass."""

from __future__ import annotations

import random
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from tests.support.mends import Trial

from .test_route import FITS, random_inputs, random_leg

# A control's height and a weak floor are no numbers to type in: a note says what to do.
ADVISED = ("reach_low", "reach_high", "floor_patch", "floor_wheels")
GONE = ("weather",)  # indoors nobody asks about rain
NEVER = ("route",)  # the way in as a whole is only ever unknown
USES = ("office", "shop_first", "classroom", "home", "ground")


def wide_inputs(rng: random.Random) -> dict[str, Any]:
    """A route and a spot with all that may fail: lifts, ramps, steps, loads, floors, keep-outs, slopes."""
    sizes = {"slope": (0, 40), "overhang": (0, 200), "overhang_low": (300, 2300), "stock_mass": (50, 400),
             "gear_rating": (200, 600), "alcove": (0, 900), "rear_gap_plate": (50, 250), "left_gap": (0, 80),
             "side_gap_plate": (0, 80), "control_high": (1100, 1300), "control_low": (300, 500)}  # fmt: skip
    made: dict[str, Any] = random_inputs(rng) | {key: round(rng.uniform(*ends), 1) for key, ends in sizes.items()}
    made |= {key: rng.random() < 0.3 for key in ("panel_space", "exit_blocked", "fire_gear", "outdoors")}
    made |= {"outdoor_rated": False, "floor_use": rng.choice(USES), "way_use": rng.choice(USES),
             "corridor_use": rng.choice(["few", "many", "beds"])}  # fmt: skip
    made["route"] += [random_leg(rng, "lift"), random_leg(rng, "tail_lift"),
                      {"kind": "ramp", "rise": rng.uniform(50, 700), "run": rng.uniform(1000, 6000)},
                      {"kind": "steps", "rise": 180}]  # fmt: skip
    return made


def make(seed: int) -> dict[str, Any]:
    """A request near real sizes."""
    return {"inputs": wide_inputs(random.Random(f"mend-{seed}"))}


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_mend_works(units: str) -> None:
    """The printed change, typed as printed, turns the check to pass; where there is none a note helps."""
    trial = Trial(CALCULATOR, advised=ADVISED, gone=GONE, never=NEVER)
    trial.run(make, units)
    # A change is found for all but a few: openings can always be made larger.
    assert sum(trial.noted[kind] for kind in FITS) <= trial.quota
