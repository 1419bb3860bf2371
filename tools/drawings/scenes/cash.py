"""Coin unit, note unit, card reader, prices, collecting and counting, refunds."""

from __future__ import annotations

from itertools import pairwise

from shapely import box

from ..parts import bag, bill, cabinet_side, coin, hand, person, phone, sack, sheet, tilted, tube
from ..sketch import THIN, Sketch


def coin_path() -> Sketch:
    """From slot to tube, coin box or return; the gate over the place where jams sit."""
    s = Sketch("coin-path", "The way of a coin", "A coin goes in at the slot, step 1, and rolls down past the check. Over that runway is a gate that opens; a bent coin sits there, with a hazard mark. Accepted, the coin falls into its tube, step 7; when the tube is full, into the coin box. Refused, it goes to the return cup, step 12.", 352)  # fmt: skip
    s.box(20, 16, 66, 48, 3, 0.1).box(36, 22, 8, 26, 1, 0.9, 1)
    coin(s, 64, 35, 11)
    s.line([(40, 50), (40, 92), (98, 104)], 2, arrow="end")
    s.box(98, 80, 172, 92, 3, 0.1).line([(106, 112), (252, 148)], 3)
    s.shape(tilted(box(264, 71, 380, 80), -38, (266, 76)), 0.4).disc(268, 76, 5, 0.9, 1)
    s.arc(268, 76, 56, 186, 312, 1.6, "5 4", arrow="end").text(336, 48, "gate", bold=True)
    coin(s, 132, 105, 10)
    s.shape(tilted(box(176, 102, 202, 122), 34, (189, 112)), 0.75, 1.6)
    s.hazard(240, 112, 26).text(216, 100, "jam", anchor="middle").text(150, 162, "check", bold=True)
    for i, filled in enumerate((0.85, 0.55, 0.7)):
        tube(s, 118 + 44 * i, 206, 36, 104, filled)
    for x in (136, 180, 224):
        s.line([(180, 172), (x, 204)], 2, arrow="end")
    s.box(284, 246, 66, 64, 3, 0.3).text(317, 284, "coin box")
    s.line([(250, 172), (317, 200), (317, 244)], 2, arrow="end").text(318, 190, "tube full")
    s.box(14, 262, 66, 48, 3, 0.06).arc(47, 282, 22, 20, 160, 2).text(47, 256, "return", clear=True)
    s.line([(118, 172), (47, 200), (47, 240)], 2, arrow="end").text(44, 190, "refused")
    s.text(180, 328, "tubes: change")
    s.call(1, 122, 34, (40, 34)).call(7, 254, 334, (224, 300)).call(12, 47, 336, (47, 302))
    return s


def note_path() -> Sketch:
    """From mouth to box, with the path open."""
    s = Sketch("note-path", "The way of a bill", "A bill goes in at the mouth, step 7, between belts and past sensors, step 8, up to the box, where a plate pushes it onto the stack, step 9. The lower half of the path swings open on a hinge, step 4. A stuck bill is drawn out the way it went in, step 6.", 330)  # fmt: skip
    s.box(150, 18, 96, 128, 4, 0.16).text(198, 36, "box", bold=True)
    s.line([(158, 92), (164, 80), (170, 104), (176, 80), (182, 104), (188, 92)], 1.8)
    for i in range(6):
        s.line([(194 + 7 * i, 48), (194 + 7 * i, 136)], 1.8)
    s.box(272, 56, 8, 72, 1, 0.6, THIN).line([(312, 92), (284, 92)], 3, arrow="end")
    s.line([(150, 207), (238, 207), (258, 190), (258, 48)], 3, "8 5", "end")
    s.box(112, 158, 130, 42, 3, 0.1).box(274, 158, 28, 50, 3, 0.1)
    s.limb([(140, 190), (206, 190)], 15, 0.02).disc(140, 190, 5, 0.6, 1).disc(206, 190, 5, 0.6, 1)
    s.box(222, 190, 8, 8, 1, 0.9, 1).box(120, 190, 8, 8, 1, 0.9, 1)
    s.shape([(84, 190), (112, 198), (112, 158), (84, 166)], 0.3)
    turn, hinge = -20, (290, 214)
    s.shape(tilted(box(112, 212, 296, 244), turn, hinge), 0.14)
    s.shape(tilted(box(134, 214, 212, 229).buffer(0.1), turn, hinge), 0.02, 1.8)
    s.disc(*hinge, 6, 0.9, 1)
    s.arc(290, 214, 192, 178, 163, 1.6, "5 4", arrow="end")
    s.line([(166, 210), (140, 204), (124, 212), (108, 203), (92, 211), (66, 205)], 3.4)
    s.line([(58, 207), (18, 207)], 3, arrow="end")
    s.call(7, 60, 150, (96, 170)).call(8, 112, 122, (140, 184)).call(9, 118, 60, (160, 60))
    s.call(4, 330, 246, (290, 214)).call(6, 36, 240, (72, 207))
    s.text(316, 150, "plate", anchor="middle").line([(312, 136), (280, 120)], 1.2)
    s.text(252, 300, "path, open")
    return s


