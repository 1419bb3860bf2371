"""What a wire surely carries and what it can carry at most, by size, metal, phases, laying and warmth.

Where the rule set has no figure for a wire, it is held at least against a better one: aluminum never
carries more than copper, three loaded wires no more than two, a warmer place no more than a cooler.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..core import Work
from .conductor import PREFIX, limit, metric
from .currents import Number, three_phase
from .inputs import Inputs

WARMTH = "conductors.ambient"
BETTER = "{lead}; it is held against {better}, which carries no less. "
LEADS = {False: "The rule set has no figure for it", True: "The wire’s metal is not told"}


@dataclass(frozen=True)
class Span:
    """Amperes: ``low`` is carried for sure, more than ``high`` never; None where no figure tells.

    ``low_keys`` and ``high_keys`` are the rule keys behind each; ``better`` says of what wire
    the higher limit is, where it is another's.
    """

    low: Number
    high: Number
    low_keys: tuple[str, ...] = ()
    high_keys: tuple[str, ...] = ()
    better: str = ""


def span(work: Work, inputs: Inputs, name: str, size: str | None = None) -> Span:
    """What a size does as to ``name``: ``carries`` a current, or suits a ``breaker``."""
    wire = size or inputs.conductor
    if wire is None:
        return Span(None, None)
    if inputs.layout == "ring":
        return _ring(work, inputs, wire)
    found = _tabled(work, inputs, name, wire)
    share, most = shares(work, inputs)
    keys = (WARMTH,) if inputs.ambient is not None else ()
    warmed = replace(found, low=_times(found.low, share), high=_times(found.high, most),
                     low_keys=(*found.low_keys, *keys), high_keys=(*found.high_keys, *keys))  # fmt: skip
    return _terminals(work, inputs, found, warmed, wire)


# -- warmth -----------------------------------------------------------------------------


def shares(work: Work, inputs: Inputs, key: str = WARMTH) -> tuple[Number, float]:
    """The share of its table that a wire carries at the warmth given, and the most it may be.

    The first is None where the warmth is not given or the rule set has no figure for it.
    """
    figure = work.rules.get(key)
    rows = [] if figure is None else figure.value
    if inputs.ambient is None or not rows:
        return None, 1.0
    share = next((row["factor"] for row in rows if inputs.ambient <= row["upto"] + 1e-9), None)
    # Warmer than the whole table it carries no more than at the table's end.
    return share, rows[-1]["factor"] if share is None else share


def _times(value: Number, share: Number) -> Number:
    return None if value is None or share is None else value * share


def _terminals(work: Work, inputs: Inputs, found: Span, warmed: Span, wire: str) -> Span:
    """Insulation that stands more heat, from its own column; the terminals' figure stands beside it."""
    key = f"conductors.carries_{inputs.insulation}_{wire}"
    own = None if inputs.material != "copper" else limit(work, key)
    if own is None or found.low is None:
        return warmed
    warmth = f"{WARMTH}_{inputs.insulation}"
    share, most = shares(work, inputs, warmth)
    keys = (*found.low_keys, key, *((warmth,) if inputs.ambient is not None else ()))
    low = None if share is None else min(found.low, own * share)
    return Span(low, min(found.low, own * most), keys, keys)


# -- the tables -------------------------------------------------------------------------


def _tabled(work: Work, inputs: Inputs, name: str, wire: str) -> Span:
    """The figures as tabled, before warmth is counted."""
    metal, phases = inputs.material, three_phase(inputs)
    own = _figures(work, inputs, name, wire, metal, phases)
    if own.low is not None:
        return own
    for better, other, three in (("copper", "copper", phases), ("one phase", metal, False),
                                 ("copper on one phase", "copper", False)):  # fmt: skip
        known = _figures(work, inputs, name, wire, other, three)
        if known.high is not None and (other, three) != (metal, phases):
            return Span(None, known.high, own.low_keys, known.high_keys, better)
    return own


def _figures(work: Work, inputs: Inputs, name: str, wire: str, metal: str | None, three: bool) -> Span:
    # The tables in mm² tell wires of three phases apart; those in gauges hold for up to three.
    prefix = PREFIX[metal] + ("three_" if three and metric(wire) else "")
    bad, best = f"conductors.{prefix}{name}_{wire}", f"conductors.{prefix}carries_most_{wire}"
    well = f"conductors.{prefix}clipped_{wire}"
    well = well if limit(work, well) is not None else best
    low, top = limit(work, bad), limit(work, best)
    if top is None:  # one figure for every way of laying
        return Span(low, low, (bad,), (bad,))
    if inputs.laid == "clipped":
        return Span(limit(work, well), limit(work, well), (well,), (well,))
    return Span(low, low if inputs.laid == "insulation" else top, (bad,), (bad if inputs.laid == "insulation" else best,))


def _ring(work: Work, inputs: Inputs, wire: str) -> Span:
    """A ring suits its breaker while its wire carries what the rule asks of it, however it is laid."""
    key, least = f"conductors.ring_{wire}", limit(work, "conductors.ring_wire_least")
    whole = limit(work, key)
    wired = span(work, inputs.changed({"layout": "radial"}), "carries", wire)
    if whole is None or least is None:
        return Span(None, None, (key,), (key,))
    high = whole if wired.high is None else whole * min(1.0, wired.high / least)
    warm = (WARMTH,) if inputs.ambient is not None else ()
    if inputs.material != "copper":  # the rule speaks of copper
        own = () if inputs.material is None else (f"conductors.al_ring_{wire}",)
        return Span(None, high, own, (key, *warm), "copper")
    low = None if wired.low is None else whole * min(1.0, wired.low / least)
    return Span(low, high, (key, *warm), (key, *warm))

