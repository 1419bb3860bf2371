"""Which coil takes which product in which tray: asked of spiral fit, never worked out anew."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from ..core import Work
from ..core.report import Check
from ..spiral import CALCULATOR as SPIRAL
from ..spiral.fit import fit_of
from ..spiral.inputs import Inputs as Spiral
from ..spiral.ranking import JUDGED, rank
from ..spiral.solve import assess
from .inputs import CABINET, PRODUCT, TRAY

COIL = ("coil_count", "coil_outside", "wire", "coil_kind", "axis_offset")
# Beside what the choice of a coil changes: what the choice of a tray changes.
ASKED = (*JUDGED, "height", "drop", "foot", "thin")
USABLE = 1  # the ranks up to here are best and usable


@dataclass(frozen=True)
class Fit:
    """What became of it. ``pieces`` is 0 where it does not fit or is not known to.

    ``care`` and ``unknown`` are the checks of a fitting one that do not pass, as words; ``needs``
    the inputs that would tell.
    """

    pieces: int = 0
    care: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    why: str = ""


def fit(product: Any, tray: Any, coil: Any, cabinet: Any, work: Work) -> Fit:
    """One product in one lane of a tray with one coil."""
    values = {key: getattr(row, key) for row, keys in
              ((product, PRODUCT), (tray, TRAY), (coil, COIL), (cabinet, CABINET)) for key in keys}  # fmt: skip
    local = tuple(sorted((key, rule.value) for key, rule in work.rules.figures.items()
                         if key.startswith("goods.") and isinstance(rule.value, (int, float))))  # fmt: skip
    return _fit(tuple(sorted(values.items())), local, _Hidden(work))


class _Hidden:
    """Carries the sheet past the cache: the same sizes and rules give the same fit."""

    def __init__(self, work: Work) -> None:
        self.work = work

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Hidden)

    def __hash__(self) -> int:
        return 0


@functools.lru_cache(maxsize=8192)
def _fit(values: tuple[tuple[str, Any], ...], local: Any, hidden: _Hidden) -> Fit:
    inputs = Spiral(**dict(values))
    play = hidden.work.inner("goods.side_play")
    made = fit_of(inputs, play)
    if made.opening is not None and made.along is not None and made.opening.size < made.along - 1e-6:
        # The whole sheet costs a hundred times as much and could only say the same.
        return Fit(why="too tight")
    sheet = Work(SPIRAL, inputs, hidden.work.rules, hidden.work.show)
    found = assess(inputs, sheet)
    checks = {check.key: check for check in sheet.checks if check.key in ASKED}
    return _judged(checks, found.capacity)


def _judged(checks: dict[str, Check], capacity: float | None) -> Fit:
    stops = [check.label for check in checks.values() if check.outcome == "stop"]
    if stops:
        return Fit(why=stops[0].lower())
    unknown = tuple(check.label for check in checks.values() if check.outcome == "unknown")
    needs = tuple(dict.fromkeys(path for check in checks.values() for path in check.needs))
    if rank({key: check for key, check in checks.items() if key in JUDGED}) > USABLE or capacity is None:
        return Fit(needs=needs, why="not measured")
    care = tuple(check.label for check in checks.values() if check.outcome == "caution")
    return Fit(int(capacity), care, unknown, needs)
