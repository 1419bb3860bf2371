"""`serve`: show the built handbook on this machine, and build it again when a source changes.

What is shown is the built folder itself, not a preview: what runs here is what readers get.
Each build is a new process, so that a change of our own code counts too, and a build that
fails leaves the last good handbook on show.
"""

from __future__ import annotations

import argparse
import functools
import http.server
import subprocess
import sys
import threading
import time
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from . import place
from .build import LEFT
from .house import ROOT
from .progress import Trouble

SOURCES = ("docs", "calculators", "tools", "mkdocs.yml")
TYPES = {
    **http.server.SimpleHTTPRequestHandler.extensions_map,
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which folder, which port, and whether to build."""
    place.add_argument(parser)
    parser.add_argument("--built", action="store_true", help="only show what is built already")
    parser.add_argument("--port", type=int, default=8000, help="default 8000; 0 takes a free one")
    parser.add_argument("--site", type=Path, help="the built folder (default: site)")


def layers(args: argparse.Namespace) -> Sequence[str]:
    """Return what it needs: showing a folder needs nothing but Python."""
    return () if args.built else ("build",)


def main(args: argparse.Namespace) -> int:
    """Serve until interrupted."""
    site = args.site or place.of(args.folder).site
    if not args.built:
        build(args.folder)
    if not (site / "index.html").is_file():
        raise Trouble(f"There is no handbook in {site} yet: run the command “build” first.")
    with open_server(site, args.port) as server:
        print(f"http://localhost:{server.server_port}/ (stop with Ctrl-C)", flush=True)
        if not args.built:
            threading.Thread(target=keep_building, args=(args.folder,), daemon=True).start()
        server.serve_forever()
    return 0


def open_server(folder: Path, port: int) -> http.server.ThreadingHTTPServer:
    """Return a server of the folder that this machine alone can reach; Trouble if the port is taken."""
    handler = functools.partial(Handler, directory=str(folder))
    try:
        return http.server.ThreadingHTTPServer(("127.0.0.1", port), handler)
    except OSError as error:
        raise Trouble(f"Port {port} cannot be used ({error.strerror}): try --port 0.") from error


class Handler(http.server.SimpleHTTPRequestHandler):
    """Serves files with the types that a page needs, whatever this machine's own list says."""

    extensions_map = TYPES

    def end_headers(self) -> None:
        """Have the browser ask again each time: a stale page misleads the writer."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the parent's name
        """Print what was not found, and nothing else."""
        if args[1:2] and str(args[1]).startswith(("4", "5")):
            super().log_message(format, *args)


def build(folder: Path | None) -> bool:
    """Build in a new process; whether it went well. Its own words say what is wrong."""
    command = [sys.executable, str(ROOT / "tools" / "handbook.py"), "build", *([str(folder)] if folder else [])]
    return subprocess.run(command, check=False).returncode == 0


def keep_building(folder: Path | None) -> None:
    """Build again after each change, for ever."""
    places = [*(ROOT / name for name in SOURCES), *([folder] if folder else [])]
    before = changes(places)
    while True:
        time.sleep(1)
        now = changes(places)
        if now != before:
            print("A source has changed.", flush=True)
            before = now
            build(folder)


def changes(places: Iterable[Path]) -> dict[Path, tuple[int, int]]:
    """Return size and time of every source, to be compared with a later look."""
    stats = ((path, path.stat()) for path in sources(places))
    return {path: (stat.st_size, stat.st_mtime_ns) for path, stat in stats}


def sources(places: Iterable[Path]) -> Iterator[Path]:
    """Yield the files a build reads; not what building and Python leave behind."""
    for top in places:
        for path in [top, *top.rglob("*")]:
            if path.is_file() and not set(LEFT) & set(path.relative_to(top.parent).parts[1:]):
                yield path
