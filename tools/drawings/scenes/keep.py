"""Visits, cleaning, warm cabinets, checks, faults."""

from __future__ import annotations

from ..parts import (
    bottle,
    cabinet_front,
    cabinet_open,
    cabinet_side,
    clock,
    floor,
    hand,
    person,
    thermometer,
    tube,
)
from ..sketch import THIN, Sketch


def visit_round() -> Sketch:
    """A visit in one round."""
    s = Sketch("visit-round", "One round in one order", "A person stands before a cabinet. Numbers lead round it: look from outside, step 1; measure the food, step 8; the goods, step 12; the coins, step 19; and the last check, step 25.", 300)  # fmt: skip
    floor(s, 262)
    cabinet_front(s, 140, 44, 132, 218)
    thermometer(s, 164, 62, 44, 0.3)
    for x in (186, 202, 218):
        bottle(s, x, 124, 26, 0.3)
    tube(s, 244, 104, 12, 46, 0.6)
    person(s, 58, 262, 156, 1)
    s.arc(206, 150, 132, 205, 335, 1.8, "6 5", arrow="end").arc(206, 150, 132, 25, 75, 1.8, "6 5", arrow="end")
    s.call(1, 100, 76, (74, 112)).call(8, 160, 26, (164, 64)).call(12, 236, 26, (204, 104))
    s.call(19, 318, 100, (256, 120)).call(25, 318, 224, (272, 250))
    return s


def clean_order() -> Sketch:
    """From top to bottom, floor last."""
    s = Sketch("clean-order", "The order of cleaning", "A cabinet cut open from the side. An arrow leads from the top, step 7, to the bottom, step 20. The drain at the bottom is free, step 18. A vacuum nozzle cleans the air slots from outside, step 5.", 294)  # fmt: skip
    floor(s, 256)
    cabinet_open(s, 110, 36, 130, 220)
    s.line([(262, 44), (262, 236)], 2.4, arrow="end")
    s.box(104, 206, 8, 34, 1, 0.5, THIN)
    for y in (212, 220, 228, 236):
        s.line([(104, y), (116, y)], 1.2)
    s.limb([(20, 180), (52, 196), (80, 220)], 12, 0.2)
    s.shape([(78, 206), (98, 200), (98, 242), (78, 232)], 0.4)
    s.line([(150, 243), (150, 254)], 4)
    s.box(126, 236, 50, 6, 1, 0.4, 1.2)
    s.shape([(186, 46), (224, 42), (228, 64), (192, 70)], 0.15, 1.8)
    hand(s, 214, 84, 0, 0.7)
    s.call(7, 308, 56, (228, 56)).call(20, 308, 232, (226, 240)).call(18, 150, 280, (150, 252)).call(5, 46, 250, (86, 232))
    return s


def warm_probe() -> Sketch:
    """A thermometer between two packs; the clock runs from the last cold reading."""
    s = Sketch("warm-probe", "How warm and how long", "A food thermometer is pressed between two packs, step 3. A time line: the last cold reading on paper starts the clock, step 4, and it runs until now.", 270)  # fmt: skip
    s.box(40, 40, 66, 104, 4, 0.2).box(118, 40, 66, 104, 4, 0.2)
    s.box(30, 144, 168, 8, 1, 0.5, THIN)
    s.line([(112, 132), (112, 28)], 4)
    s.box(98, 6, 28, 28, 14, 0.04).line([(112, 20), (119, 13)], 2)
    s.text(73, 98, "pack").text(151, 98, "pack")
    s.line([(40, 220), (320, 220)], 2.4, arrow="end")
    for x in (70, 290):
        s.line([(x, 210), (x, 230)], 2.4)
    clock(s, 70, 186, 16, 30)
    clock(s, 290, 186, 16, 210)
    s.text(70, 250, "last cold reading").text(290, 250, "now").text(180, 212, "this long")
    thermometer(s, 252, 44, 90, 0.6)
    s.line([(266, 86), (284, 86)], 2).text(290, 91, "limit", anchor="start")
    s.call(3, 216, 28, (116, 60)).call(4, 22, 190, (58, 200))
    return s


def check_points() -> Sketch:
    """Where the safety test looks."""
    s = Sketch("check-points", "Points of the check", "A cabinet from the front and from the side with the points of the check: its stand, step 3; the gap behind, step 4; cord and outlet, step 6; the test button, step 7; door and lock, step 15; the labels, step 17.", 300)  # fmt: skip
    floor(s, 250)
    cabinet_front(s, 56, 40, 116, 210)
    s.box(146, 176, 22, 16, 1, 0.02, 1.2).line([(149, 184), (165, 184)], 1)
    s.disc(154, 158, 4, 0.7, 1)
    cabinet_side(s, 224, 40, 78, 210, door=0.14)
    s.box(336, 30, 8, 220, 0, 0.3, THIN)
    s.line([(304, 66), (335, 66)], THIN, arrow="both")
    s.limb([(302, 206), (316, 206), (322, 170), (330, 164)], 4, 0.6)
    s.box(330, 150, 8, 26, 1, 0.6, THIN)
    s.box(312, 184, 10, 14, 2, 0.8, 1)
    s.call(3, 114, 280, (72, 250), (156, 250)).call(4, 318, 24, (318, 64)).call(6, 344, 206, (325, 172))
    s.call(7, 272, 226, (316, 192)).call(15, 30, 120, (152, 156)).call(17, 196, 152, (164, 180))
    return s


def fault_tree() -> Sketch:
    """How to use a tree."""
    s = Sketch("fault-tree", "How to use a fault tree", "Pick one tree, step 4. Answer one question at a time, step 5. Yes leads down to the next question. A tree ends in a tick, your fix, step 6, or in a raised hand, stop and call, step 9.", 300)  # fmt: skip
    s.box(118, 14, 124, 34, 5, 0.2).text(180, 36, "what you see", bold=True)
    s.line([(180, 48), (180, 74)], 2, arrow="end")
    s.shape([(180, 76), (250, 112), (180, 148), (110, 112)], 0.05).text(180, 117, "question")
    s.line([(110, 112), (64, 112), (64, 196)], 2, arrow="end").line([(250, 112), (296, 112), (296, 190)], 2, arrow="end")
    s.text(86, 104, "no").text(276, 104, "yes")
    s.box(34, 200, 60, 56, 5, 0.04).good(64, 228).text(64, 278, "your fix")
    hand(s, 296, 232, 0, 0.9)
    s.text(296, 290, "stop and call", bold=True)
    s.call(4, 276, 28, (242, 31)).call(5, 180, 178, (180, 146)).call(6, 130, 228, (94, 228)).call(9, 240, 228, (280, 228))
    return s


ALL = (visit_round, clean_order, warm_probe, check_points, fault_tree)
