"""Lamp tables, a resistor circuit of every fault, limits, and what may never be advised."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.core import rules
from calculators.core.errors import InputErrors
from calculators.core.rules import STATUSES
from calculators.outlet import CALCULATOR, maths
from tests.support import orders
from tests.support.inputs import random_request
from tests.support.limits import jump

from .circuit import WIRING, seen

FOLDER = Path(__file__).parents[2] / "cases" / "outlet"
DOCS = Path(__file__).parents[3] / "docs" / "calculators" / "outlet.md"
PATTERNS = tomllib.loads((FOLDER / "patterns.toml").read_text())["case"]
LIMITS = tomllib.loads((FOLDER / "limits.toml").read_text())["case"]
US = rules.load("us")
QUICK = dataclasses.replace(CALCULATOR, probe=False)
LAMPS = ("lamp_ln", "lamp_lg", "lamp_ng")
SOUND = dict(CALCULATOR.example)
# The same outlet where 230 V is usual.
SOUND_230 = SOUND | {"volts_ln": 232, "volts_lg": 232, "loaded_ln": 228.5}
each_set = pytest.mark.parametrize("name", rules.RULE_SETS)
# Each true condition, and how its faults are named in the tables.
LABELS = {name: US[f"outlet.pattern_{name}"].label for name in WIRING}


def run(inputs: dict[str, Any], name: str = "us") -> dict[str, Any]:
    return QUICK.run({"units": "us", "rules": name, "inputs": inputs})


def sound(name: str) -> dict[str, Any]:
    return SOUND if name in ("us", "ca") else SOUND_230


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def fitting(result: dict[str, Any]) -> set[str]:
    return {row[0] for table in result["tables"] if table["title"].startswith("What fits") for row in table["rows"]}


def named_in(result: dict[str, Any], condition: str) -> bool:
    """Whether a condition is told: as what fits, as right, or as what such a tester cannot see."""
    if condition == "right":
        return check(result, "wiring")["outcome"] == "pass"
    return LABELS[condition] in fitting(result) | unseen(result)


def unseen(result: dict[str, Any]) -> set[str]:
    return {row[0] for table in result["tables"] if table["title"].startswith("What no") for row in table["rows"]}


# -- the lamp table ----------------------------------------------------------------------


@pytest.mark.parametrize("case", PATTERNS, ids=lambda case: case["id"])
def test_a_pattern_names_what_fits(case: dict[str, Any]) -> None:
    """The condition and all that show the same; those that show as right are told as unseen."""
    result = run(dict(zip(LAMPS, case["lamps"], strict=True)))
    right = case["lamps"] == ["lit", "lit", "dark"]
    named = {LABELS[name] for name in (case["condition"], *case["fits"]) if not right or name != "right"}
    assert fitting(result) == (set() if right else named)
    assert named <= unseen(result) | fitting(result)
    assert check(result, "wiring")["outcome"] == ("pass" if right else "stop")
    if not case["seen"]:
        assert LABELS[case["condition"]] in unseen(result)
    assert case["citation"]
    assert case["status"] in STATUSES


@pytest.mark.parametrize("lamps", [("lit", "lit", "lit"), ("dark", "dark", "lit")])
def test_a_pattern_that_nothing_explains_is_a_stop(lamps: tuple[str, ...]) -> None:
    """No fault fits: still a stop, never a guess."""
    result = run(dict(zip(LAMPS, lamps, strict=True)))
    assert check(result, "wiring")["outcome"] == "stop"
    assert fitting(result) == set()


def test_one_wrong_lamp_is_enough_to_stop() -> None:
    """A lit neutral–ground lamp stops, whatever the other two would say."""
    assert check(run({"lamp_ng": "lit"}), "wiring")["outcome"] == "stop"
    assert check(run({"lamp_ln": "lit", "lamp_lg": "lit"}), "wiring")["outcome"] == "unknown"


# -- the circuit itself ------------------------------------------------------------------


@pytest.mark.parametrize("condition", WIRING)
def test_lamps_on_a_real_circuit_name_its_fault(condition: str) -> None:
    """Neon lamps across resistors: the true condition is among what fits."""
    lamps = seen(condition, across=150_000.0).lamps
    result = run(dict(zip(LAMPS, lamps, strict=True)))
    assert named_in(result, condition)


@each_set
@pytest.mark.parametrize("condition", WIRING)
def test_volts_of_a_real_circuit_name_its_fault(condition: str, name: str) -> None:
    """A meter across each pair: the same, and the three readings fit together, in every rule set."""
    volts = seen(condition, volts=sound(name)["volts_ln"])
    # Where plugs may go in both ways this is an outlet that takes them one way.
    fixed = {"reversible": "no"} if name == "eu" else {}
    result = run({"volts_ln": volts.ln, "volts_lg": volts.lg, "volts_ng": volts.ng, **fixed}, name)
    assert named_in(result, condition)
    assert check(result, "sum")["outcome"] == "pass"


def loaded(condition: str, ohms: float = 10.0) -> dict[str, Any]:
    idle, run_ = seen(condition), seen(condition, load=ohms)
    return {"volts_ln": idle.ln, "volts_lg": idle.lg, "volts_ng": idle.ng, "loaded_ln": run_.ln,
            "loaded_ng": run_.ng, "load_amps": run_.ln / ohms, "cabinet_amps": 9}  # fmt: skip


def test_a_sound_circuit_passes_and_gives_its_wires() -> None:
    """Fall, impedance and the neutral's share are the circuit's own."""
    result = run(SOUND | loaded("right"))
    assert result["outcome"] == "pass"
    values = {value["key"]: value["inner"] for value in result["values"]}
    assert values["impedance"] == pytest.approx(0.3, rel=1e-5)
    assert values["share"] == pytest.approx(0.5, rel=1e-5)


@pytest.mark.parametrize("condition", ["joined", "joined_swapped"])
def test_a_ground_joined_to_the_neutral_shows_under_load(condition: str) -> None:
    """Lamps call it right; the volts between neutral and ground do not move, and that is told."""
    result = run(SOUND | loaded(condition))
    assert check(result, "wiring")["outcome"] == "pass"
    assert check(result, "apart")["outcome"] == "caution"
    assert "licensed electrician" in check(result, "apart")["note"]


def test_a_live_ground_shows_beside_a_non_contact_tester() -> None:
    """The worst fault that lamps miss is a stop by the tester beside the ground hole."""
    assert check(run(SOUND | {"nearby": "alerts"}), "nearby")["outcome"] == "stop"


# -- an outlet that takes the plug both ways -------------------------------------------------

TURNED = {"lamp_ln": "lit", "lamp_lg": "dark", "lamp_ng": "lit", "volts_lg": 0.4, "volts_ng": 232}


@pytest.mark.parametrize(("reversible", "outcome"), [("yes", "pass"), ("no", "stop"), ("", "unknown")])
def test_a_plug_that_goes_in_both_ways_has_no_polarity_to_be_wrong(reversible: str, outcome: str) -> None:
    """CEE 7/3: the same lamps are right, wrong at an outlet that takes a plug one way, or open until that is told."""
    result = run(sound("eu") | TURNED | {"reversible": reversible}, "eu")
    wiring = check(result, "wiring")
    assert wiring["outcome"] == outcome
    assert (wiring["needs"] == ["reversible"]) == (outcome == "unknown")
    assert any("CEE 7/3" in each for each in wiring["citations"]) == (outcome == "pass")
    if outcome == "pass":
        for key in ("neutral_ground", "apart"):
            assert check(result, key)["outcome"] == "unknown"
            assert "turn its plug" in check(result, key)["note"]


@pytest.mark.parametrize("name", ["us", "ca", "uk", "au"])
def test_elsewhere_swapped_wires_stop_whatever_is_said(name: str) -> None:
    """No set but Europe's knows an outlet that takes its plug both ways, and no form there asks for it."""
    swapped = sound(name) | TURNED | {"volts_ng": sound(name)["volts_ln"]}
    assert check(run(swapped | {"reversible": "yes"}, name), "wiring")["outcome"] == "stop"
    assert not CALCULATOR.inputs.field("reversible").offered(rules.load(name))


