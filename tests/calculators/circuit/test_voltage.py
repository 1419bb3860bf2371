"""Voltage against exact phasors, and what must hold for any circuit."""

from __future__ import annotations

import dataclasses
import math
import random
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.circuit import CALCULATOR
from calculators.circuit.inputs import BREAKERS, METER, OUTLETS, SIZES
from calculators.core import rules
from tests.support.limits import beside
from tests.support.sheet import check, value

US = rules.load("us")
SUPPLY = 121.0
# Without the search for what to measure next, which tries each unknown at both its ends.
QUICK = dataclasses.replace(CALCULATOR, probe=False)


def run(inputs: dict[str, Any], units: str = "si") -> dict[str, Any]:
    return QUICK.run({"units": units, "typed": "si", "inputs": inputs})


def random_circuit(rng: random.Random) -> dict[str, Any]:
    loads = [
        {"amps": rng.uniform(0.2, 6), "power_factor": rng.uniform(0.3, 1), "count": rng.randint(1, 2)}
        for _ in range(rng.randint(0, 4))
    ]
    return {
        "breaker": "20", "nominal_voltage": "120", "dedicated": "no", "loads_listed": "yes",
        "material": "copper", "conductor": rng.choice(SIZES), "run": rng.uniform(3, 45), "raceway": rng.choice(["pvc", "steel"]),
        "cabinet_amps": rng.uniform(1, 14), "cabinet_power_factor": rng.uniform(0.3, 1),
        "cabinet_count": rng.randint(1, 2), "volts_idle": SUPPLY, "loads": loads, "ambient": 30,
    }  # fmt: skip


def ohms_per_metre(inputs: dict[str, Any]) -> complex:
    """One wire, from the rule set's tables."""
    size, pipe = inputs["conductor"], inputs["raceway"]
    resistance = max(US[f"conductors.{name}_{size}"].inner for name in ("dc", "ac"))
    return complex(resistance, US[f"conductors.x_{pipe}_{size}"].inner) / 1000


def currents(inputs: dict[str, Any]) -> list[complex]:
    """Each thing's current with its own voltage along the real axis; lagging."""
    things = [(inputs["cabinet_amps"], inputs["cabinet_power_factor"], inputs["cabinet_count"])]
    things += [(load["amps"], load["power_factor"], load["count"]) for load in inputs["loads"]]
    return [n * amps * np.exp(-1j * math.acos(factor)) for amps, factor, n in things]


def ladder(places: list[float], flows: list[complex], wire: complex) -> complex:
    """Exact voltage at the far end of a run with loads at places along it.

    Each holds its current, at its power factor against its own voltage. Nodes are solved
    together until nothing moves.
    """
    order = np.argsort(places)
    spots = np.array(places)[order]
    flow = np.array(flows)[order]
    spans = np.diff(np.concatenate([[0.0], spots]))
    volts = np.full(len(spots), SUPPLY, dtype=complex)
    for _ in range(60):
        drawn = flow * volts / np.abs(volts)
        through = np.cumsum(drawn[::-1])[::-1]
        volts = SUPPLY - np.cumsum(2 * wire * spans * through)
    return complex(volts[-1])


def parts(flows: list[complex], wire: complex, length: float) -> tuple[float, float]:
    """The lost voltage along and across the machine's own voltage."""
    lost = 2 * length * wire * np.sum(np.array(flows))
    return float(lost.real), float(lost.imag)


@pytest.mark.parametrize("seed", range(200))
def test_the_drop_against_exact_phasors(seed: int) -> None:
    """supply² = (machine + a)² + b² exactly, where a is what R·cos φ + X·sin φ gives.

    So the exact drop is a + supply − √(supply² − b²): more than a, by at most b²/supply
    (because supply − √(supply² − b²) = b²/(supply + √…) ≤ b²/supply).
    """
    inputs = random_circuit(random.Random(seed))
    wire, flows = ohms_per_metre(inputs), currents(inputs)
    exact = SUPPLY - abs(ladder([inputs["run"]] * len(flows), flows, wire))
    drop = value(run(inputs), "drop_volts")
    along, across = parts(flows, wire, inputs["run"])
    assert drop == pytest.approx(along, rel=1e-9)
    # 1e-9: the iteration stops where nothing moves, in the last places of 121 V.
    assert -1e-9 <= exact - drop <= across**2 / SUPPLY + 1e-9


