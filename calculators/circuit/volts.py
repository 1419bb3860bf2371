"""Voltage left at the cabinet, running and starting."""

from __future__ import annotations

from dataclasses import dataclass

from ..core import Work
from ..core.report import Check
from ..core.work import judge
from . import cord, readings
from .conductor import WIRE
from .currents import Circuit, Number, Thing
from .inputs import METER, Inputs
from .profile import Profile, bends
from .readings import SUPPLY
from .wire import run_off, volt_needs

READ = "At one end of the usual supply it would not do. Read the voltage at the outlet to know."
START = "A compressor may hum and fail to start, and trip. " + SUPPLY


@dataclass(frozen=True)
class Fall:
    """A drop worked out: its value and symbol, and the amperes in the whole way and in one cord.

    ``turned`` says that a part of it is known to lie at right angles.
    """

    drop: Number
    symbol: str
    amps: str
    cord_amps: str
    turned: bool


@dataclass(frozen=True)
class Start:
    """One thing that starts while all else runs: where its check stands, its symbols, what is lost then."""

    thing: Thing
    at: str
    symbols: tuple[str, str, str]
    drop: Number


ELSE = "What else is on it starts"


def solve(inputs: Inputs, work: Work, circuit: Circuit, drop: Number) -> Profile:
    """Readings, then the voltage at the cabinet running, starting and at its highest."""
    starts = _starts(work, circuit)
    several = inputs.cabinet_count > 1 and None not in (circuit.cabinet.start, circuit.cabinet.amps)
    together = _together(work) if several else None
    measured = readings.solve(inputs, work, circuit)
    work.section("Voltage at the cabinet")
    source = _supply(inputs, work, "V_l", "low")
    _feeder(inputs, work)
    corded = cord.take(inputs, work)
    turned = any(each.power_factor is not None for each in circuit.known)
    run = Fall(drop, "D", "n*I", "I", turned)
    running = _left(inputs, work, "V_r", "Voltage while it runs", run, measured, corded)
    _running_check(inputs, work, circuit, running, drop)
    left = [(_started(inputs, work, circuit, each, turned, measured, corded), each, work.checks[-1]) for each in starts]
    _worst_alone(work, left)
    _unread_starts(work, circuit)
    if several:
        every = Fall(together, "D_a", "n*I_s", "I_s", turned)
        _start_check(inputs, work, circuit, _left(
            inputs, work, "V_t", "Voltage while all of them start", every, measured, corded), together,
            at="All at once, as after a power cut")  # fmt: skip
    _highest(inputs, work)
    readings.usual(inputs, work)
    lowest, hardest = min(((volts, each) for volts, each, _ in left if volts is not None), default=(None, None),
                          key=lambda pair: pair[0])  # fmt: skip
    if not circuit.sure and measured is None:
        running = lowest = hardest = None  # what is not listed would lower them
    work.value("volts_running", running, _off(inputs, drop) if running is not None else 0.0)
    work.value("volts_starting", lowest, _off(inputs, hardest.drop) if hardest else 0.0)
    work.value("start_dip", None if lowest is None or source is None else source - lowest)
    return Profile(source, running, lowest, bends(inputs, work, circuit, hardest.thing if hardest else None))


# -- starting -------------------------------------------------------------------------


def _starts(work: Work, circuit: Circuit) -> list[Start]:
    """The cabinet's own start, and that of all else that is known.

    Which of them pulls hardest is told by the voltage that is left: a smaller one may stand farther off, or lose more.
    """
    others = [each for each in circuit.known[1:] if each.start is not None]
    marks = [f"o{each.mark}" if len(others) > 1 else "o" for each in others]
    found = [_start(work, circuit, circuit.cabinet, "", ("I_s", "D_s", "V_s"))]
    return found + [_start(work, circuit, each, ELSE, (f"I_{mark}", f"D_{mark}", f"V_{mark}"))
                    for each, mark in zip(others, marks, strict=True)]  # fmt: skip


def _worst_alone(work: Work, left: list[tuple[Number, Start, Check]]) -> None:
    """Of all else that starts, the check of the one that leaves least."""
    others = [(volts, check) for volts, start, check in left if start.at == ELSE]
    worst = min(others, key=lambda pair: (pair[0] is not None, pair[0] or 0.0), default=None)
    work.checks = [check for check in work.checks if check.at != ELSE or worst is None or check is worst[1]]


