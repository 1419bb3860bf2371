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
    """The drawing with its caption; it must bear a title and a description."""
    drawn = {path.stem: path for folder in drawer.context.drawings for path in folder.glob("*.svg")}
    path = drawn.get(node.argument)
    if path is None:
        drawer.report(node.line, f"There is no drawing “{node.argument}”.",
                      nearest(node.argument, list(drawn)))  # fmt: skip
        return
    svg = path.read_text(encoding="utf-8")
    svg = re.sub(r"<\?xml.*?\?>|<!--.*?-->", "", svg, flags=re.DOTALL).strip()
    for part in ("title", "desc"):
        if f"<{part}" not in svg:
            drawer.report(node.line, f"The drawing “{node.argument}” has no <{part}>.",
                          "Add one, so that it can be heard as well as seen.")  # fmt: skip
    drawer.context.figures_used.add(node.argument)
    box = etree.SubElement(parent, "figure", {"class": "hb-drawing"})
    drawer.raw(svg, box)
    if node.lines():
        caption = etree.SubElement(box, "figcaption")
        drawer.body(node, caption)
