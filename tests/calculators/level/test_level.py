"""Against numpy's least squares and a rigid cabinet that settles; mends, limits, mirror images."""

from __future__ import annotations

import copy
import dataclasses
import math
import random
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.core import rules
from calculators.level import CALCULATOR, maths
from calculators.level.inputs import FEET, LEGS, THREADS
from tests.support.sheet import check, value

from .rigid import Array, counted, rest, turned

US = rules.load("us")
QUICK = dataclasses.replace(CALCULATOR, probe=False)
NAMED = [thread for thread in THREADS if thread != "other"]
KEYS = {label: key for key, label in LEGS.items()}
FOUR = ("front_left", "front_right", "rear_left", "rear_right")
EXTRA = {"four": (), "six_wide": ("front_middle", "rear_middle"), "six_deep": ("left_middle", "right_middle")}
AHEAD = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "rear": (0, 1),
         "front_left": (-1, -1), "front_right": (1, -1), "rear_left": (-1, 1), "rear_right": (1, 1)}  # fmt: skip


def run(inputs: dict[str, Any], units: str = "si") -> dict[str, Any]:
    return QUICK.run({"units": units, "typed": "si", "inputs": inputs})


def order(result: dict[str, Any], title: str = "Order of work") -> list[tuple[str, float, str, str]]:
    """The printed order of work: leg, turns, direction and what its corner does."""
    found = []
    table = next(each for each in result["tables"] if each["title"] == title)
    for place, turn, corner in table["rows"]:
        plain = turn.removeprefix("about ").replace(", until it bears", "")
        turns, unit, quarter = re.split(" (turns?) ?", plain)
        assert unit == ("turn" if 0 < counted(turns) <= 1 else "turns")
        name = place.partition(". ")[2]
        found.append((KEYS.get(name, name), counted(turns), quarter, corner.partition(";")[0]))
    return found


def way(high: str, wide: float, deep: float) -> Array:
    """The unit vector along which the level rises."""
    rise = np.array(AHEAD[high]) * ((wide, deep) if "_" in high else (1, 1))
    return np.asarray(rise / np.linalg.norm(rise))


def reading(rng: random.Random, high: str, slope: float) -> dict[str, Any]:
    """A reading of that slope, given in one of the three ways; below 0 the other end is high."""
    if slope < 0:
        swap = {"left": "right", "right": "left", "front": "rear", "rear": "front"}
        high, slope = "_".join(swap[part] for part in high.split("_")), -slope
    kind = rng.choice(["slope", "angle", "divisions"])
    shown = {"slope": slope, "angle": math.degrees(math.atan(slope / 1000)), "divisions": slope / 4}[kind]
    return {"high": high, "shown_as": kind, kind: shown}


# -- least squares -----------------------------------------------------------------------


def test_the_plane_is_numpy_s_least_squares() -> None:
    """500 cabinets with three to eight noisy readings, straight and corner to corner."""
    rng = random.Random("least squares")
    for _ in range(500):
        wide, deep = rng.uniform(400, 1500), rng.uniform(400, 1500)
        highs = ["left", "rear", *rng.choices(list(AHEAD), k=rng.randint(1, 6))]
        ways = np.array([way(high, wide, deep) for high in highs])
        slopes = ways @ [rng.uniform(-15, 15), rng.uniform(-15, 15)] + [rng.gauss(0, 0.7) for _ in highs]
        result = run({"leg_layout": "four", "span_x": wide, "span_y": deep, "vial": 4,
                      "readings": [reading(rng, *each) for each in zip(highs, slopes, strict=True)]})  # fmt: skip
        plane = np.linalg.lstsq(ways, slopes, rcond=None)[0]
        found = [value(result, "slope_x"), value(result, "slope_y")]
        assert found == pytest.approx(plane, rel=1e-9, abs=1e-9)
        off = np.abs(slopes - ways @ plane).max()
        assert value(result, "spread") == pytest.approx(off, rel=1e-9, abs=1e-9)


