"""The floor: load spread over the footprint, load on one patch, and the wheels while moving."""

from __future__ import annotations

from typing import NamedTuple

from ..core import Work
from . import maths
from .fit import Number
from .inputs import FLOOR_USES, TAPE, Inputs
from .push import hushed

ENGINEER = (
    "The figure is what such floors are built for at least, over the whole floor. The building's "
    "engineer knows what this one carries."
)
MASSES = ("cabinet_width", "cabinet_depth", "cabinet_mass", "stock_mass")


class Limit(NamedTuple):
    """What the floor carries; ``soft`` where it is a usual figure and not the floor's own."""

    value: Number
    rule: tuple[str, ...]
    soft: bool
    needs: tuple[str, ...]
    note: str


class Load(NamedTuple):
    """One load on a floor: its check, its value, the inputs it rests on, and what limits it.

    ``own`` is the input with the floor's own rating, ``use`` the one that names its kind, ``table``
    the rules by kind.
    """

    key: str
    value: Number
    needs: tuple[str, ...]
    own: str
    use: str
    table: str


def solve(inputs: Inputs, work: Work) -> None:
    """All checks of the floor."""
    work.section("The floor")
    work.given("b", "Width of the footprint", _metres(inputs.cabinet_width), "run")
    work.given("d", "Depth of the footprint", _metres(inputs.cabinet_depth), "run")
    work.take("spread_area", "S")
    work.step("A", "Area that carries it", "max(b*d, S)", "area")
    work.take("stock_mass", "m_s")
    full = work.step("m_f", "Mass when full", "m + m_s", "mass")
    spread = work.step("Q", "Load spread over that area", "m_f/A", "floor_load")
    work.value("floor_load", spread)
    patch = _feet(inputs, work)
    wheels = _wheels(inputs, work)
    for load in (
        Load("floor_spread", spread, MASSES, "floor_rating", "floor_use", "uniform"),
        Load("floor_patch", patch, (*MASSES, "legs", "leg_inset"), "point_rating", "floor_use", "point"),
        Load("floor_wheels", wheels, ("cabinet_mass", "gear_mass", "wheels_apart"), "way_rating", "way_use", "point"),
    ):  # fmt: skip
        _check(inputs, work, load, full)


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


def _wheels(inputs: Inputs, work: Work) -> Number:
    """What of the wheels stands on one patch while it is moved, and what on one of them."""
    work.take("gear_mass", "m_g")
    work.step("m_w", "Mass on the wheels while moving", "m + m_g", "mass")
    one = work.step("m_o", "Load on one wheel at worst", "m_w/2", "mass",
                    note="Where the floor is uneven two of the wheels may carry it all.")  # fmt: skip
    work.value("wheel_load", one)
    patch, apart = work.inner("floor.patch"), inputs.wheels_apart
    if apart is None or patch is None:
        return None
    if apart > patch + 2 * TAPE:
        return one
    return work.step("m_3", "Wheels on one patch at worst", "m_w", "mass",
                     note="All wheels may stand on one patch.")  # fmt: skip


def _share(inputs: Inputs, patch: float) -> Number:
    width, depth, inset = inputs.cabinet_width, inputs.cabinet_depth, inputs.leg_inset
    if width is None or depth is None or inset is None or inputs.legs is None:
        return None
    if 2 * inset >= min(width, depth) - 1.0:
        return 1.0  # legs that meet in the middle: one of them may carry all
    legs = maths.leg_layout(6 if inputs.legs == "six" else 4, width, depth, inset)
    return maths.worst_patch_share(legs, (width / 2, depth / 2), patch)


# -- limits ---------------------------------------------------------------------------


def _limit(inputs: Inputs, work: Work, load: Load) -> Limit:
    """The floor's own rating, or the usual figure for its kind."""
    kind = getattr(inputs, load.use)
    if inputs.floor_known == "rating":
        return Limit(getattr(inputs, load.own), (), False, (load.own,), "The floor's own rating.")
    if inputs.floor_known is None or kind is None:
        return Limit(None, (), True, ("floor_known", load.use, load.own), ENGINEER)
    key = f"floor.{load.table}_{kind}"
    if work.rules.get(key) is None:
        return Limit(None, (), True, (), "No usual figure for this kind of floor: ask the building for its rating.")
    floor = f"Floor: {FLOOR_USES[kind].lower()}. " if load.key == "floor_wheels" else ""
    return Limit(_mass(work, key), (key,), True, (), floor + ENGINEER)


def _mass(work: Work, key: str) -> Number:
    """A figure of the floor as a mass; some rule sets give the force of its weight instead."""
    figure, gravity = work.rule_of(key), work.inner("handling.gravity")
    if figure is None or figure.kind != "force":
        return None if figure is None else figure.inner
    if gravity is None:
        return None
    work.rule("p", key)
    work.rule("g_n", "handling.gravity")
    return work.step("m_p", "Mass of that weight", "p/g_n", "mass")


def _check(inputs: Inputs, work: Work, load: Load, full: Number) -> None:
    if inputs.floor_known == "kind" and getattr(inputs, load.use) == "ground":
        work.verdict(load.key, True, good="A slab on the ground carries it.",
                     note="Hollow places are not looked for.")  # fmt: skip
        return
    limit = _limit(inputs, work, load)
    mend = None
    if load.key == "floor_spread" and full is not None and limit.value:
        mend = work.mend("spread_area", full / limit.value, "at least", how="Stand it on a stiff plate.")
    note = limit.note if limit.soft else f"{limit.note} Ask the building's engineer."
    hushed(work.check(load.key, load.value, limit.value, needs=(*load.needs, *limit.needs),
                      rules=limit.rule, soft=limit.soft, mend=mend, note=note))  # fmt: skip
