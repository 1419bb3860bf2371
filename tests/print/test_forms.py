"""The two forms of a booklet: what the short one may leave out, how both fill their sheets, and what is kept."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup, Tag
from pypdf import PdfReader

from tests.support import leaves
from tests.support.booklets import (
    CHOSEN,
    FACTS,
    PACKS,
    SHORTS,
    each_form,
    each_short,
    pages,
    pdf_of,
    squeezed,
)
from tools.book import packs
from tools.pages import procedures
from tools.print import booklets as make
from tools.print import forms, reader
from tools.print.kept import Kept
from tools.print.packing import rounded

INSTALL = [pack for pack in SHORTS if "install-day" in (pack.key, pack.of)]
def articles(site: Path, pack: packs.Pack) -> Iterator[Tag]:
    """The pages that people read on a screen, of those that the short form holds."""
    for place, html in pages(site, pack):
        if not place.startswith("reference/"):
            yield _parsed(html)


@functools.cache
def _parsed(html: str) -> BeautifulSoup:
    return BeautifulSoup(html, "html.parser")


def sheets(site: Path, pack: packs.Pack, form: str) -> list[str]:
    """The letters of each sheet."""
    return [squeezed(leaf.text) for leaf in leaves.of(site, pack, form)]


def text_of(tag: Tag) -> str:
    """The letters of an element of a page, less what no paper has."""
    return squeezed("".join(str(each) for each in tag.strings if not each.find_parent("svg") and not each.find_parent("a")))


def test_install_day_takes_at_most_eighteen_sheets(site: Path) -> None:
    """For each cabinet model, with its card's words in the steps."""
    assert [pack.key for pack in INSTALL if len(pdf_of(site, pack, packs.SHORT).pages) > 18] == []
    assert len(INSTALL) == 3


@each_short
def test_the_short_form_is_shorter_than_the_study_form(pack: packs.Pack, site: Path) -> None:
    study = next(each for each in PACKS if each.key == (pack.of or pack.key))
    assert len(pdf_of(site, pack, packs.SHORT).pages) < len(pdf_of(site, study).pages)


@each_short
def test_the_short_form_holds_each_step_caution_drawing_record_and_signature(pack: packs.Pack, site: Path) -> None:
    """By what the pages show on a screen, and not by what the short form was made of."""
    printed = "".join(sheets(site, pack, packs.SHORT))
    sought = 0
    for article in articles(site, pack):
        emergency = article.select_one("h1").get_text() == "Emergency"  # type: ignore[union-attr]
        records = "" if emergency and make.EMERGENCY not in pack.pages else ", table.hb-fill tbody th"
        for tag in article.select(".hb-step-text, .hb-signal-title, .hb-signal p, figcaption" + records):
            for each in tag.find_all(string=True):
                assert squeezed(str(each)) in printed, each
            sought += 1
        for heading in article.select("h2"):
            title = heading.find(string=True, recursive=False)
            if title in ("Before you start", "How you know it is right", "When to stop and whom to call"):
                follows = [each for each in heading.find_next_siblings() if each.name in ("ul", "h2")]
                for item in follows[0].find_all("li"):
                    assert all(squeezed(str(each)) in printed for each in item.find_all(string=True)), item
                    sought += 1
    drawn = sum(len(article.select("figure.hb-drawing")) for article in articles(site, pack))
    pictures = sum(1 for leaf in leaves.of(site, pack, packs.SHORT) for words in leaf.drawings if words)
    assert pictures >= drawn > 0
    assert sought > 40


@each_form
def test_a_step_is_on_one_sheet_with_its_cautions_and_its_drawing(pack: packs.Pack, form: str, site: Path) -> None:
    """The sheet that has the caution's title has the step; the one that has the caption has it too."""
    printed = sheets(site, pack, form)
    found = 0
    for article in articles(site, pack):
        for step in article.select("li.hb-step:has(.hb-signal), li.hb-step:has(figcaption)"):
            line = step.select_one(".hb-step-text")
            assert line
            parts = [text_of(each) for each in step.select(".hb-signal-title, .hb-signal > p, figcaption")]
            assert any(text_of(line) in leaf and all(part[:60] in leaf for part in parts) for leaf in printed), line
            found += 1
    assert found > 1