def test_one_bad_reading_shows() -> None:
    """Readings that agree pass; one that lies off warns, and says to read again."""
    good = [{"high": "left", "slope": 4}, {"high": "left", "slope": 4.5}, {"high": "rear", "slope": 2}]
    assert check(run({"readings": good}), "spread")["outcome"] == "pass"
    bad = run({"readings": [*good, {"high": "right", "slope": 4}]})
    assert check(bad, "spread")["outcome"] == "caution"
    assert "again" in check(bad, "spread")["note"]


def test_one_direction_alone_is_not_a_plane() -> None:
    """Three readings left to right say nothing of front to back."""
    result = run({"readings": [{"high": "left", "slope": 2}] * 3})
    assert check(result, "slope_now")["outcome"] == "unknown"
    assert "front to back" in check(result, "slope_now")["note"]


# -- the printed turns on a rigid cabinet ------------------------------------------------


def stand(rng: random.Random, layout: str) -> dict[str, Any]:
    """A cabinet set down on an uneven floor: its legs, how it rests, and what a person reads."""
    wide, deep = rng.uniform(500, 1200), rng.uniform(500, 1200)
    spots = {"left": 0.0, "right": wide, "front": 0.0, "rear": deep}
    names = [*FOUR, *EXTRA[layout]]
    points = np.array([[spots.get(b, wide / 2) if a in ("front", "rear") else spots[a],
                        spots[a] if a in ("front", "rear") else deep / 2]
                       for a, b in (name.split("_") for name in names)]) / 1000  # fmt: skip
    lean = np.array([rng.uniform(-9, 9), rng.uniform(-9, 9)])
    bumps = np.array([rng.uniform(-1.5, 1.5) for _ in names])
    bumps[4:] = bumps[:4].min() - abs(bumps[4:])  # middle legs hang until they are turned down
    lengths = np.array([rng.uniform(15, 25) for _ in names])
    floor = points @ lean + bumps - lengths + 20
    plane = rest(points, floor + lengths, points[:4].mean(axis=0))
    gaps = points @ plane[:2] + plane[2] - floor - lengths
    return {"layout": layout, "names": names, "points": points, "floor": floor, "lengths": lengths,
            "plane": plane, "gaps": np.maximum(gaps, 0.0), "wide": wide, "deep": deep}  # fmt: skip


def asked(rng: random.Random, at: dict[str, Any], thread: str, foot: str, hand: str) -> dict[str, Any]:
    """What the person types: exact readings three ways, thread showing and gap of every leg."""
    highs = ("right", "rear", "rear_left", "rear_right")
    return {
        "leg_layout": at["layout"], "span_x": at["wide"], "span_y": at["deep"], "thread": thread, "foot": foot,
        "thread_hand": hand, "vial": 4, "rocks": False, "range_given": True, "thread_least": 2, "thread_most": 100,
        "readings": [reading(rng, high, float(way(high, at["wide"], at["deep"]) @ at["plane"][:2]))
                     for high in highs],
        "each_leg": [{"leg": name, "out": length, "gap": gap} for name, length, gap in
                     zip(at["names"], at["lengths"], at["gaps"], strict=True)],
    }  # fmt: skip


def after(at: dict[str, Any], result: dict[str, Any], **how: Any) -> Array:
    """The legs' lengths after every turn that the table prints."""
    lengths = at["lengths"].copy()
    for name, turns, quarter, _ in order(result):
        if turns:
            number = at["names"].index(name)
            lengths[number] = turned(lengths[number], quarter, turns, **how)
    return np.asarray(lengths)


def steepest(points: Array, tops: Array) -> float:
    """A mass a hair off the middle settles on one side of a rocking diagonal or the other."""
    middle = points[:4].mean(axis=0)
    nudged = [middle + np.array([dx, dy]) * 1e-4 for dx in (-1, 1) for dy in (-1, 1)]
    return max(math.hypot(*rest(points, tops, mass)[:2]) for mass in nudged)


