"""Fuzzes what a page takes from outside, in a browser: links, lists in its store, files that are opened (`page.js`)."""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
# Pages that read what is thrown, by target.
PAGES = {
    "links": ("calculators/clearance.html", "calculators/float.html", "calculators/cold.html"),
    "shelves": ("procedures/level-and-bear.html", "reference/fit-book.html", "reference/card-form.html", "calculators/cash.html"),
    "files": ("procedures/level-and-bear.html", "reference/fit-book.html", "calculators/cold.html"),
}
AT_ONCE = 2000  # between two looks at the clock


def fuzz(site: Path, chromium: str, target: str, runs: int, seconds: float, seed: int,
         say: Callable[[str], object]) -> tuple[int, list[dict[str, Any]]]:  # fmt: skip
    """Throw so many texts, or for so long; how many they were, and the faults: page, text, why."""
    from playwright.sync_api import sync_playwright

    until, done, faults = time.monotonic() + seconds, 0, []
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for number in itertools.count():
            if done >= runs or (seconds and time.monotonic() > until):
                break
            name = PAGES[target][number % len(PAGES[target])]
            found = _round(browser, site / name, target, seed * 1_000_003 + number)
            done += found["done"]
            faults += [{**each, "page": name} for each in found["faults"]]
            say(f"{target}: {done} of {runs}, {len(faults)} faults")
        browser.close()
    return done, faults


def _round(browser: Any, page: Path, target: str, seed: int) -> dict[str, Any]:
    """One round in a page of its own, whose store is empty."""
    context = browser.new_context(bypass_csp=True)
    opened = context.new_page()
    opened.goto(page.as_uri())
    opened.wait_for_load_state("load")
    opened.evaluate((HERE / "page.js").read_text(encoding="utf-8"))
    found: dict[str, Any] = opened.evaluate("([target, runs, seed]) => HandbookFuzz.run(target, runs, seed)", [target, AT_ONCE, seed])
    context.close()
    return found
