"""A reader's taps from the first page, counted, and how far the answer is from where the page stands after the last."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Locator, Page

from tests.browser.conftest import Watched

MOST = 3
# Where a part lies, in screens from where the page (or what is opened over it) stood after the last tap; one at the
# edge of the screen moves with it. Below the screen and above it is both a way to scroll.
AWAY = """(part, stood) => { const { top, bottom } = part.getBoundingClientRect();
  let fixed = part;
  while (fixed && getComputedStyle(fixed).position !== "fixed") fixed = fixed.parentElement;
  const over = part.closest("dialog[open]");
  const moved = fixed && fixed !== over ? 0 : (over ? over.scrollTop : scrollY) - stood;
  return Math.max(0, bottom + moved - innerHeight, -(top + moved)) / innerHeight; }"""
STANDS = "() => document.querySelector('dialog[open]')?.scrollTop ?? scrollY"
PLACE = ".hb-here"


class Reader:
    """Somebody with the handbook open on its first page; ``at`` is the place that was said once today."""

    def __init__(self, watched: Watched, address: str, at: str = "") -> None:
        self.watched, self.page = watched, watched.page
        self.taps, self.stood = 0, 0.0
        self.page.goto(address)
        if at:
            self.page.click(PLACE)
            self.page.click(f".hb-where-one:has-text('{at}')")

    def tap(self, target: str | Locator, then: str = "true") -> Page:
        """Press what leads on or chooses, at most one screen away, and wait for what it leads to."""
        part = self.page.locator(target).first if isinstance(target, str) else target
        assert part.evaluate(AWAY, self.stood) <= 1, f"{target} is more than one screen away"
        part.click()
        self.taps += 1
        assert self.taps <= MOST
        self.watched.wait(f"document.readyState === 'complete' && ({then})")
        self.stood = self.page.evaluate(STANDS)
        return self.page

    def read(self, target: str | Locator) -> str:
        """What an answer says that is seen without scrolling more than one screen."""
        part = self.page.locator(target).first if isinstance(target, str) else target
        assert part.is_visible(), f"{target} is not seen"
        away: float = part.evaluate(AWAY, self.stood)
        assert away <= 1, f"{target}: {away:.2f} screens of scrolling"
        assert (self.watched.complaints, self.watched.violations()) == ([], [])
        return " ".join(part.inner_text().split())


def opened(site: Path) -> str:
    """The first page, opened from the folder."""
    return (site / "index.html").as_uri()
