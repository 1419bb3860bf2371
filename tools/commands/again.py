"""A builder that goes on: `serve` asks it for build after build, and it remembers what has not changed.

Its code stays as it was when it began, so it ends as soon as that is another: whoever asked starts a fresh one. It
shows the pages before their booklets are set, because a reader waits for the first and hardly for the second; what
is shown so is a folder apart, and the site stays the last good one until all of the next is there.
"""

from __future__ import annotations

import queue
import shutil
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from . import build
from .house import ROOT
from .place import Place
from .progress import Trouble

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.memory import Memory

CODE = tuple(name for name in build.SOURCES if name != "docs")
# What it tells whoever asked begins so; all else that it prints is for people.
SIGN = "\x1e"
SHOW, DONE, FAILED, OUTDATED = "show", "done", "failed", "outdated"


class Halted(Exception):
    """There is something newer to build."""


class Draft:
    """The pages of the next site, finished with the booklets of the last one, for as long as theirs are being set."""

    def __init__(self, here: Place, newer: Callable[[], bool]) -> None:
        self.here = here
        self.newer = newer
        # Two in turn: the one that is on show is not written to.
        self.folders = [here.work / "draft", here.work / "draft-2"]

    def show(self, book: Book, staging: Path, finish: Callable[[Path], object]) -> None:
        """Finish a copy of what was written and show it; nothing where the last site lacks one of its booklets."""
        from tools.print.booklets import borrow

        self.folders.reverse()
        folder = self.folders[0]
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(staging, folder)
        if borrow(book, folder, self.here.site):
            finish(folder)
            tell(SHOW, str(folder))
            print("      the pages are on show, with the last booklets until theirs are set", flush=True)

    def halt(self) -> None:
        """Stop a build whose booklets nobody waits for any more."""
        if self.newer():
            raise Halted

    def over(self) -> None:
        """Show the site itself. The draft stays for those who are reading it."""
        tell(SHOW, str(self.here.site))

    def clear(self) -> None:
        """Leave nothing behind."""
        for folder in self.folders:
            shutil.rmtree(folder, ignore_errors=True)


def main(here: Place) -> int:
    """Build whenever a line comes in, until there are no more or the code is another."""
    from tools.memory import Memory

    asked: queue.SimpleQueue[bool] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(asked,), daemon=True).start()
    code, memory = _code(), Memory()
    draft = Draft(here, lambda: not asked.empty())
    draft.clear()  # of a builder that was stopped
    while _wanted(asked):
        if _code() != code:
            tell(OUTDATED)
            break
        _build(here, memory, draft)
    draft.clear()
    return 0


def tell(word: str, more: str = "") -> None:
    """Say something to whoever asked."""
    print(f"{SIGN}{word} {more}", flush=True)


def _build(here: Place, memory: Memory, draft: Draft) -> None:
    try:
        build.build(here, force=False, memory=memory, draft=draft)
    except Halted:
        return
    except Trouble as trouble:
        print(f"\n{trouble}", file=sys.stderr, flush=True)
        tell(FAILED)
    else:
        tell(DONE)
    draft.over()


def _listen(asked: queue.SimpleQueue[bool]) -> None:
    for _ in sys.stdin:
        asked.put(True)
    asked.put(False)  # nobody is there any more


def _wanted(asked: queue.SimpleQueue[bool]) -> bool:
    """Wait for the next wish; several at once are one."""
    wanted = asked.get()
    while wanted and not asked.empty():
        wanted = asked.get()
    return wanted


def _code() -> str:
    return build.fingerprint([ROOT / name for name in CODE])
