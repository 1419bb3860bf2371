"""Circuit loading: may the cabinet go on this circuit, and what voltage will it see?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from . import contradictions
from .inputs import Inputs
from .solve import solve

_FIRE = "A wire or plug that carries too much gets hot inside walls and starts fires."
_SHOCK = "Without a device that cuts off at a leak (GFCI, RCD) a fault in a cabinet can kill whoever touches it."

_WATER = "Water in an outlet can kill whoever touches it or the cabinet."

VALUES = (
    ValueSpec("running_amps", "Current of all together", "current", toward="up", main=True),
    ValueSpec("design_amps", "Current counted for the breaker", "current", toward="up",
              help="What is continuous counts more."),
    ValueSpec("drop_volts", "Voltage lost in the wire", "voltage", toward="up"),
    ValueSpec("drop_share", "The same, of the circuit's voltage", "percent", toward="up", main=True),
    ValueSpec("volts_running", "Voltage at the cabinet, running", "voltage", toward="down",
              help="At the lowest usual supply, unless it was measured there."),
    ValueSpec("volts_starting", "Voltage at the cabinet while it starts", "voltage", toward="down"),
    ValueSpec("start_dip", "Fall of voltage while it starts", "voltage", toward="up"),
    ValueSpec("longest_run", "Longest run within the advised drop", "run", toward="down"),
    ValueSpec("smallest_wire", "Smallest wire that would do, AWG", "count",
              help="For this breaker, current, run and metal. A smaller number is a thicker wire."),
    ValueSpec("smallest_area", "Smallest wire that would do", "wire_area",
              help="For this breaker, current, run and metal."),
    ValueSpec("more_amps", "More of this cabinet, by amperes", "count", toward="down"),
    ValueSpec("more_drop", "More of this cabinet, by voltage drop", "count", toward="down"),
    ValueSpec("more_leakage", "More of this cabinet on one GFCI, by leakage", "count", toward="down"),
    ValueSpec("more_cabinets", "More of this cabinet, by all three", "count", toward="down",
              help="Breaker, wire, drop and leakage; an outlet for each is required besides.", main=True),
    ValueSpec("leakage", "Leakage of all together", "leakage", toward="up"),
    ValueSpec("source_impedance", "Impedance from the source to the outlet, measured", "impedance",
              toward="up"),
)  # fmt: skip

CHECKS = (
    CheckSpec("breaker_load", "Current against the breaker", "current", "at most",
              ("circuit.continuous",), caution=_FIRE),
    CheckSpec("own_circuit", "A circuit of its own", rules=("circuit.own_circuit",),
              soft=True),
    CheckSpec("shared_size", "Breaker of a shared circuit", "current", "at most", ("circuit.shared_most",)),
    CheckSpec("plug_share", "Largest plugged appliance", "current", "at most", ("circuit.plug_share",),
              caution=_FIRE),
    CheckSpec("fixed_share", "Fixed equipment", "current", "at most",
              ("circuit.fixed_share", "circuit.fixed_share_breaker")),
    CheckSpec("receptacle", "Outlet for this breaker", caution=_FIRE, families=("circuit.receptacles",)),
    CheckSpec("receptacle_load", "Cabinet against the outlet", "current", "at most", caution=_FIRE,
              families=("circuit.plug_",)),
    CheckSpec("wire_breaker", "Breaker against the wire", "current", "at most", caution=_FIRE,
              families=("conductors.breaker_",)),
    CheckSpec("wire_load", "Current against the wire", "current", "at most", caution=_FIRE,
              families=("conductors.carries_", "conductors.ambient")),
    CheckSpec("aluminum", "Aluminum wire looked at", soft=True, caution=_FIRE),
    CheckSpec("drop", "Voltage drop", "percent", "at most", ("circuit.drop_advice",), soft=True),
    CheckSpec("drop_total", "Voltage drop of the whole way", "percent", "at most", ("circuit.drop_total",),
              soft=True),
    CheckSpec("reading", "Two readings of the voltage", soft=True),
    CheckSpec("volts_running", "Voltage while it runs", "voltage", "at least", families=("circuit.supply_low_",)),
    CheckSpec("volts_starting", "Voltage while it starts", "voltage", "at least", soft=True,
              families=("circuit.supply_low_",)),
    CheckSpec("volts_high", "Highest voltage", "voltage", "at most", families=("circuit.supply_high_",)),
    CheckSpec("read_low", "Voltage read, not too low", "voltage", "at least", families=("outlet.volts_low", "circuit.supply_low_")),
    CheckSpec("read_high", "Voltage read, not too high", "voltage", "at most", families=("outlet.volts_high", "circuit.supply_high_")),
    CheckSpec("gfci", "GFCI for the cabinet", rules=("circuit.gfci_cabinet",), caution=_SHOCK),
    CheckSpec("gfci_place", "GFCI for the place", rules=("circuit.gfci_place",), caution=_SHOCK),
    CheckSpec("gfci_reach", "TEST and RESET within reach", rules=("circuit.gfci_reach",), caution=_SHOCK),
    CheckSpec("cover", "Cover over the outlet", families=("circuit.cover_damp", "circuit.cover_wet"), caution=_WATER),
    CheckSpec("weather", "Outlet for the weather", families=("circuit.weather_resistant",), caution=_WATER),
    CheckSpec("cord_weather", "Cord for the weather", families=("circuit.cord_wet",), caution=_WATER),
    CheckSpec("extension", "Extension cord or lead", rules=("circuit.cord",), caution=_FIRE),
    CheckSpec("cord", "Current against the cabinet's own cord", "current", "at most", caution=_FIRE,
              families=("conductors.cord_two_", "conductors.cord_three_")),
    CheckSpec("supply_kind", "Cabinet made for this supply", families=("circuit.frequency", "circuit.voltages")),
    CheckSpec("leakage", "Leakage on one GFCI", "leakage", "at most",
              ("circuit.gfci_holds", "circuit.gfci_trips")),
)  # fmt: skip

EXAMPLE = {
    "breaker": "20", "nominal_voltage": "120", "dedicated": "yes", "conductor": "12", "material": "copper", "run": "75 ft",
    "cabinet_amps": "9.5 A", "cabinet_power_factor": "0.85", "cabinet_continuous": "no",
    "cabinet_start_amps": "38 A", "cabinet_leakage": "1.8 mA", "cabinet_volts_least": "104 V",
    "cabinet_volts_most": "127 V", "outlets": 1, "receptacle_rating": "20", "location": "dry",
    "protection": "yes", "extension": "no", "raceway": "steel", "volts_idle": "122.5 V",
    "volts_loaded": "120 V", "test_amps": "12 A", "cord_gauge": "14", "cord_length": "9 ft", "ambient": "86 °F", "cabinet_frequency": "60",
    "protection_reach": "yes",
}  # fmt: skip

EXAMPLES = {
    "Shared with two others": {
        "breaker": "20", "nominal_voltage": "120", "dedicated": "no", "conductor": "12", "material": "copper", "run": "110 ft",
        "cabinet_amps": "9.5 A", "cabinet_start_amps": "38 A", "cabinet_volts_least": "104 V",
        "cabinet_volts_most": "127 V", "loads_listed": "yes", "outlets": 4, "receptacle_rating": "15",
        "location": "dry", "protection": "no", "cabinet_protection": "no", "extension": "yes", "ambient": "86 °F",
        "cabinet_frequency": "60", "cabinet_power_factor": "0.85", "cabinet_leakage": "1.8 mA", "feeder_drop": "1.5",
        "cord_gauge": "14", "cord_length": "9 ft", "cabinet_continuous": "no", "protection_reach": "yes",
        "loads": [
            {"name": "water cooler", "amps": "3 A", "power_factor": 0.8, "plugged": "no", "continuous": "no",
             "start_amps": "12 A"},
            {"name": "coffee maker", "watts": "1100 W", "power_factor": 1, "plugged": "yes",
             "continuous": "no"},
        ],
    },
}  # fmt: skip

_METRIC = {
    "breaker": "16", "nominal_voltage": "230", "dedicated": "yes", "conductor": "2.5mm2", "material": "copper", "run": "25 m",
    "cabinet_amps": "5 A", "cabinet_power_factor": "0.85", "cabinet_continuous": "no",
    "cabinet_start_amps": "20 A", "cabinet_leakage": "2.2 mA", "cabinet_volts_least": "207 V",
    "cabinet_volts_most": "253 V", "cabinet_frequency": "50", "outlets": 1, "receptacle_rating": "16",
    "location": "dry", "protection": "yes", "extension": "no", "volts_idle": "232 V", "volts_loaded": "229.5 V",
    "test_amps": "9 A", "cord_gauge": "1.5mm2", "cord_length": "2.5 m", "ambient": "30 °C", "protection_reach": "yes",
}  # fmt: skip
# Where the ordinary example makes no sense: other voltages, wires in mm², other outlets. Numbers are metric.
SET_EXAMPLES = {
    "uk": {**_METRIC, "breaker": "20", "receptacle_rating": "13"},
    "eu": _METRIC,
    "au": {**_METRIC, "breaker": "20", "receptacle_rating": "10", "laid": "clipped"},
}  # fmt: skip

CALCULATOR = Calculator(
    name="circuit",
    title="Circuit loading",
    question="May it go on this circuit, and what voltage will it see?",
    summary="Holds the cabinet and what else is on the circuit against breaker, outlet and wire, "
    "works out the voltage left at the cabinet, and asks for the protection the place wants.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=contradictions.of,
    example=EXAMPLE,
    examples=EXAMPLES,
    set_examples=SET_EXAMPLES,
    caution="Never open an outlet, a plug or a panel: that is an electrician's work, licensed or registered as the country asks. The local "
    "code and the building's electrician decide; this answer does not give leave.",
    not_checked=(
        "The voltage drop in volts and percent uses R·cos φ + X·sin φ, an approximation that leaves out a "
        "small part at right angles; the voltage at the cabinet counts it.",
        "Loads are taken to hold their current as the voltage falls; a motor under load draws more.",
        "Whether the breaker rides through the starting current.",
        "Wires bundled together, which carry less.",
        "The cabinet's own manual: where it asks for a circuit of its own or a breaker size, that counts.",
        "Joints, the ground wire, and whether the outlet is wired right.",
    ),
)