@pytest.mark.parametrize("seed", range(60))
def test_nearer_loads_never_lose_more_than_all_at_the_far_end(seed: int) -> None:
    """Loads anywhere along the run, the cabinet at its end: the drop told is on the safe side.

    Besides b²/supply, the angle between two places (at most |b| or |z·I| over the voltage)
    turns a current against the cabinet's voltage; that moves the drop by less than |z·I|²/voltage.
    """
    rng = random.Random(1000 + seed)
    inputs = random_circuit(rng)
    wire, flows = ohms_per_metre(inputs), currents(inputs)
    places = [inputs["run"], *(rng.uniform(0, inputs["run"]) for _ in flows[1:])]
    far = ladder(places, flows, wire)
    most = 2 * inputs["run"] * abs(wire) * sum(map(abs, flows))
    slack = 2 * most**2 / (SUPPLY - most)
    assert SUPPLY - abs(far) <= value(run(inputs), "drop_volts") + slack + 1e-9


@pytest.mark.parametrize("seed", range(200))
def test_the_voltage_at_the_cabinet_is_the_exact_one(seed: int) -> None:
    """√(supply² − b²) − a is exact for loads that hold their current at one place, so nothing is left."""
    inputs = random_circuit(random.Random(5000 + seed))
    wire, flows = ohms_per_metre(inputs), currents(inputs)
    exact = abs(ladder([inputs["run"]] * len(flows), flows, wire))
    # 1e-9: as above.
    assert value(run(inputs), "volts_running") == pytest.approx(exact, abs=1e-9)


@pytest.mark.parametrize("seed", range(30))
def test_three_phases_against_three_exact_phasors(seed: int) -> None:
    """Even load on three phases: the neutral carries nothing, so each phase is a circuit of its own."""
    inputs = {**random_circuit(random.Random(seed)), "nominal_voltage": "208", "phases": "three",
              "volts_idle": 209.0}  # fmt: skip
    wire, flows = ohms_per_metre(inputs), sum(currents(inputs))
    phase = 209.0 / math.sqrt(3)
    volts = complex(phase)
    for _ in range(60):
        volts = phase - wire * inputs["run"] * flows * volts / abs(volts)
    result = run(inputs)
    assert value(result, "volts_running") == pytest.approx(math.sqrt(3) * abs(volts), abs=1e-9)
    single = run({**inputs, "phases": "single"})
    ratio = value(single, "drop_volts") / value(result, "drop_volts")
    assert ratio == pytest.approx(2 / math.sqrt(3), rel=1e-12)


def test_watts_are_turned_to_amperes_by_the_number_of_phases() -> None:
    """P = V·I·cos φ, and √3 times that with three phases."""
    inputs = {"nominal_voltage": "208", "cabinet_watts": 1800, "cabinet_power_factor": 0.9, "dedicated": "yes"}
    assert value(run(inputs), "running_amps") == pytest.approx(1800 / (208 * 0.9))
    three = run({**inputs, "phases": "three"})
    assert value(three, "running_amps") == pytest.approx(1800 / (math.sqrt(3) * 208 * 0.9))


@pytest.mark.parametrize("seed", range(60))
def test_the_start_against_exact_phasors(seed: int) -> None:
    """However far its current lags, the cabinet never starts at less than is told.

    One of the cabinets takes its starting current at any power factor while all else runs. The
    parts at right angles of running loads and of the start may add up by less than
    (|b| + z·I_s)·|b|/voltage; that is allowed, and stays below half a volt here.
    """
    rng = random.Random(seed)
    inputs = {**random_circuit(rng), "cabinet_start_amps": rng.uniform(15, 45), "run": rng.uniform(3, 25)}
    told = value(run(inputs), "volts_starting")
    wire, flows = ohms_per_metre(inputs), currents(inputs)
    rest = sum(flows) - flows[0] / inputs["cabinet_count"]
    across = abs((2 * inputs["run"] * wire * sum(flows)).imag)
    surge = 2 * inputs["run"] * abs(wire) * inputs["cabinet_start_amps"]
    for factor in np.linspace(0.1, 1, 19):
        start = inputs["cabinet_start_amps"] * np.exp(-1j * math.acos(factor))
        exact = abs(ladder([inputs["run"]], [rest + start], wire))
        slack = (across + surge) * across / exact
        assert told <= exact + min(slack, 0.5) + 1e-9


