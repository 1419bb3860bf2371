"""Where things lie in an operator's folder."""

from __future__ import annotations

from pathlib import Path


def place(folder: Path, file: str) -> Path:
    """A file as mistakes name it: a table's name alone, the settings beside the tables' folder."""
    return folder / "tables" / file if file.endswith((".csv", ".xlsx")) else folder / file