def _start(work: Work, circuit: Circuit, thing: Thing, at: str, symbols: tuple[str, str, str]) -> Start:
    if thing.start is None or thing.amps is None:
        return Start(thing, at, symbols, None)
    amps, lost, _ = symbols
    work.section(f"When {'it' if not at else thing.place[0].lower() + thing.place[1:]} starts")
    path = f"{thing.path}.start_amps" if thing.path else "cabinet_start_amps"
    work.take(path, amps, f"{thing.place}: starting amperes")
    work.share(amps)
    drop = work.step(
        lost, "Voltage drop while it starts",
        f"D + b*L/1000*max(0, {amps}*Z_w - {thing.sym('I')}*{thing.sym('Z')}){thing.share}", "voltage",
        note="One starts while all else runs; its power factor then is taken as the one that loses most.")  # fmt: skip
    work.share(lost)
    return Start(thing, at, symbols, drop)


def _started(inputs: Inputs, work: Work, circuit: Circuit, start: Start, turned: bool, measured: Number,
             corded: bool | None) -> Number:  # fmt: skip
    """The voltage while it starts, and its check."""
    amps, lost, left = start.symbols
    thing = start.thing
    known = thing.start is not None and thing.amps is not None
    fall = Fall(start.drop, lost, f"n*I + max(0, {amps} - {thing.sym('I')})" if known else "",
                "I" if start.at else "I_s", turned)  # fmt: skip
    volts = _left(inputs, work, left, f"Voltage while {'that' if start.at else 'it'} starts", fall, measured, corded)
    _start_check(inputs, work, circuit, volts, start.drop, at=start.at)
    return volts


def _unread_starts(work: Work, circuit: Circuit) -> None:
    """A motor beside the cabinet whose start is not known may pull the voltage down too; a heater has none."""
    blank = [f"{each.path}.start_amps" for each in circuit.things[1:] if each.start is None and each.power_factor != 1.0]
    open_ = not any(check.at == ELSE and check.outcome in ("stop", "caution") for check in work.checks)
    if blank and open_:
        work.checks = [check for check in work.checks if check.at != ELSE]
        work.check("volts_starting", None, None, at=ELSE, needs=(*blank, "cabinet_volts_least"), note=START)


def _together(work: Work) -> Number:
    """The drop when every cabinet starts in the same moment."""
    work.section("When all of them start at once")
    work.take("cabinet_start_amps", "I_s")
    work.share("I_s")
    drop = work.step("D_a", "Voltage drop while all start", "D + b*L/1000*n*max(0, I_s*Z_w - I*Z)",
                     "voltage", note="As after a power cut.")  # fmt: skip
    work.share("D_a")
    return drop


# -- at the cabinet -------------------------------------------------------------------


def _supply(inputs: Inputs, work: Work, symbol: str, end: str) -> Number:
    """The reading taken there, or the end of the usual range where none was taken."""
    if inputs.volts_idle is not None:
        return work.take("volts_idle", symbol, "Volts read, cabinet unplugged")
    if inputs.nominal_voltage is None:
        return work.given(symbol, "Supply", None, "voltage")
    return work.rule(symbol, f"circuit.supply_{end}_{inputs.nominal_voltage}")


def _feeder(inputs: Inputs, work: Work) -> None:
    """The voltage at the head of the circuit: a reading has the feeder's drop in it already."""
    if inputs.feeder_drop is not None and inputs.volts_idle is None:
        work.take("feeder_drop")
        work.step("V_p", "Left at the panel", "V_l - u_f/100*V_n", "voltage")
    else:
        work.step("V_p", "At the head of the circuit", "V_l", "voltage")


def _left(inputs: Inputs, work: Work, symbol: str, label: str, fall: Fall, measured: Number,
          corded: bool | None) -> Number:
    """What the larger of the drop worked out and the drop measured, and the cord, leave."""
    seen = f"({fall.amps})*Z_h" if measured is not None and fall.amps else ""
    told = fall.symbol if fall.drop is not None else ""
    lost = f"max({told}, {seen})" if told and seen else told or seen
    if not lost:
        return None
    head = "sqrt(max(0, V_p**2 - W**2))" if told and fall.turned else "V_p"
    lead = f" - b*{fall.cord_amps}*R_c*L_c/1000" if corded else ""
    return work.step(symbol, label, f"max(0, {head} - {lost}{lead})", "voltage")


def _running_check(inputs: Inputs, work: Work, circuit: Circuit, volts: Number, drop: Number) -> None:
    work.take("cabinet_volts_least")
    _held(inputs, work, circuit, "volts_running", volts, drop, off=_off(inputs, drop), note=SUPPLY,
          needs=("cabinet_volts_least", *volt_needs(circuit)))  # fmt: skip


