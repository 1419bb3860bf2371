"""Tables that LibreOffice Calc really saved, in three locales and two kinds of file: the same data."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path

import pytest

from tests.support.spreadsheets import HEAD, LOCALES, MADE, PLAIN
from tools.book.data import OperatorData, load
from tools.book.spreadsheet import Sheet, read_sheet
from tools.problems import Problems

ORDER = {"en-US": "month first", "en-GB": "day first", "de-DE": "day first"}
KINDS = ("csv", "xlsx")


def folder_of(tmp_path: Path, locale: str, kind: str) -> Path:
    """The plain operator's folder with every table as Calc saved it."""
    folder = tmp_path / "data"
    (folder / "tables").mkdir(parents=True)
    company = (PLAIN / "handbook.toml").read_text("utf-8")
    (folder / "handbook.toml").write_text(company.replace("day first", ORDER[locale]), "utf-8")
    for path in (MADE / locale).glob(f"*.{kind}"):
        if path.stem != "shown":
            shutil.copy(path, folder / "tables")
    return folder


def values(data: OperatorData) -> dict[str, list[dict[str, object]]]:
    """Everything read, except how a site's day is written: one locale makes a day of it."""
    return {table: [{name: value for name, value in row.values.items() if (table, name) != ("sites", "date")}
                    for row in rows] for table, rows in data.tables.items()}  # fmt: skip


def test_every_table_was_saved_in_every_way() -> None:
    """So that a table added to the plain folder is not forgotten here."""
    wanted = {f"{path.stem}.{kind}" for path in (PLAIN / "tables").glob("*.csv") for kind in KINDS} | {"shown.csv", "shown.xlsx"}
    assert len(wanted) == 16
    for locale in LOCALES:
        assert {path.name for path in (MADE / locale).iterdir()} == wanted


@pytest.mark.parametrize(("locale", "kind"), [(locale, kind) for locale in LOCALES for kind in KINDS
                                              if (locale, kind) != ("de-DE", "csv")])  # fmt: skip
def test_the_same_data_comes_back(tmp_path: Path, locale: str, kind: str) -> None:
    """Numbers, days, words with commas and quotes, letters with marks."""
    read, plain = load(folder_of(tmp_path, locale, kind)), load(PLAIN)
    assert values(read) == values(plain)
    assert read.tables["fits"][1].values["date"] == datetime.date(2026, 10, 8)
    assert read.tables["sites"][1].typed["date"] == "2026-12-05"
    assert read.tables["products"][0].typed["price"] == plain.tables["products"][0].typed["price"] == "1.50"
    spoken = "2026-12-03" if locale == "en-GB" else "3 December 2026"
    assert read.tables["sites"][0].typed["date"] == spoken


def test_a_german_table_is_refused_where_a_comma_may_be_a_thousand_and_read_once_it_is_written_out(
    tmp_path: Path,
) -> None:
    """2,125: the mend that is told works."""
    folder = folder_of(tmp_path, "de-DE", "csv")
    with pytest.raises(Problems) as caught:
        load(folder)
    (told,) = caught.value.found
    assert (told.file, told.place) == ("products.csv", "row 4, column weekly_sales")
    assert "2.125" in told.mend
    path = folder / "tables" / "products.csv"
    path.write_text(path.read_text("utf-8").replace("2,125", "2.125"), "utf-8")
    assert values(load(folder)) == values(load(PLAIN))


@pytest.mark.parametrize("locale", LOCALES)
def test_days_are_refused_without_the_folder_s_order(tmp_path: Path, locale: str) -> None:
    """A CSV table shows them with two figures of the year; a workbook's days are days."""
    for kind in KINDS:
        folder = folder_of(tmp_path / kind, locale, kind) if (tmp_path / kind).mkdir() is None else tmp_path
        company = folder / "handbook.toml"
        company.write_text(company.read_text("utf-8").replace("dates =", "# dates ="), "utf-8")
        if kind == "xlsx":
            assert load(folder).tables["fits"][1].typed["date"] == "2026-10-08"
            continue
        with pytest.raises(Problems) as caught:
            load(folder)
        assert {"fits.csv, row 3, column date", "sites.csv, row 3, column date"} <= {
            f"{told.file}, {told.place}" for told in caught.value.found}  # fmt: skip


def shown(locale: str, kind: str) -> Sheet:
    return read_sheet(MADE / locale / f"shown.{kind}", HEAD)


@pytest.mark.parametrize("locale", LOCALES)
@pytest.mark.parametrize("kind", KINDS)
def test_a_cell_says_what_its_format_shows(locale: str, kind: str) -> None:
    """The sign of money and the unit in a format are kept; an error value is refused."""
    sheet = shown(locale, kind)
    ((number, cells),) = sheet.rows
    assert number == 2
    sign = LOCALES[locale].sign
    assert cells[:5] == ["plain", f"{sign}1.50", "520 g", "12.5", "25%"]
    day = {"en-US": "11/03/2026", "en-GB": "03/11/2026", "de-DE": "03.11.2026"}[locale]
    assert cells[5] == (day if kind == "csv" else "2026-11-03")
    assert cells[6:] == ["0.3", "#N/A"]
    assert [problem.place for problem in sheet.problems] == ["row 2, column error"]
