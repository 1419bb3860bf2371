"""Every product tried in every tray with every coil, and what the last runs tried kept for the next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..core import Work
from ..core.progress import Progress, Steps
from .fits import COIL, Fit, Sizes, Trial, sizes_of
from .inputs import CABINET, PRODUCT, TRAY, Inputs
from .naming import name_of

REMEMBERED = 128  # products; twice as many as a form takes
Fits = list[list[Fit]]  # of one product: tray, coil
# What became of a product in these very trays with these very coils, by all of them and the rules:
# a reader who changes a wish or the days need not wait again. The oldest is forgotten first.
_LAST: dict[Sizes, Fits] = {}


def tried(inputs: Inputs, work: Work, bars: Sequence[Sequence[str]]) -> Steps[tuple[list[Fits], bool]]:
    """For each product its fits, and whether the reader stopped before all were tried."""
    found: list[Fits] = []
    stop = False
    for number, row in enumerate(inputs.products):
        key = _key(inputs, work, row, bars[number])
        fits = _LAST.get(key)
        if fits is None:
            trial = _Product(inputs, work, number, bars[number])
            stop = yield from trial.run(stop=stop)
            fits = trial.fits
            if not stop:
                _remember(key, fits)
        found.append(fits)
    return found, stop


def _remember(key: Sizes, fits: Fits) -> None:
    _LAST[key] = fits
    while len(_LAST) > REMEMBERED:
        del _LAST[next(iter(_LAST))]


def _key(inputs: Inputs, work: Work, row: Any, bars: Sequence[str]) -> Sizes:
    """All that a product's fits rest on."""
    rules = tuple(sorted((key, rule.value) for key, rule in work.rules.figures.items()
                         if key.startswith("goods.") and isinstance(rule.value, (int, float))))  # fmt: skip
    return (sizes_of(row, PRODUCT), sizes_of(inputs, CABINET), tuple(map(bool, bars)), rules,
            tuple(sizes_of(tray, TRAY) for tray in inputs.trays),
            tuple(sizes_of(coil, COIL) for coil in inputs.coils))  # fmt: skip


class _Product:
    """One product in all trays: wide lanes first, and coils of few turns first, for what they tell."""

    def __init__(self, inputs: Inputs, work: Work, number: int, bars: Sequence[str]) -> None:
        self.inputs, self.bars, self.number = inputs, bars, number
        self.fits: Fits = [[Fit(why=bar or "not tried") for _ in inputs.coils] for bar in bars]
        self._trial = Trial(inputs.products[number], inputs, work)

    def run(self, *, stop: bool) -> Steps[bool]:
        """Try coil by coil; True where the reader stopped it."""
        trays = [t for t, bar in enumerate(self.bars) if not bar]
        trays.sort(key=lambda t: -(self.inputs.trays[t].lane_width or 0.0))
        coils = sorted(range(len(self.inputs.coils)), key=lambda k: self.inputs.coils[k].coil_count or 0)
        for done, coil in enumerate(coils):
            if stop:
                return True
            for tray in trays:
                self.fits[tray][coil] = self._trial.fit(self.inputs.trays[tray], self.inputs.coils[coil])
            stop = bool((yield self._progress((done + 1) / len(coils))))
        return stop

    def _progress(self, part: float) -> Progress:
        name = name_of(self.inputs.products, self.number, "Product")
        return Progress(f"Trying your coils: {name}", (self.number + part) / len(self.inputs.products))
