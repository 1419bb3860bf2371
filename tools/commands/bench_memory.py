"""The memory part of `bench`: what a page with its Python holds beyond a blank one, as Linux counts it.

The browser names the process that draws a page (SystemInfo of its remote protocol); of what that shares with other
processes it has its share (PSS in /proc/PID/smaps_rollup, see proc_pid_smaps_rollup(5)).
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from . import bench_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NAMES = ("clearance", "float", "plan")


def megabytes(browser: Browser, names: tuple[str, ...] = NAMES) -> dict[str, float]:
    """Each of these pages with the answer to its example, less a blank page."""
    blank = _held(browser, None)
    return {name: _held(browser, name) - blank for name in names}


def _held(browser: Browser, name: str | None) -> float:
    before = _renderers(browser)
    context = browser.new_context()
    page = context.new_page()
    if name:
        bench_page.open_form(page, name)
    held = sum(map(_share, _renderers(browser) - before))
    context.close()
    return held


def _renderers(browser: Browser) -> set[int]:
    session = browser.new_browser_cdp_session()
    found = session.send("SystemInfo.getProcessInfo")["processInfo"]
    session.detach()
    return {int(each["id"]) for each in found if each["type"] == "renderer"}


def _share(process: int) -> float:
    text = Path(f"/proc/{process}/smaps_rollup").read_text(encoding="ascii")
    found = re.search(r"^Pss: +(\d+) kB$", text, re.MULTILINE)
    return int(found[1]) * 1024 / 1e6 if found else 0.0


def told(found: dict[str, float]) -> str:
    """The figures as lines."""
    return "\n".join(f"Memory of the page with its Python, {name:10} {size:6.0f} MB" for name, size in found.items())