def test_all_at_once_is_harder_than_one() -> None:
    """Two cabinets that start together after a power cut leave less than one that starts."""
    inputs = {"nominal_voltage": "120", "dedicated": "no", "loads_listed": "yes", "material": "copper", "conductor": "12", "run": 20,
              "cabinet_amps": 7, "cabinet_start_amps": 35, "cabinet_count": 2, "volts_idle": 121,
              "cabinet_volts_least": 104, "cord_gauge": "14", "cord_length": 3}  # fmt: skip
    found = {each["at"]: each for each in run(inputs)["checks"] if each["key"] == "volts_starting"}
    together = found["All at once, as after a power cut"]
    assert together["value"] < found[""]["value"]
    wire = abs(ohms_per_metre({"conductor": "12", "raceway": "steel"}))
    cord = 2 * 3 * 3.14 / 304.8 * 35
    assert together["value"] == pytest.approx(121 - 2 * 20 * wire * 70 - cord)
    assert found[""]["value"] == pytest.approx(121 - 2 * 20 * wire * (35 + 7) - cord)


@pytest.mark.parametrize("seed", range(20))
def test_an_unknown_power_factor_is_taken_at_its_worst(seed: int) -> None:
    """No power factor loses more than the answer without one."""
    rng = random.Random(seed)
    inputs = {**random_circuit(rng), "loads": []}
    blank = {key: each for key, each in inputs.items() if key != "cabinet_power_factor"}
    most = value(run(blank), "drop_volts")
    tried = [value(run({**inputs, "cabinet_power_factor": f / 100}), "drop_volts") for f in range(20, 101, 2)]
    assert max(tried) <= most + 1e-12
    # The worst one is above 0.99 for all these wires, so 1.00 comes within a hundredth.
    assert most <= max(tried) * 1.01


amount = st.floats(0.5, 1.0)


@given(st.integers(0, 10_000), st.floats(3, 200), st.floats(1.0, 2.0))
@settings(max_examples=80, deadline=None)
def test_a_longer_run_never_loses_less(seed: int, length: float, longer: float) -> None:
    """Drop and dip grow with the run; voltages fall."""
    inputs = {**random_circuit(random.Random(seed)), "cabinet_start_amps": 40}
    short, long = (run({**inputs, "run": each}) for each in (length, min(300.0, length * longer)))
    for key, sign in (("drop_volts", 1), ("start_dip", 1), ("volts_running", -1), ("volts_starting", -1)):
        assert sign * (value(long, key) - value(short, key)) >= -1e-9


@given(st.integers(0, 10_000), st.floats(0.5, 20), st.floats(1.0, 2.0))
@settings(max_examples=80, deadline=None)
def test_a_bigger_cabinet_never_passes_where_a_smaller_fails(seed: int, amps: float, more: float) -> None:
    """No check gets better by more amperes."""
    rank = {"stop": 0, "caution": 1, "pass": 2}
    inputs = {**random_circuit(random.Random(seed)), "cabinet_volts_least": 104, "outlets": 4,
              "receptacle_rating": "20", "cabinet_start_amps": 45}  # fmt: skip
    small, large = (run({**inputs, "cabinet_amps": each}) for each in (amps, amps * more))
    for one, other in zip(small["checks"], large["checks"], strict=True):
        if one["outcome"] in rank and one["key"] != "volts_starting":
            assert rank[other["outcome"]] <= rank[one["outcome"]], one["key"]