def _state(s: Sketch, x: float, y: float, w: float, name: str, told: tuple[bool, bool], tone: float = 0.06) -> None:
    """A way to put a coin in, and whether it becomes sale money and a coin of the tube's count."""
    s.box(x, y, w, 84, 5, tone).text(x + 12, y + 22, name, bold=True, anchor="start", size=15)
    for line, (words, yes) in enumerate(zip(("cash in", "tube count"), told, strict=True)):
        s.text(x + 12, y + 48 + 24 * line, words, anchor="start")
        (s.good if yes else s.wrong)(x + w - 20, y + 43 + 24 * line)


def filling_mode() -> Sketch:
    """Normal, filling, normal; and what is never counted."""
    s = Sketch("filling-mode", "What is counted when", "Three states in a row. Normal: a coin counts as cash in and in the tube count. Filling, begun at step 6: a coin counts in the tube count only. Normal again, from step 9. Beside them: a coin laid into the tube by hand is counted in neither.", 318)  # fmt: skip
    _state(s, 14, 10, 186, "normal", (True, True))
    _state(s, 14, 116, 186, "filling", (False, True), 0.26)
    _state(s, 14, 222, 186, "normal", (True, True))
    s.line([(107, 94), (107, 115)], 2.4, arrow="end").line([(107, 200), (107, 221)], 2.4, arrow="end")
    _state(s, 222, 116, 126, "by hand", (False, False))
    tube(s, 266, 40, 38, 70, 0.4)
    coin(s, 285, 32, 12)
    hand(s, 318, 26, -70, 0.62)
    s.call(6, 222, 92, (112, 104)).call(9, 222, 218, (112, 210))
    return s


def cashless_path() -> Sketch:
    """Card, reader, account and back; nothing on paper."""
    s = Sketch("cashless-path", "The way of a card sale", "A card is held to the reader, steps 13 and 9. The sale goes to the account, step 14. A refund goes back the same way, step 16. A paper with a card number is crossed out, step 17.", 270)  # fmt: skip
    s.box(20, 62, 76, 50, 5, 0.12).box(20, 74, 76, 10, 0, 0.6, 0)
    s.box(148, 46, 62, 84, 6, 0.2).box(156, 56, 46, 26, 2, 0.02, THIN)
    for r in (6, 12, 18):
        s.arc(170, 106, r, -40, 40, 1.8)
    s.box(268, 46, 78, 84, 4, 0.05).text(307, 68, "account", bold=True)
    for y in (84, 98, 112):
        s.line([(280, y), (334, y)], 1.2)
    s.line([(100, 78), (144, 78)], 2, arrow="end").line([(214, 78), (264, 78)], 2, arrow="end")
    s.line([(264, 108), (214, 108)], 2, "6 4", "end").line([(144, 108), (100, 108)], 2, "6 4", "end")
    sheet(s, 132, 166, 88, 84, 3)
    s.wrong(176, 208).text(238, 202, "no card number", anchor="start").text(238, 218, "on paper", anchor="start")
    s.call(13, 58, 30, (58, 62)).call(9, 178, 20, (178, 48)).call(14, 307, 20, (307, 48))
    s.call(16, 239, 140, (239, 110)).call(17, 96, 208, (134, 208))
    return s