@pytest.mark.parametrize("lamps", [("lit", "dark", "dark"), ("dark", "dark", "dark"), ("dark", "lit", "lit"), ("dark", "lit", "dark")])
def test_turning_the_plug_excuses_nothing_else(lamps: tuple[str, ...]) -> None:
    """An open earth is a stop at such an outlet too."""
    assert check(run({**dict(zip(LAMPS, lamps, strict=True)), "reversible": "yes"}, "eu"), "wiring")["outcome"] == "stop"


def test_a_lamp_too_few_leaves_such_an_outlet_open() -> None:
    """Neutral and earth lit is half of what a turned plug shows; the other two are still to be read."""
    assert check(run({"lamp_ng": "lit", "reversible": "yes"}, "eu"), "wiring")["outcome"] == "unknown"
    assert check(run({"lamp_ng": "lit", "reversible": "no"}, "eu"), "wiring")["outcome"] == "stop"


# -- volts that stand between neutral and ground ----------------------------------------------


@pytest.mark.parametrize("offset", [-1.0, -0.3, 0.0, 0.3, 1.0])
@pytest.mark.parametrize("condition", ["right", "joined"])
def test_a_standing_offset_neither_hides_nor_makes_a_joined_ground(condition: str, offset: float) -> None:
    """Another circuit's current holds the neutral up, in step or against it: the share told is never above the true one."""
    idle, run_ = seen(condition, volts=121), seen(condition, load=25.0, volts=121)
    standing = offset if condition == "right" else 0.0  # where they are joined nothing can stand between them
    readings = {"volts_ng": abs(idle.ng + standing), "loaded_ng": abs(run_.ng + standing), "volts_ln": idle.ln,
                "volts_lg": idle.lg, "loaded_ln": run_.ln, "load_amps": run_.ln / 25}  # fmt: skip
    result = run(SOUND | readings)
    told = next(each["inner"] for each in result["values"] if each["key"] == "share")
    true = run_.ng / (idle.ln - run_.ln) if idle.ln - run_.ln > 2 else None
    if true is None:
        assert told is None
    else:
        assert told <= true + 1e-9
        assert condition == "right" or check(result, "apart")["outcome"] == "caution"


