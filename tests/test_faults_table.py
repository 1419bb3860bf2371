"""The tables of faults and of the fuzz in DEVELOPERS.md: words are those that readers get, tests are there, no target lacks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tools.commands import fuzz

ROOT = Path(__file__).parent.parent
SOURCES = ("docs/assets/js/*.js", "tools/post/*.js", "tools/runtime/*.js", "tools/blocks/*.py")


def rows(title: str) -> list[list[str]]:
    """The rows of the table in a section, without its head."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split(f"\n## {title}\n")[1].split("\n## ")[0]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in text.splitlines() if line.startswith("|")][2:]


ROWS, THROWN = rows("Faults"), rows("Fuzz")
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
    assert_there(row[2])


def assert_there(cell: str) -> None:
    named = re.findall(r"`([\w/]+\.py)::(\w+)`", cell)
    assert named
    for file, name in named:
        assert f"def {name}(" in (ROOT / "tests" / file).read_text(encoding="utf-8"), f"{file}::{name}"


def test_each_target_of_the_fuzz_has_its_totals_and_a_test() -> None:
    assert [row[0] for row in THROWN] == [f"`{target}`" for target in (*fuzz.GUIDED, *fuzz.IN_PAGE)]
    for _, inputs, minutes, seed, found, date, test in THROWN:
        assert int(inputs.replace(",", "")) > 0
        assert float(minutes) > 0
        assert seed.isdigit()
        assert found.isdigit()
        assert re.fullmatch(r"20\d\d-\d\d-\d\d", date)
        assert_there(test)
