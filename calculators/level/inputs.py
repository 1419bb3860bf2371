"""What leveling asks for: the legs, their thread, what the level shows, and the rock test."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Flag, Quantity, Record, Rows

RULER = 1.0  # mm; a ruler held against a thread
SHOWN = 0.5  # mm/m; what a digital level is good for
TENTH = 0.05  # degrees; half of the last digit shown
PHONE = 0.1  # degrees; what a phone's sensor is good for, turned end for end: common practice
QUARTER = 0.25  # of a division; how finely a bubble is read
EIGHTH = 0.125  # of a bubble; how finely it is read beside a line

LAYOUTS = {
    "four": "Four, one at each corner",
    "six_wide": "Six, a middle one at front and rear",
    "six_deep": "Six, a middle one at each side",
    "own": "Another layout, leg by leg",
}
THREADS = {
    "5_16": "5/16-18", "3_8": "3/8-16", "1_2": "1/2-13", "5_8": "5/8-11", "m8": "M8", "m10": "M10",
    "m12": "M12", "m16": "M16", "other": "Another thread",
}  # fmt: skip
FEET = {
    "stud": "The foot turns together with its stud",
    "cap": "The foot turns on a stud that is fixed to the frame",
    "nut": "A nut under the frame turns; foot and stud stand still",
}
LEGS = {
    "front_left": "Front left", "front_right": "Front right", "rear_left": "Rear left",
    "rear_right": "Rear right", "front_middle": "Front middle", "rear_middle": "Rear middle",
    "left_middle": "Left middle", "right_middle": "Right middle",
}  # fmt: skip
HIGH = {
    "left": "Left side high", "right": "Right side high", "front": "Front high", "rear": "Rear high",
    "front_left": "Front left corner high", "front_right": "Front right corner high",
    "rear_left": "Rear left corner high", "rear_right": "Rear right corner high",
    "none_across": "Neither: level, left to right", "none_along": "Neither: level, front to back",
}  # fmt: skip
SHOWN_AS = {
    "slope": "Slope, as a digital level shows",
    "angle": "Degrees",
    "divisions": "Bubble divisions",
    "phone": "Degrees, by a phone",
}


def _length(label: str, text: str, most: float, example: float, **more: Any) -> Quantity:
    """A length read with a ruler."""
    more.setdefault("least", 0.0)
    more.setdefault("kind", "length")
    return Quantity(label, help=text, most=most, example=example, **more)


BUBBLE = {
    "middle": "In the middle: the same gap at both lines",
    "touching": "One end touches a line",
    "half": "Half of it is past a line",
    "over": "All of it is past a line",
}


class ReadingRow(Record):
    """One reading of the level on the cabinet's body."""

    high = Choice("Which is high", HIGH,
                  help="Left and right as you face the front. The bubble goes to the high side: bubble to the left, "
                  "left side high.")  # fmt: skip
    bubble = Choice("Where the bubble stands", BUBBLE,
                    help="On a level with two lines. Leave it blank where you give a number instead.")  # fmt: skip
    shown_as = Choice("Read as", SHOWN_AS, default="slope",
                      help="What the number below is. A level with a scale: divisions, so that its coarseness counts.")  # fmt: skip
    # The page sends nothing for “as usual”, which is the slope.
    slope = Quantity("Slope", kind="tilt", least=0, most=60, example=8, tolerance=SHOWN,
                     when=("shown_as", ("slope", "")), help="0 where it stands level.")  # fmt: skip
    angle = Quantity("Angle", kind="angle", least=0, most=3.4, example=0.4, tolerance=TENTH,
                     when=("shown_as", ("angle",)), help="0 where it stands level.")  # fmt: skip
    divisions = Quantity("Divisions", kind="ratio", least=0, most=20, example=1.5, tolerance=QUARTER,
                         when=("shown_as", ("divisions",)),
                         help="From the middle to the bubble’s middle.")  # fmt: skip
    phone = Quantity("Angle by phone", kind="angle", least=0, most=3.4, example=0.4, tolerance=PHONE,
                     when=("shown_as", ("phone",)),
                     help="Half the difference of two readings, the phone turned end for end between them. "
                     "0 where it lies level.")  # fmt: skip


class LegRow(Record):
    """One leg that differs from the others, or one of another layout."""

    leg = Choice("Which leg", LEGS, help="As you face the front.")
    out = _length("Its thread showing", "Between foot and frame; blank: as the others.", 150, 14,
                  tolerance=RULER)  # fmt: skip
    gap = _length("Gap under it", "Between its foot and the floor, felt with cards or a feeler gauge. Type 0 where it bears.",
                  30, 1.5, kind="fine_length", tolerance=0.2)  # fmt: skip
    x = _length("From the leftmost leg", "Only in another layout: how far to the right.", 3_000, 800,
                tolerance=5.0)  # fmt: skip
    y = _length("From the front legs", "Only in another layout: how far to the rear.", 3_000, 700,
                tolerance=5.0)  # fmt: skip
    plate = _length("Plate under it", "Only in another layout: a plate to be put under it; blank for none.",
                    50, 6)  # fmt: skip


