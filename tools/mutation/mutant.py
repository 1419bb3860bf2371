"""A place where a fault can be put, and the fault itself."""

from __future__ import annotations

import difflib
from dataclasses import dataclass


@dataclass(frozen=True)
class Site:
    """A place: file, operator, the how-manieth of its kind in the file, and its line and column.

    ``owner`` gathers places that count as one when the sample is drawn.
    """

    path: str
    operator: str
    occurrence: int
    line: int
    column: int
    owner: str = ""


@dataclass(frozen=True)
class Mutant:
    """A fault: the text of the file with it, and without."""

    site: Site
    group: str
    old: str
    new: str

    @property
    def changed(self) -> tuple[str, str]:
        """The changed lines before and after, without their indentation."""
        before, after = [], []
        for line in difflib.ndiff(self.old.splitlines(), self.new.splitlines()):
            if line.startswith("- "):
                before.append(line[2:].strip())
            elif line.startswith("+ "):
                after.append(line[2:].strip())
        return " ".join(before), " ".join(after)

    def diff(self) -> str:
        """The change as a person reads it."""
        lines = difflib.unified_diff(self.old.splitlines(), self.new.splitlines(),
                                     self.site.path, f"{self.site.path} ({self.site.operator})",
                                     n=2, lineterm="")  # fmt: skip
        return "\n".join(lines)
