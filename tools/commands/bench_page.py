"""The page's part of `bench`: the longest task of the page's own thread, in processor time.

Above 50 ms a reader who types feels it. It is measured here and never in a test: what else a machine
does crowds the processor's own stores, and makes any task longer.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from . import build
from .progress import Trouble

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

TASKS = "disabled-by-default-devtools.timeline"
RUNS = 3  # the best of them is the page's own
KEYS = 6
# A field whose search takes long enough to type into, for each calculator that has one.
TYPED = {"float": "sales_per_day", "plan": "days"}
READY = "document.querySelector('[data-calculator]').dataset.state === 'ready'"
BUSY = "document.querySelector('[data-calculator]').hasAttribute('aria-busy')"


def longest_tasks(browser: Browser, names: tuple[str, ...]) -> dict[str, float]:
    """Milliseconds of processor time of the longest task, by what the reader does."""
    found = {f"opening {name}": min(_opening(browser, name) for _ in range(RUNS)) for name in names}
    for name, field in TYPED.items():
        found[f"typing, {name}"] = min(_typing(browser, name, field) for _ in range(RUNS))
    return found


def _opening(browser: Browser, name: str) -> float:
    page = browser.new_page()
    browser.start_tracing(page=page, categories=[TASKS])
    open_form(page, name)
    return _longest(browser, page)


def _typing(browser: Browser, name: str, field: str) -> float:
    page = browser.new_page()
    open_form(page, name)
    page.focus(f"[name={field}]")
    browser.start_tracing(page=page, categories=[TASKS])
    for key in range(KEYS):
        page.keyboard.press("End")
        page.keyboard.press("Backspace")
        page.keyboard.type(str(2 + key))
        until(page, BUSY)
    until(page, f"!{BUSY}")
    return _longest(browser, page)


def open_form(page: Page, name: str) -> None:
    """A calculator's own page, with the answer to its example."""
    page.goto((build.SITE / "calculators" / f"{name}.html").as_uri())
    until(page, READY)


def until(page: Page, expression: str) -> None:
    """Wait for a state of the page."""
    # Polled by hand: the driver's own waiting uses eval, which the page's policy forbids.
    for _ in range(6000):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(10)
    raise Trouble(f"A page has not come so far within a minute: {expression}")


def _longest(browser: Browser, page: Page) -> float:
    events: list[dict[str, Any]] = json.loads(browser.stop_tracing())["traceEvents"]
    page.close()
    threads = {
        (each["pid"], each["tid"]) for each in events
        if each["name"] == "thread_name" and each["args"]["name"] == "CrRendererMain"
    }  # fmt: skip
    return max(
        float(each["tdur"]) / 1000 for each in events
        if each["name"] == "RunTask" and "tdur" in each and (each["pid"], each["tid"]) in threads
    )  # fmt: skip


def told(tasks: dict[str, float]) -> str:
    """The lines that `bench` prints."""
    return "\n".join(
        f"Longest task of the page, {what:18} (goal below 50 ms of processor time): {ms:6.0f} ms"
        for what, ms in tasks.items()
    )
