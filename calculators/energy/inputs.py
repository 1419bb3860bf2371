"""What energy and refrigerant ask for: the plate, a plug meter, the gas, the room and what else cools in it."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Money, Quantity, Record, Rows

TAPE = 0.05  # m; a room is measured from skirting to skirting, once
THERMOMETER = 1.0  # °C

SOURCES = {"plate": "The plate or the maker’s data sheet", "meter": "A plug meter"}
CLASSES = {
    "a": "Class A: a quarter or more of the front is clear, all of it chilled",
    "b": "Class B: less is clear, all of it chilled",
    "comb_a": "Combination A: a part is not chilled, a quarter or more of the front is clear",
    "comb_b": "Combination B: a part is not chilled, less of the front is clear",
    "none": "None: it chills no drinks in bottles or cans",
}
PERIODS = {
    "before": "Before 31 August 2012",
    "y2012": "31 August 2012 to 7 January 2019",
    "y2019": "8 January 2019 or later",
}
GASES = {
    "none": "None, or one that does not burn",
    "r600a": "R-600a (isobutane)",
    "r290": "R-290 (propane)",
    "other": "Another that burns",
}
BURNING = {key: said for key, said in GASES.items() if key != "none"}
EDITIONS = {"new": "The edition of 2019 or later", "old": "An older one, or none is named"}

_ENERGY, _GAS, _ROOM, _OTHERS, _COST = "Energy", "Gas", "Room", "Other coolers in the room", "Cost"


def _charge(label: str, text: str, **more: Any) -> Quantity:
    return Quantity(label, help=text, kind="small_mass", least=1, most=3000, example=110, worse="more", **more)


def _lfl(**more: Any) -> Quantity:
    return Quantity("It burns from", help="The lower limit, from the gas’s safety data sheet. It is a weight in so much air.",
                    kind="gas_density", least=10, most=400, example=38, worse="less", when=("gas", ("other",)), **more)  # fmt: skip


def _side(label: str, text: str, example: float, most: float) -> Quantity:
    return Quantity(label, help=text, kind="run", least=1, most=most, example=example, tolerance=TAPE, worse="less",
                    first=True, group=_ROOM, symbol=label[5].upper())  # fmt: skip


class Cooler(Record):
    """Another cabinet or refrigerator in the same room."""

    gas = Choice("Gas", GASES, help="From its plate.")
    charge = _charge("Charge", "From its plate, in its largest circuit.", symbol="m")
    lfl = _lfl(symbol="L")
    number = Count("How many", help="Of the same kind.", least=1, most=20, example=1, default=1, worse="more")
    daily = Quantity("Energy a day", help="From its plate, its data sheet or a plug meter.", kind="energy_day",
                     least=0, most=100, example=3, worse="more", symbol="E")  # fmt: skip


class Inputs(Record):
    """The whole form."""

    source = Choice("Energy is from", SOURCES, first=True, group=_ENERGY,
                    help="A meter between plug and outlet tells what this one uses, in this place.")  # fmt: skip
    plate_daily = Quantity(
        "Energy a day by the plate", kind="energy_day", symbol="E_p", least=0.2, most=100, example=4.2, card=True,
        ends=True, group=_ENERGY, help="In kilowatt-hours. From the plate or the maker’s data sheet.")  # fmt: skip
    used = Quantity(
        "Plug meter shows", kind="energy", symbol="W_m", least=0.01, most=5000, example=9.1, worse="more", group=_ENERGY,
        when=("source", ("meter",)), help="What it counted since it was set to zero.")  # fmt: skip
    hours = Quantity(
        "It counted for", kind="hours", symbol="h", least=0.5, most=9000, example=48, worse="less", group=_ENERGY,
        when=("source", ("meter",)), help="One day or longer, with the cabinet in use as always.")  # fmt: skip
    energy_class = Choice(
        "Class", CLASSES, always=("none",), rule="energy.classes", card=True, group=_ENERGY,
        help="What the energy rule calls it. The maker’s data sheet says so.")  # fmt: skip
    energy_made = Choice(
        "Made", PERIODS, rule="energy.periods", worse=tuple(PERIODS), card=True, group=_ENERGY,
        help="The date of manufacture on the plate.")  # fmt: skip
    chilled_volume = Quantity(
        "Chilled volume", kind="capacity", symbol="V_c", least=50, most=3000, example=680, worse="less", card=True,
        rule="energy.classes", group=_ENERGY, help="From the maker’s data sheet: the part that is kept cold.")  # fmt: skip

    gas = Choice("Refrigerant", GASES, first=True, card=True, group=_GAS, help="From the plate. A flame mark means that it burns.")
    charge = _charge("Charge of its largest circuit", "The amount beside the refrigerant on the plate.", symbol="m",
                     first=True, card=True, group=_GAS)  # fmt: skip
    lfl = _lfl(symbol="L", card=True, group=_GAS)
    built_to = Choice("Built to IEC 60335-2-89 in", EDITIONS, worse=tuple(EDITIONS), card=True, group=_GAS,
                      help="Or its national twin. The manual names standard and year. It counts above 150 g.")  # fmt: skip

    outdoors = Flag("The cabinet will stand outdoors", worse=("yes", "no"), group=_ROOM,
                    help="In the open air, not in a porch or a tent.")  # fmt: skip
    room_length = _side("Room length", "Of the room with its doors shut, wall to wall.", 6, 200)
    room_width = _side("Room width", "Wall to wall.", 4, 200)
    room_height = _side("Room height", "Floor to ceiling; the lowest where it slopes.", 2.6, 30)
    low_place = Flag("Below ground, or beside a pit or stairs down", worse=("no", "yes"), group=_ROOM,
                     help="Gas that burns is heavier than air and flows down: cellar, pit, drain, shaft.")  # fmt: skip
    room_temp = Quantity(
        "Warmest room without the cabinet", kind="temperature", symbol="T", least=-10, most=50, example=24,
        tolerance=THERMOMETER, worse="more", group=_ROOM, help="On the hottest day, with its doors as they mostly are. "
        "Outdoors: the air there.")  # fmt: skip
    room_most = Quantity(
        "Warmest room the cabinet allows", kind="temperature", symbol="T_most", least=15, most=60, example=32,
        card=True, worse="less", group=_ROOM, help="From the plate or the manual.")  # fmt: skip
    air_changes = Quantity(
        "The room’s air changes", kind="air_changes", symbol="n", least=0.1, most=30, example=0.5, default=0.5,
        worse="less", group=_ROOM,
        help="How often an hour all of its air is new. A shut room about 0.5, an open door 2, a fan more.")  # fmt: skip

    alike = Count("Cabinets like this in the room", least=1, most=20, example=1, worse="more", group=_OTHERS,
                  help="This one counts too.")  # fmt: skip
    others = Flag("Other coolers in the room", worse=("no", "yes"), group=_OTHERS,
                  help="Cabinets of another kind, refrigerators, freezers, ice machines.")  # fmt: skip
    coolers = Rows("Other coolers", Cooler, "cooler", brief=("number", "gas", "charge", "daily"), most=8, group=_OTHERS,
                   help="One line for each kind.")  # fmt: skip

    energy_price = Money("Price of 100 kWh", symbol="p", least=1, most=100_000, example=1700, group=_COST,
                         help="With taxes. It is the price of one kilowatt-hour with the point moved two places.")  # fmt: skip
