"""Where one operator's handbook is made: their folder, the finished site, and room to work in."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path

from . import house
from .house import ROOT
from .progress import Trouble

DOCS = ROOT / "docs"
# The demonstration operator, whose handbook is made where no folder is named.
DEMONSTRATION = DOCS / "data"
SETTINGS = "handbook.toml"
SITE = "site"


@dataclass(frozen=True)
class Place:
    """``folder`` is the operator's and is only read; ``site`` and ``work`` lie on one disk, to be exchanged."""

    folder: Path
    site: Path
    work: Path

    @property
    def stamp(self) -> Path:
        """What the site was made from."""
        return self.work / "built-from"


def add_argument(parser: argparse.ArgumentParser) -> None:
    """Whose folder a command works on."""
    parser.add_argument("folder", nargs="?", type=Path, metavar="DIR", help=house.HERE.folder)


def of(folder: Path | None) -> Place:
    """The place of a folder, of the usual one where none is named; Trouble where it is no operator's."""
    if folder is None:
        return house.HERE.usual()
    found = folder.resolve()
    if not (found / SETTINGS).is_file():
        raise Trouble(f"{folder} is not the folder of a handbook: it holds no {SETTINGS}.\n"
                      f"To start one there: {house.HERE.command} new {folder}")  # fmt: skip
    return Place(found, found / SITE, found / ".handbook")
