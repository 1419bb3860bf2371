"""Tables kept as workbooks: what a person reads in the cell, and what a person cannot see is told."""

from __future__ import annotations

import datetime
import shutil
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from tools.book import formats, spreadsheet, workbook
from tools.book.data import load
from tools.book.spreadsheet import OTHER_KINDS, Sheet, find_sheet, read_sheet
from tools.problems import Problem, Problems

DEMO = Path(__file__).parents[2] / "docs" / "data"
KNOWN = ("key", "name", "width", "note")


def sheet(tmp_path: Path, *rows: tuple[Any, ...], change: Callable[[Worksheet], None] | None = None) -> Sheet:
    """A workbook of these rows under the usual head, read again."""
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    for row in (KNOWN, *rows):
        page.append(row)
    if change:
        change(page)
    book.save(tmp_path / "things.xlsx")
    return read_sheet(tmp_path / "things.xlsx", KNOWN)


def told(read: Sheet) -> list[str]:
    return [str(problem) for problem in read.problems]


def test_a_workbook_is_the_same_table(tmp_path: Path) -> None:
    """Empty rows, a remark, texts and numbers; the row numbers are those of the screen."""
    read = sheet(tmp_path, ("a", "Café ½", 36, "one, two"), (), ("# measured in May",), ("b", " Pier  2 ", "36 in"))
    assert read.head == list(KNOWN)
    assert read.rows == [(2, ["a", "Café ½", "36", "one, two"]), (5, ["b", "Pier 2", "36 in"])]
    assert not read.problems


@pytest.mark.parametrize(
    ("value", "code", "text"),
    [(12.500000000001, "General", "12.5"), (0.1 + 0.2, "General", "0.3"), (36.0, "General", "36"),
     (123456789012, "General", "123456789012"), (0.00001, "General", "0.00001"), (2.4375, "General", "2.4375"),
     (12.500000001, "0.0", "12.5"), (1.5, "0.00", "1.50"), (1500, "#,##0", "1500"), (1500.5, "#,##0.00", "1500.50"),
     (1.5, "0.##", "1.5"), (2, "0.##", "2"), (0.25, "0%", "25%"), (0.125, "0.0%", "12.5%"),
     (1.5, '"$"#,##0.00', "$1.50"), (1.5, "[$£-809]#,##0.00", "£1.50"), (1.5, "#,##0.00 [$€-407]", "1.50 €"),
     (1.5, '_("$"* #,##0.00_);_("$"* (#,##0.00)', "$1.50"), (900, '0" mm"', "900 mm"), (900, "0\\ \\m\\m", "900 mm"),
     (-3, "0.0", "-3.0"), (-3, '0.0;[Red]-0.0', "-3.0"), (-3, "0.0;0.0", "-3.0"), (0, '0;-0;"none "0', "none 0"),
     (0.375, "# ?/?", "0.375"), (36.5, '# ?/?" in"', "36.5 in"), (5, "@", "5"), (7, "000", "007"),
     (7.5, '0.0;-0.0;"a;b"', "7.5")],
)  # fmt: skip
def test_a_number_reads_as_its_cell_shows_it(value: float, code: str, text: str) -> None:
    """What a format adds is kept, what arithmetic in twos leaves is not."""
    assert formats.shown(value, code) == text


@pytest.mark.parametrize(
    ("value", "code", "words"),
    [(35.6, "0", "shows 36, but it holds 35.6"), (1.3333, "0.00", "shows 1.33, but it holds 1.3333"),
     (0.2537, "0%", "shows 25, but it holds 25.37"), (0.004, "0.0", "shows 0.0, but it holds 0.004"),
     (1500, "0,", "thousands as ones"), (5, "[>100]0.0;0", "cannot be followed"), (5, "0.0E+00", "cannot be followed"),
     (5, '"five"', "cannot be followed"), (5, "0.0x", "cannot be followed")],
)  # fmt: skip
def test_a_format_that_hides_something_is_refused(value: float, code: str, words: str) -> None:
    """35.6 must not be read as the 36 on the screen, nor the 36 as 35.6."""
    with pytest.raises(formats.Unreadable, match=words):
        formats.shown(value, code)


