"""The page “Check this copy”: one changed byte in any file is found, and said with what to do."""

from __future__ import annotations

import hashlib
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Watched
from tests.browser.test_accessibility import AXE, faults
from tests.browser.test_site_offline import install
from tests.support.served import Server
from tools.post import app, listing

pytestmark = pytest.mark.browser

PAGE = "reference/check-this-copy.html"
DONE = "document.querySelector('[data-copy-check]').dataset.state === 'done'"
OUTCOMES = "[...document.querySelectorAll('[data-copy-check] section')].map((each) => each.dataset.outcome ?? '')"
LAST = "[data-copy-check] section:last-of-type"
# A good answer set against another number, another word and another hash.
TURNED = """async () => {
  const { cases } = HandbookAssets.copy;
  const one = (kind) => cases.find((each) => each.kind === kind);
  const told = [{ ...one("value"), expected: 45 }, { ...one("check"), expected: "stop" }, { ...one("answer"), sum: "0" }, one("value")];
  return Promise.all(told.map(async (each) => (await HandbookCopyCases.worked(each)).isRight));
}"""
SPOILED = """async () => {
  const store = await caches.open("handbook-files");
  const { url } = (await store.keys()).find((each) => each.url.endsWith(".png"));
  await store.put(url, new Response("other"));
}"""
LENGTHS = (0, 1, 55, 56, 63, 64, 65, 119, 120, 128, 262143, 262144, 262145, 300000)


@pytest.fixture
def copy(site: Path, tmp_path: Path) -> Path:
    """A copy of the handbook that a test may damage."""
    shutil.copytree(site, tmp_path / "stick")
    return tmp_path / "stick"


def check(watched: Watched) -> None:
    watched.page.evaluate("delete document.querySelector('[data-copy-check]').dataset.state")
    watched.page.click("[data-copy-check] button")
    watched.wait(DONE)


def compared(watched: Watched) -> dict[str, Any]:
    """What the page finds by itself, without working the cases out again."""
    return dict(watched.page.evaluate("HandbookCopyFiles.own(() => {})"))


def on_a_server(watched: Watched, folder: Path) -> dict[str, Any]:
    """What it finds of a copy on a server, of which the browser keeps nothing yet."""
    server = Server(folder)
    context = watched.page.context.browser.new_context(service_workers="block")
    page = context.new_page()
    page.goto(server.address + PAGE)
    found = page.evaluate("HandbookCopyFiles.own(() => {})")
    context.close()
    server.stop()
    return dict(found)


def choose(watched: Watched, folder: Path) -> str:
    """What is said of a folder that the reader chose."""
    watched.page.evaluate(f"delete document.querySelector({LAST!r}).dataset.outcome")
    watched.page.set_input_files("#hb-folder", str(folder))
    watched.wait(f"document.querySelector({LAST!r}).dataset.outcome")
    return str(watched.page.inner_text(LAST))


def turn(path: Path) -> None:
    """Turn one bit over, where no script is broken by it."""
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)


def test_a_copy_opened_as_a_file(watched: Watched, copy: Path) -> None:
    """Whole first; then damaged in every kind of file, of which the page itself finds some and the chosen folder all."""
    page = watched.page
    page.goto((copy / PAGE).as_uri())
    assert page.evaluate("HandbookPython.state") == "idle", "it starts nothing by itself"
    check(watched)
    assert page.evaluate(OUTCOMES) == ["pass", "unknown", ""]
    assert faults(page, AXE.read_text(encoding="utf-8")) == []
    seen = page.inner_text("[data-copy-check]")
    assert "Not compared: " in seen
    assert page.evaluate("document.querySelectorAll('.hb-cases > li').length") >= 26
    total = len(listing.read(copy).files)
    assert f"All {total} files are as they were built." in choose(watched, copy)
    assert page.evaluate(TURNED) == [False, False, False, True]
    hashes = page.evaluate("(lengths) => Promise.all(lengths.map((n) => HandbookSum(Uint8Array.from({ length: n }, (_, i) => i * 7))))", LENGTHS)
    assert hashes == [hashlib.sha256(bytes(i * 7 % 256 for i in range(n))).hexdigest() for n in LENGTHS]

    kinds = {Path(name).suffix: name for name in listing.paths(copy) if name.count("/") < 3}
    spoiled = [*kinds.values(), "assets/runtime/python-library-0.js", "assets/forms/float.js", "search/search_worker.js"]
    for name in spoiled:
        turn(copy / name)
    (copy / "calculators" / "level.html").unlink()
    (copy / "old.html").write_text("from last year")
    (copy / ".DS_Store").write_text("a system's own")
    told = choose(watched, copy)
    assert {*spoiled, "calculators/level.html", "old.html"} == {line for line in told.splitlines() if "/" in line or line in (*spoiled, "old.html")}
    assert "copy the whole handbook again" in told
    assert "Missing (1)" in told
    assert "Not of this handbook (1)" in told
    assert set(compared(watched)["damaged"]) == {"assets/runtime/python-library-0.js", "assets/forms/float.js", "search/search_worker.js"}
    served = on_a_server(watched, copy)
    assert (set(served["damaged"]), served["missing"], served["unseen"]) == (set(spoiled), ["calculators/level.html"], [])
    (copy / listing.NAME).write_text("self.HandbookAssets.files = [{}, 0]")
    assert listing.NAME in choose(watched, copy)
    assert "There is no handbook in that folder" in choose(watched, copy / "safety")
    assert watched.violations() == []


def test_a_copy_whose_python_or_list_is_damaged(watched: Watched, copy: Path) -> None:
    """It says so, goes on with what it can, and a calculator's page leads to it."""
    page = watched.page
    (copy / "assets" / "runtime" / "python-wasm-1.js").unlink()
    turn(copy / listing.NAME)
    page.goto((copy / "calculators" / "level.html").as_uri())
    watched.wait("document.querySelector('[data-calculator]').dataset.state === 'failed'")
    page.click(".hb-check-copy")
    watched.wait(f"location.pathname.endsWith({PAGE!r}) && document.readyState === 'complete'")
    check(watched)
    told = page.inner_text("[data-copy-check]")
    assert page.evaluate(OUTCOMES)[:2] == ["stop", "stop"]
    assert "The cases could not be worked out." in told
    assert "missing: python-wasm-1.js" in told
    assert "The list of files is damaged" in told


def test_an_installed_copy_mends_what_is_damaged_on_the_device(watched: Watched, site: Path) -> None:
    """It compares what is kept here, without a signal too; with one it fetches a damaged file anew."""
    server = Server(site)
    page = watched.page
    page.goto(server.address + "licenses/operator-handbook.txt")
    page.evaluate("""async () => {
      const store = await caches.open("handbook-files");
      for (const path of ["/~kept/old.html", "/other/~kept/theirs.html"]) await store.put(path, new Response(""));
    }""")
    install(watched, server)
    page.goto(server.address + PAGE)
    kept = page.evaluate("caches.open('handbook-files').then((store) => store.keys()).then((all) => all.map(({ url }) => new URL(url).pathname))")
    assert "/~kept/old.html" not in kept, "what no edition of ours has any more"
    assert "/other/~kept/theirs.html" in kept, "another handbook's of the same server"
    page.evaluate(SPOILED)
    found = compared(watched)
    assert set(found["good"]) == set(listing.read(site).files) - {app.WORKER}
    page.evaluate(SPOILED)
    server.stop()
    found = compared(watched)
    assert [Path(name).suffix for name in found["damaged"]] == [".png"]
    assert not [*found["missing"], *found["unread"]]
