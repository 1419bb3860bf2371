"""`check --strict`: what work would stop for on the day is a mistake in the office."""

from __future__ import annotations

import argparse
import shutil
from pathlib import Path

import pytest

from tools.book.data import load
from tools.commands import check
from tools.commands.progress import Trouble

DATA = Path(__file__).parents[2] / "docs" / "data"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demonstration's folder, of which one row of a card is taken out."""
    shutil.copytree(DATA, tmp_path / "own")
    cards = tmp_path / "own" / "tables" / "cards.csv"
    rows = cards.read_text(encoding="utf-8").splitlines()
    kept = [row for row in rows if not row.startswith(("slim-eighteen,gear_place,", "slim-eighteen,spacers,"))]
    assert len(rows) - len(kept) == 2
    cards.write_text("\n".join(kept) + "\n", encoding="utf-8")
    return tmp_path / "own"


def test_a_missing_item_is_noted_and_stops_only_a_strict_check(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The model, the item, and where to write it; what no safety hangs on stays a note."""
    assert check.main(argparse.Namespace(folder=folder, strict=False)) == 0
    name = load(folder).row("machines", "slim-eighteen").typed["name"]
    assert f"The card of {name} lacks 2 of" in capsys.readouterr().out
    with pytest.raises(Trouble) as told:
        check.main(argparse.Namespace(folder=folder, strict=True))
    assert "cards.csv, slim-eighteen: The card does not say “Where the gear goes under”. Add a row with the item gear_place." in str(told.value)
    assert "Spacers" not in str(told.value)


def test_the_demonstrations_cards_pass_a_strict_check(capsys: pytest.CaptureFixture[str]) -> None:
    assert check.main(argparse.Namespace(folder=DATA, strict=True)) == 0
    assert "lacks" not in capsys.readouterr().out
