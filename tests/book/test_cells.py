"""Cells that may mean two things: days, money, keys, and numbers of the other system of units."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from calculators.core import Money, Quantity, rules
from tests.support.folders import place
from tools.book import currency, days, keys, units
from tools.book.bad import BadCell
from tools.book.cells import Settings, plain
from tools.book.data import OperatorData, load
from tools.book.facts import facts
from tools.book.spreadsheet import Sheet
from tools.problems import Problem, Problems

DEMO = Path(__file__).parents[2] / "docs" / "data"
PLAIN = Path(__file__).parents[1] / "cases" / "spreadsheets" / "plain"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PLAIN, tmp_path / "data"))


def change(folder: Path, file: str, old: str, new: str, times: int = 1) -> None:
    text = place(folder, file).read_text("utf-8")
    assert old in text, f"{old} does not stand in {file}"
    place(folder, file).write_text(text.replace(old, new, times), "utf-8")


def mistakes(folder: Path) -> list[Problem]:
    with pytest.raises(Problems) as caught:
        load(folder)
    return caught.value.found


# -- days --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [("2026-11-03", "", "2026-11-03"), ("2026-11-03", "month first", "2026-11-03"),
     ("2026-11-03 00:00:00", "", "2026-11-03"), ("03/11/2026", "day first", "2026-11-03"),
     ("03/11/2026", "month first", "2026-03-11"), ("3.11.2026", "day first", "2026-11-03"),
     ("3. 11. 2026", "day first", "2026-11-03"), ("2026/11/03", "year first", "2026-11-03"),
     ("3-11-26", "day first", "2026-11-03"), ("03/11/26", "month first", "2026-03-11"), ("26/11/03", "year first", "2026-11-03"),
     ("29/02/2028", "day first", "2028-02-29"), ("soon", "day first", "soon"), ("3 November", "", "3 November"),
     ("20261103", "", "20261103")],
)  # fmt: skip
def test_a_day_is_read_in_the_folder_s_order(text: str, order: str, day: str) -> None:
    """A text that is no day in figures is left to its field."""
    assert days.iso(text, order) == day


@pytest.mark.parametrize(
    ("text", "order", "words"),
    [("03/11/2026", "", ("2026-11-03 (day first)", "2026-03-11 (month first)", "dates =")),
     ("13/11/2026", "", ("2026-11-13 (day first).", 'dates = "day first"')),
     ("2026/11/03", "", ("2026-11-03 (year first)", "year first")),
     ("13/11/2026", "month first", ("month first", "day first it would be 2026-11-13")),
     ("11/13/2026", "day first", ("day first", "month first it would be 2026-11-13")),
     ("31/02/2026", "day first", ("no such day",)), ("31/02/2026", "", ("no such day",)),
     ("03/11/26", "", ("no four figures", "2026-11-03")),
     *[(text, "day first", ("no such day",)) for text in ("3/11/202", "3/11/6", "003/11/2026", "11.12.026")]],
)  # fmt: skip
def test_a_day_that_may_be_two_is_refused_with_both(text: str, order: str, words: tuple[str, ...]) -> None:
    """Nothing is guessed; each day it could be is named."""
    with pytest.raises(BadCell) as caught:
        days.iso(text, order)
    assert all(word in f"{caught.value} {caught.value.mend}" for word in words), caught.value.mend


def test_a_day_in_a_table_is_told_with_its_cell(folder: Path) -> None:
    """In the fit book and, written in figures, in the install day of a site."""
    change(folder, "handbook.toml", "dates =", "# dates =")
    lines = [str(problem) for problem in mistakes(folder)]
    assert len(lines) == 2
    assert "fits.csv, row 3, column date" in lines[0]
    assert "sites.csv, row 3, column date: Install day: “05/12/2026” cannot be used." in lines[1]
    assert "2026-12-05 (day first) or 2026-05-12 (month first)" in lines[1]


def test_an_order_nobody_knows_is_the_cause_of_all(folder: Path) -> None:
    """Told alone."""
    change(folder, "handbook.toml", "day first", "d/m/y")
    (problem,) = mistakes(folder)
    assert (problem.file, problem.place) == ("handbook.toml", "dates")
    assert "year first, day first, month first" in problem.mend


@pytest.mark.parametrize("cell", ["2026-03-08", "03/08/2026", "8-Mar", "08. Mrz", "Mar-08", "3.8.26", "8 March 2026"])
def test_a_size_that_a_spreadsheet_took_for_a_day_says_so(cell: str) -> None:
    """3/8 typed into a column that is not set to text."""
    size = Quantity("Thickness", kind="length", least=0, most=100)
    if "Mrz" in cell:  # a month that is spelt otherwise is refused as no number, in the field's own words
        assert plain(size, cell, Settings()) == cell
        return
    with pytest.raises(BadCell, match="taken it for a day") as caught:
        plain(size, cell, Settings())
    assert "3/8" in caught.value.mend


@pytest.mark.parametrize("cell", ["12 inches", "3/8", "36-1/2", "6 ft 2", "12.5", "8 marks", "6' 2 3/8\""])
def test_a_size_is_not_taken_for_a_day(cell: str) -> None:
    """What people write of sizes is left to the field."""
    size = Quantity("Thickness", kind="length", least=0, most=100)
    if cell == "8 marks":  # begins as a month does; no size either way
        with pytest.raises(BadCell):
            plain(size, cell, Settings())
    else:
        assert plain(size, cell, Settings()) == cell


# -- money -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "sign", "amount"),
    [("1.50", "$", "1.50"), ("$1.50", "$", "1.50"), ("$ 1.50", "$", "1.50"), ("1.50 €", "€", "1.50"), ("€1.50", "€", "1.50"),
     ("£1.50", "£", "1.50"), ("150p", "£", "150p"), ("150 P", "£", "150P"), ("150c", "$", "150c"), ("150 ¢", "$", "150¢"),
     ("150c", "€", "150c"), ("-1", "$", "-1"), ("one fifty", "$", "one fifty"), ("1,50", "$", "1,50")],
)  # fmt: skip
def test_money_of_the_folder_is_read(text: str, sign: str, amount: str) -> None:
    """Its own sign on either side, its own word for a hundredth; what is no amount is left to the field."""
    assert currency.plain(text, sign) == amount


@pytest.mark.parametrize(
    ("text", "sign"),
    [("£1.50", "$"), ("150p", "$"), ("150p", "€"), ("$1.50", "£"), ("150c", "£"), ("1.50 USD", "€"), ("€1.50", "$"),
     ("CHF 2", "€"), ("1.50 kr", "€"), ("$150c", "$"), ("c150", "$"), ("1.50 $ ", "£"), ("¥150", "$")],
)  # fmt: skip
def test_money_of_another_country_is_refused_naming_ours(text: str, sign: str) -> None:
    """£ in a folder of dollars is no dollar, and 150p is nothing there."""
    with pytest.raises(BadCell, match=rf"folder's rules is [{sign}];") as caught:
        currency.plain(text.strip(), sign)
    assert f"Write it in {sign}" in caught.value.mend


def test_each_sign_of_the_rule_sets_has_its_hundredth() -> None:
    """So that a new set's money is not left out here."""
    from calculators.core import rules

    signs = {rules.load(name)["coins.currency"].value["sign"] for name in rules.RULE_SETS}
    assert signs == set(currency.SMALL)


