"""Sheets for paper: what to measure, and a table that a calculator worked out beforehand.

Under the table's options a calculator is run once for each value of one input while the
handbook is built, so that a person without a phone can read the answer off a line.
"""

from __future__ import annotations

import xml.etree.ElementTree as etree
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING, Any

from calculators.core import Calculator, Field, InputErrors, Rows
from calculators.core import html as fragments
from calculators.core.units import Units
from tools.problems import nearest

from .calculator import find, fold, prefilled
from .options import read_options
from .tree import Node
from .values import figure_text

if TYPE_CHECKING:
    from . import Drawer

OWN = ("rows", "head", "columns", "note")
Options = dict[str, tuple[int, str]]
BLANKS = 4  # empty lines for an input that is a list
WIDE = 7  # columns that a sheet of paper takes
NOTHING = "–"


def draw_worksheet(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """The table worked out beforehand, where it is asked for, and the sheet to fill in."""
    found = find(node, drawer)
    options = read_options(node, drawer)
    if found is None:
        return
    for key in [key for key in OWN if key in options and "rows" not in options]:
        drawer.report(options[key][0], f"“{key}” needs the rows of a table.",
                      "Write “rows: INPUT = 10, 20, 30”.")  # fmt: skip
    if "rows" in options:
        drawer.raw(_table(found, node, options, drawer), parent)
    drawer.raw(fold("The sheet, to print and fill in", _sheet(found, drawer)), parent)


# -- the table ------------------------------------------------------------------------


@dataclass(frozen=True)
class Column:
    """One column: a value by its key, or for each row of a table of results a cell of it."""

    line: int
    source: str
    part: str
    head: str


def _table(found: Calculator, node: Node, options: Options, drawer: Drawer) -> str:
    own = {key: options.pop(key) for key in OWN if key in options}
    line, text = own["rows"]
    key, _, listed = (part.strip() for part in text.partition("="))
    values = [value.strip() for value in listed.split(",") if value.strip()]
    fields = {field.key: field for field in found.inputs.fields() if not isinstance(field, Rows)}
    if key not in fields or not values:
        drawer.report(line, f"“{text}” does not say which input takes which values.",
                      f"Write “rows: INPUT = 10, 20, 30”. {nearest(key, list(fields))}")  # fmt: skip
        return ""
    columns = _columns(own.get("columns", (line, "")))
    typed, system, _ = prefilled(found, node, options, drawer)
    results = [_run(found, {**typed, key: value}, system, line, drawer) for value in values]
    kept = [(value, result) for value, result in zip(values, results, strict=True) if result]
    head = own.get("head", (0, _head(fields[key], drawer)))[1]
    note = own.get("note", (0, ""))[1]
    return _drawn(head, columns, kept, note, drawer)


def _columns(option: tuple[int, str]) -> list[Column]:
    """``money = Money; Coins in the tubes / Start``: parts between semicolons."""
    line, text = option
    columns = []
    for part in (part.strip() for part in text.split(";")):
        if part:
            source, _, head = (each.strip() for each in part.partition("="))
            title, _, cell = (each.strip() for each in source.partition(" / "))
            columns.append(Column(line, title, cell, head))
    return columns


def _run(found: Calculator, inputs: Mapping[str, Any], system: str, line: int, drawer: Drawer) -> dict[str, Any]:
    rules = drawer.context.rules
    request = {"units": system, "typed": system, "rules": rules.name, "local": rules.local(),
               "inputs": dict(inputs)}  # fmt: skip
    try:
        return drawer.context.run(found.name, request)
    except InputErrors as error:
        for each in error.errors:
            drawer.report(line, f"{each.label}: {each.message}", each.mend)
        return {}


def _head(field: Field, drawer: Drawer) -> str:
    unit = Units(drawer.context.data.units).unit(field.kind) if field.kind else ""
    return f"{field.label} ({unit})" if unit and unit not in field.label else field.label


def _drawn(head: str, columns: list[Column], runs: list[tuple[str, dict[str, Any]]], note: str,
           drawer: Drawer) -> str:  # fmt: skip
    heads = [head]
    body = [[value] for value, _ in runs]
    for column in columns:
        cells = [_cells(column, result) for _, result in runs]
        names = list(dict.fromkeys(name for each in cells for name in each))
        if not names and runs:
            drawer.report(column.line, f"There is no result “{column.source}”.", _known(runs[0][1]))
        heads += names
        for row, each in zip(body, cells, strict=True):
            row += [each.get(name, NOTHING) for name in names]
    said = f"<p>{escape(note)}</p>" if note else ""
    table = f'<div class="hb-lookup">{said}{fragments.grid("Worked out beforehand", heads, body)}</div>'
    if drawer.context.page.startswith("calculators/"):
        return table
    # Between two steps a reader with a phone has the calculator; the table is for paper.
    return f'<details class="hb-more hb-for-paper"><summary>Without a phone: the table</summary>{table}</details>'


def _cells(column: Column, result: Mapping[str, Any]) -> dict[str, str]:
    """The cells that a column gives for one run, by their heads."""
    if not column.part:
        values = [value for value in result["values"] if value["key"] == column.source]
        return {column.head or value["label"]: value["text"] for value in values}
    tables = [table for table in result["tables"] if table["key"] == column.source]
    return {
        row[0]: row[table["keys"].index(column.part)]
        for table in tables if column.part in table["keys"] for row in table["rows"]
    }  # fmt: skip


def _known(result: Mapping[str, Any]) -> str:
    values = [value["key"] for value in result["values"]]
    tables = [f"{table['key']} / {table['keys'][-1]}" for table in result["tables"]]
    return f"There are: {', '.join(values)}; and tables such as {', '.join(tables) or 'none'}."


# -- the sheet to fill in ---------------------------------------------------------------


def _sheet(found: Calculator, drawer: Drawer) -> str:
    rules = drawer.context.rules
    show = Units(drawer.context.data.units, rules=rules)
    fields = [field for field in found.inputs.fields() if field.offered(rules)]
    single = [field for field in fields if not isinstance(field, Rows)]
    lists = "".join(_blank_rows(field, show) for field in fields if isinstance(field, Rows))
    rows = "".join(
        f'<tr><th scope="row">{escape(field.label)}</th><td>&#160;</td><td>{_unit(field, show)}</td></tr>'
        for field in single
    )
    return (
        f'{lists}<table class="hb-fill hb-worksheet" aria-label="Worksheet"><thead><tr><th scope="col">'
        'Measure</th><th scope="col">Write here</th><th scope="col">Unit</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>{_limits(found, drawer)}"
    )


def _unit(field: Field, show: Units) -> str:
    return escape(show.unit(field.kind)) if field.kind else ""


def _blank_rows(field: Rows, show: Units) -> str:
    """Room for a list: a line each, or a column each where a line would be too wide for paper.

    Settings that are right as they are need no room.
    """
    asked = [each for each in field.record.fields() if each.default is None and each.offered(show.rules)]
    names = [f"{escape(each.label)} ({_unit(each, show)})" if _unit(each, show) else escape(each.label) for each in asked]
    numbers = [str(number) for number in range(1, BLANKS + 1)]
    heads, lines = (names, numbers) if len(names) <= WIDE else (numbers, names)
    top = "".join(f'<th scope="col">{each}</th>' for each in ("No.", *heads))
    blank = "<td>&#160;</td>" * len(heads)
    rows = "".join(f'<tr><th scope="row">{each}</th>{blank}</tr>' for each in lines)
    label = escape(field.label)
    return (
        f'<div class="hb-scroll" tabindex="0" role="region" aria-label="{label}">'
        f'<table class="hb-fill hb-worksheet"><caption>{label}</caption><thead><tr>{top}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>"
    )


def _limits(found: Calculator, drawer: Drawer) -> str:
    rows = []
    for check in found.checks:
        figures = [drawer.context.rules.get(key) for key in check.rules]
        texts = [f"{each.label}: {figure_text(each, drawer.context.data.units)} – {each.citation}" for each in figures
                 if each is not None and not isinstance(each.value, (list, dict))]  # fmt: skip
        rows.append((check.label, "; ".join(texts) or check.help))
    return fragments.table("Hold it against", ("Check", "Limit and rule"), rows)
