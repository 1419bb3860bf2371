"""Food in the depot, in the lanes and in a power cut; thermometers and papers."""

from __future__ import annotations

from shapely import Polygon

from ..parts import bag, case, floor, thermometer
from ..sketch import THIN, Sketch


def ice_check() -> Sketch:
    """A probe in a cup full of ice."""
    s = Sketch("ice-check", "A thermometer in ice water", "A cup is full of crushed ice down to its bottom, with water in the gaps, step 2. The probe stands in the middle and touches neither wall nor bottom, step 5. Its dial shows the temperature of melting ice, step 7.", 280)  # fmt: skip
    cup = Polygon([(112, 110), (248, 110), (230, 262), (130, 262)])
    s.shape(cup, 0.04)
    for row, y in enumerate((122, 146, 170, 194, 218, 242)):
        for x in range(126 + 4 * row, 224 - 3 * row, 24):
            s.shape([(x, y), (x + 13, y - 5), (x + 19, y + 8), (x + 6, y + 14)], 0.12, 1.2)
    s.box(176, 62, 8, 166, 3, 0.5, 1.6)
    s.disc(180, 46, 32, 0.04).line([(180, 46), (166, 28)], 2.4)
    s.line([(157, 23), (163, 29)], 2.4).disc(180, 46, 3, 0.9, 1)
    s.text(222, 24, "melting ice", anchor="start").line([(218, 20), (168, 24)], 1)
    s.call(2, 302, 250, (226, 246)).call(5, 302, 170, (184, 196)).call(7, 110, 46, (150, 46))
    return s


def food_store() -> Sketch:
    """From the dock into the store."""
    s = Sketch("food-store", "From the dock into the store", "A probe is pressed between two packs on the dock, step 2. Cold food goes into the cold store first, step 6. Cases stand on shelves off the floor and off the wall, step 7, with the earliest date in front, step 8. Doubtful goods lie apart on the hold shelf, step 10.", 300)  # fmt: skip
    floor(s, 268)
    case(s, 18, 214, 42, 46)
    case(s, 64, 214, 42, 46)
    s.box(12, 260, 100, 7, 1, 0.5, THIN)
    s.line([(62, 250), (62, 178)], 3.4).disc(62, 168, 11, 0.04, 1.8)
    s.box(134, 120, 76, 148, 0, 0.14).box(140, 126, 64, 136, 0, 0.03, THIN)
    thermometer(s, 172, 150, 78, 0.25)
    s.line([(112, 232), (132, 232)], 2, arrow="end")
    s.box(338, 40, 7, 228, 0, 0.4, THIN)
    for y in (116, 186, 250):
        s.box(232, y, 88, 5, 0, 0.5, THIN)
    s.line([(238, 255), (238, 268)], 3).line([(314, 255), (314, 268)], 3)
    for y in (150, 214):
        for x, tone in ((234, 0.05), (262, 0.2), (290, 0.35)):
            s.box(x, y, 26, 35, 0, tone, 1.6)
    s.text(247, 172, "1").text(275, 172, "2").text(303, 172, "3")
    s.box(246, 86, 34, 30, 0, 0.05, 1.6, dash="4 3").text(292, 106, "hold", bold=True, anchor="start")
    s.text(62, 288, "dock").text(172, 288, "cold store").text(276, 288, "shelves")
    s.call(2, 26, 148, (60, 188)).call(6, 172, 98, (172, 122)).call(7, 326, 286, (329, 262), (329, 232))
    s.call(8, 216, 146, (240, 158)).call(10, 232, 66, (254, 90))
    return s


