"""Pages kept as the site generator read them: Markdown and the search's own reading cost most.

What a page's HTML rests on is its source and our code, and for most pages more: the data, the rules, the drawings, the
other pages that it links to. Whoever lends a page says what that is. A page made from data that stands alone, one
that holds no block but those that draw what they are given, rests on nothing else.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.metadata
import json
import re
from collections.abc import Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field
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

Said = Mapping[str, Sequence[str]]


@dataclass
class Taken:
    """One page of this build: where it is kept, its front matter, and what it was; a fresh one gathers it."""

    path: Path
    meta: MutableMapping[str, Any]
    found: dict[str, Any] = field(default_factory=dict)
    kept: bool = False


class Rendered:
    """Kept pages in a folder, none where that is None.

    ``mark`` is the hash of the code and settings that read them, ``state`` that of what pages are drawn from beside
    their source: data, rules, drawings.
    """

    def __init__(self, folder: Path | None = None, mark: str = "", state: str = "") -> None:
        self.folder = folder
        self.state = state
        self._mark = [mark, *(importlib.metadata.version(name) for name in PACKAGES)]
        self._taken: dict[str, Taken] = {}
        self._entries = 0

    def lend(self, page: Page, markdown: str, rests_on: Sequence[str] = ()) -> Said:
        """Have a page that was kept take what it was, and return what people say for its parts; keep any other.

        ``rests_on`` is all that its HTML hangs on beside its source.
        """
        if self.folder is None:
            return {}
        told = json.dumps([self._mark, page.url, page.meta, markdown, rests_on], default=str)
        taken = self._taken[page.url] = Taken(self.folder / hashlib.sha256(told.encode()).hexdigest(), page.meta)
        with contextlib.suppress(OSError, ValueError):
            taken.found, taken.kept = json.loads(sealed.read(taken.path)), True
            # Its entries are kept too: the search need not read it.
            page.meta = {**page.meta, "search": {"exclude": True}}
        _Reader(page, taken).put()
        said: Said = taken.found.get("said", {})
        return said

    def keep(self, page: Page, entries: list[dict[str, Any]], said: Said | None = None) -> None:
        """After the search has read a page, whose ``entries`` are then all so far: give its own, or remember them."""
        if taken := self._taken.get(page.url):
            if taken.kept:
                page.meta = taken.meta
                entries += taken.found["entries"]
            else:
                # As they are now: what people say is put into them later, and is no part of what was read.
                taken.found |= {"entries": [dict(each) for each in entries[self._entries :]], "said": said or {}}
        self._entries = len(entries)

    def save(self) -> None:
        """Write down what was read: not before all is well, or a mistake would be told once and never again."""
        for taken in self._taken.values():
            if not taken.kept:
                with contextlib.suppress(OSError):  # no room: it is read again the next time
                    sealed.write(taken.path, json.dumps(taken.found).encode())

    def forget_unused(self) -> None:
        """Drop what no page of this build asked for."""
        if self.folder is not None:
            sealed.forget(self.folder, {taken.path for taken in self._taken.values()})


def stands_alone(markdown: str) -> bool:
    """Whether the HTML of a page made from data follows from its own source."""
    return "{{" not in markdown and set(BLOCK.findall(markdown)) <= ALONE


class _Reader:
    """Stands in for a page's own reading of its Markdown: takes what was kept, or remembers what was read."""

    def __init__(self, page: Page, taken: Taken) -> None:
        self.page, self.taken, self.whole = page, taken, page.render

    def put(self) -> None:
        self.page.render = self.render  # type: ignore[method-assign]

    def render(self, config: MkDocsConfig, files: Files) -> None:
        if self.taken.kept:
            _take(self.page, self.taken.found, files)
            return
        self.whole(config, files)
        self.taken.found = _given(self.page)


def _given(page: Page) -> dict[str, Any]:
    title = page._title_from_render  # noqa: SLF001 - what reading its Markdown leaves, with no other way to it
    links = {file.src_uri: told for file, told in (page.links_to_anchors or {}).items()}
    return {"content": page.content, "toc": [_token(each) for each in page.toc], "title": title,
            "anchors": sorted(page.present_anchor_ids or ()), "links": links}  # fmt: skip


def _token(link: AnchorLink) -> dict[str, Any]:
    return {"name": link.title, "id": link.id, "level": link.level, "children": [_token(each) for each in link.children]}


def _take(page: Page, found: dict[str, Any], files: Files) -> None:
    """In place of reading its Markdown. Links to parts of other pages are looked up anew: those pages may have changed."""
    page.content = found["content"]
    page.toc = get_toc(found["toc"])
    page._title_from_render = found["title"]  # noqa: SLF001
    page.present_anchor_ids = set(found["anchors"])
    led = ((files.get_file_from_path(place), told) for place, told in found["links"].items())
    page.links_to_anchors = {file: told for file, told in led if file}
