"""Coils, two-motor lanes, risers and pushers."""

from __future__ import annotations

import math

from shapely import box

from ..parts import bag, bottle, case, coil, padlock, sheet, van
from ..sketch import THIN, Sketch


def coil_end() -> Sketch:
    """The coil's back end in its holder; its front end as the card shows."""
    s = Sketch("coil-end", "A coil in its place", "From the side: the back end of the coil sits in its holder at the motor, step 11. From the front: the coil's end points where the machine card shows, step 12, and the coil stays clear of its neighbor all the way round, step 14.", 330)  # fmt: skip
    s.text(180, 24, "From the side", bold=True, size=14)
    s.box(20, 52, 40, 66, 3, 0.3).text(40, 136, "motor")
    s.box(58, 76, 20, 18, 2, 0.6, 1.6)
    coil(s, 78, 85, 216, 62, 6)
    s.box(62, 118, 262, 7, 1, 0.5, THIN).box(318, 104, 7, 14, 1, 0.5, THIN)
    s.line([(294, 54), (294, 38)], 2.6)
    s.text(180, 176, "From the front", bold=True, size=14)
    for x in (112, 248):
        s.arc(x, 238, 44, -60, 270, 2.6)
        s.disc(x, 238, 5, 0.6, 1.4)
    s.line([(112, 194), (112, 182)], 2.6).line([(248, 194), (248, 182)], 2.6)
    s.box(56, 284, 248, 6, 1, 0.5, THIN).box(177, 206, 6, 78, 1, 0.3, THIN)
    for turn in range(0, 360, 30):
        a = math.radians(turn)
        s.line([(112 + 54 * math.cos(a), 238 + 54 * math.sin(a)), (112 + 57 * math.cos(a), 238 + 57 * math.sin(a))], 1.2)
    s.text(180, 316, "the card says where the end points")
    s.call(11, 96, 40, (70, 78)).call(12, 40, 196, (110, 188)).call(12, 330, 60, (296, 44)).call(14, 180, 196, (168, 222))
    return s


def two_motor() -> Sketch:
    """Two mirrored coils, linked, under one broad pack."""
    s = Sketch("two-motor", "A lane with two motors", "From above: two motors side by side are linked, step 13. A left-hand coil, step 9, and a right-hand coil, step 10, mirror each other and their ends stand level, step 11. One broad pack lies across both.", 320)  # fmt: skip
    for x in (112, 248):
        s.box(x - 26, 24, 52, 40, 3, 0.3).text(x, 49, "motor")
    s.limb([(138, 44), (222, 44)], 8, 0.6)
    for x, way in ((112, 1), (248, -1)):
        points = [(x + way * 38 * math.sin(2 * math.pi * i / 24), 64 + 190 * i / 144) for i in range(145)]
        s.line(points, 2.6)
    s.box(58, 58, 5, 216, 1, 0.4, THIN).box(297, 58, 5, 216, 1, 0.4, THIN)
    s.box(78, 176, 204, 30, 6, 0.12).text(180, 196, "one broad pack")
    s.line([(70, 258), (290, 258)], THIN, "5 4")
    s.line([(180, 276), (180, 304)], 2, arrow="end").text(194, 304, "front", anchor="start")
    s.call(13, 180, 18, (180, 44)).call(9, 26, 120, (76, 120)).call(10, 334, 120, (284, 120)).call(11, 330, 282, (284, 258))
    return s


def riser_pusher() -> Sketch:
    """Too low and lifted; a pusher on the end."""
    s = Sketch("riser-pusher", "A riser and a pusher", "Left: packs lie too low in the coil and fall back. Middle: a riser under the packs lifts them so that the coil pushes near their middle, step 7. Right: a pusher on the front end of the coil shoves a thin pack off, step 11.", 250)  # fmt: skip
    for x, lift in ((12, 0), (130, 16)):
        coil(s, x, 120, 96, 56, 3, 2)
        for i in range(2):
            px = x + 34 + 32 * i
            if lift:
                s.box(px - 8, 84, 16, 60, 2, 0.3, 1.6)
            else:
                s.shape([(px - 18, 148), (px - 4, 108), (px + 8, 112), (px - 6, 152)], 0.3, 1.6)
        s.box(x, 154, 96, 6, 1, 0.5, THIN)
    s.box(134, 144, 88, 9, 1, 0.7, 1.4)
    s.wrong(60, 196).good(178, 196)
    s.text(60, 228, "too low").text(178, 228, "riser")
    coil(s, 250, 120, 70, 56, 2, 2)
    s.box(320, 92, 6, 56, 1, 0.7, 1.6)
    s.box(332, 84, 7, 70, 1, 0.2, 1.6)
    s.box(250, 154, 84, 6, 1, 0.5, THIN)
    s.line([(300, 184), (344, 184)], 2, arrow="end")
    s.text(300, 228, "pusher")
    s.call(7, 178, 44, (160, 147)).call(11, 296, 52, (322, 98))
    return s


def recall_path() -> Sketch:
    """From the notice to every place, to one locked place."""
    s = Sketch("recall-path", "The way of a recall", "The notice names product and lot, step 2. It goes to every place that may hold the lot: cabinet, van and store, step 3. All packs come to one locked place, step 11, and one count is reported, step 12.", 320)  # fmt: skip
    sheet(s, 150, 14, 60, 70, 4)
    for x in (60, 180, 300):
        s.line([(180, 90), (x, 128)], 2, arrow="end")
    s.box(34, 132, 52, 66, 3, 0.12).box(40, 138, 30, 42, 1, 0.03, THIN)
    van(s, 138, 200, 92, 56)
    for y in (148, 172, 196):
        s.line([(268, y), (332, y)], 3)
    for x, y in ((276, 148), (302, 172), (274, 196)):
        case(s, x, y - 20, 24, 20)
    bottle(s, 60, 180, 34, 0.6)
    for x in (60, 180, 300):
        s.line([(x, 208), (180 + (x - 180) * 0.2, 240)], 2, arrow="end")
    s.box(138, 244, 84, 52, 3, 0.1)
    bag(s, 158, 290, 36, 0.5)
    padlock(s, 198, 268)
    s.shape(box(264, 252, 330, 290), 0.02, 1.6).text(297, 276, "= count", bold=True)
    s.line([(224, 270), (262, 270)], 2, arrow="end")
    s.text(60, 222, "cabinet").text(330, 222, "store")
    s.call(2, 116, 40, (152, 46)).call(3, 20, 110, (60, 126)).call(11, 108, 286, (140, 276)).call(12, 340, 304, (322, 284))
    return s


ALL = (coil_end, two_motor, riser_pusher, recall_path)
