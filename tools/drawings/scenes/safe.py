"""Drawings of the safety pages and of the trainer's."""

from __future__ import annotations

from shapely import box

from ..parts import (
    bag,
    cabinet_side,
    case,
    coin,
    flame,
    floor,
    hand,
    key,
    person,
    person_above,
    phone,
    sheet,
    spark,
    thermometer,
    tilted,
)
from ..sketch import THIN, Sketch


def lift_zones() -> Sketch:
    """Strong close and at hip height, weak elsewhere."""
    s = Sketch("lift-zones", "Where a lift is strong and where it is weak", "A person from the side. Close to the body and at hip height the zone is marked good. Above the shoulder, near the floor and at arm's length the zones are marked weak.", 290)  # fmt: skip
    floor(s, 256)
    for y, h in ((52, 48), (104, 48), (156, 48), (208, 46)):
        near = 104 <= y <= 160
        s.box(146, y, 64, h, 3, 0.02 if near else 0.12, THIN).box(216, y, 64, h, 3, 0.12 if not near else 0.06, THIN)
    person(s, 112, 256, 176, 1, hand=(152, 148))
    case(s, 152, 132, 40, 32)
    s.good(194, 120)
    for x, y in ((178, 76), (248, 76), (248, 232), (178, 232)):
        s.wrong(x, y)
    s.text(296, 80, "too high", anchor="start").text(296, 148, "too far", anchor="start").text(296, 236, "too low", anchor="start")
    s.text(178, 44, "close").text(248, 44, "far")
    return s


def shock_path() -> Sketch:
    """Current through a person to the ground, and what breaks the way."""
    s = Sketch("shock-path", "The way of a shock", "A person touches a faulty cabinet. An arrow shows current from the cabinet through the arm and body to the ground. Dry shoes, a hand away from metal and a working GFCI each break the way.", 280)  # fmt: skip
    floor(s, 236)
    cabinet_side(s, 30, 50, 80, 186)
    spark(s, 78, 130, 46)
    person(s, 168, 236, 160, -1, hand=(112, 132))
    s.line([(118, 124), (150, 112), (168, 130), (166, 190), (164, 230)], 2.4, "6 5", "end")
    s.box(224, 60, 46, 60, 4, 0.06).box(236, 78, 10, 10, 1, 0.5, 1).box(250, 78, 10, 10, 1, 0.5, 1).box(240, 98, 14, 8, 1, 0.5, 1)
    s.good(292, 90).text(247, 138, "GFCI")
    s.shape([(228, 196), (248, 196), (252, 210), (274, 214), (274, 224), (228, 224)], 0.4)
    s.good(296, 212).text(250, 256, "dry shoes")
    return s


def hand_hazards() -> Sketch:
    """Four places that hurt hands."""
    s = Sketch("hand-hazards", "Where hands get hurt", "Four pictures: the bare end of a coil, the slide of a tray, the hinge of the door, and the delivery door. A hazard mark stands at each.", 330)  # fmt: skip
    for x, y, words in ((14, 14, "coil end"), (188, 14, "tray slide"), (14, 172, "hinge"), (188, 172, "delivery door")):
        s.box(x, y, 158, 122, 4, 0.02, THIN).text(x + 79, y + 140, words, bold=True)
    for i in range(4):
        s.arc(42 + 24 * i, 76, 24, -90, 250, 2)
    s.line([(114, 52), (136, 40)], 3)
    s.hazard(148, 66, 26)
    s.box(206, 60, 120, 12, 1, 0.4).box(216, 76, 124, 12, 1, 0.2)
    hand(s, 272, 112, 0, 0.55)
    s.hazard(322, 36, 26)
    s.box(34, 184, 12, 98, 1, 0.4)
    s.shape([(46, 186), (52, 184), (120, 218), (116, 226), (48, 200)], 0.15)
    s.shape([(46, 268), (50, 262), (120, 262), (120, 270)], 0.05, THIN)
    s.hazard(70, 240, 26)
    s.box(204, 196, 126, 78, 3, 0.1).box(216, 216, 102, 44, 2, 0.4)
    hand(s, 266, 272, 0, 0.55)
    s.hazard(314, 202, 26)
    return s


