"""The booklets on paper: every line, no line too many, nothing cut, every tag, and a checker's word."""

from __future__ import annotations

import functools
import re
from collections import Counter
from io import BytesIO
from pathlib import Path
from typing import Any, NamedTuple

import pdfua
import pytest
import typst
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject

from tests.support import leaves
from tests.support.booklets import (
    DOCS,
    FORMS,
    PACKS,
    chapters,
    crossing,
    each_form,
    pdf_of,
    printed_runs,
    squeezed,
    structure,
    words,
)  # fmt: skip
from tools.book import packs
from tools.print import booklets as make
from tools.print import glyphs

LAYOUT = (Path(make.__file__).parent / "house.typ").read_text("utf-8") + make.NO_RECORD
MM = 72 / 25.4
# What the layout adds to a line: the number or letter of an item, and the page that a link leads to.
ADDED = re.compile(r"^\d+[.)]? ?|^[A-F] |\s*\(page *(?:\d+\))?")
# The library's rule for empty headings gives up on every heading whose contents are a list, as ours
# are; test_no_heading_is_empty asks the same of us.
GIVES_UP = {"UA-14-001"}
BOOKLETS = [packs.file_of(pack.key, form)[:-4] for pack, form in FORMS]
SHEETS = [*BOOKLETS, *(f"{pack.key}-answers" for pack in PACKS if pack.questions), "drills", "drills-answers"]


class Sheet(NamedTuple):
    """A sheet's size, how far its text reaches, in points, which texts lie over each other, and what is read there."""

    width: float
    height: float
    right: float
    low: float
    top: float
    crossing: list[tuple[str, str]]
    text: str


@functools.cache
def sheets(path: Path) -> list[Sheet]:
    """What was looked at of each sheet of a PDF, once for all tests of it."""
    return list(map(_sheet, PdfReader(path).pages))


def _sheet(page: Any) -> Sheet:
    with leaves.apart(page):
        runs = printed_runs(page)
        return Sheet(
            float(page.mediabox.width), float(page.mediabox.height), max(run["displaced_tx"] for run in runs),
            min(run["ty"] for run in runs), max(run["ty"] + run["font_height"] for run in runs), crossing(runs), page.extract_text(),
        )  # fmt: skip


@each_form
def test_nothing_else_is_on_paper(pack: packs.Pack, form: str, site: Path) -> None:
    """Each printed line is of its pages, of a drawing, of the questions or of the layout itself."""
    said = words([chapters(site, pack, form), pack.title, pack.summary, *(
        [each.ask, list(each.answers)] for each in pack.questions)])  # fmt: skip
    drawn = "".join("".join(re.findall(r">([^<>]+)</text>", path.read_text("utf-8")))
                    for path in sorted((DOCS / "assets" / "drawings").glob("*.svg")))  # fmt: skip
    known = squeezed(ADDED.sub("", "".join(said)) + drawn + LAYOUT)
    found = sheets(site / "packs" / packs.file_of(pack.key, form))
    lines = [line for leaf in found[1:] for line in leaf.text.split("\n")[1:-1]]
    assert len(lines) > 200
    assert [line for line in lines if squeezed(ADDED.sub("", line)) not in known] == []


@pytest.mark.parametrize("sheet", [*BOOKLETS, "drills", "drills-answers"])
def test_every_page_bears_its_number_and_how_many_there_are(sheet: str, site: Path) -> None:
    """So that a lost sheet is missed."""
    found = sheets(site / "packs" / f"{sheet}.pdf")
    feet = [re.findall(r"Page (\d+) of (\d+)", each.text)[-1:] for each in found]
    assert feet == [[(str(number), str(len(found)))] for number in range(1, len(found) + 1)]


@pytest.mark.parametrize("sheet", [*BOOKLETS, "drills", "drills-answers"])
def test_no_text_is_cut_or_covered(sheet: str, site: Path) -> None:
    """No line is wider than the paper less 15 mm a side or nearer than 10 mm to its ends; no cell spills over."""
    for each in sheets(site / "packs" / f"{sheet}.pdf"):
        assert each.right <= each.width - 2 * 15 * MM
        assert each.low >= 10 * MM
        assert each.top <= each.height - 10 * MM
        assert each.crossing == []


