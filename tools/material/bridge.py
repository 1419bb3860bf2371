"""The one place that knows MkDocs: its events, handed on to plain functions."""

from __future__ import annotations

import html
import logging
import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from jinja2 import Environment
from markdown.extensions.toc import slugify
from markupsafe import Markup
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, MkDocsException
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink

from calculators.core import words
from tools import licenses, pages
from tools.blocks import HandbookBlocks
from tools.book import country, front, keys, text
from tools.book.book import Book
from tools.book.facts import facts
from tools.book.folder import pictures
from tools.book.written import HOME
from tools.memory import Memory
from tools.pages import found, look, menu, places, procedures, proof
from tools.problems import Problem, Problems, nearest

from . import compiled, finished, sections
from .rendered import Rendered, stands_alone

SHEETS = "assets/css/sheets.css"
SEARCH = "material/search"
# The search reads what stands in two of these as one word, unless a blank parts them.
CELLS = re.compile(r"(</(?:td|th|tr|dt|dd|label|caption|legend|option|summary|button)>)(?=<)")


class NotBuilt(Exception):
    """The pages could not be written; the text says every mistake."""


def write_pages(book: Book, settings: Path, site: Path, rendered: Rendered | None = None,
                memory: Memory | None = None) -> str:  # fmt: skip
    """Write a book's pages into ``site`` and return the address that they have on a server.

    ``rendered`` are pages that earlier builds read, ``memory`` what this process made before.
    Raises :class:`NotBuilt`, the generator's warnings included.
    """
    logging.basicConfig(level=logging.WARNING, format="%(message)s")
    try:
        config = load_config(str(settings), site_dir=str(site), strict=True)
        config.plugins["handbook"] = Bridge(book, rendered, memory)
        config.plugins.on_startup(command="build", dirty=False)
        with sections.quick():
            build(config)
    except (MkDocsException, SystemExit) as error:
        raise NotBuilt(str(error)) from error
    return str(config.site_url or "")


def printed(value: Any) -> Any:
    """Plain texts, also within lists and mappings, as the theme's templates print them.

    Some of them escape what they print and most do not; neither changes a text that is marked as escaped.
    """
    if isinstance(value, str) and not isinstance(value, Markup):
        return Markup(text.html(value))  # noqa: S704 - it is escaped here
    if isinstance(value, dict):
        return {key: printed(each) for key, each in value.items()}
    return [printed(each) for each in value] if isinstance(value, list) else value


def unprinted(value: Any) -> Any:
    """What :func:`printed` was given, of texts and lists."""
    if isinstance(value, list):
        return [unprinted(each) for each in value]
    return html.unescape(str(value)) if isinstance(value, str) else value


def _ident(heading: str, separator: str) -> str:
    """A heading's id; none begins as those do that the theme's scripts look for."""
    made: str = slugify(heading, separator)
    return made.strip("_")


def _labelled(menu: list[dict[str, Any]], said: words.Words) -> list[dict[str, Any]]:
    """A menu with its labels as they are printed, in the words of the country; the paths stay."""
    return [{printed(said.say(label)): under if isinstance(under, str) else _labelled(under, said)}
            for line in menu for label, under in line.items()]  # fmt: skip


def _worded(links: Iterable[AnchorLink], said: words.Words) -> None:
    """A page's contents in the words of the country; its ids stay."""
    for link in links:
        link.title = said.markup(link.title)
        _worded(link.children, said)


class NoSettings(Config):  # type: ignore[no-untyped-call]  # MkDocs leaves it untyped
    """Nothing of ours is set in mkdocs.yml."""


