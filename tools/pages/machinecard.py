"""A cabinet's card item by item, as the steps of other pages say it, and the form to fill it in with.

The form is for two sheets of paper, or for the page itself, which hands what was written back as rows of ``cards.csv``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from html import escape
from typing import TYPE_CHECKING

from tools.book import card, front, text
from tools.book.folder import PICTURES
from tools.book.tables import Note

from .page import Page

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.book.card import Item
    from tools.book.data import OperatorData
    from tools.book.tables import Row

FORM = "reference/card-form.md"
SCRIPTS = ["rows.js", "cardform.js"]
LACKS = "not on the card yet"
# How a page asks for an item.
ASKED = re.compile(r"\{\{\s*card\s+(\w+)\s*\}\}")


def items(data: OperatorData, machine: Row) -> str:
    """What the card says, part by part in the order of a walk round the cabinet; what it lacks is said first."""
    lacking = [gap.item for gap in card.gaps(data)[machine.typed["key"]]]
    return "\n\n".join([_lacking(lacking), *_parts(data, machine)]).strip()


def _lacking(found: list[Item]) -> str:
    if not found:
        return ""
    stops = [item.label for item in found if item.stop]
    more = f" <strong>Work stops without these:</strong> {escape('; '.join(stops))}." if stops else ""
    return (f'<p class="hb-before"><strong>{len(found)} items are {LACKS}.</strong>{more} '
            'The <a href="card-form.html">form</a> asks for them in the order of a walk round the cabinet.</p>')  # fmt: skip


def _parts(data: OperatorData, machine: Row) -> Iterator[str]:
    for group, title in card.groups().items():
        shown = "".join(_item(data, machine, item) for item in card.items().values()
                        if item.group == group and card.may_have(machine, item.has))  # fmt: skip
        if shown:
            yield f'## {title} {{ #card-{group} }}\n\n<dl class="hb-facts hb-card hb-items">{shown}</dl>'


def _item(data: OperatorData, machine: Row, item: Item) -> str:
    said = card.words(data, machine, item.key)
    words = escape(said) if said else f'<span class="hb-lacks">{LACKS}</span>'
    row = card.rows(data).get((machine.typed["key"], item.key))
    cell = row.typed.get("picture", "") if row else ""
    picture = f'<img src="../{PICTURES}/{escape(cell)}" alt="{escape(item.label)}">' if cell else ""
    note = f'<span class="hb-hint">{escape(row.typed["note"])}</span>' if row and row.typed.get("note") else ""
    return f'<dt id="card-{item.key}">{escape(item.label)}</dt><dd>{words}{note}{picture}</dd>'


# -- the form -----------------------------------------------------------------------------


def pages(book: Book) -> Iterator[Page]:
    """The one form for every model."""
    yield Page(FORM, "Fill in a cabinet’s card", _form(book.data, asked_by(book)), ("Our sites",), label="Card to fill in", order=25,
               meta={"hide": ["toc"], "scripts": SCRIPTS,
                     "said": ["fill in a card, blank card, new cabinet model, new machine, manual, missing item"]})  # fmt: skip


def asked_by(book: Book) -> dict[str, list[str]]:
    """The titles of the pages that ask for each item."""
    found: dict[str, list[str]] = {}
    for place in sorted(book.written.pages):
        text = book.written.pages[place].read_text(encoding="utf-8-sig")
        title = str(front.read(book.written.pages[place]).get("title") or place)
        for key in dict.fromkeys(ASKED.findall(text)):
            found.setdefault(key, []).append(title)
    return found


def _form(data: OperatorData, asked: Mapping[str, list[str]]) -> str:
    facts = {"have": {machine.typed["key"]: _have(machine) for machine in data.tables["machines"]},
             "said": {machine.typed["key"]: _said(data, machine) for machine in data.tables["machines"]}}  # fmt: skip
    options = "".join(f'<option value="{escape(row.typed["key"])}">{escape(row.typed["name"])}</option>'
                      for row in data.tables["machines"])  # fmt: skip
    groups = "".join(_group(key, title, asked) for key, title in card.groups().items())
    return (
        "Walk round the cabinet with its manual. Write what it says in one or two short sentences. "
        "Where it does not have a thing, leave the line blank.\n\n"
        '<div class="hb-card-form" data-card-form>'
        '<p class="hb-status hb-screen-only" role="status">Without scripts, print this page and write on it.</p>'
        '<div class="hb-screen-only hb-card-bar" hidden><label class="hb-field"><span>Cabinet model</span>'
        f"<select>{options}</select></label>"
        '<p class="hb-card-count" role="status"></p><div class="hb-buttons">'
        '<button type="button" class="hb-button hb-button--main" data-do="rows">Save as rows of cards.csv</button>'
        '<button type="button" class="hb-button" data-do="forget">Forget what I wrote</button>'
        '<button type="button" class="hb-button" data-do="print">Print</button></div>'
        '<p class="hb-said" role="status"></p></div>'
        f'<p class="hb-paper-only">Model: {"_" * 30} Filled in by, day: {"_" * 30}</p>{groups}'
        f'<script type="application/json" id="hb-card-facts">{text.island(facts)}</script></div>\n'
    )


def _have(machine: Row) -> list[str]:
    return [key for key, item in card.items().items() if not item.column and card.may_have(machine, item.has)]


def _said(data: OperatorData, machine: Row) -> dict[str, str]:
    return {key: said for key, item in card.items().items()
            if not item.column and (said := card.words(data, machine, key))}  # fmt: skip


def _group(key: str, title: str, pages: Mapping[str, list[str]]) -> str:
    asked = "".join(_asked(item, pages.get(item.key, [])) for item in card.items().values() if item.group == key and not item.column)
    return f'<h2 id="form-{key}">{escape(title)}</h2>{asked}' if asked else ""


def _asked(item: Item, pages: list[str]) -> str:
    """One line to fill in. What the example shows is how short an answer may be."""
    needed = f" Asked for by: {escape('; '.join(pages))}." if pages else ""
    mark = ' <strong class="hb-needed">work stops without it</strong>' if item.stop else ""
    return (f'<div class="hb-card-line" data-item="{item.key}"><label for="card-{item.key}">{escape(item.label)}{mark}'
            f'</label><p class="hb-hint">{escape(item.help)}. <span class="hb-screen-only">For example: {escape(item.example)}{needed}</span></p>'
            f'<textarea id="card-{item.key}" rows="2" maxlength="{Note.longest}"></textarea></div>')  # fmt: skip
