"""The scripts of the theme and of our templates: what a page may run besides the files that `tools/post` adds."""

from __future__ import annotations

import hashlib
import importlib.util
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

OURS = Path(__file__).parent / "theme"
SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
# The one thing that differs from page to page in them: the way to the site's root.
HOLE = re.compile(r"\{\{.*?\}\}")
DEEPEST = 8


def inline(site_url: str) -> frozenset[str]:
    """The text of each script that a template writes into a page, for pages at any depth.

    ``site_url`` is where the page for wrong addresses thinks it is.
    """
    path = urlsplit(site_url or "/").path
    ways = (".", "..", *("/".join([".."] * depth) for depth in range(2, DEEPEST)), path, path.rstrip("/"))
    written = {body for folder in (_theme(), OURS) for body in _bodies(folder)}
    return frozenset(HOLE.sub(lambda _, way=way: way, body) for body in written for way in ways)  # type: ignore[misc]


def files(docs: Path) -> frozenset[str]:
    """The SHA-256 of each script file of the theme and of our pages."""
    found = [*_theme().rglob("*.js"), *(docs / "assets" / "js").rglob("*.js")]
    return frozenset(hashlib.sha256(path.read_bytes()).hexdigest() for path in found)


def _bodies(folder: Path) -> Iterator[str]:
    for path in folder.rglob("*.html"):
        yield from SCRIPT.findall(path.read_text(encoding="utf-8"))


def _theme() -> Path:
    found = importlib.util.find_spec("material")
    if found is None or found.origin is None:  # pragma: no cover - no page was built without it
        raise ModuleNotFoundError("material")
    return Path(found.origin).parent / "templates"