def test_what_is_hidden_by_a_format_is_told_with_its_cell(tmp_path: Path) -> None:
    """Row and column, what is shown, what is held."""
    (line,) = told(sheet(tmp_path, ("a", "A", 35.6), change=lambda page: setattr(page["C2"], "number_format", "0")))
    assert line.startswith("things.xlsx, row 2, column width: It shows 36, but it holds 35.6.")


def test_days_are_days_and_hours_stay(tmp_path: Path) -> None:
    """A day without an hour as 2026-11-03; with one, its column refuses it."""
    hour = datetime.datetime(2026, 11, 3, 14, 30)  # noqa: DTZ001 - a workbook knows no zones
    read = sheet(tmp_path, ("a", datetime.date(2026, 11, 3), hour, datetime.time(9, 5)))
    assert read.rows == [(2, ["a", "2026-11-03", "2026-11-03 14:30:00", "09:05:00"])]


def test_yes_and_no_and_errors(tmp_path: Path) -> None:
    """An error value is refused as in a CSV file; a switch keeps its word, for its column to judge."""
    read = sheet(tmp_path, ("a", True, "#N/A", "#REF!"))
    assert read.rows == [(2, ["a", "TRUE", "#N/A", "#REF!"])]
    assert [problem.place for problem in read.problems] == ["row 2, column width", "row 2, column note"]


def test_a_formula_nobody_worked_out_is_not_an_empty_cell(tmp_path: Path) -> None:
    """A program that writes formulas without their values would take a doorway away."""
    (line,) = told(sheet(tmp_path, ("a", "A", "=40-4")))
    assert "row 2, column width: Its formula was never worked out." in line


def test_a_formula_that_gives_an_empty_text_is_an_empty_cell(tmp_path: Path) -> None:
    """As a spreadsheet saves ="": a text, without letters."""
    sheet(tmp_path, ("a", "A", "=B2", "n"))
    rewrite(tmp_path / "things.xlsx", b'<c r="C2"><f>', b'<c r="C2" t="str"><f>')
    read = read_sheet(tmp_path / "things.xlsx", KNOWN)
    assert (read.rows, read.problems) == ([(2, ["a", "A", "", "n"])], [])


def rewrite(path: Path, old: bytes, new: bytes) -> None:
    """Change the first sheet's own text."""
    with zipfile.ZipFile(path) as packed:
        parts = {part: packed.read(part) for part in packed.namelist()}
    name = "xl/worksheets/sheet1.xml"
    assert old in parts[name], parts[name]
    parts[name] = parts[name].replace(old, new)
    with zipfile.ZipFile(path, "w") as packed:
        for part, data in parts.items():
            packed.writestr(part, data)


def test_merged_cells_are_told_unless_they_are_empty_or_a_remark(tmp_path: Path) -> None:
    """Beneath a merged cell the others would be read as not measured."""

    def merge(page: Worksheet) -> None:
        page.merge_cells("C2:C3")
        page.merge_cells("A4:D4")
        page.merge_cells("A6:D6")

    read = sheet(tmp_path, ("a", "A", 36), ("b", "B", None), ("# a remark across",), ("c", "C", 5), change=merge)
    (line,) = told(read)
    assert "row 2, cells C2:C3: They are merged into one, “36”." in line


def test_hidden_rows_and_columns_with_something_in_them_are_told(tmp_path: Path) -> None:
    """Nobody sees them, and they count."""

    def hide(page: Worksheet) -> None:
        page.row_dimensions[3].hidden = True
        page.row_dimensions[9].hidden = True
        page.column_dimensions["C"].hidden = True
        page.column_dimensions["F"].hidden = True

    lines = told(sheet(tmp_path, ("a", "A", 36), ("b", "B", None), change=hide))
    assert [line.split(":")[0] for line in lines] == ["things.xlsx, row 3", "things.xlsx, column width"]


