"""Where this house stands: in a clone, or installed as a package. Nothing else asks.

A clone makes its own environment, packs Python for the browser itself and has the demonstration at hand. An
installed house finds its packages where pip put them and Python packed beside it; it knows no operator's folder
but the one that is named, and writes nowhere else.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from .progress import Trouble

if TYPE_CHECKING:
    from .place import Place

ROOT = Path(__file__).resolve().parents[2]
# The packed Python that the command `package` puts into an installed house, and the build that it is of.
PACKED = ROOT / "packed"
BUILD_ID = "build_id.txt"

Say = Callable[[str], None]


@dataclass(frozen=True)
class Python:
    """The browser's Python: ``build_id`` names it, ``put`` fills a folder of the site with it."""

    build_id: str
    put: Callable[[Path], object]


class Clone:
    """A checkout of the sources."""

    command = "python3 tools/handbook.py"
    folder = "an operator's folder (without one: the demonstration)"

    def enter(self, layers: Sequence[str], argv: Sequence[str]) -> None:
        """Go on inside `.venv/`, made here with these layers."""
        # Not imported for `calc`, which has to start at once.
        from . import environment

        environment.enter(layers, argv)

    def usual(self) -> Place:
        """The demonstration, where no folder is named."""
        from . import place

        return place.Place(place.DEMONSTRATION, ROOT / "site", ROOT / ".cache")

    def python(self, say: Say) -> Python:
        """Packed here, from the locked packages and the calculators as they are now."""
        from . import packing

        return packing.python(say)


class Installed:
    """A package among others: its own folder is only read."""

    command = "handbook"
    folder = "the folder of your handbook"

    def enter(self, layers: Sequence[str], argv: Sequence[str]) -> None:
        """Stay: pip installed what a command needs."""

    def usual(self) -> Place:
        """There is no folder but the operator's own."""
        raise Trouble(f"The folder of your handbook is missing: write it after the command, as in\n"
                      f"  {self.command} build our-handbook\n"
                      f"To start one there: {self.command} new our-handbook")  # fmt: skip

    def python(self, say: Say) -> Python:
        """As it came with the package."""
        return Python((PACKED / BUILD_ID).read_text(encoding="utf-8"), copied)


def copied(folder: Path) -> None:
    """Put the packed Python into a folder of the site."""
    folder.mkdir(parents=True, exist_ok=True)
    for script in PACKED.glob("*.js"):
        shutil.copyfile(script, folder / script.name)


HERE = Installed() if PACKED.is_dir() else Clone()