def test_a_price_of_another_money_is_told_with_its_cell(folder: Path) -> None:
    """The folder's rules are the European ones."""
    change(folder, "products.csv", ",1.50,", ",£1.50,")
    change(folder, "products.csv", ",1.25,", ",150p,")
    change(folder, "products.csv", ",0.95,", ",€0.95,")
    assert [problem.place for problem in mistakes(folder)] == ["row 2, column price", "row 3, column price"]


def test_a_price_is_kept_in_one_way_of_writing(folder: Path) -> None:
    """Pages show 1.50, however it was typed."""
    for old, new in ((",1.50,", ",150c,"), (",1.25,", ",€ 1.25,"), (",2.00,", ",2,")):
        change(folder, "products.csv", old, new)
    prices = [row.typed["price"] for row in load(folder).tables["products"]]
    assert prices == ["1.50", "1.25", "2.00", "0.95"]
    assert plain(Money("Price"), "150c", Settings(sign="€")) == "150c"


# -- keys --------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["tall-forty", "a", "7", "7-seeds", "comb", "com10", "console", "indexes", "null", "x" * keys.LONGEST])
def test_a_good_key(key: str) -> None:
    """Small letters, figures, dashes between them."""
    assert keys.complaint(key) is None


@pytest.mark.parametrize(
    ("key", "words"),
    [("index", "index-one"), ("readme", "readme-one"), ("404", "404-one"), ("con", "Windows"), ("nul", "Windows"),
     ("aux", "Windows"), ("prn", "Windows"), ("com1", "Windows"), ("lpt9", "Windows"), ("café", "such as cafe"),
     ("pier.", "such as pier"), ("Pier", "such as pier"), ("my pier", "such as my-pier"), ("../x", "such as x"),
     ("a--b", "such as a-b"), ("-a", "such as a"), ("straße", "such as strasse"), ("a/b", "such as a-b"), ("CON", "between them."),
     ("x" * (keys.LONGEST + 1), "60 at most"), ("٣", "between them."), ("1-2", "such as no-1-2"), ("a\u202eb", "small letters"),
     ("<b>", "such as b")],
)  # fmt: skip
def test_a_key_that_is_no_file_everywhere_or_ours_is_refused(key: str, words: str) -> None:
    """With one that would do, where there is one."""
    complaint = keys.complaint(key)
    assert complaint is not None
    assert words in " ".join(complaint)


