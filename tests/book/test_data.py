"""The operator's tables: what is read, and every mistake with file, row, column and mend."""

from __future__ import annotations

import csv
import re
import shutil
from pathlib import Path

import pytest

from tests.support.folders import place
from tools.book.book import _lost_pictures
from tools.book.data import load
from tools.problems import Problems

DEMO = Path(__file__).parents[2] / "docs" / "data"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "data")
    return tmp_path / "data"


def replace(folder: Path, file: str, old: str, new: str) -> None:
    path = place(folder, file)
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{old} does not stand in {file}"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def mistakes(folder: Path) -> list[str]:
    with pytest.raises(Problems) as caught:
        load(folder)
    return [str(problem) for problem in caught.value.found]


def test_the_demo_is_sound() -> None:
    """One operator with a cabinet, a site, a dozen products and more."""
    data = load(DEMO)
    assert len(data.tables["products"]) >= 12
    assert data.tables["machines"]
    assert data.tables["sites"]
    assert data.tables["coils"]


def test_shares_of_sales_follow_from_weekly_sales() -> None:
    """Each price once, the shares together all sales."""
    from tools.book import derive

    prices = derive.prices(load(DEMO))
    assert len({row["price"] for row in prices}) == len(prices)
    assert sum(float(row["share"]) for row in prices) == pytest.approx(100, abs=0.01)


SEEDED = {
    "unknown column": ("products.csv", "weekly_sales", "weekly_sails",
                       ("products.csv, row 1", "no column “weekly_sails”", "weekly_sales")),
    "bad price": ("products.csv", ",1.50,", ",one fifty,",
                  ("products.csv, row", "column price", "one fifty", "1.25")),
    "unknown choice": ("crew.csv", "spot,yes", "spot,perhaps",
                       ("crew.csv, row 2, column signs", "perhaps", "yes, no")),
    "count broken": ("gear.csv", "Appliance dolly with strap,1,", "Appliance dolly with strap,1.5,",
                     ("gear.csv, row 2, column amount", "1.5", "whole number")),
    "key twice": ("gear.csv", "\njack,", "\ndolly,",
                  ("gear.csv, row 3, column key", "stands in row 2 too", "its own key")),
    "key unfit": ("gear.csv", "\njack,", "\nJack!,",
                  ("gear.csv, row 3, column key", "cannot be used in a link", "small letters")),
    "lost cabinet": ("sites.csv", ",tall-forty,", ",tall-fourty,",
                     ("sites.csv, row 2, column machine", "no “tall-fourty”", "tall-forty")),
    "lost gear": ("sites.csv", ",jack,", ",jak,", ("sites.csv, row 3, column gear", "no “jak”", "jack")),
    "a way too narrow": ("sites.csv", "138 in", "96 in",
                         ("sites.csv, row 4, columns corridor_width and front_clear", "cannot hold", "together 136 in")),
    "empty needed cell": ("crew.csv", "lead,Lead installer,", "lead,,",
                          ("crew.csv, row 2, column name", "empty", "needed")),
    "too many cells": ("crew.csv", "signs for the spot,yes", "signs, for the spot,yes",
                       ("crew.csv, row 2", "cells", "quotes")),
    "company entry": ("handbook.toml", "emergency =", "emergensy =",
                      ("handbook.toml, emergensy", "no entry", "emergency")),
    "company units": ("handbook.toml", 'units = "us"', 'units = "imperial"',
                      ("handbook.toml, units", "imperial", "us, si")),
    "foreign coins": ("handbook.toml", 'rules = "us"', 'rules = "uk"',
                      ("tubes.csv, row 2, column coin", "no “nickel” in the money of: United Kingdom", "1p, 2p, 5p",
                       "handbook.toml")),
    "foreign coin": ("tubes.csv", "tall-forty,nickel,", "tall-forty,20p,",
                     ("tubes.csv, row 2, column coin", "no “20p” in the money of: United States", "quarter")),
    "toml broken": ("handbook.toml", 'units = "us"', "units = us",
                    ("handbook.toml", "cannot be read", "quotes")),
    "sides unknown": ("products.csv", ",62 mm,widening,", ",62 mm,flared,",
                      ("products.csv, row 15, column sides", "flared", "straight, widening")),
    "thick end unknown": ("products.csv", ",62 mm,foot,30 mm,", ",62 mm,bottom,30 mm,",
                          ("products.csv, row 13, column thick_end", "bottom", "even, foot, top")),
    "thin end no length": ("products.csv", ",62 mm,foot,30 mm,", ",62 mm,foot,thin,",
                           ("products.csv, row 13, column thin_end", "thin", "For example")),
    "wedge without thin end": ("products.csv", ",62 mm,foot,30 mm,", ",62 mm,foot,,",
                               ("products.csv, row 13, column thin_end", "empty", "sharp edge is 1 mm")),
    "thin end without wedge": ("products.csv", ",62 mm,foot,30 mm,", ",62 mm,,30 mm,",
                               ("products.csv, row 13, column thick_end", "30 mm", "foot or top")),
    "thin end of an even pack": ("products.csv", ",62 mm,foot,30 mm,", ",62 mm,even,30 mm,",
                                 ("products.csv, row 13, column thick_end", "30 mm", "foot or top")),
    "thin end too thick": ("products.csv", ",62 mm,foot,30 mm,", ",62 mm,foot,62 mm,",
                           ("products.csv, row 13, column thin_end", "62 mm", "2 7/16 in", "measure both")),
    "wedge that is a bag": ("products.csv", ",foot,30 mm,125 mm,190 g,,no,", ",foot,30 mm,125 mm,190 g,,yes,",
                            ("products.csv, row 13, column thick_end", "foot", "pillow bag", "leave the cell")),
    "round wedge": ("products.csv", ",60 mm,,,,,,205 mm,", ",60 mm,,,,foot,,205 mm,",
                    ("products.csv, row 2, column thick_end", "foot", "round", "leave the cell empty")),
    "flat cup": ("products.csv", "flat,,,,45 mm,", "flat,,,widening,45 mm,",
                 ("products.csv, row 11, column sides", "widening", "flat", "mend its shape")),
    "cup that does not widen": ("products.csv", ",78 mm,62 mm,widening,", ",78 mm,78 mm,widening,",
                                ("products.csv, row 15, column sides", "widening", "3 1/16 in", "straight")),
    "own figure": ("rules.toml", "# Our own", '["space.rear_gap"]\nunit = "in"\n# Our own',
                   ("rules.toml, space.rear_gap", "not a figure", "value")),
    "own figure unknown": ("rules.toml", "# Our own", '["space.reer_gap"]\nvalue = 6\nunit = "in"\n# Our own',
                           ("rules.toml, space.reer_gap", "no such figure", "Copy the key")),
    "own figure looser": ("rules.toml", "# Our own", '["space.rear_gap"]\nvalue = 1\nunit = "in"\n# Our own',
                          ("rules.toml, space.rear_gap", "looser than 4 in", "decided_by")),
    "own figure with a clause": ("rules.toml", "# Our own",
                                 '["space.rear_gap"]\nvalue = 6\nunit = "in"\nclause = "308"\n# Our own',
                                 ("rules.toml, space.rear_gap.clause", "no such part", "Parts: value")),
}  # fmt: skip


