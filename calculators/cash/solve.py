"""Fills the working sheet: the sums, the checks, the values, the table of lots, the figure."""

from __future__ import annotations

from ..core import Work
from ..float import coinage
from . import checks, figure, sheet
from .inputs import Inputs
from .lots import Counted
from .sheet import Found

COLUMNS = {"lot": "Lot", "how": "How", "coins": "Coins", "worth": "Worth"}


def solve(inputs: Inputs, work: Work) -> None:
    """One bag."""
    found = sheet.solve(inputs, work, coinage.book(work))
    _say(work, found)
    checks.solve(inputs, work, found)
    _values(work, found)
    work.rule_of("upkeep.cash_run")  # told beside the list of past differences, which the page keeps
    if found.lots:
        work.table("lots", "Coins, lot by lot", COLUMNS, [_row(work, lot) for lot in found.lots])
    if inputs.cards == "apart":
        work.not_checked.append("The card total against the card report: whoever keeps the books compares them.")
    for svg in figure.draw(work, found):
        work.figure(svg)


def _say(work: Work, found: Found) -> None:
    """What goes onto the sheet: the difference with its sign, and which way."""
    low, likely, high = found.gap
    if likely is None or low is None or low != high:
        return
    way = "short" if likely < 0 else "over" if likely > 0 else "none"
    sign = "+" if likely > 0 else ""
    work.actions.append(f"Write the difference with its sign: {sign}{work.text(likely, 'money')} ({way}).")


def _values(work: Work, found: Found) -> None:
    work.value("counted", found.counted[1], _off(found.counted))
    work.value("must", found.must)
    work.value("gap", found.gap[1], _off(found.gap))
    work.value("share", found.share)
    work.value("sales", found.sales)
    work.value("cards", found.cards)


def _off(three: sheet.Three) -> float:
    """How far the likely sum may be off."""
    low, likely, high = three
    return 0.0 if low is None or likely is None or high is None else max(likely - low, high - likely)


def _row(work: Work, lot: Counted) -> tuple[str, ...]:
    return lot.name, lot.how, _between(work, lot.coins, "count"), _between(work, lot.worth, "money")


def _between(work: Work, three: sheet.Three, kind: str) -> str:
    """One number, or the likely one with its bounds; these alone where there is no likely one."""
    low, likely, high = (work.text(each, kind) for each in three)
    if three[1] is None and three[0] is not None:
        return f"{low} to {high}"
    if three[0] is None and three[1] is not None:
        return f"about {likely}"
    return likely if low == high else f"{likely} ({low} to {high})"
