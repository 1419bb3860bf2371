"""The way in: best way round, monotony, continuity, mends, unknowns."""

from __future__ import annotations

import dataclasses
import math
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.clearance import CALCULATOR, fit, turning
from calculators.clearance.inputs import Inputs
from calculators.core import rules
from calculators.core.reading import read_record
from calculators.core.report import OUTCOMES
from calculators.core.units import Units
from tests.support.limits import jump

# What has to be said of each move: a blank would keep the answer open.
SAID = {"skid": "off", "gear_wide": 0, "gear_long": 0, "mover": "people", "tilt": False, "surface": "uneven"}
CABINET = {"cabinet_width": 991, "cabinet_depth": 864, "cabinet_height": 1829, "cabinet_mass": 350,
           "gear_height": 76, "gear_mass": 60, "crew": 4, **SAID}  # fmt: skip
FITS = ("width", "height", "turn", "side_room", "car_width", "car_depth", "car_height", "platform_width",
        "platform_depth", "ramp_width", "rear_gap", "plate_gap", "door_swing",
        "tray_room", "clear_floor", "passage", "tilt_up")  # fmt: skip


# Checks and mends alone: what to measure next and the one change run the sheet many times more.
BARE = dataclasses.replace(CALCULATOR, finish=None, probe=False, contradictions=None)


def run(inputs: dict[str, Any], units: str = "si", typed: str = "si") -> dict[str, Any]:
    return BARE.run({"units": units, "typed": typed, "inputs": inputs})


def check(result: dict[str, Any], key: str, at: str = "") -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key and at in each["at"])


def random_leg(rng: random.Random, kind: str = "") -> dict[str, Any]:
    kind = kind or rng.choice(["doorway", "corridor", "turn", "side_door", "lift", "tail_lift"])
    sizes = {"width": (800, 1300), "height": (1700, 2300), "sill": (0, 20), "leaf_gain": (0, 60),
             "width_in": (800, 1700), "width_out": (800, 1700), "car_width": (900, 1500),
             "car_depth": (900, 1500), "car_height": (1800, 2300), "rated_load": (400, 1200),
             "wall": (0, 400), "beyond": (0, 900), "platform_width": (700, 1500),
             "platform_depth": (700, 1500), "ramp_width": (900, 1500)}  # fmt: skip
    more = {"riders": 0} if kind == "tail_lift" else {"ramp_made": rng.choice(["built", "loose"])} if kind == "ramp" else {}
    return {"kind": kind, **more, **{key: round(rng.uniform(*ends), 1) for key, ends in sizes.items()}}


def random_inputs(rng: random.Random) -> dict[str, Any]:
    sizes = {"cabinet_width": (700, 1200), "cabinet_depth": (600, 1000), "cabinet_height": (1600, 2000),
             "cabinet_mass": (150, 500), "skid_height": (80, 150), "skid_beyond": (0, 60),
             "gear_height": (30, 150), "gear_wide": (0, 40), "gear_long": (0, 300), "gear_mass": (20, 90),
             "max_tilt": (5, 40), "tilt_angle": (3, 45), "tilt_hands": (900, 1600), "tilt_ceiling": (1900, 2600),
             "rear_gap": (50, 200), "front_clear": (450, 2200), "front_width": (600, 1500), "door_leaf": (500, 700),
             "tray_pullout": (400, 600), "gear_face": (200, 700), "gear_rating": (200, 600), "cord_length": (1500, 3000),
             "outlet_way": (500, 3500)}  # fmt: skip
    made: dict[str, Any] = {key: round(rng.uniform(*ends), 1) for key, ends in sizes.items()}
    made |= {"skid": rng.choice(["on", "off"]), "tilt": rng.random() < 0.4, "crew": rng.randint(1, 5),
             "tilt_over": rng.choice(["back", "front", "left", "right"]), "tilt_gear": rng.random() < 0.5,
             "mover": rng.choice(["people", "people", "powered"]), "surface": rng.choice(["smooth", "uneven"]),
             "in_corridor": rng.random() < 0.8, "alcove": 0, "overhang": 0,
             **{f"{side}_gap_plate": 50 for side in ("rear", "side", "top")}}  # fmt: skip
    # A way holds the gap, the cabinet and what is free in front; now and then more stands opposite.
    room = made["rear_gap"] + made["cabinet_depth"] + made["front_clear"]
    made["corridor_width"] = round(room + rng.choice([0, 0, 400]), 1)
    # Middle of mass near the middle of the box, as the card has it.
    made |= {key: round(made[size] * rng.uniform(0.4, 0.6), 1)
             for key, size in (("cg_height", "cabinet_height"), ("cg_back", "cabinet_depth"), ("cg_side", "cabinet_width"))}  # fmt: skip
    return {**made, "route": [random_leg(rng) for _ in range(rng.randint(1, 3))]}


