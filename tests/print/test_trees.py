"""Fault trees in a booklet: none is parted, and sheets are no emptier for it."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from bs4 import BeautifulSoup, Tag
from pypdf import PdfReader

from tests.support.booklets import FACTS, squeezed
from tests.support.leaves import inks, lowest
from tools.book import packs
from tools.print import booklets as make
from tools.print import reader

PLACE = "procedures/find-a-fault"
DRAWINGS = Path(__file__).parents[2] / "docs" / "assets" / "drawings"


def questions(tree: Tag) -> list[str]:
    return [squeezed(each.get_text()) for each in tree.select(".hb-ask-text")]


@pytest.mark.parametrize("form", [packs.SHORT, packs.STUDY])
def test_a_tree_stands_whole_on_one_sheet(form: str, site: Path) -> None:
    html = reader.own_part((site / f"{PLACE}.html").read_text(encoding="utf-8"))
    said = make.said(packs.Pack("faults", "Faults", "Faults.", (PLACE,), ()), form, [(PLACE, html)], FACTS)
    made = PdfReader(BytesIO(make.pdf("house.typ", said, [DRAWINGS])))
    leaves = [squeezed(page.extract_text()) for page in made.pages]
    trees = BeautifulSoup(html, "html.parser").select(".hb-fault")
    assert len(trees) > 10
    on = [[number for number, leaf in enumerate(leaves) if all(each in leaf for each in questions(tree))] for tree in trees]
    assert all(on), [tree["data-fault"] for tree, found in zip(trees, on, strict=True) if not found]
    assert max(found[0] for found in on) < len(trees) - 1, "short ones share a sheet"
    assert [number for number, page in enumerate(made.pages[1:-1], 1) if lowest(page) < 0.5] == [], "the cover is no matter"


def test_a_tree_longer_than_a_column_loses_no_word() -> None:
    """An operator may write more questions than a column holds."""
    asked = [[{"kind": "p", "text": [f"Question{number} " + "word " * 60]}] for number in range(40)]
    tree = {"kind": "tree", "blocks": [{"kind": "numbers", "items": asked}]}
    said = make.said(packs.Pack("van", "Van", "A van.", (), ()), packs.STUDY, [], FACTS)
    told = {**said, "chapters": [{"place": "a", "title": "Long", "blocks": [tree]}]}
    made = PdfReader(BytesIO(make.pdf("house.typ", told, [])))
    text = "".join(page.extract_text() for page in made.pages)
    assert all(f"Question{number} " in text for number in (0, 20, 39))
    assert min(y for page in made.pages for y in inks(page)) > 10
