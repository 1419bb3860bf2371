"""Writes the drawings; names after the command limit it to those."""

from __future__ import annotations

import sys
from pathlib import Path

from .scenes import SCENES

FOLDER = Path(__file__).parents[2] / "docs" / "assets" / "drawings"


def main(names: list[str]) -> None:
    """Write the named drawings, or all."""
    for name in names or list(SCENES):
        (FOLDER / f"{name}.svg").write_text(SCENES[name]().svg(), encoding="utf-8")
    print(f"{len(names or SCENES)} drawings")


if __name__ == "__main__":
    main(sys.argv[1:])