@pytest.mark.parametrize("seed", range(40))
def test_the_count_of_more_cabinets(seed: int) -> None:
    """So many more pass breaker and wire, and one more again does not."""
    rng = random.Random(seed)
    inputs = {**random_circuit(rng), "cabinet_amps": rng.uniform(0.5, 6), "conductor": "12",
              "cabinet_continuous": rng.random() < 0.5}  # fmt: skip
    more = value(run(inputs), "more_amps")

    def fits(extra: int) -> bool:
        result = run({**inputs, "cabinet_count": inputs["cabinet_count"] + extra})
        return all(check(result, key)["outcome"] == "pass" for key in ("breaker_load", "wire_load", "plug_share"))

    start = fits(0)
    assert start or more == 0
    if start:
        assert fits(int(more))
        assert not fits(int(more) + 1)


@pytest.mark.parametrize("seed", range(60))
def test_the_smallest_wire_and_the_longest_run(seed: int) -> None:
    """The size told does on all three counts and the next thinner does not; the run told loses 3 %."""
    rng = random.Random(seed)
    inputs = {**random_circuit(rng), "breaker": rng.choice(BREAKERS), "run": rng.uniform(2, 90)}
    result = run(inputs)
    longest = value(result, "longest_run")
    assert value(run({**inputs, "run": min(max(longest, 0.5), 300)}), "drop_share") == pytest.approx(
        3.0, rel=1e-9) or not 0.5 <= longest <= 300  # fmt: skip

    def does(size: str) -> bool:
        tried = run({**inputs, "conductor": size})
        drop = check(tried, "drop")
        carried = all(check(tried, key)["outcome"] == "pass" for key in ("wire_breaker", "wire_load"))
        return carried and drop["margin"] >= 0

    good = [size for size in SIZES if does(size)]
    told = value(result, "smallest_wire")
    assert (told is None and not good) or f"{told:.0f}" == good[0]


@pytest.mark.parametrize("seed", range(60))
def test_readings_bracket_the_true_impedance(seed: int) -> None:
    """However the meter errs within its tolerance, the truth lies inside the interval told."""
    rng = random.Random(seed)
    truth, amps = rng.uniform(0.02, 0.8), rng.uniform(2, 15)
    idle = SUPPLY + rng.uniform(-METER, METER)
    loaded = SUPPLY - truth * amps + rng.uniform(-METER, METER)
    result = run({"cabinet_amps": 8, "volts_idle": idle, "volts_loaded": loaded, "test_amps": amps})
    told = value(result, "source_impedance")
    if idle - loaded <= 2 * METER:
        assert told is None
        assert check(result, "reading")["outcome"] == "caution"
    else:
        assert abs(told - truth) <= 2 * METER / amps + 1e-9
        # V read may be one volt high; what is left is no more than the truth allows.
        assert value(result, "volts_running") <= SUPPLY - truth * 8 + METER + 1e-9


@pytest.mark.parametrize(("truth", "amps"), [(0.8, 6), (0.5, 10), (0.4, 12)])
def test_the_worst_error_of_the_meter_is_allowed_for(truth: float, amps: float) -> None:
    """The fall read as small as the meter can make it: the voltage told is not above the true one."""
    idle, loaded = SUPPLY - METER, SUPPLY - truth * amps + METER
    result = run({"cabinet_amps": 8, "volts_idle": idle, "volts_loaded": loaded, "test_amps": amps})
    true = SUPPLY - truth * 8
    # The supply is read one volt low besides, and no more than that is given away.
    assert true - METER - 1e-9 <= value(result, "volts_running") <= true


@pytest.mark.parametrize(("conductor", "more"), [("12", 1), ("10", 2)])
def test_the_wire_limits_the_count_too(conductor: str, more: int) -> None:
    """30 A breaker, 8 A each, not continuous: 12 AWG carries 20 A, 10 AWG 30 A."""
    inputs = {"breaker": "30", "nominal_voltage": "120", "dedicated": "yes", "material": "copper", "conductor": conductor, "run": 5,
              "cabinet_amps": 8, "cabinet_continuous": "no", "ambient": 30}  # fmt: skip
    assert value(run(inputs), "more_amps") == more


def test_the_thinnest_thicker_wire_comes_first() -> None:
    """14 AWG on a 20 A breaker: the mend is 12 AWG, not the thickest there is."""
    mend = check(run({**RUN, "conductor": "14"}), "wire_breaker")["mend"]
    assert mend["changes"]["conductor"] == "12"
    assert mend["text"].startswith("Have a licensed electrician")


