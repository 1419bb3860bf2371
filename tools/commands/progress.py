"""Plain lines that say what is being done, and the one error a person gets to read."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import TextIO


class Trouble(Exception):
    """Something the person at the keyboard can mend; its text says what and how."""


class Pace:
    """Tells how far a long job is and about how long it will take yet, a line each few seconds at most."""

    SECONDS = 5.0  # between two lines; a job that ends sooner is not told of

    def __init__(self, say: Callable[[str], object], what: str, clock: Callable[[], float] = time.monotonic) -> None:
        self.say, self.what, self.clock = say, what, clock
        self.began = self.said = self.last = clock()
        self.done = self.total = 0

    def __call__(self, done: int, total: int) -> None:
        """``done`` of ``total`` are done; the count may begin anew."""
        now = self.clock()
        if total != self.total or done < self.done:
            self.began = self.last
        self.last, self.done, self.total = now, done, total
        if now - self.said < self.SECONDS or not 0 < done < total:
            return
        self.said = now
        left = (now - self.began) / done * (total - done)
        self.say(f"{self.what}: {done:,} of {total:,} done, about {_spoken(left)} left")


def _spoken(seconds: float) -> str:
    return f"{seconds / 60:.0f} min" if seconds > 90 else f"{seconds:.0f} s"


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
