"""Opening the packing, moving a cabinet, getting it off its base, moving it out."""

from __future__ import annotations

from shapely import Point, box

from ..parts import (
    cabinet_front,
    cabinet_side,
    floor,
    key,
    padlock,
    person,
    person_above,
    plug,
    puddle,
    ramp,
    tag,
    tilted,
)
from ..sketch import THIN, Sketch, rounded


def gear_under() -> Sketch:
    """Forks under both strong parts, heavy side at the handles, and where the crew stands."""
    s = Sketch("gear-under", "The gear under the cabinet", "From the front: the forks of the gear reach right through under both rails of the frame, step 6, from the heavy side. One strap lies above the middle, step 8, one low around cabinet and gear, step 9. The feet are a finger's width off the floor, step 10.", 276)  # fmt: skip
    floor(s, 230)
    s.box(96, 211, 152, 8, 1, 0.6, THIN).disc(116, 223, 6.5, 0.6, THIN).disc(252, 216, 13, 0.5, 1.8)
    for x in (84, 192):
        s.line([(x + 12, 206), (x + 12, 222)], 4)
    s.box(72, 20, 148, 186, 3, 0.1)
    s.box(84, 32, 88, 104, 2, 0.03, THIN).box(184, 52, 24, 54, 2, 0.2, THIN)
    s.box(154, 150, 60, 48, 2, 0.5, THIN)
    s.box(78, 206, 30, 5, 0, 0.85, 1).box(184, 206, 30, 5, 0, 0.85, 1)
    s.box(67, 74, 158, 8, 1, 0.8, 1).box(67, 138, 190, 7, 1, 0.8, 1)
    s.shape(box(244, 134, 257, 206), 0.4, 1.6)
    person(s, 326, 230, 144, -1, hand=(290, 118))
    s.limb([(254, 196), (292, 116)], 6, 0.5)
    s.text(112, 172, "heavy side").line([(82, 186), (148, 186)], 2, arrow="end")
    s.line([(40, 222), (40, 230)], 1.4).line([(30, 222), (92, 222)], 1, "3 3")
    s.call(6, 160, 252, (160, 218)).call(8, 30, 60, (70, 78)).call(9, 30, 128, (70, 141)).call(10, 24, 254, (40, 227))
    return s


def crew_places() -> Sketch:
    """Where the crew walks beside gear that lifts."""
    s = Sketch("crew-places", "Where the crew walks", "From above: the forks lie under the cabinet, the leader holds the handles, and one helper walks at each corner of that end, step 13. Nobody is along the long sides of the forks, or ahead.", 172)  # fmt: skip
    s.box(96, 50, 108, 72, 3, 0.12)
    for y in (60, 102):
        s.box(104, y, 124, 10, 2, 0.5, THIN)
    s.box(224, 60, 12, 52, 2, 0.6, THIN).limb([(236, 86), (270, 86)], 5, 0.5)
    for zone in (box(60, 14, 204, 48), box(60, 124, 204, 158), box(60, 52, 94, 120)):
        s.hatch(zone.difference(box(102, 22, 162, 41)).difference(box(102, 132, 162, 151)), 8)
    for x, y in ((290, 86), (252, 34), (252, 138)):
        person_above(s, x, y, -90)
    s.text(132, 36, "nobody").text(132, 146, "nobody")
    s.text(322, 91, "leader").text(300, 24, "helper").text(300, 156, "helper")
    s.line([(54, 86), (14, 86)], 1.8, arrow="end")
    s.call(13, 34, 62)
    return s


