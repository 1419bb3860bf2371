"""Danger, warning, caution, notice: the signal words of ANSI Z535.6 and ISO 3864-2."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from typing import TYPE_CHECKING

from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

# The hazard triangle stands with the three words that mean harm to people, not with notice.
_TRIANGLE = (
    '<svg class="hb-hazard" viewBox="0 0 24 22" role="img" aria-hidden="true"><path d="M12 2 22.5 20.5'
    'h-21z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M12 8'
    'v6.5" stroke="currentColor" stroke-width="2.4" stroke-linecap="round"/><circle cx="12" cy="17.4"'
    ' r="1.3" fill="currentColor"/></svg>'
)


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """A signal word panel, its title and its text."""
    if not node.lines() and not node.children():
        drawer.report(node.line, f"The {node.name} says nothing.",
                      "Name the hazard, what it does, and how to avoid it.")  # fmt: skip
    box = etree.SubElement(parent, "div", {"class": f"hb-signal hb-signal--{node.name}", "role": "note"})
    head = etree.SubElement(box, "p", {"class": "hb-signal-word"})
    mark = "" if node.name == "notice" else _TRIANGLE
    word = etree.SubElement(head, "strong")
    word.text = drawer.md.htmlStash.store(mark) + node.name.upper() if mark else node.name.upper()
    if node.argument:
        title = etree.SubElement(head, "span", {"class": "hb-signal-title"})
        title.text = node.argument
    drawer.body(node, box)
