"""A calculator in a page: whole on its own page (form, result, data), one closed row in a procedure."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from html import escape
from typing import TYPE_CHECKING, Any

import calculators
from calculators.core import Calculator, InputErrors, Rows, UnknownCalculator, forms, words
from calculators.core import html as fragments
from calculators.core.units import KINDS, SYSTEMS, Units
from tools.book import text
from tools.problems import nearest

from . import presets, row
from .context import Context
from .options import read_options
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

ROWS = ("machine", "product", "site")
# ``fill: first`` takes the first thing of the data that the form can be filled from, whoever's data it is.
FILL = "fill"


def find(node: Node, drawer: Drawer) -> Calculator | None:
    """The calculator that a block names; a mistake is reported."""
    try:
        return calculators.get(node.argument)
    except UnknownCalculator as error:
        drawer.report(node.line, f"There is no calculator “{node.argument}”.",
                      nearest(node.argument, list(error.known)))  # fmt: skip
        return None


def draw_calculator(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """The whole calculator; options name data rows or inputs."""
    found = find(node, drawer)
    options = read_options(node, drawer)
    if found is None:
        return
    _fill_first(found, options, drawer)
    typed, system, preset = prefilled(found, node, options, drawer)
    request = {"units": system, "typed": system, "inputs": typed, "html": True,
               "rules": drawer.context.rules.name, "local": drawer.context.rules.local()}  # fmt: skip
    try:
        result = drawer.context.run(found.name, request)
    except InputErrors as error:
        for each in error.errors:
            line = options.get(each.field, (node.line, ""))[0]
            drawer.report(line, each.message, "")
        return
    named = {key: value for key, (_, value) in options.items() if key in ROWS}
    remark = drawer.context.data.remark(named)
    if drawer.context.page.startswith("calculators/"):
        whole = section(found, typed, system, preset, result, remark, drawer.context)
        drawer.raw(whole + _ahead(drawer.context), parent)
    else:
        drawer.raw(row.closed(found, typed, system, preset, remark, _paper_line(found.title), drawer.context), parent)


def _fill_first(found: Calculator, options: dict[str, tuple[int, str]], drawer: Drawer) -> None:
    """Put the rows that ``fill: first`` stands for in its place; rows named beside it win."""
    line, wanted = options.pop(FILL, (0, ""))
    if wanted == "first":
        for key, value in drawer.context.data.first(found.name).items():
            options.setdefault(key, (line, value))
    elif line:
        drawer.report(line, f"“{wanted}” is nothing to fill the form from.", f"Write “{FILL}: first”.")


def prefilled(found: Calculator, node: Node, options: dict[str, tuple[int, str]],
            drawer: Drawer) -> tuple[dict[str, Any], str, str]:  # fmt: skip
    """The inputs of a block's options, their unit system, and the data they are from."""
    rows = {key: value for key, (_, value) in options.items() if key in ROWS}
    given = {key: value for key, (_, value) in options.items() if key not in ROWS}
    known = [field.key for field in found.inputs.fields()]
    for key in [key for key in given if key not in known]:
        drawer.report(options[key][0], f"The calculator {found.name} has no input “{key}”.",
                      nearest(key, [*known, *ROWS]))  # fmt: skip
        del given[key]
    if not rows and not given:
        system = drawer.context.data.units
        return found.example_for(drawer.context.rules.name, system), system, "example"
    try:
        filled = drawer.context.data.prefill(found.name, rows)
    except KeyError as error:
        drawer.report(node.line, str(error.args[0]), str(error.args[1]) if len(error.args) > 1 else "")
        filled = {}
    return {**filled, **given}, drawer.context.data.units, " ".join(rows.values())


def unit_names(system: str) -> dict[str, str]:
    """The unit that stands beside a box of each kind that has one: a page changes system by itself."""
    show = Units(system)
    return {kind: show.unit(kind) for kind in KINDS if show.unit(kind)}


def _paper_line(title: str) -> str:
    """What stands for a calculator on paper: a printed procedure, a booklet."""
    return (f"On the phone: handbook, part “Work it out”, page {title}. No phone: use this sheet’s own table, "
            f"if it has one, or the paper sheet of {title}. Neither: stop and ask the office. Write the answer here:")  # fmt: skip


def _ahead(context: Context) -> str:
    """What asks the form's question as soon as it is there, while the rest of the page is still read."""
    up = "../" * context.page.count("/")
    return "".join(f'<script src="{up}assets/js/{name}"></script>' for name in ("inputs.js", "ahead.js"))


def unfilled(found: Calculator, context: Context) -> str:
    """A calculator to be opened over any page, which fills it in: no answer yet, and no row."""
    system = context.data.units
    typed = {key: each for key, each in found.example_for(context.rules.name, system).items() if not isinstance(each, list)}
    unanswered = {"html": "", "plain": "", "verdict": "", "outcome": "unknown", "rules": context.rules.name}
    return section(found, typed, system, "example", unanswered, "", context)


