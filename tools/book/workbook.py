"""A table out of a workbook (XLSX): the first sheet as rows of plain text, as a person reads it.

What a person cannot see in it (a hidden row, the cells beneath a merged one, a formula that was
never worked out) is told, because the table would be read as another than the one on the screen.
"""

from __future__ import annotations

import datetime
import re
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tools.problems import Problem

from . import formats

if TYPE_CHECKING:
    from openpyxl.cell import Cell, MergedCell
    from openpyxl.worksheet.worksheet import Worksheet

MOST_UNPACKED = 200_000_000  # a packed file of a few kilobytes can hold any amount of nothing
MOST_ROWS = 100_000


@dataclass(frozen=True)
class Grid:
    """Rows with their numbers, and what is wrong with the workbook; ``whole`` as in a sheet."""

    rows: list[tuple[int, list[str]]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    whole: bool = False
    title: str = ""
    others: tuple[str, ...] = ()


def read_grid(path: Path) -> Grid:
    """Read the first sheet; whatever the file holds, no error leaves this function."""
    try:
        broken = _unfit(path)
        if broken:
            return _broken(path.name, broken)
        from openpyxl import (
            load_workbook,  # takes a third of a second, which a folder of CSV files need not wait for
        )

        values = load_workbook(path, data_only=True)
        formulas = load_workbook(path) if _has_formulas(path) else values  # opening takes most of the time
        if not values.worksheets:
            return _broken(path.name, "The workbook has no sheet with cells.")
        return _grid(path.name, values.worksheets[0], formulas.worksheets[0], tuple(values.sheetnames[1:]))
    except Exception as error:  # noqa: BLE001 - a damaged workbook fails in any line of the two libraries
        return _broken(path.name, f"The workbook is damaged ({type(error).__name__}).")


def _broken(file: str, what: str) -> Grid:
    mend = "Open it in a spreadsheet and save it again as an Excel workbook (.xlsx) without a password, or as CSV."
    return Grid(problems=[Problem(file, "", what, mend)], whole=True)


def _unfit(path: Path) -> str:
    """Why a file is not even opened."""
    if not zipfile.is_zipfile(path):
        return "It is no workbook, or it is locked with a password."
    with zipfile.ZipFile(path) as packed:
        if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED:
            return "The workbook is too large for a table."
        # No program for spreadsheets writes one, and an entity in it can grow without end.
        if any(b"<!DOCTYPE" in packed.read(part) for part in packed.infolist() if part.filename.endswith(".xml")):
            return "The workbook holds what no spreadsheet writes."
    return ""


def _has_formulas(path: Path) -> bool:
    with zipfile.ZipFile(path) as packed:
        return any(re.search(rb"<(?:\w+:)?f[\s/>]", packed.read(name)) for name in packed.namelist() if "worksheets/" in name)


def _grid(file: str, sheet: Worksheet, formulas: Worksheet, others: tuple[str, ...]) -> Grid:
    if sheet.max_row > MOST_ROWS:
        return _broken(file, f"The first sheet has {sheet.max_row} rows.")
    rows: list[tuple[int, list[str]]] = []
    problems: list[Problem] = []
    for number, (cells, sources) in enumerate(zip(sheet.iter_rows(), formulas.iter_rows(), strict=True), 1):
        read = [_text(file, cell, source, problems) for cell, source in zip(cells, sources, strict=True)]
        rows.append((number, read))
    filled = {number: [at for at, text in enumerate(read) if text] for number, read in rows}
    problems += _merged(file, sheet, filled)
    problems += _hidden(file, sheet, filled)
    return Grid(rows, problems, title=sheet.title, others=others)


def _text(file: str, cell: Cell | MergedCell, source: Cell | MergedCell, problems: list[Problem]) -> str:
    """What a cell says, as a person reads it."""

    def wrong(what: str, mend: str) -> str:
        problems.append(Problem(file, _place(cell), what, mend))
        return formats.figures(cell.value) if isinstance(cell.value, (int, float)) else ""

    if cell.value is None and source.data_type == "f" and cell.data_type != "str":
        return wrong("Its formula was never worked out.", "Open the workbook in a spreadsheet and save it again.")
    try:
        return _said(cell.value, cell.number_format)
    except formats.Unreadable as error:
        return wrong(str(error), "Show all its figures there, or set the cell to “Text” and type the value.")


def _said(value: Any, code: str) -> str:
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, datetime.datetime):
        return value.isoformat(" ") if value.time() != datetime.time() else value.date().isoformat()
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    if isinstance(value, (int, float)):
        return formats.shown(value, code)
    return "" if value is None else str(value)


def _place(cell: Cell | MergedCell) -> str:
    return f"row {cell.row}, column {cell.column}"


def _merged(file: str, sheet: Worksheet, filled: dict[int, list[int]]) -> Iterator[Problem]:
    """Merged cells that hold something: all but the first would be read as not measured."""
    for area in sorted(sheet.merged_cells.ranges, key=lambda each: (each.min_row, each.min_col)):
        first = str(sheet.cell(area.min_row, area.min_col).value or "")
        inside = any(area.min_col - 1 <= at < area.max_col for at in filled.get(area.min_row, ()))
        if inside and not first.startswith("#"):  # a remark may run across the sheet
            yield Problem(file, f"row {area.min_row}, cells {area.coord}", f"They are merged into one, “{first[:40]}”.",
                          "Take the merging off and fill each cell.")  # fmt: skip


def _hidden(file: str, sheet: Worksheet, filled: dict[int, list[int]]) -> Iterator[Problem]:
    rows = [number for number, each in sheet.row_dimensions.items() if each.hidden and filled.get(number)]
    if rows:
        yield Problem(file, f"row {_listed(rows)}", "Hidden, with something in it.",
                      "Show the row, or take the filter off; delete it if it no longer counts.")  # fmt: skip
    used = {at + 1 for cells in filled.values() for at in cells}
    columns = sorted(at for name, each in sheet.column_dimensions.items() if each.hidden
                     for at in range(each.min or 0, (each.max or 0) + 1) if at in used)  # fmt: skip
    if columns:
        yield Problem(file, f"column {_listed(columns)}", "Hidden, with something in it.",
                      "Show the column, or delete it if it no longer counts.")  # fmt: skip


def _listed(numbers: Iterable[int]) -> str:
    """“5”, “5 and 9”, “5, 6 and 9”; of many, the first few."""
    *rest, last = (str(number) for number in sorted(numbers)[:12])
    return f"{', '.join(rest)} and {last}" if rest else last
