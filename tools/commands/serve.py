"""`serve`: show the built handbook on this machine, and build it again when a source changes.

What is shown is the built folder itself, not a preview: what runs here is what readers get. For as long as booklets
are being set, that is a folder apart with those of the last build. The builder is a process that goes on and remembers
(`again.py`); a change of our own code has a fresh one, and a build that fails leaves the last good handbook on show.
"""

from __future__ import annotations

import argparse
import functools
import http.server
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import IO, Any

from . import again, place
from .build import files
from .house import ROOT
from .progress import Trouble

SOURCES = ("docs", "calculators", "tools", "mkdocs.yml")
LOOK = 0.3  # seconds between two looks at the sources
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
    shown = [args.site or place.of(args.folder).site]
    # A folder that was named stays on show.
    builder = None if args.built else Builder(args.folder, _nowhere if args.site else functools.partial(shown.__setitem__, 0))
    before = changes(builder.places) if builder else {}
    if builder:
        builder.ask()
        builder.wait()
    if not (shown[0] / "index.html").is_file():
        raise Trouble(f"There is no handbook in {shown[0]} yet: run the command “build” first.")
    with open_server(lambda: shown[0], args.port) as server:
        print(f"http://localhost:{server.server_port}/ (stop with Ctrl-C)", flush=True)
        if builder:
            threading.Thread(target=keep_building, args=(builder, before), daemon=True).start()
        server.serve_forever()
    return 0


def _nowhere(_: Path) -> None:
    """Show nothing else."""


def open_server(shown: Callable[[], Path], port: int) -> http.server.ThreadingHTTPServer:
    """Return a server that this machine alone can reach, of the folder that is shown; Trouble if the port is taken."""

    def handler(*asked: Any) -> Handler:
        return Handler(*asked, directory=str(shown()))

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


class Builder:
    """The process that builds, begun when it is asked for the first time and again where it has ended.

    ``show`` is told which folder to show from now on.
    """

    def __init__(self, folder: Path | None, show: Callable[[Path], object]) -> None:
        self.folder = folder
        self.show = show
        self.places = [*(ROOT / name for name in SOURCES), *([folder] if folder else [])]
        self._process: subprocess.Popen[str] | None = None
        self._lock = threading.RLock()
        self._rest = threading.Event()

    def ask(self) -> None:
        """Have the handbook built as its sources are now; what is being built and is older is left."""
        with self._lock:
            self._rest.clear()
            if self._process is None or self._process.poll() is not None:
                self._process = self._begun()
            try:
                _pipe(self._process.stdin).write("build\n")
                _pipe(self._process.stdin).flush()
            except BrokenPipeError:
                self._process.wait()  # it has just ended
                self.ask()

    def wait(self) -> None:
        """Wait for what was asked; the builder's own words say what is wrong."""
        self._rest.wait()

    def _begun(self) -> subprocess.Popen[str]:
        command = [sys.executable, "-X", "utf8", str(ROOT / "tools" / "handbook.py"), "build",
                   *([str(self.folder)] if self.folder else []), "--again"]  # fmt: skip
        begun = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8")
        threading.Thread(target=self._listen, args=(begun,), daemon=True).start()
        return begun

    def _listen(self, process: subprocess.Popen[str]) -> None:
        outdated = False
        for line in _pipe(process.stdout):
            if not line.startswith(again.SIGN):
                print(line, end="", flush=True)
                continue
            word, _, more = line[len(again.SIGN) :].rstrip("\n").partition(" ")
            outdated = outdated or word == again.OUTDATED
            self._heard(word, more)
        process.wait()
        if outdated:
            self.ask()
            return
        with self._lock:
            if process is self._process:
                self._rest.set()

    def _heard(self, word: str, more: str) -> None:
        if word == again.SHOW:
            self.show(Path(more))
        elif word != again.OUTDATED:
            self._rest.set()


def _pipe(end: IO[str] | None) -> IO[str]:
    if end is None:
        raise ValueError("the builder was begun without a pipe")
    return end


def keep_building(builder: Builder, before: Mapping[Path, tuple[int, int]]) -> None:
    """Build again after each change, for ever; ``before`` is how the sources were when it was last asked."""
    while True:
        time.sleep(LOOK)
        now = changes(builder.places)
        if now != before:
            print("A source has changed.", flush=True)
            before = now
            builder.ask()


def changes(places: Iterable[Path]) -> dict[Path, tuple[int, int]]:
    """Return size and time of every source, to be compared with a later look."""
    stats = ((path, path.stat()) for top in places for path in files(top))
    return {path: (stat.st_size, stat.st_mtime_ns) for path, stat in stats}
