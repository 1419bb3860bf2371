"""A folder with more than sixty mistakes: all told at once, each once, causes first, and in few steps."""

from __future__ import annotations

import csv
import itertools
import shutil
import sys
import tomllib
from pathlib import Path

import openpyxl
import pytest

from tests.support.folders import place
from tools.book import book
from tools.problems import Problem, Problems

CASES = Path(__file__).parents[1] / "cases" / "mistakes"
DOCS = Path(__file__).parents[2] / "docs"
EXPECTED: list[list[str]] = tomllib.loads((CASES / "told.toml").read_text("utf-8"))["told"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The folder of the cases, one table of it as a workbook, and a cell of 200,000 letters."""
    made = Path(shutil.copytree(CASES / "folder", tmp_path / "data"))
    sheet = openpyxl.Workbook()
    page = sheet.active
    assert page is not None
    for row in csv.reader((made / "tables" / "gear.csv").read_text("utf-8").splitlines()):
        page.append(row)
    page.row_dimensions[3].hidden = True
    sheet.save(made / "tables" / "gear.xlsx")
    (made / "tables" / "gear.csv").unlink()
    with (made / "tables" / "crew.csv").open("a", encoding="utf-8") as crew:
        crew.write(f"long,Long,{'x' * 200_000},yes\n")
    return made


def told(folder: Path) -> list[Problem]:
    with pytest.raises(Problems) as caught:
        book.read(folder, DOCS)
    return caught.value.found


def test_every_mistake_is_told_once_and_nothing_else_is(folder: Path) -> None:
    """File, place and words of each; what merely follows from one is not said."""
    found = told(folder)
    assert len(EXPECTED) >= 70
    assert [[each.file, each.place] for each in found] == [each[:2] for each in EXPECTED]
    for each, (*_, words) in zip(found, EXPECTED, strict=True):
        assert words in each.what, each
        assert each.mend, each


def test_the_causes_come_first(folder: Path) -> None:
    """The company's settings, then files, then first rows, then cells."""
    found = [each for each in told(folder) if not each.file.endswith("packs.toml")]
    kinds = ["company" if each.file == "handbook.toml" else "file" if not each.place else
             "head" if each.place.startswith("row 1,") else "cell" for each in found]  # fmt: skip
    assert kinds == sorted(kinds, key=["company", "file", "head", "cell"].index)
    assert set(kinds) == {"company", "file", "head", "cell"}


def test_it_takes_no_more_steps_than_a_moment_holds(folder: Path) -> None:
    """All tables, rules and packs, a cell of 200,000 letters among them: counted in calls and their ends, not by a clock."""
    steps = itertools.count()
    before = sys.getprofile()
    sys.setprofile(lambda *_: next(steps) and None)
    try:
        told(folder)
    finally:
        sys.setprofile(before)
    assert 100_000 < next(steps) < 2_000_000


@pytest.mark.parametrize("path", sorted(path for path in (CASES / "folder").rglob("*.*") if path.is_file()),
                         ids=lambda path: path.name)  # fmt: skip
@pytest.mark.parametrize("data", [b"", b"\xff\xfe\x00", b"\x81\x8d", b"[[[", b"\x00" * 50, "ключ;имя\n".encode()],
                         ids=["empty", "torn", "odd", "brackets", "zeros", "foreign"])  # fmt: skip
def test_no_file_of_any_bytes_is_a_traceback(folder: Path, path: Path, data: bytes) -> None:
    """Each file in turn replaced by what is none."""
    name = "gear.xlsx" if path.name == "gear.csv" else path.name
    place(folder, name).write_bytes(data)
    found = told(folder)
    assert all(each.what and each.file for each in found)
