"""The handbook's own pages: whole, linked to what they cite, and drawn from definitions."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import calculators
from tools.sitegen import procedures
from tools.sitegen.blocks.steps import SIGNALS
from tools.sitegen.blocks.tree import Node, read

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PROCEDURES = sorted((DOCS / "procedures").glob("*.md"))
DRAWINGS = sorted((DOCS / "assets" / "drawings").glob("*.svg"))
MOST_WORDS = 20
# Words that leave the reader to guess what is to be done.
VAGUE = ("ensure", "make sure", "properly", "appropriate", "as required", "if necessary", "as needed")


def tree(path: Path) -> Node:
    found: list[str] = []
    node = read(path.read_text(encoding="utf-8").splitlines(), 1, lambda *told: found.append(str(told)))
    assert not found
    return node


def blocks(node: Node, name: str) -> list[Node]:
    inner = [each for child in node.children() for each in blocks(child, name)]
    return [child for child in node.children() if child.name == name] + inner


def steps(path: Path) -> list[str]:
    return [
        match.group(1)
        for block in blocks(tree(path), "steps")
        for _, text in block.lines()
        if (match := re.match(r"^\d+\.\s+(.*)$", text))
    ]


@pytest.mark.parametrize("name", calculators.NAMES)
def test_every_calculator_has_its_page(name: str) -> None:
    """The calculator itself, everything it takes and gives, and a sheet for paper."""
    page = tree(DOCS / "calculators" / f"{name}.md")
    for block in ("calculator", "reference", "worksheet"):
        assert [node.argument for node in blocks(page, block)] == [name]
    assert any(blocks(page, signal) for signal in SIGNALS), "no caution before the answer"


@pytest.mark.parametrize("path", PROCEDURES, ids=[path.stem for path in PROCEDURES])
def test_a_procedure_is_complete(path: Path) -> None:
    """All parts in order, drawings, a record to fill in, a sign-off."""
    text = path.read_text(encoding="utf-8")
    assert "kind: procedure" in text
    assert procedures.check(text, 1) == []
    page = tree(path)
    for block in ("steps", "figure", "record", "signoff"):
        assert blocks(page, block), f"no {block}"
    assert any(blocks(page, signal) for signal in SIGNALS)


@pytest.mark.parametrize("path", PROCEDURES, ids=[path.stem for path in PROCEDURES])
def test_a_step_is_short_and_plain(path: Path) -> None:
    """At most twenty words, no vague order, beginning with a verb and not with “you”."""
    listed = steps(path)
    assert len(listed) >= 5
    for step in listed:
        words = re.sub(r"\{\{.*?\}\}", "N", step).split()
        assert len(words) <= MOST_WORDS, step
        assert not any(vague in step.lower() for vague in VAGUE), step
        assert words[0].lower() not in {"you", "the", "it", "there"}, step


def test_numbers_with_units_in_procedures_come_from_rules_or_data() -> None:
    """A number that could drift is never typed into prose."""
    unit = r"(?:in|inch|inches|ft|feet|mm|cm|m|kg|lb|lbs|°F|°C|V|A|amps|volts|minutes|hours|days)\b"
    for path in PROCEDURES:
        body = path.read_text(encoding="utf-8").split("---", 2)[2]
        for line in body.splitlines():
            plain = re.sub(r"\{\{.*?\}\}", "", line)
            assert not re.search(rf"\b\d+(?:[./]\d+)?\s*{unit}", plain), f"{path.stem}: {line}"


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


def test_a_drawing_s_callouts_are_steps_of_its_page() -> None:
    """What a caption cites as (7) is step 7 of that procedure."""
    for path in PROCEDURES:
        count = len(steps(path))
        for block in blocks(tree(path), "figure"):
            cited = [int(number) for _, text in block.lines() for number in re.findall(r"\((\d+)\)", text)]
            assert cited, f"{path.stem}: no step cites {block.argument}"
            assert all(1 <= number <= count for number in cited)


def test_the_readme_names_only_commands_that_exist() -> None:
    """A command in the README is a command of the tool."""
    from tools.handbook import COMMANDS

    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"tools/handbook\.py (\w+)", readme))
    assert named <= set(COMMANDS)
    assert {"build", "test"} <= named
