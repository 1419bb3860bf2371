"""Pages that are made from data: site sheets, machine cards, rules and sources."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, cast

from tools.book.book import Book
from tools.memory import Memory

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


# What of a book stays the same for as long as a memory does.
STEADY = {"data", "build_id"}


def made(book: Book, memory: Memory | None = None) -> list[Page]:
    """Every page that is made from data; ``memory`` holds those that an earlier build of the same data made."""
    return [page for kind in KINDS for page in _of(kind, book, memory or Memory())]


def _of(kind: Callable[[Book], Iterable[Page]], book: Book, memory: Memory) -> Iterable[Page]:
    """A kind's pages, remembered where they rest on the data alone: not on what people wrote, nor on the packs."""
    if (held := memory.get(kind.__module__)) is not None:
        return cast("tuple[Page, ...]", held)
    watched = _Watched(book)
    found = tuple(kind(cast(Book, watched)))
    return memory.put(kind.__module__, found) if watched.asked <= STEADY else found


class _Watched:
    """A book that knows what it was asked for."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self.asked: set[str] = set()

    def __getattr__(self, name: str) -> Any:
        self.asked.add(name)
        return getattr(self._book, name)
