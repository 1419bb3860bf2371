"""Lets the theme's script wait on a calculator's own page, where Python starts with the page."""

from __future__ import annotations

import re
from pathlib import Path

from . import pages

HERE = Path(__file__).parent
SCRIPT = "assets/javascripts/late.js"
EARLY = re.compile(r'<script src="[^"]*assets/js/early\.js"[^>]*>')
THEME = re.compile(r'<script src="([^"]*assets/javascripts/)(bundle\.[^"]*)">')


def install(site: Path) -> None:
    """Write the script that pages call."""
    pages.write(site / SCRIPT, pages.read(HERE / "late.js"))


def page(text: str) -> str:
    """Return a page that starts Python early with the theme's script put off; others as they are."""
    if not EARLY.search(text):
        return text
    return THEME.sub(r'<script src="\1late.js" data-theme="\1\2">', text)
