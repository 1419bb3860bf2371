"""Logs of temperatures for tests: whole ones and broken ones, near the examples of the forms."""

from __future__ import annotations

import random
from datetime import datetime, timedelta

END = datetime.fromisoformat("2026-11-28 10:45")
BROKEN = ("#N/A", "---", "", "NaN", "85000")


def line(at: datetime, degrees: float, cell: str = "") -> str:
    """A line as an instrument writes it."""
    return f"{at:%Y-%m-%d %H:%M},{cell or format(degrees, '.1f')}"


def random_log(rng: random.Random) -> str:
    """A short log in °C: mostly cold, with a warm spell now and then, seldom a broken line, a gap or a clock put back."""
    step = rng.choice((5, 10, 15, 30, 60))
    minutes, degrees, rows = 0, rng.uniform(0, 5), []
    trouble = rng.random() < 0.3
    for _ in range(rng.randrange(1, 30)):
        degrees = min(max(degrees + rng.uniform(-3, 3), -4), 25) if rng.random() < 0.3 else degrees
        rows.append((minutes, degrees, rng.choice(BROKEN) if trouble and rng.random() < 0.1 else ""))
        minutes += step if not trouble or rng.random() < 0.9 else rng.choice((-60, 0, 75, 300))
    begin = END - timedelta(minutes=max(row[0] for row in rows) + rng.randrange(0, 90))
    return "\n".join(["time,temperature (°C)", *(line(begin + timedelta(minutes=at), *rest) for at, *rest in rows)])


SOME = tuple(random_log(random.Random(f"some logs {seed}")) for seed in range(24))
