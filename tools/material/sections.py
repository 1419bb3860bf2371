"""Reads for the search what the theme's own parser reads of a page, five times as fast.

The theme asks for every tag whether it stands within something that is skipped, by sets of objects that are hashed in
Python, and reads every attribute. Here tags are texts and attributes are read where one may count. The sections come
out the same, odd ones included (an element that is skipped ends with the first one of its name that ends within).
Whatever is not as Markdown writes it is left to the theme's parser.
"""

from __future__ import annotations

import contextlib
import html
import re
from collections.abc import Iterator
from typing import Any, Self

from material.plugins.search import plugin

TOKEN = re.compile(r"<!--.*?-->|<(/?)([a-zA-Z][^\s/>]*)((?:[^<>\"']|\"[^\"]*\"|'[^']*')*)>", re.DOTALL)
ATTRIBUTE = re.compile(r"([^\s\"'>/=]+)(?:\s*=\s*(?:\"([^\"]*)\"|'([^']*)'|([^\s\"'>]+)))?")
HEADINGS = frozenset(f"h{depth}" for depth in range(1, 7))
RAW = ("script", "style")
COUNTS = re.compile("data-search-exclude|linenodiv", re.IGNORECASE)


class Element(str):
    """A tag with its attributes; equal to all of its name, as the theme's is."""

    __slots__ = ("attrs", "tag")
    tag: str
    attrs: dict[str, str | None]

    def __new__(cls, tag: str, attrs: dict[str, str | None] | None = None) -> Self:
        """A text, so that sets of them are fast."""
        made = super().__new__(cls, tag)
        made.tag, made.attrs = tag, attrs or {}
        return made

    def is_excluded(self) -> bool:
        """Whether the search is kept out of it."""
        return "data-search-exclude" in self.attrs


class Odd(ValueError):
    """Something that is not as Markdown writes it."""


class Parser(plugin.Parser):  # type: ignore[misc]
    """The theme's parser with a faster reader."""

    def feed(self, data: str) -> None:
        """Read a whole page."""
        try:
            self._read(data)
        except Odd:
            self.__init__()  # type: ignore[misc]
            super().feed(data)

    def _read(self, page: str) -> None:
        place = 0
        while found := TOKEN.search(page, place):
            self._text(page[place : found.start()])
            place = found.end()
            closing, name, rest = found.groups()
            if not name:
                continue
            tag = name.lower()
            if closing:
                self.handle_endtag(tag)
                continue
            self._opened(tag, rest)
            if rest.endswith("/"):
                self.handle_endtag(tag)
            elif tag in RAW:
                place = self._past(page, place, tag)
        self._text(page[place:])

    def _past(self, page: str, place: int, tag: str) -> int:
        """Where a script or a style sheet ends: what it holds is no text."""
        end = page.find(f"</{tag}", place)
        if end < 0:
            raise Odd
        return end

    def _text(self, text: str) -> None:
        if "<" in text:
            raise Odd
        if text and self.skip.isdisjoint(self.context):
            self.handle_data(html.unescape(text))

    def _opened(self, tag: str, rest: str) -> None:
        if tag in plugin.void:
            return
        counts = tag in HEADINGS or tag == "a" or COUNTS.search(rest)
        attributes = _attributes(rest) if counts else {}
        if tag in HEADINGS or "data-search-exclude" in attributes or attributes.get("class") == "linenodiv" or not self.section:
            self.handle_starttag(tag, attributes)
            return
        self.context.append(Element(tag, attributes))
        if tag in self.keep and self.skip.isdisjoint(self.context):
            held = self.section.title if self.section.el in self.context else self.section.text
            held.append(f"<{tag}>")


def _attributes(rest: str) -> dict[str, str | None]:
    return {name.lower(): html.unescape(next(filter(None, values), "")) for name, *values in ATTRIBUTE.findall(rest)}


@contextlib.contextmanager
def quick() -> Iterator[None]:
    """Have the theme's search read pages so, within a build of ours."""
    theirs: dict[str, Any] = {"Parser": plugin.Parser, "Element": plugin.Element}
    plugin.Parser, plugin.Element = Parser, Element
    try:
        yield
    finally:
        for name, value in theirs.items():
            setattr(plugin, name, value)
