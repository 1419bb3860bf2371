"""The page that names whose work the handbook contains."""

from __future__ import annotations

from collections.abc import Iterator

from tools.book import text
from tools.book.book import Book
from tools.licenses import FOLDER, Notice, notices

from .page import Page

PATH = "reference/licenses.md"
HEAD = f"""This handbook contains the work of others. They allow it, and ask that the text of the license goes along.
The texts lie in the folder `{FOLDER}` of the handbook."""


def pages(book: Book) -> Iterator[Page]:
    """The page stands in the menu; nobody who searches for a job should find it."""
    body = "\n".join([HEAD, "", *map(line, notices())])
    yield Page(PATH, "Licenses", body, ("Look up",), order=90, meta={"search": {"exclude": True}})


def line(each: Notice) -> str:
    """A work with its license, where its source is, and what was changed."""
    name = text.markdown(f"{each.name} {each.version}".strip())
    told = f"- **{name}**: [{text.markdown(each.license)}](../{FOLDER}/{each.key}.txt). Source: {text.markdown(each.source)}"
    return f"{told}. {text.markdown(each.note)}".rstrip()
