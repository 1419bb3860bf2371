"""What was typed, ticked and written stays, in each engine and from files."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.engines import started
from tests.engines.conftest import program
from tests.engines.page import Page, tab
from tests.engines.test_calculators import HOME, follow_to_clearance, ready

pytestmark = pytest.mark.browser

WIDTH = "[name=cabinet_width]"
STANDS = "!document.querySelector('[data-calculator]').hasAttribute('data-withdrawn')"
TICKED = "document.querySelectorAll('.hb-tick:checked').length"
FULL = """(() => {
  let size = 2 ** 22;
  let text = "";
  while (size >= 1) {
    try {
      localStorage.setItem("full", text + "x".repeat(size));
      text += "x".repeat(size);
    } catch {
      size /= 2;
    }
  }
  return text.length;
})()"""

# Firefox's choice to block all cookies, which blocks all stores with them.
BLOCK = "Services.prefs.setIntPref('network.cookie.cookieBehavior', 2); arguments[0]();"
UNBLOCK = "Services.prefs.clearUserPref('network.cookie.cookieBehavior'); arguments[0]();"


def stands(page: Page) -> None:
    page.wait(f"document.querySelector({WIDTH!r}).value === '38.5'")
    page.wait("document.querySelector('.hb-notice').innerText.includes('still stands')")


def test_what_was_typed_outlives_reload_back_and_a_link(page: Page) -> None:
    ready(page, "clearance")
    page.type(WIDTH, "38.5")
    page.wait(STANDS)
    said = page.text(".hb-headline")
    page.reload()
    stands(page)
    page.click(HOME)
    page.wait("document.querySelector('.hb-tasks')")
    page.back()
    stands(page)
    page.click(HOME)
    follow_to_clearance(page)
    stands(page)
    page.wait(f"{STANDS} && document.querySelector('.hb-headline')?.innerText.trim() === {said!r}")


def test_ticks_and_the_record_are_there_again(page: Page) -> None:
    """After a reload and after another page; where each file has its own store, too."""
    page.open("procedures/level-and-bear.html")
    page.click(".hb-checklist summary")
    page.type(".hb-checklist-who input", "Second installer")
    page.click(".hb-step:nth-child(1) .hb-tick")
    page.click(".hb-step:nth-child(3) .hb-tick")
    page.type(".hb-record textarea", "by the east wall")
    page.reload()
    kept(page)
    page.open("procedures/take-delivery.html")
    assert page.evaluate(TICKED) == 0
    page.back()
    kept(page)


def kept(page: Page) -> None:
    page.wait(f"document.querySelector('.hb-checklist') && {TICKED} === 2")
    assert re.search(r"Ticked .*\d.* by Second installer", page.text(".hb-step:nth-child(1) .hb-done"))
    assert page.value(".hb-record textarea") == "by the east wall"
    assert page.value(".hb-checklist-who input") == "Second installer"


def test_a_full_store_is_told_where_one_ticks(page: Page) -> None:
    page.open("procedures/take-delivery.html")
    assert page.evaluate(FULL) > 1_000_000
    page.reload()
    page.click(".hb-step:nth-child(1) .hb-tick")
    assert "full" in page.text(".hb-said")
    page.evaluate("localStorage.clear()")
    page.click(".hb-step:nth-child(2) .hb-tick")
    assert page.text(".hb-said") == ""
    page.reload()
    page.wait(f"document.querySelector('.hb-checklist') && {TICKED} === 2")


@pytest.fixture(params=["firefox", "webkit"])
def blocked(request: pytest.FixtureRequest, site: Path, tmp_path: Path) -> Iterator[Page]:
    """Each engine as its reader sets it who lets pages keep nothing."""
    if request.param == "webkit":
        driver, display = program("HANDBOOK_WEBKIT", "WebKitWebDriver"), request.getfixturevalue("display")
        with started.webkit(driver, display, tmp_path, "--enable-html5-local-storage=false") as wire:
            yield Page(wire, site)
        return
    firefox = request.getfixturevalue("firefox")
    firefox.own(BLOCK)
    with tab(firefox) as wire:
        yield Page(wire, site)
    firefox.own(UNBLOCK)


def test_a_blocked_store_is_told_where_one_ticks(blocked: Page) -> None:
    blocked.open("procedures/take-delivery.html")
    assert blocked.evaluate("(() => { try { localStorage.length; return false; } catch { return true; } })()")
    blocked.click(".hb-step:nth-child(1) .hb-tick")
    assert blocked.text(".hb-checklist-count").startswith("1 of")
    blocked.click(".hb-checklist summary")
    assert "keeps nothing" in blocked.text(".hb-checklist")


def test_what_was_typed_outlives_a_reload_without_a_store(blocked: Page) -> None:
    ready(blocked, "clearance")
    blocked.type(WIDTH, "38.5")
    blocked.wait(STANDS)
    blocked.reload()
    stands(blocked)
