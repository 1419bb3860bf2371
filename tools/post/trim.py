"""Takes out of the built site what a handbook in a folder never reads.

Of the theme's 2.6 MB half are source maps and a third are word stemmers of other
languages; a site map for search engines makes no sense in a folder.
"""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from . import pages

UNUSED = (
    "**/*.map",
    "assets/javascripts/lunr",
    "assets/javascripts/workers",
    "search/search_index.json",
    "sitemap.xml",
    "sitemap.xml.gz",
    # Every drawing stands in the pages that show it.
    "assets/drawings",
    "assets/readme.png",
)
SOURCE_MAP = re.compile(r"\n?(?://#|/\*#) sourceMappingURL=[^\n*]*(?:\*/)?\s*$")


def trim(site: Path) -> int:
    """Remove unused files and return the bytes saved. Search must be in place already."""
    before = size(site)
    for pattern in UNUSED:
        for path in sorted(site.glob(pattern)):
            shutil.rmtree(path) if path.is_dir() else path.unlink()
    for path in [*site.rglob("*.min.js"), *site.rglob("*.min.css")]:
        pages.write(path, SOURCE_MAP.sub("\n", pages.read(path)))
    return before - size(site)


def trim_page(text: str) -> str:
    """Return a page without its address on a server: it is read from a folder too."""
    return pages.edit(text, {"link": no_canonical})


def no_canonical(tag: pages.Tag) -> str | None:
    """Drop the link that names the page's one true address."""
    return "" if tag.attributes.get("rel") == "canonical" else None


def size(site: Path) -> int:
    """Return the bytes of all files."""
    return sum(path.stat().st_size for path in site.rglob("*") if path.is_file())
