"""Makes the hosted handbook an app that is installed once and works without a signal.

The service worker keeps every file under the hash of its content: an update fetches
only files that changed, and a broken-off one goes on where it stopped. It is registered
over http(s) only; a folder needs none.
"""

from __future__ import annotations

import functools
import hashlib
import json
from html import escape
from pathlib import Path

from . import icons, listing, pages
from .keep import Keep

HERE = Path(__file__).parent
SCRIPT = "assets/javascripts/app.js"
WORKER = "sw.js"  # at the root: a worker answers only for what lies beside and below it
WEB_MANIFEST = "app.webmanifest"
FAVICON = "assets/images/favicon.png"  # the theme's own name for it
APPLE = "assets/icons/icon-180.png"
ICONS = (
    ("assets/icons/icon-192.png", 192, False),
    ("assets/icons/icon-512.png", 512, False),
    ("assets/icons/icon-192-maskable.png", 192, True),
    ("assets/icons/icon-512-maskable.png", 512, True),
)
# Downloads for taking away are not part of the handbook that is read.
NOT_KEPT = (".zip", ".map", ".gz")
SLOT = "const HANDBOOK = {};"


def install(site: Path, *, site_name: str, accent: str, keep: Keep | None = None) -> None:
    """Write icons, web manifest and the script that pages call."""
    kept = keep or Keep()
    for path, size, maskable in (*ICONS, (APPLE, 180, True), (FAVICON, 48, False)):
        draw = functools.partial(icons.icon, size, accent, maskable=maskable)
        write_bytes(site / path, kept.made(f"icon {size} {accent} {maskable}", draw))
    described = json.dumps(web_manifest(site_name, accent), ensure_ascii=False, indent=2)
    pages.write(site / WEB_MANIFEST, described + "\n")
    pages.write(site / SCRIPT, pages.read(HERE / "app.js"))


def web_manifest(site_name: str, accent: str) -> dict[str, object]:
    """Return what a device shows and does when the handbook is installed."""
    return {
        "name": site_name,
        "short_name": short(site_name),
        "id": "./",
        "start_url": "./index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": accent,
        "icons": [
            {
                "src": path,
                "sizes": f"{size}x{size}",
                "type": "image/png",
                "purpose": "maskable" if maskable else "any",
            }
            for path, size, maskable in ICONS
        ],
    }


def short(name: str) -> str:
    """Return as many whole words of a name as fit under an icon (12 characters)."""
    kept = ""
    for word in name.split():
        if len(f"{kept} {word}".strip()) > 12:
            break
        kept = f"{kept} {word}".strip()
    return kept or name[:12]


def page(text: str, accent: str) -> str:
    """Return a theme page that installs and updates the app; other pages as they are."""
    if pages.config(text) is None:
        return text
    root = pages.root(text)
    head = (
        f'<meta name="theme-color" content="{escape(accent)}">\n  '
        f'<link rel="apple-touch-icon" href="{root}{APPLE}">\n  '
    )
    text = text.replace("</head>", f"{head}</head>", 1)
    return pages.before(text, "</body>", f'<script src="{root}{SCRIPT}" defer></script>\n  ')


def write_worker(site: Path, build_id: str) -> int:
    """Write the service worker for the files as they are now; return the bytes it keeps.

    Nothing of the site may change after this.
    """
    kept = {path: (site / path).read_bytes() for path in kept_files(site)}
    handbook = {
        "build": build_id,
        "files": {path: hashlib.sha256(data).hexdigest() for path, data in kept.items()},
    }
    before, slot, after = pages.read(HERE / "sw.js").partition(SLOT)
    if not slot:
        raise ValueError(f"sw.js has no line {SLOT!r} to fill in")
    written = json.dumps(handbook, ensure_ascii=False, indent=0)
    pages.write(site / WORKER, f"{before}const HANDBOOK = {written};{after}")
    return sum(map(len, kept.values()))


def kept_files(site: Path) -> list[str]:
    """Return the paths of the files an installed handbook holds, sorted."""
    paths = (path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())
    unread = (WORKER, listing.NAME)
    return sorted(path for path in paths if path not in unread and not path.endswith(NOT_KEPT))


def write_bytes(path: Path, data: bytes) -> None:
    """Write a file and the folder it is in."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
