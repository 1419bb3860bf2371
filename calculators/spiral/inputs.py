"""What spiral fit asks for: the product, the coil, the tray, and the operator's other coils."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Rows, Text

PRODUCT = 1.0  # mm; what a ruler against a product is good for
TAPE = 2.0  # mm; a steel tape along the tray
ANY_DROP = 3100.0  # mm; more than any tray is above where goods land

SHAPES = {"round": "Round: bottle, can, cup", "flat": "Flat: bag, box, wedge, bar"}
SIDES = {"straight": "Straight above a rounded heel: bottle, can, jar",
         "widening": "Wider all the way up to its rim: cup, pot"}  # fmt: skip
THICK_ENDS = {"even": "As thick above as below", "foot": "Thickest at its foot",
              "top": "Thickest at its top"}  # fmt: skip
COIL_KINDS = {"single": "One coil", "dual": "Two coils that turn together"}


def _length(label: str, text: str, least: float, most: float, example: float, **more: Any) -> Quantity:
    """A length in millimetres, off by a ruler's error unless told otherwise."""
    more.setdefault("tolerance", PRODUCT)
    return Quantity(label, help=text, kind="length", least=least, most=most, example=example, **more)


class CoilRow(Record):
    """One of the operator's own coils."""

    name = Text("Name", help="What you call it, such as seven-count.", example="seven-count")
    coil_count = Count("Turns", least=2, most=40, example=7, help="Whole turns along the coil.")
    coil_outside = _length("Outside diameter", "Across the coil, wire to wire outside.", 30, 250, 76.2,
                           tolerance=0.5)  # fmt: skip
    wire = _length("Wire thickness", "Of the wire itself.", 1, 10, 4, tolerance=0.1)
    coil_kind = Choice("Kind", COIL_KINDS, default="single",
                       help="Two coils side by side carry one broad product.")  # fmt: skip
    axis_offset = _length("Half the distance between the two axes",
                          "From the middle of the lane to the middle of one coil.", 15, 200, 40,
                          tolerance=0.5, when=("coil_kind", ("dual",)))  # fmt: skip
    stock = Count("In stock", least=0, most=10_000, example=12, help="Blank: at least one.")


UNTRIED, KEPT = "no", "keep"
TRIED = {UNTRIED: "Not tried", KEPT: "Kept", "tight": "Too tight", "loose": "Too loose", "other": "Does not suit"}


class OwnCoil(CoilRow):
    """A coil with what a test by hand said of this product in it."""

    tried = Choice("Tried by hand", TRIED, default=UNTRIED,
                   help="Three packs lifted and ten test sales with this product in this cabinet.")  # fmt: skip


