"""Half of a pair of readings, and a voltage that is not told: neither hides a stop, nor keeps one open."""

from __future__ import annotations

from typing import Any

import calculators
from tests.support import pairs

RUN = pairs.runner(calculators.get("circuit"), bounds=True)
# Nothing but the drop toward the panel is left to care for.
SOUND = {"breaker": "20", "nominal_voltage": "120", "dedicated": True, "conductor": "12", "run": 22.86, "cabinet_amps": 9.5,
         "cabinet_power_factor": 0.85, "cabinet_continuous": False, "cabinet_start_amps": 274.6, "cabinet_leakage": 1.8,
         "cabinet_volts_least": 104.0, "cabinet_volts_most": 127.0, "cabinet_frequency": "60", "loads": [], "receptacle_rating": "20",
         "location": "dry", "protection": True, "protection_reach": True, "extension": False, "cord_length": 2.74, "cord_gauge": "14",
         "raceway": "steel", "ambient": 30.0, "volts_idle": 122.5, "loads_listed": True, "outlets": 1, "feeder_drop": 1.0}  # fmt: skip


def run(inputs: dict[str, Any], rules: str = "us") -> dict[str, Any]:
    result = RUN(inputs, rules)
    assert result is not None
    return result


def outcome(inputs: dict[str, Any], key: str, at: str = "", rules: str = "us") -> str | None:
    return next((check["outcome"] for check in run(inputs, rules)["checks"] if (check["key"], check["at"]) == (key, at)), None)


def test_a_reading_that_lacks_its_other_half_hides_no_stop() -> None:
    """The start alone is take care; a voltage that breaks down under the test load would be a stop."""
    assert run(SOUND)["outcome"] == "caution"
    assert run({**SOUND, "test_amps": 12.0, "volts_loaded": 119.0})["outcome"] == "caution"
    assert run({**SOUND, "test_amps": 12.0, "volts_loaded": 50.0})["outcome"] == "stop"
    half = run({**SOUND, "test_amps": 12.0})
    assert (half["outcome"], outcome({**SOUND, "test_amps": 12.0}, "reading")) == ("unknown", "unknown")
    assert "volts_loaded" in {path for check in half["checks"] for path in check["needs"]}
    assert outcome({**SOUND, "test_amps": 12.0, "volts_loaded": 122.0}, "reading") == "caution", "so small a fall tells nothing"
    assert run({**SOUND, "test_amps": 12.0, "volts_loaded": 122.0})["outcome"] == "caution"


def test_a_voltage_that_breaks_down_under_a_load_not_told_keeps_the_voltage_open() -> None:
    """Under a small load it would be a stop; where wire, cord and supply are told they alone let nothing go."""
    read = {**SOUND, "cabinet_start_amps": 38.0, "volts_loaded": 119.0}
    assert outcome(read, "volts_running") == outcome(read, "volts_starting") == "unknown"
    assert "test_amps" in next(check["needs"] for check in run(read)["checks"] if check["key"] == "volts_running")
    assert outcome({**read, "test_amps": 0.5}, "volts_running") == "stop"
    assert outcome({**read, "test_amps": 12.0}, "volts_running") == "pass"
    # A stop needs no second half.
    assert outcome({**read, "cabinet_volts_least": 123.0}, "volts_running") == "stop"
    # Readings that were not begun are not asked for.
    assert outcome({**read, "volts_loaded": None}, "volts_running") == "pass"


def test_a_fall_that_is_too_much_for_any_test_load_is_one() -> None:
    """Half of the voltage lost by 50 A or less is more than 5 % lost by a cabinet of 5 A."""
    fallen = {"nominal_voltage": "230", "cabinet_amps": 5.0, "volts_idle": 232.0, "volts_loaded": 116.4}
    place = "By the two readings"
    assert run(fallen, "au")["outcome"] == "stop"
    assert {run({**fallen, "test_amps": amps}, "au")["outcome"] for amps in (0.5, 5.0, 20.0, 50.0)} == {"stop"}
    assert outcome({**fallen, "volts_loaded": 229.0}, "drop_total", place, "au") == "unknown"
    assert outcome({**fallen, "volts_loaded": None, "volts_idle": None}, "drop_total", place, "au") is None


