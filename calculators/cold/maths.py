"""Time above a limit, from readings with nothing known between them; shelf life used, as an estimate."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

DAY = 24 * 60  # minutes
HOUR = 60.0  # minutes; what a clock that is put back takes away


class Span(NamedTuple):
    """From one moment to another, in minutes; ``more`` are minutes beyond what the clock shows."""

    start: float
    end: float
    more: float = 0.0

    @property
    def minutes(self) -> float:
        """How long it is."""
        return self.end - self.start + self.more


class Spell(NamedTuple):
    """A time above the limit: from the last reading not above it to the first one again not above it.

    ``first`` and ``peak`` are its first and its warmest reading, ``filled`` the last filling before the first of them,
    or None; ``whole`` says that there is no silence in it.
    """

    start: float
    end: float
    peak: float
    first: float
    filled: float | None
    whole: bool

    @property
    def minutes(self) -> float:
        """How long it is at most."""
        return self.end - self.start

    @property
    def since_filling(self) -> float:
        """How long it is from the filling on."""
        return self.end - (self.start if self.filled is None else self.filled)


class Judged(NamedTuple):
    """What readings say: spells above the limit, and spans of which they say nothing."""

    spells: tuple[Spell, ...]
    silent: tuple[Span, ...]


class Readings(NamedTuple):
    """Readings by time: minutes, °C, minutes in doubt before each (below 0: none), and whether each stood there twice."""

    times: Sequence[float]
    degrees: Sequence[float]
    doubts: Sequence[float]
    again: Sequence[bool]
    tail: bool = False


def judge(readings: Readings, start: float, end: float, limit: float, gap: float, fillings: Sequence[float]) -> Judged:
    """Every spell above ``limit`` between two moments, and every silence longer than ``gap`` minutes or in doubt.

    Between two readings the temperature is not known. It counts as above from the last reading that was not above
    to the first one that is not above again: toward safety. All readings must lie between the two moments.
    """
    spells: list[Spell] = []
    silent: list[Span] = []
    good, peak, first, whole = start, -math.inf, 0.0, True
    before = start
    rows = zip(readings.times, readings.degrees, readings.doubts, readings.again, strict=True)
    for at, degrees, doubt, again in rows:
        if doubt >= 0 or at - before > gap:
            warm = peak > -math.inf or degrees > limit
            silent += _silence(before, at, max(doubt, 0.0), warm)
            whole = whole and not warm
        if degrees > limit:
            first = at if peak == -math.inf else first
            peak = max(peak, degrees)
            if again:
                silent.append(Span(at, at, HOUR))
        elif peak > -math.inf:
            spells.append(Spell(good, at, peak, first, _filling(fillings, first), whole))
            peak, whole = -math.inf, True
        if degrees <= limit:
            good = at
        before = at
    if peak > -math.inf:
        spells.append(Spell(good, end, peak, first, _filling(fillings, first), whole and end - before <= gap))
    elif readings.tail or end - before > gap:
        silent.append(Span(before, end))
    return Judged(tuple(spells), tuple(silent))


def _silence(before: float, at: float, more: float, warm: bool) -> list[Span]:
    """What is not known between two readings; where either was above the limit, all between them counts as above already."""
    if not warm:
        return [Span(before, at, more)]
    return [Span(at, at, more)] if more else []


def _filling(fillings: Sequence[float], first: float) -> float | None:
    return max((each for each in fillings if each <= first), default=None)


class Count(NamedTuple):
    """How a rule set counts: ``once`` from the first time above to the last, ``on`` from the first of them to the end."""

    once: bool = False
    on: bool = False


def above(spells: Sequence[Spell], end: float, count: Count) -> float:
    """Minutes above the limit as they count up to ``end``: in all, or as the rule set counts them."""
    if not spells:
        return 0.0
    if count.on:
        return end - min(spell.start for spell in spells)
    if count.once:
        return max(spell.end for spell in spells) - min(spell.start for spell in spells)
    return math.fsum(spell.minutes for spell in spells)


def above_at_most(judged: Judged, end: float, count: Count) -> float:
    """The same where each time of which nothing is known was above, too."""
    starts = [*(spell.start for spell in judged.spells), *(span.start for span in judged.silent)]
    ends = [*(spell.end for spell in judged.spells), *(span.end for span in judged.silent)]
    more = math.fsum(span.more for span in judged.silent)
    if starts and (count.on or count.once):
        return (end if count.on else max(ends)) - min(starts) + more
    return math.fsum(spell.minutes for spell in judged.spells) + math.fsum(span.minutes for span in judged.silent)


def longest_run(readings: Readings, limit: float, gap: float) -> float:
    """Minutes of the longest row of readings that are all above ``limit``, from the first of them to the last.

    Unlike a spell this is no more than there surely was: a silence longer than ``gap``, or a doubt, ends it.
    """
    longest, first, before = 0.0, None, 0.0
    for at, degrees, doubt in zip(readings.times, readings.degrees, readings.doubts, strict=True):
        if degrees <= limit:
            first = None
        elif first is None or doubt >= 0 or at - before > gap:
            first = at
        else:
            longest = max(longest, at - first)
        before = at
    return longest


# -- shelf life used, never a permission -----------------------------------------------------------


def root_rate(degrees: float, reference: float, least: float) -> float:
    """How much faster food spoils than at the reference, by the square-root model; 0 at ``least`` and below."""
    if degrees <= least:
        return 0.0
    return ((degrees - least) / (reference - least)) ** 2


def q10_rate(degrees: float, reference: float, q10: float) -> float:
    """The same by a factor for each 10 °C."""
    return math.exp(math.log(q10) * (degrees - reference) / 10)


class Mean(NamedTuple):
    """Time that readings tell, in minutes, and the mean of each rate over it; None for a model that lacks a figure."""

    minutes: float
    root: float | None
    q10: float | None


def mean_rates(readings: Readings, gap: float, reference: float, least: float | None, q10: float | None) -> Mean:
    """Rates at the warmer end of each time between two readings; silences are left out."""
    told, root, by_q10 = [], [], []
    for at in range(1, len(readings.times)):
        minutes = readings.times[at] - readings.times[at - 1]
        if readings.doubts[at] >= 0 or minutes > gap:
            continue
        warmer = max(readings.degrees[at - 1], readings.degrees[at])
        told.append(minutes)
        root.append(0.0 if least is None else minutes * root_rate(warmer, reference, least))
        by_q10.append(0.0 if q10 is None else minutes * q10_rate(warmer, reference, q10))
    minutes = math.fsum(told)
    if not minutes:
        return Mean(0.0, None, None)
    return Mean(minutes, None if least is None else math.fsum(root) / minutes,
                None if q10 is None else math.fsum(by_q10) / minutes)  # fmt: skip


# -- days ------------------------------------------------------------------------------------------


def days_counted(made: int, today: int, frozen: int | None, thawed: int | None) -> tuple[int, int]:
    """Days that count before and after freezing; the first day is day 1.

    The day of freezing counts, and so does the day of thawing: toward safety. Still frozen, nothing is added.
    """
    if frozen is None:
        return today - made + 1, 0
    return frozen - made + 1, 0 if thawed is None else today - thawed + 1
