"""A cell that cannot be used, with how to mend it."""

from __future__ import annotations


class BadCell(ValueError):
    """``what`` is wrong with a cell, and the ``mend``, as two sentences."""

    def __init__(self, what: str, mend: str = "") -> None:
        super().__init__(what)
        self.mend = mend
