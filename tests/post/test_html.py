"""Every built page, and what the calculators put into one, under a checker of HTML.

`tests/cases/html.json` is its recommended list without matters of taste (quotes, the sign of an empty element, capitals of
the document type), and without four that are meant: identifiers that begin with an underscore are the theme's; a region is a
`div` with a role, which the reader of pages for paper knows; the theme keeps browsers from filling in its own check boxes
anew; a calculator's form is never sent, so it has no button for it.
"""

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

import calculators

ROOT = Path(__file__).parents[2]
CHECKER = ROOT / "node_modules" / "html-validate" / "bin" / "html-validate.mjs"
RULES = ROOT / "tests" / "cases" / "html.json"
PAGE = '<!DOCTYPE html><html lang="en"><head><title>Answer</title></head><body>{}</body></html>'


def mistakes(node: str, files: list[Path], to: Path) -> list[str]:
    """What the checker says of these files, a line each; it writes it into the folder `to`."""
    # Into a file: it leaves before all of a long answer has gone through a pipe.
    answer = to / "mistakes.json"
    command = [node, str(CHECKER), "--config", str(RULES), "--formatter", f"json={answer}", *map(str, files)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    return [f"{Path(each['filePath']).name}:{found['line']}:{found['column']} {found['ruleId']}: {found['message']}"
            for each in json.loads(answer.read_text(encoding="utf-8")) for found in each["messages"]]  # fmt: skip


@pytest.mark.slow
def test_no_page_has_a_mistake(node: str, site: Path, tmp_path: Path) -> None:
    assert mistakes(node, sorted(site.rglob("*.html")), tmp_path) == []


@pytest.mark.slow
def test_no_answer_has_a_mistake(node: str, tmp_path: Path) -> None:
    """Of each calculator: its example, and nothing filled in."""
    files = [answer(tmp_path / f"{name}-{number}.html", name, inputs)
             for name in calculators.NAMES
             for number, inputs in enumerate((calculators.get(name).example_for("us", "us"), {}))]  # fmt: skip
    assert mistakes(node, files, tmp_path) == []


def answer(path: Path, name: str, inputs: dict[str, Any]) -> Path:
    """A page that holds one answer."""
    request = {"units": "us", "rules": "us", "inputs": inputs, "html": True}
    path.write_text(PAGE.format(calculators.run(name, request)["html"]), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("fragment", "rule"),
    [
        ("<table><tbody><tr><div>A</div></tr></tbody></table>", "element-permitted-content"),
        ('<p id="a">A</p><p id="a">B</p>', "no-dup-id"),
        ("<p>A<b>B</p>", "close-order"),
        ("<fieldset><p>A</p></fieldset>", "wcag/h71"),
    ],
)
def test_a_mistake_is_found(node: str, tmp_path: Path, fragment: str, rule: str) -> None:
    path = tmp_path / "page.html"
    path.write_text(PAGE.format(fragment), encoding="utf-8")
    found = mistakes(node, [path], tmp_path)
    assert any(f" {rule}: " in line for line in found), found
