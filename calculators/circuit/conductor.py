"""The wire's own figures: which rule says what of it, and its resistance when warm."""

from __future__ import annotations

from ..core import Work
from . import maths
from .currents import Number
from .inputs import ALUMINUM_SIZES, METRIC_SIZES, SIZES, Inputs

ELECTRICIAN = "Have a licensed electrician look at the circuit before it is used for this."
METRIC = "For wire sized in mm² this rule set has no figure. " + ELECTRICIAN
TOO_THIN = "For aluminum so thin this rule set has no figure. " + ELECTRICIAN


def sizes(inputs: Inputs) -> tuple[str, ...]:
    """The AWG sizes of the wire's metal, thinnest first."""
    return SIZES if inputs.material == "copper" else ALUMINUM_SIZES


def figured(inputs: Inputs) -> bool:
    """Whether the size is given and the rule set says what it may carry."""
    return inputs.conductor in sizes(inputs)


def advice(inputs: Inputs) -> str:
    """What to do about the wire: have it looked at, and why no figure stands here."""
    if inputs.conductor is None or figured(inputs):
        return ELECTRICIAN
    return METRIC if inputs.conductor in METRIC_SIZES else TOO_THIN


def key(inputs: Inputs, name: str, size: str | None = None) -> str:
    """The rule key of ``breaker``, ``carries``, ``dc``, ``solid`` or ``ac`` for a size."""
    metal = "" if inputs.material == "copper" else "al_"
    return f"conductors.{metal}{name}_{size or inputs.conductor}"


def reactance_key(inputs: Inputs, size: str) -> str:
    """The rule key of the reactance, by what the pipe is made of."""
    return f"conductors.x_{'steel' if inputs.raceway == 'steel' else 'pvc'}_{size}"


def direct_key(inputs: Inputs, size: str) -> str:
    """The rule key of the direct-current resistance; thick wire has a stranded row only."""
    thin = size != SIZES[-1]
    return key(inputs, "solid" if inputs.stranding == "solid" and thin else "dc", size)


def takes(work: Work, inputs: Inputs) -> None:
    """Resistance R when warm and reactance X, step by step; unknown where no figure is."""
    symbols = _metric(work, inputs) if inputs.conductor in METRIC_SIZES else _awg(work, inputs)
    work.take("temperature")
    work.step("R", "Resistance of one wire when warm", "R_0*(1 + a*(T - T_0))", "impedance_per_length")
    work.share("R", *symbols)


def _awg(work: Work, inputs: Inputs) -> tuple[str, ...]:
    size = inputs.conductor if figured(inputs) else None
    metal = "" if inputs.material == "copper" else "al_"
    if size is None:
        for symbol in ("R_0", "X"):
            work.given(symbol, "Wire", None, "impedance_per_length")
    else:
        work.rule("R_8", direct_key(inputs, size))
        work.rule("R_9", key(inputs, "ac"))
        work.rule("X", reactance_key(inputs, size))
        work.step("R_0", "Resistance, the larger of the two tables", "max(R_8, R_9)",
                  "impedance_per_length",
                  note="One table prints only two figures; the larger value is the safe one.")  # fmt: skip
    work.rule("T_0", "conductors.at")
    work.rule("a", f"conductors.{metal}alpha")
    return ("X",)


def _metric(work: Work, inputs: Inputs) -> tuple[str, ...]:
    copper = inputs.material == "copper"
    work.rule("X", "conductors.iec_x")
    if copper:
        work.rule("R_0", f"conductors.iec_{inputs.conductor}")
    else:
        work.given("R_0", "Wire", None, "impedance_per_length")
    work.rule("T_0", "conductors.iec_at")
    work.rule("a", "conductors.iec_alpha")
    return ("X",)


def warm(work: Work, inputs: Inputs, size: str) -> tuple[float, float]:
    """Resistance and reactance of an AWG size under the same conditions, Ω/km."""
    metal = "" if inputs.material == "copper" else "al_"
    tabled = max(_figure(work, direct_key(inputs, size)), _figure(work, key(inputs, "ac", size)))
    change, at = _figure(work, f"conductors.{metal}alpha"), _figure(work, "conductors.at")
    resistance = maths.resistance_at(tabled, change, inputs.temperature, at)
    return resistance, _figure(work, reactance_key(inputs, size))


def _figure(work: Work, rule: str) -> float:
    # A size that is only looked at must not count among the rules used.
    figure = work.rules.get(rule)
    return 0.0 if figure is None else figure.inner


def limit(work: Work, rule: str) -> Number:
    """A figure of the wire without naming it as used, None where there is none."""
    figure = work.rules.get(rule)
    return None if figure is None else figure.inner
