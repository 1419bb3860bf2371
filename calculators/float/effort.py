"""How far to play: for the answer that stands, and for a first one that comes soon."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Effort:
    """``runs`` are those that a printed chance rests on at least; the others are plain sales.

    ``events`` is what those runs may cost, ``tallied`` what runs played to their end for the averages may,
    ``compared`` a line of the table of what more rolls would buy. ``quick`` is for a load before the next one is
    looked at, ``longest`` for one whose chance is asked and hard to tell, ``near`` for one of a search that is.
    A search spends ``searched`` on all its loads together, ``closely`` on those near the wanted chance.
    """

    runs: int = 2048
    events: float = 600_000
    tallied: float = 200_000
    compared: float = 150_000
    quick: float = 250_000
    longest: float = 4_000_000
    near: float = 1_000_000
    searched: float = 8_000_000
    closely: float = 12_000_000


FULL = Effort()
# What it decides is decided for good; it leaves more open.
GLANCE = Effort(runs=512, events=40_000, tallied=40_000, compared=40_000, quick=40_000, longest=40_000, near=0.0,
                searched=400_000, closely=0.0)  # fmt: skip