def test_a_comma_in_a_text_of_a_workbook_is_judged_as_in_a_semicolon_file(tmp_path: Path) -> None:
    """12,5 mm is one thing; 1,250 mm may be two."""
    read = sheet(tmp_path, ("a", "A, B", "12,5 mm"), ("b", "B", "1,250 mm"))
    assert read.rows[0][1] == ["a", "A, B", "12.5 mm"]
    assert [problem.place for problem in read.problems] == ["row 3, column width"]


def test_only_the_first_sheet_counts_and_the_others_are_named(tmp_path: Path) -> None:
    """Where the table stands on the second sheet, the mistake says which there are."""
    sheet(tmp_path, ("a", "A"))
    book = openpyxl.load_workbook(tmp_path / "things.xlsx")
    book.create_sheet("Cover", 0)["A1"] = "Our things"
    book.save(tmp_path / "things.xlsx")
    read = read_sheet(tmp_path / "things.xlsx", KNOWN)
    assert read.whole
    assert "“Our things”, names no column" in read.problems[0].what
    assert "there are also: Sheet." in read.problems[0].what


@pytest.mark.parametrize("data", [b"", b"key,name\na,A\n", b"PK\x03\x04 torn", b"\xd0\xcf\x11\xe0 locked"])
def test_what_is_no_workbook_is_one_mistake(tmp_path: Path, data: bytes) -> None:
    """Renamed, torn, or locked with a password."""
    (tmp_path / "things.xlsx").write_bytes(data)
    read = read_sheet(tmp_path / "things.xlsx", KNOWN)
    assert read.whole
    assert [problem.place for problem in read.problems] == [""]
    assert "save it again" in read.problems[0].mend


