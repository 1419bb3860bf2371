"""Takes out of the pages what all have alike and only scripts use: choice of colors, search, the theme's settings.

It is half of what a page weighs that says little, and does nothing in a browser without scripts. One script puts it
back where it stood, before anything is shown. The theme's inline scripts go along, so that a page holds none.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from . import pages, search

HERE = Path(__file__).parent
SCRIPT = "assets/javascripts/shell.js"
SLOT = "const SHELL = {};"
MARKUP = re.compile(
    r'(?:<form class="md-header__option" data-md-component="palette">|<label class="md-header__button md-icon" for="__search">)'
    r'.*?<ol class="md-search-result__list"[^>]*></ol>(?:</div>){5}(?: ?<button class="hb-here".*?</button>)?',
    re.DOTALL,
)
INLINE = re.compile(r"<script>(.*?)</script>", re.DOTALL)
# The one that differs from page to page: the theme's scripts keep things under the address of the site's root.
SCOPE = re.compile(r'<script>(__md_scope=new URL\()"[^"]*",location(\).*?)</script>', re.DOTALL)
ROOT = '"../../",document.currentScript.src'
# It opens a tab that an address names; no page of ours has tabs.
TABS = re.compile(r'<script>var target=document\.getElementById\([^<]*"__tabbed_"\)\)</script>')


@dataclass(frozen=True)
class Shell:
    """What the pages of a site have alike: markup, the theme's scripts in their order, its settings."""

    markup: str
    scripts: tuple[str, ...]
    settings: Mapping[str, object]

    @property
    def mark(self) -> str:
        """What names all that was taken out."""
        return hashlib.sha256(json.dumps(asdict(self)).encode()).hexdigest()[:16]

    @property
    def script(self) -> str:
        """The script that puts it back."""
        told = json.dumps({"markup": INLINE.sub("", self.markup), "settings": self.settings}, ensure_ascii=False)
        before, slot, after = pages.read(HERE / "shell.js").partition(SLOT)
        if not slot:
            raise ValueError(f"shell.js has no line {SLOT!r} to fill in")
        return "\n".join([f"{before}const SHELL = {told};{after.rstrip()}", *self.scripts, ""])


def of(text: str) -> Shell | None:
    """What a page of the theme has alike with all others; None of a page that has not all of it."""
    markup, scope, settings = MARKUP.search(text), SCOPE.search(text), pages.config(text)
    if not (markup and scope and settings and "search" in settings):
        return None
    scripts = (f"{scope[1]}{ROOT}{scope[2]}", *INLINE.findall(markup[0]))
    return Shell(markup[0], scripts, {**settings, "base": "", "search": search.WORKER})


def page(text: str, shell: Shell | None) -> str:
    """Return a page without what the script puts back; one that has something else there as it is."""
    if shell is None or of(text) != shell:
        return text
    tag = f'<script src="{pages.root(text)}{SCRIPT}"></script>'
    if text.count("__tabbed_") == 1:
        text = TABS.sub("", text, count=1)
    text = pages.CONFIG.sub("", text, count=1)
    return MARKUP.sub(lambda _: tag, SCOPE.sub("", text, count=1), count=1)