def section(found: Calculator, typed: dict[str, Any], system: str, preset: str,
            result: dict[str, Any], remark: str, context: Context) -> str:  # fmt: skip
    """All of a calculator: question, form, answer, data."""
    ident = context.next_id("calculator")
    own, stock = context.data.units, presets.of(context, found.name)
    facts = {
        "example": {"units": own, "inputs": found.example_for(result["rules"], own)},
        "presets": stock.carried,
        "local": context.rules.local(), "plain": words.of(result["rules"]).say(result["plain"]), "rules": result["rules"],
        "unit_names": {each: unit_names(each) for each in SYSTEMS},
    }  # fmt: skip
    data = text.island(facts)
    return (
        f'<section class="hb-calculator" id="{ident}" data-calculator="{found.name}" '
        f'data-state="loading" data-outcome="{result["outcome"]}" data-from="{escape(preset)}" data-build="{context.build_id}"{_shared(found.name, stock, context)} data-search-exclude '
        f'aria-label="{escape(found.title)}">'
        f'<h2 class="hb-question">{escape(found.question)}</h2>'
        f'<p class="hb-on-paper">{escape(_paper_line(found.title))}</p>'
        f'<div class="hb-sides"><div class="hb-ask">{_picker(stock, ident, preset)}'
        f"{forms.form(found, typed, system, prefix=ident, rules=context.rules, from_data=preset != 'example')}"
        f'<p class="hb-status" role="status">Without scripts this page shows a worked example.</p></div>'
        f'<div class="hb-answer" tabindex="-1" aria-label="Answer: {escape(found.title)}" role="region">'
        f'{forms.progress()}<div class="hb-result" id="{ident}-result" tabindex="-1">'
        f"{result['html']}{_origin(preset, remark)}</div>{_after()}</div></div>"
        f'<a class="hb-bar" href="#{ident}-result">{result["verdict"]}</a>'
        f'<script type="application/json" class="hb-facts">{data}</script></section>'
    )


def _shared(name: str, stock: presets.Presets, context: Context) -> str:
    """Where the page finds what it does not carry."""
    return f' data-presets="{"../" * context.page.count("/")}{presets.path(name)}"' if stock.script else ""


def _picker(stock: presets.Presets, ident: str, chosen: str) -> str:
    """The list to choose from; of what the page does not carry, the chosen one alone."""
    if not stock.listed:
        return ""
    options = "".join(
        f'<option value="{number}"{" selected" if key == chosen else ""}>{escape(name)}</option>'
        for number, (key, name) in enumerate(stock.listed) if key == chosen or not stock.script
    )
    return (
        f'<div class="hb-field hb-presets"><label for="{ident}-preset">Fill in from our data</label>'
        f'<select id="{ident}-preset"><option value="">Nothing</option>{options}</select></div>'
    )


def _origin(preset: str, remark: str) -> str:
    words = "A worked example" if preset == "example" else "Worked out from our data"
    told = f"{words}, as the handbook was built. {remark}".strip()
    return f'<p class="hb-origin">{escape(told)}</p>'


def _after() -> str:
    return (
        '<div class="hb-buttons hb-after"><button type="button" class="hb-button" data-do="print">Print'
        '</button><button type="button" class="hb-button" data-do="copy">Copy as text</button>'
        '<button type="button" class="hb-button" data-do="link">Copy link</button></div>'
        '<table class="hb-fill hb-print-only"><thead><tr><th scope="col">Place</th><th scope="col">Name'
        '</th><th scope="col">Signature</th><th scope="col">Date</th></tr></thead><tbody><tr><td>&#160;'
        "</td><td>&#160;</td><td>&#160;</td><td>&#160;</td></tr></tbody></table>"
    )


def draw_reference(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """Tables of everything a calculator takes and gives, drawn from its definition."""
    found = find(node, drawer)
    if found is None:
        return
    system = drawer.context.data.units
    facts = found.describe(system, drawer.context.rules)
    results = [(each["label"], each["unit"], each["help"]) for each in facts["results"]]
    checks = [(each["label"], each["help"],
               ", ".join([*each["rules"], *(f"{key}…" for key in each["families"])]) or "–")
              for each in facts["checks"]]  # fmt: skip
    tables = [
        _inputs_table(facts["inputs"], "What it asks"), _rows_tables(found, Units(system, rules=drawer.context.rules)),
        fragments.table("What it works out", ("Result", "Unit", "Meaning"), results),
        fragments.table("What it checks", ("Check", "Meaning", "Rule keys"), checks),
    ]  # fmt: skip
    drawer.raw(fold("Every input, result and check", "".join(tables)), parent)


def fold(title: str, inner: str) -> str:
    """A part that stays closed on the page until it is wanted."""
    return f'<details class="hb-more"><summary>{title}</summary>{inner}</details>'


def _inputs_table(inputs: list[dict[str, Any]], title: str) -> str:
    rows = [(each["label"], each["key"], each["allowed"] or "–",
             each["assumed"] or "not measured") for each in inputs]  # fmt: skip
    return fragments.table(title, ("Input", "Key", "Allowed", "Left blank"), rows)


def _rows_tables(found: Calculator, show: Units) -> str:
    return "".join(
        _inputs_table([each.describe(show) for each in field.record.fields() if each.offered(show.rules)],
                      f"One {field.noun} of “{field.label}”")
        for field in found.inputs.fields() if isinstance(field, Rows)
    )  # fmt: skip
