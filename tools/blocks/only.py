"""What some cabinets have and others do not: ``::: only cold`` round steps or text, ``{{only cold}}…{{/only}}`` in a line.

What every model of the operator has needs no mark, and what none has is left out. Of what some have, the page says
for which, and the page's script leaves out what the reader's own cabinet does not have.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as etree
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tools.book import card
from tools.problems import nearest

from .context import Context
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

_IN_LINE = re.compile(r"\{\{\s*(only|not)\s+([\w-]+)\s*\}\}(.*?)\{\{\s*/\1\s*\}\}")
_LEFT = re.compile(r"\{\{\s*/?(?:only|not)\b[^}]*\}\}")
# What is left of a line whose words were all for other cabinets: a bullet, or a record's line without its label.
_BARE = re.compile(r"^\s*(?:[-*]|\|.*)?\s*$")


@dataclass(frozen=True)
class Whose:
    """For which of the operator's models something is: their keys, apart by spaces, and words that say so."""

    keys: str
    label: str
    everybody: bool

    @property
    def nobody(self) -> bool:
        """Whether no model of the operator has it."""
        return not self.keys and not self.everybody


def whose(feature: str, line: int, context: Context, *, other: bool = False) -> Whose:
    """The models that have a feature, or perhaps have it; with ``other`` those that lack it, or perhaps do."""
    told = card.features().get(feature)
    if told is None:
        context.report(line, f"There is no feature “{feature}”.", nearest(feature, list(card.features())))
        return Whose("", "", everybody=True)
    machines = context.data.tables["machines"]
    found = [row.typed["key"] for row in machines if card.has(row, feature) is not other]
    return Whose(" ".join(found), told.other if other else told.label, len(found) == len(machines))


def fill(text: str, line: int, context: Context) -> str:
    """A line with its ``{{only …}}`` and ``{{not …}}`` read; empty where nothing of it is left."""

    def put(found: re.Match[str]) -> str:
        which, feature, words = found.groups()
        models = whose(feature, line, context, other=which == "not")
        if models.everybody or models.nobody:
            return words if models.everybody else ""
        return f'<span data-for="{models.keys}">{words}<span class="hb-whose"> ({models.label})</span></span>'

    filled = _IN_LINE.sub(put, text)
    for stray in _LEFT.findall(filled):
        context.report(line, f"“{stray}” stands alone in its line.", "Write {{only FEATURE}}…{{/only}} in one line.")
    filled = _LEFT.sub("", filled)
    return "" if filled != text and _BARE.match(filled) else filled


def attributes(models: Whose) -> Mapping[str, str]:
    """What an element bears that is for some models."""
    return {} if models.everybody else {"data-for": models.keys}


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """The body, for the cabinets that it is for; inside a list of steps :mod:`.steps` reads it."""
    models = whose(node.argument, node.line, drawer.context)
    if models.nobody:
        return
    if models.everybody:
        drawer.body(node, parent)
        return
    box = etree.SubElement(parent, "div", {"class": "hb-only", **attributes(models)})
    head(box, f"{models.label[0].upper()}{models.label[1:]} only.")
    drawer.body(node, box)


def head(parent: etree.Element, text: str) -> None:
    """The line that says for which cabinets the rest is."""
    etree.SubElement(parent, "p", {"class": "hb-only-head"}).text = text
