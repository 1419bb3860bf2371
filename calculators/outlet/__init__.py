"""Outlet readings: what do a plug-in tester's lamps and volts say?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from . import model
from .inputs import Inputs
from .solve import solve

_LIVE = "An outlet that is wired wrong can make the cabinet’s case live. That kills."

VALUES = (
    ValueSpec("fall", "Fall under the test load", "voltage", "F", toward="up", main=True),
    ValueSpec("impedance", "Impedance up to the outlet", "impedance", "Z_s", toward="up", main=True),
    ValueSpec("share", "Share of the fall between neutral and ground", "ratio", "k_ng",
              "Near a half where both wires are alike and sound; no less than this, whatever stands there without a load.", main=True),
)  # fmt: skip

CHECKS = (
    CheckSpec("looks", "How the outlet looks", caution="A warm or wet outlet can burn or kill."),
    CheckSpec("reader", "How the volts were read", caution="A slip with a probe can burn or kill."),
    CheckSpec("wiring", "Wiring, as far as it shows", rules=("outlet.pattern_right",), caution=_LIVE),
    CheckSpec("nearby", "Ground side not live", rules=("outlet.pattern_joined_swapped",), caution=_LIVE),
    CheckSpec("agree", "Lamps and volts agree", caution=_LIVE),
    CheckSpec("sum", "The three readings fit together", "voltage", "at most", soft=True),
    CheckSpec("volts_low", "Voltage not too low", "voltage", "at least", ("outlet.volts_low",)),
    CheckSpec("volts_high", "Voltage not too high", "voltage", "at most", ("outlet.volts_high",)),
    CheckSpec("neutral_ground", "Volts between neutral and ground", "voltage", "at most",
              ("outlet.neutral_ground_most",), soft=True),
    CheckSpec("apart", "Neutral and ground not joined here", "ratio", "at least",
              ("outlet.neutral_share_least",), soft=True, caution=_LIVE),
    CheckSpec("drop", "Drop with the cabinet running", "percent", "at most", ("circuit.drop_total",), soft=True,
              help="Up to the outlet, from the two readings. Advice, not a rule."),
    CheckSpec("running", "Voltage with the cabinet running", "voltage", "at least", ("outlet.volts_low",)),
    CheckSpec("button", "Protective device’s test button",
              caution="Without a working protective device a fault in the cabinet can kill."),
)  # fmt: skip

EXAMPLE = {
    "lamp_ln": "lit", "lamp_lg": "lit", "lamp_ng": "dark", "volts_ln": 121, "volts_lg": 121, "volts_ng": 0.4,
    "loaded_ln": 117.5, "loaded_ng": 1.7, "load_amps": 12, "cabinet_amps": 9.5, "signs": "none", "button": "trips",
    "nearby": "silent",
}  # fmt: skip

# The same sound outlet where 230 V is usual.
_METRIC = {**EXAMPLE, "volts_ln": 232, "volts_lg": 232, "loaded_ln": 228.5, "load_amps": 9, "cabinet_amps": 5}
SET_EXAMPLES = {"uk": _METRIC, "eu": _METRIC, "au": _METRIC}

CALCULATOR = Calculator(
    name="outlet",
    title="Outlet readings",
    question="What do the tester’s lamps and volts say?",
    summary="Reads the lamps and volts of a plug-in instrument: which fault fits, which faults it cannot see, "
    "and when to stop and call a licensed electrician.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=model.contradictions,
    example=EXAMPLE,
    set_examples=SET_EXAMPLES,
    caution="Electricity kills. Put nothing but a plug into an outlet, and never take off its cover. These "
    "readings find some faults; they do not prove that an outlet is safe.",
    not_checked=(
        "Everything in the table of what no such tester can see.",
        "The wires, the breaker and what else is on the circuit: see Circuit loading.",
        "Whether the protective device cuts fast enough: only its own button was pressed.",
        "A start of the compressor, which pulls the voltage down for a moment.",
    ),
)