@each_form
def test_each_sheet_but_the_last_of_a_part_is_at_least_half_full(pack: packs.Pack, form: str, site: Path) -> None:
    """In the short form the parts are the cover, the emergency page, and all others; else each page is one."""
    pdf = pdf_of(site, pack, form)
    starts = {pdf.get_destination_page_number(each) for each in pdf.outline if not isinstance(each, list)}  # type: ignore[arg-type]
    if form == packs.SHORT:
        titles = [each.select_one("h1").get_text() for each in articles(site, pack)]  # type: ignore[union-attr]
        starts = {pdf.get_destination_page_number(each) for each in pdf.outline  # type: ignore[arg-type]
                  if not isinstance(each, list) and each.title in titles[:2]}  # fmt: skip
    full = [leaf.lowest for leaf in leaves.of(site, pack, form)]
    ends = {start - 1 for start in starts} | {len(full) - 1}
    assert len(ends) < len(full)
    assert [(number + 1, share) for number, share in enumerate(full) if number not in ends and share < 0.5] == []
    assert full[0] > 0.5


def test_a_half_empty_sheet_is_found() -> None:
    """The measure sees text, lines and drawings, and neither head nor foot."""
    few = {"kind": "p", "text": ["A few words."]}
    said = make.said(packs.Pack("van", "Van", "A van.", (), ()), packs.STUDY, [], FACTS)
    told = {**said, "chapters": [{"place": "a", "title": "Few", "blocks": [few]},
                                 {"place": "b", "title": "Many", "blocks": [few] * 60}]}  # fmt: skip
    made = PdfReader(BytesIO(make.pdf("house.typ", told, [])))
    assert leaves.lowest(made.pages[1]) < 0.15
    assert leaves.lowest(made.pages[2]) > 0.9


def test_a_step_longer_than_a_column_loses_no_word() -> None:
    """An operator may write more under a step than any sheet holds."""
    why = {"kind": "why", "text": [" ".join(f"word{number}" for number in range(1500))]}
    step = {"number": "1", "before": [], "text": ["Look."], "after": [why]}
    said = make.said(packs.Pack("van", "Van", "A van.", (), ()), packs.STUDY, [], FACTS)
    blocks = [{"kind": "steps", "items": [step, {**step, "number": "2", "after": []}]}]
    told = {**said, "chapters": [{"place": "a", "title": "Long", "blocks": blocks}]}
    made = PdfReader(BytesIO(make.pdf("house.typ", told, [])))
    assert all(word in "".join(page.extract_text() for page in made.pages) for word in ("word0 ", "word1499"))
    assert min(y for page in made.pages for y in leaves.inks(page)) > 10 * leaves.MM


@each_form
def test_what_must_be_read_is_black_and_large_enough(pack: packs.Pack, form: str, site: Path) -> None:
    """Outside of drawings no text is gray, none is below 9 points, and most of it has 11 or more."""
    letters: dict[float, int] = {}
    for leaf in leaves.of(site, pack, form):
        for (size, color), count in leaf.letters.items():
            assert color == (0, 0, 0)
            letters[size] = letters.get(size, 0) + count
    assert min(letters.keys() - {7.7}) >= 9, letters  # that one is the mark in the warning triangle
    assert sum(count for size, count in letters.items() if size >= 11) > 0.7 * sum(letters.values())


def test_the_sections_that_are_left_out_are_those_of_procedures() -> None:
    """By the names that every procedure gives them."""
    assert set(forms.LEFT_OUT) | set(forms.RUN_IN) <= set(procedures.PARTS)


WHOLE = """<article><h1>A</h1><h2>What it is for</h2><p>To know.</p><h2>Who may do it</h2><p>Anyone.</p>
<h2>Tools and protective gear</h2><ul><li>A level</li><li>Gloves</li></ul><h2>Steps</h2><ol class="hb-steps">
<li class="hb-step"><label class="hb-step-line"><span class="hb-step-number">1</span><span class="hb-step-text">Look.</span>
</label><p class="hb-why"><span class="hb-reason">It may lean.</span> Do <em>not</em> push.</p></li>
<li class="hb-step"><label class="hb-step-line"><span class="hb-step-number">2</span><span class="hb-step-text">Go.</span>
</label><p class="hb-why"><span class="hb-reason">It is late.</span></p></li></ol><h2>Why it leans</h2><p>It does.</p>
<p><span class="hb-reason">All a reason.</span></p></article>"""


