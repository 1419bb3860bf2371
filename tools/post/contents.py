"""Takes the second copy of a page's contents out of it: the theme writes one for the menu and one for beside the page.

The one beside the page stays; the menu, which is a phone's, gets its copy by a script before the theme's own.
"""

from __future__ import annotations

import re
from pathlib import Path

from . import pages, search

HERE = Path(__file__).parent
SCRIPT = "assets/javascripts/contents.js"
START = '<nav class="md-nav md-nav--secondary" aria-label="{}">'
# As tools/post/accessibility.py tells the two apart.
BESIDE = re.compile(rf"{START.format('On this page')}(.*?</nav>)(?=(?:</div>)+<div class=\"md-content\")", re.DOTALL)


def install(site: Path) -> None:
    """Write the script that copies them."""
    pages.write(site / SCRIPT, pages.read(HERE / "contents.js"))


def page(text: str) -> str:
    """Return a page with its contents once; one that has them once, or two different ones, as it is."""
    beside = BESIDE.search(text)
    before = f'<script src="{pages.root(text)}{search.SHIM}"></script>'
    first = START.format("Table of contents") + beside[1] if beside else ""
    if not beside or text.count(first) != 1 or text.count(before) != 1:
        return text
    script = f'<script src="{pages.root(text)}{SCRIPT}"></script>'
    return text.replace(first, "", 1).replace(before, script + before, 1)
