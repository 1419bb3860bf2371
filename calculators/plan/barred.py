"""Where a product may not lie whatever spiral fit says: by the operator's wishes, or by plain sizes."""

from __future__ import annotations

from typing import Any

from ..spiral.inputs import Inputs as Spiral
from ..spiral.lane import least_width
from .inputs import Inputs

NOISE = 1e-6  # mm; what binary rounding may hide


def heavy(row: Any, inputs: Inputs) -> bool | None:
    """Whether a product counts as heavy; None where its mass would tell."""
    if row.heavy or inputs.heavy_mass is None:
        return bool(row.heavy)
    return None if row.mass is None else bool(row.mass >= inputs.heavy_mass)


def barred(row: Any, number: int, inputs: Inputs) -> str:
    """Why a product may not lie in a tray, whatever the coil; nothing where it may."""
    if row.needs_cold and inputs.trays[number].zone == "warm":
        return "not cooled"
    if inputs.heavy_tray is not None and heavy(row, inputs) and number + 1 < inputs.heavy_tray:
        return "too high for heavy goods"
    return ""


def wanting(row: Any, number: int, inputs: Inputs) -> tuple[str, ...]:
    """What is not told and may still bar a product from a tray: it is not laid there before that is known."""
    needs = ["zone"] if row.needs_cold and inputs.trays[number].zone is None else []
    weighs, low = heavy(row, inputs), inputs.heavy_tray
    if weighs is not False and (low is None or number + 1 < low):
        needs += ["heavy_tray"] if low is None else []
        needs += ["mass"] if weighs is None else []
    return tuple(needs)


# -- plain sizes ----------------------------------------------------------------------------
#
# Each of these is true of bodies and needs no rule: spiral fit, which asks for some room beside,
# stops at all of them. They only save it the trouble.


def hopeless(inputs: Spiral) -> str:
    """Why no try is needed; nothing where spiral fit must be asked. What is not measured bars nothing."""
    if _over(coils_width(inputs), inputs.lane_width):
        return "no room for the coil"
    if inputs.coil_kind == "dual" and _over(inputs.coil_outside, _twice(inputs.axis_offset)):
        return "coils that strike each other"
    if _over(least_width(inputs), inputs.lane_width):
        return "no room across the lane"
    if _over(inputs.height, _less(inputs.height_above, inputs.strip_height)):
        return "no room under the tray above"
    if _over(inputs.drop_height, inputs.drop_limit):
        return "too deep a drop"
    return ""


def coils_width(inputs: Spiral) -> float | None:
    """How wide one coil, or a pair, lies in its lane."""
    outside: float | None = inputs.coil_outside
    if inputs.coil_kind == "single" or outside is None:
        return outside
    return None if inputs.axis_offset is None else 2 * inputs.axis_offset + outside


def _over(value: float | None, limit: float | None) -> bool:
    return value is not None and limit is not None and value > limit + NOISE


def _twice(value: float | None) -> float | None:
    return None if value is None else 2 * value


def _less(value: float | None, less: float | None) -> float | None:
    return None if value is None or less is None else value - less
