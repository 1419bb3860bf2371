"""The built handbook and the browser it is read in."""

import time
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Every violation of the page's policy is kept where a test can read it.
LISTEN = """
window.violations = [];
document.addEventListener("securitypolicyviolation", (event) =>
  window.violations.push(`${event.effectiveDirective}: ${event.blockedURI} ${event.sample}`));
"""


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    """One Chromium for all tests of a file."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        yield started
        started.close()


class Watched:
    """A page, what it asked for, and what it complained about."""

    def __init__(self, context: BrowserContext) -> None:
        context.add_init_script(LISTEN)
        self.page: Page = context.new_page()
        self.asked: list[str] = []
        self.complaints: list[str] = []
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.on("console", self.note)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def note(self, line: object) -> None:
        """Keep errors and warnings of the console."""
        if line.type in ("error", "warning"):
            self.complaints.append(line.text)

    def violations(self) -> list[str]:
        """Return what the policy refused so far on this page."""
        return self.page.evaluate("window.violations")

    def wait(self, expression: str, seconds: float = 20) -> object:
        """Poll until an expression is true; return its value.

        The driver's own wait helper uses eval, which the policy forbids.
        """
        return until(lambda: self.page.evaluate(expression), expression, seconds)


def until(ask: Callable[[], object], what: str, seconds: float = 20) -> object:
    """Poll until ``ask`` gives something true, or fail saying what was waited for."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if value := ask():
            return value
        time.sleep(0.05)
    raise AssertionError(f"waited {seconds} s in vain for: {what}")


@pytest.fixture
def watched(browser: Browser) -> Iterator[Watched]:
    """A fresh page that nothing was stored for."""
    context = browser.new_context()
    yield Watched(context)
    context.close()
