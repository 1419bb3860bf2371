"""What the bridge hands to the theme's templates, which print most texts as they are."""

from __future__ import annotations

import copy
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import jinja2
import pytest
from mkdocs.structure.toc import AnchorLink

from calculators.core import rules, words
from tests.support.hostile import TEXTS
from tools.book.book import Book
from tools.book.data import load
from tools.book.written import Written
from tools.material import bridge, scripts

DOCS = Path(__file__).parents[2] / "docs"
BOOK = Book(DOCS, load(DOCS / "data"), ())
SAID = words.of("us")


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("print_", ["{{ x }}", "{{ x | e }}", "{{ x | striptags | e }}", "{{ x.y[0] | e }}"])
def test_a_text_is_escaped_once_however_a_template_prints_it(text: str, print_: str) -> None:
    value: Any = {"y": [text]} if "x.y" in print_ else text
    made = jinja2.Environment(autoescape=False).from_string(print_).render(x=bridge.printed(value))
    plain = " ".join(text.split())
    assert made.replace("&#34;", "&quot;").replace("&#39;", "&#x27;") == bridge.text.html(plain)


def test_what_is_no_text_stays() -> None:
    told = {"hide": ["toc"], "order": 3, "search": {"exclude": True}, "none": None}
    assert bridge.printed(told) == told
    assert bridge.printed(bridge.printed("a & b")) == "a &amp; b"


def test_a_menu_s_labels_are_printed_and_its_paths_are_not() -> None:
    menu = [{"Home": "index.md"}, {"A & B": [{"<i>": "a&b.md"}]}]
    assert bridge._labelled(menu, SAID) == [{"Home": "index.md"}, {"A &amp; B": [{"&lt;i&gt;": "a&b.md"}]}]


@pytest.mark.parametrize(("name", "good"), [("store.js", True), ("../x.js", False), ("lost.js", False), ('"><script>', False)])
def test_a_page_asks_for_scripts_of_ours_alone(name: str, good: bool) -> None:
    made = bridge.Bridge(BOOK)
    made._check_scripts(SimpleNamespace(meta={"scripts": [name]}))
    assert bool(made.context.problems) is not good


def test_no_heading_s_id_begins_as_the_theme_s_do() -> None:
    assert bridge._ident("__config", "-") == "config"
    assert bridge._ident("What to record", "-") == "what-to-record"


def test_the_list_holds_the_theme_s_scripts_for_every_depth() -> None:
    """Three in each page; the way to the root is all that differs."""
    inline = scripts.inline("https://a.example/hb/")
    roots = {each.split('new URL("')[1].split('"')[0] for each in inline if each.startswith("__md_scope")}
    assert {".", "..", "../..", "/hb/", "/hb"} <= roots
    assert not [each for each in inline if "{{" in each]


def test_a_link_s_place_is_the_heading_as_it_reads() -> None:
    """The menu's headings are escaped already."""
    part = SimpleNamespace(title=bridge.printed("A & <b>"))
    file = SimpleNamespace(url="b.html", page=SimpleNamespace(parent=part))
    page: Any = SimpleNamespace(meta={"kind": "procedure"}, url="a.html", file=SimpleNamespace(src_uri="a.md"), toc=[])
    made = bridge.Bridge(BOOK).on_page_content('<a href="b.html">x</a>', page, None, [file])
    assert made == '<a data-place="A &amp; &lt;b&gt;" href="b.html">x</a>'


@pytest.mark.parametrize("value", [*TEXTS, ["a & b", "c"], 3, None])
def test_what_was_printed_can_be_taken_back(value: Any) -> None:
    assert bridge.unprinted(bridge.printed(value)) == (" ".join(value.split()) if isinstance(value, str) else value)


@pytest.mark.parametrize(("front", "said"), [("", ["bill jam"]), ("said: [cash]\n", ["cash"]), ("said: []\n", None)])
def test_a_page_in_place_of_ours_is_looked_for_as_ours_was(front: str, said: list[str] | None, tmp_path: Path) -> None:
    """Unless it names words of its own."""
    docs, ours = (tmp_path / name / "procedures" / "note-unit.md" for name in ("docs", "pages"))
    for path, more in ((docs, "said: [bill jam]\nmenu: Look up\n"), (ours, front)):
        path.parent.mkdir(parents=True)
        path.write_text(f"---\ntitle: Notes\n{more}---\nText.\n", "utf-8")
    place = "procedures/note-unit.md"
    book = Book(docs.parents[1], BOOK.data, (), written=Written({place: ours}, frozenset({place}), frozenset()))
    entries: list[dict[str, Any]] = [{"location": "procedures/note-unit.html", "title": "Notes", "text": ""}]
    page: Any = SimpleNamespace(file=SimpleNamespace(src_uri=place), url="procedures/note-unit.html", meta={})
    made = bridge.Bridge(book)
    made._found(page, entries)
    assert entries[0].get("said") == said
    assert made.context.problems == []


