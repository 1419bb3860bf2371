"""Energy and refrigerant: what does it use, what does it do to a small room, and is its gas all right there?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .inputs import Inputs
from .model import contradictions
from .solve import solve

_BURNS = ("A leak of this gas can burn or explode. At a hiss or fresh oil touch no switch, leave, and call from outside: "
          "see Emergency.")  # fmt: skip

VALUES = (
    ValueSpec("daily", "Energy a day", "energy_day", "E", toward="up", main=True),
    ValueSpec("allowance", "Energy allowed a day", "energy_day", "E_max", toward="down"),
    ValueSpec("cost", "Cost a year", "money", "C", "Of this one cabinet.", toward="up", main=True),
    ValueSpec("heat", "Heat into the room", "heat", "Q", "Day and night, of every cooler in it.", toward="up", main=True),
    ValueSpec("power", "The same as power", "power", "P", toward="up"),
    ValueSpec("rise", "Room grows warmer by about", "warming", "R", "An estimate, never a permission.", toward="up",
              main=True),
    ValueSpec("room", "Volume of the room", "volume", "V", toward="down"),
    ValueSpec("room_needed", "Smallest room for a full leak", "volume", "V_r", toward="up", main=True),
    ValueSpec("charge_all", "Gas that burns in the room", "small_mass", "m_all", toward="up"),
)  # fmt: skip

CHECKS = (
    CheckSpec("charge", "Charge of one circuit", "small_mass", "at most",
              ("refrigerant.charge_small", "refrigerant.charge_newer", "refrigerant.lfl_air"), caution=_BURNS),
    CheckSpec("leak_burns", "Room against what burns", "volume", "at least", help="A full leak, spread evenly.",
              caution=_BURNS),
    CheckSpec("leak_limit", "Room against the practical limit", "volume", "at least",
              ("refrigerant.practical_share", "refrigerant.charge_small"), help="A full leak, spread evenly.",
              caution=_BURNS),
    CheckSpec("low_place", "No low place for the gas", soft=True, caution=_BURNS),
    CheckSpec("allowed", "Energy the rule allows", "energy_day", "at most", ("energy.classes", "energy.periods"),
              families=("energy.per_", "energy.base_"), soft=True),
    CheckSpec("as_sold", "Energy in use against the plate", "energy_day", "at most",
              ("energy.above_plate", "energy.below_plate", "energy.reading_hours", "energy.meter_off"), soft=True),
    CheckSpec("warmth", "Room not too warm for it", "temperature", "at most",
              ("energy.air_heat", "energy.wall_heat"), soft=True, help="An estimate."),
)  # fmt: skip

EXAMPLE = {
    "source": "meter", "used": "7.7 kWh", "hours": "48 h", "plate_daily": "3.9 kWh", "energy_class": "a",
    "energy_made": "y2019", "chilled_volume": "30 ft3", "gas": "r290", "charge": "3.9 oz", "built_to": "old",
    "outdoors": "no", "room_length": "18 ft", "room_width": "12 ft", "room_height": "9 ft", "low_place": "no",
    "room_temp": "76 F", "room_most": "90 F", "alike": 1, "others": "no", "energy_price": "17.00",
}  # fmt: skip

# Where no allowance is held there is no class to say.
_METRIC = {
    "source": "meter", "used": "7.7 kWh", "hours": "48 h", "plate_daily": "3.9 kWh", "gas": "r290", "charge": "110 g",
    "built_to": "old", "outdoors": "no", "room_length": "5.5 m", "room_width": "3.6 m", "room_height": "2.7 m",
    "low_place": "no", "room_temp": "25 C", "room_most": "32 C", "alike": 1, "others": "no", "energy_price": "28.00",
}  # fmt: skip
SET_EXAMPLES = {"ca": _METRIC, "uk": _METRIC, "eu": _METRIC, "au": _METRIC}

CALCULATOR = Calculator(
    name="energy",
    title="Energy and refrigerant",
    question="What does it use, and is its gas all right in this room?",
    summary="Sets energy a day, from the plate or a plug meter, against what is allowed, with its cost a year and its heat "
    "in the room; and a leak of its refrigerant, where that burns, against the size of the room.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=contradictions,
    example=EXAMPLE,
    set_examples=SET_EXAMPLES,
    caution="Only people who are trained and certified for it open a cooling circuit. If you suspect a leak, touch no "
    "switch, leave, and go to Emergency: nothing here is for then.",
    not_checked=(
        "Gas gathers at the floor before it spreads: close to a leak it can burn in a room of any size.",
        "Free air alone counts as room: take off cupboards and stacked goods.",
        "Flames, heaters and switches low down beside the cabinet: its manual says what may be there.",
        "Whether the law here lets this gas be used in a vending machine, and what it asks for its circuit.",
        "Gases that do not burn can drive the air out of a small room too.",
        "Sun, lamps, people and other machines warm a room as well.",
    ),
)