def test_keys_alike_but_for_case_are_one_too_many(folder: Path) -> None:
    """On most systems they are one file: the capital is told, and that it stands there already."""
    change(folder, "sites.csv", "gym,Gym", "Pier,Gym")
    lines = [str(problem) for problem in mistakes(folder) if problem.file == "sites.csv"]
    assert ["column key" in line for line in lines] == [True, True]
    assert "such as pier" in lines[0]
    assert "stands in row 2 too" in lines[1]


# -- units -------------------------------------------------------------------------------


def test_a_folder_of_the_other_system_is_told_once_and_first(folder: Path) -> None:
    """Millimeters in a folder set to inches: the setting, not sixty cells."""
    change(folder, "handbook.toml", 'units = "si"', 'units = "us"')
    found = mistakes(folder)
    assert (found[0].file, found[0].place) == ("handbook.toml", "units")
    assert "can only be of the other system, metric" in found[0].what
    assert "the first is “952.5”" in found[0].what
    assert 'units = "si"' in found[0].mend
    assert len(found) == 1


def test_the_other_way_round_too(folder: Path) -> None:
    """Inches in a folder set to millimeters, in three tables."""
    for path in (folder / "tables").glob("*.csv"):
        if path.name not in ("machines.csv", "coils.csv"):
            path.unlink()
    (folder / "tables" / "machines.csv").write_text(
        "key,name,cabinet_width,cabinet_depth,cabinet_height\na,A,37.5,33.5,72\nb,B,26 1/2,31,70\n", "utf-8")
    (folder / "tables" / "coils.csv").write_text(
        "key,name,coil_count,coil_outside\nx,X,5,3\ny,Y,6,3\nz,Z,8,2 3/4\n", "utf-8")
    (problem,) = mistakes(folder)
    assert (problem.file, problem.place) == ("handbook.toml", "units")
    assert "US customary" in problem.what


def test_one_table_of_the_other_system_is_told_once_for_that_table(folder: Path) -> None:
    """A list from a supplier abroad; cells with a unit stay good, and other mistakes are told beside it."""
    (folder / "tables" / "machines.csv").write_text(
        "key,name,cabinet_width,cabinet_depth,cabinet_height,hinge_side\n"
        "tall-forty,A,37.5,33.5,72,left\nslim-ten,B,26.5,31,70,up\n", "utf-8")
    first, second = mistakes(folder)
    assert (first.file, first.place) == ("machines.csv", "row 2, column cabinet_width")
    assert "“37.5” and 5 more numbers without a unit cannot be mm, but they can be in" in first.what
    assert "37.5 in" in first.mend
    assert second.place == "row 3, column hinge_side"


