"""How many more of this cabinet the circuit takes: by amperes, by voltage, by leakage."""

from __future__ import annotations

from ..core import Work
from . import ampacity, place
from .advice import Advice
from .currents import Circuit, Number
from .inputs import Inputs

# Keeps a whole number whole when it comes out a hair below.
HAIR = "0.000001"


def solve(inputs: Inputs, work: Work, circuit: Circuit, advised: Advice, leakage: Number) -> None:
    """Each count with its working, and the least of them."""
    work.section("How many more of this cabinet")
    amps = _by_amps(inputs, work, circuit)
    drop = _by_drop(inputs, work, circuit, advised)
    work.value("more_amps", amps)
    work.value("more_drop", drop)
    work.value("more_leakage", leakage)
    # In each cabinet's own plug the device sees one cabinet only, so leakage sets no number.
    counts = [amps, drop] if place.own_device(inputs) else [amps, drop, leakage]
    known = [each for each in counts if each is not None]
    work.value("more_cabinets", min(known) if len(known) == len(counts) else None)


def _by_amps(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """By breaker and wire; none where one alone is above the share of one plug."""
    wire = ampacity.span(work, inputs, "carries").low
    if wire is None or not circuit.sure:
        return None
    work.given("I_w", "What the wire carries for sure", wire, "current")
    work.step("I_j", "One more counts", "k_c*I" if circuit.cabinet.continuous is not False else "I", "current")
    work.step("r", "Times it goes into what is left", "max(0, (min(I_b, I_w) - I_d)/I_j)", "ratio")
    count = work.step("N", "More of this cabinet, by amperes", f"floor(r + {HAIR})", "count")
    if work.rules.get("circuit.plug_share") is None or count is None:
        return count
    work.rule("k_p", "circuit.plug_share")
    share = work.step("I_q", "Most for one plugged appliance", "k_p*I_b", "current",
                      note="Two or more share the circuit, so one must also be within the share of one plug.")  # fmt: skip
    if share is not None and (circuit.cabinet.amps or 0.0) > share + 1e-9:
        return work.given("N_0", "None: one alone is above its share", 0.0, "count")
    return count


def _by_drop(inputs: Inputs, work: Work, circuit: Circuit, advised: Advice) -> Number:
    """By the advised drop, all of them at this cabinet's outlet."""
    if not circuit.sure or advised.here is None:
        return None
    work.given("p_h", "Advised drop at this run", advised.here, "percent")
    work.step("u_1", "One more loses", "100*b*I*Z*L/1000/V_n", "percent")
    return work.step("N_u", "More of this cabinet, by voltage drop", f"floor(max(0, p_h - u)/u_1 + {HAIR})", "count",
                     note="With their plugs at this same outlet or nearer the {panel}.")  # fmt: skip