def test_words_that_are_no_list_stop_the_build(tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    path.write_text("---\ntitle: A\nsaid: hot\n---\n", "utf-8")
    made = bridge.Bridge(Book(DOCS, BOOK.data, (), written=Written({"a.md": path}, frozenset(), frozenset())))
    page: Any = SimpleNamespace(file=SimpleNamespace(src_uri="a.md"), url="a.html", meta={})
    made._found(page, [{"location": "a.html", "title": "A", "text": ""}])
    assert [problem.file for problem in made.context.problems] == ["a.md"]


def test_the_search_reads_two_cells_as_two_words() -> None:
    page: Any = SimpleNamespace(meta={}, url="a.html", file=SimpleNamespace(src_uri="a.md"), toc=[])
    made = bridge.Bridge(BOOK).on_page_content("<tr><td>One</td><td>Two</td></tr>", page, None, [])
    assert made == "<tr><td>One</td> <td>Two</td> </tr>"


def british(own: frozenset[str] = frozenset()) -> bridge.Bridge:
    data = copy.copy(BOOK.data)
    data.rules = rules.load("uk")
    return bridge.Bridge(Book(DOCS, data, (), written=Written({}, own, frozenset())))


@pytest.mark.parametrize(("own", "content", "title"), [((), "A <b>lorry</b>", "The lorry"), (("a.md",), "A <b>truck</b>", "The truck")])
def test_our_pages_are_in_the_country_s_words_and_the_operator_s_in_their_own(own: tuple[str, ...], content: str, title: str) -> None:
    """Text, contents and front matter; ids and links stay."""
    link = AnchorLink("The truck", "the-truck", 2)
    link.children = [AnchorLink("Trucks", "trucks", 3)]
    page: Any = SimpleNamespace(meta={}, url="a.html", file=SimpleNamespace(src_uri="a.md"), toc=[link])
    made = british(frozenset(own))
    assert made.on_page_content("A <b>truck</b>", page, None, []) == content
    assert (link.title, link.id) == (title, "the-truck")
    assert link.children[0].title == ("Trucks" if own else "Lorries")


def test_a_menu_is_in_the_country_s_words_and_leads_where_it_did() -> None:
    assert bridge._labelled([{"Trucks": [{"The truck": "truck.md"}]}], words.of("uk")) == [{"Lorries": [{"The lorry": "truck.md"}]}]


def test_front_matter_is_said_and_what_is_kept_hangs_on_the_words() -> None:
    """A title and a summary, no name of a script; another country is another mark."""
    made = british()
    told = made._said({"title": "Trucks", "summary": "A truck.", "scripts": ["truck.js"]})
    assert (told["title"], told["summary"], told["scripts"]) == ("Lorries", "A lorry.", ["truck.js"])
    assert told["words"] != bridge.Bridge(BOOK)._said({})["words"]


def test_the_search_knows_both_words() -> None:
    """What people type may be a country's own word or not."""
    entries: list[dict[str, Any]] = [{"location": "a.html", "title": "A", "text": ""}]
    page: Any = SimpleNamespace(file=SimpleNamespace(src_uri="a.md"), url="a.html", meta={"said": ["stuck bill"]})
    british()._found(page, entries)
    assert entries[0]["said"] == ["stuck bill", "stuck note"]


def test_what_was_set_aside_of_a_page_stands_in_it_and_can_be_linked_to() -> None:
    """Its ids are known beside those that Markdown read, and are asked of no other page."""
    made = bridge.Bridge(BOOK)
    made.made.add("a.md")
    source, made.aside["a.md"] = bridge.finished.set_aside('# Top\n\n<h2 id="van">Van</h2>')
    page: Any = SimpleNamespace(meta={}, url="a.html", file=SimpleNamespace(src_uri="a.md"), toc=[], present_anchor_ids={"top"})
    held = source.rpartition("\n")[2]
    assert made.on_page_content(f"<h1>Top</h1>\n<p>{held}</p>", page, None, []).strip().endswith('<h2 id="van">Van</h2>')
    assert page.present_anchor_ids == {"top", "van"}
    assert not made.aside