def gas_mark() -> Sketch:
    """Plate, flame mark, low slots, gas that sinks."""
    s = Sketch("gas-mark", "Know the gas that burns", "A cabinet from the side with its plate enlarged: it names the refrigerant and its amount. A flame mark stands at the cooler. Gas sinks to the floor, and the low slots stay free.", 290)  # fmt: skip
    floor(s, 246)
    cabinet_side(s, 34, 40, 92, 206)
    s.box(44, 186, 64, 44, 2, 0.2)
    s.shape([(76, 190), (96, 226), (56, 226)], 0.02, 1.8)
    flame(s, 76, 224, 24)
    for y in (196, 206, 216, 226):
        s.line([(120, y), (128, y)], 1.6)
    for x in (150, 190, 230):
        s.arc(x, 240, 22, 200, 340, 1.6, "4 4")
    s.line([(140, 190), (170, 226)], 1.8, arrow="end").text(182, 206, "gas sinks", anchor="start")
    s.box(176, 48, 166, 96, 4, 0.03)
    s.text(259, 74, "R-290", bold=True, size=16).line([(192, 92), (326, 92)], 1).line([(192, 108), (300, 108)], 1)
    s.text(192, 132, "amount: … g", anchor="start")
    s.line([(112, 70), (174, 56)], 1.2).box(96, 62, 16, 14, 1, 0.5, 1.2)
    s.text(259, 164, "plate")
    return s


def food_four() -> Sketch:
    """Cold, clean, in date, labeled."""
    s = Sketch("food-four", "Four habits", "Four pictures: a thermometer for cold, washed hands for clean, a calendar leaf for in date, and a pack with a label for labeled.", 320)  # fmt: skip
    for x, y, words in ((14, 14, "cold"), (188, 14, "clean"), (14, 168, "in date"), (188, 168, "labeled")):
        s.box(x, y, 158, 116, 4, 0.02, THIN).text(x + 79, y + 134, words, bold=True)
    thermometer(s, 76, 24, 96, 0.25)
    s.line([(90, 88), (116, 88)], 2).text(122, 92, "limit", anchor="start")
    hand(s, 246, 84, -14, 0.9)
    hand(s, 292, 84, 14, 0.9, mirror=True)
    for x, y in ((236, 28), (268, 22), (300, 28)):
        s.disc(x, y, 5, 0.05, 1.4)
    s.box(58, 186, 72, 80, 3, 0.02).box(58, 186, 72, 18, 3, 0.5, 1.6)
    for row in range(3):
        for column in range(4):
            s.box(65 + 16 * column, 210 + 18 * row, 10, 10, 1, 0.6 if (row, column) == (1, 2) else 0.02, 1)
    bag(s, 266, 274, 92, 0.08)
    s.box(248, 216, 40, 44, 2, 0.02, 1.4)
    for y in (226, 236, 246):
        s.line([(254, y), (282, y)], 1.4)
    return s


def robber_way_out() -> Sketch:
    """Standing with the door between oneself and the public."""
    s = Sketch("robber-way-out", "Keep a way out", "From above: the open door of the cabinet stands between the worker and the public. The worker's back is to the wall, and an arrow shows a free way out. A second place, in a corner behind the open door, is crossed out.", 280)  # fmt: skip
    wall = box(14, 20, 346, 32)
    s.shape(wall, 0.06, THIN).hatch(wall, 6)
    for x in (56, 226):
        s.box(x, 40, 66, 58, 3, 0.2)
    s.line([(122, 100), (156, 150)], 4)
    person_above(s, 92, 128, 180)
    s.good(36, 128)
    s.line([(84, 146), (60, 236)], 2, "6 5", "end").text(44, 262, "way out")
    for x, y in ((196, 210), (230, 226)):
        s.disc(x, y, 8, 0.02, 1.6)
    s.text(214, 258, "public")
    s.line([(226, 100), (204, 156)], 4)
    person_above(s, 262, 122, 0)
    other = box(300, 40, 312, 190)
    s.shape(other, 0.06, THIN).hatch(other, 6)
    s.line([(232, 196), (254, 148)], 2, arrow="end")
    s.wrong(334, 124)
    return s


