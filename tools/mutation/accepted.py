"""Survivors that are explained, each with a reason, in `tests/mutants.toml`."""

from __future__ import annotations

import tomllib
from pathlib import Path

from .mutant import Mutant

Known = dict[tuple[str, str, str], str]


def read(path: Path) -> Known:
    """File, line before and line after, with the reason; ValueError where one has no reason."""
    found: Known = {}
    entries = tomllib.loads(path.read_text(encoding="utf-8")).get("accepted", [])
    for entry in entries:
        if not entry.get("why"):
            raise ValueError(f"{path.name}: {entry.get('path')}: {entry.get('before')}: no reason is given")
        found[entry["path"], entry["before"], entry["after"]] = entry["why"]
    return found


def why(known: Known, mutant: Mutant) -> str:
    """The reason of a survivor, "" where none is given."""
    return known.get((mutant.site.path, *mutant.changed), "")


def entry(mutant: Mutant) -> str:
    """A survivor as an entry of the file, its reason to be written."""
    before, after = mutant.changed
    return (f"[[accepted]]\npath = {_quoted(mutant.site.path)}\nbefore = {_quoted(before)}\n"
            f"after = {_quoted(after)}\nwhy = \"\"\n")  # fmt: skip


def _quoted(text: str) -> str:
    if "'" not in text:
        return f"'{text}'"
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