# -- the best way round -----------------------------------------------------------------


def test_the_narrower_side_goes_first() -> None:
    """A doorway too narrow for the width passes the depth."""
    result = run({**CABINET, "route": [{"kind": "doorway", "width": 940, "height": 2030}]})
    assert check(result, "width")["outcome"] == "pass"
    assert "side first" in check(result, "width")["note"]


def test_the_working_holds_the_compared_numbers() -> None:
    """What is spare in a leg's working is the margin of its check."""
    legs = [{"kind": "doorway", "width": 980, "height": 2030, "sill": 6},
            {"kind": "turn", "width_in": 1250, "width_out": 1100},
            {"kind": "turn", "width_in": 1400, "width_out": 1400},
            {"kind": "lift", "width": 1100, "height": 2100, "sill": 0, "car_width": 1300, "car_depth": 1500,
             "rated_load": 900}]  # fmt: skip
    result = run({**CABINET, "gear_long": 250, "route": legs})
    symbols = {"width": "r_w", "height": "r_h", "turn": "r", "car_width": "r_a", "car_depth": "r_b"}
    for number in range(len(legs)):
        group = next(
            each for each in result["working"] if each["title"].startswith(f"Leg {number + 1},")
        )
        steps = {step["symbol"]: step["value"] for step in group["steps"]}
        for each in result["checks"]:
            if each["at"] == group["title"] and each["key"] in symbols:
                assert steps[symbols[each["key"]]] == pytest.approx(each["margin"], abs=1e-9)


def test_the_table_names_the_best_of_every_way_round() -> None:
    """One row a leg is the best: no other of the same skid leaves more, and its spare is the margin."""
    for seed in range(30):
        inputs = random_inputs(random.Random(f"table-{seed}"))
        result = run(inputs)
        table = next(each for each in result["tables"] if each["title"].startswith("Every way"))
        for at in {row[0] for row in table["rows"]}:
            best = [row for row in table["rows"] if row[0] == at and row[4] == "best"]
            assert len(best) == 1
            margins = [each["margin"] for each in result["checks"] if each["at"] == at and each["key"] in FITS]
            assert result_text(min(margins)) == best[0][3]


def result_text(margin: float) -> str:
    return Units("si").text(margin, "length", "down")


def test_tipped_it_takes_more_room_and_never_less() -> None:
    """A cabinet that is leaned on its way wants the height of the lean; upright it goes under."""
    inputs = {**CABINET, "max_tilt": 60, "tilt_angle": 60, "tilt_over": "back",
              "route": [{"kind": "corridor", "width": 1500, "height": 1950}]}  # fmt: skip
    assert check(run(inputs), "height")["outcome"] == "pass"
    found = check(run({**inputs, "tilt": True}), "height")
    # 1829 by 864 is tallest at its diagonal; on the gear of 76.
    assert found["limit"] == pytest.approx(math.hypot(1829, 864) + 76)
    assert (found["outcome"], found["mend"]["changes"]) == ("stop", {"tilt": "no"})
    assert check(run({**inputs, "tilt": True, "tilt_ceiling": 2140}), "tilt_up")["outcome"] == "pass"
    assert check(run({**inputs, "tilt": True, "tilt_ceiling": 2050}), "tilt_up")["outcome"] == "stop"


def test_the_skid_comes_off_before_a_wider_door_is_asked_for() -> None:
    """The easiest change is printed first."""
    inputs = {**CABINET, "skid": "on", "skid_height": 127, "skid_beyond": 0,
              "route": [{"kind": "doorway", "width": 1100, "height": 1980, "sill": 0}]}  # fmt: skip
    assert check(run(inputs), "height")["mend"]["changes"] == {"skid": "off"}