@pytest.mark.parametrize("layout", list(EXTRA))
def test_the_printed_turns_bring_a_rigid_cabinet_level(layout: str) -> None:
    """Each foot, hand and thread: turned as printed, it settles within what rounding leaves."""
    rng = random.Random(layout)
    for number in range(60):
        at = stand(rng, layout)
        thread, foot, hand = NAMED[number % len(NAMED)], list(FEET)[number % 3], rng.choice(["right", "left"])
        pitch = US[f"level.pitch_{thread}"].inner
        result = run(asked(rng, at, thread, foot, hand))
        tops = at["floor"] + after(at, result, foot=foot, hand=hand, pitch=pitch)
        # Middle legs are wound up until the corners are done; then they bear, and lift nothing.
        corners = steepest(at["points"][:4], tops[:4])
        assert corners == pytest.approx(value(result, "after"), rel=1e-6, abs=1e-6)
        # Each corner is off by a sixteenth of a turn at most, so each direction by an eighth.
        rounding = pitch / 8 * 1000 * math.hypot(1 / at["wide"], 1 / at["deep"])
        assert max(corners, steepest(at["points"], tops)) <= rounding * (1 + 1e-9)
        assert math.hypot(*at["plane"][:2]) == pytest.approx(value(result, "slope"), rel=1e-9)


def test_turning_the_other_way_makes_it_worse() -> None:
    """The sign test's own test: the same turns with another foot tilt the cabinet further."""
    rng = random.Random("wrong way")
    for _ in range(20):
        at = stand(rng, "four")
        result = run(asked(rng, at, "m12", "stud", "right"))
        tops = at["floor"] + after(at, result, foot="nut", hand="right", pitch=1.75)
        worse = math.hypot(*rest(at["points"], tops, at["points"].mean(axis=0))[:2])
        assert worse > value(result, "slope") > value(result, "after")


@pytest.mark.parametrize(("foot", "hand", "clockwise"), [
    ("stud", "right", True), ("cap", "right", True), ("nut", "right", False),
    ("stud", "left", False), ("cap", "left", False), ("nut", "left", True),
])  # fmt: skip
def test_which_way_raises(foot: str, hand: str, clockwise: bool) -> None:
    """An ordinary stud foot turned clockwise from above raises its corner; a nut lowers it."""
    assert maths.clockwise(foot, hand, rises=True) is clockwise
    assert maths.clockwise(foot, hand, rises=False) is not clockwise


def test_middle_legs_never_lift_the_frame() -> None:
    """With a middle leg's printed turns its top stays at or below the level of the corners."""
    rng = random.Random("middle legs")
    for number in range(40):
        at = stand(rng, ("six_wide", "six_deep")[number % 2])
        result = run(asked(rng, at, "m10", "stud", "right"))
        tops = at["floor"] + after(at, result, foot="stud", hand="right", pitch=1.5)
        assert tops[4:].max() <= tops[:4].max() + 1e-6
        assert {name for name, *_ in order(result)[4:]} == set(at["names"][4:])


# -- threads that run out ----------------------------------------------------------------


def short_thread(rng: random.Random) -> dict[str, Any]:
    """A cabinet whose legs cannot give enough."""
    return {
        "leg_layout": rng.choice(list(EXTRA)), "span_x": rng.uniform(500, 1200), "span_y": rng.uniform(500, 1200),
        "thread": rng.choice(NAMED), "foot": "stud", "rocks": False,
        "thread_out": rng.uniform(6, 14), "thread_least": rng.uniform(0, 4), "thread_most": rng.uniform(12, 22),
        "stud_length": rng.uniform(30, 40),
        "readings": [{"high": rng.choice(["left", "right"]), "slope": rng.uniform(0, 16)},
                     {"high": rng.choice(["front", "rear"]), "slope": rng.uniform(0, 16)}],
    }  # fmt: skip


