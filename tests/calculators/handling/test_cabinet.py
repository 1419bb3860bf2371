"""A cabinet on its gear: the same answer as in Clearance, and the pull left in the hands against vectors."""

from __future__ import annotations

import copy
import math
import random
from typing import Any

import pytest

import calculators
from calculators.core import rules
from calculators.handling import CALCULATOR, maths
from calculators.handling.inputs import Inputs, WayRow
from tests.support.inputs import random_value

SETS = tuple(rules.RULE_SETS)
G = 9.80665
TAPE, TURN = 5.0, 2.0  # mm of a tape, degrees of a level
LIGHT: dict[str, Any] = {
    "job": "tilt", "cabinet_mass": 40, "crew": 3, "tilt_over": "back", "tilt_angle": 15, "tilt_gear": False, "tilt_hands": 1200,
    "max_tilt": 20, "cabinet_width": 700, "cabinet_depth": 600, "cabinet_height": 1200, "cg_height": 500, "cg_back": 300, "cg_side": 350,
    "skid": "off",
}  # fmt: skip
ROLLED: dict[str, Any] = {
    "job": "roll", "cabinet_mass": 350, "crew": 4, "mover": "people", "surface": "smooth", "way": "flat", "gear_mass": 60,
    "gear_rating": 900, "gear_height": 76, "gear_face": 685, "cabinet_width": 991, "cabinet_depth": 864, "cabinet_height": 1829,
    "cg_height": 840, "cg_back": 430, "cg_side": 480, "skid": "off",
}  # fmt: skip


def run(inputs: dict[str, Any], rule_set: str = "uk", name: str = "handling") -> dict[str, Any]:
    return calculators.run(name, {"units": "si", "rules": rule_set, "inputs": inputs})


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def outcome(inputs: dict[str, Any], key: str, rule_set: str = "uk") -> str:
    return str(check(run(inputs, rule_set), key)["outcome"])


# -- one cabinet, one answer ----------------------------------------------------------------------


def drawn(rng: random.Random, rule_set: str) -> dict[str, Any]:
    """A cabinet, its gear, its crew and its way, some of it not measured."""
    of = rules.load(rule_set)
    inputs = {field.key: value for field in Inputs.fields() if field.key not in ("job", "lifts", "duration", "how", "figures", "route", "way")
              if (value := random_value(field, rng, of)) is not None and rng.random() < 0.93}  # fmt: skip
    height, deep, wide = (inputs.get(key) for key in ("cabinet_height", "cabinet_depth", "cabinet_width"))
    for key, size in (("cg_height", height), ("cg_back", deep), ("cg_side", wide)):
        if key in inputs:
            inputs[key] = (size or 1500) * rng.uniform(0.31, 0.69)
    inputs["route"] = [_place(rng, of) for _ in range(rng.randint(1, 3))]
    inputs["way"] = "some"
    return inputs


def _place(rng: random.Random, of: rules.RuleSet) -> dict[str, Any]:
    kind = rng.choice(("sill", "ramp", "steps"))
    fields = {"sill": ("sill",), "ramp": ("rise", "run", "ramp_made", "rated_load", "specialists"), "steps": ("rise", "specialists")}[kind]
    row = {key: random_value(WayRow.field(key), rng, of) for key in fields}
    return {"kind": kind, **{key: value for key, value in row.items() if value is not None}}


def in_clearance(inputs: dict[str, Any]) -> dict[str, Any]:
    """The same cabinet and way as Clearance takes them: an edge is the sill of a doorway."""
    made = {key: value for key, value in copy.deepcopy(inputs).items() if key != "way"}
    for row in made["route"]:
        row["kind"] = {"sill": "doorway"}.get(row["kind"], row["kind"])
    return {**made, "tilt": True}


SAID = ("outcome", "value", "limit", "text", "mend", "note", "tolerance")


def judged(result: dict[str, Any], places: int) -> dict[tuple[str, str], Any]:
    """What is said by each check, by its key and the number of its place."""
    found: dict[tuple[str, str], Any] = {}
    for each in result["checks"]:
        at = next((str(number) for number in range(1, places + 1) if each["at"].startswith((f"{number}. ", f"Leg {number},"))), each["at"])
        found[each["key"], at] = {part: each[part] for part in SAID if part in each}
    return found


SHARED = {"sill", "ramp_steep", "ramp_balance", "ramp_gear", "ramp_load", "ramp_push", "people_alone", "push_start", "push_keep",
          "gear_load", "gear_face", "tilt_card", "tilt_balance", "tilt_pull"}  # fmt: skip


def test_one_cabinet_gets_one_answer_in_both() -> None:
    """Sixty cabinets in all five sets: every shared check says the same, word for word but for the names of rows."""
    compared: dict[str, int] = dict.fromkeys(SHARED, 0)
    for seed in range(60):
        rng, rule_set = random.Random(f"one cabinet {seed}"), SETS[seed % len(SETS)]
        inputs = drawn(rng, rule_set)
        theirs = judged(run(in_clearance(inputs), rule_set, "clearance"), len(inputs["route"]))
        for job in ("roll", "tilt"):
            ours = judged(run({**inputs, "job": job}, rule_set), len(inputs["route"]))
            for place, said in ours.items():
                if place[0] in SHARED:
                    assert _plain(said) == _plain(theirs[place]), (seed, place)
                    compared[place[0]] += 1
    assert min(compared.values()) >= 8, compared


