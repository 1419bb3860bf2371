"""From the form to the plan: thread, limits, the plane through the readings, turns."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

from . import legs as legs_
from . import maths
from . import readings as readings_
from .inputs import Inputs
from .legs import Leg
from .maths import Plan, Plane, Reading, Span

Number = float | None
HAIR = 0.01  # mm beyond the ruler's error, so that a margin exceeds it and does not equal it


class Thread(NamedTuple):
    """Rise for one turn, diameter, and what a nut must keep, mm."""

    pitch: Number
    diameter: Number
    keep: Number


class Reach(NamedTuple):
    """Least and most thread that may show, mm, and what the plan keeps clear of both.

    ``manual`` is the most that the manual allows, ``nut`` what leaves enough in the nut, ``high`` the
    lesser of those that are known.
    """

    low: float
    manual: Number
    nut: Number
    spare: float

    @property
    def high(self) -> Number:
        """The most that may show, as far as it is known."""
        return min((each for each in (self.manual, self.nut) if each is not None), default=None)

    @property
    def ranges(self) -> bool:
        """Whether anything is left between the two when both are kept clear."""
        return self.high is None or self.low + self.spare <= self.high - self.spare


@dataclass
class Found:
    """All that later parts of the sheet need of earlier ones."""

    legs: list[Leg]
    thread: Thread
    reach: Reach
    step: Number
    used: list[int]
    readings: list[Reading]
    plane: Plane | None
    lean: Plane | None  # the plane, or what readings in one direction alone say of it
    fine: float  # how far the slope may be off by how finely a level is read, mm/m
    read: float  # how finely a bubble beside its lines is read, mm/m; 0 without such a reading
    whole: bool  # whether no reading lacks a part
    ended: bool  # whether the manual says how far a leg may go, or is known to say nothing
    least: Number  # the least slope that readings without an amount may still leave, mm/m
    plan: Plan | None = None
    after: Number = None

    @property
    def heights(self) -> list[float]:
        """Height of the frame at each leg, gaps taken off and plates added, mm."""
        if self.lean is None:
            return []
        return [maths.height(self.lean, *leg.point) - leg.gap + leg.plate for leg in self.legs]

    @property
    def off(self) -> float:
        """How far the slope may be off, mm/m: what the level may, or what the readings scatter by."""
        return max(self.fine, self.spread or 0.0)

    @property
    def sure(self) -> bool:
        """Whether the readings tell both directions, and none lacks a part."""
        return self.plane is not None and self.whole

    @property
    def settled(self) -> bool:
        """Whether no measurement of thread that is still missing could change the turns."""
        if self.plan is None or not self.ended or any(leg.out is None for leg in self.legs):
            return False
        if self.reach.nut is not None:
            return True
        keep, manual = self.thread.keep, self.reach.manual
        if keep is None or manual is None or self.plan.room < 0:
            return False
        # The leg has more thread than may show, so that its nut ends no turn that stays this far off.
        most = max((leg.out or 0.0) + rise for leg, rise in zip(self.legs, self.plan.rises, strict=True))
        return most + keep + self.reach.spare <= manual

    @property
    def known(self) -> tuple[bool, bool]:
        """Whether the slope to the right is told, and that to the rear."""
        told = self.plane is not None
        across = all(reading.along == 0 for reading in self.readings)
        along = all(reading.across == 0 for reading in self.readings)
        return told or (bool(self.readings) and across), told or (bool(self.readings) and along)

    @property
    def slope(self) -> Number:
        """How steep the cabinet stands now, mm/m."""
        return None if self.plane is None else math.hypot(*self.plane)

    @property
    def slope_read(self) -> Number:
        """How steep it stands along what was read: the slope in all, or a part of it, mm/m."""
        return None if self.lean is None else math.hypot(*self.lean)

    @property
    def spread(self) -> Number:
        """The farthest reading off the plane, mm/m; two readings cannot tell."""
        if self.lean is None or len(self.readings) < (3 if self.plane else 2):
            return None
        return max(abs(each) for each in maths.residuals(self.readings, self.lean))

    @property
    def shown_after(self) -> list[float] | None:
        """Thread showing at each leg after the turns, mm."""
        if self.plan is None or self.thread.pitch is None or any(leg.out is None for leg in self.legs):
            return None
        return [(leg.out or 0.0) + turns * self.thread.pitch
                for leg, turns in zip(self.legs, self.plan.turns, strict=True)]  # fmt: skip

    @property
    def wanted(self) -> list[float] | None:
        """Thread that would have to show at each leg for a level stand, reached or not, mm."""
        if self.plan is None or self.plan.room >= 0 or self.shown_after is None:
            return self.shown_after
        return [(leg.out or 0.0) + self.plan.height - height
                for leg, height in zip(self.legs, self.heights, strict=True)]  # fmt: skip


def find(inputs: Inputs, rules: Any) -> Found:
    """The whole model, from whatever is known. ``rules`` gives a figure's inner value by key, or None."""
    legs = legs_.legs_of(inputs)
    thread = thread_of(inputs, rules)
    step = rules("level.turn_step") or None
    reach = reach_of(inputs, thread, step)
    lines = readings_.lines_of(inputs, rules) if any(row.bubble for row in inputs.readings or []) else None
    used, readings = readings_.readings_of(inputs, legs, lines)
    plane = maths.fit(readings)
    begun = readings_.begun(inputs, used, legs)
    read = lines.read if lines and readings_.by_lines(inputs, used) else 0.0
    found = Found(legs, thread, reach, step, used, readings, plane, plane or maths.lean(readings),
                  readings_.off(inputs, used, lines), read, readings_.whole(inputs, used),
                  inputs.thread_most is not None or inputs.range_given is False,
                  None if begun is None else maths.least_slope(readings, begun))  # fmt: skip
    if legs and found.lean and thread.pitch and step:
        _plan(found)
    return found


