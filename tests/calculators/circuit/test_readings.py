"""Half of a pair of readings, and a voltage that is not told: neither hides a stop, nor keeps one open."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from calculators.circuit import CALCULATOR
from calculators.core.reading import read_record
from tests.support import pairs

RUN = pairs.runner(calculators.get("circuit"), bounds=True)
PLAIN = pairs.runner(calculators.get("circuit"), bounds=False)  # where no blank decides
# Nothing but the drop toward the panel is left to care for.
SOUND = {"breaker": "20", "nominal_voltage": "120", "dedicated": True, "material": "copper", "conductor": "12", "run": 22.86, "cabinet_amps": 9.5,
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
        sheets = [run({**SOUND, "volts_loaded": loaded, "test_amps": amps}) for amps in (0.5, 3.0, 8.0, 12.0, 16.0, 20.0)]
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
    low = {"nominal_voltage": "230", "material": "copper", "conductor": "4mm2", "run": 14.492431870033036, "cabinet_amps": 25.243740118450823,
           "cabinet_volts_least": 111.45239594528508, "cabinet_count": 12, "cord_gauge": "2.5mm2", "cord_length": 2.0625598653658304,
           "feeder_drop": 1.7338505892688216, "loads": [
               {"amps": 3.81131218937253, "count": 16}, {"amps": 57.227588647253974, "power_factor": 0.9782082353606106},
               {"amps": 58.69764959202035, "power_factor": 0.7091316288633109, "count": 17, "distance": 8.691765731715492}]}  # fmt: skip
    assert [outcome({**low, "loads_listed": listed}, "volts_running", rules="au") for listed in (True, False)] == ["stop", "stop"]
    better = {**low, "cabinet_volts_least": 104.0}
    assert [outcome({**better, "loads_listed": listed}, "volts_running", rules="au") for listed in (True, False)] == ["unknown", "unknown"]


def test_a_voltage_that_is_too_low_in_every_supply_is_too_low() -> None:
    """Which of them it is need not be told, nor the cord that would lower it further."""
    high = {"material": "copper", "conductor": "2.5mm2", "run": 30.0, "cabinet_amps": 12.0, "cabinet_power_factor": 1.0, "cabinet_volts_least": 394.6,
            "feeder_drop": 10.0}  # fmt: skip
    assert outcome(high, "volts_running", rules="uk") == "stop"
    assert {outcome({**high, "nominal_voltage": volts}, "volts_running", rules="uk") for volts in ("230", "400")} == {"stop"}
    assert outcome({**high, "cabinet_volts_least": 207.0}, "volts_running", rules="uk") == "unknown"


# -- what is read, against what the country's supply has ---------------------------------------------

def plain(inputs: dict[str, Any], rules: str = "us") -> dict[str, Any]:
    result = PLAIN(inputs, rules)
    assert result is not None
    return result


def told(result: dict[str, Any], key: str, at: str = "") -> dict[str, Any]:
    return next(check for check in result["checks"] if (check["key"], check["at"]) == (key, at))


# Each voltage of each set: the least that may stand at an outlet, and the most.
USUAL = {("us", "120"): (110, 126), ("us", "208"): (197 - 10.4, 218), ("us", "240"): (228 - 12, 252), ("ca", "120"): (110, 125),
         ("ca", "208"): (190 - 10.4, 218), ("ca", "240"): (220 - 12, 252), ("uk", "230"): (204.7, 253), ("uk", "400"): (376 - 20, 440),
         ("eu", "230"): (197.8, 253), ("eu", "400"): (360 - 20, 440), ("au", "230"): (204.7, 253), ("au", "400"): (376 - 20, 440)}  # fmt: skip


@pytest.mark.parametrize(("name", "volts"), USUAL)
def test_a_voltage_no_supply_has_is_a_stop_whatever_the_cabinet_stands(name: str, volts: str) -> None:
    """With a volt for the meter on either side; a plate that allows all of it changes nothing."""
    low, high = USUAL[name, volts]
    wide = {"nominal_voltage": volts, "cabinet_volts_least": 50.0, "cabinet_volts_most": 480.0, "phases": "three"}
    for key, readings in (("read_low", (low + 1.1, low + 0.9, low - 0.1, low - 8)),
                          ("read_high", (high - 1.1, high - 0.9, high + 0.1, high + 13))):
        found = [told(plain({**wide, "volts_idle": read}, name), key)["outcome"] for read in readings]
        assert found == ["pass", "caution", "stop", "stop"], (key, low, high)
    for read in (low - 0.1, high + 0.1):
        stopped = plain({**wide, "volts_idle": read}, name)
        assert stopped["outcome"] == "stop"
        assert any("the supply" in check["note"] and "Do not plug it in" in check["note"] for check in stopped["checks"]
                   if check["key"] in ("read_low", "read_high") and check["outcome"] == "stop")


def test_what_is_lost_by_advice_is_allowed_below_the_supply_s_own_range() -> None:
    """A supply of one's own may lose more by the European set's advice: 8 % of 400 V below 360 V."""
    own = {"nominal_voltage": "400", "phases": "three", "volts_idle": 330.0}
    assert [outcome({**own, "own_supply": it}, "read_low", rules="eu") for it in (True, False)] == ["pass", "stop"]


def test_a_reading_without_its_voltage_is_asked_for_and_none_is_judged_where_none_was_taken() -> None:
    """What nobody read counts at both ends of the usual supply, by other checks."""
    untold = {**SOUND, "nominal_voltage": None}
    assert [outcome({**untold, "volts_idle": read}, key) for key, read in (("read_high", 122.5), ("read_low", 100.0), ("read_high", 270.0))] == [
        "pass", "stop", "stop"]  # by every voltage that it does not contradict
    assert outcome({**untold, "volts_idle": 139.0}, "read_low") == "unknown", "too much of one, too little of another"
    assert run({**untold, "volts_idle": 139.0})["outcome"] in ("stop", "unknown")
    assert outcome({**SOUND, "volts_idle": None}, "read_high") is None
    # A voltage that is none of the country's is told by another check, and has no range to be read against.
    assert outcome({**SOUND, "nominal_voltage": "230", "volts_idle": 232.0}, "read_high") is None
    assert outcome({**SOUND, "nominal_voltage": "230", "volts_idle": 232.0}, "supply_kind", "230 V") == "caution"


def mended(inputs: dict[str, Any], key: str, rules: str = "us") -> str:
    result = CALCULATOR.run({"units": "si", "typed": "si", "rules": rules, "inputs": {path: each for path, each in inputs.items()
                                                                                     if each is not None}})
    check = next(each for each in result["checks"] if each["key"] == key and each["outcome"] in ("stop", "caution"))
    return str(check["mend"]["text"]) if check["mend"] else ""


def test_no_wire_mends_a_supply_that_is_low_itself() -> None:
    """At 100 V of 120 V thicker wire would let it start; at 113 V the wire is what is thin."""
    weak = {**SOUND, "cabinet_start_amps": 38.0, "run": 40.0}
    low = {**weak, "volts_idle": 100.0, "cabinet_volts_least": 90.0}
    assert outcome(low, "volts_starting") == "caution"
    assert mended(low, "volts_starting") == ""
    assert "larger wire" in mended({**weak, "volts_idle": 113.0, "cabinet_volts_least": 103.0}, "volts_starting")


# -- a joint that loses much, however little the cabinet draws ----------------------------------------

FULL = "At the outlet's full current"


@pytest.mark.parametrize(("name", "changes"), [
    ("us", {"volts_idle": 122.0, "volts_loaded": 112.0, "test_amps": 5.0, "cabinet_amps": 1.5, "cabinet_start_amps": 6.0, "run": 6.0}),
    ("uk", {"volts_idle": 232.0, "volts_loaded": 221.0, "test_amps": 4.0, "cabinet_amps": 2.0, "cabinet_start_amps": 6.0, "run": 10.0}),
    ("eu", {"volts_idle": 232.0, "volts_loaded": 221.0, "test_amps": 4.0, "cabinet_amps": 2.0, "cabinet_start_amps": 6.0, "run": 10.0}),
    ("au", {"volts_idle": 232.0, "volts_loaded": 228.0, "test_amps": 1.0, "cabinet_amps": 0.5, "cabinet_start_amps": 2.0, "run": 10.0}),
])  # fmt: skip
def test_a_small_cabinet_hides_no_bad_joint(name: str, changes: dict[str, Any]) -> None:
    """Of two ohms and more the wire makes a tenth: take care, and have it found, in whatever words the country has."""
    example, units = CALCULATOR.example_in(name)
    sound = read_record(CALCULATOR.inputs, dict(example), units).values()
    result = plain({**sound, **changes}, name)
    found = told(result, "drop_total", FULL)
    assert (result["outcome"], found["outcome"]) == ("caution", "caution")
    assert "find where it is lost" in found["note"]


@pytest.mark.parametrize("rules", ["us", "ca", "uk", "eu", "au"])
def test_what_is_lost_for_sure_is_the_fall_without_the_meter_s_errors(rules: str) -> None:
    """Times the smaller of breaker and outlet, in percent; even where the drop is a rule it is take care."""
    volts, outlet = ("120", "15") if rules in ("us", "ca") else ("230", {"uk": "13", "eu": "16", "au": "10"}[rules])
    idle = float(volts) + 1
    for fall, amps, lost in ((2.5, 0.5, 1.0), (8.0, 6.0, 1.0), (8.0, 3.0, 2.0), (3.0, 10.0, 0.1)):
        read = {"nominal_voltage": volts, "breaker": "20", "receptacle_rating": outlet, "volts_idle": idle, "volts_loaded": idle - fall,
                "test_amps": amps}  # fmt: skip
        found = told(plain(read, rules), "drop_total", FULL)
        share = 100 * lost * float(outlet) / float(volts)
        assert found["value"] == pytest.approx(share, rel=1e-9)
        assert found["outcome"] == ("pass" if share <= found["limit"] else "caution")
        if amps <= 6 and volts == "230":
            small = told(plain({**read, "breaker": "6"}, rules), "drop_total", FULL)
            assert small["value"] == pytest.approx(100 * lost * 6 / 230, rel=1e-9)


def test_what_one_plug_may_draw_is_asked_for_only_where_it_decides() -> None:
    """0.35 Ω at least pass with 15 A and not with 20 A: by either of the two it may pass, it fails by both alone."""
    bad = {"nominal_voltage": "120", "breaker": "20", "receptacle_rating": "20", "volts_idle": 121.0, "volts_loaded": 116.9, "test_amps": 6.0}
    good = {**bad, "volts_loaded": 118.0}
    assert (outcome(bad, "drop_total", FULL), outcome(good, "drop_total", FULL)) == ("caution", "pass")
    for blank in ("breaker", "receptacle_rating"):
        assert [outcome({**each, blank: None}, "drop_total", FULL) for each in (bad, good)] == ["unknown", "pass"]
    for blank in ("volts_loaded", "test_amps"):
        assert outcome({**bad, blank: None}, "drop_total", FULL) == "unknown"
    assert outcome({**bad, "volts_loaded": None, "test_amps": None}, "drop_total", FULL) is None
