"""As many plain pages of the theme as one likes, to hold the cost of ours against."""

from __future__ import annotations

from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

SETTINGS = """site_name: Plain
theme: {name: material, font: false}
use_directory_urls: false
plugins: [search]
markdown_extensions: [tables]
# A menu of all pages on every page would make the theme slow, not us fast.
nav: [{Home: index.md}]
"""
PART = "## Part {0}\n\n" + "Words that stand in a page and say nothing, so that there is something to read. " * 6 + "\n"
TABLE = "\n| one | two | three |\n|---|---|---|\n" + "| a cell | another cell | a third cell |\n" * 12


def write(folder: Path, count: int) -> None:
    """Write and build ``count`` pages in ``folder``: a heading, four parts of eighty words, a table of twelve rows."""
    docs = folder / "docs"
    docs.mkdir(parents=True)
    (folder / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    body = "".join(PART.format(number) for number in range(1, 5)) + TABLE
    for number in range(count):
        name = f"page-{number}.md" if number else "index.md"
        (docs / name).write_text(f"# Page {number}\n\n{body}", encoding="utf-8")
    build(load_config(str(folder / "mkdocs.yml"), site_dir=str(folder / "site")))
