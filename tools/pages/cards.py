"""Cards made from data: one a product, one a cabinet model."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape
from typing import TYPE_CHECKING, Any

from calculators.core.fields import Choice, Money, Quantity
from calculators.core.html import badge, grid
from calculators.core.units import Units
from tools.book import fits, text
from tools.book.tables import TABLES
from tools.results import coils, siteplan

from . import chart, machinecard
from .page import Page

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.book.data import OperatorData
    from tools.book.tables import Row

# What stands on top of a product's card, in this order; the sizes follow.
FACTS = ("price", "tray", "weekly_sales", "shelf_days", "allergens", "note")
SIZES = ("shape", "diameter", "foot_diameter", "sides", "breadth", "thickness", "thick_end", "thin_end",
         "height", "mass", "squeeze", "pillow", "lane_width", "height_above", "rail_height", "strip_height", "drop_limit")  # fmt: skip
# What a loader wants to know of the coil that was chosen.
VALUES = ("wanted_lane", "wanted_height", "foot", "lean", "fall", "capacity", "lane_mass")
# A cell without a unit is in the house's own, which its reader does not know.
BARE = re.compile(r"[\d ./]+")
# The page shows the tests kept on this device.
LIVE = {"hide": ["toc"], "scripts": ["tried.js"]}
NOT_CARD = ("key", "name")


def pages(book: Book) -> Iterator[Page]:
    """The list of products, a card for each, and one for each cabinet."""
    data = book.data
    yield products_page(data)
    for row in data.tables["products"]:
        yield product_page(data, row.typed["key"])
    for row in data.tables["machines"]:
        yield machine_page(data, row.typed["key"])


def products_page(data: OperatorData) -> Page:
    """Every product with the coil to take in each cabinet that sells it."""
    rows = "".join(_listed(data, row) for row in data.tables["products"])
    body = (
        "Each product has a card: which coil, which lane, what was "
        "tried. The [coil chart](../reference/coil-chart.md) shows them all at once.\n\n"
        '<div class="hb-scroll" tabindex="0" role="region" aria-label="Products">'
        '<table class="hb-table"><thead><tr><th scope="col">Product</th><th scope="col">Tray</th>'
        f'<th scope="col">Coil to take</th></tr></thead><tbody>{rows}</tbody></table></div>\n'
    )
    return Page("products/index.md", "Products", body, ("Look up",), order=30)


def _listed(data: OperatorData, product: Row) -> str:
    key, name = product.typed["key"], product.typed["name"]
    places = "; ".join(f"{machine.typed['name']}: {_taken(data, machine, product)}"
                       for machine in _sold(data, product))  # fmt: skip
    return (f'<tr><th scope="row"><a href="{key}.html">{escape(name)}</a></th>'
            f"<td>{escape(product.typed.get('tray', '–'))}</td><td>{escape(places)}</td></tr>")  # fmt: skip


def _taken(data: OperatorData, machine: Row, product: Row) -> str:
    """The coils that the plans of a cabinet's sites take; without a plan, the best by itself."""
    if plans := _planned(data, machine, product):
        return "; ".join(plans)
    best = next(iter(coils.judged(data, machine.typed["key"], product.typed["key"])), None)
    return f"{best.name} ({best.source})" if best and best.suits else "no coil of ours suits"


def _planned(data: OperatorData, machine: Row, product: Row) -> list[str]:
    key = machine.typed["key"]
    sites = len(data.of("sites", "machine", key))
    return [f"{data.row('coils', coil).typed['name']} ({chart.planned(count, sites)})"
            for (name, coil), count in siteplan.of_model(data, key).items() if name == product.typed["key"]]  # fmt: skip


def _sold(data: OperatorData, product: Row) -> list[Row]:
    """The cabinet models that sell a product."""
    return [machine for machine in data.tables["machines"] if data.belongs(product, machine.typed["key"])]


def product_page(data: OperatorData, key: str) -> Page:
    """A product's card: facts, the coil for each cabinet, and every test."""
    row = data.row("products", key)
    name = row.typed["name"]
    parts = [_facts(data, row, FACTS)]
    parts += [_in_cabinet(data, machine, row) for machine in _sold(data, row)]
    parts += ["## What was tried", _tests(fits.tried(data, key), "machine", data),
              "Record a new test in the [fit book](../reference/fit-book.md). How to test stands in "
              "[Choose coils and load a tray](../procedures/choose-coils-and-load.md).",
              "## Its sizes", _facts(data, row, SIZES), chart.verdicts()]  # fmt: skip
    return Page(f"products/{key}.md", name, "\n\n".join(part for part in parts if part), meta=LIVE)


def _columns(name: str) -> dict[str, Any]:
    return next(each for each in TABLES if each.name == name).columns()


def _facts(data: OperatorData, product: Row, wanted: Iterable[str]) -> str:
    columns, mended = _columns("products"), fits.corrections(data, product.typed["key"])
    rows = []
    for key in wanted:
        text = _text(columns[key], product, key, Units(data.units, rules=data.rules))
        if key in mended:
            was = f"; was {text}" if text else ""
            text = f"{mended[key].typed} ({mended[key].words}{was})"
        elif key == "allergens":
            text = text or "none written down: read the label"
        rows.append((columns[key].label, text))
    return _listing(rows)


def _text(field: Any, row: Row, key: str, show: Units) -> str:
    cell = row.typed.get(key, "")
    if isinstance(field, Money) and cell:
        return show.text(row.values[key], "money")
    if isinstance(field, Quantity) and BARE.fullmatch(cell):
        return f"{cell} {show.unit(field.kind)}".strip()
    return str(field.options.get(cell, cell)) if isinstance(field, Choice) else cell


