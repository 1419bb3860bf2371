"""Dates and times as logs write them: year first, or in the order that the reader names."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..core.moments import DAY, day_number

_PARTS = re.compile(r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})\.?", re.ASCII)
_TIME = re.compile(r"(\d{1,2})[:.](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)? *([ap])?\.?(?:m\.?)?", re.ASCII | re.IGNORECASE)
_ZONE = re.compile(r" *(?:(z|utc|gmt)|([+-])(\d{2}):?(\d{2}))$", re.ASCII | re.IGNORECASE)
ORDERS = ("day", "month")


def parts(text: str) -> tuple[int, int, int] | None:
    """The three numbers of a date, as they stand."""
    found = _PARTS.fullmatch(text)
    return (int(found[1]), int(found[2]), int(found[3])) if found else None


def is_year_first(text: str) -> bool:
    """Whether a date begins with a year of four digits."""
    found = _PARTS.fullmatch(text)
    return found is not None and len(found[1]) == 4


def day(text: str, order: str) -> int | None:
    """A date's number of days; None where there is no such day."""
    found = parts(text)
    if found is None:
        return None
    if is_year_first(text):
        return day_number(*found)
    first, second, year = found
    year += 2000 if year < 100 else 0
    return day_number(year, second, first) if order == "day" else day_number(year, first, second)


def time(text: str) -> float | None:
    """Minutes since midnight; None where it is no time of day."""
    found = _TIME.fullmatch(text.strip())
    if not found:
        return None
    hour, minute, second, half = int(found[1]), int(found[2]), int(found[3] or 0), found[4]
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half.lower() == "p" else 0)
    return hour * 60 + minute + second / 60 if hour < 24 and minute < 60 and second < 60 else None


def split(text: str) -> tuple[str, str, str]:
    """Day, time and mark of a zone of a cell; the last two may be empty."""
    date, _, rest = text.strip().replace("T", " ", 1).partition(" ")
    zone = _ZONE.search(rest)
    return (date, rest[: zone.start()], zone[0].strip()) if zone else (date, rest.strip(), "")


def offset(zone: str) -> float | None:
    """Minutes of a mark such as +01:00; None for universal time, of which nobody's wall clock need show the hour."""
    found = _ZONE.fullmatch(zone)
    if not found or found[1]:
        return None
    return (int(found[3]) * 60 + int(found[4])) * (-1 if found[2] == "-" else 1)


def orders(dates: Sequence[str]) -> set[str]:
    """In which orders all these dates are days; both where nothing tells."""
    ways = set(ORDERS)
    for text in dates:
        found = parts(text)
        if found is None or is_year_first(text):
            continue
        if found[0] > 12 >= found[1]:
            ways.discard("month")
        if found[1] > 12 >= found[0]:
            ways.discard("day")
    return ways


def whole_day(minutes: float) -> int:
    """The day that a moment belongs to."""
    return int(minutes // DAY)
