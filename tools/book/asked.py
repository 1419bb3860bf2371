"""Values that can be true but seldom are: each is asked about until its row says that it is meant.

A row says so in the column ``sure``, which names the columns that are meant. A question that fits
most rows of a table is asked once, of the column, because it has one cause.
"""

from __future__ import annotations

import bisect
import datetime
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from statistics import median
from typing import Any

from calculators.core import Count, Field, Quantity
from calculators.core.units import Units
from tools.problems import Problem

from . import days
from .cells import Settings
from .tables import TABLES, Row

# How many times the others a value is before it is asked about: a slip of cents for whole units is
# a hundred, of grams for ounces 28, of millimeters for inches 25.
TIMES = {"money": 20.0, "mass": 20.0, "small_mass": 20.0, "length": 20.0}
SPREAD = {"length": 100.0, "run": 100.0, "ratio": 100.0, "per_day": 100.0, "days": 100.0}
# Tables of things much alike; ways into a building are not.
ALIKE = ("machines", "products", "coils", "tubes", "trays")
FEWEST = 3  # others, before a value is compared with them
SAME_CAUSE = 4  # rows of one question, before it is asked of the column
DEAR = 5000  # hundredths: above it, a price written without a point may be of hundredths
LIGHT = 20.0  # kg of a cabinet
YEARS = 20  # round the edition: installs are planned, tests are past
# Columns of which the first is not greater than the second, and how a row that is says so.
PAIRS = {
    "machines": (("cabinet_width", "cabinet_height", "wider than it is high"),),
    "products": (("thickness", "breadth", "more than its breadth"),
                 ("foot_diameter", "diameter", "more than its greatest diameter")),
    "routes": (("width", "height", "wider than it is high"),),
}  # fmt: skip
_ONLY = {"routes": ("kind", "doorway")}


@dataclass(frozen=True)
class Question:
    """One value of one row; ``about`` is what the same question says of a whole column."""

    row: Row
    column: str
    what: str
    about: str


def check(tables: Mapping[str, list[Row]], settings: Settings, problems: list[Problem]) -> None:
    """Ask about every value that is not said to be meant and is not a mistake already."""
    told = {(problem.file, problem.place) for problem in problems}
    for table in TABLES:
        rows = tables[table.name]
        problems += _sure(rows, table.columns())
        asked: dict[tuple[str, str], list[Question]] = defaultdict(list)
        seen = set()
        for each in _questions(table.name, table.columns(), rows, settings):
            mark = (each.row.number, each.column)
            if mark in seen or each.column in _meant(each.row) or (each.row.file, _place(each)) in told:
                continue
            seen.add(mark)
            asked[each.column, each.about].append(each)
        for questions in asked.values():
            problems += _asked(questions, sum(questions[0].column in row.typed for row in rows))


def _place(each: Question) -> str:
    return f"row {each.row.number}, column {each.column}"


def _asked(questions: list[Question], filled: int) -> list[Problem]:
    first = questions[0]
    if len(questions) >= SAME_CAUSE and 2 * len(questions) > filled:
        numbers = ", ".join(str(each.row.number) for each in questions[:6])
        return [Problem(first.row.file, f"row 1, column {first.column}", f"{first.about} This holds for "
                        f"{len(questions)} of {filled} rows ({numbers} …); the first has “{first.row.cell(first.column)}”.",
                        f"Correct the column; where it is meant, write {first.column} under sure in the row.")]  # fmt: skip
    return [Problem(each.row.file, _place(each), each.what,
                    f"Correct it, or write {each.column} under sure in this row if it is meant.")
            for each in questions]  # fmt: skip


def _meant(row: Row) -> list[str]:
    return re.split(r"[\s,;]+", row.typed.get("sure", ""))


def _sure(rows: Iterable[Row], columns: Mapping[str, Field]) -> list[Problem]:
    return [Problem(row.file, f"row {row.number}, column sure", f"There is no column “{name}”.",
                    "Name the columns that are meant, apart by spaces.")
            for row in rows for name in _meant(row) if name and name not in columns]  # fmt: skip


def _questions(table: str, columns: Mapping[str, Field], rows: list[Row], settings: Settings) -> Iterator[Question]:
    yield from _pairs(table, rows)
    if table == "products":
        yield from _hundredths(rows)
    if table in ("machines", "sites"):
        yield from _light(rows, settings)
        yield from _shares(rows)
    for name, field in columns.items():
        if isinstance(field, Quantity) and not isinstance(field, Count):
            yield from _unlike(table, field, name, rows, settings)
        if isinstance(field, (days.Day, days.SpokenDay)):
            yield from _far_days(name, rows, settings, past=isinstance(field, days.Day))


