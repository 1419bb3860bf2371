"""What is wrong with the handbook's sources: file, line or row, and how to mend it."""

from __future__ import annotations

import difflib
from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One mistake. ``place`` is "line 12", or "row 3, column price" in a table."""

    file: str
    place: str
    what: str
    mend: str

    def __str__(self) -> str:
        where = f"{self.file}, {self.place}" if self.place else self.file
        return _printable(f"{where}: {self.what} {self.mend}".strip())


def _printable(text: str) -> str:
    """A text that may quote anything, as any screen can show it."""
    return "".join(sign if sign.isprintable() else " " if sign.isspace() else "\ufffd" for sign in text)


class Problems(Exception):
    """Every mistake found, all at once; raised when the reading is over."""

    def __init__(self, found: list[Problem]) -> None:
        self.found = found
        count = "1 mistake" if len(found) == 1 else f"{len(found)} mistakes"
        listed = "\n".join(f"  {problem}" for problem in found)
        super().__init__(f"The handbook was not built: {count}.\n{listed}")


def nearest(word: str, known: list[str]) -> str:
    """A mend that names the closest known words."""
    close = difflib.get_close_matches(word, known, 3, 0.5) or sorted(known)[:8]
    return f"Perhaps: {', '.join(close)}." if close else ""
