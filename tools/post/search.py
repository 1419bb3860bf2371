"""Makes the theme's search work from a folder: no request, no worker from a file.

The theme asks a server for the index and for its worker's file as soon as a page opens.
Here both are classic scripts, added only when somebody searches, and the worker starts
from a blob that holds its whole source. It is a worker of ours in the place of the theme's: that one
knows neither what people say nor what comes first (``finder.js``). The texts that are searched come
with it, packed: the theme's page only hands them on, and lists what is found.

Five places of the theme's bundle decide that, so they are patched; each must be found
exactly once, else the build stops. (Replacing window.Worker instead, as the theme's own
offline plugin does, breaks every other worker of the page.)
"""

from __future__ import annotations

import base64
import gzip
import json
from pathlib import Path

from . import bundle, pages

HERE = Path(__file__).parent
SHIM = "assets/javascripts/search.js"
INDEX = "search/search_index.js"  # the bundle's own name for it
WORKER = "search/search_worker.js"
PATCHES = (
    # The worker's stand-in of search.js, which loads it on the first message.
    (r"=new Worker\((\w+)\)", r"=new HandbookSearchWorker(\1)"),
    # The index comes from a script tag, over http too …
    (r'location\.protocol==="file:"\?(?=\w+\(`\$\{new URL\("search/search_index\.js")', "!0?"),
    # … and only once the search field has been opened.
    (r'(?<=\()location\.protocol!=="file:"\)', "!1)"),
    # Marking words on a page wants the index too, even where there are none to mark.
    (r'(\w+\("search\.highlight"\))\?', r'\1&&location.search.includes("h=")?'),
    # A hit is one line, also where it leads to a part of its page.
    (r'!`\$\{new URL\(\w+\.location,\w+\.base\)\}`\.includes\("#"\)', "!0"),
)
SOURCES = ("stem.js", "finder.js", "found.js")


def install(site: Path) -> None:
    """Write index and worker as scripts and patch the theme's bundle.

    Raises:
        Problems: the theme is another version than the one this was written for.
    """
    index = pages.read(site / "search" / "search_index.json")
    texts = json.dumps(json.loads(index)["docs"], ensure_ascii=False).encode()
    settings = {**json.loads(index), "docs": []}
    pages.write(site / INDEX, f"var __index = {json.dumps(settings)};\n")
    pages.write(site / WORKER, worker_script() + asset("search-docs", literal(packed(texts))))
    pages.write(site / SHIM, pages.read(HERE / "search.js"))
    bundle.patch(site, PATCHES)


def worker_script() -> str:
    """Return the script that hands over the worker's whole source."""
    return asset("search-worker", literal("\n".join(pages.read(HERE / name) for name in SOURCES)))


def asset(name: str, value: str) -> str:
    """Return the statement that hands over a value, itself JavaScript."""
    return f'(self.HandbookAssets ??= {{}})["{name}"] = {value};\n'


def packed(data: bytes) -> str:
    """Return gzip in base64, the same from build to build."""
    return base64.b64encode(gzip.compress(data, 9, mtime=0)).decode()


def page(text: str) -> str:
    """Return a theme page whose search uses the scripts; other pages as they are."""
    settings = pages.config(text)
    if settings is None or "search" not in settings:
        return text
    root = pages.root(text)
    text = pages.with_config(text, {**settings, "search": root + WORKER})
    theme = f'<script src="{root}assets/javascripts/bundle.'
    return pages.before(text, theme, f'<script src="{root}{SHIM}"></script>\n      ')


def literal(text: str) -> str:
    """Return text as a JavaScript string."""
    return json.dumps(text, ensure_ascii=False)
