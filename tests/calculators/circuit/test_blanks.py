"""What a blank may hide, and inputs that cannot all be true: against a scan of every filling."""

from __future__ import annotations

import dataclasses
import math
import random
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from calculators.circuit import CALCULATOR, blanks
from calculators.circuit.blanks import LEAST, MOST
from calculators.core import InputErrors, rules
from tests.support.sheet import check, value
from tools.book.data import load

QUICK = dataclasses.replace(CALCULATOR, probe=False)
RANK = ("stop", "unknown", "caution", "pass")
US: dict[str, Any] = {
    "breaker": "15", "nominal_voltage": "120", "dedicated": "no", "loads_listed": "yes", "material": "copper", "conductor": "14", "run": 10,
    "cabinet_amps": 9.5, "cabinet_power_factor": 0.85, "cabinet_continuous": "no", "outlets": 2,
    "receptacle_rating": "15", "ambient": 30, "cabinet_start_amps": 20, "cabinet_volts_least": 104, "volts_idle": 120,
    "cord_gauge": "14", "cord_length": 2, "feeder_drop": 0,
}  # fmt: skip


def run(inputs: dict[str, Any], name: str = "us") -> dict[str, Any]:
    return QUICK.run({"rules": name, "typed": "si", "units": "si", "inputs": inputs})


# -- the power factor ---------------------------------------------------------------------


@pytest.mark.parametrize(("watts", "breaker", "outcome"), [
    (1500, "15", "stop"),  # 9.5 A and at least 12.5 A
    (500, "20", "unknown"),  # 4.2 A at a power factor of 1, 20.8 A at 0.2
    (200, "20", "pass"),  # 8.3 A at most
])  # fmt: skip
def test_an_overload_that_is_certain_stops_whatever_the_power_factor(watts: float, breaker: str, outcome: str) -> None:
    """A kettle beside the cabinet; only where it may go either way the power factor is asked for."""
    kettle = {"watts": watts, "continuous": "no", "plugged": "yes", "leakage": 0.1}
    found = check(run({**US, "breaker": breaker, "conductor": "12", "loads": [kettle]}), "breaker_load")
    assert found["outcome"] == outcome
    assert found["needs"] == (["loads.0.power_factor"] if outcome == "unknown" else [])
    assert ("at best" in found["text"]) == (outcome == "stop")
    assert ("at worst" in found["text"]) == (outcome == "pass")


def scan(inputs: dict[str, Any], paths: list[str], key: str, name: str) -> list[str]:
    """The outcomes of a check over forty power factors, the same in every blank, and crosswise at the ends."""
    found = []
    factors = [0.2 + 0.02 * step for step in range(41)]
    for first, second in [*zip(factors, factors, strict=True), (0.2, 1.0), (1.0, 0.2)]:
        filled = {**inputs, "loads": [dict(load) for load in inputs["loads"]]}
        for path, factor in zip(paths, (first, second), strict=False):
            if path == "cabinet":
                filled["cabinet_power_factor"] = factor
            else:
                filled["loads"][0]["power_factor"] = factor
        found.append(check(run(filled, name), key)["outcome"])
    return found


