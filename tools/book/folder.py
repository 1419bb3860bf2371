"""What an operator's folder holds beside tables, rules and pages: drawings and pictures of their own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from .book import Book

PICTURES, DRAWINGS = "pictures", "drawings"


def drawings(book: Book) -> tuple[Path, ...]:
    """The folders of drawings; an operator's own stands over ours of the same name."""
    ours = book.docs / "assets" / "drawings"
    return (ours, book.folder / DRAWINGS) if book.folder else (ours,)


def pictures(book: Book) -> Iterator[str]:
    """The operator's pictures, as their place in the folder and in the site."""
    folder = book.folder or book.docs
    for path in sorted((folder / PICTURES).rglob("*")):
        if path.is_file() and not path.name.startswith("."):
            yield path.relative_to(folder).as_posix()
