"""The built handbook and the browser it is read in."""

import functools
import time
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, sync_playwright

from tests.browser.rest import Rest

# Seconds after which a state that is waited for is not coming any more. A net for a page that spins for ever, and
# no measure of anything: what is waited for comes after a second, on a machine with ten other things to do after
# ten. One that has come to rest is told sooner. Less than the net round the whole test (pyproject.toml), so that
# the test can say what it waited for.
PATIENCE = 300

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
        yield patient(started)
        started.close()


def patient(started: Browser) -> Browser:
    """A browser whose pages wait as long as we do: the driver's own 30 s are a limit on the machine."""
    for name in ("new_page", "new_context"):
        make = getattr(started, name)

        @functools.wraps(make)
        def made(*args: object, make: Callable = make, **options: object) -> Page | BrowserContext:
            opened = make(*args, **options)
            opened.set_default_timeout(PATIENCE * 1000)
            return opened

        setattr(started, name, made)
    return started


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

    def wait(self, expression: str) -> object:
        """Poll until an expression is true; return its value.

        The driver's own wait helper uses eval, which the policy forbids.
        """
        return until(lambda: self.page.evaluate(expression), expression, (Error,))

    def search(self) -> None:
        """Go to the search field from the keyboard: the key does nothing before the theme's script has come."""
        there = "document.activeElement.matches('.md-search__input')"
        until(lambda: self.page.evaluate(there) or self.page.keyboard.press("s"), "the search field", (Error,))


def until(ask: Callable[[], object], what: str, not_yet: tuple[type[Exception], ...] = ()) -> object:
    """Poll until ``ask`` gives something true, or fail saying what was waited for.

    ``not_yet`` is what ``ask`` may raise while there is nothing to ask: of a page that is still on its way, say.
    """
    end, rest, pause = time.monotonic() + PATIENCE, Rest(), 0.02
    while True:
        try:
            value, said = ask(), ""
        except not_yet as error:
            value, said = None, f" ({error})"
        if value:
            return value
        if rest.reached():
            raise AssertionError(f"the page has come to rest without: {what}{said}")
        if time.monotonic() > end:
            raise AssertionError(f"waited {PATIENCE} s in vain for: {what}{said}")
        time.sleep(pause)  # only how often is asked: no test rests on it
        pause = min(0.5, 1.3 * pause)


@pytest.fixture
def watched(browser: Browser) -> Iterator[Watched]:
    """A fresh page that nothing was stored for."""
    context = browser.new_context()
    yield Watched(context)
    context.close()
