"""An independent model: point masses in space, moments about the lines between the feet, gravity turned step by step.

Nothing of the calculator is used. x goes to the right as one faces the front, y to the back, z up; the origin is the left
front corner of the floor plan. Lengths in mm, masses in kg, forces in N.
"""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import numpy.typing as npt

Vector = npt.NDArray[np.float64]
Masses = list[tuple[float, Vector]]
G = 9.80665
SHARES = (0.3, 0.7)  # where the middle of the goods may lie, by the sizes of the cabinet


def vector(*parts: float) -> Vector:
    return np.array(parts, dtype=np.float64)


def feet(case: dict[str, Any]) -> dict[str, tuple[Vector, Vector]]:
    """Each edge as a point of it and its direction, so that a fall over it turns about that direction."""
    wide, deep, inset = case["cabinet_width"], case["cabinet_depth"], case["leg_inset"]
    return {"front": (vector(inset, inset, 0), vector(1, 0, 0)), "back": (vector(inset, deep - inset, 0), vector(-1, 0, 0)),
            "left": (vector(inset, inset, 0), vector(0, -1, 0)), "right": (vector(wide - inset, inset, 0), vector(0, 1, 0))}


def loads(case: dict[str, Any], full: bool) -> list[Masses]:
    """The cabinet, with the goods at each corner of where their middle may lie."""
    shell = (case["cabinet_mass"], vector(case["cg_side"], case["cg_back"], case["cg_height"]))
    if not full:
        return [[shell]]
    places = itertools.product(SHARES, SHARES)
    return [[shell, (case["stock_mass"], vector(a * case["cabinet_width"], b * case["cabinet_depth"], case["stock_height"]))]
            for a, b in places]  # fmt: skip


def door(case: dict[str, Any]) -> list[Masses]:
    """What an open door changes, at every 15 degrees up to all the way round: gone from where it was shut, and there."""
    left = case["hinge_side"] == "left"
    hinge = vector(0 if left else case["cabinet_width"], 0, 0)
    along = vector(1 if left else -1, 0, 0)
    half, found = case["door_leaf"] / 2, []
    for degrees in range(0, 181, 15):
        turn = math.radians(degrees)
        at = hinge + half * (math.cos(turn) * along + math.sin(turn) * vector(0, -1, 0))
        found.append([(-case["door_mass"], hinge + half * along), (case["door_mass"], at)])
    return found


def tray(case: dict[str, Any]) -> Masses:
    """A tray drawn out: its mass is gone from one place and there at another."""
    return [(-case["tray_load"], vector(0, 0, 0)), (case["tray_load"], vector(0, -case["tray_pullout"], 0))]


def alone(case: dict[str, Any]) -> list[Masses]:
    """The same tray where nothing else is loaded: its goods at each corner of where their middle may lie, drawn out."""
    return [[(case["tray_load"], vector(a * case["cabinet_width"], b * case["cabinet_depth"] - case["tray_pullout"], case["stock_height"]))]
            for a, b in itertools.product(SHARES, SHARES)]  # fmt: skip


def states(case: dict[str, Any]) -> dict[str, list[Masses]]:
    """Every way in which each state may be."""
    found = {"empty": loads(case, False), "full": loads(case, True)}
    for name in ("empty", "full"):
        found[f"{name} open"] = [load + leaf for load in found[name] for leaf in door(case)]
    found["tray"] = [load + tray(case) for load in found["full open"]]
    found["first tray"] = [shell + leaf + first for [shell] in [loads(case, False)] for leaf in door(case) for first in alone(case)]
    return found


def gravity(case: dict[str, Any], edge: str) -> Vector:
    """Gravity as the cabinet feels it, leaning toward an edge and, across it, to either side alike."""
    along, across = case["lean_along"] / 1000, case["lean_across"] / 1000
    away = {"front": vector(across, -along, -1), "back": vector(across, along, -1),
            "left": vector(-across, along, -1), "right": vector(across, along, -1)}[edge]  # fmt: skip
    return away / np.linalg.norm(away)


def turned(pull: Vector, axis: Vector, degrees: Vector) -> Vector:
    """A direction turned about an axis by each of some angles (Rodrigues)."""
    angle = np.radians(degrees)[:, None]
    return (pull * np.cos(angle) + np.cross(axis, pull) * np.sin(angle)
            + axis * float(np.dot(axis, pull)) * (1 - np.cos(angle)))  # fmt: skip


def arms(ways: list[Masses], edge: tuple[Vector, Vector]) -> Vector:
    """All weights by their way from the edge, in each way, N·mm."""
    return np.array([sum(mass * G * (place - edge[0]) for mass, place in masses) for masses in ways])


def moments(weights: Vector, edge: tuple[Vector, Vector], pulls: Vector) -> Vector:
    """The moment of such weights about an edge, N·mm: positive where they turn it over."""
    return np.cross(weights, pulls) @ edge[1]


def falls_at(ways: list[Masses], edge: tuple[Vector, Vector], pull: Vector) -> float:
    """How much farther it may lean over the edge in the worst of the ways, by halving, degrees."""
    low, high, weights = np.full(len(ways), -89.0), np.full(len(ways), 89.0), arms(ways, edge)
    for _ in range(40):
        middle = (low + high) / 2
        # The cabinet leans by that much, so that gravity turns the other way as the cabinet sees it.
        over = moments(weights, edge, turned(pull, edge[1], -middle)) > 0
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return float(low.min())


def sign(edge: tuple[Vector, Vector], case: dict[str, Any]) -> tuple[Vector, Vector]:
    """The edge with its direction such that a fall out over it is positive."""
    at, axis = edge
    centre = vector(case["cabinet_width"] / 2, case["cabinet_depth"] / 2, 0)
    inward = float(np.dot(np.cross(centre - at, vector(0, 0, -1)), axis))
    return (at, axis) if inward < 0 else (at, -axis)


def edges(case: dict[str, Any]) -> dict[str, tuple[Vector, Vector]]:
    """The edges, each so that a moment out over it is positive."""
    return {name: sign(edge, case) for name, edge in feet(case).items()}


def angle(case: dict[str, Any], ways: list[Masses]) -> float:
    """The least lean at which a state falls, over all edges and all ways in which it may be."""
    found = edges(case)
    return min(falls_at(ways, found[edge], gravity(case, edge)) for edge in found)


def push(case: dict[str, Any], ways: list[Masses]) -> float:
    """The least level push that begins to tip a state, in the cabinet's own frame."""
    height = min(case["push_height"], case["cabinet_height"])
    return min(1000 * weighs(case, edge, ways) / height for edge in feet(case))


def weighs(case: dict[str, Any], edge: str, ways: list[Masses]) -> float:
    """The moment that holds a state down over an edge at worst, N·m; a small lean does not lighten the weight."""
    pull = gravity(case, edge)
    over = edges(case)[edge]
    found = -moments(arms(ways, over), over, np.tile(pull / abs(float(pull[2])), (len(ways), 1)))
    return float(found.min()) / 1000
