"""Figures of the rule set as a table: ``::: figures coins.table`` or ``::: figures space.reach_*``."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from fnmatch import fnmatchcase
from html import unescape
from typing import TYPE_CHECKING, Any

from calculators.core.html import grid
from calculators.core.rules import RULE_SETS, Rule, load
from tools.book import text
from tools.problems import nearest

from .tree import Node
from .values import figure_text

if TYPE_CHECKING:
    from . import Drawer


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """One table for the figures whose keys match; a figure that is itself a table stands alone."""
    known = drawer.context.rules.figures
    wanted = node.argument.split()
    for pattern in wanted:
        if not any(fnmatchcase(key, pattern) for key in (*known, *elsewhere())):
            drawer.report(node.line, f"There is no rule “{pattern}”.", nearest(pattern, list(known)))
    found = [rule for key, rule in known.items() if any(fnmatchcase(key, each) for each in wanted)]
    if wanted and not found:
        etree.SubElement(parent, "p").text = f"No figure in our rules, {drawer.context.rules.title}."
    if not wanted:
        drawer.report(node.line, "The block “figures” names no rule.", "Write “::: figures space.reach_*”.")
    plain = [rule for rule in found if not _is_table(rule)]
    for rule in found:
        if _is_table(rule):
            _draw_table(rule, parent, drawer)
    if plain:
        rows = [(rule.label, figure_text(rule, drawer.context.data.units), rule.citation) for rule in plain]
        title = unescape(" ".join(words.strip() for _, words in node.lines())) or "Figures"
        drawer.raw(grid(title, ("What", "Figure", "Rule"), rows), parent)


def elsewhere() -> set[str]:
    """The keys of all rule sets: a figure that only ours lacks is no mistake of the page."""
    return {key for name in RULE_SETS for key in load(name).figures}


def _is_table(rule: Rule) -> bool:
    return isinstance(rule.value, list) and all(isinstance(row, dict) for row in rule.value)


def _draw_table(rule: Rule, parent: etree.Element, drawer: Drawer) -> None:
    etree.SubElement(parent, "p").text = text.markdown(rule.label)
    columns = list(dict.fromkeys(name for row in rule.value for name in row))
    rows = [[_cell(row.get(name, "")) for name in columns] for row in rule.value]
    note = " ".join(part for part in (rule.citation + ".", rule.note) if part)
    heads = [name.replace("_", " ") for name in columns]
    drawer.raw(grid(rule.label, heads, rows, note), parent)


def _cell(value: Any) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