def _plan(found: Found) -> None:
    last = [leg.last for leg in found.legs]
    pitch, step = found.thread.pitch or 1.0, found.step or 1.0
    found.plan = maths.plan(found.heights, spans(found), last, pitch, step)
    tops = [height + turns * pitch
            for height, turns in zip(found.heights, found.plan.turns, strict=True)]  # fmt: skip
    firm = [number for number, late in enumerate(last) if not late]
    points = [found.legs[number].point for number in firm]
    found.after = maths.resting_slope(points, [tops[number] for number in firm], legs_.centre(found.legs))


def spans(found: Found) -> list[Span]:
    """How far each leg may rise and come down; without limits where its thread is not measured."""
    reach = found.reach
    if reach.high is None:
        return [Span() for _ in found.legs]
    low, high = reach.low + reach.spare, reach.high - reach.spare
    if low > high:
        low = high = (low + high) / 2
    return [Span() if leg.out is None else Span(low - leg.out, high - leg.out) for leg in found.legs]


# -- thread ---------------------------------------------------------------------------


def thread_of(inputs: Inputs, rules: Any) -> Thread:
    """Pitch and diameter by the thread's name, or as measured."""
    if inputs.thread in (None, "other"):
        pitch, diameter = (inputs.thread_pitch, inputs.thread_diameter) if inputs.thread else (None, None)
    else:
        pitch = rules(f"level.pitch_{inputs.thread}") or None
        diameter = rules(f"level.diameter_{inputs.thread}")
    share = rules("level.engagement")
    return Thread(pitch, diameter, None if share is None or diameter is None else share * diameter)


def thread_needs(inputs: Inputs) -> list[str]:
    """What the rise for one turn rests on."""
    return ["thread_pitch"] if inputs.thread == "other" else ["thread"]


def reach_of(inputs: Inputs, thread: Thread, step: Number) -> Reach:
    """What the manual allows and what leaves enough thread in the nut."""
    known = inputs.stud_length is not None and thread.keep is not None
    nut = inputs.stud_length - thread.keep if known else None
    # A step of rounding may come on top of what the ruler may be off, at both its places.
    ruler = type(inputs).field("thread_out").tolerance + type(inputs).field("stud_length").tolerance
    spare = ruler + HAIR + (thread.pitch or 0.0) * (step or 0.0)
    return Reach(inputs.thread_least, inputs.thread_most, nut, spare)
