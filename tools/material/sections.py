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

TOKEN = re.compile(r"<!--.*?-->|<(/?)([a-zA-Z][^\s/>]*)([^<>\"']*(?:(?:\"[^\"]*\"|'[^']*')[^<>\"']*)*)>", re.DOTALL)
ATTRIBUTE = re.compile(r"([^\s\"'>/=]+)(?:\s*=\s*(?:\"([^\"]*)\"|'([^']*)'|([^\s\"'>]+)))?")
HEADINGS = frozenset(f"h{depth}" for depth in range(1, 7))
MARKED = HEADINGS | {"a"}  # whose attributes are kept
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

    ``hidden`` is whether the search is kept out of where the reader is, and ``theirs`` whether a text there is one for the
    theme (before all headings, in one, or as typed): asked of the whole context only where it may have changed. ``counts`` is
    whether any attribute of the page may keep the search out.
    """

    def __init__(self) -> None:
        super().__init__()
        self.hidden, self.theirs = False, True
        self.counts = True

    def feed(self, data: str) -> None:
        """Read a whole page."""
        try:
            self._read(data)
        except Odd:
            self.__init__()  # type: ignore[misc]
            super().feed(data)

    def _read(self, page: str) -> None:
        place, self.counts = 0, bool(COUNTS.search(page))
        while found := TOKEN.search(page, place):
            start = found.start()
            if start > place:
                self._text(page[place:start])
            place = found.end()
            closing, name, rest = found.groups()
            if not name:
                continue
            tag = name.lower()
            if closing:
                self._closed(tag)
            elif tag not in plugin.void:
                self._opened(tag, rest)
                if rest and rest[-1] == "/":
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
        if self.theirs:
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
        self.theirs = not self.section or self.section.el in self.context or "pre" in self.context

    def _opened(self, tag: str, rest: str) -> None:
        """An element; its attributes are read where one may count."""
        if self.section and tag not in MARKED and not (self.counts and rest and COUNTS.search(rest)):
            self._pushed(tag, NAMED.get(tag) or NAMED.setdefault(tag, Element(tag)))
            return
        attributes = _attributes(rest)
        if tag in HEADINGS or "data-search-exclude" in attributes or attributes.get("class") == "linenodiv" or not self.section:
            self.handle_starttag(tag, attributes)
            self._look()
        else:
            self._pushed(tag, Element(tag, attributes))

    def _pushed(self, tag: str, element: Element) -> None:
        """Any other element: the reader is within it now."""
        self.context.append(element)
        if tag in self.skip:
            self.hidden = True
        if tag == "pre":
            self.theirs = True
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