def _listing(rows: Iterable[tuple[str, str]]) -> str:
    items = "".join(f"<dt>{escape(label)}</dt><dd>{escape(text)}</dd>" for label, text in rows if text)
    return f'<dl class="hb-facts hb-card">{items}</dl>'


def _in_cabinet(data: OperatorData, machine: Row, product: Row) -> str:
    cells = coils.judged(data, machine.typed["key"], product.typed["key"])
    head = f"## In the {text.markdown(machine.typed['name'])} {{ #in-{machine.typed['key']} }}"
    if not cells:
        return f"{head}\n\nNo coil of our data goes into this cabinet."
    best = cells[0]
    result = coils.worked(data, machine.typed["key"], product.typed["key"], best.coil)
    return f"{head}\n\n{_plans(data, machine, product)}{_take(data, product, best)}{_values(result)}{_figure(result)}{_coils(machine, product, cells)}"


def _plans(data: OperatorData, machine: Row, product: Row) -> str:
    """What the plans of sites take, which counts at these sites."""
    found = _planned(data, machine, product)
    return (f'<p class="hb-plans"><strong>At a site, its plan counts:</strong> {escape("; ".join(found))}. What '
            "follows is the coil that suits this product best by itself.</p>") if found else ""  # fmt: skip


def _take(data: OperatorData, product: Row, best: coils.Cell) -> str:
    if not best.suits:
        return ('<p class="hb-before"><strong>No coil of ours suits.</strong> The nearest is the '
                f"{escape(best.name.lower())}: {chart.mark(best.word, best.sign)}. {escape(best.why)}</p>")  # fmt: skip
    mended = fits.corrected(data, product.typed["key"])
    tail = f", with the size {mended}" if mended else ""
    return (f'<p class="hb-take"><strong>Take the {escape(best.name.lower())}.</strong> '
            f"{chart.mark(best.word, best.sign)} ({escape(best.source + tail)})</p>")  # fmt: skip


def _values(result: dict[str, Any]) -> str:
    known = {value["key"]: value for value in result["values"] if value["value"] is not None}
    rows = [(known[key]["label"], known[key]["text"]) for key in VALUES if key in known]
    cautions = [check for check in result["checks"] if check["outcome"] != "pass"]
    listed = "".join(f"<li>{badge(check['outcome'])} {escape(check['place'])}: {escape(check['text'])}</li>"
                     for check in cautions)  # fmt: skip
    return _listing(rows) + (f'<ul class="hb-plain">{listed}</ul>' if listed else "")


def _figure(result: dict[str, Any]) -> str:
    return f'<figure class="hb-plan">{result["figures"][0]}</figure>' if result["figures"] else ""


def _coils(machine: Row, product: Row, cells: tuple[coils.Cell, ...]) -> str:
    columns = ("Coil", "Verdict", "Largest that goes in", "Why")
    head = "".join(f'<th scope="col">{name}</th>' for name in columns)
    rows = "".join(_coil(cell) for cell in cells)
    return (
        '<div class="hb-scroll" tabindex="0" role="region" aria-label="Our coils for it in the '
        f'{escape(machine.typed["name"])}"><table class="hb-table hb-tests" data-machine="'
        f'{escape(machine.typed["key"])}" data-product="{escape(product.typed["key"])}"><thead><tr>{head}'
        f"</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def _coil(cell: coils.Cell) -> str:
    return (
        f'<tr><td data-label="Coil"><strong>{escape(cell.name)}</strong></td>'
        f'<td data-label="Verdict"><span{chart.place(cell)}>{chart.mark(cell.word, cell.sign)}'
        f'<span class="hb-hint">{escape(cell.source)}</span></span></td>'
        f'<td data-label="Largest that goes in">{escape(cell.opening)}</td>'
        f'<td data-label="Why">{escape(_reason(cell))}</td></tr>'
    )


def _reason(cell: coils.Cell) -> str:
    if cell.tried is None:
        return cell.why
    return f"Tried: {fits.counted(cell.tried)}. Calculated: {cell.calculated.lower()}. {cell.why}"


def _tests(rows: list[Row], other: str, data: OperatorData) -> str:
    if not rows:
        return "Nothing yet. Until it was tried, every verdict here is calculated."
    listed = [(row.typed["date"], data.row(f"{other}s", row.typed[other]).typed["name"],
               data.row("coils", row.typed["coil"]).typed["name"], fits.counted(row),
               fits.VERDICTS[row.values["verdict"]], row.typed.get("note", "–")) for row in rows]  # fmt: skip
    head = ("Day", "Cabinet" if other == "machine" else "Product", "Coil", "Counted", "Verdict", "Note")
    return grid("What was tried", head, listed)


def machine_page(data: OperatorData, key: str) -> Page:
    """A cabinet's card: everything the data holds of it, what it sells, and what was tried in it."""
    row = data.row("machines", key)
    columns, name = _columns("machines"), row.typed["name"]
    rows = [(columns[column].label, _text(columns[column], row, column, Units(data.units, rules=data.rules)), columns[column].help)
            for column in row.typed if column not in NOT_CARD]  # fmt: skip
    sold = [(each.typed.get("tray", "–"), each.typed["name"], _taken(data, row, each))
            for each in data.sold_in("products", key)]  # fmt: skip
    tests = sorted(data.of("fits", "machine", key), key=lambda each: each.typed["date"], reverse=True)
    body = [machinecard.items(data, row),
            "## Figures for the calculators", grid("What we know of it", ("What", "Value", "Meaning"), rows),
            "## What it sells", grid("What it sells", ("Tray", "Product", "Coil to take"), sorted(sold)),
            "## What was tried in it", _tests(tests, "product", data)]  # fmt: skip
    return Page(f"reference/cabinet-{key}.md", f"Cabinet {name}", "\n\n".join(body), ("Our sites",), order=20)
