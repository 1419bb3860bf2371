"""A table as a spreadsheet saves it, turned into plain rows: encoding, separator, error values.

Everything that a program for spreadsheets may do to a file is met here, so that whoever reads the
cells meets plain text: UTF-8 with or without a mark, UTF-16, Windows-1252; comma, semicolon or
tab; a decimal comma; error values; a workbook in place of a text. What is wrong with the file as a
whole is told alone, ahead of all that would follow from it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from tools.problems import Problem

from . import letters, workbook

# What a cell shows where its formula has failed, in English and in the other tongues of a
# European spreadsheet. A row that begins with one is a broken row and never a remark.
ERRORS = (
    "#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#SPILL!", "#CALC!", "#GETTING_DATA",
    "#NV", "#BEZUG!", "#WERT!", "#ZAHL!", "#NOMBRE!", "#VALEUR!", "#NOM?", "#VALOR!", "#¡VALOR!", "#¿NOMBRE?",
    "#¡REF!", "#¡DIV/0!", "#VERW!", "#WAARDE!", "#N/B", "#FEHLER!", "#ERROR!",
)  # fmt: skip
_ERROR_CODE = re.compile(r"^(?:err|fehler):[0-9]{3}$", re.IGNORECASE)  # Err:502
KINDS = (".csv", ".xlsx")
# What else a table is kept in: read by nobody here, so it is told where no other stands beside it.
OTHER_KINDS = (".ods", ".xls", ".xlsm", ".fods", ".numbers", ".tsv", ".txt")
SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
LONGEST = 2000
MOST_BYTES = 20_000_000
csv.field_size_limit(MOST_BYTES)  # a cell too long is told like any other mistake
# As rows.js writes it.
_GUARDED = re.compile(r"'+[=+\-@]")
# A number with one comma: 12,5 or 1,25. With exactly three figures after it, it may be a thousand.
_DECIMAL_COMMA = re.compile(r"(?<![\d,.])(\d+),(\d+)(?![\d,.])")


@dataclass(frozen=True)
class Sheet:
    """The rows of a file with the numbers that a spreadsheet shows beside them.

    ``whole`` is what is wrong with the file itself: nothing in it can be relied on then.
    """

    file: str
    head: list[str] = field(default_factory=list)
    rows: list[tuple[int, list[str]]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    whole: bool = False


def find_sheet(folder: Path, name: str, known: Collection[str]) -> Sheet | None:
    """Read the file of a table, whichever of :data:`KINDS` it is; None where there is none."""
    found = [folder / f"{name}{kind}" for kind in KINDS if (folder / f"{name}{kind}").is_file()]
    if len(found) > 1:
        both = " and ".join(path.name for path in found)
        return _broken(found[0].name, f"{both} stand side by side, and only one can be the table.",
                       "Keep the one you work in; move the other out of the folder.")  # fmt: skip
    if found:
        return read_sheet(found[0], known)
    other = next((path for kind in OTHER_KINDS if (path := folder / f"{name}{kind}").is_file()), None)
    return None if other is None else _broken(
        other.name, "A file of this kind cannot be read.",
        f"Open it in a spreadsheet and save it as {name}.csv or {name}.xlsx.")  # fmt: skip


def read_sheet(path: Path, known: Collection[str]) -> Sheet:
    """Read a file; ``known`` are the columns that its first row may name."""
    if path.stat().st_size > MOST_BYTES:
        return _broken(path.name, "The file is too large for a table.",
                       "Keep one row for each thing, and take out pictures and empty rows.")  # fmt: skip
    if path.suffix == ".xlsx":
        return _from_workbook(path, known)
    text = decoded(path.read_bytes())
    if text is None:
        return _broken(path.name, "The file holds bytes that are no text.", "Save it again as “CSV UTF-8”.")
    separator = separator_of(text, known)
    if separator is None:
        return _unknown_head(path.name, text, known)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    return _rows(path.name, enumerate(rows, 1), comma=separator != ",")


def _from_workbook(path: Path, known: Collection[str]) -> Sheet:
    grid = workbook.read_grid(path)
    if grid.whole:
        return Sheet(path.name, problems=grid.problems, whole=True)
    first = next((cells for _, cells in grid.rows if any(cells)), [])
    if not any(cell.strip() in known for cell in first):
        others = f" Only the first sheet is read; there are also: {', '.join(grid.others)}." if grid.others else ""
        unknown = _unknown_head(path.name, ", ".join(first).strip(", "), known)
        return _broken(path.name, unknown.problems[0].what + others, unknown.problems[0].mend)
    # A number in it has a point whatever the country; a comma in one is somebody's own typing.
    sheet = _rows(path.name, grid.rows, comma=True)
    named = [_by_name(problem, sheet.head) for problem in grid.problems]
    return Sheet(path.name, sheet.head, sheet.rows, named + sheet.problems)


def _by_name(problem: Problem, head: list[str]) -> Problem:
    """A problem of a workbook with the column's name in place of its number."""

    def name(found: re.Match[str]) -> str:
        at = int(found[1]) - 1
        return f"column {head[at]}" if at < len(head) and head[at] else found[0]

    return Problem(problem.file, re.sub(r"column (\d+)$", name, problem.place), problem.what, problem.mend)


