"""Printed changes: as many failures of each kind of check, each changed as printed, turn to pass."""

from __future__ import annotations

import random
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from tests.support.mends import Trial

from .test_route import FITS, random_inputs, random_leg

# A control's height and a weak floor are no numbers to type in: a note says what to do.
# A height, a weak floor and the balance on a slope are no numbers to type in: a note says what to do.
ADVISED = ("reach_low", "reach_high", "floor_patch", "floor_wheels", "ramp_balance", "people_alone")
GONE = ("weather", "ramp_gear", "tilt_card", "tilt_balance", "tilt_pull", "tilt_up", "ramp_tipped")  # with their cause
NEVER = ("route",)  # the way in as a whole is only ever unknown
USES = ("office", "shop_first", "classroom", "home", "ground")


def wide_inputs(rng: random.Random) -> dict[str, Any]:
    """A route and a spot with all that may fail: lifts, ramps, steps, loads, floors, keep-outs, slopes."""
    sizes = {"slope": (0, 40), "overhang": (0, 200), "overhang_low": (300, 1600), "stock_mass": (50, 400),
             "alcove": (0, 900), "rear_gap_plate": (50, 250), "left_gap": (0, 80), "leg_inset": (30, 80),
             "side_gap_plate": (0, 80), "control_high": (1100, 1300), "control_low": (300, 500),
             "sprinkler_gap": (200, 800), "gear_grade": (2, 20)}  # fmt: skip
    made: dict[str, Any] = random_inputs(rng) | {key: round(rng.uniform(*ends), 1) for key, ends in sizes.items()}
    made |= {"right_gap": made["left_gap"]} if rng.random() < 0.5 else {"left_gap": 700, "right_gap": 700}
    made |= {key: rng.random() < 0.3 for key in ("panel_space", "exit_blocked", "fire_gear", "outdoors")}
    made |= {"outdoor_rated": False, "floor_use": rng.choice(USES), "way_use": rng.choice(USES), "floor_known": "kind",
             "wheels_apart": 0, "legs": rng.choice(["four", "six"]), "sprinklers": "some",
             "corridor_use": rng.choice(["few", "many", "beds"])}  # fmt: skip
    made["route"] += [random_leg(rng, "lift"), random_leg(rng, "tail_lift"),
                      random_leg(rng, "ramp") | {"rise": rng.uniform(50, 3000), "run": rng.uniform(1000, 6000)},
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
