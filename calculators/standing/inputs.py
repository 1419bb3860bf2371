"""What standing asks for: the cabinet and its load, how it stands, the wind, the anchors."""

from __future__ import annotations

import copy
from typing import Any

from ..clearance.inputs import Inputs as Clearance
from ..clearance.leg_inputs import TAPE
from ..core import Choice, Flag, Quantity, Record
from ..core.fields import Field

LEVEL = 0.5  # mm/m; what a digital level is good for
PLACE, LOAD, STANDS, WIND = "Its place", "Load, door and trays", "How it stands", "Wind"
EXPOSURES = {
    "b": "B: town or woods all round",
    "c": "C: open ground, few obstacles",
    "d": "D: open water or flat shore ahead",
}
TERRAINS = {
    "iv": "IV: town center, tall buildings close together",
    "iii": "III: suburb, village or woods",
    "ii": "II: open country with hedges and single houses",
    "i": "I: lake shore, or flat with no obstacle",
    "0": "0: sea coast",
}


def same(key: str, group: str = "Cabinet", **more: Any) -> Any:
    """The field of the clearance form, so that one column of the data fills both; ``more`` is what differs here."""
    field: Field = copy.copy(Clearance.field(key))
    for name, value in {"group": group, "first": False, "worse": "", **more}.items():
        setattr(field, name, value)
    return field


class Inputs(Record):
    """The whole form. What is broader stands firmer one way and meets more wind another: no worse direction."""

    cabinet_width = same("cabinet_width", first=True)
    cabinet_depth = same("cabinet_depth", first=True)
    cabinet_height = same("cabinet_height", first=True, worse="more", symbol="H")
    cabinet_mass = same("cabinet_mass", first=True)
    outdoors = same("outdoors", PLACE, first=True, worse=("no", "yes"))
    anchored = Flag(
        "Fixed down or to a wall", first=True, group=PLACE,
        help="Whether anchors hold it, of whatever kind. Spacers and straps are none.")  # fmt: skip

    cg_height = same("cg_height")
    cg_back = same("cg_back")
    cg_side = same("cg_side")
    leg_inset = same("leg_inset", worse="more", symbol="i", help="From the cabinet's face to the middle of a foot: the side "
                     "where it is farthest in.")  # fmt: skip

    stock_mass = same("stock_mass", LOAD, symbol="s")
    stock_height = Quantity(
        "Middle of the goods, height", kind="length", least=50, most=3_500, example=1000, tolerance=TAPE, card=True,
        group=LOAD, help="Above the floor, all trays full. Blank: all heights that it may have are tried.")  # fmt: skip
    door_leaf = same("door_leaf", LOAD, worse="more")
    hinge_side = same("hinge_side", LOAD)
    door_mass = Quantity(
        "Mass of the door", kind="mass", least=0, most=1_000, example=45, card=True, worse="more", group=LOAD,
        symbol="m_d", help="From the manual, glass and all. Blank: all that a door may weigh is tried.")  # fmt: skip
    tray_pullout = same("tray_pullout", LOAD, worse="more", symbol="l_t")
    tray_load = Quantity(
        "Heaviest tray with its goods", kind="mass", least=0, most=1_000, example=40, card=True, worse="more", group=LOAD,
        symbol="m_t", help="Count the packs in it. Blank: all that one tray may hold is tried.")  # fmt: skip

    lean_along = Quantity(
        "Lean, front to back", kind="tilt", least=0, most=60, example=2, tolerance=LEVEL, worse="more", group=STANDS,
        help="How far off level the cabinet itself stands, read on its body, forward or back.")  # fmt: skip
    lean_across = Quantity(
        "Lean, left to right", kind="tilt", least=0, most=60, example=2, tolerance=LEVEL, worse="more", group=STANDS,
        help="The same, to either side.")  # fmt: skip
    rough_use = Flag(
        "People may shake, climb or lean on it", worse=("no", "yes"), group=STANDS,
        help="Yes at a school, on a street, at night with nobody near, or where it was done before.")  # fmt: skip
    push_height = Quantity(
        "Height of a push", kind="length", least=300, most=2_500, default=1500.0, example=1500, worse="more", group=STANDS,
        symbol="h_p", help="About shoulder height.")  # fmt: skip
    friction = Quantity(
        "Friction of feet and ground", kind="ratio", least=0.05, most=1.0, example=0.4, worse="less", group=STANDS,
        help="Only if somebody measured it: pull along the ground that makes it slide, for its weight. Blank: all that "
        "is usual is tried.")  # fmt: skip

    wind_speed = Quantity(
        "Basic wind speed of the place", kind="wind", least=10, most=100, example=50, worse="more", group=WIND, symbol="V",
        when=("outdoors", ("yes",)), help="From the wind map of the building code here, never from a forecast; the building "
        "office knows it.")  # fmt: skip
    exposure = Choice(
        "Exposure", EXPOSURES, rule="standing.exposures", worse=tuple(EXPOSURES), group=WIND, when=("outdoors", ("yes",)),
        help="What the wind blows over before it comes here. In doubt, the more open one.")  # fmt: skip
    terrain = Choice(
        "Terrain", TERRAINS, rule="standing.terrains", worse=tuple(TERRAINS), group=WIND, when=("outdoors", ("yes",)),
        help="What the wind blows over before it comes here. In doubt, the more open one.")  # fmt: skip
    altitude = Quantity(
        "Height above the sea", kind="run", least=0, most=1_500, example=80, worse="more", group=WIND, symbol="A",
        rule="standing.altitude", when=("outdoors", ("yes",)), help="Of the ground here, from a map.")  # fmt: skip
    hill = Flag(
        "Hill, roof, cliff or gap between buildings", worse=("no", "yes"), group=WIND, when=("outdoors", ("yes",)),
        help="Yes on a roof, on or near the top of a slope, or where wind is squeezed between walls.")  # fmt: skip

    anchor_paper = Flag(
        "Anchors designed by a licensed engineer and fitted", worse=("yes", "no"), group=PLACE,
        when=("anchored", ("yes",)), help="Yes only with the engineer's paper for this cabinet and spot, and the fitter's "
        "signature.")  # fmt: skip
