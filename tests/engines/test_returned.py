"""What a reader left is there again, from files and from a server: also in a tab that the browser threw away and loads anew.

Firefox throws a tab away as it does when memory is short. WebKitGTK has no such command, and its driver gives up a page
whose process is gone: there another site's page takes its place, no page is kept in memory, and Back loads it anew in
a process of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.engines import started
from tests.engines.conftest import program
from tests.engines.page import Page, tab
from tests.engines.test_calculators import HOME, follow_to_clearance, ready
from tests.engines.test_found import LAST, OTHER, RECORD, SITE, STOPPED, at, choose, open_row
from tests.engines.test_kept import STANDS, WIDTH, kept, stands
from tests.engines.wire import Marionette
from tests.support.served import Server

pytestmark = pytest.mark.browser

CHECKLIST = "procedures/level-and-bear.html"
THROW_AWAY = """const done = arguments[0];
(async () => {
  const { gBrowser } = Services.wm.getMostRecentWindow("navigator:browser");
  const tab = gBrowser.selectedTab;
  const other = gBrowser.addTrustedTab("about:blank");
  const event = (name) => new Promise((then) => tab.addEventListener(name, then, { once: true }));
  gBrowser.selectedTab = other;
  await gBrowser.prepareDiscardBrowser(tab);
  const thrown = gBrowser.discardBrowser(tab, true) && tab.hasAttribute("pending");
  const restored = event("SSTabRestored");
  gBrowser.selectedTab = tab;
  await restored;
  gBrowser.removeTab(other);
  return thrown;
})().then(done, (error) => done(String(error)));
"""


class Left(Page):
    """A page that the browser may throw away."""

    elsewhere = ""

    def throw_away(self) -> None:
        """Have the page thrown away and loaded anew; nothing that its scripts hold outlives it."""
        self.evaluate("void (window.held = true)")
        if isinstance(self.wire, Marionette):
            assert self.wire.own(THROW_AWAY) is True
        else:
            self.wire.send("Navigate", url=self.elsewhere)
            self.back()
        self.wait("document.readyState === 'complete'")
        assert self.evaluate("window.held ?? null") is None, "the page was kept"


@pytest.fixture(scope="module")
def server(site: Path) -> Iterator[Server]:
    served = Server(site)
    yield served
    served.stop()


@pytest.fixture(params=["files", "server"])
def root(request: pytest.FixtureRequest, server: Server) -> str:
    """Where the handbook is read from: a server's address, or none."""
    return server.address if request.param == "server" else ""


@pytest.fixture(params=["firefox", "webkit"])
def page(request: pytest.FixtureRequest, root: str, server: Server, site: Path, tmp_path: Path) -> Iterator[Left]:
    with ExitStack() as stack:
        if request.param == "firefox":
            wire = stack.enter_context(tab(request.getfixturevalue("firefox")))
        else:
            driver, display = program("HANDBOOK_WEBKIT", "WebKitWebDriver"), request.getfixturevalue("display")
            wire = stack.enter_context(started.webkit(driver, display, tmp_path, "--enable-page-cache=false"))
        left = Left(wire, site, root)
        # The same server by another name is another site to a browser.
        left.elsewhere = server.address.replace("127.0.0.1", "localhost") + "licenses/NOTICES.txt"
        yield left


def test_what_was_typed(page: Left) -> None:
    ready(page, "clearance")
    page.type(WIDTH, "38.5")
    page.wait(STANDS)
    said = page.text(".hb-headline")
    page.throw_away()
    stands(page)
    page.reload()
    stands(page)
    page.click(HOME)
    page.wait("document.querySelector('.hb-tasks')")
    page.back()
    stands(page)
    page.click(HOME)
    follow_to_clearance(page)
    stands(page)
    page.throw_away()
    stands(page)
    page.wait(f"{STANDS} && document.querySelector('.hb-headline')?.innerText.trim() === {said!r}")


def test_ticks_the_record_and_the_place(page: Left) -> None:
    """At another place there is another list; back at the first, its own."""
    page.open(CHECKLIST)
    choose(page, SITE)
    at(page, SITE)
    page.click(".hb-checklist summary")
    page.type(".hb-checklist-who input", "Second installer")
    page.click(".hb-step:nth-child(1) .hb-tick")
    page.click(".hb-step:nth-child(3) .hb-tick")
    page.type(".hb-record textarea", "by the east wall")
    for again in (page.throw_away, page.reload):
        again()
        at(page, SITE)
        kept(page)
    page.click(HOME)
    page.wait("document.querySelector('.hb-tasks')")
    page.back()
    at(page, SITE)
    kept(page)
    choose(page, OTHER)
    page.wait("!document.querySelectorAll('.hb-tick:checked').length")
    page.throw_away()
    at(page, OTHER)
    assert page.text(".hb-checklist-count").startswith("0 of")
    assert page.text(".hb-checklist-apart") == f"Kept apart on this page: {SITE}, 2 ticked."
    choose(page, SITE)
    kept(page)


def test_the_place_on_the_next_page(page: Left) -> None:
    page.open("index.html")
    choose(page, SITE)
    page.throw_away()
    at(page, SITE)
    page.click(".hb-tasks a[href*='set-the-spot.html']")
    at(page, SITE)
    page.throw_away()
    at(page, SITE)
    assert page.value(".hb-checklist-job input") == SITE
    page.back()
    at(page, SITE)


def test_an_answer_in_its_row_and_what_stood_in_an_open_one(page: Left) -> None:
    page.open("procedures/set-the-spot.html")
    open_row(page)
    page.type("dialog [name=rear_gap]", "1")
    page.wait(STOPPED)
    page.throw_away()
    page.wait("document.querySelector('.hb-work') && !document.querySelector('dialog[open]')")
    open_row(page)
    assert page.value("dialog [name=rear_gap]") == "1"
    page.wait(STOPPED)
    page.click(".hb-back")
    page.wait("!document.querySelector('dialog').open")
    said = page.text(LAST)
    assert re.match(r"\S*\s*Stop", said), said
    page.throw_away()
    page.wait("document.querySelector('.hb-work').hasAttribute('data-answered')")
    assert page.text(LAST) == said
    assert page.value(RECORD).startswith("Stop. ")