def test_a_smaller_test_load_that_pulls_as_much_is_worse() -> None:
    """The same fall for fewer amperes is a weaker supply."""
    assert calculators.get("circuit").inputs.field("test_amps").worse == "less"
    ranked = ["stop", "unknown", "caution", "pass"]
    for loaded in (121.0, 118.0, 110.0, 100.0):
        sheets = [run({**SOUND, "volts_loaded": loaded, "test_amps": amps}) for amps in (0.5, 3.0, 8.0, 12.0, 30.0, 50.0)]
        for key in ("volts_running", "volts_starting", "drop_total", "reading"):
            found = [[ranked.index(check["outcome"]) for check in sheet["checks"] if check["key"] == key] for sheet in sheets]
            assert found == sorted(found), (loaded, key)


def starting(*starts: float) -> float:
    """The voltage left while what else is on it starts: one at the cabinet's own outlet, one just behind the panel."""
    loads = [{"amps": 3.0, "start_amps": starts[0], "power_factor": 0.8, "leakage": 0.1},
             {"amps": 3.0, "start_amps": starts[1], "power_factor": 0.8, "leakage": 0.1, "distance": 2.0}]  # fmt: skip
    result = run({**SOUND, "dedicated": False, "run": 40.0, "loads": loads})
    return float(next(check["value"] for check in result["checks"] if check["at"] == "What else is on it starts"))


def test_of_all_that_starts_the_one_that_leaves_least_is_told() -> None:
    """A smaller start at the far end pulls harder than a large one beside the panel."""
    far, near = starting(60.0, 3.0), starting(3.0, 90.0)
    assert far < near
    assert starting(60.0, 90.0) == far
    assert starting(60.0, 140.0) == far
    assert starting(3.0, 3.0) > near


def test_all_that_start_at_once_are_told_of_before_the_wire_is() -> None:
    """A check that a blank drops would hide what it finds."""
    at = "All at once, as after a power cut"
    many = {**SOUND, "cabinet_count": 2, "dedicated": False, "outlets": 2, "cabinet_start_amps": 15.0, "breaker": "30"}
    assert outcome(many, "volts_starting", at) == "pass"
    assert outcome({key: value for key, value in many.items() if key != "run"}, "volts_starting", at) == "unknown"
    assert outcome({**many, "cabinet_count": 1}, "volts_starting", at) is None


def test_a_list_that_may_lack_something_is_no_better_than_a_whole_one() -> None:
    """Where the highest supply leaves just what the meter's error hides, and the lowest too little, it is a stop either way."""
    low = {"nominal_voltage": "230", "conductor": "4mm2", "run": 14.492431870033036, "cabinet_amps": 25.243740118450823,
           "cabinet_volts_least": 111.45239594528508, "cabinet_count": 12, "cord_gauge": "2.5mm2", "cord_length": 2.0625598653658304,
           "feeder_drop": 1.7338505892688216, "loads": [
               {"amps": 3.81131218937253, "count": 16}, {"amps": 57.227588647253974, "power_factor": 0.9782082353606106},
               {"amps": 58.69764959202035, "power_factor": 0.7091316288633109, "count": 17, "distance": 8.691765731715492}]}  # fmt: skip
    assert [outcome({**low, "loads_listed": listed}, "volts_running", rules="au") for listed in (True, False)] == ["stop", "stop"]
    better = {**low, "cabinet_volts_least": 104.0}
    assert [outcome({**better, "loads_listed": listed}, "volts_running", rules="au") for listed in (True, False)] == ["unknown", "unknown"]


def test_a_voltage_that_is_too_low_in_every_supply_is_too_low() -> None:
    """Which of them it is need not be told, nor the cord that would lower it further."""
    high = {"conductor": "2.5mm2", "run": 30.0, "cabinet_amps": 12.0, "cabinet_power_factor": 1.0, "cabinet_volts_least": 394.6,
            "feeder_drop": 10.0}  # fmt: skip
    assert outcome(high, "volts_running", rules="uk") == "stop"
    assert {outcome({**high, "nominal_voltage": volts}, "volts_running", rules="uk") for volts in ("230", "400")} == {"stop"}
    assert outcome({**high, "cabinet_volts_least": 207.0}, "volts_running", rules="uk") == "unknown"
