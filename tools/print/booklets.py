"""Makes every pack: a tagged PDF in its short and its study form, and its answers."""

from __future__ import annotations

import dataclasses
import functools
import json
import re
import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pikepdf
import typst

from calculators.core.words import BASE, Words, of
from tools.book import country
from tools.book.facts import facts
from tools.book.folder import drawings
from tools.book.packs import FILE, SHORT, Pack, file_of
from tools.problems import Problem, Problems
from tools.results import drills as found

from . import drills, forms, glyphs, stamp
from .kept import Kept, hash_of
from .models import for_model
from .packing import packed
from .reader import UnknownElement, own_part, plain, read

if TYPE_CHECKING:
    from tools.book.book import Book

HERE = Path(__file__).parent
PAPERS = {"us": "us-letter", "si": "a4"}
# What to do when somebody is hurt: in every booklet, on the page after the cover.
EMERGENCY = "safety/emergency"
NO_RECORD = "The record of an accident is on the page Emergency of the handbook. Print it there, or ask the office for it."
# What a form is filled from: no paper shows it, and it changes with the cells of the first site.
DATA = re.compile(r"<script type=\"?application/json\"?[^>]*>.*?</script>", re.DOTALL)
SIZE = re.compile(r'<span data-booklet="([^"<>]+)"></span>')

ENGLISH = of(BASE)

Chapter = dict[str, Any]
Page = tuple[str, str]  # its place in the site, and its HTML


@dataclasses.dataclass(frozen=True)
class Shop:
    """Where booklets are made: the site, the drawings, what stands on each sheet, and what earlier builds made."""

    site: Path
    drawn: Sequence[Path]
    told: Mapping[str, Any]
    kept: Kept
    words: Words
    halt: Callable[[], object]

    @functools.cached_property
    def lines(self) -> str:
        """The hash of all drawings."""
        return hash_of(list(self.drawn))

    def put(self, name: str, layout: str, rests_on: Any, say: Callable[[], Mapping[str, Any]]) -> None:
        """Write a PDF, which is set only where something that it rests on has changed; the state of the data is put in."""
        steady = {key: told for key, told in self.told.items() if key != "data"}
        everything = [layout, self.lines, steady, country.mark(self.words), rests_on]
        made = self.kept.made(everything, lambda: self._set(layout, say, stamp.BLANK))
        if layout in stamp.LAYOUTS:
            mark = self.told["data"]
            # A letter that its typeface lacks, because nothing else of it has that letter: then it is set with it.
            made = stamp.stamped(made, mark) or self.kept.made([*everything, mark], lambda: self._set(layout, say, mark))
        (self.site / "packs" / name).write_bytes(made)

    def _set(self, layout: str, say: Callable[[], Mapping[str, Any]], mark: str) -> bytes:
        self.halt()
        return pdf(layout, {**say(), "data": mark}, self.drawn, self.words)


def make(book: Book, site: Path, say: Callable[[str], object], kept: Kept | None = None,
         halt: Callable[[], object] = lambda: None) -> None:  # fmt: skip
    """Make a book's packs and drill sheets out of the finished pages in ``site``, into ``site/packs``.

    ``kept`` are booklets of earlier builds; ``halt`` is asked before each that is set, and may raise.
    Raises :class:`Problems`.
    """
    words = country.of(book)
    sheets = drills.told(found.of(book.data), words)
    told = {**facts(book.data), "paper": PAPERS[book.data.units], "sheets": len(sheets)}
    (site / "packs").mkdir(exist_ok=True)
    shop = Shop(site, list(drawings(book)), told, kept or Kept(), words, halt)
    with ThreadPoolExecutor() as pool:  # the typesetter lets other threads run beside it
        problems = [each for each in pool.map(functools.partial(_tried, shop), book.packs) if each]
    if problems:
        raise Problems(problems)
    for part in ("", "answers") if sheets else ():
        name = "-".join(filter(None, ("drills", part)))
        sheet = {**told, "operator": told["name"], "part": part, "sheets": sheets, "data": ""}
        shop.put(f"{name}.pdf", "drills.typ", sheet, lambda sheet=sheet: sheet)  # type: ignore[misc]
    _tell_all_sizes(book, site)
    if lost := glyphs.lost([told, sheets, *map(dataclasses.asdict, book.packs)]):
        say(f"packs: no typeface here has {' '.join(sorted(lost))}: {glyphs.BOX} is printed in their place")
    say(f"packs: {len(book.packs)} booklets, each in its forms; {len(sheets)} drill sheets")


def borrow(book: Book, site: Path, earlier: Path) -> bool:
    """Put in their places the booklets that an ``earlier`` site has of a book; whether it had them all."""
    sheets = ("drills.pdf", "drills-answers.pdf") if found.of(book.data) else ()
    names = [*(name for pack in book.packs for name in _files(pack)), *sheets]
    if not all((earlier / "packs" / name).is_file() for name in names):
        return False
    (site / "packs").mkdir(exist_ok=True)
    for name in names:
        shutil.copyfile(earlier / "packs" / name, site / "packs" / name)
    _tell_all_sizes(book, site)
    return True


def _files(pack: Pack) -> list[str]:
    return [*(file_of(pack.key, form) for form in pack.forms), *([_answers(pack)] if pack.questions else [])]


def _answers(pack: Pack) -> str:
    return f"{pack.key}-answers.pdf"


def _tell_all_sizes(book: Book, site: Path) -> None:
    for page in ("packs", *(f"pack-{pack.key}" for pack in book.packs if not pack.of)) if book.packs else ():
        tell_sizes(site / "learn" / f"{page}.html", site / "packs")


