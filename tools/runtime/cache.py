"""Keeps finished folders between builds, each under the hash of what it was made from."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

KEEP = 6  # cached results of one kind


class Cache:
    """Finished folders, each named by its kind and the hash of its inputs."""

    def __init__(self, root: Path, say: Callable[[str], object]) -> None:
        self.root, self.say = root, say

    def path(self, kind: str, inputs: object) -> Path:
        """Return where this result is, or would be."""
        return self.root / f"{kind}-{digest(inputs)}"

    def holds(self, kind: str, inputs: object) -> bool:
        """Tell whether this result is there."""
        return self.path(kind, inputs).is_dir()

    def folder(self, kind: str, inputs: object, make: Callable[[Path], None]) -> Path:
        """Return the folder of this result, calling `make(folder)` if it is new."""
        target = self.path(kind, inputs)
        if not target.is_dir():
            self.say(f"python runtime: making {kind}")
            self.root.mkdir(parents=True, exist_ok=True)
            self.make_whole(target, make)
            self.forget(kind)
        return target

    def make_whole(self, target: Path, make: Callable[[Path], None]) -> None:
        """Make a result aside and move it in, so that none is ever half there."""
        with tempfile.TemporaryDirectory(dir=self.root) as aside:
            made = Path(aside) / "made"
            made.mkdir()
            make(made)
            if not target.is_dir():  # another build may have been quicker
                os.replace(made, target)

    def forget(self, kind: str) -> None:
        """Drop all but the newest results of a kind."""
        results = sorted(self.root.glob(f"{kind}-*"), key=lambda path: path.stat().st_mtime)
        for old in results[:-KEEP]:
            shutil.rmtree(old, ignore_errors=True)


def digest(inputs: object) -> str:
    """Return a short hash of nested lists, dicts, text and bytes."""
    text = json.dumps(inputs, sort_keys=True, default=lambda data: hashlib.sha256(data).hexdigest())
    return hashlib.sha256(text.encode()).hexdigest()[:20]