def test_a_word_too_long_for_its_cell_is_found(tmp_path: Path) -> None:
    """The measure sees what a reader would see: one text over another, and off the paper."""
    source = '#set page(paper: "us-letter", margin: 20mm)\n#set text(font: "Source Sans Pro")\n'
    source += f'#table(columns: (20mm, 1fr), [{"W" * 20}], [covered])\n#box(width: 900pt)[{"edge " * 150}]'
    (tmp_path / "wide.typ").write_text(source, encoding="utf-8")
    made = typst.compile(tmp_path / "wide.typ", font_paths=[glyphs.fonts()], ignore_system_fonts=True)
    page = PdfReader(BytesIO(made)).pages[0]
    assert len(crossing(printed_runs(page))) == 1
    assert max(run["displaced_tx"] for run in printed_runs(page)) > float(page.mediabox.width)


@each_form
def test_a_booklet_is_tagged(pack: packs.Pack, form: str, site: Path) -> None:
    """Title, language, headings, tables with the scope of their heads, drawings with words."""
    pdf = pdf_of(site, pack, form)
    root = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert pack.title in str(pdf.metadata.title)
    tags = structure(pdf)
    names = Counter(each["tag"] for each in tags)
    assert names["/H1"] >= len(chapters(site, pack, form)) + 1
    assert names["/TH"] > 5
    assert all(each["scope"] for each in tags if each["tag"] == "/TH")
    drawn = sum(str(chapter).count("'kind': 'figure'") for chapter in chapters(site, pack, form))
    pictures = [each for each in tags if each["tag"] == "/Figure"]
    assert len(pictures) >= drawn
    assert all(each["alt"] for each in pictures)
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_checker_of_pdf_ua_finds_nothing(sheet: str, site: Path) -> None:
    """Neither an error nor a warning, and no rule left out but the one that is named above."""
    report = pdfua.validate(str(site / "packs" / f"{sheet}.pdf"))
    assert report.findings == ()
    assert {rule.rule_id for rule in report.skipped} <= GIVES_UP
    assert len(report.outcomes) >= 12


def without(pdf: PdfReader, *keys: str) -> PdfWriter:
    """A copy whose catalog lacks something."""
    copy = PdfWriter(clone_from=pdf)
    for key in keys:
        del copy.root_object[NameObject(key)]
    return copy


def silenced(pdf: PdfReader) -> PdfWriter:
    """A copy whose drawings say nothing to a screen reader."""
    copy = PdfWriter(clone_from=pdf)
    for held in copy._objects:
        if isinstance(held, DictionaryObject) and held.get("/S") == "/Figure":
            held.pop(NameObject("/Alt"), None)
    return copy


BROKEN = {
    "no language": (lambda pdf: without(pdf, "/Lang"), "UA-06-001"),
    "no tags": (lambda pdf: without(pdf, "/StructTreeRoot"), "UA-01-005"),
    "mute drawings": (silenced, "UA-13-004"),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_the_checker_of_pdf_ua_finds_what_is_broken(fault: str, site: Path, tmp_path: Path) -> None:
    """Else finding nothing would mean nothing."""
    broken, rule = BROKEN[fault]
    copy = tmp_path / "broken.pdf"
    broken(pdf_of(site, PACKS[0])).write(str(copy))
    assert rule in {found.rule_id for found in pdfua.validate(str(copy)).findings}


@each_form
def test_no_heading_is_empty(pack: packs.Pack, form: str, site: Path) -> None:
    """Each heading's tag holds a piece of the page: a number that marks it."""
    headings = [each for each in structure(pdf_of(site, pack, form)) if re.fullmatch(r"/H\d?", each["tag"])]
    assert headings
    assert all(each["marks"] for each in headings)
