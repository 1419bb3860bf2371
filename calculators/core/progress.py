"""Work that tells how far it is, and that may be stopped with the best answer so far.

A calculator's ``solve`` may be a generator: it yields a :class:`Progress` now and then, and what
comes back from the yield is True where it must stop soon. It knows no clock; whoever drives it
decides when to look. A calculator's run may yield one :class:`Early` too.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from typing import Any, TypeVar

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Progress:
    """How far the work is: a sentence, and the share done (0 to 1) where one can be told."""

    text: str
    share: float | None = None


@dataclass(frozen=True)
class Early:
    """A first answer, a report like the one at the end but less exact; the work goes on."""

    report: dict[str, Any]


Steps = Generator[Progress, bool | None, Answer]
Run = Generator[Progress | Early, bool | None, dict[str, Any]]


def finish(steps: Generator[object, bool | None, Answer]) -> Answer:
    """Drive work to its end without stopping it."""
    try:
        while True:
            next(steps)
    except StopIteration as end:
        answer: Answer = end.value
        return answer
