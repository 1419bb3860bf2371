"""A thousand cabinets on an independent model of vectors in space, and the wind on another way through both codes."""

from __future__ import annotations

import dataclasses
import math
import random
from typing import Any

import pytest

from calculators.standing import CALCULATOR, masses, maths

from . import vectors

QUICK = dataclasses.replace(CALCULATOR, probe=False)
CASES = 1000
PARTS = 10
ANGLES = {"angle_empty": "empty", "angle_full": "full", "angle_open": "full open", "angle_tray": "tray"}
TERRAIN = {"0": (0.003, 1.0), "i": (0.01, 1.0), "ii": (0.05, 2.0), "iii": (0.3, 5.0), "iv": (1.0, 10.0)}
GRADIENT = {"b": (1200.0, 7.0), "c": (900.0, 9.5), "d": (700.0, 11.5)}


def cabinet(rng: random.Random) -> dict[str, Any]:
    """Any cabinet whose middle of mass is known, in metric units."""
    wide, deep, tall = rng.uniform(500, 1300), rng.uniform(500, 1000), rng.uniform(1200, 2100)
    mass, goods = rng.uniform(120, 500), rng.uniform(20, 300)
    return {
        "cabinet_width": wide, "cabinet_depth": deep, "cabinet_height": tall, "cabinet_mass": mass, "anchored": False,
        "cg_height": tall * rng.uniform(0.31, 0.69), "cg_back": deep * rng.uniform(0.31, 0.69),
        "cg_side": wide * rng.uniform(0.31, 0.69), "leg_inset": rng.uniform(0, 0.25) * min(wide, deep), "stock_mass": goods,
        "stock_height": tall * rng.uniform(0.31, 0.69), "door_leaf": wide * rng.uniform(0.4, 1), "door_mass": mass * rng.uniform(0, 0.24),
        "hinge_side": rng.choice(["left", "right"]), "tray_pullout": deep * rng.uniform(0, 0.9), "tray_load": goods * rng.uniform(0, 0.39),
        "lean_along": rng.uniform(0, 60), "lean_across": rng.uniform(0, 60), "rough_use": False,
        "push_height": rng.uniform(800, 2400), "outdoors": False,
    }  # fmt: skip


def run(case: dict[str, Any], rules: str = "us") -> dict[str, Any]:
    return QUICK.run({"units": "si", "typed": "si", "rules": rules, "inputs": case})


def values(result: dict[str, Any]) -> dict[str, float]:
    return {value["key"]: value["inner"] for value in result["values"]}


@pytest.mark.parametrize("part", range(PARTS))
def test_angles_and_pushes_are_those_of_vectors_in_space(part: int) -> None:
    """Each state's angle and push: by halving on moments about the feet's edges; no state is forgotten."""
    seen = 0
    for seed in range(part, CASES, PARTS):
        rng = random.Random(f"standing {seed}")
        case = cabinet(rng)
        found, ways = values(run(case)), vectors.states(case)
        key = rng.choice(list(ANGLES))  # one state each keeps this quick; all come up hundreds of times
        names = ("tray", "first tray") if key == "angle_tray" else (ANGLES[key],)
        assert found[key] == pytest.approx(min(vectors.angle(case, ways[name]) for name in names), abs=1e-6), case
        pushes = [vectors.push(case, ways[name]) for name in ("empty", "full", "empty open", "full open")]
        assert found["push"] == pytest.approx(min(pushes), rel=1e-9, abs=1e-6), case
        seen += 1
    assert seen == CASES // PARTS


def gust(speed: float, exposure: str) -> float:
    """ASCE 7-16 in US units, one line: psf to Pa at the end."""
    gradient, power = GRADIENT[exposure]
    pressure = 0.00256 * 2.01 * (15 / gradient) ** (2 / power) * 0.85 * (speed / 0.44704) ** 2
    return max(pressure * 0.85 * 1.4, 16) * 0.45359237 * 9.80665 / 0.3048**2


