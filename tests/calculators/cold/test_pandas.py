"""Time above the limit and time unknown against pandas, on a thousand random logs at once.

The logs hold what test_model.py's have not: lines out of order, times that stand there twice, alike or not, and cells in
the other scale; besides gaps and cells that are no reading.
"""

from __future__ import annotations

import io
import random
from datetime import datetime, timedelta

import pandas
import pytest

from .test_model import GAP, ours

BEGIN = datetime.fromisoformat("2026-11-28 06:00")
CASES = 1000
HOUR = 60.0
HEAD = "time,temperature (°C)"


def drawn(seed: int) -> tuple[list[str], datetime, datetime, float]:
    """The lines of a log, the two ends of its window and a limit."""
    rng = random.Random(f"pandas {seed}")
    at, degrees, step = BEGIN + timedelta(minutes=rng.randrange(0, 30)), rng.uniform(1, 6), rng.choice((3, 10, 15, 30, 60))
    trouble, lines = rng.choice(("none", "broken", "order", "twice", "scale")), []
    drift = rng.choice((0.3, 2.5))
    for _ in range(rng.randrange(3, 30)):
        degrees = min(max(degrees + rng.uniform(-drift, drift), -3), 20)
        cell = f"{1.8 * degrees + 32:.1f} °F" if trouble == "scale" and rng.random() < 0.3 else f"{degrees:.1f}"
        lines.append(f"{at:%Y-%m-%d %H:%M},{rng.choice(('---', '#N/A', 'ERR')) if trouble == 'broken' and rng.random() < 0.1 else cell}")
        if trouble == "twice" and rng.random() < 0.08:
            lines.append(f"{at:%Y-%m-%d %H:%M},{cell if rng.random() < 0.5 else format(degrees + rng.uniform(-4, 4), '.1f')}")
        at += timedelta(minutes=step if rng.random() < 0.98 else rng.choice((61, 90, 200)))
    if trouble == "order" and len(lines) > 4:
        place = rng.randrange(0, len(lines) - 3)  # the last lines stay: what goes back there may be a clock
        lines[place], lines[place + 1] = lines[place + 1], lines[place]
    start, end = BEGIN + timedelta(minutes=rng.randrange(-50, 40)), at + timedelta(minutes=rng.randrange(0, 100))
    return lines, start, end, rng.choice((4.0, 5.0, 8.0))


def readings(cases: list[tuple[list[str], datetime, datetime, float]]) -> pandas.DataFrame:
    """Every line of every log: when, how warm in °C, and how many lines of its log told nothing up to it."""
    text = "\n".join(f"{log},{line}" for log, (lines, *_) in enumerate(cases) for line in lines)
    frame = pandas.read_csv(io.StringIO(text), names=["log", "time", "cell"], keep_default_na=False)
    cells = frame["cell"].astype(str).str.extract(r"^(-?[\d.]+)(?: °(F))?$")
    degrees = pandas.to_numeric(cells[0])
    frame["degrees"] = degrees.where(cells[1] != "F", (degrees - 32) / 1.8)
    frame["at"] = (pandas.to_datetime(frame["time"]) - BEGIN).dt.total_seconds() / 60
    frame["lost"] = frame["degrees"].isna().groupby(frame["log"]).cumsum()
    return frame


def steps(frame: pandas.DataFrame, window: pandas.DataFrame) -> pandas.DataFrame:
    """Each time of a reading in its window, once: the warmest of it, what is in doubt, and what stands before it."""
    known = frame.dropna(subset="degrees").copy()
    known["torn"] = known["lost"] > known.groupby("log")["lost"].shift().fillna(0)
    once = known.groupby(["log", "at"]).agg(degrees=("degrees", "max"), kinds=("degrees", "nunique"), lines=("degrees", "size"),
                                            torn=("torn", "any"), lost=("lost", "max")).reset_index()  # fmt: skip
    once = once.join(window, on="log")
    once = once[once["at"].between(once["start"], once["end"])].copy()
    once["before"] = once.groupby("log")["at"].shift().fillna(once["start"])
    once["is_warm"] = once["degrees"] > once["limit"]
    once["warm"] = once["is_warm"] | once.groupby("log")["is_warm"].shift(fill_value=False)
    return once


def minutes(cases: list[tuple[list[str], datetime, datetime, float]]) -> pandas.DataFrame:
    """Minutes above the limit and minutes unknown of each log that has a reading in its window."""
    window = pandas.DataFrame([((start - BEGIN).total_seconds() / 60, (end - BEGIN).total_seconds() / 60, limit)
                               for _, start, end, limit in cases], columns=["start", "end", "limit"])  # fmt: skip
    frame = readings(cases)
    once = steps(frame, window)
    way, more = once["at"] - once["before"], HOUR * (once["kinds"] > 1)
    silent = once["torn"] | (once["kinds"] > 1) | (way > GAP)
    once["above"] = way.where(once["warm"], 0)
    once["dark"] = (way.where(~once["warm"], 0) + more).where(silent, 0) + HOUR * ((once["lines"] > once["kinds"]) & once["is_warm"])
    found = once.groupby("log")[["above", "dark"]].sum()
    last = once.groupby("log").last()
    rest, tail = last["end"] - last["at"], frame.groupby("log")["lost"].last().reindex(last.index) > last["lost"]
    found["above"] += rest.where(last["is_warm"], 0)
    found["dark"] += rest.where(~last["is_warm"] & (tail | (rest > GAP)), 0)
    return found


def test_a_thousand_logs_are_judged_as_pandas_judges_them() -> None:
    """To the minute; each kind of time happens often enough to mean something."""
    cases = [drawn(seed) for seed in range(CASES)]
    told = minutes(cases)
    assert len(told) > 0.95 * CASES
    for log, (above, dark) in zip(told.index, told.to_numpy(), strict=True):
        lines, start, end, limit = cases[log]
        assert ours("\n".join([HEAD, *lines]), start, end, limit) == pytest.approx((above, dark)), (log, lines, start, end, limit)
    seen = [(told["above"] > 0).sum(), (told["dark"] > 0).sum(), (told.sum(axis=1) == 0).sum()]
    assert min(seen) > 100, seen
