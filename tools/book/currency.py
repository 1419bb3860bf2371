"""An amount of money as a cell has it: in the folder's own money, or refused."""

from __future__ import annotations

import re

from .bad import BadCell

# What stands for the hundredth part beside each sign of coins.currency; coins' names are no amounts.
SMALL = {"$": ("c", "¢"), "€": ("c", "¢"), "£": ("p",)}
_AMOUNT = re.compile(r"^([+\-−]?)\s*([^\d\s.,+\-−]{0,5})\s*([\d.,]+(?:\s\d{3})*)\s*([^\d\s.,]{0,5})$")


def plain(text: str, sign: str) -> str:
    """The amount with no sign but a word for the hundredth part; :class:`BadCell` for another money's."""
    found = _AMOUNT.match(text)
    if not found:
        return text
    minus, before, number, after = found.groups()
    marks = [mark for mark in (before, after) if mark]
    small = [mark for mark in marks if mark.lower() in SMALL.get(sign, ())]
    if len(marks) > 1 or (marks and not small and marks[0] != sign) or (small and before):
        named = " and ".join(f"“{mark}”" for mark in marks)
        raise BadCell(f"The money of this folder's rules is {sign}; {named} cannot stand beside the amount.",
                      f"Write it in {sign}, without a sign: 1.50{_or_small(sign)}.")  # fmt: skip
    return f"{minus}{number}{''.join(small)}"


def _or_small(sign: str) -> str:
    return "".join(f" or 150{word}" for word in SMALL.get(sign, ())[:1])