def _plate(place: str, *layouts: str) -> Quantity:
    return _length(
        f"Plate, {place}", "Thickness of a plate to be put under this leg before turning; blank for none.",
        50, 6, group="Plates under the legs",
        when=("leg_layout", layouts or ("four", "six_wide", "six_deep")))  # fmt: skip


class Inputs(Record):
    """The whole form."""

    leg_layout = Choice("Legs", LAYOUTS, first=True, card=True, group="Legs",
                  help="How many, and where. Front is the side that buyers face.")  # fmt: skip
    span_x = _length("Between left and right legs", "From middle to middle.", 3_000, 850, symbol="X",
                     least=150, tolerance=5.0, first=True, card=True, group="Legs",
                     when=("leg_layout", ("four", "six_wide", "six_deep")))  # fmt: skip
    span_y = _length("Between front and rear legs", "From middle to middle.", 3_000, 750, symbol="Y",
                     least=150, tolerance=5.0, first=True, card=True, group="Legs",
                     when=("leg_layout", ("four", "six_wide", "six_deep")))  # fmt: skip
    thread = Choice("Thread of the legs", THREADS, first=True, card=True, group="Legs",
                    help="Stamped on it, in the machine’s manual, or matched with a nut.")  # fmt: skip
    foot = Choice("What turns", FEET, first=True, card=True, group="Legs",
                  help="Look while a helper gives it a touch with the wrench.")  # fmt: skip
    readings = Rows("What the level shows", ReadingRow, "reading", brief=("high", "bubble", "slope", "angle", "phone"), first=True, group="Readings",
                    help="Three or more, on the body and not on the door. Turn the level end for end and read "
                    "again: its own error shows.",
                    example=[{"high": "left", "slope": 8}])  # fmt: skip

    rocks = Flag("It rocks", group="Readings", worse=("no", "yes"),
                 help="Press each front corner lightly with one flat hand: yes if you feel a knock. Never rock a "
                 "cabinet.")  # fmt: skip
    level_limit = Quantity("Slope the machine’s manual allows", kind="tilt", least=0.2, most=30, example=3,
                     symbol="s_card", card=True, group="Readings", worse="less",
                     help="It counts where it asks for less than the trade keeps to. Left blank: what the trade keeps to.")  # fmt: skip
    vial = Quantity("Vial: slope for one division", kind="tilt", least=0.02, most=30, example=0.5,
                    symbol="v", group="Readings",
                    help="Printed on a good level. It is what moves the bubble by one division.")  # fmt: skip
    vial_arc = Quantity("Vial: angle for one division", kind="arc", least=0.05, most=120, example=3,
                        group="Readings",
                        help="The same in minutes of arc; 20\" is 20 seconds. Used where the slope is blank.")  # fmt: skip
    half_bubble = Quantity("Your level: slope with half the bubble past a line", kind="tilt", least=1, most=100,
                           example=20, group="Readings",
                           help="Try it: on a level top, put packing under one end until half of the bubble is past a "
                           "line. Packing divided by the level’s length. Blank: as on an ordinary level.")  # fmt: skip

    thread_pitch = _length("Rise for one turn", "Measure ten threads and divide by ten.", 6, 1.5, least=0.3,
                    kind="fine_length", symbol="P", card=True, group="Thread",
                    when=("thread", ("other",)))  # fmt: skip
    thread_diameter = _length("Diameter of the thread", "Across its crests.", 40, 12, least=3,
                       kind="fine_length", symbol="D", card=True, group="Thread",
                       when=("thread", ("other",)))  # fmt: skip
    thread_hand = Choice("Hand of the thread", {"right": "Right-hand, as a usual screw", "left": "Left-hand"},
                  default="right", card=True, group="Thread",
                  help="A left-hand thread turns the other way.")  # fmt: skip
    thread_out = _length("Thread showing now", "Between foot and frame, the same at all legs.", 150, 13,
                  symbol="E", tolerance=RULER, group="Thread")  # fmt: skip
    thread_least = _length("Least that may show", "From the machine’s manual.", 100, 5, symbol="E_least",
                        default=0.0, card=True, group="Thread")  # fmt: skip
    thread_most = _length("Most that may show", "From the machine’s manual.", 150, 38, symbol="E_most",
                       card=True, group="Thread")  # fmt: skip
    range_given = Flag("The manual says how much may show", group="Thread",
                       help="No: then the thread that stays in the nut decides alone.")  # fmt: skip
    stud_length = _length("Whole thread of a leg", "From end to end of its thread, screwed out or from the manual.",
                   200, 50, symbol="T", least=5, tolerance=RULER, card=True, group="Thread")  # fmt: skip
    each_leg = Rows("Legs one by one", LegRow, "leg", most=8, group="Leg by leg",
                    help="A leg that hangs or shows another length, one row each. In another layout: every leg.")  # fmt: skip

    plate_front_left = _plate("front left")
    plate_front_right = _plate("front right")
    plate_rear_left = _plate("rear left")
    plate_rear_right = _plate("rear right")
    plate_front_middle = _plate("front middle", "six_wide")
    plate_rear_middle = _plate("rear middle", "six_wide")
    plate_left_middle = _plate("left middle", "six_deep")
    plate_right_middle = _plate("right middle", "six_deep")
