"""How quick the hosted pages are: Lighthouse's figure for a phone on a slow line."""

from __future__ import annotations

import functools
import gzip
import http.server
import io
import statistics
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from . import lighthouse

PAGES = {
    "home": "index.html",
    "a procedure": "procedures/level-and-bear.html",
    "clearance": "calculators/clearance.html",
}
PACKED = {".html", ".css", ".js", ".json", ".svg", ".webmanifest"}


class _Quiet(http.server.SimpleHTTPRequestHandler):
    """Says nothing, and packs text as every host does."""

    def send_head(self) -> Any:
        """Send what stands before a file, and return the file."""
        path = Path(self.translate_path(self.path))
        packs = path.suffix in PACKED and path.is_file() and "gzip" in self.headers.get("Accept-Encoding", "")
        if not packs:
            return super().send_head()
        data = gzip.compress(path.read_bytes(), mtime=0)
        self.send_response(http.HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        return io.BytesIO(data)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 - the base class's name
        """Say nothing."""


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a folder on a server of its own; nothing is to be kept by a browser."""
    handler = functools.partial(_Quiet, directory=str(folder))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


def points(node: str, chromium: str, site: Path, runs: int) -> dict[str, list[int]]:
    """The figure of each page, 100 being the best, once a run; the pages in turn."""
    found: dict[str, list[int]] = {name: [] for name in PAGES}
    with served(site) as address:
        for _ in range(runs):
            for name, page in PAGES.items():
                report = lighthouse.ask(node, chromium, address + page, ("performance",))
                found[name].append(report.scores["performance"])
    return found


def told(found: dict[str, list[int]]) -> str:
    """The lines that `bench` prints."""
    return "\n".join(
        f"Lighthouse, speed on a phone, {name:12} (goal 90 of 100): median {statistics.median(each):.0f}"
        f"  ({min(each)} to {max(each)})"
        for name, each in found.items()
    )  # fmt: skip
