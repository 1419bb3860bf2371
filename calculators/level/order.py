"""What to do, in order: each leg's turns and direction, and plates first where threads run out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from ..core import Work
from . import maths
from .inputs import Inputs
from .legs import Leg
from .model import Found

COLUMNS = ("Leg, in order", "Turns, seen from above", "Its corner; thread then")
DIRECTIONS = {True: "clockwise", False: "counterclockwise", None: "(what turns?)"}


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


def table(inputs: Inputs, work: Work, found: Found) -> None:
    """The order of work, leg by leg."""
    if found.plan is None:
        return
    work.table("Order of work", COLUMNS, _rows(inputs, work, found), note=_note(work, found))
    work.actions += _first(work, found)


def in_two_steps(inputs: Inputs, work: Work, plated: Found) -> None:
    """Plates first, then the turns that they leave: where the threads alone run out."""
    plates: list[tuple[str, ...]] = [
        (leg.name, work.text(leg.plate, "length", "up")) for leg in plated.legs if leg.plate
    ]
    work.table("In two steps: first the plates", ("Leg", "Plate under it"), plates,
               note="One solid metal plate each, larger than the foot. Strap on, one corner at a time, blocked.")  # fmt: skip
    work.table("In two steps: then the turns", COLUMNS, _rows(inputs, work, plated),
               note="Read the level again after the plates are in; these turns are from the readings above.")  # fmt: skip


def _rows(inputs: Inputs, work: Work, found: Found) -> list[tuple[str, ...]]:
    return [_row(work, number, move) for number, move in enumerate(moves(inputs, found), 1)]


def _row(work: Work, number: int, move: Move) -> tuple[str, ...]:
    shown = work.text(move.shown, "fine_length")
    place = f"{number}. {move.leg.name}"
    then = "" if move.shown is None else f"; {shown}"
    if not move.turns:
        return place, "0" + (", until it bears" if move.leg.last else ""), f"stays{then}"
    about = "about " if move.leg.last else ""
    turns = f"{about}{fraction(move.turns)} {DIRECTIONS[move.clockwise]}"
    return place, turns, ("rises" if move.turns > 0 else "comes down") + then


def _note(work: Work, found: Found) -> str:
    most, step = work.inner("level.pass_turns"), work.inner("level.turn_step")
    parts = []
    if found.plan and found.plan.room < 0:
        parts.append("These turns are as far as the threads go: they do not make it level.")
    if most:
        parts.append(f"Go round in passes: at most {fraction(most)} turn at one leg, then the next.")
    if any(leg.last for leg in found.legs):
        parts.append("Wind the middle legs up before you start, and turn them down last, until they bear.")
    if step:
        parts.append(f"Turns are rounded to {fraction(step)}; the slope that this leaves is given below.")
    parts.append("Watch the bubble: if it moves the wrong way, stop and look again at what turns.")
    return " ".join(parts)


def _first(work: Work, found: Found) -> list[str]:
    plated = [leg for leg in found.legs if leg.plate]
    if not plated:
        return []
    text = ", ".join(f"{leg.name.lower()} {work.text(leg.plate, 'length')}" for leg in plated)
    return [f"Step one: set the plates ({text}), one corner at a time, strapped and blocked.",
            "Step two: turn the legs as the table says."]  # fmt: skip
