"""What the circuit calculator asks for: the circuit, the wire, what is on it, the cabinet."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Rows, Text, rules

METER = 1.0  # V; what a plug-in meter is good for
RUN_TAPE = 0.5  # m; a run is paced out or read off a plan

_SETS = tuple(rules.load(name) for name in rules.RULE_SETS)


def _listed(*keys: str) -> tuple[str, ...]:
    """The words that the rule sets list under these keys, sorted by the number in them."""
    listings = [each[key].value for each in _SETS for key in keys if key in each.figures]
    words = {row["name"] for listing in listings for row in listing}
    return tuple(sorted(words, key=lambda word: float(word.removesuffix("mm2"))))


def _amperes(sizes: tuple[str, ...]) -> dict[str, str]:
    return {size: f"{size} A" for size in sizes}


def _thickness(sizes: tuple[str, ...]) -> dict[str, str]:
    """Gauges thinnest first, which is the greatest number, then areas."""
    gauges = [size for size in reversed(sizes) if not size.endswith("mm2")]
    areas = [size for size in sizes if size.endswith("mm2")]
    return {size: f"{size} AWG" for size in gauges} | {size: area(size) for size in areas}


def area(size: str) -> str:
    """2.5mm2 as people write it."""
    return f"{size.removesuffix('mm2')} mm²"


BREAKERS = _listed("circuit.breakers")
OUTLETS = _listed("circuit.outlet_ratings")
VOLTAGES = _listed("circuit.voltages")
WIRES = _thickness(_listed("conductors.sizes", "conductors.iec_sizes"))
CORDS = _thickness(_listed("conductors.cord_sizes"))
SIZES = tuple(size for size in WIRES if not size.endswith("mm2"))
THREE_PHASE_VOLTAGES = tuple(volts for volts in VOLTAGES if volts not in ("120", "230"))

LOCATIONS = {
    "dry": "Indoors, dry",
    "damp": "Damp, such as under a roof outdoors or in a cold cellar",
    "wet": "Wet: hosed down, splashed or dripped on",
    "outdoors": "Outdoors, in the open",
}
COVERS = {
    "none": "No cover",
    "closed": "Keeps water out only while nothing is plugged in",
    "in_use": "Keeps water out with the plug in (deep hood)",
}


def _amps(label: str, text: str, most: float, example: float, **more: Any) -> Quantity:
    return Quantity(label, help=text, kind="current", most=most, example=example,
                    **{"least": 0.0, **more})  # fmt: skip


def _volts(label: str, text: str, example: float, **more: Any) -> Quantity:
    return Quantity(label, help=text, kind="voltage", least=50, most=480, example=example, **more)


class Load(Record):
    """One thing that is on the circuit already."""

    name = Text("What it is", help="A few words, such as coffee maker.", example="water cooler")
    amps = _amps("Amperes", "From its plate. Leave blank if the plate gives watts.", 60, 3.0)
    watts = Quantity(
        "Watts", help="From its plate, when no amperes are given.", kind="power", least=0,
        most=12_000, example=360)  # fmt: skip
    power_factor = Quantity(
        "Power factor", help="Heaters and kettles 1; things with a motor less. Needed with watts.",
        kind="ratio", least=0.2, most=1.0, example=0.9)  # fmt: skip
    continuous = Flag(
        "Runs for hours at a time",
        help="At its most. How long counts as continuous stands in the rule set. Not known: "
             "it is counted as if it did.")  # fmt: skip
    plugged = Flag(
        "Plugged in, not fastened",
        help="No for things fastened in place. Not known: it is counted both ways.")  # fmt: skip
    count = Count("How many", help="Of the same kind.", least=1, most=20, example=1, default=1)
    start_amps = _amps("Starting amperes", "From its paper, for a thing with a motor.", 300, 12.0)
    leakage = Quantity(
        "Leakage to earth", help="From its paper. Left blank: what its kind is allowed.",
        kind="leakage", least=0, most=40, example=0.5)  # fmt: skip
    distance = Quantity(
        "Its outlet, from the panel", help="As the wire goes. Left blank: it is counted at the cabinet's "
        "outlet, where it costs most voltage.", kind="run", least=0.5, most=300, example=12.0)  # fmt: skip


class Inputs(Record):
    """The whole form."""

    breaker = Choice(
        "Breaker", _amperes(BREAKERS), rule="circuit.breakers", first=True, group="The circuit",
        help="The number on the switch in the panel. Another size: leave it blank and have an "
             "electrician look.")  # fmt: skip
    nominal_voltage = Choice(
        "Voltage", {volts: f"{volts} V" for volts in VOLTAGES}, rule="circuit.voltages", first=True, group="The circuit",
        help="As on the cabinet's plate and the outlet.")  # fmt: skip
    dedicated = Flag(
        "Circuit for this cabinet alone", first=True, group="The circuit",
        help="Nothing else goes off when its breaker is switched off.")  # fmt: skip
    conductor = Choice(
        "Wire size", WIRES, rule="conductors.sizes", first=True, group="The circuit",
        help="From the building's plan, the cable's print or an electrician. Never open an outlet to look.")  # fmt: skip
    run = Quantity(
        "Run of the wire, one way", help="From the panel to the outlet as the wire goes, not as the crow flies.",
        symbol="L", kind="run", least=0.5, most=300, example=22.86, tolerance=RUN_TAPE,
        first=True, group="The circuit")  # fmt: skip
    cabinet_amps = _amps(
        "Cabinet, amperes", "The running current on its plate.", 50, 9.5, symbol="I", least=0.1,
        first=True, card=True, group="The cabinet")  # fmt: skip

    phases = Choice(
        "Phases", {"single": "Single-phase", "three": "Three-phase"}, default="single",
        when=("nominal_voltage", THREE_PHASE_VOLTAGES), group="The circuit",
        help="Single-phase unless the cabinet's plate says 3 phases. An outlet with one live wire is "
             "single-phase, however many phases feed the panel.")  # fmt: skip
    cabinet_watts = Quantity(
        "Cabinet, watts", help="From its plate, when it gives no amperes; the power factor is then needed.",
        kind="power", symbol="P", least=10, most=12_000, example=970, group="The cabinet")  # fmt: skip
    cabinet_power_factor = Quantity(
        "Cabinet, power factor", help="From its paper. Left blank: the one that loses most voltage.",
        kind="ratio", least=0.2, most=1.0, example=0.85, card=True, group="The cabinet")  # fmt: skip
    cabinet_continuous = Flag(
        "Cabinet draws this for hours at a time", card=True, group="The cabinet",
        help="A compressor that cycles may not; heaters and lamps may. Not known: it is counted as if it did.")  # fmt: skip
    cabinet_start_amps = _amps(
        "Cabinet, starting amperes", "Locked-rotor or inrush current, from its paper.", 300, 38.0,
        symbol="I_s", card=True, group="The cabinet")  # fmt: skip
    cabinet_leakage = Quantity(
        "Cabinet, leakage to earth", help="From its paper or a technician's test.", symbol="y",
        kind="leakage", least=0, most=40, example=1.8, card=True, group="The cabinet")  # fmt: skip
    cabinet_volts_least = _volts(
        "Cabinet, lowest voltage", "The low end of the range on its plate or in its paper.", 104,
        symbol="V_a", card=True, group="The cabinet")  # fmt: skip
    cabinet_volts_most = _volts(
        "Cabinet, highest voltage", "The high end of that range.", 127, symbol="V_e", card=True,
        group="The cabinet")  # fmt: skip
    cabinet_frequency = Choice(
        "Cabinet, frequency", {"50": "50 Hz", "60": "60 Hz", "both": "50 and 60 Hz"}, group="The cabinet",
        help="On its plate; look when a cabinet comes from another country.")  # fmt: skip
    cabinet_fastened = Flag(
        "Cabinet fastened to wall or floor", default=False, group="The cabinet",
        help="Then it counts as fixed equipment, even with a plug.")  # fmt: skip
    cabinet_count = Count(
        "Cabinets like this on the circuit", help="This one counted.", symbol="n", least=1, most=20,
        example=1, default=1, group="The cabinet")  # fmt: skip

    loads = Rows(
        "What else is on the circuit", Load, "load", most=12, group="What else is on it",
        help="Whatever goes off with the same breaker: lamps, coolers, outlets in use.")  # fmt: skip
    loads_listed = Flag(
        "Everything else on it is listed", when=("dedicated", ("no",)), group="What else is on it",
        help="Yes when nothing is missing from the list above.")  # fmt: skip
    outlets = Count(
        "Outlets on the circuit", help="A double one counts as two.", least=1, most=60,
        example=1, group="The outlet")  # fmt: skip
    receptacle_rating = Choice(
        "Outlet rating", _amperes(OUTLETS), rule="circuit.outlet_ratings", group="The outlet",
        help="Printed on its face. In North America a 20 A one has a slot shaped like a T.")  # fmt: skip
    location = Choice(
        "Where the outlet is", LOCATIONS, group="The outlet",
        help="The wettest it gets in a year.")  # fmt: skip
    cover = Choice(
        "Cover over the outlet", COVERS, when=("location", ("damp", "wet", "outdoors")),
        group="The outlet", help="Look with the cabinet's plug in.")  # fmt: skip
    protection = Flag(
        "GFCI or RCD protection", group="The outlet",
        help="A device with a TEST button, in the outlet, the panel, the plug or the cord by the plug.")  # fmt: skip
    protection_place = Choice(
        "Where that device is",
        {"shared": "In the panel or an outlet, for all on it", "own": "In each cabinet's own plug or cord"},
        default="shared", group="The outlet",
        help="Leaks of all that hang on one device add up.")  # fmt: skip
    extension = Flag(
        "Extension cord, lead or power strip", group="The outlet",
        help="Anything between the cabinet's own plug and the outlet in the wall.")  # fmt: skip
    cord_gauge = Choice(
        "Cabinet's own cord, size", CORDS, rule="conductors.cord_sizes", group="The outlet",
        help="Printed along the cord, such as 14/3, 14 AWG or 3G1.5.")  # fmt: skip
    cord_length = Quantity(
        "Cabinet's own cord, length", help="From the plug to where it enters the cabinet.",
        symbol="L_c", kind="run", least=0.1, most=30, example=2.743, group="The outlet")  # fmt: skip
    material = Choice(
        "Wire metal", {"copper": "Copper", "aluminum": "Aluminum"}, default="copper", group="The wire",
        help="Aluminum was used in some buildings.")  # fmt: skip
    layout = Choice(
        "Way of the wire", {"radial": "One way, panel to outlet", "ring": "Ring, both ends at the panel"},
        default="radial", group="The wire", help="A ring is found in Britain; elsewhere it is one way.")  # fmt: skip
    stranding = Choice(
        "Solid or stranded", {"stranded": "Stranded", "solid": "Solid"}, default="stranded",
        group="The wire", help="Stranded loses a little more, so it is taken when not known.")  # fmt: skip
    raceway = Choice(
        "Pipe around the wire",
        {"pvc": "PVC, or cable without a pipe", "aluminum": "Aluminum", "steel": "Steel"},
        default="steel", group="The wire", help="Steel loses most voltage, so it is taken when not known.")  # fmt: skip
    temperature = Quantity(
        "Temperature of the wire", help="Of the metal under load; a cooler wire loses less. Left blank: that of the rule set's tables.",
        symbol="T", kind="temperature", least=0, most=90, example=60, group="The wire")  # fmt: skip
    ambient = Quantity(
        "Warmest place the wire runs through", help="Of the air around it at its warmest: a roof space, a "
        "boiler room. Left blank: it is not counted.",
        symbol="T_a", kind="temperature", least=-20, most=80, example=38, group="The wire")  # fmt: skip
    feeder_drop = Quantity(
        "Voltage drop from the meter to the panel", help="In percent, if the electrician knows it.",
        symbol="u_f", kind="percent", least=0, most=15, example=1.5, group="The wire")  # fmt: skip
    own_supply = Flag(
        "Supply from the building's own transformer", default=False, group="The wire",
        help="Some rules then allow more drop.")  # fmt: skip
    volts_idle = _volts(
        "Volts, cabinet unplugged", "By a plug-in meter, the rest of the circuit as usual.", 121.0,
        symbol="V_0", tolerance=METER, group="Measured at the outlet")  # fmt: skip
    volts_loaded = _volts(
        "Volts, with a test load", "By the same plug-in meter, a heater or the like running there.",
        118.0, symbol="V_1", tolerance=METER, group="Measured at the outlet")  # fmt: skip
    test_amps = _amps(
        "Test load, amperes", "What that load draws, from the meter or its plate.", 50, 12.0,
        symbol="I_m", least=0.5, group="Measured at the outlet")  # fmt: skip
