"""Pages that are made from data: site sheets, machine cards, rules and sources."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from calculators.core.html import grid
from tools.book.data import OperatorData
from tools.book.packs import Pack
from tools.book.tables import TABLES
from tools.print import drills as drill_pages
from tools.results.drills import Drill

from . import cards, chart, fitbook, learn, rulebook, sheet


@dataclass(frozen=True)
class Made:
    """A made page: its place among the sources and its Markdown."""

    path: str
    markdown: str


def generate(data: OperatorData, packs: Sequence[Pack] = (), drills: Sequence[Drill] = ()) -> list[Made]:
    """Every made page."""
    made = [Made(path, markdown) for path, markdown in rulebook.pages(data.rules).items()]
    made += [Made("reference/data.md", data_page(data)),
             Made(chart.PATH, chart.page(data)), Made(fitbook.PATH, fitbook.page(data)),
             Made("products/index.md", cards.products_page(data)),
            Made("sites/index.md", sites_page(data))]  # fmt: skip
    made += [Made(f"sites/{row.typed['key']}.md", sheet.page(data, row.typed["key"]))
             for row in data.tables["sites"]]  # fmt: skip
    made += [Made(f"reference/cabinet-{row.typed['key']}.md", cards.machine_page(data, row.typed["key"]))
             for row in data.tables["machines"]]  # fmt: skip
    made += [Made(f"products/{row.typed['key']}.md", cards.product_page(data, row.typed["key"]))
             for row in data.tables["products"]]  # fmt: skip
    taught = {**learn.pages(packs), **drill_pages.pages(drills, data.units)}
    return [*made, *(Made(path, text) for path, text in taught.items())]


def navigation(
    data: OperatorData, packs: Sequence[Pack] = (), drills: Sequence[Drill] = ()
) -> list[dict[str, list[dict[str, str]]]]:
    """The part of the menu that is made from data."""
    sites = [{row.typed["name"]: f"sites/{row.typed['key']}.md"} for row in data.tables["sites"]]
    cabinets = [{f"Cabinet {row.typed['name']}": f"reference/cabinet-{row.typed['key']}.md"}
                for row in data.tables["machines"]]  # fmt: skip
    menu = {"Our sites": [{"All sites": "sites/index.md"}, *sites, *cabinets],
            "Learn": [*learn.navigation(packs), *drill_pages.navigation(drills)]}  # fmt: skip
    return [{name: lines} for name, lines in menu.items() if lines]


def sites_page(data: OperatorData) -> str:
    """All sites with the outcome of their sheets."""
    return (
        "---\ntitle: Our sites\n---\n# Our sites\n\n"
        "Each sheet is worked out from our own data. Print it and take it along.\n\n"
        "::: sites\n:::\n"
    )




def data_page(data: OperatorData) -> str:
    """Every table and column an operator may fill in."""
    parts = ["---\ntitle: Our data files\n---\n# Our data files\n\nEach table is a CSV file in the "
             "folder docs/data, or a workbook (XLSX) of the same name, whose first sheet is read. A cell left "
             "empty means: not measured. Lengths may be written as people write them. Days are written "
             "2026-11-03; another order needs the entry dates in company.toml. An unlikely value is asked about "
             "until the row names its column under sure."]  # fmt: skip
    for each in TABLES:
        rows = [(name, field.label, "yes" if name in each.needed else "no", escape(field.help))
                for name, field in each.columns().items()]  # fmt: skip
        parts.append(f"## {each.name}.csv\n\n" + grid(f"Columns of {each.name}.csv",
                     ("Column", "What it holds", "Needed", "Help"), rows))  # fmt: skip
    return "\n\n".join(parts) + "\n"
