"""The operator's tables: what is read, and every mistake with file, row, column and mend."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tools.sitegen.data import load
from tools.sitegen.problems import Problems

DEMO = Path(__file__).parents[2] / "docs" / "data"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "data")
    return tmp_path / "data"


def replace(folder: Path, file: str, old: str, new: str) -> None:
    path = folder / file
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
    from tools.sitegen.data import derive

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
    "empty needed cell": ("crew.csv", "lead,Lead installer,", "lead,,",
                          ("crew.csv, row 2, column name", "empty", "needed")),
    "too many cells": ("crew.csv", "signs for the spot,yes", "signs, for the spot,yes",
                       ("crew.csv, row 2", "cells", "quotes")),
    "company entry": ("company.toml", "emergency =", "emergensy =",
                      ("company.toml, emergensy", "no entry", "emergency")),
    "company units": ("company.toml", 'units = "us"', 'units = "imperial"',
                      ("company.toml, units", "imperial", "us, si")),
    "toml broken": ("company.toml", 'units = "us"', "units = us",
                    ("company.toml", "cannot be read", "quotes")),
    "own figure": ("rules.toml", "# Our own", '["space.rear_gap"]\nunit = "in"\n# Our own',
                   ("rules.toml, space.rear_gap", "not a figure", "value")),
}  # fmt: skip


@pytest.mark.parametrize("name", SEEDED)
def test_a_mistake_is_reported_with_row_and_mend(name: str, folder: Path) -> None:
    """File, row, column, value, what was expected."""
    file, old, new, words = SEEDED[name]
    replace(folder, file, old, new)
    told = mistakes(folder)
    assert any(all(word in line for word in words) for line in told), told


def test_all_mistakes_are_told_at_once(folder: Path) -> None:
    """Several files, one list."""
    for name in ("bad price", "lost cabinet", "unknown choice"):
        replace(folder, *SEEDED[name][:3])
    assert len(mistakes(folder)) == 3


def test_a_file_of_another_encoding_is_named(folder: Path) -> None:
    """A spreadsheet may save another encoding without a word."""
    (folder / "crew.csv").write_bytes("key,name,role\nä,b,c\n".encode("latin-1"))
    assert any("UTF-8" in line for line in mistakes(folder))
