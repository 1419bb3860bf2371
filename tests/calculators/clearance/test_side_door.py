"""The door in the side of a corridor: against brute force, the exact corner, scipy; and as a leg."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

import calculators
from calculators.clearance import maths, sidedoor, turning
from calculators.clearance.fit import Cargo
from calculators.clearance.inputs import Leg
from tests.calculators.clearance.sidemotion import gets_out
from tests.calculators.clearance.test_route import CABINET, check, run

CASES = 320
Case = tuple[float, float, float, float, float, float]  # corridor, door, longer, shorter, wall, beyond


def spare(corridor: float, door: float, longer: float, shorter: float, wall: float, beyond: float) -> float:
    """The calculator's own margin: the best way round of a bare box, the doorway counted too."""
    cargo = Cargo(longer, shorter, None, 0.0, None, 0.0, 0.0, 0.0)
    leg = Leg(kind="side_door", width_in=corridor, width=door, wall=wall, beyond=beyond)
    tried = [each for each in turning.trials(leg, cargo, cargo) if each.rooms]
    return max(min(room.have - room.want for room in trial.rooms) for trial in tried)


def random_case(rng: random.Random) -> Case:
    shorter = rng.uniform(300, 1000)
    longer = rng.uniform(shorter, 2 * shorter + 400)
    door = rng.uniform(0.98, 1.6) * shorter
    wall = rng.choice([0.0, rng.uniform(0, 400), rng.uniform(0, 2000)])
    beyond = rng.choice([0.0, rng.uniform(0, 300), 3000.0])
    return rng.uniform(0.8, 1.3) * longer, door, longer, shorter, wall, beyond


def near_case(rng: random.Random) -> Case:
    """Within 1 mm of the least corridor, and no nearer than the brute force can tell."""
    while True:
        _, door, longer, shorter, wall, beyond = random_case(rng)
        need = sidedoor.corridor_wanted(longer, shorter, door, wall, beyond).width
        case = need + rng.choice((-1, 1)) * rng.uniform(0.05, 1.0), door, longer, shorter, wall, beyond
        if 0.05 < abs(spare(*case)) <= 1.0:
            return case


def closer(case: Case) -> tuple[float, float]:
    """Where to look closer: at the tightest angle, and where the box begins to slide out."""
    _, door, longer, shorter, wall, beyond = case
    free = math.atan2(wall, door) + math.asin(min(1.0, shorter / math.hypot(door, wall)))
    return sidedoor.corridor_wanted(longer, shorter, door, wall, beyond).angle, math.degrees(free)


