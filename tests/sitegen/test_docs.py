"""The handbook's own pages: whole, linked to what they cite, and drawn from definitions."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import calculators
from tools.sitegen.blocks.steps import SIGNALS
from tools.sitegen.blocks.tree import Node, read

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
DRAWINGS = sorted((DOCS / "assets" / "drawings").glob("*.svg"))


def tree(path: Path) -> Node:
    found: list[str] = []
    node = read(path.read_text(encoding="utf-8").splitlines(), 1, lambda *told: found.append(str(told)))
    assert not found
    return node


def blocks(node: Node, name: str) -> list[Node]:
    inner = [each for child in node.children() for each in blocks(child, name)]
    return [child for child in node.children() if child.name == name] + inner


@pytest.mark.parametrize("name", calculators.NAMES)
def test_every_calculator_has_its_page(name: str) -> None:
    """The calculator itself, everything it takes and gives, and a sheet for paper."""
    page = tree(DOCS / "calculators" / f"{name}.md")
    for block in ("calculator", "reference", "worksheet"):
        assert [node.argument for node in blocks(page, block)] == [name]
    assert any(blocks(page, signal) for signal in SIGNALS), "no caution before the answer"


@pytest.mark.parametrize("path", DRAWINGS, ids=[path.stem for path in DRAWINGS])
def test_a_drawing_can_be_heard_and_takes_the_page_s_colours(path: Path) -> None:
    """A title, a description, no colour and no style of its own, text that can be read."""
    svg = path.read_text(encoding="utf-8")
    assert re.search(r"<title[^>]*>[^<]{4,}</title>", svg)
    assert re.search(r"<desc[^>]*>[^<]{12,}</desc>", svg)
    assert "currentColor" in svg
    assert not re.search(r"\sstyle=|<style|<script|#[0-9a-fA-F]{3,6}\b(?![^\"]*\))", svg.replace("url(#", "url("))
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)', svg)]
    assert min(sizes, default=13) >= 13


def test_every_drawing_is_used_and_no_two_are_alike() -> None:
    """A drawing nobody sees is no drawing."""
    pages = "\n".join(path.read_text(encoding="utf-8") for path in DOCS.rglob("*.md"))
    assert [path.stem for path in DRAWINGS if f"::: figure {path.stem}" not in pages] == []
    assert len({path.read_bytes() for path in DRAWINGS}) == len(DRAWINGS)


def test_the_readme_names_only_commands_that_exist() -> None:
    """A command in the README is a command of the tool."""
    from tools.handbook import COMMANDS

    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"tools/handbook\.py (\w+)", readme))
    assert named <= set(COMMANDS)
    assert {"build", "test"} <= named
