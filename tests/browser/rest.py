"""When a page that is waited for has come to rest: nothing more will happen, so waiting longer is idle."""

from __future__ import annotations

import os
import time
from pathlib import Path

PROC = Path("/proc")
# A page at rest spends this little processor time (seconds) in this long (seconds): the asking alone costs a
# third of it. One with work to do gets more than that from any machine, however busy.
LEAST_WORK, QUIET = 1.0, 30.0


class Rest:
    """Watches the processor time of all that this process started; where /proc is missing, never at rest."""

    def __init__(self) -> None:
        self.since, self.spent = time.monotonic(), spent()

    def reached(self) -> bool:
        """Whether there was hardly any work for a while."""
        now = time.monotonic()
        if now - self.since < QUIET:
            return False
        before, self.since, self.spent = self.spent, now, spent()
        return PROC.is_dir() and self.spent - before < LEAST_WORK


def spent() -> float:
    """Seconds of processor time of this process's descendants so far."""
    parents, times = {}, {}
    for each in PROC.glob("[0-9]*/stat"):
        try:
            # The name may hold blanks; what follows its bracket does not.
            words = each.read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()
        except OSError:
            continue  # it ended while we looked
        number = int(each.parent.name)
        parents[number], times[number] = int(words[1]), int(words[11]) + int(words[12])
    ours = sum(ticks for number, ticks in times.items() if _descends(number, parents))
    return ours / os.sysconf("SC_CLK_TCK")


def _descends(number: int, parents: dict[int, int]) -> bool:
    number = parents[number]
    while number in parents:
        if number == os.getpid():
            return True
        number = parents[number]
    return False
