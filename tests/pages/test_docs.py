"""The handbook's own pages: whole, linked to what they cite, and drawn from definitions."""

from __future__ import annotations

import json
import re
from fnmatch import fnmatchcase
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

import calculators
from tools.blocks.steps import SIGNALS
from tools.blocks.tree import Node, read
from tools.blocks.values import figure_text
from tools.book import data

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
DATA = data.load(DOCS / "data")
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


def test_a_calculator_beside_a_step_shows_our_own_cabinet(site: Path) -> None:
    """Every one of every procedure is a closed row; what it opens with says which cabinet, and which site."""
    seen = 0
    for path in sorted((DOCS / "procedures").glob("*.md")):
        page = BeautifulSoup((site / "procedures" / f"{path.stem}.html").read_text("utf-8"), "html.parser")
        asked = [node.argument for node in blocks(tree(path), "calculator")]
        shown = page.select("[data-calculator-row]")
        assert [each["data-calculator-row"] for each in shown] == asked
        for each in shown:
            assert not each.select("form, .hb-outcome"), "a first site's answer is nobody else's"
            facts = json.loads(each.select(".hb-facts")[0].get_text())
            assert f"Cabinet: {DATA.tables['machines'][0].typed['name']}." in facts["remark"]
            of_sites = ("clearance", "circuit", "float", "handling", "standing", "restock", "cash", "energy")
            assert ("Site: " in facts["remark"]) == (each["data-calculator-row"] in of_sites)
            listed = [preset["key"] for preset in DATA.presets(str(each["data-calculator-row"]))]
            assert facts["preset"] in listed, "the choice does not stand on it"
            assert calculators.run(str(each["data-calculator-row"]), {"units": facts["units"], "inputs": facts["inputs"]})
            link = each.select("a.hb-open")[0]["href"]
            assert (site / "procedures" / str(link)).resolve().is_file(), "without scripts it is a link"
            script = (site / "procedures" / str(each["data-form"])).read_text("utf-8")
            assert f'data-calculator="{each["data-calculator-row"]}"' in script
            seen += 1
    assert seen > 10


TABLES = {
    "conductors": "conductors.carries_*", "coins": "coins.table", "cans": "goods.packages_can",
    "threads": "level.pitch_*", "reach": "space.reach_*", "temperatures": "food.cold_holding",
}  # fmt: skip


def written(value: object) -> str:
    """A cell as a table of figures shows it."""
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def full(rows: list[list[str]]) -> list[list[str]]:
    """Rows without the cells for which a figure's table has a column but this line no word."""
    return [[cell for cell in row if cell] for row in rows]


@pytest.mark.parametrize("subject", TABLES)
def test_the_reference_tables_hold_every_figure_of_their_subject(subject: str, site: Path) -> None:
    """Each figure of our rule set with its own value and its citation, source and status."""
    page = BeautifulSoup((site / "reference" / "tables.html").read_text("utf-8"), "html.parser")
    rows = [[cell.get_text() for cell in row.select("th, td")] for row in page.select("table tr")]
    notes = page.get_text()
    found = [rule for key, rule in DATA.rules.figures.items() if fnmatchcase(key, TABLES[subject])]
    assert found
    for rule in found:
        assert rule.citation in notes
        if isinstance(rule.value, list):
            assert all([written(cell) for cell in line.values() if written(cell)] in full(rows) for line in rule.value)
        else:
            assert [rule.label, figure_text(rule), rule.citation] in rows


def test_every_drawing_is_used_and_no_two_are_alike() -> None:
    """A drawing nobody sees is no drawing."""
    pages = "\n".join(path.read_text(encoding="utf-8") for path in DOCS.rglob("*.md"))
    names = {path.stem.partition(".")[0] for path in DRAWINGS}  # what stands behind a dot is a rule set that has its own
    shown = {name: f"::: fault {name[4:]}" if name.startswith("see-") else f"::: figure {name}" for name in names}
    assert [name for name, block in shown.items() if block not in pages] == []
    assert len({path.read_bytes() for path in DRAWINGS}) == len(DRAWINGS)


def test_the_readme_names_only_commands_that_exist() -> None:
    """A command in the README is a command of the tool."""
    from tools.handbook import COMMANDS

    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"tools/handbook\.py (\w+)", readme))
    assert named <= set(COMMANDS)
    assert {"build", "test"} <= named