def test_no_door_leaf_comes_off_unless_its_owner_agrees() -> None:
    """A leaf that gains enough is named before another way in, but only where the owner has said yes."""
    leg = {"kind": "doorway", "width": 910, "height": 2030, "sill": 0, "leaf_gain": 44}
    asked = check(run({**CABINET, "route": [{**leg, "leaf_ok": True}]}), "width")
    assert asked["mend"]["changes"] == {"route.0.leaf_off": "yes"}
    unasked = check(run({**CABINET, "route": [leg]}), "width")
    assert list(unasked["mend"]["changes"]) == ["route.0.width"]
    assert "never lift a door off its hinges yourself" in unasked["note"]
    short = check(run({**CABINET, "route": [{**leg, "leaf_gain": 5}]}), "width")
    assert list(short["mend"]["changes"]) == ["route.0.width"]
    assert "hinges" not in short["note"]


@pytest.mark.parametrize(("leaf", "outcome"), [
    ({"leaf_off": True, "leaf_ok": True}, "pass"), ({"leaf_off": True}, "stop"), ({"leaf_ok": True}, "stop"),
])  # fmt: skip
def test_a_leaf_counts_as_off_only_with_both(leaf: dict[str, bool], outcome: str) -> None:
    """Taken off, and with the owner's agreement."""
    leg = {"kind": "doorway", "width": 910, "height": 2030, "sill": 0, "leaf_gain": 44}
    assert check(run({**CABINET, "route": [{**leg, **leaf}]}), "width")["outcome"] == outcome


def test_a_turn_takes_more_than_both_corridors_say() -> None:
    """Wide enough before and after, and still no turn for a long box."""
    result = run(
        {
            **CABINET,
            "gear_long": 700,
            "route": [{"kind": "turn", "width_in": 1060, "width_out": 1060}],
        }
    )
    assert check(result, "turn")["outcome"] == "stop"


def test_steps_are_never_for_people_alone() -> None:
    """A stop; specialist movers make it care, for they have not looked yet."""
    result = run({**CABINET, "route": [{"kind": "steps", "rise": 180}]})
    assert check(result, "people_alone")["outcome"] == "stop"
    result = run({**CABINET, "route": [{"kind": "steps", "rise": 180, "specialists": True}]})
    assert check(result, "people_alone")["outcome"] == "caution"


def test_the_lift_carries_crew_and_gear_too() -> None:
    """Cabinet alone is light enough, with gear and crew it is not; fewer riders mend it."""
    lift = {"kind": "lift", "width": 1200, "height": 2100, "car_width": 1600, "car_depth": 1600,
            "rated_load": 630}  # fmt: skip
    found = check(run({**CABINET, "route": [lift]}), "lift_load")
    assert found["outcome"] == "stop"
    assert found["mend"]["changes"] == {"route.0.riders": "2"}


# -- unknowns ---------------------------------------------------------------------------


def test_what_is_not_measured_is_named() -> None:
    """A doorway without a height is unknown above, decided across."""
    result = run({**CABINET, "route": [{"kind": "doorway", "width": 1200, "sill": 0}]})
    assert check(result, "width")["outcome"] == "pass"
    found = check(result, "height")
    assert (found["outcome"], found["needs"]) == ("unknown", ["route.0.height"])


def test_the_route_is_asked_for_where_there_is_none() -> None:
    """No legs: unknown, with an action that says what to list."""
    result = run(CABINET)
    assert check(result, "route")["outcome"] == "unknown"
    assert any("legs of the way in" in action for action in result["actions"])


# -- properties -------------------------------------------------------------------------


def outcomes(result: dict[str, Any], keys: tuple[str, ...]) -> dict[tuple[str, str], int]:
    return {(each["key"], each["at"]): OUTCOMES.index(each["outcome"])
            for each in result["checks"] if each["key"] in keys}  # fmt: skip