def decoded(data: bytes) -> str | None:
    """The text of a file; None where it is none."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        encodings = ["utf-16"]
    elif data[1:2] == b"\0" or data[:1] == b"\0":  # plain letters in two bytes each, without a mark
        encodings = ["utf-16-le" if data[1:2] == b"\0" else "utf-16-be"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        return None if "\0" in text else text
    return None


def separator_of(text: str, known: Collection[str]) -> str | None:
    """What stands between the cells: that by which the first row names most columns; None for none."""
    first = next((line for line in text.splitlines() if any(map(str.isalnum, line))), "")
    named = {mark: sum(cell.strip().strip('"').strip() in known for cell in first.split(mark)) for mark in SEPARATORS}
    best = max(named, key=lambda mark: named[mark])
    return best if named[best] else None


def _rows(file: str, numbered: Iterable[tuple[int, list[str]]], *, comma: bool) -> Sheet:
    head: list[str] | None = None
    rows: list[tuple[int, list[str]]] = []
    problems: list[Problem] = []
    for number, raw in numbered:
        cells = [_own(letters.cleaned(cell)) for cell in raw]
        while cells and not cells[-1]:
            cells.pop()
        if not cells or _is_remark(cells):
            continue
        if head is None:
            head = cells
            continue
        problems += _bad_cells(file, number, head, cells, decimal_comma=comma)
        rows.append((number, [_with_point(cell) if comma else cell for cell in cells]))
    return Sheet(file, head or [], rows, problems)


def _own(cell: str) -> str:
    """A cell without the quote that our pages put before =, +, - or @, so that no program works it out."""
    return cell[1:] if _GUARDED.match(cell) else cell


def _is_remark(cells: list[str]) -> bool:
    """A row of one cell that begins with #: somebody's remark, as long as it is no error value."""
    return len(cells) == 1 and cells[0].startswith("#") and not is_error(cells[0])


def is_error(cell: str) -> bool:
    """Whether a cell shows that its formula has failed."""
    return cell.upper() in ERRORS or bool(_ERROR_CODE.match(cell))


def _bad_cells(file: str, number: int, head: list[str], cells: list[str], *, decimal_comma: bool) -> list[Problem]:
    found = []
    for at, cell in enumerate(cells):
        name = head[at] if at < len(head) and head[at] else str(at + 1)
        for what, mend in _complaints(cell, decimal_comma=decimal_comma):
            found.append(Problem(file, f"row {number}, column {name}", what, mend))
    return found


def _complaints(cell: str, *, decimal_comma: bool) -> list[tuple[str, str]]:
    if len(cell) > LONGEST:
        return [(f"The cell holds {len(cell)} characters.", f"Shorten it to {LONGEST} at most.")]
    unfit = letters.complaint(cell)
    if unfit:
        return [unfit]
    if is_error(cell):
        return [(f"“{cell}” is an error of the spreadsheet, not a value.",
                 "Fix its formula there, or type the value itself; leave the cell empty if it is not measured.")]  # fmt: skip
    meant = _meant(cell)
    if meant:
        return [(f"“{cell}” holds damaged letters.", f"It may have been “{meant}”: type it again and save as UTF-8.")]
    if decimal_comma and any(len(found[2]) == 3 and found[1] != "0" for found in _DECIMAL_COMMA.finditer(cell)):
        plain = cell.replace(",", "")
        return [(f"“{cell}” can be read in two ways.",
                 f"Write {plain}, or {cell.replace(',', '.')}, whichever is meant.")]  # fmt: skip
    return []


def _with_point(cell: str) -> str:
    """A cell with its decimal commas as points: a file with semicolons comes from such a country."""
    return _DECIMAL_COMMA.sub(r"\1.\2", cell) if _is_quantity(cell) else cell


def _is_quantity(cell: str) -> bool:
    """Whether a cell begins like a number: a sentence keeps its commas."""
    return bool(re.match(r"^[+\-−$€£]?\s*\d", cell)) and len(cell) <= 24


def _meant(cell: str) -> str:
    """What a cell said before UTF-8 was taken for Windows-1252; "" where nothing points to that."""
    if "\ufffd" in cell:
        return cell.replace("\ufffd", "?")
    if cell.isascii():
        return ""
    try:
        meant = cell.encode("cp1252").decode("utf-8")
    except (UnicodeEncodeError, UnicodeDecodeError):
        return ""
    return meant if meant != cell else ""


def _unknown_head(file: str, text: str, known: Collection[str]) -> Sheet:
    """No column is known: an empty file, or one whose first row names nothing of this table."""
    if not text.strip():
        return _broken(file, "The file is empty.", f"Its first row names the columns, such as {_some(known)}.")
    first = text.strip().splitlines()[0]
    return _broken(file, f"Its first row, “{first[:80]}”, names no column of this table.",
                   f"The first row names the columns, such as {_some(known)}, "
                   "with commas, semicolons or tabs between them.")  # fmt: skip


def _some(known: Collection[str]) -> str:
    return ", ".join(list(known)[:3])


def _broken(file: str, what: str, mend: str) -> Sheet:
    return Sheet(file, problems=[Problem(file, "", what, mend)], whole=True)
