"""The table of faults in DEVELOPERS.md: its words are those that readers get, its tests are there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SOURCES = ("docs/assets/js/*.js", "tools/post/*.js", "tools/runtime/*.js", "tools/blocks/*.py")
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("\n## Faults\n")[1].split("\n## ")[0]
ROWS = [[cell.strip() for cell in line.strip("|").split("|")] for line in TEXT.splitlines() if line.startswith("|")][2:]
# What a script puts into a sentence, and where two lines of it meet.
HOLES = re.compile(r"\$\{[^}]*\}|\" \+\n\s*\"")


def said() -> str:
    found = [path for pattern in SOURCES for path in sorted(ROOT.glob(pattern))]
    return HOLES.sub("…", "\n".join(path.read_text(encoding="utf-8") for path in found))


SAID = said().replace("…", "")


def test_it_has_three_cells_a_row_and_names_no_fault_twice() -> None:
    assert len(ROWS) >= 20
    assert {len(row) for row in ROWS} == {3}
    assert len({row[0] for row in ROWS}) == len(ROWS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_what_is_told_is_told_in_these_words(row: list[str]) -> None:
    for words in re.findall("“([^”]+)”", row[1]):
        assert words.replace("…", "") in SAID, words


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_each_has_a_test(row: list[str]) -> None:
    named = re.findall(r"`([\w/]+\.py)::(\w+)`", row[2])
    assert named
    for file, name in named:
        assert f"def {name}(" in (ROOT / "tests" / file).read_text(encoding="utf-8"), f"{file}::{name}"
