"""From the form to the equation: what may be lifted at each end of a lift, as told, at best and at worst."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core import RuleSet
from . import maths
from .lift_inputs import HANDS, TURN, LiftRow
from .maths import Equation, Place, Printed, Task

Number = float | None
PREFIX = "handling.niosh_"
PARTS = ("load", "reach_near", "reach_far", "height_best", "height_share", "height_most", "travel_base", "travel_share",
         "travel_near", "travel_most", "twist_share", "twist_most")  # fmt: skip
KEYS = tuple(PREFIX + name for name in (*PARTS, "sample", "frequency", "grip", "goal", "most"))
DURATIONS = ("short", "moderate", "long")


class Setting(NamedTuple):
    """What holds for all lifts: the equation, minutes of the count, how long in all, and the printed tables' own."""

    of: Equation
    sample: float
    duration: str | None
    printed: tuple[Printed, ...]
    tenth: float

    def shown(self, mass: float) -> float:
        """A mass as the printed examples carry it on: to a tenth of their unit."""
        return round(mass / self.tenth) * self.tenth if self.printed else mass


class End(NamedTuple):
    """One end of a lift: its name, its shares but for how often, and the mass allowed there in kg.

    ``best`` is the most that it can be whatever is not known, ``worst`` what it is with every measure off.
    """

    name: str
    paths: tuple[str, ...]
    shares: dict[str, Number]
    allowed: Number
    best: float
    worst: float
    once: Number
    once_best: float
    once_worst: float


def setting(inputs: Any, rules: RuleSet) -> Setting | None:
    """The rule set's equation; None where it lacks a part."""
    if any(rules.get(key) is None for key in KEYS):
        return None
    parts = {name: rules[PREFIX + name].inner for name in PARTS}
    of = Equation(**parts, frequency=tuple(rules[PREFIX + "frequency"].value),
                  grip={row["name"]: row for row in rules[PREFIX + "grip"].value})  # fmt: skip
    duration = "long" if inputs.duration == "longer" else inputs.duration
    return Setting(of, rules[PREFIX + "sample"].inner, duration, _printed(inputs, rules), of.load / rules[PREFIX + "load"].value / 10)


def _printed(inputs: Any, rules: RuleSet) -> tuple[Printed, ...]:
    """The rows that the printed tables have apart from the equation, lengths in mm."""
    figure = rules.get(PREFIX + "printed")
    if inputs.figures != "printed" or figure is None:
        return ()
    size = {"in": 25.4, "cm": 10.0}
    return tuple(Printed(row["of"], row["at"] * size[row["unit"]], row["says"]) for row in figure.value)


def ends(lift: LiftRow, of: Setting) -> list[End]:
    """The start, and the end where it is set down with care or may be."""
    way = None if lift.height is None or lift.height_to is None else abs(lift.height_to - lift.height)
    start = Place(lift.reach, lift.height, way, lift.twist)
    found = [_end("start", ("reach", "height", "height_to", "twist"), lift, start, of)]
    if lift.control is not False:
        last = Place(lift.reach_to, lift.height_to, way, lift.twist_to)
        found.append(_end("end", ("control", "reach_to", "height_to", "twist_to", "height"), lift, last, of))
    return found


def _end(name: str, paths: tuple[str, ...], lift: LiftRow, place: Place, of: Setting) -> End:
    shares = maths.shares_of(of.of, place, lift.grip, of.printed)
    often, often_best, often_worst = often_of(lift, of)
    once, once_best = maths.product([*shares.values()]), maths.at_best([*shares.values()])
    once_worst = _worst(lift, place, of)
    whole = maths.product([*shares.values(), 0.0 if often_best == 0 else often])
    load = of.of.load
    return End(name, (*paths, "grip", "count"), shares, None if whole is None else of.shown(load * whole),
               load * once_best * often_best, load * once_worst * often_worst,
               None if once is None else load * once, load * once_best, load * once_worst)  # fmt: skip


def often_of(lift: LiftRow, of: Setting) -> tuple[Number, float, float]:
    """What is left by how often: as told, at best, and with the hands lower than told."""
    each, span = rate(lift, of) or 1 / of.sample, of.duration or DURATIONS[0]
    best = maths.often_share(of.of, each, span, lift.height is not None and maths.is_low(of.of, lift.height))
    known = lift.count is not None and of.duration is not None and lift.height is not None
    if not known:
        return None, best, best
    worst = maths.often_share(of.of, each, span, maths.is_low(of.of, lift.height - HANDS))
    share = maths.two_places(best) if of.printed else best
    return share, best, min(best, worst)


def rate(lift: LiftRow, of: Setting) -> Number:
    """Lifts a minute over the time in which they are counted."""
    return None if lift.count is None else lift.count / of.sample


def _worst(lift: LiftRow, place: Place, of: Setting) -> float:
    """The product with hands farther out, lower or higher, a longer way and a wider turn; 0 where something lacks."""
    reach, height, way, twist = place
    if reach is None or height is None or way is None or twist is None or lift.grip is None:
        return 0.0
    tried = (Place(reach + HANDS, up, way + 2 * HANDS, twist + TURN if twist else 0.0) for up in (max(0.0, height - HANDS), height + HANDS))
    return min(maths.product([*maths.shares_of(of.of, each, lift.grip).values()]) or 0.0 for each in tried)


# -- several ------------------------------------------------------------------------


class Visit(NamedTuple):
    """The composite index as published, and in the order that gives most (both None where something lacks).

    ``best`` is the least that the latter can be, and ``worst`` what it is with all measures off.
    """

    published: Number
    greatest: Number
    best: float
    worst: float


def visit(lifts: list[LiftRow], of: Setting) -> Visit:
    """All lifts of a visit together."""
    told = [_task(lift, of, "once") for lift in lifts]
    best = [_task(lift, of, "once_best") for lift in lifts]
    worst = [_task(lift, of, "once_worst") for lift in lifts]
    least = min(maths.greatest_index(of.of, [task for task in best if task], span)
                for span in ([of.duration] if of.duration else DURATIONS)) if any(best) else 0.0  # fmt: skip
    known = [task for task in told if task is not None]
    if len(known) < len(lifts) or of.duration is None:
        return Visit(None, None, least, least)
    return Visit(maths.visit_index(of.of, known, of.duration), maths.greatest_index(of.of, known, of.duration), least,
                 maths.greatest_index(of.of, [task for task in worst if task], of.duration))  # fmt: skip


def _task(lift: LiftRow, of: Setting, which: str) -> Task | None:
    """One lift as a task; what is not known is left out at best, and makes it unknown as told."""
    both = [end for end in ends(lift, of) if which != "once_best" or end.name == "start" or lift.control]
    masses: list[Number] = [getattr(end, which) for end in both]
    each = rate(lift, of)
    if which != "once_best" and (None in (*masses, each, lift.mass, lift.control, lift.height)):
        return None
    if lift.mass is None:
        return None
    least = min(mass for mass in masses if mass is not None)
    low = lift.height is not None and maths.is_low(of.of, lift.height - (HANDS if which == "once_worst" else 0.0))
    strain = lift.mass / least if least > 0 else float("inf")
    return Task(strain, each or 1 / of.sample, low)