def test_what_the_operator_can_do_comes_first() -> None:
    """Too much on a shared circuit: another outlet before any work on the wiring."""
    crowded = {**RUN, "dedicated": "no", "loads_listed": "yes", "loads": [{"amps": 15, "plugged": "yes"}]}
    mend = check(run(crowded), "breaker_load")["mend"]
    assert mend["text"].startswith("Use an outlet on a circuit of its own")
    assert not WIRING & set(mend["changes"])


@pytest.mark.parametrize("seed", range(30))
def test_the_table_of_sizes_agrees_with_the_sheet(seed: int) -> None:
    """The row of the size at hand shows the drop and the longest run worked out above it."""
    inputs = {**random_circuit(random.Random(seed)), "temperature": 40, "stranding": "solid"}
    result = run(inputs)
    rows = next(each["rows"] for each in result["tables"] if each["title"].startswith("What each wire"))
    row = next(each for each in rows if each[0] == f"{inputs['conductor']} AWG")
    shown = {each["key"]: each["text"] for each in result["values"]}
    assert (row[3], row[4]) == (shown["drop_volts"], shown["longest_run"])


def test_a_gap_in_the_list_is_unknown_unless_it_fails_already() -> None:
    """A shared circuit with things left out cannot pass, but it can stop."""
    inputs = {"breaker": "20", "nominal_voltage": "120", "dedicated": "no", "material": "copper", "conductor": "12", "run": 10,
              "cabinet_amps": 8}  # fmt: skip
    few = run(inputs)
    assert check(few, "breaker_load")["outcome"] == "unknown"
    assert "loads_listed" in check(few, "breaker_load")["needs"]
    assert value(few, "design_amps") is None
    many = run({**inputs, "loads": [{"amps": 18}]})
    assert check(many, "breaker_load")["outcome"] == "stop"


def test_watts_without_a_power_factor_stay_unknown() -> None:
    """Amperes are not guessed from watts."""
    result = run({"breaker": "20", "nominal_voltage": "120", "dedicated": "no", "loads_listed": "yes",
                  "cabinet_amps": 8, "loads": [{"watts": 600}]})  # fmt: skip
    assert check(result, "breaker_load")["needs"] == ["loads.0.power_factor"]


def test_not_known_is_counted_as_continuous_and_said() -> None:
    """The limit takes the safe reading, and the sheet tells which things it took so."""
    result = run({"breaker": "20", "dedicated": "yes", "cabinet_amps": 8})
    assert value(result, "design_amps") == pytest.approx(10)
    note = next(step["note"] for group in result["working"] for step in group["steps"] if step["symbol"] == "I_c")
    assert "This cabinet" in note


RUN = {"breaker": "20", "nominal_voltage": "120", "dedicated": "yes", "material": "copper", "conductor": "10", "run": 10,
       "cabinet_amps": 8, "ambient": 30}  # fmt: skip


def test_aluminum_loses_more_and_names_an_electrician() -> None:
    """Its own table: 2.04 against 1.24 Ω/kft, and always the word about its joints."""
    copper, aluminum = run(RUN), run({**RUN, "material": "aluminum"})
    ratio = value(aluminum, "drop_volts") / value(copper, "drop_volts")
    assert ratio == pytest.approx(2.04 / 1.24, rel=0.01)  # the reactance is the same for both
    assert any("licensed electrician" in action for action in aluminum["actions"])


def test_aluminum_is_take_care_at_best() -> None:
    """Nobody has looked at its joints: all else passes, and the answer is no go in any set; copper asks for nothing."""
    for name, wire in (("us", {"conductor": "10", "run": "60 ft"}), ("ca", {"conductor": "10", "run": "60 ft"}), ("uk", {"conductor": "10mm2"}),
                       ("eu", {"conductor": "10mm2"}), ("au", {"conductor": "10mm2"})):  # fmt: skip
        example, units = CALCULATOR.example_in(name)
        for metal in ("copper", "aluminum"):
            result = QUICK.run({"rules": name, "units": units, "inputs": {**example, **wire, "material": metal}})
            assert (result["outcome"] == "pass") == (metal == "copper"), name
            found = [each["outcome"] for each in result["checks"] if each["key"] == "aluminum"]
            assert found == ([] if metal == "copper" else ["caution"])