@pytest.mark.parametrize("block", range(4))
def test_brute_force_agrees(block: int) -> None:
    """Free places laid angle beside angle give the same answer, near the limit and far.

    So "pass" never stands where brute force finds no way, nor "stop" where it finds one.
    """
    rng = random.Random(f"side door {block}")
    seen: dict[bool, int] = {True: 0, False: 0}
    for number in range(CASES // 4):
        case = near_case(rng) if number % 2 else random_case(rng)
        margin = spare(*case)
        if abs(margin) < 0.05:
            continue  # a far case that fell on the limit by chance
        assert gets_out(*case, near=closer(case)) == (margin > 0), (case, margin)
        seen[margin > 0] += 1
    assert min(seen.values()) > CASES // 20


SIZES = st.floats(200, 2500)


@given(door=SIZES, longer=SIZES, share=st.floats(0.05, 0.98))
@settings(max_examples=150, deadline=None)
def test_a_deep_doorway_at_the_corridor_s_end_is_a_corner(door: float, longer: float, share: float) -> None:
    """With an endless wall and nothing past the door it is the right-angle turn, which is exact."""
    shorter = share * min(door, longer)
    need = sidedoor.corridor_wanted(longer, shorter, door, 1e9, 0.0).width
    assert need == pytest.approx(maths.least_width_in(door, longer, shorter), rel=1e-6)


@given(door=SIZES, longer=SIZES, share=st.floats(0.05, 0.98), wall=st.floats(0, 2000),
       beyond=st.floats(0, 3000))  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_no_angle_wants_more_corridor(door, longer, share, wall, beyond) -> None:
    """A bounded scipy search of each sum, in forty windows, finds no angle that asks for more."""
    shorter = share * min(door, longer)
    need = sidedoor.corridor_wanted(longer, shorter, door, wall, beyond)
    part = math.degrees(math.asin(shorter / door))
    free = math.degrees(math.atan2(wall, door) + math.asin(shorter / math.hypot(door, wall)))
    for meets, reach, low, high in (("corner", door, 0.0, part), ("jambs", door, part, free),
                                    ("end", door + beyond, 0.0, part)):  # fmt: skip
        for n in range(40 if high - low > 1e-6 else 0):
            ends = low + (high - low) * n / 40, low + (high - low) * (n + 1) / 40
            found = minimize_scalar(
                lambda q, m=meets, r=reach: -sidedoor.asked(m, longer, shorter, r, min(q, sidedoor.STEEPEST)),
                bounds=ends, method="bounded")  # fmt: skip
            assert -found.fun <= need.width + 0.01
    if need.angle > 0:
        reach = door + beyond if need.meets == "end" else door
        assert sidedoor.asked(need.meets, longer, shorter, reach, need.angle) == need.width


@given(door=st.floats(600, 1500), longer=st.floats(400, 2500), share=st.floats(0.1, 0.97),
       wall=st.floats(0, 800), beyond=st.floats(0, 1500), grow=st.floats(0, 300))  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_more_box_or_less_room_never_wants_less_corridor(door, longer, share, wall, beyond, grow) -> None:
    """A larger box, a narrower door, a thicker wall, a nearer end: the corridor wanted only rises."""
    shorter = share * min(door, longer)

    def need(longer: float, shorter: float, door: float, wall: float, beyond: float) -> float:
        return sidedoor.corridor_wanted(longer, shorter, door, wall, beyond).width

    plain = need(longer, shorter, door, wall, beyond)
    for worse in ((longer + grow, shorter, door, wall, beyond),
                  (longer, min(shorter + grow, door, longer), door, wall, beyond),
                  (longer, shorter, max(door - grow, shorter), wall, beyond),
                  (longer, shorter, door, wall + grow, beyond),
                  (longer, shorter, door, wall, max(beyond - grow, 0.0))):  # fmt: skip
        assert need(*worse) >= plain - 0.01
    # Never more than the box is long both ways, and never less than it is wide.
    assert shorter - 1e-9 <= plain <= math.hypot(longer, shorter) + 1e-9


@given(longer=st.floats(400, 2500), share=st.floats(0.1, 1.0), corridor=st.floats(400, 3000),
       wall=st.floats(0, 800), beyond=st.floats(0, 1500))  # fmt: skip
@settings(max_examples=100, deadline=None)
def test_the_least_door_is_just_wide_enough(longer, share, corridor, wall, beyond) -> None:
    """The least doorway lets the box turn in; a mm less does not, unless it is as narrow as the box."""
    shorter = share * longer
    door = sidedoor.least_door(longer, shorter, corridor, wall, beyond)
    if corridor < shorter:
        assert door == math.inf
        return
    if door < longer:
        assert sidedoor.corridor_wanted(longer, shorter, door, wall, beyond).width <= corridor
    if door > shorter + 1.0:
        assert sidedoor.corridor_wanted(longer, shorter, door - 1.0, wall, beyond).width > corridor


# -- as a leg ---------------------------------------------------------------------------

LEG = {"kind": "side_door", "sill": 0, "width": 1000, "height": 2100, "width_in": 1300, "wall": 150, "beyond": 900}


def side(**changed: Any) -> dict[str, Any]:
    leg = {key: value for key, value in {**LEG, **changed}.items() if value is not None}
    return run({**CABINET, "route": [leg]})


def test_a_wide_corridor_lets_it_turn_in() -> None:
    """Room in the corridor, in the doorway and above; the sheet says that the bound is exact."""
    result = side()
    assert [check(result, key)["outcome"] for key in ("side_room", "width", "height")] == ["pass"] * 3
    assert "Exact for a straight corridor" in check(result, "side_room")["note"]


@pytest.mark.parametrize("leg", [{}, {"width_in": 940}, {"beyond": 0}, {"width": 1500, "width_in": 1100}])
def test_what_is_left_in_the_working_is_what_the_checks_have_to_spare(leg: dict[str, Any]) -> None:
    """In the corridor and in the doorway: turned, too narrow, at the corridor's end, and pushed without turning."""
    result = side(**leg)
    left = {step["symbol"]: step["value"] for group in result["working"] for step in group["steps"] if step["symbol"] in ("r_a", "r_w")}
    assert left == {symbol: pytest.approx(check(result, key)["margin"]) for symbol, key in (("r_a", "side_room"), ("r_w", "width"))}


def test_a_narrow_corridor_stops_it_and_the_mend_says_how_wide() -> None:
    """The corridor wanted stands in the check; the door or the corridor is what must change."""
    found = check(side(width_in=940), "side_room")
    assert found["outcome"] == "stop"
    assert found["value"] < found["limit"]
    assert set(found["mend"]["changes"]) <= {"route.0.width_in", "route.0.width"}


def test_an_unknown_wall_is_asked_for_only_where_it_decides() -> None:
    """Unturned it needs no wall; where only turning could do, the thickness is to be measured."""
    open_door = side(wall=None, width=1500, width_in=1100)
    assert check(open_door, "side_room")["outcome"] == "pass"
    tight = check(side(wall=None, width_in=1030), "side_room")
    assert (tight["outcome"], tight["needs"]) == ("unknown", ["route.0.wall"])


def test_the_corridor_s_end_is_taken_to_be_at_the_door_unless_told() -> None:
    """Left blank nothing lies past the door, which asks for the most corridor."""
    assert check(side(beyond=None), "side_room")["limit"] >= check(side(), "side_room")["limit"]


def test_every_size_unknown_is_unknown() -> None:
    """A leg of which only the kind is known fails nothing and names what to measure."""
    result = run({"route": [{"kind": "side_door"}]})
    found = [each for each in result["checks"] if each["at"].startswith("Leg 1")]
    assert {each["outcome"] for each in found if each["key"] != "sill"} == {"unknown"}


def test_a_side_nobody_measured_asks_for_no_doorway() -> None:
    """The corridor, the door and its wall are known, the cabinet's width and depth are not: it asks on."""
    leg = {"kind": "side_door", "place": "x", "width": 817, "height": 1281, "sill": 10, "width_in": 1798, "wall": 130}
    result = run({"cabinet_height": 2274, "gear_height": 46, "route": [leg]})
    assert check(result, "side_room")["outcome"] == "unknown"
    assert sidedoor.least_door(900, 0, 1798, 130, 0) == 0
    assert sidedoor.least_door(900, 1, 1798, 130, 0) >= 1


def test_where_door_and_corridor_are_both_too_narrow_the_mend_widens_both() -> None:
    """As wide as it says, to the millimetre, the cabinet goes in."""
    found = calculators.get("clearance")
    example = found.example_for("us", "si")
    narrow = {"kind": "side_door", "place": "office", "width": 800, "width_in": 900, "height": 2200}

    def room(**changes: Any) -> dict[str, Any]:
        result = calculators.run("clearance", {"units": "si", "typed": "si", "inputs": {**example, "route": [{**narrow, **changes}]}})
        return next(check for check in result["checks"] if check["key"] == "side_room")

    changes = {key.removeprefix("route.0."): text for key, text in room()["mend"]["changes"].items()}
    assert set(changes) == {"width", "width_in"}
    assert room(**changes)["outcome"] == "pass"
    assert room(**{**changes, "width": 800})["outcome"] == "stop"
