"""Whatever a person typed stands in every page as that text: in front matter, headings, bodies, drawings, data."""

from __future__ import annotations

import functools
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import markdown
import pytest
from mkdocs.config import load_config
from mkdocs.utils.meta import get_data

from calculators.core import rules
from calculators.core.fields import Text
from tests.support import markup
from tests.support.hostile import CALM, LONGEST, MARK, TEXTS
from tools import pages
from tools.blocks import HandbookBlocks
from tools.blocks.context import Context
from tools.book import text as written
from tools.book.book import Book
from tools.book.data import OperatorData, load
from tools.book.packs import Pack, Question
from tools.book.tables import TABLES, Row
from tools.book.written import Written
from tools.pages import byhand, drills, menu, procedures, proof
from tools.pages.page import Page
from tools.results import drills as found

ROOT = Path(__file__).parents[2]
DEMO = load(ROOT / "docs" / "data")
US = rules.load("us")
# A plan's own names are keys between its tables, and `sure` names columns.
KEYS = {("trays", "name"), ("apart", "first"), ("apart", "second"), ("products", "tray"), ("products", "together"),
        ("machines", "trays"), ("cards", "item")}  # fmt: skip
OWN = {"space.rear_gap": {"value": 7, "unit": "in", "kind": "length"}}
ISLAND = re.compile(r'(<script type="application/json"[^>]*>)(.*?)</script>', re.DOTALL)


def _few() -> dict[str, list[Row]]:
    """One cabinet with one site, two products that were tried in coils, and those coils."""
    site = DEMO.tables["sites"][0].typed
    machine = site["machine"]
    tried = [row for row in DEMO.tables["fits"] if row.typed["machine"] == machine][:2]
    named = {"machines": {machine}, "products": {row.typed["product"] for row in tried}, "sites": {site["key"]},
             "coils": {row.typed["coil"] for row in tried}}  # fmt: skip
    tables = {name: [row for row in rows if name not in named or row.typed["key"] in named[name]]
              for name, rows in DEMO.tables.items()}  # fmt: skip
    for name in ("routes", "loads"):
        tables[name] = DEMO.of(name, "site", site["key"])
    return {**tables, "fits": tried, "apart": []}


FEW = _few()


def free(table: Any) -> list[str]:
    """The columns of a table that hold any text."""
    links = {table.key, "sure", *table.links, *table.lists}
    return [name for name, field in table.columns().items()
            if isinstance(field, Text) and name not in links and (table.name, name) not in KEYS]  # fmt: skip


def book_with(text: str) -> Book:
    """A small book with a text in every place that may hold any."""
    tables = {}
    for table in TABLES:
        words = dict.fromkeys(free(table), text)
        tables[table.name] = [replace(row, typed={**row.typed, **words}, values={**row.values, **words})
                              for row in FEW[table.name]]  # fmt: skip
    told = {key: text for key in DEMO.company if key not in ("units", "rules", "accent", "drills")}
    parts = dict.fromkeys(("label", "note", "reason", "decided_by"), text)
    own = US.with_local({key: {**facts, "looser_than": "", **parts} for key, facts in OWN.items()})
    data = OperatorData({**DEMO.company, **told, "drills": "0"}, tables, own, DEMO.heads)
    pack = Pack("cash", text, text, ("safety/emergency",), (Question(text, (text, "b"), 0, text, "safety/emergency"),))
    theirs = Written({"safety/emergency.md": ROOT / "docs" / "safety" / "emergency.md"}, frozenset(), frozenset())
    return Book(ROOT / "docs", data, (pack,), written=theirs)


@functools.cache
def _extensions() -> tuple[list[Any], dict[str, Any]]:
    config = load_config(str(ROOT / "mkdocs.yml"), plugins=[])
    return config["markdown_extensions"], config["mdx_configs"]


@dataclass
class Seen:
    """A page as its readers see it: front matter, elements, ids, words, contents, and data for scripts."""

    meta: dict[str, Any]
    shape: list[tuple[str, ...]]
    ids: list[str]
    words: str
    contents: list[str]
    data: list[Any]


def seen(source: str, context: Context, *, marks: bool = False) -> Seen:
    """Read a page's source as the site generator does."""
    body, meta = get_data(source)
    context.marks = marks
    extensions, settings = _extensions()
    made = markdown.Markdown(extensions=[*extensions, HandbookBlocks(context)], extension_configs=settings)
    text = made.convert(body)
    assert context.problems == []
    shape, words = markup.read(ISLAND.sub(r"\1</script>", text))
    return Seen(meta, shape, re.findall(r' id="([^"]*)"', text), words, [each["name"] for each in _flat(made.toc_tokens)],
                [json.loads(found[2]) for found in ISLAND.finditer(text)])  # fmt: skip


