"""What the circuit calculator asks for: the circuit, the wire, what is on it, the cabinet.

``worse`` is left out where a change helps one check and harms another: a larger breaker, a shared
circuit (which may have smaller outlets), a reading taken. Along the power factor the voltage drop
turns back; what a blank one may hide is proven in ``blanks.py``.
"""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Rows, Text, rules

METER = 1.0  # V; what a plug-in meter is good for
RUN_TAPE = 0.5  # m; a run is paced out or read off a plan

DELIVERED = "delivered"  # the cord that came with the cabinet, whatever its size

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
CORD_CHOICES = {DELIVERED: "As it came with the cabinet, size not printed", **CORDS}
THREE_PHASE_VOLTAGES = tuple(volts for volts in VOLTAGES if volts not in ("120", "230"))

LOCATIONS = {
    "dry": "Indoors, dry",
    "damp": "Damp, such as under a roof outdoors or in a cold cellar",
    "wet": "Wet: hosed down, splashed or dripped on",
    "outdoors": "Outdoors, in the open",
}
WEATHER = ("damp", "wet", "outdoors")
SOAKED = ("wet", "outdoors")
LAID = {
    "clipped": "Fixed to a wall or in free air, nothing around it",
    "insulation": "In insulation, as in a stud wall or above a ceiling",
}
INSULATIONS = {"60": "60 °C, or not known", "75": "75 °C", "90": "90 °C"}
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
    amps = _amps("Amperes", "From its plate. Leave blank if the plate gives watts.", 60, 3.0, worse="more")
    watts = Quantity(
        "Watts", help="From its plate, when no amperes are given.", kind="power", least=0,
        most=12_000, example=360, worse="more")  # fmt: skip
    power_factor = Quantity(
        "Power factor", help="Heaters and kettles 1; things with a motor less. Needed with watts.",
        kind="ratio", least=0.2, most=1.0, example=0.9)  # fmt: skip
    continuous = Flag(
        "Runs for hours at a time", worse=("no", "yes"),
        help="At its most. How long counts as continuous stands in the rule set. Not known: "
             "it is counted as if it did.")  # fmt: skip
    plugged = Flag(
        "Plugged in, not fastened",
        help="No for things fastened in place. Not known: it is counted both ways.")  # fmt: skip
    count = Count("How many", help="Of the same kind.", least=1, most=20, example=1, default=1, worse="more")
    start_amps = _amps("Starting amperes", "From its manual, for a thing with a motor; for a heater or a kettle the same "
                       "as its amperes.", 300, 12.0, worse="more")
    leakage = Quantity(
        "Leakage to earth", help="From its manual. Left blank: what its kind is allowed.",
        kind="leakage", least=0, most=40, example=0.5, worse="more")  # fmt: skip
    distance = Quantity(
        "Its outlet, from the panel", help="As the wire goes. Left blank: it is counted at the cabinet's "
        "outlet, where it costs most voltage.", kind="run", least=0.5, most=300, example=12.0, worse="more")  # fmt: skip


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
        worse="more", first=True, group="The circuit")  # fmt: skip
    cabinet_amps = _amps(
        "Cabinet, amperes", "The running current on its plate.", 50, 9.5, symbol="I", least=0.1,
        worse="more", first=True, card=True, group="The cabinet")  # fmt: skip

    phases = Choice(
        "Phases", {"single": "Single-phase", "three": "Three-phase"}, default="single",
        when=("nominal_voltage", THREE_PHASE_VOLTAGES), group="The circuit",
        help="Single-phase unless the cabinet's plate says 3 phases. An outlet with one live wire is "
             "single-phase, however many phases feed the panel.")  # fmt: skip
    cabinet_watts = Quantity(
        "Cabinet, watts", help="From its plate, when it gives no amperes; the power factor is then needed.",
        kind="power", symbol="P", least=10, most=12_000, example=970, worse="more", group="The cabinet")  # fmt: skip
    cabinet_power_factor = Quantity(
        "Cabinet, power factor", help="From its manual. Left blank: every one is tried, and asked for where it decides.",
        kind="ratio", least=0.2, most=1.0, example=0.85, card=True, group="The cabinet")  # fmt: skip
    cabinet_continuous = Flag(
        "Cabinet draws this for hours at a time", card=True, worse=("no", "yes"), group="The cabinet",
        help="A compressor that cycles may not; heaters and lamps may. Not known: it is counted as if it did.")  # fmt: skip
    cabinet_start_amps = _amps(
        "Cabinet, starting amperes", "Locked-rotor or inrush current, from its manual.", 300, 38.0,
        symbol="I_s", card=True, worse="more", group="The cabinet")  # fmt: skip
    cabinet_leakage = Quantity(
        "Cabinet, leakage to earth", help="From its manual or a technician's test.", symbol="y",
        kind="leakage", least=0, most=40, example=1.8, card=True, worse="more", group="The cabinet")  # fmt: skip
    cabinet_volts_least = _volts(
        "Cabinet, lowest voltage", "The low end of the range on its plate or in its manual.", 104,
        symbol="V_a", card=True, worse="more", group="The cabinet")  # fmt: skip
    cabinet_volts_most = _volts(
        "Cabinet, highest voltage", "The high end of that range.", 127, symbol="V_e", card=True,
        worse="less", group="The cabinet")  # fmt: skip
    cabinet_frequency = Choice(
        "Cabinet, frequency", {"50": "50 Hz", "60": "60 Hz", "both": "50 and 60 Hz"}, card=True, group="The cabinet",
        help="On its plate; look when a cabinet comes from another country.")  # fmt: skip
    cabinet_fastened = Flag(
        "Cabinet fastened to wall or floor", default=False, group="The cabinet",
        help="Then it counts as fixed equipment, even with a plug.")  # fmt: skip
    cabinet_count = Count(
        "Cabinets like this on the circuit", help="This one counted.", symbol="n", least=1, most=20,
        example=1, default=1, worse="more", group="The cabinet")  # fmt: skip
    cabinet_protection = Flag(
        "GFCI in the cabinet's own plug or cord", card=True, worse=("yes", "no"), group="The cabinet",
        help="A block with a TEST button at the plug or along the cord. It protects the cabinet, not the outlet.")  # fmt: skip

    loads = Rows(
        "What else is on the circuit", Load, "load", brief=("name", "amps", "watts"), most=12, group="What else is on it",
        help="Whatever goes off with the same breaker: lamps, coolers, outlets in use.")  # fmt: skip
    loads_listed = Flag(
        "Everything else on it is listed", when=("dedicated", ("no",)), worse=("yes", "no"), group="What else is on it",
        help="Yes when nothing is missing from the list above.")  # fmt: skip
    outlets = Count(
        "Outlets on the circuit", help="A double one counts as two.", least=1, most=60,
        ends=True, example=1, group="The outlet")  # fmt: skip
    receptacle_rating = Choice(
        "Outlet rating", _amperes(OUTLETS), rule="circuit.outlet_ratings", group="The outlet",
        help="Printed on its face. In North America a 20 A one has a slot shaped like a T.")  # fmt: skip
    location = Choice(
        "Where the outlet is", LOCATIONS, worse=tuple(LOCATIONS), group="The outlet",
        help="The wettest it gets in a year.")  # fmt: skip
    cover = Choice(
        "Cover over the outlet", COVERS, when=("location", WEATHER), worse=("in_use", "closed", "none"),
        group="The outlet", help="Look with the cabinet's plug in.")  # fmt: skip
    weather_rated = Flag(
        "Outlet marked for weather", when=("location", WEATHER), worse=("yes", "no"), group="The outlet",
        help="Read it off its face: WR in North America, IP and two digits elsewhere.")  # fmt: skip
    cord_weather = Flag(
        "Cabinet's own cord made for outdoors", when=("location", SOAKED), card=True, worse=("yes", "no"),
        group="The outlet", help="Printed along it: a type with a W in North America, H07RN-F or heavy-duty elsewhere.")  # fmt: skip
    protection = Flag(
        "GFCI that protects the outlet", worse=("yes", "no"), group="The outlet",
        help="A device with a TEST button in the outlet itself, in another one before it, or in the panel. One in the "
             "cabinet's own plug or cord does not count here.")  # fmt: skip
    protection_reach = Flag(
        "Its TEST and RESET within reach", worse=("yes", "no"), group="The outlet",
        help="With the cabinet in its place, without moving anything. No for a device behind the cabinet.")  # fmt: skip
    extension = Flag(
        "Extension cord, lead or power strip", worse=("no", "yes"), group="The outlet",
        help="Anything between the cabinet's own plug and the outlet in the wall.")  # fmt: skip
    cord_gauge = Choice(
        "Cabinet's own cord, size", CORD_CHOICES, rule="conductors.cord_sizes", always=(DELIVERED,), card=True,
        group="The outlet", help="Printed along the cord, such as 14/3, 14 AWG or 3G1.5. Nothing printed, and the "
        "cord never changed: say that it is as it came.")  # fmt: skip
    cord_length = Quantity(
        "Cabinet's own cord, length", help="From the plug to where it enters the cabinet.",
        symbol="L_c", kind="run", least=0.1, most=30, example=2.743, card=True, worse="more", group="The outlet")  # fmt: skip
    material = Choice(
        "Wire metal", {"copper": "Copper", "aluminum": "Aluminum"},
        worse=("copper", "aluminum"), group="The wire",
        help="Asked together with the size. Aluminum was used in some buildings.")  # fmt: skip
    layout = Choice(
        "Way of the wire", {"radial": "One way, panel to outlet", "ring": "Ring, both ends at the panel"},
        default="radial", group="The wire", help="A ring is found in Britain; elsewhere it is one way.")  # fmt: skip
    laid = Choice(
        "How the wire is laid", LAID, rule="conductors.laid", worse=("clipped", "insulation"), group="The wire",
        help="Asked of the electrician or seen on the plan; the worst part of its way counts. In a pipe on the wall: "
             "leave it blank.")  # fmt: skip
    insulation = Choice(
        "Insulation of the wire", INSULATIONS, rule="conductors.insulations", default="60",
        worse=("90", "75", "60"), group="The wire",
        help="Printed along the wire, such as THHN for 90 °C. It counts in warm places; what the terminals allow stands "
             "beside it.")  # fmt: skip
    stranding = Choice(
        "Solid or stranded", {"stranded": "Stranded", "solid": "Solid"}, default="stranded",
        worse=("solid", "stranded"), group="The wire", help="Stranded loses a little more, so it is taken when not known.")  # fmt: skip
    raceway = Choice(
        "Pipe around the wire",
        {"pvc": "PVC, or cable without a pipe", "aluminum": "Aluminum", "steel": "Steel"},
        default="steel", worse=("pvc", "aluminum", "steel"), group="The wire", help="Steel loses most voltage, so it is taken when not known.")  # fmt: skip
    temperature = Quantity(
        "Temperature of the wire", help="Of the metal under load; a cooler wire loses less. Left blank: that of the rule set's tables.",
        symbol="T", kind="temperature", least=0, most=90, example=60, worse="more", group="The wire")  # fmt: skip
    ambient = Quantity(
        "Warmest place the wire runs through", help="Of the air around it in the hottest hour of the year: a roof "
        "space, a boiler room, a wall in the sun. Ordinary rooms count as 30 °C (86 °F).",
        symbol="T_a", kind="temperature", least=-20, most=80, example=30, worse="more", group="The wire")  # fmt: skip
    feeder_drop = Quantity(
        "Voltage drop from the meter to the panel", help="In percent, if the electrician knows it.",
        symbol="u_f", kind="percent", least=0, most=15, example=1.5, worse="more", group="The wire")  # fmt: skip
    own_supply = Flag(
        "Supply from the building's own transformer", default=False, worse=("yes", "no"), group="The wire",
        help="Some rules then allow more drop.")  # fmt: skip
    volts_idle = _volts(
        "Volts, cabinet unplugged", "By a plug-in meter, the rest of the circuit as usual.", 121.0,
        symbol="V_0", tolerance=METER, group="Measured at the outlet")  # fmt: skip
    volts_loaded = _volts(
        "Volts, with a test load", "By the same plug-in meter, a heater or the like running there.",
        118.0, symbol="V_1", tolerance=METER, group="Measured at the outlet")  # fmt: skip
    test_amps = _amps(
        "Test load, amperes", "What that load draws, from the meter or its plate.", 50, 12.0,
        symbol="I_m", least=0.5, worse="less", group="Measured at the outlet")  # fmt: skip
