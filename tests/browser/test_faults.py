"""Back, another edition's half, a worker that is gone: no old answer, plain words, a way on."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import until
from tests.browser.test_answer import ROOT, STANDS, left, ready
from tests.browser.test_calculators import STATE
from tests.browser.workers import HOLD

pytestmark = pytest.mark.browser

FAILED = f"{STATE} === 'failed'"
# Words that only the machine says.
MACHINE = re.compile(r"Error|Traceback|Pyodide|undefined|null|wasm|gzip|\bat line\b|Exception|Uncaught", re.IGNORECASE)
# Fills the form in as a browser does that remembers it: values without an event.
RESTORED = """
const late = "%s" !== "DOMContentLoaded";
addEventListener("%s", () => (late ? setTimeout(restore) : restore()));
function restore() {
  document.querySelector("[name=cabinet_width]").value = "38";
  document.querySelector("[name='route.0.kind']").selectedIndex = 2;
  const select = document.querySelector(".hb-presets select");
  if (select) select.selectedIndex = 1;
  // The earliest there is: filled in after the page's script has looked, before it asks.
  if (!late) document.querySelector(".hb-form").dispatchEvent(new Event("focusin", { bubbles: true }));
  window.restored = true;
}
"""

# Names another build in the page before any script of it runs: its question is asked while it is still read.
ANOTHER = """
new MutationObserver((_, watching) => {
  const root = document.querySelector("[data-calculator]");
  if (!root) return;
  watching.disconnect();
  root.dataset.build = "other";
}).observe(document, { childList: true, subtree: true });
"""


def told(page: Any) -> str:
    return str(page.inner_text(".hb-status")) + " " + str(page.inner_text(".hb-pending"))


@pytest.mark.parametrize("event", ["DOMContentLoaded", "load", "pageshow"])
def test_a_form_filled_in_by_the_browser_is_worked_out(event: str, watched: Any, site: Path) -> None:
    """The answer is about what stands in the form, whenever the browser puts it there; no choice of data is claimed."""
    watched.page.add_init_script(RESTORED % (event, event))
    watched.page.goto((site / "calculators" / "clearance.html").as_uri())
    watched.wait(f"window.restored && {STATE} === 'ready' && {STANDS} && {ROOT}.dataset.from === 'reader'")
    page = watched.page
    assert page.input_value("[name=cabinet_width]") == "38"
    given = page.evaluate("document.querySelector('.hb-given').textContent")
    assert "38 in" in given
    assert page.input_value(".hb-presets select") == ""
    assert not page.inner_text(".hb-status").startswith("Ready")


def test_what_was_filled_in_since_is_never_printed_or_copied_with_the_old_answer(watched: Any, site: Path) -> None:
    """A helper that writes into boxes tells nobody: print and copy look for themselves."""
    page = ready(watched, site)
    page.evaluate("() => { window.print = () => { window.printed = true; }; window.hold(); }")
    page.evaluate("document.querySelector('[name=cabinet_width]').value = '38'")
    page.click("[data-do=print]")
    assert page.evaluate("window.printed") is None
    assert left(page) == []
    page.evaluate("window.release()")
    watched.wait(STANDS)
    page.evaluate("window.hold(); document.querySelector('[name=cabinet_width]').value = '38.5'")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert left(page) == []


def test_a_page_kept_for_back_is_worked_out_again(watched: Any, site: Path) -> None:
    """Shown again, it asks; its old answer does not stand meanwhile, and its worker may have gone."""
    page = ready(watched, site)
    page.evaluate("window.hold(); dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    assert left(page) == []
    page.evaluate("window.release()")
    watched.wait(STANDS)
    assert page.evaluate(f"{ROOT}.dataset.from") != "reader"


def test_another_edition_s_half_is_refused_and_stays_refused(watched: Any, site: Path) -> None:
    """At the start and after typing, with the way out in words; the built answer goes with the built values."""
    page = watched.page
    page.add_init_script(ANOTHER)
    page.goto((site / "calculators" / "clearance.html").as_uri())
    watched.wait(FAILED)
    assert "different editions" in page.inner_text(".hb-status")
    assert page.locator(".hb-outcome").count() == 1, "what the page was built with stands beside the built values"
    page.fill("[name=cabinet_width]", "38")
    assert left(page) == []
    page.press("[name=cabinet_width]", "Enter")
    watched.wait("document.querySelector('.hb-pending').textContent.startsWith('Not worked out')")
    page.evaluate("HandbookPython.run('clearance', '{\"inputs\": {}}')")
    assert left(page) == []
    assert page.evaluate(STATE) == "failed"
    page.evaluate("window.same = true")
    page.click("[data-do=again]")
    watched.wait("!window.same && document.readyState === 'complete'")


def test_a_worker_that_is_gone_is_told_and_started_again(watched: Any, site: Path) -> None:
    """A browser ends a worker without a word: no waiting for ever, one button, what was typed stays."""
    watched.page.clock.install()
    page = ready(watched, site)
    page.evaluate("window.workers.at(-1).terminate()")
    page.fill("[name=cabinet_width]", "38")
    page.clock.fast_forward(1_000)
    watched.wait(f"{ROOT}.hasAttribute('aria-busy')")
    page.clock.fast_forward(5_000)
    assert not page.locator("[data-do=again]").is_visible()
    page.clock.fast_forward(30_000)
    watched.wait("!document.querySelector('[data-do=again]').hidden")
    assert "No answer yet" in page.inner_text(".hb-pending")
    assert not MACHINE.search(told(page))
    assert left(page) == []
    page.click("[data-do=again]")
    page.clock.resume()
    watched.wait(f"{STATE} === 'ready' && {STANDS}")
    assert "38 in" in page.evaluate("document.querySelector('.hb-given').textContent")
    assert not page.locator("[data-do=again]").is_visible()


def test_a_worker_that_fails_is_told_and_started_again(watched: Any, site: Path) -> None:
    """An error in the worker itself ends it: the same, at once."""
    page = ready(watched, site)
    page.evaluate("window.hold()")
    page.fill("[name=cabinet_width]", "38")
    watched.wait(f"{ROOT}.hasAttribute('aria-busy') && window.held.length")
    page.evaluate("""() => { window.held = [];
      window.workers.at(-1).onerror(new ErrorEvent("error", { message: "Uncaught RuntimeError: unreachable" })); }""")
    watched.wait(FAILED)
    assert "stopped by themselves" in told(page)
    assert not MACHINE.search(told(page))
    assert left(page) == []
    page.fill("[name=cabinet_width]", "37")
    page.evaluate("window.release()")
    page.click("[data-do=again]")
    watched.wait(f"{STATE} === 'ready' && {STANDS}")
    assert "37 in" in page.evaluate("document.querySelector('.hb-given').textContent")


def test_a_calculation_that_breaks_off_is_told_in_plain_words(watched: Any, site: Path) -> None:
    """Python itself is gone: its words are for nobody, the button is."""
    page = ready(watched, site)
    page.evaluate("""() => { window.run = HandbookPython.run;
      HandbookPython.run = () => Promise.reject(Object.assign(
        new Error("RuntimeError: Pyodide already fatally failed"), { detail: "Traceback (most recent call last)" })); }""")
    page.fill("[name=cabinet_width]", "38")
    watched.wait(FAILED)
    assert "broke off" in told(page)
    assert not MACHINE.search(told(page))
    page.evaluate("() => { HandbookPython.run = window.run; }")
    page.click("[data-do=again]")
    watched.wait(f"{STATE} === 'ready' && {STANDS}")
    assert not watched.complaints


@pytest.mark.parametrize(("part", "words"), [
    ("python-wasm-1.js", "damaged"), ("python-calculators-0.js", "damaged"), ("python-library-0.js", "damaged")])  # fmt: skip
def test_one_changed_character_is_told_as_a_damaged_copy(part: str, words: str, watched: Any, site: Path) -> None:
    """Whichever part it is in: copy the handbook again, not what the machine makes of it."""
    text = (site / "assets" / "runtime" / part).read_text(encoding="utf-16")
    place = len(text) // 2
    changed = text[:place] + ("A" if text[place] != "A" else "B") + text[place + 1 :]
    watched.page.route(f"**/{part}", lambda route: route.fulfill(body=changed.encode("utf-16"), content_type="text/javascript"))
    watched.page.goto((site / "calculators" / "clearance.html").as_uri())
    watched.wait(FAILED)
    said = watched.page.inner_text(".hb-status")
    assert words in said
    assert "copy the whole handbook again" in said.lower()
    assert not MACHINE.search(said)
    assert watched.page.locator(".hb-check-copy").is_visible()


def test_a_part_that_did_not_come_can_be_asked_for_again(watched: Any, site: Path) -> None:
    """The line was gone for a while: the button fetches it, without loading the page anew."""
    page = watched.page
    page.route("**/python-wasm-1.js", lambda route: route.abort())
    page.goto((site / "calculators" / "clearance.html").as_uri())
    watched.wait(FAILED)
    assert "missing: python-wasm-1.js" in page.inner_text(".hb-status")
    page.fill("[name=cabinet_width]", "38")
    assert left(page) == []
    page.unroute("**/python-wasm-1.js")
    page.click("[data-do=again]")
    watched.wait(f"{STATE} === 'ready' && {STANDS}")
    assert "38 in" in page.evaluate("document.querySelector('.hb-given').textContent")


def test_a_slow_line_has_a_minute_for_each_part(watched: Any, site: Path) -> None:
    """As long as parts come it waits; a minute without one is told, and can be tried again."""
    page = watched.page
    page.clock.install()
    kept: list[Any] = []

    def keep(route: Any) -> None:
        kept.append(route)

    page.route("**/python-*.js", keep)
    page.goto((site / "calculators" / "clearance.html").as_uri(), wait_until="domcontentloaded")
    watched.wait(f"{STATE} === 'loading' && document.querySelectorAll('script[src*=python-]').length > 4")
    for number in range(3):
        page.clock.fast_forward(50_000)
        assert page.evaluate(STATE) == "loading", f"part {number}"
        before = page.evaluate("document.querySelectorAll('script[src*=python-]').length")
        kept.pop(0).continue_()
        watched.wait(f"document.querySelectorAll('script[src*=python-]').length < {before}")
        page.evaluate("new Promise((done) => queueMicrotask(done))")
    page.clock.fast_forward(70_000)
    watched.wait(FAILED)
    assert "for a minute" in page.inner_text(".hb-status")
    assert page.locator("[data-do=again]").is_visible()


def test_a_gone_worker_does_not_keep_the_fit_book_from_saving(watched: Any, site: Path) -> None:
    """A new size that nobody can check now is kept: the build reads it all the same."""
    from tests.browser import test_fitbook as book

    page = watched.page
    page.clock.install()
    page.add_init_script(HOLD)
    book.open_book(watched, site)
    page.evaluate("HandbookPython.start()")
    page.evaluate("window.workers.at(-1).terminate()")
    book.fill(page, book.TEST)
    page.get_by_text("The product measured differently").click()
    page.fill("#fit-diameter", "2 3/4")
    page.click("[data-fit-book] [type=submit]")
    watched.wait("document.querySelector('[data-fit-book]').textContent.includes('Checking the new size')")
    page.evaluate("new Promise((done) => queueMicrotask(done))")
    page.clock.fast_forward(30_000)
    watched.wait(f"document.querySelectorAll('{book.ROWS}').length === 1")


def test_what_a_half_copied_folder_lacks_is_told_with_a_way_on(watched: Any, site: Path) -> None:
    """Lists, search and styles are missing: words in place of each, and the page can be read and filled in by hand."""
    page = watched.page
    for lost in ("**/assets/papers.js", "**/assets/places.js", "**/search/search_worker.js", "**/*.css"):
        page.route(lost, lambda route: route.abort())
    page.goto((site / "sites" / "papers.html").as_uri())
    watched.wait("document.querySelector('.hb-notice + .hb-check-copy')")
    assert "list of sites is missing: copy the whole folder again" in page.inner_text(".hb-notice")
    assert page.locator("h1").is_visible()
    page.evaluate("document.querySelector('.hb-here').click()")
    watched.wait("document.querySelector('.hb-where .hb-check-copy')")
    assert "list of places is missing: copy the whole folder again" in page.inner_text(".hb-where")
    page.evaluate("document.querySelector('.hb-where').close()")
    page.fill(".md-search__input", "refund")
    watched.wait("document.querySelector('.md-search-result__meta .hb-check-copy')")
    said = page.inner_text("body")
    assert "Search cannot run here. Copy the whole handbook again." in page.evaluate("document.querySelector('.md-search-result__meta').textContent")
    assert not MACHINE.search(said)
    links = page.evaluate("[...document.querySelectorAll('.hb-check-copy')].map((each) => each.pathname.split('/').slice(-2).join('/'))")
    assert set(links) == {"reference/check-this-copy.html"}


def test_two_tabs_and_a_clock_that_is_wrong(watched: Any, site: Path) -> None:
    """A tick in one tab stands in the other, which then adds its own; a day that cannot be is told beside the tick."""
    page, address = watched.page, (site / "procedures" / "level-and-bear.html").as_uri()
    other = page.context.new_page()
    for each in (page, other):
        each.goto(address)
    page.check(".hb-step:nth-child(1) .hb-tick")
    until(lambda: other.is_checked(".hb-step:nth-child(1) .hb-tick"), "the other tab's tick")
    assert other.locator(".hb-not-kept").count() == 0
    other.clock.set_fixed_time("2019-03-01T12:00:00")
    other.check(".hb-step:nth-child(2) .hb-tick")
    assert "clock says March 1, 2019, which cannot be" in other.inner_text(".hb-step:nth-child(2) .hb-not-kept")
    watched.wait("document.querySelectorAll('.hb-tick:checked').length === 2")
    page.reload()
    watched.wait("document.querySelectorAll('.hb-tick:checked').length === 2")