@pytest.mark.parametrize("key", ["breaker_load", "wire_load", "drop", "drop_total", "volts_running"])
@pytest.mark.parametrize("seed", range(14))
def test_a_blank_power_factor_is_decided_as_a_scan_decides(seed: int, key: str) -> None:
    """Alike for all: that is told, though the drop turns back in between; else unknown, and it is asked for."""
    rng = random.Random(f"{key} {seed}")
    name = rng.choice(["us", "ca", "uk"])
    thin = rng.random() < 0.5
    size, nominal = (("14" if thin else "6", "120") if name != "uk" else ("1.5mm2" if thin else "10mm2", "230"))
    load = {"plugged": "yes", "continuous": "no", "leakage": 0.1, "start_amps": 70,
            **({"watts": rng.uniform(50, 1500)} if rng.random() < 0.5 else {"amps": rng.uniform(0.5, 8)})}  # fmt: skip
    inputs = {**US, "conductor": size, "nominal_voltage": nominal, "run": rng.uniform(5, 60), "loads": [load],
              "breaker": "20", "cabinet_amps": rng.uniform(2, 10), "cabinet_volts_least": float(nominal) * rng.uniform(0.9, 0.98),
              "volts_idle": float(nominal), "cord_gauge": "14" if name != "uk" else "1.5mm2"}  # fmt: skip
    paths = ["cabinet", "load"] if rng.random() < 0.7 else ["load"]
    if "cabinet" in paths:
        del inputs["cabinet_power_factor"]
    told = check(run(inputs, name), key)
    outcomes = set(scan(inputs, paths, key, name))
    if len(outcomes) == 1:
        assert told["outcome"] in outcomes
    elif told["outcome"] != "unknown":
        # Take care stands between go and stop: the two ends may be alike and not what lies in between.
        assert told["outcome"] == "caution"
        assert outcomes <= {"caution", "pass"} or outcomes <= {"caution", "stop"}
    else:
        assert any(path.endswith("power_factor") for path in told["needs"])


def test_a_drop_that_is_worst_in_between_is_not_told_by_its_ends() -> None:
    """10 AWG has R = X·20, 6 AWG R = X·7.7: at cos φ = 0.99 it loses more than at 1 and at 0.2."""
    inputs = {**US, "breaker": "20", "conductor": "6", "cabinet_amps": 9, "dedicated": "yes", "outlets": 1,
              "receptacle_rating": "20", "feeder_drop": 0, "loads_listed": ""}  # fmt: skip
    del inputs["cabinet_power_factor"]
    drops = {factor: value(run({**inputs, "run": 100, "cabinet_power_factor": factor}), "drop_share") for factor in (0.2, 0.99, 1)}
    assert drops[0.99] > drops[1] > drops[0.2]
    # A run at which both ends keep to 3 % and the worst does not.
    run_ = 100 * 3 / (drops[1] * (1 + (drops[0.99] / drops[1] - 1) / 2)) - 0.5
    found = check(run({**inputs, "run": run_ + 0.5}), "drop")
    assert (found["outcome"], found["needs"]) in (("unknown", ["cabinet_power_factor"]), ("caution", []))
    assert check(run({**inputs, "run": 100 * 3 / drops[0.99] * 0.9}), "drop")["outcome"] == "pass"


# -- lists that are not whole ----------------------------------------------------------------


@pytest.mark.parametrize("key", ["volts_running", "volts_starting", "drop_total"])
def test_what_is_not_listed_only_adds_to_what_is_lost(key: str) -> None:
    """Too much with what is known already: a stop or a caution; else it stays open."""
    base = {**US, "loads_listed": "", "loads": [{"amps": 4, "power_factor": 0.9, "start_amps": 4, "leakage": 0.1}]}
    far, near = (check(run({**base, "run": length}), key) for length in (120, 5))
    assert far["outcome"] == ("stop" if key == "volts_running" else "caution")
    assert (near["outcome"], "loads_listed" in near["needs"]) == ("unknown", True)


