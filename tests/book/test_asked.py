"""Values that can be true but seldom are: asked about, until the row says that they are meant."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pytest

from calculators.core import Quantity
from tools.book import asked
from tools.book.cells import Settings
from tools.book.data import load
from tools.book.tables import Row
from tools.problems import Problem, Problems

PLAIN = Path(__file__).parents[1] / "cases" / "spreadsheets" / "plain"
Rows = list[dict[str, str]]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PLAIN, tmp_path / "data"))


def rows_of(folder: Path, table: str) -> Rows:
    return list(csv.DictReader((folder / "tables" / f"{table}.csv").read_text("utf-8").splitlines()))


def write(folder: Path, table: str, rows: Rows) -> None:
    head = list(dict.fromkeys(name for row in rows for name in row))
    with (folder / "tables" / f"{table}.csv").open("w", encoding="utf-8", newline="") as file:
        made = csv.DictWriter(file, head, restval="")
        made.writeheader()
        made.writerows(rows)


def put(folder: Path, table: str, row: int, **cells: str) -> None:
    """Change cells of a row, by the number that a spreadsheet shows beside it."""
    rows = rows_of(folder, table)
    rows[row - 2].update(cells)
    write(folder, table, rows)


def problems(folder: Path) -> list[Problem]:
    try:
        load(folder)
    except Problems as error:
        return error.found
    return []


# What is put where, the column that is asked about, and words of the question.
UNLIKELY: dict[str, tuple[str, int, dict[str, str], str, str]] = {
    "a price in cents": ("products", 2, {"price": "150"}, "price", "“150” is read as 150.00; 1.50 may be meant"),
    "a price like no other": ("products", 2, {"price": "30.00"}, "price", "the others, which are about €1.25"),
    "a price of a coin": ("products", 2, {"price": "0.05"}, "price", "far from the others"),
    "a pack in kilograms": ("products", 2, {"mass": "9 kg"}, "mass", "far from the others, which are about 40 g"),
    "a pack of feathers": ("products", 2, {"mass": "1 g"}, "mass", "far from the others"),
    "sales of a year": ("products", 2, {"weekly_sales": "2000"}, "weekly_sales", "far from the others"),
    "a bar thicker than broad": ("products", 3, {"thickness": "45", "squeeze": ""}, "thickness", "more than its breadth, “38”"),
    "a foot beyond the rim": ("products", 2, {"foot_diameter": "70"}, "foot_diameter", "more than its greatest diameter"),
    "a light cabinet": ("machines", 2, {"cabinet_mass": "19"}, "cabinet_mass", "less than 20 kg"),
    "a cabinet lying down": ("machines", 2, {"cabinet_width": "1900"}, "cabinet_width", "wider than it is high, “1828.8”"),
    "a door wider than high": ("routes", 2, {"width": "2200"}, "width", "“2200” is wider than it is high, “2133.6”"),
    "shares over 100": ("sites", 2, {"share_notes": "60", "share_cashless": "41"}, "share_cashless", "more than all sales"),
    "a test of tomorrow": ("fits", 2, {"date": "2027-01-01"}, "date", "later than the edition, “2026 autumn”"),
    "a test long past": ("fits", 2, {"date": "2005-12-31"}, "date", "21 years from the edition"),
    "an install of 2062": ("sites", 3, {"date": "2062-12-05"}, "date", "36 years from the edition"),
}  # fmt: skip


@pytest.mark.parametrize("name", UNLIKELY)
def test_an_unlikely_value_is_asked_about_and_taken_when_it_is_meant(name: str, folder: Path) -> None:
    """One question with file, row, column and mend; what it proposes is obeyed."""
    table, row, cells, column, words = UNLIKELY[name]
    put(folder, table, row, **cells)
    (asked_about,) = problems(folder)
    assert (asked_about.file, asked_about.place) == (f"{table}.csv", f"row {row}, column {column}")
    assert words in asked_about.what
    assert f"write {column} under sure in this row" in asked_about.mend
    put(folder, table, row, sure=f"note, {column}")
    assert problems(folder) == []


@pytest.mark.parametrize(("low", "high", "most"), [("control_low", "control_high", "400"), ("thread_least", "thread_most", "10"),
                                                  ("cabinet_volts_least", "cabinet_volts_most", "127")])  # fmt: skip
def test_a_least_above_its_most_is_a_mistake_whatever_the_row_says(folder: Path, low: str, high: str, most: str) -> None:
    """No cabinet can be so: nothing confirms it. The two may be equal."""
    put(folder, "machines", 2, **{low: most, high: most})
    assert problems(folder) == []
    put(folder, "machines", 2, **{low: f"{most}.5", "sure": low})
    (mistake,) = problems(folder)
    assert mistake.place == f"row 2, column {low}"
    assert f"“{most}.5” is more than {high}, “{most}”" in mistake.what


LIKELY: dict[str, tuple[str, int, dict[str, str]]] = {
    "a dear thing": ("products", 2, {"price": "24.00"}),  # 19.2 of 1.25
    "a whole price": ("products", 2, {"price": "24"}),
    "a heavy bottle": ("products", 2, {"mass": "750 g"}),
    "a square pack": ("products", 3, {"thickness": "38"}),
    "a slow seller": ("products", 2, {"weekly_sales": "0.1"}),
    "a small cabinet": ("machines", 2, {"cabinet_mass": "20"}),
    "a corridor wider than high": ("routes", 3, {"kind": "corridor", "width": "4000", "height": "2500", "rise": "", "run": ""}),
    "a square door": ("routes", 2, {"width": "2133.6"}),
    "all sales": ("sites", 2, {"share_notes": "60", "share_cashless": "40"}),
    "the last day of the edition": ("fits", 2, {"date": "2026-12-31"}),
    "twenty years": ("fits", 2, {"date": "2006-12-31"}),
    "a planned install": ("sites", 3, {"date": "2027-03-01"}),
}  # fmt: skip


@pytest.mark.parametrize("name", LIKELY)
def test_a_likely_value_is_not_asked_about(name: str, folder: Path) -> None:
    """Just inside each border."""
    table, row, cells = LIKELY[name]
    put(folder, table, row, **cells)
    assert problems(folder) == []


# How many times the others a value is before it is asked about: by kind, in tables of things much alike and in others.
FAR = {"money": (20, 20), "mass": (20, 20), "small_mass": (20, 20), "length": (20, 100), "run": (100, 100), "ratio": (100, 100),
       "per_day": (100, 100), "days": (100, 100)}  # fmt: skip


@pytest.mark.parametrize(("kind", "table", "times"), [(kind, table, each[table == "routes"])
                                                      for kind, each in FAR.items() for table in (*asked.ALIKE, "routes")])  # fmt: skip
def test_a_value_is_far_from_the_others_at_so_many_times_and_not_before(kind: str, table: str, times: int) -> None:
    """So many times the others, or that part of them; a twentieth of one per cent less is not asked about."""
    def asks(value: float) -> list[float]:
        rows = [Row("x.csv", number, {"x": str(each)}, {"x": each}) for number, each in enumerate((10.0, 10.0, value, 10.0, 10.0), 2)]
        found = asked._unlike(table, Quantity("X", kind=kind), "x", rows, Settings("si"))
        return [question.row.values["x"] for question in found]

    for far, near in ((10.0 * times, 9.995 * times), (10.0 / times, 10.005 / times)):
        assert asks(far) == [far]
        assert asks(near) == []


def test_what_is_of_no_such_kind_is_asked_nothing() -> None:
    """Angles, voltages and counts differ as they like."""
    assert set(FAR) == set(asked.TIMES) | set(asked.SPREAD)


def test_swapped_columns_are_one_question(folder: Path) -> None:
    """The head of the table is wrong, and not five doorways."""
    doors = [{"site": "pier", "kind": "doorway", "width": "2100", "height": str(900 + at)} for at in range(5)]
    write(folder, "routes", doors)
    (question,) = problems(folder)
    assert (question.file, question.place) == ("routes.csv", "row 1, column width")
    assert "perhaps the two columns are swapped" in question.what
    assert "5 of 5 rows (2, 3, 4, 5, 6 …)" in question.what
    write(folder, "routes", [{**door, "sure": "width"} for door in doors])
    assert problems(folder) == []
    write(folder, "routes", doors[:3])
    assert len(problems(folder)) == 3


@pytest.mark.parametrize(("meant", "other"), [(("price", "30.00"), ("mass", "9 kg")), (("mass", "9 kg"), ("price", "30.00"))])
def test_what_one_row_means_says_nothing_of_another(folder: Path, meant: tuple[str, str], other: tuple[str, str]) -> None:
    """In whatever order they are come by."""
    put(folder, "products", 2, **dict([meant]), sure=meant[0])
    put(folder, "products", 3, **dict([other]))
    assert [each.place for each in problems(folder)] == [f"row 3, column {other[0]}"]


def test_four_rows_of_many_are_four_questions(folder: Path) -> None:
    """Where most doorways are well, the columns are not swapped."""
    doors = [{"site": "pier", "kind": "doorway", "width": "2100", "height": "2000" if at < 4 else "2200"} for at in range(9)]
    write(folder, "routes", doors)
    assert [each.place for each in problems(folder)] == [f"row {at}, column width" for at in range(2, 6)]


def test_of_a_day_that_was_told_nothing_is_asked(folder: Path) -> None:
    """The second of two equal tests is one too many, whenever it was."""
    first, _ = rows_of(folder, "fits")
    write(folder, "fits", [{**first, "date": "2027-03-01"}] * 2)
    assert [each.place for each in problems(folder)] == ["row 3, column date", "row 2, column date"]


def test_prices_in_hundredths_are_one_question(folder: Path) -> None:
    """A whole list exported in cents."""
    products = rows_of(folder, "products")
    write(folder, "products", [{**row, "price": row["price"].replace(".", "").lstrip("0")} for row in products])
    (question,) = problems(folder)
    assert (question.place, question.file) == ("row 1, column price", "products.csv")
    assert "1.50 may be meant" in question.what


def test_three_others_are_needed_to_compare_with(folder: Path) -> None:
    """Two or three prices say nothing of a fourth."""
    products = rows_of(folder, "products")
    put(folder, "products", 2, price="90.00")
    assert len(problems(folder)) == 1
    write(folder, "products", [{**products[0], "price": "90.00"}, *products[1:3]])
    assert [each for each in problems(folder) if each.file == "products.csv"] == []


@pytest.mark.parametrize(
    ("values", "value", "middle"),
    [([1, 2, 3, 100], 100, 2), ([1, 2, 3, 100], 1, 3), ([1, 2, 3, 4, 5], 3, 3), ([1, 2, 3, 4, 5], 1, 3.5),
     ([1, 2, 3, 4, 5], 5, 2.5), ([2, 2, 2, 2], 2, 2)],
)  # fmt: skip
def test_the_middle_of_the_others_is_theirs(values: list[int], value: int, middle: float) -> None:
    """By the library's median of a list without the value."""
    from statistics import median

    others = list(values)
    others.remove(value)
    assert asked._middle_of_others(values, value) == median(others) == middle


