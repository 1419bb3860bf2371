"""The rows that a page hands to a spreadsheet: no text becomes a formula there, and each comes back as it was."""

from __future__ import annotations

import csv
import json
import re
import subprocess
from pathlib import Path

from tests.support import operator
from tests.support.hostile import TEXTS
from tools.book.spreadsheet import read_sheet

ROWS = Path(__file__).parents[2] / "docs" / "assets" / "js" / "rows.js"
MORE = ("'", "''", "'=", "''=1", "'tis", "-", "-5", "-1,5", "+5", "5", "2026-11-03", "=", "@", "a,b", 'a"b', "-5 mm", "\u200f=1")
CELLS = [*TEXTS, *MORE]
PLAIN = re.compile(r"-?\d+([.,]\d+)?")


def run(node: str, then: str) -> object:
    """What an expression gives in a page that has the script."""
    source = f"var window = globalThis; {ROWS.read_text('utf-8')}\nconsole.log(JSON.stringify({then}))"
    done = subprocess.run([node, "-"], input=source, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_no_cell_is_a_formula_in_a_spreadsheet(node: str) -> None:
    """A plain number stays one; nothing else begins as a formula does."""
    made = run(node, f"HandbookRows.write({json.dumps([CELLS])})")
    assert isinstance(made, str)
    (cells,) = csv.reader([made])
    for cell, text in zip(cells, CELLS, strict=True):
        assert cell[:1] not in ("=", "+", "@", "\t", "\r", "-") or PLAIN.fullmatch(cell), cell
        assert cell in (text, f"'{text}")
    assert {"-5", "-1,5", "5", "'tis", "2026-11-03"} <= set(cells)


def test_what_a_page_wrote_it_reads_back(node: str) -> None:
    rows = run(node, f"HandbookRows.read(HandbookRows.write({json.dumps([[text] for text in CELLS])})).map((row) => row.cells)")
    assert rows == [[text] for text in CELLS]


def test_what_a_page_wrote_the_build_reads_back(node: str, tmp_path: Path) -> None:
    written = run(node, f"HandbookRows.write({json.dumps([['key', 'note'], *([f'a{at}', text] for at, text in enumerate(CELLS))])})")
    assert isinstance(written, str)
    (tmp_path / "fits.csv").write_text(written, encoding="utf-8")
    sheet = read_sheet(tmp_path / "fits.csv", ("key", "note"))
    assert [cells[1] for _, cells in sheet.rows] == [" ".join(text.split()) for text in CELLS]
    assert sheet.problems == []


def test_the_tests_own_guard_is_the_script_s(node: str) -> None:
    texts = [text for text in CELLS if not PLAIN.fullmatch(text)]
    (cells,) = csv.reader([str(run(node, f"HandbookRows.write({json.dumps([texts])})"))])
    assert cells == [operator.guarded(text) for text in texts]
