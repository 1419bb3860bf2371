"""Plain lines that say what is being done, and the one error a person gets to read."""

from __future__ import annotations

import sys
import time
from typing import TextIO


class Trouble(Exception):
    """Something the person at the keyboard can mend; its text says what and how."""


class Progress:
    """Numbers the steps of a job: “[1/4] Making the environment …”."""

    def __init__(self, total: int, stream: TextIO | None = None) -> None:
        self.total = total
        self.done = 0
        self.stream = stream
        self.started = time.monotonic()

    def step(self, text: str) -> None:
        """Say which step begins."""
        self.done += 1
        self._print(f"[{self.done}/{self.total}] {text} …")

    def note(self, text: str) -> None:
        """Say something about the step at hand."""
        self._print(f"      {text}")

    def finish(self, text: str) -> None:
        """Say that all is done, and how long it took."""
        self._print(f"{text} ({time.monotonic() - self.started:.0f} s)")

    def _print(self, line: str) -> None:
        # Flushed, or the lines of a child process would overtake ours in a log.
        print(line, file=self.stream or sys.stdout, flush=True)
