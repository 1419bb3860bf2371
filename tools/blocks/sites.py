"""The operator's sites with the outcome of each sheet."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from typing import TYPE_CHECKING

from calculators.core.html import badge
from tools.book import text

from .options import no_argument, read_options
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

FIND = 25  # so many sites and more can be searched by typing
Site = tuple[str, str, str, str]


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """A list of links; the outcome is a word and a shape beside each. ``most`` says how many stand here."""
    no_argument(node, drawer)
    sites = drawer.context.sites()
    shown = _shown(sites, _most(node, drawer, len(sites)))
    marks = {"data-find": "sites"} if len(shown) >= FIND else {}
    listed = etree.SubElement(parent, "ul", {"class": "hb-tasks hb-sites", **marks})
    # The source's own folder decides the link; the site generator turns .md into the page's address.
    up = "../" * drawer.context.page.count("/")
    for each in shown:
        _link(each, etree.SubElement(listed, "li"), up, drawer)
    if len(shown) < len(sites):
        more = etree.SubElement(etree.SubElement(parent, "p"), "a", {"href": f"{up}sites/index.md"})
        more.text = f"All {len(sites):,} sites"


def _most(node: Node, drawer: Drawer, count: int) -> int:
    most = count
    for key, (line, value) in read_options(node, drawer).items():
        if key != "most" or not value.isascii() or not value.isdigit() or value == "0":
            drawer.report(line, f"“{key}: {value}” says nothing of sites.", "Write “most: 12”, or nothing.")
        else:
            most = int(value)
    return most


def _shown(sites: list[Site], most: int) -> list[Site]:
    """As many as there is room for: those with a day first, which are still to be done."""
    if len(sites) <= most:
        return sites
    return sorted(sites, key=lambda site: not site[2])[:most]


def _link(site: Site, parent: etree.Element, up: str, drawer: Drawer) -> None:
    key, name, day, outcome = site
    link = etree.SubElement(parent, "a", {"href": f"{up}sites/{key}.md"})
    etree.SubElement(link, "strong").text = text.markdown(name)
    note = etree.SubElement(link, "span")
    note.text = f"{text.markdown(day)} "
    holder = etree.SubElement(link, "span", {"data-outcome": outcome})
    holder.text = drawer.md.htmlStash.store(badge(outcome))
