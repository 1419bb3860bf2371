"""Handbooks beside each other on one server, each in a folder of its own: small ones, for the worker knows no other size."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.conftest import Watched
from tests.support.served import Server
from tools.post import app, pages

pytestmark = pytest.mark.browser

FOLDERS = ("", "north/", "south/our handbook/")
PAGE = """<!doctype html><html lang="en"><head><title>{title}</title></head><body><h1>{title}</h1>
<img src={root}a.svg alt="a"><a href="{root}index.html">first</a> <a href="//example.org/x">other</a>
<p>Type href=/here</p><script src="{root}assets/javascripts/app.js"></script></body></html>"""
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>'
KEPT = "caches.open('handbook-files').then((store) => store.keys()).then((keys) => keys.map(({ url }) => url))"


def lay_out(folder: Path, title: str) -> None:
    """A handbook of two pages, a picture and a text."""
    made = {
        "index.html": PAGE.format(title=title, root=""), "404.html": PAGE.format(title="404", root="/"), "a.svg": SVG,
        "note.txt": title, app.SCRIPT: pages.read(app.HERE / "app.js"), app.WEB_MANIFEST: "{}",
    }  # fmt: skip
    for name, text in made.items():
        pages.write(folder / name, text)
    app.write_worker(folder, title)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    for folder in FOLDERS:
        lay_out(tmp_path / folder, folder or "top")
    started = Server(tmp_path)
    yield started
    started.stop()


def install(watched: Watched, address: str) -> None:
    watched.page.goto(address)
    watched.wait("document.documentElement.dataset.offline === 'ready' && Boolean(navigator.serviceWorker.controller)")


def kept(watched: Watched, address: str) -> int:
    """How many files are kept for the handbook at an address."""
    return sum(url.startswith(f"{address}~kept/") for url in watched.page.evaluate(KEPT))


def test_each_keeps_its_own_and_leaves_the_others_theirs(watched: Watched, server: Server, tmp_path: Path) -> None:
    """Installed one after the other, one of them updated: each opens without the server, also at a wrong address."""
    homes = [server.address + folder.replace(" ", "%20") for folder in FOLDERS]
    for home in homes:
        install(watched, home)
    files = len(app.kept_files(tmp_path / FOLDERS[1]))
    assert [kept(watched, home) for home in homes[1:]] == [files, files]
    pages.write(tmp_path / FOLDERS[1] / "note.txt", "changed")
    app.write_worker(tmp_path / FOLDERS[1], "another")
    server.fetched.clear()
    watched.page.goto(homes[1])
    watched.wait("Boolean(document.querySelector('.handbook-update button'))")
    # A browser looks for newer workers of its own accord, for all three.
    assert {name for name in server.fetched if not name.endswith("sw.js")} == {"north/note.txt"}
    with watched.page.expect_navigation():
        watched.page.click(".handbook-update button")
    watched.wait("!document.querySelector('.handbook-update button') && document.documentElement.dataset.offline === 'ready'")
    server.stop()
    for home, folder in zip(homes, FOLDERS, strict=True):
        assert kept(watched, home) >= files
        for address in (home, f"{home}index.html", f"{home}index"):
            assert watched.page.goto(address).status == 200
            assert watched.page.inner_text("h1") == (folder or "top")
        answer = watched.page.goto(f"{home}deep/down/nothing.html")
        assert (answer.status, watched.page.inner_text("h1")) == (404, "404")
        watched.wait("document.querySelector('img').complete")
        assert watched.page.evaluate("document.querySelector('img').naturalWidth") == 10
        links = watched.page.evaluate("[...document.querySelectorAll('a')].map(({ href }) => href)")
        assert links == [f"{home}index.html", "http://example.org/x"]
        assert watched.page.inner_text("p") == "Type href=/here"


def test_what_is_not_the_handbook_s_is_left_to_the_server(watched: Watched, server: Server, tmp_path: Path) -> None:
    """Its answers reach the page as they are, and nothing of them is kept."""
    home = server.address + FOLDERS[1]
    install(watched, home)
    before = kept(watched, home)
    pages.write(tmp_path / FOLDERS[1] / "later.txt", "from the server")
    told = watched.page.evaluate("fetch('later.txt').then((answer) => answer.text())")
    assert told == "from the server"
    assert watched.page.goto(f"{home}later.txt").status == 200
    watched.page.goto(home)
    assert kept(watched, home) == before
