"""What the readings of one request say: its window, its spells above the limit, and what of it is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from ..core import Work
from . import logfile, maths
from .columns import Unreadable
from .inputs import PROBE, Inputs
from .maths import Judged, Readings, Span, Spell
from .series import NONE, Series, believed

Number = float | None
Point = tuple[float, float, float, bool, str]
HAND = "reading"


@dataclass
class Found:
    """Readings between the two ends, in the order of time; ``limit`` is what the food may not be above.

    ``graced`` are spells of the cabinet's air right after it was filled, which the rule allows; ``spells`` all others.
    """

    limit: Number
    start: Number
    end: Number
    readings: Readings
    rows: list[str]
    spells: tuple[Spell, ...] = ()
    graced: tuple[Spell, ...] = ()
    after_filling: Number = None
    silent: tuple[Span, ...] = ()
    peak: Number = None
    log: Series | None = None
    gap: float = math.inf
    open_rows: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """Whether there is any reading at all."""
        return bool(self.readings.times)

    @property
    def unknown(self) -> float:
        """Minutes of which nothing is known."""
        return math.fsum(span.minutes for span in self.silent)


@dataclass
class Points:
    """Readings from wherever they come, with what tells where each stands."""

    at: list[Point] = field(default_factory=list)
    tail: bool = False

    def add(self, time: float, degrees: float, doubt: float = NONE, again: bool = False, name: str = "") -> None:
        """One reading."""
        self.at.append((time, degrees, doubt, again, name))


def series(inputs: Inputs) -> Series | None:
    """The log as read; None where there is none, or where it cannot be read (the form then says so)."""
    if not inputs.log:
        return None
    try:
        return logfile.read(inputs.log, inputs.date_order or "", inputs.log_scale or "")
    except Unreadable:
        return None


def _believed(inputs: Inputs, work: Work) -> Series | None:
    """The log without what no chilled cabinet shows: a sensor that is broken reads cold as often as warm."""
    log = series(inputs)
    least = work.inner("food.chilled_coldest") if inputs.cooling == "chilled" else None
    return log if log is None or least is None else believed(log, least)


def limit(inputs: Inputs, cold: Number) -> Number:
    """What food may not be above: the rule's figure, or what the pack names where that is lower.

    A frozen pack's figure is about its quality; food that is not above the cold limit is safe.
    """
    named = inputs.pack_limit if inputs.pack_names and inputs.cooling == "chilled" else None
    return cold if named is None or cold is None else min(cold, named)


def off(inputs: Inputs, work: Work) -> float:
    """How far a reading may be off, in °C: a food thermometer's, or that of the rule set for the cabinet's own.

    The cabinet's own counts wherever nobody says that the food was read.
    """
    if inputs.measured == "food":
        return PROBE
    return max(PROBE, work.inner("food.air_thermometer_accuracy") or 0.0)


def off_rules(inputs: Inputs) -> tuple[str, ...]:
    """The figure that :func:`off` rests on, where it is not a food thermometer's."""
    return () if inputs.measured == "food" else ("food.air_thermometer_accuracy",)


def find(inputs: Inputs, work: Work) -> Found:
    """Everything that the readings say."""
    log = _believed(inputs, work)
    gap = work.inner("food.reading_gap_minutes")
    points = _points(inputs, log)
    start = inputs.put_in if inputs.put_in is not None else min((each[0] for each in points.at), default=None)
    end = inputs.now if inputs.now is not None else max((each[0] for each in points.at), default=None)
    inside = [each for each in points.at if start is not None and end is not None and start <= each[0] <= end]
    columns = list(zip(*inside, strict=True)) if inside else [(), (), (), (), ()]
    found = Found(limit(inputs, work.inner("food.cold_holding")), start, end,
                  Readings(columns[0], columns[1], columns[2], columns[3], points.tail), list(columns[4]), log=log,
                  gap=math.inf if gap is None else gap, open_rows=_open_rows(inputs))  # fmt: skip
    if inside and found.limit is not None:
        _judge(inputs, work, found)
    return found


