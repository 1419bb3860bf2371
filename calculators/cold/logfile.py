"""A log of temperatures as an instrument wrote it: read line by line, and nothing dropped without a word."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass, field

from ..core.moments import DAY
from . import clock, columns, series
from .columns import Layout, Unreadable
from .inputs import COLDEST, WARMEST
from .series import UNTIL, Series, Trouble

MOST = 10_000  # lines of readings; as many as a form's Log takes
Table = list[tuple[int, list[str]]]


@dataclass
class Reader:
    """What is met on the way through a log. ``scale`` is that of bare numbers, ``base`` the one to differ from."""

    layout: Layout
    order: str
    scale: str
    base: str
    series: Series = field(default_factory=Series)
    days: dict[str, int | None] = field(default_factory=dict)
    times: dict[str, float | None] = field(default_factory=dict)


@functools.lru_cache(maxsize=4)
def read(text: str, order: str, scale: str) -> Series:
    """All readings of a log in the order of time; ``order`` and ``scale`` are the reader's own answers, or empty.

    Raises :class:`Unreadable` with what to do.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    numbered = [(number, line) for number, line in enumerate(lines, 1) if line.strip()]
    if not numbered:
        raise Unreadable("It holds no lines.")
    layout = columns.layout([line for _, line in numbered])
    found = numbered[layout.first :]
    if len(found) > MOST:
        raise Unreadable(f"It has {len(found)} lines of readings, and {MOST} can be worked on: keep those since this food was "
                         "put in.")  # fmt: skip
    table = [(number, columns.cells(line, layout.separator)) for number, line in found]
    return _read(table, layout, order, scale)


def _read(table: Table, layout: Layout, order: str, scale: str) -> Series:
    if layout.scale and scale and layout.scale != scale:
        raise Unreadable(f"Its heading says °{layout.scale.upper()}, and “Numbers in the log” says °{scale.upper()}: correct that one, or "
                         "the heading.", "log_scale")  # fmt: skip
    bare = layout.scale or scale
    base = bare or next(_named(table, layout), "")
    if not base:
        raise Unreadable("It does not say whether its numbers are °C or °F: say it under “Numbers in the log”.")
    reader = Reader(layout, _order(table, layout, order), bare, base)
    for row, cells in table:
        _line(row, cells, reader)
    if not reader.series.times:
        raise Unreadable("None of its lines holds a day, a time and a temperature.")
    return series.ordered(reader.series)


def _named(table: Table, layout: Layout) -> Iterator[str]:
    """The scales that cells themselves name."""
    for _, cells in table:
        if layout.degrees < len(cells) and (named := columns.bare(cells[layout.degrees])[1]):
            yield named


def _order(table: Table, layout: Layout, order: str) -> str:
    """Day first or month first; raises where a date could be two days and nobody said which."""
    dates = dict.fromkeys(clock.split(cells[layout.date])[0] for _, cells in table if layout.date < len(cells))
    unclear = [date for date in dates if clock.parts(date) and not clock.is_year_first(date)]
    if order or not unclear:
        return order or "day"
    ways = clock.orders(unclear)
    if len(ways) == 1:
        return ways.pop()
    if ways:
        raise Unreadable(f"{unclear[0]} could be two days: say under “Dates in the log” which comes first.")
    raise Unreadable("Some of its dates have the day first and some the month first: export it again, year first.")


def _line(row: int, cells: list[str], reader: Reader) -> None:
    """One line into the series, or told."""
    date, time, zone = _parts(cells, reader.layout)
    if not clock.parts(date) and not any(map(_is_number, cells)):
        # A heading that comes again is one; anything else may have been a reading.
        is_head = cells == reader.layout.head
        reader.series.lost = reader.series.lost or not is_head
        reader.series.tell(Trouble("text", row, f"“{_brief(' '.join(cells))}” is no reading.", "It is left out." if is_head else
                                   f"Take it out, if it is only a remark. {UNTIL}", harmless=is_head))  # fmt: skip
        return
    at = _moment(row, date, time, reader)
    degrees = _degrees(row, cells, reader)
    if at is None or degrees is None:
        reader.series.lost = True  # something was read then, and nobody knows what, or when
    else:
        reader.series.add(row, at, degrees, _minutes(zone))


def _is_number(cell: str) -> bool:
    return columns.number(columns.bare(cell)[0]) is not None


def _brief(text: str) -> str:
    return text if len(text) <= 30 else f"{text[:30]}…"


def _parts(cells: list[str], layout: Layout) -> tuple[str, str, str]:
    """Day, time and zone of a line, as they stand in one cell or in two."""
    date, time, zone = clock.split(cells[layout.date]) if layout.date < len(cells) else ("", "", "")
    if layout.time is None:
        return date, time, zone
    return (date, *clock.split(f"x {cells[layout.time]}")[1:]) if layout.time < len(cells) else (date, "", "")


def _moment(row: int, date: str, time: str, reader: Reader) -> float | None:
    if date not in reader.days:
        reader.days[date] = clock.day(date, reader.order)
    if time not in reader.times:
        reader.times[time] = clock.time(time)
    number, minutes = reader.days[date], reader.times[time]
    if number is None or minutes is None:
        reader.series.tell(Trouble("time", row, f"“{_brief(f'{date} {time}'.strip())}” is no day and time.",
                                   f"Correct it after the instrument. {UNTIL}"))  # fmt: skip
        return None
    return number * DAY + minutes


def _minutes(zone: str) -> float | None:
    """The offset that a time names; None where it names none."""
    if not zone:
        return None
    minutes = clock.offset(zone)
    if minutes is None:
        raise Unreadable("Its times are those of universal time (Z, UTC, GMT). Export it again with the time of your own clock.")
    return minutes


def _degrees(row: int, cells: list[str], reader: Reader) -> float | None:
    if any(map(_is_number, cells[reader.layout.wide :])):
        # A comma before decimals may have cut its temperature in two.
        reader.series.tell(Trouble("cut", row, "It has more numbers than the other lines.",
                                   f"Write decimals with a point, and take out what is no reading. {UNTIL}"))  # fmt: skip
        return None
    cell = cells[reader.layout.degrees] if reader.layout.degrees < len(cells) else ""
    value, scale = columns.number(cell), reader.scale
    if value is None:
        text, named = columns.bare(cell)
        value, scale = columns.number(text), named or scale
    if value is not None and not scale:
        reader.series.tell(Trouble("scale", row, f"“{_brief(cell)}” says neither °C nor °F, and others do.",
                                   f"Write it in, or say it under “Numbers in the log”. {UNTIL}"))  # fmt: skip
        return None
    celsius = None if value is None else (value - 32) / 1.8 if scale == "f" else value
    if celsius is None or not COLDEST <= celsius <= WARMEST:
        reader.series.tell(Trouble("error", row, f"“{_brief(cell)}” is no temperature of a cabinet.",
                                   f"Read the instrument again. {UNTIL}"))  # fmt: skip
        return None
    if scale != reader.base:
        reader.series.tell(Trouble("mixed", row, f"“{_brief(cell)}” is in another scale than the rest.",
                                   "It was taken as it says. See that it is so.", harmless=True))  # fmt: skip
    return celsius
