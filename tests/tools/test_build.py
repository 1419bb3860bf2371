"""The command `build`: a mistake stops it with file, line and mend, and costs nothing."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCES = ("calculators", "docs", "tools", "mkdocs.yml", "package.json", "package-lock.json", ".npmrc")
GOOD = "the last good handbook"


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A copy of the sources with a finished site in place, on this repository's environment."""
    folder = tmp_path / "a house"
    folder.mkdir()
    for name in SOURCES:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, folder / name)
    for name in (".venv", "node_modules"):
        (folder / name).symlink_to(ROOT / name)
    # What the calculators say of the demonstration is no part of these tests, and takes longer than all else in them.
    if (kept := ROOT / ".cache" / "answers").is_dir():
        shutil.copytree(kept, folder / ".cache" / "answers")
    (folder / "site").mkdir()
    (folder / "site" / "index.html").write_text(GOOD, encoding="utf-8")
    return folder


def build(house: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(house / "tools" / "handbook.py"), "build"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def append(path: Path, text: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


def test_mistakes_in_pages_stop_the_build_and_leave_the_last_good_site(house: Path) -> None:
    """Several pages, one list, with the lines as an editor counts them."""
    page = house / "docs" / "safety" / "tipping.md"
    lines = page.read_text(encoding="utf-8").count("\n")
    append(page, "\n::: warnin\nx\n:::\n")
    append(house / "docs" / "calculators" / "clearance.md", "\n{{rule space.rear_gab}}\n")
    (house / "docs" / "safety" / "ladders.md").write_text("# Ladders\n", encoding="utf-8")
    answer = build(house)
    told = answer.stdout + answer.stderr
    assert answer.returncode == 1
    assert f"safety/tipping.md, line {lines + 2}: There is no block “warnin”. Perhaps: warning" in told
    assert "calculators/clearance.md, line" in told
    assert "space.rear_gap" in told
    assert "safety/ladders.md: No menu leads to this page." in told
    assert "Traceback" not in told
    assert (house / "site" / "index.html").read_text(encoding="utf-8") == GOOD


def test_mistakes_in_data_stop_the_build_and_leave_the_last_good_site(house: Path) -> None:
    """Row, column, value and what was expected; two files at once."""
    append(house / "docs" / "data" / "tables" / "crew.csv", "extra,,no role,perhaps\n")
    append(house / "docs" / "data" / "tables" / "gear.csv", "rope,Rope,three,moving\n")
    answer = build(house)
    told = answer.stdout + answer.stderr
    assert answer.returncode == 1
    assert "crew.csv, row 6, column name: The cell is empty." in told
    assert "column signs" in told
    assert "gear.csv, row 14, column amount: How many: “three” cannot be used." in told
    assert "Traceback" not in told
    assert (house / "site" / "index.html").read_text(encoding="utf-8") == GOOD


def test_a_broken_link_stops_the_build(house: Path) -> None:
    """A page that is not there is told before a reader meets it."""
    append(house / "docs" / "safety" / "tipping.md", "\n[lost](nowhere.md)\n")
    answer = build(house)
    assert answer.returncode == 1
    assert "nowhere.md" in answer.stdout + answer.stderr
    assert (house / "site" / "index.html").read_text(encoding="utf-8") == GOOD


def test_the_demonstration_s_folder_is_at_most_15_mb(site: Path) -> None:
    """Every file of it: what somebody copies to a stick, and what a phone keeps.

    It was 12 MB while one short form of a booklet served all cabinet models; with each card's words in the steps there
    is one for each model (1.1 MB), and there are nine procedures more. Six further calculators took 1.1 MB; Python without
    what nobody asks of it gave back as much. Its memory, which a page puts back in place of starting it, is 1.6 MB.
    """
    sizes = {path.relative_to(site).as_posix(): path.stat().st_size for path in site.rglob("*") if path.is_file()}
    largest = sorted(sizes.items(), key=lambda each: -each[1])[:12]
    assert sum(sizes.values()) <= 15_000_000, largest


def test_the_state_of_the_data_stands_in_one_file(site: Path) -> None:
    """A changed cell then changes, for who has the handbook installed, only the pages that show it."""
    mark = re.fullmatch(r'\.hb-state::before \{ content: "([0-9a-f]{8})"; \}\n', (site / "assets/css/state.css").read_text("utf-8"))
    assert mark
    pages = {path: path.read_text("utf-8") for path in site.rglob("*.html")}
    assert [path.name for path, text in pages.items() if mark[1] in text] == []
    lacking = [path.name for path, text in pages.items() if "assets/css/state.css" not in text or "data <span class=hb-state></span>" not in text]
    assert lacking == ["404.html"], "it has no foot"