def price_match() -> Sketch:
    """Label, display and what is paid agree."""
    s = Sketch("price-match", "Three prices that must agree", "A pack in its lane with its price label below, step 5; the display of the cabinet with the same price, step 4; and the money paid, step 11. Equal signs stand between the three.", 250)  # fmt: skip
    s.box(14, 40, 96, 130, 3, 0.04)
    for x in (38, 62, 86):
        bag(s, x, 132, 52, 0.1)
    s.box(14, 132, 96, 8, 1, 0.5, THIN)
    s.box(30, 144, 64, 22, 2, 0.02, 1.6).text(62, 160, "1.50", bold=True, size=15)
    s.box(146, 76, 84, 46, 4, 0.75).box(154, 84, 68, 30, 2, 0.02, 0)
    s.text(188, 105, "1.50", bold=True, size=16)
    for x, words in ((282, "1"), (318, "25"), (300, "25")):
        coin(s, x, 84 if words == "1" or x == 318 else 116, 15, words)
    for x in (128, 248):
        s.line([(x - 8, 96), (x + 8, 96)], 3).line([(x - 8, 104), (x + 8, 104)], 3)
    s.text(76, 190, "label", anchor="start").text(188, 150, "display").text(300, 156, "paid")
    s.good(188, 190)
    s.call(5, 62, 224, (62, 166)).call(4, 188, 44, (188, 78)).call(11, 300, 44, (284, 72))
    return s


def money_flow() -> Sketch:
    """Money one way, the readings another."""
    s = Sketch("money-flow", "The way of the money", "Money goes from the cabinet into a sealed bag, step 10, with a signed sheet, step 13, to a count by two people, step 15, and to the bank, step 20. The readings of the counters go to the office by a second way, step 3, and both are compared, step 17.", 330)  # fmt: skip
    cabinet_side(s, 20, 40, 54, 110)
    sack(s, 128, 150, 56, 70)
    s.line([(80, 112), (98, 112)], 2, arrow="end").line([(160, 112), (204, 112)], 2, arrow="end")
    for x in (224, 308):
        person(s, x, 150, 110, 1 if x == 224 else -1, hand=(252 if x == 224 else 280, 104))
    s.box(240, 108, 52, 6, 1, 0.5, THIN).line([(246, 114), (246, 150)], 2).line([(286, 114), (286, 150)], 2)
    s.box(226, 254, 90, 50, 3, 0.15).text(271, 284, "bank", bold=True)
    s.line([(266, 152), (271, 250)], 2, arrow="end")
    sheet(s, 104, 190, 50, 58, 3, 2)
    s.line([(128, 154), (128, 186)], THIN)
    s.box(20, 254, 66, 50, 3, 0.02).text(53, 284, "readings")
    s.line([(47, 154), (50, 250)], 2, "6 4", "end").line([(90, 279), (222, 200), (250, 168)], 2, "6 4", "end")
    s.call(10, 128, 56, (128, 88)).call(13, 174, 236, (150, 226)).call(15, 266, 34, (266, 66))
    s.call(20, 322, 216, (270, 216)).call(3, 16, 206, (48, 206)).call(17, 196, 172, (230, 190))
    return s


def cash_compare() -> Sketch:
    """A balance of what must be there and what was counted."""
    s = Sketch("cash-compare", "What must be in the bag, and what is", "A balance: on the left what must be in the bag, step 17, put together from cash in, less cash paid out, less what the tubes gained, plus what we filled in; on the right what was counted twice, step 16. Below, the difference with its sign, step 18.", 316)  # fmt: skip
    s.line([(180, 46), (180, 262)], 4).line([(140, 264), (220, 264)], 4).line([(84, 52), (284, 42)], 3)
    s.disc(180, 46, 6, 0.8)
    for x, y, pan in ((84, 52, 66), (284, 42, 48)):
        s.line([(x, y), (x - pan, 196 if x < 180 else 136)], THIN).line([(x, y), (x + pan, 196 if x < 180 else 136)], THIN)
        s.line([(x - pan - 6, 196 if x < 180 else 136), (x + pan + 6, 196 if x < 180 else 136)], 4)
    for line, (sign, words) in enumerate((("", "cash in"), ("−", "paid out"), ("−", "tubes’ gain"), ("+", "filled in"))):
        y = 94 + 26 * line
        s.box(28, y, 112, 23, 3, 0.12 if sign == "−" else 0.03, 1.6).text(92, y + 16, words)
        if sign:
            s.text(38, y + 17, sign, bold=True, size=16)
    for i in range(3):
        coin(s, 262 + 22 * i, 125, 10)
    bill(s, 250, 90, 68, 24)
    s.text(284, 160, "counted twice").text(84, 220, "must be there")
    s.text(180, 296, "difference: + more, − less", bold=True)
    s.call(17, 22, 30, (78, 52)).call(16, 338, 24, (290, 42)).call(18, 60, 254, (92, 284))
    return s


