"""The words of the operator's country, for whatever of ours a reader sees; their own words stay as they are."""

from __future__ import annotations

import hashlib
import re

from calculators.core import words
from calculators.core.words import Words

from . import front, text
from .book import Book


def of(book: Book) -> Words:
    """The words of a book's rule set; no cell and no setting of its operator is changed."""
    typed = [cell for rows in book.data.tables.values() for row in rows for cell in row.typed.values()]
    typed += [value for value in book.data.company.values() if isinstance(value, str)]
    return words.of(book.data.rules.name, [*typed, *map(text.markdown, typed)])


def mark(said: Words) -> str:
    """What tells these words from any others, for what is kept of a finished text."""
    return hashlib.sha256(repr(sorted(said.said.items())).encode()).hexdigest()


# What is no sentence in a page's source: blocks' first lines, marks, where a link leads, code.
_SIGNS = re.compile(r"(^[ ]{0,3}:::.*$|\{\{.*?\}\}|\]\([^)]*\)|`[^`]*`)", re.MULTILINE)
_TOLD = re.compile(r"^(?:title|summary): .*$", re.MULTILINE)


def source(page: str, rules: str) -> str:
    """A page of ours as its operator would have written it: in the words of the rule set."""
    said = words.of(rules)
    begins = front.BETWEEN.match(page)
    head, body = (page[: begins.end()], page[begins.end() :]) if begins else ("", page)
    told = [part if number % 2 else said.say(part) for number, part in enumerate(_SIGNS.split(body))]
    return _TOLD.sub(lambda found: said.say(found[0]), head) + "".join(told)
