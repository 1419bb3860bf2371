"""The operator's sites with the outcome of each sheet."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from typing import TYPE_CHECKING

from calculators.core.html import badge

from .options import no_argument
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """A list of links; the outcome is a word and a shape beside each."""
    no_argument(node, drawer)
    listed = etree.SubElement(parent, "ul", {"class": "hb-tasks hb-sites"})
    # The source's own folder decides the link; MkDocs turns .md into the page's address.
    up = "../" * drawer.context.page.count("/")
    for key, name, day, outcome in drawer.context.sites():
        link = etree.SubElement(etree.SubElement(listed, "li"), "a", {"href": f"{up}sites/{key}.md"})
        etree.SubElement(link, "strong").text = name
        note = etree.SubElement(link, "span")
        note.text = f"{day} "
        holder = etree.SubElement(link, "span", {"data-outcome": outcome})
        holder.text = drawer.md.htmlStash.store(badge(outcome))