@pytest.mark.parametrize(("name", "sound"), [
    ("us", {"conductor": "12", "breaker": "20"}), ("ca", {"conductor": "12", "breaker": "20"}),
    ("uk", {"conductor": "4mm2", "breaker": "16"}), ("eu", {"conductor": "4mm2", "breaker": "16"}), ("au", {"conductor": "4mm2", "breaker": "16"}),
])  # fmt: skip
def test_a_wire_whose_metal_is_not_told_is_no_copper(name: str, sound: dict[str, Any]) -> None:
    """What copper passes stays open, and the metal is asked for; what copper fails, aluminum fails too."""
    volts = {} if name in ("us", "ca") else {"nominal_voltage": "230", "volts_idle": 230, "cabinet_volts_least": 207}
    base = {**US, **volts, **sound, "dedicated": "yes", "outlets": 1, "loads_listed": ""}
    copper, blank = run(base, name), run({**base, "material": ""}, name)
    for key in ("wire_breaker", "wire_load", "drop"):
        assert check(copper, key)["outcome"] == "pass", key
        assert (check(blank, key)["outcome"], "material" in check(blank, key)["needs"]) == ("unknown", True), key
    assert (check(blank, "aluminum")["outcome"], check(blank, "aluminum")["needs"]) == ("unknown", ["material"])
    assert "aluminum" not in {each["key"] for each in copper["checks"]}
    thin = run({**base, "material": "", "breaker": "50", "run": 300}, name)
    assert [check(thin, key)["outcome"] for key in ("wire_breaker", "volts_running")] == ["stop", "stop"]
    assert "not told" in check(thin, "wire_breaker")["note"]


def test_readings_alone_may_stop_and_never_pass() -> None:
    """Two readings tell the impedance; without the wire's run the drop worked out is not there to compare."""
    readings = {**US, "dedicated": "yes", "outlets": 1, "loads_listed": "", "volts_idle": 120, "volts_loaded": 117, "test_amps": 12}
    weak = {**readings, "volts_loaded": 100}
    for blank in ("run", "conductor"):
        good, bad = (check(run({**each, blank: ""}), "volts_running") for each in (readings, weak))
        assert (good["outcome"], blank in good["needs"]) == ("unknown", True)
        assert bad["outcome"] == "stop"
    assert check(run(readings), "volts_running")["outcome"] == "pass"


@pytest.mark.parametrize(("given", "outcome"), [
    ({}, "unknown"), ({"feeder_drop": 1}, "pass"), ({"volts_loaded": 117, "test_amps": 12}, "pass"),
    ({"volts_loaded": 119, "test_amps": 12}, "unknown"),  # a fall of 1 V tells nothing
    ({"volts_loaded": 118, "test_amps": 12}, "unknown"),  # nor does one of just the meter's error
    ({"volts_loaded": 117}, "unknown"), ({"volts_loaded": 108, "test_amps": 9.5}, "caution"),
])  # fmt: skip
def test_the_whole_way_is_told_by_the_feeder_or_by_two_readings(given: dict[str, Any], outcome: str) -> None:
    """Neither known: it stays open, and the note names the other way to know it."""
    base = {**US, "dedicated": "yes", "outlets": 1, "loads_listed": "", "breaker": "20", "conductor": "12", "feeder_drop": ""}
    found = [each for each in run({**base, **given})["checks"]
             if each["key"] == "drop_total" and each["at"] != "At the outlet's full current"]  # fmt: skip
    half = "volts_loaded" in given and "test_amps" not in given  # then what the readings would tell is asked for too
    assert [each["outcome"] for each in found] == [outcome] * (2 if half else 1)
    assert ("test load" in found[0]["note"]) == (outcome == "unknown")


# -- cord and feeder in the voltage at the cabinet ----------------------------------------------


@pytest.mark.parametrize("path", ["cord_gauge", "cord_length", "feeder_drop"])
def test_a_voltage_rests_on_the_cord_and_the_feeder(path: str) -> None:
    """Each left blank: open, unless it is too low without them; the feeder only where nobody read the volts."""
    base = {**US, "dedicated": "yes", "outlets": 1, "loads_listed": "", "volts_idle": "", "feeder_drop": 1}
    found = check(run({**base, path: ""}), "volts_running")
    assert (found["outcome"], found["needs"]) == ("unknown", [path])
    assert check(run(base), "volts_running")["outcome"] == "pass"
    assert check(run({**base, path: "", "cabinet_volts_least": 126.5, "cabinet_volts_most": 130}), "volts_running")["outcome"] == "stop"
    read = check(run({**base, path: "", "volts_idle": 120}), "volts_running")
    assert (read["outcome"] == "pass") == (path == "feeder_drop")


