"""Pages kept as the site generator read them: the same site, read again only where a source changed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort
from mkdocs.plugins import BasePlugin
from mkdocs.structure.pages import Page

from tools.material.bridge import SEARCH, NoSettings
from tools.material.rendered import Rendered, stands_alone

SETTINGS = """site_name: Test
theme: {name: material, font: false}
use_directory_urls: false
plugins: [search]
markdown_extensions: [attr_list, md_in_html, {toc: {permalink: true}}]
nav: [{Home: index.md}]
validation: {anchors: warn, nav: {omitted_files: ignore}}
"""
PAGES = {
    "index.md": "# Home\n\n[To a part](plain.md#second)\n",
    "plain.md": '---\ntitle: Plain\n---\n# Plain\n\nText.\n\n## Second\n\nMore.\n\n## Third { data-search-exclude="yes" }\n\nUnsearched.\n',
    "html.md": '---\ntitle: A sheet\n---\n# Sheet\n\n<div data-search-exclude="yes">\n<p>Nobody finds this.</p></div>\n\nThey find this.\n\n[Another](plain.md)\n',
    "hidden.md": "---\nsearch: {exclude: true}\n---\n# Hidden\n\nText.\n",
}


class Lender(BasePlugin[NoSettings]):  # type: ignore[no-untyped-call]
    """Lends every page, as the bridge does; all rest on what ``rests_on`` says."""

    def __init__(self, rendered: Rendered, rests_on: str) -> None:
        self.rendered = rendered
        self.rests_on = rests_on

    def on_page_markdown(self, markdown: str, page: Page, **_: Any) -> str:
        self.rendered.lend(page, markdown, (self.rests_on,))
        return markdown

    def on_page_context(self, context: Any, page: Page, config: Any, **_: Any) -> Any:
        self.rendered.keep(page, config.plugins[SEARCH].search_index.entries)
        return context


class Builds:
    """Builds the same sources over and over, and counts the pages that were read."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder = folder
        self.read: list[str] = []
        whole = Page.render

        def render(page: Page, *given: Any) -> None:
            self.read.append(page.file.src_uri)
            whole(page, *given)

        monkeypatch.setattr(Page, "render", render)
        (folder / "mkdocs.yml").write_text(SETTINGS, "utf-8")
        for name, text in PAGES.items():
            self.write(name, text)

    def write(self, name: str, text: str) -> None:
        path = self.folder / "docs" / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")

    def site(self, kept: Path | None, mark: str = "mark", rests_on: str = "") -> dict[str, bytes]:
        """Every page, and what the search knows, of one build; a warning stops it."""
        self.read.clear()
        config = load_config(str(self.folder / "mkdocs.yml"), site_dir=str(self.folder / "site"), strict=True)
        rendered = Rendered(kept, mark)
        config.plugins["lender"] = Lender(rendered, rests_on)
        build(config)
        rendered.save()
        rendered.forget_unused()
        made = self.folder / "site"
        return {path.relative_to(made).as_posix(): path.read_bytes() for path in (*made.glob("*.html"), made / "search" / "search_index.json")}


@pytest.fixture
def builds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Builds:
    return Builds(tmp_path, monkeypatch)


def test_a_site_of_kept_pages_is_the_same_to_the_byte(builds: Builds, tmp_path: Path) -> None:
    """Contents, titles, lists of parts, and the search."""
    plain = builds.site(None)
    assert sorted(builds.read) == sorted(PAGES)
    first = builds.site(tmp_path / "kept")
    assert sorted(builds.read) == sorted(PAGES)
    second = builds.site(tmp_path / "kept")
    assert builds.read == []
    assert plain == first == second
    assert b"They find this" in plain["search/search_index.json"]
    assert b"Nobody finds this" not in plain["search/search_index.json"]


def test_a_changed_page_is_read_again_and_the_old_one_dropped(builds: Builds, tmp_path: Path) -> None:
    """Its text, or its front matter."""
    builds.site(tmp_path / "kept")
    before = set((tmp_path / "kept").iterdir())
    builds.write("plain.md", PAGES["plain.md"].replace("More.", "Less."))
    builds.write("hidden.md", PAGES["hidden.md"].replace("true", "false"))
    changed = builds.site(tmp_path / "kept")
    assert sorted(builds.read) == ["hidden.md", "plain.md"]
    assert changed == builds.site(None)
    after = set((tmp_path / "kept").iterdir())
    assert (len(before), len(after), len(before & after)) == (4, 4, 2)


def test_a_mistake_is_told_as_long_as_it_is_there(builds: Builds, tmp_path: Path) -> None:
    """A page with a broken link is kept in no build; one that leads to a part is asked about it although it was kept."""
    builds.write("hidden.md", PAGES["hidden.md"] + "\n[Lost](nowhere.md)\n")
    for _ in range(2):
        with pytest.raises(Abort):
            builds.site(tmp_path / "kept")
    builds.write("hidden.md", PAGES["hidden.md"])
    builds.site(tmp_path / "kept")
    builds.write("plain.md", PAGES["plain.md"].replace("## Second", "## Other"))
    for _ in range(2):
        with pytest.raises(Abort):
            builds.site(tmp_path / "kept")
        assert builds.read == ["plain.md"]


def test_other_code_or_a_damaged_entry_is_read_again(builds: Builds, tmp_path: Path) -> None:
    plain = builds.site(tmp_path / "kept")
    assert builds.site(tmp_path / "kept", "another mark") == plain
    assert sorted(builds.read) == sorted(PAGES)
    assert builds.site(tmp_path / "kept", "another mark", "other data") == plain
    assert sorted(builds.read) == sorted(PAGES)
    for path in (tmp_path / "kept").iterdir():
        path.write_bytes(path.read_bytes()[:-1])
    assert builds.site(tmp_path / "kept", "another mark", "other data") == plain
    assert sorted(builds.read) == sorted(PAGES)


@pytest.mark.parametrize(("markdown", "alone"), [
    ("# Head\n\ntext\n", True), ("::: record\nA | b\n:::\n\n::: signoff\nC\n:::\n", True), ("::: sites\n:::\n", False),
    ("::: calculator level\n:::\n", False), ("::: record\n:::\n  ::: figures a.b\n:::\n", False), ("{{rule space.rear_gap}}", False),
])  # fmt: skip
def test_only_a_page_that_follows_from_its_source_is_kept(markdown: str, alone: bool) -> None:
    """Not one that shows sites, calculators, rules or data besides."""
    assert stands_alone(markdown) is alone
