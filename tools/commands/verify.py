"""`verify`: tell whether a built handbook, or a copy of one, is whole, on nothing but Python.

Exit codes: 0 it is exactly what was built; 1 it is not, each file is named; 2 there is no handbook.
"""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Sequence
from pathlib import Path

from tools.post import app, listing

from . import house, place

NO_HANDBOOK = 2
MOST = 40  # names: a screen of them says it, a thousand say no more
AGAIN = "Delete this folder and copy the whole handbook again from where it is good; then run this once more."
STICK = "If a fresh copy is damaged too, use another stick or disk; if the first one is, build it again with --force."
KINDS = (
    ("damaged", "Damaged: not as it was built"),
    ("other", "From another build"),
    ("missing", "Missing"),
    ("unread", "Cannot be read: the disk or stick may be failing"),
    ("more", "Not of this handbook: left over from another build, or put there by somebody"),
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose handbook."""
    parser.add_argument("folder", nargs="?", type=Path, metavar="DIR",
                        help="the built handbook or a copy of it, wherever it lies, or the folder it was built from")  # fmt: skip
    parser.epilog = "Exit codes: 0 it is exactly what was built, 1 it is not, 2 there is no handbook."


def main(args: argparse.Namespace) -> int:
    """Compare and tell; the first lines of this file say what is returned."""
    _speakable()
    site = built(args.folder or house.HERE.usual().site)
    if site is None:
        print(f"There is no handbook in {args.folder}: name the folder that holds its index.html.", file=sys.stderr)
        return NO_HANDBOOK
    try:
        build, found = listing.read(site).build, listing.compare(site)
    except FileNotFoundError:
        return _unlisted(f"{listing.NAME} is missing")
    except (listing.Damaged, OSError):
        return _unlisted(f"{listing.NAME} is damaged")
    print(f"{site}: {found.total} files of build {build}, {found.size / 1e6:.1f} MB.")
    print("\n".join(told(found)))
    return 1 if found.all else 0


def built(folder: Path) -> Path | None:
    """The folder of the built handbook: the one that was named, or the one that was built from it."""
    tries = (folder / place.SITE, folder) if (folder / place.SETTINGS).is_file() else (folder, folder / place.SITE)
    marks = (listing.NAME, app.WORKER, app.WEB_MANIFEST)
    return next((each for each in tries if any((each / mark).is_file() for mark in marks)), None)


def _speakable() -> None:
    """A name that the screen cannot show is no reason to stop."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _unlisted(what: str) -> int:
    print(f"{what}: it is the list of all files, so nothing can be compared.\n{AGAIN}\n{STICK}")
    return 1


def told(found: listing.Differences) -> list[str]:
    """What is wrong, file by file, and what to do about it."""
    if not found.all:
        return ["Every file is as it was built."]
    lines = [line for kind, words in KINDS for line in _group(words, getattr(found, kind))]
    if found.whole:
        return [*lines, "All that was built is there and good. Delete the files that are not of this handbook."]
    return [*lines, AGAIN, STICK]


def _group(words: str, names: Sequence[str]) -> list[str]:
    if not names:
        return []
    left = [f"  … and {len(names) - MOST} more"] if len(names) > MOST else []
    return [f"{words} ({len(names)}):", *(f"  {_printable(name)}" for name in names[:MOST]), *left]


def _printable(name: str) -> str:
    """A file's name, which may be anything, as a screen can show it."""
    return "".join(sign if sign.isprintable() else "?" for sign in name)