def lane_count() -> Sketch:
    """Three lanes and a bin."""
    s = Sketch("lane-count", "What the lanes say", "Three lanes from above, each with ten places, their fronts to the right. The first sold most of its packs, step 1. The second is still nearly full: slow, step 2. What is left stands at the front. The third is empty, step 3. Beside them a bin bag with thrown-out packs, step 4.", 250)  # fmt: skip
    for y, left, words in ((34, 3, "sold well"), (98, 8, "slow"), (162, 0, "empty")):
        s.box(20, y, 216, 42, 0, 0.03, THIN)
        for i in range(10):
            kept = i >= 10 - left
            s.box(24 + 21 * i, y + 6, 17, 30, 0, 0.4 if kept else 0, 1.4 if kept else 1, dash="" if kept else "3 3")
        s.text(20, y - 7, words, anchor="start")
    s.shape([(296, 230), (284, 190), (296, 152), (288, 140), (342, 140), (334, 152), (346, 190), (334, 230)], 0.3)
    bag(s, 315, 216, 38, 0.05)
    s.text(315, 132, "waste")
    s.call(1, 258, 55, (226, 55)).call(2, 258, 119, (226, 119)).call(3, 258, 183, (226, 183)).call(4, 315, 98, (315, 120))
    s.line([(150, 226), (232, 226)], 2, arrow="end").text(140, 231, "front", anchor="end")
    return s


def cut_order() -> Sketch:
    """One list, and the order of the sites."""
    s = Sketch("cut-order", "The order of sites in a power cut", "One list stands at the office, step 2. Arrows lead to three cabinets. First where the power is back and cold food sells again, second where the power is still off, last where no food must stay cold, step 5. All doors stay shut until a keeper is there, step 7.", 300)  # fmt: skip
    _list(s, 146, 12, 68, 76)
    for x, words, below in ((60, "1", "power back"), (180, "2", "power off"), (300, "3", "no cold food")):
        s.line([(180, 92), (x, 128)], 2, arrow="end")
        s.box(x - 32, 136, 64, 112, 0, 0.12).box(x - 26, 142, 40, 84, 0, 0.03, THIN)
        s.disc(x - 48, 150, 12, 0.02, 1.8).text(x - 48, 154.6, words, bold=True)
        s.text(x, 272, below)
    thermometer(s, 52, 150, 50, 0.7)
    thermometer(s, 172, 150, 50, 0.5)
    floor(s, 248)
    s.text(240, 34, "office", anchor="start")
    s.call(2, 116, 42, (150, 42)).call(5, 60, 104, (76, 122)).call(7, 236, 196, (208, 200))
    return s


def inspector_folder() -> Sketch:
    """Calendar, copies and report."""
    s = Sketch("inspector-folder", "Papers for the inspector", "A calendar with end dates marked, step 2. Copies of the papers in the van and at the depot, step 3. The inspector's report with a line for the name, step 10.", 250)  # fmt: skip
    s.box(16, 30, 98, 92, 0, 0.02).box(16, 30, 98, 20, 0, 0.5, 1.6)
    for row in range(1, 4):
        s.line([(16, 50 + 18 * row), (114, 50 + 18 * row)], 1)
    for column in range(1, 5):
        s.line([(16 + 19.6 * column, 50), (16 + 19.6 * column, 122)], 1)
    s.box(75, 50, 19.6, 18, 0, 0.7, 1).box(35.6, 86, 19.6, 18, 0, 0.7, 1)
    for x, words in ((148, "van"), (270, "depot")):
        _list(s, x, 30, 64, 80)
        s.text(x + 32, 130, words)
    s.line([(118, 70), (142, 70)], 2, arrow="end").line([(218, 96), (264, 96)], 2, arrow="end")
    s.box(86, 156, 176, 76, 0, 0.02)
    for y in (174, 190):
        s.line([(98, y), (250, y)], 1.2)
    s.line([(98, 218), (206, 218)], 2).text(100, 213, "received:", anchor="start")
    s.call(2, 64, 146, (84, 66)).call(3, 241, 46, (208, 50), (272, 50)).call(10, 312, 196, (206, 216))
    return s


def _list(s: Sketch, x: float, y: float, w: float, h: float) -> None:
    """A list on paper."""
    s.box(x, y, w, h, 0, 0.02, 1.8)
    for i in range(1, 5):
        s.line([(x + w * 0.15, y + h * i / 5), (x + w * 0.85, y + h * i / 5)], 1.2)


ALL = (ice_check, food_store, lane_count, cut_order, inspector_folder)
