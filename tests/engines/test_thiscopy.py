"""The page “Check this copy” in each engine and from a file: known cases, the parts that it can read, a folder chosen."""

from __future__ import annotations

import pytest

from tests.engines.page import Page
from tests.support.served import Server
from tools.post import listing

pytestmark = pytest.mark.browser

PAGE = "reference/check-this-copy.html"
OUTCOMES = "[...document.querySelectorAll('[data-copy-check] section')].map((each) => each.dataset.outcome ?? '')"
# Of the calculators' own examples one is enough: test_calculators.py works all of them out in each engine.
FEWER = """HandbookParts.load(new URL("assets/copy.js", HandbookCopyFiles.root).href, "copy").then(({ cases }) => {
  cases.splice(0, 99, ...cases.filter(({ kind, calculator }) => kind !== "answer" || calculator === "clearance"));
  return cases.length;
})"""
# Two files of a folder, as a browser hands them over that has chosen one.
CHOSEN = """((list, manifest) => {
  const file = (name, text) => Object.defineProperty(new File([text], name), "webkitRelativePath", { value: `stick/site/${name}` });
  const chosen = [file("manifest-of-files.js", list), file("app.webmanifest", manifest), file("index.html", "other"), file("old.html", "")];
  return HandbookCopyFiles.folder(chosen, /x{9}/, () => {}).then(({ good, damaged, missing, more }) => [good, damaged, missing.length, more]);
})(arguments[0], arguments[1])"""


def test_a_copy_is_checked(page: Page) -> None:
    page.open(PAGE)
    page.promised(FEWER)
    page.click("[data-copy-check] button")
    page.wait("document.querySelector('[data-copy-check]').dataset.state === 'done'")
    assert page.evaluate(OUTCOMES) == ["pass", "unknown", ""], page.text("[data-copy-check]")
    assert "Not compared: " in page.text("[data-copy-check]")
    assert page.evaluate("document.querySelector('#hb-folder').webkitdirectory") is True


def test_a_chosen_folder_is_read(page: Page) -> None:
    """No driver chooses a folder in these engines: the files are handed over as the browser would."""
    site = page.site
    told = [(site / name).read_text(encoding="utf-8") for name in (listing.NAME, "app.webmanifest")]
    page.open(PAGE)
    good, damaged, missing, more = page.promised(CHOSEN, *told)
    assert (good, damaged, more) == (["app.webmanifest"], ["index.html"], ["old.html"])
    assert missing == len(listing.read(site).files) - 2


def test_on_a_server_every_file_is_compared(page: Page) -> None:
    server = Server(page.site)
    Page(page.wire, page.site, server.address).open(PAGE)
    found = page.promised("HandbookCopyFiles.own(() => {})")
    server.stop()
    assert [found[each] for each in ("damaged", "missing", "unread", "unseen")] == [[], [], [], []]
    # Where a service worker answers already, it knows all but its own script.
    assert len(listing.read(page.site).files) - len(found["good"]) <= 1
