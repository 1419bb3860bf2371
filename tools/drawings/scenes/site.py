"""Survey, terms, van, handover."""

from __future__ import annotations

from shapely import box

from ..parts import (
    cabinet_front,
    cabinet_side,
    case,
    fan,
    floor,
    panel,
    person,
    phone,
    plug,
    tilted,
    van,
)
from ..sketch import THIN, Sketch


def survey_sketch() -> Sketch:
    """A plan as a surveyor would draw it."""
    s = Sketch("survey-sketch", "The sketch of a survey", "A floor plan: the way in from the truck through a door and around a corner with each width written, step 4; the spot with its size and free floor, step 8; the outlet, step 13; the cord's way from the cabinet to it, step 14; the exit and the electrical panel, step 11.", 340)  # fmt: skip
    for wall in (box(20, 40, 340, 50), box(330, 40, 340, 300), box(20, 290, 250, 300), box(300, 290, 340, 300),
                 box(20, 40, 30, 150), box(20, 206, 30, 300), box(30, 200, 176, 206), box(170, 110, 176, 200)):  # fmt: skip
        s.shape(wall, 0.06, THIN).hatch(wall, 5)
    s.line([(30, 206), (-10 + 40, 158)], 1)
    s.text(46, 26, "truck", anchor="start")
    s.line([(2, 178), (110, 178), (110, 96), (206, 80), (268, 118)], 2, "7 5", "end")
    s.line([(42, 154), (42, 198)], THIN, arrow="both").line([(178, 104), (178, 54)], THIN, arrow="both")
    s.box(252, 54, 60, 48, 2, 0.2).text(282, 83, "spot")
    s.box(250, 104, 64, 44, 1, 0.05, 1.6, dash="3 4").text(282, 130, "free")
    s.disc(206, 56, 6, 0.7, 1.4).line([(252, 60), (214, 57)], 2.4, "4 3")
    s.box(318, 196, 12, 44, 1, 0.5, THIN)
    s.text(312, 222, "panel", anchor="end").text(275, 322, "EXIT", bold=True)
    s.line([(275, 266), (275, 306)], 2, arrow="end")
    s.call(4, 70, 130, (46, 170)).call(4, 150, 66, (172, 80)).call(8, 224, 134, (254, 122))
    s.call(13, 178, 26, (204, 52)).call(14, 238, 24, (234, 56)).call(11, 236, 252, (270, 280), (316, 232))
    return s


def survey_photos() -> Sketch:
    """Five photos worth having."""
    s = Sketch("survey-photos", "Photos to bring home", "Five small pictures: the way in, the spot, the outlet, the label of the panel, and a tight place with the tape measure in the picture. All belong to step 22.", 250)  # fmt: skip
    frames = ((14, "way in"), (130, "spot"), (246, "outlet"))
    for x, words in frames:
        s.box(x, 14, 100, 78, 2, 0.02).text(x + 50, 110, words)
    s.line([(14, 92), (50, 54), (78, 54), (114, 92)], THIN).box(52, 34, 24, 20, 1, 0.15, THIN)
    s.line([(136, 84), (224, 84)], THIN).box(158, 30, 44, 54, 1, 0, 1.6, dash="4 4")
    s.box(280, 32, 32, 44, 3, 0.08, THIN).line([(290, 46), (290, 54)], 3).line([(302, 46), (302, 54)], 3).disc(296, 64, 3, 0.8, 1)
    s.box(72, 132, 100, 78, 2, 0.02).box(188, 132, 100, 78, 2, 0.02)
    panel(s, 84, 140, 40, 62)
    s.line([(134, 154), (160, 154)], 1.4).line([(134, 168), (160, 168)], 1.4).line([(134, 182), (160, 182)], 1.4)
    s.box(188, 132, 24, 78, 1, 0.3, THIN).box(264, 132, 24, 78, 1, 0.3, THIN)
    s.box(212, 164, 52, 10, 0, 0.05, 1.4)
    for x in range(218, 262, 8):
        s.line([(x, 164), (x, 169)], 1)
    s.text(122, 230, "panel label").text(238, 230, "tight place")
    phone(s, 312, 150, 60)
    s.call(22, 340, 134)
    return s


def who_calls_whom() -> Sketch:
    """Lines between site, office, crew and trades."""
    s = Sketch("who-calls-whom", "Who calls whom", "The site holds no key or one agreed key, step 6. For a fault the site calls the office, step 7, which sends the crew or a licensed trade. For fire, leaks or hurt people the site calls the emergency number first, step 8.", 300)  # fmt: skip
    for x, y, words in ((20, 120, "site"), (140, 120, "office"), (258, 60, "crew"), (258, 180, "trades")):
        s.box(x, y, 84, 50, 5, 0.08).text(x + 42, y + 30, words, bold=True)
    s.box(20, 24, 84, 50, 5, 0.3).text(62, 54, "emergency", bold=True)
    s.line([(104, 145), (138, 145)], 2, arrow="end").line([(62, 120), (62, 76)], 3, arrow="end")
    s.line([(224, 138), (256, 96)], 2, arrow="end").line([(224, 152), (256, 196)], 2, arrow="end")
    phone(s, 154, 186, 50)
    s.text(62, 196, "keys: who,").text(62, 212, "which, since")
    s.call(6, 62, 236, (62, 218)).call(7, 121, 108, (121, 142)).call(8, 130, 50, (66, 96))
    s.text(180, 284, "fire, water, hurt person: 8 comes before 7")
    return s


