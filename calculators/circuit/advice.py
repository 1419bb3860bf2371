"""How much voltage a circuit may lose: by the rule set, the kind of supply, the feeder and the run."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core import Work
from . import maths
from .currents import Number
from .inputs import Inputs


@dataclass(frozen=True)
class Advice:
    """The advised drop in percent of the voltage.

    It is that of the ``branch`` alone, ``here`` at this run beside a feeder's known drop, and
    ``left`` with nothing added for a long run. ``extra`` percent may come on top, growing from the run ``start`` over the next ``over``; it is 0
    where the rule set has none or where the feeder's share is known. ``symbol`` is that of ``left``.
    """

    branch: Number
    here: Number
    left: Number
    symbol: str
    extra: float = 0.0
    start: float = 0.0
    over: float = 1.0

    def longest(self, ohms: list[float], spots: list[Number], volts: float, way: float) -> Number:
        """The run on which just so much is lost; ``ohms`` are amperes times ohms per kilometre."""
        if self.left is None:
            return None
        if self.extra and all(spot is None for spot in spots):
            each = 100 / volts * maths.drop_volts(1.0, math.fsum(ohms), 1.0, way)
            return maths.longest_growing(self.left, self.extra, self.start, self.over, each)
        return maths.longest_with(self.left / 100 * volts, ohms, spots, way)


def of(inputs: Inputs, work: Work) -> Advice:
    """Name the advice on the sheet: p at this run, p_0 without the addition, p_l beside a feeder."""
    key = "circuit.drop_private" if _private(inputs, work) else "circuit.drop_advice"
    if inputs.run is None or work.rules.get("circuit.drop_extra") is None:
        here = left = work.rule("p", key)
        extra, symbol = (0.0, 0.0, 1.0), "p"
    else:
        left = work.rule("p_0", key)
        extra, symbol = _extra(work), "p_0"
        here = work.step("p", "Advised drop for a run of this length",
                         "p_0 + p_x*min(1, max(0, (L - L_f)/L_o))", "percent", rule="circuit.drop_extra")  # fmt: skip
    if inputs.feeder_drop is None:
        return Advice(here, here, left, symbol, *extra)
    work.take("feeder_drop")
    work.given("p_t", "Advised for the whole way", whole(inputs, work), "percent")
    left = work.step("p_l", "Left for this circuit", f"min({symbol}, max(0, p_t - u_f))", "percent")
    return Advice(here, None if here is None or left is None else min(here, left), left, "p_l")


def _extra(work: Work) -> tuple[float, float, float]:
    most, start, over = (
        work.rule(symbol, f"circuit.drop_extra{name}") or 0.0
        for symbol, name in (("p_x", ""), ("L_f", "_from"), ("L_o", "_over"))
    )
    return most, start, over


def whole(inputs: Inputs, work: Work) -> Number:
    """The advised drop of the whole way from the supply to the outlet."""
    return work.inner("circuit.drop_private" if _private(inputs, work) else "circuit.drop_total")


def _private(inputs: Inputs, work: Work) -> bool:
    return bool(inputs.own_supply) and work.rules.get("circuit.drop_private") is not None


def binding(work: Work) -> tuple[str, ...]:
    """The figure that makes the drop a rule, where the rule set has one."""
    return ("circuit.drop_binding",) if work.rules.get("circuit.drop_binding") else ()


def soft(work: Work) -> bool:
    """Whether too much drop is a caution only, because the rule set advises and does not command."""
    return not binding(work)
