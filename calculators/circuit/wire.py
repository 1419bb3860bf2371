"""Voltage lost in the wire: the drop at the cabinet and the longest run within the advice."""

from __future__ import annotations

from ..core import Work
from . import advice, conductor
from .advice import Advice
from .currents import Circuit, Number, Thing, bounded, total
from .inputs import METER, RUN_TAPE, Inputs

TWO = "Or read the volts at the outlet with a test load and without: that tells the whole way at once."
OHMS = "{n}*{I}*{Z}{w}"


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> tuple[Number, Advice]:
    """Drop against the advice, longest run; the volts lost, by all that is known, and the advice come back."""
    work.section("Voltage lost in the wire")
    ohms = _impedances(inputs, work, circuit)
    drop = _drop(inputs, work, circuit)
    share = work.step("u", "Voltage drop", "100*D/V_n", "percent")
    advised = advice.of(inputs, work)
    longest = _longest(work, circuit, advised, ohms, share, inputs)
    _across(work, circuit)
    work.share("D", "L", "u", "W", advised.symbol)
    work.check("drop", bounded(circuit, share, advised.branch), advised.branch, needs=volt_needs(circuit),
               tolerance=run_off(inputs, share), note=conductor.advice(work, inputs),
               soft=advice.soft(work), rules=advice.binding(work))  # fmt: skip
    _total(inputs, work, circuit, share)
    for key, value in (("drop_volts", drop), ("drop_share", share), ("longest_run", longest)):
        work.value(key, value if circuit.sure else None)
    return drop, advised


def volt_needs(circuit: Circuit) -> tuple[str, ...]:
    """What a voltage at the cabinet rests on."""
    return ("run", "nominal_voltage", *conductor.WIRE, *circuit.lacking)


def tells(inputs: Inputs) -> bool:
    """Whether two readings were taken whose fall is larger than the meter's error."""
    given = None not in (inputs.volts_idle, inputs.volts_loaded, inputs.test_amps)
    return given and inputs.volts_idle - inputs.volts_loaded > 2 * METER


def run_off(inputs: Inputs, drop: Number) -> float:
    """How far a drop may be off because the run is."""
    return 0.0 if drop is None or not inputs.run else drop * RUN_TAPE / inputs.run


def _impedances(inputs: Inputs, work: Work, circuit: Circuit) -> dict[str, Number]:
    """Resistance and reactance of the wire, and what each thing makes of them, by its path."""
    ohms: dict[str, Number] = {}
    conductor.takes(work, inputs)
    work.step("Z_w", "Impedance at its worst power factor", "sqrt(R**2 + X**2)", "impedance_per_length")
    work.share("Z_w")
    for each in circuit.known:
        known = each.power_factor is not None
        formula = f"R*{each.sym('f')} + X*sin(acos({each.sym('f')}))" if known else "Z_w"
        note = "" if known else "Power factor not known: the one that loses most."
        ohms[each.path] = work.step(
            each.sym("Z"), f"{each.place}: effective impedance", formula, "impedance_per_length",
            note=note)  # fmt: skip
        work.share(each.sym("Z"))
    work.take("run")
    for each in placed(circuit):
        work.take(f"{each.path}.distance", each.sym("x"), f"{each.place}: from the {{panel}}")
        work.step(each.sym("w"), f"{each.place}: share of the run its current travels",
                  f"min(1, {each.sym('x')}/L)", "ratio")  # fmt: skip
        work.share(each.sym("x"), each.sym("w"))
    return ohms


def placed(circuit: Circuit) -> list[Thing]:
    """The things whose outlet along the run is known; all others count at the cabinet's."""
    return [each for each in circuit.known if each.distance is not None]


