"""What the cash count asks for: the counters, the tubes, what was counted, by whom, and the cards apart."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Money, Quantity, Record, Rows, Text
from ..float.inputs import COINS, MINOR

MOST = 100_000_000  # cents; no counter of a cabinet goes higher
HEAVY = 50_000.0  # g; more nobody sets on a coin scale

FIGURES = {
    "readings": "Two readings of the counters",
    "period": "Figures for the period, from a report",
}
WAYS = {
    "number": "Counted by number",
    "roll": "Full rolls or bank bags",
    "bag": "Full standard bags",
    "mass": "Weighed",
}
CARDS = {
    "apart": "Compared apart, by whoever keeps the books",
    "now": "Compared here too, by themselves",
    "none": "No cards are taken",
}
READ, TUBES, COUNTED, PEOPLE, CARD = (
    "Counters", "Tubes and test money", "Bills, sums and weighing", "Who counted", "Cards, by themselves")  # fmt: skip


def _money(label: str, text: str, symbol: str = "", example: int = 0, **more: Any) -> Money:
    """An amount that moves what must be there, or what is, one way only."""
    more.setdefault("least", 0)
    more.setdefault("most", MOST)
    return Money(label, help=text, symbol=symbol, example=example, ends=True, **more)


def _reading(label: str, text: str, symbol: str, example: int) -> Money:
    return _money(label, text, symbol, example, first=True, group=READ, when=("figures", ("readings", "")))


def _period(label: str, text: str, symbol: str, example: int) -> Money:
    return _money(label, text, symbol, example, first=True, group=READ, when=("figures", ("period",)))


def _bills(worth: int) -> Count:
    """How many bills of one worth, where the rule set has that bill."""
    return Count(f"Bills of {worth}", least=0, most=100_000, default=0, ends=True, group=COUNTED, example=20,
                 rule="coins.notes", rule_item=worth * MINOR, help="How many were counted.")  # fmt: skip


class Lot(Record):
    """Some coins of one kind, counted in one way."""

    coin = Choice("Coin", COINS, rule="coins.table", example="quarter", help="One kind of coin to a lot.")
    way = Choice("How it was counted", WAYS, default="number",
                 help="Standard bags are those of the central bank, with its seal whole.")  # fmt: skip
    number = Count("How many", least=0, most=1_000_000, example=45, ends=True, when=("way", ("number", "roll", "bag", "")),
                   help="Coins, or full rolls or bags. Count by number where a weight leaves more than one count open.")  # fmt: skip
    scale = Quantity("Scale shows", kind="coin_mass", symbol="S", least=0, most=HEAVY, example=60.0,
                     when=("way", ("mass",)), help="With the container on it.")  # fmt: skip
    container = Quantity("Container alone", kind="coin_mass", symbol="K", least=0, most=HEAVY, example=0.0,
                         when=("way", ("mass",)), help="Bag, tray or paper. 0 where the scale was set to 0 with it.")  # fmt: skip


class Inputs(Record):
    """The whole form. Card sales never mix with the bag's money."""

    figures = Choice("What the cabinet says", FIGURES, default="readings", first=True, group=READ,
                     help="Readings: as the display shows them, then and now.")  # fmt: skip
    cash_in_last = _reading("Cash in, last time", "From the last sheet. Coins and bills together.", "A_1", 410_000)
    cash_in_now = _reading("Cash in, now", "As the display shows it. Coins and bills together.", "A_2", 955_000)
    paid_out_last = _reading("Cash paid out, last time", "From the last sheet.", "B_1", 120_000)
    paid_out_now = _reading("Cash paid out, now", "As the display shows it.", "B_2", 317_250)
    cash_in = _period("Cash in since", "Coins and bills together, since the last collection.", "A", 24_000)
    paid_out = _period("Cash paid out since", "Change and refunds by the cabinet, since the last collection.", "B", 5_250)
    coins = Rows("Coins counted", Lot, "lot", brief=("coin", "way", "number", "scale"), first=True, most=24,
                 help="One line for each kind and way. What is left out counts as none.")  # fmt: skip

    tubes_last = _money("Value in the tubes, last time", "From the last sheet: the opening float.", "T_1", 6_100, group=TUBES)
    tubes_now = _money("Value in the tubes, now", "As the display shows it, before you fill them.", "T_2", 7_425, group=TUBES)
    filled = _money("Filled in by us (D)", "Coins that we put in since the last readings, by the float sheet. 0 where none were.",
                    "D", 2_000, group=TUBES)  # fmt: skip
    emptied = _money("Taken from tubes by us (E)", "Since the last readings, by the float sheet. 0 where none were.", "E", 0,
                     group=TUBES)  # fmt: skip
    filled_counted = Flag("The cabinet counts filling as cash in", default=False, card=True, group=TUBES,
                          help="Then D stands in cash in already, and is left out.")  # fmt: skip
    emptied_counted = Flag("The cabinet counts emptying a tube as paid out", default=False, card=True, group=TUBES,
                           help="Then E stands in cash paid out already, and is left out.")  # fmt: skip
    test_money = Money("Test money that stayed inside", least=0, most=MOST, default=0, example=500, symbol="Q", group=TUBES,
                       help="It is in cash in, and in the bag: it comes off the sales, never off the bag.")  # fmt: skip

    bills_1, bills_5, bills_10, bills_20 = (_bills(worth) for worth in (1, 5, 10, 20))
    other = Money("Counted as a sum", least=0, most=MOST, default=0, example=0, ends=True, group=COUNTED,
                  help="Larger bills, what a counting machine says, a stuck bill in a bag of its own if the counters have it.")  # fmt: skip
    mixed_scale = Quantity("Mixed coins weighed: scale shows", kind="coin_mass", symbol="S", least=0, most=HEAVY,
                           example=500.0, rule="coins.alike", group=COUNTED,
                           help="Dimes, quarters and halves together, nothing else. Blank: none.")  # fmt: skip
    mixed_container = Quantity("Mixed coins weighed: container alone", kind="coin_mass", symbol="K", least=0, most=HEAVY,
                               example=20.0, rule="coins.alike", group=COUNTED,
                               help="0 where the scale was set to 0 with it.")  # fmt: skip
    scale_off = Quantity("What the scale may be off", kind="coin_mass", symbol="e", least=0, most=500, example=0.1, ends=True,
                         group=COUNTED, help="From its plate or leaflet; at least the smallest step that it shows.")  # fmt: skip

    second = _money("Sum of the second count", "Counted afresh by the other person, in any way.", "Y_2", 19_400, group=PEOPLE)
    counted_by = Text("Counted by", group=PEOPLE, help="The one who counted first.")
    checked_by = Text("Checked by", group=PEOPLE, help="The other person, who counted again.")

    cards = Choice("Cards", CARDS, default="apart", group=CARD, help="Card sales never reach the bag.")
    cards_counted = _money("Cards by the cabinet’s counters", "Now, less last time.", "N", 31_200, group=CARD,
                           when=("cards", ("now",)))  # fmt: skip
    cards_report = _money("Cards by the card report", "Sales less refunds, before fees, cut at the same two hours.", "R", 31_200,
                          group=CARD, when=("cards", ("now",)))  # fmt: skip
