"""Readings in the order of time: what stood twice, out of place, or in an hour that came twice."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field

from .columns import Unreadable

# A clock that is put back goes back by an hour in most places, by half an hour or two in a few. What goes back
# by less than the hour did so between two lines.
BACK_LEAST, BACK_MOST = 15.0, 180.0  # minutes
HOUR = 60.0
FEW = 3  # clocks are put back twice a year; what goes back more often is out of order
NONE = -1.0  # no doubt
UNTIL = "Until then the time about it counts as not known."


@dataclass(frozen=True)
class Trouble:
    """Something about a line of a log that a person must look at; ``harmless`` where nothing is unknown for it."""

    kind: str
    row: int
    what: str
    mend: str
    harmless: bool = False


@dataclass(eq=False)
class Series:
    """Times in minutes with their readings in °C and the lines they stand in.

    ``doubts`` says of each that what lies before it is not known, and how many minutes may be missing there
    beyond what the clock shows; NONE where there is no doubt. ``again`` marks what stood there twice, alike.
    ``lost`` is set while a line was met that could not be placed, or read.
    """

    times: list[float] = field(default_factory=list)
    degrees: list[float] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    doubts: list[float] = field(default_factory=list)
    again: list[bool] = field(default_factory=list)
    zones: list[float | None] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    lost: bool = False

    def add(self, row: int, at: float, degrees: float, zone: float | None = None, doubt: float = NONE) -> None:
        """One reading, in the order of the lines."""
        self.times.append(at)
        self.degrees.append(degrees)
        self.rows.append(row)
        self.doubts.append(max(doubt, 0.0) if self.lost else doubt)
        self.again.append(False)
        self.zones.append(zone)
        self.lost = False

    def tell(self, trouble: Trouble) -> None:
        """Keep a trouble for the reader."""
        self.troubles.append(trouble)


def ordered(series: Series) -> Series:
    """The series by time, with what was out of order told."""
    _same_zone(series)
    if _descends(series.times):
        _reverse(series)
    _clock_back(series)
    _out_of_order(series)
    made = _twice(series, sorted(range(len(series.times)), key=series.times.__getitem__))
    made.troubles.sort(key=lambda each: each.row)
    return made


def _same_zone(series: Series) -> None:
    """Times of a log that names offsets, in the zone of its newest line: what the clock on the wall shows now."""
    named = [zone for zone in series.zones if zone is not None]
    if not named:
        return
    if len(named) < len(series.zones):
        raise Unreadable("Some of its times name their offset and some do not. Export it again with the offset of each.")
    series.times = [time - zone for time, zone in zip(series.times, named, strict=True)]
    newest = named[series.times.index(max(series.times))]
    series.times = [time + newest for time in series.times]


def _descends(times: list[float]) -> bool:
    """Whether a log has its newest line first."""
    falls = sum(after < before for before, after in itertools.pairwise(times))
    return falls * 2 > len(times)


def _reverse(series: Series) -> None:
    for each in (series.times, series.degrees, series.rows):
        each.reverse()
    # What was in doubt before a line is now in doubt after it.
    first = series.doubts[0] != NONE
    series.doubts = [0.0 if series.lost else NONE, *reversed(series.doubts[1:])]
    series.lost = first


def _clock_back(series: Series) -> None:
    """An hour that comes twice: several lines are needed to catch up with a time that was there before."""
    times = series.times
    steps = [at for at in range(1, len(times)) if times[at] < times[at - 1]]
    for at in steps if len(steps) <= FEW else []:
        back = times[at - 1] - times[at]
        if BACK_LEAST <= back <= BACK_MOST and _lasts(times, at):
            step = times[at + 1] - times[at] if at + 1 < len(times) else 0.0
            series.doubts[at] = max(back + max(step, 0.0), HOUR)
            series.tell(Trouble("back", series.rows[at], f"The clock goes back by {back:.0f} min here: some times come twice.",
                                "Export it with the offset of each time, such as +01:00. Until then an hour counts as not known."))  # fmt: skip


def _lasts(times: list[float], at: int) -> bool:
    """Whether it takes more than one line to catch up with the time that was left; the log's end tells nothing."""
    return at + 1 >= len(times) or times[at + 1] <= times[at - 1]


def _out_of_order(series: Series) -> None:
    back = {trouble.row for trouble in series.troubles if trouble.kind == "back"}
    latest, catching = -1e18, False
    for row, time in zip(series.rows, series.times, strict=True):
        catching = (catching or row in back) and time < latest
        if time < latest and not catching:
            series.tell(Trouble("order", row, "It stands out of the order of time.",
                                "It was put in its place. Export the log in the order of time.", harmless=True))  # fmt: skip
        latest = max(latest, time)


def _twice(series: Series, order: list[int]) -> Series:
    """In the order of time; lines of one time are one where they are alike, else the warmer counts."""
    kept = Series(troubles=series.troubles)
    for at in order:
        if kept.times and series.times[at] == kept.times[-1]:
            _join(kept, series.degrees[at], series.rows[at], series.doubts[at])
        else:
            kept.add(series.rows[at], series.times[at], series.degrees[at], None, series.doubts[at])
    kept.lost = series.lost
    return kept


def _join(kept: Series, degrees: float, row: int, doubt: float) -> None:
    same = degrees == kept.degrees[-1]
    what = f"It has the time of line {kept.rows[-1]} and " + ("its reading." if same else "another reading.")
    kept.tell(Trouble("same", row, what, "It counts once. Take one of them out.", harmless=True) if same else
              Trouble("twice", row, what, "The warmer one counts. If a clock was put back, an hour is missing: it counts as not "
                      "known."))  # fmt: skip
    kept.again[-1] = kept.again[-1] or same
    kept.doubts[-1] = max(kept.doubts[-1], doubt, NONE if same else HOUR)
    kept.degrees[-1] = max(kept.degrees[-1], degrees)


def believed(series: Series, least: float) -> Series:
    """The series without its readings below ``least`` °C: each is told, and the time about it is not known."""
    if min(series.degrees) >= least:
        return series
    kept, doubt = Series(troubles=list(series.troubles)), NONE
    for at, degrees in enumerate(series.degrees):
        doubt = max(doubt, series.doubts[at])
        if degrees < least:
            kept.lost = True
            kept.tell(Trouble("cold", series.rows[at], "It is far too cold for a chilled cabinet.",
                              f"See whether the sensor is broken, or its scale another one. {UNTIL}"))  # fmt: skip
        else:
            kept.add(series.rows[at], series.times[at], degrees, None, doubt)
            kept.again[-1], doubt = series.again[at], NONE
    kept.lost = kept.lost or series.lost
    kept.troubles.sort(key=lambda each: each.row)
    return kept
