"""Voltage: lost in the wire, left at the cabinet, and what two meter readings tell."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core import Work
from . import maths
from .breaker import ELECTRICIAN
from .currents import Circuit, Number, Thing, bounded, total
from .inputs import METER, RUN_TAPE, SIZES, Inputs

SUPPLY = "Have a licensed electrician or the power company look at the supply."


@dataclass(frozen=True)
class Profile:
    """Voltages from the panel to the cabinet, for the figure."""

    source: Number
    running: Number
    starting: Number


@dataclass(frozen=True)
class Size:
    """One size of wire on this circuit: amperes it allows, volts lost, longest run in metres."""

    awg: str
    breaker: float
    carries: float
    lost: float
    longest: float


def solve(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> Profile:
    """Drop, longest run, smallest wire, voltage running and at start."""
    drop = _drop(inputs, work, circuit)
    _smallest(inputs, work, circuit, design)
    starter = _hardest_start(circuit)
    dip = _start_drop(work, circuit, starter)
    measured = _readings(inputs, work)
    return _at_cabinet(inputs, work, circuit, (drop, dip), measured, starter)


def size_of(inputs: Inputs) -> str | None:
    """The wire's size where there are figures for its metal."""
    return inputs.conductor if inputs.material == "copper" else None


def _drop(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    work.section("Voltage lost in the wire")
    _impedances(inputs, work, circuit)
    work.take("run")
    work.step("Z_m", "Impedance, averaged over the currents", f"({total(circuit.known, '{n}*{I}*{Z}')})/I_t",
              "impedance_per_length")  # fmt: skip
    drop = work.step("D", "Voltage drop, out and back", "2*I_t*Z_m*L/1000", "voltage",
                     note="All are taken to sit at the far end of the run, which loses most.")  # fmt: skip
    share = work.step("u", "Voltage drop", "100*D/V_n", "percent")
    limit = work.rule("p", "circuit.drop_advice")
    longest = work.step("L_m", "Longest run at that drop", "1000*p/100*V_n/(2*I_t*Z_m)", "run")
    off = 0.0 if share is None else share * RUN_TAPE / (inputs.run or 1.0)
    size = size_of(inputs)
    needs = ("run", "nominal_voltage", *(() if inputs.material != "copper" else ("conductor",)), *circuit.lacking)
    work.check("drop", bounded(circuit, share, limit), limit, needs=needs,
               tolerance=off if size else 0.0, note=ELECTRICIAN)  # fmt: skip
    work.share("D", "L")
    for key, value in (("drop_volts", drop), ("drop_share", share), ("longest_run", longest)):
        work.value(key, value if circuit.sure else None)
    return drop if circuit.sure else None


def _volts(inputs: Inputs) -> Number:
    return None if inputs.nominal_voltage is None else float(inputs.nominal_voltage)


def _impedances(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """Resistance and reactance of the wire, and what each thing makes of them."""
    size = size_of(inputs)
    names = {"R_8": "dc", "R_9": "ac", "X": f"x_{_pipe(inputs)}"}
    for symbol, name in names.items():
        if size is None:
            work.given(symbol, "Wire", None, "impedance_per_length")
        else:
            work.rule(symbol, f"conductors.{name}_{size}")
    work.step("R", "Resistance, the larger of the two tables", "max(R_8, R_9)", "impedance_per_length",
              note="One table prints only two figures; the larger value is the safe one.")  # fmt: skip
    work.step("Z_w", "Impedance at its worst power factor", "sqrt(R**2 + X**2)", "impedance_per_length")
    work.share("Z_w")
    for each in circuit.known:
        known = each.power_factor is not None
        formula = f"R*{each.sym('f')} + X*sin(acos({each.sym('f')}))" if known else "Z_w"
        note = "" if known else "Power factor not known: the one that loses most."
        work.step(each.sym('Z'), f"{each.place}: effective impedance", formula, "impedance_per_length", note=note)
        work.share(each.sym('Z'))


def _smallest(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> None:
    """The thinnest size that does, and a table of what each size would do here."""
    volts, breaker = _volts(inputs), circuit.breaker
    if not circuit.sure or design is None or volts is None or breaker is None or inputs.run is None:
        work.value("smallest_wire", None)
        return
    allowed = (work.inner("circuit.drop_advice") or 0.0) / 100 * volts
    sizes = [_size(inputs, work, circuit, allowed, size) for size in SIZES]
    good = [each for each in sizes
            if breaker <= each.breaker and design <= each.carries and inputs.run <= each.longest]  # fmt: skip
    work.value("smallest_wire", float(good[0].awg) if good else None)
    work.table(
        "What each wire size would do here",
        ("Copper wire", "Largest breaker", "Carries", "Loses here", "Longest run", "Does"),
        [(f"{each.awg} AWG", work.text(each.breaker, "current"), work.text(each.carries, "current"),
          work.text(each.lost, "voltage", "up"), work.text(each.longest, "run", "down"),
          "yes" if each in good else "no") for each in sizes],
        "A smaller number is a thicker wire. What is in the wall is for a licensed electrician.", detail=True,
    )  # fmt: skip


def _size(inputs: Inputs, work: Work, circuit: Circuit, allowed: float, size: str) -> Size:
    """What the circuit's currents lose in one size of wire."""
    breaker, carries, dc, ac = (work.inner(f"conductors.{name}_{size}") or 0.0
                                for name in ("breaker", "carries", "dc", "ac"))  # fmt: skip
    reactance = work.inner(f"conductors.x_{_pipe(inputs)}_{size}") or 0.0
    resistance = max(dc, ac)
    amps = [each.count * (each.amps or 0.0) for each in circuit.things]
    factors = [each.power_factor or maths.worst_power_factor(resistance, reactance) for each in circuit.things]
    parts = [current * maths.effective_impedance(resistance, reactance, factor)
             for current, factor in zip(amps, factors, strict=True)]  # fmt: skip
    together = math.fsum(amps)
    mean = math.fsum(parts) / together
    return Size(size, breaker, carries, maths.drop_volts(together, mean, inputs.run or 0.0),
                maths.longest_run(allowed, together, mean))  # fmt: skip


def _pipe(inputs: Inputs) -> str:
    """The column of reactance: steel has its own, PVC and aluminum share one."""
    return "steel" if inputs.raceway == "steel" else "pvc"


# -- starting -------------------------------------------------------------------------


def _hardest_start(circuit: Circuit) -> Thing | None:
    """What draws most above its running current when it starts; the cabinet's must be known."""
    if circuit.cabinet.start is None or circuit.cabinet.amps is None:
        return None
    known = [each for each in circuit.known if each.start is not None]
    return max(known, key=lambda each: (each.start or 0.0) - (each.amps or 0.0))


def _start_drop(work: Work, circuit: Circuit, starter: Thing | None) -> Number:
    if starter is None:
        return None
    work.section("When it starts")
    path = f"{starter.path}.start_amps" if starter.path else "cabinet_start_amps"
    work.take(path, "I_s", f"{starter.place}: starting amperes")
    work.share("I_s")
    drop = work.step(
        "D_s", "Voltage drop while it starts",
        f"D + 2*L/1000*max(0, I_s*Z_w - {starter.sym('I')}*{starter.sym('Z')})", "voltage",
        note="One starts while all else runs; its power factor then is taken as the one that loses most.")  # fmt: skip
    work.share("D_s")
    return drop if circuit.sure else None


# -- readings -------------------------------------------------------------------------


def _readings(inputs: Inputs, work: Work) -> Number:
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
    work.verdict("reading", tells, needs=("volts_idle", "volts_loaded", "test_amps"),
                 good="The fall is larger than the meter's error.",
                 bad="The fall is no larger than the meter's error, so it tells nothing.",
                 note="Read again with a larger test load, such as a heater the outlet may carry, "
                 "or with a finer meter.")  # fmt: skip
    if not tells:
        work.value("source_impedance", None)
        return None
    middle = work.step("Z_s", "Impedance from the source to the outlet", "F/I_m", "impedance")
    upper = work.step("Z_h", "At most", "(F + 2*e)/I_m", "impedance")
    work.share("Z_h")
    work.value("source_impedance", middle, 2 * METER / inputs.test_amps)
    return upper


# -- at the cabinet -------------------------------------------------------------------


def _at_cabinet(
    inputs: Inputs, work: Work, circuit: Circuit, drops: tuple[Number, Number],
    measured: Number, starter: Thing | None,
) -> Profile:  # fmt: skip
    work.section("Voltage at the cabinet")
    source = _supply(inputs, work, "V_l", "low")
    running = _left(work, "V_r", "Voltage while it runs", drops[0], "D", measured, "n*I")
    more = f"n*I + max(0, I_s - {starter.sym('I')})" if starter else ""
    starting = _left(work, "V_s", "Voltage while it starts", drops[1], "D_s", measured, more)
    meter = METER if inputs.volts_idle is not None else 0.0
    off = meter + _run_off(inputs, drops[0])
    base = ("cabinet_volts_least", *_volt_needs(inputs, circuit))
    work.take("cabinet_volts_least")
    least = inputs.cabinet_volts_least
    work.check("volts_running", running, least, needs=base, tolerance=off, note=SUPPLY)
    work.check("volts_starting", starting, least, needs=(*base, "cabinet_start_amps"),
               tolerance=meter + _run_off(inputs, drops[1]),
               note="A compressor may hum and fail to start, and trip. " + SUPPLY)  # fmt: skip
    highest = _supply(inputs, work, "V_h", "high")
    work.check("volts_high", highest, inputs.cabinet_volts_most, tolerance=meter,
               needs=("cabinet_volts_most", "nominal_voltage"),
               note="Do not plug it in: the supply may be above what it stands. " + SUPPLY)  # fmt: skip
    work.value("volts_running", running, off if running is not None else 0.0)
    work.value("volts_starting", starting, meter)
    dip = None if starting is None or source is None else source - starting
    work.value("start_dip", dip)
    return Profile(source, running, starting)


def _volt_needs(inputs: Inputs, circuit: Circuit) -> tuple[str, ...]:
    wire = ("conductor",) if inputs.material == "copper" else ()
    return ("nominal_voltage", "run", *wire, *circuit.lacking)


def _run_off(inputs: Inputs, drop: Number) -> float:
    return 0.0 if drop is None or not inputs.run else drop * RUN_TAPE / inputs.run


def _supply(inputs: Inputs, work: Work, symbol: str, end: str) -> Number:
    """The reading taken there, or the end of the usual range where none was taken."""
    if inputs.volts_idle is not None:
        return work.take("volts_idle", symbol, "Volts read, cabinet unplugged")
    if inputs.nominal_voltage is None:
        return work.given(symbol, "Supply", None, "voltage")
    return work.rule(symbol, f"circuit.supply_{end}_{inputs.nominal_voltage}")


def _left(
    work: Work, symbol: str, label: str, drop: Number, name: str, measured: Number, amps: str
) -> Number:
    """The supply less the larger of the drop worked out and the drop measured."""
    seen = f"({amps})*Z_h" if measured is not None and amps else ""
    told = name if drop is not None else ""
    lost = f"max({told}, {seen})" if told and seen else told or seen
    return work.step(symbol, label, f"max(0, V_l - {lost})", "voltage") if lost else None
