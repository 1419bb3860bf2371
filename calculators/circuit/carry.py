"""Breaker and current against what the wire carries."""

from __future__ import annotations

from ..core import Work
from . import ampacity, conductor
from .ampacity import Span
from .conductor import ELECTRICIAN, WIRE
from .currents import Circuit, Number, bounded
from .inputs import Inputs

LAID = ("How much this wire carries depends on how it is laid: {low} laid badly, {high} at best. "
        + ELECTRICIAN)  # fmt: skip
ALUMINUM = "Have a {electrician} check wire, joints and outlet before use."
HOT = "The rule set has no figure for a place so hot. " + ELECTRICIAN


def solve(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> None:
    """Both checks; whatever lowers what the wire carries lowers it in both. Aluminum never goes unseen."""
    _warmth(inputs, work)
    _check(inputs, work, "wire_breaker", circuit.breaker, ampacity.span(work, inputs, "breaker"), ("breaker", *WIRE))
    carries = ampacity.span(work, inputs, "carries")
    _check(inputs, work, "wire_load", bounded(circuit, design, carries.high), carries, (*WIRE, *circuit.lacking))
    if inputs.material is None:
        work.verdict("aluminum", None, needs=("material",))
    elif inputs.material == "aluminum":
        work.verdict("aluminum", False, note=ALUMINUM,
                     bad="Its joints work loose and get hot, and not every {outlet} is made for it; nothing here tells how they are.")  # fmt: skip


def _check(inputs: Inputs, work: Work, key: str, value: Number, span: Span, needs: tuple[str, ...]) -> None:
    """A pass up to the lower limit, a stop above the higher; between the two nobody can tell from here."""
    limit, keys = _limit(value, span)
    work.check(key, None if limit is None else value, limit, needs=(*needs, *_open(inputs, work, limit)),
               rules=keys, note=_note(inputs, work, value, span, limit))  # fmt: skip


def _limit(value: Number, span: Span) -> tuple[Number, tuple[str, ...]]:
    """The limit that decides, and its keys; None where none does."""
    if value is None:
        return None, span.low_keys
    if span.high is not None and value > span.high * (1 + 1e-9):
        return span.high, tuple(dict.fromkeys((*span.low_keys, *span.high_keys)))
    if span.low is not None and value <= span.low * (1 + 1e-9):
        return span.low, span.low_keys
    return None, tuple(dict.fromkeys((*span.low_keys, *span.high_keys)))


def _open(inputs: Inputs, work: Work, limit: Number) -> tuple[str, ...]:
    """What would have to be known of the wire's way, where that may decide."""
    told = work.rules.get("conductors.laid") is not None
    return () if limit is not None else ("ambient", *(("laid",) if told else ()))


def _note(inputs: Inputs, work: Work, value: Number, span: Span, limit: Number) -> str:
    if span.better:
        return ampacity.BETTER.format(lead=ampacity.LEADS[inputs.material is None], better=span.better) + ELECTRICIAN
    if limit is not None or value is None or inputs.ambient is None:
        return conductor.advice(work, inputs)
    if span.low is None:
        return HOT if conductor.figured(work, inputs) else conductor.advice(work, inputs)
    return LAID.format(low=work.text(span.low, "current", "down"), high=work.text(span.high, "current", "down"),
                       electrician="{electrician}")  # fmt: skip


def _warmth(inputs: Inputs, work: Work) -> None:
    """Name the share of the table on the sheet."""
    if inputs.ambient is None:
        return
    work.take("ambient")
    work.given("k_a", "Share of the table that the wire carries there", ampacity.shares(work, inputs)[0], "ratio")
    work.share("k_a")