def test_a_word_under_sure_that_is_no_column_is_told(folder: Path) -> None:
    """A confirmation of nothing."""
    put(folder, "products", 2, sure="prize")
    (problem,) = problems(folder)
    assert problem.place == "row 2, column sure"
    assert "“prize”" in problem.what


def test_a_mistake_is_not_asked_about_as_well(folder: Path) -> None:
    """Of one cell one thing is said."""
    put(folder, "products", 2, price="9000.00.0")
    assert len(problems(folder)) == 1


def edition(folder: Path, text: str) -> None:
    company = folder / "handbook.toml"
    company.write_text(company.read_text("utf-8").replace('edition = "2026 autumn"', text), "utf-8")


@pytest.mark.parametrize(
    ("text", "day", "asks"),
    [('edition = "2026-10-01"', "2026-10-09", True), ('edition = "2026-10-08"', "2026-10-08", False),
     ('edition = "second"', "2031-01-01", False), ("", "2062-01-01", False)],
)  # fmt: skip
def test_the_edition_is_the_only_clock(folder: Path, text: str, day: str, asks: bool) -> None:
    """Its day, the end of its year, or nothing: no machine's date is asked."""
    edition(folder, text)
    put(folder, "fits", 3, date=day)
    assert bool(problems(folder)) == asks


def test_without_an_edition_days_are_compared_with_each_other(folder: Path) -> None:
    """Four tests of 2026 speak against one of 2062."""
    edition(folder, "")
    fits = rows_of(folder, "fits")
    write(folder, "fits", [*({**fits[0], "date": f"2026-09-0{day}"} for day in range(1, 5)), {**fits[1], "date": "2062-10-08"}])
    (question,) = problems(folder)
    assert question.place == "row 6, column date"
    assert "36 years from the other rows, about 2026" in question.what


def test_no_clock_is_read() -> None:
    """The same folder is good on every day."""
    assert "today" not in Path(asked.__file__).read_text("utf-8")
    assert "now(" not in Path(asked.__file__).read_text("utf-8")


def test_the_demonstration_is_asked_nothing() -> None:
    """A working business has no unlikely values."""
    load(PLAIN.parents[3] / "docs" / "data")