def _drop(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    ring = ("A ring shares the current between two ways; it is counted as if the shorter one carried all. "
            if inputs.layout == "ring" else "")  # fmt: skip
    if placed(circuit):
        return work.step("D", "Voltage drop at the cabinet", f"b*L/1000*({total(circuit.known, OHMS)})", "voltage",
                         note=ring + "Each current counts as far as the run carries it.")  # fmt: skip
    work.step("Z_m", "Impedance, averaged over the currents", f"({total(circuit.known, OHMS)})/I_t",
              "impedance_per_length")  # fmt: skip
    return work.step("D", "Voltage drop", "b*I_t*Z_m*L/1000", "voltage",
                     note=ring + "All are taken to sit at the far end of the run, which loses most.")  # fmt: skip


# -- the longest run ------------------------------------------------------------------


def _longest(work: Work, circuit: Circuit, advised: Advice, ohms: dict[str, Number], u: Number,
             inputs: Inputs) -> Number:  # fmt: skip
    """The run at which just the advised drop is lost; what is nearer the panel stays where it is."""
    left = advised.symbol
    if placed(circuit):
        near = _nearer(inputs, circuit, ohms, advised)
        far = [each for each in circuit.known if each not in near]
        used = f"({total(near, '{n}*{I}*{Z}*{x}')})"
        return work.step("L_m", "Longest run at that drop",
                         f"max(0, 1000*{left}/100*V_n/b - {used})/({total(far, '{n}*{I}*{Z}')})", "run",
                         note="What is nearer the {panel} is left where it is.")  # fmt: skip
    if not advised.extra or u is None or inputs.run is None:
        return work.step("L_m", "Longest run at that drop", f"1000*{left}/100*V_n/(b*I_t*Z_m)", "run")
    # The advice grows with the run: the one root, whichever piece of the advice it lies on.
    steep = u * advised.over > advised.extra * inputs.run * (1 + 1e-9)
    flat = "(p_0 + p_x)/u"
    rest = f"min((p_0 - p_x*L_f/L_o)/(u - p_x*L/L_o), {flat})" if steep else flat
    return work.step("L_m", "Longest run at the drop advised for it", f"L*max(p_0/u, {rest})", "run")


def _nearer(inputs: Inputs, circuit: Circuit, ohms: dict[str, Number], advised: Advice) -> list[Thing]:
    """The things that lie nearer the panel than the end of the longest run."""
    if inputs.nominal_voltage is None or circuit.cabinet.amps is None or None in ohms.values():
        return placed(circuit)
    parts = [each.count * (each.amps or 0.0) * (ohms[each.path] or 0.0) for each in circuit.known]
    spots = [each.distance for each in circuit.known]
    longest = advised.longest(parts, spots, float(inputs.nominal_voltage), circuit.way)
    return [each for each in placed(circuit) if longest is None or (each.distance or 0.0) < longest]


def _across(work: Work, circuit: Circuit) -> None:
    """The part of the lost voltage at right angles to the cabinet's own, which R·cos φ + X·sin φ leaves out."""
    terms = [
        f"{each.sym('n')}*{each.sym('I')}*(X*{each.sym('f')} - R*sin(acos({each.sym('f')}))){each.share}"
        for each in circuit.known if each.power_factor is not None
    ]  # fmt: skip
    if not terms:
        work.given("W", "Lost at right angles to it", None, "voltage")
        return
    work.step("W", "Lost at right angles to it", f"b*L/1000*({' + '.join(terms)})", "voltage",
              note="The drop above is an approximation that leaves this out; below it is counted.")  # fmt: skip


def _total(inputs: Inputs, work: Work, circuit: Circuit, share: Number) -> None:
    """Feeder and branch together; two readings at the outlet tell the same, so one of the two is asked for."""
    if inputs.feeder_drop is None and tells(inputs):
        return
    both = None
    if inputs.feeder_drop is not None:
        both = work.step("u_t", "Feeder and branch together", "u + u_f", "percent")
    limit = advice.whole(inputs, work)
    # Whatever is lost before the panel comes on top.
    value = bounded(circuit, both, limit)
    if both is None and share is not None and limit is not None and share > limit:
        value = share
    work.check("drop_total", value, limit, needs=("feeder_drop", *volt_needs(circuit)),
               tolerance=run_off(inputs, share), note=conductor.advice(work, inputs) if inputs.feeder_drop is not None else TWO,
               soft=advice.soft(work), rules=advice.binding(work))  # fmt: skip
