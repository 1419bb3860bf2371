"""What to do, in order: each leg's turns and direction, and plates first where threads run out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from ..core import Work
from . import maths, readings
from .inputs import Inputs
from .legs import Leg
from .model import Found

COLUMNS = {"leg": "Leg, in order", "turns": "Turns, seen from above", "then": "Its corner; thread then"}
DIRECTIONS = {True: "clockwise", False: "counterclockwise", None: "(what turns?)"}
EVEN = 1e-6  # mm/m; less is level


class Move(NamedTuple):
    """One leg's part of the work; ``clockwise`` is None where it is not known what turns."""

    leg: Leg
    turns: float
    clockwise: bool | None
    shown: float | None


def moves(inputs: Inputs, found: Found) -> list[Move]:
    """The legs in the order they are turned: farthest up first, middle ones last."""
    if found.plan is None:
        return []
    shown: Sequence[float | None] = found.shown_after or [None] * len(found.legs)
    each = [Move(leg, turns, turning(inputs, turns), out)
            for leg, turns, out in zip(found.legs, found.plan.turns, shown, strict=True)]  # fmt: skip
    # Ties keep the order of the legs, so that the last bits of a height do not reorder them.
    return sorted(each, key=lambda move: (move.leg.last, -round(move.turns * 64)))


def turning(inputs: Inputs, turns: float) -> bool | None:
    """Clockwise seen from above or not; None where nothing turns or it is not known what does."""
    if inputs.foot is None or not turns:
        return None
    return maths.clockwise(inputs.foot, inputs.thread_hand, turns > 0)


def fraction(turns: float) -> str:
    """Turns as a mixed number, without a sign: 1 3/8."""
    whole, part = divmod(Fraction(abs(turns)).limit_denominator(64), 1)
    if not part:
        return f"{whole}"
    return f"{whole} {part}" if whole else f"{part}"


def counted(turns: float) -> str:
    """Turns with their unit: 1/8 turn, 1 3/8 turns."""
    return f"{fraction(turns)} turn" if 0 < abs(turns) <= 1 else f"{fraction(turns)} turns"


def table(inputs: Inputs, work: Work, found: Found) -> None:
    """The order of work, leg by leg; of readings in one direction, the order for that direction."""
    work.actions += _sides(inputs, work, found)
    if found.plan is None:
        return
    title = f"Order of work, {direction(found)}" if found.plane is None else "Order of work"
    work.table("turns", title, COLUMNS, _rows(inputs, work, found), note=_note(inputs, work, found))
    work.actions += _first(work, found)


def direction(found: Found) -> str:
    """The one direction that was read, in words."""
    across, along = found.known
    if across:
        return "left to right alone"
    return "front to back alone" if along else "corner to corner alone"


def _sides(inputs: Inputs, work: Work, found: Found) -> list[str]:
    """Which side to raise and about how much, where the table cannot say it or says it of one direction."""
    if found.lean is None or (found.plane and found.plan):
        return []
    told = [_side(work, found, number, *names) for number, names in enumerate(
        (("Left to right", "right", "left", "x"), ("Front to back", "rear", "front", "y"))) if found.known[number]]
    told = told or [_corner(work, found)]
    if readings.by_lines(inputs, found.used):
        told.append("A bubble beside its lines tells about how much: turn half of it, then read again.")
    if found.plane is None:
        told.append("Then read the other direction: one alone cannot say that the cabinet stands level.")
    return told


def _side(work: Work, found: Found, number: int, name: str, plus: str, minus: str, axis: str) -> str:
    """One direction: the low side, and how far it is below the other at the legs."""
    slope = found.lean[number] if found.lean else 0.0
    if abs(slope) < EVEN:
        return f"{name}: it reads level."
    low = minus if slope > 0 else plus
    places = [getattr(leg, axis) for leg in found.legs]
    about = work.text(abs(slope), "tilt")
    if places:
        about = f"{work.text(abs(slope) * (max(places) - min(places)), 'fine_length')} at its legs"
    return f"{name}: raise the {low} by about {about}."


def _corner(work: Work, found: Found) -> str:
    """Readings corner to corner: the low corner."""
    across, along = found.lean or (0.0, 0.0)
    if max(abs(across), abs(along)) < EVEN:
        return "Corner to corner: it reads level."
    low = f"{'front' if along > 0 else 'rear'} {'left' if across > 0 else 'right'}"
    return f"Corner to corner: raise the {low} corner by about {work.text(found.slope_read, 'tilt')}."


def in_two_steps(inputs: Inputs, work: Work, plated: Found) -> None:
    """Plates first, then the turns that they leave: where the threads alone run out."""
    plates: list[tuple[str, ...]] = [
        (leg.name, work.text(leg.plate, "length", "up")) for leg in plated.legs if leg.plate
    ]
    work.table("plates", "In two steps: first the plates", {"leg": "Leg", "plate": "Plate under it"}, plates,
               note="One solid metal plate each, larger than the foot. Strap on, one corner at a time, blocked.")  # fmt: skip
    work.table("after_plates", "In two steps: then the turns", COLUMNS, _rows(inputs, work, plated),
               note="Read the level again after the plates are in; these turns are from the readings above.")  # fmt: skip


def _rows(inputs: Inputs, work: Work, found: Found) -> list[tuple[str, ...]]:
    return [_row(work, number, move) for number, move in enumerate(moves(inputs, found), 1)]


def _row(work: Work, number: int, move: Move) -> tuple[str, ...]:
    shown = work.text(move.shown, "fine_length")
    place = f"{number}. {move.leg.name}"
    then = "" if move.shown is None else f"; {shown}"
    if not move.turns:
        return place, "0 turns" + (", until it bears" if move.leg.last else ""), f"stays{then}"
    about = "about " if move.leg.last else ""
    turns = f"{about}{counted(move.turns)} {DIRECTIONS[move.clockwise]}"
    return place, turns, ("rises" if move.turns > 0 else "comes down") + then


def _note(inputs: Inputs, work: Work, found: Found) -> str:
    most, step = work.inner("level.pass_turns"), work.inner("level.turn_step")
    parts = []
    if found.plan and found.plan.room < 0:
        parts.append("These turns are as far as the threads go: they do not make it level.")
    if readings.by_lines(inputs, found.used):
        parts.append("The turns are from a bubble beside its lines: turn half of them, then read again.")
    if most:
        parts.append(f"Go round in passes: at most {counted(most)} at one leg, then the next.")
    if any(leg.last for leg in found.legs):
        parts.append("Wind the middle legs up before you start, and turn them down last, until they bear.")
    if step:
        left = "; the slope that this leaves is given below" if found.plane else ""
        parts.append(f"Turns are rounded to {counted(step)}{left}.")
    parts.append("Watch the bubble: if it moves the wrong way, stop and look again at what turns.")
    return " ".join(parts)


def _first(work: Work, found: Found) -> list[str]:
    plated = [leg for leg in found.legs if leg.plate]
    if not plated:
        return []
    text = ", ".join(f"{leg.name.lower()} {work.text(leg.plate, 'length')}" for leg in plated)
    return [f"Step one: set the plates ({text}), one corner at a time, strapped and blocked.",
            "Step two: turn the legs as the table says."]  # fmt: skip