@given(seed=st.integers(0, 10**6), grow=st.floats(0, 150),
       which=st.sampled_from(["cabinet_width", "cabinet_depth", "cabinet_height", "skid_height", "gear_height",
                              "gear_wide", "gear_long", "door_leaf", "tray_pullout"]))  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_a_bigger_cabinet_never_passes_where_a_smaller_one_fails(seed, grow, which) -> None:
    """The worst outcome of each leg, and every gap of the spot, can only get worse."""
    small = random_inputs(random.Random(seed))
    big = {**small, which: small[which] + grow}
    before, after = outcomes(run(small), FITS), outcomes(run(big), FITS)
    for place in {at for _, at in before if at.startswith("Leg")}:
        worst = [
            min(each for (_, at), each in found.items() if at == place) for found in (before, after)
        ]
        assert worst[1] <= worst[0], place
    for name, each in after.items():
        if not name[1].startswith("Leg"):
            assert each <= before[name], name


def sure_margins(inputs: dict[str, Any]) -> list[float]:
    """The margin of each leg's best way round with everything off the bad way."""
    record = read_record(Inputs, inputs, "si")
    assert isinstance(record, Inputs)
    found = [turning.best_trial(leg, *fit.box_pair(record, 25.4)) for leg in record.route]
    return [min(room.sure for room in trial.rooms) for trial in found if trial]


@given(seed=st.integers(0, 10**6), nudge=st.floats(0.001, 1.0),
       which=st.sampled_from(["cabinet_width", "cabinet_depth", "cabinet_height", "gear_height",
                              "gear_long", "skid_height"]))  # fmt: skip
@settings(max_examples=300, deadline=None)
def test_margins_of_the_way_in_are_continuous(seed, nudge, which) -> None:
    """What decides a leg moves at most one and a half times as far as a size does.

    (A box that grows both ways round: at most 1 for the shorter side and ½ for the longer.) Before a
    side door a mm of box is 1/cos θ mm of corridor, which 4 bounds for cabinets of these sizes.
    """
    plain = random_inputs(random.Random(seed))
    margins = zip(plain["route"], sure_margins(plain), sure_margins({**plain, which: plain[which] + nudge}),
                  strict=True)  # fmt: skip
    for leg, before, after in margins:
        most = 4 if leg["kind"] == "side_door" else 1.5
        assert -most * nudge - 1e-6 <= after - before <= 1e-6


@given(seed=st.integers(0, 10**6), nudge=st.floats(0.001, 1.0),
       which=st.sampled_from(["cabinet_depth", "rear_gap", "front_clear", "front_width", "door_leaf"]))  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_margins_of_the_spot_are_continuous(seed, nudge, which) -> None:
    """No gap of the spot jumps where a size moves a little."""
    plain = {**random_inputs(random.Random(seed)), "in_corridor": True}
    first, second = run(plain), run({**plain, which: plain[which] + nudge})
    for key in ("rear_gap", "door_swing", "tray_room", "passage"):
        assert check(second, key)["margin"] == pytest.approx(
            check(first, key)["margin"], abs=nudge + 1e-6
        )
    floors = [min(each["margin"] for each in result["checks"] if each["key"] == "clear_floor")
              for result in (first, second)]  # fmt: skip
    assert floors[1] == pytest.approx(floors[0], abs=nudge + 1e-6)


