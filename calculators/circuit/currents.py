"""What is on the circuit: each thing's amperes, and what is known of the whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..core import Work
from ..core.work import judge
from . import maths
from .inputs import THREE_PHASE_VOLTAGES, Inputs, Load

Number = float | None


@dataclass(frozen=True)
class Thing:
    """One kind of thing on the circuit, with the symbols its numbers bear on the sheet.

    ``plugged`` and ``continuous`` of None are not known; amperes of None likewise.
    """

    place: str
    path: str
    mark: str
    amps: Number
    count: int
    power_factor: Number
    continuous: bool | None
    plugged: bool | None
    start: Number
    leakage: Number
    distance: Number = None

    def sym(self, letter: str) -> str:
        """Its symbol for a letter.

        ``I`` amperes, ``n`` how many, ``f`` power factor, ``Z`` impedance, ``y`` leakage,
        ``x`` distance, ``w`` share of the run.
        """
        return f"{letter}{self.mark}"

    @property
    def share(self) -> str:
        """The share of the run its current travels, as a factor of a formula; "" for all of it."""
        return "" if self.distance is None else f"*{self.sym('w')}"


@dataclass(frozen=True)
class Circuit:
    """The things, the cabinet first; ``lacking`` names what must be known for the whole.

    ``shared`` and ``several`` (two receptacles or more) of None are not known. ``sure`` says
    that the list is whole and every ampere in it known; ``wanted`` names what the cabinet's rest on.
    """

    things: tuple[Thing, ...]
    breaker: Number
    shared: bool | None
    several: bool | None
    sure: bool
    lacking: tuple[str, ...]
    wanted: tuple[str, ...]
    way: float = maths.SINGLE_PHASE

    @property
    def cabinet(self) -> Thing:
        """The new cabinet."""
        return self.things[0]

    @property
    def known(self) -> tuple[Thing, ...]:
        """The cabinet, and all else whose amperes are known."""
        return (self.things[0], *(each for each in self.things[1:] if each.amps is not None))


def total(things: Iterable[Thing], pattern: str = "{n}*{I}") -> str:
    """A sum over things as a formula; ``pattern`` names their symbols, ``w`` with its own times."""
    letters = ("I", "n", "Z", "y", "x")
    terms = [pattern.format(w=thing.share, **{each: thing.sym(each) for each in letters}) for thing in things]
    return " + ".join(terms) or "0"


def bounded(circuit: Circuit, value: Number, limit: Number) -> Number:
    """The value, or None where it holds so far but something is still left out of it."""
    if value is None or limit is None or circuit.sure:
        return value
    return value if judge(limit - value, limit, 0.0, False) == "stop" else None


def of(inputs: Inputs, work: Work) -> Circuit:
    """Name every current on the sheet and put the circuit together."""
    work.section("What the circuit carries")
    volts = None if inputs.nominal_voltage is None else float(inputs.nominal_voltage)
    breaker = None if inputs.breaker is None else float(inputs.breaker)
    work.given("V_n", "Voltage of the circuit", volts, "voltage")
    work.given("I_b", "Breaker", breaker, "current")
    three = three_phase(inputs)
    way = maths.THREE_PHASE if three else maths.SINGLE_PHASE
    work.given("b", "Way of the current", way, "ratio",
               "√3, for three phases with even load." if three else "Out by one wire, back by the other.")
    things = [_cabinet(inputs, work), *(_load(work, number) for number in range(len(inputs.loads or [])))]
    unknown = [path for each in things for path in _wanted(work, each)]
    listed = inputs.dedicated is True or inputs.loads_listed is True
    if not listed:
        unknown.append("loads_listed" if inputs.dedicated is False else "dedicated")
    shared, several = _sharing(inputs)
    return Circuit(tuple(things), breaker, shared, several, not unknown, tuple(unknown),
                   _wanted(work, things[0]), way)  # fmt: skip


def three_phase(inputs: Inputs) -> bool:
    """Whether three phases feed the cabinet; 120 V and 230 V, to neutral, never do.

    Where nobody read the voltage it is as somebody said: a wire of three phases never carries more than one of one.
    """
    return inputs.phases == "three" and inputs.nominal_voltage in (None, *THREE_PHASE_VOLTAGES)


def _sharing(inputs: Inputs) -> tuple[bool | None, bool | None]:
    """Whether the circuit feeds more than one appliance, and more than one receptacle."""
    more = bool(inputs.loads) or inputs.cabinet_count > 1
    shared = True if more else None if inputs.dedicated is None else not inputs.dedicated
    if shared or (inputs.outlets or 0) > 1:
        return shared, True
    return shared, None if inputs.outlets is None or shared is None else False


def _wanted(work: Work, thing: Thing) -> tuple[str, ...]:
    if thing.amps is not None:
        return ()
    stem = f"{thing.path}." if thing.mark else "cabinet_"
    if work.find(f"{stem}watts")[1] is None:
        return (f"{stem}amps",)
    return work.unknown(f"{stem}power_factor", "nominal_voltage")


def _cabinet(inputs: Inputs, work: Work) -> Thing:
    work.take("cabinet_count")
    amps = _amps(work, "cabinet_", "", "This cabinet")
    return Thing("This cabinet", "", "", amps, inputs.cabinet_count,
                 inputs.cabinet_power_factor, inputs.cabinet_continuous, not inputs.cabinet_fastened,
                 inputs.cabinet_start_amps, inputs.cabinet_leakage)  # fmt: skip


def _load(work: Work, number: int) -> Thing:
    inputs = work.asked(Inputs)
    load: Load = inputs.loads[number]
    path, mark = f"loads.{number}", f"_{number + 1}"
    place = f"Load {number + 1}" + (f" ({load.name})" if load.name else "")
    amps = _amps(work, f"{path}.", mark, place)
    if amps is not None:
        work.take(f"{path}.count", f"n{mark}", f"{place}: how many")
    return Thing(place, path, mark, amps, load.count, load.power_factor, load.continuous,
                 load.plugged, load.start_amps, load.leakage, load.distance)  # fmt: skip


def _amps(work: Work, stem: str, mark: str, place: str) -> Number:
    """Amperes of one, from its plate or from watts; ``stem`` begins the paths of its inputs."""
    inputs = work.asked(Inputs)
    work.take(f"{stem}power_factor", f"f{mark}", f"{place}: power factor")
    if work.find(f"{stem}amps")[1] is not None or work.find(f"{stem}watts")[1] is None:
        return work.take(f"{stem}amps", f"I{mark}", f"{place}: amperes")
    work.take(f"{stem}watts", f"P{mark}", f"{place}: watts")
    volts = "sqrt(3)*V_n" if three_phase(inputs) else "V_n"
    return work.step(f"I{mark}", f"{place}: amperes", f"P{mark}/({volts}*f{mark})", "current")
