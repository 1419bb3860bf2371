"""A whole small site, built and finished: trimmed, listed, checked."""

import shutil
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config

from tools import post
from tools.material import scripts
from tools.post import app, listing, pages, trim
from tools.problems import Problems

CONFIG = """
site_name: Test
site_url: http://localhost:8000/
use_directory_urls: false
theme: {name: material, font: false, features: [search.highlight]}
plugins: [search]
"""
PAGES = {
    "index.md": "# Home\n\n[A procedure](procedures/a.md)",
    "procedures/a.md": "# Receive\n\n<p>Red</p>",
    "calculators/b.md": "# Clearance",
    "assets/runtime/runtime.js": "// Python",
    "licenses/ours.txt": "MIT",
}
ROOT = Path(__file__).parents[2]
OURS = post.Ours(scripts.inline("http://localhost:8000/"), scripts.files(ROOT / "docs"))
FINISH = {"build_id": "b1", "site_name": "Test", "accent": "#0b5c6b", "ours": OURS, "say": lambda line: None}


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    """A site as MkDocs leaves it."""
    folder = tmp_path_factory.mktemp("made")
    for name, text in {"mkdocs.yml": CONFIG}.items():
        pages.write(folder / name, text)
    for name, text in PAGES.items():
        pages.write(folder / "docs" / name, text)
    build(load_config(str(folder / "mkdocs.yml")))
    return folder / "site"


@pytest.fixture(scope="module")
def finished(made, tmp_path_factory) -> Path:
    """The same, finished."""
    folder = tmp_path_factory.mktemp("finished") / "site"
    shutil.copytree(made, folder)
    post.finish(folder, **FINISH)
    return folder


@pytest.fixture
def site(finished, tmp_path) -> Path:
    """A copy that a test may spoil."""
    shutil.copytree(finished, tmp_path / "site")
    return tmp_path / "site"


def test_a_finished_site_is_good(finished):
    assert post.check(finished) == []


def test_what_is_left_of_the_theme_is_small(finished):
    """At most 0.6 MB, icons and scripts of ours included; nothing unused."""
    assert trim.size(finished / "assets") < 600_000
    left = {path.suffix for path in finished.rglob("*") if path.is_file()}
    assert left == {".html", ".css", ".js", ".png", ".txt", ".webmanifest"}
    assert not list(finished.glob("sitemap*"))
    assert "sourceMappingURL" not in "".join(
        path.read_text(encoding="utf-8") for path in finished.rglob("*.[cj]s*")
    )


def test_pages_name_no_server(finished):
    """A folder has no address; the page for wrong addresses alone has, and only its path."""
    for path in pages.all_pages(finished):
        assert "localhost" not in pages.read(path)


def test_finishing_twice_the_same_gives_the_same_bytes(made, finished, tmp_path):
    shutil.copytree(made, tmp_path / "site")
    post.finish(tmp_path / "site", **FINISH)
    assert listing.hashes(tmp_path / "site") == listing.hashes(finished)


def test_the_list_holds_every_file_but_itself(finished):
    listed = listing.hashes(finished)
    there = {p.relative_to(finished).as_posix() for p in finished.rglob("*") if p.is_file()}
    assert set(listed) == there - {listing.NAME}


@pytest.mark.parametrize("name", ["index.html", app.WORKER, "search/search_index.js"])
def test_a_missing_file_is_found(site, name):
    (site / name).unlink()
    found = [(problem.file, problem.what) for problem in post.check(site)]
    assert (name, "The built handbook has no such file.") in found
    assert (name, "This is not the file that was built.") in found


def test_a_missing_kind_of_file_is_found(site):
    shutil.rmtree(site / "assets" / "runtime")
    assert "assets/runtime/*.js" in [problem.file for problem in post.check(site)]


def test_a_changed_and_an_added_file_are_found(site):
    (site / "index.html").write_text(pages.read(site / "index.html") + " ")
    (site / "more.txt").write_text("")
    assert [problem.file for problem in post.check(site)] == ["index.html", "more.txt"]


def test_a_damaged_list_is_found(site):
    (site / listing.NAME).write_text("{")
    assert [problem.file for problem in post.check(site)] == [listing.NAME]


def test_a_page_that_refers_to_nothing_is_found(made, tmp_path):
    shutil.copytree(made, tmp_path / "site")
    page = tmp_path / "site" / "procedures" / "a.html"
    pages.write(page, pages.read(page).replace("</article>", '<img src="../lost.svg"></article>'))
    with pytest.raises(Problems, match=r"procedures/a.html: \.\./lost.svg is not in the handbook"):
        post.finish(tmp_path / "site", **FINISH)


def test_a_page_that_listens_inline_stops_the_build(made, tmp_path):
    shutil.copytree(made, tmp_path / "site")
    page = tmp_path / "site" / "index.html"
    pages.write(page, pages.read(page).replace("<article", '<article onclick="x()"'))
    with pytest.raises(Problems, match="onclick is refused"):
        post.finish(tmp_path / "site", **FINISH)


def test_a_page_that_is_not_the_themes_is_finished_too(made, tmp_path):
    """A booklet's page gets a policy, and none of the scripts."""
    shutil.copytree(made, tmp_path / "site")
    booklet = tmp_path / "site" / "booklets" / "all.html"
    pages.write(booklet, "<html><head></head><body></body></html>")
    post.finish(tmp_path / "site", **FINISH)
    text = pages.read(booklet)
    assert "Content-Security-Policy" in text
    assert "<script" not in text


@pytest.mark.parametrize(("text", "what"), [
    ("<script>go()</script>", r"A script is refused: go\(\)"),
    ("<style>p { color: red }</style>", "An inline style is refused"),
    ("<svg><a href='javascript:go()'/></svg>", "A script as an address is refused"),
])  # fmt: skip
def test_what_is_on_no_list_of_ours_stops_the_build_and_names_the_page(made, tmp_path, text, what):
    shutil.copytree(made, tmp_path / "site")
    page = tmp_path / "site" / "procedures" / "a.html"
    pages.write(page, pages.read(page).replace("</article>", f"{text}</article>"))
    with pytest.raises(Problems, match=f"procedures/a.html, .*: {what}"):
        post.finish(tmp_path / "site", **FINISH)


def test_every_script_of_the_theme_is_on_the_list_and_no_other_file(made):
    """The list is made of the theme's package, not of what was built."""
    assert [each.file for each in post.strangers(made, OURS)] == ["assets/runtime/runtime.js"]
