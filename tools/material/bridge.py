"""The one place that knows MkDocs: its events, handed on to plain functions."""

from __future__ import annotations

import logging
import posixpath
import re
from pathlib import Path
from typing import Any

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, MkDocsException
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.utils.meta import get_data

from tools import pages
from tools.blocks import HandbookBlocks
from tools.blocks.context import Context
from tools.book.book import Book
from tools.book.facts import facts
from tools.pages import menu, places, procedures
from tools.problems import Problem, Problems
from tools.results import sites

HOME = "index.md"


class NotBuilt(Exception):
    """The pages could not be written; the text says every mistake."""


def write_pages(book: Book, settings: Path, site: Path) -> None:
    """Write a book's pages into ``site``; raises :class:`NotBuilt`, the generator's warnings included."""
    logging.basicConfig(level=logging.WARNING, format="%(message)s")
    try:
        config = load_config(str(settings), site_dir=str(site), strict=True)
        config.plugins["handbook"] = Bridge(book)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
    except (MkDocsException, SystemExit) as error:
        raise NotBuilt(str(error)) from error


class NoSettings(Config):  # type: ignore[no-untyped-call]  # MkDocs leaves it untyped
    """Nothing of ours is set in mkdocs.yml."""


class Bridge(BasePlugin[NoSettings]):  # type: ignore[no-untyped-call]
    """Hands a book to the site generator, and its mistakes back."""

    def __init__(self, book: Book) -> None:
        self.book = book
        data = book.data
        self.context = Context(data.rules, data, book.docs / "assets" / "drawings", book.build_id,
                               lambda: sites.site_rows(data))  # fmt: skip

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Hang the blocks into Markdown, and what is made from data into the menu."""
        book = self.book
        # MkDocs types them as names; Python-Markdown takes the extension itself just as well.
        extensions: list[Any] = [*config.markdown_extensions, HandbookBlocks(self.context)]
        config.markdown_extensions = extensions
        config.site_name = book.data.company["name"]
        config.extra["handbook"] = facts(book.data)
        return config

    def on_files(self, files: Files, config: MkDocsConfig) -> Files:
        """Add the pages that are made from data, and make the menu of what each page says of itself."""
        lines = []
        for file in files.documentation_pages():
            meta = get_data(file.content_string)[1]
            try:
                if file.src_uri != HOME:
                    lines.append(menu.line(file.src_uri, meta))
            except menu.NotALine as error:
                # Nobody would find it.
                self.context.problems.append(Problem(file.src_uri, "", "No menu leads to this page.", str(error)))
        for made in pages.made(self.book):
            files.append(File.generated(config, made.path, content=made.source))
            if made.menu:
                lines.append(menu.Line(made.path, made.menu, made.label or made.title, made.order))
        config.nav = menu.navigation(lines, HOME)
        return files

    def on_page_markdown(self, markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Tell the blocks which page and line they stand in; check a procedure's parts."""
        self.context.page = page.file.src_uri
        self.context.first = _first_line(page)
        if page.meta.get("kind") == "procedure":
            for line, what, mend in procedures.check(markdown, self.context.first):
                self.context.report(line, what, mend)
        return markdown

    def on_page_content(self, html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Tell each link of a procedure in which part its page stands: paper cannot be clicked."""
        if page.meta.get("kind") != "procedure":
            return html
        parts = {file.url: file.page.parent.title for file in files if file.page and file.page.parent}
        return places.mark(html, posixpath.dirname(page.url), parts)

    def on_post_build(self, config: MkDocsConfig) -> None:
        """Stop the build with every mistake at once."""
        if self.context.problems:
            raise Abort(str(Problems(self.context.problems)))


def _first_line(page: Page) -> int:
    # MkDocs hands over the page without its front matter; mistakes are told by file line.
    source = page.file.content_string
    match = re.match(r"---\s*\n.*?\n---\s*\n+", source, re.DOTALL)
    return source[: match.end()].count("\n") + 1 if match else 1