def test_only_what_is_marked_as_a_reason_is_left_out() -> None:
    """A word that is only stressed stays: without it, “do not push” would say the opposite."""
    short = forms.shortened(reader.read(WHOLE, "a.html"))
    said = "|".join(reader.plain(each.get("text", [])) for each in short)
    assert said == "A|Who may do it: Anyone.|Tools and protective gear: A level. Gloves.|Steps|"
    (first, second) = short[-1]["items"]
    assert (reader.plain(first["then"]), first["after"]) == ("Do not push.", [])
    assert (second["then"], second["after"]) == ([], [])


def test_pages_of_reference_stay_where_there_are_no_others() -> None:
    assert forms.pages(["a/b", "reference/glossary"], packs.SHORT) == ["a/b"]
    assert forms.pages(["a/b", "reference/glossary"], packs.STUDY) == ["a/b", "reference/glossary"]
    assert forms.pages(["reference/glossary"], packs.SHORT) == ["reference/glossary"]


def test_numbers_are_rounded_outside_of_texts_and_tags_only() -> None:
    drawn = b"/Span<</Alt(1.23456)>>BDC\nq 0.51968503 0 0 -0.0004 1.2 7 cm\nBT [(\0001.23456)-13.00001]TJ\nET\n2.9999 m"
    assert rounded(drawn) == drawn.replace(b"0.51968503", b"0.52").replace(b"-0.0004", b"0").replace(b"2.9999", b"3")


def test_a_booklet_that_rests_on_the_same_is_not_set_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another page, another operator or another drawing sets it anew; a damaged entry does too."""
    made: list[int] = []

    def fake(layout: str, told: Any, drawn: Any, words: Any) -> bytes:
        made.append(1)
        return b"booklet"

    monkeypatch.setattr(make, "pdf", fake)
    monkeypatch.setattr(make.stamp, "stamped", lambda booklet, mark: booklet)
    lines = tmp_path / "lines"
    lines.mkdir()

    def put(rests_on: str = "a", name: str = "one") -> int:
        room = make.Shop(tmp_path, [lines], {**FACTS, "name": name}, Kept(tmp_path / "kept"), make.ENGLISH, lambda: None)
        (tmp_path / "packs").mkdir(exist_ok=True)
        room.put("x.pdf", "house.typ", rests_on, dict)
        assert (tmp_path / "packs" / "x.pdf").read_bytes() == b"booklet"
        return len(made)

    assert [put(), put(), put("b"), put("b"), put(name="two"), put()] == [1, 1, 2, 2, 3, 3]
    (lines / "van.svg").write_text("<svg/>", "utf-8")
    assert [put(), put()] == [4, 4]
    for entry in (tmp_path / "kept").iterdir():
        entry.write_bytes(b"damaged")
    assert put() == 5


def test_what_no_build_asks_for_is_forgotten(tmp_path: Path) -> None:
    kept = Kept(tmp_path)
    kept.made("a", lambda: b"1")
    Kept(tmp_path).made("b", lambda: b"2")
    kept.forget_unused()
    assert len(list(tmp_path.iterdir())) == 1


def test_without_a_folder_nothing_is_kept() -> None:
    kept = Kept()
    assert [kept.made("a", lambda: b"1"), kept.made("a", lambda: b"2")] == [b"1", b"2"]
    kept.forget_unused()


def test_all_of_a_booklet_is_among_what_its_keeping_rests_on(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The texts of each page, its form, its pack and the operator: whatever changes one of them changes the name.

    But for the state of the data, which is put in afterwards.
    """
    names: list[Any] = []
    monkeypatch.setattr(Kept, "made", lambda self, rests_on, make: names.append(rests_on) or b"")
    monkeypatch.setattr(Path, "write_bytes", lambda self, data: 0)
    monkeypatch.setattr(make.stamp, "stamped", lambda booklet, mark: booklet or b"set")
    cash = next(pack for pack in CHOSEN if pack.key == "cash")
    make._make(make.Shop(site, [], FACTS, Kept(), make.ENGLISH, lambda: None), cash)
    short = next(each for each in names if each[-1][0] == packs.SHORT)
    assert short[2] == {key: told for key, told in FACTS.items() if key != "data"}
    assert short[4][2] == pages(site, cash)
    assert short[4][1]["questions"][0]["ask"] == cash.questions[0].ask


def test_what_forms_are_filled_from_is_no_part_of_a_booklet(site: Path) -> None:
    """Else a cell of the first site would set each booklet anew that shows none of it; its rows stand there all the same."""
    day = next(pack for pack in CHOSEN if pack.key == "install-day")
    held = pages(site, day)
    assert any("data-calculator-row" in html for _, html in held)
    assert not any("<script" in html for _, html in held)