def tilt_hands() -> Sketch:
    """Gear that tilts: one at its drive, the balance, and wheels that hold it before that."""
    s = Sketch("tilt-hands", "Tilting with gear", "From the side: a cabinet strapped to gear with four wheels leans back toward one person at the handles, who works its drive, step 11. Its middle of mass is marked. The weight falls between the wheels, so the gear holds it by itself. Leaned so far that it falls past the wheels at the handles, it would come at the people. The greatest tilt stops before that.", 322)  # fmt: skip
    floor(s, 276)
    about, turn = (150, 254), -14
    s.line([(150, 254), (150, 40)], 1.2, "5 4")
    s.shape(tilted(rounded(157, 58, 82, 190, 3), turn, about), 0.14)
    s.shape(tilted(box(149, 42, 156, 254), turn, about), 0.5, 1.6).shape(tilted(box(149, 248, 236, 254), turn, about), 0.5, 1.6)
    s.shape(tilted(box(146, 104, 242, 112), turn, about), 0.8, 1).shape(tilted(box(146, 206, 242, 213), turn, about), 0.8, 1)
    s.box(142, 254, 104, 7, 1, 0.5, 1.6).box(218, 236, 7, 18, 1, 0.3, 1.4)
    s.disc(152, 268, 8, 0.7, 1.6).disc(236, 268, 8, 0.7, 1.6)
    middle = (178, 158)
    s.disc(*middle, 9, 0.02, 1.8).line([(169, 158), (187, 158)], 1.4).line([(178, 149), (178, 167)], 1.4)
    s.line([middle, (178, 274)], 1.6, arrow="end")
    person(s, 64, 276, 150, 1, hand=(100, 98))
    s.arc(150, 254, 204, -90, -104, 1.8, arrow="end")
    s.text(206, 30, "greatest tilt", anchor="start").line([(202, 27), (138, 50)], 1)
    s.text(262, 176, "weight falls", anchor="start").text(262, 192, "between the", anchor="start").text(262, 208, "wheels: held", anchor="start")
    s.line([(258, 192), (182, 224)], 1)
    s.text(150, 306, "past this wheel it comes at you").line([(150, 293), (151, 280)], 1)
    s.call(11, 28, 92, (96, 90))
    return s


def move_ramp() -> Sketch:
    """Up a ramp: hands on the high side's gear, nobody below."""
    s = Sketch("move-ramp", "A cabinet on a ramp", "From the side: the cabinet stands strapped on its gear on a ramp. People hold it from the uphill side, step 16. The ground below it is shaded: nobody stands there.", 250)  # fmt: skip
    s.shape(ramp(10, 350, 232, 62), 0.08)
    turn, foot = -10.3, (150, 206)
    s.shape(tilted(rounded(150, 72, 66, 126, 3), turn, foot), 0.14)
    s.shape(tilted(box(146, 198, 224, 205), turn, foot), 0.5, 1.4)
    for x in (158, 212):
        s.shape(tilted(Point(x, 206).buffer(5), turn, foot), 0.7, 1.4)
    s.shape(tilted(box(146, 112, 220, 120), turn, foot), 0.7, 1.2)
    # The frame of the gear, its handles uphill.
    s.shape(tilted(box(218, 96, 224, 205), turn, foot), 0.5, 1.4)
    person(s, 272, 184, 122, -1, hand=(212, 126), lean=6)
    s.hatch(box(14, 128, 126, 206), 9)
    s.hazard(70, 168)
    s.text(70, 122, "nobody below")
    s.line([(226, 50), (284, 40)], 1.8, arrow="end").text(250, 32, "up, straight")
    s.call(16, 312, 100, (226, 127))
    return s


def base_off() -> Sketch:
    """The base comes off with the whole cabinet on blocks and gear."""
    s = Sketch("base-off", "Taking off the shipping base", "The foot of a cabinet from the front. The gear has raised both sides under the frame, step 20. Solid blocks stand from floor to frame, step 21; the forks stay under it, just touching. The base hangs free, a gap above the floor. A wrench loosens its bolts from outside, step 23, and a hook draws its parts out, step 24. The straps stay on.", 300)  # fmt: skip
    floor(s, 246)
    s.box(92, 16, 176, 132, 3, 0.1)
    s.box(86, 52, 188, 9, 1, 0.8, 1)
    s.box(98, 148, 164, 12, 1, 0.35)
    for x in (66, 250):
        s.line([(x + 20, 156), (x + 20, 230)], 3).box(x, 204, 40, 22, 1, 0.15).box(x + 16, 226, 8, 6, 1, 0.9, 1)
    s.box(104, 160, 206, 10, 1, 0.6, THIN).disc(160, 238, 7, 0.6, THIN).shape([(152, 170), (168, 170), (165, 234), (155, 234)], 0.5, THIN)
    s.box(308, 116, 12, 100, 2, 0.5, THIN).disc(316, 229, 16, 0.5, 1.8).limb([(314, 120), (338, 34)], 7, 0.5)
    for x in (110, 212):
        s.box(x, 160, 30, 86, 1, 0.5).line([(x, 203), (x + 30, 203)], 1)
    s.line([(296, 226), (296, 246)], 1.2, arrow="both")
    s.limb([(88, 236), (16, 224)], 6, 0.3)
    s.line([(6, 194), (62, 194), (62, 206), (70, 206)], 2.6)
    s.text(180, 40, "straps stay on").text(300, 268, "free")
    s.call(20, 290, 110, (280, 162)).call(21, 124, 274, (124, 240)).call(23, 24, 262, (44, 231)).call(24, 26, 158, (30, 192))
    s.text(142, 279, "block", anchor="start")
    return s


