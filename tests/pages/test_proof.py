"""Mistakes in pages that an operator wrote are told with the line of the file that they stand in."""

from __future__ import annotations

import argparse
import contextlib
import io
from pathlib import Path

import pytest

from tools.book import book
from tools.commands import new
from tools.pages import proof

DOCS = Path(__file__).parents[2] / "docs"
PAGE = """---
title: Ours
menu: Do the job
---
# Ours

::: cautoin

See [falling cabinets](../safety/tipping.md), [the pusher](riser-or-pusher.md)
and [nothing](../safety/tiping.md "a title").
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A new operator's folder without one of our pages."""
    place = tmp_path / "ours"
    with contextlib.redirect_stdout(io.StringIO()):
        new.main(argparse.Namespace(folder=place, name="Tern Vending", rules="us", units=None))
    settings = place / "handbook.toml"
    settings.write_text(f'{settings.read_text(encoding="utf-8")}leave_out = ["procedures/riser-or-pusher"]\n', encoding="utf-8")
    return place


def told(folder: Path, text: str) -> list[tuple[str, str, str]]:
    """File, place and text of each mistake in a page with that text."""
    page = folder / "pages" / "procedures" / "ours.md"
    page.parent.mkdir(parents=True, exist_ok=True)
    page.write_text(text, encoding="utf-8")
    return [(each.file, each.place, each.what) for each in proof.check(book.read(folder, DOCS))]


def test_each_mistake_is_told_with_its_line(folder: Path) -> None:
    """Lines count from the first of the file, whatever stands between the dashes; good links are no mistakes."""
    file = "pages/procedures/ours.md"
    assert told(folder, PAGE) == [
        (file, "line 7", "The block “cautoin” is never closed."), (file, "line 7", "There is no block “cautoin”."),
        (file, "line 10", "The link ../safety/tiping.md leads nowhere.")]  # fmt: skip


def test_a_page_without_mistakes_is_silent(folder: Path) -> None:
    """So is a folder without pages."""
    assert proof.check(book.read(folder, DOCS)) == []
    assert told(folder, PAGE.replace("::: cautoin\n", "").replace("tiping", "tipping")) == []
