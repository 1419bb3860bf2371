"""A long log's part of `bench`: processor time of the page that reads and judges 10,000 lines.

All threads of the page count, its worker with Python above all, as the browser's own books have them
(SystemInfo of its remote protocol). What the clock on the wall shows depends on what else a machine does.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from . import bench_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser

LINES = 10_000
GOAL = 2.0  # s
RUNS = 3  # the least of them is the page's own
BEGIN = datetime.fromisoformat("2026-11-21 12:00")  # so that its last line is just before the "now" of the form's example
PUT_IN = f"{BEGIN:%Y-%m-%dT%H:%M}"
ROOT = "document.querySelector('[data-calculator]')"
ANSWERED = f"!!({ROOT}.dataset.outcome && !{ROOT}.hasAttribute('data-withdrawn') && !{bench_page.BUSY})"
READ = f"document.querySelector('.hb-log-said').textContent.startsWith('{LINES + 1} lines') && {ANSWERED}"


def seconds(browser: Browser) -> dict[str, float]:
    """Seconds of processor time, from opening the file to the answer in the page, by the kind of log."""
    return {what: min(_one(browser, what) for _ in range(RUNS)) for what in KINDS}


def whole(number: int) -> str:
    """A reading that nothing is wrong with; warm for ten minutes of every day."""
    return f"{BEGIN + timedelta(minutes=number):%Y-%m-%d %H:%M},{9.5 if number % 1440 < 10 else 2.0 + number % 7 / 10:.1f}"


def broken(number: int) -> str:
    """The same with something the matter with every sixth line: no reading, another scale, a time that stands there twice."""
    kinds = {3: "---", 9: "35.6 °F"}
    at = BEGIN + timedelta(minutes=number - (number % 18 == 12))
    return f"{at:%Y-%m-%d %H:%M},{kinds.get(number % 18, f'{2.0 + number % 7 / 10:.1f}')}"


KINDS = {"whole": whole, "broken": broken}


def lines(what: str) -> Iterator[str]:
    """The log's lines, its heading first."""
    yield "time,temperature (°C)"
    yield from map(KINDS[what], range(LINES))


def _one(browser: Browser, what: str) -> float:
    page = browser.new_page()
    bench_page.open_form(page, "cold")
    page.locator("input[name=put_in]").fill(PUT_IN)
    bench_page.until(page, ANSWERED)
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "log.csv"
        path.write_text("\n".join(lines(what)), encoding="utf-8")
        before = _used(browser)
        page.set_input_files(".hb-log input[type=file]", path)
        bench_page.until(page, READ)
        used = _used(browser) - before
    page.close()
    return used


def _used(browser: Browser) -> float:
    """Seconds of processor time that all pages have used so far."""
    session = browser.new_browser_cdp_session()
    listed = session.send("SystemInfo.getProcessInfo")["processInfo"]
    session.detach()
    return sum(float(each["cpuTime"]) for each in listed if each["type"] == "renderer")


def told(used: dict[str, float]) -> str:
    """The lines that `bench` prints."""
    return "\n".join(f"A log of {LINES:,} lines in the page, {what:8} (goal below {GOAL:g} s of processor time): {each:6.2f} s"
                     for what, each in used.items())