def _plain(said: dict[str, Any]) -> str:
    """Without the words that only the form decides: what a row is called, and how much may stay blank."""
    return str(said).replace("(leg ", "(place ").replace("Sill height", "Height of the edge")


def test_every_shared_check_is_declared_alike() -> None:
    clearance = calculators.get("clearance")
    assert all(CALCULATOR.check_spec(key) == clearance.check_spec(key) for key in SHARED)


# -- the pull that is left ------------------------------------------------------------------------


def held(weight: float, far: float, up: float, hands: float, angle: float) -> float:
    """The level force at the hands that balances the moment of the weight, by vectors.

    Both places are turned about the low edge, and the force is found by halving on the sign of the whole moment.
    """
    spin = complex(math.cos(math.radians(-angle)), math.sin(math.radians(-angle)))
    middle, grip = complex(-far, up) * spin, complex(0.0, hands) * spin
    low, high = -1e9, 1e9
    for _ in range(200):
        force = (low + high) / 2
        # Counterclockwise moments of the weight, which is down, and of a pull to the right.
        moment = middle.real * -weight - grip.imag * force
        low, high = (force, high) if moment > 0 else (low, force)
    return low


def test_a_thousand_cabinets_are_held_as_vectors_say() -> None:
    rng = random.Random("held")
    for _ in range(1000):
        weight, far, up = rng.uniform(100, 9000), rng.uniform(50, 700), rng.uniform(100, 1500)
        hands, angle = rng.uniform(300, 1800), rng.uniform(0, 75)
        found = maths.pull_left(weight, far, up, hands, angle)
        # 1e-6 N: what halving an interval of 2e9 N leaves.
        assert found == pytest.approx(held(weight, far, up, hands, angle), rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(("angle", "word"), [(20, "pass"), (15, "pass"), (12, "caution"), (5, "stop"), (0, "stop")])
def test_what_is_left_at_the_angle_decides(angle: float, word: str) -> None:
    """40 kg, 300 mm behind the edge, held 1.2 m up: 98 N at the start, none at 31°; one person keeps up 68.6 N."""
    inputs = {**LIGHT, "tilt_angle": angle, "max_tilt": 40}
    found = check(run(inputs), "tilt_hold")
    assert found["value"] == pytest.approx(held(40 * G, 300, 500, 1200, angle), rel=1e-6)
    assert found["limit"] == pytest.approx(7 * G)
    assert found["outcome"] == word


@pytest.mark.parametrize("angle", [15, 1])
def test_it_may_be_off_by_tape_and_level(angle: float) -> None:
    """The worst of edge, height, hands and angle together; one newton to spare beyond it passes, one short does not.

    No cabinet that leans back leans forward, however little it leans.
    """
    worst = held(40 * G, 305, 495, 1195, max(angle - TURN, 0))
    told = held(40 * G, 300, 500, 1200, angle)
    for mass, word in ((40 * 7 * G / worst * 0.999, "pass"), (40 * 7 * G / worst * 1.001, "caution"), (40 * 7 * G / told * 1.001, "stop")):
        assert outcome({**LIGHT, "tilt_angle": angle, "cabinet_mass": mass}, "tilt_hold") == word


def test_past_its_balance_it_pushes_back() -> None:
    """Leaned by 40°, where it balances at 31°: the same check sees what it then takes to hold it."""
    found = check(run({**LIGHT, "tilt_angle": 40, "max_tilt": 40}), "tilt_hold")
    assert found["value"] == pytest.approx(-held(40 * G, 300, 500, 1200, 40), rel=1e-6)
    flat = check(run({**LIGHT, "tilt_angle": 85, "max_tilt": 90}), "tilt_hold")
    assert (flat["outcome"], flat["value"], flat["text"]) == ("stop", None, "Nobody holds it there.")


def test_where_the_middle_of_mass_is_not_known_both_ends_are_tried() -> None:
    """30 to 70 % of the sizes: what holds at both holds; else it is not known yet."""
    blind = {key: value for key, value in LIGHT.items() if not key.startswith("cg_")}
    most, least = held(1.0, 0.7 * 600, 0.3 * 1200, 1200, 15), held(1.0, 0.3 * 600, 0.7 * 1200, 1200, 15)
    assert least < 0 < most
    for mass, word in ((20, "pass"), (40, "unknown")):
        assert outcome({**blind, "cabinet_mass": mass}, "tilt_hold") == word
    # Too much either way at both ends, and nothing at all in between.
    assert outcome({**blind, "cabinet_mass": 400}, "tilt_hold") == "unknown"
    assert {"cg_height", "cg_back"} <= set(check(run({**blind, "cabinet_mass": 40}), "tilt_hold")["needs"])
    far = {**blind, "tilt_angle": 0}
    assert outcome({**far, "cabinet_mass": 7 * G / (held(1.0, 175, 0, 1205, 0) * G)}, "tilt_hold") in ("unknown", "caution", "stop")
    assert outcome({**far, "cabinet_mass": 200}, "tilt_hold") == "stop"


def test_gear_that_holds_leaves_nothing_to_hold() -> None:
    assert outcome({**LIGHT, "cabinet_mass": 400, "tilt_gear": True}, "tilt_hold") == "pass"
    assert outcome({key: value for key, value in LIGHT.items() if key != "tilt_gear"}, "tilt_hold") == "pass"
    heavy = {key: value for key, value in {**LIGHT, "cabinet_mass": 400}.items() if key != "tilt_gear"}
    assert outcome(heavy, "tilt_hold") == "unknown"


def test_angle_by_angle_it_falls_to_the_balance() -> None:
    """Each row of the table is the pull at its angle, to the first past the balance."""
    table = next(each for each in run({**LIGHT, "max_tilt": 40})["tables"] if each["key"] == "angles")
    angles = [float(row[0].rstrip("°")) for row in table["rows"]]
    assert angles == [0, 5, 10, 15, 20, 25, 30, 35]
    for angle, row in zip(angles, table["rows"], strict=True):
        pull = held(40 * G, 300, 500, 1200, angle)
        assert row[1] == f"{math.ceil(abs(pull) - 1e-9)} N"
        assert row[2] == ("away" if pull > 0 else "toward you")
        assert row[3] == ("yes" if abs(pull) <= 7 * G else "no")


def test_nobody_holds_it_higher_than_hands_lift() -> None:
    """175 cm: hands that are said to be higher hold and pull no better."""
    def told(hands: float) -> list[Any]:
        result = run({**LIGHT, "tilt_hands": hands})
        return [[value["inner"] for value in result["values"]], [check(result, key)["value"] for key in ("tilt_pull", "tilt_hold")], result["tables"]]

    assert told(2500) == told(1750) != told(1740)


# -- crew and way ---------------------------------------------------------------------------------


@pytest.mark.parametrize("base", [LIGHT, ROLLED], ids=["tilt", "roll"])
def test_fewer_than_three_never_move_it(base: dict[str, Any]) -> None:
    for crew, word in ((1, "stop"), (2, "stop"), (3, "pass"), (4, "pass")):
        assert outcome({**base, "crew": crew}, "crew") == word
    blank = {key: value for key, value in base.items() if key != "crew"}
    assert check(run(blank), "crew")["needs"] == ["crew"]
    assert check(run({**base, "crew": 2}), "crew")["mend"]["changes"] == {"crew": "3"}


def test_a_way_is_level_only_where_somebody_says_so() -> None:
    assert outcome(ROLLED, "route") == "pass"
    blank = {key: value for key, value in ROLLED.items() if key != "way"}
    assert check(run(blank), "route")["needs"] == ["way"]
    assert check(run({**ROLLED, "way": "some"}), "route")["outcome"] == "unknown"
    assert check(run({**ROLLED, "way": "some", "route": [{"place": "north door"}]}), "route")["needs"] == ["route.0.kind"]
    with pytest.raises(calculators.CalculatorError):
        run({**ROLLED, "route": [{"kind": "sill", "sill": 5}]})


def test_the_greatest_push_of_the_way_is_told() -> None:
    """On the level 2 % of 410 kg; up a ramp more; and one that specialists take is not pushed."""
    def push(more: dict[str, Any]) -> float:
        return float(next(each["inner"] for each in run({**ROLLED, **more})["values"] if each["key"] == "push"))

    level = 0.02 * 410 * G
    ramp = {"kind": "ramp", "rise": 100, "run": 4000, "ramp_made": "built"}
    assert push({}) == pytest.approx(level)
    assert push({"way": "some", "route": [ramp]}) == pytest.approx(level + 410 * G * math.sin(math.atan(1 / 40)), rel=1e-3)
    assert push({"way": "some", "route": [{**ramp, "specialists": True}]}) == pytest.approx(level)
    people = {value["key"]: value["inner"] for value in run({**ROLLED, "way": "some", "route": [ramp]})["values"]}["people"]
    assert people is None  # 181 N is more than 1.5 times 68.6 N


def test_who_stands_where_is_said_of_the_job_at_hand() -> None:
    def places(inputs: dict[str, Any]) -> list[list[str]]:
        return [list(row) for row in next(each for each in run(inputs)["tables"] if each["key"] == "places")["rows"]]

    rolled = places(ROLLED)
    assert [row[1] for row in rolled] == ["The leader", "Two helpers", "Nobody", "Nobody else"]
    ramp = {**ROLLED, "way": "some", "route": [{"kind": "ramp", "rise": 100, "run": 4000, "ramp_made": "built"}]}
    assert ["Below it on a ramp", "Nobody"] in [row[:2] for row in places(ramp)]
    for over, beside in (("back", "left and right sides"), ("left", "front and back")):
        assert any(beside in row[0] and row[1] == "Two helpers" for row in places({**LIGHT, "tilt_over": over}))
