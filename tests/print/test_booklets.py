"""New-hire packs: what an operator may get wrong in them, and the booklets of the built handbook."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from pypdf import PdfReader

from calculators.core.words import Words, of
from tests.support import leaves
from tests.support.booklets import (
    DOCS,
    FACTS,
    MODELS,
    PACKS,
    WRITTEN,
    chapters,
    each_form,
    each_pack,
    pages,
    squeezed,
    words,
)
from tools.book import packs
from tools.print import booklets as make
from tools.print import drills, reader
from tools.problems import Problems

GOOD = """
[day-one]
title = "Day one"
summary = "What to read first."
pages = ["safety/emergency"]
"""
QUESTION = """
[[day-one.questions]]
ask = "What first?"
answers = ["Look", "Run"]
right = "Look"
why = "You see more."
page = "safety/emergency"
"""
MISTAKES = {
    "pages = [\"safety/emergenzy\"]": "There is no page “safety/emergenzy”",
    "pages = []\ncolour = \"red\"": "There is no part “colour”",
    "pages = \"safety/emergency\"": "“pages” is missing",
    "pages = [\"safety/emergency\"]\n[Day_One]\ntitle = \"x\"\nsummary = \"y\"\npages = []": "cannot be used in a link",
    "pages = [": "It cannot be read",
    "pages = [\"safety/emergency\"]\nforms = [\"long\"]": "“forms” names no form",
    "pages = [\"safety/emergency\"]\nby_model = \"yes\"": "“by_model” is neither true nor false",
    "pages = [\"safety/emergency\"]\nforms = []": "“forms” names no form",
    "pages = [\"safety/emergency\"]\nforms = \"short\"": "“forms” names no form",
    "pages = [\"safety/emergency\"]\n[day-short]\ntitle = \"x\"\nsummary = \"y\"\npages = []": "There is a booklet “day-short” already",
}  # fmt: skip
WRONG_QUESTIONS = {
    ('right = "Look"', 'right = "look"'): "right answer is not one of",
    ('answers = ["Look", "Run"]', 'answers = ["Look"]'): "2 to 6 answers",
    ('page = "safety/emergency"', 'page = "safety/tipping"'): "not in the pack",
    ('why = "You see more."', ""): "not whole",
}


def told(tmp_path: Path, text: str) -> str:
    (tmp_path / packs.FILE).write_text(text, encoding="utf-8")
    with pytest.raises(Problems) as caught:
        packs.load(tmp_path, WRITTEN)
    return str(caught.value)


@pytest.mark.parametrize("wrong", MISTAKES, ids=range(len(MISTAKES)))
def test_a_mistake_in_a_pack_is_told_with_file_and_mend(tmp_path: Path, wrong: str) -> None:
    """Which pack, what is wrong, what would be right."""
    text = told(tmp_path, GOOD.replace('pages = ["safety/emergency"]', wrong))
    assert MISTAKES[wrong] in text
    assert "packs.toml" in text


@pytest.mark.parametrize("wrong", WRONG_QUESTIONS, ids=range(len(WRONG_QUESTIONS)))
def test_a_mistake_in_a_question_is_told(tmp_path: Path, wrong: tuple[str, str]) -> None:
    """Also where several are wrong at once."""
    text = told(tmp_path, GOOD + QUESTION.replace(*wrong))
    assert WRONG_QUESTIONS[wrong] in text


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    """Two packs, three mistakes, one message."""
    other = GOOD.replace("day-one", "day-two").replace("emergency", "nowhere")
    text = told(tmp_path, GOOD.replace('summary = "What to read first."', "") + other)
    assert "[day-one]" in text
    assert "[day-two]" in text


def test_a_good_pack_is_read(tmp_path: Path) -> None:
    """With its questions and the letter of the right answer."""
    (tmp_path / packs.FILE).write_text(GOOD + QUESTION, encoding="utf-8")
    (pack,) = packs.load(tmp_path, WRITTEN)
    assert pack.pages == ("safety/emergency",)
    assert pack.questions[0].letter == "A"
    assert pack.forms == ("short", "study")


def test_an_operator_may_leave_a_form_out(tmp_path: Path) -> None:
    """The one that is named is made, under the name that it always has."""
    (tmp_path / packs.FILE).write_text(GOOD + 'forms = ["short"]\n', encoding="utf-8")
    (pack,) = packs.load(tmp_path, WRITTEN)
    assert [packs.file_of(pack.key, form) for form in pack.forms] == ["day-one-short.pdf"]


def test_a_pack_by_model_has_a_short_form_for_each(tmp_path: Path) -> None:
    """In place of its own; the questions stay with the study form. Of one model nothing is parted, nor where nobody asks for it."""
    (tmp_path / packs.FILE).write_text(GOOD, encoding="utf-8")
    assert packs.expanded(packs.load(tmp_path, WRITTEN), {"one": "One", "two": "Two"}) == packs.load(tmp_path, WRITTEN)
    (tmp_path / packs.FILE).write_text(GOOD + "by_model = true\n" + QUESTION, encoding="utf-8")
    found = packs.expanded(packs.load(tmp_path, WRITTEN), {"one": "One", "two": "Two"})
    assert [(each.key, each.machine, each.of, each.forms, len(each.questions)) for each in found] == [
        ("day-one", "", "", ("study",), 1), ("day-one-one", "one", "day-one", ("short",), 0), ("day-one-two", "two", "day-one", ("short",), 0)]  # fmt: skip
    assert packs.expanded(packs.load(tmp_path, WRITTEN), {"one": "One"}) == packs.load(tmp_path, WRITTEN)


def test_an_unknown_element_stops_the_build() -> None:
    """Nothing of a procedure gets lost on its way to paper."""
    with pytest.raises(reader.UnknownElement, match="video"):
        reader.read("<article><h1>A</h1><p><video></video></p></article>", "a.html")


@each_pack
def test_nothing_of_the_pages_is_missing_on_paper(pack: packs.Pack, site: Path) -> None:
    """Each text of each page is in the PDF, to the letter; a sheet's head and foot may stand in the midst of one."""
    printed = squeezed("".join(line for leaf in leaves.of(site, pack) for line in leaf.text.split("\n")[1:-1]))
    sought = 0
    for chapter in chapters(site, pack):
        # A link's page number may stand between two texts, so each is sought alone.
        for text in map(squeezed, words(chapter["blocks"])):
            assert text in printed, text
            sought += 1
    assert sought > 30