@pytest.mark.parametrize(("idle", "loaded", "outcome"), [
    (0.4, 0.4, "caution"),  # nothing moved though 3.5 V were lost
    (0.4, 1.7, "pass"),  # (1.3 − 0.4)/(3.5 + 2) is 0.16
    (1.7, 0.4, "pass"),  # it moved as far, the other way
    (0.4, 1.3, "caution"),  # (0.9 − 0.4)/5.5 is 0.09: the meter may hide it
    (0.0, 0.0, "caution"),
    ("", 1.7, "unknown"), (0.4, "", "unknown"),
])  # fmt: skip
def test_the_neutral_s_share_is_what_the_load_adds(idle: Any, loaded: Any, outcome: str) -> None:
    """Of 3.5 V lost a tenth and more must show, with 0.2 V of error in each small reading and 1 V in each large one."""
    assert check(run(SOUND | {"volts_ng": idle, "loaded_ng": loaded}), "apart")["outcome"] == outcome


def test_the_share_told_allows_for_the_meter() -> None:
    """(1.3 ± 0.4)/(3.5 ± 2): 0.371 told, 0.164 at least."""
    told = next(each for each in run(SOUND)["values"] if each["key"] == "share")
    assert told["inner"] == pytest.approx(1.3 / 3.5)
    assert check(run(SOUND), "apart")["margin"] == pytest.approx(1.3 / 3.5 - 0.1)
    assert float(told["tolerance"]) == pytest.approx(1.3 / 3.5 - 0.9 / 5.5, abs=0.001)


@pytest.mark.parametrize(("idle", "loaded", "outcome"), [
    (0.4, "", "unknown"), ("", 1.5, "unknown"), (3.0, "", "unknown"), ("", 3.0, "unknown"), (3.0, 1.0, "caution"),
    (1.0, 3.0, "caution"), (1.0, 1.7, "pass"), (1.9, 1.0, "caution"), (1.85, "", "unknown"), (1.7, 0.5, "pass"),
    (5.0, 1.0, "caution"), (5.1, 1.0, "stop"), (1.0, 5.1, "stop"), (5.1, "", "stop"), ("", 5.1, "stop"), (39.0, 39.0, "stop"),
])  # fmt: skip
def test_neutral_to_ground_is_judged_by_both_readings(idle: Any, loaded: Any, outcome: str) -> None:
    """The greater counts, 2 V at most with 0.2 V for the meter; above 5 V it is a stop, which a blank of the two may hide."""
    found = check(run(SOUND | {"volts_ng": idle, "loaded_ng": loaded}), "neutral_ground")
    assert found["outcome"] == outcome
    assert found["needs"] == ([] if outcome != "unknown" else ["volts_ng" if idle == "" else "loaded_ng"]) or outcome != "unknown"


# -- what contradicts itself, and what is left blank --------------------------------------------