@pytest.mark.parametrize(("name", "thinnest"), [("us", "18"), ("ca", "18"), ("uk", "0.75mm2"), ("eu", "0.75mm2"), ("au", "0.75mm2")])
def test_a_cord_as_it_came_is_counted_as_the_thinnest(name: str, thinnest: str) -> None:
    """It suits the cabinet by its maker's choice, and loses what the thinnest of the rule set would."""
    base = {**US, "conductor": "12" if name in ("us", "ca") else "2.5mm2", "nominal_voltage": "120" if name in ("us", "ca") else "230"}
    came, thin = (run({**base, "cord_gauge": size, "cord_length": 3}, name) for size in ("delivered", thinnest))
    assert value(came, "volts_running") == value(thin, "volts_running")
    assert check(came, "cord")["outcome"] == "pass"
    assert "delivered" in CALCULATOR.inputs.field("cord_gauge").words(rules.load(name))


# -- things that start -----------------------------------------------------------------------


def starts(inputs: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {each["at"]: each for each in run(inputs)["checks"] if each["key"] == "volts_starting"}


ELSE = "What else is on it starts"


def test_each_start_is_held_by_itself() -> None:
    """The cabinet's and that of the fridge beside it: V − 2·L·(R·I…) by hand at power factor 1 of a wire without X."""
    wire = math.hypot(max(3.14, 3.1), 0.073) / 304.8
    load = {"amps": 2, "power_factor": 1.0, "start_amps": 30, "leakage": 0.1}
    inputs = {**US, "cabinet_amps": 5, "cabinet_power_factor": 1, "cabinet_start_amps": 20, "loads": [load], "run": 12}
    drop = 2 * 12 * 3.14 / 304.8  # volts for each ampere that runs
    turned = 2 * 12 * 0.073 / 304.8 * 7
    cord = 2 * 2 * 3.14 / 304.8
    head = math.sqrt(120**2 - turned**2)
    found = starts(inputs)
    own = head - (7 * drop + 2 * 12 * (20 * wire) - 5 * drop) - cord * 20
    other = head - (7 * drop + 2 * 12 * (30 * wire) - 2 * drop) - cord * 5
    assert found[""]["value"] == pytest.approx(own, abs=1e-6)
    assert found[ELSE]["value"] == pytest.approx(other, abs=1e-6)
    assert value(run(inputs), "volts_starting") == pytest.approx(min(own, other), abs=1e-6)
    assert value(run(inputs), "start_dip") == pytest.approx(120 - min(own, other), abs=1e-6)


def test_the_hardest_of_the_others_is_taken() -> None:
    """Two beside it: the one that draws most above what it runs at."""
    small, large = {"amps": 6, "power_factor": 0.9, "start_amps": 20}, {"amps": 2, "power_factor": 0.9, "start_amps": 19}
    both = starts({**US, "loads": [small, large]})[ELSE]["value"]
    alone = [starts({**US, "loads": [{**small, "start_amps": 6}, large]})[ELSE]["value"],
             starts({**US, "loads": [small, {**large, "start_amps": 2}]})[ELSE]["value"]]  # fmt: skip
    assert both == pytest.approx(min(alone), abs=1e-9)
    assert alone[0] < alone[1]


@pytest.mark.parametrize(("load", "outcome"), [
    ({"amps": 3, "power_factor": 0.8}, "unknown"),  # a motor that may start as hard as it likes
    ({"amps": 3, "power_factor": 1}, None),  # a heater has no start
    ({"amps": 3, "power_factor": 0.8, "start_amps": 3}, "pass"),
    ({"amps": 3, "power_factor": 0.8, "start_amps": 290}, "caution"),
])  # fmt: skip
def test_a_start_that_nobody_told_stays_open(load: dict[str, Any], outcome: str | None) -> None:
    """Of a thing beside the cabinet, unless it is a heater."""
    found = starts({**US, "run": 5, "cabinet_amps": 5, "loads": [load]})
    assert (found[ELSE]["outcome"] if ELSE in found else None) == outcome
    if outcome == "unknown":
        assert found[ELSE]["needs"] == ["loads.0.start_amps"]


def test_one_hard_start_decides_though_another_is_not_known() -> None:
    """A caution by what is known stays one."""
    loads = [{"amps": 3, "power_factor": 0.8}, {"amps": 3, "power_factor": 0.8, "start_amps": 200}]
    assert starts({**US, "run": 30, "loads": loads})[ELSE]["outcome"] == "caution"


def test_a_list_that_is_not_whole_asks_for_the_rest() -> None:
    """Said to be incomplete: nothing more is to be measured, so the sheet says what to do."""
    assert any(line.startswith("List all else") for line in run({**US, "loads_listed": "no"})["actions"])
    assert not any(line.startswith("List all else") for line in run(US)["actions"])


# -- a share where nobody knows whether the circuit is shared --------------------------------------


@pytest.mark.parametrize(("amps", "outcome"), [(12, "pass"), (12.1, "unknown")])
def test_a_share_is_held_even_where_it_may_not_count(amps: float, outcome: str) -> None:
    """80 % of 15 A: below it there is nothing to know; above it whether the circuit is its own decides."""
    result = run({**US, "dedicated": "", "cabinet_amps": amps})
    found = check(result, "plug_share")
    assert (found["outcome"], "dedicated" in found["needs"]) == (outcome, outcome == "unknown" or "dedicated" in found["needs"])
    assert check(result, "shared_size")["outcome"] == "pass"
    assert check(run({**US, "dedicated": "", "breaker": "40"}), "shared_size")["outcome"] == "unknown"


# -- contradictions ----------------------------------------------------------------------------


def refused(inputs: dict[str, Any], name: str = "us") -> list[str]:
    """The fields that a request is refused at, none where it is worked out."""
    try:
        run(inputs, name)
    except InputErrors as errors:
        return [error.field for error in errors.errors]
    return []


POWER = ["cabinet_amps", "cabinet_watts", "nominal_voltage"]
READING = ["nominal_voltage", "volts_idle"]


@pytest.mark.parametrize(("more", "fields"), [
    ({"cabinet_amps": 8, "cabinet_watts": 5000}, POWER),
    # 120 V · 10 A = 1,200 VA; a tenth of it for the plate's rounding, the least power factor 0.2.
    ({"cabinet_amps": 10, "cabinet_watts": 1319}, []), ({"cabinet_amps": 10, "cabinet_watts": 1321}, POWER),
    ({"cabinet_amps": 10, "cabinet_watts": 121}, []), ({"cabinet_amps": 10, "cabinet_watts": 119}, POWER),
    ({"cabinet_amps": 10, "cabinet_watts": 839, "cabinet_power_factor": 0.8}, [*POWER, "cabinet_power_factor"]),
    ({"cabinet_amps": 10, "cabinet_watts": 841, "cabinet_power_factor": 0.8}, []),
    ({"cabinet_amps": 10, "cabinet_watts": 1079, "cabinet_power_factor": 0.8}, []),
    ({"cabinet_amps": 10, "cabinet_watts": 1081, "cabinet_power_factor": 0.8}, [*POWER, "cabinet_power_factor"]),
    ({"cabinet_amps": 10, "cabinet_watts": 5000, "nominal_voltage": ""}, []),
    # Three phases of 208 V: 3,603 VA at 10 A.
    ({"cabinet_amps": 10, "cabinet_watts": 3900, "nominal_voltage": "208", "phases": "three"}, []),
    ({"cabinet_amps": 10, "cabinet_watts": 3900, "nominal_voltage": "208", "volts_idle": ""}, POWER),
    ({"loads": [{"amps": 3}, {"amps": 2, "watts": 900}]}, ["loads.1.amps", "loads.1.watts", "nominal_voltage"]),
    ({"cabinet_volts_least": 127, "cabinet_volts_most": 104}, ["cabinet_volts_least", "cabinet_volts_most"]),
    ({"cabinet_volts_least": 115, "cabinet_volts_most": 115}, []),
    # A supply of 208 V reads 197 to 218 V, one of 240 V 228 to 252 V, and the meter is good for 1 V.
    *[({"nominal_voltage": "240", "volts_idle": volts}, fields) for volts, fields in (
        (195.5, []), (196.5, READING), (218.5, READING), (219.5, []), (122.5, READING), (230, []), (260, []))],
    ({"nominal_voltage": "208", "volts_idle": 240}, READING), ({"nominal_voltage": "208", "volts_idle": 240, "phases": "three"}, []),
    ({"nominal_voltage": "230", "volts_idle": 121}, []), ({"nominal_voltage": "", "volts_idle": 240}, []), ({"nominal_voltage": "120", "volts_idle": ""}, []),
    ({"dedicated": "yes", "loads": [{"amps": 1}]}, ["dedicated", "loads"]),
    ({"dedicated": "yes", "cabinet_count": 2}, ["dedicated", "cabinet_count"]),
    ({"dedicated": "yes", "cabinet_count": 1, "loads": []}, []),
    ({"dedicated": "no", "cabinet_count": 2, "loads": [{"amps": 1}]}, []),
    # The metal is no colder than the air around it.
    ({"temperature": 0, "ambient": 49}, ["ambient", "temperature"]), ({"temperature": 29.9, "ambient": 30}, ["ambient", "temperature"]),
    ({"temperature": 30, "ambient": 30}, []), ({"temperature": 0, "ambient": ""}, []), ({"ambient": 80}, []),
    # Nothing starts with fewer amperes than it runs on; watts, where no amperes stand, make 7.5 A and more of 900 W, a tenth for the plate.
    ({"cabinet_start_amps": 1}, ["cabinet_amps", "cabinet_start_amps"]), ({"cabinet_start_amps": 9.4}, ["cabinet_amps", "cabinet_start_amps"]),
    ({"cabinet_start_amps": 9.5}, []), ({"cabinet_start_amps": 1, "cabinet_amps": ""}, []),
    ({"cabinet_amps": "", "cabinet_watts": 900, "cabinet_start_amps": 6.7}, ["cabinet_watts", "cabinet_start_amps", "nominal_voltage"]),
    ({"cabinet_amps": "", "cabinet_watts": 900, "cabinet_start_amps": 6.8}, []),
    ({"cabinet_amps": "", "cabinet_watts": 900, "cabinet_power_factor": 0.5, "cabinet_start_amps": 13.4},
     ["cabinet_watts", "cabinet_start_amps", "nominal_voltage"]),
    ({"cabinet_amps": "", "cabinet_watts": 900, "cabinet_start_amps": 1, "nominal_voltage": ""}, []),
    ({"loads": [{"amps": 3, "start_amps": 3}, {"amps": 3, "start_amps": 2.9}]}, ["loads.1.amps", "loads.1.start_amps"]),
    # Volts fall under a load; two readings may differ by the meter's error in each.
    ({"volts_idle": 120, "volts_loaded": 135, "test_amps": 12}, ["volts_idle", "volts_loaded"]),
    ({"volts_idle": 120, "volts_loaded": 122.1}, ["volts_idle", "volts_loaded"]), ({"volts_idle": 120, "volts_loaded": 122, "test_amps": 12}, []),
    # A test load that the breaker would cut off is none.
    ({"volts_loaded": 117, "test_amps": 45}, ["breaker", "test_amps"]), ({"volts_loaded": 117, "test_amps": 15.1}, ["breaker", "test_amps"]),
    ({"volts_loaded": 117, "test_amps": 15}, []), ({"volts_loaded": 117, "test_amps": 45, "breaker": ""}, []),
])  # fmt: skip
def test_what_cannot_all_be_true_is_refused_at_every_field(more: dict[str, Any], fields: list[str]) -> None:
    """The fields are named, all of them; what the plate's rounding explains is let be."""
    plain = {key: value_ for key, value_ in US.items() if key != "cabinet_power_factor"}
    assert refused({**plain, **more}) == fields


def test_a_contradiction_says_what_is_wrong_in_numbers() -> None:
    """8 A at 120 V make 960 W, not 5,000 W."""
    with pytest.raises(InputErrors) as caught:
        run({"cabinet_amps": 8, "cabinet_watts": 5000, "nominal_voltage": "120"})
    assert all("960 W" in error.message and "5000 W" in error.message for error in caught.value.errors)


def test_what_we_ship_contradicts_nothing() -> None:
    """The examples of every rule set, the further ones, and every site of the demonstration."""
    for name in rules.RULE_SETS:
        example, units = CALCULATOR.example_in(name)
        assert QUICK.run({"rules": name, "units": units, "inputs": dict(example)})["outcome"] == "pass"
    for inputs in CALCULATOR.examples.values():
        assert QUICK.run({"inputs": dict(inputs)})["checks"]
    data = load(Path(__file__).parents[3] / "docs" / "data")
    outcomes = [QUICK.run({"inputs": data.prefill("circuit", {"site": row.typed["key"]})})["outcome"]
                for row in data.tables["sites"]]  # fmt: skip
    # A working business: most go, two or three honest failures.
    assert outcomes.count("pass") >= 2 * len(outcomes) / 3
    assert 2 <= outcomes.count("stop") + outcomes.count("caution") <= 3


def test_three_phases_that_somebody_said_stay_where_nobody_read_the_voltage() -> None:
    """No wire figure of the set is for three phases: nothing says go until it is known to be one. 232 V are no 400 V."""
    inputs = {
        "breaker": "20", "dedicated": "yes", "material": "copper", "conductor": "2.5mm2", "run": 25, "cabinet_amps": 12.76,
        "cabinet_power_factor": 0.85, "cabinet_continuous": "no", "cabinet_start_amps": 20, "cabinet_leakage": 2.2,
        "cabinet_volts_least": 207, "cabinet_volts_most": 253, "cabinet_frequency": "50", "outlets": 1,
        "receptacle_rating": "13", "location": "dry", "protection": "yes", "protection_reach": "yes", "extension": "no",
        "cord_gauge": "1.5mm2", "cord_length": 2.5, "ambient": 30, "volts_idle": 232, "volts_loaded": 229.5,
        "test_amps": 9, "phases": "three",
    }  # fmt: skip
    outcomes = [CALCULATOR.run({"rules": "uk", "typed": "si", "units": "si", "inputs": {**inputs, **volts}})["outcome"]
                for volts in ({}, {"nominal_voltage": "400"}, {"nominal_voltage": "230"})]  # fmt: skip
    assert outcomes == ["unknown", "stop", "pass"]


@pytest.mark.parametrize(("wire", "best"), [((1.0, 0.1), LEAST), ((0.1, 1.0), MOST)])
def test_the_best_power_factor_is_that_of_the_least_drop(wire: tuple[float, float], best: float) -> None:
    """Resistance alone drops least at a low one, reactance alone at 1: R·cos φ + X·sin φ."""
    work = SimpleNamespace(find=lambda path: (None, 10.0))
    assert blanks._factor(work, "cabinet_power_factor", wire, True) == best  # type: ignore[arg-type]


@pytest.mark.parametrize("sharing", [{"loads": [{"name": "Kettle", "amps": 3, "continuous": "no"}]}, {"cabinet_count": 2}])
def test_what_else_is_on_a_circuit_says_that_it_is_shared(sharing: dict[str, Any]) -> None:
    """One other load or one more cabinet is enough, whatever is told of the other; alone it may be either."""
    asked = {key: each for key, each in US.items() if key != "dedicated"}
    told = {way: check(run({**asked, **more}), "own_circuit")["outcome"] for way, more in
            {"said": {"dedicated": "no"}, "seen": sharing, "blank": {}}.items()}  # fmt: skip
    assert told["seen"] == told["said"]
    assert told["blank"] == "unknown"
