"""One cell as its field reads it: days and money brought to one way of writing first.

Whatever may mean two things is refused here with both of them named; nothing is guessed. What signs a
cell may hold, and which of them are cleaned away before, stands in :mod:`tools.book.letters`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from calculators.core import Field, Money

from . import currency, days
from .bad import BadCell


@dataclass(frozen=True)
class Settings:
    """What ``handbook.toml`` says of how cells are written.

    ``units`` is "us" or "si"; ``dates`` a key of :data:`days.ORDERS` or nothing; ``sign`` the
    currency sign of the rule set; ``edition`` the handbook's edition as written.
    """

    units: str = "us"
    dates: str = ""
    sign: str = "$"
    edition: str = ""


# What a spreadsheet makes of 3/8 when its column is not set to text.
_MONTH = r"(?:jan|feb|mar|mär|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-z]{0,6}\.?"
_TAKEN_FOR_A_DAY = re.compile(
    rf"\d{{4}}-\d{{2}}-\d{{2}}|\d{{1,2}}[./]\d{{1,2}}[./](?:\d{{4}}|\d{{2}})|"
    rf"\d{{1,2}}\.?[- ]{_MONTH}(?:[- ]\d{{2,4}})?|{_MONTH}[- ]\d{{1,4}}",
    re.IGNORECASE | re.ASCII,
)


def plain(reader: Field, cell: str, settings: Settings) -> str:
    """The cell as its field reads it; :class:`BadCell` where it cannot be told what is meant."""
    text = cell.strip()
    if isinstance(reader, days.Day):
        return days.iso(text, settings.dates)
    if isinstance(reader, days.SpokenDay):
        return days.iso(text, settings.dates) if days.in_figures(text) else text
    if isinstance(reader, Money):
        return currency.plain(text, settings.sign)
    if reader.kind and _TAKEN_FOR_A_DAY.fullmatch(text):
        raise BadCell("A spreadsheet has taken it for a day of the calendar.",
                      "Set the column to “Text” there and type the value again, such as 3/8.")  # fmt: skip
    return text
