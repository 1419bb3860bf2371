"""A new operator's handbook in each rule set, as its reader reads it: our pages and those made from the starter's data.

The pages go through the blocks and the country's words as in a build, without the site generator: a build of five
handbooks would take minutes.
"""

from __future__ import annotations

import argparse
import contextlib
import dataclasses
import functools
import html
import io
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path

from markdown import Markdown

from calculators.core import rules
from calculators.core.words import Words
from tools.blocks import HandbookBlocks
from tools.blocks.context import Context
from tools.book import book, country, front
from tools.commands import new
from tools.pages import made, proof

DOCS = Path(__file__).parents[2] / "docs"
UNSEEN = re.compile(r"<(script|style|code)\b.*?</\1>", re.DOTALL)
# Calculators are asked in their own tests, and their pages take as long as all others together.
LEFT = ("calculators/",)
# Where the sources of figures are told, whatever country they are from.
SOURCES = ("reference/rules.md", "reference/tables.md", "reference/licenses.md")


def pages(name: str) -> dict[str, str]:
    """What a reader sees of each page of the set's handbook, by its place."""
    return {place: _seen(page) for place, (page, _) in drawn(name).items()}


@functools.cache
def drawn(name: str) -> dict[str, tuple[str, str]]:
    """Each page of the set's handbook as HTML, by its place, and of one that is made from data what is told beside its body."""
    with tempfile.TemporaryDirectory() as work, contextlib.redirect_stdout(io.StringIO()):
        folder = Path(work) / "ours"
        new.main(argparse.Namespace(folder=folder, name="Tern Vending", rules=name, units=None))
        ours = book.read(folder, DOCS)
        asked, said = proof.context(ours), country.of(ours)
        fronts = {page.path: repr(dataclasses.replace(page, body="")) for page in made(ours)}
        read = {place: (_read(text, place, asked, said), fronts.get(place, "")) for place, text in _sources(ours, asked)}
    assert asked.problems == []
    return read


def everywhere() -> tuple[str, ...]:
    """The sets, one after the other."""
    return tuple(rules.RULE_SETS)


def _sources(ours: book.Book, asked: Context) -> Iterator[tuple[str, str]]:
    for place, path in ours.written.pages.items():
        if not place.startswith(LEFT):
            yield place, path.read_text(encoding="utf-8")
    asked.marks = False
    yield from ((page.path, page.source) for page in made(ours) if not page.path.startswith(LEFT))


def _read(source: str, place: str, asked: Context, said: Words) -> str:
    begins = front.BETWEEN.match(source)
    asked.page = place
    read = Markdown(extensions=[*proof.EXTENSIONS, HandbookBlocks(asked)]).convert(source[begins.end() :] if begins else source)
    return said.markup(read)


@functools.lru_cache(maxsize=512)
def _seen(page: str) -> str:
    bare = re.sub(r"<[^>]*>", " ", UNSEEN.sub(" ", page))
    return " ".join(html.unescape(bare).split())
