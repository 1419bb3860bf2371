"""Pages made from data, kept as the site generator read them: Markdown and the search's own reading cost most.

Only a page that stands alone is kept, one whose HTML follows from its own source: it holds no block but those
that draw what they are given, and links to no anchor elsewhere. It has a title in its front matter.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import importlib.metadata
import json
import re
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink, get_toc

from tools import sealed

ALONE = frozenset({"record", "signoff"})
BLOCK = re.compile(r"^[ \t]*:::[ \t]*(\S+)", re.MULTILINE)
PACKAGES = ("mkdocs", "mkdocs-material", "markdown")


class Rendered:
    """Kept pages in a folder, none where that is None. ``mark`` is the hash of the code and settings that read them."""

    def __init__(self, folder: Path | None = None, mark: str = "") -> None:
        self.folder = folder
        self._mark = [mark, *(importlib.metadata.version(name) for name in PACKAGES)]
        self._used: set[Path] = set()
        self._found: dict[str, dict[str, Any]] = {}
        self._wanted: dict[str, Path] = {}
        self._entries = 0

    def lend(self, page: Page, markdown: str) -> None:
        """Have a page that was kept take what it was; of another that stands alone, remember to keep it."""
        if self.folder is None or not stands_alone(markdown):
            return
        told = json.dumps([self._mark, page.url, page.meta, markdown], default=str)
        path = self.folder / hashlib.sha256(told.encode()).hexdigest()
        self._used.add(path)
        try:
            found = json.loads(sealed.read(path))
        except (OSError, ValueError):
            self._wanted[page.url] = path
            return
        self._found[page.url] = found
        page.render = functools.partial(_take, page, found)  # type: ignore[method-assign]
        # Its entries are kept too: the search need not read it.
        page.meta = {**page.meta, "search": {"exclude": True}}

    def keep(self, page: Page, entries: list[dict[str, Any]]) -> None:
        """After the search has read a page, whose ``entries`` are then all so far: give its own, or keep them."""
        if page.url in self._found:
            entries += self._found[page.url]["entries"]
        path, new = self._wanted.get(page.url), entries[self._entries :]
        self._entries = len(entries)
        if path and set(page.links_to_anchors or ()) <= {page.file}:
            with contextlib.suppress(OSError):  # no room: it is read again the next time
                sealed.write(path, json.dumps({**_given(page), "entries": new}).encode())

    def forget_unused(self) -> None:
        """Drop what no page of this build asked for."""
        if self.folder is not None:
            sealed.forget(self.folder, self._used)


def stands_alone(markdown: str) -> bool:
    """Whether a page's HTML follows from its own source."""
    return "{{" not in markdown and set(BLOCK.findall(markdown)) <= ALONE


def _given(page: Page) -> dict[str, Any]:
    title = page._title_from_render  # noqa: SLF001 - what reading its Markdown leaves, with no other way to it
    return {"content": page.content, "toc": [_token(each) for each in page.toc], "title": title,
            "anchors": sorted(page.present_anchor_ids or ())}  # fmt: skip


def _token(link: AnchorLink) -> dict[str, Any]:
    return {"name": link.title, "id": link.id, "level": link.level, "children": [_token(each) for each in link.children]}


def _take(page: Page, found: dict[str, Any], config: MkDocsConfig, files: Files) -> None:
    """In place of reading its Markdown."""
    page.content = found["content"]
    page.toc = get_toc(found["toc"])
    page._title_from_render = found["title"]  # noqa: SLF001
    page.present_anchor_ids = set(found["anchors"])
    page.links_to_anchors = {}
