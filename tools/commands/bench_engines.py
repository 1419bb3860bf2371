"""The first result in the two engines beside Chromium's: ours against stock and against the floor, in the same run.

The browsers are started as the tests start them, with a fresh store for each page.
"""

from __future__ import annotations

import contextlib
import importlib
import sys
import tempfile
import time
import types
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .browsers import FIREFOX, WEBKIT, XVFB, find
from .house import ROOT
from .progress import Trouble

if TYPE_CHECKING:
    from .progress import Progress

Opened = list[tuple[float, ...]]
Session = Callable[[], contextlib.AbstractContextManager[Any]]

# Ours tells by a mark when the answer to the page's own example stands; the others by a number.
READY_AT = "performance.getEntriesByName('handbook-answered')[0]?.startTime ?? window.readyAt ?? null"
LONGEST = 120  # seconds


def first_results(pages: Sequence[str], runs: int, progress: Progress) -> dict[str, Opened]:
    """Milliseconds from opening to the first result in each engine, the pages in turn."""
    programs = find([FIREFOX, WEBKIT, XVFB], progress)
    started, drawn = _of_the_tests("started"), _of_the_tests("page")
    with tempfile.TemporaryDirectory() as name, contextlib.ExitStack() as stack:
        folder = Path(name)
        firefox = stack.enter_context(started.firefox(programs[FIREFOX], _new(folder, "firefox")))
        display = stack.enter_context(started.screen(programs[XVFB], _new(folder, "screen")))

        engines: dict[str, Session] = {
            "Firefox": lambda: drawn.tab(firefox),
            "WebKitGTK": lambda: started.webkit(programs[WEBKIT], display, Path(tempfile.mkdtemp(dir=folder))),
        }
        return {engine: [tuple(_opened(session, page) for page in pages) for _ in range(runs)] for engine, session in engines.items()}


def _of_the_tests(name: str) -> Any:
    """A module of the tests that starts or drives these browsers; another package may own the name “tests”."""
    ours = types.ModuleType("tests")
    ours.__path__ = [str(ROOT / "tests")]
    sys.modules["tests"] = ours
    return importlib.import_module(f"tests.engines.{name}")


def _new(folder: Path, name: str) -> Path:
    made = folder / name
    made.mkdir()
    return made


def _opened(session: Session, address: str) -> float:
    with session() as wire:
        wire.send("SetTimeouts", pageLoad=LONGEST * 1000, script=LONGEST * 1000, implicit=0)
        wire.send("Navigate", url=address)
        for _ in range(LONGEST * 20):
            ready = wire.send("ExecuteScript", script=f"return {READY_AT};", args=[])
            if ready is not None:
                return float(ready)
            time.sleep(0.05)
    raise Trouble(f"{address} gave no result within {LONGEST} seconds.")
