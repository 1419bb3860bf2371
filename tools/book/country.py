"""The words of the operator's country, for whatever of ours a reader sees; their own words stay as they are."""

from __future__ import annotations

import hashlib

from calculators.core import words
from calculators.core.words import Words

from . import text
from .book import Book


def of(book: Book) -> Words:
    """The words of a book's rule set; no cell and no setting of its operator is changed."""
    typed = [cell for rows in book.data.tables.values() for row in rows for cell in row.typed.values()]
    typed += [value for value in book.data.company.values() if isinstance(value, str)]
    return words.of(book.data.rules.name, [*typed, *map(text.markdown, typed)])


def mark(said: Words) -> str:
    """What tells these words from any others, for what is kept of a finished text."""
    return hashlib.sha256(repr(sorted(said.said.items())).encode()).hexdigest()
