"""Printed changes: 27 failures of each of 19 kinds, in all five rule sets, each changed as printed."""

from __future__ import annotations

import dataclasses
import random
from typing import Any

import pytest

from calculators.circuit import CALCULATOR
from calculators.core import rules
from tests.support.inputs import agreed, random_request
from tests.support.mends import Trial

# A supply that is off, readings that tell nothing, a metal to be looked at: there is no other number to type in.
ADVISED = ("reading", "volts_high", "read_low", "read_high", "supply_kind", "aluminum")


THIN = {"us": "14", "ca": "14", "uk": "1.5mm2", "eu": "1.5mm2", "au": "1.5mm2"}


def make(seed: int) -> dict[str, Any]:
    """Any circuit, half of them in the one set that asks most; half shared, on thin wire, near the outlet's rating."""
    request = random_request(CALCULATOR, 60_000 + seed)
    rng = random.Random(f"circuit mends {seed}")
    name = "us" if seed % 2 else list(rules.RULE_SETS)[seed // 2 % len(rules.RULE_SETS)]
    if seed % 4 > 1:
        request["inputs"] |= {"dedicated": "no", "loads_listed": "yes", "outlets": rng.randint(2, 6),
                              "breaker": rng.choice(["20", "30", "50"] if name in ("us", "ca") else ["20", "32"]),
                              "receptacle_rating": {"us": "20", "ca": "20", "uk": "13", "eu": "16", "au": "15"}[name],
                              "cabinet_amps": round(rng.uniform(8, 20), 1), "phases": "single",
                              "conductor": THIN[name], "material": "copper", "layout": "radial",
                              "ambient": 30}  # fmt: skip
    return agreed(CALCULATOR, {**request, "rules": name})


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_mend_works(units: str) -> None:
    """The printed change, typed as printed, turns its check to pass; where there is none a note helps."""
    trial = Trial(CALCULATOR, advised=ADVISED)
    assert len(trial.kinds) * trial.quota >= 500
    trial.run(make, units)


@pytest.mark.parametrize(("wired", "helps"), [("6.7 A", True), ("16 A", True), ("20 A", False), ("30 A", False)])
def test_what_is_plugged_in_beside_it_is_moved_and_what_is_wired_stays(wired: str, helps: bool) -> None:
    """A circuit of its own would make its reading of the voltage void; to move the others leaves what was read, and may not help."""
    inputs = {"nominal_voltage": "240", "cabinet_watts": 1354.9, "cabinet_power_factor": 1.0, "loads_listed": True,
              "volts_idle": 84.8, "volts_loaded": 81.3, "test_amps": 10.3,
              "loads": [{"amps": wired, "plugged": False}, {"amps": "11.3 A", "plugged": True}, {"amps": "2.5 A", "plugged": True}]}
    result = dataclasses.replace(CALCULATOR, probe=False).run({"units": "si", "typed": "si", "rules": "ca", "inputs": inputs})
    mend = next(each["mend"] for each in result["checks"] if each["key"] == "drop_total")
    assert bool(mend) == helps
    if helps:
        assert "Move what is plugged in beside it" in mend["text"]
        assert [row["amps"] for row in mend["changes"]["loads"]] == [wired]


def told(changes: dict[str, str], name: str = "us") -> dict[str, Any]:
    """The answer to the ordinary example with some of it changed."""
    example, units = CALCULATOR.example_in(name)
    return dataclasses.replace(CALCULATOR, probe=False).run({"units": units, "rules": name, "inputs": {**example, **changes}})


@pytest.mark.parametrize("changes", [{"material": "aluminum", "ambient": "118 °F", "run": "200 ft"}, {"conductor": "14", "run": "200 ft"},
                                     {"ambient": "104 °F", "run": "110 ft"}, {"conductor": "14", "run": "20 ft"}])  # fmt: skip
def test_one_size_of_wire_is_named_that_does_for_all(changes: dict[str, str]) -> None:
    """Breaker, current, drop and start each ask for their own: only the thickest of them leaves none at stop."""
    result = told(changes)
    sizes = [each["mend"]["changes"]["conductor"] for each in result["checks"] if each["mend"] and "conductor" in each["mend"]["changes"]]
    assert sizes
    assert len(set(sizes)) == 1
    after = told({**changes, **dict.fromkeys(("volts_loaded", "test_amps"), ""), "conductor": sizes[0]})
    wire = {"wire_breaker", "wire_load", "drop", "volts_running", "volts_starting"}
    assert {each["outcome"] for each in after["checks"] if each["key"] in wire} == {"pass"}


def test_an_outlet_that_does_not_suit_is_changed_before_a_circuit_is_put_in() -> None:
    """15 A on 20 A, alone on its circuit: the outlet is all that is wrong. No outlet lets it draw more than its breaker."""
    outlet = next(each for each in told({"receptacle_rating": "15"})["checks"] if each["key"] == "receptacle")
    assert outlet["outcome"] == "stop"
    assert outlet["mend"]["changes"] == {"receptacle_rating": "20"}
    load = next(each for each in told({"receptacle_rating": "15", "cabinet_amps": "17 A"})["checks"] if each["key"] == "receptacle_load")
    assert load["mend"]["changes"] == {"receptacle_rating": "20"}