@each_form
def test_the_sign_off_names_the_right_pages(pack: packs.Pack, form: str, site: Path) -> None:
    """Each line of the sign-off matrix names the page on which its chapter begins."""
    printed = [leaf.text for leaf in leaves.of(site, pack, form)]
    for chapter in chapters(site, pack, form):
        line = re.search(rf"{re.escape(chapter['title'])}[ .]*?\n?(\d+)\s", printed[0])
        assert line, (chapter["title"], printed[0])
        assert chapter["title"] in printed[int(line[1]) - 1].replace("\n", " "), (chapter["title"], line[1])


@each_form
def test_a_booklet_is_the_same_bytes_again(pack: packs.Pack, form: str, site: Path) -> None:
    """So that an unchanged handbook has an unchanged checksum."""
    said = make.said(pack, form, pages(site, pack), FACTS)
    drawings = (DOCS / "assets" / "drawings",)
    assert make.pdf("house.typ", said, drawings) == make.pdf("house.typ", said, drawings)


@each_form
def test_what_to_do_in_an_emergency_is_on_the_second_page_of_all(pack: packs.Pack, form: str, site: Path) -> None:
    """All of it but the record, on that page and nothing else on it but its own."""
    page = BeautifulSoup((site / f"{make.EMERGENCY}.html").read_text("utf-8"), "html.parser").select_one("article")
    assert page
    wanted = [each.get_text() for each in page.select("h2, ol > li")]
    printed = squeezed(leaves.of(site, pack, form)[1].text)
    assert len(wanted) > 35
    assert [text for text in wanted if squeezed(text) not in printed and "Record of" not in text] == []


@each_pack
def test_a_packs_own_page_leads_to_its_pages(pack: packs.Pack, site: Path) -> None:
    """In the booklet's order, each under its title and with what it is for; and there is a sign-off."""
    html = (site / "learn" / f"pack-{pack.key}.html").read_text("utf-8")
    listed = BeautifulSoup(html, "html.parser").select("article ol > li")
    assert [each.select_one("a")["href"] for each in listed] == [f"../{place}.html" for place in pack.pages]
    for line, place in zip(listed, pack.pages, strict=True):
        source = (DOCS / f"{place}.md").read_text("utf-8")
        title, summary = (re.search(rf"^{key}: (.*)$", source, re.MULTILINE)[1] for key in ("title", "summary"))
        assert line.select_one("a").get_text() == title
        assert line.get_text().removeprefix(title).strip() == summary
    assert reader.read(html, "learn/a.html")[-1]["use"] == "fill"


