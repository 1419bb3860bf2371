"""Inputs of standing that cannot all be true."""

from __future__ import annotations

from collections.abc import Iterator

from ..clearance import contradictions as clearance
from ..clearance.leg_inputs import TAPE
from ..core import Contradiction
from ..core.units import Units
from .inputs import Inputs

AGAIN = "One of them is wrong: look again."


def find(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every contradiction of a form; what a tape may be off is none."""
    for found in clearance.middle_of_mass(inputs, show):
        yield Contradiction(found.paths[::-1], found.text)
    yield from _sizes(inputs, show)
    yield from _shares(inputs, show)
    yield from _wind(inputs, show)
    if inputs.anchor_paper and inputs.anchored is False:
        yield Contradiction(("anchored", "anchor_paper"), "It stands free, and here are its anchors. Take one of them back.")


_WITHIN = (
    ("door_leaf", "cabinet_width", "A cabinet's door is no wider than the cabinet."),
    ("tray_pullout", "cabinet_depth", "A tray comes out no farther than the cabinet is deep."),
)


def _sizes(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    for first, second, text in _WITHIN:
        one, other = getattr(inputs, first), getattr(inputs, second)
        if one is not None and other is not None and one > other + 2 * TAPE:
            yield Contradiction((second, first), f"{text} Here {show.text(one, 'length')} and {show.text(other, 'length')}. {AGAIN}")
    for size in ("cabinet_depth", "cabinet_width"):
        inset, whole = inputs.leg_inset, getattr(inputs, size)
        if inset is not None and whole is not None and inset >= 0.3 * whole:
            yield Contradiction((size, "leg_inset"), f"Feet {show.text(inset, 'length')} inside a cabinet of "
                                f"{show.text(whole, 'length')} leave it nothing to stand on. {AGAIN}")  # fmt: skip


def _wind(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """A wind that no map has: somebody typed the weather."""
    least = show.rules.get("standing.wind_least") if show.rules else None
    if least is not None and inputs.outdoors and inputs.wind_speed is not None and inputs.wind_speed < least.inner - 1e-9:
        yield Contradiction(("wind_speed",), f"The maps of the building codes begin at about {show.text(least.inner, 'wind')}: take the "
                            "basic wind speed from the map, not from a forecast. The building office knows it.")  # fmt: skip


# A share in percent, its part and its whole, and what one reads then.
_SHARES = (
    ("door_most", "door_mass", "cabinet_mass", "A door weighs no more than {share} % of an empty cabinet."),
    ("tray_most", "tray_load", "stock_mass", "One tray holds no more than {share} % of a full load."),
    ("goods_most", "stock_height", "cabinet_height", "The middle of the goods is no higher than {share} % of the cabinet."),
)


def _shares(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    for key, part, whole, text in _SHARES:
        rule = show.rules.get(f"standing.{key}") if show.rules else None
        one, all_ = getattr(inputs, part), getattr(inputs, whole)
        if rule is not None and one is not None and all_ is not None and 100 * one > rule.inner * all_ + 1e-6:
            yield Contradiction((whole, part), f"{text.format(share=f'{rule.inner:g}')} {AGAIN}")
    low, at, tall = show.rules.get("standing.goods_least") if show.rules else None, inputs.stock_height, inputs.cabinet_height
    if low is not None and at is not None and tall is not None and 100 * at < low.inner * tall - 1e-6:
        yield Contradiction(("cabinet_height", "stock_height"), f"With all trays full, the middle of the goods is no lower than "
                            f"{low.inner:g} % of the cabinet. {AGAIN}")  # fmt: skip