def test_a_damaged_workbook_is_one_mistake_wherever_it_is_damaged(tmp_path: Path) -> None:
    """Every part left out or torn in turn: a sentence, or the table, and never a traceback."""
    sheet(tmp_path, ("a", "A", 36, "n"))
    path = tmp_path / "things.xlsx"
    with zipfile.ZipFile(path) as packed:
        parts = {part: packed.read(part) for part in packed.namelist()}
    broken = 0
    for name in parts:
        for torn in (None, parts[name][: len(parts[name]) // 2]):
            with zipfile.ZipFile(path, "w") as packed:
                for part, data in parts.items():
                    if part != name or torn is not None:
                        packed.writestr(part, data if part != name else torn or b"")
            read = read_sheet(path, KNOWN)
            broken += read.whole
            assert read.whole or read.rows == [(2, ["a", "A", "36", "n"])], name
    assert broken >= 8


@pytest.mark.parametrize("sign", [b"PK\x03\x04", b"PK\x01\x02", b"PK\x05\x06"])
def test_a_workbook_whose_packing_is_damaged_is_one_mistake(tmp_path: Path, sign: bytes) -> None:
    """Each byte after a sign of the zip around it, where lengths and places stand."""
    sheet(tmp_path, ("a", "A", 36, "n"))
    path = tmp_path / "things.xlsx"
    whole = path.read_bytes()
    for place in (whole.find(sign), whole.rfind(sign)):
        for further in range(22):
            damaged = bytearray(whole)
            damaged[place + further] ^= 0xFF
            path.write_bytes(bytes(damaged))
            read = read_sheet(path, KNOWN)
            assert read.rows == [(2, ["a", "A", "36", "n"])] or [each.place for each in read.problems] == [""]


def test_a_workbook_that_grows_is_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By its size unpacked, by its rows, by entities."""
    (tmp_path / "one").mkdir()
    sheet(tmp_path / "one", ("a", "A"), ("b", "B"))
    path = tmp_path / "one" / "things.xlsx"
    with monkeypatch.context() as small:
        small.setattr(workbook, "MOST_UNPACKED", 100)
        assert "too large" in read_sheet(path, KNOWN).problems[0].what
    with monkeypatch.context() as small:
        small.setattr(workbook, "MOST_ROWS", 2)
        assert "has 3 rows" in read_sheet(path, KNOWN).problems[0].what
    rewrite(path, b"<worksheet", b"<!DOCTYPE x [<!ENTITY y \"z\">]><worksheet")
    assert "no spreadsheet writes" in read_sheet(path, KNOWN).problems[0].what


def test_a_table_in_both_kinds_is_refused_by_both_names(tmp_path: Path) -> None:
    """Nobody can know which of them is the newer one."""
    sheet(tmp_path, ("a", "A"))
    found = find_sheet(tmp_path, "things", KNOWN)
    assert found
    assert not found.whole
    (tmp_path / "things.csv").write_text("key,name\na,A\n", "utf-8")
    found = find_sheet(tmp_path, "things", KNOWN)
    assert found
    assert found.whole
    assert "things.csv and things.xlsx stand side by side" in found.problems[0].what
    assert find_sheet(tmp_path, "others", KNOWN) is None


@pytest.mark.parametrize("kind", OTHER_KINDS)
def test_a_table_in_a_kind_nobody_reads_is_told(tmp_path: Path, kind: str) -> None:
    """It would be left out in silence; beside one that is read it is somebody's own matter."""
    (tmp_path / f"things{kind}").write_bytes(b"x")
    found = find_sheet(tmp_path, "things", KNOWN)
    assert found
    assert found.whole
    assert f"things{kind}" == found.file
    assert "things.csv or things.xlsx" in found.problems[0].mend
    (tmp_path / "things.csv").write_text("key,name\na,A\n", "utf-8")
    assert find_sheet(tmp_path, "things", KNOWN).rows == [(2, ["a", "A"])]  # type: ignore[union-attr]


def test_the_demonstration_as_workbooks_is_the_same_data(tmp_path: Path) -> None:
    """Every table, as texts; and a mistake in one is told under the workbook's name."""
    import csv

    folder = shutil.copytree(DEMO, tmp_path / "data")
    for path in (folder / "tables").glob("*.csv"):
        book = openpyxl.Workbook()
        page = book.active
        assert page is not None
        for row in csv.reader(path.read_text("utf-8").splitlines()):
            page.append(row)
        book.save(path.with_suffix(".xlsx"))
        path.unlink()
    read, plain = load(folder), load(DEMO)
    for table, rows in plain.tables.items():
        assert [row.typed for row in read.tables[table]] == [row.typed for row in rows], table
    (folder / "tables" / "crew.xlsx").unlink()
    with pytest.raises(Problems) as caught:
        load(folder)
    assert [problem.file for problem in caught.value.found] == ["crew.csv"]


def test_a_folder_of_csv_files_loads_no_library_for_workbooks() -> None:
    """It takes a third of a second to load, and most folders have none."""
    import subprocess

    code = ("import sys; from pathlib import Path; from tools.book.data import load; "
            f"load(Path({str(DEMO)!r})); sys.exit('openpyxl' in sys.modules)")  # fmt: skip
    assert subprocess.run([sys.executable, "-c", code], cwd=DEMO.parents[1], check=False).returncode == 0


def test_a_problem_s_column_has_its_name_where_it_has_one() -> None:
    """A column without a heading, or past the last one, keeps its number."""
    places = [spreadsheet._by_name(Problem("a.xlsx", f"row 3, column {number}", "Wrong.", "Mend it."), ["key", ""]).place
              for number in (1, 2, 3)]  # fmt: skip
    assert places == ["row 3, column key", "row 3, column 2", "row 3, column 3"]
