"""Coils, two-motor lanes, risers and pushers."""

from __future__ import annotations

import math

from shapely import box

from ..parts import bag, bottle, case, coil, padlock, sheet, tilted, van
from ..sketch import THIN, Sketch


def coil_end() -> Sketch:
    """The coil's back end in its holder; the hour of the front end for left, right and pair."""
    s = Sketch("coil-end", "A coil in its place", "From the side: the back end of the coil sits in its holder at the motor, step 11. From the front, each coil is read like a clock, step 12: here a left-wound coil, a right-wound coil and both coils of a pair end at twelve. Arrows show which way each turns to sell. The coil stays clear of its neighbor all the way round, step 14.", 334)  # fmt: skip
    s.text(180, 22, "From the side", bold=True, size=14)
    s.box(20, 46, 40, 62, 3, 0.3).text(40, 126, "motor")
    s.box(58, 68, 20, 18, 2, 0.6, 1.6)
    coil(s, 78, 77, 216, 56, 6)
    s.box(62, 108, 262, 6, 1, 0.5, THIN).box(318, 96, 6, 12, 1, 0.5, THIN)
    s.text(336, 126, "front", anchor="end").call(11, 96, 36, (70, 70))
    s.text(180, 158, "From the front, like a clock", bold=True, size=14)
    for x, way in ((50, -1), (142, 1), (232, -1), (314, 1)):
        _face(s, x, 228, way)
    s.box(10, 280, 340, 5, 1, 0.5, THIN).box(185, 190, 5, 90, 1, 0.3, THIN)
    s.text(50, 304, "left-wound").text(142, 304, "right-wound").text(273, 304, "a pair")
    s.text(180, 326, "arrow: the way that sells")
    s.call(12, 96, 186, (54, 196), (138, 196)).call(12, 273, 186, (236, 196), (310, 196)).call(14, 187, 262, (180, 228))
    return s


def _face(s: Sketch, x: float, y: float, way: int, hour: int = 12) -> None:
    """A coil from the front as a clock, its end at an hour; ``way`` is 1 where the wire goes back clockwise: right-wound."""
    r, at = 32, 30 * hour - 90
    s.arc(x, y, r, at, at + way * 325, 2.6)
    s.arc(x, y, r + 8, 90 - way * 32, 90 + way * 32, 1.6, arrow="end")
    for named in (12, 3, 6, 9):
        a = math.radians(30 * named - 90)
        s.text(x + 20 * math.cos(a), y + 20 * math.sin(a) + 4.6, str(named), bold=named == hour)
    a = math.radians(at)
    s.disc(x + r * math.cos(a), y + r * math.sin(a), 4.4, 0.9, 1)


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
    """The same packs too low and lifted; a pusher on the end."""
    s = Sketch("riser-pusher", "A riser and a pusher", "From the side, front to the right. Left: short packs lie too low, the wire meets them near the top and they lean. Middle: a riser under the same packs lifts them, so that the coil pushes a little below their middle, step 7. Right: a pusher on the front end of the coil shoves a thin pack off the edge, step 11.", 236)  # fmt: skip
    for x, lift in ((10, 0), (130, 22)):
        for i in range(3):
            left, foot = x + 10 + 33 * i, 152 - lift
            pack = box(left, foot - 40, left + 15, foot)
            s.shape(pack if lift else tilted(pack, -22, (left, foot)), 0.25, 1.6)
        coil(s, x, 118, 100, 60, 3, 2.2)
        s.box(x, 152, 104, 6, 1, 0.5, THIN)
    s.box(132, 131, 98, 20, 1, 0.55, 1.4)
    s.line([(4, 118), (236, 118)], 1, "4 4").text(120, 76, "middle of the coil").line([(120, 82), (120, 114)], 1)
    s.wrong(60, 184).good(180, 184).good(302, 184)
    coil(s, 252, 118, 66, 60, 2, 2.2)
    s.box(316, 92, 7, 50, 1, 0.7, 1.6)
    s.shape(tilted(box(328, 86, 334, 142), 12, (331, 142)), 0.25, 1.6)
    s.box(250, 152, 80, 6, 1, 0.5, THIN)
    s.text(60, 220, "too low").text(180, 220, "riser").text(302, 220, "pusher")
    s.line([(250, 52), (340, 52)], 2, arrow="end").text(294, 42, "front")
    s.call(7, 206, 46, (206, 140)).call(11, 282, 78, (319, 98))
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
