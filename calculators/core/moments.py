"""Days and times of day as inputs: a date on a pack, the time of a reading.

Inside a calculator a day is a whole number of days, and a moment a number of minutes, since the first
day of 2000. There is no clock and no time zone: a moment is what a clock on the wall shows.
"""

from __future__ import annotations

import re
from typing import Any

from . import units
from .fields import Quantity

DAY = 24 * 60  # minutes
_DAY = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})", re.ASCII)
_TIME = re.compile(r"(\d{1,2}):(\d{2})(?::\d{2}(?:\.\d+)?)?", re.ASCII)
_MONTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
FIRST_YEAR, LAST_YEAR = 2000, 2099


def day_number(year: int, month: int, day: int) -> int | None:
    """Days since 1 January 2000; None where there is no such day in these hundred years."""
    if not (FIRST_YEAR <= year <= LAST_YEAR and 1 <= month <= 12 and 1 <= day <= _length(year, month)):
        return None
    # Every fourth year of this century is a leap year, 2000 included.
    past = year - FIRST_YEAR
    return 365 * past + (past + 3) // 4 + sum(_length(year, each) for each in range(1, month)) + day - 1


def _length(year: int, month: int) -> int:
    return _MONTHS[month - 1] + (month == 2 and year % 4 == 0)


def date_of(number: int) -> tuple[int, int, int]:
    """Year, month and day of a day's number."""
    year, left = FIRST_YEAR, number
    while left >= 365 + (year % 4 == 0):
        left -= 365 + (year % 4 == 0)
        year += 1
    month = 1
    while left >= _length(year, month):
        left -= _length(year, month)
        month += 1
    return year, month, left + 1


def day_text(number: float) -> str:
    """A day as 2026-11-28, which nobody can take for another day."""
    return "{:04d}-{:02d}-{:02d}".format(*date_of(int(number)))


def moment_text(minutes: float) -> str:
    """A moment as 2026-11-28 14:30."""
    day, rest = divmod(int(minutes), DAY)
    return f"{day_text(day)} {rest // 60:02d}:{rest % 60:02d}"


def read_day(text: str) -> int | None:
    """The number of a day written year first; None for anything else."""
    found = _DAY.fullmatch(text.strip())
    return day_number(*map(int, found.groups())) if found else None


def read_moment(text: str) -> int | None:
    """The minutes of a day and time such as 2026-11-28 14:30; None for anything else."""
    day, _, time = text.strip().replace("T", " ").partition(" ")
    number, found = read_day(day), _TIME.fullmatch(time.strip())
    if number is None or not found or int(found[1]) > 23 or int(found[2]) > 59:
        return None
    return number * DAY + int(found[1]) * 60 + int(found[2])


class Day(Quantity):
    """A day, written year first."""

    control = "date"

    def __init__(self, label: str, **options: Any) -> None:
        options.setdefault("least", 0)
        options.setdefault("most", day_number(LAST_YEAR, 12, 31))
        super().__init__(label, kind="day", **options)

    def read(self, raw: Any, system: str) -> int:
        """The day's number; ValueError says how to write one."""
        found = read_day(raw) if isinstance(raw, str) else None
        if found is None:
            raise ValueError(self.limit_text(units.Units(system)))
        return found

    def limit_text(self, show: units.Units) -> str:
        """How a day is written, and between which it must be."""
        ends = " and ".join(self.shown(end, show) for end in (self.least, self.most))
        return f"It must be written year first and lie between {ends}."

    def shown(self, value: Any, show: units.Units) -> str:
        """The day as it is typed."""
        return "" if value is None else day_text(value)

    def sample(self, show: units.Units) -> str:
        """The example, the same in every system."""
        return self.shown(self.example, show)

    def assumed(self, show: units.Units) -> str:
        """The default, the same in every system."""
        return self.shown(self.default, show)


class Moment(Day):
    """A day and a time of day."""

    control = "datetime-local"

    def __init__(self, label: str, **options: Any) -> None:
        options.setdefault("most", (day_number(LAST_YEAR, 12, 31) or 0) * DAY + DAY - 1)
        super().__init__(label, **options)
        self.kind = "moment"

    def read(self, raw: Any, system: str) -> int:
        """Minutes; ValueError says how to write it."""
        found = read_moment(raw) if isinstance(raw, str) else None
        if found is None:
            raise ValueError(self.limit_text(units.Units(system)))
        return found

    def shown(self, value: Any, show: units.Units) -> str:
        """Day and time as they are typed."""
        return "" if value is None else moment_text(value)