def van_load() -> Sketch:
    """A van packed for a day of visits."""
    s = Sketch("van-load", "How the van is packed", "A van cut open from the side. Heavy cases stand low against the front wall, step 5, tied with a strap, step 8. Gear for the first site stands near the back door, step 6. Money is locked away low, step 9. The cold box comes in last, step 13.", 260)  # fmt: skip
    floor(s, 206)
    van(s, 16, 206, 330, 138)
    for x, y in ((190, 154), (190, 116), (142, 154), (142, 116)):
        case(s, x, y, 46, 38)
    s.box(196, 92, 36, 24, 2, 0.06, 1.8)
    s.line([(136, 192), (136, 108), (240, 84)], 4)
    s.box(26, 134, 12, 58, 1, 0.4).disc(36, 186, 6, 0.6, 1.6)
    s.box(46, 160, 52, 32, 3, 0.06).line([(46, 170), (98, 170)], 1.4)
    s.text(72, 186, "cold")
    s.box(106, 168, 24, 24, 2, 0.5).disc(118, 180, 3, 0.9, 1)
    s.call(5, 216, 40, (212, 130)).call(8, 150, 40, (150, 104)).call(6, 34, 100, (32, 136))
    s.call(9, 118, 234, (118, 188)).call(13, 78, 132, (74, 162))
    s.text(132, 239, "locked, out of sight", anchor="start")
    return s


def handover_tour() -> Sketch:
    """What the customer is shown."""
    s = Sketch("handover-tour", "What the customer is shown", "Front view: the label with the number to call, step 23; the plug and its breaker, step 24; the ground that stays free, step 25; and a sign that nobody rocks the cabinet, step 26. A customer stands beside it.", 300)  # fmt: skip
    floor(s, 250)
    cabinet_front(s, 112, 40, 112, 210)
    s.box(196, 152, 24, 16, 1, 0.02, 1.2).line([(199, 157), (217, 157)], 1).line([(199, 163), (212, 163)], 1)
    person(s, 298, 250, 156, -1, hand=(226, 160))
    s.limb([(108, 224), (92, 224), (78, 196), (64, 196)], 5, 0.5)
    s.box(30, 172, 32, 46, 3, 0.06)
    plug(s, 54, 196, -1, 0.45)
    s.hatch(box(100, 252, 236, 272), 7)
    s.box(122, 172, 44, 44, 3, 0.02, 1.6)
    s.shape(tilted(box(136, 180, 150, 208), 14, (143, 208)), 0.4, 1.4).wrong(144, 194)
    s.call(23, 258, 108, (210, 156)).call(24, 36, 142, (48, 174)).call(25, 262, 278, (222, 264)).call(26, 84, 110, (124, 186))
    return s


def air_guard() -> Sketch:
    """The guard behind a cabinet, indoors and outdoors."""
    s = Sketch("air-guard", "The air guard, indoors and outdoors", "Two cabinets from the side, each with its back to a wall. Indoors the guard stands open side up and sends the warm air up behind the cabinet. Outdoors it is turned over, open side down: the rain runs off it and the air goes out below. Both are step 15.", 300)  # fmt: skip
    floor(s, 250)
    for x, inside in ((66, True), (252, False)):
        s.box(x - 54, 34, 9, 216, 0, 0.3, THIN)
        cabinet_side(s, x, 64, 74, 186)
        fan(s, x + 18, 178, 13)
        if inside:
            s.line([(x, 200), (x - 22, 200), (x - 30, 176)], 4)
            s.line([(x + 4, 178), (x - 12, 176), (x - 22, 150), (x - 24, 66)], 2, "7 4", "end")
        else:
            s.line([(x, 156), (x - 22, 156), (x - 30, 180)], 4)
            s.line([(x + 4, 180), (x - 12, 184), (x - 20, 204), (x - 21, 240)], 2, "7 4", "end")
            for dx, y in ((-36, 92), (-22, 78), (-14, 106), (-30, 122)):
                s.line([(x + dx, y), (x + dx - 3, y + 14)], 1.4)
    s.text(82, 24, "indoors", bold=True, size=14).text(270, 24, "outdoors", bold=True, size=14)
    s.text(78, 280, "warm air up").text(262, 280, "rain runs off")
    s.call(15, 178, 184, (44, 200), (228, 166))
    return s


def spacers() -> Sketch:
    """The back of a cabinet from above: spacers to the wall, the cord out at the side."""
    s = Sketch("spacers", "Spacers and cord", "From above: two spacers sit in the back of the cabinet and touch the wall, so that the gap stays free, step 14. The cord comes out beside the cabinet on the outlet's side, step 16. A hand reaches the plug past the corner.", 250)  # fmt: skip
    wall = box(10, 20, 350, 36)
    s.shape(wall, 0.1, THIN).hatch(wall, 6)
    s.box(50, 76, 170, 124, 3, 0.14)
    s.text(135, 190, "front")
    for x in (80, 178):
        s.box(x, 36, 12, 44, 1, 0.7, 1.4)
    s.line([(135, 38), (135, 74)], 1.4, arrow="both").text(150, 60, "gap", anchor="start")
    s.box(284, 36, 34, 10, 1, 0.3, THIN)
    s.text(300, 14, "outlet")
    s.limb([(206, 74), (206, 62), (240, 56), (301, 72)], 6, 0.5)
    s.box(290, 46, 22, 26, 3, 0.35, 1.6)
    s.limb([(262, 168), (276, 122), (296, 86)], 13, 0.1)
    s.disc(297, 80, 8, 0.1, 1.6)
    s.text(296, 190, "a hand reaches", anchor="middle").text(296, 206, "the plug", anchor="middle")
    s.call(14, 40, 58, (82, 58)).call(16, 246, 104, (240, 59))
    return s


ALL = (air_guard, spacers, survey_sketch, survey_photos, who_calls_whom, van_load, handover_tour)
