"""The page that lists every table and column an operator may fill in."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.core.html import grid
from tools.book.book import Book
from tools.book.tables import TABLES

from .page import Page

HEAD = (
    "Each table is a CSV file in the folder tables, or a workbook (XLSX) of the same name, whose first sheet "
    "is read. A cell left empty means: not measured. Lengths may be written as people write them. Days are "
    "written 2026-11-03; another order needs the entry dates in handbook.toml. An unlikely value is asked about "
    "until the row names its column under sure."
)


def pages(_: Book) -> Iterator[Page]:
    """The one page of the tables; the same for every operator."""
    parts = [HEAD]
    for each in TABLES:
        rows = [(name, field.label, "yes" if name in each.needed else "no", field.help)
                for name, field in each.columns().items()]  # fmt: skip
        parts.append(f"## {each.name}.csv\n\n" + grid(f"Columns of {each.name}.csv",
                     ("Column", "What it holds", "Needed", "Help"), rows))  # fmt: skip
    yield Page("reference/data.md", "Our data files", "\n\n".join(parts), ("Look up",), order=80)