@pytest.mark.parametrize("wire", [{"conductor": "14", "material": "aluminum", "breaker": "15"}, {"conductor": "2.5mm2"},
                                  {"conductor": "4mm2", "material": "aluminum"}])  # fmt: skip
def test_wire_without_a_figure_is_unknown_and_says_why(wire: dict[str, Any]) -> None:
    """No other wire's figure is taken in its place; where a better wire would do, nothing follows."""
    result = run({**RUN, **wire})
    for key in ("wire_breaker", "wire_load"):
        assert check(result, key)["outcome"] == "unknown"
        assert "no figure" in check(result, key)["note"]
        assert check(result, key)["text"].startswith("No figure")
    # Copper in mm² has a resistance, from another standard.
    assert (value(result, "drop_volts") is None) == ("material" in wire)


def test_wire_in_square_millimetres_is_warmed_from_its_own_table() -> None:
    """2.5 mm², 20 m, 16 A: 7.41 Ω/km at 20 °C, at 75 °C times 1 + 0.00393·55."""
    inputs = {**RUN, "conductor": "2.5mm2", "run": 20, "cabinet_amps": 16, "cabinet_power_factor": 1}
    assert value(run(inputs), "drop_volts") == pytest.approx(2 * 16 * 0.020 * 7.41 * (1 + 0.00393 * 55))


def test_solid_and_cool_wire_lose_less() -> None:
    """Solid below stranded where the table has both; 20 °C in the ratio of note 2."""
    drops = [value(run({**RUN, "cabinet_power_factor": 1, **more}), "drop_volts")
             for more in ({}, {"stranding": "solid"}, {"temperature": 20, "ambient": 20})]  # fmt: skip
    assert drops[1] / drops[0] == pytest.approx(1.21 / 1.24)
    assert drops[2] / drops[0] == pytest.approx(1 - 0.00323 * 55)


def test_the_cords_own_loss_is_counted() -> None:
    """A cord of 16 AWG, 9 ft: 2 · 8 A · 4.99 Ω/kft · 9 ft."""
    inputs = {**RUN, "volts_idle": 120}
    bare, corded = run(inputs), run({**inputs, "cord_gauge": "16", "cord_length": 2.7432})
    lost = value(bare, "volts_running") - value(corded, "volts_running")
    assert lost == pytest.approx(2 * 8 * 4.99 * 0.009)
    assert any("own cord" in each for each in bare["not_checked"])
    assert not any("own cord" in each for each in corded["not_checked"])


def test_an_unread_supply_decides_only_where_it_must() -> None:
    """Good at either end: pass. Good at one end: read it. Good at neither: stop."""
    outcomes = {}
    for least in (100, 115, 126):
        result = run({**RUN, "cabinet_volts_least": least, "cord_gauge": "14", "cord_length": 1, "feeder_drop": 0})
        outcomes[least] = check(result, "volts_running")["outcome"]
        if outcomes[least] == "unknown":
            assert check(result, "volts_running")["needs"] == ["volts_idle"]
    assert outcomes == {100: "pass", 115: "unknown", 126: "stop"}
    highs = {most: check(run({**RUN, "cabinet_volts_most": most}), "volts_high")["outcome"]
             for most in (127, 120, 110)}  # fmt: skip
    assert highs == {127: "pass", 120: "unknown", 110: "stop"}