def test_volts_that_rise_under_a_load_are_refused() -> None:
    """Both readings are named; within the meter's error at both of them nothing is wrong."""
    with pytest.raises(InputErrors) as caught:
        run(SOUND | {"volts_ln": 118, "loaded_ln": 120.1})
    assert [error.field for error in caught.value.errors] == ["volts_ln", "loaded_ln"]
    assert run(SOUND | {"volts_ln": 118, "volts_lg": 118, "loaded_ln": 120})["checks"]
    # What a stranger's probes read is not used, so it cannot contradict.
    assert run(SOUND | {"volts_ln": 118, "loaded_ln": 125, "reader": "others"})["outcome"] == "stop"


@pytest.mark.parametrize("path", [*LAMPS, "volts_ln", "volts_lg", "volts_ng"])
def test_lamps_and_volts_both_speak_before_they_agree(path: str) -> None:
    """One reading left blank: whether they agree is open, and that very reading is asked for."""
    found = check(run(SOUND | {path: ""}), "agree")
    assert (found["outcome"], found["needs"]) == ("unknown", [path])


def test_every_example_contradicts_nothing() -> None:
    """In any rule set."""
    for name in rules.RULE_SETS:
        inputs, units = CALCULATOR.example_in(name)
        assert QUICK.run({"rules": name, "units": units, "inputs": dict(inputs)})["outcome"] == "pass"


# -- limits ------------------------------------------------------------------------------


@pytest.mark.parametrize("case", LIMITS, ids=lambda case: case["id"])
def test_limits(case: dict[str, Any]) -> None:
    """An input on one side of a limit has that outcome."""
    name = case.get("rules", "us")
    assert check(run(sound(name) | case["inputs"], name), case["check"])["outcome"] == case["outcome"]
    assert case["citation"]
    assert case["status"] in STATUSES


@given(amps=st.floats(0.5, 20), more=st.floats(0.01, 20), fall=st.floats(0, 30))
@settings(max_examples=60, deadline=None)
def test_more_amperes_never_drop_less(amps: float, more: float, fall: float) -> None:
    """The drop with the cabinet running grows with what it draws."""
    given_ = SOUND | {"loaded_ln": 121 - fall}
    small, large = (check(run(given_ | {"cabinet_amps": each}), "drop")["value"] for each in (amps, amps + more))
    assert large >= small


@each_set
@pytest.mark.parametrize(("key", "path", "good", "bad"), [
    ("volts_low", "volts_ln", 1.0, 0.7), ("volts_high", "volts_ln", 1.0, 1.2), ("neutral_ground", "loaded_ng", 1.7, 12.0),
    ("drop", "cabinet_amps", 1.0, 50.0), ("running", "loaded_ln", 0.98, 0.6), ("sum", "volts_ng", 0.4, 30.0),
    ("apart", "loaded_ng", 1.7, 0.0),
])  # fmt: skip
def test_margins_run_through_nothing_at_their_limits(key: str, path: str, good: float, bad: float, name: str) -> None:
    """Where an outcome leaves pass the margin does not jump, in any rule set; volts are shares of the usual ones."""
    plain = sound(name)
    scale = plain["volts_ln"] if path in ("volts_ln", "loaded_ln") else 1.0
    alone = {"loaded_ln": ""} if path == "volts_ln" else {}  # lower volts than under the load contradict it
    assert jump(lambda amount: check(run(plain | alone | {path: amount}, name), key), good * scale, bad * scale) <= 1e-6


@each_set
def test_either_unit_system_judges_alike(name: str) -> None:
    """Volts and amperes are the same in both: the same outcomes, values and words."""
    for seed in range(20):
        request = random_request(CALCULATOR, 300 + seed, rule_set=name)
        us, si = (QUICK.run({**request, "units": units}) for units in ("us", "si"))
        assert us["checks"] == si["checks"]
        assert us["values"] == si["values"]


@given(st.lists(st.floats(0, 300), min_size=3, max_size=3))
def test_three_voltages_in_step_leave_no_gap(volts: list[float]) -> None:
    """Of two voltages and their sum nothing is left, in any order; the gap knows no order."""
    one, two, _ = volts
    assert maths.gap_of_sum([one, one + two, two]) == pytest.approx(0, abs=1e-9)
    assert maths.gap_of_sum(volts) == maths.gap_of_sum(volts[::-1])


