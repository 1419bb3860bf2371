"""Where a log has its day, its time and its temperature, and how it writes its numbers."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from . import clock

TRIED = 40  # lines within which a log must begin
_NUMBER = re.compile(r"[+\-−]? *(?:\d+(?:[.,]\d*)?|[.,]\d+)", re.ASCII)
_SCALE = re.compile(r"(?:°|º|deg(?:rees)?\.?|\(|\[|_|\b) *(c|f|celsius|fahrenheit)\b", re.IGNORECASE)
_WORDS = re.compile(r"temp|°|º|celsius|fahrenheit", re.IGNORECASE)
# What a column of numbers may be that is no reading of the food or its air: what was wished, what is about the cabinet, what else
# an instrument measures or counts.
_OTHER = re.compile(r"(?<![a-z])(?:set(?:ting|[ _-]?points?)?|targets?|goal|wanted|desired|rooms?|ambient|surroundings?|outside|outdoors?|"
                    r"limits?|alarms?|thresholds?|humidity|rh|dew|pressure|battery|volts?|voltage|signal|rssi|light|lux|door|events?|"
                    r"status|no|nr|number|index|id|serial|record|line|count)(?![a-z])|%|#", re.IGNORECASE)  # fmt: skip


class Unreadable(Exception):
    """A log of which nothing can be read; the words say what to do. ``field`` is the input that it disagrees with."""

    def __init__(self, text: str, field: str = "log") -> None:
        super().__init__(text)
        self.field = field


@dataclass(frozen=True)
class Layout:
    """How a log is written: its separator, its columns and the scale that its heading names."""

    separator: str
    first: int  # the index of its first line with a reading
    date: int
    time: int | None
    degrees: int
    scale: str = ""
    head: list[str] = field(default_factory=list)
    wide: int = 0  # cells of its widest line up to there; what has more of them later is cut somewhere else


def cells(line: str, separator: str) -> list[str]:
    """The cells of a line; quotes may hold a separator."""
    if '"' not in line:
        return [cell.strip() for cell in line.split(separator)]
    found, held, quoted = [], "", False
    for sign in line:
        if sign == '"':
            quoted = not quoted
        elif sign == separator and not quoted:
            found.append(held.strip())
            held = ""
        else:
            held += sign
    return [*found, held.strip()]


def number(text: str) -> float | None:
    """A bare number with a point or a comma before its decimals; None for anything else."""
    if not text.isascii() or "_" in text or "e" in text.lower():
        return _written(text)
    try:
        value = float(text)
    except ValueError:
        return _written(text)
    return value if value - value == 0 else None  # nan and inf are words of an instrument in trouble


def _written(text: str) -> float | None:
    return float(text.replace(",", ".").replace("−", "-").replace(" ", "")) if _NUMBER.fullmatch(text) else None


def scale_of(text: str) -> str:
    """The scale that a heading or a cell names: c, f or nothing."""
    found = _SCALE.search(text)
    return found[1][0].lower() if found else ""


def separator_of(lines: Sequence[str]) -> str:
    """The sign between cells: a tab, a semicolon, else a comma."""
    some = lines[:TRIED]
    for sign in ("\t", ";"):
        if sum(sign in line for line in some) * 2 > len(some):
            return sign
    return ","


def layout(lines: Sequence[str]) -> Layout:
    """Read the first lines; raises :class:`Unreadable`."""
    sign = separator_of(lines)
    for index, line in enumerate(lines[:TRIED]):
        row = cells(line, sign)
        date = next((at for at, cell in enumerate(row) if clock.parts(clock.split(cell)[0])), None)
        if date is not None:
            above = [cells(each, sign) for each in lines[:index]]
            at = _head(above)
            head = above[at] if above and not _numbers(above[at]) else []
            return _with(sign, _first(above, at, len(row)), date, row, head, lines[index : index + TRIED])
    raise Unreadable(f"No day was found in its first {min(len(lines), TRIED)} lines. Each line needs a day, a time and a "
                     "temperature, such as: 2026-11-28 14:30, 3.5 °C")  # fmt: skip


def _head(above: list[list[str]]) -> int:
    """Which of the lines above the first day is the heading: the last that names a temperature and holds no number."""
    named = [at for at, row in enumerate(above) if len(row) > 1 and any(map(_WORDS.search, row)) and not _numbers(row)]
    return named[-1] if named else len(above) - 1


def _first(above: list[list[str]], head: int, wide: int) -> int:
    """The line with which readings begin: what stands below a heading, or looks like a reading, must not go unread."""
    if head < len(above) - 1:
        return head + 1
    first = len(above)
    while first and len(above[first - 1]) == wide and _numbers(above[first - 1]):
        first -= 1
    return first


def _numbers(row: list[str]) -> bool:
    return any(_holds(row, at) for at in range(len(row)))


def _with(sign: str, index: int, date: int, row: list[str], head: list[str], lines: Sequence[str]) -> Layout:
    time = None if clock.split(row[date])[1] else next(
        (at for at, cell in enumerate(row) if at != date and clock.time(clock.split(f"x {cell}")[1]) is not None), None)
    if time is None and not clock.split(row[date])[1]:
        raise Unreadable("Its lines have a day and no time. Export it again with the time of each reading.")
    rows = [cells(line, sign) for line in lines]
    wide = max(map(len, rows))
    open_ = [at for at in range(wide) if at not in (date, time) and any(_holds(each, at) for each in rows)]
    at = _degrees([each for each in open_ if each > date] or open_, head, sign)
    return Layout(sign, index, date, time, at, scale_of(head[at]) if at < len(head) else "", head, max(wide, len(head)))


def _holds(row: list[str], at: int) -> bool:
    """Whether a cell holds a number, with a scale or without."""
    return at < len(row) and number(bare(row[at])[0]) is not None


def bare(cell: str) -> tuple[str, str]:
    """A cell without its scale, and the scale."""
    text = cell.rstrip()
    if text and text[-1] in "cCfF" and text[:1].strip(" +-−.,0123456789") == "":
        return text[:-1].rstrip(" °º"), text[-1].lower()
    return text.rstrip(" °º"), ""


def _degrees(open_: list[int], head: list[str], sign: str) -> int:
    """The column of the temperature: the only one that may be it. What its heading says to be something else is none."""
    if not open_:
        raise Unreadable("No column of numbers was found beside the time. Each line needs a temperature.")
    found = [at for at in open_ if at >= len(head) or not _OTHER.search(head[at])]
    names = ", ".join(head[at] if at < len(head) and head[at] else f"column {at + 1}" for at in found or open_)
    if not found:
        raise Unreadable(f"By its heading no column is the temperature of the food or its air ({names}). Leave the day, the time and "
                         "that column, with a heading such as: temperature °C")  # fmt: skip
    if len(found) > 1:
        comma = " A comma before decimals counts as one: export it with a point there." if sign == "," else ""
        raise Unreadable(f"It has several columns that may be the temperature ({names}). Leave one of them, the warmest part.{comma}")
    return found[0]
