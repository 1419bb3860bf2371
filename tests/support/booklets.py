"""What a booklet holds and what is printed of it, for the tests of booklets."""

from __future__ import annotations

import functools
import re
from itertools import takewhile
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf._text_extraction._layout_mode import text_show_operations
from pypdf.generic import IndirectObject

from tests.support import leaves
from tools.book import data, packs
from tools.print import booklets as make

DOCS = Path(__file__).parents[2] / "docs"
WRITTEN = [path.relative_to(DOCS).as_posix() for path in DOCS.rglob("*.md")]
MODELS = {row.typed["key"]: row.typed["name"] for row in data.load(DOCS / "data").tables["machines"]}
PACKS = packs.expanded(packs.load(DOCS / "data", WRITTEN), MODELS)
# What a reader chooses from; a short form for one cabinet model belongs to one of these.
CHOSEN = [pack for pack in PACKS if not pack.of]
SHORTS = [pack for pack in PACKS if packs.SHORT in pack.forms]
each_pack = pytest.mark.parametrize("pack", CHOSEN, ids=[pack.key for pack in CHOSEN])
each_short = pytest.mark.parametrize("pack", SHORTS, ids=[pack.key for pack in SHORTS])
FORMS = [(pack, form) for pack in PACKS for form in pack.forms]
each_form = pytest.mark.parametrize(("pack", "form"), FORMS, ids=[packs.file_of(pack.key, form)[:-4] for pack, form in FORMS])
FACTS = {"name": "Somebody", "edition": "one", "data": "0000", "paper": "a4", "sheets": 2}
NOT_SAID = {"kind", "to", "alt", "drawing", "use", "label", "place", "level", "break"}


@functools.cache
def pages(site: Path, pack: packs.Pack) -> list[tuple[str, str]]:
    """The pages of a booklet: place and HTML."""
    return make.held(pack, site)


def chapters(site: Path, pack: packs.Pack, form: str = packs.STUDY) -> list[dict[str, Any]]:
    """The pages of a pack as the layout gets them."""
    found: list[dict[str, Any]] = make.said(pack, form, pages(site, pack), FACTS)["chapters"]
    return found


def pdf_of(site: Path, pack: packs.Pack, form: str = packs.STUDY) -> PdfReader:
    """The built booklet."""
    return PdfReader(site / "packs" / packs.file_of(pack.key, form))


def squeezed(text: str) -> str:
    """Letters and figures only: line ends and the spaces between cells are no words."""
    return re.sub(r"[^\w]", "", text)


def words(node: Any) -> list[str]:
    """Every text of a chapter's blocks."""
    if isinstance(node, str):
        return [node]
    if isinstance(node, list):
        return [text for each in node for text in words(each)]
    if not isinstance(node, dict):
        return []
    return [text for key, value in node.items() if key not in NOT_SAID for text in words(value)]


def printed_runs(page: Any) -> list[dict[str, Any]]:
    """Pieces of text with their ends, in points; from the leftmost piece and from the lower edge."""
    held = iter(leaves.operations(page))
    found = text_show_operations(held, page._layout_mode_fonts(), True)
    return [run for run in found if run["text"].strip()]


def crossing(runs: list[dict[str, Any]]) -> list[tuple[str, str]]:
    """Texts of one line of which one reaches into the other by a point or more.

    Single letters are those of the drawings: a picture sets each where it belongs.
    """
    rows = sorted((run for run in runs if len(run["text"]) > 1), key=lambda run: run["ty"])
    level = ((one, two) for number, one in enumerate(rows)
             for two in takewhile(lambda run, one=one: run["ty"] - one["ty"] < 1, rows[number + 1 :]))  # fmt: skip
    return [(one["text"], two["text"]) for one, two in level
            if min(one["displaced_tx"], two["displaced_tx"]) - max(one["tx"], two["tx"]) > 1]  # fmt: skip


def marks(held: Any) -> bool:
    """Whether a tag, or one inside it, marks a piece of a page."""
    held = held.get_object() if isinstance(held, IndirectObject) else held
    if isinstance(held, list):
        return any(map(marks, held))
    if isinstance(held, dict):
        return held.get("/Type") == "/MCR" or marks(held.get("/K"))
    return isinstance(held, int)


def structure(pdf: PdfReader) -> list[dict[str, Any]]:
    """The tags of a PDF: name, alternative text, scope, and whether anything on a page bears it."""
    found: list[dict[str, Any]] = []

    def walk(node: Any) -> None:
        node = node.get_object() if isinstance(node, IndirectObject) else node
        if isinstance(node, list):
            for each in node:
                walk(each)
        elif isinstance(node, dict):
            if "/S" in node:
                held = node.get("/A")
                kept = held if isinstance(held, list) else [held] if held else []
                scope = [a.get_object().get("/Scope") for a in kept if a.get_object().get("/Scope")]
                found.append({"tag": node["/S"], "alt": node.get("/Alt"), "scope": scope,
                              "marks": marks(node.get("/K"))})  # fmt: skip
            if "/K" in node:
                walk(node["/K"])

    walk(pdf.trailer["/Root"]["/StructTreeRoot"])
    return found