def teach_four() -> Sketch:
    """Show, together, alone, sign."""
    s = Sketch("teach-four", "Four steps of teaching", "Four stairs: the trainer shows; both do it together; the new hire does it alone while the trainer watches; the trainer signs. An arrow leads up and a dashed arrow leads back down.", 280)  # fmt: skip
    for i, words in enumerate(("show", "together", "watched", "sign")):
        s.box(14 + 84 * i, 200 - 36 * i, 82, 40 + 36 * i, 1, 0.06 + 0.04 * i, 1.8).text(55 + 84 * i, 260, words, bold=True)
    person(s, 36, 200, 84, 1, hand=(60, 150))
    person(s, 116, 164, 84, 1, hand=(140, 116))
    person(s, 164, 164, 84, -1, hand=(140, 116))
    person(s, 212, 128, 84, 1, hand=(240, 84))
    sheet(s, 286, 28, 42, 56, 3, 3)
    s.arc(170, 240, 206, -122, -80, 1.8, "", arrow="end")
    s.line([(230, 232), (150, 232)], 1.8, "5 4", "end")
    return s


def break_in() -> Sketch:
    """A forced cabinet, and how far to stay from it."""
    s = Sketch("break-in", "A cabinet that was forced", "A cabinet leans a little, its door bent open and its glass cracked; a flash and a hazard mark show what can still harm, step 7. A dashed line keeps people away from it, step 5. A person stands outside that line and photographs it, step 6.", 270)  # fmt: skip
    floor(s, 236)
    about = (110, 236)
    s.shape(tilted(box(44, 70, 128, 232), 4, about), 0.14).shape(tilted(box(54, 84, 98, 180), 4, about), 0.02, THIN)
    s.shape([(142, 74), (178, 96), (170, 214), (133, 234)], 0.3)
    s.line([(66, 92), (84, 122), (72, 138), (92, 170)], 1.8).line([(84, 122), (100, 112)], 1.8).line([(72, 138), (58, 150)], 1.8)
    spark(s, 28, 206, 38)
    s.hazard(100, 46, 30)
    s.line([(206, 60), (206, 236)], 2.4, "9 7")
    person(s, 312, 236, 150, -1, hand=(270, 126))
    phone(s, 258, 106, 28)
    s.line([(252, 118), (214, 112)], 1.4, "3 4").line([(252, 122), (214, 132)], 1.4, "3 4")
    s.call(5, 206, 40, (206, 66)).call(6, 268, 74, (266, 106)).call(7, 26, 30, (86, 46))
    return s


def key_opens() -> Sketch:
    """One key and all that it opens."""
    s = Sketch("key-opens", "What one key opens", "A key with a number, step 2. Lines lead from it, by the key book, step 5, to two cabinets with their cash and to the door of a building. The cabinet with most cash bears the number of step 7.", 268)  # fmt: skip
    key(s, 32, 132, 1.3)
    s.box(98, 104, 60, 66, 3, 0.04)
    for y in (120, 134, 148):
        s.line([(106, y), (150, y)], 1.4)
    s.text(128, 190, "key book")
    for y in (56, 134, 212):
        s.line([(158, 137), (206, y)], 2, arrow="end")
    for y, coins in ((10, 4), (94, 1)):
        cabinet_side(s, 214, y, 42, 74)
        for i in range(coins):
            coin(s, 280 + 19 * (i % 2), y + 60 - 22 * (i // 2), 9)
    s.box(214, 180, 44, 72, 1, 0.1).box(222, 190, 28, 62, 1, 0.3).disc(244, 222, 2.4, 0.9, 1)
    s.text(268, 224, "building", anchor="start")
    s.call(2, 44, 92, (38, 124)).call(5, 128, 78, (128, 104)).call(7, 338, 40, (310, 56))
    return s


ALL = (lift_zones, shock_path, hand_hazards, gas_mark, food_four, robber_way_out, teach_four, break_in, key_opens)  # fmt: skip
