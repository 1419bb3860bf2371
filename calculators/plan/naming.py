"""What the rows of the form are called, and which row bears a name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


def name_of(rows: Sequence[Any], number: int, noun: str) -> str:
    """What a row is called."""
    return rows[number].name or f"{noun} {number + 1}"


def find(rows: Sequence[Any], name: str | None) -> int | None:
    """The row of that name, in whatever case."""
    wanted = (name or "").strip().casefold()
    return next((number for number, row in enumerate(rows)
                 if wanted and (row.name or "").strip().casefold() == wanted), None)  # fmt: skip
