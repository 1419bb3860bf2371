"""Days of the calendar, in the order that an operator's folder is set to.

2026-11-03 means one day everywhere. 03/11/2026 means two, so that it is read only where
``dates`` in ``handbook.toml`` says in which order days stand in this folder.
"""

from __future__ import annotations

import datetime
import re
from typing import Any

from calculators.core import Field, Text
from calculators.core.units import Units

from .bad import BadCell

# Where year, month and day stand among three numbers.
ORDERS = {"year first": (0, 1, 2), "day first": (2, 1, 0), "month first": (2, 0, 1)}
_FIGURES = re.compile(r"(\d{1,4}) ?([./-]) ?(\d{1,2}) ?\2 ?(\d{1,4})\.?", re.ASCII)
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MIDNIGHT = re.compile(r"[ T]0?0:00(?::00(?:\.0+)?)?$")  # what programs add to a day without an hour
HOW = "A day is written year-month-day."


class Day(Field):
    """A day of the calendar as 2026-11-03, so that days sort and mean the same everywhere."""

    def read(self, raw: Any, system: str) -> datetime.date:
        """The day; ValueError where the text is none."""
        text = str(raw).strip()
        try:
            # The library also takes 20261103 and 2026-W45-2, which do not sort with the others.
            if not _ISO.fullmatch(text):
                raise ValueError
            return datetime.date.fromisoformat(text)
        except ValueError as error:
            raise ValueError(self.limit_text(Units(system))) from error

    def limit_text(self, show: Units) -> str:
        """How a day is written."""
        return HOW


class SpokenDay(Text):
    """A day as people say it, such as 3 December; written in figures it obeys the folder's order."""


def in_figures(text: str) -> bool:
    """Whether a text is three numbers that may be a day."""
    return bool(_FIGURES.fullmatch(_MIDNIGHT.sub("", text)))


def iso(text: str, order: str) -> str:
    """The day as 2026-11-03; a text that is no day in figures comes back as it is, for its field to refuse.

    Raises :class:`BadCell` where it may be several days, or none in this folder's order.
    """
    text = _MIDNIGHT.sub("", text)
    found = _FIGURES.fullmatch(text)
    if _ISO.fullmatch(text) or not found:
        return text
    numbers = (found[1], found[3], found[4])
    if not order and not any(len(number) == 4 for number in (numbers[0], numbers[2])):
        raise BadCell(f"{HOW} Its year has no four figures.", "For example: 2026-11-03.")
    known = {name: day for name in ORDERS if (day := _day(numbers, name))}
    if order in known:
        return known[order].isoformat()
    raise _refused(known, order)


def _day(numbers: tuple[str, str, str], order: str) -> datetime.date | None:
    year, month, day = (numbers[at] for at in ORDERS[order])
    if len(year) not in (2, 4) or len(month) > 2 or len(day) > 2:
        return None
    try:  # a year of two figures, as spreadsheets show it, is of this century
        return datetime.date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day))
    except ValueError:
        return None


def _refused(known: dict[str, datetime.date], order: str) -> BadCell:
    if order and known:
        (other, day), *_ = known.items()
        return BadCell(f"Dates of this folder are written {order}, and it is no such day.",
                       f"Written {other} it would be {day.isoformat()}: write that, if it is meant.")  # fmt: skip
    if not known:
        return BadCell(f"{HOW} There is no such day.", "For example: 2026-11-03.")
    may = " or ".join(f"{day.isoformat()} ({name})" for name, day in known.items())
    name = next(iter(known))
    return BadCell(f"{HOW} It may be {may}.",
                   f"Write it as 2026-11-03, or set dates = \"{name}\" in handbook.toml if all are written so.")  # fmt: skip
