"""What tests by hand say of a product in a coil of this cabinet; they stand over the calculation.

A coil that failed is not used for its product. One that was kept is, wherever nothing but its hold of the product
speaks against it: what a lane or a tray has no room for, no test in another one has tried. Beside a coil that was
kept, none is used in which there is something to mind.
"""

from __future__ import annotations

from ..core import Work
from ..spiral.inputs import KEPT as KEEP
from ..spiral.inputs import TRIED
from .fits import Fit, Trial
from .inputs import Inputs
from .naming import find

Pair = tuple[int, int]  # a product and a coil, places in the form's rows


def tests_of(inputs: Inputs) -> dict[Pair, str]:
    """The verdict of each pair that was tried; where two rows name it, the later one's."""
    found: dict[Pair, str] = {}
    for row in inputs.tried:
        product, coil = find(inputs.products, row.product), find(inputs.coils, row.coil)
        if product is not None and coil is not None and row.verdict is not None:
            found[product, coil] = row.verdict
    return found


def stand_over(inputs: Inputs, work: Work, fits: list[list[list[Fit]]], bars: list[list[str]]) -> list[list[list[Fit]]]:
    """The fits with what was tried in place of what was calculated; those given are not changed."""
    made = [[list(coils) for coils in trays] for trays in fits]
    trials: dict[int, Trial] = {}
    for (product, coil), verdict in tests_of(inputs).items():
        for tray, bar in enumerate(bars[product]):
            if verdict != KEEP:
                made[product][tray][coil] = Fit(why=f"tried by hand: {TRIED[verdict].lower()}")
            elif not bar:
                trial = trials.setdefault(product, Trial(inputs.products[product], inputs, work, kept=True))
                made[product][tray][coil] = trial.fit(inputs.trays[tray], inputs.coils[coil])
    _prefer_kept(inputs, made)
    return made


def _prefer_kept(inputs: Inputs, fits: list[list[list[Fit]]]) -> None:
    kept: dict[int, list[int]] = {}
    for (product, coil), verdict in tests_of(inputs).items():
        if verdict == KEEP:
            kept.setdefault(product, []).append(coil)
    for product, coils in kept.items():
        for tray in fits[product]:
            _prefer(tray, coils)


def _prefer(tray: list[Fit], kept: list[int]) -> None:
    """Take out what needs care where a coil that was kept fits the tray."""
    if any(tray[coil].pieces for coil in kept):
        for coil, fit in enumerate(tray):
            if coil not in kept and (fit.care or fit.unknown):
                tray[coil] = Fit(why="another coil was tried and kept")
