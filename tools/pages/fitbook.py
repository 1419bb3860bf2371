"""The fit book's page: the tests of our data, and a form that records new ones on the device."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape
from typing import TYPE_CHECKING, Any

from calculators.core.forms import control
from calculators.core.units import Units
from tools.book import fits, text
from tools.book.tables import TABLES, Note
from tools.results import coils

from .page import Page

if TYPE_CHECKING:
    from calculators.core import Field
    from tools.book.book import Book
    from tools.book.data import OperatorData
    from tools.book.tables import Row

PATH = "reference/fit-book.md"
SCRIPTS = ("rows.js", "fitcheck.js", "fitlist.js", "fitform.js", "fitbook.js")
BLANK_ROWS = 16
HEAD = """What a product did in a coil, tried by hand. A test counts for more than a calculation: the
[coil chart](coil-chart.md) and every product's card show it first.

::: caution A coil turns without warning
It can trap a finger or pull a sleeve in. Lift packs by hand only while the selection cannot turn.
Shut the door before each test vend.
:::

"""
# What the form asks, group by group; the keys are columns of fits.csv.
LINKED = {"machine": "machines", "product": "products", "coil": "coils", "who": "crew"}
# The columns of a list of tests; the page's script has the same.
COLUMNS = ("Day", "What was tried", "Counted", "Verdict", "New size, note")
COUNTED = ("lifted", *fits.COUNTS)


def pages(book: Book) -> Iterator[Page]:
    """The one page of the fit book."""
    yield Page(PATH, "Fit book", page(book.data), ("Look up",), order=20,
               meta={"hide": ["toc"], "scripts": list(SCRIPTS)})  # fmt: skip


def page(data: OperatorData) -> str:
    """The whole page; without scripts it is the list of our data and a blank sheet."""
    parts = (
        _form(data), _device(), _ours(data), _blank(),
        f'<script type="application/json" id="hb-fit-facts">{text.island(facts(data))}</script>',
    )  # fmt: skip
    return f'{HEAD}<div class="hb-book" data-fit-book>{"".join(parts)}</div>\n'


def facts(data: OperatorData) -> dict[str, Any]:
    """What the page's script needs to know."""
    return {
        "header": _header(data), "same": list(fits.SAME),
        "needed": list(fits.NEEDED), "counts": list(fits.COUNTS), "corrected": _corrected(data),
        "lifted": fits.LIFTED, "vends": fits.VENDS, "keep": fits.KEEP, "verdicts": fits.VERDICTS,
        "longest": Note.longest, "labels": {key: each.label for key, each in _columns().items()},
        "unit": Units(data.units).unit("length"), "units": data.units,
        "shapes": {shape: list(sizes) for shape, sizes in fits.SIZES.items()},
        **{name: [_named(data, name, row) for row in data.tables[name]] for name in LINKED.values()},
        "data": [row.typed for row in data.tables["fits"]], "calculated": _calculated(data),
    }  # fmt: skip


def _header(data: OperatorData) -> list[str]:
    return data.heads.get("fits") or list(fits.HEADER)


def _corrected(data: OperatorData) -> list[str]:
    """The sizes a test may measure anew: only those for which the operator's own file has a column."""
    return [column for column in fits.CORRECTED if column in _header(data)]


def _columns() -> dict[str, Field]:
    return next(each for each in TABLES if each.name == "fits").columns()


def _named(data: OperatorData, name: str, row: Row) -> dict[str, Any]:
    found: dict[str, Any] = {"key": row.typed["key"], "name": row.typed["name"]}
    if name in ("products", "coils"):
        found["machines"] = [each.typed["key"] for each in data.tables["machines"]
                             if row in data.sold_in(name, each.typed["key"])]  # fmt: skip
    if name == "products":
        found["shape"] = fits.shape_of(row)
    return found