@each_pack
def test_how_many_sheets_a_booklet_has_is_told_where_it_is_offered(pack: packs.Pack, site: Path) -> None:
    """On the list of packs and on the pack's own page, as many as the file has; both forms and the answers."""
    for name in ("packs", f"pack-{pack.key}"):
        page = BeautifulSoup((site / "learn" / f"{name}.html").read_text("utf-8"), "html.parser")
        theirs = [packs.file_of(each.key, form) for each in PACKS if pack.key in (each.key, each.of) for form in each.forms]
        for file in (*theirs, f"{pack.key}-answers.pdf"):
            link = page.select_one(f'a[href="../packs/{file}"]')
            count = len(PdfReader(site / "packs" / file).pages)
            assert link
            assert re.search(rf"\(PDF, {count} sheets?\)", link.get_text()), link
        assert len(theirs) == (1 + len(MODELS) if pack.by_model else 2)


@each_pack
def test_answers_stand_apart_from_their_questions(pack: packs.Pack, site: Path) -> None:
    """The booklet asks; only the trainer's paper tells."""
    booklet = squeezed("".join(leaf.text for leaf in leaves.of(site, pack)))
    asked = booklet.rpartition("Answeralone")[2]
    assert len(pack.questions) >= 5
    answers = PdfReader(site / "packs" / f"{pack.key}-answers.pdf")
    trainer = squeezed("".join(page.extract_text() for page in answers.pages))
    for question in pack.questions:
        assert squeezed(question.ask) in asked
        assert squeezed(question.why) not in asked
        assert squeezed(question.why) in trainer


def test_an_operators_own_drawing_stands_in_the_booklet(tmp_path: Path) -> None:
    """One of theirs beside ours; of two with one name, theirs; a folder that is not there is no mistake."""
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="{}"/></svg>'
    ours, theirs = tmp_path / "ours", tmp_path / "theirs"
    for folder, name, high in ((ours, "van", 1), (theirs, "van", 9), (theirs, "mine", 3)):
        folder.mkdir(exist_ok=True)
        (folder / f"{name}.svg").write_text(svg.format(high), "utf-8")

    def laid(name: str, *folders: Path) -> bytes:
        figure = {"kind": "figure", "drawing": name, "alt": "A van", "caption": []}
        chapter = {"place": "notes/van", "title": "Van", "blocks": [figure]}
        told = {**make.said(packs.Pack("van", "Van", "A van.", (), ()), "study", [], FACTS), "chapters": [chapter]}
        return make.pdf("house.typ", told, folders)

    assert laid("van", ours, theirs) == laid("van", theirs) != laid("van", ours)
    assert laid("mine", ours, theirs, tmp_path / "none")


def test_our_drawings_are_in_the_country_s_words_and_theirs_in_their_own(tmp_path: Path) -> None:
    """The letters of a drawing are set as they stand in the file."""
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 9"><text y="8" font-size="8">{}</text></svg>'
    ours, theirs = tmp_path / "ours", tmp_path / "theirs"
    for folder, word in ((ours, "truck"), (theirs, "truck"), (tmp_path / "british", "lorry")):
        folder.mkdir()
        (folder / "van.svg").write_text(svg.format(word), "utf-8")

    def laid(words: Words, *folders: Path) -> bytes:
        figure = {"kind": "figure", "drawing": "van", "alt": "A van", "caption": []}
        told = {**make.said(packs.Pack("van", "Van", "A van.", (), ()), "study", [], FACTS),
                "chapters": [{"place": "notes/van", "title": "Van", "blocks": [figure]}]}  # fmt: skip
        return make.pdf("house.typ", told, folders, words)

    assert laid(of("uk"), ours) == laid(of("us"), tmp_path / "british") != laid(of("us"), ours)
    assert laid(of("uk"), tmp_path / "none", theirs) == laid(of("us"), theirs)


def test_a_drill_is_told_in_the_country_s_words() -> None:
    """Sentences and lines of working; whether the answer turns is no word."""
    told = {"question": "A truck?", "working": ["An elevator"], "turns": True}
    assert drills._said(told, of("uk")) == {"question": "A lorry?", "working": ["A lift"], "turns": True}