def three_ways() -> Sketch:
    """Cash seen by three, cards beside it."""
    s = Sketch("three-ways", "Who saw the money", "Two rows. Cash: the counters, step 2, equal the count, step 3, equal the bank, step 5. Cards: the counters equal the card report, step 7, which equals the bank. Equal signs stand between them.", 250)  # fmt: skip
    for y, row in ((52, ("counters", "counted", "bank")), (176, ("counters", "card report", "bank"))):
        for x, words in zip((16, 134, 252), row, strict=True):
            s.box(x, y, 92, 46, 4, 0.08).text(x + 46, y + 28, words, bold=True)
        for x in (121, 239):
            s.line([(x - 7, y + 19), (x + 7, y + 19)], 3).line([(x - 7, y + 27), (x + 7, y + 27)], 3)
    coin(s, 62, 116, 10)
    s.text(82, 121, "cash", anchor="start").line([(46, 146), (314, 146)], 1.2, "4 4")
    s.box(46, 228, 30, 18, 3, 0.1, 1.6).box(46, 232, 30, 5, 0, 0.6, 0)
    s.text(84, 242, "cards", anchor="start")
    s.call(2, 62, 22, (62, 52)).call(3, 180, 22, (180, 52)).call(5, 298, 22, (298, 52)).call(7, 180, 238, (180, 222))
    return s


def money_split() -> Sketch:
    """What buyers paid, part by part."""
    s = Sketch("money-split", "What is taken out of the money", "A tall column, what buyers paid, step 1, is split into four parts, one above the other: the deposit, step 4; the tax, step 6; the site's share, step 8; and what is left for goods and work.", 262)  # fmt: skip
    s.box(24, 20, 92, 220, 3, 0.1).text(70, 124, "what", bold=True).text(70, 140, "buyers paid", bold=True)
    parts = ((20, 30, "deposit", 4, 0.3), (58, 36, "tax", 6, 0.22), (102, 46, "site’s share", 8, 0.14), (156, 84, "goods and work", 0, 0.04))
    left = 20.0
    for y, h, words, number, tone in parts:
        s.box(184, y, 120, h, 3, tone).text(244, y + h / 2 + 5, words)
        s.line([(116, left), (184, y)], THIN).line([(116, left + h + 6), (184, y + h)], THIN)
        left += h + 6
        if number:
            s.call(number, 334, y + h / 2, (304, y + h / 2))
    s.call(1, 140, 216, (108, 216))
    return s


def refund_path() -> Sketch:
    """The steps of a complaint on one line."""
    s = Sketch("refund-path", "The way of a complaint", "Six stations in a row: listen, step 1; ask about harm, step 2, which leads to a separate way when somebody is ill; write, step 3; pay, step 8; look for the cause, step 9; call back, step 12.", 290)  # fmt: skip
    places = [(60, 70, 1, "listen"), (180, 70, 2, "harm?"), (300, 70, 3, "write"), (300, 200, 8, "pay"), (180, 200, 9, "cause"), (60, 200, 12, "call back")]  # fmt: skip
    for (x1, y1, *_), (x2, y2, *_) in pairwise(places):
        dx, dy = (x2 > x1) - (x2 < x1), (y2 > y1) - (y2 < y1)
        s.line([(x1 + 40 * dx, y1 + 28 * dy), (x2 - 40 * dx, y2 - 28 * dy)], 2, arrow="end")
    for x, y, number, words in places:
        s.box(x - 38, y - 24, 76, 48, 5, 0.08).text(x, y + 5, words, bold=True)
        s.call(number, x - 38, y - 26)
    s.line([(180, 94), (180, 136)], 3, arrow="end")
    s.hazard(152, 122, 24).text(194, 122, "ill: stop sales,", anchor="start").text(194, 138, "call the office", anchor="start")
    phone(s, 46, 232, 44)
    coin(s, 290, 248, 11)
    coin(s, 308, 248, 11)
    s.shape(box(160, 236, 200, 262), 0.03, 1.6).line([(168, 249), (192, 249)], 2)
    return s


ALL = (coin_path, note_path, filling_mode, cashless_path, price_match, money_flow, cash_compare, three_ways, money_split,
       refund_path)  # fmt: skip