class Inputs(Record):
    """The whole form."""

    shape = Choice("Shape", SHAPES, first=True, card=True, group="Product",
                   help="How it looks from above as it stands in the tray.")  # fmt: skip
    diameter = _length(
        "Diameter", "Where it is widest.", 10, 300, 66, symbol="D", first=True, card=True,
        when=("shape", ("round",)), group="Product")  # fmt: skip
    breadth = _length(
        "Breadth across the lane", "Side to side as it stands in the tray; a bag with its seals.",
        10, 400, 130, symbol="b", first=True, card=True, when=("shape", ("flat",)),
        group="Product")  # fmt: skip
    thickness = _length(
        "Thickness along the lane", "Front to back where it is thickest: a bag's belly.", 5, 300, 42,
        symbol="t", first=True, card=True, when=("shape", ("flat",)), group="Product")  # fmt: skip
    coil_count = Count(
        "Coil count", help="Whole turns along the coil.", symbol="N", least=2, most=40, example=7,
        first=True, card=True, group="Coil")  # fmt: skip
    lane_width = _length(
        "Lane width", "Between the dividers, or the tray's usable width shared out over its lanes.",
        20, 600, 80, symbol="w", first=True, card=True, group="Tray")  # fmt: skip

    height = _length(
        "Height", "From its foot to its top, as it stands in the tray.", 10, 600, 205, symbol="H",
        first=True, card=True, group="Product")  # fmt: skip
    foot_diameter = _length(
        "Foot diameter", "The ring it stands on: often narrower than the body.", 5, 300, 60,
        symbol="f", card=True, when=("shape", ("round",)), group="Product")  # fmt: skip
    sides = Choice(
        "Its sides", SIDES, default="straight", card=True, when=("shape", ("round",)),
        help="A cup is narrower where the wire holds it than at its rim.", group="Product")  # fmt: skip
    thick_end = Choice(
        "Wedge", THICK_ENDS, default="even", card=True, when=("shape", ("flat",)),
        help="For a pack whose front and back slope, both alike.", group="Product")  # fmt: skip
    thin_end = _length(
        "Thickness at the thin end", "Of a wedge, at its foot or its top; a sharp edge is 1 mm.", 1,
        300, 20, symbol="t_thin", card=True, when=("thick_end", ("foot", "top")),
        group="Product")  # fmt: skip
    mass = Quantity(
        "Mass", help="One product, full.", symbol="m", kind="small_mass", least=1, most=10_000,
        example=520, card=True, group="Product")  # fmt: skip
    squeeze = _length(
        "May be pressed by", "How much a soft pack may be pressed without harm; 0 for a hard one.",
        0, 60, 4, symbol="q", default=0.0, tolerance=0.0, card=True,
        when=("shape", ("flat",)), group="Product")  # fmt: skip
    pillow = Flag(
        "Pillow bag", help="Full in the middle, flat at its two side seals.", default=False, card=True,
        when=("shape", ("flat",)), group="Product")  # fmt: skip
    may_skew = Flag(
        "May stand skewed", help="Turned a little, so that it lies along the wire.", default=True,
        when=("shape", ("flat",)), group="Product")  # fmt: skip
    may_turn = Flag(
        "May be turned sideways", help="Its narrow side to the front.", default=False,
        when=("shape", ("flat",)), group="Product")  # fmt: skip
    drop_limit = _length(
        "Greatest drop it bears", "For glass, eggs, cakes and the like; 3 m or 10 ft for one that no drop "
        "harms.", 1, ANY_DROP, 300, symbol="h_limit", tolerance=0.0, card=True, worse="less",
        group="Product")  # fmt: skip

    usable_length = _length(
        "Usable length of the coil", "From the motor's plate to the end of the last turn.", 100, 1500,
        546.1, symbol="L", tolerance=TAPE, card=True, group="Coil")  # fmt: skip
    coil_outside = _length(
        "Coil outside diameter", "Across the coil, wire to wire outside.", 30, 250, 76.2, symbol="O",
        tolerance=0.5, card=True, group="Coil")  # fmt: skip
    wire = _length(
        "Wire thickness", "Of the wire itself.", 1, 10, 4, symbol="d", tolerance=0.1, card=True,
        group="Coil")  # fmt: skip
    coil_kind = Choice(
        "Coil kind", COIL_KINDS, default="single", card=True, group="Coil",
        help="Two coils side by side carry one broad product.")  # fmt: skip
    axis_offset = _length(
        "Half the distance between the two axes", "From the middle of the lane to the middle of one "
        "coil.", 15, 200, 40, symbol="c", tolerance=0.5, card=True, when=("coil_kind", ("dual",)),
        group="Coil")  # fmt: skip
    hand = Choice(
        "Hand of the coil", {"right": "Right-hand, as a wood screw", "left": "Left-hand"},
        default="right", help="For the drawing; the mirror image has the same room.",
        group="Coil")  # fmt: skip
    end_clock = Count(
        "Where the coil’s end points", least=1, most=12, example=6, symbol="K", tolerance=0.5, card=True,
        help="The hour of a clock face as you stand in front of the tray, at rest; of a pair, the "
        "end of its right-hand coil.", group="Coil")  # fmt: skip
    turns_per_sale = Count(
        "Turns for one sale", help="As the selection is set.", symbol="k", least=1, most=4, example=1,
        default=1, group="Coil")  # fmt: skip
    end_empty = Count(
        "Turns left empty at the front", help="Where the end of the coil cannot hold one.",
        symbol="N_empty", least=0, most=3, example=0, default=0, worse="less", group="Coil")  # fmt: skip

    height_above = _length(
        "Height under the tray above", "From this tray's floor to the lowest part above it.", 30, 900,
        250, symbol="A", tolerance=TAPE, card=True, worse="less", group="Tray")  # fmt: skip
    strip_height = _length(
        "Raised strips", "Height of strips or a riser that the product stands on; 0 for none.", 0, 150,
        0, symbol="u", default=0.0, card=True, group="Tray")  # fmt: skip
    rail_height = _length(
        "Height of divider or rail", "From the tray's floor to the top of what holds a product "
        "sideways.", 1, 400, 120, symbol="r", card=True, worse="less", group="Tray")  # fmt: skip
    drop_height = _length(
        "Drop to where goods land", "From this tray's floor down to the chute's floor or the flap.",
        0, 2500, 600, symbol="h_tray", tolerance=5.0, card=True, worse="more", group="Tray")  # fmt: skip
    coils = Rows(
        "Coils you own", OwnCoil, "coil", brief=("name", "coil_count", "tried"), most=12, group="Coils you own",
        help="Each is tried for this product in this lane, with the same usable length.")  # fmt: skip
