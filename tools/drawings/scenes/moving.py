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
    plug,
    puddle,
    ramp,
    tag,
    tilted,
)
from ..sketch import THIN, Sketch, rounded


def move_strap() -> Sketch:
    """A strapped cabinet on its gear, tilted within the card's range."""
    s = Sketch("move-strap", "A cabinet on its moving gear", "From the side: a strap runs around cabinet and gear above the middle, step 4. The cabinet leans back a little, no further than the machine card allows, step 7. Seen from above: one helper stands at each side, step 8, the leader alone behind, and nobody in front.", 400)  # fmt: skip
    floor(s, 236)
    about = (128, 230)
    s.shape(tilted(rounded(134, 66, 74, 158, 3), -14, about), 0.14)
    s.shape(tilted(box(126, 48, 133, 230), -14, about), 0.5, 1.6)
    s.shape(tilted(box(126, 223, 190, 230), -14, about), 0.5, 1.6)
    s.disc(134, 225, 10, 0.6)
    s.shape(tilted(box(124, 112, 210, 121), -14, about), 0.7, 1.2)
    s.text(158, 176, "heavy", clear=True).text(158, 192, "side low", clear=True)
    s.arc(128, 230, 184, -90, -106, 1.6, "5 4", arrow="end")
    s.line([(128, 220), (128, 58)], 1.2, "5 4")
    s.call(7, 60, 92, (104, 50)).text(52, 120, "card’s tilt")
    s.call(4, 262, 100, (180, 104)).text(278, 105, "strap", anchor="start")
    s.text(180, 268, "From above", bold=True, size=14)
    s.box(148, 300, 64, 58, 3, 0.16)
    s.box(148, 356, 64, 7, 1, 0.5, THIN)
    for x, turn in ((112, 90), (248, -90)):
        s.shape(tilted(rounded(x - 19, 321, 38, 17, 8), turn, (x, 330)), 0.1, 1.6).disc(x, 330, 7.5, 0.75, 1.6)
    s.hatch(box(148, 282, 212, 297), 7)
    s.shape(rounded(161, 372, 38, 17, 8), 0.1, 1.6).disc(180, 380, 7.5, 0.75, 1.6)
    s.text(226, 294, "nobody", anchor="start").text(226, 386, "leader", anchor="start")
    s.call(8, 60, 330, (96, 330)).good(300, 330)
    return s


def move_ramp() -> Sketch:
    """Up a ramp: hands on the high side's gear, nobody below."""
    s = Sketch("move-ramp", "A cabinet on a ramp", "From the side: the cabinet stands strapped on its gear on a ramp. People hold it from the uphill side, step 11. The ground below it is shaded: nobody stands there.", 250)  # fmt: skip
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
    s.call(11, 312, 100, (226, 127))
    return s


def base_off() -> Sketch:
    """Taking the shipping base off one side at a time."""
    s = Sketch("base-off", "Taking off the shipping base", "Front view of the foot of a cabinet. One side of the base is raised by a finger's width, step 15. A solid block stands under the frame, step 16. Only then is the bolt on that side loosened with a wrench from outside, step 17. The strap stays on.", 290)  # fmt: skip
    floor(s, 246)
    s.shape(tilted(rounded(78, 20, 204, 142, 3), -1.6, (78, 230)), 0.12)
    s.shape(tilted(box(74, 62, 286, 76), -1.6, (78, 230)), 0.7, 1.2)
    s.shape(tilted(box(84, 162, 276, 176), -1.6, (78, 230)), 0.3)
    for x in (70, 160, 250):
        s.shape(tilted(box(x, 182, x + 40, 224), -1.6, (78, 230)), 0.18, 1.8)
    s.shape(tilted(box(60, 224, 300, 236), -1.6, (78, 230)), 0.18, 1.8)
    s.shape(tilted(box(60, 176, 300, 184), -1.6, (78, 230)), 0.18, 1.8)
    s.shape(box(212, 172, 242, 246), 0.55)
    s.line([(212, 209), (242, 209)], 1)
    s.box(262, 150, 12, 40, 2, 0.8, 1.4)
    s.limb([(274, 164), (322, 152)], 8, 0.3)
    s.line([(326, 246), (326, 226)], 1.8, arrow="end")
    s.text(180, 48, "strap stays on")
    s.call(15, 340, 206, (326, 232)).call(16, 190, 272, (226, 240)).call(17, 332, 122, (276, 160))
    s.text(204, 277, "solid block", anchor="start")
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
    """A cabinet thawing, tied up and ready to leave."""
    s = Sketch("move-out", "Ready to leave", "Left: the cabinet is strapped, its door stands open by a hand's width to thaw, step 8, and a tray catches the water, step 10. Right: trays and door are tied, step 12, the cord is tied up off the floor, step 13, and the cabinet stands upright, step 17.", 292)  # fmt: skip
    floor(s, 236)
    cabinet_side(s, 36, 60, 74, 176)
    s.shape([(112, 64), (122, 61), (146, 224), (136, 228)], 0.1)
    s.box(30, 104, 84, 8, 1, 0.7, 1)
    puddle(s, 84, 232, 70)
    s.line([(114, 200), (114, 214)], 1.6, "2 5").line([(104, 190), (104, 206)], 1.6, "2 5")
    cabinet_front(s, 218, 60, 104, 176)
    s.box(212, 100, 116, 8, 1, 0.7, 1).box(212, 176, 116, 8, 1, 0.7, 1)
    s.arc(344, 152, 10, 0, 320, 3).arc(344, 152, 5, 0, 300, 3)
    plug(s, 350, 190, 1, 0.4)
    s.line([(206, 236), (206, 66)], 1.2, "5 4", "end")
    s.text(76, 40, "thaw", bold=True, size=14).text(270, 40, "tie up", bold=True, size=14)
    s.call(8, 164, 96, (128, 104)).call(10, 150, 262, (102, 234)).call(12, 180, 130, (216, 104))
    s.call(13, 336, 118, (344, 140)).call(17, 180, 204, (206, 190))
    return s


ALL = (move_strap, move_ramp, base_off, open_band, key_control, move_out)
