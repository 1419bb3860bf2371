"""Coin unit, note unit, card reader, prices, collecting and counting, refunds."""

from __future__ import annotations

from itertools import pairwise

from shapely import box

from ..parts import bag, bill, cabinet_side, coin, person, phone, sack, sheet, tube
from ..sketch import THIN, Sketch


def coin_path() -> Sketch:
    """From slot to tube, cash box or return."""
    s = Sketch("coin-path", "The way of a coin", "A coin goes in at the slot, step 1, past the check, and falls into its tube, step 6. When the tube is full it goes to the cash box. A coin that is refused goes to the return cup, step 11.", 330)  # fmt: skip
    s.box(116, 14, 128, 40, 3, 0.1).box(176, 20, 8, 24, 1, 0.9, 1)
    coin(s, 204, 30, 10)
    s.box(116, 66, 128, 42, 3, 0.2).text(180, 92, "check", bold=True)
    s.line([(180, 54), (180, 66)], 2, arrow="end")
    for i, filled in enumerate((0.85, 0.55, 0.7)):
        tube(s, 118 + 44 * i, 150, 36, 120, filled)
    s.line([(180, 108), (180, 148)], 2, arrow="end").line([(180, 124), (136, 148)], 2, arrow="end").line([(180, 124), (224, 148)], 2, arrow="end")
    s.box(276, 200, 70, 70, 3, 0.3).text(311, 240, "cash box")
    s.line([(244, 96), (311, 130), (311, 198)], 2, arrow="end").text(318, 112, "tube full")
    s.box(16, 226, 66, 44, 3, 0.06).arc(49, 246, 22, 20, 160, 2).text(49, 290, "return")
    s.line([(116, 96), (49, 130), (49, 224)], 2, arrow="end").text(52, 112, "refused")
    s.text(196, 292, "tubes: change", anchor="start")
    s.call(1, 276, 24, (184, 30)).call(6, 180, 316, (180, 266)).call(11, 96, 306, (66, 262))
    return s


def note_path() -> Sketch:
    """From mouth to box."""
    s = Sketch("note-path", "The way of a note", "A note goes in at the mouth, step 7, past sensors and belts, step 8, over the stacker into the box, step 9. The cover of the path swings open to take out a stuck note, step 6.", 310)  # fmt: skip
    bill(s, 14, 214, 76, 34)
    s.line([(94, 231), (118, 231)], 2, arrow="end")
    s.shape([(120, 214), (146, 206), (146, 258), (120, 248)], 0.3)
    s.box(146, 60, 92, 198, 4, 0.06)
    s.line([(146, 231), (180, 231), (192, 219), (192, 120)], 3, "8 5", "end")
    for y in (140, 176, 206):
        s.disc(178, y, 7, 0.5, 1.4).disc(206, y, 7, 0.5, 1.4)
    s.box(150, 14, 100, 96, 4, 0.2)
    for i in range(5):
        s.line([(164, 40 + 12 * i), (236, 40 + 12 * i)], 1.6)
    s.text(200, 30, "box")
    s.shape([(240, 124), (248, 122), (304, 232), (297, 238)], 0.2)
    s.arc(240, 244, 110, -66, -38, 1.6, "5 4", arrow="end")
    s.text(292, 266, "cover")
    s.call(7, 132, 292, (133, 250)).call(8, 110, 160, (172, 176)).call(9, 300, 50, (240, 60)).call(6, 330, 178, (280, 184))
    return s


def cashless_path() -> Sketch:
    """Card, reader, account and back; nothing on paper."""
    s = Sketch("cashless-path", "The way of a card sale", "A card is held to the reader, steps 11 and 8. The sale goes to the account, step 12. A refund goes back the same way, step 14. A paper with a card number is crossed out, step 15.", 270)  # fmt: skip
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
    s.call(11, 58, 30, (58, 62)).call(8, 178, 20, (178, 48)).call(12, 307, 20, (307, 48))
    s.call(14, 239, 140, (239, 110)).call(15, 96, 208, (134, 208))
    return s


def price_match() -> Sketch:
    """Label, display and what is paid agree."""
    s = Sketch("price-match", "Three prices that must agree", "A pack in its lane with its price label below, step 5; the display of the cabinet with the same price, step 4; and the money paid, step 9. Equal signs stand between the three.", 250)  # fmt: skip
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
    s.call(5, 62, 224, (62, 166)).call(4, 188, 44, (188, 78)).call(9, 300, 44, (284, 72))
    return s


def money_flow() -> Sketch:
    """Money one way, the meter's number another."""
    s = Sketch("money-flow", "The way of the money", "Money goes from the cabinet into a sealed bag, step 8, with a signed sheet, step 10, to a count by two people, step 12, and to the bank, step 18. The meter's number goes to the office by a second way, step 3, and both are compared, step 15.", 330)  # fmt: skip
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
    s.box(20, 254, 66, 50, 3, 0.02).text(53, 276, "meter").text(53, 292, "says", bold=True)
    s.line([(47, 154), (50, 250)], 2, "6 4", "end").line([(90, 279), (222, 200), (250, 168)], 2, "6 4", "end")
    s.call(8, 128, 56, (128, 88)).call(10, 174, 236, (150, 226)).call(12, 266, 34, (266, 66))
    s.call(18, 322, 216, (270, 216)).call(3, 16, 206, (48, 206)).call(15, 196, 172, (230, 190))
    return s


def cash_compare() -> Sketch:
    """A balance of meter and count."""
    s = Sketch("cash-compare", "Comparing count and meter", "A balance: on the left what the meter says came in, less change and refunds, step 15; on the right what two people counted, step 14. The pointer shows the difference, which is written with more or less.", 240)  # fmt: skip
    s.line([(180, 60), (180, 196)], 4).line([(140, 198), (220, 198)], 4).line([(70, 66), (290, 54)], 3)
    s.disc(180, 60, 6, 0.8)
    for x, y in ((70, 66), (290, 54)):
        s.line([(x, y), (x - 34, y + 70)], THIN).line([(x, y), (x + 34, y + 70)], THIN)
        s.arc(x, y + 70, 40, 0, 180, 2.4).line([(x - 40, y + 70), (x + 40, y + 70)], 2)
    s.box(46, 100, 48, 34, 2, 0.02, 1.6).text(70, 122, "meter")
    for i in range(3):
        coin(s, 268 + 22 * i, 112, 10)
    s.text(70, 196, "in, less change").text(70, 212, "and refunds").text(290, 182, "counted twice")
    s.text(180, 226, "difference: more or less", bold=True)
    s.call(15, 26, 44, (62, 66)).call(14, 334, 34, (300, 54))
    return s


def refund_path() -> Sketch:
    """The steps of a complaint on one line."""
    s = Sketch("refund-path", "The way of a complaint", "Six stations in a row: listen, step 1; ask about harm, step 2, which leads to a separate way when somebody is ill; write, step 3; pay, step 7; look for the cause, step 9; call back, step 12.", 290)  # fmt: skip
    places = [(60, 70, 1, "listen"), (180, 70, 2, "harm?"), (300, 70, 3, "write"), (300, 200, 7, "pay"), (180, 200, 9, "cause"), (60, 200, 12, "call back")]  # fmt: skip
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


ALL = (coin_path, note_path, cashless_path, price_match, money_flow, cash_compare, refund_path)