def peak(speed: float, terrain: str, tall: float) -> float:
    """EN 1991-1-4: the peak by the exposure factor of its 4.5, c_e = q_p/q_b, and the force coefficient."""
    rough, low = TERRAIN[terrain]
    log = math.log(max(tall / 1000, low) / rough)
    factor = 0.19 * (rough / 0.05) ** 0.07
    exposed = factor**2 * (log**2 + 7 * log)
    return exposed * 0.5 * 1.25 * speed**2 * 2.4 * 0.7


@pytest.mark.parametrize("rules", ["us", "uk", "eu"])
def test_wind_on_a_cabinet_is_that_of_another_way_through_the_code(rules: str) -> None:
    """Force, both moments and the pull on an anchor, of 300 cabinets each."""
    wind, dead = (0.6, 0.6) if rules == "us" else (1.5, 0.9)
    for seed in range(300):
        rng = random.Random(f"wind {rules} {seed}")
        case = {**cabinet(rng), "outdoors": True, "hill": False, "wind_speed": rng.uniform(15 if rules == "us" else 20, 90), "friction": 0.4}
        if rules == "us":
            case["exposure"] = rng.choice(list(GRADIENT))
            pressure = gust(case["wind_speed"], case["exposure"])
        else:
            case |= {"terrain": rng.choice(list(TERRAIN)), **({"altitude": rng.uniform(0, 800)} if rules == "uk" else {})}
            pressure = peak(case["wind_speed"] * (1 + case.get("altitude", 0) / 1000), case["terrain"], case["cabinet_height"])
        _agrees(case, run(case, rules), wind * pressure, dead)


def _agrees(case: dict[str, Any], result: dict[str, Any], pressure: float, dead: float) -> None:
    tall, found, shut = case["cabinet_height"], values(result), [vectors.loads(case, full) for full in (False, True)]
    forces = {"front or back": pressure * case["cabinet_width"] * tall / 1e6, "a side": pressure * case["cabinet_depth"] * tall / 1e6}
    assert found["wind"] == pytest.approx(max(forces.values()), rel=1e-9)
    for side, edges in (("front or back", ("front", "back")), ("a side", ("left", "right"))):
        check = next(each for each in result["checks"] if each["at"] == f"Wind on {side}")
        # Where the goods lie nobody can type: at worst, whether it holds so or is lost.
        worst = dead * min(vectors.weighs(case, edge, ways) for edge in edges for ways in shut)
        assert check["outcome"] != "unknown"
        assert check["limit"] == pytest.approx(forces[side] * tall / 2000, rel=1e-9)
        assert check["value"] == pytest.approx(worst, rel=1e-9)
        lever = (case["cabinet_depth" if side == "front or back" else "cabinet_width"] - 2 * case["leg_inset"]) / 1000
        assert found["tension"] >= (check["limit"] - worst) / lever - 1e-6
    slope = math.hypot(case["lean_along"], case["lean_across"]) / 1000
    grip = dead * case["cabinet_mass"] * 9.80665 * math.tan(math.atan(0.4) - math.atan(slope))
    check = next(each for each in result["checks"] if each["key"] == "wind_slide")
    assert (check["value"], check["limit"]) == pytest.approx((grip, max(forces.values())), rel=1e-9)


@pytest.mark.parametrize(("angle", "up", "slope"), [(10.0, 900.0, 0.0), (12.5, 700.0, 0.03), (5.0, 1200.0, -0.02), (30.0, 800.0, 0.0)])
def test_what_must_hang_inside_for_a_lean_takes_just_that_lean(angle: float, up: float, slope: float) -> None:
    """The mend of a lean is its check the other way round."""
    worst = masses.Worst("front", maths.Part(300.0, 0.0, up), (), (), slope)
    assert maths.critical_angle(masses.critical_inside(worst, angle), up, slope) == pytest.approx(angle, rel=1e-12)
