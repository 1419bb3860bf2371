"""Pages that are made from data: site sheets, machine cards, rules and sources."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tools.book.book import Book

from . import (
    cards,
    chart,
    datafiles,
    drills,
    fitbook,
    learn,
    licenses,
    machinecard,
    papers,
    rulebook,
    sheet,
    visits,
)
from .page import Page

# Each kind of page: what it makes of a book. Their order is that of the menu within a heading.
KINDS: tuple[Callable[[Book], Iterable[Page]], ...] = (
    sheet.pages, papers.pages, visits.pages, cards.pages, machinecard.pages, chart.pages, fitbook.pages, rulebook.pages, datafiles.pages, learn.pages, drills.pages,
    licenses.pages,
)  # fmt: skip


def made(book: Book) -> list[Page]:
    """Every page that is made from data."""
    return [page for kind in KINDS for page in kind(book)]