@pytest.mark.parametrize(("key", "path", "low", "high"), [
    ("breaker_load", "cabinet_amps", 1, 40), ("plug_share", "cabinet_amps", 1, 40),
    ("receptacle_load", "cabinet_amps", 1, 40), ("wire_load", "cabinet_amps", 1, 40),
    ("drop", "run", 1, 200), ("volts_running", "run", 1, 300), ("volts_starting", "run", 1, 200),
    ("leakage", "cabinet_leakage", 0.1, 9), ("fixed_share", "load", 0.1, 30), ("cord", "cabinet_amps", 1, 40),
])  # fmt: skip
def test_margins_run_through_nothing_at_their_limits(key: str, path: str, low: float, high: float) -> None:
    """Where an outcome changes from pass the margin is what the measuring may hide, without a jump."""
    base = {**RUN, "conductor": "12", "dedicated": "no", "loads_listed": "yes", "outlets": 2,
            "receptacle_rating": "20", "cabinet_start_amps": high if path == "cabinet_amps" else 30, "cabinet_volts_least": 100,
            "volts_idle": 120,
            "cabinet_leakage": 1, "cord_gauge": "14", "cord_length": 1, "cabinet_continuous": "no",
            "cabinet_power_factor": 1}  # fmt: skip

    def tried(amount: float) -> dict[str, Any]:
        if path == "load":
            return check(run({**base, "loads": [{"amps": amount, "plugged": "no", "leakage": 0.1}]}), key)
        return check(run({**base, path: amount}), key)

    place, good, bad = beside(tried, low, high)
    assert good["margin"] == pytest.approx(bad["margin"], abs=1e-6)
    cord = 2 * 3.14 / 304.8  # volts lost in its meter for each ampere: no run is in it
    hidden = {"drop": 3 * 0.5 / place, "volts_running": 1 + (120 - bad["value"] - cord * 8) * 0.5 / place,
              "volts_starting": 1 + (120 - bad["value"] - cord * 30) * 0.5 / place}.get(key, 0.0) if path == "run" else 0.0  # fmt: skip
    # 1e-3: the voltage at the cabinet counts a part at right angles that the run's error does not.
    assert bad["margin"] == pytest.approx(hidden, abs=1e-3)


def test_the_same_circuit_typed_in_either_system() -> None:
    """75 ft and 22.86 m, 167 °F and 75 °C: the same voltages and outcomes to the last digit."""
    us = {**RUN, "run": "75 ft", "cord_length": "9 ft", "cord_gauge": "14", "temperature": "167 F"}
    si = {**RUN, "run": "22.86 m", "cord_length": "2.7432 m", "cord_gauge": "14", "temperature": "75 C"}
    one, other = (CALCULATOR.run({"units": units, "inputs": inputs}) for units, inputs in (("us", us), ("si", si)))
    for a, b in zip(one["values"], other["values"], strict=True):
        assert (a["inner"] is None) == (b["inner"] is None)
        assert a["inner"] is None or a["inner"] == pytest.approx(b["inner"], rel=1e-12)
    assert [each["outcome"] for each in one["checks"]] == [each["outcome"] for each in other["checks"]]


def test_the_protection_of_a_wet_place_is_listed() -> None:
    """Seven things outdoors, three in a dry room, each with the clause; every place where it is not known."""
    def table(location: str | None) -> dict[str, Any]:
        tables = run({**RUN, "location": location})["tables"]
        return next(each for each in tables if each["title"].startswith("Protection"))

    assert len(table("dry")["rows"]) == 3
    rows = table("outdoors")["rows"]
    assert len(rows) == 7
    for clause in ("422.5(A)(5)", "422.5(B)", "210.8(B)", "406.9(B)(1)", "400.4", "400.12"):
        assert any(clause in row[1] for row in rows)
    assert len(table(None)["rows"]) == 3 + 6 + 7 + 7


WIRING = {"breaker", "conductor", "receptacle_rating", "protection", "cover", "cord_gauge"}


def test_work_on_wiring_is_always_a_licensed_electricians() -> None:
    """No mend that changes wire, breaker, receptacle or cover leaves out who does it."""
    seen = 0
    for seed in range(150):
        rng = random.Random(seed)
        inputs = {**random_circuit(rng), "cabinet_volts_least": 110, "protection": False, "extension": True,
                  "location": "wet", "cover": "none", "outlets": 3, "receptacle_rating": rng.choice(OUTLETS),
                  "breaker": rng.choice(BREAKERS), "cabinet_start_amps": 50, "cabinet_leakage": 3}  # fmt: skip
        for each in run(inputs)["checks"]:
            if each["mend"] and WIRING & set(each["mend"]["changes"]):
                assert "licensed electrician" in each["mend"]["text"]
                seen += 1
    assert seen > 100
