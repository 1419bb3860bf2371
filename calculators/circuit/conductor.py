"""The wire's own figures in each rule set: its resistance when warm, what it carries."""

from __future__ import annotations

from dataclasses import dataclass

from ..core import Work
from ..core import formula as formulas
from . import maths
from .currents import Number, three_phase
from .inputs import Inputs

WIRE = ("conductor", "material")  # what tells how much it carries and loses
ELECTRICIAN = "Have a {electrician} look at the circuit before it is used for this."
NO_FIGURE = "For such wire this rule set has no figure. " + ELECTRICIAN


def sizes(work: Work, inputs: Inputs) -> tuple[str, ...]:
    """The rule set's own sizes of the wire's metal, thinnest first."""
    listed = work.rules.get(f"conductors.{_metal(inputs)}sizes")
    return () if listed is None else tuple(row["name"] for row in listed.value)


def metric(size: str | None) -> bool:
    """Whether a size is an area in mm² and not a gauge."""
    return size is not None and size.endswith("mm2")


def _metal(inputs: Inputs) -> str:
    return PREFIX[inputs.material]


def figured(work: Work, inputs: Inputs) -> bool:
    """Whether the size is given and the rule set says what it may carry."""
    return inputs.conductor is not None and limit(work, key(inputs, "carries")) is not None


def advice(work: Work, inputs: Inputs) -> str:
    """What to do about the wire: have it looked at, and why no figure stands here."""
    return ELECTRICIAN if None in (inputs.conductor, inputs.material) or figured(work, inputs) else NO_FIGURE


def key(inputs: Inputs, name: str, size: str | None = None) -> str:
    """The rule key of ``breaker``, ``carries``, ``carries_most``, ``dc``, ``solid`` … for a size."""
    wire = size or inputs.conductor
    if name in ("breaker", "carries") and inputs.layout == "ring":
        return f"conductors.ring_{wire}"
    # The tables in mm² tell wires of three phases apart; those in gauges hold for up to three.
    three = "three_" if name in _AMPERES and metric(wire) and three_phase(inputs) else ""
    return f"conductors.{_metal(inputs)}{three}{name}_{wire}"


_AMPERES = ("breaker", "carries", "carries_most")
# Of a metal that is not told no figure is taken: no rule set has one by that name.
PREFIX = {"copper": "", "aluminum": "al_", None: "untold_"}


def most_key(inputs: Inputs) -> str:
    """The rule key of what a size carries at best, however it is laid."""
    return key(inputs, "carries_most")


def limit(work: Work, rule: str) -> Number:
    """A figure of the wire without naming it as used, None where there is none."""
    figure = work.rules.get(rule)
    return None if figure is None else figure.inner


# -- resistance -----------------------------------------------------------------------


@dataclass(frozen=True)
class Source:
    """Where a size's resistance comes from: a formula, and the rule keys of its symbols.

    The formula gives the resistance at the temperature under the key ``at``; S is the area in mm².
    """

    formula: str
    terms: tuple[tuple[str, str], ...]
    at: str
    change: str
    reactance: str
    area: Number = None
    note: str = ""

    @property
    def keys(self) -> tuple[str, ...]:
        """Every figure that is wanted."""
        return (*(rule for _, rule in self.terms), self.at, self.change, self.reactance)


def source(work: Work, inputs: Inputs, size: str) -> Source | None:
    """The rule set's way to the resistance of a size; None where it has none."""
    for way in (_areas if metric(size) else _gauges)(work, inputs, size):
        if all(work.rules.get(rule) is not None for rule in way.keys):
            return way
    return None


def _gauges(work: Work, inputs: Inputs, size: str) -> tuple[Source, ...]:
    """Direct and alternating resistance of a gauge, each from its table."""
    solid = key(inputs, "solid", size)
    # Thick wire has a stranded row only.
    direct = solid if inputs.stranding == "solid" and work.rules.get(solid) else key(inputs, "dc", size)
    pipe = "steel" if inputs.raceway == "steel" else "pvc"
    return (Source(
        "max(R_8, R_9)", (("R_8", direct), ("R_9", key(inputs, "ac", size))), "conductors.at",
        f"conductors.{_metal(inputs)}alpha", f"conductors.x_{pipe}_{size}",
        note="One table prints only two figures; the larger value is the safe one."),)  # fmt: skip


def _areas(work: Work, inputs: Inputs, size: str) -> tuple[Source, ...]:
    """Wire in mm²: volts lost by a table, else resistivity over area, else the greatest resistance."""
    if inputs.material is None:
        return ()
    metal = "" if inputs.material == "copper" else "_al"
    warm = Source("r/S", (("r", f"conductors.rho{metal}"),), "conductors.rho_at", "conductors.rho_alpha",
                  "conductors.iec_x", float(size.removesuffix("mm2")))  # fmt: skip
    if metal:
        return (warm,)
    loop = Source("m/2", (("m", f"conductors.loop_{size}"),), "conductors.loop_at", "conductors.loop_alpha",
                  "conductors.iec_x", note="The table counts both wires.")  # fmt: skip
    cold = Source("R_20", (("R_20", f"conductors.iec_{size}"),), "conductors.iec_at",
                  "conductors.iec_alpha", "conductors.iec_x")  # fmt: skip
    return (loop, warm, cold)


def takes(work: Work, inputs: Inputs) -> None:
    """Resistance R when warm and reactance X, step by step; unknown where no figure is."""
    size = inputs.conductor
    way = None if size is None else source(work, inputs, size)
    if way is None:
        for symbol in ("R", "X"):
            work.given(symbol, "Wire", None, "impedance_per_length")
        _miss(work, inputs)
    else:
        _steps(work, inputs, way)
    work.share("R", "X")


def _miss(work: Work, inputs: Inputs) -> None:
    """Name the figure that is lacking, where a size is given."""
    if None not in (inputs.conductor, inputs.material):
        work.rule_of(key(inputs, "iec" if metric(inputs.conductor) else "dc"))


def _steps(work: Work, inputs: Inputs, way: Source) -> None:
    for symbol, rule in way.terms:
        work.rule(symbol, rule)
    if way.area is not None:
        work.given("S", "Area of one wire", way.area, "wire_area")
    work.rule("X", way.reactance)
    work.step("R_0", "Resistance of one wire by the table", way.formula, "impedance_per_length", note=way.note)
    work.rule("T_0", way.at)
    work.rule("a", way.change)
    if inputs.temperature is None:
        work.rule("T", "conductors.warm")
    else:
        work.take("temperature")
    work.step("R", "Resistance of one wire when warm", "R_0*(1 + a*(T - T_0))", "impedance_per_length")


def warm(work: Work, inputs: Inputs, size: str) -> tuple[float, float] | None:
    """Resistance and reactance of a size under the same conditions, Ω/km; None where none is held."""
    way = source(work, inputs, size)
    heat = inputs.temperature if inputs.temperature is not None else limit(work, "conductors.warm")
    if way is None or heat is None:
        return None
    numbers = {symbol: work.rules[rule].inner for symbol, rule in way.terms}
    tabled = formulas.evaluate(way.formula, numbers | ({} if way.area is None else {"S": way.area}))
    change, at = work.rules[way.change].inner, work.rules[way.at].inner
    return maths.resistance_at(tabled, change, heat, at), work.rules[way.reactance].inner