def _flat(tokens: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for each in tokens:
        yield each
        yield from _flat(each["children"])


def swapped(value: Any, text: str) -> Any:
    """The value with a text everywhere in the place of its calm twin."""
    return json.loads(json.dumps(value).replace(CALM, json.dumps(text)[1:-1]))


def context_of(book: Book) -> Context:
    return proof.context(book)


def assert_same(wild: Seen, tame: Seen, text: str) -> int:
    """What is read is the same but for the text itself; return how often the text is read."""
    said = re.sub(r"\s+", " ", text).lower()
    assert wild.shape == tame.shape, f"{text!r} became markup"
    assert wild.ids == tame.ids, f"{text!r} made an id"
    assert wild.words.replace(said, CALM) == tame.words, f"{text!r} is not read as it was written"
    assert wild.meta == swapped(tame.meta, text)
    assert [markup.read(each)[1] for each in wild.contents] == [
        markup.read(each)[1].replace(CALM, said) for each in tame.contents]  # fmt: skip
    assert all(markup.read(each)[0] == [] for each in wild.contents)
    assert wild.data == swapped(tame.data, text)
    return wild.words.count(said)


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the table to choose by hand works out hangs on no text, and takes most of the time."""
    monkeypatch.setattr(byhand, "openings", lambda data, machine, own, kind, wide: {row.typed["key"]: "1 in" for row in own})


@functools.cache
def made(text: str) -> dict[str, tuple[str, Seen]]:
    """Each page's source, and what is seen of it."""
    book = book_with(text)
    return {page.path: (page.source, seen(page.source, context_of(book))) for page in pages.made(book)}


# How often a text must at least be read in each page that holds any.
TIMES = {
    "sites/index.md": 2, "sites/ferry-pier.md": 15, "products/index.md": 5, "products/pier-cola.md": 4, "products/shortbread.md": 4, "reference/cabinet-tall-forty.md": 8, "reference/coil-chart.md": 6,
    "reference/card-form.md": 1, "sites/visits.md": 6,
    "reference/fit-book.md": 10, "reference/rules.md": 3, "learn/packs.md": 2, "learn/pack-cash.md": 2,
}  # fmt: skip


@pytest.mark.parametrize("text", TEXTS)
def test_a_cell_is_text_in_every_page(text: str) -> None:
    """In every free column of every table, in the company's entries, in packs and in own figures at once."""
    assert len(text) <= LONGEST
    tame = made(CALM)
    book, told = book_with(text), set()
    for page in pages.made(book):
        source, calmly = tame[page.path]
        if page.source != source or "::: sites" in source:  # the pages of other countries' rules hold nothing of ours
            told.add(page.path)
            assert assert_same(seen(page.source, context_of(book)), calmly, text) >= TIMES[page.path], page.path
    assert told == set(TIMES)


def test_titles_are_the_very_text_in_front_matter() -> None:
    """Read by the site generator's own reader, whatever stands beside them."""
    for text in TEXTS:
        body, meta = get_data(Page("a.md", text, "b", meta={"hide": ["toc"], "about": text}).source)
        assert meta == {"title": text, "hide": ["toc"], "about": text}
        assert body.count("\n") == 3


def test_the_menu_keeps_labels_as_they_are() -> None:
    """How they are printed is the site generator's business; a page's path is no label."""
    lines = [menu.Line(f"sites/{number}.md", ("Our sites",), text) for number, text in enumerate(TEXTS)]
    (_, sites_) = menu.navigation(lines, "index.md")
    assert [next(iter(each)) for each in sites_["Our sites"]] == list(TEXTS)


# -- pages that people write -------------------------------------------------------------------

WRITTEN = """# {{data company.name}} of {{rule circuit.reset}} { #top }

{{data company.name}} in prose, **{{data company.name}}**, [{{data company.name}}](index.md) and {{rule circuit.reset}}.

{{data company.name}}

- {{data company.name}}

| a | {{data company.name}} |
|---|---|
| {{rule circuit.reset}} | b |

<p title="{{data company.name}}">{{data sites.ferry-pier.note}}</p>

::: caution {{data company.name}}
{{data company.name}}
:::

::: steps
1. {{data company.name}}
   {{data company.name}}
:::

::: record
{{data company.name}} is | {{data company.name}}
:::

::: figures space.rear_gap
{{data company.name}}
:::

::: figures coins.rolls
:::

::: sites
:::
"""
WORKED = """::: worksheet float
rows: days = 2
columns: money = {{data company.phone_office}}
note: {{data company.name}}
:::

::: calculator clearance
site: ferry-pier
:::
"""


def written_page(source: str, text: str, page: str = "") -> Seen:
    book = book_with(text)
    book.data.company["phone_office"] = "somebody"
    book.data.rules.figures["circuit.reset"] = replace(US.figures["circuit.reset"], value=text)
    book.data.rules.figures["coins.rolls"] = replace(US.figures["coins.rolls"], label=text)
    context = context_of(book)
    context.page = page
    return seen(source, context, marks=True)


@functools.cache
def _written_calm(source: str, page: str = "") -> Seen:
    return written_page(source, CALM, page)


@pytest.mark.parametrize("text", TEXTS)
def test_a_value_in_prose_and_blocks_is_text(text: str) -> None:
    """In headings, tables, lists, links, HTML, titles of cautions and of tables."""
    assert assert_same(written_page(WRITTEN, text), _written_calm(WRITTEN), text) >= 19


@pytest.mark.parametrize("text", TEXTS[::9])
def test_a_value_in_a_block_that_works_something_out_is_text(text: str) -> None:
    """In its options, in what a form is filled with, and in what a calculator draws and says."""
    whole = "calculators/clearance.md"
    assert assert_same(written_page(WORKED, text, whole), _written_calm(WORKED, whole), text) >= 8
    assert assert_same(written_page(WORKED, text), _written_calm(WORKED), text) >= 1, "in the row of a procedure"


@functools.cache
def _drill() -> found.Drill:
    return next(iter(found.find(OperatorData(DEMO.company, FEW, US, DEMO.heads), 1)))


@pytest.mark.parametrize("text", TEXTS)
def test_a_drill_says_names_and_places_as_text(text: str) -> None:
    def page(text: str) -> list[Seen]:
        drill = _drill()
        changed = replace(drill, subject=replace(drill.subject, name=text), happened=text, label=text, was=text, now=text, given=text, question=text,
                          decides=text, todo=text, working=(text,), sources=(text,))  # fmt: skip
        return [seen(each.source, context_of(book_with("x"))) for each in drills.written([changed], "us")]

    times = [assert_same(wild, tame, text) for wild, tame in zip(page(text), page(CALM), strict=True)]
    assert times == [7, 5]


# -- the media by themselves ---------------------------------------------------------------------


@pytest.mark.parametrize("text", TEXTS)
def test_a_string_of_css_holds_the_text(text: str) -> None:
    """No quote, bracket or line end leaves it; read back by the rules of CSS it is the text."""
    string = written.css(text)
    inside = string[1:-1]
    assert re.fullmatch(r'"(?:[^"\\<\n]|\\[0-9a-f]+ )*"', string)
    assert re.sub(r"\\([0-9a-f]+) ", lambda each: chr(int(each[1], 16)), inside) == text


@pytest.mark.parametrize("text", TEXTS)
def test_an_island_of_json_holds_the_text(text: str) -> None:
    """Nothing in it can end its script element or open another."""
    island = written.island({text: [text]})
    assert json.loads(island) == {text: [text]}
    assert not set("<>&\u2028\u2029") & set(island)


def test_the_texts_try_what_they_say() -> None:
    """A list that lost its teeth would pass everything."""
    joined = " ".join(TEXTS)
    assert all(each in joined for each in ("</script>", "{{data", ":::", "![", "<!--", "]]>", "&amp;", "#import", "=1+1", "\u200f"))
    assert all(MARK in each for each in TEXTS)


@pytest.mark.parametrize("text", TEXTS)
def test_a_procedure_s_foot_on_paper_holds_its_title_as_text(text: str) -> None:
    """One rule a page, whatever the title and the file are called."""
    made = procedures.sheets([("procedures/A b!c.md", text), ("x.md", "calm")])
    assert made.splitlines()[0] == (
        f"@media print {{ @page sheet-procedures-a-b-c {{ @bottom-left {{ content: {written.css(text)}; }} }} "
        "html:has(main .hb-sheet-procedures-a-b-c) body { page: sheet-procedures-a-b-c; } }"
    )
    assert len(made.splitlines()) == 2
