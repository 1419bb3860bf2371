"""Inputs that cannot all be true, and a log that cannot be read at all: told before anything is worked out."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from ..core import Contradiction
from ..core.moments import DAY, day_text, moment_text
from ..core.units import Units
from . import logfile
from .columns import Unreadable
from .inputs import Inputs, Lot


def conflicts(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every one of them."""
    yield from _log(inputs)
    yield from _moments(inputs)
    yield from _too_cold(inputs, show)
    for number, lot in enumerate(inputs.lots or []):
        yield from _lot(lot, f"lots.{number}.", inputs.now)
        yield from _freezes(inputs.cooling, lot, f"lots.{number}.")
    yield from _too_young(inputs)


def _log(inputs: Inputs) -> Iterator[Contradiction]:
    if not inputs.log:
        return
    try:
        found = logfile.read(inputs.log, inputs.date_order or "", inputs.log_scale or "")
    except Unreadable as error:
        yield Contradiction(("log", error.field), str(error))
        return
    if inputs.now is not None and found.times[-1] > inputs.now:
        yield Contradiction(("now", "log"), f"The log goes on until {moment_text(found.times[-1])}, which is after now: correct the "
                            "time, or read it as the log’s clock shows it.")  # fmt: skip


def _moments(inputs: Inputs) -> Iterator[Contradiction]:
    if inputs.now is None:
        return
    for path in ("put_in", "filled", *(f"readings.{number}.at" for number in range(len(inputs.readings or [])))):
        record, key = inputs.at(path)
        at = getattr(record, key)
        if at is not None and at > inputs.now:
            yield Contradiction(("now", path), f"{moment_text(at)} is after now, {moment_text(inputs.now)}.")


def _too_cold(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """A reading by hand that no chilled cabinet shows; of a log such a line is told in its table."""
    coldest = show.rules.get("food.chilled_coldest") if show.rules else None
    if inputs.cooling != "chilled" or coldest is None:
        return
    for number, row in enumerate(inputs.readings or []):
        if row.degrees is not None and row.degrees < coldest.inner:
            yield Contradiction(("cooling", f"readings.{number}.degrees"), f"{show.text(row.degrees, 'temperature', 'near')} is far too "
                                "cold for a chilled cabinet: correct the reading, its scale, or the cabinet.")  # fmt: skip


def _lot(lot: Lot, path: str, now: int | None) -> Iterator[Contradiction]:
    frozen = lot.frozen if lot.state in ("thawed", "frozen") else None
    thawed = lot.thawed if lot.state == "thawed" else None
    days = [(key, day) for key, day in (("made", lot.made if lot.dated == "kitchen" else None), ("frozen", frozen), ("thawed", thawed))
            if day is not None]  # fmt: skip
    for (early, first), (late, second) in itertools.pairwise(days):
        if second < first:
            yield Contradiction((path + early, path + late), f"{day_text(second)} is before {day_text(first)}.")
    today = None if now is None else now // DAY
    for key, day in days:
        if today is not None and day > today:
            yield Contradiction(("now", path + key), f"{day_text(day)} is after today, {day_text(today)}.")


def _freezes(cooling: str | None, lot: Lot, path: str) -> Iterator[Contradiction]:
    """In a chilled cabinet nothing stays frozen: a count of days that stands still there would stand still for weeks."""
    if cooling == "chilled" and lot.state == "frozen":
        yield Contradiction(("cooling", path + "state"), "A chilled cabinet keeps nothing frozen: it thaws from the day it was put in. "
                            "Say that it has thawed, and give that day.")  # fmt: skip


def _too_young(inputs: Inputs) -> Iterator[Contradiction]:
    """Food that went in before any of it was made, or was out of the freezer; of one lot alone it may have come later."""
    if inputs.put_in is None or not inputs.lots:
        return
    firsts = [max(days, key=lambda day: day[1], default=None) for days in map(_beginnings, inputs.lots)]
    known = [(day[1], number, day[0]) for number, day in enumerate(firsts) if day is not None]
    if len(known) < len(firsts):
        return
    day, number, key = min(known)
    # A day after today is told by itself.
    if inputs.put_in // DAY < day and (inputs.now is None or day <= inputs.now // DAY):
        yield Contradiction(("put_in", f"lots.{number}.{key}"), f"It was put in on {day_text(inputs.put_in // DAY)}, and none of this "
                            f"food was there before {day_text(day)}. Correct the one that is wrong.")  # fmt: skip


def _beginnings(lot: Lot) -> list[tuple[str, int]]:
    """Days before which a lot was not yet in a cabinet that cools."""
    days = [("made", lot.made if lot.dated == "kitchen" else None), ("thawed", lot.thawed if lot.state == "thawed" else None)]
    return [(key, day) for key, day in days if day is not None]
