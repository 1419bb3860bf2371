"""The list of a built site's files with their hashes: one file, which the build writes and everything else reads.

It is a script, because a page that was opened as a file can read nothing else. It bears its own hash, so that a damaged
list is told from a damaged file. Standard library only, and nothing else of ours: it also reads a copy on a stick.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

NAME = "manifest-of-files.js"
SHAPE = '(self.HandbookAssets ??= {{}})["files"] = [{told},"{sum}"];\n'
WRITTEN = re.compile(r'\(self\.HandbookAssets \?\?= \{\}\)\["files"\] = \[(\{.*\}),"([0-9a-f]{64})"\];\n')
# What systems put beside everybody's files without a word: no part of a handbook, and no harm to it.
# The pages read it too, so it means the same in both languages.
STRAY = (
    r"(?:^|/)(?:\.DS_Store|\._[^/]*|\.Spotlight-V100|\.Trashes|\.fseventsd|Thumbs\.db|desktop\.ini"
    r"|System Volume Information)(?:/|$)"
)
_IS_STRAY = re.compile(STRAY)
_NAMES_BUILD = re.compile(rb'(?:data-build=|"build": ?)"?([0-9a-f]{16})\b')


class Damaged(ValueError):
    """The list is not as it was written."""


@dataclass(frozen=True)
class Listing:
    """``files`` is the SHA-256 of each file but the list itself, by its path."""

    build: str
    files: Mapping[str, str]

    @property
    def written(self) -> str:
        """The list as it stands in its file."""
        told = json.dumps({"build": self.build, "files": self.files}, ensure_ascii=False, separators=(",", ":"))
        return SHAPE.format(told=told, sum=hashlib.sha256(told.encode()).hexdigest())


@dataclass(frozen=True)
class Differences:
    """Files by path: ``damaged`` differ, ``other`` too and name another build, ``missing`` lack, ``more`` are in no list.

    ``unread`` are there and cannot be read; ``total`` and ``size`` (bytes) are of all files that were looked at.
    """

    damaged: list[str]
    other: list[str]
    missing: list[str]
    more: list[str]
    unread: list[str]
    total: int
    size: int

    @property
    def all(self) -> list[str]:
        """Each file that is not what the list says."""
        return sorted([*self.damaged, *self.other, *self.missing, *self.more, *self.unread])

    @property
    def whole(self) -> bool:
        """Whether all that was built is there, as it was built."""
        return not (self.damaged or self.other or self.missing or self.unread)


def write(site: Path, build_id: str) -> Listing:
    """Write the list of all files but itself; return it."""
    listed = Listing(build_id, hashes(site))
    (site / NAME).write_text(listed.written, encoding="utf-8", newline="\n")
    return listed


def read(site: Path) -> Listing:
    """Return the list of a built site.

    Raises:
        FileNotFoundError: there is none.
        Damaged: it is not as it was written, by so little as one byte.
    """
    try:
        text = (site / NAME).read_bytes().decode()
        found = WRITTEN.fullmatch(text)
        told = json.loads(found[1]) if found else {}
        listed = Listing(told["build"], told["files"])
    except (ValueError, KeyError) as error:
        raise Damaged(NAME) from error
    if listed.written != text:
        raise Damaged(NAME)
    return listed


def hashes(site: Path) -> dict[str, str]:
    """Return the SHA-256 of each file but the list by its path, sorted."""
    return {name: digest(path) for name, path in paths(site).items()}


def paths(site: Path) -> dict[str, Path]:
    """Return each file but the list by its path in the site, sorted."""
    named = {path.relative_to(site).as_posix(): path for path in site.rglob("*") if path.is_file()}
    return {name: named[name] for name in sorted(named) if name != NAME}


def digest(path: Path) -> str:
    """Return the SHA-256 of a file."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def compare(site: Path) -> Differences:
    """Return how a folder differs from its list; for errors see :func:`read`."""
    listed, there = read(site), paths(site)
    found = {name: _state(path, listed, name) for name, path in there.items() if name in listed.files}
    of = {state: [name for name, each in found.items() if each == state] for state in ("damaged", "other", "unread")}
    missing = [name for name in listed.files if name not in there]
    more = [name for name in there if name not in listed.files and not _IS_STRAY.search(name)]
    size = sum(path.stat().st_size for path in there.values())
    return Differences(**of, missing=missing, more=more, total=len(found), size=size)


def _state(path: Path, listed: Listing, name: str) -> str:
    try:
        if digest(path) == listed.files[name]:
            return "good"
        named = _NAMES_BUILD.search(path.read_bytes())
    except OSError:
        return "unread"
    return "other" if named and named[1].decode() != listed.build else "damaged"
