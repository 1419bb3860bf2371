"""What two meter readings tell: the impedance of the source, and all that is lost up to the outlet."""

from __future__ import annotations

from ..core import Work
from . import advice
from .currents import Circuit, Number, bounded
from .inputs import METER, Inputs

LOST = "Have a {electrician} find where it is lost: in the wire, in a joint or before the {panel}."
FULL = "At the outlet's full current"
TOO_HIGH = "Do not plug it in, whatever its plate says: a neutral may be loose. "
TOO_LOW = "Do not plug it in: larger wire here does not mend a supply that is low. "
SUPPLY = "Have a {electrician} or the power company look at the supply."
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
            _full(inputs, work)
        return None
    middle = work.step("Z_s", "Impedance from the source to the outlet", "F/I_m", "impedance")
    upper = work.step("Z_h", "At most", "(F + 2*e)/I_m", "impedance",
                      note="A heater as test load shows the resistance in full, the reactance hardly.")  # fmt: skip
    work.share("Z_h")
    work.value("source_impedance", middle, 2 * METER / inputs.test_amps)
    _drop_seen(inputs, work, circuit, middle)
    _full(inputs, work)
    return upper


def _drop_seen(inputs: Inputs, work: Work, circuit: Circuit, middle: Number) -> None:
    """All that is lost up to the outlet, from the readings, against the advice for the whole way."""
    seen = work.step("u_m", "Lost up to the outlet with all of them running", "100*I_t*Z_s/V_n", "percent")
    _drop_check(inputs, work, circuit, seen, 0.0 if seen is None or not middle else seen * 2 * METER / inputs.test_amps / middle)


def _drop_check(inputs: Inputs, work: Work, circuit: Circuit, seen: Number, off: float, needs: tuple[str, ...] = ()) -> None:
    limit = advice.whole(inputs, work)
    work.check("drop_total", bounded(circuit, seen, limit), limit, at="By the two readings", tolerance=off,
               needs=(*needs, "nominal_voltage", *circuit.lacking), note=LOST, soft=advice.soft(work), rules=advice.binding(work))


def _full(inputs: Inputs, work: Work) -> None:
    """What is lost for sure with all that one plug may draw there: a cabinet that draws little hides no bad joint."""
    most = [float(each) for each in (inputs.breaker, inputs.receptacle_rating) if each is not None]
    work.given("I_o", "Most that one plug may draw there", min(most, default=None), "current")
    lost = work.step("u_o", "Lost with that, at least", "100*I_o*max(0, F - 2*e)/I_m/V_n", "percent")
    limit = advice.whole(inputs, work)
    if lost is not None and limit is not None and len(most) < 2 and lost > limit:
        lost = None  # the other of the two may be the smaller
    work.check("drop_total", lost, limit, at=FULL, needs=(*PAIR, "breaker", "receptacle_rating", "nominal_voltage"), note=LOST,
               soft=True)  # fmt: skip


def usual(inputs: Inputs, work: Work) -> None:
    """A voltage that was read, against what the supply of the country has at an outlet, whatever the cabinet stands.

    Below the supply's own range lies what the whole way may lose, which a reading has in it. Where the rule
    set knows no such supply, another check says so.
    """
    named = inputs.nominal_voltage
    if inputs.volts_idle is None or (named is not None and f"circuit.supply_high_{named}" not in work.rules.figures):
        return
    work.section("The voltage read against the usual supply")
    work.take("volts_idle")
    (low, lows), (high, highs) = _lowest(inputs, work), _highest(work, named)
    for key, limit, rules, note in (("read_low", low, lows, TOO_LOW), ("read_high", high, highs, TOO_HIGH)):
        work.check(key, inputs.volts_idle if limit is not None else None, limit, tolerance=METER, needs=("nominal_voltage",), rules=rules,
                   note=note + SUPPLY)  # fmt: skip


def _ordinary(work: Work, named: str | None) -> bool:
    """Whether it is the voltage of an ordinary outlet, of which the rule set says what stands there."""
    figure = work.rules.get("outlet.nominal")
    return figure is not None and named is not None and figure.inner == float(named)


def _highest(work: Work, named: str | None) -> tuple[Number, tuple[str, ...]]:
    key = "outlet.volts_high" if _ordinary(work, named) else f"circuit.supply_high_{named}"
    return (None, ()) if named is None else (work.inner(key), (key,))


def _lowest(inputs: Inputs, work: Work) -> tuple[Number, tuple[str, ...]]:
    named = inputs.nominal_voltage
    if named is None:
        return None, ()
    if _ordinary(work, named):
        return work.inner("outlet.volts_low"), ("outlet.volts_low",)
    key = f"circuit.supply_low_{named}"
    work.rule("V_s", key)
    work.given("p_w", "Advised drop of the whole way", advice.whole(inputs, work), "percent")
    return work.step("V_f", "Lowest usual voltage at the outlet", "V_s - p_w/100*V_n", "voltage"), (key, "circuit.drop_total")
