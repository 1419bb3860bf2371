"""What the float asks for: the tubes, the prices, how people pay, and when you come back."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Money, Quantity, Record, Rows

# Names of the coins in all rule sets' tables, and what people call them. What one is worth
# stands in the table; a form offers those of its own rule set only.
COINS = {
    "cent": "Cent", "nickel": "Nickel", "dime": "Dime", "quarter": "Quarter", "half": "Half dollar",
    "1c": "1 c", "2c": "2 c", "5c": "5 c", "10c": "10 c", "20c": "20 c", "50c": "50 c",
    "dollar": "Dollar coin", "two": "Two-dollar coin", "1eur": "€1 coin", "2eur": "€2 coin",
    "1p": "1p", "2p": "2p", "5p": "5p", "10p": "10p", "20p": "20p", "50p": "50p",
    "1gbp": "£1 coin", "2gbp": "£2 coin",
}  # fmt: skip
# Where the rule sets' data round a price that is paid in cash.
PLACES = {
    "usual": "By the country’s own rule, if it has one", "none": "Not rounded", "alabama": "Alabama",
    "finland": "Finland", "netherlands": "Netherlands", "ireland": "Ireland", "belgium": "Belgium",
    "italy": "Italy", "slovakia": "Slovakia", "estonia": "Estonia", "lithuania": "Lithuania",
}  # fmt: skip
PAYOUTS = {
    "largest": "Largest coin first, never steps back",
    "any": "Any mix of coins that works",
}
ACCEPTS = {
    "every": "While change can be made for every price",
    "cheapest": "While change can be made for the cheapest price",
    "whole": "While the whole amount could be given back in coins",
}
SALES = {"poisson": "By chance around that number", "fixed": "Always that number"}
REFUSED = {"leaves": "Leaves without buying", "cashless": "Pays cashless instead"}
MINOR = 100  # cents or pence in the whole of every money that a rule set has
PAY, MACHINE, SALE = "How people pay", "The coin and bill units", "Sales and runs"


class Tube(Record):
    """One coin tube."""

    coin = Choice("Coin", COINS, rule="coins.table", example="quarter",
                  help="The one kind of coin this tube holds.")
    height = Quantity(
        "Usable height", kind="length", symbol="h", least=0, most=600, example=114.3,
        help="From the tube's floor to the highest coin it can hold.")  # fmt: skip
    capacity = Count(
        "Coins it holds", symbol="C", least=0, most=1000, example=60,
        help="From the unit's plate or manual. It is used in place of the height.")  # fmt: skip
    count = Count(
        "Coins in it now", symbol="k", least=0, most=1000, example=20,
        help="Count them, or read the unit. Leave all blank to plan from empty tubes.")  # fmt: skip
    low = Count(
        "Low mark", least=0, most=1000, example=8,
        help="Bills are switched off while this tube holds fewer coins. Blank: no mark.")  # fmt: skip
    back = Count(
        "Switch-back level", least=0, most=1000, example=12,
        help="Bills come back on at this many coins. Blank: at the low mark.")  # fmt: skip


class Price(Record):
    """One price on the list."""

    price = Money("Price", least=1, most=5000, example=150, help="What the buyer pays.")
    share = Quantity(
        "Share of sales", kind="ratio", least=0, most=100_000, example=30,
        help="Percent of sales, or pieces sold a week: only the ratio counts.")  # fmt: skip


class Start(Record):
    """How some coin buyers begin."""

    coin = Choice("Biggest coin used", COINS, rule="coins.table", example="dime",
                  help="They pay as much as goes in this coin, the rest in fewest smaller ones.")
    share = Quantity("Share of coin buyers", kind="ratio", least=0, most=100_000, example=20,
                     help="Percent, or how many: only the ratio counts.")  # fmt: skip


def _percent(label: str, text: str, example: float, **more: Any) -> Quantity:
    """A share of all sales, or of the note buyers."""
    return Quantity(label, help=text, kind="percent", least=0, most=100, example=example, **more)


def _having(note: int, text: str, usual: float) -> Quantity:
    """The part of the bill buyers with one bill, where the rule set has that bill."""
    return _percent(f"Bill buyers with bills of {note}", text, usual, default=usual, group=PAY,
                    card=True, rule="coins.notes", rule_item=note * MINOR)  # fmt: skip


def _takes(note: int, text: str, *, usual: bool) -> Flag:
    """Whether a bill is taken, where the rule set has that bill."""
    return Flag(f"Bills of {note} taken", default=usual, group=MACHINE, card=True, help=text,
                rule="coins.notes", rule_item=note * MINOR)  # fmt: skip


class Inputs(Record):
    """Everything the float calculator takes; anything may stay unknown."""

    tubes = Rows("Coin tubes", Tube, "tube", brief=("coin", "count/capacity"), group="Coin tubes", card=True,
                 most=8,
                 help="One for each tube that gives change.")  # fmt: skip
    prices = Rows("Price list", Price, "price", group="Price list", most=24,
                  help="Every price, with its share of the sales.")  # fmt: skip
    sales_per_day = Quantity("Sales a day", symbol="S", kind="per_day", least=0.1, most=300,
                           example=20, first=True,
                           help="All sales, however paid: pieces sold in a week over 7.")  # fmt: skip
    days = Quantity("Days to the next visit", symbol="d", kind="days", least=0.1, most=45,
                    example=4, first=True, help="From this visit to the next.")  # fmt: skip
    share_notes = _percent("Sales paid with bills", "Of all sales. The counter or card report tells.",
                          25, symbol="a", first=True)  # fmt: skip
    wanted = Quantity("Wanted chance that nobody is turned away", symbol="W", kind="chance",
                      least=50, most=99.9, example=95, default=95.0, first=True,
                      help="95% means that about one visit in twenty finds somebody was refused.")

    share_exact = _percent(
        "Sales paid with exact coins",
        "Of all sales. These buyers fill the tubes. Blank: all the rest, where cashless is given.",
        20, symbol="b", group=PAY)  # fmt: skip
    share_over = _percent(
        "Sales paid with coins over the price",
        "Of all sales: one kind of coin, with change due. Nobody: 0. Blank: the rest, where all others are given.",
        5, symbol="o", group=PAY)  # fmt: skip
    over_coin = Choice("Coin they overpay with", COINS, rule="coins.table", group=PAY,
                       help="They put in this coin until the price is met. Blank: the largest "
                            "coin that has a tube.")
    share_cashless = _percent("Sales paid cashless", "Of all sales. Blank: all the rest.", 55,
                              group=PAY)  # fmt: skip
    coin_mix = Rows("Coins of the exact buyers", Start, "kind of coin buyer", most=6, group=PAY,
                    help="Left empty: everybody uses the fewest coins.")  # fmt: skip
    share_1 = _having(1, "Only the ratio of these shares counts.", 80.0)
    share_5 = _having(5, "They put in as many as the price needs.", 20.0)
    share_10 = _having(10, "Not taken, they are turned away.", 0.0)
    share_20 = _having(20, "Not taken, they are turned away.", 0.0)
    rounding = Choice("Cash prices are rounded", PLACES, always=("usual", "none"), default="usual",
                      rule="coins.rounding", group=PAY, card=True,
                      help="Where the smallest coins are gone. Cashless prices stay as they are.")
    refused = Choice("A refused buyer", REFUSED, default="leaves", group=PAY,
                     help="A buyer who leaves is a lost sale.")

    takes_1 = _takes(1, "As the bill unit is set.", usual=True)
    takes_5 = _takes(5, "Each one may cost a whole stack of coins in change.", usual=True)
    takes_10 = _takes(10, "As the bill unit is set.", usual=False)
    takes_20 = _takes(20, "As the bill unit is set.", usual=False)
    note_box = Count("Bills the bill box holds", symbol="N", least=0, most=5000, example=400,
                     group=MACHINE, card=True,
                     help="From the unit's plate; a full box takes no more bills.")  # fmt: skip
    coin_box = Count("Coins the coin box holds", symbol="B", least=0, most=50_000, example=2000,
                     group=MACHINE, card=True,
                     help="Coins that the tubes cannot hold fall into it; full, coins are refused.")
    payout = Choice("How change is chosen", PAYOUTS, default="largest", group=MACHINE, card=True,
                    help="Most units pay the largest coin first.")
    accept = Choice("When a bill is taken", ACCEPTS, default="every", group=MACHINE, card=True,
                    help="The unit decides before the buyer has chosen.")
    own_coins = Flag("A sale's own coins can be its change", default=True, group=MACHINE, card=True,
                     help="Yes where coins drop into the tubes at once.")
    low_value = Money("Low mark on the money in the tubes", least=0, most=100_000, example=500,
                      group=MACHINE, card=True,
                      help="Bills are switched off while the tubes hold less. Blank: no mark.")
    low_value_back = Money("Switch-back level on the money", least=0, most=100_000, example=800,
                           group=MACHINE, card=True,
                           help="Bills come back on at this much. Blank: at the low mark.")

    sales = Choice("Number of sales", SALES, default="poisson", group=SALE,
                   help="Real sales come by chance, some days more and some less.")
    seed = Count("Seed of the runs", least=0, most=999_999, example=1, default=1, group=SALE,
                 help="Any number. The same seed plays the same buyers again.")


VISIT = {"sales_per_day": "20", "days": "4", "share_notes": "25", "wanted": "95",
         "share_exact": "20", "share_over": "0", "note_box": "400", "coin_box": "2000"}  # fmt: skip


def _priced(*rows: tuple[str, str]) -> list[dict[str, str]]:
    return [{"price": price, "share": share} for price, share in rows]


def _tubes(size: str, *rows: tuple[str, str]) -> list[dict[str, str]]:
    return [{"coin": coin, "height": size, "count": count} for coin, count in rows]


EXAMPLE: dict[str, Any] = {
    "tubes": _tubes("4 1/2 in", ("nickel", "20"), ("dime", "25"), ("quarter", "15"), ("quarter", "10")),
    "prices": _priced(("1.25", "30"), ("1.50", "30"), ("1.75", "25"), ("2.60", "15")),
    **VISIT,
}
# For each rule set but the first an example in its own coins.
SET_EXAMPLES: dict[str, dict[str, Any]] = {
    "ca": {
        "tubes": _tubes("115 mm", ("nickel", "20"), ("dime", "25"), ("quarter", "25"), ("dollar", "15")),
        "prices": _priced(("1.50", "30"), ("1.75", "30"), ("1.99", "25"), ("2.75", "15")), **VISIT},
    "uk": {
        "tubes": _tubes("115 mm", ("10p", "20"), ("20p", "25"), ("50p", "15"), ("1gbp", "15")),
        "prices": _priced(("1.20", "30"), ("1.50", "30"), ("1.80", "25"), ("2.50", "15")), **VISIT},
    "eu": {
        "tubes": _tubes("115 mm", ("10c", "20"), ("20c", "25"), ("50c", "15"), ("1eur", "15")),
        "prices": _priced(("1.20", "30"), ("1.50", "30"), ("1.80", "25"), ("2.50", "15")), **VISIT},
    "au": {
        "tubes": [*_tubes("115 mm", ("10c", "20"), ("20c", "25"), ("50c", "15")),
                  {"coin": "dollar", "capacity": "36", "count": "15"}],
        "prices": _priced(("2.20", "30"), ("2.50", "30"), ("2.80", "25"), ("3.50", "15")), **VISIT},
}  # fmt: skip