@each_set
def test_every_figure_says_where_it_comes_from(name: str) -> None:
    """A clause for each figure, or common practice without one."""
    for key, rule in rules.load(name).figures.items():
        if key.startswith("outlet."):
            assert bool(rule.clause) != (rule.status == "common practice"), key
            assert rule.label


@each_set
def test_a_sound_outlet_passes_in_every_set(name: str) -> None:
    """Each set has its own voltage and both of its ends: no check is left open, none fails."""
    for inputs in (sound(name), dict(CALCULATOR.example_in(name)[0])):
        result = run(inputs, name)
        assert (result["outcome"], result["missing_rules"]) == ("pass", [])
    other = sound("us" if name not in ("us", "ca") else "uk")
    assert check(run(other, name), "volts_high" if name in ("us", "ca") else "volts_low")["outcome"] == "stop"


@pytest.mark.parametrize("name", ["uk", "au"])
def test_the_lowest_voltage_is_the_supply_s_less_the_drop(name: str) -> None:
    """What the supply may fall to, less the share of the nominal voltage that the wiring may lose."""
    known = rules.load(name)
    lost = known["outlet.nominal"].inner * known["circuit.drop_total"].inner / 100
    assert known["outlet.volts_low"].inner == pytest.approx(known["circuit.supply_low_230"].inner - lost)
    assert known["outlet.volts_high"].inner == known["circuit.supply_high_230"].inner


def test_europe_s_lowest_voltage_is_fourteen_percent_down() -> None:
    """10 % at the supply and 4 % inside, of 230 V (IEC 60038, 1983 to 1997)."""
    assert rules.load("eu")["outlet.volts_low"].inner == pytest.approx(230 * (1 - 0.10 - 0.04))


# -- what may never be advised -----------------------------------------------------------