@pytest.mark.parametrize("units", ["us", "si"])
def test_the_printed_plates_let_the_threads_reach(units: str) -> None:
    """200 cabinets with too little thread: with the plates as printed, every leg reaches. The thinnest are told too."""
    rng = random.Random(f"plates {units}")
    mended = thin = 0
    for _ in range(3000):
        inputs = short_thread(rng)
        result = run(inputs, units)
        for key in ("reach", "short", "engaged"):
            if check(result, key)["mend"]:
                again = copy.deepcopy(inputs) | check(result, key)["mend"]["changes"]
                assert {check(run(again, units), each)["outcome"] for each in ("reach", "short", "engaged")} == {"pass"}
                mended += 1
                thin += {"si": "1 mm", "us": "1/16 in"}[units] in check(result, key)["mend"]["changes"].values()
        if mended >= 200:
            assert thin > 10
            return
    pytest.fail("too few failures came up")


def test_the_two_step_plan_is_the_one_that_the_plates_give() -> None:
    """Entering the printed plates gives the very turns printed beside them, and a level stand."""
    rng = random.Random("two steps")
    seen = 0
    while seen < 20:
        inputs = short_thread(rng)
        result = run(inputs)
        if mend := check(result, "reach")["mend"]:
            again = run(inputs | mend["changes"])
            assert order(again) == order(result, "In two steps: then the turns")
            assert value(again, "after") < value(result, "after")
            assert value(again, "after") < 1.5
            seen += 1


def test_the_working_s_turns_round_to_the_printed_ones() -> None:
    """Rise, pitch and rounding by hand give the turns of the plan, to the nearest eighth."""
    rng = random.Random("working")
    for _ in range(40):
        at = stand(rng, "four")
        result = run(asked(rng, at, "m12", "stud", "right"))
        steps = {step["symbol"]: step["value"] for part in result["working"] for step in part["steps"]}
        for n in range(1, 5):
            assert steps[f"m_{n}"] * 1.75 == pytest.approx(steps[f"z_{n}"], abs=1e-9)
            assert abs(steps[f"m_{n}"] - steps[f"N_{n}"]) <= 1 / 16 + 1e-9
            assert steps[f"N_{n}"] * 8 == round(steps[f"N_{n}"] * 8)
        assert sorted(-abs(steps[f"N_{n}"]) for n in range(1, 5)) == [-turns for _, turns, *_ in order(result)]


def test_a_bubble_of_an_unknown_vial_says_nothing() -> None:
    """Even a bubble in the middle is no reading while nobody knows what a division means."""
    rows = [{"high": high, "shown_as": "divisions"} for high in ("none_across", "none_along", "none_across")]
    unknown = check(run({"readings": rows}), "slope_now")
    assert unknown["outcome"] == "unknown"
    assert unknown["needs"] == ["vial"]
    assert check(run({"readings": rows, "vial": 2}), "slope_now")["outcome"] == "pass"


def test_a_plate_is_asked_for_only_where_threads_run_out() -> None:
    """Legs that come down instead of up save the plate."""
    inputs = {"leg_layout": "four", "span_x": 800, "span_y": 800, "thread": "m10", "foot": "cap", "thread_out": 14, "thread_least": 2,
              "thread_most": 18, "readings": [{"high": "left", "slope": 10}, {"high": "none_along"}]}  # fmt: skip
    result = run(inputs)
    assert check(result, "reach")["outcome"] == "pass"
    assert {corner for *_, corner in order(result)} == {"rises", "comes down"}
    tight = run({**inputs, "thread_least": 12})
    assert "plate_front_right" in check(tight, "reach")["mend"]["changes"]
    assert "plate_front_left" not in check(tight, "reach")["mend"]["changes"]


