"""Random products near the limit of a coil: the form's inputs and the same thing as a solid.

The limit is the sampler's (``solid.py``): the calculator gives the place, and where to set out from.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import Any

from calculators.spiral.fit import Fit, fit_of
from calculators.spiral.inputs import Inputs
from tests.calculators.spiral.solid import Place, Solid, Wire, rest, spare

KINDS = ("bottle", "cup", "box", "bar", "wedge foot", "wedge top", "bag")
# The sampler's balls lie 0.07 mm apart and the calculator ends on hundredths of a degree: nearer
# to the limit than this neither is sure.
SURE = 0.03
PLAY = 3.0  # mm; the side play of the lane
# The search for the sampler's limit: at most so many steps, to this near, and no further away.
STEPS, CLOSE, FAR = 6, 0.05, 200.0


@dataclass(frozen=True)
class Case:
    """A product near the limit of a coil: the form's inputs and the same thing as a solid."""

    inputs: Inputs
    fit: Fit
    wire: Wire
    product: dict[str, Any]

    @property
    def solid(self) -> Solid:
        """The product in three dimensions."""
        return solid_of(self.product)


def random_wire(rng: random.Random, dual: bool) -> Wire:
    radius = rng.uniform(24, 45)
    offset = radius * rng.uniform(1.08, 1.5) if dual else 0.0
    return Wire(rng.uniform(45, 110), radius, rng.uniform(2.5, 5.0), offset)


def random_product(rng: random.Random, kind: str, wire: Wire) -> dict[str, Any]:
    """Sizes in millimetres; the widest place is set later, near the limit."""
    short = rng.random() < 0.4
    high = rng.uniform(0.4, 2.0) * wire.radius if short else rng.uniform(2.1, 5.0) * wire.radius
    wide = 2 * (wire.offset + wire.radius) * rng.uniform(0.3, 1.6)
    made: dict[str, Any] = {"shape": "flat", "height": high, "breadth": max(wide, 10.0), "thickness": 30.0}
    if kind in ("bottle", "cup"):
        made = {"shape": "round", "height": high, "diameter": 0.8 * wire.pitch,
                "foot_diameter": rng.uniform(0.55, 1.0) * 0.8 * wire.pitch}  # fmt: skip
        made["sides"] = "widening" if kind == "cup" else "straight"
        if not wire.offset and rng.random() < 0.5:
            # Room aside: with it a round product stands off the middle where that gains.
            made["lane_width"] = 2 * wire.radius + wire.wire + rng.uniform(5, 30)
    elif kind == "bar":
        made["breadth"] = rng.uniform(0.3, 0.9) * 2 * wire.radius
    elif kind.startswith("wedge"):
        made.update(thick_end=kind.split()[1], thin_end=30 * rng.uniform(0.1, 0.9))
    elif kind == "bag":
        made["pillow"] = True
    return made


def inputs_of(wire: Wire, product: dict[str, Any], skew: bool) -> Inputs:
    if product["shape"] == "flat":
        product = {**product, "lane_width": product["breadth"] * 1.2 + 3}
    return Inputs(**product, usable_length=wire.pitch * 10, coil_count=10, wire=wire.wire,
                  coil_outside=2 * wire.radius + wire.wire, may_skew=skew,
                  coil_kind="dual" if wire.offset else "single", axis_offset=wire.offset or None)  # fmt: skip


def resized(product: dict[str, Any], by: float) -> dict[str, Any]:
    """The product grown by as much at every height."""
    return {key: max(size + by, 2.0) if key in ("diameter", "foot_diameter", "thickness", "thin_end") else size
            for key, size in product.items()}  # fmt: skip


def widest(product: dict[str, Any]) -> float:
    return float(product["diameter" if product["shape"] == "round" else "thickness"])


def solid_of(product: dict[str, Any]) -> Solid:
    if product["shape"] == "round":
        heeled = product["sides"] == "straight"
        foot = product["foot_diameter"]
        if heeled:  # a heel is no higher than the product: see calculators.spiral.profile.straight
            foot = max(foot, product["diameter"] - 2 * product["height"])
        return Solid(True, foot, product["diameter"], product["height"], heeled=heeled)
    thick, thin = product["thickness"], product.get("thin_end", product["thickness"])
    foot, top = (thick, thin) if product.get("thick_end") == "foot" else (thin, thick)
    return Solid(False, foot, top, product["height"], product["breadth"], bag=product.get("pillow", False))


def random_case(rng: random.Random, kind: str, *, dual: bool, near: bool) -> Case | None:
    """A product within 1 mm of the sampler's limit, or further off; None where no wire stands beside it."""
    wire = random_wire(rng, dual)
    product, skew = random_product(rng, kind, wire), rng.random() < 0.6
    away = rng.uniform(SURE, 1.0) if near else rng.uniform(1.0, 6.0)
    away = away if rng.random() < 0.5 else -away
    # Its size decides how high it rides, and so how much wire counts: the limit is sought again.
    first = case_of(wire, product, skew)
    case = first and case_of(wire, resized(product, size_of(first) - widest(product)), skew)
    limit = case and (sampled_limit(case) if near else size_of(case))
    return case_of(wire, resized(product, limit + away - widest(product)), skew) if limit else None


def case_of(wire: Wire, product: dict[str, Any], skew: bool) -> Case | None:
    inputs = inputs_of(wire, product, skew)
    fit = fit_of(inputs, PLAY)
    if fit.opening is None or not 6.0 < fit.opening.size < 400.0:
        return None
    return Case(inputs, fit, wire, product)


def size_of(case: Case) -> float:
    """The calculator's opening: where the search for the sampler's limit sets out."""
    assert case.fit.opening is not None
    return case.fit.opening.size


def sampled_limit(case: Case) -> float | None:
    """The largest of its shape that the sampler lets in where the calculator would put it.

    Grown by what is spare until nothing is: the calculator gives the place, the sampler the size.
    """
    place, by = place_of(case.fit, goes=False), 0.0
    for _ in range(STEPS):
        more = room(case, place, by)
        if not abs(more) < FAR:
            return None
        by += more
        if abs(more) < CLOSE:
            break
    return widest(case.product) + by


def room(case: Case, place: Place, by: float = 0.0) -> float:
    """How much thicker the product, grown by as much, may be in its place; below 0 where it is too thick."""
    product = resized(case.product, by)
    solid = solid_of(product)
    high = rest(case.wire, solid, place) or 0.0
    return min(2 * spare(case.wire, solid, place, high), in_lane(case, place) - widest(product))


def in_lane(case: Case, place: Place) -> float:
    """The widest that stands in the lane at that skew, or so far aside."""
    lane, turn = case.inputs.lane_width, math.radians(place.skew)
    if lane is None or not (place.skew or (case.solid.round and place.aside)):
        return math.inf
    if case.solid.round:
        return float(lane - PLAY - 2 * place.aside)
    return float((lane - PLAY - case.inputs.breadth * math.cos(turn)) / math.sin(turn))


def place_of(fit: Fit, goes: bool) -> Place:
    """Where the calculator puts it, at the skew at which it goes in, or has the most room."""
    assert fit.pose is not None
    pose = fit.pose if goes else fit.at_ease
    return Place(pose.ahead, pose.aside, pose.skew)
