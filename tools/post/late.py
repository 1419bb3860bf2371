"""Lets the theme's script wait on a calculator's own page, where Python starts with the page."""

from __future__ import annotations

import re
from pathlib import Path

from . import bundle, pages

HERE = Path(__file__).parent
SCRIPT = "assets/javascripts/late.js"
EARLY = re.compile(r'<script src="[^"]*assets/js/early\.js"[^>]*>')
PATCHES = (
    # What the theme does to a page (marks of words, places in the contents) waits for the page to be read, which is over.
    (
        r'(\w+\(document,"DOMContentLoaded",\{once:!0\}\)\.subscribe\(\(\)=>)(\w+\.next\(document\))\)',
        r'document.readyState==="loading"?\1\2):\2',
    ),
)
THEME = re.compile(r'<script src="([^"]*assets/javascripts/)(bundle\.[^"]*)">')


def install(site: Path) -> None:
    """Write the script that pages call, and let the theme's begin on a page that is read already.

    Raises:
        Problems: the theme is another version than the one this was written for.
    """
    pages.write(site / SCRIPT, pages.read(HERE / "late.js"))
    bundle.patch(site, PATCHES)


def page(text: str) -> str:
    """Return a page that starts Python early with the theme's script put off; others as they are."""
    if not EARLY.search(text):
        return text
    return THEME.sub(r'<script src="\1late.js" data-theme="\1\2">', text)
