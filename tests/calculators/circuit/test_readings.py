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


def test_a_voltage_that_is_too_low_in_every_supply_is_too_low() -> None:
    """Which of them it is need not be told, nor the cord that would lower it further."""
    high = {"conductor": "2.5mm2", "run": 30.0, "cabinet_amps": 12.0, "cabinet_power_factor": 1.0, "cabinet_volts_least": 394.6,
            "feeder_drop": 10.0}  # fmt: skip
    assert outcome(high, "volts_running", rules="uk") == "stop"
    assert {outcome({**high, "nominal_voltage": volts}, "volts_running", rules="uk") for volts in ("230", "400")} == {"stop"}
    assert outcome({**high, "cabinet_volts_least": 207.0}, "volts_running", rules="uk") == "unknown"
