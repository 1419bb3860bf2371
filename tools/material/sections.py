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
from html import escape
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


# An element without attributes is what any other of its name is, and never changed.
NAMED: dict[str, Element] = {}


class Odd(ValueError):
    """Something that is not as Markdown writes it."""


class Parser(plugin.Parser):  # type: ignore[misc]
    """The theme's parser with a faster reader.

    ``hidden`` is whether the search is kept out of where the reader is: asked of the whole context only where it may
    have changed.
    """

    def __init__(self) -> None:
        super().__init__()
        self.hidden = False

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
                self._closed(tag)
                continue
            self._opened(tag, rest)
            if rest.endswith("/"):
                self._closed(tag)
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
        if not text or self.hidden:
            return
        text = html.unescape(text) if "&" in text else text
        if not self.section or self.section.el in self.context or "pre" in self.context:
            self.handle_data(text)
        elif not text.isspace():
            self.section.text.append(escape(text.replace("\n", " "), quote=False))
        elif not self.section.text or not self.section.text[-1].isspace():
            self.section.text.append(" ")

    def _closed(self, tag: str) -> None:
        """An element's end; most change nothing but where the reader is."""
        context = self.context
        if not context or context[-1] != tag:
            return
        if self.hidden or tag in self.keep or self.section.depth >= len(context):
            self.handle_endtag(tag)
            self._look()
        else:
            context.pop()

    def _look(self) -> None:
        self.hidden = not self.skip.isdisjoint(self.context)

    def _opened(self, tag: str, rest: str) -> None:
        if tag in plugin.void:
            return
        counts = tag in HEADINGS or tag == "a" or COUNTS.search(rest)
        attributes = _attributes(rest) if counts else {}
        if tag in HEADINGS or "data-search-exclude" in attributes or attributes.get("class") == "linenodiv" or not self.section:
            self.handle_starttag(tag, attributes)
            self._look()
            return
        self.context.append(Element(tag, attributes) if attributes else NAMED.setdefault(tag, Element(tag)))
        self.hidden = self.hidden or tag in self.skip
        if tag in self.keep and not self.hidden:
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
