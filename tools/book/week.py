"""Days of the week on which a site is visited, over a fortnight: “Mon Thu”, “odd Tue”, “even Fri”.

A day is a number from 0, the Monday of an odd week, to 13, the Sunday of an even one. Whether a week is odd is the
operator's own count; there is no clock here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from calculators.core import Field
from calculators.core.units import Units
from tools.problems import Problem

if TYPE_CHECKING:
    from .tables import Row

NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
WEEKS = {"odd": (0,), "even": (1,)}
BOTH = (0, 1)
FORTNIGHT = 14
APART = 0.5  # days; four days on file and two visits a week agree
HOW = "Days are written Mon Thu, those of every other week odd Mon or even Mon."


class VisitDays(Field):
    """The days of a site's visits."""

    def read(self, raw: object, system: str) -> str:
        """The text as it is; ValueError where a word of it is no day."""
        text = str(raw).strip()
        days_of(text)
        return text

    def limit_text(self, show: Units) -> str:
        """How they are written."""
        return HOW


def days_of(text: str) -> list[int]:
    """The days of a fortnight in order; ValueError where a word is none."""
    found: set[int] = set()
    weeks: tuple[int, ...] | None = None
    for word in re.split(r"[\s,;]+", text.strip().lower()):
        if word in WEEKS:
            weeks = WEEKS[word]
        elif word:
            found.update(7 * week + _number(word) for week in weeks or BOTH)
            weeks = None
    if not found or weeks is not None:
        raise ValueError(HOW)
    return sorted(found)


def _number(word: str) -> int:
    for number, name in enumerate(NAMES):
        if len(word) >= 2 and name.lower().startswith(word):
            return number
    raise ValueError(HOW)


def gaps(days: list[int]) -> list[int]:
    """From each day to the next one, round the fortnight."""
    after = [*days[1:], days[0] + FORTNIGHT]
    return [later - day for day, later in zip(days, after, strict=True)]


def is_weekly(days: list[int]) -> bool:
    """Whether both weeks are alike."""
    return {day for day in days if day < 7} == {day - 7 for day in days if day >= 7}


def called(day: int, *, weekly: bool) -> str:
    """“Monday”, or “Monday, even week”."""
    name = NAMES[day % 7]
    return name if weekly else f"{name}, {'even' if day >= 7 else 'odd'} week"


def of(site: Row) -> list[int]:
    """A site's days; none where its row does not say."""
    return days_of(site.typed["visit_days"]) if site.values.get("visit_days") else []


def longest(site: Row) -> float | None:
    """The longest time between two visits: by the days of the week, else as the row says."""
    days = of(site)
    return float(max(gaps(days))) if days else site.values.get("days")


def check(sites: list[Row]) -> Iterator[Problem]:
    """Days of the week that do not fit the days to the next visit, which float and plan go by."""
    for site in sites:
        visits, days = of(site), site.values.get("days")
        if visits and days and abs(FORTNIGHT / len(visits) - days) > APART:
            yield Problem(site.file, f"row {site.number}, columns visit_days and days",
                          f"“{site.typed['visit_days']}” is a visit every {FORTNIGHT / len(visits):g} days, and days says {days:g}.",
                          "Correct one of them.")  # fmt: skip
