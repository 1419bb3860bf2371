"""One bag for each rule set: what people there would have typed."""

from __future__ import annotations

from typing import Any

_READ = {
    "cash_in_last": "9310.00", "cash_in_now": "9550.00", "paid_out_last": "3120.00", "paid_out_now": "3172.50",
    "tubes_last": "61.00", "tubes_now": "74.25", "filled": "20.00", "emptied": "0.00",
    "counted_by": "First person", "checked_by": "Second person", "cards": "now", "cards_counted": "312.00", "cards_report": "312.00",
}


def _lot(coin: str, number: str, way: str = "number") -> dict[str, str]:
    return {"coin": coin, "way": way, "number": number}


def _bag(coins: list[dict[str, Any]], second: str, **more: str) -> dict[str, Any]:
    return {**_READ, "coins": coins, "second": second, **more}


# 194.25 must be there: 146 in bills, then 30, 11.25, 5.20 and 1.55 in coins, so that a quarter is short.
EXAMPLE = _bag(
    [_lot("quarter", "3", "roll"), _lot("quarter", "45"), _lot("dime", "52"),
     {"coin": "nickel", "way": "mass", "scale": "60 g", "container": "0 g"}, _lot("nickel", "19")],
    "194.00", bills_1="96", bills_5="10", scale_off="0.1 g",
)

SET_EXAMPLES = {
    "ca": _bag([_lot("two", "1", "roll"), _lot("dollar", "21"), _lot("quarter", "50"), _lot("nickel", "10")],
               "194.00", bills_5="14", bills_10="4"),
    "uk": _bag([_lot("1gbp", "4", "roll"), _lot("50p", "20"), _lot("20p", "68"), _lot("10p", "4")],
               "194.00", bills_5="10", bills_10="4"),
    "eu": _bag([_lot("2eur", "1", "roll"), _lot("1eur", "38"), _lot("50c", "21"), _lot("20c", "27"), _lot("10c", "1")],
               "194.00", bills_5="10", bills_10="4"),
    "au": _bag([_lot("two", "1", "roll"), _lot("dollar", "41"), _lot("50c", "25"), {"coin": "20c", "way": "mass", "scale": "56.5 g", "container": "0 g"},
                _lot("5c", "0"), _lot("10c", "95")],
               "194.00", bills_5="6", bills_10="5", scale_off="0.1 g"),
}
