"""Reads the operator's own pages as a build will, and tells their mistakes without one."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator

from markdown import Markdown

import calculators
from tools.blocks import HandbookBlocks
from tools.blocks.context import Context
from tools.book import front
from tools.book.answers import Question
from tools.book.book import Book
from tools.book.folder import drawings, pictures
from tools.problems import Problem, nearest
from tools.results import sites

from . import made, procedures

EXTENSIONS = ("attr_list", "def_list", "footnotes", "md_in_html", "tables")
LINK = re.compile(r"\]\(([^)\s#:]+)(?:#[^)\s]*)?(?:\s[^)]*)?\)")


def context(book: Book) -> Context:
    """What the blocks may ask of a book."""
    data = book.data
    return Context(data.rules, data, drawings(book), book.build_id, lambda: sites.site_rows(data),
                   lambda name, request: data.answers.ask(Question(calculators.run, name, request)))  # fmt: skip


def check(book: Book) -> list[Problem]:
    """Every mistake in the operator's own pages: blocks, parts of a procedure, links."""
    asked = context(book)
    if not book.written.own:
        return []
    places = {*book.written.pages, *pictures(book), *(page.path for page in made(book))}
    for place in sorted(book.written.own):
        _read(book, place, asked)
        asked.problems += _links(book, place, places)
    return asked.problems


def _read(book: Book, place: str, asked: Context) -> None:
    path = book.written.pages[place]
    text = path.read_text(encoding="utf-8-sig")
    begins = front.BETWEEN.match(text)
    body = text[begins.end() :] if begins else text
    asked.page, asked.first = f"pages/{place}", text.count("\n", 0, begins.end() if begins else 0) + 1
    if front.read(path).get("kind") == "procedure":
        for line, what, mend in procedures.check(body, asked.first):
            asked.report(line, what, mend)
    Markdown(extensions=[*EXTENSIONS, HandbookBlocks(asked)]).convert(body)


def _links(book: Book, place: str, places: set[str]) -> Iterator[Problem]:
    """Links that lead nowhere."""
    for number, line in enumerate(book.written.pages[place].read_text(encoding="utf-8-sig").splitlines(), 1):
        for link in LINK.findall(line):
            target = posixpath.normpath(posixpath.join(posixpath.dirname(place), link))
            if target.endswith(".md") and target not in places | book.written.left_out:
                yield Problem(f"pages/{place}", f"line {number}", f"The link {link} leads nowhere.",
                              nearest(target, [each for each in places if each.endswith(".md")]))  # fmt: skip
