"""What two meter readings tell: the impedance of the source, and all that is lost up to the outlet."""

from __future__ import annotations

from ..core import Work
from . import advice
from .currents import Circuit, Number, bounded
from .inputs import METER, Inputs

LOST = "Have a {electrician} find where it is lost: in the wire, in a joint or before the {panel}."
PAIR = ("volts_idle", "volts_loaded", "test_amps")


def lacking(inputs: Inputs) -> tuple[str, ...]:
    """What a test that is told in part still lacks: filled in, it may tell that more is lost than the wire alone loses."""
    begun = inputs.volts_loaded is not None or inputs.test_amps is not None
    return tuple(path for path in PAIR if begun and getattr(inputs, path) is None)


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """The upper end of the source's impedance from two readings; None when they cannot tell."""
    if inputs.volts_loaded is None and inputs.test_amps is None:
        work.value("source_impedance", None)
        return None
    work.section("What the two readings tell")
    for path in ("volts_idle", "volts_loaded", "test_amps"):
        work.take(path)
    work.given("e", "Each reading may be off by", METER, "voltage")
    fall = work.step("F", "Fall from one reading to the other", "V_0 - V_1", "voltage")
    tells = None if fall is None or inputs.test_amps is None else fall > 2 * METER
    told = work.verdict("reading", tells, needs=PAIR,
                 good="The fall is larger than the meter's error.",
                 bad="The fall is no larger than the meter's error, so it tells nothing.",
                 note="Read again with a larger test load, such as a heater the outlet may carry, "
                 "or with a finer meter.")  # fmt: skip
    told.mild = tells is not None  # a reading that lacks its other half may yet stop a check that rests on both
    if not tells:
        work.value("source_impedance", None)
        if tells is None:
            _drop_check(inputs, work, circuit, None, 0.0, PAIR)
        return None
    middle = work.step("Z_s", "Impedance from the source to the outlet", "F/I_m", "impedance")
    upper = work.step("Z_h", "At most", "(F + 2*e)/I_m", "impedance",
                      note="A heater as test load shows the resistance in full, the reactance hardly.")  # fmt: skip
    work.share("Z_h")
    work.value("source_impedance", middle, 2 * METER / inputs.test_amps)
    _drop_seen(inputs, work, circuit, middle)
    return upper


def _drop_seen(inputs: Inputs, work: Work, circuit: Circuit, middle: Number) -> None:
    """All that is lost up to the outlet, from the readings, against the advice for the whole way."""
    seen = work.step("u_m", "Lost up to the outlet with all of them running", "100*I_t*Z_s/V_n", "percent")
    _drop_check(inputs, work, circuit, seen, 0.0 if seen is None or not middle else seen * 2 * METER / inputs.test_amps / middle)


def _drop_check(inputs: Inputs, work: Work, circuit: Circuit, seen: Number, off: float, needs: tuple[str, ...] = ()) -> None:
    limit = advice.whole(inputs, work)
    work.check("drop_total", bounded(circuit, seen, limit), limit, at="By the two readings", tolerance=off,
               needs=(*needs, "nominal_voltage", *circuit.lacking), note=LOST, soft=advice.soft(work), rules=advice.binding(work))