def test_two_slips_are_two_slips(folder: Path) -> None:
    """Fewer than three cells prove nothing about a table."""
    change(folder, "machines.csv", "952.5", "37.5")
    change(folder, "machines.csv", "850.9", "33.5")
    assert [problem.place for problem in mistakes(folder)] == ["row 2, column cabinet_width", "row 2, column cabinet_depth"]


def test_cells_that_only_our_own_system_reads_speak_against_it(folder: Path) -> None:
    """Three slips in a table of many good numbers stay three slips."""
    change(folder, "machines.csv", "952.5,850.9,1828.8", "37.5,33.5,72")
    change(folder, "machines.csv", "key,name,note,cabinet_width", "key,name,note,cabinet_width")
    found = mistakes(folder)
    assert len(found) == 3
    assert all("cannot be used" in problem.what for problem in found)


def test_a_few_slips_in_several_tables_are_slips(folder: Path) -> None:
    """Four cells in two tables, beside cells that name their unit: each is told where it stands."""
    for path in (folder / "tables").glob("*.csv"):
        if path.name not in ("machines.csv", "coils.csv"):
            path.unlink()
    (folder / "tables" / "machines.csv").write_text(
        "key,name,cabinet_width,cabinet_depth,cabinet_height\na,A,37.5,33.5,72 in\nb,B,26 in,31 in,70 in\n", "utf-8")
    (folder / "tables" / "coils.csv").write_text("key,name,coil_count,coil_outside\nx,X,5,3\ny,Y,6,3\nz,Z,8,70 mm\n", "utf-8")
    assert len(mistakes(folder)) == 4


def test_numbers_that_fit_neither_system_are_told_one_by_one(folder: Path) -> None:
    """Nothing points to the other system there."""
    (folder / "tables" / "machines.csv").write_text(
        "key,name,cabinet_width,cabinet_depth,cabinet_height\ntall-forty,A,0,0,0\nslim-ten,B,0,0,0\n", "utf-8")
    assert len(mistakes(folder)) == 6


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [("machines.csv", "key,", "Key,", "Write key."), ("products.csv", ",price,", ",prize,", "Perhaps: price"),
     ("sites.csv", "key,name,machine", "key,name,mashine", "Perhaps: machine"), ("crew.csv", "key,", "kee,", "Perhaps: key"),
     ("crew.csv", "key,name", "key,kname", "Perhaps: name")],  # which is like the key’s too
)  # fmt: skip
def test_a_heading_that_is_misspelt_is_one_mistake(folder: Path, file: str, old: str, new: str, words: str) -> None:
    """Neither that the column is missing nor that its keys lead nowhere is said as well."""
    change(folder, file, old, new)
    (problem,) = mistakes(folder)
    assert (problem.file, problem.place.startswith("row 1, column")) == (file, True)
    assert words in problem.mend


@pytest.mark.parametrize(("counts", "is_all"), [([(4, 2), (4, 2)], False), ([(4, 2), (4, 1)], True), ([(3, 0), (2, 0)], False), ([(3, 0), (3, 0)], True),
                                                ([(20, 0), (1, 2)], False)])  # fmt: skip
def test_the_whole_folder_is_in_other_units_where_no_table_speaks_for_its_own(counts: list[tuple[int, int]], is_all: bool) -> None:
    """Of numbers that only the other system takes and those that only its own does: six at least, more than two to one, in none fewer."""
    found = [units.Bare(Sheet("a.csv"), ((2, "width", "900"),) * foreign, own, ("length",)) for foreign, own in counts]
    assert units._all_strange(found) is is_all


@pytest.mark.parametrize(("name", "ident"), [("Tern & Pebble", "tern-pebble"), ("-- 24 / 7 --", "24-7"), ("Ωmega", "mega"), ("Ω", "handbook-")])
def test_what_browsers_know_a_handbook_by_is_its_name_in_plain_letters(name: str, ident: str) -> None:
    """Or, of a name without any, a mark of it."""
    found = facts(OperatorData({"name": name}, {}, rules.load("us"), {}))["id"]
    assert found == ident or (ident.endswith("-") and re.fullmatch(f"{ident}[0-9a-f]{{8}}", found))
