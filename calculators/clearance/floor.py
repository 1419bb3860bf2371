"""The floor: load spread over the footprint, load on one patch, and the wheels while moving."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core import Work
from . import maths
from .fit import Number
from .inputs import TAPE, Inputs
from .push import hushed

ENGINEER = (
    "The figure is what such floors are built for at least, over the whole floor. The building's "
    "engineer knows what this one carries."
)


class Limit(NamedTuple):
    """What the floor carries; ``soft`` where it is a usual figure and not the floor's own."""

    value: Number
    rule: tuple[str, ...]
    soft: bool
    needs: tuple[str, ...]
    note: str


def solve(inputs: Inputs, work: Work) -> None:
    """All checks of the floor."""
    work.section("The floor")
    work.given("b", "Width of the footprint", _metres(inputs.cabinet_width), "run")
    work.given("d", "Depth of the footprint", _metres(inputs.cabinet_depth), "run")
    area = "b*d"
    if inputs.spread_area is not None:
        work.take("spread_area", "S")
        area = "max(b*d, S)"
    work.step("A", "Area that carries it", area, "area")
    work.take("stock_mass", "m_s")
    full = work.step("m_f", "Mass when full", "m + m_s", "mass")
    spread = work.step("Q", "Load spread over that area", "m_f/A", "floor_load")
    work.value("floor_load", spread)
    patch = _feet(inputs, work)
    work.take("gear_mass", "m_g")
    wheels = work.step("m_w", "Mass on the wheels while moving", "m + m_g", "mass")
    _checks(inputs, work, full, spread, patch, wheels)


def _metres(length: Number) -> Number:
    return None if length is None else length / 1000


def _feet(inputs: Inputs, work: Work) -> Number:
    """Load on one foot (a result), and on the worst patch (for the check)."""
    patch = work.inner("floor.patch")
    one, on_patch = _share(inputs, 0.0), None if patch is None else _share(inputs, patch + 2 * TAPE)
    work.given("k_1", "Greatest share of one foot", one, "ratio",
               "However unevenly the feet bear: found over every three that can carry it.")  # fmt: skip
    foot = work.step("m_1", "Load on one foot at worst", "k_1*m_f", "mass")
    work.value("foot_load", foot)
    work.take("foot_area", "A_1")
    work.value("foot_pressure", work.step("Q_1", "Load under that foot", "m_1/A_1", "floor_load"))
    work.given(
        "k_2",
        "Greatest share on one patch",
        on_patch,
        "ratio",
        "Feet close together count together.",
    )
    work.rule("c", "floor.patch")
    return work.step("m_2", "Load on one patch at worst", "k_2*m_f", "mass")


def _share(inputs: Inputs, patch: float) -> Number:
    width, depth, inset = inputs.cabinet_width, inputs.cabinet_depth, inputs.leg_inset
    if width is None or depth is None:
        return None
    if 2 * inset >= min(width, depth) - 1.0:
        return 1.0  # legs that meet in the middle: one of them may carry all
    legs = maths.leg_layout(6 if inputs.legs == "six" else 4, width, depth, inset)
    return maths.worst_patch_share(legs, (width / 2, depth / 2), patch)


def _limit(inputs: Any, work: Work, own: str, table: str) -> Limit:
    """The floor's own rating, or the usual figure for its use."""
    rated = getattr(inputs, own)
    if rated is not None:
        return Limit(rated, (), False, (), "The floor's own rating.")
    if inputs.floor_use is None:
        return Limit(None, (), True, ("floor_use",), ENGINEER)
    key = f"floor.{table}_{inputs.floor_use}"
    if work.rules.get(key) is None:
        return Limit(
            None, (), True, (own,), "No usual figure for this kind of floor: ask the building."
        )
    return Limit(work.inner(key), (key,), True, (), ENGINEER)


def _checks(
    inputs: Inputs, work: Work, full: Number, spread: Number, patch: Number, wheels: Number
) -> None:
    for key, value, own, table, needs in (
        ("floor_spread", spread, "floor_rating", "uniform",
         ("cabinet_width", "cabinet_depth", "cabinet_mass", "stock_mass")),
        ("floor_patch", patch, "point_rating", "point",
         ("cabinet_width", "cabinet_depth", "cabinet_mass", "stock_mass")),
        ("floor_wheels", wheels, "point_rating", "point", ("cabinet_mass", "gear_mass")),
    ):  # fmt: skip
        if inputs.floor_use == "ground" and getattr(inputs, own) is None:
            work.verdict(
                key,
                True,
                good="A slab on the ground carries it.",
                note="Hollow places are not looked for.",
            )
            continue
        limit = _limit(inputs, work, own, table)
        mend = None
        if key == "floor_spread" and full is not None and limit.value:
            mend = work.mend(
                "spread_area", full / limit.value, "at least", how="Stand it on a stiff plate."
            )
        note = limit.note if limit.soft else f"{limit.note} Ask the building's engineer."
        hushed(work.check(key, value, limit.value, needs=(*needs, *limit.needs), rules=limit.rule,
                          soft=limit.soft, mend=mend, note=note))  # fmt: skip
