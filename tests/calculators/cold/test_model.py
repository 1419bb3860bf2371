"""Time above the limit against a second model that looks at every minute, on a thousand random logs."""

from __future__ import annotations

import random
from datetime import datetime, timedelta

import pytest

from calculators.cold import logfile, maths
from calculators.cold.maths import Readings
from calculators.core.moments import read_moment

from . import minutes

BEGIN = datetime.fromisoformat("2026-11-28 06:00")
CASES = 1000
GAP = 60


def drawn(seed: int) -> tuple[str, datetime, datetime, float]:
    """A log, the two ends of its window and a limit; a third of the logs holds broken lines and gaps."""
    rng = random.Random(f"minutes {seed}")
    at, lines = BEGIN + timedelta(minutes=rng.randrange(0, 30)), ["time,temperature (°C)"]
    step, broken = rng.choice((3, 10, 15, 30, 60)), rng.random() < 0.33
    degrees = rng.uniform(1, 6)
    for _ in range(rng.randrange(1, 25)):
        degrees = min(max(degrees + rng.uniform(-2.5, 2.5), -3), 20)
        lines.append(f"{at:%Y-%m-%d %H:%M},{'---' if broken and rng.random() < 0.1 else format(degrees, '.1f')}")
        at += timedelta(minutes=step if not broken or rng.random() < 0.9 else rng.choice((61, 90, 200)))
    start = BEGIN + timedelta(minutes=rng.randrange(-50, 40))
    end = at + timedelta(minutes=rng.randrange(0, 100))
    return "\n".join(lines), start, end, rng.choice((4.0, 5.0, 8.0))


def ours(text: str, start: datetime, end: datetime, limit: float) -> tuple[float, float] | None:
    """The calculator's own minutes; None where no reading lies in the window."""
    series = logfile.read(text, "", "")
    first, last = (read_moment(f"{each:%Y-%m-%d %H:%M}") or 0 for each in (start, end))
    inside = [at for at, time in enumerate(series.times) if first <= time <= last]
    if not inside:
        return None
    readings = Readings(*([each[at] for at in inside] for each in (series.times, series.degrees, series.doubts, series.again)),
                        tail=series.lost)  # fmt: skip
    judged = maths.judge(readings, first, last, limit, GAP, ())
    return maths.above(judged.spells, last, maths.Count()), sum(span.minutes for span in judged.silent)


def test_every_minute_of_a_thousand_logs_is_judged_alike() -> None:
    """Above and unknown, to the minute; both happen often enough to mean something."""
    seen = {"above": 0, "dark": 0, "quiet": 0}
    for seed in range(CASES):
        text, start, end, limit = drawn(seed)
        try:
            found = ours(text, start, end, limit)
        except logfile.Unreadable:
            assert not [row for row in minutes.rows(text) if row[1] is not None], text
            continue
        if found is None:
            continue
        told = minutes.minutes(minutes.rows(text), start, end, limit, GAP)
        assert found == pytest.approx(told), (seed, text, start, end, limit)
        seen["above"] += told[0] > 0
        seen["dark"] += told[1] > 0
        seen["quiet"] += told == (0, 0)
    assert min(seen.values()) > 100, seen
