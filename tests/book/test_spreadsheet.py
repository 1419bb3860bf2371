"""Tables as spreadsheets save them: the same rows, or a refusal that says what to do."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tools.book.data import load
from tools.book.spreadsheet import ERRORS, LONGEST, SEPARATORS, Sheet, decoded, read_sheet
from tools.problems import Problems

DEMO = Path(__file__).parents[2] / "docs" / "data"
KNOWN = ("key", "name", "width", "note")
PLAIN = "key,name,width,note\na,Café ½,12.5 mm,\"one, two\"\nb,Pier,36 in,\n"
ROWS = [(2, ["a", "Café ½", "12.5 mm", "one, two"]), (3, ["b", "Pier", "36 in"])]


def sheet(tmp_path: Path, data: bytes | str) -> Sheet:
    path = tmp_path / "things.csv"
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return read_sheet(path, KNOWN)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_however_it_was_saved_it_is_the_same_table(
    tmp_path: Path, encoding: str, ending: str, separator: str
) -> None:
    """Encodings, line ends and separators that programs choose by country and system."""
    text = PLAIN.replace('"one, two"', "one§ two").replace(",", separator).replace("§", ",")
    text = text.replace("one, two", '"one, two"').replace("\n", ending)
    read = sheet(tmp_path, text.encode(encoding))
    assert (read.head, read.rows, read.problems) == (list(KNOWN), ROWS, [])


def test_empty_rows_columns_and_spaces_do_not_count(tmp_path: Path) -> None:
    """Rows of commas, columns without a name at the end, spaces a hand has left; numbers stay those on the screen."""
    read = sheet(tmp_path, "\n,,,,,\n key , name,,,\n,,,\n a ,  b   c ,,,\n")
    assert (read.head, read.rows, read.problems) == (["key", "name"], [(5, ["a", "b c"])], [])


def test_a_remark_is_a_row_of_one_cell(tmp_path: Path) -> None:
    """What begins with # and stands alone is a remark; a row of more cells is data."""
    read = sheet(tmp_path, "key,name\n# measured in May\n#1,Door\n")
    assert read.rows == [(3, ["#1", "Door"])]


def test_a_bad_cell_past_the_last_column_is_named_by_its_number(tmp_path: Path) -> None:
    """As one below a heading without a word is."""
    read = sheet(tmp_path, "key,,name\na,#N/A,c,#N/A\n")
    assert [problem.place for problem in read.problems] == ["row 2, column 2", "row 2, column 4"]


@pytest.mark.parametrize("error", [*ERRORS, "Err:502", "#n/a"])
@pytest.mark.parametrize("row", ["{},x", "a,{}", "{}"])
def test_an_error_value_is_refused_wherever_it_stands(tmp_path: Path, error: str, row: str) -> None:
    """In the first cell too, where it once was taken for a remark and its row left out."""
    read = sheet(tmp_path, f"key,name\n{row.format(error)}\n")
    assert [problem.place.split(",")[0] for problem in read.problems] == ["row 2"]
    assert "error of the spreadsheet" in read.problems[0].what
    assert read.rows, "the row is not left out"


@pytest.mark.parametrize(
    ("cell", "read_as"),
    [("12,5", "12.5"), ("12,5 mm", "12.5 mm"), ("1,25", "1.25"), ("0,125", "0.125"), ("-0,5", "-0.5"),
     ("Tall, wide", "Tall, wide"), ("12.5", "12.5"), ("3/8 in", "3/8 in")],
)  # fmt: skip
def test_a_decimal_comma_is_read_where_semicolons_stand_between(tmp_path: Path, cell: str, read_as: str) -> None:
    """A country that writes 12,5 separates by semicolons; a sentence keeps its comma."""
    assert sheet(tmp_path, f"key;width\na;{cell}\n").rows == [(2, ["a", read_as])]


@pytest.mark.parametrize("cell", ["1,234", "12,500 mm"])
def test_a_comma_that_may_be_a_thousand_is_asked_about(tmp_path: Path, cell: str) -> None:
    """1,234 is one and a bit, or more than a thousand: both are named, neither is taken."""
    (problem,) = sheet(tmp_path, f"key;width\na;{cell}\n").problems
    assert problem.place == "row 2, column width"
    assert cell.replace(",", "") in problem.mend
    assert cell.replace(",", ".") in problem.mend


def test_a_comma_between_quotes_stays_as_it_is_where_commas_separate(tmp_path: Path) -> None:
    """There the field's own reading refuses it, with its own words."""
    assert sheet(tmp_path, 'key,width\na,"12,5"\n').rows == [(2, ["a", "12,5"])]


@pytest.mark.parametrize(("cell", "meant"), [("CafÃ©", "Café"), ("6â€² 2â€³", "6′ 2″"), ("Â£3", "£3")])
def test_damaged_letters_are_told(tmp_path: Path, cell: str, meant: str) -> None:
    """UTF-8 that was once opened as something else and saved again."""
    (problem,) = sheet(tmp_path, f"key,name\na,{cell}\n").problems
    assert meant in problem.mend