def _off(inputs: Inputs, drop: Number) -> float:
    return (METER if inputs.volts_idle is not None else 0.0) + run_off(inputs, drop)


def _start_check(inputs: Inputs, work: Work, circuit: Circuit, volts: Number, drop: Number,
                 at: str = "") -> None:  # fmt: skip
    needs = ("cabinet_volts_least", *volt_needs(circuit), *(() if at == ELSE else ("cabinet_start_amps",)))
    _held(inputs, work, circuit, "volts_starting", volts, drop, off=_off(inputs, drop), note=START, needs=needs, at=at)


def _held(inputs: Inputs, work: Work, circuit: Circuit, key: str, volts: Number, drop: Number, *, off: float, note: str,
          needs: tuple[str, ...], at: str = "") -> None:  # fmt: skip
    """A voltage against the cabinet's lowest; unknown where only what was not read decides.

    ``volts`` counts the lowest usual supply, and neither feeder nor cord nor load that is not given; nor
    the wire where its ``drop`` is not known, so that two readings alone may stop and never pass.
    """
    least, rules = inputs.cabinet_volts_least, _supply_keys(inputs, "low")
    low, high = (0.0, 0.0) if inputs.volts_idle is not None else _range(inputs, work)
    wire = ("run", *WIRE, "nominal_voltage") if drop is None else ()
    unread = (*work.unknown(*wire, *cord.NEEDS, *(("feeder_drop",) if inputs.volts_idle is None else ())), *circuit.lacking,
              *readings.lacking(inputs))  # fmt: skip
    if volts is None or least is None or low is None or high is None:
        missing = ("volts_idle",) if rules and low is None else ()
        # Before the voltage is told, cord and wire tell nothing: they are asked for in their turn.
        blanks = circuit.lacking if inputs.nominal_voltage is None and inputs.volts_idle is None else unread
        work.check(key, None if unread or drop is None or volts is None or low is None else volts, least, at=at,
                   needs=tuple(dict.fromkeys((*needs, *missing, *blanks))), tolerance=off, note=note, rules=rules)
        return
    # A supply higher by so much leaves at least so much more: the square root only adds to it.
    best = judge(volts + high - low - least, least, off, soft=False)
    surely = judge(volts - least, least, off, soft=False)
    partial = bool(unread) or drop is None
    # What is not read only lowers it: no better than where all is, and there care at best is a stop at the lowest supply.
    open_ = not (best == "stop" or (best == "caution" and surely == "stop")) if partial else best == "pass" != surely
    decide = (*(("volts_idle",) if best != surely else ()), *unread)
    work.check(key, None if open_ else volts, least, at=at, tolerance=off, rules=rules,
               needs=decide if open_ else needs, note=READ if open_ else note)  # fmt: skip


def _supply_keys(inputs: Inputs, end: str) -> tuple[str, ...]:
    """The figure of the usual supply that stands in for a reading."""
    if inputs.volts_idle is not None or inputs.nominal_voltage is None:
        return ()
    return (f"circuit.supply_{end}_{inputs.nominal_voltage}",)


def _range(inputs: Inputs, work: Work) -> tuple[Number, Number]:
    if inputs.nominal_voltage is None:
        return None, None
    low, high = (work.inner(f"circuit.supply_{end}_{inputs.nominal_voltage}") for end in ("low", "high"))
    return low, high


def _highest(inputs: Inputs, work: Work) -> None:
    """The highest usual supply, or the reading, against the cabinet's highest voltage."""
    highest = _supply(inputs, work, "V_h", "high")
    most, read = inputs.cabinet_volts_most, inputs.volts_idle is not None
    low = _range(inputs, work)[0]
    # The supply may lie anywhere in its range: only a range wholly too high is a stop.
    open_ = (not read and most is not None and low is not None and highest is not None
             and low <= most < highest)  # fmt: skip
    missing = ("volts_idle",) if highest is None and inputs.nominal_voltage is not None else ()
    work.check("volts_high", None if open_ else highest, most, tolerance=METER if read else 0.0,
               rules=_supply_keys(inputs, "high"), needs=("volts_idle",) if open_ else (*missing, "cabinet_volts_most", "nominal_voltage"),
               note=READ if open_ else
               "Do not plug it in: the supply may be above what it stands. " + SUPPLY)  # fmt: skip
