"""Whose work a built handbook contains, under which license, and the texts of these."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

HERE = Path(__file__).parent
# Where the texts lie in the built folder.
FOLDER = "licenses"


@dataclass(frozen=True)
class Notice:
    """One work: ``license`` as an SPDX expression, ``files`` as patterns of paths in the built folder."""

    key: str
    name: str
    license: str
    source: str
    files: tuple[str, ...]
    version: str = ""
    note: str = ""

    @property
    def text(self) -> str:
        """The whole text of the license, with whose it is."""
        return (HERE / "texts" / f"{self.key}.txt").read_text(encoding="utf-8")


@cache
def notices() -> tuple[Notice, ...]:
    """All of them, ours first."""
    told = tomllib.loads((HERE / "notices.toml").read_text(encoding="utf-8"))
    groups = told.pop("groups")
    return tuple(
        Notice(key, **{**each, "files": tuple(path for name in each["files"] for path in groups[name])})
        for key, each in told.items()
    )


def texts() -> dict[str, str]:
    """Every text by its path in the built folder."""
    return {f"{FOLDER}/{each.key}.txt": each.text for each in notices()}