def test_lost_letters_are_told(tmp_path: Path) -> None:
    """A letter that some program gave up on."""
    (problem,) = sheet(tmp_path, "key,name\na,Caf\ufffd\n").problems
    assert "damaged letters" in problem.what


def test_good_foreign_letters_are_not_complained_of(tmp_path: Path) -> None:
    """Names of places keep their letters."""
    assert sheet(tmp_path, "key,name\na,Ærø–Göteborg café ½ 36″ €5\n").problems == []


def test_a_cell_without_end_is_refused(tmp_path: Path) -> None:
    """200,000 characters are no name, and no traceback either."""
    (problem,) = sheet(tmp_path, f"key,name\na,{'x' * 200_000}\n").problems
    assert "200000 characters" in problem.what
    assert not sheet(tmp_path, f"key,name\na,{'x' * LONGEST}\n").problems


@pytest.mark.parametrize(
    ("data", "word"),
    [(b"", "empty"), (b"\n\n", "empty"), (b"one|two\n1|2\n", "names no column"), (b"a\0b", "no text"),
     (b"\xff\xfea", "no text"), (bytes(range(128, 160)), "no text"), (b"Sheet 1\nkey,name\n", "names no column")],
)  # fmt: skip
def test_a_file_that_is_no_table_is_told_as_one_thing(tmp_path: Path, data: bytes, word: str) -> None:
    """The file, and nothing that would follow."""
    read = sheet(tmp_path, data)
    assert read.whole
    assert word in read.problems[0].what
    assert len(read.problems) == 1


def test_a_file_too_large_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody's export of years is told before it fills the memory."""
    monkeypatch.setattr("tools.book.spreadsheet.MOST_BYTES", 10)
    assert sheet(tmp_path, b"key,name\na,b\n").whole
    assert not sheet(tmp_path, b"key,name\n").whole


def test_decoding_prefers_what_is_certain() -> None:
    """UTF-8 where it fits, Windows-1252 only where it does not."""
    assert decoded("é".encode()) == "é"
    assert decoded("é".encode("cp1252")) == "é"
    assert decoded(b"\x81") is None
    assert set(SEPARATORS) == {",", ";", "\t"}


@pytest.mark.parametrize("way", ["semicolons", "tabs", "utf-16", "windows"])
def test_the_whole_demonstration_reads_alike_however_it_is_saved(tmp_path: Path, way: str) -> None:
    """Every table of the operator's folder, saved another way: the same data."""
    folder = shutil.copytree(DEMO, tmp_path / "data")
    for path in (folder / "tables").glob("*.csv"):
        _saved_again(path, way)
    changed, plain = load(folder), load(DEMO)
    for table, rows in plain.tables.items():
        assert [row.typed for row in changed.tables[table]] == [row.typed for row in rows], table


def _saved_again(path: Path, way: str) -> None:
    import csv
    import io

    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    out = io.StringIO(newline="")
    csv.writer(out, delimiter={"semicolons": ";", "tabs": "\t"}.get(way, ","), lineterminator="\r\n").writerows(rows)
    encoding = {"utf-16": "utf-16", "windows": "cp1252"}.get(way, "utf-8-sig")
    path.write_bytes(out.getvalue().encode(encoding, errors="strict"))


def test_an_error_value_stops_the_build_instead_of_taking_a_doorway_away(tmp_path: Path) -> None:
    """The row of a route whose first cell failed was once left out, and the site's stop with it."""
    folder = shutil.copytree(DEMO, tmp_path / "data")
    text = (folder / "tables" / "routes.csv").read_text(encoding="utf-8")
    (folder / "tables" / "routes.csv").write_text(text.replace("ferry-pier,doorway", "#N/A,doorway", 1), encoding="utf-8")
    with pytest.raises(Problems, match=r"routes\.csv, row 2, column site: “#N/A”"):
        load(folder)


@pytest.mark.parametrize(("name", "is_told"), [("~$sites.xlsx", False), (".~lock.sites.csv", False), (".sites.csv", False), ("_old.csv", False),
                                               ("a_b.csv", True), ("x.old.csv", True), ("sites.old.CSV", True), ("sites.pdf", False)])  # fmt: skip
def test_what_a_program_leaves_beside_an_open_table_is_no_table(tmp_path: Path, name: str, is_told: bool) -> None:
    """Nor is what begins with a line below; any other that is saved as a table is told, because nobody reads it."""
    folder = tmp_path / "data"
    shutil.copytree(DEMO, folder)
    (folder / "tables" / name).write_text("key\n", "utf-8")
    if not is_told:
        load(folder)
        return
    with pytest.raises(Problems) as found:
        load(folder)
    assert [(each.file, each.what) for each in found.value.found] == [(name, "There is no such table, so nothing in it is read.")]