def told() -> set[str]:
    """All that this calculator ever said in 600 random runs under all rule sets, in its definition and on its page."""
    said = [*orders.said(QUICK.describe())]
    for seed in range(600):
        request = random_request(CALCULATOR, seed, rule_set=list(rules.RULE_SETS)[seed % len(rules.RULE_SETS)])
        said += orders.told(QUICK.run(request))
    page = re.sub(r"^:::.*$", "", DOCS.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return {sentence for text in [*said, page] for sentence in orders.sentences(text)}


@pytest.mark.parametrize("bad", orders.LIST["examples"]["caught_at_outlet"])
def test_the_search_for_orders_would_find_one(bad: str) -> None:
    """The pattern catches what must never be said."""
    assert orders.WORK.search(bad)


def test_nobody_is_told_to_work_on_an_outlet() -> None:
    """No order to open, fit or repair; probes and covers are named only to forbid them."""
    said = told()
    assert len(said) > 100
    assert not {text for text in said if orders.WORK.search(text) and "never" not in text.lower()}
    probes = {text for text in said if re.search(r"\bprobes?\b|\bcovers?\b", text, re.IGNORECASE)}
    allowed = ("never", "licensed", "not used", "somebody else", "others", "kill")
    assert not {text for text in probes if not any(word in text.lower() for word in allowed)}


def test_a_stop_sends_for_the_electrician_and_asks_for_nothing_more() -> None:
    """Where the outlet has failed, no further reading is asked for."""
    stops = 0
    for seed in range(300):
        result = QUICK.run(random_request(CALCULATOR, seed))
        failed = [each for each in result["checks"] if each["outcome"] == "stop"]
        stops += len(failed)
        for each in failed:
            assert each["mend"] or re.search("licensed electrician", each["note"]), each
        if failed:
            assert result["measure_next"] is None
            assert not any(each["needs"] for each in result["checks"] if each["outcome"] == "unknown")
    assert stops > 300


@pytest.mark.parametrize(("loaded", "amps", "cabinet", "drop"), [
    (114.0, 12.0, 12.0, 5.0), (117.0, 12.0, 12.0, 2.5), (117.0, 6.0, 12.0, 5.0), (117.6, 12.0, 3.0, 0.5),
])  # fmt: skip
def test_the_drop_is_in_percent_of_the_volts_without_a_load(loaded: float, amps: float, cabinet: float, drop: float) -> None:
    """Of 120 V; what another load loses stands for the cabinet’s by their amperes (Ohm’s law)."""
    inputs = {"volts_ln": 120, "loaded_ln": loaded, "load_amps": amps, "cabinet_amps": cabinet}
    checks = QUICK.run({"units": "si", "typed": "si", "rules": "us", "inputs": inputs})["checks"]
    assert [each["value"] for each in checks if (each["key"], each["at"]) == ("drop", "")] == [pytest.approx(drop, rel=1e-12)]


# -- what a small cabinet, a dark lamp or one pair of three may hide ---------------------------------


@each_set
@pytest.mark.parametrize("cabinet", [0.1, 0.9, 5.0, 9.5])
def test_a_bad_joint_is_no_better_for_a_cabinet_that_draws_little(cabinet: float, name: str) -> None:
    """5 V lost by 2 A: at least 3 V, which is 1.5 Ω, and 10 A or more through it lose far above a twentieth."""
    idle = sound(name)["volts_ln"]
    weak = {"loaded_ln": idle - 5, "load_amps": 2, "loaded_ng": 1.75, "volts_ng": 0.2, "cabinet_amps": cabinet}
    result = run(sound(name) | weak, name)
    assert next(each["outcome"] for each in result["checks"] if each["key"] == "drop" and each["at"]) == "caution"
    assert result["outcome"] in ("caution", "stop")


@each_set
def test_what_is_lost_for_sure_grows_with_the_fall_and_falls_with_the_test_load(name: str) -> None:
    """The fall less both errors of the meter, an ampere, times the smallest outlet of the country, in percent."""
    smallest = {"us": 15, "ca": 15, "uk": 13, "eu": 10, "au": 10}[name]
    idle = sound(name)["volts_ln"]
    for fall, amps, lost in ((1.9, 3, 0.0), (2.0, 3, 0.0), (5.0, 3, 1.0), (8.0, 3, 2.0), (8.0, 6, 1.0)):
        result = run(sound(name) | {"loaded_ln": idle - fall, "load_amps": amps}, name)
        found = next(each for each in result["checks"] if each["key"] == "drop" and each["at"])
        assert found["value"] == pytest.approx(100 * lost * smallest / idle, abs=1e-9)
        assert (found["outcome"] == "pass") == (found["value"] <= 5)


@each_set
@pytest.mark.parametrize("pair", ["volts_ln", "volts_lg", "volts_ng"])
@pytest.mark.parametrize("share", [0.05, 0.15, 0.3, 0.5, 0.75])
def test_a_pair_between_nothing_and_full_is_a_stop(share: float, pair: str, name: str) -> None:
    """A wire that nothing holds may read so; a lamp stays dark there, and turning the plug excuses nothing."""
    volts = share * US["outlet.nominal"].inner if name in ("us", "ca") else share * 230
    for base in (sound(name), sound(name) | (TURNED | {"volts_ng": sound(name)["volts_ln"], "reversible": "yes"} if name == "eu" else {})):
        result = run(base | {pair: volts, "loaded_ln": "", pair.replace("volts", "lamp"): "dark"}, name)
        assert check(result, "wiring")["outcome"] == "stop"
        assert "may float" in check(result, "wiring")["text"]
        assert not fitting(result) & {LABELS[each] for each in ("right", "joined", "joined_swapped", "neutral_ground")}


@pytest.mark.parametrize("changes", [{"volts_ng": 39, "volts_lg": 160}, {"volts_ng": 30, "volts_lg": 121}])
def test_a_neutral_that_floats_is_a_stop_though_its_lamp_is_dark(changes: dict[str, Any]) -> None:
    """The three may even add up."""
    result = run(SOUND | changes)
    assert {check(result, key)["outcome"] for key in ("wiring", "neutral_ground")} == {"stop"}


@each_set
def test_too_many_volts_to_ground_are_as_bad_as_too_many_to_neutral(name: str) -> None:
    """The greater of the two counts; one that is left blank may be the greater, and where the plug is turned it is the other pair."""
    high = rules.load(name)["outlet.volts_high"].inner
    def outcome(changes: dict[str, Any]) -> str:
        return str(check(run(sound(name) | {"loaded_ln": ""} | changes, name), "volts_high")["outcome"])

    for path, other in (("volts_ln", "volts_lg"), ("volts_lg", "volts_ln")):
        assert [outcome({path: volts}) for volts in (high - 1.1, high - 0.9, high + 0.1, high + 40)] == ["pass", "caution", "stop", "stop"]
        assert [outcome({path: volts, other: ""}) for volts in (high - 1.1, high + 0.1)] == ["unknown", "stop"]
    if name == "eu":
        turned = TURNED | {"reversible": "yes"}
        assert [outcome(turned | {"volts_ng": volts}) for volts in (high - 1.1, high + 0.1)] == ["pass", "stop"]
