"""A calculator in the step of a procedure: one closed row that opens it over the page, and the script it opens from."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import Any

import calculators
from calculators.core import Calculator, words
from tools.book import text

from .context import Context


def closed(found: Calculator, typed: dict[str, Any], system: str, preset: str, remark: str, paper: str,
           context: Context) -> str:  # fmt: skip
    """The question, the last answer and the way to it; without scripts a link to the calculator's own page."""
    up = "../" * context.page.count("/")
    ident = context.next_id("ask")
    facts = {"units": system, "inputs": typed, "preset": "" if preset == "example" else preset, "remark": remark}
    return (
        f'<div class="hb-work" role="group" id="{ident}" data-calculator-row="{found.name}" data-form="{up}{path(found.name)}" '
        f'data-search-exclude aria-label="{escape(found.title)}"><p class="hb-on-paper">{escape(paper)}</p>'
        f'<div class="hb-asks"><p class="hb-question">{escape(found.question)}</p>'
        f'<p class="hb-last">Not worked out here yet.</p>'
        f'<a class="hb-button hb-open" href="{up}calculators/{found.name}.html">Work it out'
        f'<span class="hb-visually-hidden">: {escape(found.question)}</span></a></div>'
        f'<script type="application/json" class="hb-facts">{text.island(facts)}</script></div>'
    )


def path(name: str) -> str:
    """Where the script with a calculator's form lies in the site."""
    return f"assets/forms/{name}.js"


def scripts(context: Context) -> Iterator[tuple[str, str]]:
    """The scripts that rows open, each with its path. They lie as deep as a page of a part does."""
    from .calculator import unfilled

    context.page = "calculators/"
    for name in calculators.NAMES:
        drawn = literal(words.of(context.rules.name).markup(unfilled(calculators.get(name), context)))
        yield path(name), f'(self.HandbookAssets ??= {{}})["form-{name}"] = {{"html": {drawn}}};\n'


def literal(html: str) -> str:
    """HTML as a string of JavaScript: in single quotes, of which it has hardly any."""
    return "'" + html.replace("\\", "\\\\").replace("'", "\\'").replace("\n", "\\n") + "'"