class Bridge(BasePlugin[NoSettings]):  # type: ignore[no-untyped-call]
    """Hands a book to the site generator, and its mistakes back."""

    def __init__(self, book: Book, rendered: Rendered | None = None, memory: Memory | None = None) -> None:
        self.book = book
        self.rendered = rendered or Rendered()
        self.memory = memory or Memory()
        self.made: set[str] = set()
        self.listing = ""
        self.context = proof.context(book)
        self.apart: dict[str, str] = {}
        self.places: dict[str, menu.Line] = {}
        self.words = country.of(book)
        self.mark = country.mark(self.words)
        self.aside: dict[str, list[str]] = {}  # finished HTML of a page, while its Markdown is read

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Hang the blocks into Markdown, and what is made from data into the menu."""
        book = self.book
        # MkDocs types them as names; Python-Markdown takes the extension itself just as well.
        extensions: list[Any] = [*config.markdown_extensions, HandbookBlocks(self.context)]
        config.markdown_extensions = extensions
        config.mdx_configs.setdefault("toc", {})["slugify"] = _ident
        config.site_name = printed(book.data.company["name"])
        config.extra["handbook"] = printed(facts(book.data))
        if logo := book.data.company.get("logo"):
            config.theme["logo"] = logo
        return config

    def on_files(self, files: Files, config: MkDocsConfig) -> Files:
        """Put the operator's pages over ours, add what is made from data, and make the menu of it all."""
        book = self.book
        for place in book.written.left_out | book.written.own:
            if file := files.get_file_from_path(place):
                files.remove(file)
        for place in sorted(book.written.own):
            files.append(File(place, str(book.written.pages[place].parents[place.count("/")]), config.site_dir,
                              config.use_directory_urls))  # fmt: skip
        for picture in pictures(book):
            files.append(File(picture, str(book.folder), config.site_dir, config.use_directory_urls))
        for place, notice in licenses.texts().items():
            files.append(File.generated(config, place, content=notice))
        files.append(File.generated(config, look.PATH, content=look.css(book.data.company.get("accent", look.OURS))))
        lines = list(self.lines())
        files.append(File.generated(config, SHEETS, content=procedures.sheets(self._procedures(lines))))
        paths = [file.dest_uri for file in files if file.inclusion is not InclusionLevel.EXCLUDED]
        for made in pages.made(book, self.memory):
            if files.get_file_from_path(made.path):
                self.context.problems.append(Problem(f"pages/{made.path}", "", "The handbook makes this page from data.",
                                                     "Give yours another name."))  # fmt: skip
                continue
            self.made.add(made.path)
            paths.append(made.path.removesuffix(".md") + ".html")
            files.append(File.generated(config, made.path, content=made.source))
            if made.menu:
                lines.append(menu.Line(made.path, made.menu, made.label or made.title, made.order, made.listed))
        self.context.problems += [Problem(path, "", what, mend) for path, what, mend in keys.unfit(paths)]
        self.listing = " ".join(sorted(file.src_uri for file in files))
        self.apart = menu.apart(lines)
        self.places = {line.path: line for line in lines}
        config.nav = _labelled(menu.navigation(lines, HOME), self.words)
        return files

    def on_env(self, env: Environment, config: MkDocsConfig, files: Files) -> Environment:
        """Read the theme's templates once in a process."""
        return compiled.remember(env)

    def on_nav(self, nav: Navigation, config: MkDocsConfig, files: Files) -> Navigation:
        """A page for which the menu has no room stands in the part of the page that lists it."""
        for path, index in self.apart.items():
            page, listing = (files.get_file_from_path(each) for each in (path, index))
            if page and listing and page.page and listing.page:
                page.page.parent = listing.page.parent
        return nav

    def _procedures(self, lines: list[menu.Line]) -> Iterator[tuple[str, str]]:
        """Each procedure with what the menu calls it."""
        labels = {line.path: line.label for line in lines}
        for place, path in self.book.written.pages.items():
            if front.read(path).get("kind") == "procedure":
                yield place, self.words.say(labels.get(place, place))

    def lines(self) -> Iterator[menu.Line]:
        """The menu's lines of the pages that people wrote."""
        for place, path in self.book.written.pages.items():
            meta = front.read(path)
            if place in self.book.written.own and "menu" not in meta:
                meta |= front.read(self.book.docs / place)  # it replaces ours, and stands where ours stood
            try:
                if place != HOME:
                    yield menu.line(place, meta)
            except menu.NotALine as error:
                # Nobody would find it.
                self.context.problems.append(Problem(place, "", "No menu leads to this page.", str(error)))

    def on_page_markdown(self, markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Tell the blocks which page and line they stand in; check a procedure's parts."""
        place = page.file.src_uri
        self.context.page = self._told(place)
        self.context.first = _first_line(page)
        self.context.marks = page.file.src_uri not in self.made
        # Always with a title: without one, the theme would take the tags out of a name and print what is left.
        page.meta = {"title": page.title, **page.meta}
        if place not in self.book.written.own:
            page.meta = self._said(page.meta)
        page.meta = printed(page.meta)
        self._check_scripts(page)
        if page.meta.get("kind") == "procedure":
            page.meta["sheet"] = procedures.sheet_of(page.file.src_uri)
            for line, what, mend in procedures.check(markdown, self.context.first):
                self.context.report(line, what, mend)
        markdown = places.without(markdown, posixpath.dirname(place), self.book.written.left_out)
        alone = place in self.made and stands_alone(markdown)
        if said := self.rendered.lend(page, markdown, () if alone else (self.rendered.state, self.listing)):
            self.context.said[self.context.page] = {part: list(words) for part, words in said.items()}
        if place in self.made:
            markdown, self.aside[place] = finished.set_aside(markdown)
        return markdown

    def on_page_content(self, content: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Tell each link of a procedure in which part its page stands: paper cannot be clicked."""
        if aside := self.aside.pop(page.file.src_uri, []):
            page.present_anchor_ids = (page.present_anchor_ids or set()) | finished.idents(aside)
        content = CELLS.sub(r"\1 ", finished.put_back(content, aside))
        if page.file.src_uri not in self.book.written.own:
            content = self.words.markup(content)
            _worded(page.toc, self.words)
        if page.meta.get("kind") != "procedure":
            return content
        parts = {file.url: html.unescape(file.page.parent.title) for file in files if file.page and file.page.parent}
        return places.mark(content, posixpath.dirname(page.url), parts)

    def _told(self, place: str) -> str:
        """What mistakes of a page call it."""
        return f"pages/{place}" if place in self.book.written.own else place

    def _said(self, meta: Mapping[str, Any]) -> dict[str, Any]:
        """A page's front matter in the words of the country; what is kept of a page hangs on them."""
        return {**meta, "words": self.mark,
                **{key: self.words.say(str(meta[key])) for key in ("title", "summary") if key in meta}}  # fmt: skip

    def _check_scripts(self, page: Page) -> None:
        """A page asks for scripts of ours by name, and for no other file."""
        ours = sorted(path.name for path in (self.book.docs / "assets" / "js").glob("*.js"))
        for name in page.meta.get("scripts") or ():
            if name not in ours:
                self.context.report(1, f"There is no script “{name}”.", nearest(str(name), ours))

    def on_page_context(self, context: Any, page: Page, config: MkDocsConfig, nav: Navigation) -> Any:
        """Keep what was read of a page, now that the search has read it too."""
        entries = config.plugins[SEARCH].search_index.entries  # type: ignore[attr-defined]
        self.rendered.keep(page, entries, self.context.said.get(self._told(page.file.src_uri)))
        self._found(page, entries)
        return context

    def _found(self, page: Page, entries: list[dict[str, Any]]) -> None:
        """Tell the search what people say who look for the page. A page in place of ours is looked for as ours was."""
        place = page.file.src_uri
        own = place in self.book.written.own
        written = self.book.written.pages.get(place)
        meta = front.read(written) if written else {key: unprinted(value) for key, value in page.meta.items()}
        if own and "said" not in meta and (self.book.docs / place).is_file():
            meta["said"] = front.read(self.book.docs / place).get("said", [])
        if isinstance(said := meta.get("said"), list):
            meta["said"] = [*said, *(told for each in said if (told := self.words.say(str(each))) != each)]
        line = self.places.get(place)
        rank = found.rank(meta, line.headings if line else (), bool(line and line.listed))
        try:
            found.told(entries, page.url, meta, rank, self.context.said.get(self._told(place), {}))
        except front.NoFront as error:
            self.context.problems.append(Problem(place, "", str(error), "Write it so, or take the line out."))

    def on_post_build(self, config: MkDocsConfig) -> None:
        """Stop the build with every mistake at once."""
        if self.context.problems:
            raise Abort(str(Problems(self.context.problems)))


def _first_line(page: Page) -> int:
    # MkDocs hands over the page without its front matter; mistakes are told by file line.
    source = page.file.content_string
    match = re.match(r"---\s*\n.*?\n---\s*\n+", source, re.DOTALL)
    return source[: match.end()].count("\n") + 1 if match else 1