def _calculated(data: OperatorData) -> dict[str, dict[str, dict[str, str]]]:
    """The calculated verdict by cabinet, product and coil."""
    return {
        machine.typed["key"]: {
            product.typed["key"]: {
                cell.coil.typed["key"]: cell.calculated
                for cell in coils.judged(data, machine.typed["key"], product.typed["key"])
            }
            for product in data.sold_in("products", machine.typed["key"])
        }
        for machine in data.tables["machines"]
    }


# -- the form ----------------------------------------------------------------------------


def _form(data: OperatorData) -> str:
    show, columns = Units(data.units), _columns()
    linked = "".join(_select(key, columns[key], data.tables[name]) for key, name in LINKED.items())
    counted = "".join(_control(columns[key], show) for key in COUNTED)
    sizes = "".join(f'<div data-size="{key}">{_control(columns[key], show)}</div>' for key in _corrected(data))
    return (
        '<section class="hb-screen-only" aria-labelledby="record-a-test"><h2 id="record-a-test">Record a test</h2>'
        '<p class="hb-status" role="status">This form needs scripts. Without them, print this page and '
        "write on the blank sheet.</p>"
        '<form class="hb-form" novalidate autocomplete="off" aria-labelledby="record-a-test">'
        '<div class="hb-errors" role="alert" tabindex="-1" hidden></div>'
        f'<fieldset class="hb-group"><legend>What was tried</legend>{linked}{_date(columns["date"])}</fieldset>'
        '<p class="hb-known" aria-live="polite"></p>'
        f'<fieldset class="hb-group"><legend>What was counted</legend>{counted}</fieldset>'
        '<fieldset class="hb-group"><legend>What to do</legend>'
        f"{_control(columns['verdict'], show)}{_control(columns['note'], show)}</fieldset>"
        '<details class="hb-more"><summary>The product measured differently</summary><fieldset '
        f'class="hb-group"><legend>New sizes, in place of those of our data</legend>{sizes}</fieldset></details>'
        '<div class="hb-buttons"><button type="submit" class="hb-button hb-button--main">Save this test'
        '</button><button type="button" class="hb-button" data-do="clear">Clear</button></div>'
        '<p class="hb-said" role="status"></p></form></section>'
    )


def _control(field: Field, show: Units) -> str:
    # A verdict is chosen; it is never “not known”.
    made = control(field, None, show, f"fit-{field.key}", field.key)
    return made.replace(">Not known<", ">Choose<")


def _select(key: str, field: Field, rows: Iterable[Row]) -> str:
    options = "".join(f'<option value="{escape(row.typed["key"])}">{escape(row.typed["name"])}</option>'
                      for row in rows)  # fmt: skip
    return (f'<div class="hb-field"><label for="fit-{key}">{escape(field.label)}</label><select id="fit-{key}" '
            f'name="{key}"><option value="">Choose</option>{options}</select></div>')  # fmt: skip


def _date(field: Field) -> str:
    return (f'<div class="hb-field"><label for="fit-date">{escape(field.label)}</label>'
            '<input type="date" id="fit-date" name="date"></div>')  # fmt: skip


# -- the lists ---------------------------------------------------------------------------


def _device() -> str:
    buttons = (
        ("undo", "Undo"), ("copy", "Copy as rows for our table"), ("download", "Download as CSV"),
        ("read", "Read a CSV file"), ("prune", "Remove those already in our data"),
        ("print-filled", "Print this list"), ("print-blank", "Print a blank sheet"),
    )  # fmt: skip
    listed = "".join(
        f'<button type="button" class="hb-button" data-do="{key}"{" hidden" if key in ("undo", "prune") else ""}>'
        f"{text}</button>" for key, text in buttons
    )  # fmt: skip
    return (
        '<section class="hb-device" aria-labelledby="on-this-device"><h2 id="on-this-device">On this device</h2>'
        '<p class="hb-kept hb-screen-only"></p>'
        f'<div class="hb-buttons">{listed}</div>'
        '<input type="file" class="hb-file" accept=".csv,text/csv" aria-label="A CSV file of tests" hidden>'
        '<p class="hb-said" role="status"></p><div class="hb-errors" data-read role="alert" tabindex="-1" '
        'hidden></div><div class="hb-list-place"></div><details class="hb-more hb-screen-only"><summary>Move to '
        "another device</summary><p>A file with everything this handbook keeps on this device. Brought back, its "
        'lists take the place of those there.</p><div class="hb-buttons"><button type="button" class="hb-button" '
        'data-do="pack">Download all lists</button><button type="button" class="hb-button" data-do="unpack">'
        'Bring lists back</button></div><input type="file" class="hb-packed" accept=".json,application/json" '
        'aria-label="A file of kept lists" hidden></details></section>'
    )