def open_band() -> Sketch:
    """Cutting a steel band and the film."""
    s = Sketch("open-band", "Cutting bands and film", "A wrapped cabinet with two steel bands. The person stands to the side of the band, holds it down and cuts it, step 2. The film is cut over the corner board from top to bottom, step 3. The path in front of the band's ends is marked: keep your face out.", 300)  # fmt: skip
    floor(s, 276)
    s.box(130, 40, 130, 220, 2, 0.06)
    for y in range(60, 256, 22):
        s.line([(144, y), (246, y + 10)], 0.9)
    s.box(130, 40, 16, 220, 1, 0.3).box(244, 40, 16, 220, 1, 0.3)
    s.box(120, 260, 150, 14, 1, 0.2)
    s.box(126, 92, 138, 7, 1, 0.8, 1).box(126, 202, 138, 7, 1, 0.8, 1)
    person(s, 60, 276, 150, 1, hand=(128, 195))
    s.limb([(128, 195), (146, 206)], 5, 0.6)
    s.arc(252, 96, 62, -60, 40, 1.6, "5 4", arrow="both")
    s.hazard(326, 60, 30)
    s.text(322, 176, "the end").text(322, 192, "springs")
    s.line([(252, 118), (252, 236)], 1.8, arrow="end")
    s.call(2, 100, 146, (132, 203)).call(3, 306, 232, (252, 212))
    return s


def key_control() -> Sketch:
    """Numbered keys, a key book, a sealed spare."""
    s = Sketch("key-control", "Keeping track of keys", "A key with a tag that bears only a number, step 10. A key book with number and holder, step 11. A sealed spare at the office, step 12. A tag with an address is crossed out.", 300)  # fmt: skip
    key(s, 30, 62, 1.5)
    tag(s, 96, 20, 76, ["17"])
    s.line([(44, 54), (134, 29)], 1.2)
    s.good(196, 50)
    key(s, 226, 62, 1.1)
    tag(s, 272, 14, 78, ["Hill St", "pier"])
    s.line([(236, 56), (311, 23)], 1.2)
    s.wrong(334, 92)
    s.box(24, 130, 190, 112, 3, 0.04).line([(24, 156), (214, 156)], 1.4).line([(84, 130), (84, 242)], 1.2)
    for y in (184, 212):
        s.line([(24, y), (214, y)], 0.9)
    s.text(54, 148, "key", bold=True).text(148, 148, "who has it", bold=True)
    s.text(54, 176, "17").text(148, 176, "lead").text(54, 204, "18").text(148, 204, "second")
    s.box(244, 146, 92, 86, 3, 0.1)
    padlock(s, 290, 186)
    s.text(290, 252, "office safe")
    s.call(10, 84, 104, (120, 62)).call(11, 120, 272, (120, 236)).call(12, 262, 274, (262, 228))
    return s