def _open_rows(inputs: Inputs) -> tuple[str, ...]:
    return tuple(f"readings.{number}.{key}" for number, row in enumerate(inputs.readings or [])
                 for key in ("at", "degrees") if getattr(row, key) is None)  # fmt: skip


def _points(inputs: Inputs, log: Series | None) -> Points:
    """The readings of the log and of hand, by time."""
    points = Points(tail=log is not None and log.lost)
    if log:
        for time, degrees, doubt, again, row in zip(log.times, log.degrees, log.doubts, log.again, log.rows, strict=True):
            points.add(time, degrees, doubt, again, f"line {row}")
    for number, each in enumerate(inputs.readings or [], 1):
        if each.at is not None and each.degrees is not None:
            points.add(each.at, each.degrees, name=f"{HAND} {number}")
    if log is None or len(points.at) > len(log.times):
        points.at.sort(key=lambda each: each[:2])
        points.at = _doubted(points.at, points.tail)
    return points


def _doubted(points: list[Point], tail: bool) -> list[Point]:
    """A reading of hand in a time that is in doubt stands for its moment alone: what lies before it stays in doubt."""
    made = []
    for time, degrees, doubt, again, name in reversed(points):
        by_hand = name.startswith(HAND)
        made.append((time, degrees, max(doubt, 0.0) if by_hand and tail else doubt, again, name))
        tail = tail if by_hand else doubt >= 0
    return made[::-1]


def _judge(inputs: Inputs, work: Work, found: Found) -> None:
    fillings, grace = _fillings(inputs), work.inner("food.reload_minutes") or 0.0
    judged = _spells(found, found.limit or 0.0, fillings)
    found.graced = _graced(inputs, judged.spells, grace)
    found.after_filling = max((each.since_filling for each in judged.spells if _soon(each, grace)), default=0.0)
    found.spells = tuple(each for each in judged.spells if each not in found.graced)
    found.silent = judged.silent
    quiet = [(at, degrees) for at, degrees in zip(found.readings.times, found.readings.degrees, strict=True)
             if degrees <= (found.limit or 0.0)]  # fmt: skip
    # Air in its grace counts no more where it stays just below the limit than where it is above.
    later = [row for row in quiet if not (inputs.measured == "air" and any(0 <= row[0] - each <= grace for each in fillings))]
    found.peak = max([*(each.peak for each in found.spells), *(degrees for _, degrees in later or quiet)], default=None)


def nearly(inputs: Inputs, work: Work, found: Found) -> Judged:
    """What would be above, and not known, were each reading as much too low as it may be off."""
    if not found.known or found.limit is None:
        return Judged((), ())
    judged = _spells(found, found.limit - off(inputs, work), _fillings(inputs))
    graced = _graced(inputs, judged.spells, work.inner("food.reload_minutes") or 0.0)
    return judged._replace(spells=tuple(each for each in judged.spells if each not in graced))


def _fillings(inputs: Inputs) -> list[int]:
    return [each for each in (inputs.put_in, inputs.filled) if each is not None]


def _soon(spell: Spell, grace: float) -> bool:
    """Whether it began within the grace of a filling."""
    return spell.filled is not None and spell.first - spell.filled <= grace


def _graced(inputs: Inputs, spells: tuple[Spell, ...], grace: float) -> tuple[Spell, ...]:
    """Spells of the cabinet's air that the rule allows right after it was filled."""
    if inputs.measured != "air":
        return ()
    return tuple(each for each in spells if _soon(each, grace) and each.whole and each.since_filling <= grace)


def _spells(found: Found, limit: float, fillings: list[int]) -> Judged:
    return maths.judge(found.readings, found.start or 0.0, found.end or 0.0, limit, found.gap, fillings)