def _ours(data: OperatorData) -> str:
    rows = sorted(data.tables["fits"], key=lambda row: (row.typed["date"], row.number), reverse=True)
    body = _list([_line(data, row) for row in rows]) if rows else "<p>None yet.</p>"
    return (
        '<section class="hb-ours" aria-labelledby="in-our-data"><h2 id="in-our-data">In our data</h2>'
        "<p>From the table fits.csv. To add what is on a device, copy its rows to the end of that table "
        f"and build the handbook anew.</p>{body}</section>"
    )


def _list(lines: list[list[tuple[str, ...]]]) -> str:
    """A table whose cells hold a text and smaller texts beneath it; on a phone each row is a card."""
    head = "".join(f'<th scope="col">{name}</th>' for name in COLUMNS)
    body = "".join(
        "<tr>" + "".join(_cell(name, *texts) for name, texts in zip(COLUMNS, line, strict=True)) + "</tr>"
        for line in lines
    )
    return (
        '<div class="hb-scroll" tabindex="0" role="region" aria-label="Tests of our data"><table '
        f'class="hb-table hb-tests"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'
    )


def _cell(name: str, main: str, *hints: str) -> str:
    small = "".join(f'<span class="hb-hint">{escape(hint)}</span>' for hint in hints if hint)
    return f'<td data-label="{name}"><span>{escape(main) or "–"}{small}</span></td>'


def _line(data: OperatorData, row: Row) -> list[tuple[str, ...]]:
    named = {key: data.row(name, row.typed[key]).typed["name"] for key, name in LINKED.items()}
    cells = {cell.coil.typed["key"]: cell.calculated
             for cell in coils.judged(data, row.typed["machine"], row.typed["product"])}  # fmt: skip
    calculated = cells.get(row.typed["coil"], "")
    columns = _columns()
    sizes = ", ".join(f"{columns[key].label.lower()} {row.typed[key]}" for key in fits.CORRECTED
                      if key in row.typed)  # fmt: skip
    return [
        (row.typed["date"], named["who"]), (named["product"], named["coil"], named["machine"]),
        (fits.counted(row),),
        (fits.VERDICTS[row.values["verdict"]], f"calculated: {calculated.lower()}" if calculated else ""),
        (sizes, row.typed.get("note", "")),
    ]  # fmt: skip


def _blank() -> str:
    head = ("Day and who", "Product", "Coil", "Cabinet", f"Lifted, of {fits.LIFTED}",
            f"Hung, of {fits.VENDS}", "Fell", "Crushed", "Verdict", "New size, note")  # fmt: skip
    top = "".join(f'<th scope="col">{name}</th>' for name in head)
    line = "<tr>" + "<td>&#160;</td>" * len(head) + "</tr>"
    words = ", ".join(word.lower() for word in fits.VERDICTS.values())
    return (
        '<section class="hb-blank"><h2>Tests to write down</h2>'
        f"<p>Lift {fits.LIFTED} packs, then run {fits.VENDS} test vends. Count each vend once, for the worst "
        f"that happened; write 0 where none did. Verdict: {words}.</p>"
        f'<table class="hb-fill" aria-label="Tests to write down"><thead><tr>{top}</tr></thead>'
        f"<tbody>{line * BLANK_ROWS}</tbody></table></section>"
    )