def test_a_gap_is_made_up_by_its_own_leg() -> None:
    """A level cabinet with one leg 3 mm in the air: that leg alone goes down two turns."""
    result = run({"leg_layout": "four", "span_x": 800, "span_y": 800, "thread": "m10", "foot": "stud",
                  "readings": [{"high": "none_across"}, {"high": "none_along"}],
                  "each_leg": [{"leg": "rear_left", "gap": 3}]})  # fmt: skip
    first, *others = order(result)
    assert first == ("rear_left", 2.0, "clockwise", "rises")
    assert all(turns == 0 for _, turns, *_ in others)
    assert check(result, "bears")["outcome"] == "stop"


def test_a_level_that_is_too_coarse_cannot_say_go() -> None:
    """Half a degree a division: a bubble in the middle is no proof of 3 mm/m."""
    rows = [{"high": high, "shown_as": "divisions", "divisions": 0} for high in ("left", "rear", "right")]
    coarse = check(run({"vial_arc": 30, "readings": rows}), "slope_now")
    assert coarse["outcome"] == "caution"
    assert "finer level" in coarse["note"]
    assert check(run({"vial_arc": 3, "readings": rows}), "slope_now")["outcome"] == "pass"


# -- what must hold for any cabinet ------------------------------------------------------

SLOPES = st.floats(-20, 20).map(lambda slope: round(slope, 3))


def sloped(across: float, along: float, **more: Any) -> dict[str, Any]:
    rng = random.Random(0)
    return {"leg_layout": "four", "span_x": 900, "span_y": 700, "thread": "m12", "foot": "stud", "vial": 4,
            "readings": [reading(rng, "right", across), reading(rng, "rear", along)], **more}  # fmt: skip


def turns_of(result: dict[str, Any]) -> dict[str, tuple[Any, ...]]:
    return {name: rest_ for name, *rest_ in order(result)}


@given(across=SLOPES, along=SLOPES)
@settings(max_examples=60, deadline=None)
def test_a_mirror_image_turns_the_mirrored_legs(across: float, along: float) -> None:
    """Left and right swapped: the same turns at the swapped legs."""
    here, there = turns_of(run(sloped(across, along))), turns_of(run(sloped(-across, along)))
    for name, row in here.items():
        swapped = name.replace("left", "*").replace("right", "left").replace("*", "right")
        assert there[swapped] == row


@given(across=SLOPES, along=SLOPES)
@settings(max_examples=60, deadline=None)
def test_with_thread_enough_no_leg_comes_down(across: float, along: float) -> None:
    """One corner stays, the others rise; the highest corner is the one that stays."""
    turns = turns_of(run(sloped(across, along)))
    assert all(way_ != "comes down" for _, _, way_ in turns.values())
    highest = f"{'rear' if along > 0 else 'front'}_{'right' if across > 0 else 'left'}"
    assert turns[highest][0] == 0


@given(across=SLOPES, along=SLOPES, more=st.floats(0.1, 5))
@settings(max_examples=60, deadline=None)
def test_a_steeper_stand_never_needs_fewer_turns(across: float, along: float, more: float) -> None:
    """Leaning further the same way, the most turns do not fall."""
    steeper = (across + math.copysign(more, across), along + math.copysign(more, along))
    here, there = run(sloped(across, along)), run(sloped(*steeper))
    assert value(there, "turns") >= value(here, "turns")


def test_own_layouts_follow_the_usual_ones() -> None:
    """Four legs given by their places turn as the four of the usual layout."""
    usual = run(sloped(7, -4))
    rows = [{"x": x, "y": y} for x, y in ((0, 0), (900, 0), (0, 700), (900, 700))]
    own = run({**sloped(7, -4), "leg_layout": "own", "each_leg": rows})
    assert [row[1:] for row in order(own)] == [row[1:] for row in order(usual)]
    assert value(own, "after") == pytest.approx(value(usual, "after"))


def test_legs_in_a_line_are_no_stand() -> None:
    """Three legs in a line carry nothing: no turns are given."""
    rows = [{"x": 100 * n, "y": 200 * n} for n in range(3)]
    result = run({**sloped(7, -4), "leg_layout": "own", "each_leg": rows})
    assert result["tables"] == []
    assert value(result, "after") is None