def _tried(shop: Shop, pack: Pack) -> Problem | None:
    try:
        _make(shop, pack)
    except (UnknownElement, typst.TypstError) as error:
        return Problem(FILE, f"[{pack.key}]", str(error), "Mend the page, or take it out of the pack.")
    return None


def _make(shop: Shop, pack: Pack) -> None:
    pages = held(pack, shop.site, shop.kept)
    wanted = dataclasses.asdict(pack)
    for form in pack.forms:
        shop.put(file_of(pack.key, form), "house.typ", [form, wanted, pages],
                 functools.partial(said, pack, form, pages, shop.told))  # fmt: skip
    if pack.questions:
        shop.put(_answers(pack), "answers.typ", [wanted, pages],
                 functools.partial(said, pack, "", pages, shop.told))  # fmt: skip


def held(pack: Pack, site: Path, kept: Kept | None = None) -> list[Page]:
    """The pages of a booklet, with the words of its own cabinet model alone where it is for one."""
    parts = [(place, DATA.sub("", own_part((site / f"{place}.html").read_text(encoding="utf-8")))) for place in places(pack, site)]
    return [(place, _of_model(html, pack.machine, kept or Kept())) for place, html in parts] if pack.machine else parts


def _of_model(html: str, machine: str, kept: Kept) -> str:
    """Kept too: ten models have a booklet of each page, and to take their words out of it costs as much as to read it."""
    return kept.made(["of a model", machine, html], lambda: for_model(html, machine).encode()).decode()


def places(pack: Pack, site: Path) -> list[str]:
    """The pages of a booklet: what to do in an emergency, then the pack's own in order."""
    first = [EMERGENCY] if (site / f"{EMERGENCY}.html").is_file() else []
    return list(dict.fromkeys([*first, *pack.pages]))


@functools.lru_cache(maxsize=256)
def chapter(place: str, html: str) -> Chapter:
    """A page with its title and its blocks; raises :class:`UnknownElement`."""
    blocks = read(html, f"{place}.html")
    if not blocks or blocks[0].get("level") != 1:
        raise UnknownElement(f"{place}: the page does not begin with its title")
    return {"place": place, "title": plain(blocks[0]["text"]), "blocks": blocks[1:]}


def said(pack: Pack, form: str, pages: Sequence[Page], facts: Mapping[str, Any]) -> dict[str, Any]:
    """All that a form of a booklet says."""
    whole = [chapter(*page) for page in pages]
    if EMERGENCY not in pack.pages:
        whole = [_first_aid(each) if each["place"] == EMERGENCY else each for each in whole]
    return {
        "title": pack.title, "summary": pack.summary, "operator": facts["name"], "form": form,
        "edition": facts["edition"], "data": facts["data"], "paper": facts["paper"], "sheets": facts["sheets"],
        **laid_out(whole, form), "questions": _questions(pack, {each["place"]: each["title"] for each in whole}),
    }  # fmt: skip


def _first_aid(emergency: Chapter) -> Chapter:
    """What to do, in a pack that does not teach this page: its record stays in the handbook."""
    blocks = forms.without_records(emergency["blocks"])
    return {**emergency, "blocks": [*blocks, {"kind": "p", "text": [NO_RECORD]}]}


def laid_out(chapters: Sequence[Chapter], form: str) -> dict[str, Any]:
    """The chapters that a form holds, their places, to which links on paper can lead, and how many stand first."""
    held = forms.pages([each["place"] for each in chapters], form)
    shown = [each for each in chapters if each["place"] in held]
    if form == SHORT:
        shown = [{**each, "blocks": forms.shortened(each["blocks"])} for each in shown]
    return {"places": held, "chapters": shown, "first": sum(place == EMERGENCY for place in held)}


def _questions(pack: Pack, titles: Mapping[str, str]) -> list[dict[str, Any]]:
    return [{"ask": each.ask, "answers": list(each.answers), "letter": each.letter, "why": each.why,
             "page": titles[each.page]} for each in pack.questions]  # fmt: skip


def pdf(layout: str, told: Mapping[str, Any], drawn: Iterable[Path], words: Words = ENGLISH) -> bytes:
    """Lay out one booklet; the same bytes for the same words. Raises ``typst.TypstError``."""
    with tempfile.TemporaryDirectory() as work:
        folder = Path(work)
        for each in HERE.glob("*.typ"):
            shutil.copy(each, folder)
        for number, each in enumerate(drawn):  # a later folder, the operator's, stands over an earlier one
            if each.is_dir():
                shutil.copytree(each, folder / "drawings", dirs_exist_ok=True)
            if number == 0:
                _word(folder / "drawings", words)
        told = glyphs.printable(told)
        (folder / "pack.json").write_text(json.dumps(told, ensure_ascii=False), encoding="utf-8")
        return packed(glyphs.typeset(folder, layout))


def _word(drawings: Path, words: Words) -> None:
    """The letters of drawings in the words of the country."""
    for each in drawings.glob("*.svg"):
        drawn = each.read_text(encoding="utf-8")
        if (told := words.markup(drawn)) != drawn:
            each.write_text(told, encoding="utf-8")


def tell_sizes(page: Path, folder: Path) -> None:
    """Say beside each link of a page how many sheets the booklet has."""
    text = page.read_text(encoding="utf-8")
    told = SIZE.sub(lambda found: f", {sheets_of(folder / found[1])}", text)
    page.write_text(told, encoding="utf-8", newline="\n")


def sheets_of(booklet: Path) -> str:
    """How many sheets a booklet has, one side printed."""
    with pikepdf.open(booklet) as opened:
        count = len(opened.pages)
    return "1 sheet" if count == 1 else f"{count} sheets"
