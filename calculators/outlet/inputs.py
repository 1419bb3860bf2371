"""What outlet readings ask for: lamps, volts without and with a load, and what a person sees.

No reading of a lamp or of volts goes one way only: too high is as bad as too low, and a larger fall
under load tells more of the neutral.
"""

from __future__ import annotations

from typing import Any

from ..core import Choice, Flag, Quantity, Record

METER = 1.0  # V; what a plug-in meter is good for
NEAR = 0.2  # V; the same near nothing, where its error in percent is small

LAMP = {"lit": "Lit", "dark": "Dark"}
READERS = {
    "plug": "A plug-in instrument",
    "licensed": "Probes, by a licensed electrician",
    "others": "Probes, by somebody else",
}
SIGNS = {
    "none": "Whole, firm, cool, quiet, dry",
    "hot": "Warm, browned, buzzing or smelling",
    "broken": "Cracked, loose, or the plug sits slack",
    "wet": "Wet, or water has been in it",
}
NEARBY = {"silent": "It stays silent", "alerts": "It lights or sounds"}
BUTTONS = {
    "trips": "It cut the power, and came back when reset",
    "stays": "It did not cut the power",
    "stuck": "It cut the power and does not come back",
    "none": "No such button is seen",
}


def _lamp(pair: str) -> Choice:
    return Choice(f"Lamp, {pair}", LAMP, first=True, group="Three-lamp tester",
                  help="The tester’s own leaflet says which lamp is which. A dim lamp counts as dark.")  # fmt: skip


def _volts(label: str, symbol: str, example: float, text: str, **more: Any) -> Quantity:
    more.setdefault("tolerance", METER)
    return Quantity(label, help=text, kind="voltage", symbol=symbol, least=0, most=300, example=example,
                    **more)  # fmt: skip


_IDLE = "By a plug-in meter, nothing else running there."
_LOADED = "By the same plug-in meter, with the test load running."


class Inputs(Record):
    """The whole form. Line is also called hot, ground is also called earth."""

    lamp_ln = _lamp("line and neutral")
    lamp_lg = _lamp("line and ground")
    lamp_ng = _lamp("neutral and ground")
    volts_ln = _volts("Volts, line to neutral", "V_ln", 120, _IDLE, first=True, group="Without a load")
    volts_lg = _volts("Volts, line to ground", "V_lg", 120, _IDLE, first=True, group="Without a load")
    volts_ng = _volts("Volts, neutral to ground", "V_ng", 0.4, _IDLE, first=True, tolerance=NEAR,
                       group="Without a load")

    loaded_ln = _volts("Loaded: line to neutral", "W_ln", 116, _LOADED, group="With a test load")
    loaded_ng = _volts("Loaded: neutral to ground", "W_ng", 1.6, _LOADED, tolerance=NEAR,
                        group="With a test load")
    load_amps = Quantity(
        "Test load", kind="current", symbol="I_t", least=0.5, most=20, example=12, worse="less", group="With a test load",
        help="What it draws, from the meter or its plate: a heater or kettle that the outlet may carry.")  # fmt: skip
    cabinet_amps = Quantity(
        "Cabinet’s amperes", kind="current", symbol="I_c", least=0.1, most=50, example=9, card=True, worse="more",
        group="With a test load", help="From its plate.")  # fmt: skip

    reader = Choice("How the volts were read", READERS, default="plug", group="What a person sees",
                    help="Never put probes into an outlet. That is for a licensed electrician.")  # fmt: skip
    reversible = Flag("The plug goes in both ways", rule="outlet.reversible", worse=("yes", "no"), group="What a person sees",
                      help="Yes for a round outlet with two earth springs at its rim. One with an earth pin, or with flat "
                      "slots, takes the plug one way only.")  # fmt: skip
    signs = Choice("The outlet looks", SIGNS, worse=tuple(SIGNS), group="What a person sees",
                   help="Look, listen and smell. Do not touch it if it is warm, broken or wet.")  # fmt: skip
    nearby = Choice("Non-contact tester at the ground hole", NEARBY, worse=tuple(NEARBY), group="What a person sees",
                    help="Tried first on an outlet that is known to be live. Hold its tip to the face of the outlet; "
                    "put nothing in.")  # fmt: skip
    button = Choice("Protective device’s own test button", BUTTONS, worse=("trips", "none", "stays", "stuck"), group="What a person sees",
                    help="On the outlet, the plug, the cord or the breaker. Press it with nothing plugged in that must "
                    "stay on.")  # fmt: skip
