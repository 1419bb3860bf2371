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
    for number, lot in enumerate(inputs.lots or []):
        yield from _lot(lot, f"lots.{number}.", inputs.now)


def _log(inputs: Inputs) -> Iterator[Contradiction]:
    if not inputs.log:
        return
    try:
        found = logfile.read(inputs.log, inputs.date_order or "", inputs.log_scale or "")
    except Unreadable as error:
        yield Contradiction(("log", "log"), str(error))
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
