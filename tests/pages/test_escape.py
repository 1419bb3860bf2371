"""No cell of the operator's data becomes markup in a fragment of a page made from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from calculators.core.fields import Text
from tests.support.markup import SHORT, holds
from tools.book import days
from tools.book.data import OperatorData, load
from tools.book.tables import TABLES, Row
from tools.pages import byhand, cards, chart, fitbook, sheet

DEMO = load(Path(__file__).parents[2] / "docs" / "data")
FEW = {"products": 2, "coils": 3, "machines": 1, "sites": 1, "crew": 1, "gear": 1}
# A plan's own names are keys between its tables; a day is read as one.
KEYS = {("trays", "name"), ("apart", "first"), ("apart", "second"), ("fits", "date"), ("products", "tray"),
        ("products", "together"), ("machines", "trays")}  # fmt: skip


def few() -> OperatorData:
    """One cabinet with one site, two products that were tried in coils, and those coils."""
    machine = DEMO.tables["sites"][0].typed["machine"]
    tried = [row for row in DEMO.tables["fits"] if row.typed["machine"] == machine]
    named = {"machines": {machine}, "products": {row.typed["product"] for row in tried[:2]},
             "sites": {DEMO.tables["sites"][0].typed["key"]}}  # fmt: skip
    named["coils"] = {row.typed["coil"] for row in tried if row.typed["product"] in named["products"]}
    tables = {
        name: [row for row in rows if row.typed.get("key") in named[name]] if name in named else rows
        for name, rows in DEMO.tables.items()
    }
    tables["fits"] = [row for row in tried if row.typed["product"] in named["products"]]
    tables["plans"] = tables["apart"] = []
    return OperatorData(DEMO.company, tables, DEMO.rules, DEMO.heads)


SMALL = few()


def spoiled(text: str) -> OperatorData:
    """The small data with a text in every cell that may hold any."""
    tables = {}
    for table in TABLES:
        free = [name for name, field in table.columns().items() if isinstance(field, Text) and not isinstance(field, days.SpokenDay)
                and name not in {table.key, *table.links, *table.lists} and (table.name, name) not in KEYS]  # fmt: skip
        tables[table.name] = [_row(row, dict.fromkeys(free, text)) for row in SMALL.tables[table.name]]
    return OperatorData(SMALL.company, tables, SMALL.rules, SMALL.heads)


def _row(row: Row, words: dict[str, Any]) -> Row:
    return replace(row, typed={**row.typed, **words}, values={**row.values, **words})


def fragments(page: str) -> str:
    """The lines of a page that are HTML; its Markdown and its front matter are another matter."""
    return "\n".join(line for line in page.splitlines() if line.startswith("<"))


MACHINE, SITE = (SMALL.tables[name][0].typed["key"] for name in ("machines", "sites"))
PRODUCT = SMALL.tables["products"][0].typed["key"]
# Each page, and how often a cell's text must at least stand in it.
PAGES: dict[str, tuple[Callable[[OperatorData], str], int]] = {
    "site sheet": (lambda data: sheet.page(data, SITE).source, 10),
    "products": (lambda data: cards.products_page(data).source, 5),
    "product": (lambda data: cards.product_page(data, PRODUCT).source, 4),
    "cabinet": (lambda data: cards.machine_page(data, MACHINE).source, 6),
    "coil chart": (chart.page, 6),
    "by hand": (byhand.part, 3),
    "fit book": (fitbook.page, 10),
}


@pytest.mark.parametrize("name", PAGES)
def test_no_cell_becomes_markup(name: str) -> None:
    page, times = PAGES[name]
    # The fit book carries its facts as JSON too, where a text is written otherwise.
    assert holds(lambda text: fragments(page(spoiled(text))), SHORT, whole=name != "fit book") >= times
