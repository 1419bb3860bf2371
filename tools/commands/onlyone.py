"""One command at a time where two would spoil each other's work, and folders put in place whole."""

from __future__ import annotations

import contextlib
import ctypes
import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

_EXCHANGE = 2  # RENAME_EXCHANGE of linux/fs.h: two names change places in one step
_HERE = -100  # AT_FDCWD: names are taken from the working folder


@contextlib.contextmanager
def alone(folder: Path, waiting: str) -> Iterator[None]:
    """Keep a second command from working on the same folder; it waits, and says so."""
    try:
        import fcntl
    except ImportError:  # Windows: two starts at once are left to chance there.
        yield
        return
    # The folder itself is locked: no file to leave behind, and nothing to clear after a kill.
    handle = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            print(waiting, flush=True)
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def put_in_place(made: Path, place: Path, aside: Path) -> None:
    """Put a finished folder where another stands; a kill at any moment leaves one of the two.

    ``aside`` is where the old one goes where the system cannot exchange two names in one step;
    :func:`recover` brings it back.
    """
    if place.exists() and not exchanged(made, place):
        shutil.rmtree(aside, ignore_errors=True)
        place.rename(aside)
    if not place.exists():
        made.rename(place)
    shutil.rmtree(aside, ignore_errors=True)
    shutil.rmtree(made, ignore_errors=True)  # the old folder, where the two were exchanged


def recover(place: Path, aside: Path) -> bool:
    """Bring back a folder that a kill left aside; return whether there was one."""
    if place.exists() or not aside.exists():
        return False
    aside.rename(place)
    return True


def exchanged(first: Path, second: Path) -> bool:
    """Exchange two folders' names in one step; False where the system cannot."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return bool(rename(_HERE, os.fsencode(first), _HERE, os.fsencode(second), _EXCHANGE) == 0)
