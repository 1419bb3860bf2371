"""Who imports whom: the arrows of DEVELOPERS.md, read from the sources."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
# What each part may import beside itself; `problems`, `colours`, `sealed` and `memory` are everybody's.
ALLOWED = {
    "calculators": set(),
    "tools.book": {"calculators"},
    "tools.results": {"calculators", "tools.book"},
    "tools.print": {"calculators", "tools.book", "tools.results"},
    "tools.blocks": {"calculators", "tools.book", "tools.results"},
    "tools.pages": {"calculators", "tools.book", "tools.results", "tools.blocks", "tools.print", "tools.licenses"},
    "tools.material": {"calculators", "tools.book", "tools.results", "tools.blocks", "tools.print", "tools.pages",
                       "tools.licenses"},
    "tools.licenses": set(),
    "tools.post": set(),
    "tools.editions": {"tools.post", "tools.runtime", "tools.licenses"},
    "tools.runtime": {"calculators"},
    "tools.drawings": set(),
}  # fmt: skip
GENERATOR = ("mkdocs", "material")


def imported(path: Path) -> Iterator[str]:
    """Every module that a file imports, by its full name."""
    package = path.relative_to(ROOT).with_suffix("").parts[:-1]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (each.name for each in node.names)
        elif isinstance(node, ast.ImportFrom):
            stem = [*package[: len(package) - node.level + 1]] if node.level else []
            whole = ".".join([*stem, *([node.module] if node.module else [])])
            yield from (f"{whole}.{each.name}" for each in node.names)


def part_of(module: str) -> str:
    """The part of the house that a module stands in, "" where it is none of ours."""
    first, *rest = module.split(".")
    if first == "tools" and rest and rest[0] not in ("problems", "colours", "sealed", "memory"):
        return f"tools.{rest[0]}"
    return "calculators" if first == "calculators" else ""


@pytest.mark.parametrize("part", ALLOWED)
def test_a_part_imports_only_what_it_may(part: str) -> None:
    """No arrow but those drawn."""
    for path in sorted((ROOT / part.replace(".", "/")).rglob("*.py")):
        others = {part_of(module) for module in imported(path)} - {part, ""}
        assert others <= ALLOWED[part], f"{path.relative_to(ROOT)} imports {others - ALLOWED[part]}"


def test_every_part_is_drawn() -> None:
    """A new folder of tools finds its place in the drawing, or is a command's own."""
    folders = {f"tools.{path.parent.name}" for path in (ROOT / "tools").glob("*/__init__.py")}
    assert folders - set(ALLOWED) == {"tools.commands", "tools.mutation", "tools.fuzzing", "tools.starter"}


def test_only_the_bridge_knows_the_site_generator() -> None:
    """The room to move to another one: its names are imported in one folder."""
    for path in sorted((ROOT / "tools").rglob("*.py")):
        if path.is_relative_to(ROOT / "tools" / "material"):
            continue
        assert not {module.split(".")[0] for module in imported(path)} & set(GENERATOR), path


def test_only_the_bridge_names_the_site_generator() -> None:
    """Its name stands in its own folder, its settings and the works that the licenses list, and nowhere else.

    The folder bears the theme's name, and may be named.
    """
    named = re.compile(r"mkdocs(?!\.yml)|\bmaterial\b", re.IGNORECASE)
    for path in sorted((ROOT / "tools").rglob("*")):
        part = path.relative_to(ROOT / "tools").parts[0]
        if path.suffix in (".py", ".js", ".typ") and part not in ("material", "licenses"):
            text = path.read_text(encoding="utf-8").replace("tools.material", "").replace('"material"', "")
            assert not named.search(text), f"{path.relative_to(ROOT)}: {named.search(text)}"
