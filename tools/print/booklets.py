"""Makes every pack: a tagged PDF, its answers, and one printable page."""

from __future__ import annotations

import dataclasses
import io
import json
import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pikepdf
import typst

from tools.book.facts import facts
from tools.book.folder import drawings
from tools.book.packs import FILE, Pack
from tools.problems import Problem, Problems
from tools.results import drills as found

from . import drills, glyphs, paper
from .reader import UnknownElement, plain, read

if TYPE_CHECKING:
    from tools.book.book import Book

HERE = Path(__file__).parent
PAPERS = {"us": "us-letter", "si": "a4"}


def make(book: Book, site: Path, say: Callable[[str], object]) -> None:
    """Make a book's packs and drill sheets out of the finished pages in ``site``, into ``site/packs``.

    Raises :class:`Problems`.
    """
    told = {**facts(book.data), "paper": PAPERS[book.data.units]}
    sheets = drills.told(found.of(book.data))
    (site / "packs").mkdir(exist_ok=True)
    drawn = drawings(book)
    problems: list[Problem] = []
    for pack in book.packs:
        try:
            _make(site, drawn, pack, told, len(sheets))
        except (UnknownElement, typst.TypstError) as error:
            problems.append(Problem(FILE, f"[{pack.key}]", str(error),
                                    "Mend the page, or take it out of the pack."))  # fmt: skip
    if problems:
        raise Problems(problems)
    for part in ("", "answers") if sheets else ():
        name = "-".join(filter(None, ("drills", part)))
        words = {**told, "operator": told["name"], "part": part, "sheets": sheets}
        (site / "packs" / f"{name}.pdf").write_bytes(pdf("drills.typ", words, drawn))
    if lost := glyphs.lost([told, sheets, *map(dataclasses.asdict, book.packs)]):
        say(f"packs: no typeface here has {' '.join(sorted(lost))}: {glyphs.BOX} is printed in their place")
    say(f"packs: {len(book.packs)} booklets, as PDF and as one page each; {len(sheets)} drill sheets")


def _make(
    site: Path, drawn: Iterable[Path], pack: Pack, facts: Mapping[str, str], sheets: int
) -> None:
    pages = {place: (site / f"{place}.html").read_text(encoding="utf-8") for place in pack.pages}
    chapters = [_chapter(place, html) for place, html in pages.items()]
    told = {**_told(pack, chapters, facts), "sheets": sheets}
    folder = site / "packs"
    (folder / f"{pack.key}.pdf").write_bytes(pdf("house.typ", told, drawn))
    if pack.questions:
        (folder / f"{pack.key}-answers.pdf").write_bytes(pdf("answers.typ", told, drawn))
    paper.fill(site / "learn" / f"pack-{pack.key}.html", pages)


def _chapter(place: str, html: str) -> dict[str, Any]:
    blocks = read(html, f"{place}.html")
    if not blocks or blocks[0].get("level") != 1:
        raise UnknownElement(f"{place}: the page does not begin with its title")
    return {"place": place, "title": plain(blocks[0]["text"]), "blocks": blocks[1:]}


def _told(pack: Pack, chapters: list[dict[str, Any]], facts: Mapping[str, str]) -> dict[str, Any]:
    titles = {each["place"]: each["title"] for each in chapters}
    return {
        "title": pack.title, "summary": pack.summary, "operator": facts["name"],
        "edition": facts["edition"], "data": facts["data"], "paper": facts["paper"],
        "places": list(pack.pages), "chapters": chapters,
        "questions": [{"ask": each.ask, "answers": list(each.answers), "letter": each.letter,
                       "why": each.why, "page": titles[each.page]} for each in pack.questions],
    }  # fmt: skip


def pdf(layout: str, told: Mapping[str, Any], drawn: Iterable[Path]) -> bytes:
    """Lay out one booklet; the same bytes for the same words. Raises ``typst.TypstError``."""
    with tempfile.TemporaryDirectory() as work:
        folder = Path(work)
        shutil.copy(HERE / layout, folder / layout)
        for each in drawn:  # a later folder stands over an earlier one
            if each.is_dir():
                shutil.copytree(each, folder / "drawings", dirs_exist_ok=True)
        told = glyphs.printable(told)
        (folder / "pack.json").write_text(json.dumps(told, ensure_ascii=False), encoding="utf-8")
        return packed(glyphs.typeset(folder, layout))


def packed(booklet: bytes) -> bytes:
    """The same booklet at half its size: the tags are thousands of small parts, packed together."""
    made = io.BytesIO()
    with pikepdf.open(io.BytesIO(booklet)) as opened:
        opened.save(
            made, object_stream_mode=pikepdf.ObjectStreamMode.generate,
            compress_streams=True, recompress_flate=True, deterministic_id=True,
        )  # fmt: skip
    return made.getvalue()
