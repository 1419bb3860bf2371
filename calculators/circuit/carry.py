"""What the wire carries: by its size, by how it is laid, by the warmth of the place it runs through."""

from __future__ import annotations

from ..core import Work
from . import conductor
from .conductor import ELECTRICIAN
from .currents import Circuit, Number, bounded
from .inputs import Inputs

LAID = ("How much this wire carries depends on how it is laid: {low} laid badly, {high} at best. "
        + ELECTRICIAN)  # fmt: skip
WARMTH = "conductors.ambient"


def solve(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> None:
    """Breaker and current against the wire."""
    factor = _warmth(inputs, work)
    laid = _Laid(inputs, work)
    value, limit = laid.held("breaker", circuit.breaker, 1.0)
    work.check("wire_breaker", value, limit, needs=("breaker", "conductor"), rules=laid.keys, note=laid.note)
    value, limit = laid.held("carries", design, factor)
    rules = laid.keys if inputs.ambient is None else [*laid.keys, WARMTH]
    work.check("wire_load", bounded(circuit, value, limit), limit, needs=("conductor", *circuit.lacking),
               rules=rules, note=laid.note)  # fmt: skip


def factor(inputs: Inputs, work: Work) -> Number:
    """The share of its table that a wire carries at the warmth given; None where no figure is held."""
    if inputs.ambient is None:
        return 1.0
    figure = work.rules.get(WARMTH)
    rows = [] if figure is None else figure.value
    return next((row["factor"] for row in rows if inputs.ambient <= row["upto"] + 1e-9), None)


def _warmth(inputs: Inputs, work: Work) -> Number:
    share = factor(inputs, work)
    if inputs.ambient is not None:
        work.take("ambient")
        work.given("k_a", "Share of the table that the wire carries there", share, "ratio")
        work.share("k_a")
    return share


class _Laid:
    """What the wire carries, laid badly and laid well; between the two nobody can tell from here."""

    def __init__(self, inputs: Inputs, work: Work) -> None:
        self.inputs, self.work = inputs, work
        self.keys: list[str] = []
        self.note = ""

    def held(self, name: str, value: Number, share: Number) -> tuple[Number, Number]:
        """Value and limit of a check: a pass below the lower, a stop above the higher limit."""
        inputs, work = self.inputs, self.work
        self.note = conductor.advice(work, inputs)
        self.keys = [] if inputs.conductor is None else [conductor.key(inputs, name)]
        low = _times(work.inner(self.keys[0]) if self.keys else None, share)
        high = None if inputs.layout == "ring" else _times(conductor.limit(work, conductor.most_key(inputs)), share)
        if value is None or low is None or high is None or value <= low * (1 + 1e-9):
            return value, low
        self.keys.append(conductor.most_key(inputs))
        if value > high * (1 + 1e-9):
            return value, high
        self.note = LAID.format(low=work.text(low, "current", "down"), high=work.text(high, "current", "down"),
                                electrician="{electrician}")  # fmt: skip
        return None, high


def _times(value: Number, share: Number) -> Number:
    return None if value is None or share is None else value * share
