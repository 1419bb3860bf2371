"""A second model of the readings: every minute of the window looked at by itself, with datetime and csv."""

from __future__ import annotations

import csv
import io
from datetime import datetime, timedelta

MINUTE = timedelta(minutes=1)
EVER = datetime.fromisoformat("2000-01-01"), datetime.fromisoformat("2100-01-01")
Row = tuple[datetime, float | None]


def rows(text: str) -> list[Row]:
    """The lines of a log as the library reads them; None for what is no number."""
    found = []
    for cells in csv.reader(io.StringIO(text)):
        try:
            at = datetime.fromisoformat(cells[0])
        except ValueError:
            continue
        try:
            found.append((at, float(cells[1])))
        except ValueError:
            found.append((at, None))
    return found


def minutes(known: list[Row], start: datetime, end: datetime, limit: float, gap: float) -> tuple[int, int]:
    """Minutes above the limit and minutes not known, each minute (t, t + 1] judged by the readings about it.

    A minute is above where the reading before it, or the one after it, is above; it is not known where none of the
    two is and they lie too far apart, or where it lies about a line that could not be read.
    """
    above = dark = 0
    torn = [_about(time, known) for time, value in known if value is None]
    at = start
    while at < end:
        before = [row for row in known if row[0] <= at and row[1] is not None and row[0] >= start]
        after = [row for row in known if row[0] >= at + MINUTE and row[1] is not None and row[0] <= end]
        one, two = (before[-1] if before else None), (after[0] if after else None)
        begin, stop = (one[0] if one else start), (two[0] if two else end)
        broken = any(first <= at and at + MINUTE <= last for first, last in torn)
        if (one and one[1] > limit) or (two and two[1] > limit):
            above += 1
        elif broken or (stop - begin).total_seconds() / 60 > gap:
            dark += 1
        at += MINUTE
    return above, dark


def _about(torn: datetime, known: list[Row]) -> tuple[datetime, datetime]:
    """From the reading before a line that could not be read to the one after it."""
    good = [time for time, value in known if value is not None]
    return (max((time for time in good if time <= torn), default=EVER[0]),
            min((time for time in good if time >= torn), default=EVER[1]))  # fmt: skip