def move_out() -> Sketch:
    """A cabinet thawing, and one tied up and ready to leave."""
    s = Sketch("move-out", "Thawed, then ready to leave", "Left: the cabinet stands level and empty with no strap. A block holds its door open by a hand's width and a chain keeps it from opening further, step 8; a tray catches the water, step 10. Right: trays and door are tied, step 12, the cord is tied up off the floor, step 13, and the cabinet stands upright, step 18.", 292)  # fmt: skip
    floor(s, 236)
    cabinet_side(s, 36, 60, 74, 176)
    s.shape([(124, 64), (134, 64), (134, 226), (124, 226)], 0.1)
    s.box(108, 132, 17, 16, 1, 0.7, 1.4)
    s.line([(96, 116), (104, 122), (114, 116), (124, 122), (134, 116)], 2.4, "3 2")
    padlock(s, 96, 116, 0.6)
    s.box(44, 228, 60, 6, 1, 0.3, THIN)
    puddle(s, 74, 226, 40)
    s.line([(74, 196), (74, 214)], 1.6, "2 5").line([(62, 188), (62, 206)], 1.6, "2 5")
    cabinet_front(s, 218, 60, 104, 176)
    s.box(212, 100, 116, 8, 1, 0.7, 1).box(212, 176, 116, 8, 1, 0.7, 1)
    s.arc(344, 152, 10, 0, 320, 3).arc(344, 152, 5, 0, 300, 3)
    plug(s, 350, 190, 1, 0.4)
    s.line([(206, 236), (206, 66)], 1.2, "5 4", "end")
    s.text(76, 40, "ajar, no strap", bold=True, size=14).text(270, 40, "tie up", bold=True, size=14)
    s.call(8, 164, 96, (128, 119), (120, 138)).call(10, 150, 262, (92, 231)).call(12, 180, 130, (216, 104))
    s.call(13, 336, 118, (344, 140)).call(18, 180, 204, (206, 190))
    return s


def _level(s: Sketch, x: float, y: float, w: float) -> None:
    """A spirit level, lying."""
    s.box(x, y, w, 11, 2, 0.04, 1.8).box(x + w / 2 - 11, y + 2.5, 22, 6, 3, 0, THIN).disc(x + w / 2, y + 5.5, 2, 0.7, 1)


def level_body() -> Sketch:
    """Where the level lies, and what its bubble says."""
    s = Sketch("level-body", "Where to put the level", "Front view: the level lies low on the body from left to right, on the bar under the door, step 5. Side view: the level lies along the lower edge from front to back, step 11. A level held on the door is crossed out. Below, two vials: in the first the bubble sits at the left, so the left side is high, step 6; in the second it stands between the lines, and the body is level.", 370)  # fmt: skip
    s.text(104, 26, "Front", bold=True).text(262, 26, "Side", bold=True)
    floor(s, 218)
    for foot in (62, 146):
        s.line([(foot, 206), (foot, 218)], 4)
    s.box(54, 40, 100, 168, 3, 0.12).box(60, 46, 88, 122, 2, 0.03, THIN).line([(140, 98), (140, 122)], 2.4)
    _level(s, 74, 84, 60)
    s.wrong(104, 90).text(104, 126, "not on").text(104, 142, "the door")
    s.line([(54, 180), (154, 180)], 1.8)
    _level(s, 68, 169, 72)
    cabinet_side(s, 220, 40, 84, 178)
    s.line([(220, 198), (304, 198)], 1.8)
    _level(s, 228, 187, 60)
    s.text(208, 146, "rear", anchor="end").text(316, 146, "front", anchor="start")
    s.call(5, 24, 150, (68, 174)).call(11, 338, 190, (288, 192))
    for x, bubble in ((40, 68), (214, 276)):
        s.box(x, 252, 124, 34, 16, 0.12).line([(x + 42, 252), (x + 42, 286)], THIN).line([(x + 82, 252), (x + 82, 286)], THIN)
        s.box(bubble - 16, 259, 32, 20, 10, 0, 1.8)
    s.call(6, 24, 244, (60, 264))
    s.text(102, 310, "left side is high", bold=True).text(102, 328, "raise the right side")
    s.text(276, 310, "level", bold=True).text(276, 328, "between the lines").good(276, 350)
    return s


ALL = (level_body, gear_under, crew_places, tilt_hands, move_ramp, base_off, open_band, key_control, move_out)
