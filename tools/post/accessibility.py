"""Mends what the theme does not do for people who hear the page or use no mouse.

What is colour or size is in docs/assets/css/theme-mends.css; what needs the laid-out page
is in reach.js. Here is what can be said in the page itself.
"""

from __future__ import annotations

import re
from html import escape
from pathlib import Path

from . import pages

HERE = Path(__file__).parent
SCRIPT = "assets/javascripts/reach.js"
TASK = re.compile(
    r'(<li class="task-list-item">(?:<label class="task-list-control">)?<input)'
    r"([^>]*>)(.*?)(?=<[uo]l|</li>)",
    re.DOTALL,
)


def install(site: Path) -> None:
    """Write the script that pages call."""
    pages.write(site / SCRIPT, pages.read(HERE / "reach.js"))


def page(text: str) -> str:
    """Return a page whose parts have names and states that are allowed."""
    return TASK.sub(named_task, pages.edit(text, Mender().changes))


def scripts(text: str) -> str:
    """Return a theme page that loads the script; other pages as they are."""
    if pages.config(text) is None:
        return text
    tag = f'<script src="{pages.root(text)}{SCRIPT}" defer></script>\n  '
    return pages.before(text, "</body>", tag)


class Mender:
    """The mends of one page, by tag."""

    def __init__(self) -> None:
        self.contents = 0
        self.in_head = False
        self.changes: dict[str, pages.Change] = {
            "div": self.div,
            "label": self.label,
            "nav": self.nav,
            "thead": self.part_of_table,
            "tbody": self.part_of_table,
            "th": self.cell,
            "a": self.link,
        }

    def div(self, tag: pages.Tag) -> None:
        """Name the search dialog and the part of it that scrolls; its count is told."""
        kind = tag.attributes.get("data-md-component")
        if kind == "search" and tag.attributes.get("role") == "dialog":
            tag.attributes.setdefault("aria-label", "Search")
        if "md-search-result__meta" in classes(tag):
            tag.attributes.setdefault("role", "status")
        if "md-search__scrollwrap" in classes(tag):
            tag.attributes.setdefault("role", "region")
            tag.attributes.setdefault("aria-label", "Search results")

    def label(self, tag: pages.Tag) -> None:
        """Take off an empty tabindex: it is not a number."""
        if tag.attributes.get("tabindex") == "":
            del tag.attributes["tabindex"]

    def nav(self, tag: pages.Tag) -> None:
        """Take off a state that a landmark may not have; tell the two contents apart."""
        tag.attributes.pop("aria-expanded", None)
        if "md-nav--secondary" in classes(tag):
            self.contents += 1
            if self.contents > 1:
                tag.attributes["aria-label"] = "On this page"

    def part_of_table(self, tag: pages.Tag) -> None:
        """Note whether the cells that follow are a table's head."""
        self.in_head = tag.name == "thead"

    def cell(self, tag: pages.Tag) -> None:
        """Say that a heading cell in a table's head heads its column."""
        if self.in_head:
            tag.attributes.setdefault("scope", "col")

    def link(self, tag: pages.Tag) -> None:
        """Name the sign beside a heading: its text is a mere paragraph mark."""
        if "headerlink" in classes(tag) and tag.attributes.get("title"):
            tag.attributes.setdefault("aria-label", tag.attributes["title"])


def named_task(match: re.Match[str]) -> str:
    """Give a task's tick box the task's text as its name."""
    name = " ".join(re.sub("<[^>]+>", " ", match[3]).split())
    return f'{match[1]} aria-label="{escape(name, quote=True)}"{match[2]}{match[3]}'


def classes(tag: pages.Tag) -> list[str]:
    """Return the classes of a tag."""
    return (tag.attributes.get("class") or "").split()
