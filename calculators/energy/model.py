"""From the form to what is known: energy of a day, gases and their limits, the room."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from ..core import Contradiction, Work
from ..core.units import Units
from . import maths
from .inputs import BURNING, TAPE, Cooler, Inputs
from .maths import Number

KINDS = ("burns", "practical")


class Source(NamedTuple):
    """Something in the room that may leak: its charge in all and its limits; None where not known."""

    name: str
    number: int | None
    charge: Number
    limits: dict[str, Number]
    needs: tuple[str, ...]

    def room(self, kind: str) -> Number:
        """Room for a full leak of all of them, m³."""
        limit = self.limits[kind]
        if self.charge is None or limit is None or self.number is None:
            return None
        return maths.room_for(self.number * self.charge, limit)


@dataclass(frozen=True)
class Found:
    """All that checks, values and the figure need."""

    sources: list[Source]
    settled: bool
    sides: tuple[float, float, float] | None

    @property
    def volume(self) -> Number:
        """The room's volume, m³."""
        return None if self.sides is None else self.sides[0] * self.sides[1] * self.sides[2]

    @property
    def volume_off(self) -> float:
        """How far that may be off."""
        return 0.0 if self.sides is None else maths.volume_off(self.sides, TAPE)

    def room(self, kind: str) -> Number:
        """Least room for a full leak of everything in it, m³; None where one is not known."""
        rooms = [room for each in self.sources if (room := each.room(kind)) is not None]
        return math.fsum(rooms) if self.settled and len(rooms) == len(self.sources) else None

    def least_room(self, kind: str) -> float:
        """The same of what is known alone: it takes at least so much."""
        return math.fsum(each.room(kind) or 0.0 for each in self.sources)

    @property
    def needs(self) -> tuple[str, ...]:
        """Inputs on which the room for a leak rests."""
        return tuple(path for each in self.sources for path in each.needs)


def find(inputs: Inputs, work: Work) -> Found:
    """What the inputs tell, by the figures of the rule set."""
    sources = [_source(inputs, "", "This cabinet", inputs.alike, "alike", work)]
    rows = coolers(inputs)
    sources += [_source(row, f"coolers.{at}.", f"Cooler {at + 1}", row.number, f"coolers.{at}.number", work)
                for at, row in enumerate(rows)]  # fmt: skip
    told = inputs.others is False or bool(rows)
    sides = (inputs.room_length, inputs.room_width, inputs.room_height)
    return Found(sources, told, None if None in sides else sides)


def coolers(inputs: Inputs) -> list[Cooler]:
    """The rows of other coolers."""
    return list(inputs.coolers or [])


def whatever_gas(inputs: Inputs) -> list[Inputs]:
    """The form with each gas that burns in place of one that is not told, at the lowest limit that a form takes."""
    least = Inputs.field("lfl").least
    return [inputs.changed({"gas": gas, "lfl": least}) for gas in BURNING] if inputs.gas is None else []


def records(inputs: Inputs) -> tuple[Inputs | Cooler, ...]:
    """The cabinet itself, then the other coolers."""
    return (inputs, *coolers(inputs))


def _source(record: Inputs | Cooler, path: str, name: str, number: int | None, counted: str, work: Work) -> Source:
    if record.gas == "none":
        return Source(name, 1, 0.0, dict.fromkeys(KINDS, 1.0), ())
    needs = (f"{path}gas", f"{path}charge", counted, *((f"{path}lfl",) if record.gas == "other" else ()))
    return Source(name, number, record.charge, {kind: limit(kind, record, work) for kind in KINDS}, needs)


def lower(record: Inputs | Cooler, work: Work) -> Number:
    """Lower limit of burning by the standards of cooling, g/m³."""
    if record.gas == "other":
        return None if record.lfl is None else float(record.lfl)
    return None if record.gas in (None, "none") else work.inner(f"refrigerant.lfl_{record.gas}")


def key_of(kind: str, gas: str, work: Work) -> str:
    """The figure that limits a gas, where the rule set has one of its own for it."""
    key = f"refrigerant.{kind}_{gas}"
    return key if work.rules.get(key) is not None else ""


def limit(kind: str, record: Inputs | Cooler, work: Work) -> Number:
    """What a leak may reach, g/m³: where it burns, or the practical limit."""
    if record.gas in (None, "none"):
        return None
    key = key_of(kind, record.gas, work)
    if key:
        return work.inner(key)
    low, share = lower(record, work), work.inner("refrigerant.practical_share") if kind == "practical" else 1.0
    return None if low is None or share is None else low * share


# -- energy ------------------------------------------------------------------------------


def whole_days(inputs: Inputs, work: Work) -> bool:
    """Whether the meter counted for a day or longer."""
    least = work.inner("energy.reading_hours")
    return inputs.hours is not None and least is not None and inputs.hours >= least


def metered(inputs: Inputs, work: Work) -> Number:
    """Energy of a day by the plug meter, kWh; None for a reading that decides nothing."""
    if inputs.used is None or not whole_days(inputs, work):
        return None
    return maths.per_day(inputs.used, inputs.hours)


def daily(inputs: Inputs, work: Work) -> Number:
    """Energy of a day as the reader wants it counted, kWh."""
    if inputs.source == "meter":
        return metered(inputs, work)
    return inputs.plate_daily if inputs.source == "plate" else None


def meter_share(inputs: Inputs, work: Work) -> float:
    """How far the energy of a day may be off, as a share of it."""
    off = work.inner("energy.meter_off")
    return (off or 0.0) / 100 if inputs.source == "meter" else 0.0


def contradictions(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Coolers that are listed and said not to be there; a meter that cannot have counted a cabinet at work."""
    if inputs.others is False and coolers(inputs):
        yield Contradiction(("others", "coolers"), "Coolers are listed, and it is said that there are none: clear one of the two.")
    if _counted_nothing(inputs, show):
        yield Contradiction(("used", "plate_daily"), "The meter shows next to nothing beside the plate: read both again. Was it on "
                            "and cooling all that time? If it was, count by the plate.")  # fmt: skip


def _counted_nothing(inputs: Inputs, show: Units) -> bool:
    """Whether a day or longer by the meter is, with all that this may be off, less than any cabinet at work takes."""
    share, least, off = (show.rules.get(f"energy.{key}") if show.rules else None for key in ("below_plate", "reading_hours", "meter_off"))
    if share is None or least is None or off is None or inputs.source != "meter" or None in (inputs.used, inputs.hours, inputs.plate_daily):
        return False
    most = maths.per_day(inputs.used, inputs.hours) * (1 + off.inner / 100)
    return bool(inputs.hours >= least.inner and most < share.inner * inputs.plate_daily - 1e-9)