def _pairs(table: str, rows: list[Row]) -> Iterator[Question]:
    only, kind = _ONLY.get(table, ("", None))
    for small, large, words in PAIRS.get(table, ()):
        for row in rows:
            low, high = row.values.get(small), row.values.get(large)
            if low is not None and high is not None and low > high and row.values.get(only) == kind:
                yield Question(row, small, f"“{row.cell(small)}” is {words}, “{row.cell(large)}”.",
                               f"{small} is greater than {large}: perhaps the two columns are swapped.")  # fmt: skip


def _hundredths(rows: list[Row]) -> Iterator[Question]:
    """A price such as 150: whole, and dear."""
    for row in rows:
        price, typed = row.values.get("price"), row.cell("price")
        if price is not None and price >= DEAR and typed.isdigit():
            yield Question(row, "price", f"“{typed}” is read as {price // 100}.{price % 100:02d}; "
                           f"{int(typed) / 100:.2f} may be meant.",
                           "Prices without a point are read as whole, so 150 as 150.00; 1.50 may be meant.")  # fmt: skip


def _light(rows: list[Row], settings: Settings) -> Iterator[Question]:
    for row in rows:
        mass = row.values.get("cabinet_mass")
        if mass is not None and mass < LIGHT:
            yield Question(row, "cabinet_mass", f"“{row.cell('cabinet_mass')}” is little for a cabinet: less than "
                           f"{Units(settings.units).text(LIGHT, 'mass')}.", "Cabinets seldom weigh so little.")  # fmt: skip


def _shares(rows: list[Row]) -> Iterator[Question]:
    for row in rows:
        notes, cashless = row.values.get("share_notes"), row.values.get("share_cashless")
        if notes is not None and cashless is not None and notes + cashless > 100:
            yield Question(row, "share_cashless", f"“{row.cell('share_cashless')}” cashless and “{row.cell('share_notes')}”"
                           " with bills are more than all sales.", "Shares of all sales come to more than 100.")  # fmt: skip


def _unlike(table: str, field: Field, name: str, rows: list[Row], settings: Settings) -> Iterator[Question]:
    """Values many times those of the other rows, or the same part of them."""
    times = TIMES.get(field.kind) if table in ALIKE or field.kind != "length" else None
    times = times or SPREAD.get(field.kind)
    known = [row for row in rows if (row.values.get(name) or 0) > 0]
    if not times or len(known) <= FEWEST:
        return
    ordered = sorted(row.values[name] for row in known)
    for row in known:
        value = row.values[name]
        usual = _middle_of_others(ordered, value)
        if value >= times * usual or value * times <= usual:
            shown = Units(settings.units, (settings.sign, 100)).text(usual, field.kind)
            yield Question(row, name, f"“{row.cell(name)}” is far from the others, which are about {shown}.",
                           "Many are far from the others.")  # fmt: skip


def _middle_of_others(ordered: list[Any], value: Any) -> float:
    """The median of the others, without a list made for each."""
    at = bisect.bisect_left(ordered, value)
    last = len(ordered) - 2
    low, high = (middle + (middle >= at) for middle in (last // 2, (last + 1) // 2))
    return float(ordered[low] + ordered[high]) / 2


def _far_days(name: str, rows: list[Row], settings: Settings, *, past: bool) -> Iterator[Question]:
    """Days many years from the edition, and tests that are later than it."""
    found = [(row, day) for row in rows if (day := _day(row.typed.get(name, "")))]
    edition, whose = _edition(settings.edition), f"the edition, “{settings.edition}”"
    if edition is None and len(found) > FEWEST:
        year = int(median(day.year for _, day in found))
        edition, past, whose = datetime.date(year, 12, 31), False, f"the other rows, about {year}"
    for row, day in found:
        if edition and past and day > edition:
            yield Question(row, name, f"“{row.cell(name)}” is later than {whose}, and a test lies behind us.",
                           f"Days are later than {whose}: perhaps edition in handbook.toml is an old one.")  # fmt: skip
        elif edition and abs(day.year - edition.year) > YEARS:
            yield Question(row, name, f"“{row.cell(name)}” is {abs(day.year - edition.year)} years from {whose}.",
                           f"Days are far from {whose}.")  # fmt: skip


def _day(text: str) -> datetime.date | None:
    try:
        return datetime.date.fromisoformat(text) if len(text) == 10 else None
    except ValueError:
        return None


def _edition(text: str) -> datetime.date | None:
    """The last day that an edition's name may mean: its day, or the end of its year."""
    day = re.search(r"\d{4}-\d{2}-\d{2}", text)
    year = re.search(r"(?<!\d)(?:19|20)\d{2}(?!\d)", text)
    return (_day(day[0]) if day else None) or (datetime.date(int(year[0]), 12, 31) if year else None)
