"""The coil chart: every product of a cabinet against every coil that goes into it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from typing import TYPE_CHECKING

from tools.book import fits, text
from tools.results import coils, siteplan

from . import byhand
from .page import Page

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.book.data import OperatorData
    from tools.book.tables import Row

PATH = "reference/coil-chart.md"
WIDEST = 6  # coils side by side: what a sheet of paper upright holds beside the product
MEANINGS = {
    "Best": "of the coils it goes into freely, this one holds it most closely",
    "Usable": "it goes in and stands, less closely or with something to look at",
    "Not known": "a measurement is missing; the product’s card says which",
    "Too loose": "it would lean too far or fall early",
    "Too tight": "it does not go between two turns",
    "Does not suit": "the coil and the lane, or the coil and the product, do not go together",
}  # fmt: skip
HEAD = """Find your product, then go along its row. A verdict is **calculated** from the sizes in our data. Where
it was **tried here**, the hand test stands first, because it counts for more. **In the plan** marks the coils that
the plans of our sites take: the plan of a site puts all products into its lanes together, so that it may take another
coil than the best for one alone. A verdict is for the lane on the product’s card; the plan tries every tray.

"""


def pages(book: Book) -> Iterator[Page]:
    """The one page of the chart."""
    yield Page(PATH, "Coil chart", page(book.data), ("Look up",), order=10,
               meta={"hide": ["toc"], "scripts": ["tried.js"]})  # fmt: skip


def page(data: OperatorData) -> str:
    """The whole chart: what the signs mean, a part for each cabinet, and the sheet for no phone."""
    parts = [_legend()]
    for row in data.tables["machines"]:
        parts.append(_machine(data, row))
    parts += [byhand.part(data), verdicts()]
    return HEAD + "\n\n".join(parts) + "\n"


def mark(word: str, sign: str) -> str:
    """A verdict as a sign and a word; the class is for colour, which tells nothing alone."""
    kind = word.lower().replace(" ", "-")
    return (f'<span class="hb-verdict hb-verdict--{kind}"><span aria-hidden="true">{sign}</span> '
            f"{escape(word)}</span>")  # fmt: skip


def verdicts() -> str:
    """What the script needs that shows the tests kept on a device."""
    return f'<script type="application/json" id="hb-verdicts">{text.island(fits.VERDICTS)}</script>'


def place(cell: coils.Cell) -> str:
    """The marks by which a script finds a coil's cell, and knows how old its verdict is."""
    tried = f' data-tried="{cell.tried.typed["date"]}"' if cell.tried else ""
    return f' data-coil="{escape(cell.coil.typed["key"])}"{tried}'


def _legend() -> str:
    rows = "".join(f"<dt>{mark(word, sign)}</dt><dd>{escape(MEANINGS[word])}</dd>"
                   for word, sign in coils.SIGNS.items())  # fmt: skip
    tried = f"<dt>{mark(coils.KEPT, coils.TRIED_SIGNS[coils.KEPT])}</dt><dd>tried here, and every vend was clean</dd>"
    return f'<dl class="hb-facts hb-legend">{tried}{rows}</dl>'


def _machine(data: OperatorData, machine: Row) -> str:
    key, name = machine.typed["key"], machine.typed["name"]
    own, products = data.sold_in("coils", key), data.sold_in("products", key)
    # No name makes an id: it could be one that a script looks for.
    head = f"## {text.markdown(name)} {{ #cabinet-{key} }}\n\n"
    if not own or not products:
        return f"{head}No product or no coil of our data goes into this cabinet."
    link = f'<a href="cabinet-{key}.html">The card of the cabinet</a>'
    good = sum(any(cell.suits for cell in coils.judged(data, key, row.typed["key"])) for row in products)
    said = f"<p>{good} of {len(products)} products have a coil that suits. {link}</p>"
    return head + said + "".join(_table(data, machine, group, products) for group in groups(own))


def groups(own: Sequence[Row]) -> list[list[Row]]:
    """The coils in groups of nearly equal size that fit side by side on paper; pairs come last."""
    order = sorted(own, key=lambda row: row.typed.get("coil_kind") == "dual")
    count = -(-len(order) // WIDEST)
    size = -(-len(order) // count)
    return [order[start : start + size] for start in range(0, len(order), size)]


def _table(data: OperatorData, machine: Row, group: list[Row], products: list[Row]) -> str:
    ends = [row.typed["name"] for row in (group[0], group[-1])]
    title = f"{machine.typed['name']}: {' to '.join(dict.fromkeys(ends))}"
    head = "".join(f'<th scope="col">{escape(row.typed["name"])}</th>' for row in group)
    sites = len(data.of("sites", "machine", machine.typed["key"]))
    body = "".join(_row(data, machine.typed["key"], group, row, sites) for row in products)
    return (
        f'<div class="hb-scroll hb-chart" tabindex="0" role="region" aria-label="{escape(title)}">'
        f'<table class="hb-table" data-machine="{escape(machine.typed["key"])}"><thead><tr>'
        f'<th scope="col">Product</th>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
    )


def _row(data: OperatorData, machine: str, group: list[Row], product: Row, sites: int) -> str:
    key = product.typed["key"]
    cells = {cell.coil.typed["key"]: cell for cell in coils.judged(data, machine, key)}
    taken = siteplan.of_model(data, machine)
    listed = "".join(_cell(cells[row.typed["key"]], taken.get((key, row.typed["key"]), 0), sites) for row in group)
    name = f'<a href="../products/{key}.html">{escape(product.typed["name"])}</a>'
    return f'<tr data-product="{escape(key)}"><th scope="row">{name}</th>{listed}</tr>'


def planned(count: int, sites: int) -> str:
    """“in the plan of 2 of 5 sites”; nothing where no plan takes the coil."""
    return f"in the plan of {count} of {sites} {'site' if sites == 1 else 'sites'}" if count else ""


def _cell(cell: coils.Cell, taken: int, sites: int) -> str:
    notes = [cell.source, f"calculated: {cell.calculated.lower()}"] if cell.tried else []
    hints = "".join(f'<span class="hb-hint">{escape(note)}</span>' for note in notes)
    if taken:
        # The plan has lanes that no card names: what has no room on the card's may have it there.
        where = "" if cell.suits else ", in another lane"
        hints += f'<strong class="hb-hint" data-planned="{taken}">{planned(taken, sites)}{where}</strong>'
    return f"<td{place(cell)}>{mark(cell.word, cell.sign)}{hints}</td>"