# Key, place, the size that is changed, where it passes and where it fails. The first are judged by rules.
BY_RULES = [
    ("push_start", "On the level", "cabinet_mass", 100, 3000), ("push_keep", "On the level", "cabinet_mass", 100, 3000),
    ("ramp_push", "Leg 1, ramp", "cabinet_mass", 50, 3000), ("floor_spread", "", "cabinet_mass", 50, 3000),
    ("floor_patch", "", "cabinet_mass", 50, 3000), ("slope", "", "slope", 0, 60), ("reach_high", "", "control_high", 1000, 1500),
    ("reach_low", "", "control_low", 500, 100), ("protrusion", "", "overhang", 10, 400),
    ("passage", "Corridor", "corridor_width", 3500, 1200), ("rear_gap", "", "rear_gap", 200, 10), ("sill", "Leg 1, doorway", "sill", 1, 60),
    ("ramp_steep", "Leg 1, ramp", "rise", 100, 2000), ("ramp_balance", "Leg 1, ramp", "rise", 100, 9000),
    ("gear_face", "", "gear_face", 700, 100), ("sprinklers", "", "sprinkler_gap", 900, 100), ("cord_reach", "", "outlet_way", 500, 5000),
]  # fmt: skip
BY_SIZE = [
    ("lift_load", "Leg 1, lift", "cabinet_mass", 100, 2000), ("gear_load", "", "cabinet_mass", 100, 2000),
    ("plate_gap", "Left", "left_gap", 200, 0), ("tilt_up", "", "tilt_ceiling", 2900, 1500),
    ("width", "Leg 1, doorway", "width", 1300, 700), ("height", "Leg 1, doorway", "height", 2300, 1500),
    ("ramp_width", "Leg 1, ramp", "ramp_width", 1500, 500), ("ramp_load", "Leg 1, ramp", "rated_load", 2000, 100),
    ("turn", "Leg 1, right-angle turn", "width_in", 1700, 700), ("car_depth", "Leg 1, lift", "car_depth", 1800, 700),
]  # fmt: skip
LEGS = {"lift": {"width": 1500, "height": 2300, "car_width": 1500, "car_depth": 1800, "car_height": 2300, "rated_load": 1200},
        "ramp": {"rise": 100, "run": 4000, "ramp_width": 1500, "ramp_made": "loose", "rated_load": 2000}, "doorway": {"width": 1300, "height": 2300, "sill": 0},
        "turn": {"width_in": 1700, "width_out": 1400}}  # fmt: skip


@pytest.mark.parametrize(("name", "limit"), [
    *[pytest.param(name, limit, id=f"{name} {limit[0]}") for name in rules.RULE_SETS for limit in BY_RULES],
    *[pytest.param("us", limit, id=limit[0]) for limit in BY_SIZE],
])  # fmt: skip
def test_margins_run_through_nothing_at_their_limits(name: str, limit: tuple[str, str, str, float, float]) -> None:
    """Where an outcome leaves pass the margin does not jump: loads, pushes, floors, reach, slopes, openings."""
    key, at, path, good, bad = limit
    kind = at.partition(", ")[2].rpartition(" ")[2]
    leg = LEGS.get(kind, {})
    base = {**CABINET, "crew": 1, "stock_mass": 0, "gear_rating": 900, "floor_use": "office", "floor_known": "kind",
            "surface": "smooth", "legs": "four", "leg_inset": 50, "wheels_apart": 0, "gear_face": 700,
            "overhang_low": 1000, "left_gap": 200, "side_gap_plate": 80, "rear_gap_plate": 0, "in_corridor": True,
            "corridor_use": "many", "corridor_width": 3500, "front_clear": 5000, "rear_gap": 150, "tilt": key == "tilt_up",
            "tilt_angle": 30, "tilt_over": "back", "max_tilt": 30, "tilt_ceiling": 2900, "cg_height": 850,
            "cg_back": 430, "cg_side": 500, "sprinklers": "some", "cord_length": 2700}  # fmt: skip

    def tried(amount: float) -> dict[str, Any]:
        own = {path: amount}
        route = [{"kind": kind, **leg, **(own if path in leg else {})}] if kind else []
        inputs = {**base, "route": route, **({} if path in leg else own)}
        return check(BARE.run({"units": "si", "rules": name, "typed": "si", "inputs": inputs}), key, at)

    if tried(good)["text"].startswith("No figure"):
        assert tried(bad)["outcome"] == "unknown"
        return
    assert jump(tried, good, bad, 34) <= 1e-6


@given(seed=st.integers(0, 10**6))
@settings(max_examples=40, deadline=None)
def test_typed_in_either_system_it_is_the_same_cabinet(seed) -> None:
    """The same sizes typed in inches and in millimetres: same outcomes, same margins."""
    metric = random_inputs(random.Random(seed))
    result = run(metric)
    inches = run(run(metric, "us")["inputs"], "si", "us")
    for one, other in zip(result["checks"], inches["checks"], strict=True):
        if one["margin"] is not None:
            # Six printed figures of a number of inches hold a length to 0.003 mm.
            assert other["margin"] == pytest.approx(one["margin"], abs=0.1)
