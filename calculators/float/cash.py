"""What a price comes to when it is paid in cash, where the smallest coins are gone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..core import Work
from ..core.rules import Rule
from .inputs import PLACES, Inputs

COUNTRY = "country"  # the row of a rule that holds in the whole rule set's country


def rounding(work: Work) -> Mapping[str, Any] | None:
    """The row of the rule set's rounding rules that was chosen; None where nothing is rounded."""
    figure, name = _figure(work), _chosen(work)
    rows = figure.value if figure and isinstance(figure.value, list) else ()
    # An operator may write this listing; a row without a step rounds nothing.
    return next((row for row in rows if row.get("name") == name and row.get("step", 0) > 0), None)


def unknown_place(work: Work) -> str | None:
    """What people call the chosen place where the rule set has no rule for it."""
    name = _chosen(work)
    if name in (COUNTRY, "none") or rounding(work) is not None:
        return None
    return PLACES.get(name, name)


def cash_prices(work: Work) -> list[int | None]:
    """Each price as cash pays it, in cents, worked out where a rule rounds it."""
    inputs = work.asked(Inputs)
    row = rounding(work)
    prices = [each.price for each in inputs.prices]
    if row is None or all(price is None or price % row["step"] == 0 for price in prices):
        return prices
    work.rule_of("coins.rounding")
    return [_rounded(work, number, price, row) for number, price in enumerate(prices)]


def _rounded(work: Work, number: int, price: int | None, row: Mapping[str, Any]) -> int | None:
    if price is None or price % row["step"] == 0:
        return price
    work.section(f"Price {number + 1} in cash")
    work.take(f"prices.{number}.price", "p")
    work.given("c", "Step that cash is rounded to", row["step"], "money", note=_law(work, row))
    # A millionth keeps a half a half where the division gives a little less.
    paid = work.step("K", "Price in cash", "c*floor(p/c + 0.5 + 0.000001)", "money")
    return None if paid is None else round(paid)


def _law(work: Work, row: Mapping[str, Any]) -> str:
    figure = _figure(work)
    known = [str(row["law"])] if "law" in row else []
    known += [f"since {row['since']}"] if "since" in row else []
    status = row.get("status") or (figure.status if figure else "")
    return f"{', '.join(known)} ({status})".strip()


def _figure(work: Work) -> Rule | None:
    """The rule set's rounding rules; a set without them rounds nothing, which is no gap."""
    return work.rules.get("coins.rounding")


def _chosen(work: Work) -> str:
    inputs = work.asked(Inputs)
    return COUNTRY if inputs.rounding == "usual" else str(inputs.rounding)
