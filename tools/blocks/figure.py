"""A drawing of the house, put into the page so that it takes the page's colours."""

from __future__ import annotations

import re
import xml.etree.ElementTree as etree
from typing import TYPE_CHECKING

from tools.problems import nearest

from .tree import Node

if TYPE_CHECKING:
    from . import Drawer


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """The drawing with its caption, as the country has it; it must bear a title and a description."""
    known = {path.stem: path for folder in drawer.context.drawings for path in folder.glob("*.svg")}
    if node.argument not in known:  # also what names a file of another folder
        drawer.report(node.line, f"There is no drawing “{node.argument}”.",
                      nearest(node.argument, sorted(known)))  # fmt: skip
        return
    found = known.get(f"{node.argument}.{drawer.context.rules.name}", known[node.argument])
    svg = found.read_text(encoding="utf-8")
    svg = re.sub(r"<\?xml.*?\?>|<!--.*?-->", "", svg, flags=re.DOTALL).strip()
    for part in ("title", "desc"):
        if f"<{part}" not in svg:
            drawer.report(node.line, f"The drawing “{node.argument}” has no <{part}>.",
                          "Add one, so that it can be heard as well as seen.")  # fmt: skip
    if found.parent != drawer.context.drawings[0]:  # the operator's own: in their own words
        svg = svg.replace("<svg", '<svg translate="no"', 1)
    drawer.context.figures_used.add(node.argument)
    box = etree.SubElement(parent, "figure", {"class": "hb-drawing"})
    drawer.raw(svg, box)
    if node.lines():
        caption = etree.SubElement(box, "figcaption")
        drawer.body(node, caption)
