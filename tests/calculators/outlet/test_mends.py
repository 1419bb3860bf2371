"""Printed changes: 250 failures of each of the two checks that a smaller load mends, typed as printed.

For all else at an outlet there is nothing to type in: each kind fails twenty times and more, and
its note sends for those who may look.
"""

from __future__ import annotations

import random
from typing import Any

import pytest

from calculators.core import rules
from calculators.outlet import CALCULATOR
from tests.support.inputs import agreed, random_request
from tests.support.mends import Trial

ADVISED = ("looks", "reader", "wiring", "nearby", "agree", "sum", "volts_low", "volts_high", "neutral_ground",
           "apart", "button")  # fmt: skip


def make(seed: int) -> dict[str, Any]:
    """Any readings under any set; every other outlet near the set's own voltage, weak under its load."""
    request = random_request(CALCULATOR, 70_000 + seed)
    rng = random.Random(f"outlet mends {seed}")
    name = list(rules.RULE_SETS)[seed // 2 % len(rules.RULE_SETS)]
    if seed % 2:
        idle = rules.load(name)["outlet.nominal"].inner * rng.uniform(0.95, 1.03)
        request["inputs"] |= {"volts_ln": round(idle, 1), "loaded_ln": round(idle * rng.uniform(0.85, 1.0), 1),
                              "load_amps": round(rng.uniform(5, 12), 1), "reader": "plug",
                              "cabinet_amps": round(rng.uniform(4, 16), 1)}  # fmt: skip
    return agreed(CALCULATOR, {**request, "rules": name})


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_mend_works(units: str) -> None:
    """The printed load, typed as printed, turns its check to pass; where there is none a note helps."""
    Trial(CALCULATOR, advised=ADVISED).run(make, units)
