"""Booklets kept from build to build, each under the hash of all that it is made of: what is unchanged is not set again.

An entry that is damaged, or stands under another's name, is as good as none.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.metadata
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tools import sealed

HERE = Path(__file__).parent
PACKAGES = ("beautifulsoup4", "font-source-sans-pro", "pikepdf", "typst")


class Kept:
    """What was made, in a folder; none where that is None."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder
        self._mark = [_code(), *(importlib.metadata.version(name) for name in PACKAGES)]
        self._used: set[Path] = set()

    def made(self, rests_on: Any, make: Callable[[], bytes]) -> bytes:
        """The bytes that ``make`` gives, kept or fresh; ``rests_on`` is plain data that says all they rest on."""
        if self.folder is None:
            return make()
        told = json.dumps([self._mark, rests_on], ensure_ascii=False)
        path = self.folder / hashlib.sha256(told.encode()).hexdigest()
        self._used.add(path)
        with contextlib.suppress(OSError, ValueError):
            return sealed.read(path)
        found = make()
        with contextlib.suppress(OSError):  # no room: the booklet is made all the same
            sealed.write(path, found)
        return found

    def forget_unused(self) -> None:
        """Drop what this build did not ask for."""
        if self.folder is not None:
            sealed.forget(self.folder, self._used)


def _code() -> str:
    """The hash of all that makes a booklet of a page."""
    found = [path for path in sorted(HERE.iterdir()) if path.suffix in (".py", ".typ")]
    return hashlib.sha256(b"".join(hashlib.sha256(path.read_bytes()).digest() for path in found)).hexdigest()


def hash_of(folders: list[Path]) -> str:
    """The hash of drawings by name and content."""
    found = hashlib.sha256()
    for folder in folders:
        for path in sorted(folder.glob("*.svg")):
            found.update(f"{path.name}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
        found.update(b"\0")
    return found.hexdigest()