@pytest.mark.parametrize("name", SEEDED)
def test_a_mistake_is_reported_with_row_and_mend(name: str, folder: Path) -> None:
    """File, row, column, value, what was expected."""
    file, old, new, words = SEEDED[name]
    replace(folder, file, old, new)
    told = mistakes(folder)
    assert any(all(word in line for word in words) for line in told), told


def british(folder: Path, tubes: str = "tall-forty,20p,4 1/2 in,,\n") -> None:
    """The same operator in Britain, with one tube of its own money."""
    replace(folder, "handbook.toml", 'rules = "us"', 'rules = "uk"')
    (folder / "tables" / "tubes.csv").write_text(f"machine,coin,height,count,low\n{tubes}", encoding="utf-8")


def test_each_countrys_own_coins_are_sound(folder: Path) -> None:
    """Coins of the rule set that the company goes by are no mistake, whatever else is one."""
    british(folder)
    assert load(folder).rules.name == "uk"
    replace(folder, *SEEDED["bad price"][:3])
    assert len(mistakes(folder)) == 1


def test_a_note_that_the_country_has_not_is_told(folder: Path) -> None:
    """Britain has no note of one; a cabinet that takes it is a mistake, one that does not is none."""
    british(folder)
    text = (folder / "tables" / "machines.csv").read_text(encoding="utf-8").splitlines()
    for taken, wrong in (("no", False), ("yes", True)):
        rows = [f"{row},{taken if number else 'takes_1'}" for number, row in enumerate(text)]
        (folder / "tables" / "machines.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
        if wrong:
            told = mistakes(folder)
            assert len(told) == len(text) - 1
            assert all("column takes_1" in line and "no such bill" in line for line in told)
        else:
            load(folder)


def test_an_operator_s_own_coin_counts(folder: Path) -> None:
    """A coin that the operator's own table adds to the rule set is one of theirs."""
    british(folder, "tall-forty,nickel,4 1/2 in,,\n")
    assert len(mistakes(folder)) == 1
    own = ('["coins.table"]\nlabel = "Our coins"\nvalue = [{ name = "nickel", value = 5, thickness_mm = 1.95, '
           'diameter_mm = 21.21, mass_g = 5.0 }]\n')  # fmt: skip
    (folder / "rules.toml").write_text(own, encoding="utf-8")
    assert load(folder).rules["coins.table"].label == "Our coins"


def test_all_mistakes_are_told_at_once(folder: Path) -> None:
    """Several files, one list."""
    for name in ("bad price", "lost cabinet", "unknown choice"):
        replace(folder, *SEEDED[name][:3])
    assert len(mistakes(folder)) == 3


def test_a_file_that_is_no_text_is_told_alone(folder: Path) -> None:
    """A picture saved under a table's name: one mistake, not one for each link into it."""
    (folder / "tables" / "crew.csv").write_bytes(bytes(range(256)))
    assert mistakes(folder) == [
        "crew.csv: The file holds bytes that are no text. Save it again as “CSV UTF-8”."
    ]


def test_a_missing_table_is_told_alone(folder: Path) -> None:
    """Not once for each site that names a cabinet."""
    (folder / "tables" / "machines.csv").unlink()
    told = [line for line in mistakes(folder) if "machines" in line]
    assert len(told) == 1
    assert told[0].startswith("machines.csv: The file is missing")


@pytest.mark.parametrize("wrong", [('units = "us"', 'units = "metric"'), ('rules = "us"', 'rules = "usa"'),
                                   ('rules = "us"', "rules = us")])  # fmt: skip
def test_wrong_units_or_rules_are_told_alone(folder: Path, wrong: tuple[str, str]) -> None:
    """Every cell would be wrong by them; the cause is told, and what follows from it is not."""
    replace(folder, "handbook.toml", *wrong)
    replace(folder, *SEEDED["bad price"][:3])
    assert len(mistakes(folder)) == 1


def test_a_key_that_is_lost_in_several_rows_is_told_once(folder: Path) -> None:
    """With the other rows that name it; a single one names none."""
    replace(folder, "sites.csv", ",tall-forty,", ",tall-fourty,")
    (one,) = [line for line in mistakes(folder) if "no “tall-fourty”" in line]
    assert "name it too" not in one
    table = folder / "tables" / "sites.csv"
    table.write_text(table.read_text("utf-8").replace(",tall-forty,", ",tall-fourty,", 2), "utf-8")
    (three,) = [line for line in mistakes(folder) if "no “tall-fourty”" in line]
    assert re.search(r"Rows that name it too: \d+, \d+\.", three)


@pytest.mark.parametrize("path", ["company.name.more", "machines.tall-forty", "company", "lost.tall-forty.name"])
def test_a_way_to_a_cell_that_is_none_is_told_how_to_be_written(path: str) -> None:
    """Neither too long nor too short a one is taken for an entry of the company."""
    with pytest.raises(KeyError, match=re.escape("Write company.NAME or TABLE.KEY.COLUMN.")):
        load(DEMO).value(path)


@pytest.mark.parametrize(("path", "near"), [("company.nam", "name"), ("machines.tall-forty.cabinet_widht", "cabinet_width")])
def test_a_way_to_a_cell_that_is_nearly_one_names_it(path: str, near: str) -> None:
    with pytest.raises(KeyError, match=near):
        load(DEMO).value(path)


def test_a_picture_that_a_card_names_has_to_be_there(tmp_path: Path) -> None:
    """In the folder pictures, and as a file; one that is there is no mistake."""
    folder = tmp_path / "data"
    shutil.copytree(DEMO, folder)
    (folder / "pictures" / "folder.png").mkdir(parents=True)
    (folder / "pictures" / "there.png").write_bytes(b"")
    path = folder / "tables" / "cards.csv"
    head, *lines = csv.reader(path.read_text("utf-8").splitlines())
    for line, name in zip(lines, ("there.png", "lost.png", "folder.png"), strict=False):
        line[head.index("picture")] = name
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([head, *lines])
    lost = [each.what for each in _lost_pictures(folder, load(folder))]
    assert lost == ["There is no picture “lost.png”.", "There is no picture “folder.png”."]
