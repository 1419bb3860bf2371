"""The voltage at the cabinet against a power-flow library, with several loads along the run."""

from __future__ import annotations

import dataclasses
import math
import random
from typing import Any

import numpy as np
import pytest
from power_grid_model import ComponentType, LoadGenType, PowerGridModel, initialize_array

from calculators.circuit import CALCULATOR
from calculators.core import rules

QUICK = dataclasses.replace(CALCULATOR, probe=False)
AREAS = ["1.5mm2", "2.5mm2", "4mm2", "6mm2", "10mm2"]
GAUGES = ["14", "12", "10", "8", "6"]
# Supply, supply between phases, and wires; the resistance comes from four kinds of table.
SETS = {"us": ("120", "208", GAUGES), "ca": ("120", "208", GAUGES), "uk": ("230", "400", AREAS),
        "eu": ("230", "400", AREAS), "au": ("230", "400", AREAS)}  # fmt: skip


def random_circuit(rng: random.Random, name: str) -> dict[str, Any]:
    """Two to five things besides the cabinet, each at an outlet of its own."""
    single, between, sizes = SETS[name]
    three = rng.random() < 0.3
    nominal = between if three else single
    loads = [{"amps": rng.uniform(0.5, 5), "power_factor": rng.uniform(0.4, 1), "count": rng.randint(1, 2),
              "distance": rng.uniform(1, 60)} for _ in range(rng.randint(2, 5))]  # fmt: skip
    return {
        "nominal_voltage": nominal, "phases": "three" if three else "single", "dedicated": "no",
        "loads_listed": "yes", "material": "copper", "conductor": rng.choice(sizes), "run": rng.uniform(10, 45),
        "cabinet_amps": rng.uniform(1, 10), "cabinet_power_factor": rng.uniform(0.4, 1),
        "volts_idle": float(nominal), "loads": loads, "temperature": rng.uniform(20, 75),
    }  # fmt: skip


def ohms_per_metre(name: str, inputs: dict[str, Any]) -> complex:
    """One wire, straight from the rule set's figures and not by the calculator's own way."""
    known, size, heat = rules.load(name), inputs["conductor"], inputs["temperature"]

    def figure(key: str) -> float:
        return known[f"conductors.{key}"].inner

    if name in ("us", "ca"):
        cold, beginning = max(figure(f"dc_{size}"), figure(f"ac_{size}")), ""
    elif name in ("uk", "au"):
        cold, beginning = figure(f"loop_{size}") / 2, "loop_"
    else:
        cold, beginning = figure("rho") / float(size.removesuffix("mm2")), "rho_"
    reactance = figure(f"x_steel_{size}" if name in ("us", "ca") else "iec_x")
    warm = cold * (1 + figure(f"{beginning}alpha") * (heat - figure(f"{beginning}at")))
    return complex(warm, reactance) / 1000


def flow(name: str, inputs: dict[str, Any]) -> float:
    """Exact voltage at the cabinet's outlet: every load holds its current against its own voltage.

    The library solves balanced three-phase networks; a single-phase circuit is one phase of such
    a network with the wire there and back in it.
    """
    three = inputs["phases"] == "three"
    rated = float(inputs["nominal_voltage"]) * (1 if three else math.sqrt(3))
    wire = ohms_per_metre(name, inputs) * (1 if three else 2)
    run = inputs["run"]
    things = [(run, inputs["cabinet_amps"], inputs["cabinet_power_factor"])]
    things += [(min(run, load.get("distance", run)), load["count"] * load["amps"], load["power_factor"])
               for load in inputs["loads"]]  # fmt: skip
    spots = sorted({spot for spot, _, _ in things})
    node = initialize_array("input", "node", len(spots) + 1)
    node["id"], node["u_rated"] = np.arange(len(spots) + 1), rated
    line = initialize_array("input", "line", len(spots))
    line["id"] = 100 + np.arange(len(spots))
    line["from_node"], line["to_node"] = np.arange(len(spots)), np.arange(1, len(spots) + 1)
    line["from_status"] = line["to_status"] = 1
    spans = np.diff([0.0, *spots])
    line["r1"], line["x1"], line["c1"], line["tan1"] = spans * wire.real, spans * wire.imag, 0, 0
    load = initialize_array("input", "sym_load", len(things))
    load["id"], load["status"] = 200 + np.arange(len(things)), 1
    load["node"] = [1 + spots.index(spot) for spot, _, _ in things]
    load["type"] = LoadGenType.const_current
    power = [math.sqrt(3) * rated * amps for _, amps, _ in things]
    factors = [factor for _, _, factor in things]
    load["p_specified"] = [each * factor for each, factor in zip(power, factors, strict=True)]
    load["q_specified"] = [each * math.sqrt(1 - factor**2) for each, factor in zip(power, factors, strict=True)]
    source = initialize_array("input", "source", 1)
    source["id"], source["node"], source["status"], source["u_ref"], source["sk"] = 300, 0, 1, 1.0, 1e20
    model = PowerGridModel({ComponentType.node: node, ComponentType.line: line, ComponentType.sym_load: load,
                            ComponentType.source: source})  # fmt: skip
    found = model.calculate_power_flow(error_tolerance=1e-12, max_iterations=60)
    return float(found["node"]["u_pu"][-1]) * float(inputs["nominal_voltage"])


def told(name: str, inputs: dict[str, Any]) -> float:
    values = QUICK.run({"rules": name, "typed": "si", "inputs": inputs})["values"]
    return next(each["inner"] for each in values if each["key"] == "volts_running")


@pytest.mark.parametrize("seed", range(200))
def test_the_voltage_at_the_cabinet(seed: int) -> None:
    """Exact with all at one outlet; with outlets along the run off by no more than the angles can do.

    Two outlets lie at most (volts lost)/(volts left) apart in angle. That turns a current by so
    much against the cabinet's voltage, and what it loses changes by no more than (volts lost)²/(volts left).
    """
    rng = random.Random(seed)
    name = list(SETS)[seed % len(SETS)]
    inputs = random_circuit(rng, name)
    together = {**inputs, "loads": [{key: each for key, each in load.items() if key != "distance"}
                                    for load in inputs["loads"]]}  # fmt: skip
    # 1e-9: the library iterates to 1e-12 of the voltage.
    assert told(name, together) == pytest.approx(flow(name, together), abs=1e-9)
    exact = flow(name, inputs)
    lost = float(inputs["nominal_voltage"]) - flow(name, together)
    assert abs(told(name, inputs) - exact) <= lost**2 / exact
    # On the safe side: never above the true voltage by what a sheet could print.
    assert told(name, inputs) <= exact + 0.001
    # What is nearer the panel costs no more than the same thing at the cabinet.
    assert told(name, inputs) >= told(name, together) - 1e-9
